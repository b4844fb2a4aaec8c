/* Private to structure/: which chain counts for a side, and what it promises. */
#ifndef PAWNVANE_STRUCTURE_PLAN_H
#define PAWNVANE_STRUCTURE_PLAN_H

#include "structure/lever.h"

/* The set of files from one file to the edge in a direction, bit 0 for a. */
static inline unsigned wing_files(int file, int direction)
{
    return direction > 0 ? 0xFFU << file & 0xFFU : 0xFFU >> (FILE_H - file);
}

/* All squares of a set of files. */
static inline Bitboard squares_of_files(unsigned files)
{
    return files * FILE_A_BB;
}

/* The squares of these files from the own second rank to the head's. */
Bitboard ps_wing_area(Side side, unsigned wing, Square head);

/* How many squares of an area no enemy pawn attacks. */
static inline int count_room(Side side, Bitboard area, Bitboard enemy_pawns)
{
    return count_squares(area & ~pawn_attacks(opposite(side), enemy_pawns));
}

static inline int count_wing_pieces(const ps_board *board, Side side, unsigned wing)
{
    return count_squares(board->pieces[side] & squares_of_files(wing));
}

/* The plan of a side, from the chains of the analysis. */
ps_plan ps_make_plan(const ps_analysis *analysis, const ps_board *board, Side side);

/* Which side comes first with its principal base lever, from the plans of the analysis; PS_NOBODY if neither
 * is live. */
ps_side ps_find_first_to_break(const ps_analysis *analysis, ps_side to_move);

#endif
