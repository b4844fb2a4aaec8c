/* Whole runs of duel, sweep and merge as a user starts them: the same games whatever happens on the way. */
#include "tests/bench/run/run_in.h"

#include "bench/base/random.h"
#include "bench/pgn/pgn.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"
#include "engine/search/parameters.h"
#include "structure/structure.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/file.h>

static void test_workers(void **state)
{
    RunFiles *files = *state;
    HarnessRun one =
        run_in(files, "duel " SMALL "--weight 100:0 --pairs 18 --store @/1.db --json --workers 1");
    HarnessRun many =
        run_in(files, "duel " SMALL "--weight 100:0 --pairs 18 --store @/5.db --json --workers 5");
    HarnessRun memory = run_in(files, "duel " SMALL "--weight 100:0 --pairs 18 --json");
    assert_done(&one);
    assert_done(&many);
    assert_done(&memory);
    assert_string_equal(one.out, many.out);
    assert_string_equal(one.out, memory.out);
    char *expected = run_dump(run_path(files, "1.db"));
    assert_same_run(run_path(files, "5.db"), expected);
    assert_int_equal(run_number(run_path(files, "5.db"), "SELECT count(*) FROM game"), 36);
    free(expected);
    harness_free(&one);
    harness_free(&many);
    harness_free(&memory);
}

/* A clock that goes by nodes: the same games for any number of workers, and no other pace goes on with them. */
static void test_pace(void **state)
{
#define PACED "duel " SMALL "--weight 0 --clock 1+0.01 --pairs 6 --set A.share_first=60 "
    RunFiles *files = *state;
    HarnessRun one = run_in(files, PACED "--pace 100000 --store @/1.db --workers 1");
    HarnessRun many = run_in(files, PACED "--pace 100000 --store @/4.db --workers 4");
    assert_done(&one);
    assert_done(&many);
    assert_string_equal(one.out, many.out);
    assert_non_null(strstr(one.out, "pace, nodes a second: 100000\n"));
    assert_non_null(strstr(one.out, "\nLost on time: A 0, B 0 games.\n"));
    char *expected = run_dump(run_path(files, "1.db"));
    assert_same_run(run_path(files, "4.db"), expected);
    refused(files, 1, "holds another experiment", PACED "--pace 100001 --store @/1.db");
    refused(files, 1, "holds another experiment", PACED "--store @/1.db");
    assert_same_run(run_path(files, "1.db"), expected);
    free(expected);
    harness_free(&one);
    harness_free(&many);
#undef PACED
}

/* Arms that are alike, and openings played from both sides: every pair is a 1 : 1. */
static void test_mirror(void **state)
{
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD");
    HarnessRun run =
        run_in(files, "duel " SMALL "--pairs 12 --csv --engine-b %s/pawnvane", build ? build : "build");
    assert_done(&run);
    assert_non_null(strstr(run.out, ",all,12,0,0,12,0,0,0.500000,"));
    harness_free(&run);
}

static void test_differences(void **state)
{
    RunFiles *files = *state;
    /* Eight times the nodes, and a search without its reductions, are not the same player. */
    HarnessRun nodes = run_in(files, "duel " SMALL "--pairs 24 --nodes 480:60 --csv");
    assert_done(&nodes);
    double score = 0;
    const char *row = strstr(nodes.out, ",all,24,");
    assert_non_null(row);
    assert_int_equal(sscanf(row, ",all,24,%*d,%*d,%*d,%*d,%*d,%lf", &score), 1);
    assert_true(score > 0.6);
    HarnessRun set =
        run_in(files, "duel " SMALL "--pairs 6 --set A.reduction_root=0 --set A.static_depth=0 --csv");
    assert_done(&set);
    assert_non_null(strstr(set.out, "static_depth=0 reduction_root=0,100,strict,60,,all,"));
    harness_free(&nodes);
    harness_free(&set);
}

/* ------------------------------------------------------------------------------------------ interruptions */

/* Starts the run as a process of its own. */
static pid_t start(RunFiles *files, const char *store)
{
    const char *build = getenv("PAWNVANE_BUILD");
    char program[256], path[128];
    snprintf(program, sizeof program, "%s/pawnvane-bench", build ? build : "build");
    snprintf(path, sizeof path, "%s", run_path(files, store));
    pid_t child = fork();
    if (child == 0) {
        if (!freopen("/dev/null", "w", stdout))
            _exit(126);
        execl(program, program, "duel", "--nodes", "100", "--table", "1", "--adjudicate", "longest=60",
              "--openings", "bench/openings/strata.epd", "--quiet", "--pairs", "90", "--workers", "2",
              "--store", path, (char *)NULL);
        _exit(127);
    }
    assert_true(child > 0);
    return child;
}

