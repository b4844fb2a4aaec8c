/* What the parts of the term are worth. What is right follows from how the results were drawn, and from closed forms;
 * statsmodels is asked by tests/reference/fit_worth.py. */
#include "tests/bench/harness.h"

#include "tests/bench/fit/worth_world.h"

#include <string.h>

#ifdef PAWNVANE_SLOW
enum { SETS = 8, REFITS = 20 };
#else
enum { SETS = 40, REFITS = 100 };
#endif

enum { WORLD_GAMES = 400 };

static FitWeights present_weights(void)
{
    return (FitWeights){default_weights, ps_default_weights};
}

static bool holds(const Worth *worth, double truth)
{
    return worth->known && worth->interval.low <= truth && truth <= worth->interval.high;
}

/* ------------------------------------------------------------------------------------------ closed forms */

/* One weight that counts once in each position, so many positions a game, all of one result: the likeliest value is
 * the scale times the logit of the share of games won, and its standard error by the delta method the scale over the root
 * of games * p * (1 - p), however many positions the games have (A. Agresti, "Categorical Data Analysis", 2002,
 * section 3.1.6, from memory). */
static void one_weight_has_a_closed_form(void **state)
{
    (void)state;
    enum { GAMES = 1000, WON = 700, LONGEST = 5 };
    static FitRow rows[GAMES * LONGEST];
    static uint32_t games[GAMES * LONGEST];
    FitSlope slopes[] = {{3, 1}};
    const FitWeights weights = present_weights();
    const WorthSettings settings = {.scale = 100, .prior = 30, .resamples = 4000, .seed = 3};
    for (int length = 1; length <= LONGEST; length += LONGEST - 1) {
        FitFeatures features = {.rows_count = (size_t)(GAMES * length), .rows = rows, .slopes = slopes};
        for (int i = 0; i < GAMES * length; i++) {
            rows[i] = (FitRow){.slopes = 1, .middlegame = 1, .result = i / length < WON ? 1.0F : 0.0F};
            games[i] = (uint32_t)(i / length) + 1;
        }
        FitWorth worth;
        assert_true(fit_worth(&worth, &features, games, &weights, &settings));
        const Worth *one = &worth.weights[3];
        double value = 100 * log(0.7 / 0.3), error = 100 / sqrt(GAMES * 0.7 * 0.3);
        assert_true(one->known && !worth.weights[2].known);
        assert_int_equal(one->games, GAMES);
        assert_int_equal(one->positions, GAMES * length);
        assert_true(fabs(one->value - value) < 1e-3);
        /* The standard deviation of 4,000 draws has an error of 1.1 %, their quantiles of about 3 %. */
        assert_true(fabs(one->error / error - 1) < 0.05);
        assert_true(fabs((value - one->interval.low) / (1.96 * error) - 1) < 0.1);
        assert_true(fabs((one->interval.high - value) / (1.96 * error) - 1) < 0.1);
        /* The term as it is counts base_lever[3] centipawns each time. */
        assert_true(fabs(worth.whole.value - 100 * value / weights.lever.base_lever[3]) < 0.05);
    }
}

/* A weight that few games show stays as it is, and so does what is asked of it. */
static void what_few_games_show_is_not_told(void **state)
{
    (void)state;
    enum { GAMES = 400 };
    static FitRow rows[GAMES];
    static uint32_t games[GAMES];
    FitSlope slopes[] = {{0, 1}, {1, 1}};
    const FitWeights weights = present_weights();
    FitFeatures features = {.rows_count = GAMES, .rows = rows, .slopes = slopes};
    FitWorth worth;
    for (int few = WORTH_GAMES_LEAST - 1; few <= WORTH_GAMES_LEAST; few++) {
        for (int i = 0; i < GAMES; i++) {
            rows[i] = (FitRow){.first_slope = i < few, .slopes = 1, .result = (float)(i % 3) / 2};
            games[i] = (uint32_t)i + 1;
        }
        assert_true(fit_worth(&worth, &features, games, &weights, &world_settings));
        assert_true(worth.weights[0].known);
        assert_true(worth.weights[1].known == (few == WORTH_GAMES_LEAST));
        assert_true(worth.steps[WORTH_BASE_PLAYED].known == (few == WORTH_GAMES_LEAST));
        assert_false(worth.steps[WORTH_BASE_DONE].known); /* no support anywhere */
        assert_int_equal(worth.weights[1].games, few);
    }
}

