/* The tree of legal moves against published leaf counts. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "tests/engine/rules/playout.h"

/* Trees with more leaves are left out. */
#ifdef PAWNVANE_SLOW
enum { LEAVES_MAX = 1000000 };
#else
enum { LEAVES_MAX = 300000000 };
#endif

typedef struct PerftCase {
    const char *name;
    bool chess960;
    const char *fen;
    uint64_t leaves[8]; /* at depth 1, 2, ...; 0 ends them */
} PerftCase;

/* The initial position: OEIS A048987. The next five positions and their counts are common to the trade (no
 * single source). Chess960: from memory of tables that are common to the trade; agreement to the last leaf
 * confirms them. */
static const PerftCase cases[] = {
    {"initial position", false, FEN_START, {20, 400, 8902, 197281, 4865609, 119060324}},
    {"every kind of move",
     false,
     "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq -",
     {48, 2039, 97862, 4085603, 193690690}},
    {"en passant and pins on a rank",
     false,
     "8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - -",
     {14, 191, 2812, 43238, 674624, 11030083}},
    {"promotions while in check",
     false,
     "r3k2r/Pppp1ppp/1b3nbN/nP6/BBP1P3/q4N2/Pp1P2PP/R2Q1RK1 w kq - 0 1",
     {6, 264, 9467, 422333, 15833292}},
    {"promotion with capture, castling lost",
     false,
     "rnbq1k1r/pp1Pbppp/2p5/8/2B5/8/PPP1NnPP/RNBQK2R w KQ - 1 8",
     {44, 1486, 62379, 2103487, 89941194}},
    {"a quiet middlegame",
     false,
     "r4rk1/1pp1qppp/p1np1n2/2b1p1B1/2B1P1b1/P1NP1N2/1PP1QPPP/R4RK1 w - - 0 10",
     {46, 2079, 89890, 3894594, 164075551}},
    {"Chess960, rooks on f and h",
     true,
     "bqnb1rkr/pp3ppp/3ppn2/2p5/5P2/P2P4/NPP1P1PP/BQ1BNRKR w HFhf - 2 9",
     {21, 528, 12189, 326672, 8146062, 227689589}},
    {"Chess960, rooks on e and h",
     true,
     "2nnrbkr/p1qppppp/8/1ppb4/6PP/3PP3/PPP2P2/BQNNRBKR w HEhe - 1 9",
     {21, 807, 18002, 667366, 16253601}},
    {"Chess960, one side has lost its rights",
     true,
     "b1q1rrkb/pppppppp/3nn3/8/P7/1PPP4/4PPPP/BQNNRKRB w GE - 1 9",
     {20, 479, 10471, 273318, 6417013}},
    {"Chess960, one king has moved",
     true,
     "qbbnnrkr/2pp2pp/p7/1p2pp2/8/P3PP2/1PPP1KPP/QBBNNR1R w hf - 0 9",
     {22, 593, 13440, 382958, 9183776}},
};

enum { CASES = sizeof cases / sizeof *cases };

static void leaf_counts_agree(void **state)
{
    const PerftCase *c = *state;
    Position position;
    assert_int_equal(fen_parse(c->fen, c->chess960, &position, NULL), FEN_OK);
    assert_int_equal(perft(&position, 0), 1);
    for (int i = 0; c->leaves[i] && c->leaves[i] <= LEAVES_MAX; i++)
        assert_int_equal(perft(&position, i + 1), c->leaves[i]);
}

/* Colours changed round, the tree is the same: what White may do, Black may. */
static void leaf_counts_of_the_other_side_agree(void **state)
{
    const PerftCase *c = *state;
    Position position, mirrored;
    assert_int_equal(fen_parse(c->fen, c->chess960, &position, NULL), FEN_OK);
    mirrored = playout_mirror(&position);
    for (int i = 0; c->leaves[i] && c->leaves[i] <= LEAVES_MAX / 10; i++)
        assert_int_equal(perft(&mirrored, i + 1), c->leaves[i]);
}

int main(void)
{
    struct CMUnitTest tests[2 * CASES];
    for (int i = 0; i < CASES; i++) {
        void *state = (void *)(uintptr_t)&cases[i];
        tests[2 * i] = (struct CMUnitTest){cases[i].name, leaf_counts_agree, NULL, NULL, state};
        tests[2 * i + 1] =
            (struct CMUnitTest){"  colours changed", leaf_counts_of_the_other_side_agree, NULL, NULL, state};
    }
    return cmocka_run_group_tests(tests, NULL, NULL);
}
