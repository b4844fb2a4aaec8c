#include "bench/census/census_tables.h"
#include "bench/base/statistics.h"
#include "bench/explain/answer.h"

#include <stdarg.h>
#include <stdio.h>

enum { CELL_SIZE = 96 };

static const double confidence = 0.95;

const char census_warning[] = "This is observation and no proof. Who plays a lever, and when, is a choice of "
                              "players who also differ in "
                              "strength, opening and clock; that a result goes with a lever does not say "
                              "that the lever brought it about.";

typedef struct Writer {
    const CensusTotals *totals;
    const TableSink *sink;
} Writer;

#define BEGIN(writer, id, title, note, columns)                                                              \
    (writer)->sink->begin((writer)->sink->context, id, title, note, columns,                                 \
                          (sizeof(columns) / sizeof *(columns)))

__attribute__((format(printf, 2, 3))) static void cell(const Writer *writer, const char *format, ...)
{
    char text[CELL_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    writer->sink->cell(writer->sink->context, text);
}

static void end(const Writer *writer)
{
    writer->sink->end(writer->sink->context);
}

/* A count, its share of a whole in percent, and the interval of that share. */
static void share_cells(const Writer *writer, size_t count, size_t whole)
{
    cell(writer, "%zu", count);
    if (whole == 0) {
        cell(writer, "-");
        cell(writer, "-");
        return;
    }
    Interval interval = wilson_interval(count, whole, confidence);
    cell(writer, "%.1f", 100.0 * (double)count / (double)whole);
    cell(writer, "%.1f to %.1f", 100.0 * interval.low, 100.0 * interval.high);
}

static void mean_cell(const Writer *writer, uint64_t sum, size_t count)
{
    if (count == 0)
        cell(writer, "-");
    else
        cell(writer, "%.1f", (double)sum / (double)count);
}

static void grade_cell(const Writer *w, ps_grade grade)
{
    cell(w, "%s", w->sink->by_name || grade != PS_VOID ? ps_grade_name(grade) : "says nothing");
}

static void write_pairs(const Writer *w)
{
    static const PageColumn columns[] = {
        {"Files", false}, {"Grade", false}, {"Games", true}, {"Percent", true}, {"95 % interval", true}};
    BEGIN(w, "pairs", "Games in which two files were locked", "After any ply of the main line.", columns);
    for (int file = 0; file < CENSUS_PAIR_COUNT; file++) {
        cell(w, "%s", ps_files_name(file, file + 1));
        grade_cell(w, ps_grade_of_pairs(1U << file));
        share_cells(w, w->totals->reached[file], w->totals->games);
    }
    end(w);
}

static void write_grades(const Writer *w)
{
    static const PageColumn columns[] = {
        {"Grade", false}, {"Games", true}, {"Percent", true}, {"95 % interval", true}};
    BEGIN(w, "grades", "Games with locked files of a grade", "A game counts once for each grade that it has.",
          columns);
    for (int grade = PS_FIRM; grade >= PS_VOID; grade--) {
        grade_cell(w, (ps_grade)grade);
        share_cells(w, w->totals->grades[grade], w->totals->games);
    }
    end(w);
}

static void write_near_misses(const Writer *w)
{
    static const PageColumn columns[] = {
        {"Near miss", false}, {"Games", true}, {"Percent", true}, {"95 % interval", true}};
    BEGIN(w, "near-misses", "Games with a near miss",
          "Positions that look like a locked chain and are none, or one that says nothing.", columns);
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++) {
        cell(w, "%s", w->sink->by_name ? ps_near_miss_name(i) : answer_near_miss(i));
        share_cells(w, w->totals->near_misses[i], w->totals->games);
    }
    end(w);
}

static void opening_row(const Writer *w, const char *name, const CensusOpening *opening)
{
    cell(w, "%s", name);
    cell(w, "%zu", opening->games);
    cell(w, "%zu", opening->any);
    share_cells(w, opening->de, opening->games);
}

static const PageColumn opening_columns[] = {
    {"Code", false},      {"Games", true},   {"Any locked chain", true},
    {"On d and e", true}, {"Percent", true}, {"95 % interval", true}};

static void write_letters(const Writer *w)
{
    BEGIN(w, "openings", "By opening", "Games that give an ECO code, by its letter.", opening_columns);
    for (int letter = 0; letter < 5; letter++) {
        CensusOpening sum = {0};
        for (int i = 0; i < 100; i++) {
            const CensusOpening *opening = &w->totals->openings[100 * letter + i];
            sum.games += opening->games;
            sum.any += opening->any;
            sum.de += opening->de;
        }
        opening_row(w, (const char[]){(char)('A' + letter), '\0'}, &sum);
    }
    end(w);
}

static void write_codes(const Writer *w)
{
    BEGIN(w, "codes", "By opening code",
          "Codes with at least one game that reaches a locked chain on d and e.", opening_columns);
    for (int eco = 0; eco < CENSUS_ECO_COUNT; eco++) {
        char text[CENSUS_ECO_SIZE];
        if (w->totals->openings[eco].de == 0)
            continue;
        census_eco_text(eco, text);
        opening_row(w, text, &w->totals->openings[eco]);
    }
    end(w);
}

