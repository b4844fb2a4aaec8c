/* Colours of squares, distances to the edge and fills: what no man on the board changes. */
#ifndef PAWNVANE_GEOMETRY_H
#define PAWNVANE_GEOMETRY_H

#include "structure/bitboard.h"

#define LIGHT_SQUARES UINT64_C(0x55AA55AA55AA55AA)

/* All squares of the colour of these; light if they are of both. */
static inline Bitboard colour_of(Bitboard squares)
{
    return squares & LIGHT_SQUARES ? LIGHT_SQUARES : ~LIGHT_SQUARES;
}

static inline bool on_both_colours(Bitboard squares)
{
    return (squares & LIGHT_SQUARES) && (squares & ~LIGHT_SQUARES);
}

/* Steps from a file to the nearer edge: 0 for a and h, 3 for d and e. */
static inline int files_to_edge(Square square)
{
    return file_of(square) < FILE_E ? file_of(square) : FILE_H - file_of(square);
}

static inline int ranks_to_edge(Square square)
{
    return rank_of(square) < RANK_5 ? rank_of(square) : RANK_8 - rank_of(square);
}

/* The squares of a file in front of a square, as that side sees it. */
static inline Bitboard file_ahead(Side side, Square square)
{
    Bitboard file = file_mask(file_of(square));
    return file & (side == WHITE ? ~(bit(square) | (bit(square) - 1)) : bit(square) - 1);
}

/* A set with all squares in front of it, as that side sees it. */
static inline Bitboard fill_ahead(Side side, Bitboard set)
{
    if (side == WHITE) {
        set |= set << 8;
        set |= set << 16;
        return set | set << 32;
    }
    set |= set >> 8;
    set |= set >> 16;
    return set | set >> 32;
}

#endif
