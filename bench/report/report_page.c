#include "bench/report/report_page.h"

#include "bench/contrast/contrast_summary.h"
#include "bench/page/chart.h"
#include "bench/page/diagram.h"
#include "bench/page/page.h"
#include "bench/run/run_print.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/notation.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char foot[] = "Not for use during a game.";
static const char closing[] = "For study. Not for use during a game: help from an engine in a game that is "
                              "not meant for it breaks the Laws of Chess (FIDE, article 11.3).";

/* A chart must end somewhere: just beyond what is written as a number. */
static double cut(double elo)
{
    double most = nextafter(ELO_SHOWN_MAX, INFINITY);
    return fmax(-most, fmin(most, elo));
}

static ChartValue value_of(const char *label, double at, const MatchEstimate *e, bool overall)
{
    return (ChartValue){.label = label,
                        .at = at,
                        .estimate = cut(e->elo),
                        .low = isnan(e->elo_interval.low) ? cut(e->elo) : cut(e->elo_interval.low),
                        .high = isnan(e->elo_interval.high) ? cut(e->elo) : cut(e->elo_interval.high),
                        .count = (size_t)e->pairs,
                        .overall = overall};
}

static void number_cell(PageTable *table, int decimals, double value)
{
    if (isnan(value))
        page_cell(table, "–");
    else
        page_cell(table, "%.*f", decimals, value);
}

/* ------------------------------------------------------------------------------------------- by stratum */

/* Strata to show: none where there is only one, which is the whole. */
static int strata_of(const ReportMatch *match)
{
    return match->summary.stratum_count > 1 ? match->summary.stratum_count : 0;
}

/* The strata, then the whole. */
static const GroupSummary *group_at(const ReportMatch *match, int i)
{
    return i < strata_of(match) ? &match->summary.strata[i] : &match->summary.all;
}

static void tests_table(FILE *out, const ReportMatch *match)
{
    static const PageColumn columns[] = {{"Openings", false}, {"Pairs", true},        {"Score in %", true},
                                         {"p", true},         {"p after Holm", true}, {"Finding", false}};
    PageTable table;
    page_table_begin(&table, out, "Scores and tests by kind of opening", columns, 6);
    for (int i = 0; i <= strata_of(match); i++) {
        const GroupSummary *group = group_at(match, i);
        page_cell(&table, "%s", group->name);
        page_cell(&table, "%llu", (unsigned long long)group->estimate.pairs);
        page_cell(&table, "%.1f", 100 * group->estimate.score);
        number_cell(&table, 3, group->estimate.p_value);
        number_cell(&table, 3, group->p_adjusted);
        page_cell(&table, "%s",
                  group_plays_alike(group) ? "the arms played the same games"
                                           : effect_name(group_effect(group)));
    }
    page_table_end(&table);
}

static void outcomes_table(FILE *out, const ReportMatch *match)
{
    static const PageColumn columns[] = {{"Openings", false}, {"0", true},   {"1/2", true},
                                         {"1", true},         {"3/2", true}, {"2", true}};
    PageTable table;
    page_table_begin(&table, out, "Pairs by the points of the first arm", columns, 6);
    for (int i = 0; i <= strata_of(match); i++) {
        const GroupSummary *group = group_at(match, i);
        page_cell(&table, "%s", group->name);
        for (int k = 0; k < PAIR_OUTCOMES; k++)
            page_cell(&table, "%llu", (unsigned long long)group->counts.n[k]);
    }
    page_table_end(&table);
}

static void lever_row(PageTable *table, const char *name, const ObedienceGroup *group)
{
    if (group->sides == 0)
        return;
    page_cell(table, "%s", name);
    page_cell(table, "%zu", group->sides);
    for (int arm = 0; arm < 2; arm++) {
        page_cell(table, "%zu (%.1f %%)", group->played[arm],
                  100.0 * (double)group->played[arm] / (double)group->sides);
        number_cell(table, 1, group->plies[arm]);
    }
    number_cell(table, 1, 100 * group->difference.mean);
    if (isnan(group->difference.error))
        page_cell(table, "–");
    else
        page_cell(table, "%.1f to %.1f", 100 * group->difference.interval.low,
                  100 * group->difference.interval.high);
    if (isnan(group->ratio.interval.low))
        page_cell(table, "–");
    else
        page_cell(table, "%.2f (%.2f to %.2f)", group->ratio.ratio, group->ratio.interval.low,
                  group->ratio.interval.high);
}