/* Whether it ended by itself, which it must do well, and was not killed. */
static bool await(pid_t child)
{
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    if (!WIFEXITED(status))
        return false;
    assert_int_equal(WEXITSTATUS(status), 0);
    return true;
}

static void test_kills(void **state)
{
    enum { KILLS = 20 };
    RunFiles *files = *state;
    Random random = random_seeded(1);
    assert_true(await(start(files, "whole.db")));
    char *expected = run_dump(run_path(files, "whole.db"));
    assert_int_equal(run_number(run_path(files, "whole.db"), "SELECT count(*) FROM game"), 180);
    int kills = 0, runs = 0;
    while (kills < KILLS) {
        char name[32];
        int64_t games = 0;
        snprintf(name, sizeof name, "killed-%d.db", runs++);
        for (bool complete = false; !complete;) {
            pid_t child = start(files, name);
            /* When all kills are done the last run is left to finish. */
            if (kills < KILLS) {
                usleep((useconds_t)random_below(&random, 120000));
                kill(child, SIGKILL);
            }
            complete = await(child);
            kills += !complete;
            const char *path = run_path(files, name);
            if (access(path, F_OK) != 0 || run_number(path, "SELECT count(*) FROM sqlite_schema") == 0)
                continue;
            int64_t now = run_number(path, "SELECT count(*) FROM game");
            assert_true(now >= games);
            games = now;
        }
        assert_same_run(run_path(files, name), expected);
    }
    free(expected);
}

/* ------------------------------------------------------------------------------------------------- shares */

#define SWEEP "sweep " SMALL "--weights 50,300 --pairs 10 "

static void play_shares(RunFiles *files, int of)
{
    for (int share = 1; share <= of; share++) {
        HarnessRun run = run_in(files, SWEEP "--share %d/%d --store @/%d.db", share, of, share);
        assert_done(&run);
        harness_free(&run);
    }
}

static void test_shares(void **state)
{
    RunFiles *files = *state;
    done(files, SWEEP "--store @/whole.db");
    play_shares(files, 3);
    done(files, "merge @/merged.db @/3.db @/1.db @/2.db");
    char *expected = run_dump(run_path(files, "whole.db"));
    assert_same_run(run_path(files, "merged.db"), expected);
    free(expected);
    /* A share has no other openings than its own. */
    assert_int_equal(run_number(run_path(files, "1.db"), "SELECT count(*) FROM opening"), 3);
    assert_int_equal(run_number(run_path(files, "2.db"), "SELECT count(*) FROM opening"), 3);
    assert_int_equal(run_number(run_path(files, "3.db"), "SELECT count(*) FROM opening"), 4);

    refused(files, 1, "is there already; expected the name of a new file", "merge @/merged.db @/1.db");
    refused_unchanged(files, 1, "1.db has; expected it in one part", "merge @/2x.db @/1.db @/2.db @/1.db");
    refused(files, 1, "holds another experiment", SWEEP "--store @/1.db");
    refused(files, 1, "there are 10 pairs; expected no more shares than pairs", SWEEP "--share 1/11");
    refused(files, 1, "there are 10 pairs; expected no more shares than pairs",
            "duel --pairs 10 --share 1/11");

    done(files, "sweep " SMALL "--weights 50,301 --pairs 10 --share 2/3 --store @/other.db");
    refused_unchanged(files, 1, "holds another experiment: it has \"arm 2: 301",
                      "merge @/mixed.db @/1.db @/other.db");
}

/* Openings of one name and number, of which only those of another share differ. */
static void test_other_openings(void **state)
{
    RunFiles *files = *state;
    char command[512];
    snprintf(
        command, sizeof command,
        "cd %s && mkdir a b && sed -n '/firm-applies/p' \"$OLDPWD\"/bench/openings/strata.epd | head -n 40 "
        "| tee a/o.epd | sed '$ s/id \"/id \"other /' >b/o.epd",
        files->folder);
    assert_int_equal(system(command), 0);
    for (int share = 1; share <= 2; share++) {
        HarnessRun run = run_in(
            files,
            "duel --nodes 60 --table 1 --adjudicate longest=20 --quiet --openings @/%c/o.epd --share %d/2 "
            "--store @/%d.db",
            share == 1 ? 'a' : 'b', share, share);
        assert_done(&run);
        harness_free(&run);
    }
    refused_unchanged(files, 1,
                      "holds another experiment: it has \"openings hash: ", "merge @/m.db @/1.db @/2.db");
}

