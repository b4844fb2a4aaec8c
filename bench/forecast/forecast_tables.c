#include "bench/forecast/forecast_tables.h"

#include <math.h>
#include <stdio.h>

const char forecast_warning[] =
    "This is observation and no proof: that players broke there does not show that they should have. One "
    "test was "
    "written down before it was computed (the first row of odds ratios); everything else is exploratory.";

static void end(const TableSink *sink)
{
    sink->end(sink->context);
}

/* ------------------------------------------------------------------------------------------------- counts */

static void places(const TableSink *sink, const ForecastPlaces *all)
{
    table_cell(sink, "%zu", all->n);
    for (int place = 0; place < (int)FORECAST_PLACE_COUNT; place++)
        table_cell(sink, "%zu", all->first[place]);
    table_cell(sink, "%zu", all->named);
}

static const char *moment_text(ForecastMoment moment, bool by_name)
{
    return by_name ? forecast_moment_name(moment) : forecast_moment_words(moment);
}

static void name_cell(const TableSink *sink, ForecastMoment moment, Side side, int verdict, ps_region region)
{
    table_cell(sink, sink->by_name ? "%s/%s/%s/%s" : "%s; %s; %s; %s", moment_text(moment, sink->by_name),
               ps_side_name(side), forecast_verdict_name(verdict), ps_region_name(region));
}

static void count_row(void *context, ForecastMoment moment, Side side, int verdict, ps_region region,
                      const ForecastCell *cell)
{
    const TableSink *sink = context;
    size_t with_lever = cell->all.n - cell->all.first[FORECAST_NO_LEVER];
    name_cell(sink, moment, side, verdict, region);
    places(sink, &cell->all);
    table_cell(sink, "%.1f", forecast_points(cell));
    table_cell(sink, "%zu", cell->won + cell->drawn + cell->lost);
    table_number(sink, 1, (double)cell->delay / (double)with_lever);
}

static void rating_rows(void *context, ForecastMoment moment, Side side, int verdict, ps_region region,
                        const ForecastCell *cell)
{
    const TableSink *sink = context;
    for (int band = 0; band <= (int)RATING_BAND_COUNT; band++) {
        if (cell->by_rating[band].n == 0)
            continue;
        name_cell(sink, moment, side, verdict, region);
        table_cell(sink, "%s", band < (int)RATING_BAND_COUNT ? rating_band_names[band] : "no rating");
        places(sink, &cell->by_rating[band]);
    }
}

/* What a table of counts is called, by ForecastWitness. */
typedef struct CountsHead {
    const char *id, *title, *note;
} CountsHead;

static const CountsHead counts_heads[FORECAST_WITNESS_COUNT] = {
    {"rows", "Where the first lever came",
     "Sides by what the direction said at the first such moment, and where their first lever came after it; "
     "named: on the "
     "very square."},
    {"lines", "Where the first lever came in the best lines of searches",
     "Positions are the moments. As for games."},
    {"continuations", "Where the first lever came in what the engine played against itself",
     "Positions are the moments. As for games."},
};

static void write_counts(ForecastWitness witness, const ForecastCounts *counts, bool ratings,
                         const TableSink *sink)
{
    const CountsHead *head = &counts_heads[witness];
    static const PageColumn columns[] = {{"Moment; side; verdict; the wing named", false},
                                         {"Sides", true},
                                         {"Queenside", true},
                                         {"Centre", true},
                                         {"Kingside", true},
                                         {"None", true},
                                         {"Named", true},
                                         {"Points", true},
                                         {"Of games", true},
                                         {"Plies later", true}};
    static const PageColumn by_rating[] = {{"Moment; side; verdict; the wing named", false},
                                           {"Rating", false},
                                           {"Sides", true},
                                           {"Queenside", true},
                                           {"Centre", true},
                                           {"Kingside", true},
                                           {"None", true},
                                           {"Named", true}};
    TABLE_BEGIN(sink, head->id, head->title, head->note, columns);
    forecast_each_cell(counts, count_row, (void *)sink);
    end(sink);
    if (!ratings)
        return;
    TABLE_BEGIN(sink, "ratings", "Where the first lever came, by rating", "The rating of the side.",
                by_rating);
    forecast_each_cell(counts, rating_rows, (void *)sink);
    end(sink);
}

