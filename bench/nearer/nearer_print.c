#include "bench/nearer/nearer_print.h"
#include "bench/base/csv.h"
#include "bench/base/json_line.h"

#include <math.h>

/* ------------------------------------------------------------------------------------------- for people */

/* `better` is 1 where more is nearer, -1 where less is. */
static const char *nearer_arm(const ClusteredMean *difference, int better)
{
    if (difference->interval.low > 0)
        return better > 0 ? "A" : "B";
    if (difference->interval.high < 0)
        return better > 0 ? "B" : "A";
    return "one cannot tell";
}

static void print_number(FILE *out, const char *name, const NearerNumber *number, double scale, int better)
{
    const ClusteredMean *d = &number->difference;
    fprintf(out, "%-36s %7.2f %7.2f  %+7.2f", name, scale * number->arm[0].mean, scale * number->arm[1].mean,
            scale * d->mean + 0.0);
    if (isfinite(d->error))
        fprintf(out, "  %+7.2f to %+6.2f", scale * d->interval.low + 0.0, scale * d->interval.high + 0.0);
    else
        fprintf(out, "  %17s", "-");
    fprintf(out, "  %s\n", nearer_arm(d, better));
}

void nearer_print(FILE *out, const Arm arms[NEARER_SEARCHES], const char *engine,
                  const NearerSummary *summary, bool by_game)
{
    static const char *const names[NEARER_SEARCHES] = {"A:    ", "B:    ", "Deep: "};
    for (int i = 0; i < NEARER_SEARCHES; i++) {
        char text[ARM_TEXT_SIZE];
        arm_text(&arms[i], text);
        fprintf(out, "%s%s", names[i], text);
        if (i == NEARER_DEEP)
            fprintf(out, ", the defaults of %s", *engine ? engine : "this engine");
        fputc('\n', out);
    }
    if (by_game)
        fprintf(out, "%zu positions in %zu unit%s: those of a game (c8) are one, any other is its own.\n\n",
                summary->positions, summary->units, summary->units == 1 ? "" : "s");
    else
        fprintf(out, "%zu positions, each a unit of its own.\n\n", summary->positions);
    fprintf(out, "%-36s %7s %7s  %7s  %17s  %s\n", "", "A", "B", "A - B", "95 %", "nearer");
    print_number(out, "move of the deep search, %", &summary->same_move, 100, 1);
    print_number(out, "score off the deep one's, centipawns", &summary->distance, 1, -1);
    fprintf(out, "\n" NEARER_CAUTION "\n");
}

/* ------------------------------------------------------------------------------------------- for programs */

typedef struct Row {
    const char *name;
    const NearerNumber *number;
} Row;

enum { ROWS = 2 };

static void list_rows(const NearerSummary *summary, Row rows[ROWS])
{
    rows[0] = (Row){"same_move", &summary->same_move};
    rows[1] = (Row){"distance", &summary->distance};
}

void nearer_print_csv(FILE *out, const NearerSummary *summary)
{
    Row rows[ROWS];
    list_rows(summary, rows);
    fputs("number,positions,units,a,b,difference,standard_error,low,high\n", out);
    for (int i = 0; i < ROWS; i++) {
        const NearerNumber *n = rows[i].number;
        const ClusteredMean *d = &n->difference;
        const double values[] = {n->arm[0].mean, n->arm[1].mean,  d->mean,
                                 d->error,       d->interval.low, d->interval.high};
        fprintf(out, "%s,%zu,%zu", rows[i].name, summary->positions, summary->units);
        csv_reals(out, values, sizeof values / sizeof *values);
        fputc('\n', out);
    }
}

bool nearer_print_json(FILE *out, const Arm arms[NEARER_SEARCHES], const char *engine,
                       const NearerSummary *summary, bool by_game)
{
    static const char *const names[NEARER_SEARCHES] = {"a", "b", "deep"};
    Row rows[ROWS];
    cJSON *object = cJSON_CreateObject();
    for (int i = 0; i < NEARER_SEARCHES; i++) {
        char text[ARM_TEXT_SIZE];
        arm_text(&arms[i], text);
        cJSON_AddStringToObject(object, names[i], text);
    }
    cJSON_AddStringToObject(object, "deep_engine", *engine ? engine : "this engine");
    cJSON_AddNumberToObject(object, "positions", (double)summary->positions);
    cJSON_AddNumberToObject(object, "units", (double)summary->units);
    cJSON_AddStringToObject(object, "unit", by_game ? "game" : "position");
    list_rows(summary, rows);
    for (int i = 0; i < ROWS; i++) {
        const ClusteredMean *d = &rows[i].number->difference;
        cJSON *number = cJSON_AddObjectToObject(object, rows[i].name);
        json_add_real(number, "a", rows[i].number->arm[0].mean);
        json_add_real(number, "b", rows[i].number->arm[1].mean);
        json_add_real(number, "difference", d->mean);
        json_add_real(number, "standard_error", d->error);
        json_add_real(number, "low", d->interval.low);
        json_add_real(number, "high", d->interval.high);
    }
    cJSON_AddStringToObject(object, "caution", NEARER_CAUTION);
    return json_print_line(out, object);
}
