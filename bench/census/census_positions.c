#include "bench/census/census_positions.h"
#include "bench/base/complaint.h"
#include "bench/pgn/epd.h"

#include <stdlib.h>
#include <string.h>

enum { LINE_SIZE = 512 };

bool census_positions_open(CensusPositions *positions, const char *path)
{
    *positions = (CensusPositions){0};
    return output_open(&positions->file, path);
}

/* The place of a key, or the empty one where it belongs. */
static uint64_t *find(uint64_t *seen, size_t capacity, uint64_t key)
{
    size_t at = (size_t)key & (capacity - 1);
    while (seen[at] != 0 && seen[at] != key)
        at = (at + 1) & (capacity - 1);
    return &seen[at];
}

/* Keeps at least half of the places empty. */
static bool reserve(CensusPositions *positions)
{
    if (2 * positions->count < positions->capacity)
        return true;
    size_t capacity = positions->capacity ? 2 * positions->capacity : 1024;
    uint64_t *seen = calloc(capacity, sizeof *seen);
    if (seen == NULL)
        return false;
    for (size_t i = 0; i < positions->capacity; i++)
        if (positions->seen[i] != 0)
            *find(seen, capacity, positions->seen[i]) = positions->seen[i];
    free(positions->seen);
    positions->seen = seen;
    positions->capacity = capacity;
    return true;
}

static const char *status_text(const CensusSide *side)
{
    return side->status == PS_NO_STATUS ? "none" : ps_status_name(side->status);
}

static void write_line(char line[LINE_SIZE], const char *file, const CensusGame *game,
                       const Position *position)
{
    char name[EPD_NAME_SIZE];
    const CensusSide *own = &game->side[position_turn(position)];
    const CensusSide *other = &game->side[opposite(position_turn(position))];
    epd_quotable_name(file, name);
    snprintf(line, LINE_SIZE, "%.*s c0 \"%s/%s\"; c1 \"%s/%s\"; fmvn %d; hmvc %d; id \"%s, game %zu\";",
             (int)epd_fields_length(game->fen), game->fen, ps_verdict_name(own->verdict), status_text(own),
             ps_verdict_name(other->verdict), status_text(other), position->fullmove, position->halfmoves,
             name, game->number);
}

bool census_positions_add(CensusPositions *positions, const char *file, const CensusGame *game)
{
    EpdRecord record;
    Position position;
    char line[LINE_SIZE], error[EPD_ERROR_SIZE];
    if (game->fen == NULL || fen_parse(game->fen, game->chess960, &position, NULL) != FEN_OK)
        return true;
    if (!reserve(positions)) {
        complain(positions->file.path, 0, "memory ran out");
        return false;
    }
    uint64_t key = position.key ? position.key : 1;
    uint64_t *place = find(positions->seen, positions->capacity, key);
    if (*place == key)
        return true;
    write_line(line, file, game, &position);
    if (!epd_parse(line, &record, error))
        return true;
    epd_free(&record);
    *place = key;
    positions->count++;
    fprintf(positions->file.stream, "%s\n", line);
    return true;
}

bool census_positions_commit(CensusPositions *positions)
{
    free(positions->seen);
    return output_commit(&positions->file);
}

void census_positions_abandon(CensusPositions *positions)
{
    free(positions->seen);
    output_abandon(&positions->file);
}
