/* Plans in hand: what structure/structure.h promises of the term that sees how far they have been carried out. */
#include "tests/structure/naive_structure.h"
#include "tests/structure/structure_boards.h"

enum { PLACEMENTS = 20000 };

static const ps_weights *const weights = &ps_default_weights;

static ps_intent intent_of(const ps_board *board, ps_rule rule)
{
    ps_intent intent;
    ps_intend(&intent, board, rule, weights);
    return intent;
}

static int plain_term(const ps_board *board, ps_rule rule)
{
    ps_skeleton skeleton;
    ps_read_skeleton(&skeleton, board->pawns, rule);
    return ps_term(&skeleton, board, weights);
}

/* White's view; the parts must add up. */
static int term_with(const ps_intent *intent, const ps_board *board, ps_rule rule)
{
    ps_skeleton skeleton;
    ps_side_term sides[2];
    int sum = 0;
    ps_read_skeleton(&skeleton, board->pawns, rule);
    int term = ps_intent_term(intent, &skeleton, board, weights);
    assert_int_equal(ps_intent_parts(sides, intent, &skeleton, board, weights), term);
    for (int part = 0; part < PS_PART_COUNT; part++) {
        assert_true(sides[PS_WHITE].parts[part] >= 0 && sides[PS_BLACK].parts[part] >= 0);
        sum += sides[PS_WHITE].parts[part] - sides[PS_BLACK].parts[part];
    }
    assert_int_equal(board->to_move == PS_WHITE ? term : -term, sum);
    return sum;
}

/* What White scores for itself in a position, with the plans of another one in hand. */
static int carried(const char *root, const char *here)
{
    Placed from, to;
    ps_skeleton skeleton;
    ps_side_term sides[2];
    int sum = 0;
    place(&from, root, PS_WHITE);
    place(&to, here, PS_WHITE);
    ps_intent intent = intent_of(&from.board, PS_STRICT);
    ps_read_skeleton(&skeleton, to.board.pawns, PS_STRICT);
    ps_intent_parts(sides, &intent, &skeleton, &to.board, weights);
    for (int part = 0; part < PS_PART_COUNT; part++)
        sum += sides[PS_WHITE].parts[part];
    return sum;
}

/* ------------------------------------------------------------------------------------------- at the root */

static void the_root_says_what_it_says_itself(void **state)
{
    (void)state;
    uint64_t seed = 3;
    int with_plans = 0;
    const ps_intent none = {.count = {0, 0}};
    for (int i = 0; i < 2 * PLACEMENTS; i++) {
        Placed placed;
        ps_rule rule = i % 2 == 0 ? PS_STRICT : PS_LOOSE;
        place_random(&placed, &seed);
        ps_intent intent = intent_of(&placed.board, rule);
        int plain = plain_term(&placed.board, rule);
        int sign = placed.board.to_move == PS_WHITE ? 1 : -1;
        assert_int_equal(sign * term_with(&intent, &placed.board, rule), plain);
        assert_int_equal(sign * term_with(&none, &placed.board, rule), plain);
        assert_true(ps_has_intent(&intent) || plain == 0);
        with_plans += ps_has_intent(&intent);
    }
    assert_true(with_plans > PLACEMENTS / 2);
}

/* ----------------------------------------------------------------------------- a second reading, by letters */

/* A lever against a target, read off the letters: tempi, 0 if it has been played or more, none if the plan has failed. */
static int naive_stage(const Naive *n, char side, NaiveSquare lever, NaiveSquare target)
{
    const NaiveLever now = naive_lever(n, side, lever, target);
    bool target_stands = n->men[target.file][target.rank] == naive_pawn_of(naive_enemy(side));
    bool own_behind = false, own_at_all = false, enemy_at_all = false;
    for (int rank = 2; rank <= 7; rank++) {
        bool own = n->men[lever.file][rank] == naive_pawn_of(side);
        own_at_all |= own;
        own_behind |= own && naive_forward(side) * (rank - lever.rank) < 0;
        enemy_at_all |= n->men[lever.file][rank] == naive_pawn_of(naive_enemy(side));
    }
    bool on_square = n->men[lever.file][lever.rank] == naive_pawn_of(side);
    if (on_square || (own_at_all && !own_behind))
        return 0;
    if (!own_at_all && (!target_stands || !enemy_at_all))
        return 0;
    return own_behind && target_stands && naive_is_live(&now) ? now.tempi : NAIVE_NONE;
}

