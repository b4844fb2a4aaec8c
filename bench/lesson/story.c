#include "bench/lesson/story.h"
#include "bench/base/array.h"
#include "engine/evaluation/structure_view.h"

#include <stdlib.h>
#include <string.h>

enum { THREADS_MAX = 64, SUSPECTS_MAX = 2 };

/* How long the present base lever of a side has been ready, and what became of it. */
typedef struct LeverWait {
    bool ready; /* it was, at some time */
    bool played;
    int moves, first, last; /* as in StoryEvent */
} LeverWait;

/* A chain of the game, followed from its first moment to its last. Locked pawns do not move, so a chain that has
 * grown or become shorter is still the same as long as it shares two of White's pawns with what it was. */
typedef struct Thread {
    Bitboard pawns; /* White's, when it was last seen */
    bool present;
    int locked_since;
    LeverWait waits[SIDE_COUNT];
    int departure; /* index of the event of its end, -1 if there is none */
    /* The levers that seem to have been missed, the worst first; ply -1 if none. */
    StoryEvent suspects[SIDE_COUNT][SUSPECTS_MAX];
} Thread;

/* A look at a turn has so small a part of the nodes of a judgement. */
enum { GLANCE = 32, LEAST_NODES = 1000 };

typedef struct Teller {
    Story *story;
    Player *player;
    Effort effort;
    size_t event_capacity;
    int thread_count;
    Thread threads[THREADS_MAX];
    bool memory_ran_out;
} Teller;

static void tell(Teller *teller, const StoryEvent *event)
{
    Story *story = teller->story;
    if (!array_reserve(story->events, teller->event_capacity, story->event_count, 1)) {
        teller->memory_ran_out = true;
        return;
    }
    story->events[story->event_count++] = *event;
}

static Bitboard white_pawns_of(const ps_chain *chain)
{
    const ps_chain_side *white = &chain->side[WHITE];
    int step = forward_step(WHITE) + white->direction;
    Bitboard pawns = 0;
    for (Square square = white->base; square != white->head + step; square += step)
        pawns |= bit(square);
    return pawns;
}

static bool is_same(const Thread *thread, const ps_chain *chain)
{
    return more_than_one(thread->pawns & white_pawns_of(chain));
}

static const ps_chain *find_chain(const ps_analysis *analysis, const Thread *thread)
{
    for (int i = 0; i < analysis->chain_count; i++)
        if (is_same(thread, &analysis->chains[i]))
            return &analysis->chains[i];
    return NULL;
}

static Thread *find_thread(Teller *teller, const ps_chain *chain)
{
    for (int i = 0; i < teller->thread_count; i++)
        if (is_same(&teller->threads[i], chain))
            return &teller->threads[i];
    if (teller->thread_count == THREADS_MAX)
        return NULL;
    Thread *thread = &teller->threads[teller->thread_count++];
    *thread = (Thread){.pawns = white_pawns_of(chain), .departure = -1};
    for (int side = WHITE; side <= BLACK; side++)
        for (int i = 0; i < SUSPECTS_MAX; i++)
            thread->suspects[side][i].ply = -1;
    return thread;
}

static StoryEvent event_of(StoryKind kind, int ply, Side side, const ps_chain *chain, const Thread *thread)
{
    const LeverWait *wait = &thread->waits[side];
    return (StoryEvent){.kind = kind,
                        .ply = ply,
                        .side = side,
                        .first_file = chain->first_file,
                        .last_file = chain->last_file,
                        .grade = chain->grade,
                        .base = true,
                        .locked_since = thread->locked_since,
                        .ready_moves = wait->moves,
                        .first_ready = wait->first,
                        .last_ready = wait->last};
}

/* ------------------------------------------------------------------------------- what changes at a move */

/* A chain that an exchange takes away and the recapture brings back has never been gone: its end is untold, and what
 * was told of its levers at that. */
