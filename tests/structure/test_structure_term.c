/* The term: what structure/structure.h promises of it. */
#include "tests/structure/naive_structure.h"
#include "tests/structure/structure_boards.h"

enum { PLACEMENTS = 20000 };

static const ps_weights *const weights = &ps_default_weights;

static int term_of(const ps_board *board, ps_rule rule)
{
    ps_skeleton skeleton;
    ps_read_skeleton(&skeleton, board->pawns, rule);
    return ps_term(&skeleton, board, weights);
}

static int term_for_white(const ps_board *board, ps_rule rule)
{
    int term = term_of(board, rule);
    return board->to_move == PS_WHITE ? term : -term;
}

/* Calls a check with many generated placements and counts how many of them had a term other than 0. */
static int over_placements(uint64_t seed, ps_rule rule, void (*check)(Placed *placed, ps_rule rule))
{
    int other_than_0 = 0;
    for (int i = 0; i < PLACEMENTS; i++) {
        Placed placed;
        place_random(&placed, &seed);
        check(&placed, rule);
        other_than_0 += term_of(&placed.board, rule) != 0;
    }
    return other_than_0;
}

/* ------------------------------------------------------------------------- a second reading of the term */

typedef struct NaiveLead {
    int grade; /* 0 firm, 1 likely, 2 doubtful */
    NaiveLever base, head;
    int room, pieces;
} NaiveLead;

static NaiveLead read_lead(Naive *n, char side, int grade, NaiveSquare head, NaiveSquare base)
{
    int forward = naive_forward(side);
    int direction = head.file > base.file ? 1 : -1;
    int toward = head.file + direction;
    return (NaiveLead){
        .grade = grade,
        .base = naive_lever(n, side, (NaiveSquare){toward, head.rank},
                            (NaiveSquare){head.file, head.rank + forward}),
        .head = naive_lever(n, side, (NaiveSquare){base.file - direction, base.rank},
                            (NaiveSquare){base.file, base.rank + forward}),
        .room = naive_room(n, side, toward, direction, head.rank),
        .pieces = naive_wing_pieces(n, side, toward, direction),
    };
}

/* Strict: the locked chains that are not void. */
static int read_chains(Naive *n, char side, NaiveLead *leads)
{
    int count = 0;
    naive_find_chains(n);
    for (int i = 0; i < n->chain_count; i++) {
        NaiveView view = naive_view(&n->chains[i], side);
        int grade = naive_grade(&n->chains[i]);
        if (grade < 3)
            leads[count++] = read_lead(n, side, grade, view.head, view.base);
    }
    return count;
}

/* Loose: any two own pawns of which one defends the other, all as firm. */
static int read_links(Naive *n, char side, NaiveLead *leads)
{
    int count = 0;
    char pawn = naive_pawn_of(side);
    for (int file = 1; file <= 7; file++)
        for (int rank = 2; rank <= 7; rank++)
            for (int other = rank - 1; other <= rank + 1; other += 2) {
                if (naive_man(n, file, rank) != pawn || naive_man(n, file + 1, other) != pawn)
                    continue;
                NaiveSquare left = {file, rank};
                NaiveSquare right = {file + 1, other};
                bool left_leads = (rank > other) == (side == 'w');
                leads[count++] = read_lead(n, side, 0, left_leads ? left : right, left_leads ? right : left);
            }
    return count;
}

static int lever_score(const NaiveLever *lever, const int *by_tempi, int percent)
{
    if (!naive_is_live(lever))
        return 0;
    int surplus = lever->supporters - lever->attackers;
    surplus = surplus < 0 ? 0 : surplus > 3 ? 3 : surplus;
    return by_tempi[lever->tempi > 7 ? 7 : lever->tempi] * percent / 100 +
           weights->support * surplus * percent / 100;
}

static int lead_score(const NaiveLead *lead)
{
    const int percents[] = {weights->grade[PS_FIRM], weights->grade[PS_LIKELY], weights->grade[PS_DOUBTFUL]};
    int percent = percents[lead->grade];
    if (!naive_is_live(&lead->base))
        return lever_score(&lead->head, weights->head_lever, percent);
    return lever_score(&lead->base, weights->base_lever, percent) +
           weights->room * lead->room / 16 * percent / 100 + weights->piece * lead->pieces * percent / 100;
}

