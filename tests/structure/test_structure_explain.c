/* The sentences, and the words that they and all other output share. */
#include <ctype.h>

#include "tests/structure/structure_boards.h"
#include "tests/structure/structure_positions.h"

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

static void assert_says_times(const char *men, const char *expected, int times)
{
    char words[PS_EXPLAIN_SIZE];
    int count = 0;
    explain(men, PS_WHITE, words);
    for (const char *at = words; (at = strstr(at, expected)) != NULL; at++)
        count++;
    if (count != times)
        fail_msg("%s: \"%s\" comes %d times, expected %d, in \"%s\"", men, expected, count, times, words);
}

#define FRENCH "Pd4 pd5 Pe5 pe6 "
#define KINGS_INDIAN "Pd5 pd6 Pe4 pe5 Pf3 pf4 "

static void a_whole_text(void **state)
{
    (void)state;
    char words[PS_EXPLAIN_SIZE];
    explain(FRENCH "Pf2 Nf3 Bd3 pc7 bb6 Kg1 kg8", PS_BLACK, words);
    assert_string_equal(
        words,
        "The pawns on the d- and e-files are locked, White's d4 and e5 against Black's d5 and e6; there the "
        "direction tells each side where to break and to play. White's pawns point to the kingside, and the "
        "lever f5 against e6, the base of Black's chain, is obstructed: the pawn on f2 needs two moves, and "
        "the piece on f3 stands in its way. Black's pawns point to the queenside, and the lever c5 against "
        "d4, the base of White's chain, is ready: the pawn on c7 needs one move, and c5 is guarded once and "
        "attacked once. Black comes first, with one tempo against three.");
    /* A chain of three files: d5 e4 f3 against d6 e5 f4. */
    explain(KINGS_INDIAN "pg5 nf6 Pc5 pc7 Kg1 kg8", PS_WHITE, words);
    assert_string_equal(
        words,
        "The pawns on the d-, e- and f-files are locked, White's d5, e4 and f3 against Black's d6, e5 and "
        "f4; "
        "there the direction tells each side where to break and to play. White's pawns point to the "
        "queenside, "
        "and White has broken there already: c5 against d6, the base of the locked chain. Black's pawns "
        "point "
        "to the kingside, and the lever g4 against f3, the base of White's chain, is ready: the pawn on g5 "
        "needs one move, and g4 is guarded once and attacked once. The lever has moved on with the chain: "
        "for "
        "the d- and e-pawns alone it would be f5, but now it is g4. Black "
        "still needs one tempo. But the lock can dissolve at once, with cxd6 by White, who is to move, or "
        "else "
        "with dxc5 by Black.");
}

static void what_is_locked(void **state)
{
    (void)state;
    assert_says("Pd4 pd5", "No two rams stand side by side in a chain, so there is no direction to read.");
    assert_says("Pc4 pc5 Pd5 pd6",
                "The pawns on the c- and d-files are locked, White's c4 and d5 against Black's c5 and d6; "
                "there the direction is usually right, but has to be read with care.");
    assert_says("Pb5 pb6 Pc4 pc5", "there the direction names a file rather than a wing");
    assert_says("Pg4 pg5 Ph5 ph6", "at the rim the direction says nothing.");
    /* A chain of any length is one chain, and its squares are named from the lowest file on. */
    assert_says(
        "Pc3 pc4 Pd4 pd5 Pe5 pe6",
        "The pawns on the c-, d- and e-files are locked, White's c3, d4 and e5 against Black's c4, d5 "
        "and e6; there the direction tells each side");
    assert_says(
        "Pc6 pc7 Pd5 pd6 Pe4 pe5 Pf3 pf4 Pg2 pg3",
        "The pawns on the c-, d-, e-, f- and g-files are locked, White's c6, d5, e4, f3 and g2 against "
        "Black's c7, d6, e5, f4 and g3;");
    assert_says("Pc4 pc5 Pd5 pd6 Pe4 pe5",
                "Two chains are locked, on the c- and d-files, and on the d- and e-files; in the firmest of "
                "them the direction tells each side");
    assert_says("Pc4 pc5 Pd5 pd6 Pe4 pe5", "On the d- and e-files, White's pawns point to the queenside");
    /* Two chains on the same files are two chains, and the files are said once. */
    assert_says("Pd2 pd3 Pe3 pe4 Pd4 pd5", "Two chains are locked, on the d- and e-files;");
    assert_says("Pa3 pa4 Pb4 pb5 Pd4 pd5 Pe5 pe6 Pg3 pg4 Ph4 ph5",
                "Three chains are locked, on the a- and b-files, on the d- and e-files, and on the g- and "
                "h-files; in the firmest of them the direction tells");
    assert_says("Pa3 pa4 Pb4 pb5 Pg3 pg4 Ph4 ph5",
                "Two chains are locked, on the a- and b-files, and on the g- and h-files; at the rim the "
                "direction says nothing.");
}

