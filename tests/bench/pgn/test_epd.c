/* EPD lines against S. Edwards, "Portable Game Notation Specification and Implementation Guide", 1994,
 * section 16.2 (clauses quoted from memory). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "bench/base/utf8.h"
#include "bench/pgn/epd.h"
#include "engine/rules/notation.h"

#define BARE "4k3/8/8/8/8/8/4P3/4K3 w - -"

static EpdRecord parse(const char *text)
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE] = "";
    if (!epd_parse(text, &record, error))
        fail_msg("\"%s\": %s", text, error);
    return record;
}

static void assert_bad(const char *text, const char *part)
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE] = "";
    if (epd_parse(text, &record, error))
        fail_msg("\"%s\" was read", text);
    if (!strstr(error, part))
        fail_msg("\"%s\" gave \"%s\", not \"%s\"", text, error, part);
    assert_null(record.text);
}

static void test_no_operations(void **state)
{
    (void)state;
    /* 16.2.2: "four data fields followed by zero or more operations". */
    EpdRecord record = parse(BARE);
    assert_string_equal(record.fields, BARE);
    assert_int_equal(record.operation_count, 0);
    assert_null(epd_find(&record, "bm"));
    assert_null(epd_text(&record, "id"));
    epd_free(&record);
}

static void test_operations(void **state)
{
    (void)state;
    /* 16.2.4: an operation is an opcode, zero or more operands behind it, and a semicolon; a string operand
     * stands in quotes and may hold blanks and semicolons. */
    EpdRecord record = parse(BARE " am e3; bm e4 Kd2; draw_offer; id \"a; b\"; v0 -12; c1 \"\";");
    assert_int_equal(record.operation_count, 6);
    assert_string_equal(epd_text(&record, "am"), "e3");
    assert_int_equal(epd_find(&record, "bm")->count, 2);
    assert_string_equal(record.operands[epd_find(&record, "bm")->first + 1], "Kd2");
    assert_int_equal(epd_find(&record, "draw_offer")->count, 0);
    assert_null(epd_text(&record, "draw_offer"));
    assert_string_equal(epd_text(&record, "id"), "a; b");
    assert_string_equal(epd_text(&record, "v0"), "-12");
    assert_string_equal(epd_text(&record, "c1"), "");
    epd_free(&record);
}

static void test_blanks_do_not_matter(void **state)
{
    (void)state;
    EpdRecord record = parse("  4k3/8/8/8/8/8/4P3/4K3\tw  -   -   bm   e4   Kd2 ;id \"x\"  ; noop ; ");
    assert_string_equal(record.fields, BARE);
    assert_int_equal(epd_find(&record, "bm")->count, 2);
    assert_string_equal(epd_text(&record, "id"), "x");
    assert_non_null(epd_find(&record, "noop"));
    epd_free(&record);
}

static void test_counters(void **state)
{
    (void)state;
    /* 16.2.5: hmvc is the half move clock, fmvn the full move number; without them they are 0 and 1. */
    EpdRecord record = parse(BARE " fmvn 31; hmvc 7;");
    assert_int_equal(record.position.halfmoves, 7);
    assert_int_equal(record.position.fullmove, 31);
    epd_free(&record);
    record = parse(BARE);
    assert_int_equal(record.position.halfmoves, 0);
    assert_int_equal(record.position.fullmove, 1);
    epd_free(&record);
    /* A FEN has them as fields, and operations may follow. */
    record = parse(BARE " 3 9 bm e4;");
    assert_int_equal(record.position.halfmoves, 3);
    assert_int_equal(record.position.fullmove, 9);
    assert_string_equal(record.fields, BARE);
    assert_string_equal(epd_text(&record, "bm"), "e4");
    epd_free(&record);
    assert_bad(BARE " hmvc x;", "expected a number from 0");
    assert_bad(BARE " fmvn 0;", "expected a number from 1");
}

