/* Reading games: the PGN standard (S. Edwards, 1994) by section, what real files contain (common practice, no
 * source, unless something else is said), and what is left of games when files are mangled. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench/pgn/pgn.h"
#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

#include <unistd.h>

/* ---------------------------------------------------------------------------------- what a reader tells */

enum { RECORD_SIZE = 1 << 16 };

/* Everything that was told, as text: "1: e2e4 $1 {word} ... 1-0" a game. */
typedef struct Record {
    size_t length;
    int begun, ended, broken, cut;
    char text[RECORD_SIZE];
    size_t fault_lines[64];
    char faults[64][PGN_FAULT_SIZE];
} Record;

__attribute__((format(printf, 2, 3))) static void note(Record *record, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(record->text + record->length, RECORD_SIZE - record->length, format, arguments);
    va_end(arguments);
    record->length += (size_t)length;
    assert_true(record->length < RECORD_SIZE);
}

static bool begin(void *context, const PgnGame *game)
{
    Record *record = context;
    record->begun++;
    note(record, "%zu:", game->number);
    return true;
}

static void move(void *context, const PgnGame *game, Move played)
{
    char text[MOVE_TEXT_SIZE];
    (void)game;
    lan_write(&game->start, played, text);
    note(context, " %s", text);
}

static void glyph(void *context, const PgnGame *game, int number)
{
    (void)game;
    note(context, " $%d", number);
}

static void comment(void *context, const PgnGame *game, PgnText text)
{
    char words[256];
    (void)game;
    pgn_text_copy(text, words, sizeof words);
    note(context, " {%s}", words);
}

static void begin_variation(void *context, const PgnGame *game)
{
    (void)game;
    note(context, " (");
}

static void end_variation(void *context, const PgnGame *game)
{
    (void)game;
    note(context, " )");
}

static void odd_variation(void *context, const PgnGame *game, const PgnFault *fault)
{
    (void)game;
    note(context, " ODD %zu:%d \"%s\"", fault->line, fault->ply, fault->text);
}

static void end(void *context, const PgnGame *game)
{
    Record *record = context;
    record->ended++;
    note(record, " %s\n", pgn_result_texts[game->result]);
}

static void broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    Record *record = context;
    (void)game;
    record->cut += fault->cut;
    record->fault_lines[record->broken] = fault->line;
    char *text = record->faults[record->broken++];
    if (fault->ply > 0)
        snprintf(text, PGN_FAULT_SIZE, "game %zu, ply %d: %.200s", fault->game, fault->ply, fault->text);
    else
        snprintf(text, PGN_FAULT_SIZE, "game %zu: %.200s", fault->game, fault->text);
    note(record, " BROKEN\n");
}

static PgnVisitor visitor_of(Record *record)
{
    *record = (Record){0};
    return (PgnVisitor){.context = record,
                        .begin = begin,
                        .move = move,
                        .glyph = glyph,
                        .comment = comment,
                        .end = end,
                        .broken = broken};
}

static Record record;
static bool wants_variations;

static void read_block(const char *text, size_t length, bool last)
{
    char *copy = malloc(length + 1);
    assert_non_null(copy);
    memcpy(copy, text, length);
    copy[length] = '\0';
    const PgnBlock block = {.text = copy, .length = length, .line = 1, .last = last};
    PgnVisitor visitor = visitor_of(&record);
    if (wants_variations) {
        visitor.begin_variation = begin_variation;
        visitor.end_variation = end_variation;
        visitor.odd_variation = odd_variation;
    }
    size_t next = pgn_read_block(&block, 1, &visitor);
    assert_int_equal(record.ended + record.broken, next - 1);
    assert_int_equal(pgn_count_games(&block), next - 1);
    free(copy);
}

static void read_bytes(const char *text, size_t length)
{
    read_block(text, length, false);
}

static void read_text(const char *text)
{
    read_bytes(text, strlen(text));
}

static void assert_reads(const char *text, const char *told)
{
    read_text(text);
    if (strcmp(record.text, told) != 0)
        fail_msg("%s\nwas read as\n%s\ninstead of\n%s%s", text, record.text, told, record.faults[0]);
}

static void assert_fault(const char *text, size_t line, const char *fault)
{
    read_text(text);
    if (record.broken == 0 || record.fault_lines[0] != line || strcmp(record.faults[0], fault) != 0)
        fail_msg("%s\nline %zu: \"%s\"\ninstead of\nline %zu: \"%s\"", text, record.fault_lines[0],
                 record.faults[0], line, fault);
}

/* ----------------------------------------------------------------------------------------- the standard */

