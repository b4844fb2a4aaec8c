#include "bench/lesson/lesson_page.h"

#include "bench/lesson/misreading.h"
#include "bench/page/diagram.h"
#include "bench/page/page.h"
#include "bench/pgn/pgn_position.h"
#include "engine/rules/fen.h"

static const char *const side_titles[] = {[PS_WHITE] = "White", [PS_BLACK] = "Black"};

enum { HEADING_SIZE = 256, LIST_SIZE = 64, LINE_PLIES = 8 };

void lesson_page_heading(FILE *out, const LessonEntry *entry, const char *prefix)
{
    char text[HEADING_SIZE], id[HEADING_SIZE];
    const char *turn = side_titles[position_turn(&entry->lesson->position)];
    snprintf(text, sizeof text, "%d. %s to move%s%s", entry->number, turn, entry->name != NULL ? " – " : "",
             entry->name != NULL ? entry->name : "");
    snprintf(id, sizeof id, "%s-%d", prefix, entry->number);
    page_heading(out, 2, id, text);
}

/* The best move, and the one that was played if it is another. */
static int arrows_of(const LessonEntry *entry, DiagramArrow arrows[2])
{
    const LessonSide *study = &entry->lesson->sides[position_turn(&entry->lesson->position)];
    int count = 0;
    if (study->searched)
        arrows[count++] = (DiagramArrow){
            .from = move_from(study->best.move), .to = move_to(study->best.move), .label = "best"};
    if (entry->played != NO_MOVE && !(study->searched && entry->played == study->best.move))
        arrows[count++] = (DiagramArrow){
            .from = move_from(entry->played), .to = move_to(entry->played), .label = "game", .played = true};
    return count;
}

static void write_diagram(FILE *out, const LessonEntry *entry, const char *prefix, bool marks, bool flip)
{
    char id[HEADING_SIZE];
    DiagramArrow arrows[2];
    snprintf(id, sizeof id, "%s-board-%d", prefix, entry->number);
    diagram_write(out, &(Diagram){.id = id,
                                  .position = &entry->lesson->position,
                                  .analysis = marks ? &entry->lesson->analysis : NULL,
                                  .flip = flip,
                                  .arrows = arrows,
                                  .arrow_count = marks ? arrows_of(entry, arrows) : 0});
}

void lesson_page_questions(FILE *out)
{
    page_list_begin(out);
    page_list_item(out, "Which pawns are locked against each other, and do they make a chain?");
    page_list_item(out, "Which way does each side's chain point, if it points anywhere?");
    page_list_item(out,
                   "Which pawn break belongs to that, how many moves does it need, and what is in its way?");
    page_list_item(out, "Which move would you play, and why?");
    page_list_end(out);
}

/* The heading and the diagram, beside which the text comes. */
static void begin_beside_diagram(FILE *out, const LessonEntry *entry, const char *kind, bool marks, bool flip)
{
    lesson_page_heading(out, entry, kind);
    page_box_begin(out, PAGE_SPREAD);
    write_diagram(out, entry, kind, marks, flip);
    page_box_begin(out, PAGE_COLUMN);
}

static void end_beside_diagram(FILE *out)
{
    page_box_end(out, PAGE_COLUMN);
    page_box_end(out, PAGE_SPREAD);
}

void lesson_page_task(FILE *out, const LessonEntry *entry, bool flip)
{
    page_box_begin(out, PAGE_TOGETHER);
    begin_beside_diagram(out, entry, "task", false, flip);
    page_lines(out, entry->lines);
    end_beside_diagram(out);
    page_box_end(out, PAGE_TOGETHER);
}

/* ------------------------------------------------------------------------------------------ the levers */

static const PageColumn lever_columns[] = {
    {"Lever", false},  {"Strikes at", false}, {"State", false},      {"Tempi", true},
    {"Guarded", true}, {"Attacked", true},    {"In the way", false},
};

enum { LEVER_COLUMNS = sizeof lever_columns / sizeof *lever_columns };

static void count_cell(PageTable *table, int count)
{
    if (count == PS_NO_COUNT)
        page_cell(table, "–");
    else
        page_cell(table, "%d", count);
}

