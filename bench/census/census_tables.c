#include "bench/census/census_tables.h"
#include "bench/base/statistics.h"
#include "bench/census/census_numbers.h"
#include "bench/explain/answer.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

enum { CELL_SIZE = 96 };

static const double confidence = 0.95;

const char census_warning[] = "This is observation and no proof. Who plays a lever, and when, is a choice of "
                              "players who also differ in "
                              "strength, opening and clock; that a result goes with a lever does not say "
                              "that the lever brought it about.";

typedef struct Writer {
    const CensusTotals *totals;
    const TableSink *sink;
    const char *table; /* both as in the names of numbers, census_numbers.h */
    char row[CELL_SIZE];
} Writer;

#define BEGIN(writer, id, title, note, columns)                                                              \
    ((writer)->table = (id), (writer)->sink->begin((writer)->sink->context, id, title, note, columns,        \
                                                   (sizeof(columns) / sizeof *(columns))))

__attribute__((format(printf, 2, 3))) static void row(Writer *writer, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(writer->row, sizeof writer->row, format, arguments);
    va_end(arguments);
}

__attribute__((format(printf, 2, 3))) static void cell(Writer *writer, const char *format, ...)
{
    char text[CELL_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    writer->sink->cell(writer->sink->context, text);
}

static void end(Writer *writer)
{
    writer->sink->end(writer->sink->context);
}

/* A count of the row; `column` may be null if it is the only one. */
static void count_cell(Writer *writer, const char *column, size_t count)
{
    char name[CENSUS_NAME_SIZE], text[CELL_SIZE];
    if (writer->sink->named == NULL) {
        cell(writer, "%zu", count);
        return;
    }
    census_name(name, writer->table, writer->row, column);
    snprintf(text, sizeof text, "%zu", count);
    writer->sink->named(writer->sink->context, name, text);
}

/* A count, its share of a whole in percent, and the interval of that share. */
static void share_cells(Writer *writer, const char *column, size_t count, size_t whole)
{
    count_cell(writer, column, count);
    if (whole == 0) {
        cell(writer, "-");
        cell(writer, "-");
        return;
    }
    Interval interval = wilson_interval(count, whole, confidence);
    cell(writer, "%.1f", 100.0 * (double)count / (double)whole);
    cell(writer, "%.1f to %.1f", 100.0 * interval.low, 100.0 * interval.high);
}

static void mean_cell(Writer *writer, uint64_t sum, size_t count)
{
    if (count == 0)
        cell(writer, "-");
    else
        cell(writer, "%.1f", (double)sum / (double)count);
}

static void grade_cell(Writer *w, ps_grade grade)
{
    cell(w, "%s", w->sink->by_name || grade != PS_VOID ? ps_grade_name(grade) : "says nothing");
}

static void write_pairs(Writer *w)
{
    static const PageColumn columns[] = {
        {"Files", false}, {"Grade", false}, {"Games", true}, {"Percent", true}, {"95 % interval", true}};
    BEGIN(w, "pairs", "Games in which two files were locked", "After any ply of the main line.", columns);
    for (int file = 0; file < CENSUS_PAIR_COUNT; file++) {
        cell(w, "%s", ps_files_name(file, file + 1));
        grade_cell(w, ps_grade_of_pairs(1U << file));
        row(w, "%s", ps_files_name(file, file + 1));
        share_cells(w, NULL, w->totals->reached[file], w->totals->games);
    }
    end(w);
}

static void write_grades(Writer *w)
{
    static const PageColumn columns[] = {
        {"Grade", false}, {"Games", true}, {"Percent", true}, {"95 % interval", true}};
    BEGIN(w, "grades", "Games with locked files of a grade", "A game counts once for each grade that it has.",
          columns);
    for (int grade = PS_FIRM; grade >= PS_VOID; grade--) {
        grade_cell(w, (ps_grade)grade);
        row(w, "%s", ps_grade_name(grade));
        share_cells(w, NULL, w->totals->grades[grade], w->totals->games);
    }
    end(w);
}

/* Those that tell games apart, or those that nearly all games have. */
static void write_near_misses(Writer *w, bool common)
{
    static const PageColumn columns[] = {
        {"Near miss", false}, {"Games", true}, {"Percent", true}, {"95 % interval", true}, {"Lasting", true}};
    static const char *const titles[] = {"Games with a near miss",
                                         "Near misses that are nearly always there"};
    char note[256];
    int count = 0;
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++)
        count += census_is_common(w->totals->near_misses[i], w->totals->games) == common;
    if (count == 0)
        return;
    snprintf(
        note, sizeof note,
        common
            ? "Found in so many games, one in three or more, that to have one tells nothing about a game; "
              "one "
              "that lasts may. Lasting: it stood for %d moves running."
            : "Positions that look like a locked chain and are none, or one that says nothing, in less than "
              "one game in three. Lasting: it stood for %d moves running.",
        CENSUS_LASTING / 2);
    BEGIN(w, common && !w->sink->by_name ? "common-near-misses" : "near-misses", titles[common], note,
          columns);
    w->table = "near-misses";
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++) {
        if (census_is_common(w->totals->near_misses[i], w->totals->games) != common)
            continue;
        row(w, "%s", ps_near_miss_name(i));
        cell(w, "%s", w->sink->by_name ? ps_near_miss_name(i) : answer_near_miss(i));
        share_cells(w, "games", w->totals->near_misses[i], w->totals->games);
        count_cell(w, "lasting", w->totals->lasting[i]);
    }
    end(w);
}