/* Every share is a small copy of the whole, whatever the numbers of shares and strata have in common. */
static void test_shares_of_strata(void **state)
{
    RunFiles *files = *state;
    static const int numbers[] = {2, 4, 6, 12, 16};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        int of = numbers[i];
        HarnessRun run =
            run_in(files, "duel " SMALL "--adjudicate longest=2 --pairs 96 --share %d/%d --store @/%d.db",
                   1 + of / 3, of, of);
        char name[16];
        assert_done(&run);
        harness_free(&run);
        snprintf(name, sizeof name, "%d.db", of);
        const char *path = run_path(files, name);
        assert_int_equal(run_number(path, "SELECT count(DISTINCT stratum) FROM opening"), 6);
        assert_in_range(run_number(path,
                                   "SELECT max(n) - min(n) FROM (SELECT count(*) AS n FROM opening GROUP BY"
                                   " stratum)"),
                        0, 1);
        /* What is planned is the whole. */
        assert_int_equal(run_number(path, "SELECT sum(pairs) FROM stratum"), 96);
    }
}

/* What is missing is said, or asked for. */
static void test_partial(void **state)
{
    RunFiles *files = *state;
    done(files, SWEEP "--store @/whole.db");
    char *expected = run_dump(run_path(files, "whole.db"));
    play_shares(files, 3);
    refused_unchanged(files, 1, "merge: pair 3 of 0 to 9 is in no part, and 56 of 80 games are there",
                      "merge @/two.db @/1.db @/3.db");
    run_sql(run_path(files, "2.db"), "DELETE FROM game WHERE match = 1 AND pair = 4 AND half = 1");
    refused_unchanged(files, 1, "2.db: has 23 of its 24 games; expected all of them, or --partial",
                      "merge @/two.db @/1.db @/2.db @/3.db");
    done(files, SWEEP "--share 2/3 --store @/2.db");

    HarnessRun csv = run_in(files, "merge @/two.db @/1.db @/3.db --partial --csv");
    assert_done(&csv);
    assert_non_null(strstr(csv.out, ",pairs_planned,lever_sides,"));
    assert_non_null(strstr(csv.out, ",lever_ratio_high\n0,50,"));
    assert_non_null(strstr(csv.out, ",all,7,"));
    const char *line = strstr(csv.out, ",all,7,");
    for (int column = 0; column < 20; column++)
        line = strchr(line + 1, ',');
    assert_memory_equal(line, ",10,", 4);
    harness_free(&csv);
    assert_int_equal(run_number(run_path(files, "two.db"),
                                "SELECT value = 'partial' FROM experiment WHERE name = 'share'"),
                     1);
    HarnessRun json = run_in(files, "report @/two.db --json");
    assert_done(&json);
    assert_non_null(strstr(json.out, "\"pairs\":\t7,"));
    assert_non_null(strstr(json.out, "\"pairs_planned\":\t10,"));
    harness_free(&json);
    HarnessRun text = run_in(files, "report @/two.db");
    assert_done(&text);
    assert_non_null(strstr(text.out, "Run 1 is unfinished: it has 28 of 40 planned pairs"));
    harness_free(&text);

    /* It can be a part, and it can be played on. */
    done(files, "merge @/three.db @/2.db @/two.db");
    assert_same_run(run_path(files, "three.db"), expected);
    refused_unchanged(files, 1, "holds another experiment: it has \"seed: 2\"",
                      SWEEP "--seed 9 --store @/two.db");
    done(files, SWEEP "--store @/two.db");
    assert_same_run(run_path(files, "two.db"), expected);
    free(expected);
}

/* Where a lock of the file is one of all its bytes, SQLite could not work on it: the lock is beside it. */
static void test_lock_beside(void **state)
{
    RunFiles *files = *state;
    pid_t child = start(files, "run.db");
    const char *path = run_path(files, "run.db");
    while (access(path, F_OK) != 0 || run_number(path, "SELECT count(*) FROM sqlite_schema") == 0 ||
           run_number(path, "SELECT count(*) FROM game") == 0)
        usleep(1000);
    int file = open(path, O_RDWR), beside = open(run_path(files, "run.db-lock"), O_RDWR);
    assert_true(file >= 0 && beside >= 0);
    assert_int_equal(flock(file, LOCK_EX | LOCK_NB), 0);
    assert_int_equal(flock(beside, LOCK_EX | LOCK_NB), -1);
    close(file);
    close(beside);
    assert_true(await(child));
    assert_int_not_equal(access(run_path(files, "run.db-lock"), F_OK), 0);
}

/* ---------------------------------------------------------------------------------------------------- PGN */

typedef struct ReadBack {
    sqlite3 *store;
    int games;
    char moves[8192];
    size_t length;
} ReadBack;

