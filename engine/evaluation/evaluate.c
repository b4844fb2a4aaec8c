#include "engine/evaluation/evaluate.h"

#include "engine/evaluation/contest.h"
#include "engine/evaluation/endgame.h"
#include "engine/evaluation/king.h"
#include "engine/evaluation/passed.h"
#include "engine/evaluation/pieces.h"
#include "engine/evaluation/score.h"
#include "engine/evaluation/structure_view.h"

/* Everything with a weight of EvalWeights, for White. */
static Pair weighted_sum(const Evaluator *e, const Position *position, PawnEntry *entry)
{
    Survey v;
    survey(&v, position, e->weights, &entry->terms);
    Pair score = entry->terms.score;
    score += pawn_table_king(&e->pawns, entry, position, WHITE);
    score -= pawn_table_king(&e->pawns, entry, position, BLACK);
    score += score_pieces(&v) + score_contest(&v) + score_kings(&v) + score_passed_pawns(&v);
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
    if (e->lever_weight == 0 || (ps_is_silent(&entry->skeleton) && !ps_has_intent(&e->intent)))
        return 0;
    ps_board board;
    structure_view(position, &board);
    return ps_intent_term(&e->intent, &entry->skeleton, &board, &e->lever_weights) * e->lever_weight / 100;
#endif
}

uint64_t evaluate_intend(Evaluator *e, const Position *root)
{
    e->intent = (ps_intent){0};
#ifdef PAWNVANE_NO_TERM
    (void)root;
#else
    if (e->lever_weight != 0) {
        ps_board board;
        structure_view(root, &board);
        ps_intend(&e->intent, &board, e->pawns.rule, &e->lever_weights);
    }
#endif
    return ps_intent_key(&e->intent);
}

int evaluate(Evaluator *e, const Position *position)
{
    PawnEntry *entry = pawn_table_look_up(&e->pawns, position);
    int score =
        endgame_score(position, taper(position, &e->weights->units, weighted_sum(e, position, entry)));
    score = (position_turn(position) == WHITE ? score : -score) + lever_term(e, entry, position);
    return score_without_mate(score + misjudge(&e->misjudgement, position));
}

Pair evaluate_sum(Evaluator *e, const Position *position)
{
    return weighted_sum(e, position, pawn_table_look_up(&e->pawns, position));
}

int evaluate_taper(const Position *position, const EvalUnits *units, Pair sum)
{
    return taper(position, units, sum);
}