/* ------------------------------------------------------------------------------------------- known worth */

typedef struct Tally {
    int held[PS_WEIGHT_COUNT + WORTH_STEP_COUNT], sets;
} Tally;

#define AT(member) (offsetof(ps_weights, member) / sizeof(int))

static void tally_set(Tally *tally, const FitWorth *worth, const double truth[PS_WEIGHT_COUNT])
{
    const double *base = truth, *head = truth + PS_TEMPI_CLASSES;
    const double steps[WORTH_STEP_COUNT] = {
        [WORTH_BASE_PLAYED] = base[0] - base[1],
        [WORTH_BASE_DONE] = base[0] - base[1] + 3 * truth[AT(support)],
        [WORTH_HEAD_PLAYED] = head[0] - head[1],
        [WORTH_HEAD_DONE] = head[0] - head[1] + 3 * truth[AT(support)],
        [WORTH_BASE_USUAL] = base[1] + truth[AT(support)] * worth->usual[0] +
                             truth[AT(room)] * worth->usual[1] / 16 + truth[AT(piece)] * worth->usual[2],
    };
    for (size_t i = 0; i < PS_WEIGHT_COUNT; i++)
        tally->held[i] += holds(&worth->weights[i], i == AT(room) ? truth[i] / 16 : truth[i]);
    for (int i = 0; i < WORTH_STEP_COUNT; i++)
        tally->held[PS_WEIGHT_COUNT + i] += holds(&worth->steps[i], steps[i]);
    tally->sets++;
}

/* By the binomial distribution, an interval that holds the truth in 95 % holds it in fewer than 33 of 40 sets, or
 * than 4 of 8, once in 1,100 and once in 60,000 times. Errors that take positions for witnesses of their own do not. */
static void known_worth_is_within_its_interval(void **state)
{
    (void)state;
    const int least = SETS == 40 ? 33 : 4;
    const FitWeights weights = present_weights();
    WorthWorld world = worth_world(1, WORLD_GAMES);
    uint32_t *alone = malloc(world.features.rows_count * sizeof *alone);
    Tally by_game = {{0}, 0}, by_position = {{0}, 0};
    FitWorth worth, naive;
    assert_non_null(alone);
    for (size_t i = 0; i < world.features.rows_count; i++)
        alone[i] = (uint32_t)i + 1;
    for (uint64_t set = 1; set <= SETS; set++) {
        worth_world_draw(&world, set, world_settings.scale);
        assert_true(fit_worth(&worth, &world.features, world.games, &weights, &world_settings));
        tally_set(&by_game, &worth, &world.truth[FIT_LEVER]);
        if (set > SETS / 4)
            continue;
        assert_true(fit_worth(&naive, &world.features, alone, &weights, &world_settings));
        tally_set(&by_position, &naive, &world.truth[FIT_LEVER]);
    }
    int asked = 0, held = 0, held_by_position = 0;
    for (int i = 0; i < PS_WEIGHT_COUNT + WORTH_STEP_COUNT; i++) {
        const Worth *w = i < PS_WEIGHT_COUNT ? &worth.weights[i] : &worth.steps[i - PS_WEIGHT_COUNT];
        if (!w->known)
            continue;
        asked += SETS;
        held += by_game.held[i];
        held_by_position += by_position.held[i];
        if (by_game.held[i] < least)
            fail_msg("question %d: %d of %d intervals hold the truth", i, by_game.held[i], SETS);
    }
    int asked_by_position = asked / SETS * by_position.sets;
    print_message("%d of %d intervals hold the truth; by position %d of %d\n", held, asked, held_by_position,
                  asked_by_position);
    assert_true(asked >= 10 * SETS);
    assert_true(held_by_position < 0.85 * asked_by_position);
    free(alone);
    worth_world_free(&world);
}

/* Games drawn with replacement, each as a game of its own. */
static void draw_games(const WorthWorld *world, FitFeatures *drawn, uint32_t *games, Random *random)
{
    size_t first[WORLD_GAMES + 2] = {0};
    for (size_t i = world->features.rows_count; i-- > 0;)
        first[world->games[i]] = i;
    first[WORLD_GAMES + 1] = world->features.rows_count;
    drawn->rows_count = 0;
    for (uint32_t k = 1; k <= WORLD_GAMES; k++) {
        size_t game = 1 + (size_t)random_below(random, WORLD_GAMES);
        for (size_t i = first[game]; i < first[game + 1]; i++) {
            games[drawn->rows_count] = k;
            drawn->rows[drawn->rows_count++] = world->features.rows[i];
        }
    }
}

