/* Surveys of games. What the definitions say of a position is tested elsewhere; here, when it is counted. The
 * games begin as the French Defence, whose chain A. Nimzowitsch uses to explain where to attack one: Black
 * plays c7-c5 against the base d4, White f2-f4-f5 against the base e6 (My System, 1925, part on the pawn
 * chain). */
#include "bench/base/database.h"
#include "bench/census/census_examples.h"
#include "bench/census/census_run.h"
#include "bench/census/census_tables.h"
#include "bench/census/census_totals.h"
#include "engine/evaluation/structure_view.h"
#include "tests/bench/harness.h"

#include <cjson/cJSON.h>

#define TAGS(event) "[Event \"" event "\"]\n[Result \"1-0\"]\n"
#define LOCKED_START                                                                                         \
    "[FEN \"rnbqkbnr/pp3ppp/4p3/2ppP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 4\"]\n[SetUp \"1\"]\n"

/* In the order of the files below. */
static const char *const games[] = {
    /* Black plays the base lever at once. */
    TAGS("base") "[ECO \"C02\"]\n[WhiteElo \"1500\"]\n\n"
                 "1. e4 e6 2. d4 d5 3. e5 c5 4. c3 Nc6 5. f4 Nge7 6. Nf3 Nf5 1-0\n\n",
    /* A pawn comes to c5 by a capture. */
    TAGS("capture") "\n1. e4 e6 2. d4 d5 3. e5 b6 4. Nc3 a6 5. Na4 h6 6. Nc5 bxc5 *\n\n",
    /* The chain of the first position is gone after the first ply. */
    TAGS("gone") LOCKED_START "\n4... cxd4 0-1\n\n",
    /* And it is still there. */
    TAGS("stays") LOCKED_START "\n4... Nc6 1/2-1/2\n\n",
    /* A null move; both play their levers, Black first. */
    TAGS("both") "\n1. e4 e6 2. d4 d5 3. e5 -- 4. f4 c5 5. f5 1-0\n\n",
    /* Broken. */
    TAGS("broken") "\n1. e4 e5 2. Ke3 *\n\n",
    /* Head levers: White c4, Black f6. */
    TAGS("head") "\n1. e4 e6 2. d4 d5 3. e5 f6 4. c4 *\n\n",
};

enum { GAMES = sizeof games / sizeof *games, BROKEN = 5 };

typedef struct Folder {
    char path[64];
} Folder;

static char *all_games(int times)
{
    size_t size = 1;
    for (int i = 0; i < GAMES; i++)
        size += strlen(games[i]) * (size_t)times;
    char *text = malloc(size), *at = text;
    assert_non_null(text);
    for (int i = 0; i < GAMES * times; i++)
        at = stpcpy(at, games[i % GAMES]);
    return text;
}

static Folder make_folder(void)
{
    Folder folder = {"/tmp/census-XXXXXX"};
    assert_non_null(mkdtemp(folder.path));
    return folder;
}

static void remove_folder(const Folder *folder)
{
    char command[128];
    snprintf(command, sizeof command, "rm -r '%s'", folder->path);
    assert_int_equal(system(command), 0);
}

