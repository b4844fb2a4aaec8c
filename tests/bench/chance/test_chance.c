/* The chance that a move raises alpha: the search that samples moves, and the fit. What a right fit is follows from the
 * method (logistic regression with a normal prior: D. Hosmer, S. Lemeshow, Applied Logistic Regression, chapter 1, from
 * memory): tables that are known because the outcomes were drawn from them, and a loss that is least. */
#include "tests/bench/harness.h"

#include "bench/base/random.h"
#include "bench/chance/chance_output.h"
#include "bench/chance/chance_play.h"
#include "bench/chance/chance_sampling.h"
#include "tests/engine/rules/playout.h"

#include <math.h>

#ifdef PAWNVANE_SLOW
enum { RECOVERED_MOVES = 50000, LEAST_MOVES = 4000 };
#else
enum { RECOVERED_MOVES = 200000, LEAST_MOVES = 20000 };
#endif

/* --------------------------------------------------------------------------------------------- made-up samples */

static const ChanceLookup behind[] = {CHANCE_BY_NUMBER, CHANCE_BY_HISTORY, CHANCE_BY_SQUARES, CHANCE_BY_SORT,
                                      CHANCE_BY_GAP_BEHIND},
                          before[] = {CHANCE_BY_NUMBER, CHANCE_BY_HISTORY, CHANCE_BY_SQUARES, CHANCE_BY_SORT,
                                      CHANCE_BY_GAP_BEFORE};

enum { TERMS = sizeof behind / sizeof *behind };

static int drawn(Random *random, int least, int greatest)
{
    return least + (int)random_below(random, (uint64_t)(greatest - least) + 1);
}

static int16_t drawn_gap(Random *random)
{
    return (int16_t)(random_below(random, 12) ? drawn(random, -500, 1000) : CHANCE_NO_GAP);
}

static ChanceMove drawn_move(Random *random)
{
    ChanceMove m = {.depth = (uint8_t)drawn(random, 1, 12),
                    .number = (uint8_t)drawn(random, 2, 40),
                    .sort = (uint8_t)drawn(random, 0, SORT_COUNT - 1),
                    .gives_check = random_below(random, 3) == 0,
                    .origin = (uint8_t)drawn(random, 0, ORIGIN_COUNT - 1),
                    .goal = (uint8_t)drawn(random, 0, GOAL_COUNT - 1),
                    .history = drawn(random, -20000, 20000)};
    m.gap_before = drawn_gap(random);
    m.gap_behind = drawn_gap(random);
    return m;
}

/* In units of log-odds. */
static double sum_of(const ChanceTables *tables, const ChanceMove *move, const ChanceLookup terms[TERMS])
{
    int cells[CHANCE_LOOKUPS];
    int sum = tables->any;
    chance_cells(move, cells);
    for (int t = 0; t < TERMS; t++)
        sum += ((const int16_t *)tables)[cells[terms[t]]];
    return sum / 100.0;
}

static ChanceTables drawn_tables(uint64_t seed)
{
    Random random = random_seeded(seed);
    ChanceTables tables;
    for (int i = 0; i < CHANCE_CELLS; i++)
        ((int16_t *)&tables)[i] = (int16_t)drawn(&random, -80, 80);
    return tables;
}

/* Moves of a hundred games whose outcomes are drawn from tables, by the gap behind them. */
static ChanceSample drawn_sample(const ChanceTables *tables, size_t count, uint64_t seed)
{
    ChanceSample sample = {0};
    Random random = random_seeded(seed);
    for (size_t i = 0; i < count; i++) {
        SampledMove s = {.move = drawn_move(&random), .game = (uint32_t)(i * 100 / count) + 1};
        s.raised = random_unit(&random) < 1 / (1 + exp(-sum_of(tables, &s.move, behind)));
        assert_true(chance_sample_add(&sample, &s, 1));
    }
    return sample;
}

/* ------------------------------------------------------------------------------------------------ the fit */

/* Of two tables that have the same sums each is as good: constants can wander from one to another. So sums are
 * compared, of moves that the fit has not seen. With n moves and 195 cells the mean square of the error is about
 * 195 / (n p (1 - p)), and p (1 - p) is 0.2 or a little less. */