/* Moves, takes or adds a man or two, with the kings left where they are. */
static void change(Placed *placed, uint64_t *seed)
{
    for (int i = 1 + random_below(seed, 4); i > 0; i--) {
        int from = 8 + random_below(seed, 48), to = 8 + random_below(seed, 48);
        char *a = man_at(placed, from), *b = man_at(placed, to);
        if (*a == 'K' || *a == 'k' || *b == 'K' || *b == 'k')
            continue;
        if (random_below(seed, 3) > 0)
            *b = *a;
        *a = '.';
    }
    use_diagram(placed, random_below(seed, 2) == 0 ? PS_WHITE : PS_BLACK);
}

static void agrees_with_a_second_reading(void **state)
{
    (void)state;
    uint64_t seed = 9;
    int seen[PS_TEMPI_CLASSES + 1] = {0};
    ps_weights only_levers = *weights;
    only_levers.support = only_levers.room = only_levers.piece = 0;
    for (int i = 0; i < PLACEMENTS; i++) {
        Placed root, here;
        place(&root, "Pd4 pd5 Pe5 pe6 Pf2 pf7 pa7 Pg2 pg7 Nf3 nc6 Bd3 Ke1 ke8", PS_WHITE);
        *man_at(&root, square_named("f2")) = '.';
        *man_at(&root, square_named("f2") + 8 * random_below(&seed, 4)) = 'P';
        use_diagram(&root, PS_WHITE);
        ps_intent intent;
        ps_intend(&intent, &root.board, PS_STRICT, &only_levers);
        assert_int_equal(intent.count[PS_WHITE], 1);
        intent.count[PS_BLACK] = 0;
        here = root;
        change(&here, &seed);
        Naive n = {.to_move = 'w'};
        for (int k = 0; k < 64; k++)
            n.men[k % 8 + 1][8 - k / 8] = here.diagram[k];
        ps_skeleton skeleton;
        ps_side_term sides[2];
        ps_read_skeleton(&skeleton, here.board.pawns, PS_STRICT);
        ps_intent_parts(sides, &intent, &skeleton, &here.board, &only_levers);
        int tempi = naive_stage(&n, 'w', (NaiveSquare){6, 5}, (NaiveSquare){5, 6});
        if (tempi == NAIVE_NONE) {
            ps_side_term plain[2];
            ps_term_parts(plain, &skeleton, &here.board, &only_levers);
            assert_memory_equal(&sides[PS_WHITE], &plain[PS_WHITE], sizeof *plain);
            seen[PS_TEMPI_CLASSES]++;
            continue;
        }
        int class = tempi < PS_TEMPI_CLASSES ? tempi : PS_TEMPI_CLASSES - 1;
        if (sides[PS_WHITE].parts[PS_PART_LEVER] != weights->base_lever[class])
            fail_msg("%s: %d, expected that of %d tempi", here.diagram, sides[PS_WHITE].parts[PS_PART_LEVER],
                     tempi);
        seen[class]++;
    }
    for (int i = 0; i <= 4; i++)
        assert_true(seen[i] > 50);
    assert_true(seen[PS_TEMPI_CLASSES] > 50);
}

/* ------------------------------------------------------------------------------------------ carried out */

/* The French Advance: White carries f5 out, step by step. Nothing comes of it for Black, who has no lever. */
static void every_step_scores_at_least_as_much(void **state)
{
    (void)state;
    static const char root[] = "Pd4 pd5 Pe5 pe6 Pf2 pf7 Ke1 ke8";
    static const char *const steps[] = {
        "Pd4 pd5 Pe5 pe6 Pf2 pf7 Ke1 ke8", /* far */
        "Pd4 pd5 Pe5 pe6 Pf3 pf7 Ke1 ke8", /* near: e6 holds f5, so that it is short by one */
        "Pd4 pd5 Pe5 pe6 Pf4 pf7 Ke1 ke8",     "Pd4 pd5 Pe5 pe6 Pf4 Pg4 pf7 Ke1 ke8", /* ready */
        "Pd4 pd5 Pe5 pe6 Pf5 Pg4 pf7 Ke1 ke8",                                        /* played */
        "Pd4 pd5 Pe5 Pg4 pf7 Pf5 Ke1 ke8", /* e6 took, and was taken: the base is gone */
    };
    int last = -1;
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        int term = carried(root, steps[i]);
        assert_true(term >= last);
        last = term;
    }
    assert_true(carried(root, steps[2]) > carried(root, steps[0]));
    assert_true(carried(root, steps[4]) > carried(root, steps[2]));
}

