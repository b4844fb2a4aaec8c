/* Single games: how they end, what adjudication does, engines in other programs. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <cmocka.h>

#include "bench/play/play.h"
#include "bench/play/uci_client.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"
#include "tests/bench/run/run_files.h"

static const TimeControl no_clock = {0, 0, 0};
static const Adjudication never = {.longest = GAME_PLIES_MAX};

static Position read_position(const char *fen)
{
    Position position;
    assert_int_equal(fen_parse(fen, false, &position, NULL), FEN_OK);
    return position;
}

/* Both players are the engine built in. */
static void play(const char *fen, int64_t nodes, const Adjudication *adjudication, GameRecord *record)
{
    Position start = read_position(fen);
    Arm arm = default_arm;
    arm.nodes = nodes;
    Contestant *players[2] = {contestant_new(&arm, 1), contestant_new(&arm, 1)};
    assert_non_null(players[0]);
    assert_non_null(players[1]);
    assert_true(play_game(players, &start, &no_clock, adjudication, record));
    contestant_free(players[0]);
    contestant_free(players[1]);
}

/* What must follow from the position by the Laws of Chess, whoever plays. */
static void test_endings(void **state)
{
    (void)state;
    static const struct {
        const char *fen;
        int64_t nodes;
        int white_points;
        GameEnd end;
    } cases[] = {
        /* a mate in one on the back rank */
        {"6k1/5ppp/8/8/8/8/8/R5K1 w - - 0 1", 2000, 2, GAME_CHECKMATE},
        {"r5k1/8/8/8/8/8/5PPP/6K1 b - - 0 1", 2000, 0, GAME_CHECKMATE},
        /* the only legal move takes the last man; any move is the hundredth ply without a capture or pawn
           move */
        {"7k/8/8/8/8/8/1r6/K7 w - - 0 1", 100, 1, GAME_DEAD_MATERIAL},
        {"7k/8/8/8/8/p7/P1K5/8 b - - 99 80", 100, 1, GAME_FIFTY_MOVES},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        GameRecord record;
        play(cases[i].fen, cases[i].nodes, &never, &record);
        assert_string_equal(record.ending, game_end_text(cases[i].end));
        assert_int_equal(record.white_points, cases[i].white_points);
        assert_int_equal(record.plies, 1);
    }
}

/* Every move is legal, and the record replays to an end that the rules name. */
static void test_record(void **state)
{
    (void)state;
    GameRecord record;
    play(FEN_START, 200, &never, &record);
    Position position = read_position(FEN_START);
    Game game;
    assert_true(game_start(&game, &position));
    for (int i = 0; i < record.plies; i++) {
        assert_int_equal(game_end(&game, true), GAME_GOES_ON);
        assert_true(movegen_is_legal(&game.position, record.moves[i]));
        assert_true(game_play(&game, record.moves[i]));
    }
    GameEnd end = game_end(&game, true);
    assert_int_not_equal(end, GAME_GOES_ON);
    assert_string_equal(record.ending, game_end_text(end));
    assert_int_equal(record.white_points != 1, end == GAME_CHECKMATE);
    game_free(&game);
}

static void test_same_again(void **state)
{
    (void)state;
    GameRecord first, second;
    play(FEN_START, 300, &default_adjudication, &first);
    play(FEN_START, 300, &default_adjudication, &second);
    assert_int_equal(first.plies, second.plies);
    assert_memory_equal(first.moves, second.moves, (size_t)first.plies * sizeof(Move));
    assert_memory_equal(first.scores, second.scores, (size_t)first.plies * sizeof(int16_t));
    assert_string_equal(first.ending, second.ending);
}

