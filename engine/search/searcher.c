#include "engine/search/searcher.h"

#include "engine/endings/ending_tables.h"
#include "engine/evaluation/endgame.h"

#include <assert.h>
#include <string.h>

void searcher_configure(Searcher *s, const Parameters *parameters)
{
    s->parameters = *parameters;
}

static void enter(Searcher *s, Frame *next)
{
    s->nodes++;
    next->raw = SCORE_NONE;
    s->keys[s->root_key + (size_t)next->ply] = next->position.key;
}

Frame *searcher_play(Searcher *s, Frame *f, Move move, bool gives_check)
{
    Frame *next = f + 1;
    f->role_square = role_square(&f->position, move);
    next->position = f->position;
    position_play(&next->position, move);
    table_prefetch(s->table, table_key(&next->position));
    next->ply = f->ply + 1;
    next->reversible = f->reversible + 1;
    next->checkers = gives_check ? position_checkers(&next->position) : 0;
    assert(next->checkers == position_checkers(&next->position));
    enter(s, next);
    return next;
}

Frame *searcher_pass(Searcher *s, Frame *f)
{
    Frame *next = f + 1;
    f->role_square = -1;
    next->position = f->position;
    position_pass(&next->position);
    table_prefetch(s->table, table_key(&next->position));
    next->ply = f->ply + 1;
    next->reversible = 0;
    next->checkers = 0;
    enter(s, next);
    return next;
}

void frame_take_line(Frame *f, Move move)
{
    const Frame *next = f + 1;
    f->pv[0] = move;
    memcpy(f->pv + 1, next->pv, (size_t)next->pv_length * sizeof *f->pv);
    f->pv_length = next->pv_length + 1;
}

/* The first nodes may take long, while the system hands out the pages of the table. */
static bool must_stop(Searcher *s)
{
    enum { SLOW_NODES = 8192, ASK_EVERY = 256, ASK_EVERY_AT_FIRST = 2 };
    bool ask = s->nodes % ASK_EVERY == 0 || (s->nodes < SLOW_NODES && s->nodes % ASK_EVERY_AT_FIRST == 0);
    if (!s->stopped && (s->nodes >= s->node_limit || (ask && s->should_stop(s->context))))
        s->stopped = true;
    return s->stopped;
}

/* A position that comes again within the search counts as a draw at once: what can be repeated once can be
 * repeated twice. One from the game must have stood there twice before. */
static bool is_repetition(const Searcher *s, const Frame *f)
{
    const uint64_t *here = &s->keys[s->root_key + (size_t)f->ply];
    size_t back = s->root_key + (size_t)f->ply;
    int plies = at_most(f->position.halfmoves, f->reversible);
    int before_root = 0;
    plies = (size_t)plies < back ? plies : (int)back;
    for (int i = 4; i <= plies; i += 2)
        if (here[-i] == f->position.key && (i < f->ply || ++before_root == 2))
            return true;
    return false;
}

static bool is_draw(const Searcher *s, const Frame *f)
{
    const Position *p = &f->position;
    if (p->halfmoves >= 100)
        return !f->checkers || movegen_any(p);
    return is_repetition(s, f) || position_material_is_dead(p);
}

/* What the exact tables of endings say, if that ends the search of a node: a draw, or a mate before the fifty-move
 * rule can interfere. */
static bool is_settled(const Frame *f, int *score)
{
    KnownEnding known;
    if (f->ply == 0)
        return false;
    if (endgame_is_drawn(&f->position))
        return true;
    if (!ending_known(&f->position, &known))
        return false;
    if (known.value == 0 && known.exact)
        return true;
    if (known.mate_plies < 0 || f->position.halfmoves + known.mate_plies > 100)
        return false;
    int mate = SCORE_MATE - f->ply - known.mate_plies;
    *score = position_turn(&f->position) == known.side ? mate : -mate;
    return true;
}

bool searcher_ends(Searcher *s, Frame *f, int *score)
{
    f->pv_length = 0;
    s->deepest = at_least(s->deepest, f->ply);
    *score = SCORE_DRAW;
    if (must_stop(s) || is_draw(s, f) || is_settled(f, score))
        return true;
    if (f->ply < MAX_PLY)
        return false;
    if (!f->checkers)
        *score = searcher_look(s, f, NULL).corrected;
    return true;
}

static int evaluate_once(Searcher *s, const Position *p)
{
    uint64_t key = p->key ^ s->table->plans;
    int score;
    if (!score_remembered(s->scores, key, &score)) {
        score = evaluate(&s->evaluator, p);
        score_remember(s->scores, key, score);
    }
    return score;
}

StaticScore searcher_look(Searcher *s, const Frame *f, const TableEntry *entry)
{
    const Position *p = &f->position;
    bool stored = entry && entry->static_score != SCORE_NONE;
    StaticScore look = {.raw = stored                 ? entry->static_score
                               : f->raw != SCORE_NONE ? f->raw
                                                      : evaluate_once(s, p)};
    look.corrected = score_without_mate(look.raw + correction_of(s->corrections, p, move_before(f)));
    look.estimate = look.corrected;
    if (entry) {
        int score = score_from_table(entry->score, f->ply);
        if (!score_is_mate(score) && table_cuts(entry, score, look.corrected, look.corrected + 1))
            look.estimate = score;
    }
    return look;
}

void searcher_set_hints(const Searcher *s, const Frame *f, Move table_move, Threats *threats,
                        OrderingHints *hints)
{
    if (threats)
        view_threats(&f->position, threats);
    Side us = position_turn(&f->position);
    *hints = (OrderingHints){.table_move = table_move,
                             .killers = {f->killers[0], f->killers[1]},
                             .threats = threats,
                             .quiet = s->quiet,
                             .parameters = &s->parameters};
    for (int i = 0; i < CONTINUATIONS; i++) {
        const Frame *earlier = f - 1 - i;
        bool any = f->ply > i && earlier->role_square >= 0;
        hints->pages[i] =
            any ? s->histories->continuation[i][us][earlier->role_square] : s->histories->no_page;
    }
    hints->pages[CONTINUATIONS] = s->histories->pawns[us][f->position.pawn_key % PAWN_PAGES];
    if (move_before(f) >= 0)
        hints->counter = s->histories->counter[move_before(f)];
}
