#include "bench/forecast/forecast_data.h"

#include <stdlib.h>
#include <string.h>

/* Room for `more` items behind `count`. */
static bool reserve(void **items, size_t *capacity, size_t count, size_t more, size_t size)
{
    if (count + more <= *capacity)
        return true;
    size_t wanted = 2 * (count + more);
    void *moved = realloc(*items, wanted * size);
    if (moved == NULL)
        return false;
    *items = moved;
    *capacity = wanted;
    return true;
}

/* The index of a file's name; it is mostly that of the latest game. */
static bool find_file(ForecastData *data, const char *file, uint32_t *index)
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
    void *games = data->games, *rows = data->rows, *choices = data->choices;
    size_t row_count = (size_t)game->row_count, choice_count = (size_t)game->choice_count;
    uint32_t file_index;
    bool good = reserve(&games, &data->game_capacity, data->game_count, 1, sizeof *data->games);
    data->games = games;
    good = good && reserve(&rows, &data->row_capacity, data->row_count, row_count, sizeof *data->rows);
    data->rows = rows;
    good = good &&
           reserve(&choices, &data->choice_capacity, data->choice_count, choice_count, sizeof *data->choices);
    data->choices = choices;
    if (!good || !find_file(data, file, &file_index))
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

static int compare_places(const void *a, const void *b)
{
    const ForecastHead *x = *(const ForecastHead *const *)a, *y = *(const ForecastHead *const *)b;
    if (x->file != y->file)
        return x->file < y->file ? -1 : 1;
    return (x->number > y->number) - (x->number < y->number);
}

bool forecast_data_find_double(const ForecastData *data, const ForecastHead **game)
{
    const ForecastHead **sorted = malloc((data->game_count + 1) * sizeof *sorted);
    *game = NULL;
    if (sorted == NULL)
        return false;
    for (size_t i = 0; i < data->game_count; i++)
        sorted[i] = &data->games[i];
    qsort(sorted, data->game_count, sizeof *sorted, compare_places);
    for (size_t i = 1; i < data->game_count && *game == NULL; i++)
        if (compare_places(&sorted[i - 1], &sorted[i]) == 0)
            *game = sorted[i];
    free(sorted);
    return true;
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