static void write_file(const Folder *folder, const char *name, const char *text)
{
    char path[128];
    snprintf(path, sizeof path, "%s/%s", folder->path, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

static char *read_file(const Folder *folder, const char *name)
{
    char path[128];
    snprintf(path, sizeof path, "%s/%s", folder->path, name);
    FILE *file = fopen(path, "r");
    if (file == NULL)
        return NULL;
    char *text = harness_slurp(file);
    fclose(file);
    return text;
}

/* -------------------------------------------------------------------------------------- what games show */

typedef struct Seen {
    int count, broken;
    CensusGame games[GAMES];
    CensusTotals totals;
} Seen;

static bool see_game(void *context, const char *file, const CensusGame *game)
{
    Seen *seen = context;
    (void)file;
    assert_true(seen->count < GAMES);
    seen->games[seen->count++] = *game;
    census_totals_add(&seen->totals, game);
    return true;
}

static Seen *see(size_t share, size_t shares)
{
    Folder folder = make_folder();
    char *text = all_games(1), path[128];
    Seen *seen = calloc(1, sizeof *seen);
    assert_non_null(seen);
    write_file(&folder, "games.pgn", text);
    snprintf(path, sizeof path, "%s/games.pgn", folder.path);
    const char *paths[] = {path};
    CensusRun run = {
        .collection = {.paths = paths, .path_count = 1, .workers = 2, .share = share, .shares = shares},
        .context = seen,
        .game = see_game};
    assert_true(census_run(&run));
    assert_int_equal(run.collection.games, seen->count);
    seen->broken = (int)run.collection.skipped;
    remove_folder(&folder);
    free(text);
    return seen;
}

static void forget(Seen *seen)
{
    census_totals_free(&seen->totals);
    free(seen);
}

enum { DE = 1 << 3 };

static void assert_side(const CensusSide *side, ps_verdict verdict, ps_status status, const char *base,
                        int base_ply, const char *head, int head_ply)
{
    assert_int_equal(side->verdict, verdict);
    assert_int_equal(side->status, status);
    assert_string_equal(ps_square_name(side->base_lever), base);
    assert_int_equal(side->base_ply, base_ply);
    assert_string_equal(ps_square_name(side->head_lever), head);
    assert_int_equal(side->head_ply, head_ply);
}

static void levers_count_from_the_first_moment_on(void **state)
{
    (void)state;
    Seen *seen = see(1, 1);
    const CensusGame *g = seen->games;
    assert_int_equal(seen->count, GAMES - 1);

    assert_int_equal(g[0].plies, 12);
    assert_int_equal(g[0].pairs, DE);
    assert_int_equal(g[0].near_misses, 1 << PS_NOT_RAMMED);
    assert_int_equal(g[0].de_ply, 5);
    assert_int_equal(g[0].eco, 202);
    assert_int_equal(g[0].rating[WHITE], 1500);
    assert_int_equal(g[0].rating[BLACK], 0);
    assert_int_equal(g[0].result, PGN_WHITE_WINS);
    assert_int_equal(g[0].first_to_break, PS_BLACK);
    assert_side(&g[0].side[WHITE], PS_APPLIES, PS_UNSUPPORTED, "f5", 0, "c4", 0);
    assert_side(&g[0].side[BLACK], PS_APPLIES, PS_READY, "c5", 6, "f6", 0);
    assert_int_equal(census_first(&g[0]), PS_BLACK);

    assert_side(&g[1].side[BLACK], PS_APPLIES, PS_READY, "c5", 0, "f6", 0);
    assert_int_equal(census_first(&g[1]), PS_NOBODY);
    forget(seen);
}

static void the_first_position_does_not_count(void **state)
{
    (void)state;
    Seen *seen = see(1, 1);
    const CensusGame *gone = &seen->games[2], *stays = &seen->games[3];
    assert_int_equal(gone->pairs, 0);
    assert_int_equal(gone->de_ply, 0);
    assert_int_equal(gone->near_misses, 0); /* White has no d-pawn left */
    assert_int_equal(gone->result, PGN_BLACK_WINS);
    assert_int_equal(stays->pairs, DE);
    assert_int_equal(stays->de_ply, 1);
    assert_side(&stays->side[BLACK], PS_APPLIES, PS_PLAYED, "c5", 0, "f6", 0);
    forget(seen);
}

static void null_moves_are_plies(void **state)
{
    (void)state;
    Seen *seen = see(1, 1);
    const CensusGame *both = &seen->games[4], *head = &seen->games[5];
    assert_int_equal(both->plies, 9);
    assert_int_equal(both->side[BLACK].base_ply, 8);
    assert_int_equal(both->side[WHITE].base_ply, 9);
    assert_int_equal(census_first(both), PS_BLACK);
    assert_int_equal(head->number, GAMES);
    assert_int_equal(head->side[BLACK].head_ply, 6);
    assert_int_equal(head->side[WHITE].head_ply, 7);
    assert_int_equal(head->side[BLACK].base_ply + head->side[WHITE].base_ply, 0);
    forget(seen);
}

static void broken_games_are_told_and_left_out(void **state)
{
    (void)state;
    Seen *seen = see(1, 1);
    size_t line = 1;
    char *text = all_games(1), told[64];
    for (int i = 0; i < BROKEN; i++)
        for (const char *c = games[i]; *c; c++)
            line += *c == '\n';
    assert_int_equal(seen->broken, 1);
    HarnessRun run = harness_run("census - --json", text);
    snprintf(told, sizeof told, "pawnvane-bench: standard input:%zu: game %d, ply 3: ", line + 3, BROKEN + 1);
    assert_int_equal(strncmp(run.err, told, strlen(told)), 0);
    assert_non_null(strstr(run.out, "\"skipped\":1"));
    harness_free(&run);
    free(text);
    forget(seen);
}

static void totals_are_sums(void **state)
{
    (void)state;
    Seen *seen = see(1, 1);
    const CensusTotals *t = &seen->totals;
    assert_int_equal(t->games, 6);
    assert_int_equal(t->plies, 12 + 12 + 1 + 1 + 9 + 7);
    assert_int_equal(census_de_games(t), 5);
    assert_int_equal(t->grades[PS_FIRM], 5);
    assert_int_equal(t->grades[PS_VOID], 0);
    assert_int_equal(t->first_de[BLACK][PS_APPLIES][PS_READY], 4);
    assert_int_equal(t->first_de[BLACK][PS_APPLIES][PS_PLAYED], 1);
    assert_int_equal(t->base_lever_played[WHITE], 1);
    assert_int_equal(t->base_lever_played[BLACK], 2);
    assert_int_equal(t->base_lever_delay[BLACK], 1 + 3);
    assert_int_equal(t->head_lever_played[WHITE], 1);
    assert_int_equal(t->first[PS_BLACK], 2);
    assert_int_equal(t->first[CENSUS_NEITHER], 3);
    assert_int_equal(t->openings[202].de, 1);
    assert_int_equal(t->foretold[WHITE], 0);
    assert_int_equal(t->foretold[BLACK], 2);
    assert_int_equal(t->foretold_rightly, 2);
    forget(seen);
}

static size_t sides(const CensusResults *r)
{
    return r->won + r->drawn + r->lost + r->unfinished;
}

/* A game of so many plies whose chain locks at ply 10, levers played at these plies. */
static void add_game(CensusTotals *totals, int plies, int white_ply, int black_ply, PgnResult result)
{
    CensusGame game = {.plies = plies,
                       .result = result,
                       .eco = -1,
                       .pairs = DE,
                       .de_ply = 10,
                       .first_to_break = PS_BLACK,
                       .side = {[WHITE] = {.status = PS_OPEN, .base_ply = white_ply},
                                [BLACK] = {.status = PS_READY, .base_ply = black_ply}}};
    census_totals_add(totals, &game);
}

/* Who lives longer has more time to play a lever: what is compared are games that went on beyond ply 30, by
 * what had been played by then. */
static void results_are_compared_from_a_landmark_on(void **state)
{
    (void)state;
    CensusTotals totals = {0};
    add_game(&totals, 30, 12, 14, PGN_WHITE_WINS); /* over at the landmark */
    add_game(&totals, 31, 30, 31, PGN_WHITE_WINS); /* Black's lever comes too late */
    add_game(&totals, 90, 0, 80, PGN_DRAW);
    add_game(&totals, 90, 40, 20, PGN_BLACK_WINS);
    add_game(&totals, 90, 0, 0, PGN_NO_RESULT);
    const CensusResults *white = totals.results[WHITE], *black = totals.results[BLACK];
    assert_int_equal(sides(&white[1]), 1);
    assert_int_equal(white[1].won, 1);
    assert_int_equal(sides(&white[0]), 3);
    assert_int_equal(white[0].drawn, 1);
    assert_int_equal(white[0].lost, 1);
    assert_int_equal(white[0].unfinished, 1);
    assert_int_equal(sides(&black[1]), 1);
    assert_int_equal(black[1].won, 1);
    assert_int_equal(sides(&black[0]), 3);
    assert_int_equal(black[0].lost, 1);
}

/* E. Simpson's paradox ("The Interpretation of Interaction in Contingency Tables", Journal of the Royal
 * Statistical Society B 13, 1951): Black, who plays levers more often and wins less, would turn the sign. */
static void results_are_told_by_colour(void **state)
{
    (void)state;
    CensusTotals totals = {0};
    /* White wins 8 of 10 with the lever, 54 of 90 without; Black 28 of 90 with it, 2 of 10 without. */
    for (int i = 0; i < 10; i++)
        add_game(&totals, 90, 15, i < 2 ? 16 : 0, i < 8 ? PGN_WHITE_WINS : PGN_BLACK_WINS);
    for (int i = 0; i < 90; i++)
        add_game(&totals, 90, 0, i < 88 ? 16 : 0, i < 54 ? PGN_WHITE_WINS : PGN_BLACK_WINS);
    const CensusResults *white = totals.results[WHITE], *black = totals.results[BLACK];
    assert_int_equal(white[1].won, 8);
    assert_int_equal(white[0].won, 54);
    assert_int_equal(sides(&black[1]), 90);
    assert_int_equal(sides(&black[0]), 10);
    assert_int_equal(sides(&white[0]) + sides(&white[1]), 100);
}

static void shares_are_disjoint_and_complete(void **state)
{
    (void)state;
    int count = 0, broken = 0;
    for (size_t share = 1; share <= 3; share++) {
        Seen *seen = see(share, 3);
        for (int i = 0; i < seen->count; i++)
            assert_int_equal(seen->games[i].number % 3, share % 3);
        count += seen->count;
        broken += seen->broken;
        forget(seen);
    }
    assert_int_equal(count, GAMES - 1);
    assert_int_equal(broken, 1);
}

/* ------------------------------------------------------------------------------------ the whole program */

static void workers_change_nothing(void **state)
{
    (void)state;
    char *text = all_games(1500);
    HarnessRun one = harness_run("census - --games --workers 1", text);
    HarnessRun three = harness_run("census - --games --workers 3", text);
    assert_int_equal(one.status, 0);
    assert_string_equal(one.out, three.out);
    assert_string_equal(one.err, three.err);
    size_t lines = 0;
    for (const char *c = one.out; *c; c++)
        lines += *c == '\n';
    assert_int_equal(lines, 1500 * (GAMES - 1));
    harness_free(&one);
    harness_free(&three);
    free(text);
}

/* Chains of three and of five files. In the first game the c-file and the g-file are open when Black plays f4,
 * and the lever is g4; in the second Black's chain points off the board. */
static const char long_chains[] =
    TAGS("three") "[FEN \"4k3/8/3p4/3Ppp2/4P3/5P2/8/4K3 b - - 0 1\"]\n[SetUp \"1\"]\n\n1... f4 2. Kd2 "
                  "1-0\n\n" TAGS("five") "[FEN \"4k3/4p3/3pP3/2pP4/1pP5/pP6/P7/4K3 b - - 0 1\"]\n[SetUp "
                                         "\"1\"]\n\n1... Kd8 2. Kd1 *\n\n";

static void assert_contains(const char *text, const char *part)
{
    if (strstr(text, part) == NULL)
        fail_msg("\"%s\" is missing in \"%s\"", part, text);
}

static void long_chains_are_counted_by_their_files(void **state)
{
    (void)state;
    HarnessRun run = harness_run("census - --games", long_chains);
    assert_int_equal(run.status, 0);
    assert_contains(run.out, "\"reached\":[\"de\",\"ef\"],\"near_misses\":[],\"first_de\":{\"ply\":1,"
                             "\"first_to_break\":null,\"white\":{\"verdict\":\"fulfilled\",\"status\":"
                             "\"cleared\",\"base_lever\":\"c5\",\"head_lever\":\"g3\",\"base_played\":null,"
                             "\"head_played\":null},\"black\":{\"verdict\":\"fulfilled\",\"status\":"
                             "\"cleared\",\"base_lever\":\"g4\",\"head_lever\":\"c6\",");
    assert_contains(run.out, "\"reached\":[\"ab\",\"bc\",\"cd\",\"de\"],\"near_misses\":[\"rim\"],");
    assert_contains(run.out, "\"black\":{\"verdict\":\"misleading\",\"status\":null,\"base_lever\":null,"
                             "\"head_lever\":\"f7\",");
    harness_free(&run);

    run = harness_run("census - --json", long_chains);
    assert_contains(run.out, "\"reached\":{\"ab\":1,\"bc\":1,\"cd\":1,\"de\":2,\"ef\":1,\"fg\":0,\"gh\":0}");
    assert_contains(run.out, "\"first_de\":{\"white\":{\"fulfilled/cleared\":2},"
                             "\"black\":{\"fulfilled/cleared\":1,\"misleading/none\":1}}");
    harness_free(&run);

    run = harness_run("census - --csv", long_chains);
    assert_contains(run.out, "\nfirst-de,misleading/none,Black,1\n");
    assert_contains(run.out, "\nby-status,none,Sides,1\n");
    assert_contains(run.out, "\nby-status,cleared,Sides,3\n");
    harness_free(&run);
}

static void a_missing_lever_is_written_down(void **state)
{
    (void)state;
    Folder folder = make_folder();
    char arguments[256], path[128];
    sqlite3_int64 missing = 0;
    snprintf(arguments, sizeof arguments, "census - --json --positions %s/out.epd --store %s/run.db",
             folder.path, folder.path);
    HarnessRun run = harness_run(arguments, long_chains);
    assert_int_equal(run.status, 0);
    char *epd = read_file(&folder, "out.epd");
    assert_contains(epd, "c0 \"fulfilled/cleared\"; c1 \"misleading/none\"; fmvn 2; hmvc 1; "
                         "id \"standard input, game 2\";\n");
    snprintf(path, sizeof path, "%s/run.db", folder.path);
    Database database;
    assert_true(database_open(&database, path, SQLITE_OPEN_READONLY));
    assert_true(database_number(&database,
                                "SELECT count(*) FROM census_game WHERE black_status IS NULL AND "
                                "black_base_lever IS NULL AND black_verdict = 'misleading'",
                                &missing));
    database_close(&database);
    assert_int_equal(missing, 1);
    harness_free(&run);
    remove_folder(&folder);
    free(epd);
}

static double number_at(const cJSON *object, const char *outer, const char *inner)
{
    return cJSON_GetNumberValue(
        cJSON_GetObjectItemCaseSensitive(cJSON_GetObjectItemCaseSensitive(object, outer), inner));
}

static void json_has_the_keys(void **state)
{
    (void)state;
    char *text = all_games(1);
    HarnessRun run = harness_run("census - --json", text);
    cJSON *object = cJSON_Parse(run.out);
    assert_non_null(object);
    assert_true(cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(object, "games")) == 6);
    assert_true(cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(object, "skipped")) == 1);
    assert_true(cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(object, "plies")) == 42);
    assert_true(number_at(object, "reached", "de") == 5);
    assert_true(number_at(object, "reached", "gh") == 0);
    assert_true(number_at(object, "base_lever_played", "black") == 2);
    const cJSON *black =
        cJSON_GetObjectItemCaseSensitive(cJSON_GetObjectItemCaseSensitive(object, "first_de"), "black");
    assert_true(cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(black, "applies/ready")) == 4);
    assert_non_null(strstr(run.err, "pawnvane-bench: standard input:"));
    assert_non_null(strstr(run.err, "game 6, ply 3"));
    cJSON_Delete(object);
    harness_free(&run);
    free(text);
}

