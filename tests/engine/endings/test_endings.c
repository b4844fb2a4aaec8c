/* The exact tables of small endings: the solver against what was published, the tables against the rules. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/endings/ending_tables.h"
#include "engine/endings/retrograde.h"
#include "engine/rules/attacks.h"
#include "tests/engine/rules/playout.h"

/* For White. */
static int value_of(const Position *p)
{
    KnownEnding known;
    assert_true(ending_known(p, &known));
    return known.side == WHITE ? known.value : -known.value;
}

static int value(const char *fen)
{
    Position p = playout_read(fen, false);
    return value_of(&p);
}

/* The longest ways to mate: queen 10 moves, rook 16, pawn 28 (K. Thompson, "Retrograde Analysis of Certain Endgames",
 * ICCA Journal 9(3), 1986, and T. Ströhlein's thesis, 1970; from memory). Plies: the last to move is the winner. */
static void the_longest_mates_are_the_published_ones(void **state)
{
    (void)state;
    static const struct {
        Man man;
        int moves;
    } published[] = {{{WHITE, QUEEN}, 10}, {{WHITE, ROOK}, 16}, {{WHITE, PAWN}, 28}};
    Ending endings[3] = {{.count = 0}};
    for (int i = 0; i < 3; i++) {
        assert_true(ending_solve(&endings[i], &published[i].man, 1, endings, i));
        int longest = 0;
        for (size_t at = 0; at < endings[i].positions; at++)
            if (endings[i].fates[at] != FATE_ILLEGAL && endings[i].fates[at] % 2 == 0 &&
                endings[i].fates[at] > longest)
                longest = endings[i].fates[at];
        assert_int_equal(longest / 2, published[i].moves);
    }
    for (int i = 0; i < 3; i++)
        free(endings[i].fates);
}

/* The attack by queen against rook lasts 35 moves at most (Thompson 1986, from memory). */
static void queen_against_rook_lasts_35_moves(void **state)
{
    (void)state;
    Position p;
    int longest = 0;
    for (Square king = A1; king <= H8; king++)
        for (Square other = A1; other <= H8; other++)
            for (Square queen = A1; queen <= H8; queen++)
                for (Square rook = A1; rook <= H8; rook++) {
                    if (count_squares(bit(king) | bit(other) | bit(queen) | bit(rook)) < 4 ||
                        king_distance(king, other) < 2 || file_of(king) > FILE_D || rank_of(king) > RANK_1)
                        continue;
                    position_clear(&p);
                    position_put(&p, WHITE, KING, king);
                    position_put(&p, BLACK, KING, other);
                    position_put(&p, WHITE, QUEEN, queen);
                    position_put(&p, BLACK, ROOK, rook);
                    KnownEnding known;
                    assert_true(ending_known(&p, &known));
                    longest = known.mate_plies > longest ? known.mate_plies : longest;
                }
    assert_int_equal(longest, 2 * 35 - 1);
}

static void textbook_positions_have_their_values(void **state)
{
    (void)state;
    /* Common practice, no source: with the king on the sixth rank before its pawn White wins, whoever moves; behind
     * it who has the opposition has his way; a rook's pawn does not get past the king in its corner. */
    assert_int_equal(value("4k3/8/4K3/4P3/8/8/8/8 w - - 0 1"), 1);
    assert_int_equal(value("4k3/8/4K3/4P3/8/8/8/8 b - - 0 1"), 1);
    assert_int_equal(value("4k3/4P3/4K3/8/8/8/8/8 b - - 0 1"), 0);
    assert_int_equal(value("3k4/8/3KP3/8/8/8/8/8 b - - 0 1"), 1);
    assert_int_equal(value("3k4/8/3KP3/8/8/8/8/8 w - - 0 1"), 0);
    assert_int_equal(value("k7/8/K7/P7/8/8/8/8 w - - 0 1"), 0);
    assert_int_equal(value("8/8/8/8/p7/k7/8/K7 b - - 0 1"), 0);
    assert_int_equal(value("8/8/8/8/4p3/4k3/8/4K3 w - - 0 1"), -1);
    /* F. Saavedra, 1895: White wins, by promotion to a rook. */
    assert_int_equal(value("8/8/1KP5/3r4/8/8/8/k7 w - - 0 1"), 1);
    /* A. D. Philidor, 1777 (from memory): the queen wins, with either side to move. */
    assert_int_equal(value("1k6/1r6/2K5/Q7/8/8/8/8 w - - 0 1"), 1);
    assert_int_equal(value("1k6/1r6/2K5/Q7/8/8/8/8 b - - 0 1"), 1);
}

