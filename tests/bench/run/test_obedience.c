/* Named levers: what the plan names where a game starts, when it is played, and what is counted of it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "bench/run/obedience.h"
#include "tests/bench/run/run_in.h"
#include "tests/engine/rules/playout.h"

#include <math.h>

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

/* -------------------------------------------------------------------------------------------- what is named */

static void the_plan_names_a_lever(void **state)
{
    static const struct {
        const char *fen;
        NamedKind white, black;
        Square white_square, black_square;
    } cases[] = {
        /* the French Advance: f5 and c5 */
        {"4k3/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/4K3 b - - 0 1", NAMED_APPLIES, NAMED_APPLIES, F5, C5},
        /* c5 has been played: nothing more is asked for */
        {"4k3/pp3ppp/4p3/2ppP3/3P4/8/PPP2PPP/4K3 w - - 0 1", NAMED_APPLIES, NAMED_NOTHING, F5, NO_SQUARE},
        /* White's is barred, Black's pawn is gone and White has one there */
        {"4k3/pp4pp/4p3/3pPp2/3P4/8/PPP2PPP/4K3 w - - 0 1", NAMED_MISLEADING, NAMED_MISLEADING, F5, C5},
        /* c-files without pawns: Black's has done its work */
        {"4k3/pp3ppp/4p3/3pP3/3P4/8/PP3PPP/4K3 w - - 0 1", NAMED_APPLIES, NAMED_NOTHING, F5, NO_SQUARE},
        /* b and c: doubtful */
        {"4k3/p2p1ppp/2p5/1pP5/1P6/8/P2P1PPP/4K3 w - - 0 1", NAMED_WEAK, NAMED_WEAK, D5, A5},
        /* no chain */
        {"4k3/pppppppp/8/8/8/8/PPPPPPPP/4K3 w - - 0 1", NAMED_NOTHING, NAMED_NOTHING, NO_SQUARE, NO_SQUARE},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position p = playout_read(cases[i].fen, false);
        NamedLever levers[2];
        named_levers(&p, levers);
        assert_int_equal(levers[WHITE].kind, cases[i].white);
        assert_int_equal(levers[BLACK].kind, cases[i].black);
        assert_int_equal(levers[WHITE].square, cases[i].white_square);
        assert_int_equal(levers[BLACK].square, cases[i].black_square);
    }
}

/* ------------------------------------------------------------------------------------------ when it is played */

static void a_push_plays_it_and_nothing_else(void **state)
{
    (void)state;
    Position p = playout_read("4k3/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/R3K2R w KQ - 0 1", false);
    const Move push[] = {move_make(F2, F4, PLAIN), move_make(A7, A6, PLAIN), move_make(F4, F5, PLAIN)};
    const Move capture[] = {move_make(G2, G4, PLAIN), move_make(F7, F5, PLAIN), move_make(G4, F5, PLAIN)};
    const Move piece[] = {move_make(H1, F1, PLAIN), move_make(A7, A6, PLAIN), move_make(F1, F2, PLAIN)};
    const Move other[] = {move_make(A2, A4, PLAIN), move_make(C7, C5, PLAIN)};
    assert_int_equal(named_lever_ply(&p, WHITE, F5, push, 3), 3);
    assert_int_equal(named_lever_ply(&p, WHITE, F5, push, 2), 0);
    assert_int_equal(named_lever_ply(&p, WHITE, F4, push, 3), 1);
    assert_int_equal(named_lever_ply(&p, WHITE, F5, capture, 3), 0);
    assert_int_equal(named_lever_ply(&p, BLACK, F5, capture, 3), 2);
    assert_int_equal(named_lever_ply(&p, WHITE, F1, piece, 3), 0);
    assert_int_equal(named_lever_ply(&p, BLACK, C5, other, 2), 2);
    assert_int_equal(named_lever_ply(&p, WHITE, C5, other, 2), 0);
}

/* The same, with every move played. */
static int replayed(Position p, Side side, Square square, const Move *moves, int plies)
{
    for (int ply = 1; ply <= plies; ply++) {
        Move move = moves[ply - 1];
        if (position_turn(&p) == side && position_role(&p, move_from(move)) == PAWN &&
            position_role(&p, move_to(move)) == NO_ROLE && move_kind(move) == PLAIN &&
            move_to(move) == square && file_of(move_from(move)) == file_of(square))
            return ply;
        position_play(&p, move);
    }
    return 0;
}

static void agrees_with_a_replay(void **state)
{
    enum { GAMES = 200, PLIES = 120 };
    Random random = random_seeded(5);
    int found = 0;
    (void)state;
    for (int game = 0; game < GAMES; game++) {
        Position start = playout_read("rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 3", false);
        Position p = start;
        Move moves[PLIES];
        int plies = 0;
        for (; plies < PLIES; plies++) {
            MoveList list;
            movegen_all(&p, &list);
            if (list.count == 0)
                break;
            moves[plies] = list.moves[random_below(&random, (uint64_t)list.count)];
            position_play(&p, moves[plies]);
        }
        for (Side side = WHITE; side <= BLACK; side++)
            for (Square square = A3; square <= H6; square++) {
                int ply = named_lever_ply(&start, side, square, moves, plies);
                assert_int_equal(ply, replayed(start, side, square, moves, plies));
                found += ply > 0;
            }
    }
    assert_true(found > 10 * GAMES);
}

