#include "engine/evaluation/pawn_terms.h"

#include "engine/evaluation/clamp.h"
#include "engine/rules/geometry.h"

/* What stands ahead of a pawn on its file. */
static int pawn_ahead(Side side, Bitboard here, Bitboard own, Bitboard enemies)
{
    Bitboard ahead = push_forward(side, fill_ahead(side, here));
    if (ahead & own)
        return AHEAD_OWN;
    if (!(ahead & enemies))
        return AHEAD_NOBODY;
    return push_forward(side, here) & enemies ? AHEAD_RAM : AHEAD_ENEMY;
}

/* Which own pawns on the neighbouring files can help a pawn. */
static int pawn_company(Side side, Square square, Bitboard own)
{
    Bitboard here = bit(square), row = rank_mask(rank_of(square)), file = file_mask(file_of(square));
    Bitboard neighbours = (shift_west(file) | shift_east(file)) & own;
    if (!neighbours)
        return COMPANY_NONE;
    if (pawn_attacks(opposite(side), here) & own)
        return COMPANY_LINK;
    if (neighbours & row)
        return COMPANY_BESIDE;
    return neighbours & fill_ahead(opposite(side), row) ? COMPANY_BEHIND : COMPANY_AHEAD;
}

void pawn_terms(const EvalWeights *w, const Bitboard pawns[SIDE_COUNT], PawnTerms *terms)
{
    Bitboard white_rams = pawns[WHITE] & pawns[BLACK] >> 8;
    *terms = (PawnTerms){.rams = white_rams | white_rams << 8};
    for (Side side = WHITE; side <= BLACK; side++) {
        Bitboard enemies = pawns[opposite(side)], own = pawns[side];
        Bitboard enemy_front = fill_ahead(opposite(side), enemies | pawn_attacks(opposite(side), enemies));
        Bitboard own_front = fill_ahead(opposite(side), push_forward(opposite(side), own));
        Pair score = 0;
        terms->passed |= own & ~enemy_front & ~own_front;
        for (Bitboard left = own; left;) {
            Square square = take_first(&left);
            int row = clamp(relative_rank(side, square) - RANK_2, 0, PAWN_RANKS - 1);
            score +=
                w->material[PAWN] + w->placement[PAWN][fold_square(side, square)] +
                w->pawn[pawn_ahead(side, bit(square), own, enemies)][pawn_company(side, square, own)][row];
        }
        terms->score += side == WHITE ? score : -score;
    }
}

/* Pawns by their distance from a king in files and by how many ranks they are ahead of it. */
static Pair seen_from(const Pair table[SEEN_FILES][SEEN_RANKS], Side side, Square king, Bitboard pawns)
{
    Pair score = 0;
    while (pawns) {
        Square pawn = take_first(&pawns);
        int files = file_of(pawn) - file_of(king);
        int ranks = relative_rank(side, pawn) - relative_rank(side, king) + SEEN_BEHIND;
        files = files < 0 ? -files : files;
        score += table[at_most(files, SEEN_FILES - 1)][clamp(ranks, 0, SEEN_RANKS - 1)];
    }
    return score;
}

Pair pawns_seen_by_king(const EvalWeights *w, const Position *position, Side side)
{
    Square king = position_king(position, side);
    Bitboard own = position_men(position, side, PAWN), enemies = position_men(position, opposite(side), PAWN);
    Bitboard rammed = enemies & push_forward(side, own);
    return seen_from(w->seen[SEEN_OWN], side, king, own) +
           seen_from(w->seen[SEEN_ENEMY], side, king, enemies & ~rammed) +
           seen_from(w->seen[SEEN_RAMMED], side, king, rammed);
}
