/* What was there stays, whatever the command line says: files that are both read and written, descriptors
 * that are closed, files of something else. */
#include "tests/bench/run/run_in.h"

#include "engine/protocol/descriptors.h"

#include <errno.h>
#include <fcntl.h>

/* ------------------------------------------------------------------------------------------- descriptors */

/* 0 if what the program opens next gets another number, and reading and writing fail as POSIX says of closed
 * descriptors. */
static int with_closed_descriptors(void)
{
    char byte;
    for (int descriptor = 0; descriptor < 3; descriptor++)
        close(descriptor);
    if (!descriptors_hold())
        return 1;
    if (open("/dev/null", O_RDWR) < 3)
        return 2;
    if (read(0, &byte, 1) != -1 || errno != EBADF)
        return 3;
    for (int descriptor = 1; descriptor < 3; descriptor++) {
        if (write(descriptor, "x", 1) != -1 || errno != EBADF)
            return 4;
    }
    return 0;
}

static void test_held(void **state)
{
    (void)state;
    int status;
    pid_t child = fork();
    if (child == 0)
        _exit(with_closed_descriptors());
    assert_true(child > 0);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
}

/* Those that are open stay as they are. */
static void test_untouched(void **state)
{
    (void)state;
    int ends[2];
    char byte;
    assert_int_equal(pipe(ends), 0);
    int kept = dup(STDIN_FILENO);
    assert_int_equal(dup2(ends[0], STDIN_FILENO), STDIN_FILENO);
    assert_true(descriptors_hold());
    assert_int_equal(write(ends[1], "x", 1), 1);
    assert_int_equal(read(STDIN_FILENO, &byte, 1), 1);
    assert_int_equal(dup2(kept, STDIN_FILENO), STDIN_FILENO);
    close(kept);
    close(ends[0]);
    close(ends[1]);
}

/* What is meant for people must not go into the file that was opened instead. */
static void test_closed_streams(void **state)
{
    RunFiles *files = *state;
    done(files, "duel " SMALL "--pairs 2 --store @/run.db");
    char *expected = run_dump(run_path(files, "run.db"));
    HarnessRun run = run_in(files, "duel " SMALL "--pairs 2 --seed 2 --store @/run.db 2>&-");
    assert_int_equal(run.status, 1);
    assert_string_equal(run.out, "");
    assert_same_run(run_path(files, "run.db"), expected);
    harness_free(&run);

    run = run_in(files, "duel " SMALL "--pairs 2 --csv --store @/other.db >&-");
    assert_int_equal(run.status, 1);
    assert_string_equal(run.err, "pawnvane-bench: standard output: cannot be written: Bad file descriptor\n");
    assert_same_run(run_path(files, "other.db"), expected);
    harness_free(&run);

    run = run_in(files, "duel " SMALL "--pairs 2 --store @/third.db <&- >&- 2>&-");
    assert_int_equal(run.status, 1);
    assert_same_run(run_path(files, "third.db"), expected);
    harness_free(&run);
    free(expected);
}

/* ---------------------------------------------------------------------------------------------- conflicts */

static void copy_file(RunFiles *files, const char *from, const char *name)
{
    char command[512];
    snprintf(command, sizeof command, "cp %s %s/%s", from, files->folder, name);
    assert_int_equal(system(command), 0);
}

static void link_file(RunFiles *files, int (*make)(const char *, const char *), const char *target,
                      const char *name)
{
    char path[128];
    snprintf(path, sizeof path, "%s/%s", files->folder, target);
    assert_int_equal(make(path, run_path(files, name)), 0);
}

