/* What scores mean: mates, and what is none. The protocol text of April 2006 counts mates in "moves, not
 * plies"; "if the engine is getting mated use negative values". */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/evaluation/score.h"

static void mates_are_counted_in_moves(void **state)
{
    (void)state;
    /* Plies to the mate: the mover's last move is an odd one, its opponent's an even one. */
    assert_int_equal(score_mate_moves(SCORE_MATE - 1), 1);
    assert_int_equal(score_mate_moves(SCORE_MATE - 2), 1);
    assert_int_equal(score_mate_moves(SCORE_MATE - 3), 2);
    assert_int_equal(score_mate_moves(score_mated_at(2)), -1);
    assert_int_equal(score_mate_moves(score_mated_at(4)), -2);
    assert_int_equal(score_mate_moves(score_mated_at(0)), 0);
}

static void mates_are_told_from_other_scores(void **state)
{
    (void)state;
    for (int ply = 0; ply <= 2 * MAX_PLY; ply++) {
        int mated = score_mated_at(ply);
        assert_true(score_is_loss(mated) && !score_is_win(mated) && score_is_mate(mated));
        assert_true(score_is_win(-mated) && !score_is_loss(-mated) && score_is_mate(-mated));
    }
    int most = -score_mated_at(2 * MAX_PLY) - 1;
    for (int score = -most; score <= most; score++)
        assert_false(score_is_win(score) || score_is_loss(score) || score_is_mate(score));
}

static void what_is_no_mate_is_never_taken_for_one(void **state)
{
    (void)state;
    for (int score = -SCORE_INFINITE; score <= SCORE_INFINITE; score++) {
        int kept = score_without_mate(score);
        assert_false(score_is_mate(kept));
        assert_true(score_is_mate(score) ? (kept > 0) == (score > 0) : kept == score);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mates_are_counted_in_moves),
        cmocka_unit_test(mates_are_told_from_other_scores),
        cmocka_unit_test(what_is_no_mate_is_never_taken_for_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