static void write_first_moments(const Writer *w)
{
    static const PageColumn columns[] = {
        {"Verdict", false}, {"Base lever", false}, {"White", true}, {"Black", true}};
    BEGIN(w, "first-de", "The first moment of a locked chain on d and e",
          "What the direction said to each side, and the state of its base lever.", columns);
    for (int verdict = 0; verdict < PS_VERDICT_COUNT; verdict++) {
        for (int status = 0; status < CENSUS_STATUS_COUNT; status++) {
            size_t white = w->totals->first_de[WHITE][verdict][status];
            size_t black = w->totals->first_de[BLACK][verdict][status];
            if (white + black == 0)
                continue;
            cell(w, "%s", ps_verdict_name(verdict));
            cell(w, "%s", census_status_name(status));
            cell(w, "%zu", white);
            cell(w, "%zu", black);
        }
    }
    end(w);
}

static void write_levers(const Writer *w)
{
    static const PageColumn columns[] = {{"Lever", false},
                                         {"Played", true},
                                         {"Percent", true},
                                         {"95 % interval", true},
                                         {"Plies later (mean)", true}};
    const CensusTotals *t = w->totals;
    size_t games = census_de_games(t);
    BEGIN(w, "levers", "Levers played after the first moment",
          "By a pawn that goes to the lever square without capturing, at any later ply.", columns);
    for (int side = WHITE; side <= BLACK; side++) {
        cell(w, "%s, base", ps_side_name(side));
        share_cells(w, t->base_lever_played[side], games);
        mean_cell(w, t->base_lever_delay[side], t->base_lever_played[side]);
        cell(w, "%s, head", ps_side_name(side));
        share_cells(w, t->head_lever_played[side], games);
        mean_cell(w, t->head_lever_delay[side], t->head_lever_played[side]);
    }
    end(w);
}

static void write_first(const Writer *w)
{
    static const PageColumn columns[] = {
        {"First to play the base lever", false}, {"Games", true}, {"Percent", true}, {"95 % interval", true}};
    static const char *const names[CENSUS_FIRST_COUNT] = {"White", "Black", "neither"};
    BEGIN(w, "first", "Who was first",
          "In games that reach a locked chain on d and e; the last two rows in those where one was first and "
          "the count "
          "named one.",
          columns);
    for (int i = 0; i < CENSUS_FIRST_COUNT; i++) {
        cell(w, "%s", names[i]);
        share_cells(w, w->totals->first[i], census_de_games(w->totals));
    }
    const size_t *foretold = w->totals->foretold;
    int usual = foretold[BLACK] > foretold[WHITE] ? BLACK : WHITE;
    cell(w, "as the count of tempi said");
    share_cells(w, w->totals->foretold_rightly, foretold[WHITE] + foretold[BLACK]);
    cell(w, "always %s, in these games", names[usual]);
    share_cells(w, foretold[usual], foretold[WHITE] + foretold[BLACK]);
    end(w);
}

static void write_results(const Writer *w)
{
    static const PageColumn columns[] = {{"Side and base lever", false},
                                         {"Games", true},
                                         {"Drawn", true},
                                         {"Lost", true},
                                         {"Won", true},
                                         {"Percent won", true},
                                         {"95 % interval", true}};
    static const char *const names[] = {"not played", "played"};
    char note[160];
    snprintf(
        note, sizeof note,
        "Live base levers, by whether they were played within %d plies, in games that went on longer and "
        "have a result.",
        CENSUS_LANDMARK);
    BEGIN(w, "results", "Lever and result", note, columns);
    for (int side = WHITE; side <= BLACK; side++) {
        for (int played = 1; played >= 0; played--) {
            const CensusResults *r = &w->totals->results[side][played];
            size_t games = r->won + r->drawn + r->lost;
            cell(w, "%s, %s", ps_side_name(side), names[played]);
            cell(w, "%zu", games);
            cell(w, "%zu", r->drawn);
            cell(w, "%zu", r->lost);
            share_cells(w, r->won, games);
        }
    }
    end(w);
}

static const PageColumn share_columns[] = {
    {"Class", false}, {"Sides", true}, {"Played", true}, {"Percent", true}, {"95 % interval", true}};

static void share_row(const Writer *w, const char *name, const CensusShare *share)
{
    cell(w, "%s", name);
    cell(w, "%zu", share->sides);
    share_cells(w, share->played, share->sides);
}

static void write_status(const Writer *w)
{
    BEGIN(w, "by-status", "Base lever played, by its state at the first moment",
          "All sides of games that reach a locked chain on d and e.", share_columns);
    for (int status = 0; status < CENSUS_STATUS_COUNT; status++)
        share_row(w, census_status_name(status), &w->totals->by_status[status]);
    end(w);
}

static void write_ratings(const Writer *w)
{
    BEGIN(w, "by-rating", "Base lever played, by the rating of its side",
          "Sides with a rating whose base lever could still be played at the first moment.", share_columns);
    for (int band = 0; band < RATING_BAND_COUNT; band++)
        share_row(w, rating_band_names[band], &w->totals->by_rating[band]);
    end(w);
}

static bool has_ratings(const CensusTotals *totals)
{
    size_t sides = 0;
    for (int band = 0; band < RATING_BAND_COUNT; band++)
        sides += totals->by_rating[band].sides;
    return sides > 0;
}

void census_write_tables(const CensusTotals *totals, bool codes, const TableSink *sink)
{
    Writer writer = {totals, sink};
    write_pairs(&writer);
    write_grades(&writer);
    write_near_misses(&writer);
    write_letters(&writer);
    write_first_moments(&writer);
    write_levers(&writer);
    write_first(&writer);
    write_status(&writer);
    write_results(&writer);
    if (has_ratings(totals))
        write_ratings(&writer);
    if (codes)
        write_codes(&writer);
}
