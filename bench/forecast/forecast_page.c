#include "bench/forecast/forecast_page.h"
#include "bench/forecast/forecast_tables.h"
#include "bench/page/chart.h"
#include "bench/page/diagram.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"

#include <math.h>

/* What the direction can say to a side, with a board drawn for this page. */
typedef struct Lesson {
    const char *id, *title, *words;
    const char *fen;
    Square from, to; /* an arrow where the marks draw none */
    ForecastMoment moment;
    int verdict; /* whose counts are shown, FORECAST_ANY for all of the moment */
} Lesson;

static const Lesson lessons[] = {
    {"applies", "The rule applies",
     "The pawns on d and e are locked, and the lever that the direction names can still be played: White "
     "points to the "
     "kingside, to f5; Black to the queenside, to c5.",
     "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 3", NO_SQUARE, NO_SQUARE, FORECAST_FIRM,
     PS_APPLIES},
    {"fulfilled", "The lever has done its work",
     "The lock is still there, but Black's lever c5 is history: no pawn is left on the c-file. The direction "
     "still names the "
     "wing.",
     "rnbqkbnr/pp3ppp/4p3/3pP3/3P4/8/PP3PPP/RNBQKBNR w KQkq - 0 6", NO_SQUARE, NO_SQUARE, FORECAST_FIRM,
     PS_FULFILLED},
    {"misleading", "The direction misleads",
     "White points to the kingside, but has no f-pawn to play the lever f5 with: the direction names a lever "
     "that cannot be "
     "played.",
     "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP3PP/RNBQKBNR b KQkq - 0 3", NO_SQUARE, NO_SQUARE, FORECAST_FIRM,
     PS_MISLEADING},
    {"weak", "The lock is off the centre",
     "Locked on b and c: the direction names a file, but the main thing in the position is often elsewhere.",
     "rnbqkbnr/p2ppppp/2p5/1pP5/1P6/8/P2PPPPP/RNBQKBNR b KQkq - 0 4", NO_SQUARE, NO_SQUARE, FORECAST_DOUBTFUL,
     FORECAST_ANY},
    {"linked", "Linked, but not rammed",
     "White's pawns on d and e are linked and point to the kingside, but only one of them is rammed. This is "
     "no locked "
     "chain: it stands here to compare.",
     "rnbqkbnr/ppp2ppp/3pp3/4P3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 3", D4, E5, FORECAST_NOT_RAMMED,
     FORECAST_ANY},
};

enum { LESSON_COUNT = sizeof lessons / sizeof *lessons, CLASS_COUNT = 4 };

/* ------------------------------------------------------------------------------------------------- charts */

/* Where the first levers came, as the direction sees it: the named wing, the other one, the centre, none. */
typedef struct Classes {
    size_t n, counts[CLASS_COUNT];
} Classes;

static void add_class(Classes *classes, const ForecastPlaces *places, ps_region named, ps_region other)
{
    classes->n += places->n;
    classes->counts[0] += places->first[named];
    classes->counts[1] += places->first[other];
    classes->counts[2] += places->first[PS_CENTRE];
    classes->counts[3] += places->first[FORECAST_NO_LEVER];
}

static Classes count_classes(const ForecastCounts *counts, const Lesson *lesson)
{
    Classes classes = {0};
    for (int side = WHITE; side <= BLACK; side++) {
        for (int verdict = 0; verdict < (int)FORECAST_VERDICT_COUNT; verdict++) {
            const ForecastCell *cells = counts->cells[lesson->moment][side][verdict];
            if (lesson->verdict != FORECAST_ANY && lesson->verdict != verdict)
                continue;
            add_class(&classes, &cells[PS_QUEENSIDE].all, PS_QUEENSIDE, PS_KINGSIDE);
            add_class(&classes, &cells[PS_KINGSIDE].all, PS_KINGSIDE, PS_QUEENSIDE);
        }
    }
    return classes;
}

/* What the bars of each witness are called. */
typedef struct BarsHead {
    const char *id, *title;
} BarsHead;

static const BarsHead bars_heads[FORECAST_WITNESS_COUNT] = {
    {"places", "Where the first lever came"},
    {"lines", "Where it came in the best lines of searches"},
    {"continuations", "Where it came in what the engine played against itself"},
};

static void draw_classes(FILE *out, const Lesson *lesson, ForecastWitness witness, const Classes *classes)
{
    const char *const labels[CLASS_COUNT] = {"on the named wing", "on the other wing", "in the centre",
                                             witness == FORECAST_GAMES ? "none in the game" : "none"};
    ChartValue values[CLASS_COUNT];
    char id[64];
    for (int i = 0; i < CLASS_COUNT; i++) {
        Interval interval = wilson_interval(classes->counts[i], classes->n, forecast_confidence);
        values[i] = (ChartValue){.label = labels[i],
                                 .estimate = 100.0 * (double)classes->counts[i] / (double)classes->n,
                                 .low = 100 * interval.low,
                                 .high = 100 * interval.high,
                                 .count = classes->counts[i]};
    }
    snprintf(id, sizeof id, "%s-%s", bars_heads[witness].id, lesson->id);
    chart_bars(out,
               &(Chart){.id = id,
                        .title = bars_heads[witness].title,
                        .item = "First lever",
                        .value = "Percent of sides",
                        .count = "Sides",
                        .decimals = 1},
               values, CLASS_COUNT);
}

