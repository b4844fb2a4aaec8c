#include "bench/lesson/story_words.h"
#include "bench/explain/answer.h"
#include "structure/sentences.h"

#include <stdio.h>
#include <string.h>

void story_choice_text(const Story *story, int ply, Move move, char text[PGN_NUMBERED_SIZE])
{
    Position position;
    story_position(story, ply, &position);
    pgn_numbered_move(&position, move, text);
}

void story_move_text(const Story *story, int ply, char text[PGN_NUMBERED_SIZE])
{
    story_choice_text(story, ply - 1, story->moves[ply - 1], text);
}

static const char *const side_titles[] = {"White", "Black"};

/* "With 9...d5", or "From the start" */
static void write_since(const Story *story, int ply, const char *word, char *text, size_t size)
{
    char move[PGN_NUMBERED_SIZE];
    if (ply == 0) {
        snprintf(text, size, "From the start");
        return;
    }
    story_move_text(story, ply, move);
    snprintf(text, size, "%s %s", word, move);
}

/* Whether that is told of another chain just before: the second sentence needs not say all of it again. */
static bool is_another(const Story *story, const StoryEvent *event)
{
    return event > story->events && event < story->events + story->event_count &&
           event[-1].kind == event->kind && event[-1].ply == event->ply;
}

static size_t write_chain(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char since[PGN_NUMBERED_SIZE + 8], files[48];
    write_since(story, event->ply, "With", since, sizeof since);
    answer_files(event->first_file, event->last_file, files, sizeof files);
    return (size_t)snprintf(text, size, "%s the pawns on the %s are locked.", since, files);
}

/* How long a chain was locked, in moves of each side. */
static int moves_locked(const StoryEvent *event)
{
    return (event->ply - event->locked_since + 1) / 2;
}

static size_t write_resolved(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char since[PGN_NUMBERED_SIZE + 8], files[48], moves[COUNT_TEXT_SIZE];
    write_since(story, event->ply, "With", since, sizeof since);
    answer_files(event->first_file, event->last_file, files, sizeof files);
    count_in_words(moves_locked(event), "move", "moves", moves);
    if (is_another(story, event))
        return (size_t)snprintf(text, size, "So does the lock on the %s, after %s.", files, moves);
    return (size_t)snprintf(text, size, "%s the lock on the %s dissolves, after %s.", since, files, moves);
}

static size_t write_lasted(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char files[48], moves[COUNT_TEXT_SIZE];
    answer_files(event->first_file, event->last_file, files, sizeof files);
    count_in_words(moves_locked(event), "move", "moves", moves);
    if (is_another(story, event))
        return (size_t)snprintf(text, size, "So did the lock on the %s, for %s.", files, moves);
    return (size_t)snprintf(text, size, "The lock on the %s lasted to the end of the game, for %s.", files,
                            moves);
}

static int number_of_move(const Story *story, int ply)
{
    Position position;
    story_position(story, ply, &position);
    return position.fullmove;
}

/* "f5 was ready for six moves, from move 12 to move 17, and was never played" */
static size_t write_unused(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char moves[COUNT_TEXT_SIZE];
    int first = number_of_move(story, event->first_ready), last = number_of_move(story, event->last_ready);
    bool all = last - first + 1 == event->ready_moves;
    count_in_words(event->ready_moves, "move", "moves", moves);
    return (size_t)snprintf(text, size,
                            "%s's lever %s was ready %s %s, %s move %d %s move %d, and was not played.",
                            side_titles[event->side], ps_square_name(event->lever.square), all ? "for" : "on",
                            moves, all ? "from" : "between", first, all ? "to" : "and", last);
}

static size_t write_moving_on(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char since[PGN_NUMBERED_SIZE + 8], files[48];
    write_since(story, event->ply, "With", since, sizeof since);
    answer_files(event->first_file, event->last_file, files, sizeof files);
    return (size_t)snprintf(text, size,
                            "%s the locked chain stands on the %s, and %s's lever is no longer %s but %s.",
                            since, files, side_titles[event->side], ps_square_name(event->old_square),
                            ps_square_name(event->lever.square));
}

/* "not guarded", "guarded twice" */
static void write_times(const char *what, int count, char text[32])
{
    if (count == 0)
        snprintf(text, 32, "not %s", what);
    else if (count <= 2)
        snprintf(text, 32, "%s %s", what, count == 1 ? "once" : "twice");
    else {
        char number[NUMBER_TEXT_SIZE];
        number_in_words(count, number);
        snprintf(text, 32, "%s %s times", what, number);
    }
}

static size_t write_readiness(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char since[PGN_NUMBERED_SIZE + 8], guarded[32], attacked[32];
    write_since(story, event->ply, "After", since, sizeof since);
    write_times("guarded", event->lever.supporters, guarded);
    write_times("attacked", event->lever.attackers, attacked);
    return (size_t)snprintf(text, size, "%s %s's lever %s is ready: one push, %s and %s.", since,
                            side_titles[event->side], ps_square_name(event->lever.square), guarded, attacked);
}

