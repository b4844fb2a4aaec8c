/* The contrast of searches with the lever term and without it. */
#include "bench/contrast/contrast.h"
#include "bench/contrast/contrast_summary.h"
#include "tests/bench/harness.h"
#include "tests/statistics/contrast_worlds.h"

#include <cjson/cJSON.h>
#include <math.h>

/* Number 3 of the Bratko-Kopec test (D. Kopec, I. Bratko, Advances in Computer Chess 3, 1982): the side to
 * move has a firm locked pair whose base lever f5 is the published move. */
static const char number_3[] =
    "2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - - bm f5; id \"three\";";
/* Number 1: a mate in three that any search of some depth finds. */
static const char number_1[] = "1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - bm Qd1+; id \"one\";";

static ContrastTask read_task(const char *line)
{
    EpdRecord record;
    ContrastTask task;
    char error[EPD_ERROR_SIZE];
    assert_true(epd_parse(line, &record, error));
    assert_true(contrast_read_task(&record, &task, error));
    epd_free(&record);
    return task;
}

static ContrastResult run_task(const char *line, int weight, uint64_t nodes)
{
    ContrastTask task = read_task(line);
    ContrastPlan plan = {.limits = {.nodes = nodes}, .weight = weight, .rule = PS_STRICT};
    ContrastResult result;
    Player *player = player_new(4);
    assert_non_null(player);
    assert_true(contrast_run(player, &plan, &task, &result));
    player_free(player);
    return result;
}

static void classes_are_those_of_the_side_to_move(void **state)
{
    (void)state;
    ContrastResult three = run_task(number_3, 100, 2000), one = run_task(number_1, 100, 2000);
    assert_int_equal(three.verdict, PS_APPLIES);
    assert_true(three.has_grade);
    assert_int_equal(three.grade, PS_FIRM);
    assert_int_equal(one.verdict, PS_NONE);
    assert_false(one.has_grade);
}

/* Number 3 is one push away from its lever, number 1 has none, and one that stands on its square is played already. */
static void the_named_lever_is_a_push(void **state)
{
    (void)state;
    static const char played[] = "4k3/pp3ppp/4p3/2ppP3/3P4/8/PPP2PPP/4K3 b - - id \"played\";";
    static const char pinned[] = "4k3/5p2/4p3/b2pP3/3P1P2/2P5/8/4K3 w - - id \"check\";";
    ContrastTask three = read_task(number_3);
    assert_int_equal(run_task(number_3, 100, 100).lever, three.best.moves[0]);
    assert_int_equal(run_task(number_1, 100, 100).lever, NO_MOVE);
    assert_int_equal(run_task(played, 100, 100).lever, NO_MOVE);
    assert_int_equal(run_task(pinned, 100, 100).lever, move_make(F4, F5, PLAIN));
    ContrastResult heavy = run_task(number_3, 1000, 1500);
    for (int arm = 0; arm < ARM_COUNT; arm++)
        assert_int_equal(heavy.choice[arm].plays_lever, heavy.choice[arm].move == heavy.lever);
}

static void both_arms_solve_the_mate(void **state)
{
    (void)state;
    ContrastResult one = run_task(number_1, 100, 60000);
    for (int arm = 0; arm < ARM_COUNT; arm++) {
        assert_true(one.choice[arm].solved);
        assert_int_equal(one.choice[arm].score, SCORE_MATE - 5);
        assert_true(one.choice[arm].nodes <= 60000);
        assert_true(one.choice[arm].nodes_to_choice <= one.choice[arm].nodes);
    }
    assert_false(one.changed);
    assert_int_equal(one.judged.gain[TERM_OFF], 0);
}

/* With weight 0 the two arms are the same engine, so whatever differs would leak from one search
 * to the next. */