static void known_tables_are_recovered(void **state)
{
    (void)state;
    const ChanceTables truth = drawn_tables(1);
    ChanceTables fitted = chance_tables;
    ChanceSample sample = drawn_sample(&truth, RECOVERED_MOVES, 2);
    ChanceReport report;
    Random random = random_seeded(3);
    double square = 0;
    enum { TRIED = 2000 };
    assert_true(chance_fit(&fitted, &sample, &report));
    for (int i = 0; i < TRIED; i++) {
        ChanceMove move = drawn_move(&random);
        square += pow(sum_of(&fitted, &move, behind) - sum_of(&truth, &move, behind), 2) / TRIED;
    }
    double expected = 195 / (0.8 * RECOVERED_MOVES * 0.2);
    print_message("mean square error %.5f, expected about %.5f\n", square, expected);
    assert_true(square < 2 * expected && square > expected / 2);
    assert_true(report.change[SUM_BEHIND].interval.high < 0);
    assert_true(report.held_out.after[SUM_BEHIND] < report.held_out.before[SUM_BEHIND]);
    assert_int_equal(report.unseen, 0);
    chance_sample_free(&sample);
}

static double loss_at(double log_odds, bool raised)
{
    return raised ? log1p(exp(-log_odds)) : log1p(exp(log_odds));
}

/* By how much the penalised loss rises when one cell is moved. */
static double rise(const ChanceTables *tables, const ChanceSample *sample, const ChanceLookup terms[TERMS],
                   int cell, int step)
{
    double worth = ((const int16_t *)tables)[cell] / 100.0, moved = worth + step / 100.0;
    double change = moved * moved - worth * worth; /* precision 2, halved */
    for (size_t i = 0; i < sample->count; i++) {
        const SampledMove *s = &sample->moves[i];
        int cells[CHANCE_LOOKUPS];
        bool here = false;
        if (s->game % 5 == 0)
            continue;
        chance_cells(&s->move, cells);
        for (int t = 0; t < TERMS; t++)
            here |= cells[terms[t]] == cell;
        double at = here ? sum_of(tables, &s->move, terms) : 0;
        if (here)
            change += loss_at(at + step / 100.0, s->raised) - loss_at(at, s->raised);
    }
    return change;
}

static bool is_before(int cell)
{
    int first = (int)(offsetof(ChanceTables, by_gap_before) / sizeof(int16_t));
    return cell >= first && cell < first + CHANCE_GAP_DEPTHS * CHANCE_GAPS;
}

/* A few hundredths further, where rounding is outdone, the loss is greater whichever way a cell goes. */
static void no_cell_could_stand_better(void **state)
{
    (void)state;
    enum { STEP = 5 };
    const ChanceTables truth = drawn_tables(4);
    ChanceTables fitted = chance_tables;
    ChanceSample sample = drawn_sample(&truth, LEAST_MOVES, 5);
    ChanceReport report;
    assert_true(chance_fit(&fitted, &sample, &report));
    for (int cell = 1; cell < CHANCE_CELLS; cell++) {
        const ChanceLookup *terms = is_before(cell) ? before : behind;
        if (rise(&fitted, &sample, terms, cell, STEP) <= 0 || rise(&fitted, &sample, terms, cell, -STEP) <= 0)
            fail_msg("cell %d stands at %d and could stand better", cell, ((int16_t *)&fitted)[cell]);
    }
    chance_sample_free(&sample);
}