static void opening_row(Writer *w, const char *name, const CensusOpening *opening)
{
    row(w, "%s", name);
    cell(w, "%s", name);
    count_cell(w, "games", opening->games);
    count_cell(w, "any", opening->any);
    share_cells(w, "de", opening->de, opening->games);
}

static const PageColumn opening_columns[] = {
    {"Code", false},      {"Games", true},   {"Any locked chain", true},
    {"On d and e", true}, {"Percent", true}, {"95 % interval", true}};

static void write_letters(Writer *w)
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

static void write_codes(Writer *w)
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

/* Lines that are worth a row for people: the most frequent, and the others only in full. */
enum { LINES_SHOWN = 20 };

static bool write_lines(Writer *w, bool all)
{
    static const PageColumn columns[] = {{"First moves", false},     {"Games", true},
                                         {"Any locked chain", true}, {"On d and e", true},
                                         {"Percent", true},          {"95 % interval", true}};
    CensusLine *lines = census_lines_sorted(&w->totals->lines);
    if (lines == NULL)
        return false;
    BEGIN(w, "first-moves", "By the first moves",
          all ? "Games without an ECO code, by the first two moves of each side."
              : "Games without an ECO code, by the first two moves of each side: the most frequent.",
          columns);
    for (size_t i = 0; i < w->totals->lines.count && (all || i < LINES_SHOWN); i++) {
        char text[CENSUS_LINE_SIZE];
        census_line_text(lines[i].first_moves, text);
        opening_row(w, text, &lines[i].opening);
    }
    end(w);
    free(lines);
    return true;
}

static const PageColumn group_columns[] = {{"Group", false},           {"Games", true},
                                           {"Any locked chain", true}, {"On d and e", true},
                                           {"Percent", true},          {"95 % interval", true}};

/* So many years are told one by one. */
enum { YEARS_SHOWN = 30 };

static int count_groups(const CensusOpening *groups, int count)
{
    int used = 0;
    for (int i = 0; i < count; i++)
        used += groups[i].games > 0;
    return used;
}

static void write_years(Writer *w)
{
    BEGIN(w, "years", "By year", "Games that give the year in which they were played.", group_columns);
    for (int i = 0; i < CENSUS_YEAR_COUNT; i++) {
        char name[16];
        snprintf(name, sizeof name, "%d", CENSUS_YEAR_FROM + i);
        if (w->totals->years[i].games > 0)
            opening_row(w, name, &w->totals->years[i]);
    }
    end(w);
}

static void write_decades(Writer *w)
{
    BEGIN(w, "decades", "By decade", "Games that give the year in which they were played.", group_columns);
    for (int i = 0; i < CENSUS_YEAR_COUNT; i += 10) {
        CensusOpening sum = {0};
        char name[16];
        for (int k = i; k < i + 10; k++) {
            sum.games += w->totals->years[k].games;
            sum.any += w->totals->years[k].any;
            sum.de += w->totals->years[k].de;
        }
        snprintf(name, sizeof name, "%ds", CENSUS_YEAR_FROM + i);
        if (sum.games > 0)
            opening_row(w, name, &sum);
    }
    end(w);
}

static void write_game_ratings(Writer *w)
{
    BEGIN(w, "ratings", "By rating", "Games of which both sides have a rating, by the mean of these.",
          group_columns);
    for (int band = 0; band < RATING_BAND_COUNT; band++)
        opening_row(w, rating_band_names[band], &w->totals->ratings[band]);
    end(w);
}