static void levers_table(FILE *out, const ReportMatch *match)
{
    static const PageColumn columns[] = {
        {"Levers", false},       {"Sides", true},         {"First arm played it", true},
        {"Plies", true},         {"Second arm", true},    {"Plies", true},
        {"Difference, %", true}, {"95 % interval", true}, {"Ratio", true}};
    PageTable table;
    const MatchSummary *summary = &match->summary;
    if (summary->all.lever.sides + summary->levers[OBEDIENCE_MISLEADING].sides == 0)
        return;
    page_table_begin(&table, out, "Was the lever played that the plan names where the game starts?", columns,
                     9);
    for (int i = 0; i <= strata_of(match); i++)
        lever_row(&table, group_at(match, i)->name, &group_at(match, i)->lever);
    for (int i = 0; i < (int)OBEDIENCE_KIND_COUNT; i++)
        lever_row(&table, obedience_kind_names[i], &summary->levers[i]);
    page_table_end(&table);
    page_paragraph(
        out, PAGE_NOTE,
        "Sides of games that start with a live lever which has not been played, by kind of opening and by "
        "verdict; where the verdict is misleading, with a lever that cannot be played as things are. It "
        "may be freed in the game. %s Plies are medians up to the push. Both arms have each side of each "
        "opening once, and intervals are from pairs.",
        obedience_unasked_words);
}

static void write_heterogeneity(FILE *out, const ReportMatch *match)
{
    const Heterogeneity *h = &match->summary.heterogeneity;
    if (strata_of(match) == 0)
        return;
    if (h->degrees < 1)
        page_paragraph(
            out, PAGE_PLAIN,
            "Whether the effect differs between kinds of openings cannot be asked: too few of them have %d "
            "pairs that are not ties.",
            HETEROGENEITY_DECIDED);
    else
        page_paragraph(
            out, PAGE_PLAIN,
            "Whether the effect differs between kinds of openings: Q = %.1f with %.0f degrees of freedom, "
            "p = %.3f: %s. I² = %.0f %%, an estimate with a wide margin.",
            h->q, h->degrees, h->p_value,
            h->p_value < 0.05 ? "more than chance explains" : "chance alone explains the differences",
            100 * h->i_squared);
}

/* What was asked of the match, and what its strata weigh. */
static void write_answers(FILE *out, const Report *report, const ReportMatch *match)
{
    const GroupSummary *all = &match->summary.all;
    const WeightedEstimate *w = &match->weighted;
    char elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE];
    if (strata_of(match) > 0 && report->weights == NULL)
        page_paragraph(out, PAGE_NOTE,
                       "“All openings” is the mean over these openings, so many of each kind, and not over "
                       "the games that "
                       "people play.");
    if (report->weights != NULL && w->covered > 0)
        page_paragraph(out, PAGE_PLAIN,
                       "Weighted by how often the kinds of openings occur (they make %.0f %% of the "
                       "weights): %s Elo, 95 %% "
                       "interval %s.",
                       100 * w->covered, elo_text(w->elo, elo), elo_interval_text(w->elo_interval, interval));
    if (!isnan(all->p_equivalence))
        page_paragraph(
            out, PAGE_PLAIN, "Equivalent within %g Elo either way: %s (two one-sided tests, p = %.3f).",
            report->questions.margin, all->p_equivalence < 0.05 ? "yes" : "not shown", all->p_equivalence);
    if (isfinite(all->pairs_needed))
        page_paragraph(out, PAGE_NOTE,
                       "To tell an effect of %g Elo from none (5 %% level, 80 %% power), a new match would "
                       "need %.0f pairs.",
                       report->questions.effect, all->pairs_needed);
}

