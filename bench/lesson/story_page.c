#include "bench/lesson/story_page.h"
#include "bench/explain/answer.h"

#include "bench/lesson/story_words.h"
#include "bench/page/diagram.h"
#include "bench/page/markup.h"
#include "bench/page/page.h"
#include "engine/evaluation/structure_view.h"

enum { HEADING_SIZE = 512 };

static const char *const side_titles[] = {"White", "Black"};

static void write_heading(FILE *out, const StoryEntry *entry, const char *prefix)
{
    char text[HEADING_SIZE], id[64];
    snprintf(text, sizeof text, "%d. %s", entry->number, entry->name != NULL ? entry->name : "A game");
    snprintf(id, sizeof id, "%s-%d", prefix, entry->number);
    page_heading(out, 2, id, text);
}

/* The moves that lead from one position of the game to a later one. */
static void write_moves(FILE *out, const Story *story, int from, int to, const char *result)
{
    Position position;
    story_position(story, from, &position);
    if (from == to && result == NULL)
        return;
    fputs("<p class=\"note\">", out);
    for (int ply = from; ply < to; ply++) {
        char san[MOVE_TEXT_SIZE] = "--";
        if (story->moves[ply] != NO_MOVE)
            san_write(&position, story->moves[ply], san);
        if (position_turn(&position) == WHITE || ply == from)
            markup_print(out, "%s%d%s", ply > from ? " " : "", position.fullmove,
                         position_turn(&position) == WHITE ? "." : "...");
        else
            fputc(' ', out);
        markup_text(out, san);
        story_play(&position, story->moves[ply]);
    }
    if (result != NULL)
        markup_print(out, " %s", result);
    fputs("</p>\n", out);
}

static const StoryEvent *first_of(const Story *story, StoryKind kind)
{
    for (int i = 0; i < story->event_count; i++)
        if (story->events[i].kind == kind)
            return &story->events[i];
    return NULL;
}

bool story_page_has_task(const StoryEntry *entry)
{
    return first_of(entry->story, STORY_AROSE) != NULL;
}

void story_page_task(FILE *out, const StoryEntry *entry, bool flip)
{
    const Story *story = entry->story;
    const StoryEvent *arose = first_of(story, STORY_AROSE);
    if (arose == NULL)
        return;
    Position position;
    char id[64];
    story_position(story, arose->ply, &position);
    snprintf(id, sizeof id, "game-task-board-%d", entry->number);
    page_box_begin(out, PAGE_TOGETHER);
    write_heading(out, entry, "game-task");
    write_moves(out, story, 0, arose->ply, NULL);
    page_box_begin(out, PAGE_SPREAD);
    diagram_write(out, &(Diagram){.id = id, .position = &position, .flip = flip});
    page_box_begin(out, PAGE_COLUMN);
    page_lines(out, entry->lines);
    page_box_end(out, PAGE_COLUMN);
    page_box_end(out, PAGE_SPREAD);
    page_box_end(out, PAGE_TOGETHER);
}

/* ------------------------------------------------------------------------------------
 * the levers at a glance */

static const StoryEvent *find_lever(const Story *story, StoryKind kind, const StoryEvent *like)
{
    for (int i = 0; i < story->event_count; i++) {
        const StoryEvent *event = &story->events[i];
        if (event->kind == kind && event->side == like->side && event->lever.square == like->lever.square)
            return event;
    }
    return NULL;
}

static void move_cell(PageTable *table, const Story *story, const StoryEvent *event)
{
    char move[PGN_NUMBERED_SIZE] = "–";
    if (event != NULL && event->kind == STORY_MISSED)
        story_choice_text(story, event->ply, event->chosen.move, move);
    else if (event != NULL && event->ply == 0)
        snprintf(move, sizeof move, "the start");
    else if (event != NULL)
        story_move_text(story, event->ply, move);
    page_cell(table, "%s", move);
}

/* For how many moves the lever of an event was ready before it was played, or in all. */
static void wait_cell(PageTable *table, const Story *story, const StoryEvent *event)
{
    const StoryEvent *unused = find_lever(story, STORY_UNUSED, event),
                     *played = find_lever(story, STORY_PLAYED, event);
    int moves = unused != NULL ? unused->ready_moves : played != NULL ? played->ready_moves : 0;
    if (moves > 0)
        page_cell(table, moves == 1 ? "%d move" : "%d moves", moves);
    else
        page_cell(table, "–");
}

/* Whether an event is about a lever, not about a chain. */
static bool is_of_lever(const StoryEvent *event)
{
    static const bool of_chain[STORY_KIND_COUNT] = {
        [STORY_AROSE] = true, [STORY_MOVED_ON] = true, [STORY_RESOLVED] = true, [STORY_LASTED] = true};
    return !of_chain[event->kind];
}

static bool is_told_before(const Story *story, int index)
{
    const StoryEvent *event = &story->events[index];
    for (int i = 0; i < index; i++) {
        const StoryEvent *earlier = &story->events[i];
        if (is_of_lever(earlier) && earlier->side == event->side &&
            earlier->lever.square == event->lever.square)
            return true;
    }
    return false;
}

