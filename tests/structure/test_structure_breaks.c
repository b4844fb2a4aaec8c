/* Breaks that are open now: section 6 of the definitions in structure/structure.h. */
#include "tests/structure/structure_boards.h"

/* All breaks of a side as "from-to*targets/kind/supporters:attackers", in their order. */
static void assert_breaks(const char *men, ps_side side, const char *expected)
{
    Placed placed;
    ps_analysis analysis;
    char found[512] = "";
    place(&placed, men, side == PS_WHITE ? PS_BLACK : PS_WHITE); /* whoever is to move */
    ps_analyse(&analysis, &placed.board);
    for (int i = 0; i < analysis.breaks[side].count; i++) {
        const ps_break *item = &analysis.breaks[side].items[i];
        size_t length = strlen(found);
        snprintf(found + length, sizeof found - length, "%s%s-%s*%s%s/%s/%d:%d", i == 0 ? "" : " ",
                 ps_square_name(item->from), ps_square_name(item->to), ps_square_name(item->targets[0]),
                 item->target_count == 2 ? ps_square_name(item->targets[1]) : "",
                 ps_break_kind_name(item->kind), item->supporters, item->attackers);
    }
    if (strcmp(found, expected) != 0)
        fail_msg("%s: found \"%s\", expected \"%s\"", men, found, expected);
}

static void a_break_attacks_a_pawn(void **state)
{
    (void)state;
    assert_breaks("Pc4 pd6", PS_WHITE, "c4-c5*d6/other/0:1");
    assert_breaks("Pc4 pb6 pd6", PS_WHITE, "c4-c5*b6d6/other/0:2");
    assert_breaks("Pc4 nd6", PS_WHITE, "");
    assert_breaks("Pc4 Pd6", PS_WHITE, "");
    assert_breaks("Pc4 pc6", PS_WHITE, "");
    assert_breaks("Pc4 pd5", PS_WHITE, ""); /* it attacks now, not after the push */
    assert_breaks("Ph4 pa6 pa7", PS_WHITE, "");
    assert_breaks("Pc4 pd6", PS_BLACK, "d6-d5*c4/other/0:1");
}

static void one_step_and_two(void **state)
{
    (void)state;
    assert_breaks("Pc2 pd4 pb5", PS_WHITE, "c2-c3*d4/other/0:1 c2-c4*b5/other/0:1");
    assert_breaks("Pc3 pd4 pb6", PS_WHITE, ""); /* no double step from the third rank */
    assert_breaks("pc7 Pd5 Pb4", PS_BLACK, "c7-c6*d5/other/0:1 c7-c5*b4/other/0:1");
    assert_breaks("pc6 Pd4 Pb4", PS_BLACK, "c6-c5*b4d4/other/0:2");
    assert_breaks("pc6 Pd3 Pb3", PS_BLACK, "");
}

static void path_and_goal_are_empty(void **state)
{
    (void)state;
    assert_breaks("Pc2 nc3 pb5 pd4", PS_WHITE, "");
    assert_breaks("Pc2 Nc4 pb5 pd4", PS_WHITE, "c2-c3*d4/other/0:1");
    assert_breaks("Pc4 Kc5 pd6", PS_WHITE, "");
    assert_breaks("Pc4 pc5 pd6", PS_WHITE, "");
    assert_breaks("Pc4 Pc5 pd6", PS_WHITE, "");
}

static void the_last_rank_is_left_out(void **state)
{
    (void)state;
    assert_breaks("Pc7 pd7", PS_WHITE, "");
    assert_breaks("Pc6 pd7", PS_WHITE, "");
    assert_breaks("Pc5 pd7 pb7", PS_WHITE, "c5-c6*b7d7/other/0:2");
    assert_breaks("pc2 Pd2", PS_BLACK, "");
    assert_breaks("pc4 Pd2", PS_BLACK, "c4-c3*d2/other/0:1");
}