static bool is_recapture(Teller *teller, const Thread *thread, int ply)
{
    Story *story = teller->story;
    if (thread->departure < 0 || story->events[thread->departure].ply != ply - 1)
        return false;
    const StoryEvent end = story->events[thread->departure];
    for (int i = thread->departure; i < story->event_count; i++) {
        StoryEvent *event = &story->events[i];
        bool same = event->first_file == end.first_file && event->last_file == end.last_file;
        if (same && event->ply == end.ply && (event->kind == STORY_RESOLVED || event->kind == STORY_UNUSED))
            event->kind = STORY_UNTOLD;
    }
    return true;
}

/* From how many moves on that a lever was ready and not played it is worth a word. */
enum { LONG_READY = 2 };

static void tell_unused(Teller *teller, int ply, Side side, const ps_chain *chain, const Thread *thread)
{
    const LeverWait *wait = &thread->waits[side];
    if (wait->played || wait->moves < LONG_READY)
        return;
    StoryEvent event = event_of(STORY_UNUSED, ply, side, chain, thread);
    event.lever = chain->side[side].base_lever;
    tell(teller, &event);
}

static void tell_arrival(Teller *teller, int ply, Side mover, const ps_analysis *now)
{
    for (int i = 0; i < now->chain_count; i++) {
        const ps_chain *chain = &now->chains[i];
        Thread *thread = chain->grade != PS_VOID ? find_thread(teller, chain) : NULL;
        if (thread == NULL || thread->present)
            continue;
        thread->present = true;
        if (is_recapture(teller, thread, ply))
            continue;
        thread->pawns = white_pawns_of(chain);
        thread->locked_since = ply;
        thread->waits[WHITE] = thread->waits[BLACK] = (LeverWait){0};
        StoryEvent event = event_of(STORY_AROSE, ply, mover, chain, thread);
        tell(teller, &event);
    }
}

/* Two chains that a pawn between them has joined are one from now on. */
static bool is_joined(const Teller *teller, int count, const ps_chain *chain)
{
    for (int i = 0; i < count; i++)
        if (teller->threads[i].present && is_same(&teller->threads[i], chain))
            return true;
    return false;
}

/* A chain that has become longer or shorter has other levers. */
static void tell_growth(Teller *teller, int ply, const ps_analysis *before, const ps_analysis *now)
{
    for (int i = 0; i < teller->thread_count; i++) {
        Thread *thread = &teller->threads[i];
        const ps_chain *was = find_chain(before, thread), *is = find_chain(now, thread);
        if (!thread->present || is == NULL)
            continue;
        if (is_joined(teller, i, is)) {
            thread->present = false;
            thread->pawns = 0;
            continue;
        }
        thread->pawns = white_pawns_of(is);
        for (Side side = WHITE; was != NULL && side <= BLACK; side++) {
            const ps_lever *lever = &is->side[side].base_lever;
            int old = was->side[side].base_lever.square;
            if (lever->square == old)
                continue;
            tell_unused(teller, ply, side, was, thread);
            thread->waits[side] = (LeverWait){0};
            if (lever->square == PS_NO_SQUARE || old == PS_NO_SQUARE)
                continue;
            StoryEvent event = event_of(STORY_MOVED_ON, ply, side, is, thread);
            event.lever = *lever;
            event.old_square = old;
            tell(teller, &event);
        }
    }
}

static void tell_readiness(Teller *teller, int ply, const ps_analysis *now)
{
    for (int i = 0; i < teller->thread_count; i++) {
        Thread *thread = &teller->threads[i];
        const ps_chain *chain = find_chain(now, thread);
        for (Side side = WHITE; chain != NULL && side <= BLACK; side++) {
            const ps_lever *lever = &chain->side[side].base_lever;
            if (lever->square == PS_NO_SQUARE || lever->status != PS_READY || thread->waits[side].ready)
                continue;
            thread->waits[side].ready = true;
            StoryEvent event = event_of(STORY_READY, ply, side, chain, thread);
            event.lever = *lever;
            tell(teller, &event);
        }
    }
}

