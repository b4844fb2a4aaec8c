/* Rams, links, locked chains and their directions: sections 1 and 2 of the definitions in
 * structure/structure.h. */
#include "tests/structure/structure_boards.h"

static ps_analysis analyse(const char *men)
{
    Placed placed;
    ps_analysis analysis;
    place(&placed, men, PS_WHITE);
    ps_analyse(&analysis, &placed.board);
    return analysis;
}

static void assert_chains(const char *men, int count)
{
    ps_analysis analysis = analyse(men);
    if (analysis.chain_count != count)
        fail_msg("%s: %d chains, expected %d", men, analysis.chain_count, count);
}

static void assert_square(int square, const char *name)
{
    assert_string_equal(ps_square_name(square), name);
}

static void a_ram_is_face_to_face(void **state)
{
    (void)state;
    assert_chains("Pd4 pd5 Pe5 pe6", 1);
    assert_chains("Pd4 pd6 Pe5 pe6", 0); /* a gap on d */
    assert_chains("Pd4 pd3 Pe5 pe4", 0); /* past each other */
    assert_chains("Pd4 Pe5 pe6", 0);
    assert_chains("Pd4 rd5 Pe5 pe6", 0); /* a rook is no pawn */
}

static void a_link_is_one_file_and_one_rank(void **state)
{
    (void)state;
    assert_chains("Pd4 pd5 Pe4 pe5", 0); /* side by side */
    assert_chains("Pd3 pd4 Pe5 pe6", 0); /* two ranks apart */
    assert_chains("Pd4 pd5 Pf5 pf6", 0); /* two files apart */
    assert_chains("Pa3 pa4 Ph4 ph5", 0); /* the board does not close round the rim */
    assert_chains("Pa4 pa5 Ph3 ph4", 0);
    assert_chains("Pd5 pd6 Pe4 pe5", 1); /* downhill as well as uphill */
    assert_chains("Pd4 pd5 Pe5 pf6", 0); /* a link with one ram */
}

/* Rams on the files first .. last, rising from White's second rank. */
static void place_chain(Placed *placed, int first, int last)
{
    clear_board(placed);
    for (int file = first; file <= last; file++)
        add_ram(placed, file, 1 + file - first);
    use_diagram(placed, PS_WHITE);
}

