/* What a piece attacks from a square, and the lines and steps between squares.
 *
 * The tables are filled once, before main() runs, and never change afterwards. With BMI2 the sliders are looked up
 * by PEXT, as the compilers' builtin, since its header would be a megabyte to read for every file; without it they
 * are computed by obstruction difference. Both give the same sets. */
#ifndef PAWNVANE_ATTACKS_H
#define PAWNVANE_ATTACKS_H

#include "structure/bitboard.h"

extern Bitboard knight_attack_table[SQUARE_COUNT];
extern Bitboard king_attack_table[SQUARE_COUNT];
extern Bitboard pawn_attack_table[SIDE_COUNT][SQUARE_COUNT];
extern Bitboard between_table[SQUARE_COUNT][SQUARE_COUNT];
extern Bitboard line_table[SQUARE_COUNT][SQUARE_COUNT];
extern uint8_t king_distance_table[SQUARE_COUNT][SQUARE_COUNT];

static inline Bitboard knight_attacks(Square from)
{
    return knight_attack_table[from];
}

static inline Bitboard king_attacks(Square from)
{
    return king_attack_table[from];
}

/* What one pawn of that side attacks; read backwards, where such a pawn of the other side must stand to
 * attack the square. */
static inline Bitboard pawn_attacks_from(Side side, Square from)
{
    return pawn_attack_table[side][from];
}

/* The squares strictly between two squares of one rank, file or diagonal; empty for any other two. */
static inline Bitboard between(Square a, Square b)
{
    return between_table[a][b];
}

/* The whole rank, file or diagonal through two squares, edge to edge; empty for any other two. */
static inline Bitboard line_through(Square a, Square b)
{
    return line_table[a][b];
}

/* Moves of a king from one square to the other on an empty board. */
static inline int king_distance(Square a, Square b)
{
    return king_distance_table[a][b];
}

#ifdef __BMI2__

typedef struct SliderTable {
    Bitboard mask;
    const Bitboard *attacks;
} SliderTable;

extern SliderTable bishop_table[SQUARE_COUNT];
extern SliderTable rook_table[SQUARE_COUNT];

static inline Bitboard bishop_attacks(Square from, Bitboard occupied)
{
    return bishop_table[from].attacks[__builtin_ia32_pext_di(occupied, bishop_table[from].mask)];
}

static inline Bitboard rook_attacks(Square from, Bitboard occupied)
{
    return rook_table[from].attacks[__builtin_ia32_pext_di(occupied, rook_table[from].mask)];
}

#else

Bitboard bishop_attacks(Square from, Bitboard occupied);
Bitboard rook_attacks(Square from, Bitboard occupied);

#endif

static inline Bitboard queen_attacks(Square from, Bitboard occupied)
{
    return bishop_attacks(from, occupied) | rook_attacks(from, occupied);
}

#endif