/* --------------------------------------------------------------------------------------------- controls */

static const PageColumn odds_columns[] = {{"Moment; verdict; side", false},
                                          {"Sides", true},
                                          {"Raw", true},
                                          {"Raw 95 %", true},
                                          {"Within openings", true},
                                          {"Within 95 %", true},
                                          {"Clustered 95 %", true},
                                          {"Strata that inform", true},
                                          {"Sides in them", true},
                                          {"Games in them", true},
                                          {"Homogeneity p", true}};

static void odds_row(const TableSink *sink, const char *name, const ForecastOdds *odds)
{
    table_cell(sink, "%s", name);
    table_cell(sink, "%zu", odds->n);
    table_number(sink, 2, odds->raw.estimate);
    table_range(sink, 2, odds->raw.interval.low, odds->raw.interval.high);
    table_number(sink, 2, odds->within.estimate);
    table_range(sink, 2, odds->within.interval.low, odds->within.interval.high);
    table_range(sink, 2, odds->clustered.interval.low, odds->clustered.interval.high);
    table_cell(sink, "%zu of %zu", odds->informing, odds->strata);
    table_cell(sink, "%zu", odds->n_informing);
    table_cell(sink, "%zu", odds->games_informing);
    if (odds->homogeneity.p < 0.0001)
        table_cell(sink, "below 0.0001");
    else
        table_number(sink, 4, odds->homogeneity.p);
}

void forecast_odds_name(const ForecastOdds *odds, bool by_name, char name[FORECAST_ODDS_NAME_SIZE])
{
    const ForecastQuestion *question = &odds->question;
    snprintf(name, FORECAST_ODDS_NAME_SIZE, by_name ? "%s/%s/%s" : "%s; %s; %s",
             moment_text((ForecastMoment)question->moment, by_name),
             question->verdict == FORECAST_ANY ? "any" : forecast_verdict_name(question->verdict),
             forecast_side_name(question->side));
}

static void write_odds(const ForecastFindings *findings, const TableSink *sink)
{
    char name[FORECAST_ODDS_NAME_SIZE];
    TABLE_BEGIN(
        sink, "odds", "Odds ratios: does the direction foretell the wing?",
        "Odds that the first lever comes on the kingside, direction to the kingside against direction to "
        "the queenside; 1: "
        "it says nothing. Within openings: Mantel-Haenszel over the first six plies (or those up to the "
        "moment) and the "
        "side, interval of Robins, Breslow and Greenland; clustered: errors by opening; homogeneity: "
        "Breslow-Day-Tarone, "
        "a poor guide with strata so small. The first row is the primary test.",
        odds_columns);
    for (int i = 0; i < (int)FORECAST_ODDS_COUNT; i++) {
        const ForecastOdds *odds = &findings->odds[i];
        if (odds->n == 0)
            continue;
        forecast_odds_name(odds, sink->by_name, name);
        odds_row(sink, name, odds);
    }
    end(sink);
}

static void write_lock(const ForecastFindings *findings, const TableSink *sink)
{
    static const PageColumn columns[] = {
        {"Side", false}, {"Ratio", true}, {"95 % interval", true}, {"Clustered 95 %", true}};
    TABLE_BEGIN(sink, "lock", "Does the lock matter?",
                "The odds ratio within openings where the lock is firm, divided by that where pawns are "
                "linked, but not "
                "rammed; 1: these foretell as much.",
                columns);
    for (int i = 0; i < 3; i++) {
        const ForecastOddsRatioOfTwo *two = &findings->lock[i];
        table_cell(sink, "%s", forecast_side_name(two->first.question.side));
        table_number(sink, 2, two->independent.estimate);
        table_range(sink, 2, two->independent.interval.low, two->independent.interval.high);
        table_range(sink, 2, two->clustered.interval.low, two->clustered.interval.high);
    }
    end(sink);
}