/* If all moves are alike, nothing is left for the tables but the chance of any move. */
static void moves_that_are_alike_have_a_closed_form(void **state)
{
    (void)state;
    ChanceSample sample = {0};
    ChanceTables fitted = chance_tables;
    ChanceReport report;
    for (uint32_t i = 0; i < 1000; i++) {
        SampledMove s = {.move = {.depth = 3, .number = 4}, .game = i % 5 + 1, .raised = i < 200};
        assert_true(chance_sample_add(&sample, &s, 1));
    }
    assert_true(chance_fit(&fitted, &sample, &report));
    assert_int_equal(fitted.any, lround(100 * log(0.2 / 0.8)));
    for (int cell = 1; cell < CHANCE_CELLS; cell++)
        assert_int_equal(((int16_t *)&fitted)[cell], 0);
    assert_int_equal(report.unseen, CHANCE_CELLS - 1 - CHANCE_LOOKUPS);
    assert_int_equal(report.fitted.games, 4);
    assert_int_equal(report.held_out.games, 1);
    assert_int_equal(report.fitted.moves, 800);
    assert_int_equal(report.fitted.raised, 160);
    double entropy = -(0.2 * log(0.2) + 0.8 * log(0.8));
    assert_true(fabs(report.fitted.after[SUM_BEHIND] - entropy) < 1e-5);
    assert_true(fabs(report.held_out.after[SUM_BEFORE] - entropy) < 1e-5);
    assert_true(isnan(report.change[SUM_BEHIND].error));
    chance_sample_free(&sample);
}

/* Nothing is learned from the games held out, and their loss is what is said of them. */
static void a_fifth_of_the_games_is_held_out(void **state)
{
    (void)state;
    const ChanceTables truth = drawn_tables(6);
    ChanceTables first = chance_tables, second = chance_tables;
    ChanceSample sample = drawn_sample(&truth, LEAST_MOVES, 7);
    ChanceReport report, other;
    assert_true(chance_fit(&first, &sample, &report));
    double loss[2] = {0, 0};
    size_t count = 0;
    for (size_t i = 0; i < sample.count; i++) {
        SampledMove *s = &sample.moves[i];
        if (s->game % 5)
            continue;
        loss[0] += loss_at(sum_of(&chance_tables, &s->move, behind), s->raised);
        loss[1] += loss_at(sum_of(&first, &s->move, behind), s->raised);
        count++;
        s->raised = !s->raised;
    }
    assert_int_equal(report.held_out.moves, count);
    assert_true(fabs(report.held_out.before[SUM_BEHIND] - loss[0] / (double)count) < 1e-9);
    assert_true(fabs(report.held_out.after[SUM_BEHIND] - loss[1] / (double)count) < 1e-9);
    assert_true(fabs(report.change[SUM_BEHIND].mean - (loss[1] - loss[0]) / (double)count) < 1e-9);
    assert_true(report.change[SUM_BEHIND].error > 0);
    assert_true(chance_fit(&second, &sample, &other));
    assert_memory_equal(&first, &second, sizeof first);
    assert_true(other.held_out.after[SUM_BEHIND] > report.held_out.after[SUM_BEHIND]);
    chance_sample_free(&sample);
}

/* --------------------------------------------------------------------------------------------- the search */

static const char *const middlegame = "r1bq1rk1/ppp1npbp/3p1np1/3Pp3/2P1P3/2N2N2/PP2BPPP/R1BQ1RK1 w - - 0 9";

/* The nodes of a search to a depth, with a sampler or without. */
static SearchResult search(const Parameters *parameters, int depth, ChanceSample *sample)
{
    Player *player = player_new(4);
    MoveSampler sampler = {.sample = sample, .game = 1};
    Position p = playout_read(middlegame, false);
    Game game;
    SearchResult result;
    assert_non_null(player);
    player_settings(player)->parameters = *parameters;
    if (sample)
        move_sampler_attach(&sampler, player);
    assert_true(game_start(&game, &p));
    player_think(player, &game, &(SearchLimits){.depth = depth}, NULL, &result);
    assert_false(sampler.failed);
    game_free(&game);
    player_free(player);
    return result;
}

/* All but what is named is searched, and to its depth; who expects a cut-off makes no difference. */
static Parameters leaving_out(bool skips, bool drops, bool reduces)
{
    Parameters p = default_parameters;
    p.internal_reduction = p.singular_less = p.reduction_cut = p.reduction_pv = 0;
    p.exchange_capture = 1000;
    if (!skips)
        p.skip_line = 4000;
    if (!drops)
        p.drop_line = 4000;
    if (!reduces)
        p.reduction_root = p.reduction_chance = 0;
    return p;
}

/* If nothing is left out anyway, the search that samples is the plain search, node for node; each thing that is left out
 * or reduced elsewhere makes it another. */