/* With the lever exchanged the lock is gone, the position itself says nothing, and the credit stays. */
static void success_outlives_the_lock(void **state)
{
    (void)state;
    static const char root[] = "Pd4 pd5 Pe5 pe6 Pf4 pf7 Ke1 ke8";
    static const char *const done[] = {
        "Pd4 pd5 Pe5 pf5 pf7 Ke1 ke8",     /* exf5 */
        "Pd4 pd5 Pe5 Bf5 pf7 Ke1 ke8",     /* and taken by a piece */
        "Pd4 pd5 Pe5 pe6 Ke1 ke8",         /* fxe6 fxe6: the file is open */
        "Pd4 pd5 Pe5 pf7 be6 Ke1 ke8",     /* fxe6 Bxe6 */
        "Pd4 pd5 Pe5 Pf6 pg7 pf7 Ke1 ke8", /* gone past, and e6 has left */
        "Pe5 Ke1 ke8",
    };
    for (size_t i = 0; i < sizeof done / sizeof *done; i++) {
        if (carried(root, done[i]) < weights->base_lever[0] + 3 * weights->support)
            fail_msg("%s: %d", done[i], carried(root, done[i]));
        /* Without a plan in hand nothing tells how such a position came about. */
        assert_int_equal(carried("Ke1 ke8", done[i]), 0);
    }
    /* Gone past a base that stands: it has been played, and that is all. */
    int past = carried(root, "Pd4 pd5 Pe5 pe6 Pf6 pf7 Ke1 ke8");
    assert_true(past >= weights->base_lever[0]);
    assert_true(past < carried(root, done[0]));
}

/* What ends the plan otherwise leaves what the position says itself. */
static void a_plan_that_failed_is_worth_nothing(void **state)
{
    (void)state;
    static const char root[] = "Pd4 pd5 Pe5 pe6 Pf4 pf7 Ke1 ke8";
    assert_int_equal(carried(root, "Pd4 pd5 Pe5 pe6 pf7 Ke1 ke8"), 0);     /* the pawn is lost */
    assert_int_equal(carried(root, "Pd4 pd5 Pe5 pe6 Pg5 pf7 Ke1 ke8"), 0); /* or has left the file */
    assert_int_equal(carried(root, "Pd4 pd5 Pe5 pe6 Pf4 pf5 Ke1 ke8"), 0); /* or is barred */
    assert_int_equal(carried(root, "Pd4 pd5 Pe5 Pf4 pf7 Ke1 ke8"), 0);     /* or there is nothing to attack */
    assert_int_equal(
        carried(root, "Pd4 pd5 Pe5 pe6 Pf4 pf5 Pc4 Ke1 ke8"), /* a live head lever counts again */
        carried("Ke1 ke8", "Pd4 pd5 Pe5 pe6 Pf4 pf5 Pc4 Ke1 ke8"));
    assert_true(carried(root, "Pd4 pd5 Pe5 pe6 Pf4 pf5 Pc4 Ke1 ke8") > 0);
}

/* A chain that has moved on here does not take the place of the plan in hand; a lock solved by other means does not end
 * it. */
static void the_plan_in_hand_goes_first(void **state)
{
    (void)state;
    static const char root[] = "Pd4 pd5 Pe5 pe6 Pf4 pf7 Pg2 Ke1 ke8";
    /* f5 went past: the chain is def, and names g7 no more than f5. */
    assert_true(carried(root, "Pd4 pd5 Pe5 pe6 Pf6 pf7 Pg2 Ke1 ke8") >= weights->base_lever[0]);
    assert_true(carried(root, "pd4 Pe5 pe6 Pf4 pf7 Ke1 ke8") > 0); /* d4 is gone, e6 stands as it did */
    assert_true(carried("Ke1 ke8", "pd4 Pe5 pe6 Pf4 pf7 Ke1 ke8") == 0);
}

