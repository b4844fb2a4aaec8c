/* What a forecast counts in games, worked out by hand from the rules in bench/forecast/forecast_game.h; and the command
 * as a user runs it. tests/reference/ counts whole collections beside chessops and statsmodels.
 *
 * The games begin as the French Defence, whose chain A. Nimzowitsch uses to explain where to attack one: Black plays c7-c5
 * against the base d4, White f2-f4-f5 against the base e6 (My System, 1925, part on the pawn chain). */
#include "tests/bench/harness.h"
#include "tests/bench/run/run_files.h"

#include "bench/forecast/forecast_findings.h"
#include "engine/rules/fen.h"

#include <cjson/cJSON.h>
#include <math.h>

#include <ctype.h>

#define TAGS(result) "[Event \"?\"]\n[Result \"" result "\"]\n"
#define FEN(fen) "[SetUp \"1\"]\n[FEN \"" fen "\"]\n"

/* ------------------------------------------------------------------------------------------ rows, by hand */

/* One game, and its rows as "moment/side/verdict/region/where the first lever came/named/points of games", in order. */
typedef struct Example {
    const char *what, *pgn, *rows;
} Example;

/* Of the French Defence 2... d5 already is a near miss: a ram on d, Black's d5 and e6 linked; White's pawns are not. */
static const Example examples[] = {
    {"Black's lever at once; White's pawn moves attack nothing",
     TAGS("1-0") "\n1. e4 e6 2. d4 d5 3. e5 c5 4. c3 Nc6 5. f4 Nge7 6. Nf3 Nf5 1-0\n",
     "firm/white/applies/kingside/none/0/1 of 1\n"
     "firm/black/applies/queenside/queenside/1/0 of 1\n"
     "not_rammed/black/linked/queenside/queenside/0/0 of 1\n"},
    {"a capture is no lever, and a game without a result has no points",
     TAGS("*") "\n1. e4 e6 2. d4 d5 3. e5 b6 4. Nc3 a6 5. Na4 h6 6. Nc5 bxc5 *\n",
     "firm/white/applies/kingside/none/0/0 of 0\n"
     "firm/black/applies/queenside/none/0/0 of 0\n"
     "not_rammed/black/linked/queenside/none/0/0 of 0\n"},
    {"a lever elsewhere counts by its region; only the first does; White's c4 attacks d5",
     TAGS("1/2-1/2") "\n1. e4 e6 2. d4 d5 3. e5 f6 4. c4 c5 5. f4 Nc6 6. f5 1/2-1/2\n",
     "firm/white/applies/kingside/queenside/0/0.5 of 1\n"
     "firm/black/applies/queenside/kingside/0/0.5 of 1\n"
     "not_rammed/black/linked/queenside/kingside/0/0.5 of 1\n"},
    /* The new queen on g8 stands beside the file of the pawn h7, and a pawn there would attack nothing. */
    {"promotions are left out",
     TAGS("1-0") FEN("k7/6Pp/4p3/3pP3/3P4/8/8/4K3 w - - 0 1") "\n1. Ke2 Kb7 2. g8=Q Kc7 1-0\n",
     "firm/white/fulfilled/kingside/none/0/1 of 1\n"
     "firm/black/fulfilled/queenside/none/0/0 of 1\n"},
    /* 3. e5 rams e6; White's pawns are linked, Black's on d6 and e6 are not. Then 3... d5 locks. Of the three rows White's
     * first lever is f5; it is named at the lock alone. */
    {"a near miss before the lock, and the lock",
     TAGS("0-1") "\n1. e4 e6 2. d4 d6 3. e5 d5 4. f4 c5 5. f5 Nc6 0-1\n",
     "firm/white/applies/kingside/kingside/1/0 of 1\n"
     "firm/black/applies/queenside/queenside/1/1 of 1\n"
     "not_rammed/white/linked/kingside/kingside/0/0 of 1\n"},
    /* After 3. dxe5 only e5 and e6 ram, Black's pawns are linked, White has pawns on d2 and e5: a near miss, but too late.
     * Black's c-file has no pawn at all; White has none on f, where Black's stands. */
    {"no near miss after a lock",
     TAGS("*") FEN("4k3/8/4pp2/3pP3/3P4/8/3P4/4K3 b - - 0 1") "\n1... Ke7 2. Ke2 fxe5 3. dxe5 Kd7 *\n",
     "firm/white/misleading/kingside/none/0/0 of 0\n"
     "firm/black/fulfilled/queenside/none/0/0 of 0\n"},
    {"the first position is not after any ply",
     TAGS("0-1") FEN("rnbqkbnr/pp3ppp/4p3/2ppP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 4") "\n4... cxd4 0-1\n",
     ""},
    /* 3... e5 rams e4 while d6 and e5 are linked: a near miss with a row for Black, whose lever against d4 it is: at the
     * moment, not after it. 4. d5 locks and attacks c6, likewise. */
    {"the push that makes the moment is not after it",
     TAGS("1/2-1/2") "\n1. d4 d6 2. e4 c6 3. c4 e5 4. d5 Nf6 5. Nc3 Be7 1/2-1/2\n",
     "firm/white/applies/queenside/none/0/0.5 of 1\n"
     "firm/black/applies/kingside/none/0/0.5 of 1\n"
     "not_rammed/black/linked/kingside/none/0/0.5 of 1\n"},
    /* e4 f5 against e5 f6: White's lever is g5 against f6, Black's d5 against e4. */
    {"a chain on e and f is likely, and Black's direction names the centre",
     TAGS("*") FEN("4k3/3p4/5p2/4p3/4PP2/8/6P1/4K3 w - - 0 1") "\n1. f5 Ke7 2. Kd2 d5 3. g4 Kd6 4. g5 *\n",
     "likely/white/applies/kingside/kingside/1/0 of 0\n"
     "likely/black/applies/centre/centre/1/0 of 0\n"},
    {"a chain on a and b says nothing",
     TAGS("1-0") FEN("4k3/3p4/pp6/P7/1P6/8/8/4K3 w - - 0 1") "\n1. Kd1 b5 2. Kc2 Ke7 1-0\n", ""},
    /* b4 c5 against b5 c6: White's direction names the d-file, Black's the a-file. */
    {"a chain on b and c is doubtful",
     TAGS("1-0") FEN("4k3/8/2p5/1pP5/pP6/8/P2P4/4K3 w - - 0 1") "\n1. Kd1 Kd8 2. d4 Kc7 1-0\n",
     "doubtful/white/weak/centre/none/0/1 of 1\n"
     "doubtful/black/weak/queenside/none/0/0 of 1\n"},
    /* d5 rams d6; e4 is linked with d3, which it leads, and with d5, which leads it. Black's d6 and e7 are linked, too: e7
     * behind d6, to the queenside, so this is same_way. */
    {"a side whose pawns point both ways has two rows",
     TAGS("1-0") FEN("4k3/3pp3/8/3P4/4P3/3P4/8/4K3 b - - 0 1") "\n1... d6 2. Kd2 Kd7 1-0\n",
     "same_way/white/linked/kingside/none/0/1 of 1\n"
     "same_way/white/linked/queenside/none/0/1 of 1\n"
     "same_way/black/linked/queenside/none/0/0 of 1\n"},
};

