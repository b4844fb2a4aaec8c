/* What a forecast asks searches: where the answer is forced by the rules of chess, and the arithmetic by hand.
 * tests/reference/forecast.py computes the prices once more with statsmodels. */
#include "tests/bench/harness.h"
#include "tests/bench/run/run_files.h"

#include "bench/contrast/judge.h"
#include "bench/forecast/forecast_findings.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

#include <cjson/cJSON.h>
#include <math.h>

/* Black's only legal move is the named lever c5. */
#define ONLY_LEVER "k1N5/2K5/2p1p3/3pP3/3P4/8/8/8 b - -"
/* Ra1 is mate; c5 is the named lever, and there is no other. */
#define MATE_BESIDE "r3k3/2p5/4p3/3pP3/3P4/8/6PP/7K b - -"
/* The French Defence, Advance Variation: c5 is ready. */
#define FRENCH "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq -"
#define NO_CHAIN "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -"
/* The same pawns as in the French, White to move: f5 is two moves away. */
#define WHITE_TO_MOVE "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR w KQkq -"

static Position position_of(const char *fen)
{
    Position position;
    char text[FEN_SIZE];
    snprintf(text, sizeof text, "%s 0 1", fen);
    assert_int_equal(fen_parse(text, false, &position, NULL), FEN_OK);
    return position;
}

static void the_lever_that_can_be_played(void **state)
{
    (void)state;
    static const struct {
        const char *fen, *lever;
    } cases[] = {
        {FRENCH, "c7c5"},
        {WHITE_TO_MOVE, NULL},
        {NO_CHAIN, NULL},
        {ONLY_LEVER, "c6c5"},
        {MATE_BESIDE, "c7c5"},
        {"8/k1p4R/4p3/3pP3/3P4/8/8/4K3 b - -", NULL},     /* c7 is pinned */
        {"4k3/8/2n1p3/2ppP3/3P4/8/8/4K3 b - -", NULL},    /* played */
        {"4k3/2p5/2n1p3/3pP3/3P4/8/8/4K3 b - -", NULL},   /* the knight is in its way */
        {"4k3/8/4p3/3pP1p1/3P1P2/8/8/4K3 w - -", "f4f5"}, /* a capture is no lever, the push is */
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position position = position_of(cases[i].fen);
        ps_board board;
        ps_analysis analysis;
        char text[MOVE_TEXT_SIZE] = "none";
        structure_view(&position, &board);
        ps_analyse(&analysis, &board);
        Move move = forecast_named_lever(&position, &analysis);
        if (move != NO_MOVE)
            lan_write(&position, move, text);
        if (strcmp(text, cases[i].lever ? cases[i].lever : "none") != 0)
            fail_msg("%s: %s", cases[i].fen, text);
    }
}

static void a_mate_is_worth_more_than_the_lever(void **state)
{
    (void)state;
    Position position = position_of(MATE_BESIDE);
    Player *player = player_new(1);
    ForecastReferee *referee = forecast_referee_new(1);
    ForecastPrice price;
    char text[MOVE_TEXT_SIZE];
    assert_true(player != NULL && referee != NULL);
    player_settings(player)->lever_weight = 0;
    assert_true(forecast_price(player, &position, 2000, &price));
    assert_int_equal(price.verdict, PS_APPLIES);
    assert_int_equal(price.grade, PS_FIRM);
    assert_int_equal(price.status, PS_UNSUPPORTED); /* d4 attacks c5, nobody supports it */
    assert_int_equal(price.moves[FORECAST_OTHER_LEVER], NO_MOVE);
    lan_write(&position, price.moves[FORECAST_NO_LEVER_MOVE], text);
    assert_string_equal(text, "a8a1");
    assert_int_equal(price.scores[FORECAST_NO_LEVER_MOVE], SCORE_MATE - 1);
    assert_int_equal(price.rival, FORECAST_NO_LEVER_MOVE);
    /* A mate counts as JUDGED_SCORE_LIMIT, and as a win. */
    assert_int_equal(forecast_gained_centipawns(&price, FORECAST_NO_LEVER_MOVE),
                     judged_cut_off(price.scores[FORECAST_NAMED_LEVER]) - JUDGED_SCORE_LIMIT);
    assert_true(fabs(forecast_gained_chance(&price, FORECAST_NO_LEVER_MOVE) -
                     (winning_chance(price.scores[FORECAST_NAMED_LEVER]) - 1)) < 1e-9);
    const ForecastSettings settings = {.playout_nodes = 200, .seed = 1};
    assert_int_equal(price.points[1], FORECAST_NOT_PLAYED_OUT);
    assert_true(forecast_play_out(referee, &position, &settings, &price));
    assert_int_equal(price.points[1], 2);
    assert_true(price.points[0] >= 0 && price.points[0] <= 2);
    /* Nothing to compare the only legal move with. */
    position = position_of(ONLY_LEVER);
    assert_false(forecast_price(player, &position, 2000, &price));
    forecast_referee_free(referee);
    player_free(player);
}

