#include "bench/lesson/story.h"
#include "bench/base/array.h"
#include "engine/evaluation/structure_view.h"

#include <stdlib.h>
#include <string.h>

/* A chain of the game, followed from its first moment to its last. Locked pawns do not move, so a chain that has
 * grown or become shorter is still the same as long as it shares two of White's pawns with what it was. */
typedef struct Thread {
    Bitboard pawns;              /* White's, when it was last seen */
    int ready_since[SIDE_COUNT]; /* ply at which the present base lever became ready, or -1 */
    bool present;
    int departure;                 /* index of the event of its end, -1 if there is none */
    StoryEvent missed[SIDE_COUNT]; /* the worst so far; ply -1 if none */
} Thread;

enum { THREADS_MAX = 64 };

typedef struct Teller {
    Story *story;
    Player *player;
    uint64_t nodes;
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
    *thread = (Thread){.pawns = white_pawns_of(chain),
                       .ready_since = {-1, -1},
                       .departure = -1,
                       .missed = {[WHITE] = {.ply = -1}, [BLACK] = {.ply = -1}}};
    return thread;
}

static StoryEvent event_of(StoryKind kind, int ply, Side side, const ps_chain *chain)
{
    return (StoryEvent){.kind = kind,
                        .ply = ply,
                        .side = side,
                        .first_file = chain->first_file,
                        .last_file = chain->last_file,
                        .grade = chain->grade,
                        .base = true,
                        .ready_since = -1};
}

/* ------------------------------------------------------------------------------- what changes at a move */

/* A chain that an exchange takes away and the recapture brings back has never been gone: its end is untold. */
static bool is_recapture(Teller *teller, const Thread *thread, int ply)
{
    if (thread->departure < 0 || teller->story->events[thread->departure].ply != ply - 1)
        return false;
    teller->story->events[thread->departure].kind = STORY_UNTOLD;
    return true;
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
        StoryEvent event = event_of(STORY_AROSE, ply, mover, chain);
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
            thread->ready_since[side] = -1;
            if (lever->square == PS_NO_SQUARE || old == PS_NO_SQUARE)
                continue;
            StoryEvent event = event_of(STORY_MOVED_ON, ply, side, is);
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
            if (lever->square == PS_NO_SQUARE || lever->status != PS_READY || thread->ready_since[side] >= 0)
                continue;
            thread->ready_since[side] = ply;
            StoryEvent event = event_of(STORY_READY, ply, side, chain);
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
            StoryEvent event = event_of(STORY_SHUT, ply, side, is);
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
        StoryEvent event = event_of(STORY_RESOLVED, ply, mover, was);
        thread->departure = teller->story->event_count;
        tell(teller, &event);
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
            *push = (Push){thread, event_of(STORY_MISSED, turn->ply, side, chain), move};
            push->event.base = base;
            push->event.lever = *lever;
            push->event.ready_since = base ? thread->ready_since[side] : -1;
        }
}

static void tell_push(Teller *teller, const Turn *turn, Push *push)
{
    StoryEvent *event = &push->event, *worst = &push->thread->missed[event->side];
    if (push->move == turn->chosen) {
        event->kind = STORY_PLAYED;
        event->ply++;
        tell(teller, event);
        return;
    }
    JudgedMove missed_by = event->chosen;
    judged_compare(&missed_by, &event->push);
    if (event->push.judgement <= JUDGED_SOUND && missed_by.judgement > JUDGED_SOUND &&
        (worst->ply < 0 || event->chosen.behind > worst->chosen.behind))
        *worst = *event;
}

/* Everything is searched before anything is judged: any of it may be the best. Whether a lever is the only
 * good move matters if it is the best. */
static void consider_turn(Teller *teller, Turn *turn, const ps_analysis *now)
{
    find_pushes(teller, turn, now);
    if (turn->push_count == 0)
        return;
    Comparison *comparison = comparison_new(teller->player, &turn->position, teller->nodes);
    if (comparison == NULL) {
        teller->memory_ran_out = true;
        return;
    }
    comparison_add(comparison, turn->chosen);
    for (int i = 0; i < turn->push_count; i++)
        comparison_add(comparison, turn->pushes[i].move);
    if (is_found(turn, comparison_best(comparison)))
        comparison_add_rival(comparison);
    for (int i = 0; i < turn->push_count; i++) {
        StoryEvent *event = &turn->pushes[i].event;
        comparison_judge(comparison, comparison_best(comparison), &event->best);
        comparison_judge(comparison, turn->chosen, &event->chosen);
        comparison_judge(comparison, turn->pushes[i].move, &event->push);
        tell_push(teller, turn, &turn->pushes[i]);
    }
    comparison_free(comparison);
}

static void tell_misses(Teller *teller)
{
    for (int i = 0; i < teller->thread_count; i++)
        for (int side = WHITE; side <= BLACK; side++)
            if (teller->threads[i].missed[side].ply >= 0)
                tell(teller, &teller->threads[i].missed[side]);
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
        if (ply == story->ply_count)
            return;
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
        *teller = (Teller){.story = story, .player = player, .nodes = settings->nodes};
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