static void arms_of_equal_weight_agree_in_everything(void **state)
{
    (void)state;
    ContrastResult r = run_task(number_3, 0, 30000);
    assert_false(r.changed);
    assert_int_equal(r.choice[TERM_OFF].score, r.choice[TERM_ON].score);
    assert_int_equal(r.choice[TERM_OFF].depth, r.choice[TERM_ON].depth);
    assert_int_equal(r.choice[TERM_OFF].nodes_to_choice, r.choice[TERM_ON].nodes_to_choice);
}

static void the_term_makes_a_difference_where_it_applies(void **state)
{
    (void)state;
    ContrastResult r = run_task(number_3, 1000, 5000);
    assert_true(r.choice[TERM_ON].score != r.choice[TERM_OFF].score);
}

static void moves_to_avoid_count(void **state)
{
    (void)state;
    ContrastResult r =
        run_task("1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - am Qd1+; id \"avoid\";", 100, 60000);
    assert_false(r.choice[TERM_OFF].solved);
}

static void positions_without_a_choice_are_refused(void **state)
{
    (void)state;
    EpdRecord record;
    ContrastTask task;
    char error[EPD_ERROR_SIZE];
    /* Stalemate, FIDE Laws of Chess, article 5.2.1. */
    assert_true(epd_parse("7k/5Q2/6K1/8/8/8/8/8 b - -", &record, error));
    assert_false(contrast_read_task(&record, &task, error));
    assert_non_null(strstr(error, "no legal move"));
    epd_free(&record);
}

static void names_are_whole_characters(void **state)
{
    (void)state;
    char line[256] = "4k3/8/8/8/8/8/4P3/4K3 w - - id \"x";
    for (int i = 0; i < CONTRAST_ID_SIZE; i++)
        strcat(line, "\xC3\xA9");
    /* 64 bytes less the end of string: x and 31 letters of two bytes. Without the x half a letter would be
     * left. */
    ContrastTask task = read_task(strcat(line, "\";"));
    assert_int_equal(strlen(task.id), 63);
    memmove(strchr(line, 'x'), strchr(line, 'x') + 1, strlen(strchr(line, 'x')));
    task = read_task(line);
    assert_int_equal(strlen(task.id), 62);
    assert_string_equal(task.id + 60, "\xC3\xA9");

    /* Without a name a position is called by its place. */
    EpdRecord record;
    char error[EPD_ERROR_SIZE];
    assert_true(epd_parse("4k3/8/8/8/8/8/4P3/4K3 w - -", &record, error));
    record.file = "suite.epd";
    record.line = 7;
    assert_true(contrast_read_task(&record, &task, error));
    assert_string_equal(task.id, "suite.epd:7");
    epd_free(&record);
}

/* Ten invented results: eight "applies firm" of which the term solves six alone and loses one, two without a
 * pair. */
