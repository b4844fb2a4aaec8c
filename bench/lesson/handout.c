#include "bench/lesson/handout.h"
#include "bench/lesson/findings_words.h"

#include "bench/base/array.h"
#include "bench/base/output_file.h"
#include "bench/lesson/lesson_page.h"
#include "bench/lesson/quiz_page.h"
#include "bench/lesson/story_page.h"
#include "bench/page/diagram.h"
#include "bench/page/page.h"
#include "bench/pgn/pgn_position.h"
#include "engine/evaluation/structure_view.h"

#include <stdlib.h>
#include <string.h>

static const char foot[] = "For study. Not for use during a game.";
const char handout_closing[] = "For study before and after a game. Whoever uses notes or an engine during a "
                               "game breaks the Laws of Chess (FIDE, article 11.3).";

/* ------------------------------------------------------------------------------------------- collecting */

static HandoutItem *add(Handout *handout)
{
    if (!array_reserve(handout->items, handout->capacity, handout->count, 1))
        return NULL;
    HandoutItem *item = &handout->items[handout->count++];
    *item = (HandoutItem){0};
    return item;
}

static char *copy_or_null(const char *text)
{
    return text != NULL ? strdup(text) : NULL;
}

/* The operands of an operation, one space between them; null without it. */
static char *joined(const EpdRecord *record, const char *opcode)
{
    const EpdOperation *operation = epd_find(record, opcode);
    size_t size = 1;
    if (operation == NULL)
        return NULL;
    for (int i = 0; i < operation->count; i++)
        size += strlen(record->operands[operation->first + i]) + 1;
    char *text = malloc(size), *end = text;
    if (text == NULL)
        return NULL;
    *text = '\0';
    for (int i = 0; i < operation->count; i++)
        end += sprintf(end, "%s%s", i > 0 ? " " : "", record->operands[operation->first + i]);
    return text;
}

bool handout_add_position(Handout *handout, const EpdRecord *record)
{
    HandoutItem *item = add(handout);
    if (item == NULL)
        return false;
    item->name = copy_or_null(epd_text(record, "id"));
    item->named_best = joined(record, "bm");
    item->remark = copy_or_null(epd_text(record, "c0"));
    char error[EPD_ERROR_SIZE];
    MoveList played;
    item->skeleton = record->skeleton;
    item->played = NO_MOVE;
    if (!item->skeleton && epd_moves(record, "sm", &played, error) && played.count > 0)
        item->played = played.moves[0];
    item->lesson = calloc(1, sizeof *item->lesson);
    if (item->lesson == NULL)
        return false;
    item->lesson->position = record->position;
    return true;
}

/* The value of a tag; null if it is missing or tells nothing. */
static const char *known(const HandoutGame *game, const char *name)
{
    for (int i = 0; i < game->tag_count; i++) {
        const HandoutTag *tag = &game->tags[i];
        if (strcmp(tag->name, name) == 0)
            return *tag->value != '\0' && *tag->value != '?' ? tag->value : NULL;
    }
    return NULL;
}

/* "White – Black, Event, 2023.10.05", as far as the tags tell. */
static char *name_of(const HandoutGame *game)
{
    const char *white = known(game, "White"), *black = known(game, "Black"), *event = known(game, "Event"),
               *date = known(game, "Date");
    char *name;
    int length = asprintf(&name, "%s – %s%s%s%s%s", white ? white : "White", black ? black : "Black",
                          event ? ", " : "", event ? event : "", date ? ", " : "", date ? date : "");
    return length < 0 ? NULL : name;
}

static bool copy_tags(HandoutItem *item, const HandoutGame *game)
{
    item->tags = calloc((size_t)game->tag_count + 1, sizeof *item->tags);
    if (item->tags == NULL)
        return false;
    for (int i = 0; i < game->tag_count; i++) {
        HandoutTag *tag = &item->tags[item->tag_count++];
        *tag = (HandoutTag){strdup(game->tags[i].name), strdup(game->tags[i].value)};
        if (tag->name == NULL || tag->value == NULL)
            return false;
    }
    return true;
}