/* Of chains that are not the principal one only what can still happen is worth a row. */
static void lever_row(PageTable *table, ps_side side, const ps_chain *chain, bool principal,
                      const ps_lever *lever, const char *kind)
{
    if (lever->square == PS_NO_SQUARE || (!principal && !ps_lever_is_live(lever)))
        return;
    char files[LIST_SIZE];
    answer_files(chain->first_file, chain->last_file, files, sizeof files);
    page_cell(table, "%s %s, %s, %s", side_titles[side], ps_square_name(lever->square), kind, files);
    page_cell(table, "%s%s", ps_square_name(lever->target),
              lever->target_is_base ? ", base of its chain" : "");
    page_cell(table, "%s", answer_status(lever->status));
    count_cell(table, lever->tempi);
    count_cell(table, lever->supporters);
    count_cell(table, lever->attackers);
    char blockers[LIST_SIZE] = "–";
    bool available = ps_lever_is_live(lever);
    for (int i = 0; available && i < lever->blocker_count; i++)
        snprintf(blockers + 3 * i, sizeof blockers - 3 * (size_t)i, "%s ",
                 ps_square_name(lever->blockers[i]));
    page_cell(table, "%s", blockers);
}

void lesson_page_levers(FILE *out, const ps_analysis *analysis)
{
    bool any = false;
    for (int i = 0; i < analysis->chain_count; i++)
        any |= analysis->chains[i].grade != PS_VOID;
    if (!any)
        return;
    PageTable table;
    page_table_begin(&table, out, "The levers, by count", lever_columns, LEVER_COLUMNS);
    for (int side = PS_WHITE; side <= PS_BLACK; side++)
        for (int i = 0; i < analysis->chain_count; i++) {
            const ps_chain *chain = &analysis->chains[i];
            if (chain->grade == PS_VOID)
                continue;
            bool principal = i == analysis->plan[side].chain;
            lever_row(&table, side, chain, principal, &chain->side[side].base_lever, "base lever");
            lever_row(&table, side, chain, principal, &chain->side[side].head_lever, "head lever");
        }
    page_table_end(&table);
}

/* ---------------------------------------------------------------------------- breaks and preparing moves */

static const char *const kind_words[PS_BREAK_KIND_COUNT] = {
    [PS_BASE] = "base lever", [PS_HEAD] = "head lever", [PS_OTHER] = "other break"};

static const PageColumn break_columns[] = {
    {"Break", false}, {"Kind", false}, {"Calculated", true}, {"Behind best", true}, {"Verdict", false},
};

enum { BREAK_COLUMNS = sizeof break_columns / sizeof *break_columns };

/* What counting says, and whether calculation agrees. */
static const char *count_against_calculation(const LessonBreak *push)
{
    static const char *const unsupported[JUDGEMENT_COUNT] = {
        [JUDGED_BEST] = "unsupported by count, but as good as anything by calculation",
        [JUDGED_SOUND] = "unsupported by count, yet sound by calculation",
        [JUDGED_CLOSE] = "unsupported by count, and too close to call by calculation",
    };
    if (push->short_of_support)
        return unsupported[push->judged.judgement];
    return push->judged.judgement <= JUDGED_CLOSE ? NULL
                                                  : "supported by count, but calculation is against it";
}

static void behind_cell(PageTable *table, const JudgedMove *judged)
{
    page_cell(table, "%d.%02d", judged->behind / 100, judged->behind % 100);
}

/* A row for a move that is no break, or not told as one. */
static void move_row(PageTable *table, const char *title, const JudgedMove *judged, bool best,
                     const char *verdict)
{
    char score[SCORE_TEXT_SIZE];
    score_write_pawns(judged->score, score);
    page_cell(table, "%s: %s", title, judged->san);
    page_cell(table, "–");
    page_cell(table, "%s", score);
    if (best)
        page_cell(table, "–");
    else
        behind_cell(table, judged);
    page_cell(table, "%s", verdict);
}

/* Whether the table of the levers has the counts of a break already. */
static bool is_counted(const ps_analysis *analysis, Side side, int goal)
{
    for (int i = 0; i < analysis->chain_count; i++) {
        const ps_chain_side *view = &analysis->chains[i].side[side];
        if (analysis->chains[i].grade != PS_VOID &&
            (view->base_lever.square == goal || view->head_lever.square == goal))
            return true;
    }
    return false;
}

