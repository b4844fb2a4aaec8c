#include "bench/page/chart.h"

#include "bench/page/markup.h"
#include "bench/page/page.h"

#include <math.h>

/* Units of the drawing: narrow enough to be read on a phone. */
enum {
    WIDTH = 520,
    LEFT = 14,
    RIGHT = 506,
    CURVE_LEFT = 62, /* room for the numbers of a vertical axis */
    ROW = 46,
    AXIS = 48,
    CURVE_HEIGHT = 300
};

static const char style[] =
    ".chart{display:block;width:100%;height:auto;max-width:38rem}\n"
    "@media print{.chart{max-width:120mm}}\n"
    ".chart-title{font-weight:600;margin:1rem 0 .25rem;break-after:avoid}\n"
    ".chart text{font:14px 'DejaVu Sans',Verdana,Arial,sans-serif;fill:var(--ink,#1d2730)}\n"
    ".chart .small{font-size:12px;fill:var(--soft,#55606b)}\n"
    ".chart .grid{stroke:var(--rule,#cdc4b0);stroke-width:1}\n"
    ".chart .zero{stroke:var(--ink,#1d2730);stroke-width:1.6}\n"
    ".chart .interval{stroke:var(--tone);stroke-width:2.4;fill:none}\n"
    ".chart .curve{stroke:var(--tone);stroke-width:2.6;fill:none;stroke-linejoin:round}\n"
    ".chart .spot,.chart .bar{fill:var(--tone)}\n"
    ".chart .band{fill:var(--tone);opacity:.2}\n"
    ".tone-0{--tone:var(--white-plan,#0f5f6b)}.tone-1{--tone:var(--black-plan,#9a3b24)}"
    ".tone-2{--tone:var(--ink,#1d2730)}.tone-3{--tone:var(--soft,#55606b)}\n"
    ".tone-1 .curve{stroke-dasharray:9 5}.tone-2 .curve{stroke-dasharray:2 5}"
    ".tone-3 .curve{stroke-dasharray:12 4 2 4}\n";

void chart_definitions(FILE *out)
{
    fprintf(out,
            "<svg width=\"0\" height=\"0\" style=\"position:absolute\" aria-hidden=\"true\" "
            "focusable=\"false\"><style>\n%s</style></svg>\n",
            style);
}

/* ------------------------------------------------------------------------------------------ the scale */

typedef struct Scale {
    double least, greatest; /* whole steps */
    double step;
    int decimals;    /* of the numbers along the axis */
    double from, to; /* where they lie in the drawing */
} Scale;

/* A scale over the values with about `marks` round steps. */
static Scale scale_over(double least, double greatest, int marks, double from, double to)
{
    if (!(greatest > least)) {
        least -= 1;
        greatest += 1;
    }
    double raw = (greatest - least) / marks;
    double power = pow(10, floor(log10(raw)));
    double step = raw <= power       ? power
                  : raw <= 2 * power ? 2 * power
                  : raw <= 5 * power ? 5 * power
                                     : 10 * power;
    int decimals = step >= 1 ? 0 : (int)ceil(-log10(step) - 1e-9);
    return (Scale){
        floor(least / step + 1e-9) * step, ceil(greatest / step - 1e-9) * step, step, decimals, from, to};
}

static double place(const Scale *scale, double value)
{
    return scale->from +
           (value - scale->least) / (scale->greatest - scale->least) * (scale->to - scale->from);
}

static int step_count(const Scale *scale)
{
    return (int)lround((scale->greatest - scale->least) / scale->step);
}

/* -0.0 would be written as "-0". */
static double step_value(const Scale *scale, int i)
{
    double value = scale->least + i * scale->step;
    return fabs(value) < scale->step / 2 ? 0 : value;
}

static void widen(double *least, double *greatest, const ChartValue *values, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        *least = fmin(*least, fmin(values[i].low, values[i].estimate));
        *greatest = fmax(*greatest, fmax(values[i].high, values[i].estimate));
    }
}

/* ------------------------------------------------------------------------------------------ the frame */

static bool has_interval(const ChartValue *value)
{
    return value->low < value->estimate || value->high > value->estimate;
}

static const char *value_text(const Chart *chart, double value, char text[CHART_TEXT_SIZE])
{
    if (chart->text != NULL)
        return chart->text(value, text);
    snprintf(text, CHART_TEXT_SIZE, "%.*f", chart->decimals, value);
    return text;
}