/* Without a locked chain but void ones, at the root and here, nothing. */
static void nothing_locked_is_exactly_0(void **state)
{
    (void)state;
    uint64_t seed = 21;
    int checked = 0;
    for (int i = 0; i < 2 * PLACEMENTS; i++) {
        Placed root, here;
        ps_analysis there, now;
        place_random(&root, &seed);
        place_random(&here, &seed);
        ps_analyse(&there, &root.board);
        ps_analyse(&now, &here.board);
        if (there.plan[PS_WHITE].verdict != PS_NONE || now.plan[PS_WHITE].verdict != PS_NONE)
            continue;
        ps_intent intent = intent_of(&root.board, PS_STRICT);
        assert_false(ps_has_intent(&intent));
        assert_int_equal(term_with(&intent, &here.board, PS_STRICT), 0);
        checked++;
    }
    assert_true(checked > 500);
}

/* ---------------------------------------------------------------------------------------------- mirrors */

static void mirrors_are_exact(void **state)
{
    (void)state;
    uint64_t seed = 31;
    int other_than_0 = 0, more_than_one = 0;
    for (int i = 0; i < PLACEMENTS; i++) {
        ps_rule rule = i % 2 == 0 ? PS_STRICT : PS_LOOSE;
        Placed root, here, turned_root, turned;
        place_random(&root, &seed);
        here = root;
        change(&here, &seed);
        ps_intent intent = intent_of(&root.board, rule);
        int term = term_with(&intent, &here.board, rule);
        turn_colours(&turned_root, &root);
        turn_colours(&turned, &here);
        ps_intent colours = intent_of(&turned_root.board, rule);
        assert_int_equal(term_with(&colours, &turned.board, rule), -term);
        turn_wings(&turned_root, &root);
        turn_wings(&turned, &here);
        ps_intent wings = intent_of(&turned_root.board, rule);
        assert_int_equal(term_with(&wings, &turned.board, rule), term);
        other_than_0 += term != 0;
        more_than_one += intent.count[PS_WHITE] > 1 || intent.count[PS_BLACK] > 1;
    }
    assert_true(other_than_0 > 2000);
    assert_true(more_than_one > 20);
}

/* Two levers that score the very same are both in hand: whichever is played counts, on either wing. */
static void equal_claims_on_both_wings(void **state)
{
    (void)state;
    static const char root[] = "Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb4 Pg4 Ke1 ke8";
    Placed placed;
    place(&placed, root, PS_WHITE);
    ps_intent intent = intent_of(&placed.board, PS_STRICT);
    assert_int_equal(intent.count[PS_WHITE], 2);
    int left = carried(root, "Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb5 Pg4 Ke1 ke8");
    int right = carried(root, "Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb4 Pg5 Ke1 ke8");
    assert_int_equal(left, right);
}

/* ------------------------------------------------------------------------------------------------- keys */

