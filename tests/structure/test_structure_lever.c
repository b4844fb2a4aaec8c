/* The state of a lever: section 3 of the definitions in structure/structure.h.
 *
 * Nearly all cases stand round the chain d4 e5 against d5 e6, where White's base lever is f5 and Black's is
 * c5. */
#include "tests/structure/structure_boards.h"

#define LOCKED "Pd4 pd5 Pe5 pe6 "

static ps_lever base_lever(const char *men, ps_side side)
{
    Placed placed;
    ps_analysis analysis;
    place(&placed, men, PS_WHITE);
    ps_analyse(&analysis, &placed.board);
    assert_true(analysis.chain_count >= 1);
    return analysis.chains[0].side[side].base_lever;
}

typedef struct LeverCase {
    const char *men;
    const char *status, *pawn;
    int steps, supporters, attackers, tempi;
    const char *blockers;
} LeverCase;

static void assert_lever(const LeverCase *c, ps_side side)
{
    ps_lever lever = base_lever(c->men, side);
    char blockers[32] = "";
    for (int i = 0; i < lever.blocker_count; i++)
        snprintf(blockers + strlen(blockers), sizeof blockers - strlen(blockers), "%s%s", i == 0 ? "" : " ",
                 ps_square_name(lever.blockers[i]));
    if (strcmp(ps_status_name(lever.status), c->status) != 0 || strcmp(blockers, c->blockers) != 0 ||
        strcmp(ps_square_name(lever.pawn), c->pawn) != 0 || lever.steps != c->steps ||
        lever.supporters != c->supporters || lever.attackers != c->attackers || lever.tempi != c->tempi)
        fail_msg("%s: found %s, pawn %s, steps %d, support %d:%d, tempi %d, blockers '%s'", c->men,
                 ps_status_name(lever.status), ps_square_name(lever.pawn), lever.steps, lever.supporters,
                 lever.attackers, lever.tempi, blockers);
}

#define ASSERT_CASES(cases, side)                                                                            \
    for (size_t i = 0; i < sizeof(cases) / sizeof *(cases); i++)                                             \
    assert_lever(&(cases)[i], side)

static void played(void **state)
{
    (void)state;
    static const LeverCase cases[] = {
        {LOCKED "Pf5", "played", "f5", 0, 0, 1, 0, ""},
        /* Nothing is lifted: the rook on f1 sees the pawn on its square, the rook behind a pawn on f3 does
           not. */
        {LOCKED "Pf5 Rf1", "played", "f5", 0, 1, 1, 0, ""},
        {LOCKED "Pf5 Pf3 Rf1", "played", "f5", 0, 0, 1, 0, ""},
        /* Support does not matter any more, nor do other pawns on the file. */
        {LOCKED "Pf5 pg6 ng7", "played", "f5", 0, 0, 3, 0, ""},
        {LOCKED "Pf5 Pf2 pf3", "played", "f5", 0, 0, 1, 0, ""},
    };
    ASSERT_CASES(cases, PS_WHITE);
}

static void beyond(void **state)
{
    (void)state;
    static const LeverCase white[] = {
        {LOCKED "Pf6", "beyond", "-", -1, -1, -1, -1, ""},
        {LOCKED "Pf6 Pf7", "beyond", "-", -1, -1, -1, -1, ""},
        /* Whatever else stands on the file. */
        {LOCKED "Pf7 pf6", "beyond", "-", -1, -1, -1, -1, ""},
        {LOCKED "Pf6 pf5", "beyond", "-", -1, -1, -1, -1, ""},
        {LOCKED "Pf6 pf2", "beyond", "-", -1, -1, -1, -1, ""},
        {LOCKED "Pf6 rf5", "beyond", "-", -1, -1, -1, -1, ""},
        /* A pawn on the square or behind it still counts first, barred or not. */
        {LOCKED "Pf6 Pf5", "played", "f5", 0, 0, 1, 0, ""},
        {LOCKED "Pf6 Pf4", "unsupported", "f4", 1, 0, 1, 2, ""},
        {LOCKED "Pf6 Pf2 pf4", "barred", "f2", -1, -1, -1, -1, ""},
    };
    static const LeverCase black[] = {
        {LOCKED "pc4", "beyond", "-", -1, -1, -1, -1, ""},
        {LOCKED "pc3 Pc2", "beyond", "-", -1, -1, -1, -1, ""},
        {LOCKED "pc2", "beyond", "-", -1, -1, -1, -1, ""},
    };
    ASSERT_CASES(white, PS_WHITE);
    ASSERT_CASES(black, PS_BLACK);
}