/* PGN standard, section 2.3: the example of the standard, with the names left out. */
static void the_example_of_the_standard(void **state)
{
    (void)state;
    assert_reads(
        "[Event \"A match\"]\n[Site \"Nowhere\"]\n[Date \"1992.11.04\"]\n[Round \"29\"]\n"
        "[White \"A\"]\n[Black \"B\"]\n[Result \"1/2-1/2\"]\n\n"
        "1. e4 e5 2. Nf3 Nc6 3. Bb5 a6 4. Ba4 Nf6 5. O-O Be7 6. Re1 b5 7. Bb3 d6 8. c3\n"
        "O-O 9. h3 Nb8 10. d4 Nbd7 11. c4 c6 12. cxb5 axb5 13. Nc3 Bb7 14. Bg5 b4 15.\n"
        "Nb1 h6 16. Bh4 c5 17. dxe5 Nxe4 18. Bxe7 Qxe7 19. exd6 Qf6 20. Nbd2 Nxd6 21.\n"
        "Nc4 Nxc4 22. Bxc4 Nb6 23. Ne5 Rae8 24. Bxf7+ Rxf7 25. Nxf7 Rxe1+ 26. Qxe1 Kxf7\n"
        "27. Qe3 Qg5 28. Qxg5 hxg5 29. b3 Ke6 30. a3 Kd6 31. axb4 cxb4 32. Ra5 Nd5 33.\n"
        "f3 Bc8 34. Kf2 Bf5 35. Ra7 g6 36. Ra6+ Kc5 37. Ke1 Nf4 38. g3 Nxh3 39. Kd2 Kb5\n"
        "40. Rd6 Kc5 41. Ra6 Nf2 42. g4 Bd3 43. Re6 1/2-1/2\n",
        "1: e2e4 e7e5 g1f3 b8c6 f1b5 a7a6 b5a4 g8f6 e1g1 f8e7 f1e1 b7b5 a4b3 d7d6 c2c3 e8g8 h2h3 c6b8 "
        "d2d4 b8d7 c3c4 c7c6 c4b5 a6b5 b1c3 c8b7 c1g5 b5b4 c3b1 h7h6 g5h4 c6c5 d4e5 f6e4 h4e7 d8e7 "
        "e5d6 e7f6 b1d2 e4d6 d2c4 d6c4 b3c4 d7b6 f3e5 a8e8 c4f7 f8f7 e5f7 e8e1 d1e1 g8f7 e1e3 f6g5 "
        "e3g5 h6g5 b2b3 f7e6 a2a3 e6d6 a3b4 c5b4 a1a5 b6d5 f2f3 b7c8 g1f2 c8f5 a5a7 g7g6 a7a6 d6c5 "
        "f2e1 d5f4 g2g3 f4h3 e1d2 c5b5 a6d6 b5c5 d6a6 h3f2 g3g4 f5d3 a6e6 1/2-1/2\n");
}

typedef struct Reading {
    const char *text, *told;
} Reading;

static void assert_all_read(const Reading *readings, size_t count)
{
    for (size_t i = 0; i < count; i++)
        assert_reads(readings[i].text, readings[i].told);
}

#define ASSERT_ALL_READ(readings) assert_all_read(readings, sizeof(readings) / sizeof *(readings))

static void movetext_of_the_standard(void **state)
{
    static const Reading readings[] = {
        /* Section 5: comments in braces and behind semicolons; braces do not nest, and a semicolon or a
         * parenthesis within braces is text. Section 6: % escapes its line. */
        {"1. e4 {best; (by test} e5 ; so { they ) say\n2. Nf3 *",
         "1: e2e4 {best; (by test} e7e5 { so { they ) say} g1f3 *\n"},
        {"% this 1. d4 line\n1. e4\n%and { this\ne5 *", "1: e2e4 e7e5 *\n"},
        /* 8.2.2: move numbers, with any number of periods, may be missing. */
        {"1.e4 e5 2.Nf3 *", "1: e2e4 e7e5 g1f3 *\n"},
        {"1 e4 1... e5 2 . Nf3 *", "1: e2e4 e7e5 g1f3 *\n"},
        {"e4 e5 Nf3 *", "1: e2e4 e7e5 g1f3 *\n"},
        /* 8.2.4 and section 10: glyphs; the first six stand for marks. */
        {"1. e4 $3 e5 $139 2. Nf3! Nc6? 3. Bb5!! a6?? 4. Ba4!? Nf6 ?! *",
         "1: e2e4 $3 e7e5 $139 g1f3 $1 b8c6 $2 f1b5 $3 a7a6 $4 b5a4 $5 g8f6 $6 *\n"},
        /* 8.2.5: variations, nested, with comments and results in them. */
        {"1. e4 (1. d4 d5 (1... Nf6 {not ) yet} 2. c4 (2. Nf3 1-0)) 2. c4) (1. c4 ; English )\n) e5 1-0",
         "1: e2e4 e7e5 1-0\n"},
        /* 8.2.6: the four terminations. */
        {"1. e4 1-0\n\n1. d4 0-1\n\n1. c4 1/2-1/2\n\n1. b4 *",
         "1: e2e4 1-0\n2: d2d4 0-1\n3: c2c4 1/2-1/2\n4: b2b4 *\n"},
        /* 8.1.1: a tag section of any order, several pairs on a line; section 7: escapes in strings. */
        {"[Result \"0-1\"] [Event \"x\"]\n[Annotator \"\"]\n\n1. e4 0-1", "1: e2e4 0-1\n"},
        /* 9.7: another start position. */
        {"[SetUp \"1\"]\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1\"]\n\n1. e3 *", "1: e2e3 *\n"},
        {"[SetUp \"0\"]\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1\"]\n\n1. d4 *", "1: d2d4 *\n"},
    };
    (void)state;
    ASSERT_ALL_READ(readings);
}

