#include "bench/explain/explain.h"
#include "bench/base/json_line.h"
#include "bench/explain/answer.h"
#include "bench/explain/json_structure.h"
#include "bench/explain/text_diagram.h"
#include "engine/evaluation/structure_view.h"

#include <string.h>

enum { TEXT_WIDTH = 80 };

static const char *const side_titles[] = {"White", "Black"};

/* Prints words with line breaks between them. */
static void print_wrapped(FILE *out, const char *text)
{
    int column = 0;
    while (*text) {
        int length = (int)strcspn(text, " ");
        if (column > 0 && column + 1 + length > TEXT_WIDTH) {
            fputc('\n', out);
            column = 0;
        }
        column += fprintf(out, "%s%.*s", column > 0 ? " " : "", length, text);
        text += length;
        text += strspn(text, " ");
    }
    fputc('\n', out);
}

static void print_number(FILE *out, int width, int count)
{
    if (count == PS_NO_COUNT)
        fprintf(out, "%*s", width, "-");
    else
        fprintf(out, "%*d", width, count);
}

static void print_plans(FILE *out, const ps_analysis *analysis)
{
    fprintf(out, "%-7s%-12s%-14s%-11s%-16s%6s%6s%8s\n", "Plan", "verdict", "chain", "region", "base lever",
            "tempi", "room", "pieces");
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_plan *plan = &analysis->plan[side];
        fprintf(out, "%-7s", side_titles[side]);
        if (plan->verdict == PS_NONE) {
            fprintf(out, "%s\n", ps_verdict_name(plan->verdict));
            continue;
        }
        const ps_chain *chain = &analysis->chains[plan->chain];
        const ps_lever *lever = ps_plan_lever(analysis, side);
        char named[24] = "-", lever_state[24] = "-";
        snprintf(named, sizeof named, "%s %s", ps_files_name(chain->first_file, chain->last_file),
                 ps_grade_name(chain->grade));
        if (lever->square != PS_NO_SQUARE)
            snprintf(lever_state, sizeof lever_state, "%s %s", ps_square_name(lever->square),
                     ps_status_name(lever->status));
        fprintf(out, "%-12s%-14s%-11s%-16s", ps_verdict_name(plan->verdict), named,
                ps_region_name(plan->region), lever_state);
        print_number(out, 6, lever->tempi);
        print_number(out, 6, plan->room);
        print_number(out, 8, plan->pieces);
        fputc('\n', out);
    }
}

static void print_break(FILE *out, const ps_break *push)
{
    char targets[8] = "";
    for (int i = 0; i < push->target_count; i++) {
        strcat(targets, i > 0 ? " " : "");
        strcat(targets, ps_square_name(push->targets[i]));
    }
    fprintf(out, "%s-%-5s%-10s%-9s%10d%10d\n", ps_square_name(push->from), ps_square_name(push->to),
            push->kind == PS_OTHER ? "-" : ps_break_kind_name(push->kind), targets, push->supporters,
            push->attackers);
}

static void print_breaks(FILE *out, const ps_analysis *analysis)
{
    fprintf(out, "%-7s%-8s%-10s%-9s%10s%10s\n", "Breaks", "push", "lever", "attacks", "guarded", "attacked");
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_break_list *breaks = &analysis->breaks[side];
        if (breaks->count == 0)
            fprintf(out, "%-7s%s\n", side_titles[side], "none");
        for (int i = 0; i < breaks->count; i++) {
            fprintf(out, "%-7s", i == 0 ? side_titles[side] : "");
            print_break(out, &breaks->items[i]);
        }
    }
}

/* What the engine adds to its evaluation for all this, at full weight. */
static void print_term(FILE *out, const Position *position)
{
    ps_board board;
    ps_skeleton skeleton;
    ps_side_term sides[2];
    structure_view(position, &board);
    ps_read_skeleton(&skeleton, board.pawns, PS_STRICT);
    int term = ps_term_parts(sides, &skeleton, &board, &ps_default_weights);

    fprintf(out, "%-7s", "Term");
    for (int part = 0; part < PS_PART_COUNT; part++)
        fprintf(out, "%9s", ps_part_name(part));
    fprintf(out, "%9s   (centipawns)\n", "sum");
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        int sum = 0;
        fprintf(out, "%-7s", side_titles[side]);
        for (int part = 0; part < PS_PART_COUNT; part++) {
            fprintf(out, "%9d", sides[side].parts[part]);
            sum += sides[side].parts[part];
        }
        fprintf(out, "%9d\n", sum);
    }
    fprintf(out, "%s, who is to move: %+d\n", side_titles[board.to_move], term);
}

void explain_print(FILE *out, const EpdRecord *record)
{
    const Position *position = &record->position;
    ps_analysis analysis;
    char sentences[PS_EXPLAIN_SIZE], answer[ANSWER_SIZE];
    const char *id = epd_text(record, "id");
    structure_analyse(position, &analysis);
    answer_in_full(position, &analysis, sentences, sizeof sentences);

    if (id)
        fprintf(out, "%s\n", id);
    fprintf(out, "%s\n%s to move%s\n\n", record->fields, side_titles[position_turn(position)],
            record->skeleton ? ", a skeleton: the pawns alone" : "");
    answer_in_short(position, &analysis, answer);
    print_wrapped(out, answer);
    fputc('\n', out);
    text_diagram_print(out, position, &analysis);
    fputc('\n', out);
    text_diagram_print_legend(out);
    fputc('\n', out);
    print_wrapped(out, sentences);
    fputc('\n', out);
    print_plans(out, &analysis);
    fputc('\n', out);
    print_breaks(out, &analysis);
    if (!record->skeleton) {
        fputc('\n', out);
        print_term(out, position);
    }
}

bool explain_print_json(FILE *out, const EpdRecord *record)
{
    ps_analysis analysis;
    structure_analyse(&record->position, &analysis);
    return json_print_line(out, json_structure(record->fields, &analysis));
}
