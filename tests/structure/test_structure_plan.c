/* The plan of a side: section 4 of the definitions in structure/structure.h. */
#include "tests/structure/structure_boards.h"

static ps_analysis analyse(const char *men, ps_side to_move)
{
    Placed placed;
    ps_analysis analysis;
    place(&placed, men, to_move);
    ps_analyse(&analysis, &placed.board);
    return analysis;
}

/* The plan as "verdict head region", the head being that of the principal chain. */
static void assert_plan(const char *men, ps_side side, const char *expected)
{
    ps_analysis analysis = analyse(men, PS_WHITE);
    const ps_plan *plan = &analysis.plan[side];
    char found[64];
    if (plan->verdict == PS_NONE)
        snprintf(found, sizeof found, "none");
    else
        snprintf(found, sizeof found, "%s %s %s", ps_verdict_name(plan->verdict),
                 ps_square_name(analysis.chains[plan->chain].side[side].head), ps_region_name(plan->region));
    if (strcmp(found, expected) != 0)
        fail_msg("%s: %s has \"%s\", expected \"%s\"", men, ps_side_name(side), found, expected);
}

static void void_chains_make_no_plan(void **state)
{
    (void)state;
    assert_plan("Pd4 pd5 Pe5 Pf2", PS_WHITE, "none");
    assert_plan("Pa4 pa5 Pb5 pb6 Pc4", PS_WHITE, "none");
    assert_plan("Pg4 pg5 Ph5 ph6", PS_BLACK, "none");
    /* However ready its lever is, a void chain does not come before a doubtful one. */
    assert_plan("Pa4 pa5 Pb5 pb6 Pc5 Pf4 pf5 Pg5 pg6", PS_WHITE, "weak g5 kingside");
}

static void the_firmer_grade_comes_first(void **state)
{
    (void)state;
    /* The firm chain's lever c5 is barred and the likely chain's e5 could be ready: the firm one counts. */
    assert_plan("Pc4 pc5 Pd5 pd6 Pe4 pe5", PS_WHITE, "misleading d5 queenside");
    /* Likely before doubtful: White's d5 beside c4 is gone, a5 beside b4 would be ready. */
    assert_plan("Pa4 Pb4 pb5 Pc5 pc6 Pd4 pd5", PS_WHITE, "misleading c5 queenside");
    assert_plan("Pb4 pb5 Pc5 pc6 Pd4", PS_WHITE, "weak c5 centre");
}

/* cd points to b5, ef points to g5. */
#define TWO_CHAINS "Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 "

static void live_levers_come_before_done_ones_and_these_before_the_others(void **state)
{
    (void)state;
    /* Live before cleared, either way round. */
    assert_plan(TWO_CHAINS "Pg2", PS_WHITE, "applies f5 kingside");
    assert_plan(TWO_CHAINS "Pb2", PS_WHITE, "applies c5 queenside");
    /* However far away it is, and played as well. */
    assert_plan(TWO_CHAINS "Pg2 Ng3 Ng4 Ng5", PS_WHITE, "applies f5 kingside");
    assert_plan(TWO_CHAINS "Pg5", PS_WHITE, "applies f5 kingside");
    assert_plan(TWO_CHAINS "Pg5 Pb6", PS_WHITE, "applies f5 kingside");
    /* Live before barred and gone. */
    assert_plan(TWO_CHAINS "Pg2 Pb2 pb3", PS_WHITE, "applies f5 kingside");
    assert_plan(TWO_CHAINS "Pg2 pb7", PS_WHITE, "applies f5 kingside");
    /* Cleared and beyond before barred and gone. */
    assert_plan(TWO_CHAINS "pb7", PS_WHITE, "fulfilled f5 kingside");
    assert_plan(TWO_CHAINS "Pb2 pb3", PS_WHITE, "fulfilled f5 kingside");
    assert_plan(TWO_CHAINS "Pg6 pb7", PS_WHITE, "fulfilled f5 kingside");
    assert_plan(TWO_CHAINS "Pg6 Pb2 pb3", PS_WHITE, "fulfilled f5 kingside");
    assert_plan(TWO_CHAINS "Pg2 pg3", PS_WHITE, "fulfilled c5 queenside");
    /* Among the done, and among the others, the place on the board decides. */
    assert_plan(TWO_CHAINS "", PS_WHITE, "fulfilled c5 queenside");
    assert_plan(TWO_CHAINS "Pg6", PS_WHITE, "fulfilled c5 queenside");
    assert_plan(TWO_CHAINS "Pb6", PS_WHITE, "fulfilled c5 queenside");
    assert_plan(TWO_CHAINS "Pg2 pg3 pb7", PS_WHITE, "misleading c5 queenside");
    assert_plan(TWO_CHAINS "pg7 Pb2 pb3", PS_WHITE, "misleading c5 queenside");
    /* A firmer grade comes first all the same: gone on a firm chain, ready on a likely one. */
    assert_plan("Pd4 pd5 Pe5 pe6 pf7 Pa4 Pb4 Pc5 pc6", PS_WHITE, "misleading e5 kingside");
    assert_plan("Pd4 pd5 Pe5 pe6 pf7 Pf4 pf5 Pg4", PS_WHITE, "misleading e5 kingside");
}

