/* Private to structure/: rams, links and where they point. */
#ifndef PAWNVANE_STRUCTURE_PAWNS_H
#define PAWNVANE_STRUCTURE_PAWNS_H

#include "structure/bitboard.h"
#include "structure/structure.h"

/* A public ps_side is a Side and a public square is a Square, value by value. */
_Static_assert((int)PS_WHITE == (int)WHITE && (int)PS_BLACK == (int)BLACK, "sides must agree");
_Static_assert((int)PS_NO_SQUARE == (int)NO_SQUARE, "squares must agree");

/* Two pawns of one colour on neighbouring files, one defending the other. */
typedef struct Link {
    Square west; /* on the lower file */
    Square east;
} Link;

/* A link as its own side sees it. */
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

/* All links within a set of pawns of one colour: by file of the western pawn, its rank, rank of the other
 * one. Returns how many; what goes beyond PS_MAX_PAIRS is left out (more than 8 pawns). The links within
 * white_rams() are the locked pairs, seen from White. */
int ps_find_links(Bitboard pawns, Link out[PS_MAX_PAIRS]);

/* The lower files of the same links as a set, bit 0 for a. */
static inline unsigned files_of_links(Bitboard pawns)
{
    Bitboard neighbours = shift_west(pawns);
    Bitboard linked = pawns & (neighbours << 8 | neighbours >> 8);
    linked |= linked >> 32;
    linked |= linked >> 16;
    linked |= linked >> 8;
    return (unsigned)linked & 0xFF;
}

/* The black pawns that face the white pawns of a locked pair. */
static inline Link facing_link(Link white)
{
    return (Link){(Square)(white.west + 8), (Square)(white.east + 8)};
}

static inline Pointer point(Side side, Link link)
{
    bool east_leads = relative_rank(side, link.east) > relative_rank(side, link.west);
    return east_leads ? (Pointer){link.east, link.west, +1} : (Pointer){link.west, link.east, -1};
}

/* The square beside another one, NO_SQUARE if off the board. */
static inline Square beside(Square square, int direction)
{
    int file = (int)file_of(square) + direction;
    return file < 0 || file >= FILE_COUNT ? NO_SQUARE : square_at(file, (int)rank_of(square));
}

static inline Square base_lever_square(Pointer pointer)
{
    return beside(pointer.head, pointer.direction);
}

static inline Square head_lever_square(Pointer pointer)
{
    return beside(pointer.base, -pointer.direction);
}

/* By the lower file of two neighbouring ones. */
ps_grade ps_grade_of_files(int file);

#endif