static void cleared(void **state)
{
    (void)state;
    static const LeverCase white[] = {
        {LOCKED "", "cleared", "-", -1, -1, -1, -1, ""},
        {LOCKED "Pg2 Pg4 pg7", "cleared", "-", -1, -1, -1, -1, ""}, /* pawns on the next file */
        {LOCKED "Rf2", "cleared", "-", -1, -1, -1, -1, ""},         /* pieces leave a file open */
        {LOCKED "Rf1 Nf5 rf8", "cleared", "-", -1, -1, -1, -1, ""},
    };
    static const LeverCase black[] = {
        {LOCKED "qc5 Rc1", "cleared", "-", -1, -1, -1, -1, ""},
    };
    ASSERT_CASES(white, PS_WHITE);
    ASSERT_CASES(black, PS_BLACK);
}

static void gone(void **state)
{
    (void)state;
    static const LeverCase white[] = {
        {LOCKED "pf5", "gone", "-", -1, -1, -1, -1,
         ""}, /* on the square: with no own pawn nothing is barred */
        {LOCKED "pf7", "gone", "-", -1, -1, -1, -1, ""},
        {LOCKED "pf2", "gone", "-", -1, -1, -1, -1, ""},
        {LOCKED "pf7 Rf5 Pg4", "gone", "-", -1, -1, -1, -1, ""},
    };
    static const LeverCase black[] = {
        {LOCKED "Pc2", "gone", "-", -1, -1, -1, -1, ""},
        {LOCKED "Pc7 rc8", "gone", "-", -1, -1, -1, -1, ""},
    };
    ASSERT_CASES(white, PS_WHITE);
    ASSERT_CASES(black, PS_BLACK);
}

/* Which states are live and which are done: all nine. */
static void live_and_done(void **state)
{
    (void)state;
    static const struct {
        const char *men;
        ps_status status;
        bool live, done;
    } cases[] = {
        {LOCKED "Pf5", PS_PLAYED, true, false},         {LOCKED "Pf4 Bd3", PS_READY, true, false},
        {LOCKED "Pf2 Bd3", PS_OPEN, true, false},       {LOCKED "Pf4", PS_UNSUPPORTED, true, false},
        {LOCKED "Pf4 Nf5", PS_OBSTRUCTED, true, false}, {LOCKED "Pf6", PS_BEYOND, false, true},
        {LOCKED "", PS_CLEARED, false, true},           {LOCKED "Pf2 pf3", PS_BARRED, false, false},
        {LOCKED "pf7", PS_GONE, false, false},
    };
    assert_int_equal(sizeof cases / sizeof *cases, PS_STATUS_COUNT);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ps_lever lever = base_lever(cases[i].men, PS_WHITE);
        assert_int_equal(lever.status, cases[i].status);
        assert_int_equal(ps_lever_is_live(&lever), cases[i].live);
        assert_int_equal(ps_lever_is_done(&lever), cases[i].done);
    }
    /* Black's base lever of abc is off the board. */
    ps_lever none = base_lever("Pa3 pa4 Pb4 pb5 Pc5 pc6", PS_BLACK);
    assert_int_equal(none.square, PS_NO_SQUARE);
    assert_false(ps_lever_is_live(&none));
    assert_false(ps_lever_is_done(&none));
}

/* In a long chain the lever is read where the chain ends: round d5 e4 f3 against d6 e5 f4, c5 and g4. */
static void the_lever_of_a_long_chain(void **state)
{
    (void)state;
    static const LeverCase white[] = {
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4 Pc4 Pb4", "ready", "c4", 1, 1, 1, 1, ""},
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4 Pc6", "beyond", "-", -1, -1, -1, -1, ""},
    };
    static const LeverCase black[] = {
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4 pg5 nf6", "ready", "g5", 1, 1, 1, 1, ""},
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4 pg7 nf6", "open", "g7", 2, 1, 1, 2, ""},
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4 pg5 Pg4 nf6", "barred", "g5", -1, -1, -1, -1, ""},
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4 pg3", "beyond", "-", -1, -1, -1, -1, ""},
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4 pf7", "cleared", "-", -1, -1, -1, -1, ""}, /* the f-pawn is no g-pawn */
        {"Pd5 pd6 Pe4 pe5 Pf3 pf4 Pg2", "gone", "-", -1, -1, -1, -1, ""},
    };
    ASSERT_CASES(white, PS_WHITE);
    ASSERT_CASES(black, PS_BLACK);
}