bool handout_add_game(Handout *handout, const HandoutGame *game)
{
    HandoutItem *item = add(handout);
    if (item == NULL)
        return false;
    item->name = name_of(game);
    item->result = game->result;
    if (game->notes != NULL) {
        item->notes = *game->notes;
        *game->notes = (Notes){0};
    }
    item->start = game->start;
    item->ply_count = game->ply_count;
    item->moves = malloc((size_t)game->ply_count * sizeof *item->moves + 1);
    if (item->moves == NULL)
        return false;
    for (int i = 0; i < game->ply_count; i++)
        item->moves[i] = game->moves[i];
    return item->name != NULL && copy_tags(item, game);
}

/* How far it has come: a single position takes many searches. */
typedef struct Study {
    Progress *progress; /* null: nobody sees it */
    size_t done;
    int searches;
} Study;

static void show_search(void *context)
{
    Study *study = context;
    char note[32];
    snprintf(note, sizeof note, "search %d", ++study->searches);
    if (study->progress != NULL)
        progress_show(study->progress, study->done, note);
}

/* Adds to the name of a game which of its moves has been played last. */
static bool name_moment(HandoutItem *item, const char *move)
{
    char *name;
    if (*move == '\0')
        return true;
    if (asprintf(&name, "%s, after %s", item->name, move) < 0)
        return false;
    free(item->name);
    item->name = name;
    return true;
}

/* Of a game, for a quiz: its first position in which the chain of the side to move has a direction. Without one the
 * game has nothing to ask. */
static bool choose_question(HandoutItem *item)
{
    Position position = item->start;
    ps_analysis analysis;
    char move[PGN_NUMBERED_SIZE] = "";
    for (int ply = 0; ply < item->ply_count; ply++) {
        structure_analyse(&position, &analysis);
        if (analysis.plan[position_turn(&position)].verdict != PS_NONE) {
            item->lesson = calloc(1, sizeof *item->lesson);
            if (item->lesson == NULL)
                return false;
            item->lesson->position = position;
            item->played = item->moves[ply];
            return name_moment(item, move);
        }
        if (item->moves[ply] != NO_MOVE)
            pgn_numbered_move(&position, item->moves[ply], move);
        story_play(&position, item->moves[ply]);
    }
    return true;
}

bool handout_study_item(Handout *handout, int item_number, Progress *progress)
{
    HandoutItem *item = &handout->items[item_number];
    Study study = {progress, (size_t)item_number, 0};
    LessonSettings settings = handout->settings;
    settings.effort.searching = show_search;
    settings.effort.context = &study;
    if (item->skeleton)
        settings.effort.nodes = 0;
    if (handout->quiz && item->lesson == NULL) {
        if (!choose_question(item))
            return false;
        if (item->lesson == NULL)
            return true;
    }
    if (item->lesson != NULL) {
        const Position position = item->lesson->position;
        return lesson_make(item->lesson, &position, handout->player, &settings);
    }
    story_free(&item->story);
    return story_make(&item->story, &item->start, item->moves, item->ply_count, handout->player, &settings);
}

bool handout_study(Handout *handout, Progress *progress)
{
    bool good = true;
    progress->total = (size_t)handout->count;
    for (int i = 0; good && i < handout->count; i++)
        good = handout_study_item(handout, i, progress);
    progress_clear(progress);
    return good;
}

void handout_free(Handout *handout)
{
    for (int i = 0; i < handout->count; i++) {
        HandoutItem *item = &handout->items[i];
        free(item->name);
        free(item->named_best);
        free(item->remark);
        for (int k = 0; k < item->tag_count; k++) {
            free(item->tags[k].name);
            free(item->tags[k].value);
        }
        free(item->tags);
        free(item->lesson);
        free(item->moves);
        notes_free(&item->notes);
        story_free(&item->story);
    }
    free(handout->items);
    handout->items = NULL;
    handout->count = 0;
    handout->capacity = 0;
}

/* ------------------------------------------------------------------------------------------- the page */

/* So many lines beside or below a task fit on a sheet of paper. */
static int lines_of(const Handout *handout)
{
    static const int lines[] = {[0] = 7, [1] = 9, [2] = 8, [4] = 3, [6] = 5};
    return lines[handout->per_page];
}

static LessonEntry lesson_entry(const Handout *handout, const HandoutItem *item, int number)
{
    return (LessonEntry){.number = number,
                         .name = item->name,
                         .named_best = item->named_best,
                         .remark = item->remark,
                         .lesson = item->lesson,
                         .played = item->played,
                         .lines = lines_of(handout)};
}

