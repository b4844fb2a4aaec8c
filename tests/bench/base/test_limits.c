/* The limits that DEVELOPERS.md lists, where no other test has them: what is beyond is refused with the limit in the
 * message, or is read all the same. */
#include "bench/pgn/pgn.h"
#include "bench/play/opening.h"
#include "tests/bench/run/run_in.h"

static void beyond_is_refused(void **state)
{
    (void)state;
    static const struct {
        const char *arguments, *part;
    } cases[] = {
        {"duel --workers 257", "--workers is \"257\"; expected a whole number from 1 to 256"},
        {"duel --table 4097", "--table is \"4097\"; expected a whole number from 1 to 4096"},
        {"duel --pairs 10000001", "--pairs is \"10000001\"; expected a whole number from 1 to 10000000"},
        {"duel --nodes 1000000000001", "--nodes is \"1000000000001\"; expected a whole number above 0"},
        {"duel --movetime 3600001", "--movetime is \"3600001\"; expected a whole number from 1 to 3600000"},
        {"duel $(yes -- --set=A.null_move=1 | head -n 257)",
         "--set is there too often; expected it 256 times"},
        {"sweep --weights $(seq -s, 64)", "sweep: there are too many arms; expected 64 at most"},
        {"sweep --weights 1001", "--weights has \"1001\"; expected percents from 1 to 1000"},
        {"openings --out /no/file --each 100001",
         "--each is \"100001\"; expected a whole number from 1 to 100000"},
        {"contrast --depth 128 x.epd", "--depth is \"128\"; expected a whole number from 1 to 127"},
        {"perft --depth 21", "--depth is \"21\"; expected a whole number from 1 to 20"},
        {"census --share 1/1000001 x.pgn", "with K from 1 to N and N at most 1000000"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_refused(cases[i].arguments, "", 2, cases[i].part);
}

/* One position for each stratum: White's knight on a square of the three ranks in the middle, either to move. */
static void write_strata(const char *path, int count)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    for (int i = 0; i < count; i++) {
        char rank[9] = "11111111";
        rank[i % 8] = 'N';
        fputs("rnbqkbnr/pppppppp/", file);
        for (int k = 0; k < 4; k++)
            fprintf(file, "%s/", k == i / 8 % 3 + 1 ? rank : "11111111");
        fprintf(file, "PPPPPPPP/RNBQKB1R %c KQkq - c0 \"stratum %d\";\n", i < 24 ? 'w' : 'b', i);
    }
    fclose(file);
}

static void strata_are_32_at_most(void **state)
{
    RunFiles *files = *state;
    write_strata(run_path(files, "most.epd"), STRATA_MAX);
    done(files,
         "duel --openings @/most.epd --nodes 5 --table 1 --adjudicate longest=1 --quiet --store @/run.db");
    write_strata(run_path(files, "beyond.epd"), STRATA_MAX + 1);
    refused(files, 1, "there are too many strata of openings; expected 32 at most",
            "duel --openings @/beyond.epd --nodes 5 --quiet --store @/other.db");
}

/* A line is as long as memory allows. */
static void long_lines_are_read(void **state)
{
    enum { LONG = 1 << 22 };
    RunFiles *files = *state;
    FILE *file = fopen(run_path(files, "long.epd"), "w");
    assert_non_null(file);
    fputs("4k3/8/8/8/8/8/8/4K2R w K - c0 \"", file);
    for (int i = 0; i < LONG; i++)
        putc('x', file);
    fputs("\";\n4k3/8/8/8/8/8/8/R3K3 w Q - id \"the second\";\n", file);
    fclose(file);
    HarnessRun run = run_in(files, "explain --json @/long.epd");
    assert_done(&run);
    int lines = 0;
    for (const char *at = run.out; (at = strchr(at, '\n')) != NULL; at++)
        lines++;
    assert_int_equal(lines, 2);
    harness_free(&run);
}

/* Of a game, too: a long value of a tag, a long comment, more tags than are kept, more moves than a game of a run. */
static void large_games_are_read(void **state)
{
    enum { LONG = 1 << 20, MOVES = 2500 };
    RunFiles *files = *state;
    FILE *file = fopen(run_path(files, "large.pgn"), "w");
    assert_non_null(file);
    fputs("[Event \"", file);
    for (int i = 0; i < LONG; i++)
        putc('x', file);
    fputs("\"]\n\n1. e4 {", file);
    for (int i = 0; i < LONG; i++)
        putc(i % 80 ? 'x' : '\n', file);
    fputs("} e5 *\n\n", file);
    for (int i = 0; i <= PGN_TAGS_MAX; i++)
        fprintf(file, "[Tag%d \"x\"]\n", i);
    fputs("\n1. e4 *\n\n[Event \"x\"]\n\n", file);
    for (int i = 0; i < MOVES; i++)
        fputs(i % 2 ? "Ng1 Ng8\n" : "Nf3 Nf6\n", file);
    fputs("*\n", file);
    fclose(file);
    HarnessRun run = run_in(files, "census --json --quiet @/large.pgn");
    assert_done(&run);
    char counts[64];
    snprintf(counts, sizeof counts, "\"games\":3,\"skipped\":0,\"plies\":%d,", 2 + 1 + 2 * MOVES);
    if (!strstr(run.out, counts))
        fail_msg("%.200s", run.out);
    harness_free(&run);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(beyond_is_refused),
        RUN_TEST(strata_are_32_at_most),
        RUN_TEST(long_lines_are_read),
        RUN_TEST(large_games_are_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