static void keys_tell_plans_apart(void **state)
{
    (void)state;
    static const char *const roots[] = {
        "Pd4 pd5 Pe5 pe6 Pf2 pf7 Ke1 ke8",     /* f5 */
        "Pd4 pd5 Pe5 pe6 Pf2 pf7 pc7 Ke1 ke8", /* f5, and Black's c5 */
        "Pd4 pd5 Pe5 pe6 pf7 pc7 Ke1 ke8",     /* c5 */
        "Pd5 pd6 Pe4 pe5 Pc2 Ke1 ke8",         /* c5 of White */
        "Pc4 pc5 Pd5 pd6 Pe2 Ke1 ke8",         /* e6, likely */
        "Pd4 pd5 Pe5 pe6 pf7 Pc2 Ke1 ke8",     /* the head lever c4 */
    };
    enum { ROOTS = sizeof roots / sizeof *roots };
    uint64_t keys[ROOTS];
    Placed placed;
    for (int i = 0; i < ROOTS; i++) {
        place(&placed, roots[i], PS_WHITE);
        ps_intent intent = intent_of(&placed.board, PS_STRICT);
        assert_true(ps_has_intent(&intent));
        keys[i] = ps_intent_key(&intent);
        assert_true(keys[i] != 0);
        for (int k = 0; k < i; k++)
            assert_true(keys[k] != keys[i]);
    }
    /* How far a plan has come is no part of it. */
    place(&placed, "Pd4 pd5 Pe5 pe6 Pf4 pf7 Nf3 Ke1 ke8", PS_BLACK);
    ps_intent intent = intent_of(&placed.board, PS_STRICT);
    assert_true(ps_intent_key(&intent) == keys[0]);
    const ps_intent none = {.count = {0, 0}};
    assert_true(ps_intent_key(&none) == 0);
    /* Among many plans no two that differ in anything share a key. */
    enum { PLANS = 3000 };
    static ps_intent intents[PLANS];
    uint64_t seed = 41;
    int different = 0;
    for (int i = 0; i < PLANS; i++) {
        place_random(&placed, &seed);
        intents[i] = intent_of(&placed.board, i % 2 == 0 ? PS_STRICT : PS_LOOSE);
        for (int k = 0; k < i; k++)
            if (ps_intent_key(&intents[i]) != ps_intent_key(&intents[k]))
                different++;
            else
                assert_memory_equal(intents[i].levers, intents[k].levers, sizeof intents[i].levers);
    }
    assert_true(different > PLANS);
}

/* ------------------------------------------------------------------------------------------------ loose */

/* A lever without a target can be played, but nothing comes of it: there is no base that could leave. */
static void loose_levers_need_no_target(void **state)
{
    (void)state;
    Placed root, here;
    place(&root, "Pd4 Pe5 Pf3 pa7 pf7 Ke1 ke8", PS_WHITE);
    ps_intent intent = intent_of(&root.board, PS_LOOSE);
    assert_int_equal(intent.levers[PS_WHITE][0].target, PS_NO_SQUARE);
    int ready = term_with(&intent, &root.board, PS_LOOSE);
    place(&here, "Pd4 Pe5 Pf5 pa7 pf7 Ke1 ke8", PS_WHITE);
    int played = term_with(&intent, &here.board, PS_LOOSE);
    assert_true(played >= ready && ready > 0);
    place(&here, "Pd4 Pe5 pa7 pf7 Ke1 ke8", PS_WHITE); /* the pawn is lost */
    const ps_intent none = {.count = {0, 0}};
    assert_int_equal(term_with(&intent, &here.board, PS_LOOSE), term_with(&none, &here.board, PS_LOOSE));
}

static void the_term_is_bounded(void **state)
{
    (void)state;
    uint64_t seed = 71;
    ps_weights greatest;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++)
        *ps_weight_at(&greatest, i) = ps_weight_table[i].greatest;
    for (int i = 0; i < PLACEMENTS; i++) {
        Placed root, here;
        ps_intent intent;
        ps_skeleton skeleton;
        ps_rule rule = i % 2 == 0 ? PS_STRICT : PS_LOOSE;
        place_random(&root, &seed);
        place_random(&here, &seed);
        ps_intend(&intent, &root.board, rule, &greatest);
        ps_read_skeleton(&skeleton, here.board.pawns, rule);
        int term = ps_intent_term(&intent, &skeleton, &here.board, &greatest);
        assert_true(term > -5000 && term < 5000);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_root_says_what_it_says_itself),   cmocka_unit_test(agrees_with_a_second_reading),
        cmocka_unit_test(every_step_scores_at_least_as_much),  cmocka_unit_test(success_outlives_the_lock),
        cmocka_unit_test(a_plan_that_failed_is_worth_nothing), cmocka_unit_test(the_plan_in_hand_goes_first),
        cmocka_unit_test(nothing_locked_is_exactly_0),         cmocka_unit_test(mirrors_are_exact),
        cmocka_unit_test(equal_claims_on_both_wings),          cmocka_unit_test(keys_tell_plans_apart),
        cmocka_unit_test(loose_levers_need_no_target),         cmocka_unit_test(the_term_is_bounded),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
