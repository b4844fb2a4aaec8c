#include "bench/forecast/forecast_data.h"
#include "bench/base/array.h"

#include <stdlib.h>
#include <string.h>

/* It is mostly that of the latest game. */
bool forecast_data_find_file(ForecastData *data, const char *file, uint32_t *index)
{
    for (size_t i = data->file_count; i-- > 0;) {
        if (strcmp(data->files[i], file) == 0) {
            *index = (uint32_t)i;
            return true;
        }
    }
    char **files = realloc(data->files, (data->file_count + 1) * sizeof *files);
    if (files == NULL)
        return false;
    data->files = files;
    if ((files[data->file_count] = strdup(file)) == NULL)
        return false;
    *index = (uint32_t)data->file_count++;
    return true;
}

bool forecast_data_add(ForecastData *data, const char *file, const ForecastGame *game)
{
    size_t row_count = (size_t)game->row_count, choice_count = (size_t)game->choice_count;
    uint32_t file_index;
    if (!array_reserve(data->games, data->game_capacity, data->game_count, 1) ||
        !array_reserve(data->rows, data->row_capacity, data->row_count, row_count) ||
        !array_reserve(data->choices, data->choice_capacity, data->choice_count, choice_count) ||
        !forecast_data_find_file(data, file, &file_index))
        return false;

    ForecastHead *head = &data->games[data->game_count];
    *head = (ForecastHead){.file = file_index,
                           .first_row = (uint32_t)data->row_count,
                           .row_count = (uint32_t)row_count,
                           .number = game->number,
                           .line = game->line,
                           .hash = game->hash,
                           .start = game->start,
                           .plies = game->plies,
                           .result = game->result,
                           .rating = {game->rating[WHITE], game->rating[BLACK]}};
    memcpy(head->opening, game->opening, sizeof head->opening);
    for (size_t i = 0; i < row_count; i++)
        data->rows[data->row_count++] =
            (ForecastEntry){.row = game->rows[i],
                            .game = (uint32_t)data->game_count,
                            .opening = forecast_opening(game, &game->rows[i]),
                            .first_choice = data->choice_count + game->rows[i].first_choice};
    if (choice_count > 0)
        memcpy(data->choices + data->choice_count, game->choices, choice_count * sizeof *data->choices);
    data->choice_count += choice_count;
    data->game_count++;
    return true;
}

bool forecast_data_add_part(ForecastData *data, const ForecastPart *part)
{
    ForecastPart *parts = realloc(data->parts, (data->part_count + 1) * sizeof *parts);
    if (parts == NULL)
        return false;
    data->parts = parts;
    parts[data->part_count++] = *part;
    return true;
}

bool forecast_data_is_complete(const ForecastData *data)
{
    for (size_t i = 0; i < data->part_count; i++) {
        size_t of_this = 0, of_all = 0;
        for (size_t j = 0; j < data->part_count; j++) {
            bool alike = data->parts[j].shares == data->parts[i].shares;
            of_all += alike;
            of_this += alike && data->parts[j].share == data->parts[i].share;
        }
        if (of_all != of_this * data->parts[i].shares)
            return false;
    }
    return true;
}

/* The places of the files' names in alphabetical order. */
static void rank_files(const ForecastData *data, uint32_t *ranks)
{
    for (size_t i = 0; i < data->file_count; i++) {
        ranks[i] = 0;
        for (size_t j = 0; j < data->file_count; j++)
            ranks[i] += strcmp(data->files[j], data->files[i]) < 0;
    }
}

typedef struct Place {
    uint32_t file, game; /* rank of its file; index */
    size_t number;
} Place;

static int compare_places(const void *a, const void *b)
{
    const Place *x = a, *y = b;
    if (x->file != y->file)
        return x->file < y->file ? -1 : 1;
    return (x->number > y->number) - (x->number < y->number);
}

/* Moves games and rows to new arrays in that order. */
static void move_games(ForecastData *data, const Place *places, ForecastHead *games, ForecastEntry *rows)
{
    size_t row_count = 0;
    for (size_t i = 0; i < data->game_count; i++) {
        games[i] = data->games[places[i].game];
        for (uint32_t r = 0; r < games[i].row_count; r++) {
            rows[row_count + r] = data->rows[games[i].first_row + r];
            rows[row_count + r].game = (uint32_t)i;
        }
        games[i].first_row = (uint32_t)row_count;
        row_count += games[i].row_count;
    }
    free(data->games);
    free(data->rows);
    data->games = games;
    data->rows = rows;
    data->game_capacity = data->game_count;
    data->row_capacity = data->row_count;
}

bool forecast_data_sort(ForecastData *data)
{
    uint32_t *ranks = malloc((data->file_count + 1) * sizeof *ranks);
    Place *places = malloc((data->game_count + 1) * sizeof *places);
    ForecastHead *games = malloc((data->game_count + 1) * sizeof *games);
    ForecastEntry *rows = malloc((data->row_count + 1) * sizeof *rows);
    bool good = ranks != NULL && places != NULL && games != NULL && rows != NULL;
    if (good) {
        rank_files(data, ranks);
        for (size_t i = 0; i < data->game_count; i++)
            places[i] = (Place){ranks[data->games[i].file], (uint32_t)i, data->games[i].number};
        qsort(places, data->game_count, sizeof *places, compare_places);
        move_games(data, places, games, rows);
    } else {
        free(games);
        free(rows);
    }
    free(ranks);
    free(places);
    return good;
}

const ForecastHead *forecast_data_find_double(const ForecastData *data)
{
    for (size_t i = 1; i < data->game_count; i++)
        if (data->games[i].file == data->games[i - 1].file &&
            data->games[i].number == data->games[i - 1].number)
            return &data->games[i];
    return NULL;
}

void forecast_data_free(ForecastData *data)
{
    for (size_t i = 0; i < data->file_count; i++)
        free(data->files[i]);
    free(data->files);
    free(data->games);
    free(data->rows);
    free(data->choices);
    free(data->parts);
    *data = (ForecastData){0};
}
