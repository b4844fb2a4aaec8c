/* The sentences, and the words that they and all other output share. */
#include <ctype.h>

#include "tests/structure/structure_boards.h"

static size_t explain(const char *men, ps_side to_move, char words[PS_EXPLAIN_SIZE])
{
    Placed placed;
    ps_analysis analysis;
    place(&placed, men, to_move);
    ps_analyse(&analysis, &placed.board);
    return ps_explain(words, PS_EXPLAIN_SIZE, &analysis, &placed.board);
}

static void assert_says(const char *men, const char *expected)
{
    char words[PS_EXPLAIN_SIZE];
    explain(men, PS_WHITE, words);
    if (strstr(words, expected) == NULL)
        fail_msg("%s: \"%s\" is missing in \"%s\"", men, expected, words);
}

#define FRENCH "Pd4 pd5 Pe5 pe6 "

static void a_whole_text(void **state)
{
    (void)state;
    char words[PS_EXPLAIN_SIZE];
    explain(FRENCH "Pf2 Nf3 Bd3 pc7 bb6 Kg1 kg8", PS_BLACK, words);
    assert_string_equal(
        words, "The pawns on d and e are locked: White's d4 and e5 against Black's d5 and e6; there the "
               "direction names the side to break and to play on. White's pawns point to the kingside, and "
               "the lever f5 against e6, the base of the enemy chain, is obstructed: the pawn on f2 needs 2 "
               "steps, and a piece on f3 stands in its way. Black's pawns point to the queenside, and the "
               "lever c5 against d4, the base of the enemy chain, is ready: the pawn on c7 needs 1 step, and "
               "c5 is guarded once and attacked once. Black comes first, with 1 tempo against 3.");
}

static void what_is_locked(void **state)
{
    (void)state;
    assert_says("Pd4 pd5", "No two rams stand side by side in a chain, so there is no direction to read.");
    assert_says("Pc4 pc5 Pd5 pd6",
                "The pawns on c and d are locked: White's c4 and d5 against Black's c5 and d6; "
                "there the direction is usually right, but has to be read with care.");
    assert_says("Pb5 pb6 Pc4 pc5", "there the direction names a file rather than a wing");
    assert_says("Pg4 pg5 Ph5 ph6", "at the rim the direction says nothing.");
    assert_says("Pc4 pc5 Pd5 pd6 Pe4 pe5",
                "2 pairs of pawns are locked, on the files cd and de; in the firmest of "
                "them the direction names the side");
    assert_says("Pc4 pc5 Pd5 pd6 Pe4 pe5", "On the files de White's pawns point to the queenside");
    /* Two pairs on the same files are two pairs, and the files are said once. */
    assert_says("Pd2 pd3 Pe3 pe4 Pd4 pd5", "2 pairs of pawns are locked, on the files de;");
}

static void what_the_lever_needs(void **state)
{
    (void)state;
    assert_says(FRENCH "Pf5", "the lever f5 against e6, the base of the enemy chain, is on the board: e6 is "
                              "attacked now");
    assert_says(FRENCH "Pf4 Bd3 pd7",
                "the lever f5 against e6 is ready: the pawn on f4 needs 1 step, and f5 is "
                "guarded once and attacked once");
    assert_says(FRENCH "Pf2 Bd3", "is open: the pawn on f2 needs 2 steps, with nothing in its way");
    assert_says(FRENCH "Pf4",
                "lacks support: the pawn on f4 needs 1 step, but f5 is attacked once and not guarded");
    assert_says(FRENCH "Pf4 pg6 kg7 Bd3",
                "lacks support: the pawn on f4 needs 1 step, but f5 is guarded once and attacked twice");
    assert_says(FRENCH "Pf4 Bd3 Ng3 Kg4", "f5 is guarded 3 times and attacked once");
    assert_says("Pd3 pd4 Pe4 pe5 Pf3 pg7 Be3 Nh3", "f4 is guarded twice and attacked once");
    assert_says(FRENCH "Pf2 Nf3 Rf4 Bd3", "and pieces on f3 and f4 stand in its way.");
    assert_says(FRENCH "Pf2 Nf3 Rf4 qf5 kg6", "and pieces on f3, f4 and f5 stand in its way, while f5 is");
}