/* The limits hold to the ply. */
static void test_adjudication(void **state)
{
    (void)state;
    GameRecord record;
    /* Black has neither queen nor rooks: both sides see it from the first ply on. */
    static const char won[] = "1nb1kbn1/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQ - 0 1";
    Adjudication win = {.win_score = 500, .win_plies = 3, .longest = 100};
    play(won, 500, &win, &record);
    assert_ptr_equal(record.ending, ending_adjudicated_win);
    assert_int_equal(record.white_points, 2);
    assert_int_equal(record.plies, 3);
    for (int i = 0; i < record.plies; i++)
        assert_true(i % 2 == 0 ? record.scores[i] >= 500 : record.scores[i] <= -500);
    /* The same with the colours changed. */
    play("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/1NB1KBN1 b kq - 0 1", 500, &win, &record);
    assert_ptr_equal(record.ending, ending_adjudicated_win);
    assert_int_equal(record.white_points, 0);
    /* Out of reach: the longest game decides. */
    win.win_score = 30000;
    win.longest = 2;
    play(won, 500, &win, &record);
    assert_ptr_equal(record.ending, ending_longest);
    assert_int_equal(record.white_points, 1);
    assert_int_equal(record.plies, 2);
    /* Bishops of opposite colours and no pawns, and a margin that no score leaves: a draw as soon as may be.
     */
    Adjudication draw = {.draw_score = 300, .draw_plies = 4, .draw_from = 7, .longest = 100};
    play("4k3/8/2b5/8/8/2B5/8/4K3 w - - 0 1", 200, &draw, &record);
    assert_ptr_equal(record.ending, ending_adjudicated_draw);
    assert_int_equal(record.plies, 7);
    draw.draw_from = 0;
    play("4k3/8/2b5/8/8/2B5/8/4K3 w - - 0 1", 200, &draw, &record);
    assert_int_equal(record.plies, 4);
}

/* ----------------------------------------------------------------------------------- engines as programs */

/* Writes a program in shell that answers the protocol, with `go` for what comes in answer to "go". */
static const char *fake_engine(RunFiles *files, const char *go)
{
    char text[1024];
    snprintf(
        text, sizeof text,
        "#!/bin/sh\n"
        "while read -r command rest; do\n"
        "    case $command in\n"
        "    uci) printf 'id name Fake 1\\noption name Hash type spin default 1 min 1 max 9\\nuciok\\n' ;;\n"
        "    isready) echo readyok ;;\n"
        "    go) %s ;;\n"
        "    quit) exit ;;\n"
        "    esac\n"
        "done\n",
        go);
    const char *path = run_path(files, "engine");
    run_write(path, text);
    chmod(path, 0755);
    return path;
}

static UciClient *start_fake(RunFiles *files, const char *go)
{
    UciClient *client = uci_client_start(fake_engine(files, go));
    assert_non_null(client);
    return client;
}

static bool choose(UciClient *client, const char *fen, Move *move, int *score)
{
    Position position = read_position(fen);
    Game game;
    assert_true(game_start(&game, &position));
    ChosenMove chosen = {NO_MOVE, 0};
    bool good = uci_client_choose(client, &(PlayedGame){&position, 0, NULL, &game}, &(UciLimits){.nodes = 1},
                                  &chosen);
    *move = chosen.move;
    *score = chosen.score;
    game_free(&game);
    return good;
}

static void test_client(void **state)
{
    Move move, expected;
    int score;
    Position start = read_position(FEN_START);
    UciClient *client = start_fake(
        *state,
        "printf 'info depth 1 score cp 31 pv e2e4\\ninfo string hello\\nbestmove e2e4 ponder e7e5\\r\\n'");
    assert_string_equal(uci_client_name(client), "Fake 1");
    assert_true(uci_client_has_option(client, "Hash"));
    assert_false(uci_client_has_option(client, "Has"));
    assert_true(uci_client_new_game(client));
    assert_true(choose(client, FEN_START, &move, &score));
    assert_int_equal(lan_parse(&start, "e2e4", &expected), NOTATION_OK);
    assert_int_equal(move, expected);
    assert_int_equal(score, 31);
    /* The next game may be any. */
    assert_true(choose(client, FEN_START, &move, &score));
    uci_client_stop(client);

    client = start_fake(*state, "printf 'info score mate -2 nodes 9\\nbestmove e2e4\\n'");
    assert_true(choose(client, FEN_START, &move, &score));
    assert_int_equal(score, -SCORE_MATE + 4);
    assert_int_equal(score_mate_moves(score), -2);
    uci_client_stop(client);
    client = start_fake(*state, "printf 'info score mate 3 nodes 9\\nbestmove e2e4\\n'");
    assert_true(choose(client, FEN_START, &move, &score));
    assert_int_equal(score_mate_moves(score), 3);
    uci_client_stop(client);
}

/* The standard error output of what runs, to look into. */
static char *errors_of(RunFiles *files, void (*run)(RunFiles *files))
{
    char path[128];
    snprintf(path, sizeof path, "%s/errors", files->folder);
    fflush(stderr);
    int kept = dup(STDERR_FILENO);
    assert_non_null(freopen(path, "w", stderr));
    run(files);
    fflush(stderr);
    dup2(kept, STDERR_FILENO);
    close(kept);
    return run_read(path);
}

