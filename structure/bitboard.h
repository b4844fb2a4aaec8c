/* Squares, sides and sets of squares.
 *
 * A Bitboard is a set of squares, one bit a square: bit 0 is a1, bit 7 is h1, bit 63 is h8.
 * Drawn as a board, White below:
 *
 *     8  56 57 58 59 60 61 62 63
 *     7  48 49 50 51 52 53 54 55
 *     6  40 41 42 43 44 45 46 47
 *     5  32 33 34 35 36 37 38 39
 *     4  24 25 26 27 28 29 30 31
 *     3  16 17 18 19 20 21 22 23
 *     2   8  9 10 11 12 13 14 15
 *     1   0  1  2  3  4  5  6  7
 *         a  b  c  d  e  f  g  h
 *
 * Everything here is a pure inline function; nothing is exported from the library. */
#ifndef PAWNVANE_BITBOARD_H
#define PAWNVANE_BITBOARD_H

#include "structure/structure.h"

typedef uint64_t Bitboard;

/* A side is the same thing inside the library, outside it and in its hosts. */
typedef ps_side Side;
#define NO_SIDE PS_NOBODY
#define WHITE PS_WHITE
#define BLACK PS_BLACK

enum { SIDE_COUNT = 2, SQUARE_COUNT = 64, FILE_COUNT = 8, RANK_COUNT = 8 };

/* Each enum has a member -1, so that it is signed and mixes with int in sums and loops. */
/* clang-format off */
typedef enum Square {
    NO_SQUARE = -1,
    A1, B1, C1, D1, E1, F1, G1, H1,
    A2, B2, C2, D2, E2, F2, G2, H2,
    A3, B3, C3, D3, E3, F3, G3, H3,
    A4, B4, C4, D4, E4, F4, G4, H4,
    A5, B5, C5, D5, E5, F5, G5, H5,
    A6, B6, C6, D6, E6, F6, G6, H6,
    A7, B7, C7, D7, E7, F7, G7, H7,
    A8, B8, C8, D8, E8, F8, G8, H8
} Square;
/* clang-format on */

typedef enum File { NO_FILE = -1, FILE_A, FILE_B, FILE_C, FILE_D, FILE_E, FILE_F, FILE_G, FILE_H } File;
typedef enum Rank { NO_RANK = -1, RANK_1, RANK_2, RANK_3, RANK_4, RANK_5, RANK_6, RANK_7, RANK_8 } Rank;

#define FILE_A_BB UINT64_C(0x0101010101010101)
#define FILE_H_BB UINT64_C(0x8080808080808080)
#define RANK_1_BB UINT64_C(0x00000000000000FF)
#define RANK_8_BB UINT64_C(0xFF00000000000000)

static inline Side opposite(Side side)
{
    return side ^ 1;
}

static inline Square square_at(int file, int rank)
{
    return rank * 8 + file;
}

static inline File file_of(Square square)
{
    return square & 7;
}

static inline Rank rank_of(Square square)
{
    return square >> 3;
}

/* The rank as that side counts it: RANK_1 is its own first rank. */
static inline Rank relative_rank(Side side, Square square)
{
    return side == WHITE ? rank_of(square) : RANK_8 - rank_of(square);
}

/* The same square with White and Black changed round: a1 <-> a8. */
static inline Square flip_ranks(Square square)
{
    return square ^ 56;
}

/* The same square with the wings changed round: a1 <-> h1. */
static inline Square flip_files(Square square)
{
    return square ^ 7;
}

static inline Bitboard bit(Square square)
{
    return UINT64_C(1) << square;
}

static inline Bitboard file_mask(int file)
{
    return FILE_A_BB << file;
}

static inline Bitboard rank_mask(int rank)
{
    return RANK_1_BB << (8 * rank);
}

static inline int count_squares(Bitboard set)
{
    return __builtin_popcountll(set);
}

static inline bool more_than_one(Bitboard set)
{
    return (set & (set - 1)) != 0;
}

/* The lowest square of a set, a1 first. The set must not be empty. */
static inline Square first_square(Bitboard set)
{
    return __builtin_ctzll(set);
}

/* The highest square of a set, h8 first. The set must not be empty. */
static inline Square last_square(Bitboard set)
{
    return H8 - __builtin_clzll(set);
}

/* Takes the lowest square out of a set. The set must not be empty. */
static inline Square take_first(Bitboard *set)
{
    Square square = first_square(*set);
    *set &= *set - 1;
    return square;
}

/* One step up the board for White, down for Black; what leaves the board is dropped. */
static inline Bitboard push_forward(Side side, Bitboard set)
{
    return side == WHITE ? set << 8 : set >> 8;
}

static inline int forward_step(Side side)
{
    return side == WHITE ? 8 : -8;
}

static inline Bitboard shift_west(Bitboard set)
{
    return (set & ~FILE_A_BB) >> 1;
}

static inline Bitboard shift_east(Bitboard set)
{
    return (set & ~FILE_H_BB) << 1;
}

/* Every square that the pawns of a side attack. */
static inline Bitboard pawn_attacks(Side side, Bitboard pawns)
{
    Bitboard ahead = push_forward(side, pawns);
    return shift_west(ahead) | shift_east(ahead);
}

#endif