static void test_opcodes(void **state)
{
    (void)state;
    /* 16.2.4: "a letter character and may be followed by up to fourteen more characters", each a letter, a
     * digit or an underscore. */
    EpdRecord record = parse(BARE " a23456789_12345 1;");
    assert_string_equal(epd_text(&record, "a23456789_12345"), "1");
    epd_free(&record);
    assert_bad(BARE " a23456789_123456 1;", "no operation");
    assert_bad(BARE " \"id\" x;", "no operation");
    assert_bad(BARE " b-m e4;", "no operation");
    assert_bad(BARE " ;", "no operation");
    assert_bad(BARE " bm e4; bm e3;", "twice");
    /* 16.2.4: "an EPD operation is [...] followed by a semicolon": text without one is none. */
    assert_bad(BARE " trailing nonsense x", "\"trailing nonsense x\" is no operation");
    assert_bad(BARE " 0 1 trailing", "\"trailing\" is no operation");
    assert_bad(BARE " bm e4; id \"x\"", "\"id \"x\"\" is no operation");
}

static void test_bad_text(void **state)
{
    (void)state;
    assert_bad(BARE " id \"no end;", "no end");
    assert_bad("", "field is missing");
    assert_bad("4k3/8/8/8/8/8/4P3/4K3 w -", "field is missing");
    assert_bad("4k3/8/8/8/8/8/4P3/4K2 w - -", "rank");
    assert_bad(BARE " id \"\x01\";", "control character");
    assert_bad(BARE " id \"\xE9\";", "UTF-8");

    /* More operands and operations than there is room for. */
    char text[4096] = BARE " bm";
    for (int i = 0; i <= EPD_OPERANDS_MAX; i++)
        strcat(text, " e4");
    assert_bad(text, "too many operands");
    strcpy(text, BARE);
    for (int i = 0; i <= EPD_OPERATIONS_MAX; i++)
        snprintf(text + strlen(text), 16, " x%d;", i);
    assert_bad(text, "too many operations");
}

static void test_moves(void **state)
{
    (void)state;
    MoveList moves;
    char error[EPD_ERROR_SIZE], lan[MOVE_TEXT_SIZE];
    /* 16.2.5: bm and am have moves in SAN, all playable in the position. */
    EpdRecord record = parse(BARE " am Kd7; bm e4 Kf2; pv e4 Kd7;");
    assert_true(epd_moves(&record, "bm", &moves, error));
    assert_int_equal(moves.count, 2);
    lan_write(&record.position, moves.moves[0], lan);
    assert_string_equal(lan, "e2e4");
    lan_write(&record.position, moves.moves[1], lan);
    assert_string_equal(lan, "e1f2");
    assert_true(epd_moves(&record, "sm", &moves, error));
    assert_int_equal(moves.count, 0);
    epd_free(&record);
    /* Figurines of either colour (Unicode, U+2654 to U+265F): the white king, the black pawn. */
    record = parse(BARE " am \xE2\x99\x9A"
                        "d7; bm \xE2\x99\x94"
                        "f2 \xE2\x99\x9F"
                        "e4;");
    assert_true(epd_moves(&record, "bm", &moves, error));
    lan_write(&record.position, moves.moves[0], lan);
    assert_string_equal(lan, "e1f2");
    lan_write(&record.position, moves.moves[1], lan);
    assert_string_equal(lan, "e2e4");
    assert_false(epd_moves(&record, "am", &moves, error));
    assert_non_null(strstr(error, "\xE2\x99\x9A"
                                  "d7"));
    epd_free(&record);
    record = parse(BARE " am Kd7;");
    assert_false(epd_moves(&record, "am", &moves, error));
    assert_non_null(strstr(error, "Kd7"));
    epd_free(&record);
}

static void test_chess960(void **state)
{
    (void)state;
    EpdRecord record = parse("4k3/8/8/8/8/8/8/1R2K1R1 w BG -");
    assert_true(record.position.chess960);
    assert_string_equal(record.fields, "4k3/8/8/8/8/8/8/1R2K1R1 w BG -");
    epd_free(&record);
    assert_bad("4k3/8/8/8/8/8/8/1R2K1R1 w KQ -", "castling");
}

/* What a file hands over. */
typedef struct Seen {
    char text[1024];
    bool refuse_first;
} Seen;

static bool see(void *context, const EpdRecord *record)
{
    Seen *seen = context;
    const char *id = epd_text(record, "id");
    snprintf(seen->text + strlen(seen->text), sizeof seen->text - strlen(seen->text), "%s:%ld:%s ",
             record->file, record->line, id ? id : "-");
    bool refuse = seen->refuse_first;
    seen->refuse_first = false;
    return !refuse;
}

