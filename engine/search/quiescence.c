#include "engine/search/quiescence.h"

#include "engine/search/exchange.h"

/* The most that a move can be hoped to come to; a move for which that cannot be told is never in vain. */
static int reach_of(const Searcher *s, const Frame *f, Move move)
{
    if (f->checkers || !s->parameters.reach || move_is_promotion(move))
        return SCORE_INFINITE;
    return f->static_score + exchange_value(position_captured(&f->position, move)) + s->parameters.reach;
}

int quiesce(Searcher *s, Frame *f, int alpha, int beta)
{
    const Position *p = &f->position;
    const bool pv = beta - alpha > 1;
    int score;
    if (searcher_ends(s, f, &score))
        return score;

    TableEntry entry = {.move = NO_MOVE};
    bool known = table_probe(s->table, table_key(p), &entry);
    if (known && !pv) {
        score = score_from_table(entry.score, f->ply);
        if (table_cuts(&entry, score, alpha, beta))
            return score;
    }
    int best = -SCORE_INFINITE, raw = SCORE_NONE, first_alpha = alpha;
    if (!f->checkers) {
        StaticScore look = searcher_look(s, f, known ? &entry : NULL);
        raw = look.raw;
        best = look.estimate;
        if (best >= beta)
            return best;
        alpha = at_least(alpha, best);
    }
    f->static_score = f->checkers ? SCORE_NONE : best;

    OrderingHints hints;
    Picker picker;
    Threats threats;
    CheckView checks = {.king = NO_SQUARE}; /* until a move is played */
    Move move, best_move = NO_MOVE;
    int played = 0;
    searcher_set_hints(s, f, entry.move, f->checkers ? &threats : NULL, &hints);
    picker_start(&picker, p, s->histories, &hints, !f->checkers);
    while ((move = picker_next(&picker)) != NO_MOVE) {
        int reach = reach_of(s, f, move);
        if (reach <= alpha) {
            best = at_least(best, reach);
            continue;
        }
        if (checks.king == NO_SQUARE)
            position_view_checks(p, &checks);
        played++;
        Frame *next = searcher_play(s, f, move, position_gives_check(p, &checks, move));
        score = -quiesce(s, next, -beta, -alpha);
        if (s->stopped)
            return SCORE_DRAW;
        if (score <= best)
            continue;
        best = score;
        if (score <= alpha)
            continue;
        best_move = move;
        if (pv)
            frame_take_line(f, move);
        if (score >= beta) {
            searcher_count_cutoff(s, QUIESCENCE, played == 1);
            break;
        }
        alpha = score;
    }
    if (best == -SCORE_INFINITE)
        return score_mated_at(f->ply);
    Bound bound = best >= beta ? BOUND_LOWER : best > first_alpha && pv ? BOUND_EXACT : BOUND_UPPER;
    table_store(s->table, table_key(p), (TableEntry){best_move, score_to_table(best, f->ply), raw, 0, bound});
    return best;
}