static void use_illegal(RunFiles *files)
{
    Move move;
    int score;
    UciClient *client = start_fake(files, "echo bestmove e2e5");
    assert_false(choose(client, FEN_START, &move, &score));
    assert_false(choose(client, FEN_START, &move, &score));
    uci_client_stop(client);
}

static void use_ending(RunFiles *files)
{
    Move move;
    int score;
    UciClient *client = start_fake(files, "exit 3");
    assert_false(choose(client, FEN_START, &move, &score));
    uci_client_stop(client);
}

static void use_endless(RunFiles *files)
{
    Move move;
    int score;
    UciClient *client = start_fake(files, "tr '\\\\0' x < /dev/zero 2> /dev/null");
    assert_false(choose(client, FEN_START, &move, &score));
    uci_client_stop(client);
}

static void use_no_engine(RunFiles *files)
{
    const char *path = run_path(files, "engine");
    run_write(path, "#!/bin/sh\nexit 1\n");
    chmod(path, 0755);
    assert_null(uci_client_start(path));
}

static void test_bad_engines(void **state)
{
    static const struct {
        void (*run)(RunFiles *files);
        const char *part;
    } cases[] = {{use_illegal, "engine: the engine plays \"e2e5\" in rnbqkbnr/"},
                 {use_ending, "engine: the engine has ended"},
                 {use_endless, "engine: the engine writes a line of more than"},
                 {use_no_engine, "engine: the engine "}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char *errors = errors_of(*state, cases[i].run);
        if (!strstr(errors, cases[i].part) || strchr(errors, '\n') != errors + strlen(errors) - 1)
            fail_msg("case %zu said \"%s\"", i, errors);
        free(errors);
    }
}

/* The built program plays move for move like the engine built in, and its clock can run out. */
static void test_built_program(void **state)
{
    (void)state;
    const char *build = getenv("PAWNVANE_BUILD");
    char path[512];
    GameRecord built_in, program;
    snprintf(path, sizeof path, "%s/pawnvane", build ? build : "build");
    Arm arm = default_arm;
    arm.nodes = 300;
    arm.weight = 40;
    Arm other = arm;
    other.engine = path;
    Position start = read_position(FEN_START);
    Contestant *own[2] = {contestant_new(&arm, 1), contestant_new(&arm, 1)};
    Contestant *driven[2] = {contestant_new(&other, 1), contestant_new(&other, 1)};
    assert_true(driven[0] && driven[1]);
    for (int game = 0; game < 2; game++) {
        assert_true(play_game(own, &start, &no_clock, &default_adjudication, &built_in));
        assert_true(play_game(driven, &start, &no_clock, &default_adjudication, &program));
        assert_int_equal(built_in.plies, program.plies);
        assert_memory_equal(built_in.moves, program.moves, (size_t)program.plies * sizeof(Move));
        assert_memory_equal(built_in.scores, program.scores, (size_t)program.plies * sizeof(int16_t));
        assert_string_equal(built_in.ending, program.ending);
    }
    for (int i = 0; i < 2; i++) {
        contestant_free(own[i]);
        contestant_free(driven[i]);
    }
}

static void test_clock(void **state)
{
    GameRecord record;
    Arm fast = default_arm, slow = default_arm;
    Position start = read_position(FEN_START);
    char path[128];
    /* Sleeps far longer than its clock has. */
    snprintf(path, sizeof path, "%s", fake_engine(*state, "sleep 1; echo bestmove e7e5"));
    slow.engine = path;
    Contestant *players[2] = {contestant_new(&fast, 1), contestant_new(&slow, 1)};
    assert_true(players[0] && players[1]);
    assert_true(play_game(players, &start, &(TimeControl){.clock_ms = 300}, &never, &record));
    assert_ptr_equal(record.ending, ending_time);
    assert_int_equal(record.white_points, 2);
    assert_int_equal(record.plies, 1);
    contestant_free(players[0]);
    contestant_free(players[1]);
}

#define FILE_TEST(test) cmocka_unit_test_setup_teardown(test, run_files_setup, run_files_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_endings),
        cmocka_unit_test(test_record),
        cmocka_unit_test(test_same_again),
        cmocka_unit_test(test_adjudication),
        FILE_TEST(test_client),
        FILE_TEST(test_bad_engines),
        cmocka_unit_test(test_built_program),
        FILE_TEST(test_clock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
