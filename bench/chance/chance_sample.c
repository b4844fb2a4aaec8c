#include "bench/chance/chance_sample.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/base/output_file.h"
#include "engine/evaluation/score.h"
#include "engine/rules/movegen.h"

#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

enum { HELD_OUT_EVERY = 5, COLUMNS = 11, HISTORY_MOST = 1000000 };

static const char origin_prefix[] = "# Moves of searches and whether they raised alpha, made by: ";

bool chance_held_out(uint32_t game)
{
    return game % HELD_OUT_EVERY == 0;
}

uint32_t chance_last_game(const ChanceSample *sample)
{
    uint32_t last = 0;
    for (size_t i = 0; i < sample->count; i++)
        last = sample->moves[i].game > last ? sample->moves[i].game : last;
    return last;
}

bool chance_sample_add(ChanceSample *sample, const SampledMove *moves, size_t count)
{
    if (count == 0)
        return true;
    if (!array_reserve(sample->moves, sample->capacity, sample->count, count))
        return false;
    memcpy(&sample->moves[sample->count], moves, count * sizeof *moves);
    sample->count += count;
    return true;
}

void chance_sample_free(ChanceSample *sample)
{
    free(sample->moves);
    *sample = (ChanceSample){0};
}

/* -------------------------------------------------------------------------------------------- as a file */

typedef struct Column {
    const char *name;
    int least, greatest;
} Column;

static const Column columns[COLUMNS] = {
    {"game", 1, CHANCE_GAMES_MAX},
    {"raised", 0, 1},
    {"depth", 1, MAX_PLY},
    {"number", 2, MOVES_MAX},
    {"sort", 0, SORT_COUNT - 1},
    {"gives_check", 0, 1},
    {"origin", 0, ORIGIN_COUNT - 1},
    {"goal", 0, GOAL_COUNT - 1},
    {"history", -HISTORY_MOST, HISTORY_MOST},
    {"gap_before", -CHANCE_NO_GAP, CHANCE_NO_GAP},
    {"gap_behind", -CHANCE_NO_GAP, CHANCE_NO_GAP},
};

static void to_columns(const SampledMove *s, int values[COLUMNS])
{
    const ChanceMove *m = &s->move;
    const int all[COLUMNS] = {(int)s->game, s->raised,      m->depth,     m->number,
                              m->sort,      m->gives_check, m->origin,    m->goal,
                              m->history,   m->gap_before,  m->gap_behind};
    memcpy(values, all, sizeof all);
}

static SampledMove from_columns(const int v[COLUMNS])
{
    return (SampledMove){.game = (uint32_t)v[0],
                         .raised = v[1] != 0,
                         .move = {.depth = (uint8_t)v[2],
                                  .number = (uint8_t)v[3],
                                  .sort = (uint8_t)v[4],
                                  .gives_check = v[5] != 0,
                                  .origin = (uint8_t)v[6],
                                  .goal = (uint8_t)v[7],
                                  .history = v[8],
                                  .gap_before = (int16_t)v[9],
                                  .gap_behind = (int16_t)v[10]}};
}

bool chance_sample_write(const ChanceSample *sample, const char *path)
{
    OutputFile file;
    if (!output_open(&file, path))
        return false;
    fprintf(file.stream, "%s%s\n#", origin_prefix, sample->origin);
    for (int i = 0; i < COLUMNS; i++)
        fprintf(file.stream, " %s", columns[i].name);
    fputc('\n', file.stream);
    for (size_t i = 0; i < sample->count; i++) {
        int values[COLUMNS];
        to_columns(&sample->moves[i], values);
        for (int c = 0; c < COLUMNS; c++)
            fprintf(file.stream, "%s%d", c ? " " : "", values[c]);
        fputc('\n', file.stream);
    }
    return output_commit(&file);
}

/* The text is taken apart. */
static bool read_columns(const char *name, long line, char *text, int values[COLUMNS])
{
    char *rest = text;
    for (int c = 0; c < COLUMNS; c++) {
        const Column *column = &columns[c];
        const char *word = strtok_r(c ? NULL : text, " \t\r\n", &rest);
        int64_t value;
        if (!word || !read_number(word, column->least, column->greatest, &value)) {
            complain(name, line, "%s is %s%s%s; expected a whole number from %d to %d", column->name,
                     word ? "\"" : "", word ? word : "missing", word ? "\"" : "", column->least,
                     column->greatest);
            return false;
        }
        values[c] = (int)value;
    }
    const char *more = strtok_r(NULL, " \t\r\n", &rest);
    if (more)
        complain(name, line, "\"%s\" is one number too many; expected %d", more, COLUMNS);
    return !more;
}

static bool read_line(ChanceSample *sample, const char *name, long line, char *text, uint32_t games_before)
{
    int values[COLUMNS];
    size_t blank = strspn(text, " \t\r\n");
    if (text[blank] == '\0' || text[blank] == '#')
        return true;
    if (!read_columns(name, line, text, values))
        return false;
    SampledMove move = from_columns(values);
    move.game += games_before;
    if (move.game > CHANCE_GAMES_MAX)
        complain(name, line, "this is game %" PRIu32 " of all samples; expected %d at most", move.game,
                 CHANCE_GAMES_MAX);
    else if (!chance_sample_add(sample, &move, 1))
        complain(name, line, "memory ran out");
    else
        return true;
    return false;
}

bool chance_sample_read(ChanceSample *sample, const char *path)
{
    bool standard = strcmp(path, "-") == 0, good = true;
    const char *name = standard ? "standard input" : path;
    uint32_t fifths = (chance_last_game(sample) + HELD_OUT_EVERY - 1) / HELD_OUT_EVERY;
    char *text = NULL;
    size_t size = 0;
    if (!standard)
        origin_add_of_file(sample->origin, path, origin_prefix);
    FILE *file = standard ? stdin : fopen(path, "r");
    if (!file) {
        complain(path, 0, "cannot be opened: %s; expected a sample of moves", strerror(errno));
        return false;
    }
    for (long line = 1; good && getline(&text, &size, file) >= 0; line++)
        good = read_line(sample, name, line, text, fifths * HELD_OUT_EVERY);
    if (good && ferror(file)) {
        complain(name, 0, "cannot be read: %s", strerror(errno));
        good = false;
    }
    free(text);
    if (!standard)
        fclose(file);
    return good;
}
