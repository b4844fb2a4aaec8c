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

static void moves_to_mate_have_a_score(void **state)
{
    (void)state;
    for (int moves = -MAX_PLY + 1; moves < MAX_PLY; moves++)
        assert_int_equal(score_mate_moves(score_of_mate(moves)), moves);
    assert_int_equal(score_of_mate(1), SCORE_MATE - 1);
    assert_int_equal(score_of_mate(-1), score_mated_at(2));
}

static void scores_are_written_in_pawns(void **state)
{
    (void)state;
    static const struct {
        int score;
        const char *text;
    } cases[] = {{0, "+0.00"},
                 {35, "+0.35"},
                 {-35, "-0.35"},
                 {-5, "-0.05"},
                 {100, "+1.00"},
                 {-1234, "-12.34"},
                 {SCORE_MATE - 1, "mate in 1"},
                 {SCORE_MATE - 3, "mate in 2"},
                 {-SCORE_MATE + 2, "mated in 1"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[SCORE_TEXT_SIZE];
        score_write_pawns(cases[i].score, text);
        assert_string_equal(text, cases[i].text);
    }
}

static void scores_are_written_in_centipawns(void **state)
{
    (void)state;
    char text[SCORE_TEXT_SIZE];
    static const struct {
        int score;
        const char *text;
    } cases[] = {{0, "+0"}, {-35, "-35"}, {SCORE_MATE - 3, "mate 2"}, {-SCORE_MATE + 4, "mate -2"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        score_write_centipawns(cases[i].score, text);
        assert_string_equal(text, cases[i].text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mates_are_counted_in_moves),
        cmocka_unit_test(mates_are_told_from_other_scores),
        cmocka_unit_test(what_is_no_mate_is_never_taken_for_one),
        cmocka_unit_test(moves_to_mate_have_a_score),
        cmocka_unit_test(scores_are_written_in_pawns),
        cmocka_unit_test(scores_are_written_in_centipawns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