/* Where each game first stands in a stratum, between plies 8 and 40: looked up ply by ply, without the
 * census. */
typedef struct FirstStrata {
    size_t counts[STRATUM_COUNT + 1];
    Stratum first;
} FirstStrata;

static bool strata_begin(void *context, const PgnGame *game)
{
    (void)game;
    ((FirstStrata *)context)->first = STRATUM_OTHER;
    return true;
}

static void strata_move(void *context, const PgnGame *game, Move move)
{
    FirstStrata *strata = context;
    Stratum now = game->plies >= 8 && game->plies <= 40 ? stratum_of(&game->position) : STRATUM_OTHER;
    (void)move;
    if (strata->first == STRATUM_OTHER)
        strata->first = now;
}

static void strata_end(void *context, const PgnGame *game)
{
    FirstStrata *strata = context;
    (void)game;
    strata->counts[strata->first]++;
}

static void games_are_counted_by_stratum(void **state)
{
    (void)state;
    static const char path[] = "bench/games/club-match.pgn";
    FirstStrata strata = {{0}, STRATUM_OTHER};
    const PgnVisitor visitor = {
        .context = &strata, .begin = strata_begin, .move = strata_move, .end = strata_end};
    assert_true(pgn_read_file(path, &visitor));
    HarnessRun run = harness_run("census bench/games/club-match.pgn --json", "");
    cJSON *object = cJSON_Parse(run.out);
    double sum = number_at(object, "strata", "other");
    for (int i = 0; i < STRATUM_COUNT; i++) {
        assert_true(number_at(object, "strata", stratum_names[i]) == (double)strata.counts[i]);
        sum += (double)strata.counts[i];
    }
    assert_true(sum == cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(object, "games")));
    assert_true(strata.counts[STRATUM_FIRM_APPLIES] > 0 && strata.counts[STRATUM_NEAR_MISS] > 0);
    cJSON_Delete(object);
    harness_free(&run);
}

