/* Captures that may dissolve a lock: section 6 of the definitions in structure/structure.h. */
#include "tests/structure/structure_boards.h"

#define LOCKED "Pd4 pd5 Pe5 pe6 "

static void write_tension(const ps_analysis *analysis, ps_side side, char *text, size_t size)
{
    text[0] = '\0';
    for (int i = 0; i < analysis->tension[side].count; i++) {
        const ps_capture *capture = &analysis->tension[side].items[i];
        size_t length = strlen(text);
        snprintf(text + length, size - length, "%s%s%s%s", i == 0 ? "" : " ", ps_square_name(capture->from),
                 ps_square_name(capture->to), capture->en_passant ? "ep" : "");
    }
}

static void assert_captures(const ps_board *board, const char *men, ps_side side, const char *expected)
{
    ps_analysis analysis;
    char found[256];
    ps_analyse(&analysis, board);
    write_tension(&analysis, side, found, sizeof found);
    if (strcmp(found, expected) != 0)
        fail_msg("%s, %s to move: %s has \"%s\", expected \"%s\"", men, ps_side_name(board->to_move),
                 ps_side_name(side), found, expected);
}

/* Whoever is to move. */
static void assert_tension(const char *men, const char *white, const char *black)
{
    for (ps_side to_move = PS_WHITE; to_move <= PS_BLACK; to_move++) {
        Placed placed;
        place(&placed, men, to_move);
        assert_captures(&placed.board, men, PS_WHITE, white);
        assert_captures(&placed.board, men, PS_BLACK, black);
    }
}

static void assert_passing(const char *men, ps_side to_move, const char *square, const char *white,
                           const char *black)
{
    Placed placed;
    place(&placed, men, to_move);
    placed.board.en_passant = square_named(square);
    assert_captures(&placed.board, men, PS_WHITE, white);
    assert_captures(&placed.board, men, PS_BLACK, black);
}

static void a_locked_chain_alone_has_none(void **state)
{
    (void)state;
    assert_tension(LOCKED, "", "");
    assert_tension(LOCKED "Pf4 pc7 Pc3 pf7", "", "");
    assert_tension("Pd5 pd6 Pe4 pe5 Pf3 pf4 pg5 Pc4", "", "");
}

static void pawns_that_a_lever_attacks(void **state)
{
    (void)state;
    assert_tension(LOCKED "pc5", "d4c5", "c5d4");
    assert_tension(LOCKED "Pf5", "f5e6", "e6f5");
    assert_tension(LOCKED "Pc4 pf6", "c4d5 e5f6", "d5c4 f6e5");
    assert_tension("Pd5 pd6 Pe4 pe5 Pf3 pf4 Pc5 pg4", "f3g4 c5d6", "g4f3 d6c5");
}

static void pieces_that_a_chain_pawn_takes(void **state)
{
    (void)state;
    assert_tension(LOCKED "nc5", "d4c5", "");
    assert_tension(LOCKED "bf6 rd6 qc5", "d4c5 e5d6 e5f6", "");
    assert_tension(LOCKED "Nc4 Qe4", "", "d5c4 d5e4");
    assert_tension(LOCKED "Nc5 bc4", "", "");     /* not the own ones */
    assert_tension(LOCKED "kf6 kd6 Ke4", "", ""); /* kings are not taken */
    /* What a pawn outside the chain takes must be a pawn of it. */
    assert_tension(LOCKED "Pg4 nh5 Pc4 nb5", "c4d5", "d5c4");
    assert_tension(LOCKED "Pg4 nh5", "", "");
}

static void captures_elsewhere_do_not_count(void **state)
{
    (void)state;
    assert_tension(LOCKED "Pg4 ph5 Pa4 pb5", "", "");
    assert_tension("Pd4 pe5 Pc4 pd5", "", "");                 /* nothing is locked */
    assert_tension("Pd4 pd5 Pc4", "", "");                     /* one ram is no chain */
    assert_tension("Pd4 pd5 Pe5 pe6 Pc4 pb5", "c4d5", "d5c4"); /* c4xb5 is not one */
}

/* A ram belongs to a locked chain only if it is linked with a ram. */
static void rams_outside_the_chains_do_not_count(void **state)
{
    (void)state;
    assert_tension(LOCKED "Pb4 pb5 Pa4", "", "");
    assert_tension("Pc3 pc4 Pd4 pd5 Pe5 pe6 pb4", "c3b4", "b4c3");
    assert_tension("Pd4 pd5 Pe5 pe6 pb4 Pc3", "", ""); /* c3 defends the chain and is not locked */
}

static void any_chain_will_do(void **state)
{
    (void)state;
    assert_tension("Pg4 pg5 Ph5 ph6 pf5", "g4f5", "f5g4"); /* void, with no plan */
    assert_tension("Pa4 pa5 Pb5 pb6 Pc5 pd6", "c5b6", "b6c5");
    /* Captures between two chains: once each. */
    assert_tension("Pb4 pb5 Pc5 pc6 Pd5 pd6 Pe4 pe5", "c5d6 d5c6", "c6d5 d6c5");
}

static void by_origin_then_goal(void **state)
{
    (void)state;
    assert_tension("Pd4 pd5 Pe5 pe6 pc5 nd6 bf6 Pc4 Pf5", "c4d5 d4c5 e5d6 e5f6 f5e6", "c5d4 d5c4 e6f5");
    assert_tension("Pd5 pd6 Pe4 pe5 pf5 Pf4 Rc4 Nc5", "e4f5 f4e5", "e5f4 f5e4 d6c5");
}