static void write_first_moments(Writer *w)
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
            row(w, "%s/%s", ps_verdict_name(verdict), census_status_name(status));
            count_cell(w, "white", white);
            count_cell(w, "black", black);
        }
    }
    end(w);
}

static void write_levers(Writer *w)
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
        row(w, "%s", ps_side_name(side));
        share_cells(w, "base", t->base_lever_played[side], games);
        mean_cell(w, t->base_lever_delay[side], t->base_lever_played[side]);
        cell(w, "%s, head", ps_side_name(side));
        share_cells(w, "head", t->head_lever_played[side], games);
        mean_cell(w, t->head_lever_delay[side], t->head_lever_played[side]);
    }
    end(w);
}

static void write_first(Writer *w)
{
    static const PageColumn columns[] = {
        {"First to play the base lever", false}, {"Games", true}, {"Percent", true}, {"95 % interval", true}};
    static const char *const names[CENSUS_FIRST_COUNT] = {"White", "Black", "neither"};
    static const char *const rows[CENSUS_FIRST_COUNT] = {"white", "black", "neither"};
    BEGIN(w, "first", "Who was first",
          "In games that reach a locked chain on d and e; the last two rows in those where one was first and "
          "the count "
          "named one.",
          columns);
    for (int i = 0; i < CENSUS_FIRST_COUNT; i++) {
        cell(w, "%s", names[i]);
        row(w, "%s", rows[i]);
        share_cells(w, NULL, w->totals->first[i], census_de_games(w->totals));
    }
    const size_t *foretold = w->totals->foretold;
    int usual = foretold[BLACK] > foretold[WHITE] ? BLACK : WHITE;
    cell(w, "as the count of tempi said");
    row(w, "foretold");
    share_cells(w, NULL, w->totals->foretold_rightly, foretold[WHITE] + foretold[BLACK]);
    cell(w, "always %s, in these games", names[usual]);
    row(w, "always-%s", ps_side_name(usual));
    share_cells(w, NULL, foretold[usual], foretold[WHITE] + foretold[BLACK]);
    end(w);
}

static void write_results(Writer *w)
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
            row(w, "%s/%s", ps_side_name(side), played ? "played" : "not-played");
            count_cell(w, "games", games);
            count_cell(w, "drawn", r->drawn);
            count_cell(w, "lost", r->lost);
            share_cells(w, "won", r->won, games);
        }
    }
    end(w);
}

static const PageColumn share_columns[] = {
    {"Class", false}, {"Sides", true}, {"Played", true}, {"Percent", true}, {"95 % interval", true}};

static void share_row(Writer *w, const char *name, const CensusShare *share)
{
    row(w, "%s", name);
    cell(w, "%s", name);
    count_cell(w, "sides", share->sides);
    share_cells(w, "played", share->played, share->sides);
}

static void write_status(Writer *w)
{
    BEGIN(w, "by-status", "Base lever played, by its state at the first moment",
          "All sides of games that reach a locked chain on d and e.", share_columns);
    for (int status = 0; status < CENSUS_STATUS_COUNT; status++)
        share_row(w, census_status_name(status), &w->totals->by_status[status]);
    end(w);
}

static void write_ratings(Writer *w)
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

bool census_write_tables(const CensusTotals *totals, bool full, const TableSink *sink)
{
    Writer writer = {.totals = totals, .sink = sink};
    int years = count_groups(totals->years, CENSUS_YEAR_COUNT);
    bool good = true;
    write_pairs(&writer);
    write_grades(&writer);
    write_near_misses(&writer, false);
    write_near_misses(&writer, true);
    if (totals->lines.count > 0)
        good = write_lines(&writer, full);
    if (count_groups(totals->openings, CENSUS_ECO_COUNT) > 0 || totals->lines.count == 0)
        write_letters(&writer);
    if (years > YEARS_SHOWN)
        write_decades(&writer);
    if (years > 0 && (full || years <= YEARS_SHOWN))
        write_years(&writer);
    if (count_groups(totals->ratings, RATING_BAND_COUNT) > 0)
        write_game_ratings(&writer);
    write_first_moments(&writer);
    write_levers(&writer);
    write_first(&writer);
    write_status(&writer);
    write_results(&writer);
    if (has_ratings(totals))
        write_ratings(&writer);
    if (full && count_groups(totals->openings, CENSUS_ECO_COUNT) > 0)
        write_codes(&writer);
    return good;
}