/* Negative if a comes first, by everything but the place on the board. */
static int compare_claims(const NaiveLead *a, const NaiveLead *b)
{
    if (a->grade != b->grade)
        return a->grade - b->grade;
    if (naive_lever_class(&a->base) != naive_lever_class(&b->base))
        return naive_lever_class(&a->base) - naive_lever_class(&b->base);
    return naive_is_live(&a->base) ? a->base.tempi - b->base.tempi : 0;
}

static int side_score(Naive *n, char side, ps_rule rule)
{
    NaiveLead leads[32];
    int count = rule == PS_LOOSE ? read_links(n, side, leads) : read_chains(n, side, leads);
    int best = 0;
    for (int i = 0; i < count; i++) {
        bool first = true;
        for (int k = 0; k < count; k++)
            first = first && compare_claims(&leads[i], &leads[k]) <= 0;
        if (first && lead_score(&leads[i]) > best)
            best = lead_score(&leads[i]);
    }
    return best;
}

static void check_second_reading(Placed *placed, ps_rule rule)
{
    Naive n = {.to_move = 'w'};
    for (int i = 0; i < 64; i++)
        n.men[i % 8 + 1][8 - i / 8] = placed->diagram[i];
    int expected = side_score(&n, 'w', rule) - side_score(&n, 'b', rule);
    if (term_for_white(&placed->board, rule) != expected)
        fail_msg("%s (%s): %d, expected %d", placed->diagram, ps_rule_name(rule),
                 term_for_white(&placed->board, rule), expected);
}

static void agrees_with_a_second_reading(void **state)
{
    (void)state;
    assert_true(over_placements(11, PS_STRICT, check_second_reading) > 2000);
    assert_true(over_placements(12, PS_LOOSE, check_second_reading) > 5000);
}

/* --------------------------------------------------------------------------------------- the properties */

static void check_nothing_locked(Placed *placed, ps_rule rule)
{
    ps_analysis analysis;
    ps_analyse(&analysis, &placed->board);
    bool only_void = true;
    for (int i = 0; i < analysis.chain_count; i++)
        only_void = only_void && analysis.chains[i].grade == PS_VOID;
    if (only_void)
        assert_int_equal(term_of(&placed->board, rule), 0);
}

static void nothing_locked_is_exactly_0(void **state)
{
    (void)state;
    assert_true(over_placements(21, PS_STRICT, check_nothing_locked) > 2000);
    Placed placed;
    ps_skeleton skeleton;
    place(&placed, "Pg4 pg5 Ph5 ph6 Pf4 pe7 Pa4 pa5 Pb5 pb6 Pc4 Ke1 ke8", PS_WHITE);
    ps_read_skeleton(&skeleton, placed.board.pawns, PS_STRICT);
    assert_true(ps_is_silent(&skeleton));
    assert_int_equal(ps_term(&skeleton, &placed.board, weights), 0);
}

static void check_mirrors(Placed *placed, ps_rule rule)
{
    Placed turned;
    int term = term_for_white(&placed->board, rule);
    turn_colours(&turned, placed);
    assert_int_equal(term_for_white(&turned.board, rule), -term);
    assert_int_equal(term_of(&turned.board, rule), term_of(&placed->board, rule));
    turn_wings(&turned, placed);
    assert_int_equal(term_for_white(&turned.board, rule), term);
}

static void mirrors_are_exact(void **state)
{
    (void)state;
    assert_true(over_placements(31, PS_STRICT, check_mirrors) > 2000);
    assert_true(over_placements(32, PS_LOOSE, check_mirrors) > 5000);
}

/* Equal claims on both wings: the plan takes the chain on the lower files, the term must not. */
static void equal_claims_on_both_wings(void **state)
{
    (void)state;
    Placed placed, turned;
    place(&placed, "Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb4 Pg4 Nh1 Nh2 Ke1 ke8", PS_WHITE);
    turn_wings(&turned, &placed);
    assert_int_equal(term_of(&placed.board, PS_STRICT), term_of(&turned.board, PS_STRICT));
    ps_analysis analysis;
    ps_analyse(&analysis, &placed.board);
    assert_int_equal(analysis.chains[analysis.plan[PS_WHITE].chain].first_file, 2); /* cd */
    ps_analyse(&analysis, &turned.board);
    assert_int_equal(analysis.chains[analysis.plan[PS_WHITE].chain].first_file, 2); /* cd */
}

