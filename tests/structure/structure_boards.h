/* Boards for the tests of structure/: set up from words or FEN, turned round, or generated from a seed. */
#ifndef PAWNVANE_TESTS_STRUCTURE_BOARDS_H
#define PAWNVANE_TESTS_STRUCTURE_BOARDS_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "structure/structure.h"

/* A board and the diagram that it stands on. Not to be copied: the board points to the diagram. */
typedef struct Placed {
    char diagram[65]; /* a8 first */
    ps_board board;
} Placed;

static inline int square_named(const char *name)
{
    return (name[1] - '1') * 8 + name[0] - 'a';
}

static inline char *man_at(Placed *placed, int square)
{
    return &placed->diagram[square ^ 56];
}

static inline void use_diagram(Placed *placed, ps_side to_move)
{
    placed->diagram[64] = '\0';
    assert_true(ps_board_from_diagram(&placed->board, placed->diagram, to_move));
}

static inline void clear_board(Placed *placed)
{
    memset(placed->diagram, '.', 64);
}

/* Men as "Pd4 pd5 Ke1": letter and square, PNBRQK for White and pnbrqk for Black. */
static inline void place(Placed *placed, const char *men, ps_side to_move)
{
    clear_board(placed);
    for (const char *word = men; *word != '\0'; word += word[3] == ' ' ? 4 : 3)
        *man_at(placed, square_named(word + 1)) = *word;
    use_diagram(placed, to_move);
}

/* The first two fields of a FEN. */
static inline void place_fen(Placed *placed, const char *fen)
{
    int i = 0;
    for (; *fen != ' '; fen++) {
        if (*fen >= '1' && *fen <= '8') {
            memset(placed->diagram + i, '.', (size_t)(*fen - '0'));
            i += *fen - '0';
        } else if (*fen != '/') {
            placed->diagram[i++] = *fen;
        }
    }
    assert_int_equal(i, 64);
    use_diagram(placed, fen[1] == 'w' ? PS_WHITE : PS_BLACK);
}

/* White and Black changed round, the side to move too. */
static inline void turn_colours(Placed *out, const Placed *in)
{
    for (int i = 0; i < 64; i++) {
        char man = in->diagram[i ^ 56];
        out->diagram[i] = man == '.' ? '.' : (char)(man ^ 32);
    }
    use_diagram(out, in->board.to_move == PS_WHITE ? PS_BLACK : PS_WHITE);
}

/* The a-file and the h-file changed round, and so on. */
static inline void turn_wings(Placed *out, const Placed *in)
{
    for (int i = 0; i < 64; i++)
        out->diagram[i] = in->diagram[i ^ 7];
    use_diagram(out, in->board.to_move);
}

/* xorshift64*: S. Vigna, "An experimental exploration of Marsaglia's xorshift
 * generators, scrambled", 2016. */
static inline uint64_t next_random(uint64_t *state)
{
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * UINT64_C(0x2545F4914F6CDD1D);
}

static inline int random_below(uint64_t *state, int bound)
{
    return (int)((next_random(state) >> 33) % (uint64_t)bound);
}

static inline int count_men(const Placed *placed, char man)
{
    int count = 0;
    for (int i = 0; i < 64; i++)
        count += placed->diagram[i] == man;
    return count;
}

static inline void add_man(Placed *placed, uint64_t *state, char man)
{
    int square;
    do {
        square = man == 'P' || man == 'p' ? 8 + random_below(state, 48) : random_below(state, 64);
    } while (*man_at(placed, square) != '.');
    *man_at(placed, square) = man;
}

static inline void add_ram(Placed *placed, int file, int rank)
{
    char *white = man_at(placed, rank * 8 + file);
    char *black = man_at(placed, rank * 8 + 8 + file);
    if (*white != '.' || *black != '.' || count_men(placed, 'P') == 8 || count_men(placed, 'p') == 8)
        return;
    *white = 'P';
    *black = 'p';
}

/* A placement with kings, up to 8 pawns and 7 pieces a side, not always legal in other ways. Three kinds by
 * turns: pawns anywhere; a crooked row of rams with some pawns more; rams crowded on three files, so that
 * pawns are doubled and tripled. */
static inline void place_random(Placed *placed, uint64_t *state)
{
    clear_board(placed);
    int kind = random_below(state, 3);
    if (kind == 1) {
        int rank = 2 + random_below(state, 3);
        for (int file = random_below(state, 5); file < 8 && random_below(state, 5) != 0; file++) {
            add_ram(placed, file, rank);
            rank += random_below(state, 2) == 0 ? 1 : -1;
            rank = rank < 1 ? 2 : rank > 5 ? 4 : rank;
        }
    } else if (kind == 2) {
        int first = random_below(state, 6);
        for (int i = random_below(state, 12); i > 0; i--)
            add_ram(placed, first + random_below(state, 3), 1 + random_below(state, 5));
    }
    for (int i = random_below(state, 9); i > 0 && count_men(placed, 'P') < 8; i--)
        add_man(placed, state, 'P');
    for (int i = random_below(state, 9); i > 0 && count_men(placed, 'p') < 8; i--)
        add_man(placed, state, 'p');
    add_man(placed, state, 'K');
    add_man(placed, state, 'k');
    for (int i = random_below(state, 8); i > 0; i--)
        add_man(placed, state, "NBRQ"[random_below(state, 4)]);
    for (int i = random_below(state, 8); i > 0; i--)
        add_man(placed, state, "nbrq"[random_below(state, 4)]);
    use_diagram(placed, random_below(state, 2) == 0 ? PS_WHITE : PS_BLACK);
}

#endif