/* The games before count, the last one is told, and the status says that something is missing. */
static void a_file_that_is_cut_off_is_told(void **state)
{
    (void)state;
    char *text = all_games(1);
    text[strlen(text) - strlen("4. c4 *\n\n")] = '\0';
    HarnessRun run = harness_run("census - --json", text);
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, "game 7, ply 7: the file ends before the result; expected"));
    cJSON *object = cJSON_Parse(run.out);
    assert_non_null(object);
    assert_true(cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(object, "games")) == GAMES - 2);
    cJSON_Delete(object);
    harness_free(&run);
    free(text);
    text = all_games(1);
    run = harness_run("census - --json", text);
    assert_int_equal(run.status, 0);
    harness_free(&run);
    free(text);
}

static void positions_are_written_once_and_can_be_read(void **state)
{
    (void)state;
    Folder folder = make_folder();
    char *text = all_games(2), arguments[256];
    snprintf(arguments, sizeof arguments, "census - --json --positions %s/out.epd", folder.path);
    HarnessRun run = harness_run(arguments, text);
    assert_int_equal(run.status, 0);
    char *epd = read_file(&folder, "out.epd");
    /* Two first moments: Black to move behind 3.e5, White to move in the game that starts locked. */
    assert_string_equal(
        epd, "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - c0 \"applies/ready\"; "
             "c1 \"applies/unsupported\"; fmvn 3; hmvc 0; id \"standard input, game 1\";\n"
             "r1bqkbnr/pp3ppp/2n1p3/2ppP3/3P4/8/PPP2PPP/RNBQKBNR w KQkq - c0 \"applies/unsupported\"; "
             "c1 \"applies/played\"; fmvn 5; hmvc 1; id \"standard input, game 4\";\n");
    HarnessRun explained = harness_run("explain --json -", epd);
    assert_int_equal(explained.status, 0);
    harness_free(&explained);
    harness_free(&run);
    remove_folder(&folder);
    free(epd);
    free(text);
}

