/* What the author of a game has written comes through a lesson sheet as PGN: nothing is lost, nothing is
 * judged twice, and the sign for a good move is for the only good one. Read back with the reader of the
 * project, which is compared with an independent one (make check-reference). */
#include "tests/bench/page/rendered.h"

#include <string.h>
#include <unistd.h>

#include "bench/lesson/handout_games.h"
#include "bench/lesson/story_words.h"
#include "bench/pgn/pgn.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

/* Everything that a reader tells of the games of a text, in its order. */
typedef struct Told {
    FILE *out;
    int broken;
} Told;

static bool on_begin(void *context, const PgnGame *game)
{
    Told *told = context;
    fprintf(told->out, "%zu:", game->number);
    return true;
}

static void on_move(void *context, const PgnGame *game, Move move)
{
    char text[MOVE_TEXT_SIZE];
    lan_write(&game->start, move, text);
    fprintf(((Told *)context)->out, " %s", text);
}

static void on_glyph(void *context, const PgnGame *game, int glyph)
{
    (void)game;
    fprintf(((Told *)context)->out, " $%d", glyph);
}

static void on_comment(void *context, const PgnGame *game, PgnText text)
{
    char words[4096];
    (void)game;
    size_t length = pgn_comment_copy(text, words, sizeof words);
    while (length > 0 && words[length - 1] == ' ')
        words[--length] = '\0';
    fprintf(((Told *)context)->out, " {%s}", words + strspn(words, " "));
}

static void on_variation(void *context, const PgnGame *game)
{
    (void)game;
    fputs(" (", ((Told *)context)->out);
}

static void on_variation_end(void *context, const PgnGame *game)
{
    (void)game;
    fputs(" )", ((Told *)context)->out);
}

static void on_end(void *context, const PgnGame *game)
{
    fprintf(((Told *)context)->out, " %s\n", pgn_result_texts[game->result]);
}

static void on_broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    (void)game;
    print_error("%s\n", fault->text);
    ((Told *)context)->broken++;
}

/* What is told of a PGN text. To be freed. */
static char *told_of(const char *text)
{
    Rendered r;
    Told told = {.out = rendered_open(&r)};
    char *copy = strdup(text);
    const PgnBlock block = {.text = copy, .length = strlen(text), .line = 1, .last = true};
    const PgnVisitor visitor = {.context = &told,
                                .begin = on_begin,
                                .move = on_move,
                                .glyph = on_glyph,
                                .comment = on_comment,
                                .begin_variation = on_variation,
                                .end_variation = on_variation_end,
                                .odd_variation = on_broken,
                                .end = on_end,
                                .broken = on_broken};
    pgn_read_block(&block, 1, &visitor);
    assert_int_equal(told.broken, 0);
    free(copy);
    rendered_close(&r);
    return r.text;
}

/* A sheet of the games of a text, as PGN. To be freed. */
static char *sheet_of(const char *text)
{
    char path[] = "/tmp/pawnvane-notes-XXXXXX.pgn";
    int descriptor = mkstemps(path, 4);
    assert_true(descriptor >= 0);
    assert_int_equal(write(descriptor, text, strlen(text)), strlen(text));
    close(descriptor);
    Handout handout = {
        .title = "x", .settings = {.effort = {.nodes = 3000}, .sound_margin = 50}, .player = player_new(1)};
    Progress progress;
    progress_start(&progress, "games", 0, true);
    assert_non_null(handout.player);
    player_settings(handout.player)->lever_weight = 0;
    assert_true(handout_read_games(&handout, path, 0));
    assert_true(handout_study(&handout, &progress));
    unlink(path);
    Rendered r;
    handout_write_pgn(rendered_open(&r), &handout);
    rendered_close(&r);
    handout_free(&handout);
    player_free(handout.player);
    return r.text;
}

/* PGN standard, 1994: comments (section 5), glyphs and marks (8.2.4, section 10), nested variations (8.2.5),
 * in a game of open lines, of which the sheet has nothing to say. */