static void what_the_lever_needs(void **state)
{
    (void)state;
    assert_says(FRENCH "Pf5", "White's pawns point to the kingside, and White has broken there already: f5 "
                              "against e6, the base of Black's chain.");
    assert_says(FRENCH "Pf4 Bd3 pd7",
                "the lever f5 against e6, the base of the locked chain, is ready: the pawn on f4 needs one "
                "move, and f5 is guarded once and attacked once");
    assert_says(FRENCH "Pf2 Bd3", "is open: the pawn on f2 needs two moves, with nothing in its way");
    assert_says(FRENCH "Pf4",
                "lacks support: the pawn on f4 needs one move, but f5 is attacked once and not guarded");
    assert_says(FRENCH "Pf4 pg6 kg7 Bd3",
                "lacks support: the pawn on f4 needs one move, but f5 is guarded once and attacked twice");
    assert_says(FRENCH "Pf4 Bd3 Ng3 Kg4", "f5 is guarded three times and attacked once");
    assert_says("Pd3 pd4 Pe4 pe5 Pf3 pg7 Be3 Nh3", "f4 is guarded twice and attacked once");
    assert_says(FRENCH "Pf2 Nf3 Rf4 Bd3", "and the pieces on f3 and f4 stand in its way.");
    assert_says(
        FRENCH "Pf2 Nf3 Rf4 qf5 kg6",
        "and the pieces on f3, f4 and f5 stand in its way, while f5 is guarded once and attacked twice.");
}

static void what_the_lever_has_done(void **state)
{
    (void)state;
    /* Fulfilled: gone past, or the file is open. */
    assert_says(
        FRENCH "Pf6 pg7",
        "White's pawns point to the kingside, and the lever f5 has done its work: the f-pawn has gone "
        "past and stands on f6, and what is left is to play there with the pieces.");
    assert_says(
        FRENCH "pc3 Pc2 Pf2",
        "Black's pawns point to the queenside, and the lever c5 has done its work: the c-pawn has gone "
        "past and stands on c3, and what is left is to play there with the pieces");
    assert_says(FRENCH "pc7", "White's pawns point to the kingside, and the lever f5 has done its work: the "
                              "f-file is open, and what is left is to play there with the pieces.");
    /* Of several that have gone past, the last to go. */
    assert_says(FRENCH "Pf6 Pf7", "has gone past and stands on f6,");
    assert_says(FRENCH "pc3 pc2", "has gone past and stands on c3,");
    /* Then the other lever is told if there is something to do. */
    assert_says(FRENCH "Pc3 Bb3 Pf6",
                "what is left is to play there with the pieces; the other lever, c4 against "
                "d5, the head of Black's chain, is ready: the pawn on c3 needs one move");
    assert_says("Pb4 pb5 Pc5 pc6",
                "White's pawns point to the d-file, and the lever d5 has done its work: the "
                "d-file is open,");
}