static size_t write_shutting(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char since[PGN_NUMBERED_SIZE + 8];
    write_since(story, event->ply, "After", since, sizeof since);
    return (size_t)snprintf(text, size, "%s %s's lever %s cannot be played any more: %s.", since,
                            side_titles[event->side], ps_square_name(event->lever.square),
                            event->lever.status == PS_BARRED ? "an enemy pawn bars its way"
                                                             : "no pawn is left to play it");
}

static const char *lever_kind(const StoryEvent *event)
{
    return event->base ? "base lever" : "head lever";
}

static void write_wait(const StoryEvent *event, bool missed, char *text, size_t size)
{
    char moves[COUNT_TEXT_SIZE];
    count_in_words(event->ready_moves, "move", "moves", moves);
    if (event->ready_moves > 0)
        snprintf(text, size, ", which had been ready for %s", moves);
    else if (event->base && event->lever.status == PS_READY)
        snprintf(text, size, missed ? ", which had just become ready" : " as soon as it is ready");
    else
        *text = '\0';
}

/* What calculation says of a lever that was played. */
static void write_judgement(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char best[PGN_NUMBERED_SIZE], score[SCORE_TEXT_SIZE], best_score[SCORE_TEXT_SIZE];
    score_write_pawns(event->push.score, score);
    int length = snprintf(
        text, size, " By calculation it is %s (%s)",
        event->push.only_good ? "the only good move" : judgements[event->push.judgement].words, score);
    if (event->push.judgement > JUDGED_BEST && event->best.move != event->push.move) {
        story_choice_text(story, event->ply - 1, event->best.move, best);
        score_write_pawns(event->best.score, best_score);
        length +=
            snprintf(text + length, size - (size_t)length, "; the search prefers %s (%s)", best, best_score);
    }
    snprintf(text + length, size - (size_t)length, ".");
}

static size_t write_played(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char move[PGN_NUMBERED_SIZE], wait[64], judgement[192] = "";
    story_move_text(story, event->ply, move);
    write_wait(event, false, wait, sizeof wait);
    if (event->judged)
        write_judgement(story, event, judgement, sizeof judgement);
    return (size_t)snprintf(
        text, size, "With %s %s plays the %s%s.%s%s", move, side_titles[event->side], lever_kind(event), wait,
        event->lever.attackers > event->lever.supporters ? " By count it lacks support." : "", judgement);
}

/* "0.65 pawns", "a pawn" */
static void write_cost(int centipawns, char text[32])
{
    if (centipawns == 100)
        snprintf(text, 32, "a pawn");
    else
        snprintf(text, 32, "%d.%02d pawns", centipawns / 100, centipawns % 100);
}

static size_t write_missed(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char push[PGN_NUMBERED_SIZE], chosen[PGN_NUMBERED_SIZE], push_score[SCORE_TEXT_SIZE],
        chosen_score[SCORE_TEXT_SIZE], wait[64], cost[32];
    story_choice_text(story, event->ply, event->push.move, push);
    story_choice_text(story, event->ply, event->chosen.move, chosen);
    score_write_pawns(event->push.score, push_score);
    score_write_pawns(event->chosen.score, chosen_score);
    write_wait(event, true, wait, sizeof wait);
    write_cost(event->cost, cost);
    return (size_t)snprintf(
        text, size, "Here %s missed the %s %s (%s)%s%s. The game went on with %s (%s), which cost %s.",
        side_titles[event->side], lever_kind(event), push, push_score, wait,
        event->lever.attackers > event->lever.supporters
            ? ": short of support by count, but good by calculation"
            : "",
        chosen, chosen_score, cost);
}

size_t story_event_text(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    static size_t (*const writers[STORY_KIND_COUNT])(const Story *, const StoryEvent *, char *, size_t) = {
        [STORY_AROSE] = write_chain,   [STORY_MOVED_ON] = write_moving_on, [STORY_READY] = write_readiness,
        [STORY_PLAYED] = write_played, [STORY_MISSED] = write_missed,      [STORY_UNUSED] = write_unused,
        [STORY_SHUT] = write_shutting, [STORY_RESOLVED] = write_resolved,  [STORY_LASTED] = write_lasted,
    };
    return writers[event->kind](story, event, text, size);
}

bool story_is_in_full(const Story *story, const StoryEvent *event)
{
    if (event->kind != STORY_AROSE && event->kind != STORY_READY)
        return false;
    for (int i = 0; i < story->event_count; i++)
        if (story->events[i].kind == STORY_AROSE && story->events[i].ply == event->ply)
            return true;
    return false;
}