/* An odds ratio as the share of levers on the named wing. False if there is none. */
static bool set_share(ChartValue *value, const char *label, const OddsRatio *odds, size_t count)
{
    *value = (ChartValue){.label = label,
                          .estimate = 100 * forecast_even_share(odds->estimate),
                          .low = 100 * forecast_even_share(odds->interval.low),
                          .high = 100 * forecast_even_share(odds->interval.high),
                          .count = count};
    return isfinite(odds->estimate) && isfinite(odds->interval.low) && isfinite(odds->interval.high);
}

static void draw_shares(FILE *out, const Lesson *lesson, const ForecastOdds *odds)
{
    ChartValue values[2];
    char id[64];
    size_t count = 0;
    if (set_share(&values[count], "all games together", &odds->raw, odds->n))
        count++;
    if (set_share(&values[count], "within openings", &odds->clustered, odds->n_informing))
        count++;
    else
        page_paragraph(out, PAGE_NOTE,
                       "Within openings: none. No opening here has sides of both directions and levers on "
                       "both wings that "
                       "could be compared.");
    if (count == 0)
        return;
    snprintf(id, sizeof id, "share-%s", lesson->id);
    chart_bars(out,
               &(Chart){.id = id,
                        .title = "Of levers on a wing, how many on the named one",
                        .item = "Compared",
                        .value = "Percent on the named wing (50: a coin)",
                        .count = "Sides that tell",
                        .decimals = 1,
                        .reference = 50},
               values, count);
}

static void draw_forest(FILE *out, const ForecastFindings *findings)
{
    ChartValue values[FORECAST_ODDS_COUNT];
    static char labels[FORECAST_ODDS_COUNT][96];
    size_t count = 0;
    for (int i = 0; i < (int)FORECAST_ODDS_COUNT; i++) {
        const ForecastOdds *odds = &findings->odds[i];
        snprintf(labels[count], sizeof labels[count], "%s, %s, %s%s",
                 forecast_moment_words((ForecastMoment)odds->question.moment),
                 odds->question.verdict == FORECAST_ANY ? "any verdict"
                                                        : forecast_verdict_name(odds->question.verdict),
                 odds->question.side == FORECAST_ANY ? "both sides" : forecast_side_name(odds->question.side),
                 i == 0 ? " (the test)" : "");
        if (set_share(&values[count], labels[count], &odds->clustered, odds->n_informing)) {
            values[count].overall = i == 0;
            count++;
        }
    }
    if (count == 0) {
        page_paragraph(out, PAGE_PLAIN, "None: no opening in these games can tell.");
        return;
    }
    chart_forest(
        out,
        &(Chart){.id = "forest",
                 .title = "Within openings: of levers on a wing, how many on the named one",
                 .item = "Who",
                 .value = "Percent on the named wing (50: a coin)",
                 .count = "Sides that tell",
                 .caption =
                     "Intervals at 95 percent, with errors clustered by opening. Moments, verdicts and sides "
                     "that no opening can tell about are left out.",
                 .decimals = 1,
                 .reference = 50},
        values, count);
}

/* ------------------------------------------------------------------------------------------------- lessons */

static void draw_board(FILE *out, const Lesson *lesson)
{
    Position position;
    ps_analysis analysis;
    char id[64];
    const DiagramArrow arrow = {lesson->from, lesson->to, NULL, false};
    if (fen_parse(lesson->fen, false, &position, NULL) != FEN_OK)
        return;
    structure_analyse(&position, &analysis);
    snprintf(id, sizeof id, "board-%s", lesson->id);
    diagram_write(out, &(Diagram){.id = id,
                                  .position = &position,
                                  .analysis = &analysis,
                                  .arrows = &arrow,
                                  .arrow_count = lesson->from != NO_SQUARE,
                                  .caption = "An example, drawn for this page."});
}

/* Bars of each witness that has been asked. */
static void draw_witnesses(FILE *out, const ForecastFindings *findings, const Lesson *lesson)
{
    Classes classes = count_classes(&findings->counts, lesson);
    if (classes.n > 0) {
        draw_classes(out, lesson, FORECAST_GAMES, &classes);
        draw_shares(out, lesson,
                    forecast_find_odds(findings, (int)lesson->moment, lesson->verdict, FORECAST_ANY));
    } else if (forecast_has_games(findings)) {
        page_paragraph(out, PAGE_PLAIN, "None: no side in these games.");
    }
    for (int i = 0; i < 2 && findings->has_searches; i++) {
        classes = count_classes(&findings->searches[i].counts, lesson);
        if (classes.n > 0)
            draw_classes(out, lesson, (ForecastWitness)(FORECAST_LINES + i), &classes);
        else if (i == 0)
            page_paragraph(out, PAGE_PLAIN, "None: no side in the positions that were searched.");
    }
}