static StoryEntry story_entry(const Handout *handout, const HandoutItem *item, int number)
{
    return (StoryEntry){.number = number,
                        .name = item->name,
                        .result = item->result,
                        .story = &item->story,
                        .lines = lines_of(handout)};
}

/* Sheets of paper that are filled one after the other with so many boxes each. */
typedef struct Leaves {
    FILE *out;
    int per_page, count; /* per_page 0: none */
} Leaves;

static PageBox leaf_box(const Leaves *leaves)
{
    static const PageBox boxes[] = {
        [1] = PAGE_LEAF_1, [2] = PAGE_LEAF_2, [4] = PAGE_LEAF_4, [6] = PAGE_LEAF_6};
    return boxes[leaves->per_page];
}

static void leaves_end(Leaves *leaves)
{
    if (leaves->count > 0)
        page_box_end(leaves->out, leaf_box(leaves));
    leaves->count = 0;
}

/* Before each box. */
static void leaves_next(Leaves *leaves)
{
    if (leaves->per_page == 0)
        return;
    if (leaves->count == leaves->per_page)
        leaves_end(leaves);
    if (leaves->count++ == 0)
        page_box_begin(leaves->out, leaf_box(leaves));
}

static void write_tasks(FILE *out, const Handout *handout)
{
    Leaves leaves = {out, handout->per_page, 0};
    page_box_begin(out, PAGE_SHEET);
    page_paragraph(out, PAGE_PLAIN, "For each position:");
    lesson_page_questions(out);
    for (int i = 0; i < handout->count; i++) {
        const HandoutItem *item = &handout->items[i];
        LessonEntry lesson = lesson_entry(handout, item, handout->numbers_before + i + 1);
        StoryEntry story = story_entry(handout, item, handout->numbers_before + i + 1);
        if (handout->hide_names)
            lesson.name = story.name = NULL;
        if (item->lesson != NULL) {
            leaves_next(&leaves);
            lesson_page_task(out, &lesson, handout->flip);
        } else if (story_page_has_task(&story)) {
            leaves_next(&leaves);
            story_page_task(out, &story, handout->flip);
        }
    }
    leaves_end(&leaves);
    page_box_end(out, PAGE_SHEET);
}

static void write_answers(FILE *out, const Handout *handout)
{
    Leaves leaves = {out, handout->brief ? handout->per_page : 0, 0};
    for (int i = 0; i < handout->count; i++) {
        const HandoutItem *item = &handout->items[i];
        LessonEntry lesson = lesson_entry(handout, item, handout->numbers_before + i + 1);
        StoryEntry story = story_entry(handout, item, handout->numbers_before + i + 1);
        if (item->lesson == NULL) {
            leaves_end(&leaves);
            story_page_answer(out, &story, handout->flip);
        } else if (handout->brief) {
            leaves_next(&leaves);
            lesson_page_short_answer(out, &lesson, handout->flip);
        } else {
            lesson_page_answer(out, &lesson, handout->flip);
        }
    }
    leaves_end(&leaves);
}

/* What the words of the tables stand for. */
static void write_thresholds(FILE *out)
{
    char text[512] = "";
    size_t length = 0;
    for (int i = 0; i < JUDGEMENT_COUNT && length < sizeof text; i++) {
        if (i == JUDGED_CLOSE)
            continue;
        int behind = judgements[i].behind_at_most;
        length += (size_t)snprintf(text + length, sizeof text - length, "%s\"%s\"", i > 0 ? ", " : "",
                                   judgements[i].words);
        if (i < JUDGEMENT_COUNT - 1 && length < sizeof text)
            length += (size_t)snprintf(text + length, sizeof text - length, " up to %d.%02d", behind / 100,
                                       behind % 100);
    }
    page_paragraph(
        out, PAGE_NOTE,
        "The words for a move, by how many pawns it is behind the best one: %s beyond that. \"The only good "
        "move\": every other is %d.%02d or more behind. \"Too close to call\" it is where that difference is "
        "no "
        "larger than what it has changed by while the searches doubled.",
        text, CLEARLY_BEHIND / 100, CLEARLY_BEHIND % 100);
}