static void barred(void **state)
{
    (void)state;
    static const LeverCase cases[] = {
        {LOCKED "Pf2 pf5", "barred", "f2", -1, -1, -1, -1, ""},
        {LOCKED "Pf2 pf4", "barred", "f2", -1, -1, -1, -1, ""},
        {LOCKED "Pf2 pf3 Nf4", "barred", "f2", -1, -1, -1, -1, ""},
        /* Not by a pawn behind the own one or beyond the lever square. */
        {LOCKED "Pf4 pf3", "unsupported", "f4", 1, 0, 1, 2, ""},
        {LOCKED "Pf4 pf6", "unsupported", "f4", 1, 0, 1, 2, ""},
        /* The nearest pawn counts, so one that is barred further back does not matter. */
        {LOCKED "Pf2 pf3 Pf4", "unsupported", "f4", 1, 0, 1, 2, ""},
    };
    ASSERT_CASES(cases, PS_WHITE);
}

static void the_nearest_pawn_counts(void **state)
{
    (void)state;
    static const LeverCase white[] = {
        {LOCKED "Pf2 Pf3 Bd3", "open", "f3", 2, 1, 1, 2, ""},
        {LOCKED "Pf2 Pf4 Pf3 Bd3", "ready", "f4", 1, 1, 1, 1, ""},
    };
    static const LeverCase black[] = {
        {LOCKED "pc7 pc6 be7", "ready", "c6", 1, 1, 1, 1, ""},
    };
    ASSERT_CASES(white, PS_WHITE);
    ASSERT_CASES(black, PS_BLACK);
}

static void a_double_step_counts_one(void **state)
{
    (void)state;
    static const LeverCase white[] = {
        {LOCKED "Pf2 Bd3", "open", "f2", 2, 1, 1, 2, ""},  /* three ranks */
        {LOCKED "Pf3 Bd3", "open", "f3", 2, 1, 1, 2, ""},  /* two ranks, no double step */
        {LOCKED "Pf4 Bd3", "ready", "f4", 1, 1, 1, 1, ""}, /* one rank */
        {"Pd3 pd4 Pe4 pe5 Pf2 Pg3", "ready", "f2", 1, 1, 1, 1, ""},
        {"Pd2 pd3 Pe3 pe4 Pf2 Pg2", "ready", "f2", 1, 1, 1, 1, ""}, /* one rank from the second */
        {"Pd5 pd6 Pe6 pe7 Pf2 Pg5", "open", "f2", 3, 1, 1, 3, ""},
    };
    static const LeverCase black[] = {
        {LOCKED "pc7 bb6", "ready", "c7", 1, 1, 1, 1, ""},
        {LOCKED "pc6 bb6", "ready", "c6", 1, 1, 1, 1, ""},
        {"Pd3 pd4 Pe4 pe5 pc7 bb5", "open", "c7", 2, 1, 1, 2, ""},
        {"Pd3 pd4 Pe4 pe5 pc6 bb5", "open", "c6", 2, 1, 1, 2, ""},
    };
    ASSERT_CASES(white, PS_WHITE);
    ASSERT_CASES(black, PS_BLACK);
}

static void pieces_of_both_sides_block(void **state)
{
    (void)state;
    static const LeverCase white[] = {
        {LOCKED "Pf2 Nf3 Bd3", "obstructed", "f2", 2, 1, 1, 3, "f3"},
        {LOCKED "Pf2 rf5 Kf3 nf4 Bd3 Nh4", "obstructed", "f2", 2, 2, 1, 5, "f3 f4 f5"},
        {LOCKED "Pf4 kf5 Bd3", "obstructed", "f4", 1, 1, 1, 2, "f5"},
        /* Behind the pawn and beyond the lever square nothing is in the way. */
        {LOCKED "Pf3 Bf2 nf6 Bd3", "open", "f3", 2, 1, 1, 2, ""},
        /* Obstructed is asked before unsupported, and both cost tempi. */
        {LOCKED "Pf2 Nf3", "obstructed", "f2", 2, 0, 1, 4, "f3"},
    };
    static const LeverCase black[] = {
        {LOCKED "pc7 nc6 bc5 bd6", "obstructed", "c7", 1, 1, 1, 3, "c6 c5"},
        /* The white king attacks c5, too. */
        {LOCKED "pc7 Kc6 bb6", "obstructed", "c7", 1, 1, 2, 3, "c6"},
    };
    ASSERT_CASES(white, PS_WHITE);
    ASSERT_CASES(black, PS_BLACK);
}

