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
} Coverage;

static int write_side(char *text, size_t size, const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    const char *verdict = ps_verdict_name(plan->verdict);
    if (plan->verdict == PS_NONE)
        return snprintf(text, size, "%s %s, ", ps_side_name(side), verdict);
    const ps_pair *pair = &analysis->pairs[plan->pair];
    return snprintf(text, size, "%s %s %s %s %s, ", ps_side_name(side), verdict, ps_grade_name(pair->grade),
                    ps_status_name(pair->side[side].base_lever.status),
                    ps_status_name(pair->side[side].head_lever.status));
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
        snprintf(text + length, size - (size_t)length, " none");
}

static void note(Coverage *coverage, const ps_analysis *analysis, ps_side to_move)
{
    coverage->to_move[to_move]++;
    coverage->verdict[to_move][analysis->plan[to_move].verdict]++;
    coverage->first_to_break[analysis->first_to_break + 1]++;
    for (int i = 0; i < analysis->near_miss_count; i++)
        coverage->near_miss[analysis->near_misses[i]]++;
    for (int i = 0; i < analysis->pair_count; i++)
        coverage->grade[analysis->pairs[i].grade]++;
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_plan *plan = &analysis->plan[side];
        if (plan->verdict == PS_NONE)
            continue;
        const ps_pair_side *view = &analysis->pairs[plan->pair].side[side];
        coverage->region[plan->region]++;
        coverage->base_status[view->base_lever.status]++;
        coverage->head_status[view->head_lever.status]++;
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
    assert_true(coverage.lines >= 72);
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
