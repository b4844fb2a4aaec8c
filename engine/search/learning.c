#include "engine/search/learning.h"

/* `plain`: the history of the move itself learns, too, not only its pages. */
static void learn_quiet(const Position *p, const OrderingHints *hints, Move move, int bonus, bool plain)
{
    if (plain)
        history_learn(plain_history(p, hints, move), bonus);
    for (int i = 0; i < PAGES; i++)
        if (hints->pages[i])
            history_learn(&hints->pages[i][role_square(p, move)], bonus);
}

void learn_cutoff(Searcher *s, Frame *f, const OrderingHints *hints, Move best, const Tried *tried, int depth)
{
    const Parameters *par = &s->parameters;
    const Position *p = &f->position;
    int bonus = at_most(par->bonus_slope * depth - par->bonus_base, par->bonus_most);
    int malus = at_most(par->malus_slope * depth - par->malus_base, par->malus_most);
    if (move_is_quiet(p, best)) {
        bool plain = !s->shared || depth >= TAUGHT_DEPTH;
        if (f->killers[0] != best) {
            f->killers[1] = f->killers[0];
            f->killers[0] = best;
        }
        if (f->ply > 0 && f[-1].role_square >= 0)
            s->histories->counter[f[-1].role_square] = best;
        learn_quiet(p, hints, best, bonus, plain);
        for (int i = 0; i < tried->quiet_count; i++)
            if (tried->quiets[i] != best)
                learn_quiet(p, hints, tried->quiets[i], -malus, plain);
    } else if (par->capture_history) {
        history_learn(capture_history(s->histories, p, best), bonus);
    }
    if (par->capture_history)
        for (int i = 0; i < tried->capture_count; i++)
            if (tried->captures[i] != best)
                history_learn(capture_history(s->histories, p, tried->captures[i]), -malus);
}

void learn_static_change(const Searcher *s, const Frame *f)
{
    const Frame *before = f - 1;
    if (!before->history || before->static_score == SCORE_NONE)
        return;
    int most = s->parameters.static_most;
    int bonus = -(f->static_score + before->static_score) * s->parameters.static_bonus / 10;
    if (s->shared && bonus > -TAUGHT_CHANGE && bonus < TAUGHT_CHANGE)
        return;
    history_learn(before->history, clamp(bonus, -most, most));
}

void learn_correction(Searcher *s, const Frame *f, int score, Bound bound, Move best, int depth)
{
    const Position *p = &f->position;
    bool quiet = best == NO_MOVE || move_is_quiet(p, best);
    if (f->checkers || !quiet || score_is_mate(score) || nears_fifty_moves(p) ||
        (bound == BOUND_LOWER && score <= f->static_score) ||
        (bound == BOUND_UPPER && score >= f->static_score))
        return;
    correction_learn(s->corrections, &s->parameters, p, score - f->static_score, depth);
}
