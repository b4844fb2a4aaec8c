/* Several workers on one position: they agree with one worker where there is only one right answer, they keep
 * the limits, and their number and settings can change between searches. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "bench/pgn/epd.h"
#include "engine/search/agenda.h"
#include "engine/search/player.h"
#include "tests/engine/rules/playout.h"

#include <pthread.h>
#include <string.h>
#include <unistd.h>

enum { WORKERS = 4 };

static const char french[] = "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 3";

static int start_player(void **state)
{
    Player *player = player_new(16);
    *state = player;
    return player && player_set_workers(player, WORKERS) ? 0 : -1;
}

static int free_player(void **state)
{
    player_free(*state);
    return 0;
}

/* What a listener heard. It must not fail while others think, so it notes what is wrong. */
typedef struct Heard {
    int lines, depth;
    uint64_t nodes;
    const char *wrong;
} Heard;

static void hear_line(void *context, const Position *root, const SearchLine *line)
{
    Heard *heard = context;
    Position p = *root;
    if (line->length == 0)
        heard->wrong = "an empty line";
    for (int i = 0; i < line->length; i++) {
        if (!movegen_is_legal(&p, line->moves[i]))
            heard->wrong = "an illegal move";
        position_play(&p, line->moves[i]);
    }
    /* The last line may go back to the last depth that was finished. */
    if (line->bound == BOUND_EXACT && line->depth < heard->depth)
        heard->wrong = "less depth than before";
    if (line->nodes < heard->nodes)
        heard->wrong = "fewer nodes than before";
    if (line->deepest < line->depth)
        heard->wrong = "a line longer than the deepest";
    if (line->bound == BOUND_EXACT)
        heard->depth = line->depth;
    heard->nodes = line->nodes;
    heard->lines++;
}

static SearchResult think(Player *player, const char *fen, SearchLimits limits, Heard *heard)
{
    Game game;
    SearchResult result;
    Position p = playout_read(fen, false);
    *heard = (Heard){.lines = 0};
    assert_true(game_start(&game, &p));
    player_think(player, &game, &limits, &(SearchListener){.line = hear_line, .context = heard}, &result);
    game_free(&game);
    if (heard->wrong)
        fail_msg("%s in line %d", heard->wrong, heard->lines);
    assert_true(result.best == NO_MOVE || movegen_is_legal(&p, result.best));
    return result;
}

static void depth_limits_hold(void **state)
{
    Heard heard;
    for (int depth = 1; depth <= 9; depth++) {
        SearchResult result = think(*state, french, (SearchLimits){.depth = depth}, &heard);
        assert_int_equal(result.line.depth, depth);
        assert_int_equal(heard.depth, depth);
        assert_int_equal(result.line.moves[0], result.best);
    }
}

/* Each worker tells the others its nodes, and asks for theirs, every 256 nodes of its own. */
static void node_limits_nearly_hold(void **state)
{
    enum { LIMIT = 60000 };
    Heard heard;
    for (int i = 0; i < 5; i++) {
        player_forget(*state);
        SearchResult result = think(*state, french, (SearchLimits){.nodes = LIMIT}, &heard);
        assert_true(result.nodes >= LIMIT && result.nodes < LIMIT + 512 * WORKERS);
        assert_true(result.line.nodes == result.nodes);
    }
}

/* Composed so that they have one solution (mate in two with two rooks against a king; counted out by
 * hand). */
static void mates_are_found(void **state)
{
    Heard heard;
    for (int i = 0; i < 20; i++) {
        player_forget(*state);
        SearchResult result =
            think(*state, "7k/8/8/8/8/8/R7/1R5K w - - 0 1", (SearchLimits){.mate = 2}, &heard);
        assert_int_equal(result.line.score, SCORE_MATE - 3);
    }
}

static void without_a_move_there_is_no_best(void **state)
{
    Heard heard;
    SearchResult result = think(*state, "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", (SearchLimits){.depth = 5}, &heard);
    assert_int_equal(result.best, NO_MOVE);
    assert_int_equal(heard.lines, 0);
}

/* However many workers there were before, one worker searches as if it had always been alone. */
static void one_worker_is_one_worker_again(void **state)
{
    Heard heard;
    Player *fresh = player_new(16);
    assert_non_null(fresh);
    SearchResult alone = think(fresh, french, (SearchLimits){.depth = 9}, &heard);
    player_free(fresh);
    think(*state, french, (SearchLimits){.depth = 9}, &heard);
    assert_true(player_set_workers(*state, 1));
    player_forget(*state);
    SearchResult again = think(*state, french, (SearchLimits){.depth = 9}, &heard);
    assert_int_equal(again.nodes, alone.nodes);
    assert_int_equal(again.best, alone.best);
    assert_int_equal(again.line.score, alone.line.score);
    assert_int_equal(again.line.length, alone.line.length);
    assert_memory_equal(again.line.moves, alone.line.moves, (size_t)alone.line.length * sizeof(Move));
}

static void their_number_changes(void **state)
{
    static const int counts[] = {1, 2, 7, 3, 16, 1, 1, 5};
    Heard heard;
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
        assert_true(player_set_workers(*state, counts[i]));
        for (int round = 0; round < 3; round++)
            think(*state, french, (SearchLimits){.depth = 6, .lines = 1 + round}, &heard);
        assert_int_equal(heard.depth, 6);
    }
}

