/* bench/positions/structures.epd: what each line claims is what the library finds, and together the lines
 * cover every class. */
#include "bench/pgn/epd.h"
#include "engine/evaluation/structure_view.h"
#include "tests/structure/structure_boards.h"

static const char path[] = "bench/positions/structures.epd";

typedef struct Coverage {
    int lines;
    int to_move[2];
    int grade[PS_GRADE_COUNT], region[PS_REGION_COUNT], near_miss[PS_NEAR_MISS_COUNT];
    int base_status[PS_STATUS_COUNT], head_status[PS_STATUS_COUNT];
    int verdict[2][PS_VERDICT_COUNT]; /* by side to move, whose verdict it is */
    int first_to_break[3];            /* nobody, White, Black */
    int length[4];                    /* of a principal chain: two files to five */
    int off_board[2];                 /* by whose principal chain points there */
    int tension[2], en_passant[2];    /* by whose capture it is */
} Coverage;

/* The status of a lever, "-" for one off the board. */
static const char *lever_word(const ps_lever *lever)
{
    return lever->square == PS_NO_SQUARE ? "-" : ps_status_name(lever->status);
}

static int write_side(char *text, size_t size, const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    const char *verdict = ps_verdict_name(plan->verdict);
    if (plan->verdict == PS_NONE)
        return snprintf(text, size, "%s %s, ", ps_side_name(side), verdict);
    const ps_chain *chain = &analysis->chains[plan->chain];
    return snprintf(text, size, "%s %s %s %s %s %s, ", ps_side_name(side), verdict,
                    ps_grade_name(chain->grade), ps_files_name(chain->first_file, chain->last_file),
                    lever_word(&chain->side[side].base_lever), lever_word(&chain->side[side].head_lever));
}

static int write_tension(char *text, size_t size, const ps_analysis *analysis)
{
    int length = snprintf(text, size, ", tension");
    for (int side = PS_WHITE; side <= PS_BLACK; side++)
        for (int i = 0; i < analysis->tension[side].count; i++) {
            const ps_capture *capture = &analysis->tension[side].items[i];
            length += snprintf(text + length, size - (size_t)length, " %s%s", ps_square_name(capture->from),
                               ps_square_name(capture->to));
        }
    if (analysis->tension[PS_WHITE].count + analysis->tension[PS_BLACK].count == 0)
        length += snprintf(text + length, size - (size_t)length, " none");
    return length;
}

static void write_class(char *text, size_t size, const ps_analysis *analysis)
{
    int length = write_side(text, size, analysis, PS_WHITE);
    length += write_side(text + length, size - (size_t)length, analysis, PS_BLACK);
    length += snprintf(text + length, size - (size_t)length, "near misses");
    for (int i = 0; i < analysis->near_miss_count; i++)
        length += snprintf(text + length, size - (size_t)length, " %s",
                           ps_near_miss_name(analysis->near_misses[i]));
    if (analysis->near_miss_count == 0)
        length += snprintf(text + length, size - (size_t)length, " none");
    write_tension(text + length, size - (size_t)length, analysis);
}

static void note_lever(int *statuses, const ps_lever *lever)
{
    if (lever->square != PS_NO_SQUARE)
        statuses[lever->status]++;
}

static void note_plan(Coverage *coverage, const ps_analysis *analysis, ps_side side)
{
    const ps_chain *chain = &analysis->chains[analysis->plan[side].chain];
    const ps_chain_side *view = ps_plan_chain(analysis, side);
    if (view == NULL)
        return;
    coverage->region[analysis->plan[side].region]++;
    coverage->length[chain->last_file - chain->first_file - 1]++;
    coverage->off_board[side] += view->toward == PS_NO_FILE;
    note_lever(coverage->base_status, &view->base_lever);
    note_lever(coverage->head_status, &view->head_lever);
}

static void note(Coverage *coverage, const ps_analysis *analysis, ps_side to_move)
{
    coverage->to_move[to_move]++;
    coverage->verdict[to_move][analysis->plan[to_move].verdict]++;
    coverage->first_to_break[analysis->first_to_break + 1]++;
    for (int i = 0; i < analysis->near_miss_count; i++)
        coverage->near_miss[analysis->near_misses[i]]++;
    for (int i = 0; i < analysis->chain_count; i++)
        coverage->grade[analysis->chains[i].grade]++;
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        note_plan(coverage, analysis, (ps_side)side);
        coverage->tension[side] += analysis->tension[side].count > 0;
        for (int i = 0; i < analysis->tension[side].count; i++)
            coverage->en_passant[side] += analysis->tension[side].items[i].en_passant;
    }
}

static bool check_line(void *context, const EpdRecord *record)
{
    Coverage *coverage = context;
    char id[32];
    char found[256];
    ps_board board;
    ps_analysis analysis;

    snprintf(id, sizeof id, "structures.%02d", ++coverage->lines);
    assert_string_equal(epd_text(record, "id"), id);
    const char *reason = epd_text(record, "c0");
    assert_non_null(reason);
    assert_non_null(epd_text(record, "c1"));
    assert_true(strlen(reason) >= 20 && strlen(reason) <= 110);

    structure_view(&record->position, &board);
    ps_analyse(&analysis, &board);
    write_class(found, sizeof found, &analysis);
    if (strcmp(epd_text(record, "c1"), found) != 0)
        fail_msg("%s claims \"%s\", found \"%s\"", id, epd_text(record, "c1"), found);
    note(coverage, &analysis, board.to_move);
    return true;
}

static void each_line_is_what_it_says(void **state)
{
    (void)state;
    Coverage coverage = {0};
    assert_true(epd_read_file(path, check_line, &coverage));
    assert_true(coverage.lines >= 100);
    const int *counts = (const int *)&coverage;
    for (size_t i = 0; i < sizeof coverage / sizeof *counts; i++) {
        if (counts[i] == 0)
            print_message("no line for class %zu\n", i);
        assert_true(counts[i] > 0);
    }
}

static bool collect(void *context, const EpdRecord *record)
{
    char(*seen)[FEN_SIZE] = context;
    int i = 0;
    for (; seen[i][0] != '\0'; i++)
        assert_string_not_equal(seen[i], record->fields);
    memcpy(seen[i], record->fields, FEN_SIZE);
    return true;
}

static void no_position_comes_twice(void **state)
{
    (void)state;
    static char seen[256][FEN_SIZE];
    assert_true(epd_read_file(path, collect, seen));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_line_is_what_it_says),
        cmocka_unit_test(no_position_comes_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