static void the_lever_has_moved_on(void **state)
{
    (void)state;
    static const char *const moved = "The lever has moved on with the chain: for the ";
    assert_says(KINGS_INDIAN "pg7", "for the d- and e-pawns alone it would be f5, but now it is g4.");
    assert_says("Pc3 pc4 Pd4 pd5 Pe5 pe6", "for the d- and e-pawns alone it would be c5, but now it is b4.");
    assert_says("Pd4 pd5 Pe5 pe6 Pf6 pf7", "for the d- and e-pawns alone it would be f5, but now it is g6.");
    assert_says("Pd2 pd3 Pe3 pe4 Pf4 pf5 Pg5 pg6",
                "for the d- and e-pawns alone it would be f3, but now it is h5.");
    /* The firmest pair is what pupils look at. */
    assert_says("Pe3 pe4 Pf4 pf5 Pg5 pg6", "for the e- and f-pawns alone it would be g4, but now it is h5.");
    /* Only for the side whose head is elsewhere; nor for a single pair, nor off the board. */
    assert_says_times(KINGS_INDIAN "pg7 Pc4", moved, 1);
    assert_says_times(FRENCH "Pf2 pc7", moved, 0);
    assert_says_times("Pc3 pc4 Pd4 pd5 Pe5 pe6 Pf6 pf7", moved, 2);
    assert_says_times("Pd2 pd3 Pe3 pe4 Pf4 pf5 Pg5 pg6 Ph6 ph7", moved, 0);
}

static void why_it_misleads(void **state)
{
    (void)state;
    assert_says(
        FRENCH "Pf2 pf4 pc4",
        "point to the kingside, but that misleads: the lever f5 against e6, the base of Black's chain, "
        "cannot be played, for Black's pawn on f4 bars the way of the pawn on f2; nor can the other "
        "lever, c4, be played.");
    assert_says(FRENCH "Pf2 pf3 pf5", "Black's pawn on f3 bars"); /* the nearest one */
    assert_says(FRENCH "pc7 Pc6 Pc5", "White's pawn on c6 bars the way of the pawn on c7");
    assert_says(FRENCH "pf7",
                "cannot be played, for White has no f-pawn left; the other lever, c4, has done its "
                "work.");
    assert_says(FRENCH "Pc2", "cannot be played, for Black has no c-pawn left");
    assert_says(FRENCH "Pc3 Bb3 pf7",
                "; the other lever, c4 against d5, the head of Black's chain, is ready: the pawn on c3 needs "
                "one move");
    assert_says("Pf4 pf5 Pg5 pg6 ph7",
                "point to the h-file, and the lever h5 against g6, the base of the locked chain, "
                "cannot be played, for White has no h-pawn left");
    /* Off the board. */
    assert_says("Pd2 pd3 Pe3 pe4 Pf4 pf5 Pg5 pg6 Ph6 ph7 Pc2",
                "White's pawns point off the board, and that misleads: there is no lever; the other lever, "
                "c2 against d3, the head of Black's chain, stands on the board.");
    assert_says("Pa3 pa4 Pb4 pb5 Pc5 pc6", "Black's pawns point off the board, so there is no lever;");
    assert_says("Pd4 pd5 Pe4 pe5",
                "Do not be misled: the d-file and the e-file are both closed by rams, but their "
                "pawns do not defend each other and so form no chain in the centre.");
    assert_says("Pe4 pe5 Pd3 pd6",
                "Look again: both sides' d- and e-pawns point to the kingside, and one of the two cannot be "
                "right; only the e-file is closed by a ram, so that the centre is not locked.");
    assert_says("Pd4 pd5 Pe3 pe6",
                "both sides' d- and e-pawns point to the queenside, and one of the two cannot "
                "be right; only the d-file is closed");
    assert_says("Pd4 pd5 Pe5 pe4", "both sides' d- and e-pawns point to the kingside");
    assert_says(
        "Pe4 pe5 Pd3 pd7",
        "Do not be misled: there are linked pawns on the d- and e-files, but only the e-file is closed "
        "by a ram, so that the centre is not locked.");
    assert_says_times("Pe4 pe5 Pd3", "misled", 0); /* Black has no d-pawn */
    assert_says("Pe4 pe5 Pd3 pd6 nd4 pa7",
                "White has no push that attacks a pawn; Black can attack a pawn with d5.");
    assert_says("Pa4 pa5 Pb5 pb6 " FRENCH, "Do not be misled: what is locked at the rim says nothing.");
    assert_says("Pa4 pa5 Pb5 pb6 Pc4 pc5 Pd4 pd5 Pe4 pe5",
                "form no chain in the centre; and what is locked at the rim says nothing.");
    assert_says("Pa4 pa5 Pb5 pb6 Pc4 pc5 Pd3 pd6 Pe4 pe5",
                "so that the centre is not locked; and what is locked at the rim says nothing.");
}