static void sampled_nodes_leave_nothing_out(void **state)
{
    (void)state;
    enum { DEPTH = 9 };
    static const bool cases[][3] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const Parameters parameters = leaving_out(cases[i][0], cases[i][1], cases[i][2]);
        ChanceSample sample = {0};
        SearchResult plain = search(&parameters, DEPTH, NULL), sampled = search(&parameters, DEPTH, &sample);
        print_message("%zu: %llu nodes, sampled %llu, %zu moves\n", i, (unsigned long long)plain.nodes,
                      (unsigned long long)sampled.nodes, sample.count);
        assert_true(sample.count > 100);
        if (i == 0) {
            assert_int_equal(plain.nodes, sampled.nodes);
            assert_int_equal(plain.best, sampled.best);
            assert_int_equal(plain.line.score, sampled.line.score);
        } else {
            assert_int_not_equal(plain.nodes, sampled.nodes);
        }
        chance_sample_free(&sample);
    }
}

/* Of each node all moves are there, but the first, up to one that cut off: behind a number stands the one before. Nodes
 * may have others in them, which are then complete. */
static void moves_of_a_node_come_one_after_another(void **state)
{
    (void)state;
    enum { DEPTH = 12, NEST_MAX = 256, SHALLOW = 3 }; /* at greater depths a raise takes a ply off */
    ChanceSample sample = {0};
    int nest[NEST_MAX][2], top = 0;
    size_t raised = 0, seen[SORT_COUNT] = {0}, origins[ORIGIN_COUNT] = {0}, goals[GOAL_COUNT] = {0};
    search(&default_parameters, DEPTH, &sample);
    for (size_t i = 0; i < sample.count; i++) {
        const ChanceMove *m = &sample.moves[i].move;
        raised += sample.moves[i].raised;
        seen[m->sort]++;
        origins[m->origin]++;
        goals[m->goal]++;
        if (m->depth > SHALLOW)
            continue;
        while (m->number > 2 && top > 0 &&
               (nest[top - 1][0] != m->depth || nest[top - 1][1] != m->number - 1))
            top--;
        if (m->number > 2 && top == 0)
            fail_msg("move %zu of the sample has number %d, and none before it", i, m->number);
        top -= m->number > 2;
        assert_true(top < NEST_MAX);
        nest[top][0] = m->depth;
        nest[top++][1] = m->number;
    }
    print_message("%zu moves, %zu raised alpha\n", sample.count, raised);
    assert_true(raised > 0 && raised < sample.count / 10);
    for (int i = 0; i < SORT_COUNT; i++)
        assert_true(seen[i] > 0);
    for (int i = 0; i < ORIGIN_COUNT; i++)
        assert_true(origins[i] > 0);
    for (int i = 0; i < GOAL_COUNT; i++)
        assert_true(goals[i] > 0);
    chance_sample_free(&sample);
}

/* ------------------------------------------------------------------------------------------------ the files */

static void assert_same_move(const SampledMove *a, const SampledMove *b, uint32_t games_before)
{
    int cells[2][CHANCE_LOOKUPS];
    assert_int_equal(a->game + games_before, b->game);
    assert_int_equal(a->raised, b->raised);
    assert_int_equal(a->move.history, b->move.history);
    assert_int_equal(a->move.gap_before, b->move.gap_before);
    assert_int_equal(a->move.gap_behind, b->move.gap_behind);
    assert_int_equal(a->move.depth, b->move.depth);
    assert_int_equal(a->move.number, b->move.number);
    chance_cells(&a->move, cells[0]);
    chance_cells(&b->move, cells[1]);
    assert_memory_equal(cells[0], cells[1], sizeof *cells);
}

