/* How the time of a game is shared out: invariants, and games that are played on the plan alone. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/search/clock.h"

#include <stdbool.h>

static int64_t greater(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

static void plans_stay_within_what_is_left(void **state)
{
    static const int64_t increments[] = {0, 10, 1000, 60000}, reserves[] = {0, 40, 5000};
    (void)state;
    for (int64_t left = 0; left < 10000000; left += 1 + left / 7)
        for (int moves = 0; moves < 60; moves++)
            for (int i = 0; i < 4; i++)
                for (int j = 0; j < 3; j++) {
                    ClockShare share =
                        clock_share(&default_parameters, &(ClockState){left, increments[i], moves,
                                                                       reserves[j], 1 + (int)(left % 150)});
                    assert_true(share.soft >= 1);
                    assert_true(share.hard >= share.soft);
                    assert_true(share.hard <= greater(1, left - reserves[j]));
                }
}

static void more_time_is_never_less(void **state)
{
    (void)state;
    for (int moves = 0; moves < 60; moves += 3)
        for (int64_t left = 0; left < 1000000; left += 1 + left / 9) {
            ClockShare less = clock_share(&default_parameters, &(ClockState){left, 500, moves, 40, 30});
            ClockShare more =
                clock_share(&default_parameters, &(ClockState){left + left / 5 + 10, 500, moves, 40, 30});
            ClockShare faster = clock_share(&default_parameters, &(ClockState){left, 600, moves, 40, 30});
            assert_true(more.soft >= less.soft && more.hard >= less.hard);
            assert_true(faster.soft >= less.soft && faster.hard >= less.hard);
        }
}

/* What is left after so many moves that each take a share of the soft limit and some milliseconds by which
 * they come late; the least that there was on the way is in *least. */
static int64_t play(ClockState clock, int moves, int percent, int64_t late, int64_t *least)
{
    int period = clock.moves_to_go;
    int64_t control = clock.left;
    *least = clock.left;
    for (int move = 0; move < moves; move++) {
        clock.left -= clock_share(&default_parameters, &clock).soft * percent / 100 + late;
        clock.move++;
        *least = clock.left < *least ? clock.left : *least;
        clock.left += clock.increment;
        if (period && --clock.moves_to_go == 0) {
            clock.moves_to_go = period;
            clock.left += control;
        }
    }
    return clock.left;
}

/* A game of common length uses most of its time, and a long one does not use it up. */
static void sudden_death_is_used_and_never_used_up(void **state)
{
    static const int64_t games[] = {2000, 10000, 60000, 900000, 5400000};
    int64_t least;
    (void)state;
    for (int i = 0; i < 5; i++) {
        assert_true(play((ClockState){games[i], 0, 0, 40, 1}, 60, 100, 0, &least) < games[i] / 4);
        play((ClockState){games[i], 0, 0, 40, 1}, 200, 100, 0, &least);
        assert_true(least > 0);
    }
}

static void increments_are_used_and_carry_a_game_for_ever(void **state)
{
    static const struct {
        int64_t left, increment;
    } games[] = {{1000, 10}, {1000, 100}, {60000, 600}, {180000, 2000}, {900000, 10000}};
    int64_t least;
    (void)state;
    for (int i = 0; i < 5; i++) {
        ClockState clock = {games[i].left, games[i].increment, 0, 40, 1};
        /* Some increments in hand are no waste. */
        assert_true(play(clock, 80, 100, 0, &least) < games[i].left * 4 / 10 + 10 * games[i].increment);
        play(clock, 1000, 100, 0, &least);
        assert_true(least > 0);
        /* Moves that come late, by the reserve or nearly all of the increment. */
        int64_t late = games[i].increment * 8 / 10;
        play(clock, 1000, 100, late < clock.reserve ? late : clock.reserve, &least);
        assert_true(least > 0);
    }
}

/* Time is there to be used: if the moves of a game that is played from move 10 on take 85 % of their shares on average,
 * less than a quarter is left sixty moves later. The later the move, the fewer are taken to follow it. */
static void little_is_left_of_a_long_game(void **state)
{
    static const int64_t games[] = {15000, 60000, 900000, 5400000};
    int64_t least;
    (void)state;
    for (int i = 0; i < 4; i++) {
        ClockState sudden = {games[i], 0, 0, 40, 10}, fed = {games[i], games[i] / 100, 0, 40, 10};
        assert_true(play(sudden, 60, 85, 0, &least) < games[i] / 4);
        assert_true(play(fed, 60, 85, 0, &least) < games[i] / 4);
    }
    int64_t before = 0;
    for (int move = 1; move <= 200; move++) {
        int64_t soft = clock_share(&default_parameters, &(ClockState){60000, 0, 0, 40, move}).soft;
        assert_true(soft >= before && soft < 60000 / 12);
        before = soft;
    }
}

static ClockUse use_of(int moves, int percent)
{
    return (ClockUse){moves, (int64_t)moves * percent};
}

/* Moves that take their shares leave the next one as it is; what others leave is given to those to come, within bounds, and
 * not on the word of the first move. */