static void check_parts(Placed *placed, ps_rule rule)
{
    ps_skeleton skeleton;
    ps_side_term sides[2];
    int sums[2] = {0, 0};
    ps_read_skeleton(&skeleton, placed->board.pawns, rule);
    int term = ps_term_parts(sides, &skeleton, &placed->board, weights);
    assert_int_equal(term, ps_term(&skeleton, &placed->board, weights));
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        for (int part = 0; part < PS_PART_COUNT; part++) {
            assert_true(sides[side].parts[part] >= 0);
            sums[side] += sides[side].parts[part];
        }
        if (sides[side].square == PS_NO_SQUARE)
            assert_int_equal(sums[side], 0);
    }
    ps_side us = placed->board.to_move;
    assert_int_equal(term, sums[us] - sums[1 - us]);
    if (ps_is_silent(&skeleton))
        assert_int_equal(term, 0);
}

static void the_parts_add_up(void **state)
{
    (void)state;
    assert_true(over_placements(41, PS_STRICT, check_parts) > 2000);
    assert_true(over_placements(42, PS_LOOSE, check_parts) > 5000);
}

/* Which lever scores follows from the analysis. */
static void check_which_lever(Placed *placed, ps_rule rule)
{
    ps_analysis analysis;
    ps_skeleton skeleton;
    ps_side_term sides[2];
    ps_analyse(&analysis, &placed->board);
    ps_read_skeleton(&skeleton, placed->board.pawns, rule);
    ps_term_parts(sides, &skeleton, &placed->board, weights);
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_plan *plan = &analysis.plan[side];
        const ps_side_term *term = &sides[side];
        if (plan->verdict == PS_NONE) {
            assert_int_equal(term->square, PS_NO_SQUARE);
            continue;
        }
        const ps_lever *lever = ps_plan_lever(&analysis, (ps_side)side);
        if (ps_lever_is_live(lever)) {
            assert_int_equal(term->lever, PS_BASE);
            assert_int_equal(term->tempi, lever->tempi);
            continue;
        }
        /* A base lever that cannot be played scores nothing, nor do its room and pieces. */
        assert_true(term->square == PS_NO_SQUARE || term->lever == PS_HEAD);
        assert_int_equal(term->parts[PS_PART_ROOM] + term->parts[PS_PART_PIECES], 0);
        if (analysis.chain_count == 1) {
            const ps_lever *head = &analysis.chains[0].side[side].head_lever;
            bool live = ps_lever_is_live(head);
            assert_int_equal(term->square, live ? head->square : PS_NO_SQUARE);
            assert_int_equal(term->tempi, live ? head->tempi : PS_NO_COUNT);
        }
    }
}

static void a_lever_that_cannot_be_played_scores_nothing(void **state)
{
    (void)state;
    assert_true(over_placements(51, PS_STRICT, check_which_lever) > 2000);
    Placed placed;
    place(&placed, "Pd4 pd5 Pe5 pe6 Pf2 pf5 Rf1 Bd3 Ng3 Ke1 ke8", PS_WHITE);
    assert_int_equal(term_of(&placed.board, PS_STRICT), 0);
    place(&placed, "Pd4 pd5 Pe5 pe6 Rf1 Bd3 Ng3 Ke1 ke8", PS_WHITE);
    assert_int_equal(term_of(&placed.board, PS_STRICT), 0);
    place(&placed, "Pd4 pd5 Pe5 pe6 Pf2 pf5 Pc3 Bb3 Ke1 ke8", PS_WHITE); /* the head lever c4 is ready */
    assert_int_equal(term_of(&placed.board, PS_STRICT), weights->head_lever[1]);
    place(&placed, "Pd4 pd5 Pe5 pe6 Pf2 pf5 Pc4 Ke1 ke8", PS_WHITE); /* and played */
    assert_int_equal(term_of(&placed.board, PS_STRICT), weights->head_lever[0]);
    /* A live base lever counts alone. */
    place(&placed, "Pd4 pd5 Pe5 pe6 Pf4 Pc3 Ke1 ke8", PS_WHITE);
    int with_head_lever = term_of(&placed.board, PS_STRICT);
    place(&placed, "Pd4 pd5 Pe5 pe6 Pf4 Ke1 ke8", PS_WHITE);
    assert_int_equal(term_of(&placed.board, PS_STRICT), with_head_lever);
}

