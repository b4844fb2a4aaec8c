#include "bench/explain/answer.h"
#include "bench/lesson/handout.h"
#include "bench/lesson/misreading.h"
#include "bench/lesson/story_words.h"
#include "bench/pgn/pgn_writer.h"
#include "engine/evaluation/structure_view.h"

#include <stdlib.h>
#include <string.h>

enum { LINE_PLIES = 6, COMMENT_SIZE = 4096 };

/* ------------------------------------------------------------------------------------------- positions */

static void comment_on_position(PgnWriter *writer, const HandoutItem *item)
{
    const Lesson *lesson = item->lesson;
    const char *misreadings[MISREADINGS_MAX];
    char text[COMMENT_SIZE];
    int count = misreadings_of(&lesson->analysis, position_turn(&lesson->position), misreadings);
    int length = snprintf(text, sizeof text, "%s %s How it is misread:", lesson->answer, lesson->words);
    for (int i = 0; i < count; i++)
        length += snprintf(text + length, sizeof text - (size_t)length, " %s", misreadings[i]);
    pgn_write_comment(writer, text);
}

static void write_variation(PgnWriter *writer, const Position *position, const JudgedMove *judged,
                            const char *comment)
{
    pgn_begin_variation(writer);
    pgn_write_move(writer, position, judged->move);
    pgn_write_glyph(writer, judged_glyph(judged));
    pgn_write_comment(writer, comment);
    pgn_end_variation(writer);
}

static void break_text(const LessonBreak *push, char text[COMMENT_SIZE])
{
    char score[SCORE_TEXT_SIZE];
    score_write_pawns(push->judged.score, score);
    snprintf(text, COMMENT_SIZE, "%s: guarded by %d, attacked by %d. By calculation %s (%s).",
             push->push.kind == PS_BASE   ? "The base lever"
             : push->push.kind == PS_HEAD ? "The head lever"
                                          : "A break",
             push->push.supporters, push->push.attackers, judgements[push->judged.judgement].words, score);
}

static void preparation_text(const LessonSide *study, const LessonPreparation *found, char text[COMMENT_SIZE])
{
    char score[SCORE_TEXT_SIZE];
    score_write_pawns(found->judged.score, score);
    snprintf(text, COMMENT_SIZE, "Brings %s nearer: from %d to %d tempi (%s).",
             ps_square_name(study->aim->square), found->tempi_before, found->tempi_after, score);
}

/* What is there to say of a move that was judged: it is written behind the best one, else as a variation. */
static void write_judged(PgnWriter *writer, const Lesson *lesson, const LessonSide *study,
                         const JudgedMove *judged, bool best, const char *text)
{
    if ((judged->move == study->best.move) != best)
        return;
    if (best)
        pgn_write_comment(writer, text);
    else
        write_variation(writer, &lesson->position, judged, text);
}

static void write_all_judged(PgnWriter *writer, const Lesson *lesson, const LessonSide *study, bool best)
{
    char text[COMMENT_SIZE];
    for (int i = 0; i < study->break_count; i++) {
        break_text(&study->breaks[i], text);
        write_judged(writer, lesson, study, &study->breaks[i].judged, best, text);
    }
    for (int i = 0; i < study->preparation_count; i++) {
        preparation_text(study, &study->preparations[i], text);
        write_judged(writer, lesson, study, &study->preparations[i].judged, best, text);
    }
}

/* The best line first, then the breaks and the preparing moves instead of its first move. */
static void write_study(PgnWriter *writer, const Lesson *lesson, const LessonSide *study)
{
    char text[COMMENT_SIZE], score[SCORE_TEXT_SIZE];
    Position position = lesson->position;
    score_write_pawns(study->best.score, score);
    snprintf(text, sizeof text, "The best by calculation (%s).", score);
    pgn_write_move(writer, &position, study->best.move);
    pgn_write_glyph(writer, judged_glyph(&study->best));
    pgn_write_comment(writer, text);
    write_all_judged(writer, lesson, study, true);
    write_all_judged(writer, lesson, study, false);
    position_play(&position, study->best.move);
    for (int i = 1; i < study->line.length && i < LINE_PLIES; i++) {
        pgn_write_move(writer, &position, study->line.moves[i]);
        position_play(&position, study->line.moves[i]);
    }
}

static void write_position(PgnWriter *writer, const Handout *handout, const HandoutItem *item, int number)
{
    const Lesson *lesson = item->lesson;
    const LessonSide *study = &lesson->sides[position_turn(&lesson->position)];
    char round[16];
    snprintf(round, sizeof round, "%d", number);
    pgn_write_roster(writer, &(PgnRoster){.event = handout->title,
                                          .site = item->name,
                                          .date = "????.??.??",
                                          .round = round,
                                          .result = "*"});
    pgn_write_start(writer, &lesson->position);
    pgn_begin_moves(writer);
    comment_on_position(writer, item);
    if (study->searched)
        write_study(writer, lesson, study);
    pgn_end_game(writer, "*");
}