static void summary_counts_and_tests(void **state)
{
    (void)state;
    enum { N = 10 };
    ContrastTask tasks[N];
    ContrastResult results[N];
    ContrastClass classes[CLASS_COUNT];
    memset(results, 0, sizeof results);
    for (int i = 0; i < N; i++) {
        tasks[i] = read_task(number_1);
        results[i].verdict = i < 8 ? PS_APPLIES : PS_NONE;
        results[i].has_grade = i < 8;
        results[i].grade = PS_FIRM;
        results[i].choice[TERM_ON].solved = i < 6;
        results[i].choice[TERM_OFF].solved = i == 6;
        results[i].choice[TERM_ON].nodes_to_choice = 100;
        results[i].choice[TERM_OFF].nodes_to_choice = 300 + (uint64_t)i;
        results[i].changed = i < 4;
        results[i].lever = i < 8 ? tasks[i].best.moves[0] : NO_MOVE;
        results[i].choice[TERM_ON].plays_lever = i < 5;
        results[i].choice[TERM_OFF].plays_lever = i == 5;
        results[i].judged.gain[TERM_OFF] = i < 4 ? 10 * i : 0;
        results[i].judged.gain[TERM_ON] = i < 4 ? 10 * i + 4 : 0;
        results[i].judged.win[TERM_OFF] = i < 4 ? 0.02 * i : 0;
    }
    assert_true(contrast_summarise(tasks, results, N, classes));
    const ContrastClass *applies = &classes[CLASS_VERDICT + PS_APPLIES], *all = &classes[CLASS_ALL];
    assert_string_equal(applies->name, "applies");
    assert_int_equal(applies->positions, 8);
    assert_int_equal(applies->solved[TERM_ON], 6);
    assert_int_equal(applies->only[TERM_ON], 6);
    assert_int_equal(applies->only[TERM_OFF], 1);
    /* Binomial: 2 * (C(7,0) + C(7,1)) / 2^7. */
    assert_true(fabs(applies->mcnemar - 16.0 / 128) < 1e-12);
    assert_int_equal(applies->playable, 8);
    assert_int_equal(applies->obeyed[TERM_ON], 5);
    assert_int_equal(applies->obeyed[TERM_OFF], 1);
    /* Five alone against one: 2 * (C(6,0) + C(6,1)) / 2^6. */
    assert_true(fabs(applies->obeyed_p - 14.0 / 64) < 1e-12);
    assert_int_equal(classes[CLASS_NO_PAIR].playable, 0);
    assert_int_equal(applies->changed, 4);
    assert_true(fabs(applies->gain[TERM_OFF] - 15) < 1e-12);
    assert_true(fabs(applies->mean_gain - 17) < 1e-12);
    /* Four gains are too few for an interval. */
    assert_true(fabs(applies->win - 0.015) < 1e-12);
    assert_true(isnan(applies->win_interval.low) && isnan(applies->win_interval.high));
    assert_true(isnan(applies->p_value) && isnan(applies->p_adjusted));
    assert_int_equal(classes[CLASS_NO_PAIR].positions, 2);
    assert_int_equal(classes[CLASS_GRADE].positions, 8); /* firm comes first */
    assert_int_equal(all->positions, N);
    assert_true(fabs(all->nodes_to_choice[TERM_OFF] - 304.5) < 1e-9);
    assert_int_equal(classes[CLASS_VERDICT + PS_WEAK].positions, 0);
    assert_true(isnan(classes[CLASS_VERDICT + PS_WEAK].mean_gain));

    char sentence[CONTRAST_SENTENCE_SIZE];
    contrast_sentence(applies, sentence, sizeof sentence);
    assert_non_null(strstr(sentence, "too few to tell"));
    contrast_obedience_sentence(applies, sentence, sizeof sentence);
    assert_string_equal(sentence, "played in 1 of 8 without the term and in 5 with it (p = 0.22).");
    contrast_obedience_sentence(&classes[CLASS_NO_PAIR], sentence, sizeof sentence);
    assert_string_equal(sentence, "");
}