enum { EXAMPLES = sizeof examples / sizeof *examples };

static const cJSON *item(const cJSON *object, const char *name)
{
    const cJSON *value = cJSON_GetObjectItemCaseSensitive(object, name);
    if (value == NULL)
        fail_msg("there is no key %s", name);
    return value;
}

static double number(const cJSON *object, const char *name)
{
    return item(object, name)->valuedouble;
}

static cJSON *forecast_of(const char *arguments, const char *input)
{
    char command[512];
    snprintf(command, sizeof command, "forecast %s --json --quiet", arguments);
    HarnessRun run = harness_run(command, input);
    if (run.status != 0 || *run.err)
        fail_msg("%s: status %d, err \"%s\"", command, run.status, run.err);
    cJSON *object = cJSON_Parse(run.out);
    assert_non_null(object);
    harness_free(&run);
    return object;
}

/* Rows of a single game in the form of Example.rows. */
static void write_rows(const cJSON *object, char *text, size_t size)
{
    const cJSON *row;
    FILE *out = fmemopen(text, size, "w");
    cJSON_ArrayForEach(row, item(object, "rows"))
    {
        const cJSON *first = item(row, "first_lever"), *place;
        fprintf(out, "%s/%s/%s/%s", item(row, "moment")->valuestring, item(row, "side")->valuestring,
                item(row, "verdict")->valuestring, item(row, "region")->valuestring);
        cJSON_ArrayForEach(place, first)
        {
            if (place->valuedouble > 0)
                fprintf(out, "/%s", place->string);
        }
        fprintf(out, "/%g/%g of %g\n", number(row, "named"), number(row, "points"), number(row, "finished"));
        assert_int_equal(number(row, "n"), 1);
    }
    fclose(out);
}

