/* explain against structures worked out by hand from the definitions in structure/structure.h,
 * to the letter. */
#include "bench/explain/explain.h"
#include "structure/structure.h"
#include "tests/bench/harness.h"
#include "tests/bench/page/rendered.h"

#include <cjson/cJSON.h>

#define NO_PLAN                                                                                              \
    "{\"verdict\":\"none\",\"files\":null,\"region\":null,\"lever\":null,\"status\":null,\"tempi\":null,"    \
    "\"room\":null,\"pieces\":null}"

#define NO_TENSION "\"tension\":{\"white\":[],\"black\":[]},"

typedef struct Expectation {
    const char *line, *json;
} Expectation;

static const Expectation expectations[] = {
    /* Nothing is locked. */
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
     "{\"fen\":\"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -\",\"chains\":[],"
     "\"plan\":{\"white\":" NO_PLAN ",\"black\":" NO_PLAN
     "},\"near_misses\":[],\"first_to_break\":null," NO_TENSION "\"breaks\":{\"white\":[],\"black\":[]}}"},

    /* A chain with all its pieces. f5: one step of the pawn on f4; e6 attacks it once, nothing guards it. c4:
     * the knight on c3 is in the way; the bishop on f1 guards it once the pawn on c2 is lifted. f6: with f7
     * lifted four guard it. White's room: three files of four ranks, less f5. Black's: three files of three
     * ranks, less c5. */
    {"r1bq1rk1/pp1nbppp/2n1p3/2ppP3/3P1P2/2N1BN2/PPPQ2PP/R3KB1R w KQ - id \"French\";",
     "{\"fen\":\"r1bq1rk1/pp1nbppp/2n1p3/2ppP3/3P1P2/2N1BN2/PPPQ2PP/R3KB1R w KQ -\","
     "\"chains\":[{\"files\":\"de\",\"grade\":\"firm\","
     "\"white\":{\"toward\":\"f\","
     "\"base_lever\":{\"square\":\"f5\",\"target\":\"e6\",\"target_is_base\":false,\"status\":"
     "\"unsupported\","
     "\"pawn\":\"f4\",\"steps\":1,\"blockers\":[],\"supporters\":0,\"attackers\":1,\"tempi\":2},"
     "\"head_lever\":{\"square\":\"c4\",\"target\":\"d5\",\"target_is_base\":false,\"status\":\"obstructed\","
     "\"pawn\":\"c2\",\"steps\":1,\"blockers\":[\"c3\"],\"supporters\":1,\"attackers\":1,\"tempi\":2}},"
     "\"black\":{\"toward\":\"c\","
     "\"base_lever\":{\"square\":\"c5\",\"target\":\"d4\",\"target_is_base\":true,\"status\":\"played\","
     "\"pawn\":\"c5\",\"steps\":0,\"blockers\":[],\"supporters\":2,\"attackers\":1,\"tempi\":0},"
     "\"head_lever\":{\"square\":\"f6\",\"target\":\"e5\",\"target_is_base\":false,\"status\":\"ready\","
     "\"pawn\":\"f7\",\"steps\":1,\"blockers\":[],\"supporters\":4,\"attackers\":1,\"tempi\":1}}}],"
     "\"plan\":{\"white\":{\"verdict\":\"applies\",\"files\":\"de\",\"region\":\"kingside\",\"lever\":\"f5\","
     "\"status\":\"unsupported\",\"tempi\":2,\"room\":11,\"pieces\":3},"
     "\"black\":{\"verdict\":\"applies\",\"files\":\"de\",\"region\":\"queenside\",\"lever\":\"c5\","
     "\"status\":\"played\",\"tempi\":0,\"room\":8,\"pieces\":3}},"
     "\"near_misses\":[],\"first_to_break\":\"black\","
     "\"tension\":{\"white\":[\"d4c5\"],\"black\":[\"c5d4\"]},"
     "\"breaks\":{\"white\":["
     "{\"from\":\"b2\",\"to\":\"b4\",\"targets\":[\"c5\"],\"kind\":\"other\",\"supporters\":0,\"attackers\":"
     "2},"
     "{\"from\":\"f4\",\"to\":\"f5\",\"targets\":[\"e6\"],\"kind\":\"base\",\"supporters\":0,\"attackers\":1}"
     "],"
     "\"black\":["
     "{\"from\":\"f7\",\"to\":\"f6\",\"targets\":[\"e5\"],\"kind\":\"head\",\"supporters\":4,\"attackers\":1}"
     ","
     "{\"from\":\"g7\",\"to\":\"g5\",\"targets\":[\"f4\"],\"kind\":\"other\",\"supporters\":1,\"attackers\":"
     "2}"
     "]}}"},

    /* White's lever is barred; on the c-file there is no pawn at all, and on the f-file Black's f5 has gone past
     * f6. Room: f5 and g4 are attacked; c5 is. */
    {"4k3/8/4p3/3pPp2/3P4/8/5P2/4K3 b - -",
     "{\"fen\":\"4k3/8/4p3/3pPp2/3P4/8/5P2/4K3 b - -\","
     "\"chains\":[{\"files\":\"de\",\"grade\":\"firm\","
     "\"white\":{\"toward\":\"f\","
     "\"base_lever\":{\"square\":\"f5\",\"target\":\"e6\",\"target_is_base\":true,\"status\":\"barred\","
     "\"pawn\":\"f2\",\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null},"
     "\"head_lever\":{\"square\":\"c4\",\"target\":\"d5\",\"target_is_base\":false,\"status\":\"cleared\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null}},"
     "\"black\":{\"toward\":\"c\","
     "\"base_lever\":{\"square\":\"c5\",\"target\":\"d4\",\"target_is_base\":true,\"status\":\"cleared\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null},"
     "\"head_lever\":{\"square\":\"f6\",\"target\":\"e5\",\"target_is_base\":false,\"status\":\"beyond\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null}}}],"
     "\"plan\":{\"white\":{\"verdict\":\"misleading\",\"files\":\"de\",\"region\":\"kingside\",\"lever\":"
     "\"f5\","
     "\"status\":\"barred\",\"tempi\":null,\"room\":10,\"pieces\":0},"
     "\"black\":{\"verdict\":\"fulfilled\",\"files\":\"de\",\"region\":\"queenside\",\"lever\":\"c5\","
     "\"status\":\"cleared\",\"tempi\":null,\"room\":8,\"pieces\":0}},"
     "\"near_misses\":[],\"first_to_break\":null," NO_TENSION "\"breaks\":{\"white\":[],\"black\":[]}}"},

    /* Void: levers off the board, no plan. */
    {"4k3/8/7p/6pP/6P1/8/8/4K3 w - -",
     "{\"fen\":\"4k3/8/7p/6pP/6P1/8/8/4K3 w - -\","
     "\"chains\":[{\"files\":\"gh\",\"grade\":\"void\","
     "\"white\":{\"toward\":null,\"base_lever\":null,"
     "\"head_lever\":{\"square\":\"f4\",\"target\":\"g5\",\"target_is_base\":false,\"status\":\"cleared\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null}},"
     "\"black\":{\"toward\":\"f\","
     "\"base_lever\":{\"square\":\"f5\",\"target\":\"g4\",\"target_is_base\":true,\"status\":\"cleared\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null},"
     "\"head_lever\":null}}],"
     "\"plan\":{\"white\":" NO_PLAN ",\"black\":" NO_PLAN
     "},\"near_misses\":[\"rim\"],\"first_to_break\":null," NO_TENSION
     "\"breaks\":{\"white\":[],\"black\":[]}}"},

    /* A King's Indian chain on three files with both levers played, c5 and g4, not f5. Room: c5 is attacked; g4 is. */
    {"4k3/8/3p4/2PPp3/4Ppp1/5P2/8/4K3 w - -",
     "{\"fen\":\"4k3/8/3p4/2PPp3/4Ppp1/5P2/8/4K3 w - -\","
     "\"chains\":[{\"files\":\"def\",\"grade\":\"firm\","
     "\"white\":{\"toward\":\"c\","
     "\"base_lever\":{\"square\":\"c5\",\"target\":\"d6\",\"target_is_base\":true,\"status\":\"played\","
     "\"pawn\":\"c5\",\"steps\":0,\"blockers\":[],\"supporters\":0,\"attackers\":1,\"tempi\":0},"
     "\"head_lever\":{\"square\":\"g3\",\"target\":\"f4\",\"target_is_base\":false,\"status\":\"gone\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null}},"
     "\"black\":{\"toward\":\"g\","
     "\"base_lever\":{\"square\":\"g4\",\"target\":\"f3\",\"target_is_base\":true,\"status\":\"played\","
     "\"pawn\":\"g4\",\"steps\":0,\"blockers\":[],\"supporters\":0,\"attackers\":1,\"tempi\":0},"
     "\"head_lever\":{\"square\":\"c6\",\"target\":\"d5\",\"target_is_base\":false,\"status\":\"gone\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null}}}],"
     "\"plan\":{"
     "\"white\":{\"verdict\":\"applies\",\"files\":\"def\",\"region\":\"queenside\",\"lever\":\"c5\","
     "\"status\":\"played\",\"tempi\":0,\"room\":11,\"pieces\":0},"
     "\"black\":{\"verdict\":\"applies\",\"files\":\"def\",\"region\":\"kingside\",\"lever\":\"g4\","
     "\"status\":\"played\",\"tempi\":0,\"room\":7,\"pieces\":0}},"
     "\"near_misses\":[],\"first_to_break\":\"white\","
     "\"tension\":{\"white\":[\"f3g4\",\"c5d6\"],\"black\":[\"g4f3\",\"d6c5\"]},"
     "\"breaks\":{\"white\":[],\"black\":[]}}"},

    /* White's chain runs to the a-file: no lever, the head's region. Black's e-file is open. Room: e3 is attacked. */
    {"4k3/8/p7/Pp6/1Pp5/2Pp4/3P4/4K3 w - -",
     "{\"fen\":\"4k3/8/p7/Pp6/1Pp5/2Pp4/3P4/4K3 w - -\","
     "\"chains\":[{\"files\":\"abcd\",\"grade\":\"likely\","
     "\"white\":{\"toward\":null,"
     "\"base_lever\":null,"
     "\"head_lever\":{\"square\":\"e2\",\"target\":\"d3\",\"target_is_base\":false,\"status\":\"cleared\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null}},"
     "\"black\":{\"toward\":\"e\","
     "\"base_lever\":{\"square\":\"e3\",\"target\":\"d2\",\"target_is_base\":true,\"status\":\"cleared\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null},"
     "\"head_lever\":null}}],"
     "\"plan\":{"
     "\"white\":{\"verdict\":\"misleading\",\"files\":\"abcd\",\"region\":\"queenside\",\"lever\":null,"
     "\"status\":null,\"tempi\":null,\"room\":0,\"pieces\":0},"
     "\"black\":{\"verdict\":\"fulfilled\",\"files\":\"abcd\",\"region\":\"centre\",\"lever\":\"e3\","
     "\"status\":\"cleared\",\"tempi\":null,\"room\":19,\"pieces\":0}},"
     "\"near_misses\":[\"rim\"],\"first_to_break\":null," NO_TENSION
     "\"breaks\":{\"white\":[],\"black\":[]}}"},

    /* Black's double step to f5 can be taken in passing. */
    {"4k3/8/4p3/3pPp2/3P4/8/8/4K3 w - f6",
     "{\"fen\":\"4k3/8/4p3/3pPp2/3P4/8/8/4K3 w - f6\","
     "\"chains\":[{\"files\":\"de\",\"grade\":\"firm\","
     "\"white\":{\"toward\":\"f\","
     "\"base_lever\":{\"square\":\"f5\",\"target\":\"e6\",\"target_is_base\":true,\"status\":\"gone\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null},"
     "\"head_lever\":{\"square\":\"c4\",\"target\":\"d5\",\"target_is_base\":false,\"status\":\"cleared\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null}},"
     "\"black\":{\"toward\":\"c\","
     "\"base_lever\":{\"square\":\"c5\",\"target\":\"d4\",\"target_is_base\":true,\"status\":\"cleared\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null},"
     "\"head_lever\":{\"square\":\"f6\",\"target\":\"e5\",\"target_is_base\":false,\"status\":\"beyond\","
     "\"pawn\":null,\"steps\":null,\"blockers\":[],\"supporters\":null,\"attackers\":null,\"tempi\":null}}}],"
     "\"plan\":{"
     "\"white\":{\"verdict\":\"misleading\",\"files\":\"de\",\"region\":\"kingside\",\"lever\":\"f5\","
     "\"status\":\"gone\",\"tempi\":null,\"room\":10,\"pieces\":0},"
     "\"black\":{\"verdict\":\"fulfilled\",\"files\":\"de\",\"region\":\"queenside\",\"lever\":\"c5\","
     "\"status\":\"cleared\",\"tempi\":null,\"room\":8,\"pieces\":0}},"
     "\"near_misses\":[],\"first_to_break\":null,"
     "\"tension\":{\"white\":[\"e5f6\"],\"black\":[]},"
     "\"breaks\":{\"white\":[],\"black\":[]}}"},

    /* A near miss, and the fields as they were read, whatever stands between and behind them. */
    {"4k3/8/3p4/4p3/4P3/3P4/8/4K3   w  -\t-  12 40",
     "{\"fen\":\"4k3/8/3p4/4p3/4P3/3P4/8/4K3 w - -\",\"chains\":[],"
     "\"plan\":{\"white\":" NO_PLAN ",\"black\":" NO_PLAN "},\"near_misses\":[\"same_way\"],"
     "\"first_to_break\":null," NO_TENSION "\"breaks\":{"
     "\"white\":[{\"from\":\"d3\",\"to\":\"d4\",\"targets\":[\"e5\"],\"kind\":\"other\",\"supporters\":0,"
     "\"attackers\":1}],"
     "\"black\":[{\"from\":\"d6\",\"to\":\"d5\",\"targets\":[\"e4\"],\"kind\":\"other\",\"supporters\":0,"
     "\"attackers\":1}]}}"},
};

