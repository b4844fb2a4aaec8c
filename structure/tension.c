#include "structure/tension.h"
#include "structure/lever.h"

/* The square behind a pawn that `side` may take en passant, as a set; empty if there is none. */
static Bitboard en_passant_square(const ps_board *board, Side side)
{
    bool sensible = side == board->to_move && board->en_passant >= A1 && board->en_passant <= H8;
    Bitboard men = board_pieces(board) | board->pawns[WHITE] | board->pawns[BLACK];
    return sensible ? bit(board->en_passant) & rank_mask(side == WHITE ? RANK_6 : RANK_3) & ~men : 0;
}

void ps_find_tension(ps_capture_list *out, const ps_board *board, Side side, Bitboard locked)
{
    Side enemy = opposite(side);
    Bitboard passed_by = en_passant_square(board, side);
    Bitboard passing = push_forward(enemy, passed_by) & sensible_pawns(board->pawns, enemy);
    Bitboard victims = sensible_pawns(board->pawns, enemy) | board->pieces[enemy];
    if (passing != 0)
        victims |= passed_by;

    out->count = 0;
    if (locked == 0)
        return;
    for (Bitboard own = sensible_pawns(board->pawns, side); own != 0;) {
        Square from = take_first(&own);
        for (Bitboard goals = pawn_attacks(side, bit(from)) & victims; goals != 0;) {
            Square to = take_first(&goals);
            bool en_passant = bit(to) == passed_by;
            Bitboard taken = en_passant ? passing : bit(to);
            if (((bit(from) | taken) & locked) != 0 && out->count < PS_MAX_CAPTURES)
                out->items[out->count++] = (ps_capture){from, to, en_passant};
        }
    }
}