/* With the term at ten times its weight and read loosely the score of this position is another one. */
static void settings_reach_all_of_them(void **state)
{
    Heard heard;
    for (int round = 0; round < 4; round++) {
        player_settings(*state)->lever_weight = round % 2 ? 1000 : 0;
        player_settings(*state)->lever_rule = round % 2 ? PS_LOOSE : PS_STRICT;
        assert_true(player_set_workers(*state, 2 + round));
        assert_true(player_resize(*state, 1 + (size_t)round));
        SearchResult result = think(*state, french, (SearchLimits){.depth = 8}, &heard);
        assert_int_equal(result.line.depth, 8);
    }
}

static void *think_for_ever(void *context)
{
    Heard heard;
    think(context, french, (SearchLimits){.depth = 0}, &heard);
    return NULL;
}

static void stop_ends_all_of_them(void **state)
{
    pthread_t thread;
    for (int i = 0; i < 20; i++) {
        player_prepare(*state, false);
        assert_int_equal(pthread_create(&thread, NULL, think_for_ever, *state), 0);
        if (i % 2)
            usleep(3000);
        player_stop(*state);
        assert_int_equal(pthread_join(thread, NULL), 0);
    }
}

/* Every legal move comes exactly once, the first one first, and what is busy comes last. */
static void an_agenda_has_every_move_once(void **state)
{
    static SharedWork shared;
    static QuietHistory quiet;
    static Histories histories;
    Position p = playout_read(FEN_START, false);
    Threats threats;
    OrderingHints hints = {.pages = {histories.no_page, histories.no_page, histories.no_page},
                           .table_move = NO_MOVE,
                           .quiet = &quiet,
                           .threats = &threats,
                           .parameters = &default_parameters};
    Agenda others, mine;
    MoveList order = {.count = 0}, all;
    int number;
    Move move;
    (void)state;
    view_threats(&p, &threats);
    movegen_all(&p, &all);
    picker_start(&others.picker, &p, &histories, &hints, false);
    agenda_start(&others, &shared, &p, NO_MOVE);
    while ((move = agenda_next(&others, &number)) != NO_MOVE) {
        order.moves[order.count++] = move;
        assert_int_equal(number, order.count);
        if (order.count <= 3)
            agenda_begin(&others, move);
    }
    assert_int_equal(order.count, all.count);
    agenda_end(&others, order.moves[2]);
    picker_start(&mine.picker, &p, &histories, &hints, false);
    agenda_start(&mine, &shared, &p, NO_MOVE);
    /* The first although it is busy, not the second, which comes last, with its number. */
    assert_int_equal(agenda_next(&mine, &number), order.moves[0]);
    for (int i = 2; i < order.count; i++)
        assert_int_equal(agenda_next(&mine, &number), order.moves[i]);
    assert_int_equal(agenda_next(&mine, &number), order.moves[1]);
    assert_int_equal(number, 2);
    assert_int_equal(agenda_next(&mine, &number), NO_MOVE);
    /* To search a node without one of its moves is another task, with which nobody is busy. */
    picker_start(&mine.picker, &p, &histories, &hints, false);
    agenda_start(&mine, &shared, &p, order.moves[4]);
    for (int i = 0; i < order.count; i++)
        if (i != 4)
            assert_int_equal(agenda_next(&mine, &number), order.moves[i]);
    assert_int_equal(number, order.count - 1);
    assert_int_equal(agenda_next(&mine, &number), NO_MOVE);
}

/* What one worker has refuted holds for another at the same task, up to the depth it was refuted at. */
static void a_refutation_holds_for_its_task_and_depth(void **state)
{
    static SharedWork shared;
    Position p = playout_read(FEN_START, false);
    MoveList all;
    Agenda mine, theirs, without, alone;
    int score = 0;
    (void)state;
    movegen_all(&p, &all);
    agenda_start(&mine, &shared, &p, NO_MOVE);
    agenda_start(&theirs, &shared, &p, NO_MOVE);
    agenda_start(&without, &shared, &p, all.moves[1]);
    agenda_start(&alone, NULL, &p, NO_MOVE);
    assert_false(agenda_is_refuted(&theirs, all.moves[0], 1, &score));
    agenda_refute(&mine, all.moves[0], 9, -35);
    assert_true(agenda_is_refuted(&theirs, all.moves[0], 9, &score));
    assert_int_equal(score, -35);
    assert_true(agenda_is_refuted(&theirs, all.moves[0], 8, &score));
    assert_false(agenda_is_refuted(&theirs, all.moves[0], 10, &score));
    assert_false(agenda_is_refuted(&theirs, all.moves[1], 9, &score));
    assert_false(agenda_is_refuted(&without, all.moves[0], 9, &score));
    assert_false(agenda_is_refuted(&alone, all.moves[0], 9, &score));
    /* Mates count from the root, and another way here may be shorter. */
    agenda_refute(&mine, all.moves[2], 9, -SCORE_MATE + 4);
    assert_false(agenda_is_refuted(&theirs, all.moves[2], 9, &score));
}

#define WITH_PLAYER(test) cmocka_unit_test_setup_teardown(test, start_player, free_player)

int main(void)
{
    const struct CMUnitTest tests[] = {
        WITH_PLAYER(depth_limits_hold),
        WITH_PLAYER(node_limits_nearly_hold),
        WITH_PLAYER(mates_are_found),
        WITH_PLAYER(without_a_move_there_is_no_best),
        WITH_PLAYER(one_worker_is_one_worker_again),
        WITH_PLAYER(their_number_changes),
        WITH_PLAYER(settings_reach_all_of_them),
        WITH_PLAYER(stop_ends_all_of_them),
        cmocka_unit_test(an_agenda_has_every_move_once),
        cmocka_unit_test(a_refutation_holds_for_its_task_and_depth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