static void tell_shutting(Teller *teller, int ply, const ps_analysis *before, const ps_analysis *now)
{
    for (int i = 0; i < teller->thread_count; i++) {
        const ps_chain *was = find_chain(before, &teller->threads[i]);
        const ps_chain *is = find_chain(now, &teller->threads[i]);
        for (Side side = WHITE; was != NULL && is != NULL && side <= BLACK; side++) {
            const ps_lever *old = &was->side[side].base_lever, *new = &is->side[side].base_lever;
            bool could_come = ps_lever_is_live(old) && old->status != PS_PLAYED;
            if (old->square != new->square || !could_come || ps_lever_is_live(new) || ps_lever_is_done(new))
                continue;
            StoryEvent event = event_of(STORY_SHUT, ply, side, is, &teller->threads[i]);
            event.lever = *new;
            tell(teller, &event);
        }
    }
}

static void tell_departure(Teller *teller, int ply, Side mover, const ps_analysis *before,
                           const ps_analysis *now)
{
    for (int i = 0; i < teller->thread_count; i++) {
        Thread *thread = &teller->threads[i];
        const ps_chain *was = find_chain(before, thread);
        if (!thread->present || was == NULL || find_chain(now, thread) != NULL)
            continue;
        thread->present = false;
        StoryEvent event = event_of(STORY_RESOLVED, ply, mover, was, thread);
        thread->departure = teller->story->event_count;
        tell(teller, &event);
        for (Side side = WHITE; side <= BLACK; side++)
            tell_unused(teller, ply, side, was, thread);
    }
}

/* What is still locked when the game ends. */
static void tell_rest(Teller *teller, int ply, Side mover, const ps_analysis *now)
{
    for (int i = 0; i < teller->thread_count; i++) {
        const Thread *thread = &teller->threads[i];
        const ps_chain *chain = find_chain(now, thread);
        if (!thread->present || chain == NULL)
            continue;
        StoryEvent event = event_of(STORY_LASTED, ply, mover, chain, thread);
        tell(teller, &event);
        for (Side side = WHITE; side <= BLACK; side++)
            tell_unused(teller, ply, side, chain, thread);
    }
}

/* ------------------------------------------------------------------------------- levers played and missed */

/* A lever that the side to move could play. */
typedef struct Push {
    Thread *thread;
    StoryEvent event;
    Move move;
} Push;

/* A side's choice of a move. */
typedef struct Turn {
    Position position;
    int ply; /* plies played before */
    Move chosen;
    int push_count;
    Push pushes[2 * PS_MAX_CHAINS];
} Turn;

/* Whether one push plays the lever, and which. */
static bool is_push(const ps_lever *lever, const Position *position, Move *push)
{
    if (!ps_lever_is_live(lever) || lever->status == PS_PLAYED || lever->steps != 1)
        return false;
    *push = move_make(lever->pawn, lever->square, PLAIN);
    return movegen_is_legal(position, *push);
}

/* Two chains may share a lever. */
static bool is_found(const Turn *turn, Move push)
{
    for (int i = 0; i < turn->push_count; i++)
        if (turn->pushes[i].move == push)
            return true;
    return false;
}

/* Every lever that the side to move could play now, firmest chains first. */
static void find_pushes(Teller *teller, Turn *turn, const ps_analysis *now)
{
    Side side = position_turn(&turn->position);
    for (int grade = PS_FIRM; grade > PS_VOID; grade--)
        for (int i = 0; i < 2 * now->chain_count; i++) {
            const ps_chain *chain = &now->chains[i / 2];
            bool base = i % 2 == 0;
            const ps_lever *lever = base ? &chain->side[side].base_lever : &chain->side[side].head_lever;
            Move move;
            if (chain->grade != grade || !is_push(lever, &turn->position, &move) || is_found(turn, move))
                continue;
            Thread *thread = find_thread(teller, chain);
            if (thread == NULL)
                continue;
            Push *push = &turn->pushes[turn->push_count++];
            *push = (Push){thread, event_of(STORY_MISSED, turn->ply, side, chain, thread), move};
            push->event.base = base;
            push->event.lever = *lever;
            if (!base)
                push->event.ready_moves = 0;
        }
}