static void what_moves_leave_goes_to_the_next(void **state)
{
    const Parameters *p = &default_parameters;
    (void)state;
    assert_int_equal(clock_stretch(p, &(ClockUse){0}), 100);
    for (int moves = 1; moves <= 300; moves++) {
        int before = p->share_stretch;
        for (int percent = 0; percent <= 400; percent += 5) {
            ClockUse use = use_of(moves, percent);
            int stretch = clock_stretch(p, &use);
            assert_in_range(stretch, 100, before);
            if (percent >= 100)
                assert_int_equal(stretch, 100);
            before = stretch;
        }
    }
    ClockUse one = use_of(1, 50), many = use_of(40, 50), usual = use_of(40, 80);
    assert_true(clock_stretch(p, &one) < 120);
    assert_int_equal(clock_stretch(p, &many), p->share_stretch);
    assert_in_range(clock_stretch(p, &usual), 120, 125);
}

/* The last move before the control may use most of what there is; and nothing is saved beyond it. */
static void the_moves_to_the_control_are_honoured(void **state)
{
    int64_t least;
    (void)state;
    ClockShare last = clock_share(&default_parameters, &(ClockState){10000, 0, 1, 40, 40});
    assert_true(last.soft > 5000);
    for (int period = 1; period <= 40; period++) {
        ClockState clock = {100000, 0, period, 40, 1};
        play(clock, 5 * period, 100, 0, &least);
        assert_true(least > 0);
        assert_true(least < 40000);
    }
    /* The nearer the control, the more time for a move. */
    for (int moves = 2; moves <= 40; moves++)
        assert_true(clock_share(&default_parameters, &(ClockState){60000, 0, moves - 1, 40, 30}).soft >
                    clock_share(&default_parameters, &(ClockState){60000, 0, moves, 40, 30}).soft);
}

/* A choice that stands and takes most of the effort needs less time, one that fails needs more. */
static void doubt_takes_time(void **state)
{
    (void)state;
    for (int stable = 0; stable < 12; stable++)
        for (int effort = 0; effort <= 100; effort += 5)
            for (int drop = -100; drop <= 100; drop += 5) {
                int percent = clock_percent(&default_parameters, stable, effort, drop);
                assert_true(percent > 0);
                assert_true(clock_percent(&default_parameters, stable + 1, effort, drop) <= percent);
                assert_true(effort == 100 ||
                            clock_percent(&default_parameters, stable, effort + 5, drop) <= percent);
                assert_true(clock_percent(&default_parameters, stable, effort, drop + 5) >= percent);
            }
    assert_true(clock_percent(&default_parameters, 0, 50, 0) > 100);
    assert_true(clock_percent(&default_parameters, 8, 90, 0) < 50);
    assert_true(clock_percent(&default_parameters, 4, 70, 50) > clock_percent(&default_parameters, 4, 70, 0));
}

/* What the parameters make of one state of a game and of the choice. */
typedef struct Plan {
    ClockShare share;
    int percent, stretch;
} Plan;

static Plan plan_of(const Parameters *parameters, int64_t left, int64_t increment, int move, int stable,
                    int effort, int drop)
{
    return (Plan){clock_share(parameters, &(ClockState){left, increment, 0, 40, move}),
                  clock_percent(parameters, stable, effort, drop),
                  clock_stretch(parameters, &(ClockUse){move, (int64_t)move * effort})};
}

/* At the bounds of each parameter of the time the plans stay sound, and one bound at least makes another plan than the
 * default. */
static void bounds_are_sound_and_have_a_say(void **state)
{
    (void)state;
    for (int i = PARAMETER_OF_TIME; i < PARAMETER_COUNT; i++) {
        const ParameterInfo *info = &parameter_table[i];
        const int bounds[] = {info->least, info->greatest};
        bool differs = false;
        for (int b = 0; b < 2; b++) {
            Parameters parameters = default_parameters;
            assert_int_equal(parameter_set(&parameters, info->name, bounds[b]), PARAMETER_SET);
            for (int64_t left = 1; left < 1000000; left += 1 + left / 3) {
                int move = 1 + (int)(left % 100);
                for (int stable = 0; stable < 80; stable += 9)
                    for (int effort = 0; effort <= 100; effort += 20)
                        for (int drop = 0; drop <= 500; drop += 100) {
                            Plan plan = plan_of(&parameters, left, 3000, move, stable, effort, drop);
                            Plan usual = plan_of(&default_parameters, left, 3000, move, stable, effort, drop);
                            assert_true(plan.percent > 0 && plan.stretch >= 100);
                            assert_true(plan.share.soft >= 1 && plan.share.hard >= plan.share.soft);
                            assert_true(plan.share.hard <= greater(1, left - 40));
                            differs |= plan.percent != usual.percent || plan.stretch != usual.stretch ||
                                       plan.share.soft != usual.share.soft ||
                                       plan.share.hard != usual.share.hard;
                        }
            }
        }
        if (!differs)
            fail_msg("%s changes nothing", info->name);
    }
}

static void the_clock_goes_forward(void **state)
{
    int64_t before = clock_now_us();
    (void)state;
    for (int i = 0; i < 1000; i++) {
        int64_t now = clock_now_us();
        assert_true(now >= before);
        before = now;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plans_stay_within_what_is_left),
        cmocka_unit_test(more_time_is_never_less),
        cmocka_unit_test(sudden_death_is_used_and_never_used_up),
        cmocka_unit_test(increments_are_used_and_carry_a_game_for_ever),
        cmocka_unit_test(little_is_left_of_a_long_game),
        cmocka_unit_test(what_moves_leave_goes_to_the_next),
        cmocka_unit_test(the_moves_to_the_control_are_honoured),
        cmocka_unit_test(doubt_takes_time),
        cmocka_unit_test(bounds_are_sound_and_have_a_say),
        cmocka_unit_test(the_clock_goes_forward),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