static void kinds(void **state)
{
    (void)state;
    assert_breaks("Pd4 pd5 Pe5 pe6 Pf4", PS_WHITE, "f4-f5*e6/base/0:1");
    assert_breaks("Pd4 pd5 Pe5 pe6 Pc3", PS_WHITE, "c3-c4*d5/head/0:1");
    assert_breaks("Pd4 pd5 Pe5 pe6 pc7 pf7", PS_BLACK, "c7-c5*d4/base/0:1 f7-f6*e5/head/0:1");
    assert_breaks("Pd4 pd5 Pe5 pe6 Ph4 pg6", PS_WHITE, "h4-h5*g6/other/0:1");
    /* Void chains have levers, too. */
    assert_breaks("Pa4 pa5 Pb5 pb6 Pc4", PS_WHITE, "c4-c5*b6/base/0:1");
    assert_breaks("Pg4 pg5 Ph5 ph6 Pf3", PS_WHITE, "f3-f4*g5/head/0:1");
    /* e5 is the head lever of the chain fg and the base lever of the chain cd: base wins. */
    assert_breaks("Pc4 pc5 Pd5 pd6 Pe4 Pf5 pf6 Pg6 pg7", PS_WHITE, "e4-e5*d6f6/base/0:2");
    /* Any chain will do, not only the principal one: b5 is the base lever of cd beside a firm chain. */
    assert_breaks("Pc5 pc6 Pd4 pd5 Pe5 pe6 Pb4", PS_WHITE, "b4-b5*c6/base/0:1");
    /* In a long chain the levers are at its ends: with def locked, g4 and c6 for Black, c5 and g3 for White. */
    assert_breaks("Pd5 pd6 Pe4 pe5 Pf3 pf4 pg5 pc7", PS_BLACK, "g5-g4*f3/base/0:1 c7-c6*d5/head/0:1");
    assert_breaks("Pd5 pd6 Pe4 pe5 Pf3 pf4 Pg2 Pc4", PS_WHITE, "g2-g3*f4/head/0:1 c4-c5*d6/base/0:1");
    /* f5 was the lever of d and e; a second f-pawn that goes there plays neither lever of def. */
    assert_breaks("Pd5 pd6 Pe4 pe5 Pf3 pf4 pf7", PS_BLACK, "f7-f5*e4/other/0:1");
    assert_breaks("Pd5 pd6 Pe4 pe5 pf7", PS_BLACK, "f7-f5*e4/base/0:1");
    /* Of the other side's levers none is meant: Black's lever on c5 is not White's. */
    assert_breaks("Pd4 pd5 Pe5 pe6 Pc4 pb6", PS_WHITE, "c4-c5*b6/other/1:1");
}

static void support_is_counted_with_the_pawn_lifted(void **state)
{
    (void)state;
    assert_breaks("Pd4 pd5 Pe5 pe6 Pf4 Rf1", PS_WHITE, "f4-f5*e6/base/1:1");
    assert_breaks("Pd4 pd5 Pe5 pe6 Pf4 Rf1 Bf2", PS_WHITE, "f4-f5*e6/base/0:1");
    assert_breaks("Pc2 pb5 Rc1 Kd3", PS_WHITE, "c2-c4*b5/other/2:1");
    assert_breaks("Pd4 pd5 Pe5 pe6 Pf4 Pg4 kg5 nh6", PS_WHITE, "f4-f5*e6/base/1:3");
}

static void by_origin_and_one_step_first(void **state)
{
    (void)state;
    assert_breaks("Ph2 pg5 pg4 Pa4 pb6 Pc2 pd4 pd5", PS_WHITE,
                  "c2-c3*d4/other/0:1 c2-c4*d5/other/0:1 h2-h3*g4/other/0:1 h2-h4*g5/other/0:1 "
                  "a4-a5*b6/other/0:1");
    assert_breaks("pa7 Pb5 pg5 Ph3", PS_BLACK, "g5-g4*h3/other/0:1 a7-a6*b5/other/0:1");
}

/* Four pawns, each with both steps. */
static void each_pawn_can_have_two(void **state)
{
    (void)state;
    Placed placed;
    ps_analysis analysis;
    place(&placed, "Pa2 Pb2 Pc2 Pd2 Pe2 Pf2 Pg2 Ph2 pb4 pb5 pd4 pd5 pf4 pf5 ph4 ph5 Ke1 ke8", PS_WHITE);
    ps_analyse(&analysis, &placed.board);
    assert_int_equal(analysis.breaks[PS_WHITE].count, 8);
    assert_int_equal(analysis.breaks[PS_BLACK].count, 4);
}

static void en_passant_and_the_own_king_do_not_matter(void **state)
{
    (void)state;
    /* g2-g4 could be taken by f4 in passing, and g3 is attacked by it; the bishop on h4 pins the pawn f2. */
    assert_breaks("Pg2 pf4 ph5 Ke1", PS_WHITE, "g2-g3*f4/other/0:1 g2-g4*h5/other/0:1");
    assert_breaks("Pf2 pe5 Ke1 bh4", PS_WHITE, "f2-f4*e5/other/0:1");
    assert_breaks("Pf2 pe5 Ke1 re8", PS_WHITE, "f2-f4*e5/other/0:1"); /* in check or not */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_break_attacks_a_pawn),
        cmocka_unit_test(one_step_and_two),
        cmocka_unit_test(path_and_goal_are_empty),
        cmocka_unit_test(the_last_rank_is_left_out),
        cmocka_unit_test(kinds),
        cmocka_unit_test(support_is_counted_with_the_pawn_lifted),
        cmocka_unit_test(by_origin_and_one_step_first),
        cmocka_unit_test(each_pawn_can_have_two),
        cmocka_unit_test(en_passant_and_the_own_king_do_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