static void the_rows_of_each_rule(void **state)
{
    (void)state;
    for (int i = 0; i < EXAMPLES; i++) {
        char text[2048] = "";
        cJSON *object = forecast_of("-", examples[i].pgn);
        assert_int_equal(number(object, "games"), 1);
        write_rows(object, text, sizeof text);
        if (strcmp(text, examples[i].rows) != 0)
            fail_msg("%s:\n%sexpected:\n%s", examples[i].what, text, examples[i].rows);
        cJSON_Delete(object);
    }
}

/* All examples in one file, and as many copies as asked for, to be freed. */
static char *all_examples(int copies)
{
    char *text;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    for (int i = 0; i < copies * EXAMPLES; i++)
        fprintf(out, "%s\n", examples[i % EXAMPLES].pgn);
    fclose(out);
    return text;
}

static void rows_add_up(void **state)
{
    (void)state;
    char *text = all_examples(3);
    cJSON *object = forecast_of("-", text);
    assert_int_equal(number(object, "games"), 3 * EXAMPLES);
    const cJSON *row = cJSON_GetArrayItem(item(object, "rows"), 0);
    assert_string_equal(item(row, "moment")->valuestring, "firm");
    assert_string_equal(item(row, "side")->valuestring, "white");
    assert_string_equal(item(row, "region")->valuestring, "kingside");
    /* Four of the examples: none, none, c4, f5; 1, no result, 1/2, 0 points. The levers came 3 and 3 plies later. */
    assert_int_equal(number(row, "n"), 12);
    const cJSON *first = item(row, "first_lever");
    assert_int_equal(number(first, "none"), 6);
    assert_int_equal(number(first, "queenside"), 3);
    assert_int_equal(number(first, "kingside"), 3);
    assert_int_equal(number(row, "named"), 3);
    assert_true(number(row, "points") == 4.5);
    assert_int_equal(number(row, "finished"), 9);
    /* c4 at ply 7 after the lock at 5, f5 at ply 9 after the lock at 6. */
    assert_true(number(row, "plies_to_lever") == 2.5);
    cJSON_Delete(object);
    free(text);
}

