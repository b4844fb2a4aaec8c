/* When games are scored early, as the option says it. The rules are ours. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench/run/adjudication.h"

static Adjudication read_rules(const char *text)
{
    Adjudication limits = default_adjudication;
    assert_true(adjudication_read(text, &limits));
    return limits;
}

static void every_part_is_read(void **state)
{
    (void)state;
    Adjudication limits = read_rules("longest=90,won=700/4,drawn=0/20/60");
    assert_int_equal(limits.win_score, 700);
    assert_int_equal(limits.win_plies, 4);
    assert_int_equal(limits.draw_score, 0);
    assert_int_equal(limits.draw_plies, 20);
    assert_int_equal(limits.draw_from, 60);
    assert_int_equal(limits.longest, 90);
}

static void what_is_left_out_stays(void **state)
{
    (void)state;
    Adjudication expected = default_adjudication, limits = read_rules("longest=7");
    expected.longest = 7;
    assert_memory_equal(&limits, &expected, sizeof limits);
    limits = read_rules("won=never,drawn=never");
    assert_int_equal(limits.win_plies, 0);
    assert_int_equal(limits.draw_plies, 0);
    assert_int_equal(limits.longest, default_adjudication.longest);
}

static void the_words_of_the_help_are_the_default(void **state)
{
    (void)state;
    Adjudication limits = {0};
    assert_true(adjudication_read(ADJUDICATION_DEFAULT, &limits));
    assert_memory_equal(&limits, &default_adjudication, sizeof limits);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_part_is_read),
        cmocka_unit_test(what_is_left_out_stays),
        cmocka_unit_test(the_words_of_the_help_are_the_default),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