static void write_levers(FILE *out, const Story *story)
{
    static const PageColumn columns[] = {{"Lever", false},  {"Ready after", false}, {"Ready for", false},
                                         {"Played", false}, {"Missed with", false}, {"Shut by", false}};
    static const StoryKind kinds[] = {STORY_PLAYED, STORY_MISSED, STORY_SHUT};
    PageTable table;
    bool begun = false;
    for (int i = 0; i < story->event_count; i++) {
        const StoryEvent *event = &story->events[i];
        if (!is_of_lever(event) || is_told_before(story, i))
            continue;
        if (!begun)
            page_table_begin(&table, out, "The levers of this game", columns, 6);
        begun = true;
        page_cell(&table, "%s %s", side_titles[event->side], ps_square_name(event->lever.square));
        move_cell(&table, story, find_lever(story, STORY_READY, event));
        wait_cell(&table, story, event);
        for (int k = 0; k < 3; k++)
            move_cell(&table, story, find_lever(story, kinds[k], event));
    }
    if (begun)
        page_table_end(&table);
}

/* ------------------------------------------------------------------------------------- the turning points */

/* The arrows of a turning point: a lever played, or a lever missed and the move of the game. */
static int arrows_of(const Story *story, const StoryEvent *events, int count, DiagramArrow arrows[2])
{
    for (int i = 0; i < count; i++) {
        const StoryEvent *event = &events[i];
        if (event->kind == STORY_MISSED) {
            arrows[0] =
                (DiagramArrow){move_from(event->push.move), move_to(event->push.move), "lever", false};
            arrows[1] =
                (DiagramArrow){move_from(event->chosen.move), move_to(event->chosen.move), "game", true};
            return 2;
        }
    }
    for (int i = 0; i < count; i++)
        if (events[i].kind == STORY_PLAYED) {
            Move move = story->moves[events[i].ply - 1];
            arrows[0] = (DiagramArrow){move_from(move), move_to(move), NULL, true};
            return 1;
        }
    return 0;
}

static bool has(const StoryEvent *events, int count, StoryKind kind)
{
    for (int i = 0; i < count; i++)
        if (events[i].kind == kind)
            return true;
    return false;
}

static void write_events(FILE *out, const Story *story, const StoryEvent *events, int count)
{
    for (int i = 0; i < count; i++) {
        char text[STORY_TEXT_SIZE];
        if (story_is_in_full(story, &events[i]))
            continue;
        story_event_text(story, &events[i], text, sizeof text);
        page_paragraph(out, PAGE_PLAIN, "%s", text);
    }
}

/* Whether all that is told is what came to an end. */
static bool is_end(const StoryEvent *events, int count)
{
    for (int i = 0; i < count; i++)
        if (events[i].kind != STORY_RESOLVED && events[i].kind != STORY_UNUSED &&
            events[i].kind != STORY_LASTED)
            return false;
    return true;
}

static void write_caption(const Story *story, int ply, char *text, size_t size)
{
    char move[PGN_NUMBERED_SIZE];
    if (ply == 0) {
        snprintf(text, size, "At the start");
        return;
    }
    story_move_text(story, ply, move);
    snprintf(text, size, "After %s", move);
}

static void write_turning_point(FILE *out, const StoryEntry *entry, const StoryEvent *events, int count,
                                bool flip)
{
    const Story *story = entry->story;
    int ply = events[0].ply;
    Position position;
    ps_analysis analysis;
    DiagramArrow arrows[2];
    char id[64], caption[64], text[PS_EXPLAIN_SIZE];
    story_position(story, ply, &position);
    structure_analyse(&position, &analysis);
    write_caption(story, ply, caption, sizeof caption);
    snprintf(id, sizeof id, "game-%d-board-%d", entry->number, ply);
    page_box_begin(out, PAGE_SPREAD);
    diagram_write(out, &(Diagram){.id = id,
                                  .position = &position,
                                  .analysis = &analysis,
                                  .flip = flip,
                                  .arrows = arrows,
                                  .arrow_count = arrows_of(story, events, count, arrows),
                                  .caption = caption});
    page_box_begin(out, PAGE_COLUMN);
    write_events(out, story, events, count);
    if (has(events, count, STORY_AROSE) || has(events, count, STORY_MOVED_ON)) {
        answer_in_full(&position, &analysis, text, sizeof text);
        page_paragraph(out, PAGE_PLAIN, "%s", text);
    }
    page_box_end(out, PAGE_COLUMN);
    page_box_end(out, PAGE_SPREAD);
}

void story_page_answer(FILE *out, const StoryEntry *entry, bool flip)
{
    const Story *story = entry->story;
    char text[STORY_TEXT_SIZE];
    int told = 0; /* plies */
    page_box_begin(out, PAGE_SHEET);
    write_heading(out, entry, "game");
    story_in_short(story, text, sizeof text);
    page_paragraph(out, PAGE_LEAD, "%s", text);
    write_levers(out, story);
    for (int i = 0; i < story->event_count;) {
        int ply = story->events[i].ply, count = 1;
        while (i + count < story->event_count && story->events[i + count].ply == ply)
            count++;
        page_box_begin(out, PAGE_TOGETHER);
        write_moves(out, story, told, ply, NULL);
        if (is_end(&story->events[i], count))
            write_events(out, story, &story->events[i], count); /* nothing is left to be marked */
        else
            write_turning_point(out, entry, &story->events[i], count, flip);
        page_box_end(out, PAGE_TOGETHER);
        told = ply;
        i += count;
    }
    write_moves(out, story, told, story->ply_count, entry->result);
    page_box_end(out, PAGE_SHEET);
}
