#include "engine/search/learning.h"

/* Whether the history that workers share learns at nodes of that depth. */
static bool is_taught(const Searcher *s, int depth)
{
    return !s->shared || depth >= TAUGHT_DEPTH;
}

/* `plain`: the history of the move itself learns, too, not only its pages. */
static void learn_quiet(const Histories *h, const Position *p, const OrderingHints *hints, Move move,
                        int lesson, bool plain)
{
    if (plain)
        history_learn(plain_history(p, hints, move), lesson);
    for (int i = 0; i < PAGES; i++)
        if (hints->pages[i] != h->no_page)
            history_learn(&hints->pages[i][role_square(p, move)], lesson);
}

void learn_cutoff(Searcher *s, Frame *f, const OrderingHints *hints, Move best, const Tried *tried, int depth)
{
    const Parameters *par = &s->parameters;
    const Position *p = &f->position;
    int gain = at_most(par->gain * depth, par->gain_most);
    int loss = at_most(par->loss * depth, par->loss_most);
    if (move_is_quiet(p, best)) {
        bool plain = is_taught(s, depth);
        if (f->killers[0] != best) {
            f->killers[1] = f->killers[0];
            f->killers[0] = best;
        }
        if (move_before(f) >= 0)
            s->histories->counter[move_before(f)] = best;
        learn_quiet(s->histories, p, hints, best, gain, plain);
        for (int i = 0; i < tried->quiet_count; i++)
            if (tried->quiets[i] != best)
                learn_quiet(s->histories, p, hints, tried->quiets[i], -loss, plain);
    } else {
        history_learn(capture_history(s->histories, p, best), gain);
    }
    for (int i = 0; i < tried->capture_count; i++)
        if (tried->captures[i] != best)
            history_learn(capture_history(s->histories, p, tried->captures[i]), -loss);
}

void learn_look(const Searcher *s, const Position *p, const OrderingHints *hints, const MoveContext *m,
                int depth)
{
    if (m->quiet && m->shift && is_taught(s, depth))
        history_learn(plain_history(p, hints, m->move), m->shift * s->parameters.shift / 100);
}

void learn_correction(Searcher *s, const Frame *f, int score, Bound bound, Move best, int depth)
{
    const Position *p = &f->position;
    bool quiet = best == NO_MOVE || move_is_quiet(p, best);
    if (f->checkers || !quiet || score_is_mate(score) || nears_fifty_moves(p) ||
        (bound == BOUND_LOWER && score <= f->static_score) ||
        (bound == BOUND_UPPER && score >= f->static_score))
        return;
    correction_learn(s->corrections, p, move_before(f), score - f->static_score, depth);
}
