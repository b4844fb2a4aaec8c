/* Private to structure/: rams, links and where they point. */
#ifndef PAWNVANE_STRUCTURE_PAWNS_H
#define PAWNVANE_STRUCTURE_PAWNS_H

#include "structure/bitboard.h"

/* A public square is a Square, value by value. */
_Static_assert((int)PS_NO_SQUARE == (int)NO_SQUARE, "squares must agree");

/* Pawns of one colour on neighbouring files, each one rank above the one before it or each one below: the two
 * ends. With two pawns it is a link. */
typedef struct Diagonal {
    Square west; /* on the lowest file */
    Square east;
} Diagonal;

/* A diagonal as its own side sees it. */
typedef struct Pointer {
    Square head;
    Square base;
    int direction; /* +1 towards h, -1 towards a */
} Pointer;

/* The pawns that can be: those of a host, without the first and the last rank. */
static inline Bitboard sensible_pawns(const uint64_t pawns[2], Side side)
{
    return pawns[side] & ~(RANK_1_BB | RANK_8_BB);
}

/* The white pawns that are rammed. */
static inline Bitboard white_rams(Bitboard white_pawns, Bitboard black_pawns)
{
    return white_pawns & (black_pawns >> 8);
}

/* All links within a set of pawns of one colour: by file of the western pawn, its rank, rank of the next one.
 * Returns how many; what goes beyond PS_MAX_CHAINS is left out (more than 8 pawns). So below. */
int ps_find_links(Bitboard pawns, Diagonal out[PS_MAX_CHAINS]);

/* The diagonals of two pawns or more that cannot be made longer. Within white_rams() these are the locked
 * chains, seen from White. */
int ps_find_diagonals(Bitboard pawns, Diagonal out[PS_MAX_CHAINS]);

/* The pawns of a set that have a linked neighbour to the east. */
static inline Bitboard linked_eastwards(Bitboard pawns)
{
    Bitboard neighbours = shift_west(pawns);
    return pawns & (neighbours << 8 | neighbours >> 8);
}

/* The pawns of a set that are linked with another one. */
static inline Bitboard linked_pawns(Bitboard pawns)
{
    Bitboard neighbours = shift_west(pawns) | shift_east(pawns);
    return pawns & (neighbours << 8 | neighbours >> 8);
}

/* The lower files of all links within a set of pawns, as a set, bit 0 for a. */
static inline unsigned files_of_links(Bitboard pawns)
{
    Bitboard linked = linked_eastwards(pawns);
    linked |= linked >> 32;
    linked |= linked >> 16;
    linked |= linked >> 8;
    return (unsigned)linked & 0xFF;
}

/* The black pawns that face the white pawns of a locked chain. */
static inline Diagonal facing_diagonal(Diagonal white)
{
    return (Diagonal){white.west + 8, white.east + 8};
}

static inline Pointer point(Side side, Diagonal diagonal)
{
    bool east_leads = relative_rank(side, diagonal.east) > relative_rank(side, diagonal.west);
    return east_leads ? (Pointer){diagonal.east, diagonal.west, +1}
                      : (Pointer){diagonal.west, diagonal.east, -1};
}

/* The square beside another one, NO_SQUARE if off the board. */
static inline Square beside(Square square, int direction)
{
    int file = file_of(square) + direction;
    return file < FILE_A || file > FILE_H ? NO_SQUARE : square_at(file, rank_of(square));
}

static inline Square base_lever_square(Pointer pointer)
{
    return beside(pointer.head, pointer.direction);
}

static inline Square head_lever_square(Pointer pointer)
{
    return beside(pointer.base, -pointer.direction);
}

/* The pairs of neighbouring files that a diagonal crosses, as a set of their lower files. */
static inline unsigned files_of_diagonal(Diagonal diagonal)
{
    return (1U << file_of(diagonal.east)) - (1U << file_of(diagonal.west));
}

#endif