static void en_passant_takes_a_chain_pawn_or_is_made_by_one(void **state)
{
    (void)state;
    /* ...f7-f5 beside the head. */
    assert_passing(LOCKED "pf5", PS_WHITE, "f6", "e5f6ep", "");
    /* ...d7-d5 locks the chain and can be taken in passing, by c5 from outside and by e5 from within. */
    assert_passing(LOCKED "Pc5", PS_WHITE, "d6", "c5d6ep e5d6ep", "");
    /* c2-c4 beside Black's head. */
    assert_passing(LOCKED "Pc4", PS_BLACK, "c3", "c4d5", "d5c4");
    assert_passing("Pd2 pd3 Pe3 pe4 Pf4", PS_BLACK, "f3", "", "e4f3ep");
    /* Neither the taker nor the taken is locked. */
    assert_passing(LOCKED "Ph5 pg5", PS_WHITE, "g6", "", "");
}

static void en_passant_is_for_the_side_to_move_only(void **state)
{
    (void)state;
    assert_passing(LOCKED "pf5", PS_BLACK, "f6", "", "");
    assert_passing("Pd2 pd3 Pe3 pe4 Pf4", PS_WHITE, "f3", "", "");
    /* And only if it is named: none, and 0, which a board without one may hold. */
    assert_tension(LOCKED "pf5", "", "");
    assert_passing(LOCKED "pf5", PS_WHITE, "a1", "", "");
}

/* A square that no double step can have left: nothing is taken there. */
static void a_square_that_makes_no_sense_is_passed_over(void **state)
{
    (void)state;
    assert_passing(LOCKED "pf5", PS_WHITE, "f3", "", "");
    assert_passing(LOCKED "pf5", PS_WHITE, "d6", "e5d6ep", ""); /* the pawn on d5 may have come so */
    assert_passing(LOCKED, PS_WHITE, "f6", "", "");             /* no pawn has passed */
    assert_passing(LOCKED "nf5", PS_WHITE, "f6", "", "");
    assert_passing(LOCKED "Pf5", PS_WHITE, "f6", "f5e6", "e6f5");
    assert_passing(LOCKED "pf5 nf6", PS_WHITE, "f6", "e5f6", ""); /* a plain capture */
    assert_passing(LOCKED "pf5 Nf6", PS_WHITE, "f6", "", "");
    assert_passing(LOCKED "pf5 Pf6", PS_WHITE, "f6", "", "");
    Placed placed;
    place(&placed, LOCKED "pf5", PS_WHITE);
    for (int square = -3; square < 70; square++) {
        placed.board.en_passant = square;
        assert_captures(&placed.board, LOCKED "pf5", PS_WHITE,
                        square == square_named("f6")   ? "e5f6ep"
                        : square == square_named("d6") ? "e5d6ep"
                                                       : "");
    }
}

/* The own king's safety is left out: the pawn on d4 is pinned, and White is in check. */
static void pins_and_checks_do_not_matter(void **state)
{
    (void)state;
    assert_tension(LOCKED "pc5 Kd1 Rd2 qd3 kg8", "d4c5", "c5d4");
    assert_tension(LOCKED "pc5 Kg1 bb6 kg8", "d4c5", "c5d4");
    assert_tension(LOCKED "pc5 Kg1 rg8 kh8", "d4c5", "c5d4");
}

/* Colours turned round, the captures are the same, seen from the other side. */
static void colours_turned(void **state)
{
    (void)state;
    uint64_t seed = 611;
    int captures = 0;
    for (int i = 0; i < 20000; i++) {
        Placed placed, turned;
        ps_analysis analysis, other;
        place_random(&placed, &seed);
        turn_colours(&turned, &placed);
        ps_analyse(&analysis, &placed.board);
        ps_analyse(&other, &turned.board);
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            const ps_capture_list *list = &analysis.tension[side], *mirror = &other.tension[1 - side];
            assert_int_equal(list->count, mirror->count);
            for (int k = 0; k < list->count; k++) {
                bool found = false;
                for (int m = 0; m < mirror->count; m++)
                    found |= mirror->items[m].from == (list->items[k].from ^ 56) &&
                             mirror->items[m].to == (list->items[k].to ^ 56);
                assert_true(found);
            }
            captures += list->count;
        }
    }
    assert_true(captures > 5000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_locked_chain_alone_has_none),
        cmocka_unit_test(pawns_that_a_lever_attacks),
        cmocka_unit_test(pieces_that_a_chain_pawn_takes),
        cmocka_unit_test(captures_elsewhere_do_not_count),
        cmocka_unit_test(rams_outside_the_chains_do_not_count),
        cmocka_unit_test(any_chain_will_do),
        cmocka_unit_test(by_origin_then_goal),
        cmocka_unit_test(en_passant_takes_a_chain_pawn_or_is_made_by_one),
        cmocka_unit_test(en_passant_is_for_the_side_to_move_only),
        cmocka_unit_test(a_square_that_makes_no_sense_is_passed_over),
        cmocka_unit_test(pins_and_checks_do_not_matter),
        cmocka_unit_test(colours_turned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