/* A side that has a ready lever has one more move on which it could play it, or plays it. */
static void count_waiting(Teller *teller, const Turn *turn, const ps_analysis *now)
{
    Side side = position_turn(&turn->position);
    for (int i = 0; i < teller->thread_count; i++) {
        const ps_chain *chain = find_chain(now, &teller->threads[i]);
        const ps_lever *lever = chain != NULL ? &chain->side[side].base_lever : NULL;
        LeverWait *wait = &teller->threads[i].waits[side];
        Move move;
        if (lever == NULL || !is_push(lever, &turn->position, &move))
            continue;
        wait->played |= move == turn->chosen;
        if (lever->status != PS_READY || move == turn->chosen)
            continue;
        if (wait->moves++ == 0)
            wait->first = turn->ply;
        wait->last = turn->ply;
    }
}

static Comparison *compare(Teller *teller, const Position *position, uint64_t nodes, Move chosen)
{
    Effort effort = teller->effort;
    effort.nodes = nodes;
    Comparison *comparison = comparison_new(teller->player, position, &effort);
    if (comparison == NULL)
        teller->memory_ran_out = true;
    else
        comparison_add(comparison, chosen);
    return comparison;
}

/* Whether the move of the game is clearly behind the push. */
static bool judge(const Comparison *comparison, Move chosen, Move push, StoryEvent *event)
{
    JudgedMove missed_by;
    comparison_judge(comparison, comparison_best(comparison), &event->best);
    comparison_judge(comparison, chosen, &event->chosen);
    comparison_judge(comparison, push, &event->push);
    comparison_judge_against(comparison, chosen, push, &missed_by);
    event->cost = missed_by.behind;
    event->judged = true;
    return missed_by.judgement > JUDGED_CLOSE;
}

/* A lever that is played is judged for good. Whether it is the only good move matters if it is the best. */
static void tell_played(Teller *teller, const Turn *turn, Push *push)
{
    StoryEvent *event = &push->event;
    event->kind = STORY_PLAYED;
    event->ply++;
    Comparison *comparison = NULL;
    if (teller->effort.nodes > 0)
        comparison = compare(teller, &turn->position, teller->effort.nodes, turn->chosen);
    if (comparison != NULL) {
        if (comparison_best(comparison) == push->move)
            comparison_add_rival(comparison);
        judge(comparison, turn->chosen, push->move, event);
        comparison_free(comparison);
    }
    tell(teller, event);
}

/* Keeps the worst, in their order. */
static void suspect(Thread *thread, const StoryEvent *event)
{
    StoryEvent *suspects = thread->suspects[event->side];
    for (int i = 0; i < SUSPECTS_MAX; i++) {
        if (suspects[i].ply >= 0 && suspects[i].cost >= event->cost)
            continue;
        for (int k = SUSPECTS_MAX - 1; k > i; k--)
            suspects[k] = suspects[k - 1];
        suspects[i] = *event;
        return;
    }
}

/* A glance at a turn on which levers were left alone. Everything is searched before anything is judged: any of it may
 * be the best. */
static void glance(Teller *teller, Turn *turn)
{
    uint64_t nodes = teller->effort.nodes / GLANCE;
    Comparison *comparison =
        compare(teller, &turn->position, nodes > LEAST_NODES ? nodes : LEAST_NODES, turn->chosen);
    if (comparison == NULL)
        return;
    for (int i = 0; i < turn->push_count; i++)
        comparison_add(comparison, turn->pushes[i].move);
    for (int i = 0; i < turn->push_count; i++) {
        Push *push = &turn->pushes[i];
        judge(comparison, turn->chosen, push->move, &push->event);
        if (push->event.cost > 0)
            suspect(push->thread, &push->event);
    }
    comparison_free(comparison);
}

static void consider_turn(Teller *teller, Turn *turn, const ps_analysis *now)
{
    bool played = false;
    find_pushes(teller, turn, now);
    for (int i = 0; i < turn->push_count; i++) {
        if (turn->pushes[i].move != turn->chosen)
            continue;
        played = true;
        tell_played(teller, turn, &turn->pushes[i]);
    }
    if (!played && turn->push_count > 0 && teller->effort.nodes > 0)
        glance(teller, turn);
    count_waiting(teller, turn, now);
}

