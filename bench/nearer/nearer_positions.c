#include "bench/nearer/nearer_positions.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/pgn/epd.h"

#include <stdlib.h>

/* Where a position comes from: what is alike is of one game, unless there is no game. */
typedef struct Source {
    int64_t game; /* 0: none */
    size_t index; /* of the position, within the file */
} Source;

typedef struct Reading {
    NearerPositions *positions;
    Source *sources;
    size_t count, capacity;
} Reading;

static bool use_record(void *context, const EpdRecord *record)
{
    Reading *reading = context;
    NearerPositions *p = reading->positions;
    const char *game = epd_text(record, "c8");
    Source source = {.index = reading->count};
    if (!epd_can_be_played(record))
        return false;
    if (!array_reserve(p->items, p->capacity, p->count, 1) ||
        !array_reserve(p->units, p->unit_capacity, p->count, 1) ||
        !array_reserve(reading->sources, reading->capacity, reading->count, 1)) {
        complain(record->file, record->line, "memory ran out");
        return false;
    }
    if (game)
        read_number(game, 1, INT64_MAX, &source.game); /* any other comment is none */
    p->items[p->count++] = record->position;
    reading->sources[reading->count++] = source;
    return true;
}

static int by_game(const void *a, const void *b)
{
    const Source *x = a, *y = b;
    if (x->game != y->game)
        return x->game < y->game ? -1 : 1;
    return (x->index > y->index) - (x->index < y->index);
}

/* Numbers the units of what was read of a file, behind those of the files before. */
static void number_units(Reading *reading)
{
    NearerPositions *p = reading->positions;
    const Source *s = reading->sources;
    if (reading->count == 0)
        return;
    qsort(reading->sources, reading->count, sizeof *s, by_game);
    for (size_t i = 0; i < reading->count; i++) {
        if (i == 0 || s[i].game == 0 || s[i].game != s[i - 1].game)
            p->unit_count++;
        p->units[p->count - reading->count + s[i].index] = p->unit_count - 1;
        p->by_game |= s[i].game != 0;
    }
}

bool nearer_positions_read(NearerPositions *positions, const char *path)
{
    Reading reading = {.positions = positions};
    bool good = epd_read_file(path, use_record, &reading);
    number_units(&reading);
    free(reading.sources);
    return good;
}

void nearer_positions_free(NearerPositions *positions)
{
    free(positions->items);
    free(positions->units);
    *positions = (NearerPositions){0};
}