/* What a sentence claims follows the adjusted p-value, whatever the interval of the class alone says. */
static void sentences_follow_the_adjusted_p_value(void **state)
{
    (void)state;
    static const struct {
        double low, high, p_adjusted;
        const char *words;
    } cases[] = {{0.01, 0.09, 0.05, "it helped"},
                 {-0.09, -0.01, 0.04, "it harmed"},
                 {0.01, 0.09, 0.06, "cannot tell"},
                 {-0.01, 0.09, 1, "cannot tell"},
                 {-INFINITY, INFINITY, 1, "too many of them for the same gain"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ContrastClass class = {.kind = "verdict",
                               .name = "applies",
                               .positions = 60,
                               .with_answer = 60,
                               .changed = 30,
                               .win = cases[i].low > 0 ? 0.05 : -0.05,
                               .win_interval = {cases[i].low, cases[i].high},
                               .p_value = 0.01,
                               .p_adjusted = cases[i].p_adjusted};
        char sentence[CONTRAST_SENTENCE_SIZE];
        contrast_sentence(&class, sentence, sizeof sentence);
        assert_non_null(strstr(sentence, cases[i].words));
        assert_true(strlen(sentence) < CONTRAST_SENTENCE_SIZE - 40);
    }
}

/* Results of one class: gains in winning chances, as changed moves. */
static void summarise_gains(const double *gains, size_t count, ContrastClass classes[CLASS_COUNT])
{
    enum { MOST = 60 };
    static const ContrastTask tasks[MOST];
    static ContrastResult results[MOST];
    assert_true(count <= MOST);
    for (size_t i = 0; i < count; i++)
        results[i] = (ContrastResult){.verdict = i % 2 ? PS_APPLIES : PS_MISLEADING,
                                      .has_grade = true,
                                      .grade = PS_FIRM,
                                      .changed = true,
                                      .judged = {.win = {gains[i], gains[i]}}};
    assert_true(contrast_summarise(tasks, results, count, classes));
}

/* Holm counts the classes that have enough changes: here two verdicts, a grade, and all. */
static void p_values_are_adjusted_for_the_classes_tested(void **state)
{
    (void)state;
    double gains[40];
    ContrastClass classes[CLASS_COUNT];
    Random random = random_seeded(4);
    for (int i = 0; i < 40; i++)
        gains[i] = draw_gain(NORMAL, &random) + 0.02 * (i % 2);
    summarise_gains(gains, 40, classes);
    double p[4], expected[4];
    static const int tested[4] = {CLASS_VERDICT + PS_APPLIES, CLASS_VERDICT + PS_MISLEADING, CLASS_GRADE,
                                  CLASS_ALL};
    for (int i = 0; i < 4; i++)
        p[i] = classes[tested[i]].p_value;
    holm_adjust(p, 4, expected);
    for (int i = 0; i < 4; i++) {
        const ContrastClass *class = &classes[tested[i]];
        assert_true(class->p_adjusted == expected[i]);
        assert_true((class->win_interval.low > 0 || class->win_interval.high < 0) ==
                    (class->p_value <= 0.05));
    }
    assert_true(expected[0] > p[0]);
    assert_true(isnan(classes[CLASS_NO_PAIR].p_adjusted));
    /* A gain that is the same everywhere says nothing of how gains differ. */
    for (int i = 0; i < 40; i++)
        gains[i] = 0.01;
    summarise_gains(gains, 40, classes);
    assert_true(isinf(classes[CLASS_ALL].win_interval.low) && classes[CLASS_ALL].p_value == 1);
}

/* The decisive cells of `make statistics`, with fewer samples: bounds of three standard errors more. */
static void intervals_cover_what_they_say(void **state)
{
    (void)state;
    enum { SAMPLES = 800 };
    static const struct {
        World world;
        size_t gains;
    } cells[] = {{NORMAL, 10}, {SKEWED, 10}, {SKEWED, 35}, {HEAVY_TAILS, 20}, {MANY_ZEROS, 35}};
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++) {
        int covered = count_covered(cells[i].world, cells[i].gains, SAMPLES, 1);
        if (covered < 0.93 * SAMPLES - 3 * sqrt(SAMPLES * 0.95 * 0.05) ||
            covered > 0.97 * SAMPLES + 3 * sqrt(SAMPLES * 0.95 * 0.05))
            fail_msg("%s, %zu gains: %d of %d covered", world_names[cells[i].world], cells[i].gains, covered,
                     SAMPLES);
    }
}

static void where_there_is_no_effect_none_is_claimed(void **state)
{
    (void)state;
    enum { EXPERIMENTS = 250 };
    for (int world = 0; world < WORLD_COUNT; world++) {
        int claims = count_claims((World)world, 1, EXPERIMENTS, 2);
        if (claims < 0 || claims > 0.05 * EXPERIMENTS + 2 * sqrt(EXPERIMENTS * 0.05 * 0.95))
            fail_msg("%s: some class was helped or harmed in %d of %d experiments", world_names[world],
                     claims, EXPERIMENTS);
    }
}