static void break_row(PageTable *table, const ps_analysis *analysis, Side side, const LessonBreak *push)
{
    const char *remark = count_against_calculation(push);
    char score[SCORE_TEXT_SIZE];
    score_write_pawns(push->judged.score, score);
    page_cell(table, "%s %s", side_titles[side], push->judged.san);
    if (is_counted(analysis, side, push->push.to))
        page_cell(table, "%s", kind_words[push->push.kind]);
    else
        page_cell(table, "%s: guarded %d, attacked %d", kind_words[push->push.kind], push->push.supporters,
                  push->push.attackers);
    page_cell(table, "%s", score);
    behind_cell(table, &push->judged);
    page_cell(table, "%s", remark != NULL ? remark : judgements[push->judged.judgement].words);
}

/* The table of a side. Of the side that is not to move it says so: its moves are those it would have. */
static void write_breaks(FILE *out, const Lesson *lesson, Side side, bool to_move)
{
    const LessonSide *study = &lesson->sides[side];
    char caption[HEADING_SIZE], best[HEADING_SIZE];
    PageTable table;
    if (!study->searched || study->break_count == 0)
        return;
    snprintf(caption, sizeof caption,
             to_move ? "The breaks that %s has now, by calculation to %d plies"
                     : "It is not %s's turn. If it were: its breaks, by calculation to %d plies",
             side_titles[side], study->depth);
    snprintf(best, sizeof best, "%s's best", side_titles[side]);
    page_table_begin(&table, out, caption, break_columns, BREAK_COLUMNS);
    move_row(&table, best, &study->best, true,
             study->best.only_good ? "the only good move" : "the best of all that was calculated");
    if (study->choice.move != study->best.move)
        move_row(&table, "At first sight", &study->choice, false,
                 "best in the search of all moves, not when each is searched alone");
    for (int i = 0; i < study->break_count; i++)
        break_row(&table, &lesson->analysis, side, &study->breaks[i]);
    page_table_end(&table);
}

static void write_preparations(FILE *out, Side side, bool to_move, const LessonSide *study)
{
    if (study->preparation_count == 0)
        return;
    char list[1024] = "";
    size_t length = 0;
    for (int i = 0; i < study->preparation_count && length < sizeof list; i++) {
        const LessonPreparation *found = &study->preparations[i];
        char score[SCORE_TEXT_SIZE];
        score_write_pawns(found->judged.score, score);
        length += (size_t)snprintf(list + length, sizeof list - length, "%s%s (%d left, %s)",
                                   i > 0 ? "; " : "", found->judged.san, found->tempi_after, score);
    }
    int tempi = study->preparations[0].tempi_before;
    page_paragraph(out, PAGE_PLAIN, "%s%s brings %s, %d %s away, nearer with %s.", side_titles[side],
                   to_move ? "" : ", if it were to move,", ps_square_name(study->aim->square), tempi,
                   tempi == 1 ? "tempo" : "tempi", list);
}

/* What the engine expects after the best move of the side to move. */
static void write_line(FILE *out, const Lesson *lesson)
{
    const LessonSide *study = &lesson->sides[position_turn(&lesson->position)];
    char text[512] = "", move[PGN_NUMBERED_SIZE];
    size_t length = 0;
    Position position = lesson->position;
    if (!study->searched)
        return;
    for (int i = 0; i < study->line.length && i < LINE_PLIES; i++) {
        if (i == 0 || position_turn(&position) == WHITE)
            pgn_numbered_move(&position, study->line.moves[i], move);
        else
            san_write(&position, study->line.moves[i], move);
        length += (size_t)snprintf(text + length, sizeof text - length, "%s%s", i > 0 ? " " : "", move);
        position_play(&position, study->line.moves[i]);
    }
    page_paragraph(out, PAGE_PLAIN, "The engine's line: %s.", text);
}

/* ------------------------------------------------------------------------------------------ the answer */

/* What calculation says of the lever that the direction names, where it plays another move, and is not against it. */
static const char *word_on_lever(const LessonSide *study, const LessonBreak **lever)
{
    static const char *const words[JUDGEMENT_COUNT] = {
        [JUDGED_BEST] = "is just as good",
        [JUDGED_SOUND] = "is sound, too",
        [JUDGED_CLOSE] = "may be as good: it is too close to call",
    };
    for (int i = 0; i < study->break_count; i++) {
        *lever = &study->breaks[i];
        if ((*lever)->push.kind == PS_BASE && (*lever)->judged.move != study->best.move)
            return words[(*lever)->judged.judgement];
    }
    return NULL;
}