enum { EXPECTATION_COUNT = sizeof expectations / sizeof *expectations };

static EpdRecord read_line(const char *line)
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE];
    if (!epd_parse(line, &record, error))
        fail_msg("%s: %s", line, error);
    return record;
}

static void json_is_as_worked_out_by_hand(void **state)
{
    (void)state;
    for (int i = 0; i < EXPECTATION_COUNT; i++) {
        EpdRecord record = read_line(expectations[i].line);
        Rendered rendered;
        assert_true(explain_print_json(rendered_open(&rendered), &record));
        const char *text = rendered_close(&rendered);
        assert_int_equal(count_of(text, "\n"), 1);
        assert_memory_equal(text, expectations[i].json, strlen(expectations[i].json));
        assert_int_equal(strlen(text), strlen(expectations[i].json) + 1);
        free(rendered.text);
        epd_free(&record);
    }
}

static const cJSON *plan_of(const cJSON *object, const char *side)
{
    return cJSON_GetObjectItem(cJSON_GetObjectItem(object, "plan"), side);
}

static const char *string_of(const cJSON *object, const char *key)
{
    const char *text = cJSON_GetStringValue(cJSON_GetObjectItem(object, key));
    return text ? text : "";
}

/* The kind of the break of that side to that square, "" if there is none. */
static const char *break_kind(const cJSON *object, const char *side, const char *to)
{
    const cJSON *push;
    cJSON_ArrayForEach(push, cJSON_GetObjectItem(cJSON_GetObjectItem(object, "breaks"), side))
    {
        if (strcmp(string_of(push, "to"), to) == 0)
            return string_of(push, "kind");
    }
    return "";
}

