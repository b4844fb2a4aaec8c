#include "bench/fit/fit_worth_print.h"
#include "bench/base/complaint.h"
#include "bench/base/json_line.h"
#include "bench/page/table_sink.h"

#include <stdio.h>

/* A row of the table. */
typedef struct Line {
    const char *name, *unit;
    double engine;
    const Worth *worth;
} Line;

enum { LINES_MAX = PS_WEIGHT_COUNT + WORTH_STEP_COUNT + 1 };

static const char *const step_names[WORTH_STEP_COUNT] = {
    [WORTH_BASE_PLAYED] = "base played, not ready", [WORTH_BASE_DONE] = "base exchanged, not ready",
    [WORTH_HEAD_PLAYED] = "head played, not ready", [WORTH_HEAD_DONE] = "head exchanged, not ready",
    [WORTH_BASE_USUAL] = "base ready, as usual",
};

static double engine_step(const ps_weights *engine, WorthStep step, const double usual[3])
{
    if (step == WORTH_BASE_USUAL)
        return engine->base_lever[1] + engine->support * usual[0] + engine->room * usual[1] / PS_ROOM_UNITS +
               engine->piece * usual[2];
    const int *lever = step <= WORTH_BASE_DONE ? engine->base_lever : engine->head_lever;
    bool done = step == WORTH_BASE_DONE || step == WORTH_HEAD_DONE;
    return lever[0] - lever[1] + (done ? PS_SURPLUS_MOST * engine->support : 0);
}

static int list_lines(Line lines[LINES_MAX], const FitWorth *worth, const ps_weights *engine)
{
    ps_weights weights = *engine;
    int count = 0;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        const ps_weight_entry *entry = &ps_weight_table[i];
        double value = *ps_weight_at(&weights, i);
        if (entry->offset == offsetof(ps_weights, room))
            value /= PS_ROOM_UNITS;
        if (entry->least < entry->greatest)
            lines[count++] = (Line){entry->name, entry->offset >= offsetof(ps_weights, grade) ? "%" : "cp",
                                    value, &worth->weights[i]};
    }
    for (int i = 0; i < WORTH_STEP_COUNT; i++)
        lines[count++] =
            (Line){step_names[i], "cp", engine_step(engine, (WorthStep)i, worth->usual), &worth->steps[i]};
    lines[count++] = (Line){"the whole term", "%", 100, &worth->whole};
    return count;
}

static bool is_clear(const Worth *worth)
{
    return worth->known && (worth->interval.low > 0 || worth->interval.high < 0);
}

static void write_table(const TableSink *sink, const FitWorth *worth, const ps_weights *engine)
{
    static const PageColumn columns[] = {{"weight", false},  {"unit", false}, {"engine", true},
                                         {"measured", true}, {"error", true}, {"low", true},
                                         {"high", true},     {"games", true}, {"positions", true}};
    Line lines[LINES_MAX];
    int count = list_lines(lines, worth, engine);
    TABLE_BEGIN(sink, "worth", "What each part of the lever term is worth",
                "95 % intervals from low to high, by games.", columns);
    for (int i = 0; i < count; i++) {
        const Worth *w = lines[i].worth;
        double numbers[] = {w->value, w->error, w->interval.low, w->interval.high};
        table_cell(sink, "%s", lines[i].name);
        table_cell(sink, "%s", lines[i].unit);
        table_number(sink, 2, lines[i].engine);
        for (int k = 0; k < 4; k++)
            table_number(sink, 2, w->known ? numbers[k] : NAN);
        table_cell(sink, "%zu", w->games);
        table_cell(sink, "%zu", w->positions);
    }
    sink->end(sink->context);
}

static void print_conclusion(const FitWorth *worth, const ps_weights *engine)
{
    Line lines[LINES_MAX];
    int count = list_lines(lines, worth, engine), known = 0, clear = 0;
    for (int i = 0; i < count; i++) {
        known += lines[i].worth->known;
        clear += is_clear(lines[i].worth);
    }
    if (worth->steps[WORTH_BASE_USUAL].known)
        printf("\nA base lever usually has %.1f supporters more than attackers, %.1f squares of room and "
               "%.1f pieces.",
               worth->usual[0], worth->usual[1], worth->usual[2]);
    printf("\n%d of %d intervals leave 0 out (if nothing were worth anything, about one in twenty would)%s\n",
           clear, known, clear ? ":" : ".");
    for (int i = 0; i < count; i++)
        if (is_clear(lines[i].worth))
            printf("  %s: %s\n", lines[i].name,
                   lines[i].worth->value > 0 ? "more than nothing" : "less than nothing");
}

void fit_worth_print(const FitWorth *worth, const ps_weights *engine, const WorthSettings *settings)
{
    TextTable table;
    const TableSink sink = text_table_sink(&table);
    printf("%zu positions of %zu games, scale %.1f centipawns, prior of the other weights %g, %d resamples "
           "by game\n",
           worth->positions, worth->games, settings->scale, settings->prior, settings->resamples);
    write_table(&sink, worth, engine);
    print_conclusion(worth, engine);
}

void fit_worth_print_csv(const FitWorth *worth, const ps_weights *engine)
{
    CsvTable table;
    const TableSink sink = csv_table_sink(&table);
    write_table(&sink, worth, engine);
}

static cJSON *line_as_json(const Line *line)
{
    const Worth *w = line->worth;
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "weight", line->name);
    cJSON_AddStringToObject(object, "unit", line->unit);
    json_add_real(object, "engine", line->engine);
    json_add_real(object, "measured", w->known ? w->value : NAN);
    json_add_real(object, "error", w->known ? w->error : NAN);
    json_add_real(object, "low", w->known ? w->interval.low : NAN);
    json_add_real(object, "high", w->known ? w->interval.high : NAN);
    cJSON_AddNumberToObject(object, "games", (double)w->games);
    cJSON_AddNumberToObject(object, "positions", (double)w->positions);
    return object;
}

bool fit_worth_print_json(const FitWorth *worth, const ps_weights *engine, const WorthSettings *settings)
{
    Line lines[LINES_MAX];
    int count = list_lines(lines, worth, engine);
    cJSON *object = cJSON_CreateObject(), *array;
    cJSON_AddNumberToObject(object, "games", (double)worth->games);
    cJSON_AddNumberToObject(object, "positions", (double)worth->positions);
    json_add_real(object, "scale", settings->scale);
    json_add_real(object, "prior", settings->prior);
    cJSON_AddNumberToObject(object, "resamples", settings->resamples);
    array = cJSON_AddArrayToObject(object, "worth");
    for (int i = 0; i < count; i++)
        cJSON_AddItemToArray(array, line_as_json(&lines[i]));
    if (json_print_line(stdout, object))
        return true;
    complain(NULL, 0, "memory ran out");
    return false;
}