/* ------------------------------------------------------------------------------------- never score less */

/* A host that answers as it is told. */
typedef struct Told {
    int supporters, attackers; /* of White */
} Told;

static int answer(const void *host, int square, ps_side side, int lifted)
{
    const Told *told = host;
    (void)square;
    (void)lifted;
    return side == PS_WHITE ? told->supporters : told->attackers;
}

/* White's score for one chain of two files, given by the file of its base, with the pawn `behind` ranks behind its lever
 * (0: it has been played) and as many blockers and men as told. The direction is +1, Black has no lever, and
 * room and pieces weigh nothing. */
static int score_of(int base_file, bool use_head, int behind, int blockers, int supporters, int attackers)
{
    ps_weights without_place = *weights;
    without_place.room = 0;
    without_place.piece = 0;
    uint64_t one = 1;
    int base = 4 * 8 + base_file; /* rank 5 */
    int head = base + 9;
    int lever = use_head ? base - 1 : head + 1;
    int pawn = lever - 8 * behind;
    Told told = {supporters, attackers};
    ps_board board = {.to_move = PS_WHITE, .count_attackers = answer, .host = &told};
    board.pawns[PS_WHITE] = one << base | one << head | one << pawn;
    board.pawns[PS_BLACK] = one << (base + 8) | one << (head + 8);
    for (int i = 0; i < blockers; i++)
        board.pieces[PS_BLACK] |= one << (lever - 8 * i);
    ps_skeleton skeleton;
    ps_read_skeleton(&skeleton, board.pawns, PS_STRICT);
    return ps_term(&skeleton, &board, &without_place);
}

/* All else equal: every step that makes a lever better in one respect, over all the others. */
static void better_never_scores_less(void **state)
{
    (void)state;
    int compared = 0;
    for (int use_head = 0; use_head < 2; use_head++)
        for (int behind = 0; behind <= 4; behind++)
            for (int blockers = 0; blockers <= behind; blockers++)
                for (int supporters = 0; supporters < 7; supporters++)
                    for (int attackers = 0; attackers < 7; attackers++) {
                        bool head = use_head == 1;
                        int doubtful = score_of(1, head, behind, blockers, supporters, attackers);
                        int likely = score_of(2, head, behind, blockers, supporters, attackers);
                        int firm = score_of(3, head, behind, blockers, supporters, attackers);
                        assert_true(doubtful >= 0 && likely >= doubtful && firm >= likely);
                        for (int file = 1; file <= 3; file++) {
                            int score = score_of(file, head, behind, blockers, supporters, attackers);
                            assert_true(score_of(file, head, behind, blockers, supporters + 1, attackers) >=
                                        score);
                            assert_true(score_of(file, head, behind, blockers, supporters, attackers + 1) <=
                                        score);
                            if (blockers > 0)
                                assert_true(score_of(file, head, behind, blockers - 1, supporters,
                                                     attackers) >= score);
                            if (behind > blockers)
                                assert_true(score_of(file, head, behind - 1, blockers, supporters,
                                                     attackers) >= score);
                            compared++;
                        }
                    }
    assert_int_equal(compared, 2 * 15 * 49 * 3);
    /* And some steps do score more, or the above would say little. */
    assert_true(score_of(3, false, 1, 0, 1, 1) > score_of(2, false, 1, 0, 1, 1));
    assert_true(score_of(3, false, 1, 0, 1, 1) > score_of(3, false, 2, 0, 1, 1));
    assert_true(score_of(3, false, 1, 0, 2, 1) > score_of(3, false, 1, 0, 1, 1));
    assert_true(score_of(3, false, 1, 0, 1, 1) > score_of(3, true, 1, 0, 1, 1));
}

/* --------------------------------------------------------------------------------------------- readings */

static int loose_term(const char *men)
{
    Placed placed;
    place(&placed, men, PS_WHITE);
    return term_of(&placed.board, PS_LOOSE);
}