/* One step instead of a fit makes the same errors: those of as many fits as there are resamples. */
static void one_step_is_as_good_as_a_fit(void **state)
{
    (void)state;
    const FitWeights weights = present_weights();
    WorthWorld world = worth_world(2, WORLD_GAMES);
    WorthSettings quick = world_settings;
    FitFeatures drawn = world.features;
    FitWorth worth, refitted;
    static double sums[PS_WEIGHT_COUNT], squares[PS_WEIGHT_COUNT];
    Random random = random_seeded(5);
    quick.resamples = 2;
    worth_world_draw(&world, 1, world_settings.scale);
    assert_true(fit_worth(&worth, &world.features, world.games, &weights, &world_settings));
    drawn.rows = malloc((size_t)WORLD_GAMES * WORLD_PLIES * sizeof *drawn.rows);
    uint32_t *games = malloc((size_t)WORLD_GAMES * WORLD_PLIES * sizeof *games);
    assert_true(drawn.rows && games);
    for (int i = 0; i < REFITS; i++) {
        draw_games(&world, &drawn, games, &random);
        assert_true(fit_worth(&refitted, &drawn, games, &weights, &quick));
        for (int k = 0; k < PS_WEIGHT_COUNT; k++) {
            double off = refitted.weights[k].value - worth.weights[k].value;
            sums[k] += off;
            squares[k] += off * off;
        }
    }
    int compared = 0;
    double mean_ratio = 0;
    for (int k = 0; k < PS_WEIGHT_COUNT; k++) {
        if (!worth.weights[k].known || worth.weights[k].games < 2 * WORTH_GAMES_LEAST)
            continue;
        double error = sqrt((squares[k] - sums[k] * sums[k] / REFITS) / (REFITS - 1));
        double ratio = worth.weights[k].error / error;
        compared++;
        mean_ratio += ratio;
        /* The error of an error of so many refits is one over the root of twice their number. */
        if (!(fabs(ratio - 1) < 0.05 + 4 / sqrt(2.0 * REFITS)))
            fail_msg("weight %d: error %.2f in one step, %.2f by refits", k, worth.weights[k].error, error);
    }
    print_message("errors in one step are %.3f of those by %d refits, over %d weights\n",
                  mean_ratio / compared, REFITS, compared);
    assert_true(compared >= 5);
    free(drawn.rows);
    free(games);
    worth_world_free(&world);
}

/* White's games told from Black's side say the same. */
static void colours_do_not_matter(void **state)
{
    (void)state;
    const FitWeights weights = present_weights();
    WorthWorld world = worth_world(3, WORLD_GAMES), other = worth_world(3, 0);
    FitWorth worth, mirrored;
    double centre[FIT_DIMENSION];
    worth_world_draw(&world, 1, world_settings.scale);
    for (size_t i = 0; i < world.sample.count; i++) {
        FitPosition position = world.sample.positions[i];
        position.position = playout_mirror(&position.position);
        position.root = playout_mirror(&position.root);
        assert_true(fit_sample_add(&other.sample, &position));
    }
    fit_to_vector(&weights, centre);
    assert_true(fit_features_extract(&other.features, &other.sample, &weights.eval.units, 1));
    assert_true(fit_features_linearise(&other.features, &other.sample, &centre[FIT_LEVER]));
    keep_few_counts(&other.features);
    for (size_t i = 0; i < other.features.rows_count; i++)
        other.features.rows[i].result = 1 - world.features.rows[i].result;
    assert_true(fit_worth(&worth, &world.features, world.games, &weights, &world_settings));
    assert_true(fit_worth(&mirrored, &other.features, world.games, &weights, &world_settings));
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        assert_int_equal(worth.weights[i].known, mirrored.weights[i].known);
        if (worth.weights[i].known) {
            assert_true(fabs(worth.weights[i].value - mirrored.weights[i].value) < 1e-3);
            assert_true(fabs(worth.weights[i].error - mirrored.weights[i].error) < 1e-3);
        }
    }
    worth_world_free(&world);
    worth_world_free(&other);
}

/* ------------------------------------------------------------------------------------------ the command */

