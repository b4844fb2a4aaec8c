#include "engine/evaluation/pawn_terms.h"

#include "engine/rules/geometry.h"

static Bitboard neighbouring_files(Square square)
{
    Bitboard file = file_mask(file_of(square));
    return shift_west(file) | shift_east(file);
}

static Pair score_pawn(const EvalWeights *w, Side side, Square square, Bitboard own, Bitboard enemies)
{
    Bitboard here = bit(square), neighbours = neighbouring_files(square) & own;
    Bitboard row = rank_mask(rank_of(square));
    Bitboard ahead = push_forward(side, fill_ahead(side, here));
    Rank rank = relative_rank(side, square);
    bool phalanx = (neighbours & row) != 0;
    bool defended = (pawn_attacks(opposite(side), here) & own) != 0;
    bool open = !(ahead & (own | enemies));
    Pair score = w->material[PAWN] + w->square[PAWN][fold_square(side, square)];

    if (phalanx)
        score += w->phalanx[rank];
    if (defended) {
        score += w->defended[rank];
        if (open)
            score += w->defended_open[rank];
    }
    if (ahead & own)
        score += w->doubled;
    if (!neighbours) {
        score += w->isolated;
        if (open)
            score += w->weak_on_open_file;
    } else if (!phalanx && !defended) {
        /* Backward: every neighbour has gone ahead, and the next step is into an enemy pawn's attack. */
        bool left_behind = !(neighbours & fill_ahead(opposite(side), row));
        Bitboard stop = push_forward(side, here);
        if (left_behind && (pawn_attacks(opposite(side), enemies) & stop)) {
            score += w->backward;
            if (open)
                score += w->weak_on_open_file;
        }
    }
    return score;
}

void pawn_terms(const EvalWeights *w, const Bitboard pawns[SIDE_COUNT], PawnTerms *terms)
{
    *terms = (PawnTerms){.passed = 0};
    for (Side side = WHITE; side <= BLACK; side++) {
        Bitboard enemies = pawns[opposite(side)], own = pawns[side];
        Bitboard enemy_front = fill_ahead(opposite(side), enemies | pawn_attacks(opposite(side), enemies));
        Bitboard own_front = fill_ahead(opposite(side), push_forward(opposite(side), own));
        Pair score = 0;
        terms->attack_span[side] = fill_ahead(side, pawn_attacks(side, own));
        terms->passed |= own & ~enemy_front & ~own_front;
        for (Bitboard left = own; left;)
            score += score_pawn(w, side, take_first(&left), own, enemies);
        terms->score += side == WHITE ? score : -score;
    }
}

static Pair score_shelter(const EvalWeights *w, Side side, Square king, Bitboard own, Bitboard enemies)
{
    int file = file_of(king), centre = file < 1 ? 1 : file > 6 ? 6 : file;
    Bitboard not_behind = fill_ahead(side, rank_mask(rank_of(king)));
    Pair score = 0;
    for (int f = centre - 1; f <= centre + 1; f++) {
        Bitboard shield = own & not_behind & file_mask(f), attack = enemies & not_behind & file_mask(f);
        Square pawn = shield ? (side == WHITE ? first_square(shield) : last_square(shield)) : NO_SQUARE;
        Square enemy = attack ? (side == WHITE ? first_square(attack) : last_square(attack)) : NO_SQUARE;
        score += w->shelter[pawn == NO_SQUARE ? 0 : relative_rank(side, pawn)];
        score += w->storm[enemy == NO_SQUARE ? 0 : relative_rank(side, enemy)];
        if (pawn != NO_SQUARE && enemy != NO_SQUARE && enemy == pawn + forward_step(side))
            score += w->storm_blocked;
    }
    if (!(own & file_mask(file))) {
        score += w->king_on_half_open_file;
        if (!(enemies & file_mask(file)))
            score += w->king_on_open_file;
    }
    return score;
}

Pair king_shelter(const EvalWeights *w, const Position *position, Side side)
{
    Square king = position_king(position, side);
    Bitboard own = position_men(position, side, PAWN), enemies = position_men(position, opposite(side), PAWN);
    Pair score = score_shelter(w, side, king, own, enemies);
    if (!((own | enemies) & king_flank(king)))
        score += w->king_without_pawns;
    return score;
}
