/* Where the exact tables of the smallest endings have a position. They are worked out when the program is built
 * (solve.h), laid down one behind the other in one file, and become part of the program.
 *
 * The side with the pawn, or with more, is always White here; whoever asks for another position turns the board.
 * Then wings, and without pawns ranks, are changed round until the white king stands on the a- to d-files (and on
 * the first four ranks, and no higher than its file counts). */
#ifndef PAWNVANE_ENDING_INDEX_H
#define PAWNVANE_ENDING_INDEX_H

#include "engine/rules/move.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { ENDING_MEN = 4 }; /* at most, kings included */

typedef enum EndingName {
    NO_ENDING = -1,
    PAWN_ENDING,
    ROOK_ENDING,
    QUEEN_ENDING,
    QUEEN_ROOK_ENDING,
    ROOK_PAWN_ENDING,
    ENDING_NAMES
} EndingName;

/* Besides the kings: White's man and Black's. */
static const struct {
    Role own, other;
} ending_men[ENDING_NAMES] = {[PAWN_ENDING] = {PAWN, NO_ROLE},
                              [ROOK_ENDING] = {ROOK, NO_ROLE},
                              [QUEEN_ENDING] = {QUEEN, NO_ROLE},
                              [QUEEN_ROOK_ENDING] = {QUEEN, ROOK},
                              [ROOK_PAWN_ENDING] = {ROOK, PAWN}};

/* Two bits a position for endings with a pawn: what it is for White. */
enum { ENDING_DRAWN, ENDING_WON, ENDING_LOST };

static inline bool ending_has_pawn(EndingName name)
{
    return name == PAWN_ENDING || name == ROOK_PAWN_ENDING;
}

/* Of the others eight bits, and only the positions with White to move: the moves until he mates, 0 if he cannot. With
 * Black to move the answer lies behind his moves. */
static inline int ending_bits(EndingName name)
{
    return ending_has_pawn(name) ? 2 : 8;
}

/* Places of a table: the side to move (with a pawn), the white king, the black king, the others; pawns never stand on
 * the first or the last rank. */
static inline size_t ending_places(EndingName name)
{
    size_t kings = ending_has_pawn(name) ? 2 * 32 * 64 : 10 * 64;
    return kings * (ending_has_pawn(name) ? 48 : 64) * (ending_men[name].other == NO_ROLE ? 1 : 64);
}

/* Bytes before a table in the file; of the name behind the last one, the size of the file. */
static inline size_t ending_offset(EndingName name)
{
    size_t bytes = 0;
    for (int i = 0; i < (int)name; i++)
        bytes += ending_places(i) * (size_t)ending_bits(i) / 8;
    return bytes;
}

static inline Square swap_axes(Square square)
{
    return square_at(rank_of(square), file_of(square));
}

/* The place of a position. Squares: the white king, the black king, White's man, Black's if he has one. */
static inline size_t ending_place(EndingName name, Side turn, const Square squares[])
{
    const bool pawns = ending_has_pawn(name);
    const int men = ending_men[name].other == NO_ROLE ? 3 : 4;
    int flip = file_of(squares[0]) > FILE_D ? 7 : 0;
    if (!pawns && rank_of(squares[0]) > RANK_4)
        flip |= 56;
    Square king = squares[0] ^ flip;
    bool swap = !pawns && (int)rank_of(king) > (int)file_of(king);
    king = swap ? swap_axes(king) : king;
    size_t place = pawns ? (size_t)(turn * 32 + rank_of(king) * 4 + file_of(king))
                         : (size_t)(file_of(king) * (file_of(king) + 1) / 2 + rank_of(king));
    for (int i = 1; i < men; i++) {
        Square square = squares[i] ^ flip;
        bool pawn = pawns && i == men - 1;
        place = place * (pawn ? 48 : 64) + (size_t)(swap ? swap_axes(square) : pawn ? square - A2 : square);
    }
    return place;
}

#endif
