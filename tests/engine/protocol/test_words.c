/* The words of a line and the numbers among them, with the numbers' bounds. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/protocol/words.h"

#include <string.h>

/* A line whose first word has been taken, as the loop takes it. */
static char *after_first(char *line)
{
    char *rest;
    assert_non_null(strtok_r(line, " ", &rest));
    return rest;
}

static void words_are_joined_up_to_a_stop(void **state)
{
    char line[] = "setoption name  Clear\tHash value one two\r\n", text[16], small[8],
         *rest = after_first(line);
    (void)state;
    assert_string_equal(next_word(&rest), "name");
    join_words(&rest, "value", text, sizeof text);
    assert_string_equal(text, "Clear Hash");
    join_words(&rest, NULL, text, sizeof text);
    assert_string_equal(text, "one two");
    assert_null(next_word(&rest));
    char longer[] = "x abcde fghij";
    rest = after_first(longer);
    join_words(&rest, NULL, small, sizeof small);
    assert_int_equal(strlen(small), sizeof small - 1);
}

static void numbers_of_a_line_are_cut(void **state)
{
    char line[] = "go 5 -5 99999999999999999999 x 0", *rest = after_first(line);
    (void)state;
    assert_int_equal(next_number(&rest, 100), 5);
    assert_int_equal(next_number(&rest, 100), 0);
    assert_int_equal(next_number(&rest, 100), 100);
    assert_int_equal(next_positive(&rest, 100), 1);
    assert_int_equal(next_positive(&rest, 100), 1);
    assert_int_equal(next_number(&rest, 100), 0); /* behind the end */
}

static void a_whole_number_is_nothing_else(void **state)
{
    static const char *const bad[] = {"", "x", "5x", "5 ", "0", "65", "99999999999999999999"};
    int number = -7;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_false(whole_number(bad[i], 1, 64, &number));
    assert_int_equal(number, -7);
    assert_true(whole_number("1", 1, 64, &number));
    assert_int_equal(number, 1);
    assert_true(whole_number("64", 1, 64, &number));
    assert_int_equal(number, 64);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_are_joined_up_to_a_stop),
        cmocka_unit_test(numbers_of_a_line_are_cut),
        cmocka_unit_test(a_whole_number_is_nothing_else),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