static void failures_destroy_nothing(void **state)
{
    (void)state;
    Folder folder = make_folder();
    char arguments[512];
    write_file(&folder, "out.epd", "kept");
    write_file(&folder, "out.html", "kept");
    snprintf(arguments, sizeof arguments,
             "census %s/missing.pgn --positions %s/out.epd --html %s/out.html --store %s/run.db", folder.path,
             folder.path, folder.path, folder.path);
    assert_refused(arguments, "", 1, "missing.pgn");
    char *epd = read_file(&folder, "out.epd"), *html = read_file(&folder, "out.html");
    assert_string_equal(epd, "kept");
    assert_string_equal(html, "kept");
    remove_folder(&folder);
    free(epd);
    free(html);
}

/* ------------------------------------------------------------------------------- the games behind the numbers */

typedef struct Behind {
    CensusTotals totals;
    CensusExamples examples;
    int named;
} Behind;

static bool look_behind(void *context, const char *file, const CensusGame *game)
{
    Behind *behind = context;
    return census_totals_add(&behind->totals, game) && census_examples_add(&behind->examples, file, game);
}

static void no_table(void *context, const char *id, const char *title, const char *note,
                     const PageColumn *columns, int column_count)
{
    (void)context, (void)id, (void)title, (void)note, (void)columns, (void)column_count;
}