/* ------------------------------------------------------------------------------------------ the arithmetic */

static void add_price(ForecastEvidence *evidence, ps_status status, int named, int lever, int other,
                      int8_t points[2])
{
    ForecastPrice price = {.number = evidence->price_count + 1,
                           .verdict = PS_APPLIES,
                           .grade = PS_FIRM,
                           .status = (uint8_t)status,
                           .moves = {1, lever == SCORE_NONE ? NO_MOVE : 2, 3},
                           .scores = {named, lever, other},
                           .rival = FORECAST_NO_LEVER_MOVE,
                           .points = {points[0], points[1]}};
    assert_true(forecast_evidence_add_price(evidence, "made.epd", &price));
}

static void prices_by_hand(void **state)
{
    (void)state;
    ForecastEvidence evidence = {0};
    ForecastPriceFindings findings;
    add_price(&evidence, PS_READY, 10, SCORE_NONE, 0, (int8_t[]){2, 0});
    add_price(&evidence, PS_READY, 20, 5, 0, (int8_t[]){1, 1});
    add_price(&evidence, PS_READY, 30, -5, 0, (int8_t[]){0, 1});
    add_price(&evidence, PS_UNSUPPORTED, -2000, 0, 1500, (int8_t[]){-1, -1});
    assert_true(forecast_sum_up_prices(&evidence, 0.95, &findings));
    const ForecastPriceRow *ready = forecast_price_row(&findings, "firm-ready");
    /* 10, 20, 30: mean 20, standard error 10 / sqrt(3); Student's t for 2 degrees is 4.303 (Student's table, from memory). */
    assert_int_equal(ready->to_other.n, 3);
    assert_true(fabs(ready->to_other.centipawns.mean - 20) < 1e-9);
    assert_true(fabs(ready->to_other.centipawns.interval.high - (20 + 4.302653 * 10 / sqrt(3))) < 1e-4);
    /* 15 and 35, where there is another lever. */
    assert_int_equal(ready->to_lever.n, 2);
    assert_true(fabs(ready->to_lever.centipawns.mean - 25) < 1e-9);
    /* Cut off at ten pawns each. */
    assert_true(fabs(forecast_price_row(&findings, "unsupported")->to_other.centipawns.mean + 2000) < 1e-9);
    assert_int_equal(forecast_price_row(&findings, "all")->to_other.n, 4);
    assert_int_equal(forecast_price_row(&findings, "weak")->to_other.n, 0);
    /* 1, 0 and -1/2 points more. */
    const ForecastCalibration *all = &findings.calibration[0];
    assert_int_equal(all->n, 3);
    assert_true(fabs(all->observed.mean - 1.0 / 6) < 1e-9);
    double x[3], y[3] = {1, 0, -0.5}, xx = 0, xy = 0;
    for (int i = 0; i < 3; i++)
        x[i] = 1 / (1 + exp(-10.0 * (i + 1) / WIN_SCALE)) - 0.5;
    double x_mean = (x[0] + x[1] + x[2]) / 3;
    for (int i = 0; i < 3; i++) {
        xx += (x[i] - x_mean) * (x[i] - x_mean);
        xy += (x[i] - x_mean) * (y[i] - 1.0 / 6);
    }
    assert_true(fabs(all->expected.mean - x_mean) < 1e-9);
    assert_true(fabs(all->missed.mean - (1.0 / 6 - x_mean)) < 1e-9);
    assert_true(fabs(all->slope - xy / xx) < 1e-9);
    assert_true(all->slope_error > 0 && all->slope_interval.low < all->slope);
    forecast_evidence_free(&evidence);
}

/* ------------------------------------------------------------------------------------------- the command */

static char *out_of(const char *command)
{
    HarnessRun run = harness_run(command, "");
    if (run.status != 0 || *run.err)
        fail_msg("%s: status %d, err \"%s\"", command, run.status, run.err);
    char *out = run.out;
    free(run.err);
    return out;
}

static const cJSON *at(const cJSON *object, const char *name)
{
    const cJSON *value = cJSON_GetObjectItemCaseSensitive(object, name);
    if (value == NULL)
        fail_msg("there is no key %s", name);
    return value;
}

/* The row of Black at the lock in the search of that name. */
static const cJSON *black_row(const cJSON *object, const char *search)
{
    const cJSON *row;
    cJSON_ArrayForEach(row, at(at(at(object, "searches"), search), "rows"))
    {
        if (strcmp(at(row, "side")->valuestring, "black") == 0 &&
            strcmp(at(row, "moment")->valuestring, "firm") == 0)
            return row;
    }
    fail_msg("there is no such row");
    return NULL;
}