static void write_forest(FILE *out, const ReportMatch *match, const char *id)
{
    ChartValue values[STRATA_MAX + 1];
    int count = 0;
    for (int i = 0; i < strata_of(match); i++)
        if (match->summary.strata[i].estimate.pairs >= 2)
            values[count++] =
                value_of(match->summary.strata[i].name, 0, &match->summary.strata[i].estimate, false);
    values[count++] = value_of("all openings", 0, &match->summary.all.estimate, true);
    chart_forest(
        out,
        &(Chart){.id = id,
                 .title = "Effect by kind of opening",
                 .item = "Openings",
                 .value = "Elo difference",
                 .count = "Pairs",
                 .text = elo_text,
                 .caption = "To the right of the line the first arm did better. Bars are 95 % intervals from "
                            "the outcomes of pairs, each opening played twice with colours changed."},
        values, (size_t)count);
}

static void write_convergence(FILE *out, const ReportMatch *match, const char *id)
{
    ChartValue values[REPORT_STEPS];
    for (int i = 0; i < match->step_count; i++)
        values[i] = value_of(NULL, (double)match->steps[i].pairs, &match->steps[i].estimate, false);
    const ChartCurve curve = {"estimate with 95 % interval", values, (size_t)match->step_count};
    chart_band(
        out,
        &(Chart){.id = id,
                 .title = "How the estimate settled",
                 .item = "Pairs played",
                 .value = "Elo difference",
                 .text = elo_text,
                 .caption =
                     match->summary.sequential
                         ? "The band holds at all numbers of pairs at once (time-uniform, 95 %)."
                         : "Each interval holds for its number of pairs alone, chosen beforehand: who stops "
                           "where it looks best has no 95 %."},
        &curve);
}

/* A sweep's matches stand together below. */
static bool plays_by_itself(const Report *report, const ReportMatch *match)
{
    return match == report->main[PS_STRICT] || match == report->main[PS_LOOSE] ||
           match->run->match_count == 1;
}

static void write_test(FILE *out, const ReportMatch *match)
{
    char text[REPORT_SENTENCE_SIZE];
    report_test_text(match, text);
    page_paragraph(out, PAGE_PLAIN, "%s.", text);
}

static void write_matches(FILE *out, const Report *report)
{
    int number = 0;
    for (int i = 0; i < report->match_count; i++) {
        const ReportMatch *match = &report->matches[i];
        if (!plays_by_itself(report, match))
            continue;
        char heading[REPORT_NAME_SIZE + 32], forest[32], settled[32];
        number++;
        snprintf(heading, sizeof heading, "Match %d: %s", number, match->name);
        snprintf(forest, sizeof forest, "match-%d-strata", number);
        snprintf(settled, sizeof settled, "match-%d-settled", number);
        page_box_begin(out, PAGE_SHEET);
        page_heading(out, 2, NULL, heading);
        if (match->summary.sequential)
            write_test(out, match);
        write_forest(out, match, forest);
        tests_table(out, match);
        write_heterogeneity(out, match);
        levers_table(out, match);
        write_answers(out, report, match);
        outcomes_table(out, match);
        write_convergence(out, match, settled);
        page_box_end(out, PAGE_SHEET);
    }
}

/* ------------------------------------------------------------------------------------ dose and response */

static bool is_of(const ReportMatch *match, ps_rule rule, int conditions)
{
    return match->conditions == conditions && strcmp(match->a->rule, ps_rule_name(rule)) == 0;
}

/* By weight, then as in the report. */
static size_t insert_dose(ChartValue *values, size_t count, ChartValue value)
{
    size_t at = count;
    while (at > 0 && values[at - 1].at > value.at)
        at--;
    memmove(values + at + 1, values + at, (count - at) * sizeof *values);
    values[at] = value;
    return count + 1;
}

/* What a chart of doses has of a match. */
typedef ChartValue (*DoseValue)(const ReportMatch *match);

static ChartValue result_of(const ReportMatch *match)
{
    return value_of(NULL, match->a->weight, &match->summary.all.estimate, false);
}