static bool read_begin(void *context, const PgnGame *game)
{
    ReadBack *back = context;
    (void)game;
    back->length = 0;
    back->moves[0] = '\0';
    return true;
}

static void read_move(void *context, const PgnGame *game, Move move)
{
    ReadBack *back = context;
    char text[MOVE_TEXT_SIZE];
    lan_write(&game->position, move, text);
    back->length += (size_t)snprintf(back->moves + back->length, sizeof back->moves - back->length, "%s%s",
                                     back->length ? " " : "", text);
}

/* The moves of a game in the file, as store_schema.c describes them, in words. */
static void write_line(const char *fen, const unsigned char *bytes, int size, char *text)
{
    static const char kinds[] = "    nbrq";
    Position position;
    fen_parse(fen, false, &position, NULL);
    for (int i = 0; i < size; i += 2) {
        unsigned move = bytes[i] | (unsigned)bytes[i + 1] << 8, kind = move >> 12;
        int from = (int)(move % 64), to = (int)(move / 64 % 64);
        if (kind == 1) /* the king takes its own rook */
            to = to > from ? from + 2 : from - 2;
        Move found;
        char lan[8] = {(char)('a' + from % 8), (char)('1' + from / 8), (char)('a' + to % 8),
                       (char)('1' + to / 8)};
        if (kind >= 4)
            lan[4] = kinds[kind];
        text += sprintf(text, "%s%s", i ? " " : "", lan);
        assert_int_equal(lan_parse(&position, lan, &found), NOTATION_OK);
        position_play(&position, found);
    }
}

/* The next game of the store has the same moves, result, start and end. */
static void read_end(void *context, const PgnGame *game)
{
    ReadBack *back = context;
    static const char sql[] =
        "SELECT moves, white_points, fen, ending, stratum FROM game JOIN opening USING (pair)"
        " ORDER BY match, pair, half LIMIT 1 OFFSET ?";
    static const PgnResult results[] = {PGN_BLACK_WINS, PGN_DRAW, PGN_WHITE_WINS};
    static const char *const tags[] = {"FEN", "Ending", "Stratum"};
    sqlite3_stmt *row;
    assert_int_equal(sqlite3_prepare_v2(back->store, sql, -1, &row, NULL), SQLITE_OK);
    sqlite3_bind_int(row, 1, back->games++);
    assert_int_equal(sqlite3_step(row), SQLITE_ROW);
    char line[8192] = "";
    write_line((const char *)sqlite3_column_text(row, 2), sqlite3_column_blob(row, 0),
               sqlite3_column_bytes(row, 0), line);
    assert_string_equal(back->moves, line);
    assert_int_equal(game->result, results[sqlite3_column_int(row, 1)]);
    for (int i = 0; i < 3; i++) {
        PgnText value;
        assert_true(pgn_tag(game, tags[i], &value));
        assert_int_equal(value.length, sqlite3_column_bytes(row, 2 + i));
        assert_memory_equal(value.start, sqlite3_column_text(row, 2 + i), value.length);
    }
    sqlite3_finalize(row);
}

static void test_pgn(void **state)
{
    RunFiles *files = *state;
    done(files, "sweep " SMALL "--weights 100 --pairs 8 --store @/run.db --pgn @/run.pgn");
    ReadBack back = {.store = run_open(run_path(files, "run.db"))};
    const PgnVisitor visitor = {.context = &back, .begin = read_begin, .move = read_move, .end = read_end};
    assert_true(pgn_read_file(run_path(files, "run.pgn"), &visitor));
    assert_int_equal(back.games, 2 * 8 * 2);
    sqlite3_close(back.store);
    refused(files, 1, "no/run.pgn: cannot be written", "duel " SMALL "--pairs 1 --pgn @/no/run.pgn");
}

/* ----------------------------------------------------------------------------------------------- stopping */

static void test_until(void **state)
{
    RunFiles *files = *state;
    /* Sixteen times the nodes are worth more than 100 Elo, which the least number of pairs shows. */
    static const char common[] =
        "duel " SMALL "--nodes 480:30 --until decided --null 0 --alternative 100 --pairs 130 --json";
    HarnessRun one = run_in(files, "%s --workers 1 --store @/1.db", common);
    HarnessRun many = run_in(files, "%s --workers 6 --store @/6.db", common);
    assert_done(&one);
    assert_done(&many);
    assert_string_equal(one.out, many.out);
    assert_non_null(strstr(one.out, "\"verdict\":\"alternative\""));
    int64_t games = run_number(run_path(files, "1.db"), "SELECT count(*) FROM game");
    assert_in_range(games, 200, 258);
    char *expected = run_dump(run_path(files, "1.db"));
    assert_same_run(run_path(files, "6.db"), expected);
    /* Called again there is nothing left to do. */
    HarnessRun again = run_in(files, "%s --store @/6.db", common);
    assert_done(&again);
    assert_string_equal(one.out, again.out);
    assert_same_run(run_path(files, "6.db"), expected);
    free(expected);
    harness_free(&one);
    harness_free(&many);
    harness_free(&again);
    refused(files, 2, "a share cannot tell", "duel " SMALL "--until interval --share 1/2");
}