/* White's f5 is barred by Black's pawn, and so misleading. When it has taken on g4, the plan names f5; when the lock has gone
 * before, no plan does. */
static void a_freed_lever_is_asked_for(void **state)
{
    (void)state;
    Position p = playout_read("4k3/ppp3pp/4p3/3pPp2/3P2P1/8/PPP2P1P/4K3 b - - 0 1", false);
    const Move freed[] = {move_make(F5, G4, PLAIN), move_make(F2, F4, PLAIN), move_make(A7, A6, PLAIN),
                          move_make(F4, F5, PLAIN)};
    const Move unlocked[] = {move_make(C7, C5, PLAIN), move_make(A2, A3, PLAIN), move_make(C5, D4, PLAIN),
                             move_make(A3, A4, PLAIN), move_make(F5, G4, PLAIN), move_make(F2, F4, PLAIN),
                             move_make(A7, A6, PLAIN), move_make(F4, F5, PLAIN)};
    NamedLever levers[2];
    named_levers(&p, levers);
    assert_int_equal(levers[WHITE].kind, NAMED_MISLEADING);
    assert_int_equal(levers[WHITE].square, F5);
    assert_int_equal(named_lever_ply(&p, WHITE, F5, freed, 4), 4);
    assert_true(named_lever_was_asked(&p, WHITE, F5, freed, 4));
    assert_int_equal(named_lever_ply(&p, WHITE, F5, unlocked, 8), 8);
    assert_false(named_lever_was_asked(&p, WHITE, F5, unlocked, 8));
}

/* --------------------------------------------------------------------------------------------- what is counted */

static StoredNamed named(NamedKind kind, int a, int b)
{
    return (StoredNamed){.kind = (uint8_t)kind, .plies = {(int16_t)a, (int16_t)b}};
}

/* Four pairs by hand. Of six live sides A played 4 (at 7, 9, 11 and 21), B 2. Differences by pair: +1 of 2, +2 of 2, 0 of 1,
 * -1 of 1: mean 2/6. Residuals d - m * mean: 1/3, 4/3, -1/3, -4/3, squares 34/9; error sqrt(4/3 * 34/9) / 6. */
static void counted_by_hand(void **state)
{
    (void)state;
    StoredPair pairs[] = {
        {.pair = 0, .stratum = 0, .named = {named(NAMED_APPLIES, 7, 0), named(NAMED_APPLIES, 0, 0)}},
        {.pair = 1, .stratum = 0, .named = {named(NAMED_APPLIES, 9, 0), named(NAMED_WEAK, 21, 0)}},
        {.pair = 2, .stratum = 1, .named = {named(NAMED_APPLIES, 11, 3), named(NAMED_NOTHING, 0, 0)}},
        {.pair = 3, .stratum = 1, .named = {named(NAMED_MISLEADING, 50, 0), named(NAMED_WEAK, 0, 8)}},
    };
    StoredRun run = {.stratum_count = 2, .strata = {"one", "two"}, .match_count = 1};
    StoredMatch match = {.count = 4, .pairs = pairs};
    Obedience o;
    assert_true(obedience_of(&run, &match, &o));
    assert_int_equal(o.live.sides, 6);
    assert_int_equal(o.live.played[0], 4);
    assert_int_equal(o.live.played[1], 2);
    assert_near(o.live.plies[0], 10, 0);
    assert_near(o.live.plies[1], 5.5, 0);
    assert_near(o.live.difference.mean, 2.0 / 6, 1e-12);
    assert_near(o.live.difference.error, sqrt(4.0 / 3 * 34 / 9) / 6, 1e-12);
    assert_near(o.live.ratio.ratio, 2, 1e-12);
    assert_int_equal(o.kinds[NAMED_APPLIES].sides, 4);
    assert_int_equal(o.kinds[NAMED_WEAK].sides, 2);
    assert_int_equal(o.kinds[NAMED_MISLEADING].sides, 1);
    assert_int_equal(o.kinds[NAMED_MISLEADING].played[0], 1);
    assert_true(isnan(o.kinds[NAMED_MISLEADING].ratio.ratio));
    assert_true(isnan(o.kinds[NAMED_MISLEADING].plies[1]));
    assert_int_equal(o.kinds[OBEDIENCE_UNASKED].sides, 1);
    assert_int_equal(o.kinds[OBEDIENCE_UNASKED].played[0], 1);
    pairs[3].named[WHITE].asked[0] = true;
    assert_true(obedience_of(&run, &match, &o));
    assert_int_equal(o.kinds[OBEDIENCE_MISLEADING].played[0], 1);
    assert_int_equal(o.kinds[OBEDIENCE_UNASKED].played[0], 0);
    assert_int_equal(o.stratum_count, 2);
    assert_int_equal(o.strata[0].sides, 4);
    assert_int_equal(o.strata[1].sides, 2);
    assert_int_equal(o.strata[1].played[1], 2);
    match.count = 0;
    assert_true(obedience_of(&run, &match, &o));
    assert_int_equal(o.live.sides, 0);
}

