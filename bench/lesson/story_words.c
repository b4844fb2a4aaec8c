#include "bench/lesson/story_words.h"
#include "bench/explain/answer.h"

#include <stdio.h>

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

static size_t write_chain(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char since[PGN_NUMBERED_SIZE + 8], files[48];
    write_since(story, event->ply, "With", since, sizeof since);
    answer_files(event->first_file, event->last_file, files, sizeof files);
    return (size_t)snprintf(text, size, "%s the pawns on the %s are %s.", since, files,
                            event->kind == STORY_AROSE ? "locked" : "no longer locked");
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
    else
        snprintf(text, 32, "%s %d times", what, count);
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

static void write_wait(const StoryEvent *event, char *text, size_t size)
{
    int moves = event->ready_since < 0 ? -1 : (event->ply - event->ready_since - 1) / 2;
    if (moves < 0)
        *text = '\0';
    else if (moves == 0)
        snprintf(text, size, ", as soon as it was ready");
    else
        snprintf(text, size, ", %d move%s after it was ready", moves, moves == 1 ? "" : "s");
}

static size_t write_played(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char move[PGN_NUMBERED_SIZE], best[PGN_NUMBERED_SIZE], wait[64], score[SCORE_TEXT_SIZE], better[96] = "";
    story_move_text(story, event->ply, move);
    write_wait(event, wait, sizeof wait);
    score_write_pawns(event->push.score, score);
    if (event->push.judgement > JUDGED_BEST && event->best.move != event->push.move) {
        char best_score[SCORE_TEXT_SIZE];
        story_choice_text(story, event->ply - 1, event->best.move, best);
        score_write_pawns(event->best.score, best_score);
        snprintf(better, sizeof better, "; the search prefers %s (%s)", best, best_score);
    }
    return (size_t)snprintf(text, size, "%s plays %s's %s%s. %sBy calculation it is %s (%s)%s.", move,
                            side_titles[event->side], lever_kind(event), wait,
                            event->lever.attackers > event->lever.supporters ? "By count it lacks support. "
                                                                             : "",
                            judgements[event->push.judgement].words, score, better);
}

static size_t write_missed(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    char push[PGN_NUMBERED_SIZE], chosen[PGN_NUMBERED_SIZE], push_score[SCORE_TEXT_SIZE],
        chosen_score[SCORE_TEXT_SIZE];
    story_choice_text(story, event->ply, event->push.move, push);
    story_choice_text(story, event->ply, event->chosen.move, chosen);
    score_write_pawns(event->push.score, push_score);
    score_write_pawns(event->chosen.score, chosen_score);
    return (size_t)snprintf(text, size, "Here %s's %s was missed: %s%s (%s). The game went on %s (%s).",
                            side_titles[event->side], lever_kind(event), push,
                            event->lever.attackers > event->lever.supporters
                                ? ", short of support by count, but good by calculation"
                                : "",
                            push_score, chosen, chosen_score);
}

size_t story_event_text(const Story *story, const StoryEvent *event, char *text, size_t size)
{
    static size_t (*const writers[STORY_KIND_COUNT])(const Story *, const StoryEvent *, char *, size_t) = {
        [STORY_AROSE] = write_chain,    [STORY_MOVED_ON] = write_moving_on, [STORY_READY] = write_readiness,
        [STORY_PLAYED] = write_played,  [STORY_MISSED] = write_missed,      [STORY_SHUT] = write_shutting,
        [STORY_RESOLVED] = write_chain,
    };
    return writers[event->kind](story, event, text, size);
}

int story_event_glyph(const StoryEvent *event)
{
    if (event->kind == STORY_PLAYED)
        return judged_glyph(&event->push);
    return event->kind == STORY_MISSED ? judged_glyph(&event->chosen) : 0;
}