int story_event_glyph(const StoryEvent *event)
{
    if (!event->judged)
        return 0;
    if (event->kind == STORY_PLAYED)
        return judged_glyph(&event->push);
    return event->kind == STORY_MISSED ? judged_glyph(&event->chosen) : 0;
}

/* ------------------------------------------------------------------------------------------- in short */

/* Of two events of a kind the one that a reader wants to hear of. */
static bool weighs_more(const StoryEvent *event, const StoryEvent *other)
{
    if (other == NULL)
        return true;
    if (event->grade != other->grade)
        return event->grade > other->grade;
    if (event->kind == STORY_MISSED)
        return event->cost > other->cost;
    if (event->kind == STORY_UNUSED)
        return event->ready_moves > other->ready_moves;
    bool lock = event->kind == STORY_RESOLVED || event->kind == STORY_LASTED;
    return lock && moves_locked(event) > moves_locked(other);
}

/* `side` may be SIDE_COUNT for any. */
static const StoryEvent *weightiest(const Story *story, StoryKind kind, int side)
{
    const StoryEvent *found = NULL;
    for (int i = 0; i < story->event_count; i++) {
        const StoryEvent *event = &story->events[i];
        if (event->kind == kind && (side == SIDE_COUNT || (int)event->side == side) &&
            weighs_more(event, found))
            found = event;
    }
    return found;
}

/* Where the chain arose that comes to an end there; two that arise at once are told apart by their files. */
static const StoryEvent *beginning_of(const Story *story, const StoryEvent *end)
{
    for (int i = 0; i < story->event_count; i++) {
        const StoryEvent *event = &story->events[i];
        if (event->kind == STORY_AROSE && event->ply == end->locked_since &&
            event->first_file <= end->last_file && event->last_file >= end->first_file)
            return event;
    }
    return end;
}

static size_t write_lock(const Story *story, char *text, size_t size)
{
    const StoryEvent *resolved = weightiest(story, STORY_RESOLVED, SIDE_COUNT),
                     *lasted = weightiest(story, STORY_LASTED, SIDE_COUNT);
    const StoryEvent *lock = lasted != NULL && weighs_more(lasted, resolved) ? lasted : resolved;
    char files[48], first_files[48], from[PGN_NUMBERED_SIZE + 8] = "the start",
                                                              to[PGN_NUMBERED_SIZE + 8] = "the end";
    if (lock == NULL)
        return (size_t)snprintf(text, size, "No chain with a direction was locked in this game.");
    if (lock->locked_since > 0)
        story_move_text(story, lock->locked_since, from);
    if (lock->kind == STORY_RESOLVED)
        story_move_text(story, lock->ply, to);
    const StoryEvent *arose = beginning_of(story, lock);
    answer_files(arose->first_file, arose->last_file, first_files, sizeof first_files);
    answer_files(lock->first_file, lock->last_file, files, sizeof files);
    if (strcmp(first_files, files) != 0)
        return (size_t)snprintf(text, size,
                                "Pawns were locked from %s to %s, at first on the %s, at last on the %s.",
                                from, to, first_files, files);
    return (size_t)snprintf(text, size, "The pawns on the %s were locked from %s to %s.", files, from, to);
}

static size_t write_side(const Story *story, Side side, char *text, size_t size)
{
    const StoryEvent *played = weightiest(story, STORY_PLAYED, (int)side),
                     *missed = weightiest(story, STORY_MISSED, (int)side),
                     *unused = weightiest(story, STORY_UNUSED, (int)side);
    char move[PGN_NUMBERED_SIZE], cost[32], moves[COUNT_TEXT_SIZE], wait[64];
    size_t length = 0;
    *text = '\0';
    if (played != NULL) {
        story_move_text(story, played->ply, move);
        write_wait(played, false, wait, sizeof wait);
        length += (size_t)snprintf(text, size, " %s broke with %s%s.", side_titles[side], move,
                                   played->ready_moves > 0 ? wait
                                   : *wait                 ? ", as soon as it was ready"
                                                           : "");
    }
    if (missed != NULL && length < size) {
        story_choice_text(story, missed->ply, missed->push.move, move);
        write_cost(missed->cost, cost);
        length += (size_t)snprintf(text + length, size - length, " %s missed %s, which cost %s.",
                                   side_titles[side], move, cost);
    }
    if (unused != NULL && length < size) {
        count_in_words(unused->ready_moves, "move", "moves", moves);
        length +=
            (size_t)snprintf(text + length, size - length, " %s's %s was ready for %s and never played.",
                             side_titles[side], ps_square_name(unused->lever.square), moves);
    }
    return length;
}

size_t story_in_short(const Story *story, char *text, size_t size)
{
    size_t length = write_lock(story, text, size);
    for (Side side = WHITE; side <= BLACK && length < size; side++)
        length += write_side(story, side, text + length, size - length);
    return length;
}