/* The answer by the rule in one line, what calculation would play, and what was played. */
static void write_answer(FILE *out, const LessonEntry *entry)
{
    const Lesson *lesson = entry->lesson;
    const LessonSide *study = &lesson->sides[position_turn(&lesson->position)];
    char calculated[128] = "", played[64] = "", san[MOVE_TEXT_SIZE];
    bool same = study->searched && entry->played == study->best.move;
    const LessonBreak *lever;
    const char *word = word_on_lever(study, &lever);
    if (study->searched)
        snprintf(calculated, sizeof calculated, " Calculation plays %s%s%s%s%s%s.", study->best.san,
                 same ? ", as the game did" : "", word ? "; " : "", word ? lever->judged.san : "",
                 word ? " " : "", word ? word : "");
    if (entry->played != NO_MOVE && !same) {
        san_write(&lesson->position, entry->played, san);
        snprintf(played, sizeof played, " The game went on with %s.", san);
    }
    page_paragraph(out, PAGE_LEAD, "%s%s%s", lesson->answer, calculated, played);
    if (position_men(&lesson->position, WHITE, KING) == 0)
        page_paragraph(out, PAGE_NOTE, "A skeleton, the pawns alone: nothing is calculated.");
}

void lesson_page_words(FILE *out, const LessonEntry *entry)
{
    const Lesson *lesson = entry->lesson;
    Side turn = position_turn(&lesson->position);
    const char *misreadings[MISREADINGS_MAX];
    int count = misreadings_of(&lesson->analysis, turn, misreadings);
    write_answer(out, entry);
    page_paragraph(out, PAGE_PLAIN, "%s", lesson->words);
    page_heading(out, 3, NULL, "How it is misread");
    for (int i = 0; i < count; i++)
        page_paragraph(out, PAGE_PLAIN, "%s", misreadings[i]);
    if (entry->remark != NULL)
        page_paragraph(out, PAGE_NOTE, "The source of the position says: %s.", entry->remark);
    if (entry->named_best != NULL)
        page_paragraph(out, PAGE_NOTE, "Best according to the source of the position: %s.",
                       entry->named_best);
}

void lesson_page_short_answer(FILE *out, const LessonEntry *entry, bool flip)
{
    const Lesson *lesson = entry->lesson;
    const char *misreadings[MISREADINGS_MAX];
    int count = misreadings_of(&lesson->analysis, position_turn(&lesson->position), misreadings);
    page_box_begin(out, PAGE_TOGETHER);
    begin_beside_diagram(out, entry, "position", true, flip);
    write_answer(out, entry);
    for (int i = 0; i < count; i++)
        page_paragraph(out, PAGE_PLAIN, "%s", misreadings[i]);
    if (entry->named_best != NULL)
        page_paragraph(out, PAGE_NOTE, "Best according to the source: %s.", entry->named_best);
    end_beside_diagram(out);
    page_box_end(out, PAGE_TOGETHER);
}

void lesson_page_answer(FILE *out, const LessonEntry *entry, bool flip)
{
    const Lesson *lesson = entry->lesson;
    Side turn = position_turn(&lesson->position), other = opposite(turn);
    char fen[FEN_SIZE];
    page_box_begin(out, PAGE_SHEET);
    begin_beside_diagram(out, entry, "position", true, flip);
    lesson_page_words(out, entry);
    end_beside_diagram(out);
    lesson_page_levers(out, &lesson->analysis);
    write_breaks(out, lesson, turn, true);
    write_line(out, lesson);
    write_preparations(out, turn, true, &lesson->sides[turn]);
    const LessonSide *study = &lesson->sides[other];
    if (study->break_count > 0 || study->preparation_count > 0) {
        page_box_begin(out, PAGE_ASIDE);
        write_breaks(out, lesson, other, false);
        write_preparations(out, other, false, study);
        page_box_end(out, PAGE_ASIDE);
    }
    fen_write(&lesson->position, fen);
    page_code(out, "FEN", fen);
    page_box_end(out, PAGE_SHEET);
}