static void what_real_files_contain(void **state)
{
    static const Reading readings[] = {
        /* Line ends, byte order marks, the end of old files, no line end at all. */
        {"\xEF\xBB\xBF[Event \"x\"]\r\n\r\n1. e4 {a\r\nb} e5\r\n1-0\r\n\x1A", "1: e2e4 {a b} e7e5 1-0\n"},
        {"[Event \"x\"]\r\r1. e4 ; c\re5 1-0\r", "1: e2e4 { c} e7e5 1-0\n"},
        {"[Event \"x\"]\n\n1. e4 e5", "1: e2e4 e7e5 *\n"},
        /* A missing result comes from the tag; so does the real one behind a star. */
        {"[Result \"1-0\"]\n\n1. e4 e5\n\n[Result \"0-1\"]\n\n1. d4 *\n\n[Result \"1/2-1/2\"]\n\n",
         "1: e2e4 e7e5 1-0\n2: d2d4 0-1\n3: 1/2-1/2\n"},
        {"1. e4 1/2\n1. d4 \xC2\xBD-\xC2\xBD\n1. c4 \xBD-\xBD",
         "1: e2e4 1/2-1/2\n2: d2d4 1/2-1/2\n3: c2c4 1/2-1/2\n"},
        /* No empty line between tags and moves, or between games. */
        {"[Event \"a\"]\n1. e4 1-0\n[Event \"b\"]\n1. d4 1-0\n", "1: e2e4 1-0\n2: d2d4 1-0\n"},
        {"[Event \"a\"]\n1. e4\n[Event \"b\"]\n1. d4\n", "1: e2e4 *\n2: d2d4 *\n"},
        /* Games of tags only. */
        {"[Event \"a\"]\n[Site \"x\"]\n\n\n[Event \"b\"]\n[Site \"y\"]\n", "1: *\n2: *\n"},
        /* Lines between tags that are none; blanks before tags. */
        {"  [Event \"a\"]\n%\n; note\n\n\t[Site \"x\"]\n\n 1. e4 *", "1: e2e4 *\n"},
        /* Comments behind a result, before the first move, and results twice. */
        {"{first} 1. e4 1-0 1-0 {that was it} $1 !\n\n1. d4 *", "1: e2e4 1-0\n2: d2d4 *\n"},
        {"[Event \"a\"]\n\n{first} 1. e4 *", "1: {first} e2e4 *\n"},
        /* Quotes that nobody escaped. */
        {"[Event \"the \"great\" open\"]\n\n1. e4 *", "1: e2e4 *\n"},
        /* SAN as people and programs write it. */
        {"1. e2-e4 e7e5 2. Ng1f3 Nb8-c6 3. Bf1b5 a7a6 4. Bb5xc6 d7:c6 5. 0-0 f6 *",
         "1: e2e4 e7e5 g1f3 b8c6 f1b5 a7a6 b5c6 d7c6 e1g1 f7f6 *\n"},
        {"1. Pe4 d5 2. ed5 e5 3. dxe6 e.p. Bxe6 4. a3 Qxd2+ 5. Qd2 *",
         "1: e2e4 d7d5 e4d5 e7e5 d5e6 c8e6 a2a3 d8d2 d1d2 *\n"},
        {"[FEN \"8/P6k/8/8/8/8/p6K/8 w - - 0 1\"]\n\n1. a8(Q) a1Q *", "1: a7a8q a2a1q *\n"},
        {"[FEN \"8/P6k/8/8/8/8/p6K/8 w - - 0 1\"]\n\n1. a8=n(1. a8=Q) a1=R 2. Nb6*",
         "1: a7a8n a2a1r a8b6 *\n"},
        /* Signs of evaluation, attached or not. */
        {"1. e4+ e5 = 2. Nf3+/- Nc6= 3. Bb5 +- a6-+ 4. Ba4 \xC2\xB1 Nf6 \xB1 *",
         "1: e2e4 e7e5 $10 g1f3 $16 b8c6 $10 f1b5 $18 a7a6 $19 b5a4 $16 g8f6 $16 *\n"},
        {"1. e4 e5 2. Qh5 Nc6 3. Qxf7++- Kxf7~ 4. Nf3\xE2\x96\xB3 Nf6\xE2\x80\xA0 *",
         "1: e2e4 e7e5 d1h5 b8c6 h5f7 $18 e8f7 {~} g1f3 {\xE2\x96\xB3} g8f6 *\n"},
        /* Spaces of other widths, and dots that are one sign, as texts copied from pages have them. */
        {"1.\xC2\xA0"
         "e4 1\xE2\x80\xA6"
         "e5\xE2\x80\x89"
         "2. Nf3 2\x85Nc6 \xEF\xBB\xBF*",
         "1: e2e4 e7e5 g1f3 b8c6 *\n"},
        /* Null moves. */
        {"1. e4 -- 2. d4 Z0 3. c4 *", "1: e2e4 0000 d2d4 0000 c2c4 *\n"},
        /* Games without tags, and more than one on a line. */
        {"1. e4 1-0 1. d4 0-1 [Event \"c\"] 1. c4 *", "1: e2e4 1-0\n2: d2d4 0-1\n3: c2c4 *\n"},
        /* What looks like a tag inside a comment. */
        {"1. e4 {see [Event \"x\"] and\n[Event \"y\"]\nthere} e5 *\n",
         "1: e2e4 {see [Event \"x\"] and [Event \"y\"] there} e7e5 *\n"},
        {"1. e4 {[%clk 0:01:00]\n\n[%clk 0:02:00]} e5 *\n",
         "1: e2e4 {[%clk 0:01:00] [%clk 0:02:00]} e7e5 *\n"},
        {"", ""},
        {"\n\n  \n", ""},
    };
    (void)state;
    ASSERT_ALL_READ(readings);
}

/* The Unicode Standard, block "Miscellaneous Symbols", "Chess symbols": U+2654 to U+2659 are the white king,
 * queen, rook, bishop, knight and pawn, U+265A to U+265F the black ones. */
#define WHITE_KING "\xE2\x99\x94"
#define WHITE_QUEEN "\xE2\x99\x95"
#define WHITE_ROOK "\xE2\x99\x96"
#define WHITE_BISHOP "\xE2\x99\x97"
#define WHITE_KNIGHT "\xE2\x99\x98"
#define WHITE_PAWN "\xE2\x99\x99"
#define BLACK_KING "\xE2\x99\x9A"
#define BLACK_QUEEN "\xE2\x99\x9B"
#define BLACK_ROOK "\xE2\x99\x9C"
#define BLACK_BISHOP "\xE2\x99\x9D"
#define BLACK_KNIGHT "\xE2\x99\x9E"
#define BLACK_PAWN "\xE2\x99\x9F"

