/* Where the rule is usually misread: section 5 of the definitions in structure/structure.h. */
#include "tests/structure/structure_boards.h"

static void assert_misses(const char *men, const char *expected)
{
    Placed placed, turned;
    ps_analysis analysis;
    place(&placed, men, PS_WHITE);
    turn_colours(&turned, &placed);
    const ps_board *boards[] = {&placed.board, &turned.board};
    for (int i = 0; i < 2; i++) {
        char found[64] = "";
        ps_analyse(&analysis, boards[i]);
        for (int k = 0; k < analysis.near_miss_count; k++)
            snprintf(found + strlen(found), sizeof found - strlen(found), "%s%s", k == 0 ? "" : " ",
                     ps_near_miss_name(analysis.near_misses[k]));
        if (strcmp(found, expected) != 0)
            fail_msg("%s%s: found \"%s\", expected \"%s\"", men, i == 0 ? "" : ", colours turned", found,
                     expected);
    }
}

static void not_linked(void **state)
{
    (void)state;
    assert_misses("Pd4 pd5 Pe4 pe5", "not_linked");
    assert_misses("Pd3 pd4 Pe5 pe6", "not_linked");
    assert_misses("Pd5 pd6 Pe3 pe4 Pf2 pc7", "not_linked");
    /* Other men on the files do not matter, nor links that are not between the rams. */
    assert_misses("Pd3 pd4 Pe5 pe6 Pe2 pd7 Rd1", "not_linked");
    /* A locked chain is no near miss, even beside a second ram that is not linked. */
    assert_misses("Pd4 pd5 Pe5 pe6", "");
    assert_misses("Pd4 pd5 Pe5 pe6 Pd6 pd7", "");
    assert_misses("Pd4 pd5 Pe3 pe4 Pe6 pe7", "");
}

static void same_way(void **state)
{
    (void)state;
    assert_misses("Pd3 Pe4 pd6 pe5", "same_way");         /* e rammed; both point to the kingside */
    assert_misses("Pd4 Pe3 pd5 pe6", "same_way");         /* d rammed; both point to the queenside */
    assert_misses("Pd4 Pe5 pd5 pe4", "same_way");         /* d rammed; both point to the kingside */
    assert_misses("Pd2 Pe3 Pe4 pe5 pd4", "not_rammed");   /* White's point to h, Black's to a */
    assert_misses("Pd4 Pe3 pd5 pe6 Pe2 pd7", "same_way"); /* others stand about */
    /* No ram on either file. */
    assert_misses("Pd3 Pe4 pd6 pe7", "");
    assert_misses("Pd3 Pe4 pd7 pe6", "");
    /* Doubled pawns that point both ways: one way in common is enough. */
    assert_misses("Pd3 Pd5 Pe4 pe5 pd7", "not_rammed");
    assert_misses("Pd3 Pe4 Pd2 Pe3 pe5 pd6", "same_way");
    assert_misses("Pd5 Pe4 Pd3 pe5 pd7 pe6", "same_way");
}

static void not_rammed(void **state)
{
    (void)state;
    assert_misses("Pe4 pe5 pd6 Pd2", "not_rammed"); /* only Black's pawns are linked */
    assert_misses("Pd4 pd5 Pe5 pe7", "not_rammed"); /* only White's */
    assert_misses("Pe4 pe5 Pd5 pd7", "not_rammed"); /* White's point to the queenside */
    assert_misses("Pe4 pe5 Pd2 pd3", "not_linked"); /* with a second ram it is another case */
    /* Both sides need a pawn on d and a pawn on e. */
    assert_misses("Pe4 pe5 pd6", "");
    assert_misses("Pe4 pe5 Pd3", "");
    assert_misses("Pe4 pe5 Pd5", "");
    assert_misses("Pd4 pd5 Pe5", "");
    assert_misses("Pd4 pd5 pe6", "");
    assert_misses("Pd4 pd5 Pe5 Pe3 re7 Ne4", ""); /* pieces do not count */
    assert_misses("Pd4 pd5 Pe5 pf6 pc6", "");
    /* A ram without linked pawns on d and e is just a ram. */
    assert_misses("Pe4 pe5 Pd4", "");
    assert_misses("Pe4 pe5 Pd2 pd7", "");
    assert_misses("Pe4 pe5 Pf3 pf6", "");
    assert_misses("Pd4 pd5 Pc3 pc6", "");
    assert_misses("Pd4 pd5 Pe2 pe7 Pc3 pf7", ""); /* linked, but not with each other */
    /* Linked pawns without a ram: nothing is locked that could be misread. */
    assert_misses("Pd4 Pe5 pe7", "");
    assert_misses("", "");
}

static void other_chains_do_not_hide_it(void **state)
{
    (void)state;
    assert_misses("Pc4 pc5 Pd5 pd6 Pe4 pe6", "not_rammed");
    assert_misses("Pc4 pc5 Pd5 pd6 Pe4", "");
    assert_misses("Pc4 pc5 Pd5 pd6 Pe4 pe7", "same_way");
    assert_misses("Pc4 pc5 Pd5 pd6 Pe3 pe4", "not_linked");
    assert_misses("Pf4 pf5 Pe5 pe6", "");
    /* A longer chain that holds d and e does. */
    assert_misses("Pc4 pc5 Pd5 pd6 Pe6 pe7", "");
    assert_misses("Pd5 pd6 Pe4 pe5 Pf3 pf4 Pe2 pd7", "");
    /* One that holds only one of the two does not. */
    assert_misses("Pb3 pb4 Pc4 pc5 Pd5 pd6 Pe4 pe7", "same_way");
    assert_misses("Pe4 pe5 Pf5 pf6 Pg6 pg7 Pd3 pd6", "same_way");
}

static void rim(void **state)
{
    (void)state;
    assert_misses("Pa4 pa5 Pb5 pb6", "rim");
    assert_misses("Pg5 pg6 Ph4 ph5", "rim");
    assert_misses("Pa4 pa5 Pb5 pb6 Pg5 pg6 Ph4 ph5", "rim"); /* once is enough */
    assert_misses("Pb4 pb5 Pc5 pc6", "");
    assert_misses("Pa4 pa5 Pb4 pb5", "");
    /* It stands beside a firm chain and beside the others. */
    assert_misses("Pa4 pa5 Pb5 pb6 Pd4 pd5 Pe5 pe6", "rim");
    assert_misses("Pa4 pa5 Pb5 pb6 Pd3 Pe4 pd6 pe5", "same_way rim");
    assert_misses("Pg4 pg5 Ph5 ph6 Pd4 pd5 Pe4 pe5", "not_linked rim");
    assert_misses("Pg4 pg5 Ph5 ph6 Pe4 pe5 pd6 Pd2", "not_rammed rim");
    assert_misses("Pg4 pg5 Ph5 ph6 Pe4 pe5 pd6", "rim");
    /* A longer chain that runs to the rim holds its two files as well. */
    assert_misses("Pe3 pe4 Pf4 pf5 Pg5 pg6 Ph6 ph7", "rim");
    assert_misses("Pa2 pa3 Pb3 pb4 Pc4 pc5 Pd5 pd6 Pe6 pe7", "rim");
    assert_misses("Pb3 pb4 Pc4 pc5 Pd5 pd6 Pe6 pe7 Pf7", "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(not_linked), cmocka_unit_test(same_way),
        cmocka_unit_test(not_rammed), cmocka_unit_test(other_chains_do_not_hide_it),
        cmocka_unit_test(rim),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
