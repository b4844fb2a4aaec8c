/* Endgame knowledge: what is hard to win or cannot be won, and where a bare king is driven. Common practice,
 * no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/evaluation/endgame.h"
#include "tests/engine/rules/playout.h"

/* White's, out of CHANCES_FULL. */
static int chances(const char *fen)
{
    Position p = playout_read(fen, false);
    return endgame_chances(&p, &default_weights.units, WHITE);
}

/* What is left of an advantage of White. */
static int score(const char *fen, int score)
{
    Position p = playout_read(fen, false);
    return endgame_score(&p, score);
}

static bool drawn(const char *fen)
{
    Position p = playout_read(fen, false);
    return endgame_is_drawn(&p);
}

static int drive(const char *fen)
{
    Position p = playout_read(fen, false);
    return endgame_drive(&p, WHITE);
}

/* Common practice, no source, as the next two. */
static void what_cannot_be_won_has_no_chances(void **state)
{
    (void)state;
    assert_int_equal(score("4k3/8/8/8/8/8/8/3NKN2 w - - 0 1", 640), 0);
    assert_int_equal(score("4k3/8/8/8/8/8/8/3NKB2 w - - 0 1", 640), 640);
    assert_in_range(score("8/2k5/8/5r2/8/2N5/8/3RK3 w - - 0 1", 640), 0, 40);
    assert_in_range(score("8/2k1b3/8/8/8/8/8/3RK3 w - - 0 1", 640), 0, 40);
    assert_int_equal(score("8/2k1b3/8/8/8/8/7P/3RK3 w - - 0 1", 640), 640);
    assert_int_equal(score("8/2k1b3/8/8/8/8/8/3RK3 w - - 0 1", -640), 0);
}

/* The bishop on g1 does not rule a8, that on f1 does; and the king must be at the corner. */
static void the_wrong_bishop_cannot_win(void **state)
{
    (void)state;
    assert_in_range(score("k7/8/8/8/8/8/P7/4K1B1 w - - 0 1", 640), 0, 40);
    assert_int_equal(score("k7/8/8/8/8/8/P7/4KB2 w - - 0 1", 640), 640);
    assert_int_equal(score("4k3/8/8/8/8/8/P7/4K1B1 w - - 0 1", 640), 640);
    assert_true(drawn("7k/8/8/8/8/8/7P/4KB2 w - - 0 1"));
    assert_true(drawn("8/6k1/8/5K1P/7P/3B4/8/8 w - - 0 1"));
    assert_true(drawn("4kb2/7p/8/8/8/8/6K1/8 b - - 0 1"));
    assert_false(drawn("4k1b1/7p/8/8/8/8/6K1/8 b - - 0 1"));
    assert_false(drawn("7k/8/8/8/8/8/7P/4K1B1 w - - 0 1"));
    assert_false(drawn("7k/p7/8/8/8/8/7P/4KB2 w - - 0 1"));
    assert_false(drawn("7k/8/8/8/8/8/6PP/4KB2 w - - 0 1"));
}

/* The rook on its third rank, guarded from the second, with the king beside the pawn. */
static void rook_and_pawn_hold_out_against_a_queen(void **state)
{
    (void)state;
    assert_int_equal(score("8/1p1k4/r7/8/3K4/8/4Q3/8 w - - 0 1", 640), 640);
    assert_in_range(score("8/1pk5/r7/8/3K4/8/4Q3/8 w - - 0 1", 640), 0, 40);
    assert_int_equal(score("8/1pk5/8/r7/3K4/8/4Q3/8 w - - 0 1", 640), 640);
    assert_int_equal(score("4K3/1pk5/r7/8/8/8/4Q3/8 w - - 0 1", 640), 640);
}

/* Common practice, no source: the same advantage is harder to win with in the second. */
static void some_advantages_are_hard_to_win_with(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {
        /* pawns on one wing only */
        {"4k3/6p1/8/8/8/8/P5P1/4K3 w - - 0 1", "4k3/6p1/8/8/8/8/6PP/4K3 w - - 0 1"},
        /* bishops of opposite colours */
        {"4kb2/5ppp/8/8/8/8/P4PPP/2B1K3 w - - 0 1", "2b1k3/5ppp/8/8/8/8/P4PPP/2B1K3 w - - 0 1"},
        /* fewer pawns */
        {"4k3/7p/8/8/8/8/P6P/4K3 w - - 0 1", "4k3/8/8/8/8/8/P7/4K3 w - - 0 1"},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        if (chances(pairs[i][0]) <= chances(pairs[i][1]))
            fail_msg("%s is thought as hard to win as %s", pairs[i][0], pairs[i][1]);
    }
}

/* To the edge by a rook; by bishop and knight to a corner of the bishop's colour: a1 is dark, a8 is light. */
static void a_bare_king_is_driven_to_where_it_is_mated(void **state)
{
    (void)state;
    assert_true(drive("k7/8/8/3K4/8/8/8/7R w - - 0 1") > drive("8/8/8/3K4/1k6/8/8/7R w - - 0 1"));
    assert_true(drive("k7/8/1K6/8/8/8/8/7R w - - 0 1") > drive("k7/8/8/3K4/8/8/8/7R w - - 0 1"));
    assert_true(drive("k7/8/1K6/8/8/8/8/5BN1 w - - 0 1") > drive("8/8/8/8/8/1K6/8/k4BN1 w - - 0 1"));
    assert_true(drive("8/8/8/8/8/1K6/8/k5BN w - - 0 1") > drive("k7/8/1K6/8/8/8/8/6BN w - - 0 1"));
    assert_int_equal(drive("k7/7p/1K6/8/8/8/8/7R w - - 0 1"), 0);
    assert_int_equal(drive("k7/8/1K6/8/8/8/8/6NN w - - 0 1"), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_cannot_be_won_has_no_chances),
        cmocka_unit_test(the_wrong_bishop_cannot_win),
        cmocka_unit_test(rook_and_pawn_hold_out_against_a_queen),
        cmocka_unit_test(some_advantages_are_hard_to_win_with),
        cmocka_unit_test(a_bare_king_is_driven_to_where_it_is_mated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
