/* Single games: how they end, what adjudication does, engines in other programs. */
#include <errno.h>
#include <limits.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include <cmocka.h>

#include "bench/play/play.h"
#include "bench/play/uci_client.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"
#include "tests/bench/run/run_files.h"

static const TimeControl no_clock = {0};
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
    UciClient *client = uci_client_start(fake_engine(files, go), UCI_PATIENCE_MS);
    assert_non_null(client);
    assert_int_equal(uci_client_fault(client), UCI_SOUND);
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
    assert_false(uci_client_has_option(client, ""));
    int64_t least, greatest;
    assert_false(uci_client_option_range(client, "Has", &least, &greatest));
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

/* Scores beyond what a score can be: still for the side that they are for, and mate only if that was said. */
static void test_scores(void **state)
{
    static const struct {
        const char *info;
        int score;
    } cases[] = {
        {"score cp 40000", SCORE_MATE_FLOOR - 1},
        {"score cp -40000", -SCORE_MATE_FLOOR + 1},
        {"score cp 99999999999999999999", SCORE_MATE_FLOOR - 1},
        {"score mate 2147483647", SCORE_MATE_FLOOR + 1}, /* one's own mate comes at an odd ply */
        {"score mate -2147483648", -SCORE_MATE_FLOOR},
        {"score mate 0", -SCORE_MATE},
        {"multipv 1 score cp 7", 7},
        {"score cp 5\\ninfo depth 1 multipv 3 score cp 8", 5},
        {"score cp", 0},
        {"score mate x", 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char go[256];
        Move move;
        int score;
        snprintf(go, sizeof go, "printf 'info depth 1 %s\\nbestmove e2e4\\n'", cases[i].info);
        UciClient *client = start_fake(*state, go);
        assert_true(choose(client, FEN_START, &move, &score));
        if (score != cases[i].score)
            fail_msg("%s: %d", cases[i].info, score);
        uci_client_stop(client);
    }
}

/* tests/bench/play/faulty_engine by the name of its fault. */
static const char *faulty_engine(RunFiles *files, const char *fault)
{
    char source[PATH_MAX];
    const char *path = run_path(files, fault);
    assert_non_null(realpath("tests/bench/play/faulty_engine", source));
    assert_int_equal(symlink(source, path), 0);
    return path;
}

/* Each fault is known for what it is, no call after it has any effect, and the program can be ended. */
static void test_faults(void **state)
{
    static const struct {
        const char *name;
        int64_t patience_ms;
        UciFault fault;
        const char *text;
    } cases[] = {
        {"ends", UCI_PATIENCE_MS, UCI_ENDED, "the engine has ended with status 3"},
        {"crashes", UCI_PATIENCE_MS, UCI_ENDED, "the engine was ended by signal 11 ("},
        {"closes", UCI_PATIENCE_MS, UCI_ENDED, "the engine has closed its output"},
        {"illegal", UCI_PATIENCE_MS, UCI_ILLEGAL_MOVE, "the engine plays \"a1a1\" in rnbqkbnr/"},
        {"null", UCI_PATIENCE_MS, UCI_ILLEGAL_MOVE, "the engine plays \"0000\" in rnbqkbnr/"},
        {"nothing", UCI_PATIENCE_MS, UCI_ILLEGAL_MOVE, "the engine plays \"\" in rnbqkbnr/"},
        {"drones", UCI_PATIENCE_MS, UCI_SILENT, "the engine writes a line of more than 16384 characters"},
        {"chatters", 2000, UCI_SILENT, "the engine does not answer"},
        {"hangs", 2000, UCI_SILENT, "the engine does not answer"},
        {"no-uciok", 300, UCI_SILENT, "the engine does not answer"},
        {"no-readyok", 300, UCI_SILENT, "the engine does not answer"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Move move;
        int score;
        UciClient *client = uci_client_start(faulty_engine(*state, cases[i].name), cases[i].patience_ms);
        assert_non_null(client);
        for (int times = 0; times < 2; times++) {
            assert_false(choose(client, FEN_START, &move, &score));
            if (uci_client_fault(client) != cases[i].fault ||
                strncmp(uci_client_fault_text(client), cases[i].text, strlen(cases[i].text)) != 0)
                fail_msg("%s: fault %d, \"%s\"", cases[i].name, uci_client_fault(client),
                         uci_client_fault_text(client));
        }
        uci_client_stop(client);
    }
    UciClient *client = uci_client_start(run_path(*state, "missing"), UCI_PATIENCE_MS);
    assert_int_equal(uci_client_fault(client), UCI_NO_START);
    assert_string_equal(uci_client_fault_text(client), "cannot be run: No such file or directory");
    uci_client_stop(client);
}

/* One that heeds neither "quit" nor the end of its input nor a request to end is ended all the same. */
static void test_stays(void **state)
{
    UciClient *client = uci_client_start(faulty_engine(*state, "stays"), UCI_PATIENCE_MS);
    assert_non_null(client);
    assert_int_equal(uci_client_fault(client), UCI_SOUND);
    uci_client_stop(client);
    /* There is no child left, neither alive nor to be waited for. */
    assert_int_equal(waitpid(-1, NULL, WNOHANG), -1);
    assert_int_equal(errno, ECHILD);
}

/* The game is lost by the one at fault, and the next one is played by a new start of it. */
static void test_game_with_fault(void **state)
{
    GameRecord record;
    Arm sound = default_arm, faulty = default_arm;
    Position start = read_position(FEN_START);
    sound.nodes = faulty.nodes = 100;
    faulty.engine = faulty_engine(*state, "ends");
    Contestant *a = contestant_new(&sound, 1), *b = contestant_new(&faulty, 1);
    assert_true(a && b);
    for (int game = 0; game < 3; game++) {
        bool is_white = game == 1;
        Contestant *players[2] = {is_white ? b : a, is_white ? a : b};
        assert_true(play_game(players, &start, &no_clock, &never, &record));
        assert_string_equal(record.ending, "engine ended");
        assert_int_equal(record.white_points, is_white ? 0 : 2);
        assert_int_equal(record.plies, is_white ? 0 : 1);
        assert_int_equal(record.at_fault, is_white ? WHITE : BLACK);
        assert_string_equal(record.fault, "the engine has ended with status 3");
    }
    contestant_free(a);
    contestant_free(b);
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
    snprintf(path, sizeof path, "%s", fake_engine(*state, "sleep 0.5; echo bestmove e7e5"));
    slow.engine = path;
    Contestant *players[2] = {contestant_new(&fast, 1), contestant_new(&slow, 1)};
    assert_true(players[0] && players[1]);
    assert_true(play_game(players, &start, &(TimeControl){.clock_ms = 200}, &never, &record));
    assert_ptr_equal(record.ending, ending_forfeits[FORFEIT_TIME]);
    assert_int_equal(record.at_fault, -1);
    assert_int_equal(record.white_points, 2);
    assert_int_equal(record.plies, 1);
    contestant_free(players[0]);
    contestant_free(players[1]);
}

/* A clock that goes by nodes: the same game each time, in which nobody thinks longer than there is time, and another one
 * with another share of it. */
static void test_pace(void **state)
{
    static const TimeControl time = {.clock_ms = 300, .increment_ms = 3, .pace = 500000};
    GameRecord records[3];
    Arm arm = default_arm, hasty = default_arm;
    Position start = read_position(FEN_START);
    hasty.parameters.share_first = 40;
    (void)state;
    for (int i = 0; i < 3; i++) {
        Contestant *players[2] = {contestant_new(&arm, 1), contestant_new(i == 2 ? &hasty : &arm, 1)};
        assert_true(players[0] && players[1]);
        assert_true(play_game(players, &start, &time, &default_adjudication, &records[i]));
        assert_true(records[i].plies > 20);
        assert_ptr_not_equal(records[i].ending, ending_forfeits[FORFEIT_TIME]);
        for (int ply = 0; ply < records[i].plies; ply++) {
            int64_t before = ply < 2 ? time.clock_ms : records[i].left_ms[ply - 2];
            assert_in_range(records[i].left_ms[ply], time.increment_ms + 1, before + time.increment_ms - 1);
        }
        contestant_free(players[0]);
        contestant_free(players[1]);
    }
    assert_int_equal(records[0].plies, records[1].plies);
    assert_memory_equal(records[0].moves, records[1].moves, (size_t)records[0].plies * sizeof(Move));
    assert_memory_equal(records[0].left_ms, records[1].left_ms, (size_t)records[0].plies * sizeof(int64_t));
    assert_true(records[0].plies != records[2].plies ||
                memcmp(records[0].moves, records[2].moves, (size_t)records[0].plies * sizeof(Move)) != 0);

    /* It stops within a few nodes of its time. */
    Contestant *player = contestant_new(&arm, 1);
    Game game;
    ChosenMove chosen;
    assert_true(player && game_start(&game, &start));
    const TimeControl move = {.move_ms = 100, .pace = 500000};
    const MoveRequest request = {{&start, 0, NULL, &game}, &move, &(Clocks){{0, 0}}};
    assert_int_equal(contestant_choose(player, &request, &chosen), ANSWER_GIVEN);
    assert_in_range(contestant_nodes(player), 50000, 52000);
    game_free(&game);
    contestant_free(player);
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
        FILE_TEST(test_scores),
        FILE_TEST(test_faults),
        FILE_TEST(test_stays),
        FILE_TEST(test_game_with_fault),
        cmocka_unit_test(test_built_program),
        FILE_TEST(test_clock),
        cmocka_unit_test(test_pace),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