/* The sheet as PGN, inside the page. */
static void write_download(FILE *out, const Handout *handout)
{
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    if (stream == NULL)
        return;
    handout_write_pgn(stream, handout);
    if (fclose(stream) == 0 && size > 0)
        page_download(out, "Save the sheet as PGN", "lesson.pgn", "application/x-chess-pgn", text, size);
    free(text);
}

/* "1,200,000" */
static void write_grouped(uint64_t number, char text[32])
{
    if (number < 1000) {
        snprintf(text, 32, "%d", (int)number);
        return;
    }
    write_grouped(number / 1000, text);
    size_t length = strlen(text);
    snprintf(text + length, 32 - length, ",%03d", (int)(number % 1000));
}

/* What calculated scores are. */
static void write_calculation_help(FILE *out, uint64_t nodes)
{
    char text[32];
    if (nodes == 0) {
        page_paragraph(out, PAGE_NOTE,
                       "The engine has not looked at this yet: until it has, nothing is calculated here.");
        return;
    }
    write_grouped(nodes, text);
    page_paragraph(
        out, PAGE_NOTE,
        "Calculated scores are in pawns, seen from the side that plays the move, from searches of up to %s "
        "positions each that know nothing of chains and levers, so that the rule does not judge itself. "
        "Moves "
        "that are compared were searched one by one and equally deep; the best is the best of them.",
        text);
    write_thresholds(out);
}

static void write_reading_help(FILE *out, const Handout *handout)
{
    page_heading(out, 2, "marks", "How to read this sheet");
    diagram_legend(out);
    page_paragraph(
        out, PAGE_NOTE,
        "Tempi are the moves that a lever needs: those of the pawn, one more for each piece in its way, and "
        "one for each helper that is missing. That is a count, as a teacher makes it over the board.");
    write_calculation_help(out, handout->settings.effort.nodes);
    write_download(out, handout);
}

static void write_findings(FILE *out)
{
    page_box_begin(out, PAGE_TOGETHER);
    page_heading(out, 2, "findings", "What was found of the rule");
    for (int i = 0; i < FINDINGS_WORDS; i++)
        page_paragraph(out, PAGE_PLAIN, "%s", findings_words[i]);
    page_box_end(out, PAGE_TOGETHER);
}

bool handout_has_questions(const Handout *handout)
{
    for (int i = 0; i < handout->count; i++)
        if (handout->items[i].lesson != NULL)
            return true;
    return false;
}

static void write_quiz(FILE *out, const Handout *handout)
{
    int number = 0;
    page_begin(out, handout->title, NULL, foot);
    diagram_definitions(out);
    quiz_page_begin(out);
    for (int i = 0; i < handout->count; i++) {
        const HandoutItem *item = &handout->items[i];
        if (item->lesson == NULL)
            continue;
        LessonEntry entry = lesson_entry(handout, item, ++number);
        if (handout->hide_names)
            entry.name = NULL;
        quiz_page_position(out, &entry, handout->flip);
    }
    quiz_page_end(out);
    page_end(out, handout_closing);
}

void handout_write_page(FILE *out, const Handout *handout)
{
    if (handout->quiz) {
        write_quiz(out, handout);
        return;
    }
    page_begin(out, handout->title, handout->pupils ? "Tasks first, answers on a sheet of their own" : NULL,
               foot);
    diagram_definitions(out);
    if (handout->index != NULL)
        page_way(out, handout->index, "All pages");
    page_way(out, "#marks", "How to read this sheet");
    if (handout->pupils) {
        write_tasks(out, handout);
        page_box_begin(out, PAGE_FRESH);
        page_heading(out, 2, "answers", "Answers");
    } else {
        page_box_begin(out, PAGE_SHEET);
    }
    write_answers(out, handout);
    write_reading_help(out, handout);
    if (handout->findings)
        write_findings(out);
    page_box_end(out, handout->pupils ? PAGE_FRESH : PAGE_SHEET);
    page_end(out, handout_closing);
}

bool handout_write_file(const char *path, const Handout *handout, void (*write)(FILE *, const Handout *))
{
    OutputFile file;
    if (!output_open(&file, path))
        return false;
    write(file.stream, handout);
    return output_commit(&file);
}