static void figurines(void **state)
{
    static const Reading readings[] = {
        {"1. " WHITE_KNIGHT "f3 " BLACK_KNIGHT "f6 2. " WHITE_PAWN "e4 " WHITE_KNIGHT "xe4 3. " BLACK_PAWN
         "d4 " BLACK_PAWN "\xEF\xB8\x8E"
         "d5 4. " WHITE_BISHOP "d3 " BLACK_BISHOP "f5 5. " WHITE_QUEEN "e2 " BLACK_QUEEN "d6 6. " WHITE_ROOK
         "f1 " BLACK_ROOK "g8 7. " WHITE_KING "d1! " BLACK_KING "d8\xC2\xB1 *",
         "1: g1f3 g8f6 e2e4 f6e4 d2d4 d7d5 f1d3 c8f5 d1e2 d8d6 h1f1 h8g8 e1d1 $1 e8d8 $16 *\n"},
        /* Without a number or a blank before it, with a square of origin, at the beginning of the text. */
        {WHITE_KNIGHT "f3 d5 2." WHITE_KNIGHT "g1 " BLACK_KNIGHT "b8d7 *", "1: g1f3 d7d5 f3g1 b8d7 *\n"},
        /* Promotion, in every form. */
        {"[FEN \"8/PP5k/8/8/8/8/pp5K/8 w - - 0 1\"]\n\n1. a8=" WHITE_QUEEN " a1(" BLACK_KNIGHT
         ") 2. b8" WHITE_ROOK "+ b1=" BLACK_BISHOP " *",
         "1: a7a8q a2a1n b7b8r b2b1b *\n"},
        /* In variations, which are read over, and in comments, which are text. */
        {"1. e4 (1. " WHITE_KNIGHT "f3) {" WHITE_KNIGHT "f3} e5 *", "1: e2e4 {" WHITE_KNIGHT "f3} e7e5 *\n"},
    };
    (void)state;
    ASSERT_ALL_READ(readings);
}

/* A sign that may be a part of a move is never read over: what is left could be another move. */
static void strange_signs_are_refused(void **state)
{
    static const struct {
        const char *text, *token;
        int ply;
    } cases[] = {
        {"1. \xD0\x9A"
         "f3 Nf6 *",
         "\xD0\x9A"
         "f3",
         1}, /* a Cyrillic letter before a square */
        {"1. e4 e5 2. \xD0\x9B"
         "1f3 *",
         "\xD0\x9B"
         "1f3",
         3}, /* and before a rank */
        {"1. e4 e5 2. \xCE\x99"
         "f3 *",
         "\xCE\x99"
         "f3",
         3}, /* Greek */
        {"1. \xF0\x9F\xA8\x84"
         "f3 *",
         "\xF0\x9F\xA8\x84"
         "f3",
         1}, /* a turned knight, U+1FA04 */
        {"1. \xC3\x97"
         "f3 *",
         "\xC3\x97"
         "f3",
         1}, /* a sign of multiplication */
        {"1. e4 d5 2. e4\xC3\x97"
         "d5 *",
         "e4\xC3\x97"
         "d5",
         3}, /* the same within a move */
        {"1. e4 e5 2. d4 \xC2\xB1"
         "f6 *",
         "\xC2\xB1"
         "f6",
         4}, /* a known sign before a move */
        {"1. e4 e5 2. d4\xC2\xB1"
         "f6 *",
         "d4\xC2\xB1"
         "f6",
         3},                                                   /* and between two moves */
        {"1. e4 d6\xE2\x84\xA2 2. d4 *", "d6\xE2\x84\xA2", 2}, /* a strange one behind a move */
        {"1. e4 \xE2\x84\xA2 d6 *", "\xE2\x84\xA2", 2},        /* and alone */
        {"1. Kf\xE9"
         "f3 *",
         "Kf\xC3\xA9"
         "f3",
         1}, /* a letter of Latin-1 */
        /* What is left of a figurine where a text was converted. */
        {"1. ?f3 ?f6 *", "?f3", 1},
        {"1?f3 ?f6 *", "?f3", 1},
        {"?f3 ?f6 *", "?f3", 1},
        {"1. e4 e5 2. =f3 *", "=f3", 3},
        {"1. \xEF\xBF\xBD"
         "f3 *",
         "\xEF\xBF\xBD"
         "f3",
         1}, /* U+FFFD */
        {"\xD0\x9A"
         "f3 Nf6 *",
         "\xD0\x9A"
         "f3",
         1}, /* where a game would begin */
    };
    char fault[PGN_FAULT_SIZE];
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        snprintf(fault, sizeof fault,
                 "game 1, ply %d: \"%s\" has a sign that belongs to no move; expected a legal move",
                 cases[i].ply, cases[i].token);
        assert_fault(cases[i].text, 1, fault);
        assert_int_equal(record.ended, 0);
    }
    /* A result within such a token ends the game; what is behind it belongs to the token, and to no other game. */
    assert_fault("-0-1\xE1", 1,
                 "game 1, ply 1: \"-0-1\xC3\xA1\" has a sign that belongs to no move; expected a legal move");
    /* Figurines that make no move are quoted whole, too. */
    assert_fault("1. " WHITE_KNIGHT " f3 *", 1,
                 "game 1, ply 1: \"" WHITE_KNIGHT "\": not the text of a move; expected a legal move");
    assert_fault("1. " WHITE_KNIGHT "e4 *", 1,
                 "game 1, ply 1: \"" WHITE_KNIGHT "e4\": no legal move here; expected a legal move");
    /* PGN standard, 1994, section 8.2.3.2: in German a knight is S, a bishop L, a rook T, a queen D. */
    assert_fault(
        "1. Sf3 *", 1,
        "game 1, ply 1: \"Sf3\": not the text of a move; expected a legal move (S is the German letter of "
        "the knight; in English it is N)");
    assert_fault(
        "1. Lxc6 *", 1,
        "game 1, ply 1: \"Lxc6\": not the text of a move; expected a legal move (L is the German letter of "
        "the bishop; in English it is B)");
    assert_fault("1. " WHITE_KING WHITE_KNIGHT "f3 *", 1,
                 "game 1, ply 1: \"" WHITE_KING WHITE_KNIGHT
                 "f3\": not the text of a move; expected a legal move");
}

