#include "engine/evaluation/evaluate.h"

#include "engine/evaluation/endgame.h"
#include "engine/evaluation/king_danger.h"
#include "engine/evaluation/passed_pawns.h"
#include "engine/evaluation/pieces.h"
#include "engine/evaluation/score.h"
#include "engine/evaluation/structure_view.h"
#include "engine/evaluation/threats.h"

FOR_A_SIDE void survey_pawns_and_king(Survey *v, Side side)
{
    Bitboard ahead = push_forward(side, position_men(v->p, side, PAWN));
    Square king = position_king(v->p, side);
    note_attacks(v, side, KING, king_attacks(king));
    note_attacks(v, side, PAWN, shift_west(ahead));
    note_attacks(v, side, PAWN, shift_east(ahead));
    v->king_zone[side] = king_attacks(king) | bit(king);
    v->king_zone[side] |= push_forward(side, v->king_zone[side]);
}

static Survey survey(const Evaluator *e, const Position *position, const PawnTerms *pawns)
{
    Survey v = {.p = position, .w = e->weights, .pawns = pawns, .occupied = position_occupied(position)};
    survey_pawns_and_king(&v, WHITE);
    survey_pawns_and_king(&v, BLACK);
    return v;
}

FOR_A_SIDE Pair score_space_of(const Survey *v, Side side)
{
    Bitboard own = position_men(v->p, side, PAWN);
    Bitboard ranks = side == WHITE ? (RANK_1_BB << 8 | RANK_1_BB << 16 | RANK_1_BB << 24)
                                   : (RANK_8_BB >> 8 | RANK_8_BB >> 16 | RANK_8_BB >> 24);
    Bitboard safe = CENTRE_FILES & ranks & ~own & ~v->attacks[opposite(side)][PAWN];
    return v->w->space * count_squares(safe);
}

static Pair score_space(const Survey *v)
{
    return score_space_of(v, WHITE) - score_space_of(v, BLACK);
}

/* Everything with a weight of EvalWeights, for White. */
static Pair weighted_sum(const Evaluator *e, const Position *position, PawnEntry *entry)
{
    Survey v = survey(e, position, &entry->terms);
    Pair score = entry->terms.score;
    score += pawn_table_king(&e->pawns, entry, position, WHITE);
    score -= pawn_table_king(&e->pawns, entry, position, BLACK);
    score += score_pieces(&v); /* first, since the others read what pieces attack */
    score += score_kings(&v) + score_passed_pawns(&v) + score_threats(&v) + score_space(&v);
    return score + (position_turn(position) == WHITE ? e->weights->tempo : -e->weights->tempo);
}

/* Out of PHASE_FULL: how much of the middlegame is left. */
static int phase_of(const Position *p)
{
    int phase = PHASE_MINOR * count_squares(p->by_role[KNIGHT] | p->by_role[BISHOP]) +
                PHASE_ROOK * count_squares(p->by_role[ROOK]) + PHASE_QUEEN * count_squares(p->by_role[QUEEN]);
    return at_most(phase, PHASE_FULL);
}

static int taper(const Position *p, const EvalUnits *u, Pair score)
{
    int phase = phase_of(p), middlegame = pair_middlegame(score), endgame = pair_endgame(score);
    Side ahead = endgame > 0 ? WHITE : BLACK;
    endgame = endgame * endgame_chances(p, u, ahead) / CHANCES_FULL + endgame_drive(p, WHITE) -
              endgame_drive(p, BLACK);
    return (middlegame * phase + endgame * (PHASE_FULL - phase)) / PHASE_FULL;
}

static int lever_term(const Evaluator *e, const PawnEntry *entry, const Position *position)
{
#ifdef PAWNVANE_NO_TERM
    (void)e, (void)entry, (void)position;
    return 0;
#else
    if (e->lever_weight == 0 || ps_is_silent(&entry->skeleton))
        return 0;
    ps_board board;
    structure_view(position, &board);
    return ps_term(&entry->skeleton, &board, &e->lever_weights) * e->lever_weight / 100;
#endif
}

int evaluate(Evaluator *e, const Position *position)
{
    PawnEntry *entry = pawn_table_look_up(&e->pawns, position);
    int score = taper(position, &e->weights->units, weighted_sum(e, position, entry));
    score = (position_turn(position) == WHITE ? score : -score) + lever_term(e, entry, position);
    return score_without_mate(score);
}

Pair evaluate_sum(Evaluator *e, const Position *position)
{
    return weighted_sum(e, position, pawn_table_look_up(&e->pawns, position));
}

int evaluate_taper(const Position *position, const EvalUnits *units, Pair sum)
{
    return taper(position, units, sum);
}
