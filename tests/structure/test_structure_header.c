/* structure/structure.h as a manual: each example in it is run here, word by word, and no call is without
 * one. */
#include <ctype.h>
#include <stdlib.h>

#include "tests/structure/header_text.h"
#include "tests/structure/structure_boards.h"

static const char header_path[] = "structure/structure.h";
static const char own_path[] = "tests/structure/test_structure_header.c";

/* ----------------------------------------------------------------------------------------- the examples */

static const char board_diagram[] = "r..qk..r"
                                    "pp.n.ppp"
                                    "....p..."
                                    "..ppP..."
                                    "...P...."
                                    "..P..N.."
                                    "PP...PPP"
                                    "R..QK..R";

static void example_of_the_board(void)
{
    static const char diagram[] = "r..qk..r"
                                  "pp.n.ppp"
                                  "....p..."
                                  "..ppP..."
                                  "...P...."
                                  "..P..N.."
                                  "PP...PPP"
                                  "R..QK..R";
    ps_board board;
    ps_analysis analysis;
    char words[PS_EXPLAIN_SIZE];
    if (ps_board_from_diagram(&board, diagram, PS_WHITE)) {
        ps_analyse(&analysis, &board);
        ps_explain(words, sizeof words, &analysis, &board);
        puts(words);
    }
}

static ps_board example_board(void)
{
    ps_board board;
    assert_true(ps_board_from_diagram(&board, board_diagram, PS_WHITE));
    return board;
}

static void example_of_the_analysis(void)
{
    ps_board board = example_board();
    ps_analysis analysis;
    ps_analyse(&analysis, &board);
    const ps_lever *lever = ps_plan_lever(&analysis, PS_WHITE);
    if (lever != NULL && ps_lever_is_live(lever))
        printf("%s in %d tempi\n", ps_square_name(lever->square), lever->tempi);
}

static void example_of_the_overview(void)
{
    ps_board board = example_board();
    ps_analysis analysis = {.chain_count = 0};
    if (ps_read_overview(board.pawns).pairs & 1 << 3)
        ps_analyse(&analysis, &board); // some chain holds d and e
    printf("%d\n", analysis.chain_count);
}

static void example_of_the_grade(void)
{
    ps_board board = example_board();
    ps_analysis analysis = {.chain_count = 0};
    if (ps_grade_of_pairs(ps_read_overview(board.pawns).pairs) == PS_FIRM)
        ps_analyse(&analysis, &board);
    printf("%d\n", analysis.chain_count);
}

static void say_how_black_stands(ps_board board)
{
    ps_analysis analysis;
    ps_analyse(&analysis, &board);
    const ps_chain_side *chain = ps_plan_chain(&analysis, PS_BLACK);
    if (chain != NULL && chain->toward == PS_NO_FILE)
        puts("Black's pawns point off the board");
    if (chain != NULL && ps_lever_is_done(&chain->base_lever))
        puts("Black's lever has done its work");
}

/* A board with its c-pawns off, one with a chain that runs to the a-file, and one without a chain. */
static void examples_of_the_chain(void)
{
    static const char *const boards[] = {"Pd4 pd5 Pe5 pe6", "Pa2 pa3 Pb3 pb4 Pc4 pc5", "Pd4 pd5"};
    for (size_t i = 0; i < sizeof boards / sizeof *boards; i++) {
        Placed placed;
        place(&placed, boards[i], PS_WHITE);
        say_how_black_stands(placed.board);
    }
    say_how_black_stands(example_board());
}

static void example_of_the_version(void)
{
    printf("compiled with %s, running with %s\n", PS_VERSION, ps_version());
}

static void example_of_the_sizes(void)
{
    const char *diagram = board_diagram;
    ps_board board;
    ps_analysis analysis;
    ps_board_from_diagram_sized(&board, sizeof board, diagram, PS_BLACK);
    ps_analyse_sized(&analysis, sizeof analysis, &board, sizeof board);
    printf("%s\n", ps_verdict_name(analysis.plan[PS_WHITE].verdict));
}

static void example_of_the_words(void)
{
    ps_side side = PS_BLACK;
    printf("%s: %s is %s\n", ps_side_name(side), ps_files_name(3, 5), ps_grade_name(PS_FIRM));
    printf("the plan %s on the %s\n", ps_verdict_name(PS_APPLIES), ps_region_name(PS_KINGSIDE));
    printf("%s is %s\n", ps_square_name(37), ps_status_name(PS_READY));
    printf("%s break, %s miss\n", ps_break_kind_name(PS_HEAD), ps_near_miss_name(PS_RIM));
    printf("%s rule, %s part\n", ps_rule_name(PS_STRICT), ps_part_name(PS_PART_ROOM));
}

static void example_of_the_term(void)
{
    ps_board board = example_board();
    ps_skeleton skeleton; // keep it by pawn key
    ps_read_skeleton(&skeleton, board.pawns, PS_STRICT);
    int score = ps_is_silent(&skeleton) ? 0 : ps_term(&skeleton, &board, &ps_default_weights);
    printf("%d\n", score);
}

