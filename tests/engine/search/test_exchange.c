/* The static exchange evaluation against exchanges counted by hand and against a search that plays them
 * out. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/rules/notation.h"
#include "engine/search/exchange.h"
#include "tests/engine/rules/playout.h"

enum { P = 100, N = 320, B = 330, R = 500, Q = 950 };

static void the_values_are_those_of_the_cases(void **state)
{
    (void)state;
    const int values[] = {P, N, B, R, Q};
    for (Role role = PAWN; role <= QUEEN; role++)
        assert_int_equal(exchange_value(role), values[role]);
    assert_true(exchange_value(KING) > 9 * Q);
    assert_int_equal(exchange_value(NO_ROLE), 0);
}

static void exchanges_counted_by_hand(void **state)
{
    static const struct {
        const char *fen, *move;
        int value;
    } cases[] = {
        /* Nothing defends; a pawn defends; a pawn takes a pawn that a pawn defends. */
        {"4k3/8/8/3p4/8/8/8/3RK3 w - - 0 1", "d1d5", P},
        {"4k3/8/4p3/3p4/8/8/8/3RK3 w - - 0 1", "d1d5", P - R},
        {"4k3/8/4p3/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5", 0},
        {"4k3/8/4p3/3n4/4P3/8/8/4K3 w - - 0 1", "e4d5", N - P},
        /* The piece behind takes part. */
        {"3rk3/8/8/3p4/8/8/3R4/3RK3 w - - 0 1", "d2d5", P},
        {"3rk3/3r4/8/3p4/8/8/3R4/3RK3 w - - 0 1", "d2d5", P - R},
        {"3rk3/3r4/8/3p4/8/3R4/3R4/3QK3 w - - 0 1", "d3d5", P},
        /* The least valuable takes first. */
        {"4k3/8/4p3/3p4/4P3/5B2/8/3QK3 w - - 0 1", "e4d5", P},
        {"4k3/2n5/8/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5", 0},
        {"4k3/2n5/8/3p4/4P3/8/8/3QK3 w - - 0 1", "e4d5", P},
        /* Black need not take back where that would lose. */
        {"3qk3/8/8/3r4/4P3/8/8/3QK3 w - - 0 1", "e4d5", R},
        /* The king takes what is undefended, and nothing else. */
        {"8/8/3k4/3p4/8/8/8/3RK3 w - - 0 1", "d1d5", P - R},
        {"8/8/3k4/3p4/8/8/3R4/3RK3 w - - 0 1", "d2d5", P},
        /* A move to a square, without capture. */
        {"4k3/8/4p3/8/8/8/8/3RK3 w - - 0 1", "d1d5", -R},
        {"4k3/8/8/8/8/8/8/3RK3 w - - 0 1", "d1d5", 0},
        /* En passant, promotion, castling. */
        {"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 2", "e5d6", P},
        {"4k3/2p5/8/3pP3/8/8/8/4K3 w - d6 0 2", "e5d6", 0},
        {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7a8q", Q - P},
        {"1r6/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7a8q", -P},
        {"1r6/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7b8q", R + Q - P},
        {"4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "e1g1", 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position p = playout_read(cases[i].fen, false);
        Move move;
        assert_int_equal(lan_parse(&p, cases[i].move, &move), NOTATION_OK);
        if (!exchange_at_least(&p, move, cases[i].value) || exchange_at_least(&p, move, cases[i].value + 1))
            fail_msg("%s in %s is not worth %d", cases[i].move, cases[i].fen, cases[i].value);
    }
}

/* What the side gains by going on, or not, when a man of that value stands on the square. */
static int play_out(const Position *p, Square square, Side side, Bitboard occupied, int at_stake)
{
    Bitboard attackers = position_attackers(p, square, occupied) & occupied;
    Bitboard own = attackers & p->by_side[side];
    for (Role role = PAWN; role <= KING; role++) {
        Bitboard men = own & p->by_role[role];
        if (!men)
            continue;
        if (role == KING && (attackers & p->by_side[opposite(side)]))
            return 0;
        int gain = at_stake - play_out(p, square, opposite(side), occupied ^ bit(first_square(men)),
                                       exchange_value(role));
        return gain > 0 ? gain : 0;
    }
    return 0;
}

static int played_out(const Position *p, Move move)
{
    Square from = move_from(move), to = move_to(move);
    Side us = position_turn(p);
    if (move_is_castling(move))
        return 0;
    Role arriving = move_is_promotion(move) ? move_promotion(move) : position_role(p, from);
    Bitboard occupied = (position_occupied(p) ^ bit(from)) | bit(to);
    if (move_is_en_passant(move))
        occupied ^= bit(to - forward_step(us));
    int gain = exchange_value(position_captured(p, move));
    if (move_is_promotion(move))
        gain += exchange_value(arriving) - exchange_value(PAWN);
    return gain - play_out(p, to, opposite(us), occupied, exchange_value(arriving));
}

typedef struct Tally {
    int moves, gains, losses;
} Tally;

static void check_exchanges(void *context, const Position *p)
{
    Tally *tally = context;
    MoveList list;
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++) {
        int value = played_out(p, list.moves[i]);
        tally->moves++;
        tally->gains += value > 0;
        tally->losses += value < 0;
        for (int threshold = value - 2; threshold <= value + 2; threshold++)
            if (exchange_at_least(p, list.moves[i], threshold) != (value >= threshold)) {
                char fen[FEN_SIZE], text[MOVE_TEXT_SIZE];
                fen_write(p, fen);
                lan_write(p, list.moves[i], text);
                fail_msg("%s in %s is worth %d, threshold %d", text, fen, value, threshold);
            }
        assert_true(exchange_at_least(p, list.moves[i], -3 * exchange_value(KING)));
    }
}

static void exchanges_played_out(void **state)
{
    Tally tally = {0, 0, 0};
    (void)state;
    playout(11, 150, 200, check_exchanges, &tally);
    assert_true(tally.gains > 1000 && tally.losses > 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_values_are_those_of_the_cases),
        cmocka_unit_test(exchanges_counted_by_hand),
        cmocka_unit_test(exchanges_played_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