static void fewer_tempi_come_first(void **state)
{
    (void)state;
    assert_plan("Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb2 Pg4", PS_WHITE, "applies f5 kingside");
    assert_plan("Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb4 Pg2", PS_WHITE, "applies c5 queenside");
    /* Blockers and attackers cost tempi, too. */
    assert_plan("Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb4 Pg4 Nb5", PS_WHITE, "applies f5 kingside");
    assert_plan("Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb4 Pg4 ra5", PS_WHITE, "applies f5 kingside");
    /* Equal: the pair on the lower files. */
    assert_plan("Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb4 Pg4", PS_WHITE, "applies c5 queenside");
}

/* Two pairs on d and e: White's base levers are c4 (head d4, base e3) and f5 (head e5, base d4). */
static void on_the_same_files_the_rank_decides(void **state)
{
    (void)state;
    assert_plan("Pd4 pd5 Pe3 pe4 Pe5 pe6 Pc3 Pf4", PS_WHITE, "applies d4 queenside");
    assert_plan("Pd4 pd5 Pe3 pe4 Pe5 pe6 Pc3 Pf4 Nh4", PS_WHITE, "applies e5 kingside");
    /* With both levers cleared, or both gone, the white pawn of lower rank on e comes first. */
    assert_plan("Pd4 pd5 Pe3 pe4 Pe5 pe6", PS_WHITE, "fulfilled d4 queenside");
    assert_plan("Pd4 pd5 Pe3 pe4 Pe5 pe6 pc7 pf7", PS_WHITE, "misleading d4 queenside");
    assert_plan("Pd3 pd4 Pd5 pd6 Pe4 pe5", PS_WHITE, "fulfilled e4 kingside");
    assert_plan("Pd3 pd4 Pd5 pd6 Pe4 pe5 pc7 pf7", PS_WHITE, "misleading e4 kingside");
    assert_plan("Pd3 pd4 Pd5 pd6 Pe4 pe5 Pc2 Pf2", PS_BLACK, "misleading d4 queenside");
}

static void verdicts(void **state)
{
    (void)state;
    assert_plan("Pd4 pd5 Pe5 pe6 Pf2", PS_WHITE, "applies e5 kingside");
    assert_plan("Pd4 pd5 Pe5 pe6 Pf5", PS_WHITE, "applies e5 kingside");
    assert_plan("Pd4 pd5 Pe5 pe6 Pf2 pf5", PS_WHITE, "misleading e5 kingside");
    assert_plan("Pd4 pd5 Pe5 pe6 pf7", PS_WHITE, "misleading e5 kingside");
    assert_plan("Pd4 pd5 Pe5 pe6", PS_WHITE, "fulfilled e5 kingside");
    assert_plan("Pd4 pd5 Pe5 pe6 Pf6 pf7", PS_WHITE, "fulfilled f6 kingside"); /* def: the g-file is open */
    assert_plan("Pd4 pd5 Pe5 pe6 Pf7", PS_WHITE, "fulfilled e5 kingside");
    assert_plan("Pd4 pd5 Pe5 pe6 pc7", PS_BLACK, "applies d5 queenside");
    assert_plan("Pd4 pd5 Pe5 pe6 pc3", PS_BLACK, "fulfilled d5 queenside");
    assert_plan("Pd4 pd5 Pe5 pe6 Pc3", PS_BLACK, "misleading d5 queenside");
    assert_plan("Pc4 pc5 Pd5 pd6 Pe2", PS_WHITE, "applies d5 centre");
    assert_plan("Pc4 pc5 Pd5 pd6", PS_WHITE, "fulfilled d5 centre");
    assert_plan("Pc4 pc5 Pd5 pd6 pe7", PS_WHITE, "misleading d5 centre");
    /* A doubtful chain is weak whatever its lever does. */
    assert_plan("Pb4 pb5 Pc5 pc6", PS_WHITE, "weak c5 centre");
    assert_plan("Pb4 pb5 Pc5 pc6 pd7", PS_WHITE, "weak c5 centre");
    assert_plan("Pb4 pb5 Pc5 pc6 Pd2", PS_WHITE, "weak c5 centre");
    assert_plan("Pb4 pb5 Pc5 pc6 pa7", PS_BLACK, "weak b5 queenside");
    assert_plan("Pf5 pf6 Pg4 pg5", PS_WHITE, "weak f5 centre");
}