/* -------------------------------------------------------------------------------------- what is printed */

static void printed(RunFiles *files, const char *arguments, const char *const *parts, int count)
{
    HarnessRun run = run_in(files, "%s", arguments);
    assert_done(&run);
    const char *at = run.out;
    for (int i = 0; i < count; i++) {
        const char *found = strstr(at, parts[i]);
        if (found)
            at = found;
        else
            fail_msg("%s\nprints in this order no \"%s\":\n%s", arguments, parts[i], run.out);
    }
    harness_free(&run);
}

static void test_words(void **state)
{
    RunFiles *files = *state;
    static const char *const stopped[] = {"Sequential test of Elo 100 against 0: 100, after 1",
                                          "Log likelihood ratio", "holds at every moment",
                                          "Elo without what stopping adds", "A's points"};
    printed(files, "duel " SMALL "--nodes 480:30 --until decided --alternative 100 --pairs 130", stopped, 5);
    static const char *const open[] = {"Sequential test of Elo 5 against 0: undecided after 12 pairs.",
                                       "A's points"};
    printed(files, "duel " SMALL "--until decided --pairs 12", open, 2);
    static const char *const asked[] = {
        "To tell an effect of 5 Elo from none takes ",
        "Equivalent within 20 Elo either way? That is not shown (two one-sided tests, P "};
    printed(files, "duel " SMALL "--weight 300:0 --pairs 12 --effect 5 --margin 20", asked, 2);
    /* Arms that are alike play the same games everywhere. */
    static const char *const alike[] = {"firm-applies ", "  the arms played the same games\n",
                                        "All alike? Too few strata have 10 pairs that are not ties."};
    printed(files, "duel " SMALL "--pairs 12", alike, 3);
    static const char *const swept[] = {"P is adjusted for the 28 tests of the run (Holm;",
                                        "Trend over the dose, for each 100 % of weight",
                                        "\nstrict ",
                                        " Elo (",
                                        "\nloose ",
                                        "Strict less loose at the same weight",
                                        "\nweight 100 ",
                                        "\nweight 300 "};
    printed(files, "sweep " SMALL "--weights 100,300 --pairs 24", swept, 8);
}

/* A search and its confirmation do not draw the same openings unless they are told to. */
static void test_seeds(void **state)
{
    RunFiles *files = *state;
    done(files, "duel --nodes 60 --table 1 --adjudicate longest=20 --quiet --pairs 6 --store @/duel.db");
    done(files,
         "sweep --nodes 60 --table 1 --adjudicate longest=20 --quiet --pairs 6 --weights 100 --rules strict "
         "--store @/sweep.db");
    char attach[256], duel[128];
    snprintf(duel, sizeof duel, "%s", run_path(files, "duel.db"));
    snprintf(attach, sizeof attach, "ATTACH '%s' AS other", duel);
    sqlite3 *database = run_open(run_path(files, "sweep.db"));
    assert_int_equal(sqlite3_exec(database, attach, NULL, NULL, NULL), SQLITE_OK);
    sqlite3_stmt *row;
    assert_int_equal(sqlite3_prepare_v2(database,
                                        "SELECT count(*) FROM opening JOIN other.opening USING (fen)", -1,
                                        &row, NULL),
                     SQLITE_OK);
    assert_int_equal(sqlite3_step(row), SQLITE_ROW);
    assert_int_equal(sqlite3_column_int(row, 0), 0);
    sqlite3_finalize(row);
    sqlite3_close(database);
}

/* --------------------------------------------------------------------------------------------- refusals */

