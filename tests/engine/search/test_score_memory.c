/* The memory of static scores: what it says is what was put in under the same key. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/evaluation/score.h"
#include "engine/search/score_memory.h"

static ScoreMemory memory;

static void the_same_key_gives_the_score(void **state)
{
    static const int scores[] = {0, 1, -1, 250, -3000, SCORE_MATE_FLOOR - 1, -SCORE_MATE_FLOOR + 1};
    int score;
    (void)state;
    for (size_t i = 0; i < sizeof scores / sizeof *scores; i++) {
        uint64_t key = UINT64_C(0x9E3779B97F4A7C15) * (i + 1);
        assert_false(score_remembered(&memory, key, &score));
        score_remember(&memory, key, scores[i]);
        assert_true(score_remembered(&memory, key, &score));
        assert_int_equal(score, scores[i]);
    }
}

/* Keys that share a slot differ in their upper bits; the last one stays. */
static void another_key_gives_none(void **state)
{
    const uint64_t key = UINT64_C(0x123456789ABCDEF0);
    int score;
    (void)state;
    score_remember(&memory, key, 17);
    for (int shift = SCORE_MEMORY_BITS; shift < 64; shift++)
        assert_false(score_remembered(&memory, key ^ UINT64_C(1) << shift, &score));
    score_remember(&memory, key ^ UINT64_C(1) << 63, 18);
    assert_false(score_remembered(&memory, key, &score));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_same_key_gives_the_score),
        cmocka_unit_test(another_key_gives_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