/* ------------------------------------------------------------------------------------- against the rules */

enum { UNKNOWN = 2 };

/* For White, after a move: by the table, or where a capture has left a man and the kings; else UNKNOWN. */
static int value_behind(const Position *p)
{
    KnownEnding known;
    if (ending_known(p, &known))
        return known.value == 0 && p->by_role[QUEEN] ? UNKNOWN
               : known.side == WHITE                 ? known.value
                                                     : -known.value;
    if (position_material_is_dead(p))
        return 0;
    Bitboard heavy = p->by_role[ROOK] | p->by_role[QUEEN];
    if (count_squares(position_occupied(p)) != 3 || !heavy)
        return UNKNOWN;
    Side side = (heavy & p->by_side[WHITE]) ? WHITE : BLACK;
    MoveList list;
    movegen_all(p, &list);
    if (list.count == 0 && !position_in_check(p))
        return 0;
    for (int i = 0; i < list.count; i++)
        if (position_captured(p, list.moves[i]) != NO_ROLE)
            return 0;
    return side == WHITE ? 1 : -1;
}

/* A side has its best move. False if that cannot be told, because something behind a move is not known. */
static bool best_of_moves(const Position *p, int *best)
{
    MoveList list;
    movegen_all(p, &list);
    int sign = position_turn(p) == WHITE ? 1 : -1;
    bool unknown = false;
    *best = list.count == 0 && !position_in_check(p) ? 0 : -1;
    for (int i = 0; i < list.count; i++) {
        Position next = *p;
        position_play(&next, list.moves[i]);
        int behind = value_behind(&next);
        unknown = unknown || behind == UNKNOWN;
        if (behind != UNKNOWN && sign * behind > *best)
            *best = sign * behind;
    }
    *best *= sign;
    return !unknown || *best == sign;
}

/* What stands in the table is what the best move leads to. */
static void tables_agree_with_a_ply_of_play(void **state)
{
    (void)state;
    enum { TRIES = 60000, LEAST = 5000 };
    static const Role endings[][2] = {{PAWN, NO_ROLE}, {ROOK, PAWN}, {QUEEN, ROOK}};
    Random random = random_for_job(20, 3);
    for (size_t e = 0; e < 3; e++) {
        int compared = 0, won = 0;
        for (int i = 0; i < TRIES; i++) {
            Position p;
            Square squares[4];
            Bitboard taken = 0;
            Side side = (Side)random_below(&random, 2);
            for (int k = 0; k < 4; k++) {
                squares[k] = (Square)random_below(&random, 64);
                taken |= bit(squares[k]);
            }
            Square pawn = endings[e][0] == PAWN ? squares[2] : squares[3];
            if (count_squares(taken) < 4 || king_distance(squares[0], squares[1]) < 2 ||
                (e < 2 && ((RANK_1_BB | RANK_8_BB) & bit(pawn))))
                continue;
            position_clear(&p);
            position_put(&p, side, KING, squares[0]);
            position_put(&p, opposite(side), KING, squares[1]);
            position_put(&p, side, endings[e][0], squares[2]);
            if (endings[e][1] != NO_ROLE)
                position_put(&p, opposite(side), endings[e][1], squares[3]);
            p.side_to_move = (uint8_t)random_below(&random, 2);
            position_refresh(&p);
            Position other = p;
            other.side_to_move ^= 1;
            int best;
            if (position_in_check(&other) || !best_of_moves(&p, &best))
                continue;
            int told = value_of(&p);
            /* Of queen against rook only is kept whether the queen wins. */
            if (endings[e][0] == QUEEN && (side == WHITE ? best : -best) < 0)
                best = 0;
            if (told != best) {
                char fen[FEN_SIZE];
                fen_write(&p, fen);
                fail_msg("%s: the table says %d, the moves %d", fen, told, best);
            }
            compared++;
            won += told != 0;
        }
        print_message("%d positions compared, %d won\n", compared, won);
        assert_true(compared >= LEAST);
        assert_true(won > LEAST / 4 && compared - won > LEAST / 20);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_longest_mates_are_the_published_ones),
        cmocka_unit_test(queen_against_rook_lasts_35_moves),
        cmocka_unit_test(textbook_positions_have_their_values),
        cmocka_unit_test(tables_agree_with_a_ply_of_play),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