static ChartValue obedience_value(const ReportMatch *match)
{
    const ObedienceGroup *lever = &match->summary.all.lever;
    const ClusteredMean *d = &lever->difference;
    bool known = lever->sides > 0, bounded = known && !isnan(d->error);
    double estimate = known ? 100 * d->mean : 0;
    return (ChartValue){.at = match->a->weight,
                        .estimate = estimate,
                        .low = bounded ? 100 * d->interval.low : estimate,
                        .high = bounded ? 100 * d->interval.high : estimate,
                        .count = lever->sides};
}

/* No dose, no difference; then every dose match of that reading and these conditions. */
static size_t doses_of(const Report *report, ps_rule rule, int conditions, DoseValue value,
                       ChartValue *values)
{
    size_t count = 1;
    values[0] = (ChartValue){0};
    for (int i = 0; i < report->match_count; i++) {
        const ReportMatch *match = &report->matches[i];
        if (is_of(match, rule, conditions))
            count = insert_dose(values, count, value(match));
    }
    return count;
}

static void doses_table(FILE *out, const Report *report, int conditions)
{
    static const PageColumn columns[] = {
        {"Reading", false},        {"Weight", true},        {"Run", true}, {"Pairs", true},
        {"Elo difference", true},  {"95 % interval", true}, {"p", true},   {"p after Holm", true},
        {"Lever played, %", true}, {"at weight 0", true}};
    PageTable table;
    char elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE];
    page_table_begin(&table, out, "Every dose against weight 0; Holm allows for the matches of the run",
                     columns, 10);
    for (int i = 0; i < report->match_count; i++) {
        const ReportMatch *match = &report->matches[i];
        const GroupSummary *all = &match->summary.all;
        if (match->conditions != conditions)
            continue;
        page_cell(&table, "%s", match->a->rule);
        page_cell(&table, "%d", match->a->weight);
        page_cell(&table, "%d", (int)(match->run - report->runs) + 1);
        page_cell(&table, "%llu", (unsigned long long)all->estimate.pairs);
        page_cell(&table, "%s", elo_text(all->estimate.elo, elo));
        page_cell(&table, "%s", elo_interval_text(all->estimate.elo_interval, interval));
        number_cell(&table, 3, all->estimate.p_value);
        number_cell(&table, 3, all->p_adjusted);
        for (int arm = 0; arm < 2; arm++)
            number_cell(&table, 1, 100.0 * (double)all->lever.played[arm] / (double)all->lever.sides);
    }
    page_table_end(&table);
}

static void write_dose_chart(FILE *out, const Report *report, int conditions, DoseValue value,
                             const Chart *chart, ChartValue *values)
{
    static const char *const names[] = {[PS_STRICT] = "strict reading", [PS_LOOSE] = "loose reading"};
    ChartCurve curves[PS_RULE_COUNT];
    size_t count = 0, used = 0;
    for (int rule = PS_STRICT; rule <= PS_LOOSE; rule++) {
        size_t doses = doses_of(report, rule, conditions, value, values + used);
        if (doses >= 3)
            curves[count++] = (ChartCurve){names[rule], values + used, doses};
        used += doses;
    }
    if (count > 0)
        chart_curves(out, chart, curves, count);
}

static bool has_levers(const Report *report, int conditions)
{
    for (int i = 0; i < report->match_count; i++)
        if (report->matches[i].conditions == conditions && report->matches[i].summary.all.lever.sides > 0)
            return true;
    return false;
}

/* One above the other: whether the term is obeyed, and what comes of it. */
static void write_dose_charts(FILE *out, const Report *report, int conditions, ChartValue *values)
{
    char id[2][32];
    snprintf(id[0], sizeof id[0], "obedience-%d", conditions + 1);
    snprintf(id[1], sizeof id[1], "doses-%d", conditions + 1);
    if (has_levers(report, conditions))
        write_dose_chart(out, report, conditions, obedience_value,
                         &(Chart){.id = id[0],
                                  .title = "Obedience by weight of the term",
                                  .item = "Weight in percent",
                                  .value = "Named lever played more often than at weight 0, % of sides",
                                  .count = "Sides",
                                  .decimals = 1},
                         values);
    write_dose_chart(out, report, conditions, result_of,
                     &(Chart){.id = id[1],
                              .title = "Effect by weight of the term",
                              .item = "Weight in percent",
                              .value = "Elo difference from weight 0",
                              .count = "Pairs",
                              .text = elo_text},
                     values);
}

