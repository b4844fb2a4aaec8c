/* What many games show, row by row, so that every count and every control is made from the same rows. About 200 bytes a
 * game. */
#ifndef PAWNVANE_FORECAST_DATA_H
#define PAWNVANE_FORECAST_DATA_H

#include "bench/forecast/forecast_game.h"

/* A row of a game, with what has to be looked up otherwise. */
typedef struct ForecastEntry {
    ForecastRow row;
    uint32_t game;       /* index */
    uint64_t opening;    /* forecast_opening() */
    size_t first_choice; /* index; row.choice_count of them */
} ForecastEntry;

/* ForecastGame without its rows. */
typedef struct ForecastHead {
    uint32_t file; /* index */
    uint32_t first_row, row_count;
    size_t number, line;
    uint64_t hash, start;
    Move opening[FORECAST_OPENING_PLIES];
    int plies;
    PgnResult result;
    int rating[2];
} ForecastHead;

/* What was counted in one go: games number `share`, `share` + `shares`, ... of its input. */
typedef struct ForecastPart {
    size_t share, shares;
    size_t games, skipped; /* read; broken */
    uint64_t plies;
} ForecastPart;

typedef struct ForecastData {
    size_t game_count, row_count, choice_count, file_count, part_count;
    size_t game_capacity, row_capacity, choice_capacity;
    ForecastHead *games;
    ForecastEntry *rows;
    ForecastChoice *choices;
    char **files;
    ForecastPart *parts;
} ForecastData;

/* Adds what a game of a file showed. False if memory runs out. */
bool forecast_data_add(ForecastData *data, const char *file, const ForecastGame *game);

/* The index of a file's name, which may be new. False if memory runs out. */
bool forecast_data_find_file(ForecastData *data, const char *file, uint32_t *index);

/* Adds a part, whose games are added besides. False if memory runs out. */
bool forecast_data_add_part(ForecastData *data, const ForecastPart *part);

/* Whether all shares of what was counted in shares are there. */
bool forecast_data_is_complete(const ForecastData *data);

/* Puts the games in the order of their files' names and their numbers in them, so that what was counted in shares gives the
 * same numbers, to the last digit, as what was counted in one go. False if memory runs out. */
bool forecast_data_sort(ForecastData *data);

/* A game that is there twice in sorted data (same file, same number), null if there is none. */
const ForecastHead *forecast_data_find_double(const ForecastData *data);

void forecast_data_free(ForecastData *data);

#endif