static void no_cell(void *context, const char *text)
{
    (void)context, (void)text;
}

static void no_end(void *context)
{
    (void)context;
}

static void compare_with_games(void *context, const char *name, const char *text)
{
    Behind *behind = context;
    const CensusExampleSet *set = census_examples_find(&behind->examples, name);
    size_t games_behind = set != NULL ? set->games : 0;
    if (strtoul(text, NULL, 10) != games_behind)
        fail_msg("%s: %s in the table, %zu games", name, text, games_behind);
    behind->named += set != NULL;
}

/* Names of numbers that have no row: tables that are only told in part. */
static bool may_lack_a_row(const char *name)
{
    return strncmp(name, "decades/", 8) == 0 || strncmp(name, "codes/", 6) == 0 ||
           strncmp(name, "first/always", 12) == 0;
}

/* Counted in two ways: the sums of the tables, and the numbers in which each game says that it counts. */
static void every_number_has_its_games(void **state)
{
    (void)state;
    Folder folder = make_folder();
    char *text = all_games(1), path[128];
    write_file(&folder, "games.pgn", text);
    snprintf(path, sizeof path, "%s/games.pgn", folder.path);
    const char *paths[] = {"bench/games/club-match.pgn", path};
    Behind *behind = calloc(1, sizeof *behind);
    assert_non_null(behind);
    CensusRun run = {.collection = {.paths = paths, .path_count = 2, .workers = 2, .share = 1, .shares = 1},
                     .wants_moments = true,
                     .context = behind,
                     .game = look_behind};
    assert_true(census_run(&run));
    assert_true(census_write_tables(
        &behind->totals, true, &(TableSink){behind, true, no_table, no_cell, compare_with_games, no_end}));
    for (size_t i = 0; i < behind->examples.capacity; i++)
        if (behind->examples.places[i].name != NULL && may_lack_a_row(behind->examples.places[i].name))
            behind->examples.count--;
    assert_true(behind->named >= behind->examples.count);
    assert_true(behind->named > 100);

    /* What is shown of a game is what is there: a move leads to the position, in which the files are locked. */
    const CensusExampleSet *set = census_examples_find(&behind->examples, "first-de/applies/ready/black");
    assert_non_null(set);
    for (int i = 0; i < set->count; i++) {
        Position position;
        ps_analysis analysis;
        assert_int_equal(fen_parse(set->items[i].moment.fen, false, &position, NULL), FEN_OK);
        structure_analyse(&position, &analysis);
        assert_int_equal(analysis.plan[BLACK].verdict, PS_APPLIES);
        assert_int_equal(ps_plan_lever(&analysis, PS_BLACK)->status, PS_READY);
    }
    census_examples_free(&behind->examples);
    census_totals_free(&behind->totals);
    free(behind);
    remove_folder(&folder);
    free(text);
}

static void the_games_behind_a_number_are_listed(void **state)
{
    (void)state;
    char *text = all_games(1);
    HarnessRun run = harness_run("census - --list levers/white/head", text);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.out, "number,file,game,move,fen\nlevers/white/head,standard input,7,4.c4,"
                                 "rnbqkbnr/ppp3pp/4pp2/3pP3/2PP4/8/PP3PPP/RNBQKBNR b KQkq c3 0 4\n");
    harness_free(&run);
    /* All numbers that begin so; of a game itself there is no moment to look at. */
    run = harness_run("census - --list openings", text);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.out,
                        "number,file,game,move,fen\nopenings/C/games,standard input,1,,\n"
                        "openings/C/any,standard input,1,3.e5,rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/"
                        "RNBQKBNR b KQkq - 0 3\n"
                        "openings/C/de,standard input,1,3.e5,rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/"
                        "RNBQKBNR b KQkq - 0 3\n");
    harness_free(&run);
    run = harness_run("census - --list lever", text);
    assert_int_equal(run.status, 1);
    assert_non_null(
        strstr(run.err, "--list is \"lever\": no game counts there; expected the name of a number"));
    harness_free(&run);
    free(text);
}