static void difference_cells(PageTable *table, const Difference *difference)
{
    char elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE];
    page_cell(table, "%zu%s", difference->openings, difference->paired ? "" : " or more a side");
    page_cell(table, "%s", elo_text(difference->elo, elo));
    page_cell(table, "%s",
              difference->openings > 0 ? elo_interval_text(difference->interval, interval) : "–");
    page_cell(table, "%.3f", difference->p_value);
    page_cell(table, "%.3f", difference->p_adjusted);
    page_cell(table, "%s",
              !difference_is_finding(difference) ? "open"
              : difference->elo > 0              ? "more than chance: up"
                                                 : "more than chance: down");
}

/* A trend belongs to a run: to its openings. */
static void trends_table(FILE *out, const Report *report)
{
    static const PageColumn columns[] = {{"Reading", false},     {"Run", true},           {"Openings", true},
                                         {"Elo", true},          {"95 % interval", true}, {"p", true},
                                         {"p after Holm", true}, {"Finding", false}};
    PageTable table;
    bool begun = false;
    for (int i = 0; i < report->run_count; i++)
        for (int rule = PS_STRICT; rule <= PS_LOOSE; rule++) {
            const Trend *trend = &report->trends[i][rule];
            if (trend->doses < 2)
                continue;
            if (!begun)
                page_table_begin(
                    &table, out,
                    "Trend: Elo for each 100 % of weight, from the openings that all doses share", columns,
                    8);
            begun = true;
            page_cell(&table, "%s", ps_rule_name(rule));
            page_cell(&table, "%d", i + 1);
            difference_cells(&table, &trend->slope);
        }
    if (begun)
        page_table_end(&table);
}

static int matches_under(const Report *report, int conditions)
{
    int count = 0;
    for (int i = 0; i < report->match_count; i++)
        count += report->matches[i].conditions == conditions;
    return count;
}

/* A chart for all that was played under the same conditions, where there is more than one dose. */
static void write_doses(FILE *out, const Report *report)
{
    ChartValue *values = calloc((size_t)report->match_count + PS_RULE_COUNT, sizeof *values);
    bool any = false;
    for (int conditions = 0; values != NULL && conditions < report->conditions_count; conditions++) {
        char heading[REPORT_NAME_SIZE + 32], text[REPORT_NAME_SIZE] = "";
        if (matches_under(report, conditions) < 2)
            continue;
        for (int i = report->match_count - 1; i >= 0; i--)
            if (report->matches[i].conditions == conditions)
                report_conditions_text(&report->matches[i], text);
        snprintf(heading, sizeof heading, "Dose and response: %s", text);
        page_box_begin(out, PAGE_SHEET);
        page_heading(out, 2, NULL, heading);
        write_dose_charts(out, report, conditions, values);
        doses_table(out, report, conditions);
        page_box_end(out, PAGE_SHEET);
        any = true;
    }
    free(values);
    if (any) {
        page_box_begin(out, PAGE_SHEET);
        trends_table(out, report);
        page_box_end(out, PAGE_SHEET);
    }
}

/* ------------------------------------------------------------------------------------- strict and loose */