static void write_choice(const ForecastChoiceModel *model, const TableSink *sink)
{
    static const PageColumn columns[] = {{"What differs", false}, {"Odds times", true},
                                         {"95 % interval", true}, {"Coefficient", true},
                                         {"Error", true},         {"Clustered error", true}};
    char note[448];
    if (!model->fitted)
        return;
    snprintf(note, sizeof note,
             "Conditional logit over the levers that are structurally there, where the lock is firm and "
             "where pawns "
             "are linked, but not rammed: %zu "
             "sides with %zu levers "
             "in %zu openings. Left out of %zu: %zu without a lever, %zu whose first one was not there yet, "
             "%zu with one only. "
             "The interval is clustered by opening.",
             model->sides, model->alternatives, model->fit.clusters, model->candidates, model->no_lever,
             model->not_there, model->no_choice);
    TABLE_BEGIN(sink, "choice", "Which lever is chosen?", note, columns);
    for (int i = 0; i < (int)FORECAST_COVARIATE_COUNT; i++) {
        OddsRatio odds =
            odds_ratio_from(model->fit.coefficients[i], model->fit.clustered_errors[i], forecast_confidence);
        table_cell(sink, "%s", sink->by_name ? forecast_covariate_name(i) : forecast_covariate_words(i));
        table_number(sink, 2, odds.estimate);
        table_range(sink, 2, odds.interval.low, odds.interval.high);
        table_number(sink, 3, model->fit.coefficients[i]);
        table_number(sink, 3, model->fit.errors[i]);
        table_number(sink, 3, model->fit.clustered_errors[i]);
    }
    end(sink);
}

static void write_controls(const ForecastFindings *findings, const TableSink *sink)
{
    static const PageColumn permuted_columns[] = {
        {"Rounds", false}, {"Mean odds ratio", true}, {"95 % of them", true}, {"p", true}};
    static const PageColumn e_columns[] = {
        {"E-value", false}, {"Of the estimate", true}, {"Of the interval", true}};
    const ForecastPermuted *permuted = &findings->permuted;
    TABLE_BEGIN(sink, "controls", "Controls that must give 1",
                "The direction of a chain on the rim, where it says nothing; and the first lever between the "
                "opening and the "
                "lock, which the direction cannot have guided.",
                odds_columns);
    odds_row(sink, "direction of a rim pair", &findings->rim);
    odds_row(sink, "lever before the lock", &findings->earlier);
    end(sink);
    TABLE_BEGIN(
        sink, "permuted", "Directions dealt out anew within each opening",
        "The primary odds ratio if the direction knew no more than the opening; p is how often it is as "
        "far from 1 as "
        "the real one.",
        permuted_columns);
    table_cell(sink, "%d", permuted->rounds);
    table_number(sink, 3, permuted->mean);
    table_range(sink, 3, permuted->range.low, permuted->range.high);
    table_number(sink, 4, permuted->p);
    end(sink);
    TABLE_BEGIN(
        sink, "e-value", "How strong would something unmeasured have to be?",
        "The risk ratio with both the direction and the wing that would explain the primary odds ratio away.",
        e_columns);
    table_cell(sink, "primary");
    table_number(sink, 2, findings->e_value);
    table_number(sink, 2, findings->e_value_of_interval);
    end(sink);
}