static void what_attacks_the_square(void **state)
{
    (void)state;
    static const LeverCase cases[] = {
        /* The rook looks through the lifted pawn, but not through another man. */
        {LOCKED "Pf4 Rf1", "ready", "f4", 1, 1, 1, 1, ""},
        {LOCKED "Pf4 Bf2 Rf1", "unsupported", "f4", 1, 0, 1, 2, ""},
        {LOCKED "Pf2 Rf1", "open", "f2", 2, 1, 1, 2, ""},
        {LOCKED "Pf2 Nf3 Rf1", "obstructed", "f2", 2, 0, 1, 4, "f3"},
        /* Nor does one piece look through another of its own kind. */
        {LOCKED "Pf4 Rf3 Rf1", "ready", "f4", 1, 1, 1, 1, ""},
        /* The lifted pawn itself is no supporter, a pawn beside it is. */
        {LOCKED "Pf4 Pg4", "ready", "f4", 1, 1, 1, 1, ""},
        /* Kings count, on both sides. */
        {LOCKED "Pf4 Kg4", "ready", "f4", 1, 1, 1, 1, ""},
        {LOCKED "Pf4 Kg4 kg6", "unsupported", "f4", 1, 1, 2, 2, ""},
        /* So do pinned men: the knight on e3 may not move, the pawn on e6 neither. */
        {LOCKED "Pf4 Kh3 Ne3 ra3", "ready", "f4", 1, 1, 1, 1, ""},
        {LOCKED "Pf4 Nh4 kd7 Bg4", "ready", "f4", 1, 2, 1, 1, ""},
        /* A man on the lever square does not attack it. */
        {LOCKED "Pf4 Nf5", "obstructed", "f4", 1, 0, 1, 3, "f5"},
        /* Each kind of man. */
        {LOCKED "Pf4 Qf1 Rh5 Bd3 Nd6 Kf6 Pg4", "ready", "f4", 1, 6, 1, 1, ""},
        {LOCKED "Pf4 qb1 rh5 bh7 ng7 kf6", "unsupported", "f4", 1, 0, 6, 7, ""},
    };
    ASSERT_CASES(cases, PS_WHITE);
}

static void short_is_never_negative(void **state)
{
    (void)state;
    static const LeverCase cases[] = {
        {LOCKED "Pf4 Bd3 Ng3 Pg4 Rf1", "ready", "f4", 1, 4, 1, 1, ""},
        {LOCKED "Pf4 pg6", "unsupported", "f4", 1, 0, 2, 3, ""},
        {LOCKED "Pf4 pg6 Bd3 Ng3", "ready", "f4", 1, 2, 2, 1, ""}, /* as many are enough */
    };
    ASSERT_CASES(cases, PS_WHITE);
}

static void the_head_lever_is_read_the_same_way(void **state)
{
    (void)state;
    Placed placed;
    ps_analysis analysis;
    place(&placed, LOCKED "Pc2 pf7 bf6 Na3", PS_WHITE);
    ps_analyse(&analysis, &placed.board);
    const ps_lever *white = &analysis.chains[0].side[PS_WHITE].head_lever;
    const ps_lever *black = &analysis.chains[0].side[PS_BLACK].head_lever;
    assert_string_equal(ps_square_name(white->square), "c4");
    assert_string_equal(ps_status_name(white->status), "ready");
    assert_int_equal(white->steps, 1);
    assert_int_equal(white->supporters, 1);
    assert_int_equal(white->attackers, 1);
    assert_string_equal(ps_square_name(black->square), "f6");
    assert_string_equal(ps_status_name(black->status), "obstructed");
    assert_int_equal(black->blockers[0], square_named("f6"));
    assert_int_equal(black->tempi, 3); /* a step, a blocker, one attacker and no supporter */
}

static void en_passant_does_not_matter(void **state)
{
    (void)state;
    /* A black pawn on g4 could take f4 in passing; it only attacks f3, and the lever is read as ever. */
    static const LeverCase cases[] = {{LOCKED "Pf2 pg4 Bd3", "open", "f2", 2, 1, 1, 2, ""}};
    ASSERT_CASES(cases, PS_WHITE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(played),
        cmocka_unit_test(beyond),
        cmocka_unit_test(cleared),
        cmocka_unit_test(gone),
        cmocka_unit_test(live_and_done),
        cmocka_unit_test(the_lever_of_a_long_chain),
        cmocka_unit_test(barred),
        cmocka_unit_test(the_nearest_pawn_counts),
        cmocka_unit_test(a_double_step_counts_one),
        cmocka_unit_test(pieces_of_both_sides_block),
        cmocka_unit_test(what_attacks_the_square),
        cmocka_unit_test(short_is_never_negative),
        cmocka_unit_test(the_head_lever_is_read_the_same_way),
        cmocka_unit_test(en_passant_does_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
