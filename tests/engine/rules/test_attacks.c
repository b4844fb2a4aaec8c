/* The attack tables against a walk over the board, square by square. Which of the two slider look-ups is
 * tested depends on the build; both must pass. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "bench/base/random.h"
#include "engine/rules/attacks.h"

enum { OCCUPANCIES = 2000 };

static bool on_board(int file, int rank)
{
    return file >= 0 && file < 8 && rank >= 0 && rank < 8;
}

/* FIDE Laws of Chess, articles 3.2 to 3.5: along the line, up to and including the first man. */
static Bitboard walk_until_blocked(Square from, int file_step, int rank_step, Bitboard occupied)
{
    Bitboard seen = 0;
    int file = file_of(from) + file_step, rank = rank_of(from) + rank_step;
    for (; on_board(file, rank); file += file_step, rank += rank_step) {
        seen |= bit(square_at(file, rank));
        if (occupied & bit(square_at(file, rank)))
            break;
    }
    return seen;
}

static Bitboard walk_rook(Square from, Bitboard occupied)
{
    return walk_until_blocked(from, 1, 0, occupied) | walk_until_blocked(from, -1, 0, occupied) |
           walk_until_blocked(from, 0, 1, occupied) | walk_until_blocked(from, 0, -1, occupied);
}

static Bitboard walk_bishop(Square from, Bitboard occupied)
{
    return walk_until_blocked(from, 1, 1, occupied) | walk_until_blocked(from, -1, 1, occupied) |
           walk_until_blocked(from, 1, -1, occupied) | walk_until_blocked(from, -1, -1, occupied);
}

static void sliders_see_to_the_first_man(void **state)
{
    (void)state;
    Random random = random_seeded(1);
    for (int i = 0; i < OCCUPANCIES; i++) {
        /* From crowded boards to nearly empty ones. */
        Bitboard occupied = random_next(&random);
        for (int thin = i % 4; thin > 0; thin--)
            occupied &= random_next(&random);
        for (Square s = A1; s <= H8; s++) {
            assert_int_equal(rook_attacks(s, occupied), walk_rook(s, occupied));
            assert_int_equal(bishop_attacks(s, occupied), walk_bishop(s, occupied));
            assert_int_equal(queen_attacks(s, occupied), walk_rook(s, occupied) | walk_bishop(s, occupied));
        }
    }
}

static void leapers_leap(void **state)
{
    (void)state;
    for (Square a = A1; a <= H8; a++) {
        Bitboard knight = 0, king = 0, pawn[SIDE_COUNT] = {0, 0};
        for (Square b = A1; b <= H8; b++) {
            int files = abs(file_of(a) - file_of(b)), ranks = rank_of(b) - rank_of(a);
            if (files * abs(ranks) == 2)
                knight |= bit(b);
            if (a != b && files <= 1 && abs(ranks) <= 1)
                king |= bit(b);
            if (files == 1 && ranks == 1)
                pawn[WHITE] |= bit(b);
            if (files == 1 && ranks == -1)
                pawn[BLACK] |= bit(b);
        }
        assert_int_equal(knight_attacks(a), knight);
        assert_int_equal(king_attacks(a), king);
        assert_int_equal(pawn_attacks_from(WHITE, a), pawn[WHITE]);
        assert_int_equal(pawn_attacks_from(BLACK, a), pawn[BLACK]);
    }
}

static void lines_join_two_squares(void **state)
{
    (void)state;
    for (Square a = A1; a <= H8; a++) {
        for (Square b = A1; b <= H8; b++) {
            Bitboard line = 0, inside = 0;
            int files = file_of(b) - file_of(a), ranks = rank_of(b) - rank_of(a);
            if (a != b && (files == 0 || ranks == 0 || abs(files) == abs(ranks))) {
                int file_step = (files > 0) - (files < 0), rank_step = (ranks > 0) - (ranks < 0);
                line = bit(a) | walk_until_blocked(a, file_step, rank_step, 0) |
                       walk_until_blocked(a, -file_step, -rank_step, 0);
                inside = walk_until_blocked(a, file_step, rank_step, bit(b)) & ~bit(b);
            }
            assert_int_equal(line_through(a, b), line);
            assert_int_equal(between(a, b), inside);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sliders_see_to_the_first_man),
        cmocka_unit_test(leapers_leap),
        cmocka_unit_test(lines_join_two_squares),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