static void a_sample_is_read_as_it_was_written(void **state)
{
    (void)state;
    char path[64];
    ChanceSample sample = drawn_sample(&chance_tables, 2000, 8), read = {0};
    harness_temporary_path(path);
    sample.count -= 30; /* 99 games */
    snprintf(sample.origin, sizeof sample.origin, "a command");
    assert_true(chance_sample_write(&sample, path));
    assert_true(chance_sample_read(&read, path));
    assert_string_equal(read.origin, "a command");
    assert_int_equal(read.count, sample.count);
    for (size_t i = 0; i < sample.count; i++)
        assert_same_move(&sample.moves[i], &read.moves[i], 0);
    /* The games of a second file are other games, and the same ones are held out. */
    assert_true(chance_sample_read(&read, path));
    assert_string_equal(read.origin, "a command + a command");
    assert_int_equal(read.count, 2 * sample.count);
    for (size_t i = 0; i < sample.count; i++) {
        const SampledMove *second = &read.moves[sample.count + i];
        assert_same_move(&sample.moves[i], second, 100);
        assert_int_equal(chance_held_out(sample.moves[i].game), chance_held_out(second->game));
    }
    remove(path);
    chance_sample_free(&sample);
    chance_sample_free(&read);
}

#define MOVE "1 0 3 12 0 0 0 1 -3120 85 32000\n"

static void bad_lines_are_refused(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"0 0 3 12 0 0 0 1 0 0 0\n",
         "standard input:1: game is \"0\"; expected a whole number from 1 to 10000000"},
        {"# fine\n\n" MOVE "1 2 3 12 0 0 0 1 0 0 0\n",
         "standard input:4: raised is \"2\"; expected a whole number from 0"},
        {"1 0 0 12 0 0 0 1 0 0 0\n", "standard input:1: depth is \"0\"; expected"},
        {"1 0 3 1 0 0 0 1 0 0 0\n", "standard input:1: number is \"1\"; expected a whole number from 2"},
        {"1 0 3 12 6 0 0 1 0 0 0\n", "standard input:1: sort is \"6\"; expected a whole number from 0 to 5"},
        {"1 0 3 12 0 x 0 1 0 0 0\n", "standard input:1: gives_check is \"x\"; expected"},
        {"1 0 3 12 0 0 3 1 0 0 0\n",
         "standard input:1: origin is \"3\"; expected a whole number from 0 to 2"},
        {"1 0 3 12 0 0 0 5 0 0 0\n", "standard input:1: goal is \"5\"; expected a whole number from 0 to 4"},
        {"1 0 3 12 0 0 0 1 99999999999999999999 0 0\n", "standard input:1: history is"},
        {"1 0 3 12 0 0 0 1 0 32001 0\n", "standard input:1: gap_before is \"32001\"; expected"},
        {"1 0 3 12 0 0 0 1 0 0\n", "standard input:1: gap_behind is missing; expected a whole number"},
        {"1 0 3 12 0 0 0 1 0 0 0 7\n", "standard input:1: \"7\" is one number too many; expected 11"},
        {"", "the sample has moves of 0 games to fit and of 0 to hold out; expected both"},
        {MOVE, "the sample has moves of 1 games to fit and of 0 to hold out; expected both"},
        {MOVE "5 1 3 12 0 0 0 1 0 0 0\n", "of 1 moves to fit 0 raised alpha; expected some"},
        {"1 1 3 12 0 0 0 1 0 0 0\n5 1 3 12 0 0 0 1 0 0 0\n",
         "of 1 moves to fit 1 raised alpha; expected some"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_refused("chance --sample -", cases[i][0], 1, cases[i][1]);
    assert_refused("chance --sample /nonexistent/moves.txt", "", 1,
                   "/nonexistent/moves.txt: cannot be opened");
    assert_refused("chance", "", 2, "expected --games N to play for one or --sample FILE to read one");
    assert_refused("chance --sample - --openings x.epd", "", 2, "expected --games N with it");
    assert_refused("chance --games 3", "", 2, "--games is \"3\"; expected a whole number from 5");
    assert_refused("chance --games 5 more", "", 2, "\"more\" is one argument too many");
    assert_refused("chance --games 1000 --openings bench/positions/scenario.epd", "", 1,
                   "openings for 1000 games");
}

/* So that the command can write it anew. */
static void the_shipped_tables_are_written_as_they_stand(void **state)
{
    (void)state;
    char path[64];
    const ChanceReport report = {0};
    harness_temporary_path(path);
    assert_true(
        chance_write(path, &chance_tables, &report, "a command */ with an end of comment", "another"));
    char *written = harness_read_file(path), *shipped = harness_read_file("engine/search/chance_tables.c");
    assert_string_equal(strstr(written, "#include"), strstr(shipped, "#include"));
    assert_memory_equal(written, shipped, strlen("/* clang-format off */\n/* Tuned: "));
    /* The comment ends where it should. */
    assert_ptr_equal(strstr(strstr(written, "a command"), "*/"),
                     strstr(written, "*/\n#include \"engine/search/chance_tables.h\"\n"));
    free(written);
    free(shipped);
    remove(path);
}