/* ------------------------------------------------------------------------------------------------- a whole run */

typedef struct Recount {
    int sides[2], played[2];            /* by arm; of live levers */
    int misleading, pushed, unasked[2]; /* of misleading plans */
} Recount;

static bool recount_game(void *context, const StoredGame *game)
{
    Recount *recount = context;
    Position start = playout_read(game->fen, false);
    Move moves[GAME_PLIES_MAX];
    NamedLever levers[2];
    for (int i = 0; i < game->plies; i++)
        moves[i] = stored_move(game, i);
    named_levers(&start, levers);
    for (Side side = WHITE; side <= BLACK; side++) {
        int arm = (side == WHITE) == (game->key.half == 0) ? 0 : 1;
        if (levers[side].kind == NAMED_MISLEADING) {
            int ply = replayed(start, side, levers[side].square, moves, game->plies);
            recount->misleading += arm == 0;
            recount->pushed += ply > 0;
            recount->unasked[arm] +=
                ply > 0 && !named_lever_was_asked(&start, side, levers[side].square, moves, ply);
        }
        if (!named_is_live(levers[side].kind))
            continue;
        recount->sides[arm]++;
        recount->played[arm] += replayed(start, side, levers[side].square, moves, game->plies) > 0;
    }
    return true;
}

/* What a run prints, as JSON and for people, is what its games say, played again move by move. */
static void a_run_is_counted_from_its_games(void **state)
{
    RunFiles *files = *state;
    HarnessRun run =
        run_in(files, "duel --openings bench/openings/strata.epd --pairs 60 --nodes 60 --weight 400:0"
                      " --workers 2 --quiet --json --store @/run.db");
    assert_int_equal(run.status, 0);
    Database database;
    Recount recount = {.sides = {0, 0}};
    assert_true(stored_run_open(&database, run_path(files, "run.db")));
    assert_true(stored_games_each(&database, recount_game, &recount));
    database_close(&database);
    assert_true(recount.sides[0] > 30);
    assert_int_equal(recount.sides[0], recount.sides[1]);
    assert_true(recount.played[0] > 5 && recount.played[1] > 5);
    char expected[128];
    snprintf(expected, sizeof expected, "\"lever\":{\"sides\":%d,\"played\":{\"a\":%d,\"b\":%d}",
             recount.sides[0], recount.played[0], recount.played[1]);
    assert_non_null(strstr(run.out, expected));
    assert_true(recount.unasked[0] + recount.unasked[1] > 0);
    assert_true(recount.pushed > recount.unasked[0] + recount.unasked[1]);
    snprintf(expected, sizeof expected, "\"unasked\":{\"sides\":%d,\"played\":{\"a\":%d,\"b\":%d}",
             recount.misleading, recount.unasked[0], recount.unasked[1]);
    assert_non_null(strstr(run.out, expected));
    harness_free(&run);
    /* The report of the file says the same. */
    run = run_in(files, "report @/run.db");
    assert_int_equal(run.status, 0);
    const char *table = strstr(run.out, "\nLever played");
    assert_non_null(table);
    int sides = 0, played = 0;
    assert_int_equal(sscanf(strchr(table + 1, '\n'), "\nall %d %d", &sides, &played), 2);
    assert_int_equal(sides, recount.sides[0]);
    assert_int_equal(played, recount.played[0]);
    const char *unasked = strstr(table, "\nunasked");
    assert_non_null(unasked);
    assert_int_equal(sscanf(unasked, "\nunasked %d %d", &sides, &played), 2);
    assert_int_equal(sides, recount.misleading);
    assert_int_equal(played, recount.unasked[0]);
    assert_non_null(strstr(unasked, obedience_unasked_words));
    harness_free(&run);
    run = run_in(files, "report @/run.db --html @/page.html");
    assert_int_equal(run.status, 0);
    harness_free(&run);
    char *page = run_read(run_path(files, "page.html"));
    assert_non_null(strstr(page, "Was the lever played that the plan names"));
    assert_non_null(strstr(page, ">unasked</th>"));
    assert_non_null(strstr(page, obedience_unasked_words));
    free(page);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plan_names_a_lever),
        cmocka_unit_test(a_push_plays_it_and_nothing_else),
        cmocka_unit_test(agrees_with_a_replay),
        cmocka_unit_test(a_freed_lever_is_asked_for),
        cmocka_unit_test(counted_by_hand),
        cmocka_unit_test_setup_teardown(a_run_is_counted_from_its_games, run_files_setup, run_files_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