static void describe_value(FILE *out, const Chart *chart, const ChartValue *value)
{
    char estimate[CHART_TEXT_SIZE], low[CHART_TEXT_SIZE], high[CHART_TEXT_SIZE];
    markup_print(out, "%s", value_text(chart, value->estimate, estimate));
    if (has_interval(value))
        markup_print(out, " (%s to %s)", value_text(chart, value->low, low),
                     value_text(chart, value->high, high));
}

static void begin(FILE *out, const Chart *chart, int height)
{
    fputs("<figure>\n<p class=\"chart-title\">", out);
    markup_text(out, chart->title);
    fputs("</p>\n", out);
    fprintf(out,
            "<svg class=\"chart\" role=\"img\" viewBox=\"0 0 %d %d\" aria-labelledby=\"%s-title\" "
            "aria-describedby=\"%s-words\">\n<title id=\"%s-title\">",
            WIDTH, height, chart->id, chart->id, chart->id);
    markup_text(out, chart->title);
    fprintf(out, "</title>\n<desc id=\"%s-words\">", chart->id);
    markup_print(out, "%s. ", chart->value);
}

static void end(FILE *out, const Chart *chart)
{
    fputs("</svg>\n", out);
    if (chart->caption != NULL) {
        fputs("<figcaption>", out);
        markup_text(out, chart->caption);
        fputs("</figcaption>\n", out);
    }
    fputs("</figure>\n", out);
}

static void draw_text(FILE *out, double x, double y, const char *anchor, const char *class_name,
                      const char *text)
{
    fprintf(out, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\" class=\"%s\">", x, y, anchor, class_name);
    markup_text(out, text);
    fputs("</text>\n", out);
}

static void draw_number(FILE *out, double x, double y, const char *anchor, int decimals, double value)
{
    char text[32];
    snprintf(text, sizeof text, "%.*f", decimals, value);
    draw_text(out, x, y, anchor, "small", text);
}

/* A horizontal axis below a drawing that ends at y. */
static void draw_axis_below(FILE *out, const Scale *scale, double top, double y, const char *name)
{
    for (int i = 0; i <= step_count(scale); i++) {
        double x = place(scale, step_value(scale, i));
        fprintf(out, "<path class=\"grid\" d=\"M%.1f %.1fV%.1f\"/>\n", x, top, y);
        const char *anchor = x < LEFT + 12 ? "start" : x > RIGHT - 12 ? "end" : "middle";
        draw_number(out, x, y + 16, anchor, scale->decimals, step_value(scale, i));
    }
    draw_text(out, (scale->from + scale->to) / 2, y + 36, "middle", "small", name);
}

static void draw_axis_left(FILE *out, const Scale *scale, double from, double to)
{
    for (int i = 0; i <= step_count(scale); i++) {
        double y = place(scale, step_value(scale, i));
        fprintf(out, "<path class=\"grid\" d=\"M%.1f %.1fH%.1f\"/>\n", from, y, to);
        draw_number(out, from - 6, y + 4, "end", scale->decimals, step_value(scale, i));
    }
}

static void value_cells(PageTable *table, const Chart *chart, const ChartValue *value)
{
    char estimate[CHART_TEXT_SIZE], low[CHART_TEXT_SIZE], high[CHART_TEXT_SIZE];
    page_cell(table, "%s", value_text(chart, value->estimate, estimate));
    if (has_interval(value))
        page_cell(table, "%s to %s", value_text(chart, value->low, low),
                  value_text(chart, value->high, high));
    else
        page_cell(table, "–");
    if (chart->count != NULL)
        page_cell(table, "%zu", value->count);
}

/* ------------------------------------------------------------------------- forest plots and bars */

static void describe_rows(FILE *out, const Chart *chart, const ChartValue *values, size_t value_count)
{
    for (size_t i = 0; i < value_count; i++) {
        markup_print(out, "%s: ", values[i].label);
        describe_value(out, chart, &values[i]);
        fputs("; ", out);
    }
    markup_print(out, "compared with %.*f.", chart->decimals, chart->reference);
    fputs("</desc>\n", out);
}

static Scale draw_rows_frame(FILE *out, const Chart *chart, const ChartValue *values, size_t value_count)
{
    double least = chart->reference, greatest = chart->reference;
    double bottom = 8 + ROW * (double)value_count;
    widen(&least, &greatest, values, value_count);
    begin(out, chart, (int)bottom + AXIS);
    describe_rows(out, chart, values, value_count);
    Scale scale = scale_over(least, greatest, 6, LEFT, RIGHT);
    draw_axis_below(out, &scale, 4, bottom, chart->value);
    fprintf(out, "<path class=\"zero\" d=\"M%.1f 4V%.1f\"/>\n", place(&scale, chart->reference), bottom);
    return scale;
}