static void ratings_are_those_of_the_side(void **state)
{
    (void)state;
    cJSON *object =
        forecast_of("-", "[Event \"?\"]\n[WhiteElo \"2450\"]\n[BlackElo \"1700\"]\n[Result \"1-0\"]\n\n"
                         "1. e4 e6 2. d4 d5 3. e5 c5 1-0\n");
    const cJSON *rows = item(object, "rows");
    const cJSON *white = item(cJSON_GetArrayItem(rows, 0), "ratings"),
                *black = item(cJSON_GetArrayItem(rows, 1), "ratings");
    assert_string_equal(item(cJSON_GetArrayItem(white, 0), "band")->valuestring, "2400 and more");
    assert_string_equal(item(cJSON_GetArrayItem(black, 0), "band")->valuestring, "1500 to 1799");
    assert_int_equal(number(cJSON_GetArrayItem(black, 0), "named"), 1);
    cJSON_Delete(object);
}

/* -------------------------------------------------------------------------------------- choices, by hand */

/* By the definition of ForecastChoice. */
static void the_levers_that_are_there(void **state)
{
    (void)state;
    Position position;
    ForecastChoice choices[FORECAST_CHOICES_MAX];
    /* Pawns alone, so that all can be seen: White d4 e5, Black c7 d5 e6 f7. */
    assert_int_equal(fen_parse("4k3/2p2p2/4p3/3pP3/3P4/8/8/4K3 b - - 0 1", false, &position, NULL), FEN_OK);
    /* c5 attacks d4. f6 attacks e5. Nothing else of Black's can: e6 and d5 are rammed, f5 attacks e4 and g4. */
    assert_int_equal(forecast_choices(&position, BLACK, choices), 2);
    assert_int_equal(choices[0].goal, C5);
    assert_int_equal(choices[0].steps, 1);
    assert_int_equal(choices[0].support, -1); /* attacked by d4 */
    assert_int_equal(choices[1].goal, F6);
    assert_int_equal(choices[1].steps, 1);
    assert_int_equal(choices[1].support, -1); /* attacked by e5; the king on e8 is too far */
    /* White has no pawn that could: none on c, none on f. */
    assert_int_equal(forecast_choices(&position, WHITE, choices), 0);
    /* A knight in the way is a blocker; a black pawn in the way ends it. White: c2-c4 attacks d5, f2-f5 attacks e6. */
    assert_int_equal(fen_parse("4k3/8/4p3/3pP3/2pP1n2/8/2P2P2/4K3 w - - 0 1", false, &position, NULL),
                     FEN_OK);
    int count = forecast_choices(&position, WHITE, choices);
    assert_int_equal(count, 1);
    assert_int_equal(choices[0].goal, F5);
    assert_int_equal(choices[0].steps, 2);
    assert_int_equal(choices[0].blockers, 1);
    assert_int_equal(choices[0].support, -1); /* attacked by e6 */
}

/* ------------------------------------------------------------------------------------ controls, by hand */

/* A row at a firm moment of an opening. */
static ForecastGame made_game(size_t number, Move opening, bool named_kingside, bool came_kingside)
{
    ForecastGame game = {.number = number, .hash = number, .plies = 40, .row_count = 1, .result = PGN_DRAW};
    game.opening[0] = opening;
    game.rows[0] = (ForecastRow){.moment = FORECAST_FIRM,
                                 .side = WHITE,
                                 .verdict = PS_APPLIES,
                                 .region = named_kingside ? PS_KINGSIDE : PS_QUEENSIDE,
                                 .lever = named_kingside ? F5 : C5,
                                 .first = came_kingside ? F5 : C5,
                                 .earlier = PS_NO_SQUARE,
                                 .kings = {E1, E8},
                                 .ply = 20,
                                 .first_ply = 21};
    return game;
}

static void add_games(ForecastData *data, Move opening, bool named, bool came, int count)
{
    for (int i = 0; i < count; i++) {
        ForecastGame game = made_game(data->game_count + 1, opening, named, came);
        assert_true(forecast_data_add(data, "made.pgn", &game));
    }
    assert_true(data->part_count > 0 ||
                forecast_data_add_part(data, &(ForecastPart){.share = 1, .shares = 1}));
}

static const ForecastQuestion firm = {FORECAST_FIRM, FORECAST_ANY, FORECAST_ANY, false};