static void test_conflicts(void **state)
{
    RunFiles *files = *state;
    static const struct {
        const char *arguments, *part;
    } cases[] = {
        {"handout @/cm.pgn --html @/s.html --pgn @/cm.pgn", "--pgn @/cm.pgn and @/cm.pgn are one file"},
        {"handout @/cm.pgn --html @/s.html --pgn @/./s.html", "--html @/s.html and --pgn @/./s.html are one"},
        {"handout @/cm.pgn --html @/soft.html", "--html @/soft.html and @/cm.pgn are one file"},
        {"handout @/hard.pgn --html @/cm.pgn", "--html @/cm.pgn and @/hard.pgn are one file"},
        {"duel --pairs 1 --store @/run.db --pgn @/run.db",
         "--store @/run.db and --pgn @/run.db are one file"},
        {"duel --pairs 1 --store @/new --pgn @/here/new", "--store @/new and --pgn @/here/new are one file"},
        {"duel --pairs 1 --store @/run.db --pgn @/run.db-wal", "--pgn @/run.db-wal belong to one database"},
        {"duel --pairs 1 --store @/run.db --pgn @/run.db-lock", "--pgn @/run.db-lock belong to one database"},
        {"duel --pairs 1 --store @/o.epd-shm --openings @/o.epd", "@/o.epd belong to one database"},
        {"duel --pairs 1 --openings @/o.epd --pgn @/o.epd", "--pgn @/o.epd and --openings @/o.epd are one"},
        {"duel --pairs 1 --engine-a @/o.epd --pgn @/o.epd", "--pgn @/o.epd and --engine-a @/o.epd are one"},
        {"duel --pairs 1 --engine-b @/o.epd --pgn @/o.epd", "--pgn @/o.epd and --engine-b @/o.epd are one"},
        {"sweep --pairs 1 --store @/o.epd --openings @/o.epd", "--store @/o.epd and --openings @/o.epd"},
        {"report @/run.db --html @/run.db", "--html @/run.db and @/run.db are one file"},
        {"report @/run.db --html @/run.db-wal", "--html @/run.db-wal and @/run.db belong to one database"},
        {"census @/cm.pgn --html @/cm.pgn", "--html @/cm.pgn and @/cm.pgn are one file"},
        {"census @/o.epd @/cm.pgn --positions @/cm.pgn", "--positions @/cm.pgn and @/cm.pgn are one file"},
        {"census @/empty --store @/empty", "--store @/empty and @/empty are one file"},
        {"census @/cm.pgn --html @/out --store @/out", "--html @/out and --store @/out are one file"},
        {"census - --html @/cm.pgn <@/cm.pgn", "--html @/cm.pgn and the standard input are one file"},
        {"census @/cm.pgn --html @/out --csv >>@/out", "--html @/out and the standard output are one file"},
        {"explain @/o.epd >>@/o.epd", "the standard output and @/o.epd are one file"},
        {"explain - <@/o.epd >>@/o.epd", "the standard output and the standard input are one file"},
        {"contrast @/o.epd >>@/o.epd", "the standard output and @/o.epd are one file"},
        {"nearer @/o.epd >>@/o.epd", "the standard output and @/o.epd are one file"},
        {"nearer @/o.epd --keep @/o.epd", "--keep @/o.epd and @/o.epd are one file"},
        {"tune --parameter null_base=1 --openings @/o.epd >>@/o.epd", "the standard output and --openings"},
        {"openings --out @/o.epd >>@/o.epd", "--out @/o.epd and the standard output are one file"},
        {"fit --games 5 --openings @/o.epd --sample @/o.epd", "--sample @/o.epd and --openings @/o.epd"},
        {"forecast @/g.pgn --html @/g.pgn", "--html @/g.pgn and @/g.pgn are one file"},
        {"forecast @/g.pgn --html @/h.html --store @/h.html", "--html @/h.html and --store @/h.html are one"},
        {"chance --sample @/o.epd --write @/o.epd", "--write @/o.epd and --sample @/o.epd are one file"},
        {"chance --games 5 --openings @/o.epd --sample @/o.epd", "--sample @/o.epd and --openings @/o.epd"},
        {"fit --sample @/o.epd --write @/o.epd", "--write @/o.epd and --sample @/o.epd are one file"},
        {"fit --games 5 --openings @/o.epd --sample @/o.epd",
         "--sample @/o.epd and --openings @/o.epd are one"},
        {"fit --sample @/s.epd @/o.epd --write-lever @/o.epd", "--write-lever @/o.epd and @/o.epd are one"},
        {"fit --sample @/o.epd --write @/w.c --write-lever @/w.c", "--write @/w.c and --write-lever @/w.c"},
        {"merge @/run.db @/run.db", "merge: @/run.db and @/run.db are one file; expected different files"},
        {"merge @/m.db @/run.db >>@/run.db", "the standard output and @/run.db are one file"},
    };
    done(files, "duel " SMALL "--pairs 1 --store @/run.db");
    copy_file(files, "bench/games/club-match.pgn", "cm.pgn");
    copy_file(files, "bench/positions/scenario.epd", "o.epd");
    run_write(run_path(files, "empty"), "");
    run_write(run_path(files, "out"), "kept");
    link_file(files, symlink, "cm.pgn", "soft.html");
    link_file(files, link, "cm.pgn", "hard.pgn");
    char *before = run_listing(files);
    link_file(files, symlink, ".", "here");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char part[256];
        size_t length = 0;
        for (const char *at = cases[i].part; *at; at++)
            length += (size_t)snprintf(part + length, sizeof part - length, "%.*s", *at == '@' ? 64 : 1,
                                       *at == '@' ? files->folder : at);
        refused(files, 2, part, cases[i].arguments);
    }
    assert_int_equal(unlink(run_path(files, "here")), 0);
    char *after = run_listing(files);
    assert_string_equal(after, before);
    free(before);
    free(after);
}