static void write_lesson(FILE *out, const ForecastFindings *findings, const Lesson *lesson)
{
    page_box_begin(out, PAGE_SHEET);
    page_heading(out, 2, lesson->id, lesson->title);
    page_box_begin(out, PAGE_SPREAD);
    draw_board(out, lesson);
    page_box_begin(out, PAGE_COLUMN);
    page_paragraph(out, PAGE_PLAIN, "%s", lesson->words);
    draw_witnesses(out, findings, lesson);
    page_box_end(out, PAGE_COLUMN);
    page_box_end(out, PAGE_SPREAD);
    page_box_end(out, PAGE_SHEET);
}

/* ------------------------------------------------------------------------------------------------- prices */

static void draw_prices(FILE *out, const ForecastPriceFindings *prices)
{
    ChartValue values[FORECAST_PRICE_ROWS];
    size_t count = 0;
    page_heading(out, 2, "price", "What a lever costs");
    for (int i = 0; i < FORECAST_PRICE_ROWS; i++) {
        const ForecastPriceMean *mean = &prices->rows[i].to_other;
        if (mean->n < 2)
            continue;
        values[count++] = (ChartValue){.label = prices->rows[i].name,
                                       .estimate = 100 * mean->chance.mean,
                                       .low = 100 * mean->chance.interval.low,
                                       .high = 100 * mean->chance.interval.high,
                                       .count = mean->n,
                                       .overall = i == 0};
    }
    page_paragraph(out, PAGE_NOTE, "%s", forecast_price_warning);
    if (count > 0)
        chart_forest(out,
                     &(Chart){.id = "prices",
                              .title = "The named lever at once, against the best move that is no lever",
                              .item = "Which levers",
                              .value = "Winning chances, percent",
                              .count = "Positions",
                              .decimals = 1},
                     values, count);
    else
        page_paragraph(out, PAGE_PLAIN, "None: too few positions in which the lever could be played.");
}

/* ------------------------------------------------------------------------------------------------- the page */

static void write_subtitle(const ForecastFindings *findings, char *text, size_t size)
{
    const ForecastCounts *games = &findings->counts, *positions = &findings->searches[0].counts;
    size_t length = 0;
    if (forecast_has_games(findings))
        length = (size_t)snprintf(text, size, "%zu games, %zu left out as broken, %llu plies", games->games,
                                  games->skipped, (unsigned long long)games->plies);
    if (findings->has_searches)
        snprintf(text + length, size - length, "%s%zu positions searched", length > 0 ? "; " : "",
                 positions->games);
}

static void write_sentences(FILE *out, const ForecastFindings *findings)
{
    char sentences[FORECAST_SENTENCES][FORECAST_SENTENCE_SIZE];
    bool games = forecast_has_games(findings);
    if (games) {
        forecast_say(findings, sentences);
        for (int i = 0; i < FORECAST_SENTENCES; i++)
            page_paragraph(out, PAGE_LEAD, "%s", sentences[i]);
        if (!findings->counts.complete)
            page_paragraph(out, PAGE_LEAD,
                           "Shares of the games are missing: this page is of the others alone.");
        page_paragraph(out, PAGE_NOTE, "%s", forecast_warning);
    }
    if (findings->has_searches) {
        forecast_say_searches(findings, sentences);
        for (int i = 0; i < FORECAST_SENTENCES; i++)
            page_paragraph(out, games ? PAGE_PLAIN : PAGE_LEAD, "%s", sentences[i]);
        if (!findings->searches[0].counts.complete)
            page_paragraph(out, PAGE_LEAD,
                           "Shares of the positions are missing: this page is of the others alone.");
        page_paragraph(out, PAGE_NOTE, "%s", forecast_search_warning);
    }
}

void forecast_write_page(FILE *out, const ForecastFindings *findings)
{
    char subtitle[160];
    PageTable table = {.out = out};
    TableSink sink = page_table_sink(&table);
    write_subtitle(findings, subtitle, sizeof subtitle);
    page_begin(out, "Does the direction tell the truth?", subtitle, "Not for use during a game.");
    chart_definitions(out);
    diagram_definitions(out);
    write_sentences(out, findings);
    page_paragraph(
        out, PAGE_PLAIN,
        "Two pawns that are locked on neighbouring files point somewhere: the direction names a "
        "wing and, on it, a "
        "lever, a pawn move that attacks the other side's chain. Here is where the first lever "
        "after the lock really came. All games together, the direction may only repeat what the opening says "
        "already; within "
        "openings, only games that share their first six plies are compared with each other.");
    diagram_legend(out);
    for (int i = 0; i < LESSON_COUNT; i++)
        write_lesson(out, findings, &lessons[i]);
    if (forecast_has_games(findings)) {
        page_heading(out, 2, "forest-heading", "All moments, verdicts and sides");
        draw_forest(out, findings);
    }
    if (findings->prices.count > 0)
        draw_prices(out, &findings->prices);
    forecast_write_tables(findings, true, &sink);
    page_end(out, "Counted over the main lines of the games. The percentage on the named wing is that of a "
                  "table with even "
                  "margins and the same odds ratio (Yule's coefficient of colligation, 1912).");
}
