#include "engine/evaluation/survey.h"

/* Own men that hide their king from a slider. */
FOR_A_SIDE Bitboard hiding_men(const Survey *v, Side side, Square king)
{
    const Position *p = v->p;
    Bitboard own = p->by_side[side], enemies = p->by_side[opposite(side)], hiding = 0;
    Bitboard straight = v->straight[side], slanted = v->slanted[side];
    Bitboard behind = (rook_attacks(king, v->occupied ^ (straight & own)) & ~straight &
                       (p->by_role[ROOK] | p->by_role[QUEEN])) |
                      (bishop_attacks(king, v->occupied ^ (slanted & own)) & ~slanted &
                       (p->by_role[BISHOP] | p->by_role[QUEEN]));
    for (Bitboard sliders = behind & enemies; sliders;)
        hiding |= between(king, take_first(&sliders)) & own;
    return hiding;
}

FOR_A_SIDE Bitboard attacks_of(Role role, Square from, Bitboard occupied)
{
    switch (role) {
    case KNIGHT:
        return knight_attacks(from);
    case BISHOP:
        return bishop_attacks(from, occupied);
    case ROOK:
        return rook_attacks(from, occupied);
    default:
        return queen_attacks(from, occupied);
    }
}

FOR_A_SIDE void survey_role(Survey *v, Side side, Role role, Square king, Bitboard hiding)
{
    int place = v->pieces[side];
    Bitboard all = v->up_to[side][role - 1], role_reach = 0, men = position_men(v->p, side, role);
    v->count[side][role] = count_squares(men);
    for (; men && place < PIECES_MOST; place++) {
        Square square = take_first(&men);
        Bitboard reach = attacks_of(role, square, v->occupied);
        if (hiding & bit(square))
            reach &= line_through(king, square);
        v->reach[side][place] = reach;
        v->role[side][place] = role;
        v->twice[side] |= all & reach;
        all |= reach;
        role_reach |= reach;
    }
    v->up_to[side][role] = all;
    v->by_role[side][role] = role_reach;
    v->pieces[side] = place;
}

FOR_A_SIDE void survey_side(Survey *v, Side side)
{
    Bitboard ahead = push_forward(side, position_men(v->p, side, PAWN));
    Bitboard west = shift_west(ahead), east = shift_east(ahead);
    Square king = position_king(v->p, side);
    v->straight[side] = rook_attacks(king, v->occupied);
    v->slanted[side] = bishop_attacks(king, v->occupied);
    Bitboard hiding = hiding_men(v, side, king);
    v->pieces[side] = 0;
    v->up_to[side][PAWN] = west | east;
    v->twice[side] = west & east;
    for (Role role = KNIGHT; role <= QUEEN; role++)
        survey_role(v, side, role, king, hiding);
    v->up_to[side][KING] = v->up_to[side][QUEEN] | king_attacks(king);
}

void survey(Survey *v, const Position *position, const EvalWeights *weights, const PawnTerms *pawns)
{
    v->p = position;
    v->w = weights;
    v->pawns = pawns;
    v->occupied = position_occupied(position);
    survey_side(v, WHITE);
    survey_side(v, BLACK);
}