/* All chains that can be: the white pawn of a ram stands on the second to the sixth rank. */
static void a_chain_is_named_by_its_files_and_graded_by_its_firmest_pair(void **state)
{
    (void)state;
    static const struct {
        const char *files, *grade;
    } cases[] = {
        {"ab", "void"},     {"bc", "doubtful"}, {"cd", "likely"},    {"de", "firm"},     {"ef", "likely"},
        {"fg", "doubtful"}, {"gh", "void"},     {"abc", "doubtful"}, {"bcd", "likely"},  {"cde", "firm"},
        {"def", "firm"},    {"efg", "likely"},  {"fgh", "doubtful"}, {"abcd", "likely"}, {"bcde", "firm"},
        {"cdef", "firm"},   {"defg", "firm"},   {"efgh", "likely"},  {"abcde", "firm"},  {"bcdef", "firm"},
        {"cdefg", "firm"},  {"defgh", "firm"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Placed placed, turned;
        ps_analysis analysis;
        const char *files = cases[i].files;
        int first = files[0] - 'a', last = files[strlen(files) - 1] - 'a';
        place_chain(&placed, first, last);
        turn_colours(&turned, &placed); /* falling instead of rising */
        const ps_board *boards[] = {&placed.board, &turned.board};
        for (int k = 0; k < 2; k++) {
            ps_analyse(&analysis, boards[k]);
            assert_int_equal(analysis.chain_count, 1);
            assert_int_equal(analysis.chains[0].first_file, first);
            assert_int_equal(analysis.chains[0].last_file, last);
            assert_string_equal(ps_files_name(first, last), files);
            assert_string_equal(ps_grade_name(analysis.chains[0].grade), cases[i].grade);
            unsigned pairs = ps_read_overview(boards[k]->pawns).pairs;
            assert_int_equal(pairs, (1 << last) - (1 << first));
            assert_string_equal(ps_grade_name(ps_grade_of_pairs(pairs)), cases[i].grade);
        }
    }
    assert_int_equal(ps_grade_of_pairs(0), PS_NO_GRADE);
}

/* White's heads, one after the other, by which the chains can be told apart. */
static void assert_heads(const char *men, const char *heads)
{
    ps_analysis analysis = analyse(men);
    char found[64] = "";
    for (int i = 0; i < analysis.chain_count; i++) {
        const ps_chain_side *white = &analysis.chains[i].side[PS_WHITE];
        snprintf(found + strlen(found), sizeof found - strlen(found), "%s%s/%s", i == 0 ? "" : " ",
                 ps_square_name(white->head), ps_square_name(white->base));
    }
    assert_string_equal(found, heads);
}

static void with_doubled_pawns_every_combination_counts(void **state)
{
    (void)state;
    assert_heads("Pd2 pd3 Pd4 pd5 Pe3 pe4", "e3/d2 d4/e3");
    assert_heads("Pd3 pd4 Pe2 pe3 Pe4 pe5", "d3/e2 e4/d3");
    assert_heads("Pd2 pd3 Pd4 pd5 Pe3 pe4 Pe5 pe6", "e3/d2 d4/e3 e5/d4");
    assert_heads("Pd2 pd3 Pd4 pd5 Pd6 pd7 Pe3 pe4 Pe5 pe6", "e3/d2 d4/e3 e5/d4 d6/e5");
    assert_heads("Pc3 pc4 Pd2 pd3 Pd4 pd5 Pe3 pe4", "c3/d2 d4/c3 e3/d2 d4/e3");
}

static void a_chain_goes_on_from_ram_to_ram(void **state)
{
    (void)state;
    assert_heads("Pc3 pc4 Pd4 pd5 Pe5 pe6", "e5/c3");
    assert_heads("Pc5 pc6 Pd4 pd5 Pe3 pe4", "c5/e3");
    assert_heads("Pb2 pb3 Pc3 pc4 Pd4 pd5 Pe5 pe6 Pf6 pf7", "f6/b2");
    /* It ends where a link has no ram, where a ram has no link, where a file is empty. */
    assert_heads("Pc3 pc4 Pd4 pd5 Pe5 pe7", "d4/c3");
    assert_heads("Pc3 pc5 Pd4 pd5 Pe5 pe6", "e5/d4");
    assert_heads("Pc3 pc4 Pd4 pd5 Pe4 pe5 Pf5 pf6", "d4/c3 f5/e4");
    assert_heads("Pa2 pa3 Pb3 pb4 Pd5 pd6 Pe6 pe7", "b3/a2 e6/d5");
    /* And where the slope changes: one ram can be in two chains. */
    assert_heads("Pc3 pc4 Pd4 pd5 Pe3 pe4", "d4/c3 d4/e3");
    assert_heads("Pb5 pb6 Pc4 pc5 Pd3 pd4 Pe4 pe5 Pf5 pf6", "b5/d3 f5/d3");
}

static void with_doubled_pawns_a_ram_can_be_in_crossing_chains(void **state)
{
    (void)state;
    assert_heads("Pc3 pc4 Pc5 pc6 Pd4 pd5 Pe3 pe4 Pe5 pe6", "e5/c3 c5/e3");
    assert_heads("Pc3 pc4 Pd4 pd5 Pe3 pe4 Pe5 pe6", "e5/c3 d4/e3");
    /* Side by side: the same files twice. */
    assert_heads("Pd2 pd3 Pd4 pd5 Pe3 pe4 Pe5 pe6 Pf4 pf5 Pf6 pf7", "f4/d2 d4/e3 f6/d4 e5/f4");
    ps_analysis analysis = analyse("Pc2 pc3 Pd3 pd4 Pe4 pe5 Pc4 pc5 Pd5 pd6 Pe6 pe7");
    assert_string_equal(ps_files_name(analysis.chains[0].first_file, analysis.chains[0].last_file), "cde");
    assert_string_equal(ps_files_name(analysis.chains[2].first_file, analysis.chains[2].last_file), "cde");
}

static void chains_stand_in_the_order_of_the_board(void **state)
{
    (void)state;
    assert_heads("Pg4 pg5 Pf5 pf6 Pe4 pe5 Pb3 pb4 Pa2 pa3", "b3/a2 f5/e4 f5/g4");
    /* Lowest file first, however long; then the rank on that file; then the rank on the next. */
    assert_heads("Pb6 pb7 Pc5 pc6 Pd4 pd5 Pe3 pe4 Pf4 pf5 Pg5 pg6", "b6/e3 g5/e3");
    assert_heads("Pd5 pd6 Pe6 pe7 Pd2 pd3 Pe3 pe4", "e3/d2 e6/d5");
    assert_heads("Pd4 pd5 Pe5 pe6 Pe3 pe4 Pf2 pf3", "d4/f2 e5/d4");
}

/* Rams on b2 b4 b6, a3 a5, c3 c5 and d4: ten locked pairs, as many as eight rams can form, in six chains. */
static void eight_rams_with_ten_pairs(void **state)
{
    (void)state;
    assert_heads("Pb2 pb3 Pb4 pb5 Pb6 pb7 Pa3 pa4 Pa5 pa6 Pc3 pc4 Pc5 pc6 Pd4 pd5 Ke1 ke8",
                 "a3/b2 c5/a3 a5/c3 b6/a5 d4/b2 b6/d4");
}

/* Not a position of chess, but memory must not suffer: 15 rams, pawns on the last ranks, two men
 * on a square. */
static void what_cannot_be_does_no_harm(void **state)
{
    (void)state;
    uint64_t white = 0, black = 0;
    for (int file = 0; file < 8; file++)
        for (int rank = file % 2 == 0 ? 1 : 2; rank < 7; rank += 2) {
            white |= UINT64_C(1) << (rank * 8 + file);
            black |= UINT64_C(1) << (rank * 8 + 8 + file);
        }
    Placed placed;
    ps_analysis analysis;
    ps_skeleton skeleton;
    place(&placed, "Ke1 ke8", PS_WHITE);
    placed.board.pawns[PS_WHITE] = white;
    placed.board.pawns[PS_BLACK] = black;
    ps_analyse(&analysis, &placed.board);
    assert_int_equal(analysis.chain_count, 10); /* five diagonals that rise and five that fall */
    /* Twenty diagonals, of which the first ten are told. */
    placed.board.pawns[PS_WHITE] = placed.board.pawns[PS_BLACK] = ~UINT64_C(0);
    ps_analyse(&analysis, &placed.board);
    assert_int_equal(analysis.chain_count, PS_MAX_CHAINS);
    assert_int_equal(analysis.tension[PS_WHITE].count, PS_MAX_CAPTURES);
    assert_int_equal(analysis.tension[PS_BLACK].count, PS_MAX_CAPTURES);
    char words[PS_EXPLAIN_SIZE];
    ps_explain(words, sizeof words, &analysis, &placed.board);
    for (int rule = PS_STRICT; rule < PS_RULE_COUNT; rule++) {
        ps_read_skeleton(&skeleton, placed.board.pawns, (ps_rule)rule);
        assert_in_range(skeleton.lead_count[PS_WHITE], 0, PS_MAX_CHAINS);
    }
}

static void pawns_on_the_edge_are_left_out(void **state)
{
    (void)state;
    assert_chains("Pd1 pd2 Pe2 pe3", 0);
    assert_chains("Pd7 pd8 Pe6 pe7", 0);
    assert_chains("Pd2 pd3 Pe3 pe4", 1);
    ps_analysis analysis = analyse("Pd4 pd5 Pe5 pe6 Pf1 pf8 Pa1 pb2 pb8 ph3");
    assert_int_equal(analysis.chains[0].side[PS_WHITE].base_lever.status, PS_CLEARED);
    analysis = analyse("Pd4 pd5 Pe5 pe6 Pf1 pf7 Pa1 pb2 pb8 ph3");
    assert_int_equal(analysis.chains[0].side[PS_WHITE].base_lever.status, PS_GONE);
    assert_int_equal(analysis.breaks[PS_WHITE].count, 0);
}

static void heads_bases_and_directions(void **state)
{
    (void)state;
    static const struct {
        const char *men, *head[2], *base[2];
        int direction[2], toward[2];
    } cases[] = {
        {"Pd4 pd5 Pe5 pe6", {"e5", "d5"}, {"d4", "e6"}, {+1, -1}, {5, 2}},
        {"Pd5 pd6 Pe4 pe5", {"d5", "e5"}, {"e4", "d6"}, {-1, +1}, {2, 5}},
        {"Pc4 pc5 Pd5 pd6", {"d5", "c5"}, {"c4", "d6"}, {+1, -1}, {4, 1}},
        {"Pa4 pa5 Pb5 pb6", {"b5", "a5"}, {"a4", "b6"}, {+1, -1}, {2, PS_NO_FILE}},
        {"Pa5 pa6 Pb4 pb5", {"a5", "b5"}, {"b4", "a6"}, {-1, +1}, {PS_NO_FILE, 2}},
        {"Pg4 pg5 Ph5 ph6", {"h5", "g5"}, {"g4", "h6"}, {+1, -1}, {PS_NO_FILE, 5}},
        {"Pg5 pg6 Ph4 ph5", {"g5", "h5"}, {"h4", "g6"}, {-1, +1}, {5, PS_NO_FILE}},
        /* Three to five files. */
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4", {"d5", "f4"}, {"f3", "d6"}, {-1, +1}, {2, 6}},
        {"Pc3 pc4 Pd4 pd5 Pe5 pe6", {"e5", "c4"}, {"c3", "e6"}, {+1, -1}, {5, 1}},
        {"Pd2 pd3 Pe3 pe4 Pf4 pf5 Pg5 pg6", {"g5", "d3"}, {"d2", "g6"}, {+1, -1}, {7, 2}},
        {"Pc6 pc7 Pd5 pd6 Pe4 pe5 Pf3 pf4 Pg2 pg3", {"c6", "g3"}, {"g2", "c7"}, {-1, +1}, {1, 7}},
        {"Pa2 pa3 Pb3 pb4 Pc4 pc5 Pd5 pd6 Pe6 pe7", {"e6", "a3"}, {"a2", "e7"}, {+1, -1}, {5, PS_NO_FILE}},
        {"Pd6 pd7 Pe5 pe6 Pf4 pf5 Pg3 pg4 Ph2 ph3", {"d6", "h3"}, {"h2", "d7"}, {-1, +1}, {2, PS_NO_FILE}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ps_analysis analysis = analyse(cases[i].men);
        assert_int_equal(analysis.chain_count, 1);
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            const ps_chain_side *view = &analysis.chains[0].side[side];
            assert_square(view->head, cases[i].head[side]);
            assert_square(view->base, cases[i].base[side]);
            assert_int_equal(view->direction, cases[i].direction[side]);
            assert_int_equal(view->toward, cases[i].toward[side]);
        }
    }
}

static void levers_stand_beside_head_and_base(void **state)
{
    (void)state;
    static const struct {
        const char *men, *base[2], *base_target[2], *head[2], *head_target[2];
    } cases[] = {
        {"Pd4 pd5 Pe5 pe6", {"f5", "c5"}, {"e6", "d4"}, {"c4", "f6"}, {"d5", "e5"}},
        {"Pd5 pd6 Pe4 pe5", {"c5", "f5"}, {"d6", "e4"}, {"f4", "c6"}, {"e5", "d5"}},
        {"Pc2 pc3 Pd3 pd4", {"e3", "b3"}, {"d4", "c2"}, {"b2", "e4"}, {"c3", "d3"}},
        {"Pe6 pe7 Pf5 pf6", {"d6", "g6"}, {"e7", "f5"}, {"g5", "d7"}, {"f6", "e6"}},
        /* The levers move on with the chain: g4, not f5, and b4, not c5. */
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4", {"c5", "g4"}, {"d6", "f3"}, {"g3", "c6"}, {"f4", "d5"}},
        {"Pc3 pc4 Pd4 pd5 Pe5 pe6", {"f5", "b4"}, {"e6", "c3"}, {"b3", "f6"}, {"c4", "e5"}},
        {"Pd4 pd5 Pe5 pe6 Pf6 pf7", {"g6", "c5"}, {"f7", "d4"}, {"c4", "g7"}, {"d5", "f6"}},
        {"Pd2 pd3 Pe3 pe4 Pf4 pf5 Pg5 pg6", {"h5", "c3"}, {"g6", "d2"}, {"c2", "h6"}, {"d3", "g5"}},
        {"Pc6 pc7 Pd5 pd6 Pe4 pe5 Pf3 pf4 Pg2 pg3", {"b6", "h3"}, {"c7", "g2"}, {"h2", "b7"}, {"g3", "c6"}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ps_analysis analysis = analyse(cases[i].men);
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            const ps_chain_side *view = &analysis.chains[0].side[side];
            const ps_chain_side *enemy = &analysis.chains[0].side[1 - side];
            assert_square(view->base_lever.square, cases[i].base[side]);
            assert_square(view->base_lever.target, cases[i].base_target[side]);
            assert_square(view->head_lever.square, cases[i].head[side]);
            assert_square(view->head_lever.target, cases[i].head_target[side]);
            assert_int_equal(view->base_lever.target, enemy->base);
            assert_int_equal(view->head_lever.target, enemy->head);
        }
    }
}

static void there_is_no_lever_off_the_board(void **state)
{
    (void)state;
    ps_analysis analysis = analyse("Pa4 pa5 Pb5 pb6");
    const ps_chain_side *white = &analysis.chains[0].side[PS_WHITE];
    const ps_chain_side *black = &analysis.chains[0].side[PS_BLACK];
    assert_square(white->base_lever.square, "c5");
    assert_int_equal(white->head_lever.square, PS_NO_SQUARE);
    assert_int_equal(black->base_lever.square, PS_NO_SQUARE);
    assert_square(black->head_lever.square, "c6");
    assert_false(ps_lever_is_live(&white->head_lever));

    analysis = analyse("Pg5 pg6 Ph4 ph5");
    assert_square(analysis.chains[0].side[PS_WHITE].base_lever.square, "f5");
    assert_int_equal(analysis.chains[0].side[PS_WHITE].head_lever.square, PS_NO_SQUARE);
    assert_int_equal(analysis.chains[0].side[PS_BLACK].base_lever.square, PS_NO_SQUARE);

    /* A long chain can run to the edge, too. */
    analysis = analyse("Pd2 pd3 Pe3 pe4 Pf4 pf5 Pg5 pg6 Ph6 ph7");
    white = &analysis.chains[0].side[PS_WHITE];
    black = &analysis.chains[0].side[PS_BLACK];
    assert_int_equal(white->base_lever.square, PS_NO_SQUARE);
    assert_square(white->head_lever.square, "c2");
    assert_square(black->base_lever.square, "c3");
    assert_int_equal(black->head_lever.square, PS_NO_SQUARE);
}

static void assert_target_is_base(const char *men, ps_side side, bool base, bool head)
{
    ps_analysis analysis = analyse(men);
    const ps_chain_side *view = &analysis.chains[0].side[side];
    assert_int_equal(view->base_lever.target_is_base, base);
    assert_int_equal(view->head_lever.target_is_base, head);
}

static void the_target_is_a_base_if_no_pawn_defends_it(void **state)
{
    (void)state;
    assert_target_is_base("Pd4 pd5 Pe5 pe6", PS_WHITE, true, false);
    assert_target_is_base("Pd4 pd5 Pe5 pe6", PS_BLACK, true, false);
    assert_target_is_base("Pd4 pd5 Pe5 pe6 pf7", PS_WHITE, false, false);
    assert_target_is_base("Pd4 pd5 Pe5 pe6 pd7", PS_WHITE, false, false);
    assert_target_is_base("Pd4 pd5 Pe5 pe6 Pc3", PS_BLACK, false, false);
    assert_target_is_base("Pd4 pd5 Pe5 pe6 Pe3", PS_BLACK, false, false);
    assert_target_is_base("Pd4 pd5 Pe5 pe6 bf7", PS_WHITE, true, false); /* a bishop is no pawn */
    assert_target_is_base("Pd4 pd5 Pe5 pe6 Pf7", PS_WHITE, true, false); /* nor is an own pawn */
    assert_target_is_base("Pd4 pd5 Pe5 pe6 pf5", PS_WHITE, true, false); /* it does not defend backwards */
    /* In a long chain only what stands behind its base counts. */
    assert_target_is_base("Pd5 pd6 Pe4 pe5 Pf3 pf4 pg5", PS_WHITE, true, false);
    assert_target_is_base("Pd5 pd6 Pe4 pe5 Pf3 pf4 pc7", PS_WHITE, false, false);
    assert_target_is_base("Pd5 pd6 Pe4 pe5 Pf3 pf4", PS_BLACK, true, false);
    assert_target_is_base("Pd5 pd6 Pe4 pe5 Pf3 pf4 Pg2", PS_BLACK, false, false);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_ram_is_face_to_face),
        cmocka_unit_test(a_link_is_one_file_and_one_rank),
        cmocka_unit_test(a_chain_is_named_by_its_files_and_graded_by_its_firmest_pair),
        cmocka_unit_test(a_chain_goes_on_from_ram_to_ram),
        cmocka_unit_test(with_doubled_pawns_every_combination_counts),
        cmocka_unit_test(with_doubled_pawns_a_ram_can_be_in_crossing_chains),
        cmocka_unit_test(chains_stand_in_the_order_of_the_board),
        cmocka_unit_test(eight_rams_with_ten_pairs),
        cmocka_unit_test(what_cannot_be_does_no_harm),
        cmocka_unit_test(pawns_on_the_edge_are_left_out),
        cmocka_unit_test(heads_bases_and_directions),
        cmocka_unit_test(levers_stand_beside_head_and_base),
        cmocka_unit_test(there_is_no_lever_off_the_board),
        cmocka_unit_test(the_target_is_a_base_if_no_pawn_defends_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