static const char annotated[] =
    "[Event \"Club evening\"]\n[Annotator \"Marwen, Edda\"]\n[Result \"1-0\"]\n\n"
    "{Before the first move; two\nlines of it.} 1. e4! {best \\ by test} e5 $10 ; to the end of the line\n"
    "2. Nf3 (2. f4 $5 exf4 {taken} (2... d5 $6 3. exd5 (3. Nf3 {[%cal Gf3e5] [Event \"no game\"]}) 3... e4 "
    "$14)\n"
    "3. Nf3 g5) (2. Bc4) ({in front of it} 2. d4 -- 3. dxe5) {behind them} 2... Nc6 3. Bb5 a6?? {100 % "
    "wrong;\n"
    "%this line is escaped by nobody, and long enough to be wrapped by whoever writes [it] %again } 4. Ba4 "
    "\xC2\xB1 "
    "Nf6 (=) {White won.} 1-0\n\n"
    "[Event \"Another\"]\n[Annotator \"?\"]\n\n1. e4 {x} *\n";

static void what_the_author_wrote_stays(void **state)
{
    (void)state;
    char *sheet = sheet_of(annotated), *before = told_of(annotated), *after = told_of(sheet);
    assert_non_null(strstr(before, "( f2f4 $5 e5f4 {taken} ( d7d5 $6 e4d5 ( g1f3 "));
    assert_string_equal(after, before);
    assert_non_null(strstr(sheet, "[Annotator \"Marwen, Edda, Pawnvane\"]\n"));
    assert_int_equal(count_of(sheet, "[Annotator "), 2);
    /* Section 6: a line that begins with % would be escaped; section 4.3: lines are shorter than 80. */
    for (const char *line = sheet; *line != '\0'; line += strcspn(line, "\n") + 1) {
        assert_int_not_equal(*line, '%');
        assert_true(strcspn(line, "\n") < 80);
    }
    /* A sheet of the sheet says the same again. */
    char *again = sheet_of(sheet);
    assert_string_equal(again, sheet);
    free(again);
    free(sheet);
    free(before);
    free(after);
}

/* The French Defence, Advance Variation (ECO C02), in which the sheet has much to say, with an author's words
 * around the lever: they come first, and his judgement stays the only one. */
static void both_have_their_say(void **state)
{
    (void)state;
    char *sheet =
        sheet_of("[Event \"x\"]\n\n1. e4 e6 2. d4 d5 {mine} 3. e5 c5!? {the lever} (3... b6 {slow}) "
                 "4. c3 *\n");
    char *told = told_of(sheet);
    assert_non_null(strstr(told, "d7d5 {mine} e4e5 {The pawns on the d- and e-files "));
    assert_non_null(
        strstr(told, "c7c5 $5 {the lever} ( b7b6 {slow} ) {With 3...c5 Black plays the base lever"));
    free(sheet);
    free(told);
}

/* A variation that cannot be read to its end is kept as far as it can, the rest as a comment; one without a
 * move is a comment altogether. */
static void odd_variations_are_kept(void **state)
{
    (void)state;
    char *sheet = sheet_of("[Event \"x\"]\n\n1. e4 (1. d4 d5 2. Ke4 {no}) (1. Ke4) e5 *\n");
    char *told = told_of(sheet);
    assert_string_equal(told, "1: e2e4 ( d2d4 d7d5 {Ke4 {no)} ) {Ke4} e7e5 *\n");
    free(sheet);
    free(told);
}

/* ------------------------------------------------------------------------------------------ good moves */

/* The first number that the sheet gives the move of the main line, 0 for none. */
static int glyph_behind(const char *sheet, const char *move)
{
    int glyph = 0;
    const char *at = strstr(sheet, move);
    assert_non_null(at);
    at += strlen(move);
    at += strspn(at, " \n");
    if (*at == '$')
        glyph = atoi(at + 1);
    return glyph;
}

/* The lever wins a queen; the lever as good as other moves, in the opening above; and one that gives the base
 * of the chain away. */
static void only_the_only_good_move_gets_its_sign(void **state)
{
    (void)state;
    char *sheet = sheet_of("[Event \"x\"]\n[FEN \"8/8/1k1p4/3Pp3/R1PqP3/3N4/8/7K w - - 0 1\"]\n[SetUp "
                           "\"1\"]\n\n1. c5+ dxc5 *\n");
    assert_int_equal(glyph_behind(sheet, "1. c5+"), 1);
    free(sheet);
    sheet = sheet_of("[Event \"x\"]\n\n1. e4 e6 2. d4 d5 3. e5 c5 *\n");
    assert_non_null(strstr(sheet, "With 3...c5 Black plays"));
    assert_int_equal(glyph_behind(sheet, "c5 "), 0);
    free(sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_the_author_wrote_stays),
        cmocka_unit_test(both_have_their_say),
        cmocka_unit_test(odd_variations_are_kept),
        cmocka_unit_test(only_the_only_good_move_gets_its_sign),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