/* The definitions' own example: with f4 played in the King's Indian, d5 e4 f3 against d6 e5 f4, the lever is
 * g4, and f5 is history. */
static void the_lever_moves_on_with_the_chain(void **state)
{
    (void)state;
    ps_analysis before = analyse("Pd5 pd6 Pe4 pe5 Pf3 pf5 pg7", PS_BLACK);
    ps_analysis after = analyse("Pd5 pd6 Pe4 pe5 Pf3 pf4 pg7", PS_WHITE);
    assert_int_equal(ps_plan_lever(&before, PS_BLACK)->square, square_named("f5"));
    assert_int_equal(ps_plan_lever(&before, PS_BLACK)->status, PS_PLAYED);
    assert_int_equal(ps_plan_lever(&after, PS_BLACK)->square, square_named("g4"));
    assert_plan("Pd5 pd6 Pe4 pe5 Pf3 pf4 pg7", PS_BLACK, "applies f4 kingside");
    /* White's lever and region stay what they were. */
    assert_int_equal(ps_plan_lever(&before, PS_WHITE)->square, square_named("c5"));
    assert_int_equal(ps_plan_lever(&after, PS_WHITE)->square, square_named("c5"));
    /* In the French Advance with ...c4 Black's is b4, still on the queenside. */
    assert_plan("Pc3 pc4 Pd4 pd5 Pe5 pe6 pb7", PS_BLACK, "applies c4 queenside");
    assert_plan("Pc3 pc4 Pd4 pd5 Pe5 pe6 pb7 Pf2", PS_WHITE, "applies e5 kingside");
}