static void who_comes_first(void **state)
{
    (void)state;
    assert_says(FRENCH "Pf4 pc7", "Both sides need two tempi for it, so White, who is to move, comes first.");
    assert_says(FRENCH "Pf4 Pg4 pc7", "White comes first, with one tempo against two.");
    assert_says(FRENCH "Pf5 pc5", "Both sides have broken already, and White is to move.");
    assert_says(FRENCH "Pf5 pc7", "Black still needs two tempi.");
    assert_says(FRENCH "pc6", "Only Black can break where the direction points, in two tempi.");
    assert_says(FRENCH "pc5", "White has no lever to play where its direction points.");
    assert_says(FRENCH, "Neither side has a lever to play where its direction points.");
}

static void what_can_dissolve_the_lock(void **state)
{
    (void)state;
    char words[PS_EXPLAIN_SIZE];
    assert_says(FRENCH "pc5",
                "But the lock can dissolve at once, with dxc5 by White, who is to move, or else with "
                "cxd4 by Black.");
    assert_says(FRENCH "pc5 nf6 nd6", "with dxc5, exd6 or exf6 by White, who is to move,");
    assert_says(FRENCH "nc5", "But the lock can dissolve at once, with dxc5 by White.");
    assert_says(FRENCH "Nc4", "But the lock can dissolve a move later, with dxc4 by Black.");
    explain(FRENCH "Nc4", PS_BLACK, words);
    assert_non_null(strstr(words, "But the lock can dissolve at once, with dxc4 by Black."));
    explain(FRENCH "pc5", PS_BLACK, words);
    assert_non_null(strstr(words, "with cxd4 by Black, who is to move, or else with dxc5 by White."));
    /* At the rim, where there is no plan, as well. */
    assert_says("Pg4 pg5 Ph5 ph6 pf5",
                "But the lock can dissolve at once, with gxf5 by White, who is to move");
    assert_says_times(FRENCH "Pf4 pc7 Pa4 pb5", "dissolve", 0);
    assert_says_times("Pd4 pe5", "dissolve", 0);

    Placed placed;
    ps_analysis analysis;
    place(&placed, FRENCH "pf5", PS_WHITE);
    placed.board.en_passant = square_named("f6");
    ps_analyse(&analysis, &placed.board);
    ps_explain(words, sizeof words, &analysis, &placed.board);
    assert_non_null(strstr(words, "But the lock can dissolve at once, with exf6 en passant by White."));
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

/* What holds of every text. Returns its length. */
static size_t check_text(const ps_board *board, bool seen[9])
{
    ps_analysis analysis;
    char words[PS_EXPLAIN_SIZE];
    ps_analyse(&analysis, board);
    size_t length = ps_explain(words, sizeof words, &analysis, board);
    if (length >= PS_EXPLAIN_SIZE)
        fail_msg("%zu characters: %s", length, words);
    assert_int_equal(length, strlen(words));
    assert_null(strstr(words, "  "));
    assert_null(strstr(words, " ,"));
    assert_null(strstr(words, " -")); /* a square that is none */
    int sentences = count_sentences(words);
    if (sentences < 2 || sentences > 8)
        fail_msg("%d sentences: %s", sentences, words);
    seen[sentences] = true;

    /* It says so if and only if a side's direction misleads, is fulfilled, or a lock can dissolve. */
    const ps_plan *plan = analysis.plan;
    bool misleads = plan[PS_WHITE].verdict == PS_MISLEADING || plan[PS_BLACK].verdict == PS_MISLEADING;
    assert_int_equal(strstr(words, "but that misleads") != NULL || strstr(words, "and that misleads") != NULL,
                     misleads);
    bool fulfilled = plan[PS_WHITE].verdict == PS_FULFILLED || plan[PS_BLACK].verdict == PS_FULFILLED;
    assert_true(!fulfilled || strstr(words, "what is left is to play there with the pieces") != NULL);
    bool tension = analysis.tension[PS_WHITE].count > 0 || analysis.tension[PS_BLACK].count > 0;
    assert_int_equal(strstr(words, "the lock can dissolve") != NULL, tension);

    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_lever *lever = ps_plan_lever(&analysis, (ps_side)side);
        char named[40];
        if (lever == NULL || lever->square == PS_NO_SQUARE)
            continue;
        if (ps_lever_is_done(lever))
            snprintf(named, sizeof named, "the lever %s has done its work", ps_square_name(lever->square));
        else if (lever->status == PS_PLAYED)
            snprintf(named, sizeof named, "has broken there already: %s against %s",
                     ps_square_name(lever->square), ps_square_name(lever->target));
        else
            snprintf(named, sizeof named, "the lever %s against %s", ps_square_name(lever->square),
                     ps_square_name(lever->target));
        if (strstr(words, named) == NULL)
            fail_msg("\"%s\" is missing in \"%s\"", named, words);
    }
    return length;
}