static void write_rows_table(FILE *out, const Chart *chart, const ChartValue *values, size_t value_count)
{
    const PageColumn columns[] = {
        {chart->item, false}, {chart->value, true}, {"95 % interval", true}, {chart->count, true}};
    PageTable table;
    char caption[256];
    snprintf(caption, sizeof caption, "In numbers: %s", chart->title);
    page_table_begin(&table, out, caption, columns, chart->count != NULL ? 4 : 3);
    for (size_t i = 0; i < value_count; i++) {
        page_cell(&table, "%s", values[i].label);
        value_cells(&table, chart, &values[i]);
    }
    page_table_end(&table);
}

static void draw_interval(FILE *out, double from, double to, double y)
{
    fprintf(out, "<path class=\"interval\" d=\"M%.1f %.1fH%.1fM%.1f %.1fv12M%.1f %.1fv12\"/>", from, y, to,
            from, y - 6, to, y - 6);
}

void chart_forest(FILE *out, const Chart *chart, const ChartValue *values, size_t value_count)
{
    Scale scale = draw_rows_frame(out, chart, values, value_count);
    for (size_t i = 0; i < value_count; i++) {
        const ChartValue *value = &values[i];
        double y = 8 + ROW * (double)i + 31, x = place(&scale, value->estimate);
        fprintf(out, "<g class=\"tone-%d\">", value->overall ? 2 : 0);
        draw_text(out, LEFT, y - 14, "start", "name", value->label);
        double low = place(&scale, value->low), high = place(&scale, value->high);
        if (value->overall && has_interval(value)) {
            fprintf(out, "<path class=\"spot\" d=\"M%.1f %.1fL%.1f %.1fL%.1f %.1fL%.1f %.1fz\"/>", low, y, x,
                    y - 8, high, y, x, y + 8);
        } else {
            draw_interval(out, low, high, y);
            fprintf(out, "<rect class=\"spot\" x=\"%.1f\" y=\"%.1f\" width=\"10\" height=\"10\"/>", x - 5,
                    y - 5);
        }
        fputs("</g>\n", out);
    }
    end(out, chart);
    write_rows_table(out, chart, values, value_count);
}

void chart_bars(FILE *out, const Chart *chart, const ChartValue *values, size_t value_count)
{
    Scale scale = draw_rows_frame(out, chart, values, value_count);
    for (size_t i = 0; i < value_count; i++) {
        const ChartValue *value = &values[i];
        double y = 8 + ROW * (double)i + 31;
        double from = place(&scale, chart->reference), to = place(&scale, value->estimate);
        fprintf(out, "<g class=\"tone-%d\">",
                value->overall                       ? 2
                : value->estimate < chart->reference ? 1
                                                     : 0);
        draw_text(out, LEFT, y - 14, "start", "name", value->label);
        fprintf(out, "<rect class=\"bar\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"14\"/>",
                fmin(from, to), y - 7, fabs(to - from));
        fputs("</g>", out);
        if (has_interval(value)) {
            fputs("<g class=\"tone-2\">", out);
            draw_interval(out, place(&scale, value->low), place(&scale, value->high), y);
            fputs("</g>", out);
        }
        fputc('\n', out);
    }
    end(out, chart);
    write_rows_table(out, chart, values, value_count);
}

/* ------------------------------------------------------------------------------------------ curves */

/* Every how many values a description or a table shows one, so that it shows at most a dozen. */
static size_t stride(size_t value_count)
{
    return value_count <= 12 ? 1 : (value_count + 10) / 11;
}

static bool is_shown(const ChartCurve *curve, size_t i)
{
    return i % stride(curve->value_count) == 0 || i + 1 == curve->value_count;
}

static int decimals_of(double value)
{
    return value == floor(value) ? 0 : 2;
}

static void describe_curve(FILE *out, const Chart *chart, const ChartCurve *curve)
{
    markup_print(out, "%s: ", curve->name);
    for (size_t i = 0; i < curve->value_count; i++) {
        if (!is_shown(curve, i))
            continue;
        markup_print(out, "at %.*f ", decimals_of(curve->values[i].at), curve->values[i].at);
        describe_value(out, chart, &curve->values[i]);
        fputs("; ", out);
    }
}

typedef struct Field {
    Scale across, up;
} Field;