/* Nothing of this is a conflict. */
static void test_no_conflicts(void **state)
{
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD") ? getenv("PAWNVANE_BUILD") : "build";
    done(files, "duel " SMALL "--pairs 1 --store @/run.db --pgn @/run.pgn");
    done(files, "explain bench/positions/scenario.epd bench/positions/scenario.epd >>@/log");
    done(files, "explain bench/positions/scenario.epd >@/log 2>&1");
    HarnessRun run = run_in(
        files, "duel " SMALL "--pairs 1 --engine-a %s/pawnvane --engine-b %s/pawnvane --store @/same.db",
        build, build);
    assert_done(&run);
    harness_free(&run);
    done(files, "report @/run.db @/run.db --html @/run.html");
    done(files, "report @/run.db --html @/run.html");
}

/* The part has the name that a half-written file might have. */
static void test_merge_takes_no_name(void **state)
{
    RunFiles *files = *state;
    done(files, "duel " SMALL "--pairs 2 --store @/q.db.unfinished");
    char *expected = run_dump(run_path(files, "q.db.unfinished"));
    done(files, "merge @/q.db @/q.db.unfinished");
    assert_same_run(run_path(files, "q.db.unfinished"), expected);
    assert_same_run(run_path(files, "q.db"), expected);
    free(expected);
}

/* -------------------------------------------------------------------------------------- files of others */

static void test_census_store(void **state)
{
    RunFiles *files = *state;
    static const char census[] = "census bench/games/club-match.pgn --store @/";
    char arguments[128];
    done(files, "duel " SMALL "--pairs 1 --store @/run.db");
    run_write(run_path(files, "notes.db"), "Somebody's precious notes on rook endings.\n");
    run_write(run_path(files, "new.db"), "");
    run_sql(run_path(files, "new.db"), "CREATE TABLE census_game (votes INTEGER); CREATE TABLE town (name)");
    static const struct {
        const char *name, *part;
    } others[] = {{"run.db", "run.db: has a table experiment; expected a new file, or one that census"},
                  {"new.db", "new.db: has a table town; expected a new file, or one that census has written"},
                  {"notes.db", "notes.db: file is not a database"}};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        snprintf(arguments, sizeof arguments, "%s%s", census, others[i].name);
        refused_unchanged(files, 1, others[i].part, arguments);
    }
    for (int i = 0; i < 2; i++)
        done(files, "census bench/games/club-match.pgn --store @/survey.db");
    assert_true(run_number(run_path(files, "survey.db"), "SELECT count(*) FROM census_game") > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_held), cmocka_unit_test(test_untouched), RUN_TEST(test_closed_streams),
        RUN_TEST(test_conflicts),    RUN_TEST(test_no_conflicts),      RUN_TEST(test_merge_takes_no_name),
        RUN_TEST(test_census_store),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