/* FIDE Laws of Chess 2023, guideline II.3: after castling, king and rook stand where they do in chess. */
static void chess960(void **state)
{
    static const Reading readings[] = {
        {"[Variant \"Chess960\"]\n[SetUp \"1\"]\n[FEN \"rk5r/8/8/8/8/8/8/RK5R w KQkq - 0 1\"]\n\n1. O-O "
         "O-O-O *",
         "1: b1h1 b8a8 *\n"},
        {"[Variant \"Fischer Random\"]\n[FEN \"rk5r/8/8/8/8/8/3P4/RK5R w HAha - 0 1\"]\n\n1. O-O-O O-O *",
         "1: b1a1 b8h8 *\n"},
        /* Nothing says so but the castling field. */
        {"[FEN \"rk5r/8/8/8/8/8/8/RK5R w KQkq - 0 1\"]\n\n1. O-O O-O-O *", "1: b1h1 b8a8 *\n"},
        {"[Variant \"Standard\"]\n\n1. e4 *\n\n[Variant \"From Position\"]\n[FEN \"4k3/8/8/8/8/8/8/R3K3 w Q "
         "- 0 "
         "1\"]\n\n1. O-O-O *",
         "1: e2e4 *\n2: e1c1 *\n"},
    };
    (void)state;
    ASSERT_ALL_READ(readings);
}

/* ----------------------------------------------------------------------------------------- broken games */

static void faults_say_where_and_what(void **state)
{
    (void)state;
    assert_fault("[Event \"a\"]\n\n1. e4 e5 2. Nf6 Nc6 1-0\n", 3,
                 "game 1, ply 3: \"Nf6\": no legal move here; expected a legal move");
    assert_fault("1. e4 e5\n2. Nf3 Kitten *", 2,
                 "game 1, ply 4: \"Kitten\": not the text of a move; expected a legal move");
    assert_fault("1. d4 d5 2. Nf3 Nf6\n3. Nd2 *", 2,
                 "game 1, ply 5: \"Nd2\": fits several legal moves here; expected a legal move");
    assert_fault("1. e4 f6 2. d4 g5 3. Qh5+ -- *", 1,
                 "game 1, ply 6: a null move in check; expected a legal move");
    assert_fault("\n\n1. e4 {no end\n\n", 3, "game 1, ply 2: this comment is not closed; expected }");
    assert_fault("1. e4\n(1. d4 (1. c4) \n", 2, "game 1, ply 2: this variation is not closed; expected )");
    assert_fault("1. e4 ) e5 *", 1, "game 1, ply 2: ')' cannot stand here; expected a move");
    assert_fault("1. e4 \x01 e5 *", 1,
                 "game 1, ply 2: byte 01 (hexadecimal) cannot stand here; expected a move");
    assert_fault("1. e4 $ e5 *", 1, "game 1, ply 2: no number follows $; expected one from 0 to 255");
    assert_fault("1. e4 [sic] e5 *", 1, "game 1, ply 2: '[' cannot stand here; expected a move");
    assert_fault("[Event \"a\"]\n[Site \"x\n\n1. e4 *", 2,
                 "game 1: this is no tag pair; expected [Name \"value\"] on one line");
    assert_fault("[Event \"a\"]\n[Variant \"Atomic\"]\n\n1. e4 *", 2,
                 "game 1: the variant is \"Atomic\"; expected chess or Chess960");
    assert_fault("[Event \"a\"]\n[FEN \"8/8/8/8/8/8/8/8 w - - 0 1\"]\n\n1. e4 *", 2,
                 "game 1: the FEN is \"8/8/8/8/8/8/8/8 w - - 0 1\": each side must have exactly one king");
    assert_fault("[Event \"a\"]\n[FEN \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1 x\"]\n\n1. e3 *", 2,
                 "game 1: the FEN is \"4k3/8/8/8/8/8/4P3/4K3 w - - 0 1 x\": text stands behind the position; "
                 "expected nothing behind its last field");
    assert_fault("17. {nothing}", 1, "game 1: there are neither tags nor moves; expected a game");
}

/* Around each of these stand two good games; both must be told, whatever is between them. */
static void a_broken_game_costs_no_other(void **state)
{
    static const char *const middles[] = {
        "[Event \"b\"]\n\n1. e4 e5 2. Ke3 Nf6 1-0\n\n",
        "[Event \"b\"]\n\n1. e4 {never closed\n\n",
        "[Event \"b\"]\n\n1. e4 (1. d4 (1. c4 (1. b4\n\n",
        "[Event \"b\"]\n\n1. e4 (1. d4 {never closed\n\n",
        "[Event \"b\"]\n\n1. e4 } e5 1-0\n\n",
        "[Event \"b\"]\n\n1. e4 e5 2. N\n\n",
        "[Event \"b]\n[Site \"x\"]\n[Round \"1\"]\n\n1. e4 e5 1-0\n\n",
        "[Event \"b\"\n[Site \"x\"]\n\n1. e4 e5 1-0\n\n",
        "[Event \"b\"]\n[FEN \"nothing\"]\n\n1. e4 e5 1-0\n\n",
        "\177ELF\x02\x01\x01\x03 {{{{ (((( \"\"\"\" \xFF\xFE\n\n",
        "<html><body>{ not ( a game</body></html>\n\n",
    };
    static const char first[] = "[Event \"a\"]\n[Site \"x\"]\n\n1. d4 {good} d5 1-0\n\n";
    static const char last[] = "[Event \"c\"]\n[Site \"y\"]\n\n1. c4 {good} c5 0-1\n";
    char text[1024];
    (void)state;
    for (size_t i = 0; i < sizeof middles / sizeof *middles; i++) {
        snprintf(text, sizeof text, "%s%s%s", first, middles[i], last);
        read_text(text);
        if (record.ended != 2 || record.broken != 1 || !strstr(record.text, "1: d2d4 {good} d7d5 1-0\n") ||
            !strstr(record.text, "3: c2c4 {good} c7c5 0-1\n"))
            fail_msg("%s\nwas read as\n%s", text, record.text);
    }
}