/* Two openings, each with its own direction: the direction foretells, but within openings nothing can be said. */
static void an_opening_can_explain_all(void **state)
{
    (void)state;
    ForecastData data = {0};
    ForecastOdds odds;
    add_games(&data, 1, true, true, 30);
    add_games(&data, 1, true, false, 10);
    add_games(&data, 2, false, true, 10);
    add_games(&data, 2, false, false, 30);
    assert_true(forecast_odds(&data, &firm, &odds));
    assert_true(fabs(odds.raw.estimate - 9) < 1e-9);
    assert_true(isnan(odds.within.estimate));
    assert_int_equal(odds.strata, 2);
    assert_int_equal(odds.informing, 0);
    assert_int_equal(odds.games_informing, 0);
    forecast_data_free(&data);
}

static void within_openings_by_hand(void **state)
{
    (void)state;
    ForecastData data = {0};
    ForecastFindings *findings = calloc(1, sizeof *findings);
    assert_non_null(findings);
    /* One opening with both directions, 12 8 / 8 12: odds ratio 2.25. Another with one direction only. */
    add_games(&data, 1, true, true, 12);
    add_games(&data, 1, true, false, 8);
    add_games(&data, 1, false, true, 8);
    add_games(&data, 1, false, false, 12);
    add_games(&data, 2, true, true, 100);
    assert_true(forecast_find(&data, findings));
    const ForecastOdds *odds = forecast_primary(findings);
    assert_true(fabs(odds->within.estimate - 2.25) < 1e-9);
    assert_int_equal(odds->n, 140);
    assert_int_equal(odds->informing, 1);
    assert_int_equal(odds->n_informing, 40);
    /* 112 8 / 8 12: 21. */
    assert_true(fabs(odds->raw.estimate - 21) < 1e-9);
    /* E-value of the root of 2.25: 1.5 + sqrt(1.5 * 0.5). */
    assert_true(fabs(findings->e_value - (1.5 + sqrt(0.75))) < 1e-9);
    assert_true(forecast_find_odds(findings, FORECAST_FIRM, PS_APPLIES, WHITE)->n == 140);
    assert_true(forecast_find_odds(findings, FORECAST_FIRM, PS_APPLIES, BLACK)->n == 0);
    /* Interval 0.64 to 7.97 by Woolf: not shown. */
    assert_false(forecast_holds(findings));
    free(findings);
    forecast_data_free(&data);
}

/* Directions that decide all within each of many openings: dealing them out anew cannot give the same. And the wing is
 * foretold by the direction alone, where the opening says nothing. */
static void a_direction_that_knows(void **state)
{
    (void)state;
    ForecastData data = {0};
    ForecastPermuted permuted;
    ForecastLoss loss;
    for (Move opening = 1; opening <= 20; opening++) {
        add_games(&data, opening, true, true, 10);
        add_games(&data, opening, false, false, 9);
        add_games(&data, opening, false, true, 1);
        add_games(&data, opening, true, false, 1);
    }
    assert_true(forecast_permute(&data, &firm, 199, 1, &permuted));
    assert_int_equal(permuted.rounds, 199);
    assert_true(permuted.mean > 0.8 && permuted.mean < 1.25);
    assert_true(permuted.range.low < 1 && permuted.range.high > 1);
    assert_true(fabs(permuted.p - 1.0 / 200) < 1e-9);
    assert_true(forecast_loss(&data, &firm, &loss));
    assert_int_equal(loss.n, 20 * 21);
    assert_true(loss.loss[FORECAST_KNOWING_OPENING] > 0.98);
    assert_true(loss.loss[FORECAST_KNOWING_DIRECTION] < 0.5);
    assert_true(loss.saved_interval.low > 0);
    forecast_data_free(&data);
}