static void the_only_move_is_the_first_lever(void **state)
{
    RunFiles *files = *state;
    char command[512];
    run_write(run_path(files, "a.epd"), ONLY_LEVER "\n" NO_CHAIN "\n" ONLY_LEVER " id \"again\";\n");
    snprintf(command, sizeof command, "forecast --json --quiet --nodes 500 --plies 4 --price 1000 %s",
             files->path);
    char *out = out_of(command);
    cJSON *object = cJSON_Parse(out);
    assert_non_null(object);
    assert_int_equal(at(object, "games")->valuedouble, 0);
    assert_int_equal(at(at(object, "searches"), "positions")->valuedouble, 1);
    assert_int_equal(at(at(object, "searches"), "left_out")->valuedouble, 2);
    static const char *const searches[] = {"line", "continuation"};
    for (int i = 0; i < 2; i++) {
        const cJSON *row = black_row(object, searches[i]);
        assert_string_equal(at(row, "verdict")->valuestring, "applies");
        assert_int_equal(at(row, "n")->valuedouble, 1);
        assert_int_equal(at(at(row, "first_lever"), "queenside")->valuedouble, 1);
        assert_int_equal(at(row, "named")->valuedouble, 1);
        assert_int_equal(at(row, "plies_to_lever")->valuedouble, 1);
    }
    assert_int_equal(cJSON_GetArraySize(at(at(object, "searches"), "prices")), 0);
    cJSON_Delete(object);
    free(out);
    /* Nobody plays on: no lever comes. */
    snprintf(command, sizeof command, "forecast --json --quiet --nodes 500 --plies 0 %s", files->path);
    out = out_of(command);
    object = cJSON_Parse(out);
    assert_int_equal(at(at(black_row(object, "continuation"), "first_lever"), "none")->valuedouble, 1);
    assert_int_equal(at(at(black_row(object, "line"), "first_lever"), "none")->valuedouble, 0);
    cJSON_Delete(object);
    free(out);
}

static const char positions[] = FRENCH "\n" MATE_BESIDE "\n" ONLY_LEVER "\n" WHITE_TO_MOVE "\n"
                                       "r1bq1rk1/ppp1npbp/3p1np1/3Pp3/2P1P3/2N2N2/PP2BPPP/R1BQ1RK1 w - -\n"
                                       "r1bqk2r/pp2bppp/2n2n2/2p5/2Pp4/3P1NP1/PP3PBP/RNBQ1RK1 w kq -\n";

#define SETTINGS "--quiet --nodes 300 --plies 6 --price 1000 --playouts 3 --playout-nodes 100"

static void workers_and_shares_change_nothing(void **state)
{
    RunFiles *files = *state;
    char command[768];
    run_write(run_path(files, "a.epd"), positions);
    snprintf(command, sizeof command, "forecast --json %s %s/a.epd --workers 1", SETTINGS, files->folder);
    char *one = out_of(command);
    snprintf(command, sizeof command, "forecast --json %s %s/a.epd --workers 3", SETTINGS, files->folder);
    char *three = out_of(command);
    assert_string_equal(one, three);
    for (int k = 1; k <= 2; k++) {
        snprintf(command, sizeof command, "forecast %s %s/a.epd --share %d/2 --store %s/%d.db", SETTINGS,
                 files->folder, k, files->folder, k);
        free(out_of(command));
    }
    snprintf(command, sizeof command, "forecast --json --quiet %s/2.db %s/1.db --store %s/all.db",
             files->folder, files->folder, files->folder);
    char *joined = out_of(command);
    assert_string_equal(joined, one);
    snprintf(command, sizeof command, "forecast --json --quiet %s/all.db", files->folder);
    char *again = out_of(command);
    assert_string_equal(again, one);
    assert_int_equal(run_number(run_path(files, "all.db"), "SELECT count(*) FROM forecast_price"), 4);
    /* The first three that have a price. */
    assert_int_equal(run_number(run_path(files, "all.db"),
                                "SELECT count(*) FROM forecast_price WHERE named_points IS NOT NULL"),
                     3);
    snprintf(command, sizeof command, "forecast --quiet %s/1.db %s/a.epd --nodes 301", files->folder,
             files->folder);
    assert_refused(command, "", 1, "same settings");
    snprintf(command, sizeof command, "forecast --quiet %s/1.db %s/1.db", files->folder, files->folder);
    assert_refused(command, "", 1, "is there twice");
    free(one);
    free(three);
    free(joined);
    free(again);
}

