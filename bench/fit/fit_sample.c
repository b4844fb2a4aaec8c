#include "bench/fit/fit_sample.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/base/output_file.h"
#include "bench/pgn/epd.h"

#include <stdlib.h>
#include <string.h>

enum { HELD_OUT_EVERY = 5 };

static const char *const results[] = {"0-1", "1/2-1/2", "1-0"}; /* by half points for White */

static const char origin_prefix[] = "# Quiet positions of games with their results, made by: ";

bool fit_held_out(uint32_t family)
{
    return family % HELD_OUT_EVERY == 0;
}

bool fit_sample_add(FitSample *sample, const FitPosition *position)
{
    if (!array_reserve(sample->positions, sample->capacity, sample->count, 1))
        return false;
    sample->positions[sample->count++] = *position;
    return true;
}

static int plies_since_start(const Position *p)
{
    return 2 * (p->fullmove - 1) + (position_turn(p) == BLACK);
}

/* NO_FIT_SCORE has no other sign. */
static int16_t for_white(const Position *p, int score)
{
    return (int16_t)(score == NO_FIT_SCORE || position_turn(p) == WHITE ? score : -score);
}

static bool is_quiet(const Position *p, Move best, int score)
{
    return plies_since_start(p) >= FIT_PLIES_SKIPPED &&
           (score == NO_FIT_SCORE || abs(score) < FIT_SCORE_MAX) && position_captured(p, best) == NO_ROLE &&
           !move_is_promotion(best) && !position_in_check(p);
}

bool fit_sample_add_game(FitSample *sample, uint32_t game, const Position *start, const GameRecord *record,
                         int plies_back)
{
    FitPosition at = {.position = *start,
                      .root = *start,
                      .game = game,
                      .family = game,
                      .white_points = (uint8_t)record->white_points};
    for (int ply = 0; ply < record->plies; ply++) {
        Move move = record->moves[ply];
        int score = record->scores[ply];
        at.score = for_white(&at.position, score);
        if (is_quiet(&at.position, move, score) && !fit_sample_add(sample, &at))
            return false;
        position_play(&at.position, move);
        if (ply >= plies_back)
            position_play(&at.root, record->moves[ply - plies_back]);
    }
    return true;
}

void fit_sample_hold_nothing_out(FitSample *sample)
{
    for (size_t i = 0; i < sample->count; i++)
        sample->positions[i].family = 1;
}

void fit_sample_thin(FitSample *sample, size_t n)
{
    size_t kept = 0;
    for (size_t i = 0; i < sample->count; i += n)
        sample->positions[kept++] = sample->positions[i];
    sample->count = kept;
}

bool fit_sample_count_games(const FitSample *sample, size_t *fitted, size_t *held_out)
{
    bool *seen = calloc(FIT_GAME_MAX + 1, sizeof *seen);
    *fitted = *held_out = 0;
    if (!seen)
        return false;
    for (size_t i = 0; i < sample->count; i++) {
        uint32_t game = sample->positions[i].game;
        if (!seen[game])
            ++*(fit_held_out(sample->positions[i].family) ? held_out : fitted);
        seen[game] = true;
    }
    free(seen);
    return true;
}

void fit_sample_free(FitSample *sample)
{
    free(sample->positions);
    *sample = (FitSample){0};
}

/* -------------------------------------------------------------------------------------------- as a file */

static void write_position(FILE *out, const FitPosition *p)
{
    char fen[FEN_SIZE];
    fen_write(&p->position, fen);
    fprintf(out, "%.*s hmvc %d; fmvn %d;", (int)epd_fields_length(fen), fen, p->position.halfmoves,
            p->position.fullmove);
    if (p->score != NO_FIT_SCORE)
        fprintf(out, " ce %d;", for_white(&p->position, p->score));
    if (p->root.key != p->position.key) {
        fen_write(&p->root, fen);
        fprintf(out, " c7 \"%.*s\";", (int)epd_fields_length(fen), fen);
    }
    fprintf(out, " c8 \"%u\"; c9 \"%s\";\n", (unsigned)p->game, results[p->white_points]);
}