static void write_loss(const ForecastLoss *loss, const TableSink *sink)
{
    static const PageColumn columns[] = {
        {"What is known", false}, {"Bits a lever", true}, {"95 % interval", true}};
    char note[320];
    snprintf(note, sizeof note,
             "Mean log-loss of the wing of %zu first levers at firm moments, each half of the games foretold "
             "from the other; a "
             "coin loses 1 bit. Saved: what the direction adds to the opening, errors clustered by opening.",
             loss->n);
    TABLE_BEGIN(sink, "log-loss", "How well is the wing foretold?", note, columns);
    for (int i = 0; i < (int)FORECAST_KNOWING_COUNT; i++) {
        table_cell(sink, "%s", forecast_knowing_name(i));
        table_number(sink, 3, loss->loss[i]);
        table_cell(sink, "-");
    }
    table_cell(sink, "saved");
    table_number(sink, 3, loss->saved);
    table_range(sink, 3, loss->saved_interval.low, loss->saved_interval.high);
    end(sink);
}

void forecast_write_tables(const ForecastFindings *findings, bool ratings, const TableSink *sink)
{
    if (forecast_has_games(findings)) {
        write_counts(FORECAST_GAMES, &findings->counts, ratings, sink);
        write_odds(findings, sink);
        write_lock(findings, sink);
        write_choice(&findings->choice, sink);
        write_controls(findings, sink);
        write_loss(&findings->loss, sink);
    }
    if (findings->has_searches) {
        for (int i = 0; i < 2; i++)
            write_counts((ForecastWitness)(FORECAST_LINES + i), &findings->searches[i].counts, false, sink);
        forecast_write_search_tables(findings, sink);
    }
}

static void print_games_head(const ForecastFindings *findings)
{
    char sentences[FORECAST_SENTENCES][FORECAST_SENTENCE_SIZE];
    printf("%zu games, %zu left out, %llu plies\n\n", findings->counts.games, findings->counts.skipped,
           (unsigned long long)findings->counts.plies);
    if (!findings->counts.complete)
        puts("Shares of the games are missing: what follows is of the others alone.\n");
    forecast_say(findings, sentences);
    for (int i = 0; i < FORECAST_SENTENCES; i++)
        puts(sentences[i]);
}

static void print_searches_head(const ForecastFindings *findings)
{
    const ForecastCounts *counts = &findings->searches[0].counts;
    char sentences[FORECAST_SENTENCES][FORECAST_SENTENCE_SIZE];
    printf("%zu positions, %zu left out\n\n", counts->games, counts->skipped);
    if (!counts->complete)
        puts("Shares of the positions are missing: what follows is of the others alone.\n");
    forecast_say_searches(findings, sentences);
    for (int i = 0; i < FORECAST_SENTENCES; i++)
        puts(sentences[i]);
    printf("%s\n", forecast_search_warning);
    if (findings->prices.count > 0)
        printf("%s\n", forecast_price_warning);
}

void forecast_print_text(const ForecastFindings *findings)
{
    TextTable table;
    TableSink sink = text_table_sink(&table);
    bool games = forecast_has_games(findings);
    if (games)
        print_games_head(findings);
    if (games && findings->has_searches)
        puts("");
    if (findings->has_searches)
        print_searches_head(findings);
    forecast_write_tables(findings, false, &sink);
    if (games)
        printf("\n%s\n\nThe counts by rating are in --csv, --json and --html.\n", forecast_warning);
}

void forecast_print_csv(const ForecastFindings *findings)
{
    CsvTable table;
    TableSink sink = csv_table_sink(&table);
    puts("table,row,column,value");
    printf("all,all,Games,%zu\nall,all,Left out,%zu\nall,all,Plies,%llu\n", findings->counts.games,
           findings->counts.skipped, (unsigned long long)findings->counts.plies);
    if (findings->has_searches)
        printf("all,positions,Asked,%zu\nall,positions,Left out,%zu\n", findings->searches[0].counts.games,
               findings->searches[0].counts.skipped);
    forecast_write_tables(findings, true, &sink);
}