/* ------------------------------------------------------------------------------------------- games */

/* The standard has each tag once a game: the author shares that of the annotators. Null if
 * memory runs out. */
static char *annotators(const HandoutItem *item)
{
    static const char own[] = "Pawnvane";
    char *all;
    for (int i = 0; i < item->tag_count; i++) {
        const char *value = item->tags[i].value;
        if (strcmp(item->tags[i].name, "Annotator") != 0 || *value == '\0' || *value == '?')
            continue;
        bool there = strstr(value, own) != NULL;
        return asprintf(&all, "%s%s%s", value, there ? "" : ", ", there ? "" : own) < 0 ? NULL : all;
    }
    return strdup(own);
}

static void write_tags(PgnWriter *writer, const HandoutItem *item)
{
    char *value = annotators(item);
    for (int i = 0; i < item->tag_count; i++) {
        const HandoutTag *tag = &item->tags[i];
        if (strcmp(tag->name, "Annotator") != 0)
            pgn_write_tag(writer, tag->name, strcmp(tag->name, "Result") == 0 ? item->result : tag->value);
    }
    pgn_write_tag(writer, "Annotator", value != NULL ? value : "?");
    free(value);
}

static void explain_position(const Position *position, char *text, size_t size)
{
    ps_analysis analysis;
    structure_analyse(position, &analysis);
    answer_in_full(position, &analysis, text, size);
}

/* What shows after so many plies: everything but misses, which show in the choice that follows. */
static void comment_on_events(PgnWriter *writer, const Story *story, int ply, const Position *position)
{
    char text[COMMENT_SIZE] = "";
    size_t length = 0;
    bool arose = false;
    for (int i = 0; i < story->event_count; i++) {
        const StoryEvent *event = &story->events[i];
        if (event->ply != ply || event->kind == STORY_MISSED || length + STORY_TEXT_SIZE > sizeof text)
            continue;
        arose |= event->kind == STORY_AROSE;
        if (story_is_in_full(story, event))
            continue;
        length += story_event_text(story, event, text + length, sizeof text - length);
        length += (size_t)snprintf(text + length, sizeof text - length, " ");
    }
    if (arose && length + PS_EXPLAIN_SIZE < sizeof text)
        explain_position(position, text + length, sizeof text - length);
    pgn_write_comment(writer, text);
}

static const StoryEvent *find_event(const Story *story, StoryKind kind, int ply)
{
    for (int i = 0; i < story->event_count; i++)
        if (story->events[i].kind == kind && story->events[i].ply == ply)
            return &story->events[i];
    return NULL;
}

static void write_game_move(PgnWriter *writer, const HandoutItem *item, int ply, Position *position)
{
    const Story *story = &item->story;
    const StoryEvent *played = find_event(story, STORY_PLAYED, ply + 1);
    const StoryEvent *missed = find_event(story, STORY_MISSED, ply);
    char text[STORY_TEXT_SIZE];
    Position before = *position;
    pgn_write_move(writer, position, story->moves[ply]);
    const StoryEvent *judged = played != NULL ? played : missed;
    if (judged != NULL && !notes_judge(&item->notes, ply + 1))
        pgn_write_glyph(writer, story_event_glyph(judged));
    notes_write_glyphs(writer, &item->notes, ply + 1);
    story_play(position, story->moves[ply]);
    notes_write(writer, &item->notes, ply + 1, &before);
    comment_on_events(writer, story, ply + 1, position);
    if (missed == NULL)
        return;
    story_event_text(story, missed, text, sizeof text);
    write_variation(writer, &before, &missed->push, text);
}

static bool has_fen_tag(const HandoutItem *item)
{
    for (int i = 0; i < item->tag_count; i++)
        if (strcmp(item->tags[i].name, "FEN") == 0)
            return true;
    return false;
}

static void write_game(PgnWriter *writer, const HandoutItem *item)
{
    const Story *story = &item->story;
    Position position = story->start;
    write_tags(writer, item);
    if (!has_fen_tag(item))
        pgn_write_start(writer, &story->start);
    pgn_begin_moves(writer);
    notes_write(writer, &item->notes, 0, NULL);
    comment_on_events(writer, story, 0, &position);
    for (int ply = 0; ply < story->ply_count; ply++)
        write_game_move(writer, item, ply, &position);
    pgn_end_game(writer, item->result);
}

void handout_write_pgn(FILE *out, const Handout *handout)
{
    PgnWriter writer = {.out = out};
    for (int i = 0; i < handout->count; i++) {
        const HandoutItem *item = &handout->items[i];
        if (item->skeleton)
            continue;
        if (item->lesson != NULL)
            write_position(&writer, handout, item, handout->numbers_before + i + 1);
        else
            write_game(&writer, item);
    }
}