static Field draw_field(FILE *out, const Chart *chart, const ChartCurve *curves, size_t curve_count)
{
    double top = 14 + 20 * (double)curve_count, bottom = top + CURVE_HEIGHT;
    double least = chart->reference, greatest = chart->reference, first = 0, last = 0;
    for (size_t c = 0; c < curve_count; c++) {
        widen(&least, &greatest, curves[c].values, curves[c].value_count);
        for (size_t i = 0; i < curves[c].value_count; i++) {
            first = fmin(first, curves[c].values[i].at);
            last = fmax(last, curves[c].values[i].at);
        }
    }
    begin(out, chart, (int)bottom + AXIS);
    for (size_t c = 0; c < curve_count; c++)
        describe_curve(out, chart, &curves[c]);
    fputs("</desc>\n", out);
    Field field = {scale_over(first, last, 6, CURVE_LEFT, RIGHT - 8),
                   scale_over(least, greatest, 6, bottom, top)};
    draw_axis_left(out, &field.up, CURVE_LEFT, RIGHT);
    draw_axis_below(out, &field.across, top, bottom, chart->item);
    double y = place(&field.up, chart->reference);
    fprintf(out, "<path class=\"zero\" d=\"M%d %.1fH%d\"/>\n", CURVE_LEFT, y, RIGHT);
    return field;
}

static void draw_curve(FILE *out, const Field *field, const ChartCurve *curve, bool spots)
{
    fputs("<path class=\"curve\" d=\"", out);
    for (size_t i = 0; i < curve->value_count; i++)
        fprintf(out, "%c%.1f %.1f", i == 0 ? 'M' : 'L', place(&field->across, curve->values[i].at),
                place(&field->up, curve->values[i].estimate));
    fputs("\"/>", out);
    for (size_t i = 0; spots && i < curve->value_count; i++) {
        const ChartValue *value = &curve->values[i];
        double x = place(&field->across, value->at);
        if (has_interval(value))
            fprintf(out, "<path class=\"interval\" d=\"M%.1f %.1fV%.1fM%.1f %.1fh10M%.1f %.1fh10\"/>", x,
                    place(&field->up, value->low), place(&field->up, value->high), x - 5,
                    place(&field->up, value->low), x - 5, place(&field->up, value->high));
        fprintf(out, "<circle class=\"spot\" cx=\"%.1f\" cy=\"%.1f\" r=\"5\"/>", x,
                place(&field->up, value->estimate));
    }
}

static void draw_key(FILE *out, size_t line, const char *name)
{
    double y = 14 + 20 * (double)line;
    fprintf(out, "<path class=\"curve\" d=\"M%d %.1fh34\"/>", CURVE_LEFT, y - 4);
    draw_text(out, CURVE_LEFT + 42, y, "start", "name", name);
}

static void write_curve_table(FILE *out, const Chart *chart, const ChartCurve *curve)
{
    const PageColumn columns[] = {
        {chart->item, true}, {chart->value, true}, {"95 % interval", true}, {chart->count, true}};
    char caption[256];
    snprintf(caption, sizeof caption, "In numbers: %s, %s", chart->title, curve->name);
    PageTable table;
    page_table_begin(&table, out, caption, columns, chart->count != NULL ? 4 : 3);
    for (size_t i = 0; i < curve->value_count; i++) {
        if (!is_shown(curve, i))
            continue;
        page_cell(&table, "%.*f", decimals_of(curve->values[i].at), curve->values[i].at);
        value_cells(&table, chart, &curve->values[i]);
    }
    page_table_end(&table);
}

void chart_curves(FILE *out, const Chart *chart, const ChartCurve *curves, size_t curve_count)
{
    Field field = draw_field(out, chart, curves, curve_count);
    for (size_t c = 0; c < curve_count; c++) {
        fprintf(out, "<g class=\"tone-%zu\">", c % 4);
        draw_key(out, c, curves[c].name);
        draw_curve(out, &field, &curves[c], true);
        fputs("</g>\n", out);
    }
    end(out, chart);
    for (size_t c = 0; c < curve_count; c++)
        write_curve_table(out, chart, &curves[c]);
}

void chart_band(FILE *out, const Chart *chart, const ChartCurve *curve)
{
    Field field = draw_field(out, chart, curve, 1);
    fputs("<g class=\"tone-0\"><path class=\"band\" d=\"", out);
    for (size_t i = 0; i < curve->value_count; i++)
        fprintf(out, "%c%.1f %.1f", i == 0 ? 'M' : 'L', place(&field.across, curve->values[i].at),
                place(&field.up, curve->values[i].high));
    for (size_t i = curve->value_count; i-- > 0;)
        fprintf(out, "L%.1f %.1f", place(&field.across, curve->values[i].at),
                place(&field.up, curve->values[i].low));
    fputs("z\"/>", out);
    draw_key(out, 0, curve->name);
    draw_curve(out, &field, curve, false);
    fputs("</g>\n", out);
    end(out, chart);
    write_curve_table(out, chart, curve);
}
