/* Programs and libraries of different versions: sizes that are not those of this header. */
#include "tests/structure/structure_boards.h"

static const char diagram[] = "r..qk..r"
                              "pp.n.ppp"
                              "....p..."
                              "..ppP..."
                              "...P...."
                              "..P..N.."
                              "PP...PPP"
                              "R..QK..R";

/* A structure of this header with room behind it, as other headers may have it. */
typedef struct WideBoard {
    ps_board board;
    unsigned char more[64];
} WideBoard;

typedef struct WideAnalysis {
    ps_analysis analysis;
    unsigned char more[64];
} WideAnalysis;

enum { FILLING = 0xA5 };

static void assert_all(const void *bytes, size_t size, int value)
{
    const unsigned char *at = bytes;
    for (size_t i = 0; i < size; i++)
        assert_int_equal(at[i], value);
}

static ps_board read_diagram(void)
{
    ps_board board;
    assert_true(ps_board_from_diagram(&board, diagram, PS_WHITE));
    return board;
}

/* Members that are compared: the last ones, and one that says that the analysis has been made. */
static void assert_same_analysis(const ps_analysis *analysis, const ps_analysis *expected)
{
    assert_int_equal(expected->chain_count, 1);
    assert_int_equal(analysis->chain_count, expected->chain_count);
    assert_int_equal(analysis->chains[0].side[PS_WHITE].base_lever.tempi, 4);
    assert_memory_equal(analysis->plan, expected->plan, sizeof expected->plan);
    for (ps_side side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_break_list *breaks = &expected->breaks[side];
        assert_int_equal(analysis->breaks[side].count, breaks->count);
        assert_memory_equal(analysis->breaks[side].items, breaks->items,
                            (size_t)breaks->count * sizeof(ps_break));
    }
}

static void a_newer_program_finds_zeros(void **state)
{
    (void)state;
    ps_board board = read_diagram();
    ps_analysis expected;
    ps_analyse(&expected, &board);

    WideBoard wide_board;
    memset(&wide_board, FILLING, sizeof wide_board);
    assert_true(ps_board_from_diagram_sized(&wide_board.board, sizeof wide_board, diagram, PS_WHITE));
    assert_memory_equal(&wide_board.board, &board, sizeof board);
    assert_all(wide_board.more, sizeof wide_board.more, 0);

    WideAnalysis wide;
    memset(&wide, FILLING, sizeof wide);
    ps_analyse_sized(&wide.analysis, sizeof wide, &wide_board.board, sizeof wide_board);
    assert_same_analysis(&wide.analysis, &expected);
    assert_all(wide.more, sizeof wide.more, 0);
}

static void an_older_program_keeps_what_lies_behind(void **state)
{
    (void)state;
    ps_board board = read_diagram();
    ps_analysis expected, shorter;
    ps_analyse(&expected, &board);
    size_t size = offsetof(ps_analysis, breaks);
    memset(&shorter, FILLING, sizeof shorter);
    ps_analyse_sized(&shorter, size, &board, sizeof board);
    assert_int_equal(shorter.chain_count, 1);
    assert_memory_equal(shorter.plan, expected.plan, sizeof expected.plan);
    assert_all((const char *)&shorter + size, sizeof shorter - size, FILLING);

    ps_board short_board;
    size = offsetof(ps_board, to_move);
    memset(&short_board, FILLING, sizeof short_board);
    assert_true(ps_board_from_diagram_sized(&short_board, size, diagram, PS_WHITE));
    assert_memory_equal(&short_board, &board, size);
    assert_all((const char *)&short_board + size, sizeof short_board - size, FILLING);
}

static int expect_no_host(const void *host, int square, ps_side side, int lifted)
{
    (void)square, (void)side, (void)lifted;
    assert_null(host);
    return 3;
}

static void an_older_board_counts_as_zero_at_its_end(void **state)
{
    (void)state;
    ps_board board = read_diagram();
    ps_analysis analysis;
    board.count_attackers = expect_no_host;
    assert_non_null(board.host);
    ps_analyse_sized(&analysis, sizeof analysis, &board, offsetof(ps_board, host));
    assert_int_equal(analysis.chains[0].side[PS_WHITE].base_lever.supporters, 3);
}

static void a_bad_diagram_changes_nothing(void **state)
{
    (void)state;
    WideBoard wide;
    memset(&wide, FILLING, sizeof wide);
    assert_false(ps_board_from_diagram_sized(&wide.board, sizeof wide, "x", PS_WHITE));
    assert_all(&wide, sizeof wide, FILLING);
}

static void the_library_is_of_this_version(void **state)
{
    (void)state;
    char text[64];
    snprintf(text, sizeof text, "%d.%d.%d", PS_VERSION_MAJOR, PS_VERSION_MINOR, PS_VERSION_PATCH);
    assert_string_equal(PS_VERSION, text);
    assert_string_equal(ps_version(), text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_newer_program_finds_zeros),
        cmocka_unit_test(an_older_program_keeps_what_lies_behind),
        cmocka_unit_test(an_older_board_counts_as_zero_at_its_end),
        cmocka_unit_test(a_bad_diagram_changes_nothing),
        cmocka_unit_test(the_library_is_of_this_version),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
