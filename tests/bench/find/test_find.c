/* Moments of games: against reading every position of every game, and by hand. */
#include "bench/find/find.h"
#include "bench/pgn/epd.h"
#include "engine/evaluation/structure_view.h"
#include "tests/bench/harness.h"

static const char games[] = "bench/games/club-match.pgn";

/* ------------------------------------------------------------------------- every position, without short cuts */

typedef struct Count {
    const FindQuery *query;
    bool held, held_in_game;
    int moments, games;
} Count;

static bool on_begin(void *context, const PgnGame *game)
{
    Count *count = context;
    (void)game;
    count->held = count->held_in_game = false;
    return true;
}

static bool holds(const FindQuery *query, const Position *position)
{
    ps_analysis analysis;
    bool plan = false, miss = query->near_miss == PS_NO_NEAR_MISS;
    structure_analyse(position, &analysis);
    for (int i = 0; i < analysis.near_miss_count; i++)
        miss |= analysis.near_misses[i] == query->near_miss;
    bool asked =
        query->verdict != PS_NONE || query->status != PS_NO_STATUS || query->first_file != PS_NO_FILE;
    for (ps_side side = PS_WHITE; side <= PS_BLACK; side++) {
        if (analysis.plan[side].verdict == PS_NONE || !(query->sides & 1U << side))
            continue;
        const ps_chain *chain = &analysis.chains[analysis.plan[side].chain];
        plan |= (query->verdict == PS_NONE || (int)analysis.plan[side].verdict == query->verdict) &&
                (query->status == PS_NO_STATUS || chain->side[side].base_lever.status == query->status) &&
                (query->first_file == PS_NO_FILE ||
                 (query->first_file == chain->first_file && query->last_file == chain->last_file));
    }
    return miss && (plan || !asked);
}

static void on_move(void *context, const PgnGame *game, Move move)
{
    Count *count = context;
    (void)move;
    bool now = holds(count->query, &game->position);
    count->moments += now && !count->held;
    count->games += now && !count->held_in_game;
    count->held = now;
    count->held_in_game |= now;
}

/* A query says of a few fields what differs from "any". */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Woverride-init"
static void as_many_as_every_position_shows(void **state)
{
    static const struct {
        const char *arguments;
        FindQuery query;
        bool some; /* the collection has them */
    } cases[] = {
#define QUERY(...)                                                                                           \
    {.first_file = PS_NO_FILE,                                                                               \
     .last_file = PS_NO_FILE,                                                                                \
     .grade = PS_NO_GRADE,                                                                                   \
     .verdict = PS_NONE,                                                                                     \
     .status = PS_NO_STATUS,                                                                                 \
     .near_miss = PS_NO_NEAR_MISS,                                                                           \
     .sides = FIND_EITHER,                                                                                   \
     __VA_ARGS__}
        {"--verdict misleading", QUERY(.verdict = PS_MISLEADING), true},
        {"--verdict misleading --lever barred --side white",
         QUERY(.verdict = PS_MISLEADING, .status = PS_BARRED, .sides = FIND_WHITE), true},
        {"--verdict weak", QUERY(.verdict = PS_WEAK), true},
        {"--lever ready --side black", QUERY(.status = PS_READY, .sides = FIND_BLACK), true},
        {"--lever obstructed", QUERY(.status = PS_OBSTRUCTED), true},
        {"--chain de", QUERY(.first_file = 3, .last_file = 4), true},
        {"--chain def", QUERY(.first_file = 3, .last_file = 5), true},
        {"--chain abcdefgh", QUERY(.first_file = 0, .last_file = 7), false},
        {"--near-miss same_way", QUERY(.near_miss = PS_SAME_WAY), true},
        {"--near-miss rim --verdict applies", QUERY(.near_miss = PS_RIM, .verdict = PS_APPLIES), true},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Count count = {.query = &cases[i].query};
        char arguments[256], told[64], first[64];
        assert_true(
            pgn_read_file(games, &(PgnVisitor){.context = &count, .begin = on_begin, .move = on_move}));
        assert_int_equal(count.moments > 0, cases[i].some);
        snprintf(arguments, sizeof arguments, "find %s %s --every", games, cases[i].arguments);
        HarnessRun run = harness_run(arguments, "");
        assert_int_equal(run.status, 0);
        snprintf(told, sizeof told, "# %d moment%s in %d of 50 games\n", count.moments,
                 count.moments == 1 ? "" : "s", count.games);
        if (strstr(run.out, told) == NULL)
            fail_msg("%s: no \"%s\" in \"%s\"", cases[i].arguments, told, run.out);
        harness_free(&run);
        /* Of each game the first. */
        snprintf(arguments, sizeof arguments, "find %s %s --workers 1", games, cases[i].arguments);
        run = harness_run(arguments, "");
        snprintf(first, sizeof first, "# %d moment%s in %d of 50 games\n", count.games,
                 count.games == 1 ? "" : "s", count.games);
        assert_non_null(strstr(run.out, first));
        harness_free(&run);
    }
}
#pragma GCC diagnostic pop