bool fit_sample_write(const FitSample *sample, const char *path)
{
    OutputFile file;
    if (!output_open(&file, path))
        return false;
    fprintf(file.stream, "%s%s\n", origin_prefix, sample->origin);
    for (size_t i = 0; i < sample->count; i++)
        write_position(file.stream, &sample->positions[i]);
    return output_commit(&file);
}

static bool read_game(const EpdRecord *record, uint32_t *game)
{
    const char *text = epd_text(record, "c8");
    int64_t number;
    if (!text || !read_number(text, 1, FIT_GAME_MAX, &number)) {
        complain(record->file, record->line, "c8 is %s%s%s; expected the number of the game, 1 to %d",
                 text ? "\"" : "", text ? text : "missing", text ? "\"" : "", FIT_GAME_MAX);
        return false;
    }
    *game = (uint32_t)number;
    return true;
}

static bool read_result(const EpdRecord *record, uint8_t *white_points)
{
    const char *text = epd_text(record, "c9");
    for (uint8_t points = 0; text && points <= 2; points++) {
        if (strcmp(text, results[points]) == 0) {
            *white_points = points;
            return true;
        }
    }
    complain(record->file, record->line,
             "c9 is %s%s%s; expected the result of the game, \"1-0\", \"1/2-1/2\" or \"0-1\"",
             text ? "\"" : "", text ? text : "missing", text ? "\"" : "");
    return false;
}

static bool read_score(const EpdRecord *record, int16_t *score)
{
    const char *text = epd_text(record, "ce");
    int64_t number;
    *score = NO_FIT_SCORE;
    if (!text)
        return true;
    if (!read_number(text, -FIT_SCORE_MAX, FIT_SCORE_MAX, &number)) {
        complain(record->file, record->line, "ce is \"%s\"; expected centipawns, -%d to %d", text,
                 FIT_SCORE_MAX, FIT_SCORE_MAX);
        return false;
    }
    *score = for_white(&record->position, (int)number);
    return true;
}

static bool read_root(const EpdRecord *record, Position *root)
{
    const char *text = epd_text(record, "c7");
    EpdRecord earlier;
    char error[EPD_ERROR_SIZE];
    *root = record->position;
    if (!text)
        return true;
    if (!epd_parse(text, &earlier, error)) {
        complain(record->file, record->line, "c7 is \"%s\", not a position earlier in the game: %s", text,
                 error);
        return false;
    }
    *root = earlier.position;
    epd_free(&earlier);
    return true;
}

typedef struct Reading {
    FitSample *sample;
    uint32_t games_before;
} Reading;

static bool use_record(void *context, const EpdRecord *record)
{
    Reading *reading = context;
    FitPosition position = {.position = record->position};
    if (!read_game(record, &position.game) || !read_result(record, &position.white_points) ||
        !read_score(record, &position.score) || !read_root(record, &position.root))
        return false;
    position.family = position.game += reading->games_before;
    if (position.game > FIT_GAME_MAX) {
        complain(record->file, record->line, "this is game %u of all samples; expected %d at most",
                 (unsigned)position.game, FIT_GAME_MAX);
        return false;
    }
    if (fit_sample_add(reading->sample, &position))
        return true;
    complain(record->file, record->line, "memory ran out");
    return false;
}

/* The number of the last game, made up to a whole number of fifths. */
static uint32_t games_of(const FitSample *sample)
{
    uint32_t last = 0;
    for (size_t i = 0; i < sample->count; i++)
        last = sample->positions[i].game > last ? sample->positions[i].game : last;
    return (last + HELD_OUT_EVERY - 1) / HELD_OUT_EVERY * HELD_OUT_EVERY;
}

bool fit_sample_read(FitSample *sample, const char *path)
{
    if (strcmp(path, "-") != 0)
        origin_add_of_file(sample->origin, path, origin_prefix);
    return epd_read_file(path, use_record, &(Reading){sample, games_of(sample)});
}