/* Whether a lever was missed, by all nodes: it holds up, and the move of the game is clearly behind it. */
static bool is_missed(Teller *teller, StoryEvent *event)
{
    Position position;
    story_position(teller->story, event->ply, &position);
    Comparison *comparison = compare(teller, &position, teller->effort.nodes, event->chosen.move);
    if (comparison == NULL)
        return false;
    comparison_add(comparison, event->push.move);
    bool behind = judge(comparison, event->chosen.move, event->push.move, event);
    comparison_free(comparison);
    return behind && event->push.judgement <= JUDGED_CLOSE;
}

static void tell_misses(Teller *teller)
{
    for (int i = 0; i < teller->thread_count; i++)
        for (int side = WHITE; side <= BLACK; side++)
            for (int k = 0; k < SUSPECTS_MAX && !teller->memory_ran_out; k++) {
                StoryEvent *event = &teller->threads[i].suspects[side][k];
                if (event->ply < 0 || !is_missed(teller, event))
                    continue;
                tell(teller, event);
                break;
            }
}

/* ------------------------------------------------------------------------------------------
 * the whole game */

static int by_ply(const void *a, const void *b)
{
    const StoryEvent *one = a, *other = b;
    if (one->ply != other->ply)
        return one->ply < other->ply ? -1 : 1;
    if (one->kind != other->kind)
        return one->kind < other->kind ? -1 : 1;
    return one->side != other->side ? (one->side < other->side ? -1 : 1)
                                    : one->first_file - other->first_file;
}

static void tell_game(Teller *teller)
{
    const Story *story = teller->story;
    Turn turn = {.position = story->start};
    ps_analysis before, now;
    structure_analyse(&turn.position, &now);
    for (int ply = 0; !teller->memory_ran_out; ply++) {
        Side mover = opposite(position_turn(&turn.position));
        if (ply > 0) {
            tell_departure(teller, ply, mover, &before, &now);
            tell_shutting(teller, ply, &before, &now);
            tell_growth(teller, ply, &before, &now);
        }
        tell_arrival(teller, ply, mover, &now);
        tell_readiness(teller, ply, &now);
        if (ply == story->ply_count) {
            tell_rest(teller, ply, mover, &now);
            return;
        }
        turn = (Turn){.position = turn.position, .ply = ply, .chosen = story->moves[ply]};
        if (turn.chosen != NO_MOVE)
            consider_turn(teller, &turn, &now);
        story_play(&turn.position, story->moves[ply]);
        before = now;
        structure_analyse(&turn.position, &now);
    }
}

static void drop_untold(Story *story)
{
    int kept = 0;
    for (int i = 0; i < story->event_count; i++)
        if (story->events[i].kind != STORY_UNTOLD)
            story->events[kept++] = story->events[i];
    story->event_count = kept;
}

bool story_make(Story *story, const Position *start, const Move *moves, int ply_count, Player *player,
                const LessonSettings *settings)
{
    *story = (Story){.start = *start, .ply_count = ply_count};
    Teller *teller = calloc(1, sizeof *teller);
    story->moves = calloc((size_t)ply_count + 1, sizeof *moves);
    if (teller != NULL && story->moves != NULL) {
        if (ply_count > 0) /* else there may be no moves to copy from */
            memcpy(story->moves, moves, (size_t)ply_count * sizeof *moves);
        *teller = (Teller){.story = story, .player = player, .effort = settings->effort};
        tell_game(teller);
        tell_misses(teller);
        drop_untold(story);
        if (story->event_count > 0)
            qsort(story->events, (size_t)story->event_count, sizeof *story->events, by_ply);
    }
    bool good = teller != NULL && story->moves != NULL && !teller->memory_ran_out;
    free(teller);
    if (!good)
        story_free(story);
    return good;
}

void story_free(Story *story)
{
    free(story->moves);
    free(story->events);
    *story = (Story){0};
}

void story_play(Position *position, Move move)
{
    if (move == NO_MOVE)
        position_pass(position);
    else
        position_play(position, move);
}

void story_position(const Story *story, int ply, Position *position)
{
    *position = story->start;
    for (int i = 0; i < ply; i++)
        story_play(position, story->moves[i]);
}