/* D. Kopec, I. Bratko, in Advances in Computer Chess 3, 1982: what section 3 of the definitions says of its
 * lever positions 3, 11, 17 and 24 and of their published moves. */
static void json_agrees_with_the_published_lever_positions(void **state)
{
    (void)state;
    static const struct {
        int number;
        const char *side, *verdict, *lever, *status, *best, *kind;
    } lever_positions[] = {
        {3, "black", "applies", "f5", "", "f5", "base"},
        {11, "white", "misleading", "", "barred", "f4", "head"},
        {17, "black", "applies", "f5", "obstructed", "h5", "other"},
        {24, "white", "misleading", "", "barred", "f4", "head"},
    };
    HarnessRun run = harness_run("explain --json bench/positions/bratko-kopec.epd", "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.err, "");
    int number = 0;
    for (char *line = strtok(run.out, "\n"); line; line = strtok(NULL, "\n")) {
        cJSON *object = cJSON_Parse(line);
        assert_non_null(object);
        number++;
        for (size_t i = 0; i < sizeof lever_positions / sizeof *lever_positions; i++) {
            if (lever_positions[i].number != number)
                continue;
            const cJSON *plan = plan_of(object, lever_positions[i].side);
            assert_string_equal(string_of(plan, "verdict"), lever_positions[i].verdict);
            if (*lever_positions[i].lever)
                assert_string_equal(string_of(plan, "lever"), lever_positions[i].lever);
            if (*lever_positions[i].status)
                assert_string_equal(string_of(plan, "status"), lever_positions[i].status);
            assert_string_equal(break_kind(object, lever_positions[i].side, lever_positions[i].best),
                                lever_positions[i].kind);
        }
        cJSON_Delete(object);
    }
    assert_int_equal(number, 24);
    harness_free(&run);
}

static char *explained(const char *line)
{
    EpdRecord record = read_line(line);
    Rendered rendered;
    explain_print(rendered_open(&rendered), &record);
    rendered_close(&rendered);
    epd_free(&record);
    return rendered.text;
}

static void diagram_shows_rams_chains_arrows_and_levers(void **state)
{
    (void)state;
    static const char diagram[] = "  8    r   .   b   q   .   r   k   .\n"
                                  "\n"
                                  "  7    p   p   .   n   b   p   p   p\n"
                                  "                         /\n"
                                  "  6    .   .   n   .   p  (.)  .   .\n"
                                  "                     / |\n"
                                  "  5    .   .  [p]<-p   P->[.]  .   .\n"
                                  "                   | /   \\\n"
                                  "  4    .   .  (.)  P   .   P   .   .\n"
                                  "\n"
                                  "  3    .   .   N   .   B   N   .   .\n"
                                  "\n"
                                  "  2    P   P   P   Q   .   .   P   P\n"
                                  "\n"
                                  "  1    R   .   .   .   K   B   .   R\n"
                                  "\n"
                                  "       a   b   c   d   e   f   g   h\n";
    char *text = explained(expectations[1].line);
    assert_non_null(strstr(text, diagram));
    assert_non_null(strstr(text, "French\nr1bq1rk1/"));
    free(text);

    /* Void chains have rams and links, but neither arrow nor levers. */
    text = explained(expectations[3].line);
    assert_non_null(strstr(text, "  6    .   .   .   .   .   .   .   p\n"
                                 "                                 / |\n"
                                 "  5    .   .   .   .   .   .   p   P\n"
                                 "                               | /\n"
                                 "  4    .   .   .   .   .   .   P   .\n"));
    free(text);

    /* A chain of three files has one arrow a side, from its head, and its levers at its ends. */
    text = explained("4k3/8/3p4/3Pp1p1/2P1Pp2/5P2/8/4K3 w - -");
    assert_non_null(strstr(text, "  6    .   .  (.)  p   .   .   .   .\n"
                                 "                   | \\\n"
                                 "  5    .   .  [.]<-P   p   .   p   .\n"
                                 "                 /   \\ | \\   /\n"
                                 "  4    .   .   P   .   P   p->[.]  .\n"
                                 "                         \\ |\n"
                                 "  3    .   .   .   .   .   P  (.)  .\n"));
    free(text);

    /* One that points off the board has neither arrow nor base lever there. */
    text = explained(expectations[5].line);
    assert_non_null(strstr(text, "  5    P   p   .   .   .   .   .   .\n"));
    assert_non_null(strstr(text, "  3    .   .   P   p->[.]  .   .   .\n"));
    assert_null(strchr(text, '<'));
    assert_non_null(
        strstr(text, "White  misleading  abcd likely   queenside  -                    -     0       0\n"));
    assert_non_null(
        strstr(text, "Black  fulfilled   abcd likely   centre     e3 cleared           -    19       0\n"));
    free(text);

    /* The queenside; two links that cross. */
    text = explained("4k3/8/8/2p5/1pP5/1P6/8/4K3 w - -");
    assert_non_null(strstr(text, "  5    .   .   p  (.)  .   .   .   .\n"
                                 "             / |\n"
                                 "  4   [.]<-p   P->[.]  .   .   .   .\n"
                                 "           | /\n"
                                 "  3   (.)  P   .   .   .   .   .   .\n"));
    free(text);
    text = explained("4k3/8/8/4pP2/4Pp2/8/8/4K3 w - -");
    assert_non_null(strstr(text, "  5    .   .   .   .   p   P   .   .\n"
                                 "                       | X\n"
                                 "  4    .   .   .   .   P   p   .   .\n"));
    free(text);
}

static void people_get_sentences_plans_breaks_and_the_parts_of_the_term(void **state)
{
    (void)state;
    char *text = explained(expectations[1].line);
    assert_non_null(strstr(text, "White to move"));
    assert_non_null(
        strstr(text, "White  applies     de firm       kingside   f5 unsupported       2    11       3\n"));
    assert_non_null(
        strstr(text, "Black  applies     de firm       queenside  c5 played            0     8       3\n"));
    assert_non_null(strstr(text, "White  b2-b4   -         c5                0         2\n"
                                 "       f4-f5   base      e6                0         1\n"
                                 "Black  f7-f6   head      e5                4         1\n"
                                 "       g7-g5   -         f4                1         2\n"));

    /* The parts add up to the sums, and these to the term. */
    int white[PS_PART_COUNT + 1], black[PS_PART_COUNT + 1], term;
    const char *table = strstr(text, "(centipawns)\n");
    assert_non_null(table);
    assert_int_equal(
        sscanf(table, "(centipawns)\nWhite %d %d %d %d %d\nBlack %d %d %d %d %d\nWhite, who is to move: %d",
               &white[0], &white[1], &white[2], &white[3], &white[4], &black[0], &black[1], &black[2],
               &black[3], &black[4], &term),
        11);
    assert_int_equal(white[0] + white[1] + white[2] + white[3], white[4]);
    assert_int_equal(black[0] + black[1] + black[2] + black[3], black[4]);
    assert_int_equal(white[4] - black[4], term);
    assert_true(white[4] > 0 && black[4] > 0);

    /* Nothing is wider than a terminal. */
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        assert_true(strcspn(line, "\n") <= 80);
    free(text);
}

static void input_comes_from_everywhere(void **state)
{
    (void)state;
    char expected[4096];
    snprintf(expected, sizeof expected, "%s\n", expectations[1].json);
    HarnessRun run = harness_run(
        "explain --json --fen 'r1bq1rk1/pp1nbppp/2n1p3/2ppP3/3P1P2/2N1BN2/PPPQ2PP/R3KB1R w KQ - 0 9'", "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.out, expected);
    harness_free(&run);

    char input[512];
    snprintf(input, sizeof input, "# remark\r\n\r\n%s\r\n", expectations[1].line);
    run = harness_run("explain - --json", input);
    assert_int_equal(run.status, 0);
    assert_string_equal(run.out, expected);
    harness_free(&run);

    run = harness_run("explain bench/positions/scenario.epd", "");
    assert_int_equal(run.status, 0);
    assert_int_equal(count_of(run.out, " to move\n\n"), 3);
    harness_free(&run);
}

static void bad_lines_cost_only_themselves(void **state)
{
    (void)state;
    char input[1024], expected[8192];
    snprintf(input, sizeof input, "%s\n8/8/8/8/8/8/8/8 w - -\n%s\nnonsense\n", expectations[0].line,
             expectations[2].line);
    snprintf(expected, sizeof expected, "%s\n%s\n", expectations[0].json, expectations[2].json);
    HarnessRun run = harness_run("explain --json -", input);
    assert_int_equal(run.status, 1);
    assert_string_equal(run.out, expected);
    assert_int_equal(count_of(run.err, "\n"), 2);
    assert_non_null(
        strstr(run.err, "pawnvane-bench: standard input:2: each side must have exactly one king\n"));
    assert_non_null(strstr(run.err, "pawnvane-bench: standard input:4: "));
    harness_free(&run);

    /* So does a missing file. */
    run = harness_run("explain --json /nonexistent.epd bench/positions/scenario.epd", "");
    assert_int_equal(run.status, 1);
    assert_int_equal(count_of(run.out, "\n"), 3);
    assert_non_null(strstr(run.err, "pawnvane-bench: /nonexistent.epd: cannot be opened"));
    harness_free(&run);
}

/* What people write by hand and what books print: "said" is the remark, null for none. */
static void manners_are_kind(void **state)
{
    static const struct {
        const char *input, *fields, *said;
    } cases[] = {
        {"4k3/8/8/3pp3/3PP3/8/8/4K3 W - -", "4k3/8/8/3pp3/3PP3/8/8/4K3 w - -", NULL},
        {"4k3/8/8/3pp3/3PP3/8/8/4K3 b", "4k3/8/8/3pp3/3PP3/8/8/4K3 b - -", NULL},
        {"4k3/8/8/3pp3/3PP3/8/8/4K3 B -", "4k3/8/8/3pp3/3PP3/8/8/4K3 b - -", NULL},
        {"4k3/8/8/3pp3/3PP3/8/8/4K3", "4k3/8/8/3pp3/3PP3/8/8/4K3 w - -", "White is taken to move"},
        {"4k3/8/8/3pp3/3PP3/8/8/4K2R w KQkq -", "4k3/8/8/3pp3/3PP3/8/8/4K2R w K -",
         "castling Qkq is dropped"},
        {"4k3/8/8/3pp3/3PP3/8/8/4K3 w - e6 0 9", "4k3/8/8/3pp3/3PP3/8/8/4K3 w - e6", NULL},
        {"4k3/8/8/3pp3/3PP3/8/8/4K3 w - c6 0 9", "4k3/8/8/3pp3/3PP3/8/8/4K3 w - -",
         "en passant square c6 is dropped"},
        {"8/8/4p3/3pP3/3P4/8/8/8 b", "8/8/4p3/3pP3/3P4/8/8/8 b - -", NULL},
        {"8/8/4p3/3pP3/3P4/8/8/8 b - - 0 1 id \"bones\";", "8/8/4p3/3pP3/3P4/8/8/8 b - -", NULL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char fen[128];
        HarnessRun run = harness_run("explain --json -", cases[i].input);
        snprintf(fen, sizeof fen, "{\"fen\":\"%s\",", cases[i].fields);
        if (run.status != 0 || strncmp(run.out, fen, strlen(fen)) != 0)
            fail_msg("%s: status %d, \"%s\", \"%s\"", cases[i].input, run.status, run.out, run.err);
        if (cases[i].said ? !strstr(run.err, cases[i].said) : *run.err)
            fail_msg("%s: \"%s\"", cases[i].input, run.err);
        harness_free(&run);
    }
    /* No search, no evaluation, but the structure: the French advance, whose base lever for Black is c5. */
    HarnessRun run = harness_run("explain --fen '8/pp3ppp/4p3/2ppP3/3P4/8/PPP2PPP/8 b'", "");
    assert_int_equal(run.status, 0);
    assert_non_null(strstr(run.out, "a skeleton: the pawns alone"));
    assert_non_null(strstr(run.out, "c5 played"));
    assert_null(strstr(run.out, "centipawns"));
    harness_free(&run);
    /* A skeleton has no kings and no pieces. */
    assert_refused("explain -", "8/8/4p3/3pP3/3P4/8/8/4K3 w - -\n", 1, "exactly one king");
    assert_refused("explain -", "8/8/4p3/3pP3/3P4/8/8/4N3 w - -\n", 1, "exactly one king");
    assert_refused("explain -", "p7/8/4p3/3pP3/3P4/8/8/8 w - -\n", 1, "exactly one king");
}

static void games_are_explained(void **state)
{
    (void)state;
    /* 1. e4 e6 2. d4 d5 3. e5 c5 */
    const char *games = "/tmp/pawnvane-explain.pgn";
    FILE *file = fopen(games, "w");
    assert_non_null(file);
    fputs("[White \"A \\\"Ace\\\"\"]\n\n1. d4 *\n\n[White \"B\"]\n[Black \"C\"]\n\n1. e4 e6 2. d4 d5 3. e5 "
          "c5 *\n",
          file);
    assert_int_equal(fclose(file), 0);
    HarnessRun run = harness_run("explain /tmp/pawnvane-explain.pgn --game 2 --move 3w", "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.err, "");
    static const char head[] =
        "B – C, after 3.e5\nrnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq -\nBlack to move\n";
    if (strncmp(run.out, head, sizeof head - 1) != 0)
        fail_msg("%s", run.out);
    harness_free(&run);
    run = harness_run("explain /tmp/pawnvane-explain.pgn --move 1W", "");
    assert_int_equal(run.status, 0);
    assert_non_null(strstr(run.out, "A 'Ace' – Black, after 1.d4\n"));
    harness_free(&run);
    assert_refused("explain /tmp/pawnvane-explain.pgn", "", 2, "expected the move to explain as well");
    assert_refused("explain /tmp/pawnvane-explain.pgn --move 3x", "", 2, "--move is \"3x\"");
    assert_refused("explain /tmp/pawnvane-explain.pgn --game 3 --move 3w", "", 1, "there is no game 3");
    assert_refused("explain /tmp/pawnvane-explain.pgn --game 2 --move 4w", "", 1,
                   "has no move 4w; its last is 3b");
    unlink(games);
}

/* PGN standard, 1994, section 8.2.3.2, has the German letters: K D T L S B. */
static void foreign_text_is_named(void **state)
{
    (void)state;
    assert_refused("explain -", "tslk1lst/8/8/8/8/8/8/4K3 w - -\n", 1, "T is the German letter of the rook");
    assert_refused("explain -", "4k3/8/8/8/8/8/8/4K2X w - -\n", 1, "12345678/\n");
    static const char utf16[] = "printf '\\377\\3764\\000k\\000' >/tmp/pawnvane-utf16";
    assert_int_equal(system(utf16), 0);
    assert_refused("explain /tmp/pawnvane-utf16", "", 1, "looks like UTF-16; expected UTF-8");
    assert_int_equal(rename("/tmp/pawnvane-utf16", "/tmp/pawnvane-utf16.pgn"), 0);
    assert_refused("explain --move 1w /tmp/pawnvane-utf16.pgn", "", 1, "looks like UTF-16; expected UTF-8");
    unlink("/tmp/pawnvane-utf16.pgn");
}

static void mistakes_get_one_line(void **state)
{
    (void)state;
    assert_refused("explain", "", 2, "there is no position");
    assert_refused("explain --fen '8/8/8/8/8/8/8/8 w - -'", "", 2, "exactly one king");
    assert_refused("explain --fen 'k7/8/8/8/8/8/8/KQ6 w - - 0 1 trailing nonsense x'", "", 2,
                   "\"trailing nonsense x\" is no operation");
    assert_refused("explain -", "4k3/8/8/8/8/8/8/4K3 w - - 0 1 bm Ke2\n", 1, "standard input:1: \"bm Ke2\"");
    assert_refused("explain --fen '4k3/8/8/8/8/8/8/4K3 w - -' -", "", 2, "both --fen and a file");
    assert_refused("explain --json=1 -", "", 2, "--json");
    assert_refused("explain --jason -", "", 2, "--jason");
    assert_refused("explain /nonexistent.epd", "", 1, "/nonexistent.epd: cannot be opened");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(json_is_as_worked_out_by_hand),
        cmocka_unit_test(json_agrees_with_the_published_lever_positions),
        cmocka_unit_test(diagram_shows_rams_chains_arrows_and_levers),
        cmocka_unit_test(people_get_sentences_plans_breaks_and_the_parts_of_the_term),
        cmocka_unit_test(input_comes_from_everywhere),
        cmocka_unit_test(bad_lines_cost_only_themselves),
        cmocka_unit_test(manners_are_kind),
        cmocka_unit_test(games_are_explained),
        cmocka_unit_test(foreign_text_is_named),
        cmocka_unit_test(mistakes_get_one_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
