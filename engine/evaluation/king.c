#include "engine/evaluation/king.h"

#include "engine/evaluation/clamp.h"

/* What that side has left to attack with, in units. */
FOR_A_SIDE int attacking_force(const Survey *v, Side side)
{
    const EvalUnits *u = &v->w->units;
    int force = u->force;
    for (Role role = KNIGHT; role <= QUEEN; role++)
        force += u->force_of[role] * v->count[side][role];
    return at_least(force, 0);
}

/* The squares round a king and in front of these: where the enemy has more men than the side has guards beside
 * the king, the men that bear on them, and the kinds of men that can come to give a check which nobody can answer
 * by taking. What the side holds there itself, and the ways out, were tried as well, and the fit left both at 0. */
FOR_A_SIDE int siege(const Survey *v, Side side, Square king)
{
    const EvalUnits *u = &v->w->units;
    Side them = opposite(side);
    Bitboard near = king_attacks(king) | bit(king), zone = near | push_forward(side, near);
    Bitboard attacked = attacked_by(v, them), guarded = guarded_without_king(v, side);
    Bitboard lost = attacked & ~guarded, outnumbered = v->twice[them] & ~v->twice[side] & guarded;
    Bitboard unanswered = ~v->p->by_side[them] & lost & (~king_attacks(king) | v->twice[them]);
    Bitboard straight = v->straight[side], slanted = v->slanted[side];
    const Bitboard lines[ROLE_COUNT] = {
        [KNIGHT] = knight_attacks(king), [BISHOP] = slanted, [ROOK] = straight, [QUEEN] = straight | slanted};
    int units = u->siege + u->lost * count_squares(lost & zone) +
                u->outnumbered * count_squares(outnumbered & zone) +
                u->contested * count_squares(attacked & zone);
    /* Products rather than conditions, which nobody can foresee, least of all the processor. */
    for (int i = 0; i < v->pieces[them]; i++)
        units += u->bearing[v->role[them][i]] * ((v->reach[them][i] & zone) != 0);
    for (Role role = KNIGHT; role <= QUEEN; role++)
        units += u->entry[role] * ((lines[role] & unanswered & v->by_role[them][role]) != 0);
    return units;
}

FOR_A_SIDE Pair score_king(const Survey *v, Side side)
{
    Square king = position_king(v->p, side);
    int units = siege(v, side, king) * attacking_force(v, opposite(side)) / FORCE_FULL;
    return v->w->placement[KING][fold_square(side, king)] + score_file(v, side, KING, king) +
           v->w->siege[clamp(units / SIEGE_UNITS, 0, SIEGE_CLASSES - 1)];
}

Pair score_kings(const Survey *v)
{
    return score_king(v, WHITE) - score_king(v, BLACK);
}