/* An effect that is there is found: a gain of one standard deviation. */
static void a_great_effect_is_claimed(void **state)
{
    (void)state;
    double gains[40];
    ContrastClass classes[CLASS_COUNT];
    Random random = random_seeded(5);
    for (int sign = 1; sign >= -1; sign -= 2) {
        for (int i = 0; i < 40; i++)
            gains[i] = draw_gain(NORMAL, &random) + sign * 0.03;
        summarise_gains(gains, 40, classes);
        assert_int_equal(contrast_finding(&classes[CLASS_ALL]), sign > 0 ? FINDING_HELPED : FINDING_HARMED);
    }
}

/* ------------------------------------------------------------------------------------------- the judges */

/* What a cold search of one move to a depth says, with the judge's weight. */
static int search_to(Player *player, const ContrastTask *task, Move move, int weight, int depth)
{
    Game game;
    SearchResult result;
    const MoveList only = {.count = 1, .moves = {move}};
    assert_true(game_start(&game, &task->position));
    player_settings(player)->lever_weight = weight;
    player_forget(player);
    player_think(player, &game, &(SearchLimits){.depth = depth, .only = &only}, NULL, &result);
    game_free(&game);
    assert_int_equal(result.line.depth, depth);
    return result.line.score;
}

static void assert_judged_alike(Player *player, const ContrastTask *task, const ContrastResult *result,
                                const ContrastJudgement *judged, int weight)
{
    for (int judge = TERM_OFF; judge <= TERM_ON; judge++) {
        int scores[ARM_COUNT], judge_weight = judge == TERM_ON ? weight : 0;
        assert_true(judged->depth[judge] > result->choice[TERM_OFF].depth);
        for (int arm = TERM_OFF; arm <= TERM_ON; arm++)
            scores[arm] =
                search_to(player, task, result->choice[arm].move, judge_weight, judged->depth[judge]);
        assert_int_equal(judged->gain[judge], scores[TERM_ON] - scores[TERM_OFF]);
        /* The definition, at the stated scale of 123 centipawns. */
        double win = 1 / (1 + exp(-scores[TERM_ON] / 123.0)) - 1 / (1 + exp(-scores[TERM_OFF] / 123.0));
        assert_true(fabs(judged->win[judge] - win) < 1e-12);
        /* One iteration less takes at least half of the nodes less or is the first step on the way there. */
        int before[ARM_COUNT];
        for (int arm = TERM_OFF; arm <= TERM_ON; arm++)
            before[arm] =
                search_to(player, task, result->choice[arm].move, judge_weight, judged->depth[judge] - 1);
        assert_true(judged->doubt[judge] >= abs(judged->gain[judge] - (before[TERM_ON] - before[TERM_OFF])));
    }
    assert_true(contrast_is_close(judged) == (abs(judged->gain[TERM_OFF]) <= judged->doubt[TERM_OFF] ||
                                              abs(judged->gain[TERM_ON]) <= judged->doubt[TERM_ON]));
}

/* The doubt is the greatest change since half of the nodes, of both moves together. */
static void what_twice_the_nodes_change_is_close(void **state)
{
    (void)state;
    Thoughts one = {.deepest = 4, .scores = {0, 90, 10, 40, 30}, .nodes = {0, 1, 20, 60, 100}},
             other = {.deepest = 4, .scores = {0, 0, 0, 0, 10}, .nodes = {0, 1, 10, 90, 100}};
    assert_int_equal(judged_doubt(&one, &other, 4), 20); /* 20 against 40 and 10; at 1 it is forgotten */
    one.nodes[2] = 91;
    assert_int_equal(judged_doubt(&one, &other, 4), 70); /* at 2 more than half was spent */
    assert_int_equal(judged_doubt(&one, &other, 1), 2 * JUDGED_SCORE_LIMIT);
    one.scores[4] = SCORE_MATE - 3;
    assert_int_equal(judged_doubt(&one, &other, 4), 990 - 10);
    const ContrastJudgement close = {.depth = {4, 4}, .gain = {-20, 30}, .doubt = {20, 0}},
                            clear = {.depth = {4, 4}, .gain = {-21, 30}, .doubt = {20, 29}};
    assert_true(contrast_is_close(&close));
    assert_false(contrast_is_close(&clear));
    assert_false(contrast_is_close(&(ContrastJudgement){.depth = {0, 0}}));
}

