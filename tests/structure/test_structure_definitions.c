/* The library against a second reading of the definitions, on generated placements. */
#include "tests/structure/naive_structure.h"
#include "tests/structure/structure_boards.h"

enum { PLACEMENTS = 60000, TEXT_SIZE = 16384 };

typedef struct Written {
    char text[TEXT_SIZE];
    size_t length;
} Written;

__attribute__((format(printf, 2, 3))) static void say(Written *w, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(w->text + w->length, TEXT_SIZE - w->length, format, arguments);
    va_end(arguments);
    assert_true(length >= 0 && (size_t)length < TEXT_SIZE - w->length);
    w->length += (size_t)length;
}

static const char *square_or_null(int square)
{
    return square == PS_NO_SQUARE ? "null" : ps_square_name(square);
}

static void say_lever(Written *w, const ps_lever *lever)
{
    if (lever->square == PS_NO_SQUARE) {
        say(w, " no lever\n");
        return;
    }
    say(w, " %s %s base %d %s %s steps %d blockers", ps_square_name(lever->square),
        ps_square_name(lever->target), lever->target_is_base, ps_status_name(lever->status),
        square_or_null(lever->pawn), lever->steps);
    for (int i = 0; i < lever->blocker_count; i++)
        say(w, " %s", ps_square_name(lever->blockers[i]));
    say(w, " support %d %d tempi %d\n", lever->supporters, lever->attackers, lever->tempi);
}

static void say_plan(Written *w, const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    if (plan->verdict == PS_NONE) {
        say(w, "plan none\n");
        return;
    }
    say(w, "plan %s pair %d %s %s room %d pieces %d\n", ps_verdict_name(plan->verdict), plan->pair,
        ps_region_name(plan->region), ps_square_name(ps_plan_lever(analysis, side)->square), plan->room,
        plan->pieces);
}

static void say_breaks(Written *w, const ps_break_list *list, ps_side side)
{
    say(w, "breaks %c\n", *ps_side_name(side));
    for (int i = 0; i < list->count; i++) {
        const ps_break *item = &list->items[i];
        say(w, "break %s %s on", ps_square_name(item->from), ps_square_name(item->to));
        for (int t = 0; t < item->target_count; t++)
            say(w, " %s", ps_square_name(item->targets[t]));
        say(w, " %s support %d %d\n", ps_break_kind_name(item->kind), item->supporters, item->attackers);
    }
}

static void write_analysis(Written *w, const ps_analysis *analysis)
{
    w->length = 0;
    for (int i = 0; i < analysis->pair_count; i++) {
        const ps_pair *pair = &analysis->pairs[i];
        say(w, "pair %s %s\n", ps_files_name(pair->file), ps_grade_name(pair->grade));
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            const ps_pair_side *view = &pair->side[side];
            say(w, "%c head %s toward %d\n", *ps_side_name((ps_side)side), ps_square_name(view->head),
                view->toward + 1);
            say_lever(w, &view->base_lever);
            say_lever(w, &view->head_lever);
        }
    }
    say_plan(w, analysis, PS_WHITE);
    say_plan(w, analysis, PS_BLACK);
    say(w, "first %c\n",
        analysis->first_to_break == PS_NOBODY ? '-' : *ps_side_name((ps_side)analysis->first_to_break));
    say(w, "misses");
    for (int i = 0; i < analysis->near_miss_count; i++)
        say(w, " %s", ps_near_miss_name(analysis->near_misses[i]));
    say(w, "\n");
    say_breaks(w, &analysis->breaks[PS_WHITE], PS_WHITE);
    say_breaks(w, &analysis->breaks[PS_BLACK], PS_BLACK);
}

/* How often each class came up: a comparison that never meets a class proves nothing about it. */
typedef struct Seen {
    int grade[PS_GRADE_COUNT], base_status[PS_STATUS_COUNT], head_status[PS_STATUS_COUNT];
    int verdict[PS_VERDICT_COUNT], region[PS_REGION_COUNT], near_miss[PS_NEAR_MISS_COUNT];
    int kind[PS_BREAK_KIND_COUNT], first[3], many_pairs, two_on_one_file, no_base_lever, no_head_lever;
} Seen;

static void note_pair(Seen *seen, const ps_analysis *analysis, int i)
{
    const ps_pair *pair = &analysis->pairs[i];
    seen->grade[pair->grade]++;
    seen->two_on_one_file += i > 0 && analysis->pairs[i - 1].file == pair->file;
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_pair_side *view = &pair->side[side];
        if (view->base_lever.square == PS_NO_SQUARE)
            seen->no_base_lever++;
        else
            seen->base_status[view->base_lever.status]++;
        if (view->head_lever.square == PS_NO_SQUARE)
            seen->no_head_lever++;
        else
            seen->head_status[view->head_lever.status]++;
    }
}

static void note(Seen *seen, const ps_analysis *analysis)
{
    for (int i = 0; i < analysis->pair_count; i++)
        note_pair(seen, analysis, i);
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        seen->verdict[analysis->plan[side].verdict]++;
        if (analysis->plan[side].verdict != PS_NONE)
            seen->region[analysis->plan[side].region]++;
        for (int i = 0; i < analysis->breaks[side].count; i++)
            seen->kind[analysis->breaks[side].items[i].kind]++;
    }
    for (int i = 0; i < analysis->near_miss_count; i++)
        seen->near_miss[analysis->near_misses[i]]++;
    seen->first[analysis->first_to_break + 1]++;
    seen->many_pairs += analysis->pair_count > 3;
}

/* The overview says the same of pairs and near misses. */
static void assert_overview_agrees(const ps_board *board, const ps_analysis *analysis)
{
    ps_overview overview = ps_read_overview(board->pawns);
    unsigned pairs = 0, near_misses = 0;
    for (int i = 0; i < analysis->pair_count; i++)
        pairs |= 1U << analysis->pairs[i].file;
    for (int i = 0; i < analysis->near_miss_count; i++)
        near_misses |= 1U << analysis->near_misses[i];
    assert_int_equal(overview.pairs, pairs);
    assert_int_equal(overview.near_misses, near_misses);
}

static void agrees_with_a_second_reading(void **state)
{
    (void)state;
    static Written ours;
    static char theirs[TEXT_SIZE];
    Seen seen = {0};
    uint64_t seed = 20250301;
    for (int i = 0; i < PLACEMENTS; i++) {
        Placed placed;
        ps_analysis analysis;
        place_random(&placed, &seed);
        ps_analyse(&analysis, &placed.board);
        write_analysis(&ours, &analysis);
        naive_analyse(placed.diagram, placed.board.to_move == PS_WHITE ? 'w' : 'b', theirs, TEXT_SIZE);
        if (strcmp(ours.text, theirs) != 0)
            print_message("%.64s\nlibrary:\n%ssecond reading:\n%s", placed.diagram, ours.text, theirs);
        assert_string_equal(ours.text, theirs);
        assert_overview_agrees(&placed.board, &analysis);
        note(&seen, &analysis);
    }
    const int *counts = (const int *)&seen;
    for (size_t i = 0; i < sizeof seen / sizeof *counts; i++) {
        if (counts[i] < 50)
            print_message("class %zu came up only %d times\n", i, counts[i]);
        assert_true(counts[i] >= 50);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(agrees_with_a_second_reading)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