static void why_it_misleads(void **state)
{
    (void)state;
    assert_says(FRENCH "Pf2 pf4",
                "point to the kingside, but that misleads, for the lever f5 against e6, the base of "
                "the enemy chain, cannot be played: the enemy pawn on f4 bars the way of the pawn "
                "on f2; nor is there another lever.");
    assert_says(FRENCH "Pf2 pf3 pf5", "the enemy pawn on f3 bars"); /* the nearest one */
    assert_says(FRENCH "pc7 Pc6 Pc5", "the enemy pawn on c6 bars the way of the pawn on c7");
    assert_says(FRENCH "", "cannot be played: no pawn stands behind it on its file");
    assert_says(FRENCH "Pc3 Bb3", "; the other lever c4 against d5 is ready: the pawn on c3 needs 1 step");
    assert_says("Pf4 pf5 Pg5 pg6",
                "point to the h-file, but the lever h5 against g6, the base of the enemy chain, "
                "cannot be played");
    assert_says("Pd4 pd5 Pe4 pe5",
                "Do not be misled: the d-file and the e-file are both closed by rams, but their "
                "pawns do not defend each other");
    assert_says("Pe4 pe5 Pd3 pd6",
                "Do not be misled: both sides' pawns on d and e point to the same wing, and only "
                "one of the two files is closed by a ram");
    assert_says("Pe4 pe5 Pd3", "Do not be misled: there are linked pawns on d and e, but only one");
    assert_says("Pe4 pe5 Pd3 pd6 nd4 pa7",
                "White has no push that attacks a pawn; Black can attack a pawn with d5.");
    assert_says("Pa4 pa5 Pb5 pb6 " FRENCH, "Do not be misled: what is locked at the rim says nothing.");
    assert_says("Pa4 pa5 Pb5 pb6 Pc4 pc5 Pd4 pd5 Pe4 pe5",
                "form no chain in the centre; and what is locked at the rim says nothing.");
}

static void who_comes_first(void **state)
{
    (void)state;
    assert_says(FRENCH "Pf4 pc7", "Both sides need 2 tempi for it, so White, who is to move, comes first.");
    assert_says(FRENCH "Pf4 Pg4 pc7", "White comes first, with 1 tempo against 2.");
    assert_says(FRENCH "Pf5 pc5", "Both levers are on the board, and White is to move.");
    assert_says(FRENCH "pc6", "Only Black can play the lever that the direction names, in 2 tempi.");
    assert_says(FRENCH "pc5", "Only Black has the lever that the direction names, and has played it.");
    assert_says(FRENCH, "Neither side can play the lever that its direction names.");
}

/* Each sentence begins with a capital and ends with the only full stop in it. */
static int count_sentences(const char *words)
{
    int count = 0;
    bool begins = true;
    for (const char *c = words; *c != '\0'; c++) {
        if (begins && !isupper((unsigned char)*c) && !isdigit((unsigned char)*c))
            fail_msg("no capital at \"%s\"", c);
        begins = false;
        if (*c == '.') {
            count++;
            if (c[1] == '\0')
                return count;
            if (c[1] != ' ')
                fail_msg("no space in \"%s\"", c);
            c++;
            begins = true;
        }
    }
    fail_msg("no full stop at the end of \"%s\"", words);
    return count;
}

static void two_to_five_sentences(void **state)
{
    (void)state;
    uint64_t seed = 81;
    bool seen[6] = {false};
    for (int i = 0; i < 20000; i++) {
        Placed placed;
        ps_analysis analysis;
        char words[PS_EXPLAIN_SIZE];
        place_random(&placed, &seed);
        ps_analyse(&analysis, &placed.board);
        size_t length = ps_explain(words, sizeof words, &analysis, &placed.board);
        assert_true(length < PS_EXPLAIN_SIZE);
        assert_int_equal(length, strlen(words));
        assert_null(strstr(words, "  "));
        int sentences = count_sentences(words);
        if (sentences < 2 || sentences > 5)
            fail_msg("%d sentences: %s", sentences, words);
        seen[sentences] = true;
        /* It says so if and only if a side's direction misleads. */
        bool misleads = analysis.plan[PS_WHITE].verdict == PS_MISLEADING ||
                        analysis.plan[PS_BLACK].verdict == PS_MISLEADING;
        assert_int_equal(strstr(words, "but that misleads") != NULL, misleads);
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            const ps_lever *lever = ps_plan_lever(&analysis, (ps_side)side);
            char named[32];
            if (lever == NULL)
                continue;
            snprintf(named, sizeof named, "the lever %s against %s", ps_square_name(lever->square),
                     ps_square_name(lever->target));
            assert_non_null(strstr(words, named));
        }
    }
    assert_true(seen[2] && seen[3] && seen[4] && seen[5]);
}

