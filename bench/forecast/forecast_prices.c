#include "bench/forecast/forecast_prices.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ANY = -1 };

/* Which prices a row is made of. */
typedef struct Group {
    const char *id, *name;
    int verdict, grade, status;
} Group;

static const Group groups[FORECAST_PRICE_ROWS] = {
    {"all", "all", ANY, ANY, ANY},
    {"applies", "verdict applies", PS_APPLIES, ANY, ANY},
    {"weak", "verdict weak", PS_WEAK, ANY, ANY},
    {"firm", "grade firm", ANY, PS_FIRM, ANY},
    {"likely", "grade likely", ANY, PS_LIKELY, ANY},
    {"doubtful", "grade doubtful", ANY, PS_DOUBTFUL, ANY},
    {"ready", "lever ready", ANY, ANY, PS_READY},
    {"unsupported", "lever unsupported", ANY, ANY, PS_UNSUPPORTED},
    {"firm-ready", "firm, ready", ANY, PS_FIRM, PS_READY},
    {"firm-unsupported", "firm, unsupported", ANY, PS_FIRM, PS_UNSUPPORTED},
    {"likely-ready", "likely, ready", ANY, PS_LIKELY, PS_READY},
    {"likely-unsupported", "likely, unsupported", ANY, PS_LIKELY, PS_UNSUPPORTED},
    {"doubtful-ready", "doubtful, ready", ANY, PS_DOUBTFUL, PS_READY},
    {"doubtful-unsupported", "doubtful, unsupported", ANY, PS_DOUBTFUL, PS_UNSUPPORTED},
};

static const Group calibrated[FORECAST_CALIBRATION_ROWS] = {
    {"all", "all", ANY, ANY, ANY},
    {"ready", "lever ready", ANY, ANY, PS_READY},
    {"unsupported", "lever unsupported", ANY, ANY, PS_UNSUPPORTED},
};

static bool belongs(const Group *group, const ForecastPrice *price)
{
    return (group->verdict == ANY || group->verdict == price->verdict) &&
           (group->grade == ANY || group->grade == price->grade) &&
           (group->status == ANY || group->status == price->status);
}

/* Room for as many values as there are prices, and what clustered_mean() needs for clusters of one. */
typedef struct Room {
    double *a, *b, *c;
    size_t *ones;
    double confidence;
} Room;

static ClusteredMean mean_of(const Room *room, const double *values, size_t count)
{
    return clustered_mean(values, room->ones, count, room->confidence);
}

static void find_mean(const ForecastEvidence *evidence, const Group *group, ForecastPriced other,
                      const Room *room, ForecastPriceMean *out)
{
    out->n = 0;
    for (size_t i = 0; i < evidence->price_count; i++) {
        const ForecastPrice *price = &evidence->prices[i];
        if (!belongs(group, price) || price->moves[other] == NO_MOVE)
            continue;
        room->a[out->n] = forecast_gained_centipawns(price, other);
        room->b[out->n++] = forecast_gained_chance(price, other);
    }
    out->centipawns = mean_of(room, room->a, out->n);
    out->chance = mean_of(room, room->b, out->n);
}

static void find_slope(const Room *room, ForecastCalibration *out)
{
    double n = (double)out->n, x_mean = mean(room->a, out->n), y_mean = mean(room->b, out->n);
    double xx = 0, xy = 0, meat = 0;
    out->slope = out->slope_error = NAN;
    out->slope_interval = (Interval){NAN, NAN};
    for (size_t i = 0; i < out->n; i++) {
        xx += (room->a[i] - x_mean) * (room->a[i] - x_mean);
        xy += (room->a[i] - x_mean) * (room->b[i] - y_mean);
    }
    if (out->n < 3 || xx <= 0)
        return;
    out->slope = xy / xx;
    for (size_t i = 0; i < out->n; i++) {
        double x = room->a[i] - x_mean, rest = room->b[i] - y_mean - out->slope * x;
        meat += x * x * rest * rest;
    }
    out->slope_error = sqrt(meat * n / (n - 2)) / xx;
    double half = normal_quantile(0.5 + room->confidence / 2) * out->slope_error;
    out->slope_interval = (Interval){out->slope - half, out->slope + half};
}

static void calibrate(const ForecastEvidence *evidence, const Group *group, const Room *room,
                      ForecastCalibration *out)
{
    *out = (ForecastCalibration){.id = group->id, .name = group->name};
    for (size_t i = 0; i < evidence->price_count; i++) {
        const ForecastPrice *price = &evidence->prices[i];
        if (!belongs(group, price) || price->points[0] == FORECAST_NOT_PLAYED_OUT)
            continue;
        room->a[out->n] = forecast_gained_chance(price, (ForecastPriced)price->rival);
        room->b[out->n] = (price->points[0] - price->points[1]) / 2.0;
        room->c[out->n] = room->b[out->n] - room->a[out->n];
        out->n++;
    }
    out->expected = mean_of(room, room->a, out->n);
    out->observed = mean_of(room, room->b, out->n);
    out->missed = mean_of(room, room->c, out->n);
    find_slope(room, out);
}

bool forecast_sum_up_prices(const ForecastEvidence *evidence, double confidence,
                            ForecastPriceFindings *findings)
{
    size_t count = evidence->price_count;
    Room room = {malloc((count + 1) * sizeof(double)), malloc((count + 1) * sizeof(double)),
                 malloc((count + 1) * sizeof(double)), malloc((count + 1) * sizeof(size_t)), confidence};
    bool good = room.a && room.b && room.c && room.ones;
    *findings = (ForecastPriceFindings){.count = count};
    for (size_t i = 0; i < count && good; i++)
        room.ones[i] = 1;
    for (int i = 0; i < FORECAST_PRICE_ROWS && good; i++) {
        ForecastPriceRow *row = &findings->rows[i];
        row->id = groups[i].id;
        row->name = groups[i].name;
        find_mean(evidence, &groups[i], FORECAST_OTHER_LEVER, &room, &row->to_lever);
        find_mean(evidence, &groups[i], FORECAST_NO_LEVER_MOVE, &room, &row->to_other);
    }
    for (int i = 0; i < FORECAST_CALIBRATION_ROWS && good; i++)
        calibrate(evidence, &calibrated[i], &room, &findings->calibration[i]);
    free(room.a);
    free(room.b);
    free(room.c);
    free(room.ones);
    return good;
}

const ForecastPriceRow *forecast_price_row(const ForecastPriceFindings *findings, const char *id)
{
    int i = 0;
    while (strcmp(findings->rows[i].id, id) != 0)
        i++;
    return &findings->rows[i];
}