/* Any beginning of a file: all its complete games, and at most one more. */
static void truncated_anywhere(void **state)
{
    static const char game[] = "[Event \"a \\\"b\\\"\"]\n[FEN \"4k3/P7/8/8/8/8/8/4K2R w K - 0 1\"]\n\n"
                               "1. O-O {castled} (1. a8=Q+ $1) Kd7 ; so\n2. a8=Q 1-0\n\n";
    char text[2 * sizeof game];
    (void)state;
    size_t length = (size_t)snprintf(text, sizeof text, "%s%s", game, game);
    for (size_t cut = 0; cut <= length; cut++) {
        read_bytes(text, cut);
        assert_true(record.ended + record.broken <= 2);
        assert_true(cut < sizeof game - 1 || record.ended >= 1);
    }
    assert_int_equal(record.ended, 2);
}

/* PGN standard, section 8.2.6: every game ends with one of the four terminations. A file that ends within a
 * game, wherever, has been cut off. */
static void a_file_that_is_cut_off(void **state)
{
    static const char whole[] = "[Event \"a\"]\n[Site \"x\"]\n[Result \"1-0\"]\n\n1. e4 e5 1-0\n\n";
    static const char game[] = "[Event \"b\"]\n[FEN \"4k3/P7/8/8/8/8/8/4K2R w K - 0 1\"]\n[Result \"1-0\"]\n"
                               "\n1. O-O $3 {it is {castled} (1. a8=Q+ $1 {or}) Kd7 ; so\n2. a8=Q -+ 1-0";
    char text[sizeof whole + sizeof game];
    (void)state;
    size_t length = (size_t)snprintf(text, sizeof text, "%s%s", whole, game);
    for (size_t cut = sizeof whole; cut < length; cut++) {
        read_block(text, cut, true);
        if (record.ended != 1 || record.broken != 1 || record.cut != 1)
            fail_msg("%.*s\nwas read as\n%s", (int)cut, text, record.text);
    }
    read_block(text, length, true);
    assert_int_equal(record.ended, 2);
    assert_int_equal(record.broken, 0);
    read_block(text, sizeof whole - 1, true);
    assert_int_equal(record.ended, 1);
    assert_int_equal(record.broken, 0);
}

/* Broken, but not by the end of the file; and moves that somebody has written down, without tags. */
static void a_file_that_is_not_cut_off(void **state)
{
    static const char *const texts[] = {
        "[Event \"a\"]\n\n1. e4 e5 2. Ke3 1-0",
        "[Event \"a\"]\n\n1. e4 e5 2. Ke3\n",
        "[Event \"a\"]\n[Site x]\n\n1. e4 *",
        "1. e4 e5 2. Nf3",
    };
    (void)state;
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        read_block(texts[i], strlen(texts[i]), true);
        if (record.cut != 0)
            fail_msg("%s\nwas read as cut off: %s", texts[i], record.faults[0]);
    }
    assert_string_equal(record.text, "1: e2e4 e7e5 g1f3 *\n");
}

/* Bytes changed at random: the reader ends, and never loses the good game at the end. */
static void read_mangled(void)
{
    static const char game[] =
        "[Event \"a\"]\n[Result \"1-0\"]\n\n1. e4 {x [%clk 1]} (1. d4 $2 (1. c4)) e5 2. Nf3\n1-0\n\n";
    static const char last[] = "\n\n[Event \"the last\"]\n[Result \"1-0\"]\n\n1. b4 b5 1-0\n";
    char text[8 * sizeof game + sizeof last];
    Random random = random_seeded(20260101);
    for (int round = 0; round < 20000; round++) {
        size_t length = 0;
        for (int i = 0; i < 6; i++)
            length += (size_t)sprintf(text + length, "%s", game);
        for (int changes = (int)random_below(&random, 30); changes > 0; changes--)
            text[random_below(&random, length)] = random_below(&random, 2)
                                                      ? "[]{}();%\"\n $*01"[random_below(&random, 15)]
                                                      : (char)random_next(&random);
        strcpy(text + length, last);
        read_bytes(text, length + strlen(last));
        assert_true(record.ended + record.broken <= 64);
        if (!strstr(record.text, ": b2b4 b7b5 1-0\n"))
            fail_msg("lost the last game of\n%s", text);
    }
}

static void mangled_at_random(void **state)
{
    (void)state;
    read_mangled();
    wants_variations = true;
    read_mangled();
    wants_variations = false;
}

/* PGN standard, section 8.2.5: a variation replaces the move before it, and may hold everything that a game
 * may. */
static void variations_are_told(void **state)
{
    static const Reading readings[] = {
        {"1. e4 (1. d4 d5 (1... Nf6 {not ) yet} 2. c4 (2. Nf3 1-0)) 2. c4!) ({so} 1. c4 ; English )\n) e5 "
         "1-0",
         "1: e2e4 ( d2d4 d7d5 ( g8f6 {not ) yet} c2c4 ( g1f3 {1-0} ) ) c2c4 $1 ) ( {so} c2c4 { English )} ) "
         "e7e5 "
         "1-0\n"},
        /* Behind a variation the line goes on where it was, whoever was to move. */
        {"1. e4 e5 (1... c5 2. Nf3 d6 3. -- Nf6) (1... e6) {ours} 2. Nf3 *",
         "1: e2e4 e7e5 ( c7c5 g1f3 d7d6 0000 g8f6 ) ( e7e6 ) {ours} g1f3 *\n"},
        {"[FEN \"r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1\"]\n\n1. Kf1 (0-0-0 0-0 (Ke7 *)) Kf8 *",
         "1: e1f1 ( e1c1 e8g8 ( e8e7 ) ) e8f8 *\n"},
        {"1. e4 (1. " WHITE_KNIGHT "f3\xC2\xB1) (1. f4 $1 $14 {[%cal Gf4f5]}) e5 *",
         "1: e2e4 ( g1f3 $16 ) ( f2f4 $1 $14 {[%cal Gf4f5]} ) e7e5 *\n"},
        /* What is no variation: an offered draw, a remark, one before there is a move, none at all. */
        {"1. e4 (=) (1-0) ( {a} ) () e5 *", "1: e2e4 {(=)} {(1-0)} {( {a} )} {()} e7e5 *\n"},
        {"(1. d4) 1. e4 (1. d4 (1. c4 (=))) *", "1: {(1. d4)} e2e4 ( d2d4 ( c2c4 {(=)} ) ) *\n"},
        /* What cannot be read stays where it was, and costs nothing else. */
        {"1. e4 (1. d4 d5\n2. Ke3 (2. c4 {x)}) Nf6 {y}) e5 *",
         "1: e2e4 ( d2d4 d7d5 ODD 2:3 \"\"Ke3\": no legal move here; expected a legal move\" {Ke3 (2. c4 "
         "{x)}) Nf6 "
         "{y}} ) e7e5 *\n"},
        {"1. e4 (1. ?f3 Nf6 (1... d5)) e5 *", "1: e2e4 ( ODD 1:1 \"\"?f3\" has a sign that belongs to no "
                                              "move; expected a legal move\" {?f3 Nf6 (1... "
                                              "d5)} ) e7e5 *\n"},
        {"1. e4 e5 (1... f6 2. d4 g5 3. Qh5+ --) 2. d4 $ *",
         "1: e2e4 e7e5 ( f7f6 d2d4 g7g5 d1h5 ODD 1:6 \"a null move in check; expected a legal move\" {--} ) "
         "d2d4 "
         "BROKEN\n"},
    };
    (void)state;
    wants_variations = true;
    ASSERT_ALL_READ(readings);
    wants_variations = false;
}