static void example_of_the_parts(void)
{
    ps_board board = example_board();
    ps_skeleton skeleton;
    ps_read_skeleton(&skeleton, board.pawns, PS_STRICT);
    ps_side_term sides[2];
    int same = ps_term_parts(sides, &skeleton, &board, &ps_default_weights);
    printf("white: lever %d, room %d; in all %d\n", sides[PS_WHITE].parts[PS_PART_LEVER],
           sides[PS_WHITE].parts[PS_PART_ROOM], same);
}

static void example_of_plans_in_hand(void)
{
    ps_board board = example_board();
    ps_skeleton skeleton;
    ps_read_skeleton(&skeleton, board.pawns, PS_STRICT);
    ps_intent intent; // once for each search
    ps_intend(&intent, &board, PS_STRICT, &ps_default_weights);
    uint64_t key = ps_intent_key(&intent); // to be mixed into the keys of the search's table
    bool silent = ps_is_silent(&skeleton) && !ps_has_intent(&intent);
    int term = silent ? 0 : ps_intent_term(&intent, &skeleton, &board, &ps_default_weights);
    ps_side_term parts[2];
    int all = ps_intent_parts(parts, &intent, &skeleton, &board, &ps_default_weights);
    printf("%d, %d, %s\n", term, all, key != 0 ? "with plans" : "without");
}

static void example_of_the_weights(void)
{
    ps_weights weights = ps_default_weights;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++)
        printf("%s %d\n", ps_weight_table[i].name, *ps_weight_at(&weights, i));
    weights.base_lever[0] = 0;
    puts(ps_weights_are_sound(&weights) ? "sound" : "a lever played must not score less than a ready one");
}

/* --------------------------------------------------------------------------------------- what they print */

/* What a call prints; to be freed. */
static char *printed(void (*example)(void))
{
    char *text = NULL;
    size_t size = 0;
    FILE *terminal = stdout;
    stdout = open_memstream(&text, &size);
    assert_non_null(stdout);
    example();
    fclose(stdout);
    stdout = terminal;
    return text;
}

static void assert_prints(void (*example)(void), const char *expected)
{
    char *text = printed(example);
    assert_string_equal(text, expected);
    free(text);
}

static void the_examples_run(void **state)
{
    (void)state;
    char *words = printed(example_of_the_board);
    assert_non_null(
        strstr(words, "White's pawns point to the kingside, and the lever f5 against e6, the base of "));
    assert_non_null(strstr(words, "White still needs four tempi."));
    free(words);
    assert_prints(example_of_the_analysis, "f5 in 4 tempi\n");
    assert_prints(example_of_the_overview, "1\n");
    assert_prints(example_of_the_grade, "1\n");
    assert_prints(examples_of_the_chain, "Black's lever has done its work\n"
                                         "Black's pawns point off the board\n");
    assert_prints(example_of_the_version, "compiled with " PS_VERSION ", running with " PS_VERSION "\n");
    assert_prints(example_of_the_sizes, "applies\n");
    assert_prints(example_of_the_words, "black: def is firm\n"
                                        "the plan applies on the kingside\n"
                                        "f5 is ready\n"
                                        "head break, rim miss\n"
                                        "strict rule, room part\n");

    /* Black has played c5 (guarded once, attacked once), White's f5 is four tempi away. */
    const ps_weights *w = &ps_default_weights;
    ps_board board = example_board();
    ps_analysis analysis;
    ps_analyse(&analysis, &board);
    const ps_plan *plan = analysis.plan;
    int white_room = w->room * plan[PS_WHITE].room / 16;
    int score = w->base_lever[4] + white_room + w->piece * plan[PS_WHITE].pieces - w->base_lever[0] -
                w->room * plan[PS_BLACK].room / 16 - w->piece * plan[PS_BLACK].pieces;
    char expected[128];
    snprintf(expected, sizeof expected, "%d\n", score);
    assert_prints(example_of_the_term, expected);
    snprintf(expected, sizeof expected, "white: lever %d, room %d; in all %d\n", w->base_lever[4], white_room,
             score);
    assert_prints(example_of_the_parts, expected);

    snprintf(expected, sizeof expected, "%d, %d, with plans\n", score, score);
    assert_prints(example_of_plans_in_hand, expected);

    char *weights = printed(example_of_the_weights);
    assert_non_null(strstr(weights, "\ngrade[PS_FIRM] 100\na lever played must not score less"));
    free(weights);
}

/* ---------------------------------------------------------------------------------- the header as a text */

/* A line of an example: indented in a comment, and ending like code. */
static bool is_example(const char *line)
{
    size_t length = strlen(line);
    return strncmp(line, " *     ", 7) == 0 &&
           (strchr(";{},\"", line[length - 1]) != NULL || strstr(line, "; //") != NULL ||
            strncmp(line + 7, "for (", 5) == 0 || strncmp(line + 7, "if (", 4) == 0);
}