/* People read how a gain is to be taken, and no grade that is called void. */
static void people_read_words(void **state)
{
    (void)state;
    char input[1024];
    snprintf(input, sizeof input, "%s\n4k3/8/p7/Pp6/1P6/8/8/4K3 w - - id \"rim\";\n", number_3);
    HarnessRun run = harness_run("contrast - --nodes 1500 --weight 1000 --table 4", input);
    assert_int_equal(run.status, 0);
    assert_null(strstr(run.out, "void"));
    assert_non_null(strstr(run.out, "says nothing"));
    assert_non_null(strstr(run.out, "where the direction applies: "));
    const char *row = strstr(run.out, "\nthree");
    assert_non_null(row);
    char line[256];
    snprintf(line, sizeof line, "%.*s", (int)strcspn(row + 1, "\n"), row + 1);
    assert_true(strstr(line, "  close") || strstr(line, "  better") || strstr(line, "  worse"));
    harness_free(&run);
}

/* A search of one move to the depth that a judge names gives the score that it had, for both moves. */
static void both_moves_are_judged_at_the_same_depth(void **state)
{
    (void)state;
    const ContrastPlan plan = {.limits = {.nodes = 1500}, .weight = 1000, .rule = PS_STRICT};
    ContrastTask task = read_task(number_3);
    ContrastResult result;
    ContrastJudgement again;
    Player *player = player_new(4);
    assert_non_null(player);
    assert_true(contrast_run(player, &plan, &task, &result));
    assert_true(result.changed);
    assert_judged_alike(player, &task, &result, &result.judged, plan.weight);
    assert_true(contrast_judge_again(player, &plan, &task, &result, &again));
    assert_judged_alike(player, &task, &result, &again, plan.weight);
    assert_true(again.depth[TERM_OFF] > result.judged.depth[TERM_OFF]);
    player_free(player);
}

static void the_greatest_differences_are_instructive(void **state)
{
    (void)state;
    enum { N = 30 };
    ContrastResult results[N + 1];
    size_t picked[CONTRAST_INSTRUCTIVE_MAX];
    memset(results, 0, sizeof results);
    for (int i = 0; i < N; i++) {
        double gain = (i * 7 % N + 1) * (i % 2 ? 0.01 : -0.01);
        results[i].judged.win[TERM_OFF] = results[i].judged.win[TERM_ON] = gain;
    }
    /* Here the judges disagree. */
    results[N].judged.win[TERM_OFF] = 0.9;
    results[N].judged.win[TERM_ON] = -0.1;
    assert_int_equal(contrast_instructive(results, N + 1, picked), CONTRAST_INSTRUCTIVE_MAX);
    for (int i = 0; i < CONTRAST_INSTRUCTIVE_MAX; i++)
        assert_int_equal(picked[i] * 7 % N + 1, N - i);
    assert_int_equal(contrast_instructive(results, 3, picked), 3);
    assert_int_equal(contrast_instructive(results, 0, picked), 0);
}

static void output_does_not_depend_on_workers(void **state)
{
    (void)state;
    char input[1024];
    static const char *const forms[] = {"--json", "--csv"};
    snprintf(input, sizeof input, "%s\n%s\n", number_3, number_1);
    for (int i = 0; i < 2; i++) {
        char arguments[64];
        snprintf(arguments, sizeof arguments, "contrast - --nodes 3000 --table 1 %s --workers 1", forms[i]);
        HarnessRun alone = harness_run(arguments, input);
        arguments[strlen(arguments) - 1] = '3';
        HarnessRun together = harness_run(arguments, input);
        assert_int_equal(alone.status, 0);
        assert_string_equal(alone.out, together.out);
        assert_null(strstr(alone.out, "milliseconds"));
        assert_string_equal(alone.err, "");
        harness_free(&alone);
        harness_free(&together);
    }
}

