#include "engine/evaluation/structure_view.h"

static int count_attackers(const void *host, int square, ps_side side, int lifted)
{
    const Position *position = host;
    Bitboard gone = lifted == PS_NO_SQUARE ? 0 : bit((Square)lifted);
    Bitboard attackers = position_attackers(position, (Square)square, position_occupied(position) & ~gone);
    return count_squares(attackers & position->by_side[side] & ~gone);
}

void structure_view(const Position *position, ps_board *board)
{
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        board->pawns[side] = position_men(position, (Side)side, PAWN);
        board->kings[side] = position_men(position, (Side)side, KING);
        board->pieces[side] = position->by_side[side] & ~(board->pawns[side] | board->kings[side]);
    }
    board->to_move = (ps_side)position_turn(position);
    board->count_attackers = count_attackers;
    board->host = position;
}