static void write_readings(FILE *out, const Report *report)
{
    static const PageColumn columns[] = {
        {"Played", false},       {"Weight", true}, {"Openings", true},     {"Elo, strict less loose", true},
        {"95 % interval", true}, {"p", true},      {"p after Holm", true}, {"Finding", false}};
    PageTable table;
    if (report->reading_count == 0)
        return;
    page_box_begin(out, PAGE_SHEET);
    page_heading(out, 2, NULL, "What misapplying the rule costs");
    page_paragraph(
        out, PAGE_PLAIN,
        "Strict is the rule with its conditions: a locked pair, its grade, a lever with a target. Loose is "
        "how it is usually misapplied: any two linked pawns on neighbouring files point somewhere.");
    page_table_begin(&table, out, "Both readings at the same weight under the same conditions", columns, 8);
    for (int i = 0; i < report->reading_count; i++) {
        const ReadingPair *pair = &report->readings[i];
        char text[REPORT_NAME_SIZE] = "";
        for (int k = 0; k < report->match_count; k++)
            if (report->matches[k].run == pair->strict.run &&
                report->matches[k].of.index == pair->strict.index) {
                report_conditions_text(&report->matches[k], text);
                page_cell(&table, "%s", text);
                page_cell(&table, "%d", report->matches[k].a->weight);
            }
        difference_cells(&table, &pair->difference);
    }
    page_table_end(&table);
    page_box_end(out, PAGE_SHEET);
}

static void write_forfeits(FILE *out, const ReportMatch *match)
{
    for (Forfeit i = 0; i < FORFEIT_COUNT; i++) {
        char text[FORFEIT_TEXT_SIZE];
        if (match_forfeit_text(match->run, match->of.index, i, text))
            page_paragraph(out, PAGE_NOTE, "%s: %s", match->name, text);
    }
}

static void write_cautions(FILE *out, const Report *report)
{
    for (int i = 0; i < report->run_count; i++) {
        char text[REPORT_SENTENCE_SIZE];
        if (report_unfinished_text(report, i, text))
            page_paragraph(out, PAGE_NOTE, "%s", text);
    }
    for (int i = 0; i < report->match_count; i++)
        write_forfeits(out, &report->matches[i]);
    for (int i = 0; i < report->sharing_count; i++) {
        char text[REPORT_SENTENCE_SIZE];
        report_sharing_text(&report->sharing[i], text);
        page_paragraph(out, PAGE_NOTE, "%s", text);
    }
}

/* ------------------------------------------------------------------------------------------- contrasts */

static void class_row(PageTable *table, const ReadClass *class)
{
    page_cell(table, "%s", contrast_words(class->name));
    number_cell(table, 0, class->positions);
    number_cell(table, 0, class->with_answer);
    bool keyed = class->with_answer > 0; /* else there is nothing to solve */
    number_cell(table, 0, keyed ? class->solved[READ_OFF] : NAN);
    number_cell(table, 0, keyed ? class->solved[READ_ON] : NAN);
    number_cell(table, 3, keyed ? class->mcnemar_p : NAN);
    number_cell(table, 0, class->changed);
    number_cell(table, 1, class->gain);
    number_cell(table, 1, 100 * class->win);
    if (isnan(class->win_low) || isnan(class->win_high))
        page_cell(table, "–");
    else
        page_cell(table, "%.1f to %.1f", 100 * class->win_low, 100 * class->win_high);
    number_cell(table, 3, class->win_p_holm);
    number_cell(table, 0, class->nodes_to_choice[READ_OFF]);
    number_cell(table, 0, class->nodes_to_choice[READ_ON]);
}

static void class_table(FILE *out, const char *caption, const ReadClass *classes, int count,
                        const ReadClass *all)
{
    static const PageColumn columns[] = {{"Class", false},     {"Positions", true},
                                         {"With a key", true}, {"Solved off", true},
                                         {"on", true},         {"p", true},
                                         {"Changed", true},    {"Gain, cp", true},
                                         {"Win, %", true},     {"95 % interval", true},
                                         {"p (Holm)", true},   {"Nodes, off", true},
                                         {"on", true}};
    PageTable table;
    page_table_begin(&table, out, caption, columns, 13);
    for (int i = 0; i < count; i++)
        if (classes[i].positions > 0)
            class_row(&table, &classes[i]);
    if (all != NULL)
        class_row(&table, all);
    page_table_end(&table);
}

