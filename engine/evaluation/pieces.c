#include "engine/evaluation/pieces.h"

FOR_A_SIDE Pair piece_mobility(const EvalWeights *w, Role role, int squares)
{
    switch (role) {
    case KNIGHT:
        return w->knight_mobility[squares];
    case BISHOP:
        return w->bishop_mobility[squares];
    case ROOK:
        return w->rook_mobility[squares];
    default:
        return w->queen_mobility[squares < 28 ? squares : 27];
    }
}

FOR_A_SIDE Bitboard piece_attacks(const Survey *v, Side side, Role role, Square from)
{
    const Position *p = v->p;
    Bitboard own = p->by_side[side];
    switch (role) {
    case KNIGHT:
        return knight_attacks(from);
    case BISHOP: /* through own queens */
        return bishop_attacks(from, v->occupied ^ (own & p->by_role[QUEEN]));
    case ROOK: /* through own queens and rooks */
        return rook_attacks(from, v->occupied ^ (own & (p->by_role[QUEEN] | p->by_role[ROOK])));
    default:
        return queen_attacks(from, v->occupied);
    }
}

static const Bitboard outpost_ranks[SIDE_COUNT] = {UINT64_C(0x0000FFFFFF000000),
                                                   UINT64_C(0x000000FFFFFF0000)};
static const Bitboard centre = UINT64_C(0x0000001818000000);

FOR_A_SIDE Pair score_minor(const Survey *v, Side side, Role role, Square square, Bitboard attacks)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Bitboard own_pawns = position_men(v->p, side, PAWN);
    Pair score = 0;
    Bitboard outposts = v->attacks[side][PAWN] & ~v->pawns->attack_span[them] & outpost_ranks[side];
    if (outposts & bit(square))
        score += role == KNIGHT ? w->outpost_knight : w->outpost_bishop;
    else if (role == KNIGHT && (attacks & outposts & ~v->p->by_side[side]))
        score += w->outpost_in_reach;
    if (push_forward(side, bit(square)) & v->p->by_role[PAWN])
        score += w->minor_behind_pawn;
    if (role == BISHOP) {
        Bitboard colour = colour_of(bit(square));
        int on_colour = count_squares(own_pawns & colour);
        Bitboard blocked = own_pawns & CENTRE_FILES & push_forward(them, v->occupied);
        score += w->bishop_own_pawn_on_colour * on_colour;
        score += w->bishop_blocked_centre * (on_colour * count_squares(blocked));
        if (more_than_one(bishop_attacks(square, v->p->by_role[PAWN]) & centre))
            score += w->bishop_long_diagonal;
    } else {
        score += w->knight_king_distance * king_distance(square, position_king(v->p, side));
    }
    return score;
}

FOR_A_SIDE Pair score_rook(const Survey *v, Side side, Square square, int mobility)
{
    const EvalWeights *w = v->w;
    Bitboard file = file_mask(file_of(square));
    Pair score = 0;
    if (!(file & v->p->by_role[PAWN]))
        score += w->rook_open_file;
    else if (!(file & position_men(v->p, side, PAWN)))
        score += w->rook_half_open_file;
    else if (mobility <= TRAPPED_MOBILITY) {
        int file_of_king = file_of(position_king(v->p, side)), own_file = file_of(square);
        if (file_of_king <= FILE_C ? own_file < file_of_king
                                   : file_of_king >= FILE_F && own_file > file_of_king)
            score += w->rook_trapped;
    }
    if (relative_rank(side, square) == RANK_7)
        score += w->rook_on_seventh;
    return score;
}

/* What pieces are worth by the number of own pawns, and in pairs. */
FOR_A_SIDE Pair score_company(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    int pawns = count_squares(position_men(v->p, side, PAWN)) - COMPANY_PAWNS;
    Bitboard knights = position_men(v->p, side, KNIGHT), bishops = position_men(v->p, side, BISHOP);
    Pair score = w->knight_pawns * (count_squares(knights) * pawns) +
                 w->bishop_pawns * (count_squares(bishops) * pawns);
    return more_than_one(bishops) ? score + w->bishop_pair : score;
}

/* Men of either side that hide the king from a slider. */
FOR_A_SIDE Bitboard shields(const Position *p, Side side, Square king, Bitboard occupied)
{
    Bitboard pinned = 0;
    Bitboard snipers = ((rook_attacks(king, 0) & (p->by_role[ROOK] | p->by_role[QUEEN])) |
                        (bishop_attacks(king, 0) & (p->by_role[BISHOP] | p->by_role[QUEEN]))) &
                       p->by_side[opposite(side)];
    while (snipers) {
        Bitboard shield = between(king, take_first(&snipers)) & occupied;
        if (!more_than_one(shield))
            pinned |= shield;
    }
    return pinned;
}

FOR_A_SIDE Pair score_role(Survey *v, Side side, Role role, Square king, Bitboard good)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Pair score = 0;
    for (Bitboard men = position_men(v->p, side, role); men;) {
        Square square = take_first(&men);
        Bitboard attacks = piece_attacks(v, side, role, square);
        if (v->pinned[side] & bit(square))
            attacks &= line_through(king, square);
        note_attacks(v, side, role, attacks);
        int mobility = count_squares(attacks & good);
        score += w->material[role] + w->square[role][fold_square(side, square)] +
                 piece_mobility(w, role, mobility);
        if (attacks & v->king_zone[them]) {
            v->attackers[them]++;
            v->danger[them] +=
                w->units.attacker[role] + w->units.zone_square * count_squares(attacks & v->king_zone[them]);
        }
        if (role == KNIGHT || role == BISHOP)
            score += score_minor(v, side, role, square, attacks);
        else if (role == ROOK)
            score += score_rook(v, side, square, mobility);
    }
    return score;
}

FOR_A_SIDE Pair score_pieces_of(Survey *v, Side side)
{
    Square king = position_king(v->p, side);
    Bitboard good = ~(v->attacks[opposite(side)][PAWN] | position_men(v->p, side, PAWN) | bit(king));
    v->pinned[side] = shields(v->p, side, king, v->occupied);
    return score_role(v, side, KNIGHT, king, good) + score_role(v, side, BISHOP, king, good) +
           score_role(v, side, ROOK, king, good) + score_role(v, side, QUEEN, king, good) +
           score_company(v, side);
}

Pair score_pieces(Survey *v)
{
    Pair white = score_pieces_of(v, WHITE);
    return white - score_pieces_of(v, BLACK);
}
