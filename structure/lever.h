/* Private to structure/: what a pawn still has to do to play a lever. */
#ifndef PAWNVANE_STRUCTURE_LEVER_H
#define PAWNVANE_STRUCTURE_LEVER_H

#include "structure/pawns.h"

/* What the pawns alone say about a lever. */
typedef enum PathState {
    PATH_PLAYED,
    PATH_LIVE,
    PATH_BEYOND,
    PATH_CLEARED,
    PATH_BARRED,
    PATH_GONE
} PathState;

typedef struct Path {
    PathState state;
    Square pawn; /* NO_SQUARE unless played, live or barred */
} Path;

/* How strongly both sides hold a lever square. */
typedef struct Support {
    int supporters;
    int attackers;
} Support;

/* The squares of the file in front of a square that is not on the first or last rank. */
static inline Bitboard squares_ahead(Side side, Square square)
{
    return side == WHITE ? FILE_A_BB << square << 8 : FILE_H_BB >> (H8 - square) >> 8;
}

/* From the square in front of a pawn up to and including a square ahead of it on its file. */
static inline Bitboard squares_to_go(Side side, Square pawn, Square goal)
{
    return squares_ahead(side, pawn) & ~squares_ahead(side, goal);
}

/* Single moves from a pawn to a square ahead of it on its file; a double step is one move. */
static inline int steps_to_go(Side side, Square pawn, Square goal)
{
    int ranks = relative_rank(side, goal) - relative_rank(side, pawn);
    return relative_rank(side, pawn) == RANK_2 && ranks >= 2 ? ranks - 1 : ranks;
}

static inline Bitboard board_pieces(const ps_board *board)
{
    return board->pieces[WHITE] | board->pieces[BLACK] | board->kings[WHITE] | board->kings[BLACK];
}

static inline Support count_support(const ps_board *board, Side side, Square square, Square lifted)
{
    return (Support){
        board->count_attackers(board->host, square, side, lifted),
        board->count_attackers(board->host, square, opposite(side), lifted),
    };
}

/* By how many the attackers outnumber the supporters. */
static inline int support_short(Support support)
{
    return support.attackers > support.supporters ? support.attackers - support.supporters : 0;
}

Path ps_find_path(Side side, Square lever, Bitboard own_pawns, Bitboard enemy_pawns);

static inline bool path_is_live(Path path)
{
    return path.state == PATH_PLAYED || path.state == PATH_LIVE;
}

static inline bool path_is_done(Path path)
{
    return path.state == PATH_BEYOND || path.state == PATH_CLEARED;
}

/* The full state of the lever on a square (NO_SQUARE: there is none) against the pawn on `target`. */
ps_lever ps_read_lever(const ps_board *board, Side side, Square square, Square target);

#endif