/* Four games, two in each half (the halves are odd and even numbers): each half has seen one lever on each wing, 1 named
 * kingside and came there, 1 named queenside and came there. From these: side (1 + 2 * 0.5) / (2 + 2) = 1/2; direction, if it
 * names the kingside, (1 + 2 * 1/2) / (1 + 2) = 2/3; opening 1/2; both (1 + 2 * 2/3) / 3 = 7/9. */
static void log_loss_by_hand(void **state)
{
    (void)state;
    ForecastData data = {0};
    ForecastLoss loss;
    add_games(&data, 1, true, true, 2);
    add_games(&data, 1, false, false, 2);
    assert_true(forecast_loss(&data, &firm, &loss));
    assert_true(fabs(loss.loss[FORECAST_KNOWING_SIDE] - 1) < 1e-12);
    assert_true(fabs(loss.loss[FORECAST_KNOWING_DIRECTION] - log2(3.0 / 2)) < 1e-12);
    assert_true(fabs(loss.loss[FORECAST_KNOWING_OPENING] - 1) < 1e-12);
    assert_true(fabs(loss.loss[FORECAST_KNOWING_BOTH] - log2(9.0 / 7)) < 1e-12);
    assert_true(fabs(loss.saved - (1 - log2(9.0 / 7))) < 1e-12);
    forecast_data_free(&data);
}

/* Yule 1912: with even margins the share is that of a table a b / b a with (a / b)^2 = the odds ratio. */
static void even_shares(void **state)
{
    (void)state;
    assert_true(fabs(forecast_even_share(1) - 0.5) < 1e-12);
    assert_true(fabs(forecast_even_share(9) - 0.75) < 1e-12);
    assert_true(fabs(forecast_even_share(1.0 / 9) - 0.25) < 1e-12);
}

/* An opening ends at the moment: what follows it must not tell games apart that were the same until then. */
static void the_opening_ends_with_the_moment(void **state)
{
    (void)state;
    ForecastGame a = made_game(1, 1, true, true), b = a;
    b.opening[5] = 7;
    a.rows[0].ply = b.rows[0].ply = 5;
    assert_true(forecast_opening(&a, &a.rows[0]) == forecast_opening(&b, &b.rows[0]));
    a.rows[0].ply = b.rows[0].ply = 6;
    assert_true(forecast_opening(&a, &a.rows[0]) != forecast_opening(&b, &b.rows[0]));
    b = a;
    b.start = 1;
    assert_true(forecast_opening(&a, &a.rows[0]) != forecast_opening(&b, &b.rows[0]));
}

/* ------------------------------------------------------------------------------------------- the command */

static char *out_of(const char *arguments, const char *input)
{
    HarnessRun run = harness_run(arguments, input);
    if (run.status != 0)
        fail_msg("%s: status %d, err \"%s\"", arguments, run.status, run.err);
    char *out = run.out;
    free(run.err);
    return out;
}

static void shares_add_up_to_the_whole(void **state)
{
    RunFiles *files = *state;
    char command[512], *text = all_examples(40);
    run_write(run_path(files, "games.pgn"), text);
    snprintf(command, sizeof command, "forecast --json --quiet %s/games.pgn", files->folder);
    char *whole = out_of(command, "");
    for (int k = 1; k <= 3; k++) {
        snprintf(command, sizeof command, "forecast --quiet %s/games.pgn --share %d/3 --store %s/part%d.db",
                 files->folder, k, files->folder, k);
        free(out_of(command, ""));
    }
    snprintf(command, sizeof command,
             "forecast --json --quiet %s/part3.db %s/part1.db %s/part2.db --store %s/all.db", files->folder,
             files->folder, files->folder, files->folder);
    char *joined = out_of(command, "");
    assert_string_equal(joined, whole);
    snprintf(command, sizeof command, "forecast --json --quiet %s/all.db", files->folder);
    char *again = out_of(command, "");
    assert_string_equal(again, whole);
    snprintf(command, sizeof command, "forecast --json --quiet %s/part3.db %s/part1.db", files->folder,
             files->folder);
    cJSON *object = forecast_of(command + strlen("forecast --json --quiet "), "");
    assert_true(cJSON_IsFalse(item(object, "complete")));
    cJSON_Delete(object);
    snprintf(command, sizeof command, "forecast %s/part3.db %s/part3.db", files->folder, files->folder);
    assert_refused(command, "", 1, "is there twice");
    snprintf(command, sizeof command, "forecast %s/part3.db --share 1/2", files->folder);
    assert_refused(command, "", 2, "--share does not go with a store");
    free(whole);
    free(joined);
    free(again);
    free(text);
}