static void loose_takes_any_linked_pawns(void **state)
{
    (void)state;
    Placed placed;
    /* Nothing is rammed: strict is silent, loose sees White point at f5, where a pawn is ready. */
    place(&placed, "Pd4 Pe5 Pf4 pa7 Ke1 ke8", PS_WHITE);
    assert_int_equal(term_of(&placed.board, PS_STRICT), 0);
    int firm = term_of(&placed.board, PS_LOOSE);
    assert_true(firm >= weights->base_lever[1]);
    /* Links on other files score in full, too: the same three files along, with the room that there is less.
     */
    ps_weights without_place = *weights;
    without_place.room = 0;
    ps_skeleton skeleton;
    static const char *const links[] = {"Pa4 Pb5 Pc4", "Pb4 Pc5 Pd4", "Pd4 Pe5 Pf4", "Pf4 Pg5 Ph4"};
    for (size_t i = 0; i < sizeof links / sizeof *links; i++) {
        place(&placed, links[i], PS_WHITE);
        ps_read_skeleton(&skeleton, placed.board.pawns, PS_LOOSE);
        assert_int_equal(ps_term(&skeleton, &placed.board, &without_place), weights->base_lever[1]);
    }
    /* Side by side, two files apart or alone, pawns are not linked. */
    assert_int_equal(loose_term("Pd4 Pe4 Pf4"), 0);
    assert_int_equal(loose_term("Pd4 Pf5 Pf3"), 0);
    assert_int_equal(loose_term("Pd4"), 0);
}

static void loose_reads_each_side_by_itself(void **state)
{
    (void)state;
    int white = loose_term("Pd4 Pe5 Pf4");
    int black = loose_term("pb6 pc5 pd6 pa7");
    assert_true(white > 0 && black < 0);
    assert_int_equal(loose_term("Pd4 Pe5 Pf4 ph7"), white); /* a pawn far away takes no room on the way */
}

static void loose_off_the_board(void **state)
{
    (void)state;
    /* h5 beside g4 points off the board: no base lever; f4, beside the base, is played. */
    assert_int_equal(loose_term("Pg4 Ph5 Pf4"), weights->head_lever[0]);
    assert_int_equal(loose_term("Pg4 Ph5"), 0);
    assert_int_equal(loose_term("Pa5 Pb4"), 0);
    assert_int_equal(loose_term("Pb5 Pa4"), 0); /* the head lever is off the board, the base lever gone */
    assert_true(loose_term("Pb5 Pa4 Pc2") > 0);
}

/* On one pair and nothing else linked, both readings say the same. */
static void readings_agree_on_a_firm_pair(void **state)
{
    (void)state;
    Placed placed;
    place(&placed, "Pd4 pd5 Pe5 pe6 Pf2 pc7 Nf3 Bd3 nb6 Kg1 kg8", PS_BLACK);
    assert_int_not_equal(term_of(&placed.board, PS_STRICT), 0);
    assert_int_equal(term_of(&placed.board, PS_STRICT), term_of(&placed.board, PS_LOOSE));
}

/* ------------------------------------------------------------------------------------------ what it costs */

static int calls;

static int count_calls(const void *host, int square, ps_side side, int lifted)
{
    const ps_board *board = host;
    calls++;
    return board->count_attackers(board->host, square, side, lifted);
}

static void check_calls(Placed *placed, ps_rule rule)
{
    ps_board counting = placed->board;
    ps_skeleton skeleton;
    counting.count_attackers = count_calls;
    counting.host = &placed->board;
    ps_read_skeleton(&skeleton, counting.pawns, rule);
    calls = 0;
    ps_term(&skeleton, &counting, weights);
    int leads = skeleton.lead_count[PS_WHITE] + skeleton.lead_count[PS_BLACK];
    assert_true(calls <= 2 * leads);
    assert_true((calls == 0) == (leads == 0));
}