static void write_gains(FILE *out, const ReadContrast *contrast, int number)
{
    ChartValue values[READ_CLASSES_MAX + 1];
    size_t count = 0;
    char id[32];
    for (int i = 0; i <= contrast->by_verdict_count; i++) {
        const ReadClass *class = i < contrast->by_verdict_count ? &contrast->by_verdict[i] : &contrast->all;
        if (isnan(class->win))
            continue;
        bool interval = !isnan(class->win_low) && !isnan(class->win_high);
        values[count++] = (ChartValue){.label = class->name,
                                       .estimate = 100 * class->win,
                                       .low = 100 * (interval ? class->win_low : class->win),
                                       .high = 100 * (interval ? class->win_high : class->win),
                                       .count = (size_t) class->changed,
                                       .overall = i == contrast->by_verdict_count};
    }
    snprintf(id, sizeof id, "contrast-%d-gain", number);
    if (count > 0)
        chart_bars(
            out,
            &(Chart){.id = id,
                     .title = "Judged gain where the term changed the move",
                     .item = "Verdict for the side to move",
                     .value = "Gain in winning chances, percent",
                     .count = "Changes",
                     .decimals = 1,
                     .caption =
                         "Mean of two judges, one without and one with the term; 95 % intervals, of each "
                         "class alone. A class without one has too few changes."},
            values, count);
}

static void write_contrasts(FILE *out, const Report *report)
{
    for (int i = 0; i < report->contrast_count; i++) {
        const ReadContrast *contrast = &report->contrasts[i];
        char heading[128];
        snprintf(heading, sizeof heading, "Single moves, the term off and on: %.90s",
                 basename(contrast->file));
        page_box_begin(out, PAGE_SHEET);
        page_heading(out, 2, NULL, heading);
        write_gains(out, contrast, i + 1);
        class_table(out, "By the verdict for the side to move", contrast->by_verdict,
                    contrast->by_verdict_count, &contrast->all);
        class_table(out, "By grade of its principal pair", contrast->by_grade, contrast->by_grade_count,
                    NULL);
        page_box_end(out, PAGE_SHEET);
    }
}

/* ------------------------------------------------------------------------------- instructive positions */

/* How much a judge sees in a difference, in centipawns (common practice, no source). */
static const char *much(double gain)
{
    double size = fabs(gain);
    return size <= 15 ? "a shade" : size <= 50 ? "a little" : size <= 150 ? "clearly" : "by far";
}

static void write_choices(FILE *out, const ReadChange *change, char san[READ_ARMS][MOVE_TEXT_SIZE])
{
    bool better = change->gain > 0;
    page_paragraph(out, PAGE_PLAIN, "Without the term the engine plays %s, with it %s.", san[READ_OFF],
                   san[READ_ON]);
    page_paragraph(out, PAGE_PLAIN,
                   "The judges find %s %s better than %s: by %.2f pawns the one without the term, by %.2f "
                   "the one with it. So the term %s here.",
                   san[better ? READ_ON : READ_OFF], much(change->gain), san[better ? READ_OFF : READ_ON],
                   abs(change->judge_gain[READ_OFF]) / 100.0, abs(change->judge_gain[READ_ON]) / 100.0,
                   better ? "helped" : "harmed");
    for (int arm = READ_OFF; arm < READ_ARMS; arm++)
        if (change->solved[arm] == 1)
            page_paragraph(out, PAGE_PLAIN, "The source of the position calls %s best.", san[arm]);
}