/* Each cell is written, in its place. */
static void all_tables_are_written(void **state)
{
    (void)state;
    char path[64];
    const ChanceReport report = {0};
    const ChanceTables tables = drawn_tables(9);
    harness_temporary_path(path);
    assert_true(chance_write(path, &tables, &report, "a command", ""));
    char *text = harness_read_file(path), *at = strstr(text, "ChanceTables chance_tables");
    for (int i = 0; i < CHANCE_CELLS; i++) {
        at += strcspn(at, "-0123456789");
        assert_int_equal(strtol(at, &at, 10), ((const int16_t *)&tables)[i]);
    }
    assert_string_equal(at, "},\n    },\n};\n");
    assert_null(strstr(text, "on the sample of"));
    free(text);
    remove(path);
}

/* The whole of it, as a user would: games, sample, fit, file; and again from the sample, with other workers. */
static void games_become_tables(void **state)
{
    (void)state;
    char sample[64], twin[64], tables[64], again[64], arguments[512];
    harness_temporary_path(sample);
    harness_temporary_path(twin);
    harness_temporary_path(tables);
    harness_temporary_path(again);
    snprintf(arguments, sizeof arguments,
             "chance --games 10 --nodes 200 --seed 3 --workers 2 --sample %s --write %s", sample, tables);
    HarnessRun first = harness_run(arguments, "");
    assert_int_equal(first.status, 0);
    assert_string_equal(first.err, "");
    assert_non_null(strstr(first.out, "of 8 games, "));
    assert_non_null(strstr(first.out, "of 2 games, "));
    snprintf(arguments, sizeof arguments, "chance --games 10 --nodes 200 --seed 3 --workers 1 --sample %s",
             twin);
    HarnessRun second = harness_run(arguments, "");
    assert_string_equal(first.out, second.out);
    harness_free(&second);
    snprintf(arguments, sizeof arguments, "chance --sample %s --write %s", sample, again);
    second = harness_run(arguments, "");
    assert_int_equal(second.status, 0);
    assert_string_equal(first.out, second.out);
    char *a = harness_read_file(tables), *b = harness_read_file(again), *moves = harness_read_file(sample),
         *others = harness_read_file(twin);
    assert_string_equal(strchr(moves, '\n'), strchr(others, '\n'));
    assert_string_equal(strstr(a, "#include"), strstr(b, "#include"));
    assert_non_null(strstr(b, "on the sample of\n *     pawnvane-bench chance --games 10 --nodes 200"));
    assert_null(strstr(a, "on the sample of"));
    free(a);
    free(b);
    free(moves);
    free(others);
    /* One that fails leaves what was there. */
    snprintf(arguments, sizeof arguments, "chance --sample - --write %s", again);
    assert_refused(arguments, "1 0\n", 1, "depth is missing");
    b = harness_read_file(again);
    assert_non_null(strstr(b, "ChanceTables chance_tables"));
    free(b);
    harness_free(&first);
    harness_free(&second);
    remove(sample);
    remove(twin);
    remove(tables);
    remove(again);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_tables_are_recovered),
        cmocka_unit_test(no_cell_could_stand_better),
        cmocka_unit_test(moves_that_are_alike_have_a_closed_form),
        cmocka_unit_test(a_fifth_of_the_games_is_held_out),
        cmocka_unit_test(sampled_nodes_leave_nothing_out),
        cmocka_unit_test(moves_of_a_node_come_one_after_another),
        cmocka_unit_test(a_sample_is_read_as_it_was_written),
        cmocka_unit_test(bad_lines_are_refused),
        cmocka_unit_test(the_shipped_tables_are_written_as_they_stand),
        cmocka_unit_test(all_tables_are_written),
        cmocka_unit_test(games_become_tables),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