/* As many as are told are told one in another; what is in those is a comment. */
static void told_variations_nest_deep(void **state)
{
    char text[8 * PGN_VARIATIONS_MAX + 64] = "1. e4", told[16 * PGN_VARIATIONS_MAX + 64] = "1: e2e4";
    (void)state;
    for (int i = 0; i <= PGN_VARIATIONS_MAX; i++) {
        strcat(text, i % 2 ? " (e4" : " (d4");
        strcat(told, i == PGN_VARIATIONS_MAX ? " {(d4)}" : i % 2 ? " ( e2e4" : " ( d2d4");
    }
    for (int i = 0; i <= PGN_VARIATIONS_MAX; i++) {
        strcat(text, ")");
        strcat(told, i < PGN_VARIATIONS_MAX ? " )" : "");
    }
    strcat(text, " e5 *");
    strcat(told, " e7e5 *\n");
    wants_variations = true;
    assert_reads(text, told);
    wants_variations = false;
}

/* Any number of signs in a row, in time that grows with it. */
static void many_signs(void **state)
{
    enum { COUNT = 1000000 };
    char *text = malloc(3 * COUNT + 64), *at = text;
    (void)state;
    assert_non_null(text);
    at += sprintf(at, "1. e4");
    for (int i = 0; i < COUNT; i++)
        at += sprintf(at, "\xE2\x80\xA0");
    sprintf(at, " e5 * \xE2\x80\xA0\n");
    assert_reads(text, "1: e2e4 e7e5 *\n");
    free(text);
}

static void deep_nesting(void **state)
{
    enum { DEPTH = 1000000 };
    char *text = malloc(2 * DEPTH + 64);
    (void)state;
    assert_non_null(text);
    strcpy(text, "1. e4 ");
    memset(text + 6, '(', DEPTH);
    memset(text + 6 + DEPTH, ')', DEPTH);
    strcpy(text + 6 + 2 * DEPTH, " e5 *");
    assert_reads(text, "1: e2e4 e7e5 *\n");
    text[6 + 2 * DEPTH - 1] = '\0';
    read_text(text);
    assert_int_equal(record.broken, 1);
    free(text);
}

/* -------------------------------------------------------------------------------------------------------
 * tags */

static void tags_and_texts(void **state)
{
    typedef struct TextCase {
        const char *raw, *copy;
    } TextCase;
    static const TextCase cases[] = {
        {"plain", "plain"},
        {"a \\\"b\\\" \\\\ c\\d", "a \"b\" \\ c\\d"}, /* PGN standard, section 7 */
        {"two\r\nlines\tand\x01more", "two lines and more"},
        {"Gr\xC3\xBC\xC3\x9F"
         "e",
         "Gr\xC3\xBC\xC3\x9F"
         "e"},
        {"Gr\xFC\xDF"
         "e",
         "Gr\xC3\xBC\xC3\x9F"
         "e"}, /* ISO 8859-1 */
        {"\x8A"
         "ah \x93x\x94",
         "\xC5\xA0"
         "ah \xE2\x80\x9Cx\xE2\x80\x9D"}, /* Windows-1252 */
        {"", ""},
    };
    char copy[64];
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        pgn_text_copy((PgnText){cases[i].raw, strlen(cases[i].raw)}, copy, sizeof copy);
        assert_string_equal(copy, cases[i].copy);
    }
    /* What does not fit is left out by whole characters. */
    assert_int_equal(pgn_text_copy((PgnText){"ab\xC3\xBC", 4}, copy, 4), 2);
    assert_string_equal(copy, "ab");
}

static void find_tags(void *context, const PgnGame *game)
{
    PgnText value;
    assert_int_equal(game->tag_count, 3);
    assert_true(pgn_tag(game, "White", &value));
    assert_true(pgn_text_is(value, "B. Brown"));
    assert_false(pgn_tag(game, "white", &value));
    assert_false(pgn_tag(game, "Whit", &value));
    assert_true(pgn_tag(game, "Odd_Name-2", &value));
    assert_int_equal(value.length, 0);
    assert_int_equal(game->line, 2);
    ++*(int *)context;
}

static void tags_are_found(void **state)
{
    char text[] = "\n[Event \"a\"]\n[White \"B. Brown\"]\n[ Odd_Name-2  \"\" ]\n\n1. e4 *";
    int games = 0;
    (void)state;
    const PgnBlock block = {.text = text, .length = sizeof text - 1, .line = 1};
    pgn_read_block(&block, 1, &(PgnVisitor){.context = &games, .end = find_tags});
    assert_int_equal(games, 1);
}