static void test_store_refusals(void **state)
{
    RunFiles *files = *state;
    done(files, "duel " SMALL "--pairs 2 --store @/run.db");
    char *before = run_dump(run_path(files, "run.db"));
    refused(files, 1, "it has \"seed: 1\"; expected \"seed: 2\"",
            "duel " SMALL "--pairs 2 --seed 2 --store @/run.db");
    refused(files, 1, "holds another experiment", "duel " SMALL "--pairs 3 --store @/run.db");
    refused(files, 1, "holds another experiment", "duel " SMALL "--pairs 2 --weight 100:0 --store @/run.db");
    refused(files, 1, "\"win score, centipawns: 800\"",
            "duel " SMALL "--pairs 2 --adjudicate won=700/6,longest=60 --store @/run.db");
    refused(files, 1, "\"share: 1/1\"; expected \"share: 1/2\"",
            "duel " SMALL "--pairs 2 --share 1/2 --store @/run.db");
    assert_same_run(run_path(files, "run.db"), before);

    int held = open(run_path(files, "run.db-lock"), O_RDWR | O_CREAT, 0666);
    assert_int_equal(flock(held, LOCK_EX), 0);
    refused(files, 1, "another process is playing on it", "duel " SMALL "--pairs 2 --store @/run.db");
    close(held);

    run_sql(run_path(files, "run.db"), "PRAGMA user_version = 7");
    refused(files, 1, "is of version 7 of the schema; expected version 2",
            "duel " SMALL "--pairs 2 --store @/run.db");
    run_sql(run_path(files, "run.db"), "PRAGMA user_version = 2; PRAGMA application_id = 5");
    refused(files, 1, "is a database of something else", "duel " SMALL "--pairs 2 --store @/run.db");
    refused(files, 1, "is a database of something else", "merge @/m.db @/run.db");
    free(before);

    run_write(run_path(files, "text.db"),
              "This is no database, but somebody's precious notes on rook endings.\n");
    refused(files, 1, "text.db: file is not a database", "duel " SMALL "--pairs 2 --store @/text.db");
    char *text = run_read(run_path(files, "text.db"));
    assert_string_equal(text, "This is no database, but somebody's precious notes on rook endings.\n");
    free(text);
    refused(files, 1, "no/run.db: cannot be written: No such file or directory",
            "duel " SMALL "--pairs 2 --store @/no/run.db");
    refused(files, 1, "missing.db: cannot be read", "merge @/m.db @/missing.db");
}

/* "--set A.NAME=VALUE" for every parameter, its greatest value, so that the text of the arm is as long as it
 * can be; the last one has that value less `less`. */
static void set_all(char *arguments, size_t size, int less)
{
    size_t length = strlen(arguments);
    for (int i = 0; i < PARAMETER_COUNT; i++) {
        const ParameterInfo *info = &parameter_table[i];
        int value = info->greatest != info->value ? info->greatest : info->least;
        length += (size_t)snprintf(arguments + length, size - length, " --set A.%s=%d", info->name,
                                   i == PARAMETER_COUNT - 1 ? value - less : value);
        assert_true(length < size);
    }
}

/* Rows are compared to their ends, however long they are, and the message shows the end that differs. */
static void test_long_rows(void **state)
{
    RunFiles *files = *state;
    char first[3500], other[3500];
    snprintf(first, sizeof first, "duel " SMALL "--pairs 1 --adjudicate longest=2 --clock 10+0 --store %s",
             run_path(files, "run.db"));
    strcpy(other, first);
    set_all(first, sizeof first, 0);
    set_all(other, sizeof other, 1);
    HarnessRun run = harness_run(first, "");
    assert_done(&run);
    harness_free(&run);
    const char *last = parameter_table[PARAMETER_COUNT - 1].name;
    assert_true(run_number(run_path(files, "run.db"), "SELECT length(parameters) FROM arm WHERE arm = 0") >
                500);
    char *before = run_dump(run_path(files, "run.db"));
    assert_refused(other, "", 1, "holds another experiment: it has \"... ");
    assert_refused(other, "", 1, last);
    assert_same_run(run_path(files, "run.db"), before);
    free(before);
    run = harness_run(first, "");
    assert_done(&run);
    harness_free(&run);
}

/* A file that cannot grow any more, as on a full disk: the run fails with one line, what was there stays, and
 * with room again it goes on. */
static void test_no_room(void **state)
{
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD");
    char command[1024];
    done(files, "duel " SMALL "--pairs 40 --store @/whole.db");
    char *expected = run_dump(run_path(files, "whole.db"));
    snprintf(command, sizeof command,
             "ulimit -f 400; trap '' XFSZ; %s/pawnvane-bench duel " SMALL
             "--pairs 40 --store %s/small.db >%s/out 2>%s/err",
             build ? build : "build", files->folder, files->folder, files->folder);
    int status = system(command);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 1);
    char *error = run_read(run_path(files, "err"));
    if (strncmp(error, "pawnvane-bench: ", 16) != 0 || !strstr(error, "small.db: ") ||
        strchr(error, '\n') != error + strlen(error) - 1)
        fail_msg("the error was \"%s\"", error);
    free(error);
    assert_in_range(run_number(run_path(files, "small.db"), "SELECT count(*) FROM game"), 1, 79);
    free(run_dump(run_path(files, "small.db")));
    done(files, "duel " SMALL "--pairs 40 --store @/small.db");
    assert_same_run(run_path(files, "small.db"), expected);
    free(expected);
}