static void foreign_files_stay_as_they_are(void **state)
{
    RunFiles *files = *state;
    char command[512];
    run_write(run_path(files, "notes.txt"), "hands off\n");
    snprintf(command, sizeof command, "forecast - --store %s/notes.txt", files->folder);
    assert_refused(command, examples[0].pgn, 1, "notes.txt");
    char *notes = run_read(run_path(files, "notes.txt"));
    assert_string_equal(notes, "hands off\n");
    free(notes);
    sqlite3 *database;
    assert_int_equal(sqlite3_open(run_path(files, "other.db"), &database), SQLITE_OK);
    assert_int_equal(
        sqlite3_exec(database, "CREATE TABLE game (x); INSERT INTO game VALUES (7)", NULL, NULL, NULL),
        SQLITE_OK);
    sqlite3_close(database);
    snprintf(command, sizeof command, "forecast - --store %s/other.db", files->folder);
    assert_refused(command, examples[0].pgn, 1, "is a database of something else");
    assert_int_equal(run_number(run_path(files, "other.db"), "SELECT x FROM game"), 7);
    snprintf(command, sizeof command, "forecast %s/other.db", files->folder);
    assert_refused(command, "", 1, "is a database of something else");
}

static void a_damaged_store_is_refused(void **state)
{
    RunFiles *files = *state;
    static const char *const damages[] = {
        "UPDATE forecast_row SET verdict = 'perhaps'", "UPDATE forecast_row SET own_king = 'z9'",
        "UPDATE forecast_choice SET goal = ''",        "DELETE FROM forecast_game",
        "UPDATE forecast_part SET shares = 0",
    };
    char command[512];
    for (size_t i = 0; i < sizeof damages / sizeof *damages; i++) {
        snprintf(command, sizeof command, "forecast --quiet - --store %s/store.db", files->folder);
        free(out_of(command, examples[0].pgn));
        run_sql(run_path(files, "store.db"), damages[i]);
        snprintf(command, sizeof command, "forecast %s/store.db", files->folder);
        assert_refused(command, "", 1, "is damaged");
    }
}

static void broken_games_are_left_out(void **state)
{
    (void)state;
    HarnessRun run =
        harness_run("forecast - --json --quiet",
                    "[Event \"?\"]\n\n1. e4 e5 2. Ke3 *\n\n[Event \"?\"]\n\n1. e4 e6 2. d4 d5 3. e5 c5 *\n");
    assert_int_equal(run.status, 0);
    assert_non_null(strstr(run.err, "game 1, ply 3"));
    assert_non_null(strstr(run.out, "\"games\":1,\"plies\":6,\"skipped\":1,"));
    harness_free(&run);
    run = harness_run("forecast - --json --quiet", "[Event \"?\"]\n\n1. e4 e6 2. d4 d5 3. e5 c5\n");
    assert_int_equal(run.status, 1);
    harness_free(&run);
}

static void mistakes_are_one_line(void **state)
{
    (void)state;
    assert_refused("forecast", "", 2, "there is no input");
    assert_refused("forecast - --json --csv", "", 2, "exclude each other");
    assert_refused("forecast - --share 3/2", "", 2, "--share");
    assert_refused("forecast /nowhere/games.pgn", "", 1, "/nowhere/games.pgn");
    assert_refused("forecast - --html /nowhere/page.html", examples[0].pgn, 1, "/nowhere/page.html");
}