static void two_to_eight_sentences_that_fit(void **state)
{
    (void)state;
    uint64_t seed = 81;
    bool seen[9] = {false};
    size_t longest = 0;
    for (int i = 0; i < 60000; i++) {
        Placed placed;
        char fen[FEN_SIZE];
        if (i % 2 == 0) {
            place_random(&placed, &seed);
        } else {
            random_position(fen, &seed);
            place_fen(&placed, fen);
            const char *square = strrchr(fen, ' ') + 1;
            placed.board.en_passant = *square == '-' ? PS_NO_SQUARE : square_named(square);
        }
        size_t length = check_text(&placed.board, seen);
        longest = length > longest ? length : longest;
    }
    for (int sentences = 2; sentences <= 8; sentences++)
        assert_true(seen[sentences]);
    assert_true(longest > 1000);
}

/* Each clause at its longest: many chains, both levers misleading, pieces in the way, captures all over. */
static void a_text_of_many_words_fits(void **state)
{
    (void)state;
    uint64_t seed = 7;
    size_t longest = 0;
    bool seen[9] = {false};
    for (int i = 0; i < 20000; i++) {
        Placed placed;
        clear_board(&placed);
        for (int k = 0; k < 14; k++)
            add_ram(&placed, random_below(&seed, 8), 1 + random_below(&seed, 5));
        add_man(&placed, &seed, 'K');
        add_man(&placed, &seed, 'k');
        for (int k = 0; k < 30; k++)
            if (count_men(&placed, '.') > 20)
                add_man(&placed, &seed, "NBRQnbrq"[random_below(&seed, 8)]);
        use_diagram(&placed, PS_WHITE);
        size_t length = check_text(&placed.board, seen);
        longest = length > longest ? length : longest;
    }
    assert_true(longest > 1000);
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
    static const char *const statuses[] = {"played", "ready",   "open",   "unsupported", "obstructed",
                                           "beyond", "cleared", "barred", "gone"};
    static const char *const verdicts[] = {"applies", "fulfilled", "misleading", "weak", "none"};
    static const char *const regions[] = {"queenside", "centre", "kingside"};
    static const char *const misses[] = {"not_linked", "same_way", "not_rammed", "rim"};
    static const char *const kinds[] = {"base", "head", "other"};
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
    for (int first = 0; first < 8; first++)
        for (int last = first + 1; last < 8; last++) {
            const char *name = ps_files_name(first, last);
            assert_int_equal(strlen(name), last - first + 1);
            assert_memory_equal(name, &"abcdefgh"[first], strlen(name));
        }
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
        cmocka_unit_test(what_the_lever_has_done),
        cmocka_unit_test(the_lever_has_moved_on),
        cmocka_unit_test(why_it_misleads),
        cmocka_unit_test(who_comes_first),
        cmocka_unit_test(what_can_dissolve_the_lock),
        cmocka_unit_test(two_to_eight_sentences_that_fit),
        cmocka_unit_test(a_text_of_many_words_fits),
        cmocka_unit_test(a_short_buffer_is_not_overrun),
        cmocka_unit_test(each_value_has_its_word),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