/* Root may write whatever it likes, so the harness is run as nobody then. */
static void test_read_only(void **state)
{
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD");
    char command[1024], program[512];
    done(files, "duel " SMALL "--pairs 2 --store @/run.db");
    char *before = run_dump(run_path(files, "run.db"));
    assert_int_equal(chmod(run_path(files, "run.db"), 0444), 0);
    assert_int_equal(chmod(files->folder, 0777), 0);
    snprintf(program, sizeof program, "%s/pawnvane-bench", build ? build : "build");
    /* nobody may not be able to look into the build directory */
    snprintf(command, sizeof command, "cp %s %s/bench && cp bench/openings/strata.epd %s/openings", program,
             files->folder, files->folder);
    assert_int_equal(system(command), 0);
    snprintf(command, sizeof command,
             "%s %s/bench duel --nodes 60 --table 1 --adjudicate longest=60 --openings %s/openings --pairs 2 "
             "--store "
             "%s/run.db "
             "2>%s/err",
             geteuid() == 0 ? "setpriv --reuid=65534 --regid=65534 --clear-groups" : "", files->folder,
             files->folder, files->folder, files->folder);
    int status = system(command);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 1);
    char *error = run_read(run_path(files, "err"));
    assert_non_null(strstr(error, "run.db: cannot be written: Permission denied"));
    assert_ptr_equal(strchr(error, '\n'), error + strlen(error) - 1);
    free(error);
    assert_same_run(run_path(files, "run.db"), before);
    free(before);
}

/* A finished run is read, and joined, from where nothing can be written; root is made nobody for that. */
static void test_read_only_place(void **state)
{
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD");
    char command[1024];
    done(files, SWEEP "--share 1/2 --store @/1.db");
    done(files, SWEEP "--share 2/2 --store @/2.db");
    done(files, "merge @/whole.db @/1.db @/2.db");
    HarnessRun expected = run_in(files, "report @/whole.db");
    snprintf(command, sizeof command,
             "cp %s/pawnvane-bench %s && cd %s && mkdir closed open && chmod 777 open && cp *.db closed && "
             "chmod 555 closed && chmod 755 .",
             build ? build : "build", files->folder, files->folder);
    assert_int_equal(system(command), 0);
    snprintf(command, sizeof command,
             "cd %s && for run in 'report closed/whole.db' 'merge open/m.db closed/1.db closed/2.db' 'report "
             "open/m.db'; "
             "do %s ./pawnvane-bench $run >open/out 2>&1 || exit 1; done",
             files->folder, geteuid() == 0 ? "setpriv --reuid=65534 --regid=65534 --clear-groups" : "");
    int status = system(command);
    char *out = run_read(run_path(files, "open/out"));
    if (status != 0 || strcmp(out, expected.out) != 0)
        fail_msg("status %d: %s", status, out);
    free(out);
    harness_free(&expected);
    snprintf(command, sizeof command, "chmod -R 777 %s", files->folder);
    assert_int_equal(system(command), 0);
}

/* A file that goes away during the run is missed; what was played until then is good to go on from. */
static void test_moved(void **state)
{
    static const char *const ways[] = {"mv run.db away.db", "rm run.db", "mv run.db away.db; echo >run.db"};
    RunFiles *files = *state;
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
        char command[256], path[128];
        snprintf(command, sizeof command, "cd %s && rm -f *", files->folder);
        assert_int_equal(system(command), 0);
        snprintf(path, sizeof path, "%s/err", files->folder);
        fflush(stderr);
        int kept = dup(STDERR_FILENO), errors = open(path, O_CREAT | O_RDWR, 0666);
        dup2(errors, STDERR_FILENO);
        pid_t child = start(files, "run.db");
        dup2(kept, STDERR_FILENO);
        close(kept);
        close(errors);
        const char *store = run_path(files, "run.db");
        while (access(store, F_OK) != 0 || run_number(store, "SELECT count(*) FROM sqlite_schema") == 0 ||
               run_number(store, "SELECT count(*) FROM game") == 0)
            usleep(1000);
        snprintf(command, sizeof command, "cd %s && %s", files->folder, ways[i]);
        assert_int_equal(system(command), 0);
        int status;
        assert_int_equal(waitpid(child, &status, 0), child);
        char *said = run_read(path);
        if (!WIFEXITED(status) || WEXITSTATUS(status) != 1 || strchr(said, '\n') != said + strlen(said) - 1 ||
            !strstr(said, "/run.db: was moved, replaced or deleted during the run"))
            fail_msg("status %#x: %s", (unsigned)status, said);
        free(said);
        if (access(run_path(files, "away.db"), F_OK) == 0)
            assert_true(run_number(run_path(files, "away.db"), "SELECT count(*) FROM game") > 0);
    }
}