static void a_short_buffer_is_not_overrun(void **state)
{
    (void)state;
    Placed placed;
    ps_analysis analysis;
    char whole[PS_EXPLAIN_SIZE];
    place(&placed, FRENCH "Pf2 pc7", PS_WHITE);
    ps_analyse(&analysis, &placed.board);
    size_t length = ps_explain(whole, sizeof whole, &analysis, &placed.board);
    assert_int_equal(ps_explain(NULL, 0, &analysis, &placed.board), length);
    for (size_t size = 1; size <= length + 1; size++) {
        char part[PS_EXPLAIN_SIZE];
        memset(part, '#', sizeof part);
        assert_int_equal(ps_explain(part, size, &analysis, &placed.board), length);
        assert_int_equal(strlen(part), size - 1);
        assert_memory_equal(part, whole, size - 1);
        assert_int_equal(part[size], '#');
    }
}

/* The words of the definitions, all different within their table. */
static void each_value_has_its_word(void **state)
{
    (void)state;
    static const char *const grades[] = {"void", "doubtful", "likely", "firm"};
    static const char *const statuses[] = {"played",     "ready",  "open", "unsupported",
                                           "obstructed", "barred", "gone"};
    static const char *const verdicts[] = {"applies", "misleading", "weak", "none"};
    static const char *const regions[] = {"queenside", "centre", "kingside"};
    static const char *const misses[] = {"not_linked", "same_way", "not_rammed", "rim"};
    static const char *const kinds[] = {"base", "head", "other"};
    static const char *const files[] = {"ab", "bc", "cd", "de", "ef", "fg", "gh"};
    for (int i = 0; i < PS_GRADE_COUNT; i++)
        assert_string_equal(ps_grade_name((ps_grade)i), grades[i]);
    for (int i = 0; i < PS_STATUS_COUNT; i++)
        assert_string_equal(ps_status_name((ps_status)i), statuses[i]);
    for (int i = 0; i < PS_VERDICT_COUNT; i++)
        assert_string_equal(ps_verdict_name((ps_verdict)i), verdicts[i]);
    for (int i = 0; i < PS_REGION_COUNT; i++)
        assert_string_equal(ps_region_name((ps_region)i), regions[i]);
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++)
        assert_string_equal(ps_near_miss_name((ps_near_miss)i), misses[i]);
    for (int i = 0; i < PS_BREAK_KIND_COUNT; i++)
        assert_string_equal(ps_break_kind_name((ps_break_kind)i), kinds[i]);
    for (int i = 0; i < 7; i++)
        assert_string_equal(ps_files_name(i), files[i]);
    assert_string_equal(ps_side_name(PS_WHITE), "white");
    assert_string_equal(ps_side_name(PS_BLACK), "black");
    assert_string_equal(ps_rule_name(PS_STRICT), "strict");
    assert_string_equal(ps_rule_name(PS_LOOSE), "loose");
    for (int square = 0; square < 64; square++)
        assert_int_equal(square_named(ps_square_name(square)), square);
    assert_string_equal(ps_square_name(PS_NO_SQUARE), "-");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_whole_text),
        cmocka_unit_test(what_is_locked),
        cmocka_unit_test(what_the_lever_needs),
        cmocka_unit_test(why_it_misleads),
        cmocka_unit_test(who_comes_first),
        cmocka_unit_test(two_to_five_sentences),
        cmocka_unit_test(a_short_buffer_is_not_overrun),
        cmocka_unit_test(each_value_has_its_word),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