static void each_example_is_run_word_by_word(void **state)
{
    (void)state;
    char *header = read_whole(header_path);
    char *source = read_whole(own_path);
    int count = 0;
    drop_spaces(source);
    char *rest = header;
    for (char *line; (line = strsep(&rest, "\n")) != NULL;) {
        if (line[0] == '\0' || !is_example(line))
            continue;
        char *code = line + 2;
        drop_spaces(code);
        if (strstr(source, code) == NULL)
            fail_msg("not run: %s", code);
        count++;
    }
    assert_true(count >= 40);
    free(header);
    free(source);
}

/* Whether the name of that length is called in some example. */
static bool has_example(const char *header, const char *name, size_t length)
{
    for (const char *at = header; (at = strchr(at, '(')) != NULL; at++) {
        if ((size_t)(at - header) < length || memcmp(at - length, name, length) != 0)
            continue;
        const char *start = at;
        while (start > header && start[-1] != '\n')
            start--;
        if (strncmp(start, " *     ", 7) == 0)
            return true;
    }
    return false;
}

static void no_call_is_without_an_example(void **state)
{
    (void)state;
    char *header = read_whole(header_path);
    int count = 0;
    for (const char *line = header; line != NULL && *line != '\0'; line = strchr(line, '\n')) {
        line += *line == '\n';
        const char *end = line + strcspn(line, "\n");
        const char *open = memchr(line, '(', (size_t)(end - line));
        bool declaration = isalpha((unsigned char)*line) && open != NULL &&
                           strncmp(line, "typedef", 7) != 0 && strncmp(line, "enum", 4) != 0;
        if (!declaration)
            continue;
        const char *name = open;
        while (isalnum((unsigned char)name[-1]) || name[-1] == '_')
            name--;
        if (!has_example(header, name, (size_t)(open - name)))
            fail_msg("no example of %.*s", (int)(open - name), name);
        count++;
    }
    assert_int_equal(count, 36);
    free(header);
}

/* ----------------------------------------------------------------------------------- who may include it */

static void assert_compiles(const char *compiler, const char *flags)
{
    char command[256];
    snprintf(command, sizeof command, "command -v %s >/dev/null", compiler);
    if (system(command) != 0) {
        print_message("there is no %s here\n", compiler);
        skip();
    }
    /* As another project would: without this one's include path. */
    snprintf(command, sizeof command, "%s %s -Wall -Wextra -Wpedantic -Werror -fsyntax-only %s", compiler,
             flags, header_path);
    assert_int_equal(system(command), 0);
}

static void c_may_include_it(void **state)
{
    (void)state;
    assert_compiles("cc", "-std=c11 -x c");
}

static void cpp_may_include_it(void **state)
{
    (void)state;
    assert_compiles("c++", "-std=c++11 -x c++");
    assert_compiles("c++", "-std=c++20 -x c++");
}

/* --------------------------------------------------------------------------------------------- diagrams */

static void a_bad_diagram_is_refused(void **state)
{
    (void)state;
    ps_board board = example_board();
    ps_board before = board;
    char diagram[65];
    for (int i = 0; i < 64; i += 21) {
        memcpy(diagram, board_diagram, 65);
        diagram[i] = 'x';
        assert_false(ps_board_from_diagram(&board, diagram, PS_BLACK));
        diagram[i] = '\0'; /* too short */
        assert_false(ps_board_from_diagram(&board, diagram, PS_BLACK));
    }
    assert_memory_equal(&board, &before, sizeof board);
}

static void a_diagram_is_read_from_a8(void **state)
{
    (void)state;
    Placed placed;
    place(&placed, "Pa2 ph7 Nb1 Bc1 Rd1 Qe1 Kf1 nb8 bc8 rd8 qe8 kg8", PS_BLACK);
    assert_int_equal(placed.board.pawns[PS_WHITE], UINT64_C(1) << 8);
    assert_int_equal(placed.board.pawns[PS_BLACK], UINT64_C(1) << 55);
    assert_int_equal(placed.board.pieces[PS_WHITE], UINT64_C(0x1E));
    assert_int_equal(placed.board.pieces[PS_BLACK], UINT64_C(0x1E) << 56);
    assert_int_equal(placed.board.kings[PS_WHITE], UINT64_C(1) << 5);
    assert_int_equal(placed.board.kings[PS_BLACK], UINT64_C(1) << 62);
    assert_int_equal(placed.board.to_move, PS_BLACK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_examples_run),
        cmocka_unit_test(each_example_is_run_word_by_word),
        cmocka_unit_test(no_call_is_without_an_example),
        cmocka_unit_test(c_may_include_it),
        cmocka_unit_test(cpp_may_include_it),
        cmocka_unit_test(a_bad_diagram_is_refused),
        cmocka_unit_test(a_diagram_is_read_from_a8),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