/* The opening of a closed defence, as in any primer, and what White wins by it is made up. */
static const char game_text[] =
    "1. e4 e6 2. d4 d5 3. e5 c5 4. c3 Nc6 5. Nf3 Qb6 6. a3 Bd7 7. b4 cxd4 8. cxd4 Rc8 9. Be3 Nge7 "
    "10. Nc3 Nf5 11. Na4 Qd8 12. Nc5 Nxe3 13. fxe3 Be7";

static char *games_of(int count)
{
    static const char *const results[] = {"1-0", "1/2-1/2", "0-1"}, *const ends[] = {
                                                                        "", " 14. Bd3 a6",
                                                                        " 14. Be2 O-O 15. O-O f6"};
    char *text = calloc((size_t)count, 600);
    assert_non_null(text);
    for (int i = 0; i < count; i++) {
        char game[600];
        snprintf(game, sizeof game, "[Event \"?\"]\n[Result \"%s\"]\n\n%s%s %s\n\n", results[i * 7 % 5 % 3],
                 game_text, ends[i % 3], results[i * 7 % 5 % 3]);
        strcat(text, game);
    }
    return text;
}

/* The same game is there once for each result and end. */
static void games_in_pgn_become_a_sample(void **state)
{
    (void)state;
    char path[64], arguments[256];
    harness_temporary_path(path);
    char *games = games_of(45);
    snprintf(arguments, sizeof arguments, "fit --pgn - --sample %s --steps 4 --quiet", path);
    HarnessRun run = harness_run(arguments, games);
    assert_non_null(strstr(run.err, "of 0 games to fit") ? run.err : strstr(run.err, "to hold out"));
    harness_free(&run);
    FitSample sample = {0};
    assert_true(fit_sample_read(&sample, path));
    size_t rooted = 0;
    for (size_t i = 0; i < sample.count; i++) {
        const FitPosition *p = &sample.positions[i];
        int ply = 2 * (p->position.fullmove - 1) + position_turn(&p->position);
        assert_int_equal(p->score, NO_FIT_SCORE);
        assert_true(p->root.key != p->position.key);
        rooted += ply - 2 * (p->root.fullmove - 1) > 0;
    }
    assert_true(sample.count > 45 * 8 && rooted > 0);
    fit_sample_free(&sample);
    /* Fifteen different ones are too few to say anything of. */
    snprintf(arguments, sizeof arguments, "fit --sample %s --worth --json --quiet", path);
    run = harness_run(arguments, "");
    assert_int_equal(run.status, 0);
    assert_non_null(
        strstr(run.out, "\"weight\":\"base_lever[0]\",\"unit\":\"cp\",\"engine\":60,\"measured\":null"));
    harness_free(&run);
    free(games);
    remove(path);
}

static void bad_questions_are_refused(void **state)
{
    (void)state;
    assert_refused("fit --pgn - --games 10", "", 2, "--games and --pgn exclude each other");
    assert_refused("fit --sample - --json", "", 2, "expected --worth with them");
    assert_refused("fit --sample - --worth --json --csv", "", 2, "--json and --csv exclude each other");
    assert_refused("fit --sample - --worth --units 1", "", 2, "expected it without --write");
    assert_refused("fit --sample - --worth --blend 0.5", "", 2, "expected it without --write");
    assert_refused("fit --sample - --worth --resamples 99", "", 2, "--resamples is \"99\"; expected");
    assert_refused("fit --sample - --worth", "", 1, "the sample has no positions");
    assert_refused("fit --pgn - --worth", "", 1, "there is no game with a result");
    assert_refused("fit --pgn - --worth", "1. e4 e5 *\n", 1, "there is no game with a result");
    assert_refused("fit --pgn /nonexistent/games.pgn", "", 1, "/nonexistent/games.pgn");
    assert_refused("fit --sample -", "4k3/8/8/8/8/8/4P3/4K3 w - - c7 \"4k3/9\"; c8 \"1\"; c9 \"1-0\";\n", 1,
                   "standard input:1: c7 is \"4k3/9\", not a position earlier in the game: ");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_weight_has_a_closed_form),
        cmocka_unit_test(what_few_games_show_is_not_told),
        cmocka_unit_test(known_worth_is_within_its_interval),
        cmocka_unit_test(one_step_is_as_good_as_a_fit),
        cmocka_unit_test(colours_do_not_matter),
        cmocka_unit_test(games_in_pgn_become_a_sample),
        cmocka_unit_test(bad_questions_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