static void write_instructive(FILE *out, const ReadChange *change, int number)
{
    ps_analysis analysis;
    char san[READ_ARMS][MOVE_TEXT_SIZE], words[PS_EXPLAIN_SIZE], heading[256], id[32];
    structure_analyse(&change->position, &analysis);
    structure_explain(&change->position, &analysis, words, sizeof words);
    for (int arm = READ_OFF; arm < READ_ARMS; arm++)
        san_write(&change->position, change->moves[arm], san[arm]);
    const DiagramArrow arrows[] = {
        {move_from(change->moves[READ_OFF]), move_to(change->moves[READ_OFF]), "off", false},
        {move_from(change->moves[READ_ON]), move_to(change->moves[READ_ON]), "on", false}};
    snprintf(id, sizeof id, "instructive-%d", number);
    snprintf(heading, sizeof heading, "%d. %s to move – %s", number,
             position_turn(&change->position) == WHITE ? "White" : "Black", change->name);
    page_box_begin(out, PAGE_TOGETHER);
    page_heading(out, 3, NULL, heading);
    page_box_begin(out, PAGE_SPREAD);
    diagram_write(out, &(Diagram){.id = id,
                                  .position = &change->position,
                                  .analysis = &analysis,
                                  .arrows = arrows,
                                  .arrow_count = 2});
    page_box_begin(out, PAGE_COLUMN);
    write_choices(out, change, san);
    page_paragraph(out, PAGE_NOTE, "%s", words);
    page_box_end(out, PAGE_COLUMN);
    page_box_end(out, PAGE_SPREAD);
    page_box_end(out, PAGE_TOGETHER);
}

static void write_all_instructive(FILE *out, const Report *report)
{
    const ReadChange *changes[INSTRUCTIVE_MAX];
    int count = report_instructive(report, changes);
    if (count == 0)
        return;
    page_box_begin(out, PAGE_SHEET);
    page_heading(out, 2, NULL, "The most instructive positions");
    page_paragraph(
        out, PAGE_PLAIN,
        "Positions in which the term changed the move and both judges agree, greatest difference "
        "first, be it a gain or a loss. The greatest of many judgements are luck in part, so all of "
        "these were judged again with four times the nodes: what is shown is what the judges found "
        "then, and left out is where they did not agree with what they had found first.");
    diagram_legend(out);
    for (int i = 0; i < count; i++)
        write_instructive(out, changes[i], i + 1);
    page_box_end(out, PAGE_SHEET);
}

/* ------------------------------------------------------------------------------------ how it was played */

enum { SETTINGS_RUNS = 8 }; /* columns that fit on a sheet */

/* The runs, each once; returns how many. */
static int runs_of(const Report *report, const StoredRun *runs[SETTINGS_RUNS])
{
    int count = 0;
    for (int i = 0; i < report->match_count && count < SETTINGS_RUNS; i++)
        if (count == 0 || runs[count - 1] != report->matches[i].run)
            runs[count++] = report->matches[i].run;
    return count;
}

static void write_settings(FILE *out, const Report *report)
{
    const StoredRun *runs[SETTINGS_RUNS];
    PageColumn columns[SETTINGS_RUNS + 1] = {{"Setting", false}};
    char names[SETTINGS_RUNS][16];
    PageTable table;
    int count = runs_of(report, runs);
    if (count == 0)
        return;
    for (int i = 0; i < count; i++) {
        snprintf(names[i], sizeof names[i], "Run %d", i + 1);
        columns[i + 1].heading = names[i];
    }
    page_box_begin(out, PAGE_SHEET);
    page_heading(out, 2, NULL, "How it was played");
    page_table_begin(&table, out, "Settings of the runs", columns, count + 1);
    for (int k = 0; k < runs[0]->setting_count; k++) {
        page_cell(&table, "%s", runs[0]->settings[k].name);
        for (int i = 0; i < count; i++) {
            const char *value = stored_setting(runs[i], runs[0]->settings[k].name);
            page_cell(&table, "%s", value != NULL ? value : "–");
        }
    }
    page_table_end(&table);
    page_box_end(out, PAGE_SHEET);
}

void report_write_page(FILE *out, const Report *report, const char *title)
{
    char first[REPORT_SENTENCE_SIZE], second[REPORT_SENTENCE_SIZE];
    report_finding(report, first, second);
    page_begin(out, title, "When does it help to read the direction of a pawn chain?", foot);
    chart_definitions(out);
    diagram_definitions(out);
    page_paragraph(out, PAGE_LEAD, "%s %s", first, second);
    write_cautions(out, report);
    write_matches(out, report);
    write_readings(out, report);
    write_doses(out, report);
    write_contrasts(out, report);
    write_all_instructive(out, report);
    write_settings(out, report);
    page_end(out, closing);
}