static void test_misuse(void **state)
{
    (void)state;
    static const struct {
        const char *arguments, *part;
    } cases[] = {
        {"duel --weight 100:", "--weight is \"100:\"; expected A:B in percent"},
        {"duel --weight 2000", "each from 0 to 1000"},
        {"duel --rule strict:firm", "--rule is \"strict:firm\"; expected A:B, each strict or loose"},
        {"duel --nodes 0:5", "--nodes is \"0:5\"; expected a whole number above 0"},
        {"duel --set A.colour=1", "there is no parameter colour"},
        {"duel --set A.check_extension=2", "out of range; expected 0 to 1"},
        {"duel --set null_move", "expected NAME=VALUE, A.NAME=VALUE or B.NAME=VALUE"},
        {"duel --set A.window=9 --engine-a /bin/true", "--set is for the engine built in"},
        {"duel --share 5/4", "--share is \"5/4\"; expected k/n"},
        {"duel --share 4294967297/4294967298", "--share is \"4294967297/4294967298\"; expected k/n"},
        {"duel --share 1/2/3", "--share is \"1/2/3\"; expected k/n"},
        {"duel --clock 10", "--clock is \"10\"; expected S+INC"},
        {"duel --pace 1000000", "--pace is there without a time; expected --clock or --movetime"},
        {"duel --pace 1000000 --clock 1+0 --engine-b /bin/true", "--pace is there with /bin/true"},
        {"duel --set A.share_first=90", "--set share_first has no say without a clock; expected --clock"},
        {"duel --adjudicate won=800", "--adjudicate is \"won=800\"; expected parts such as"},
        {"duel --adjudicate longest=0", "plies 1 to"},
        {"duel --adjudicate longest=1001", "plies 1 to"},
        {"duel --adjudicate won=0/6", "centipawns 1 to"},
        {"duel --adjudicate longest=9,", "--adjudicate is \"longest=9,\""},
        {"duel --adjudicate drawn=1/2/3/4", "--adjudicate is"},
        {"sweep --adjudicate won=never,x", "--adjudicate is"},
        {"duel --until decided --null 5 --alternative 5", "expected --alternative to be greater"},
        {"duel --until never", "expected pairs, interval or decided"},
        {"duel --json --csv", "--json and --csv are both there"},
        {"duel --strata firm-applies", "--strata is there without --openings"},
        {"duel games.pgn", "\"games.pgn\" is one argument too many"},
        {"sweep --weights 0,50", "--weights has \"0\"; expected percents from 1 to 1000"},
        {"sweep --weights 50,50", "weight 50, strict is there twice"},
        {"sweep --rules firm", "--rules has \"firm\"; expected strict, loose or both"},
        {"sweep --weights ,", "there is nothing to play"},
        {"merge out.db", "files are missing; expected OUT.db and the parts"},
        {"openings", "--out is missing"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_refused(cases[i].arguments, "", 2, cases[i].part);
    assert_refused("duel --engine-b /no/engine --pairs 1", "", 1, "/no/engine: cannot be read: No such file");
    assert_refused("duel --openings bench/openings/strata.epd --strata likely,firm", "", 1,
                   "strata.epd: has no openings of the stratum \"firm\"");
    assert_refused("duel --openings /no/openings", "", 1, "/no/openings: cannot be opened");
    assert_refused("duel --openings bench/openings/strata.epd --pairs 5000", "", 1,
                   "each pair needs one of its own");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        RUN_TEST(test_workers),
        RUN_TEST(test_pace),
        RUN_TEST(test_mirror),
        RUN_TEST(test_differences),
        RUN_TEST(test_kills),
        RUN_TEST(test_shares),
        RUN_TEST(test_other_openings),
        RUN_TEST(test_shares_of_strata),
        RUN_TEST(test_partial),
        RUN_TEST(test_lock_beside),
        RUN_TEST(test_pgn),
        RUN_TEST(test_until),
        RUN_TEST(test_words),
        RUN_TEST(test_seeds),
        RUN_TEST(test_store_refusals),
        RUN_TEST(test_no_room),
        RUN_TEST(test_read_only),
        RUN_TEST(test_read_only_place),
        RUN_TEST(test_moved),
        RUN_TEST(test_long_rows),
        cmocka_unit_test(test_misuse),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