/* ------------------------------------------------------------------------------------------------------
 * blocks */

static void write_file(char path[32], const char *text, size_t length)
{
    strcpy(path, "/tmp/pawnvane-pgn-XXXXXX");
    int descriptor = mkstemp(path);
    assert_true(descriptor >= 0);
    assert_int_equal(write(descriptor, text, length), length);
    close(descriptor);
}

/* A file in blocks of that size, read with that limit for a game. */
static void read_in_blocks(const char *text, size_t block_size, size_t limit)
{
    char path[32];
    PgnSource source;
    PgnBlock block;
    PgnFetched fetched;
    size_t next = 1, lines = 1, blocks = 0;
    const PgnVisitor visitor = visitor_of(&record);
    write_file(path, text, strlen(text));
    assert_true(pgn_source_open(&source, path));
    source.block_size = block_size;
    source.game_size_max = limit;
    while ((fetched = pgn_source_next(&source, &block)) == PGN_FETCHED) {
        assert_true(block.line >= lines);
        lines = block.line;
        next = pgn_read_block(&block, next, &visitor);
        pgn_block_free(&block);
        blocks++;
    }
    assert_int_equal(fetched, PGN_END);
    assert_true(block_size > strlen(text) || blocks > 1);
    pgn_source_close(&source);
    unlink(path);
}

/* Many games of different lengths, some broken, with comments that look like beginnings. */
static char *many_games(int count)
{
    char *text = malloc((size_t)count * 512), *at = text;
    assert_non_null(text);
    for (int i = 0; i < count; i++) {
        at += sprintf(at, "[Event \"%d\"]\n[Site \"x\"]\n\n", i);
        for (int k = 0; k < i % 7; k++)
            at += sprintf(at, "{comment\n[Event \"no\"]\nfor the eye} ");
        at += sprintf(at, i % 11 == 5   ? "1. e4 {open\n\n"
                          : i % 13 == 6 ? "1. e5 1-0\n\n"
                                        : "1. e4 e5 1-0\n\n");
    }
    return text;
}

static void blocks_change_nothing(void **state)
{
    char *text = many_games(300);
    static char whole[RECORD_SIZE];
    static size_t fault_lines[64];
    (void)state;
    read_text(text);
    memcpy(whole, record.text, sizeof whole);
    memcpy(fault_lines, record.fault_lines, sizeof fault_lines);
    assert_true(record.broken > 40);
    for (size_t size = 64; size <= 4096; size += 61) {
        read_in_blocks(text, size, 1 << 20);
        assert_string_equal(record.text, whole);
        assert_memory_equal(record.fault_lines, fault_lines, sizeof fault_lines);
    }
    free(text);
}

/* A game that is longer than the limit is broken; those around it are good. */
static void a_game_that_is_too_long(void **state)
{
    enum { LENGTH = 100000 };
    char *text = malloc(LENGTH + 1024), *at = text;
    (void)state;
    assert_non_null(text);
    at += sprintf(at, "[Event \"a\"]\n\n1. e4 1-0\n\n[Event \"long\"]\n\n1. e4 e5 {");
    for (int i = 0; i < LENGTH; i++)
        *at++ = "line \n[x"[i % 8];
    sprintf(at, "} 1-0\n\n[Event \"b\"]\n\n1. d4 0-1\n\n[Event \"c\"]\n\n1. c4 *\n");
    read_in_blocks(text, 256, 4096);
    assert_string_equal(record.text, "1: e2e4 1-0\n2: e2e4 e7e5 BROKEN\n3: d2d4 0-1\n4: c2c4 *\n");
    read_in_blocks(text, 256, 1 << 20);
    assert_int_equal(record.ended, 4);
    free(text);
}

static void files_that_cannot_be_read(void **state)
{
    (void)state;
    const PgnVisitor visitor = visitor_of(&record);
    assert_false(pgn_read_file("/nowhere/games.pgn", &visitor));
    assert_false(pgn_read_file("/", &visitor));
    assert_int_equal(record.length, 0);
}

/* Games that are left out, and visitors that do not care. */
static bool only_the_second(void *context, const PgnGame *game)
{
    (void)context;
    return game->number == 2;
}

static void games_can_be_left_out(void **state)
{
    char text[] = "1. e4 e5 1-0\n1. Ke7 1-0\n1. d4 d5 1-0\n";
    (void)state;
    const PgnBlock block = {.text = text, .length = sizeof text - 1, .line = 1};
    PgnVisitor visitor = visitor_of(&record);
    visitor.begin = only_the_second;
    pgn_read_block(&block, 1, &visitor);
    assert_string_equal(record.text, " BROKEN\n");
    pgn_read_block(&block, 1, &(PgnVisitor){0});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_example_of_the_standard),
        cmocka_unit_test(movetext_of_the_standard),
        cmocka_unit_test(what_real_files_contain),
        cmocka_unit_test(figurines),
        cmocka_unit_test(strange_signs_are_refused),
        cmocka_unit_test(chess960),
        cmocka_unit_test(faults_say_where_and_what),
        cmocka_unit_test(a_broken_game_costs_no_other),
        cmocka_unit_test(truncated_anywhere),
        cmocka_unit_test(a_file_that_is_cut_off),
        cmocka_unit_test(a_file_that_is_not_cut_off),
        cmocka_unit_test(mangled_at_random),
        cmocka_unit_test(variations_are_told),
        cmocka_unit_test(told_variations_nest_deep),
        cmocka_unit_test(many_signs),
        cmocka_unit_test(deep_nesting),
        cmocka_unit_test(tags_and_texts),
        cmocka_unit_test(tags_are_found),
        cmocka_unit_test(blocks_change_nothing),
        cmocka_unit_test(a_game_that_is_too_long),
        cmocka_unit_test(files_that_cannot_be_read),
        cmocka_unit_test(games_can_be_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