/* Nothing at all is an answer, too. */
static void games_without_a_lock(void **state)
{
    RunFiles *files = *state;
    char command[512];
    snprintf(command, sizeof command, "forecast --quiet - --html %s/page.html", files->folder);
    char *out = out_of(command, "[Event \"?\"]\n\n1. e4 e5 2. Nf3 *\n");
    assert_non_null(strstr(out, "nothing can be said of it"));
    assert_null(strstr(out, "nan"));
    char *page = run_read(run_path(files, "page.html"));
    assert_non_null(strstr(page, "None: no side in these games."));
    assert_non_null(strstr(page, "None: no opening in these games can tell."));
    assert_null(strstr(page, "nan"));
    free(out);
    free(page);
}

/* Fails if what people read has a name that machines use: letters on both sides of an underscore. */
static void assert_no_names(const char *text)
{
    for (const char *at = strchr(text, '_'); at != NULL; at = strchr(at + 1, '_'))
        if (at > text && isalpha((unsigned char)at[-1]) && isalpha((unsigned char)at[1]))
            fail_msg("a name for machines: %.40s", at > text + 12 ? at - 12 : text);
}

static void the_page_shows_boards_and_bars(void **state)
{
    RunFiles *files = *state;
    char command[512], *text = all_examples(5);
    snprintf(command, sizeof command, "forecast --quiet - --html %s/page.html", files->folder);
    char *out = out_of(command, text), *page = run_read(run_path(files, "page.html"));
    static const char *const parts[] = {
        "board-applies", "board-fulfilled",  "board-misleading",
        "board-weak",    "board-linked",     "places-applies",
        "places-linked", "none in the game", "does not show that they should have"};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (strstr(page, parts[i]) == NULL)
            fail_msg("the page lacks %s", parts[i]);
    assert_null(strstr(page, "nan"));
    assert_non_null(strstr(out, "\nnot rammed; black; linked; queenside"));
    assert_no_names(out);
    assert_no_names(page);
    free(out);
    free(page);
    free(text);
}

static void csv_has_a_line_for_each_number(void **state)
{
    (void)state;
    char *out = out_of("forecast --csv --quiet -", examples[0].pgn);
    assert_non_null(strstr(out, "table,row,column,value\n"));
    assert_non_null(strstr(out, "\nrows,firm/black/applies/queenside,Queenside,1\n"));
    assert_non_null(strstr(out, "\nrows,firm/black/applies/queenside,Named,1\n"));
    assert_non_null(strstr(out, "\nratings,firm/white/applies/kingside/no rating,None,1\n"));
    free(out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_rows_of_each_rule),
        cmocka_unit_test(rows_add_up),
        cmocka_unit_test(ratings_are_those_of_the_side),
        cmocka_unit_test(the_levers_that_are_there),
        cmocka_unit_test(an_opening_can_explain_all),
        cmocka_unit_test(within_openings_by_hand),
        cmocka_unit_test(a_direction_that_knows),
        cmocka_unit_test(log_loss_by_hand),
        cmocka_unit_test(even_shares),
        cmocka_unit_test(the_opening_ends_with_the_moment),
        cmocka_unit_test_setup_teardown(shares_add_up_to_the_whole, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(foreign_files_stay_as_they_are, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(a_damaged_store_is_refused, run_files_setup, run_files_teardown),
        cmocka_unit_test(broken_games_are_left_out),
        cmocka_unit_test(mistakes_are_one_line),
        cmocka_unit_test_setup_teardown(games_without_a_lock, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(the_page_shows_boards_and_bars, run_files_setup, run_files_teardown),
        cmocka_unit_test(csv_has_a_line_for_each_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