/* Chains that run to the edge: no lever, the head's region, and a verdict all the same. */
static void off_the_board(void **state)
{
    (void)state;
    static const struct {
        const char *men;
        ps_side side;
        const char *plan;
    } cases[] = {
        {"Pd2 pd3 Pe3 pe4 Pf4 pf5 Pg5 pg6 Ph6 ph7 Na1 Nh1", PS_WHITE, "misleading h6 kingside"}, /* firm */
        {"Pe3 pe4 Pf4 pf5 Pg5 pg6 Ph6 ph7 Nh1", PS_WHITE, "misleading h6 kingside"},             /* likely */
        {"Pa3 pa4 Pb4 pb5 Pc5 pc6 Pd6 pd7 na8", PS_BLACK, "misleading a4 queenside"},
        {"Pa2 pa3 Pb3 pb4 Pc4 pc5 Pd5 pd6 Pe6 pe7 na8", PS_BLACK, "misleading a3 queenside"},
        {"Pa3 pa4 Pb4 pb5 Pc5 pc6 na8", PS_BLACK, "weak a4 queenside"},
        {"Pf3 pf4 Pg4 pg5 Ph5 ph6 Nh1", PS_WHITE, "weak h5 kingside"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ps_side side = cases[i].side;
        assert_plan(cases[i].men, side, cases[i].plan);
        ps_analysis analysis = analyse(cases[i].men, PS_WHITE);
        assert_int_equal(ps_plan_chain(&analysis, side)->toward, PS_NO_FILE);
        assert_int_equal(ps_plan_lever(&analysis, side)->square, PS_NO_SQUARE);
        assert_int_equal(ps_plan_lever(&analysis, side)->tempi, PS_NO_COUNT);
        assert_int_equal(analysis.plan[side].room, 0);
        assert_int_equal(analysis.plan[side].pieces, 0);
    }
    /* It comes after any live lever of its grade, and after what is done, but a firmer grade comes first. */
    assert_plan("Pa3 pa4 Pb4 pb5 Pc5 pc6 Pd6 pd7 Pe3 pe4 Pf2 pf3 pg7", PS_BLACK, "applies f3 kingside");
    assert_plan("Pa3 pa4 Pb4 pb5 Pc5 pc6 Pd6 pd7 Pe3 pe4 Pf2 pf3", PS_BLACK, "fulfilled f3 kingside");
    assert_plan("Pa3 pa4 Pb4 pb5 Pc5 pc6 Pd6 pd7 Pe3 pe4 Pf2 pf3 Pg2", PS_BLACK, "misleading a4 queenside");
    assert_plan("Pa2 pa3 Pb3 pb4 Pc4 pc5 Pd5 pd6 Pe6 pe7 Pf5 pf6 pg7", PS_BLACK, "misleading a3 queenside");
}

static void assert_room(const char *men, ps_side side, int room, int pieces)
{
    ps_analysis analysis = analyse(men, PS_WHITE);
    const ps_plan *plan = &analysis.plan[side];
    if (plan->room != room || plan->pieces != pieces)
        fail_msg("%s: room %d, pieces %d, expected %d and %d", men, plan->room, plan->pieces, room, pieces);
}

static void room_is_what_no_enemy_pawn_attacks(void **state)
{
    (void)state;
    /* Files f g h, ranks 2 to 5: twelve squares, of which the pawn on e6 attacks f5. */
    assert_room("Pd4 pd5 Pe5 pe6", PS_WHITE, 11, 0);
    /* Files a b c, ranks 7 to 5: nine squares; the pawn on d4 attacks c5. */
    assert_room("Pd4 pd5 Pe5 pe6", PS_BLACK, 8, 0);
    /* h6 attacks g5; g7 attacks f6 and h6, which lie beyond the head's rank. */
    assert_room("Pd4 pd5 Pe5 pe6 ph6 pg7", PS_WHITE, 10, 0);
    /* f5 attacks g4 (and e4), f4 attacks g3: where they stand does not matter, nor does a square count twice.
     */
    assert_room("Pd4 pd5 Pe5 pe6 pf5 ph5", PS_WHITE, 10, 0);
    /* Own men and pieces take away nothing, not even where they attack. */
    assert_room("Pd4 pd5 Pe5 pe6 Pf2 Pg2 Kg1 qg3 rh8", PS_WHITE, 11, 0);
    /* Towards the other wing: c b a, ranks 2 to 5. */
    assert_room("Pd5 pd6 Pe4 pe5", PS_WHITE, 11, 0);
    /* The head decides how far up: e4 reaches ranks 2 to 4, the pawn on e5 takes f4. */
    assert_room("Pd3 pd4 Pe4 pe5", PS_WHITE, 8, 0);
    /* A likely chain sees a longer wing: e f g h, ranks 2 to 5, without e5. */
    assert_room("Pc4 pc5 Pd5 pd6", PS_WHITE, 15, 0);
    /* One file to the rim: a, ranks 2 to 5, without a5. */
    assert_room("Pb5 pb6 Pc4 pc5", PS_WHITE, 3, 0);
    /* The whole chain's head: def leaves g and h, ranks 7 to 4; the pawn on f3 attacks g4. */
    assert_room("Pd5 pd6 Pe4 pe5 Pf3 pf4", PS_BLACK, 7, 0);
}

static void pieces_are_counted_on_the_wing(void **state)
{
    (void)state;
    assert_room("Pd4 pd5 Pe5 pe6 Nf1 Bg8 Rh5 Qh1", PS_WHITE, 11, 4);
    /* King and pawns are left out, so are the enemy's pieces and other files. */
    assert_room("Pd4 pd5 Pe5 pe6 Kg1 Pg2 nf5 Ne3 Qd1", PS_WHITE, 11, 0);
    assert_room("Pd4 pd5 Pe5 pe6 na5 bb8 qc1 rd8 Rc2 kb7", PS_BLACK, 8, 3);
}

static void assert_first(const char *men, ps_side to_move, int first)
{
    ps_analysis analysis = analyse(men, to_move);
    if (analysis.first_to_break != first)
        fail_msg("%s: first is %d, expected %d", men, analysis.first_to_break, first);
}

static void who_breaks_first(void **state)
{
    (void)state;
    assert_first("Pd4 pd5 Pe5 pe6 Pf4 pc7", PS_WHITE, PS_WHITE); /* 2 tempi each */
    assert_first("Pd4 pd5 Pe5 pe6 Pf4 pc7", PS_BLACK, PS_BLACK);
    assert_first("Pd4 pd5 Pe5 pe6 Pf4 Pg4 pc7", PS_BLACK, PS_WHITE); /* 1 against 2 */
    assert_first("Pd4 pd5 Pe5 pe6 Pf2 pc7", PS_WHITE, PS_BLACK);     /* 3 against 2 */
    assert_first("Pd4 pd5 Pe5 pe6 Pf5 pc7", PS_BLACK, PS_WHITE);     /* 0 against 2 */
    assert_first("Pd4 pd5 Pe5 pe6 Pf5 pc5", PS_BLACK, PS_BLACK);     /* 0 each */
    assert_first("Pd4 pd5 Pe5 pe6 Pf2", PS_BLACK, PS_WHITE);
    assert_first("Pd4 pd5 Pe5 pe6 pc7", PS_WHITE, PS_BLACK);
    assert_first("Pd4 pd5 Pe5 pe6", PS_WHITE, PS_NOBODY);
    assert_first("Pd4 pd5 Pe5 pe6 Pc2 pf7", PS_WHITE, PS_NOBODY); /* head levers do not count */
    assert_first("Pf4 pf5 Pg5 pg6 Ph2", PS_BLACK, PS_WHITE);      /* doubtful chains do */
    assert_first("Pg4 pg5 Ph5 ph6 Pe2 pe7", PS_WHITE, PS_NOBODY); /* void ones do not */
    assert_first("Pf2 pc7", PS_WHITE, PS_NOBODY);
    assert_first("Pd4 pd5 Pe5 pe6 Pf6 pc7", PS_WHITE, PS_BLACK); /* what is done has no tempi */
    assert_first("Pd4 pd5 Pe5 pe6 pc4 Pf2", PS_BLACK, PS_WHITE);
    assert_first("Pd4 pd5 Pe5 pe6 Pf6 pc4", PS_BLACK, PS_NOBODY);
    assert_first("Pd5 pd6 Pe4 pe5 Pf3 pf4 pg5 Pc4", PS_WHITE, PS_WHITE); /* g4 and c5, 2 tempi each */
}

static void the_lever_of_the_plan(void **state)
{
    (void)state;
    ps_analysis analysis = analyse("Pd4 pd5 Pe5 pe6 Pf2", PS_WHITE);
    assert_int_equal(ps_plan_lever(&analysis, PS_WHITE)->square, square_named("f5"));
    assert_true(ps_lever_is_live(ps_plan_lever(&analysis, PS_WHITE)));
    assert_int_equal(ps_plan_lever(&analysis, PS_BLACK)->square, square_named("c5"));
    assert_false(ps_lever_is_live(ps_plan_lever(&analysis, PS_BLACK)));
    analysis = analyse("Pa4 pa5 Pb5 pb6", PS_WHITE);
    assert_null(ps_plan_lever(&analysis, PS_WHITE));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(void_chains_make_no_plan),
        cmocka_unit_test(the_firmer_grade_comes_first),
        cmocka_unit_test(live_levers_come_before_done_ones_and_these_before_the_others),
        cmocka_unit_test(fewer_tempi_come_first),
        cmocka_unit_test(on_the_same_files_the_rank_decides),
        cmocka_unit_test(verdicts),
        cmocka_unit_test(the_lever_moves_on_with_the_chain),
        cmocka_unit_test(off_the_board),
        cmocka_unit_test(room_is_what_no_enemy_pawn_attacks),
        cmocka_unit_test(pieces_are_counted_on_the_wing),
        cmocka_unit_test(who_breaks_first),
        cmocka_unit_test(the_lever_of_the_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