static void a_damaged_store_is_refused(void **state)
{
    RunFiles *files = *state;
    static const char *const damages[] = {
        "UPDATE forecast_price SET status = 'perhaps'",
        "UPDATE forecast_price SET named = 'z9c5'",
        "UPDATE forecast_price SET named_points = 3",
        "UPDATE forecast_setting SET seed = -1",
        "UPDATE forecast_game SET witness = 'nobody'",
        "UPDATE forecast_price SET rival = 'lever', lever = NULL",
    };
    char command[768];
    run_write(run_path(files, "a.epd"), FRENCH "\n");
    for (size_t i = 0; i < sizeof damages / sizeof *damages; i++) {
        snprintf(command, sizeof command, "forecast %s %s/a.epd --store %s/a.db", SETTINGS, files->folder,
                 files->folder);
        free(out_of(command));
        run_sql(run_path(files, "a.db"), damages[i]);
        snprintf(command, sizeof command, "forecast %s/a.db", files->folder);
        assert_refused(command, "", 1, "is damaged");
    }
}

static void every_way_to_show_it(void **state)
{
    RunFiles *files = *state;
    char command[768];
    run_write(run_path(files, "a.epd"), positions);
    snprintf(command, sizeof command, "forecast %s %s/a.epd --html %s/page.html", SETTINGS, files->folder,
             files->folder);
    char *out = out_of(command), *page = run_read(run_path(files, "page.html"));
    static const char *const parts[] = {"one witness and not two", "bound to lose something",
                                        "no lever; firm, unsupported"};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (strstr(out, parts[i]) == NULL)
            fail_msg("the text lacks %s", parts[i]);
    static const char *const on_page[] = {"lines-applies", "continuations-applies", "one witness and not two",
                                          "id=\"price\"", "bound to lose something"};
    for (size_t i = 0; i < sizeof on_page / sizeof *on_page; i++)
        if (strstr(page, on_page[i]) == NULL)
            fail_msg("the page lacks %s", on_page[i]);
    assert_null(strstr(out, "nan"));
    assert_null(strstr(page, "nan"));
    assert_null(strstr(out, "In these 0 games"));
    free(out);
    free(page);
    snprintf(command, sizeof command, "forecast --csv %s %s/a.epd", SETTINGS, files->folder);
    out = out_of(command);
    assert_non_null(strstr(out, "\nall,positions,Asked,6\n"));
    assert_non_null(strstr(out, "\nprice,no lever/all,Positions,4\n"));
    assert_non_null(strstr(out, "\ncalibration,all,Positions,3\n"));
    free(out);
}

/* After 3. e5 Black can play c5 at once, and does a move later. The second game never has a lock. */
static void where_the_lever_could_first_be_played(void **state)
{
    RunFiles *files = *state;
    char command[512];
    run_write(run_path(files, "g.pgn"),
              "[Event \"?\"]\n[Result \"*\"]\n\n1. e4 e6 2. d4 d5 3. e5 a6 4. a3 c5 *\n\n"
              "[Event \"?\"]\n[Result \"*\"]\n\n1. e4 e5 2. Nf3 *\n");
    snprintf(command, sizeof command, "forecast --json --quiet %s/g.pgn --playable %s/p.epd", files->folder,
             files->folder);
    free(out_of(command));
    char *epd = run_read(run_path(files, "p.epd"));
    assert_string_equal(epd, FRENCH " fmvn 3; hmvc 0; id \"g.pgn, game 1\";\n");
    free(epd);
    snprintf(command, sizeof command, "forecast --quiet %s/p.epd --playable %s/q.epd", files->folder,
             files->folder);
    assert_refused(command, "", 2, "--playable has no games");
}

static void mistakes_are_one_line(void **state)
{
    RunFiles *files = *state;
    char command[512];
    run_write(run_path(files, "a.epd"), FRENCH "\nnonsense\n");
    snprintf(command, sizeof command, "forecast --quiet %s/a.epd", files->folder);
    assert_refused(command, "", 1, "a.epd:2: ");
    snprintf(command, sizeof command, "forecast %s/a.epd --playouts 5", files->folder);
    assert_refused(command, "", 2, "--playouts needs a price");
    assert_refused("forecast /nowhere/a.epd", "", 1, "/nowhere/a.epd");
    assert_refused("forecast a.epd --nodes 99", "", 2, "--nodes");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_lever_that_can_be_played),
        cmocka_unit_test(a_mate_is_worth_more_than_the_lever),
        cmocka_unit_test(prices_by_hand),
        cmocka_unit_test_setup_teardown(the_only_move_is_the_first_lever, run_files_setup,
                                        run_files_teardown),
        cmocka_unit_test_setup_teardown(workers_and_shares_change_nothing, run_files_setup,
                                        run_files_teardown),
        cmocka_unit_test_setup_teardown(a_damaged_store_is_refused, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(every_way_to_show_it, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(where_the_lever_could_first_be_played, run_files_setup,
                                        run_files_teardown),
        cmocka_unit_test_setup_teardown(mistakes_are_one_line, run_files_setup, run_files_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
