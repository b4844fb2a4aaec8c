/* The invented club match: games without a fault that show every class, from openings that are
 * what they say. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "bench/lesson/lesson.h"
#include "bench/lesson/story.h"
#include "bench/pgn/epd.h"
#include "bench/pgn/pgn.h"
#include "engine/evaluation/structure_view.h"

enum { GAME_PLIES_MOST = 1000 };

static const char games[] = "bench/games/club-match.pgn", openings[] = "bench/games/club-match.epd";

/* How many games show a class. */
typedef struct Shown {
    int games, broken, named;
    int verdicts[2][PS_VERDICT_COUNT], near_misses[PS_NEAR_MISS_COUNT], statuses[PS_STATUS_COUNT];
    int grades[PS_GRADE_COUNT], events[STORY_KIND_COUNT];
    Player *player;
    Position start;
    int ply_count;
    Move moves[GAME_PLIES_MOST];
} Shown;

static bool on_begin(void *context, const PgnGame *game)
{
    /* PGN standard, 1994, section 8.1.1: the seven tags that every game has. */
    static const char *const roster[] = {"Event", "Site", "Date", "Round", "White", "Black", "Result"};
    Shown *shown = context;
    shown->start = game->start;
    shown->ply_count = 0;
    for (size_t i = 0; i < sizeof roster / sizeof *roster; i++) {
        PgnText value;
        shown->named += pgn_tag(game, roster[i], &value) && value.length > 2;
    }
    return true;
}

static void on_move(void *context, const PgnGame *game, Move move)
{
    Shown *shown = context;
    (void)game;
    assert_in_range(shown->ply_count, 0, GAME_PLIES_MOST - 1);
    shown->moves[shown->ply_count++] = move;
}

static void look_at(const Position *position, Shown *in_game)
{
    ps_analysis analysis;
    structure_analyse(position, &analysis);
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_lever *lever = ps_plan_lever(&analysis, side);
        in_game->verdicts[side][analysis.plan[side].verdict] = 1;
        if (lever != NULL && lever->square != PS_NO_SQUARE)
            in_game->statuses[lever->status] = 1;
    }
    for (int i = 0; i < analysis.chain_count; i++)
        in_game->grades[analysis.chains[i].grade] = 1;
    for (int i = 0; i < analysis.near_miss_count; i++)
        in_game->near_misses[analysis.near_misses[i]] = 1;
}

static void add(int *sums, const int *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        sums[i] += values[i];
}

static void on_end(void *context, const PgnGame *game)
{
    static const LessonSettings settings = {.effort = {.nodes = 1000}, .sound_margin = 50};
    Shown *shown = context, in_game = {0};
    Position position = shown->start;
    Story story;
    (void)game;
    for (int ply = 0; ply < shown->ply_count; ply++) {
        story_play(&position, shown->moves[ply]);
        look_at(&position, &in_game);
    }
    assert_true(story_make(&story, &shown->start, shown->moves, shown->ply_count, shown->player, &settings));
    for (int i = 0; i < story.event_count; i++)
        in_game.events[story.events[i].kind] = 1;
    story_free(&story);
    shown->games++;
    add(shown->verdicts[0], in_game.verdicts[0], 2 * PS_VERDICT_COUNT);
    add(shown->near_misses, in_game.near_misses, PS_NEAR_MISS_COUNT);
    add(shown->statuses, in_game.statuses, PS_STATUS_COUNT);
    add(shown->grades, in_game.grades, PS_GRADE_COUNT);
    add(shown->events, in_game.events, STORY_KIND_COUNT);
}

static void on_broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    (void)game;
    print_error("%s\n", fault->text);
    ((Shown *)context)->broken++;
}

static void assert_all_shown(const int *counts, size_t count)
{
    for (size_t i = 0; i < count; i++)
        assert_true(counts[i] > 0);
}

static void the_match_shows_every_class(void **state)
{
    (void)state;
    static Shown shown;
    const PgnVisitor visitor = {
        .context = &shown, .begin = on_begin, .move = on_move, .end = on_end, .broken = on_broken};
    shown.player = player_new(1);
    assert_non_null(shown.player);
    player_settings(shown.player)->lever_weight = 0;
    assert_true(pgn_read_file(games, &visitor));
    player_free(shown.player);
    assert_int_equal(shown.broken, 0);
    assert_true(shown.games >= 40);
    assert_int_equal(shown.named, 7 * shown.games);
    assert_all_shown(shown.verdicts[0], 2 * PS_VERDICT_COUNT);
    assert_all_shown(shown.near_misses, PS_NEAR_MISS_COUNT);
    assert_all_shown(shown.statuses, PS_STATUS_COUNT);
    assert_all_shown(shown.grades, PS_GRADE_COUNT);
    assert_all_shown(shown.events, STORY_KIND_COUNT);
}

/* Plays the moves of c1 from the initial position: move numbers are words that begin with a digit. */
static bool replay(void *context, const EpdRecord *record)
{
    Position position;
    char moves[1024];
    const char *written = epd_text(record, "c1");
    assert_non_null(written);
    assert_true(strlen(written) < sizeof moves);
    strcpy(moves, written);
    assert_int_equal(fen_parse(FEN_START, false, &position, NULL), FEN_OK);
    for (char *word = strtok(moves, " "); word != NULL; word = strtok(NULL, " ")) {
        Move move;
        if (*word >= '0' && *word <= '9')
            continue;
        assert_int_equal(san_parse(&position, word, &move), NOTATION_OK);
        position_play(&position, move);
    }
    assert_true(position.key == record->position.key);
    assert_int_equal(position.fullmove, record->position.fullmove);
    ++*(int *)context;
    return true;
}

static void the_openings_are_what_their_moves_lead_to(void **state)
{
    (void)state;
    int count = 0;
    assert_true(epd_read_file(openings, replay, &count));
    assert_int_equal(count, 25);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_match_shows_every_class),
        cmocka_unit_test(the_openings_are_what_their_moves_lead_to),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