static void json_lines_hold_positions_then_classes(void **state)
{
    (void)state;
    /* The heavy term changes the move of number 3. */
    HarnessRun run = harness_run("contrast - --nodes 1500 --weight 1000 --table 4 --json", number_3);
    int lines = 0, again = 0;
    assert_int_equal(run.status, 0);
    for (char *line = strtok(run.out, "\n"); line; line = strtok(NULL, "\n"), lines++) {
        cJSON *object = cJSON_Parse(line);
        assert_non_null(object);
        if (lines == 0) {
            assert_string_equal(cJSON_GetObjectItem(object, "verdict")->valuestring, "applies");
            assert_true(cJSON_IsTrue(cJSON_GetObjectItem(object, "changed")));
            assert_string_equal(cJSON_GetObjectItem(object, "lever")->valuestring, "f5");
            assert_true(cJSON_IsNumber(cJSON_GetObjectItem(cJSON_GetObjectItem(object, "gain"), "win")));
        }
        const cJSON *judged = cJSON_GetObjectItem(object, "judged_again");
        if (judged) {
            assert_string_equal(judged->valuestring, "three");
            assert_int_equal(lines, 1);
            again++;
        }
        cJSON_Delete(object);
    }
    assert_int_equal(lines, 1 + again + CLASS_COUNT);
    harness_free(&run);
}

static void mistakes_get_one_line(void **state)
{
    (void)state;
    assert_refused("contrast", "", 2, "there is no suite");
    assert_refused("contrast - --nodes 10 --depth 3", number_1, 2, "several limits");
    assert_refused("contrast - --json --csv", number_1, 2, "both --json and --csv");
    assert_refused("contrast - --weight -1", number_1, 2, "--weight");
    assert_refused("contrast - --table 0", number_1, 2, "--table");
    assert_refused("contrast - --frobnicate", number_1, 2, "unknown option");
    assert_refused("contrast /nonexistent/suite.epd", "", 1, "/nonexistent/suite.epd");
}

/* The good line is still searched, and the status says that something was wrong. */
static void bad_lines_are_left_out(void **state)
{
    (void)state;
    char input[1024];
    snprintf(input, sizeof input, "8/8/8 w - - id \"bad\";\n%s\n", number_1);
    HarnessRun run = harness_run("contrast - --nodes 2000 --csv", input);
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, ":1: "));
    assert_non_null(strstr(run.out, "\none,"));
    harness_free(&run);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(classes_are_those_of_the_side_to_move),
        cmocka_unit_test(the_named_lever_is_a_push),
        cmocka_unit_test(both_arms_solve_the_mate),
        cmocka_unit_test(arms_of_equal_weight_agree_in_everything),
        cmocka_unit_test(the_term_makes_a_difference_where_it_applies),
        cmocka_unit_test(moves_to_avoid_count),
        cmocka_unit_test(names_are_whole_characters),
        cmocka_unit_test(positions_without_a_choice_are_refused),
        cmocka_unit_test(summary_counts_and_tests),
        cmocka_unit_test(sentences_follow_the_adjusted_p_value),
        cmocka_unit_test(p_values_are_adjusted_for_the_classes_tested),
        cmocka_unit_test(intervals_cover_what_they_say),
        cmocka_unit_test(where_there_is_no_effect_none_is_claimed),
        cmocka_unit_test(a_great_effect_is_claimed),
        cmocka_unit_test(both_moves_are_judged_at_the_same_depth),
        cmocka_unit_test(what_twice_the_nodes_change_is_close),
        cmocka_unit_test(people_read_words),
        cmocka_unit_test(the_greatest_differences_are_instructive),
        cmocka_unit_test(output_does_not_depend_on_workers),
        cmocka_unit_test(json_lines_hold_positions_then_classes),
        cmocka_unit_test(mistakes_get_one_line),
        cmocka_unit_test(bad_lines_are_left_out),
    };
    return cmocka_run_group_tests_name("contrast", tests, NULL, NULL);
}
