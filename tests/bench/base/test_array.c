/* Arrays that grow. */
#include "bench/base/array.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static void items_stay_while_the_array_grows(void **state)
{
    (void)state;
    int *numbers = NULL;
    size_t capacity = 0;
    int moves = 0;
    for (int i = 0; i < 10000; i++) {
        size_t before = capacity;
        assert_true(array_reserve(numbers, capacity, i, 1));
        moves += capacity != before;
        numbers[i] = i;
    }
    for (int i = 0; i < 10000; i++)
        assert_int_equal(numbers[i], i);
    assert_true(capacity >= 10000 && capacity < 20000);
    assert_true(moves < 14);
    free(numbers);
}

static void there_is_room_for_many_at_once(void **state)
{
    (void)state;
    char *text = NULL;
    size_t capacity = 0;
    assert_true(array_reserve(text, capacity, 0, 0));
    assert_null(text);
    assert_true(array_reserve(text, capacity, 0, 1));
    assert_true(array_reserve(text, capacity, 1, 5000));
    assert_true(capacity >= 5001);
    text[5000] = 'x';
    free(text);
}

static void without_memory_the_array_is_as_it_was(void **state)
{
    (void)state;
    int64_t *numbers = NULL;
    size_t capacity = 0;
    assert_true(array_reserve(numbers, capacity, 0, 1));
    numbers[0] = 7;
    int64_t *place = numbers;
    size_t room = capacity;
    assert_false(array_reserve(numbers, capacity, 1, SIZE_MAX / 4));
    assert_ptr_equal(numbers, place);
    assert_int_equal(capacity, room);
    assert_int_equal(numbers[0], 7);
    free(numbers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(items_stay_while_the_array_grows),
        cmocka_unit_test(there_is_room_for_many_at_once),
        cmocka_unit_test(without_memory_the_array_is_as_it_was),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