/* Each number of the page leads to a part of the page. */
static void numbers_of_the_page_lead_to_games(void **state)
{
    (void)state;
    Folder folder = make_folder();
    char *text = all_games(2), arguments[256], id[64];
    snprintf(arguments, sizeof arguments, "census - --html %s/out.html", folder.path);
    HarnessRun run = harness_run(arguments, text);
    assert_int_equal(run.status, 0);
    char *html = read_file(&folder, "out.html");
    int links = 0;
    for (const char *at = html; (at = strstr(at, "<a href=\"#games-")) != NULL; at++, links++) {
        snprintf(id, sizeof id, "<div id=\"games-%d\">", atoi(at + strlen("<a href=\"#games-")));
        assert_contains(html, id);
    }
    assert_true(links > 20);
    assert_contains(
        html, "<summary>Games in which two files were locked: de, firm, Games: 10, the first 5</summary>");
    assert_contains(
        html, "standard input, game 1, after 3.e5: <code>rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR "
              "b KQkq - 0 3</code>");
    assert_contains(html, "census --list &quot;pairs/de&quot;");
    harness_free(&run);
    remove_folder(&folder);
    free(html);
    free(text);
}

/* Openings, years and ratings of games that give them; a near miss that stands for 20 plies; and the moves of those
 * without a code. */
static void games_are_grouped(void **state)
{
    (void)state;
    static const char grouped[] = TAGS(
        "1") "[Date \"1998.05.??\"]\n[WhiteElo \"1700\"]\n[BlackElo \"1900\"]\n\n1. e4 e6 2. d4 d5 3. e5 "
             "*\n\n" TAGS("2") "[Date \"????.??.??\"]\n[WhiteElo \"1700\"]\n\n1. e4 e6 2. d4 d5 3. exd5 "
                               "*\n\n" TAGS("3") "[ECO \"C02\"]\n[Date \"1999.01.01\"]\n\n1. e4 e6 2. d4 d5 "
                                                 "3. e5 *\n\n" TAGS("4") "\n1. e4 *\n\n";
    HarnessRun run = harness_run("census - --json", grouped);
    assert_int_equal(run.status, 0);
    assert_contains(run.out,
                    "\"openings\":{\"C02\":{\"games\":1,\"any\":1,\"de\":1}},\"first_moves\":{\"1.e4 e6 2.d4 "
                    "d5\":{\"games\":2,\"any\":1,\"de\":1},\"1.e4\":{\"games\":1,\"any\":0,\"de\":0}},"
                    "\"years\":{\"1998\":{\"games\":1,\"any\":1,\"de\":1},\"1999\":{\"games\":1,\"any\":1,"
                    "\"de\":1}},\"ratings\":{\"1800 to 2099\":{\"games\":1,\"any\":1,\"de\":1}}}");
    harness_free(&run);
    run = harness_run("census - --csv", grouped);
    assert_contains(run.out, "\nfirst-moves,1.e4 e6 2.d4 d5,Games,2\n");
    assert_contains(run.out, "\nyears,1998,On d and e,1\n");
    assert_contains(run.out, "\nratings,1800 to 2099,Games,1\n");
    harness_free(&run);
    run = harness_run("census -", grouped);
    assert_contains(run.out, "\n1.e4 e6 2.d4 d5 ");
    harness_free(&run);
}

/* Both sides' pawns on d and e lean to the kingside while the kings walk: for 20 plies in the first game, for 19 in the
 * second. */
static void a_near_miss_that_lasts_is_told_apart(void **state)
{
    (void)state;
    char text[1024] = "", *at = text;
    static const char *const walk[] = {"Kd1", "Kd7", "Kd2", "Kd8", "Ke1", "Ke7", "Kd1", "Kd7", "Kd2", "Kd8",
                                       "Ke1", "Ke7", "Kd1", "Kd7", "Kd2", "Kd8", "Ke1", "Ke7", "Kd1", "Kd7"};
    for (int game = 0; game < 2; game++) {
        at += sprintf(at, "%s[FEN \"4k3/8/3p4/4p3/4P3/8/3P4/4K3 w - - 0 1\"]\n[SetUp \"1\"]\n\n1. d3 Ke7 ",
                      TAGS("walk"));
        for (int ply = 0; ply < 19 - game; ply++)
            at += sprintf(at, "%s ", walk[ply]);
        at += sprintf(at, "*\n\n");
    }
    HarnessRun run = harness_run("census - --json", text);
    assert_string_equal(run.err, "");
    assert_contains(run.out, "\"near_misses\":{\"not_linked\":0,\"same_way\":2,");
    assert_contains(run.out, "\"near_misses_lasting\":{\"not_linked\":0,\"same_way\":1,");
    assert_contains(run.out, "\"near_misses_common\":[\"same_way\"]");
    harness_free(&run);
    run = harness_run("census -", text);
    assert_contains(run.out, "\nNear misses that are nearly always there\n");
    harness_free(&run);
    run = harness_run("census - --list near-misses/same_way/lasting", text);
    assert_contains(run.out, ",1,1.d3,4k3/8/3p4/4p3/4P3/3P4/8/4K3 b - - 0 1\n");
    harness_free(&run);
}

static void misuse_is_refused(void **state)
{
    (void)state;
    assert_refused("census", "", 2, "no input");
    assert_refused("census - --share 3/2", "", 2, "--share");
    assert_refused("census - --share 1", "", 2, "--share");
    assert_refused("census - --share 1/2x", "", 2, "--share");
    assert_refused("census - --json --csv", "", 2, "--csv");
    assert_refused("census - --positions /nowhere/out.epd", "", 1, "/nowhere/out.epd");
}