static void attackers_are_counted_for_leads_only(void **state)
{
    (void)state;
    over_placements(61, PS_STRICT, check_calls);
    over_placements(62, PS_LOOSE, check_calls);
    assert_int_equal(sizeof(ps_skeleton), 88);
    /* A lead that cannot be the fastest is not looked at: White's g5 is two steps away, b5 one. Black has
     * played both of its levers. */
    Placed placed;
    place(&placed, "Pc5 pc6 Pd4 pd5 Pe4 pe5 Pf5 pf6 Pb4 Pg3 Nc3 Ke1 ke8", PS_WHITE);
    ps_skeleton skeleton;
    ps_board counting = placed.board;
    counting.count_attackers = count_calls;
    counting.host = &placed.board;
    ps_read_skeleton(&skeleton, counting.pawns, PS_STRICT);
    assert_int_equal(skeleton.lead_count[PS_WHITE], 2);
    assert_int_equal(skeleton.lead_count[PS_BLACK], 2);
    calls = 0;
    ps_term(&skeleton, &counting, weights);
    assert_int_equal(calls, 2 + 4);
}

/* -------------------------------------------------------------------------------------------- the weights */

static void the_table_names_every_weight(void **state)
{
    (void)state;
    ps_weights copy = *weights;
    assert_int_equal(sizeof(ps_weights), PS_WEIGHT_COUNT * sizeof(int));
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        assert_int_equal(ps_weight_table[i].offset, (size_t)i * sizeof(int));
        assert_true(ps_weight_table[i].least <= ps_weight_table[i].greatest);
        for (int k = 0; k < i; k++)
            assert_string_not_equal(ps_weight_table[i].name, ps_weight_table[k].name);
        *ps_weight_at(&copy, i) = 1000 + i;
    }
    assert_int_equal(copy.base_lever[7], 1007);
    assert_string_equal(ps_weight_table[7].name, "base_lever[7]");
    assert_int_equal(copy.support, 1016);
    assert_string_equal(ps_weight_table[16].name, "support");
    assert_int_equal(copy.grade[PS_FIRM], 1022);
}

static bool sound_with(int index, int value)
{
    ps_weights copy = *weights;
    *ps_weight_at(&copy, index) = value;
    return ps_weights_are_sound(&copy);
}

static void sound_weights(void **state)
{
    (void)state;
    assert_true(ps_weights_are_sound(weights));
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        assert_false(sound_with(i, ps_weight_table[i].least - 1));
        assert_false(sound_with(i, ps_weight_table[i].greatest + 1));
    }
    ps_weights flat = {.grade = {0, 50, 50, 100}};
    assert_true(ps_weights_are_sound(&flat));
    flat.base_lever[3] = 1; /* more tempi must not score more */
    assert_false(ps_weights_are_sound(&flat));
    flat.base_lever[3] = 0;
    flat.head_lever[1] = 1;
    assert_false(ps_weights_are_sound(&flat));
    flat.head_lever[0] = 1;
    assert_true(ps_weights_are_sound(&flat));
    flat.grade[PS_DOUBTFUL] = 51; /* a softer grade neither */
    assert_false(ps_weights_are_sound(&flat));
}

static void check_bound(Placed *placed, ps_rule rule)
{
    ps_weights greatest;
    ps_skeleton skeleton;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++)
        *ps_weight_at(&greatest, i) = ps_weight_table[i].greatest;
    ps_read_skeleton(&skeleton, placed->board.pawns, rule);
    int term = ps_term(&skeleton, &placed->board, &greatest);
    assert_true(term > -5000 && term < 5000);
}

static void the_term_is_bounded(void **state)
{
    (void)state;
    over_placements(71, PS_STRICT, check_bound);
    over_placements(72, PS_LOOSE, check_bound);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(agrees_with_a_second_reading),
        cmocka_unit_test(nothing_locked_is_exactly_0),
        cmocka_unit_test(mirrors_are_exact),
        cmocka_unit_test(equal_claims_on_both_wings),
        cmocka_unit_test(the_parts_add_up),
        cmocka_unit_test(a_lever_that_cannot_be_played_scores_nothing),
        cmocka_unit_test(better_never_scores_less),
        cmocka_unit_test(loose_takes_any_linked_pawns),
        cmocka_unit_test(loose_reads_each_side_by_itself),
        cmocka_unit_test(loose_off_the_board),
        cmocka_unit_test(readings_agree_on_a_firm_pair),
        cmocka_unit_test(attackers_are_counted_for_leads_only),
        cmocka_unit_test(the_table_names_every_weight),
        cmocka_unit_test(sound_weights),
        cmocka_unit_test(the_term_is_bounded),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