/* ------------------------------------------------------------------------------------------------ by hand */

/* The French Advance, in which Black bars White's lever f5 with 6...f5; from memory. */
static const char french[] = "[White \"A \\\"Ace\\\"\"]\n[Black \"B\"]\n[Result \"1-0\"]\n\n"
                             "1. e4 e6 2. d4 d5 3. e5 c5 4. c3 Nc6 5. Nf3 Nge7 6. Bd3 f5 7. O-O Bd7 1-0\n";

static void a_moment_is_a_position(void **state)
{
    (void)state;
    HarnessRun run = harness_run("find - --chain de --verdict misleading --lever barred", french);
    assert_string_equal(run.out,
                        "r1bqkb1r/pp2n1pp/2n1p3/2ppPp2/3P4/2PB1N2/PP3PPP/RNBQK2R w KQkq f6 c0 \"for White "
                        "the direction misleads on the d- and e-files, lever f5: barred\"; fmvn 7; hmvc 0; "
                        "id \"A 'Ace' – B, after 6...f5, "
                        "standard input, game 1\";\n# 1 moment in 1 of 1 game\n");
    assert_string_equal(run.err, "");
    assert_int_equal(run.status, 0);
    /* What is found can be read, and says the same of itself. */
    HarnessRun again = harness_run("explain - --json", run.out);
    assert_int_equal(again.status, 0);
    assert_non_null(strstr(again.out, "\"white\":{\"verdict\":\"misleading\",\"files\":\"de\""));
    harness_free(&again);
    harness_free(&run);
    run = harness_run("find - --lever barred --side black", french);
    assert_string_equal(run.out, "# 0 moments in 0 of 1 game\n");
    harness_free(&run);
}

static void a_moment_is_a_game_from_there_on(void **state)
{
    (void)state;
    HarnessRun run = harness_run("find - --lever barred --pgn", french);
    assert_int_equal(run.status, 0);
    assert_non_null(
        strstr(run.out, "[White \"A \\\"Ace\\\"\"]\n[Black \"B\"]\n[Result \"1-0\"]\n[SetUp \"1\"]\n"));
    assert_non_null(strstr(run.out, "{After 6...f5: for White the direction misleads on the d- and e-files, "
                                    "lever f5: barred (standard input, game 1)}\n"
                                    "7. O-O Bd7 1-0\n"));
    /* It can be searched again: the rest of the game is there. */
    HarnessRun again = harness_run("find - --lever barred", run.out);
    assert_non_null(strstr(again.out, "after 7.O-O"));
    harness_free(&again);
    harness_free(&run);
}

static void it_stops_when_there_is_enough(void **state)
{
    (void)state;
    HarnessRun run = harness_run("find bench/games/club-match.pgn --chain de --limit 2", "");
    assert_int_equal(run.status, 0);
    assert_non_null(strstr(run.out, "# 2 moments in 2 of "));
    assert_int_equal(strncmp(strchr(strchr(run.out, '\n') + 1, '\n') + 1, "# 2", 3), 0);
    harness_free(&run);
}

static void what_is_bad_is_said(void **state)
{
    (void)state;
    assert_refused("find", "", 2, "there is no input");
    assert_refused("find -", french, 2, "nothing is asked");
    assert_refused("find - --chain fed", french, 2,
                   "--chain is \"fed\"; expected two or more neighbouring files");
    assert_refused("find - --verdict perhaps", french, 2, "--verdict");
    /* Broken games are left out; a file that ends within one is a failure. */
    HarnessRun run =
        harness_run("find - --lever barred", "[White \"x\"]\n\n1. e5 *\n\n[White \"y\"]\n\n1. e4 e6");
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, "standard input:3: game 1, ply 1: \"e5\""));
    assert_non_null(strstr(run.err, "the file ends before the result"));
    harness_free(&run);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(as_many_as_every_position_shows),
        cmocka_unit_test(a_moment_is_a_position),
        cmocka_unit_test(a_moment_is_a_game_from_there_on),
        cmocka_unit_test(it_stops_when_there_is_enough),
        cmocka_unit_test(what_is_bad_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