static bool read_text(const char *text, size_t size, Seen *seen)
{
    FILE *stream = fmemopen((void *)(uintptr_t)text, size, "r");
    assert_non_null(stream);
    bool good = epd_read_stream(stream, "f", see, seen);
    fclose(stream);
    return good;
}

static void test_files(void **state)
{
    (void)state;
    static const char good[] = "\xEF\xBB\xBF" BARE " id \"a\";\r\n"
                               "\n  \n# a remark\n" BARE "\n" BARE " id \"no line end\";";
    Seen seen = {0};
    assert_true(read_text(good, sizeof good - 1, &seen));
    assert_string_equal(seen.text, "f:1:a f:5:- f:6:no line end ");

    /* A bad line costs itself, not its neighbours. */
    static const char bad[] = "nonsense\n" BARE " id \"a\";\n" BARE " id \"b\0\";\n" BARE " id \"c\";\n";
    seen = (Seen){0};
    assert_false(read_text(bad, sizeof bad - 1, &seen));
    assert_string_equal(seen.text, "f:2:a f:4:c ");

    /* Nor does one that its user refuses. */
    seen = (Seen){.refuse_first = true};
    assert_false(read_text(good, sizeof good - 1, &seen));
    assert_string_equal(seen.text, "f:1:a f:5:- f:6:no line end ");

    seen = (Seen){0};
    assert_false(epd_read_file("/nonexistent/suite.epd", see, &seen));
    assert_false(epd_read_file("/", see, &seen));
    assert_string_equal(seen.text, "");
}

static void test_shipped_suite(void **state)
{
    (void)state;
    /* D. Kopec, I. Bratko, in Advances in Computer Chess 3, 1982: 24 positions, 12 of them lever positions.
     */
    typedef struct Count {
        int positions, levers, moves;
    } Count;
    FILE *file = fopen("bench/positions/bratko-kopec.epd", "r");
    assert_non_null(file);
    Count count = {0};
    char line[512], error[EPD_ERROR_SIZE];
    while (fgets(line, sizeof line, file)) {
        if (*line == '#')
            continue;
        MoveList moves;
        line[strcspn(line, "\n")] = '\0';
        EpdRecord record = parse(line);
        assert_true(epd_moves(&record, "bm", &moves, error));
        const char *class = epd_text(&record, "c0");
        assert_true(strcmp(class, "lever") == 0 || strcmp(class, "tactical") == 0);
        count.positions++;
        count.levers += strcmp(class, "lever") == 0;
        count.moves += moves.count;
        epd_free(&record);
    }
    fclose(file);
    assert_int_equal(count.positions, 24);
    assert_int_equal(count.levers, 12);
    assert_int_equal(count.moves, 26); /* two of them have two best moves */
}

static void test_utf8(void **state)
{
    (void)state;
    /* RFC 3629, sections 3, 4 and 7: the examples, and sequences that must not be decoded. */
    static const char *const good[] = {"",
                                       "plain",
                                       "\x41\xE2\x89\xA2\xCE\x91\x2E",
                                       "\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4",
                                       "\xEF\xBB\xBF\xF0\xA3\x8E\xB4",
                                       "\xF4\x8F\xBF\xBF"};
    static const char *const bad[] = {"\xC0\x80",
                                      "\x2F\xC0\xAE\x2E\x2F",
                                      "\xED\xA1\x8C\xED\xBE\xB4",
                                      "\xF4\x90\x80\x80",
                                      "\xE2\x89",
                                      "\x80",
                                      "\xF8\x88\x80\x80",
                                      "\xE0\x80\x80",
                                      "caf\xE9"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++)
        assert_true(utf8_is_valid(good[i]));
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_false(utf8_is_valid(bad[i]));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_no_operations),
        cmocka_unit_test(test_operations),
        cmocka_unit_test(test_blanks_do_not_matter),
        cmocka_unit_test(test_counters),
        cmocka_unit_test(test_opcodes),
        cmocka_unit_test(test_bad_text),
        cmocka_unit_test(test_moves),
        cmocka_unit_test(test_chess960),
        cmocka_unit_test(test_files),
        cmocka_unit_test(test_shipped_suite),
        cmocka_unit_test(test_utf8),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
