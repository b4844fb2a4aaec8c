#include "engine/evaluation/structure_view.h"

static int count_attackers(const void *host, int square, ps_side side, int lifted)
{
    const Position *position = host;
    Bitboard gone = lifted == PS_NO_SQUARE ? 0 : bit(lifted);
    Bitboard attackers = position_attackers(position, square, position_occupied(position) & ~gone);
    return count_squares(attackers & position->by_side[side] & ~gone);
}

void structure_view(const Position *position, ps_board *board)
{
    *board = (ps_board){
        .to_move = position_turn(position),
        .en_passant = position->en_passant,
        .count_attackers = count_attackers,
        .host = position,
    };
    for (Side side = WHITE; side <= BLACK; side++) {
        board->pawns[side] = position_men(position, side, PAWN);
        board->kings[side] = position_men(position, side, KING);
        board->pieces[side] = position->by_side[side] & ~(board->pawns[side] | board->kings[side]);
    }
}

void structure_analyse(const Position *position, ps_analysis *analysis)
{
    ps_board board;
    structure_view(position, &board);
    ps_analyse(analysis, &board);
}

void structure_explain(const Position *position, const ps_analysis *analysis, char *text, size_t size)
{
    ps_board board;
    structure_view(position, &board);
    ps_explain(text, size, analysis, &board);
}
