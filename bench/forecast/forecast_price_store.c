#include "bench/forecast/forecast_price_store.h"
#include "bench/forecast/forecast_values.h"

#include <string.h>

bool forecast_write_settings(const Database *database, const ForecastEvidence *evidence)
{
    const ForecastSettings *settings = &evidence->settings;
    if (!evidence->has_settings)
        return true;
    sqlite3_stmt *statement = database_prepare(database, "INSERT INTO forecast_setting VALUES (?,?,?,?,?,?)");
    Binder binder = {statement, 0};
    bind_number(&binder, settings->nodes);
    bind_number(&binder, settings->plies);
    bind_number(&binder, settings->price_nodes);
    bind_number(&binder, settings->playouts);
    bind_number(&binder, settings->playout_nodes);
    bind_number(&binder, settings->seed);
    bool good = statement != NULL && database_finish(database, statement);
    sqlite3_finalize(statement);
    return good;
}

static void bind_priced(Binder *binder, const ForecastPrice *price, ForecastPriced kind)
{
    char text[FORECAST_MOVE_ROOM];
    forecast_write_move(price->moves[kind], text);
    bind_text(binder, price->moves[kind] == NO_MOVE ? NULL : text);
    if (price->moves[kind] == NO_MOVE)
        bind_text(binder, NULL);
    else
        bind_number(binder, price->scores[kind]);
}

bool forecast_write_prices(const Database *database, const ForecastEvidence *evidence)
{
    sqlite3_stmt *statement =
        database_prepare(database, "INSERT INTO forecast_price VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)");
    bool good = statement != NULL;
    for (size_t i = 0; i < evidence->price_count && good; i++) {
        const ForecastPrice *price = &evidence->prices[i];
        Binder binder = {statement, 0};
        bind_text(&binder, evidence->of[FORECAST_LINES].files[price->file]);
        bind_number(&binder, (int64_t)price->number);
        bind_hex(&binder, price->key);
        bind_text(&binder, ps_side_name((ps_side)price->side));
        bind_text(&binder, ps_verdict_name((ps_verdict)price->verdict));
        bind_text(&binder, ps_grade_name((ps_grade)price->grade));
        bind_text(&binder, ps_status_name((ps_status)price->status));
        bind_number(&binder, price->depth);
        for (int kind = 0; kind < (int)FORECAST_PRICED_COUNT; kind++)
            bind_priced(&binder, price, (ForecastPriced)kind);
        bind_text(&binder, price->rival == FORECAST_OTHER_LEVER ? "lever" : "other");
        for (int game = 0; game < 2; game++) {
            if (price->points[game] == FORECAST_NOT_PLAYED_OUT)
                bind_text(&binder, NULL);
            else
                bind_number(&binder, price->points[game]);
        }
        good = database_finish(database, statement);
    }
    sqlite3_finalize(statement);
    return good;
}

static const char *side_name(int i)
{
    return ps_side_name((ps_side)i);
}

static const char *grade_name(int i)
{
    return ps_grade_name((ps_grade)i);
}

static const char *status_name(int i)
{
    return ps_status_name((ps_status)i);
}

static const char *rival_name(int i)
{
    return i == 0 ? "lever" : "other";
}

bool forecast_read_settings(const Database *database, ForecastEvidence *evidence, bool *differ)
{
    bool good = true;
    sqlite3_stmt *statement = database_prepare(database, "SELECT * FROM forecast_setting");
    while (good && !*differ && statement != NULL && database_step(database, statement, &good)) {
        Fields fields = {statement, 0, true};
        ForecastSettings settings = {0};
        int64_t *const places[] = {&settings.nodes,    &settings.plies,         &settings.price_nodes,
                                   &settings.playouts, &settings.playout_nodes, &settings.seed};
        for (size_t i = 0; i < sizeof places / sizeof *places; i++)
            *places[i] = take_number(&fields, 0, INT64_MAX);
        good = fields.good;
        *differ = good && !forecast_evidence_agree(evidence, &settings);
    }
    sqlite3_finalize(statement);
    return good && statement != NULL && !*differ;
}

static void take_priced(Fields *fields, ForecastPrice *price, ForecastPriced kind)
{
    const char *text = database_text(fields->statement, fields->place++);
    price->moves[kind] = forecast_read_move(text, strlen(text), &fields->good);
    price->scores[kind] = (int)take_number(fields, -SCORE_MATE, SCORE_MATE);
}

static int8_t take_points(Fields *fields)
{
    bool none = sqlite3_column_type(fields->statement, fields->place) == SQLITE_NULL;
    int64_t points = take_number(fields, 0, 2);
    return none ? FORECAST_NOT_PLAYED_OUT : (int8_t)points;
}

static ForecastPrice read_price(Fields *fields)
{
    ForecastPrice price = {.number = (size_t)take_number(fields, 1, INT64_MAX), .key = take_hex(fields)};
    price.side = (uint8_t)take_word(fields, SIDE_COUNT, side_name);
    price.verdict = (uint8_t)take_word(fields, PS_VERDICT_COUNT, forecast_verdict_name);
    price.grade = (uint8_t)take_word(fields, PS_GRADE_COUNT, grade_name);
    price.status = (uint8_t)take_word(fields, PS_STATUS_COUNT, status_name);
    price.depth = (int)take_number(fields, 0, MAX_PLY);
    for (int kind = 0; kind < (int)FORECAST_PRICED_COUNT; kind++)
        take_priced(fields, &price, (ForecastPriced)kind);
    price.rival = (int8_t)(FORECAST_OTHER_LEVER + take_word(fields, 2, rival_name));
    price.points[0] = take_points(fields);
    price.points[1] = take_points(fields);
    fields->good &= price.moves[FORECAST_NAMED_LEVER] != NO_MOVE && price.moves[price.rival] != NO_MOVE;
    return price;
}

bool forecast_read_prices(const Database *database, ForecastEvidence *evidence)
{
    bool good = true;
    sqlite3_stmt *statement = database_prepare(database, "SELECT * FROM forecast_price ORDER BY rowid");
    while (good && statement != NULL && database_step(database, statement, &good)) {
        Fields fields = {statement, 1, true};
        ForecastPrice price = read_price(&fields);
        good = fields.good && forecast_evidence_add_price(evidence, database_text(statement, 0), &price);
    }
    sqlite3_finalize(statement);
    return good && statement != NULL;
}