static void the_store_has_a_row_for_each_game(void **state)
{
    (void)state;
    Folder folder = make_folder();
    char *text = all_games(1), arguments[256], path[128];
    sqlite3_int64 rows = 0, played = 0;
    snprintf(arguments, sizeof arguments, "census - --json --store %s/run.db", folder.path);
    snprintf(path, sizeof path, "%s/run.db", folder.path);
    /* The second time replaces the first. */
    for (int i = 0; i < 2; i++) {
        HarnessRun run = harness_run(arguments, text);
        assert_int_equal(run.status, 0);
        harness_free(&run);
    }
    Database database;
    assert_true(database_open(&database, path, SQLITE_OPEN_READONLY));
    assert_true(database_number(&database, "SELECT count(*) FROM census_game", &rows));
    assert_true(database_number(
        &database, "SELECT sum(black_base_ply - de_ply) FROM census_game WHERE reached = 'de'", &played));
    database_close(&database);
    assert_int_equal(rows, GAMES - 1);
    assert_int_equal(played, 1 + 3);
    remove_folder(&folder);
    free(text);
}

static void every_way_to_show_it_has_the_warning_or_the_numbers(void **state)
{
    (void)state;
    Folder folder = make_folder();
    char *text = all_games(1), arguments[256];
    snprintf(arguments, sizeof arguments, "census - --html %s/out.html", folder.path);
    HarnessRun run = harness_run(arguments, text), csv = harness_run("census - --csv", text);
    char *html = read_file(&folder, "out.html");
    assert_non_null(strstr(run.out, "observation and no proof"));
    assert_non_null(strstr(html, "observation and no proof"));
    assert_non_null(strstr(html, "C02"));
    /* Each two files with their grade: the definitions, section 1. */
    static const char *const files[] = {"ab/void",   "bc/doubtful", "cd/likely", "de/firm",
                                        "ef/likely", "fg/doubtful", "gh/void"};
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        char row[64];
        snprintf(row, sizeof row, "\npairs,%s,Games,%d\n", files[i], i == 3 ? 5 : 0);
        assert_non_null(strstr(csv.out, row));
    }
    assert_non_null(strstr(csv.out, "\ncodes,C02,On d and e,1\n"));
    /* Names for machines, words for people. */
    assert_non_null(strstr(csv.out, "\nnear-misses,not_rammed,Games,"));
    assert_null(strstr(run.out, "not_rammed"));
    assert_null(strstr(html, "not_rammed"));
    assert_null(strstr(run.out, "void"));
    assert_non_null(strstr(run.out, "\na chain, but only one ram "));
    /* Each side and class, and what the count of tempi is to be compared with. */
    assert_non_null(strstr(run.out, "played within 20 plies, in games that went on longer"));
    assert_non_null(strstr(csv.out, "\nresults,\"white, not played\",Games,0\n"));
    assert_non_null(strstr(csv.out, "\nresults,\"black, played\",Games,0\n"));
    assert_non_null(strstr(csv.out, "\nfirst,as the count of tempi said,Games,2\n"));
    assert_non_null(strstr(csv.out, "\nfirst,\"always Black, in these games\",Games,2\n"));
    harness_free(&run);
    harness_free(&csv);
    remove_folder(&folder);
    free(html);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_number_has_its_games),
        cmocka_unit_test(the_games_behind_a_number_are_listed),
        cmocka_unit_test(numbers_of_the_page_lead_to_games),
        cmocka_unit_test(games_are_grouped),
        cmocka_unit_test(a_near_miss_that_lasts_is_told_apart),
        cmocka_unit_test(levers_count_from_the_first_moment_on),
        cmocka_unit_test(the_first_position_does_not_count),
        cmocka_unit_test(null_moves_are_plies),
        cmocka_unit_test(broken_games_are_told_and_left_out),
        cmocka_unit_test(totals_are_sums),
        cmocka_unit_test(results_are_compared_from_a_landmark_on),
        cmocka_unit_test(results_are_told_by_colour),
        cmocka_unit_test(shares_are_disjoint_and_complete),
        cmocka_unit_test(workers_change_nothing),
        cmocka_unit_test(long_chains_are_counted_by_their_files),
        cmocka_unit_test(a_missing_lever_is_written_down),
        cmocka_unit_test(json_has_the_keys),
        cmocka_unit_test(games_are_counted_by_stratum),
        cmocka_unit_test(a_file_that_is_cut_off_is_told),
        cmocka_unit_test(positions_are_written_once_and_can_be_read),
        cmocka_unit_test(failures_destroy_nothing),
        cmocka_unit_test(misuse_is_refused),
        cmocka_unit_test(the_store_has_a_row_for_each_game),
        cmocka_unit_test(every_way_to_show_it_has_the_warning_or_the_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
