/* The built engine as a client sees it, after the text of the UCI protocol (April 2006; a copy of the earlier
 * edition of April 2004 comes with the npm package node-uci). Quoted sentences are the text's. */
#include "tests/engine/protocol/protocol_client.h"

#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

#include <sched.h>
#include <sys/resource.h>

/* One legal move, so that bestmove shows whether the engine has this position. */
#define ONLY_MOVE_FEN "7k/8/8/8/8/8/4q3/7K w - - 0 1"
#define FRENCH_FEN "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 3"
#define MATE_IN_TWO_FEN "7k/8/8/8/8/8/R7/1R5K w - - 0 1"

static void assert_best(Client *client, const char *move)
{
    char best[16];
    assert_int_equal(sscanf(client_await(client, "bestmove "), "bestmove %15s", best), 1);
    assert_string_equal(best, move);
}

/* ---------------------------------------------------------------------------------------- words of a line */

static bool is_number(const char *word)
{
    char *end;
    if (!word)
        return false;
    strtoll(word, &end, 10);
    return end != word && !*end;
}

static const char *next_word(char **rest)
{
    return strtok_r(NULL, " ", rest);
}

/* What one line with a line of play says. */
typedef struct Info {
    int depth, seldepth, multipv, hashfull;
    long long nodes, time, nps, tbhits, score;
    bool mate, bounded;
    int length;
    char pv[256][MOVE_TEXT_SIZE];
} Info;

/* Reads an "info" line by the grammar of the text; fails at any word that is not in it. Returns false for a
 * string. */
static bool read_info(const char *line, Info *info)
{
    char copy[CLIENT_LINE_MAX], *rest;
    strcpy(copy, line);
    *info = (Info){.depth = -1, .seldepth = -1, .multipv = 1};
    assert_string_equal(strtok_r(copy, " ", &rest), "info");
    for (const char *word; (word = next_word(&rest));) {
        if (strcmp(word, "string") == 0 || strcmp(word, "currmove") == 0)
            return false;
        if (strcmp(word, "pv") == 0) {
            for (; (word = next_word(&rest)); info->length++)
                snprintf(info->pv[info->length], MOVE_TEXT_SIZE, "%s", word);
            break;
        }
        if (strcmp(word, "lowerbound") == 0 || strcmp(word, "upperbound") == 0) {
            info->bounded = true;
            continue;
        }
        if (strcmp(word, "score") == 0) {
            const char *unit = next_word(&rest);
            assert_true(strcmp(unit, "cp") == 0 || strcmp(unit, "mate") == 0);
            info->mate = strcmp(unit, "mate") == 0;
            word = next_word(&rest);
            assert_true(is_number(word));
            info->score = atoll(word);
            continue;
        }
        const char *value = next_word(&rest);
        if (!is_number(value))
            fail_msg("\"%s\" after \"%s\" in \"%s\"", value ? value : "nothing", word, line);
        long long number = atoll(value);
        if (strcmp(word, "depth") == 0)
            info->depth = (int)number;
        else if (strcmp(word, "seldepth") == 0)
            info->seldepth = (int)number;
        else if (strcmp(word, "multipv") == 0)
            info->multipv = (int)number;
        else if (strcmp(word, "nodes") == 0)
            info->nodes = number;
        else if (strcmp(word, "nps") == 0)
            info->nps = number;
        else if (strcmp(word, "time") == 0)
            info->time = number;
        else if (strcmp(word, "hashfull") == 0)
            info->hashfull = (int)number;
        else if (strcmp(word, "tbhits") == 0)
            info->tbhits = number;
        else
            fail_msg("the text knows no \"%s\": \"%s\"", word, line);
    }
    return true;
}

static void check_info(const Info *info, const char *fen, bool chess960)
{
    Position p = playout_read(fen, chess960);
    /* The static score, where the search was stopped before its first move was through, has depth 0. */
    assert_true(info->depth >= 1 || (info->depth == 0 && info->seldepth == 0 && !info->bounded));
    /* "if the engine sends seldepth there must also be a depth present in the same string." */
    assert_true(info->seldepth >= info->depth);
    assert_true(info->nodes >= 0 && info->nps >= 0 && info->time >= 0);
    assert_in_range(info->hashfull, 0, 1000);
    assert_true(info->mate ? info->score != 0 : llabs(info->score) < 31000);
    assert_true(info->length > 0);
    for (int i = 0; i < info->length; i++) {
        Move move;
        if (lan_parse(&p, info->pv[i], &move) != NOTATION_OK)
            fail_msg("move %d of the line, %s, is illegal", i + 1, info->pv[i]);
        position_play(&p, move);
    }
}

/* Reads the answer to "go", checks every line of it, and returns the last one before bestmove. */
static Info read_search(Client *client, const char *fen, bool chess960)
{
    Info info, last = {.depth = -1};
    Position p = playout_read(fen, chess960);
    char best[MOVE_TEXT_SIZE], ponder[MOVE_TEXT_SIZE];
    Move move;
    for (;;) {
        assert_true(client_read(client));
        if (starts_with(client->line, "bestmove "))
            break;
        if (!read_info(client->line, &info))
            continue;
        check_info(&info, fen, chess960);
        if (info.multipv == 1)
            last = info;
    }
    int words = sscanf(client->line, "bestmove %11s ponder %11s", best, ponder);
    assert_int_equal(lan_parse(&p, best, &move), NOTATION_OK);
    /* "Directly before that the engine should send a final info command with the final search
     * information." */
    assert_string_equal(last.pv[0], best);
    if (words == 2) {
        position_play(&p, move);
        assert_int_equal(lan_parse(&p, ponder, &move), NOTATION_OK);
    }
    return last;
}

/* ----------------------------------------------------------------------------------------------- commands */

/* "After receiving the uci command the engine must identify itself with the id command and send the option
 * commands [...] After that the engine should send uciok." */
static void uci_introduces_the_engine(void **state)
{
    Client *client = *state;
    client_send(client, "uci");
    assert_true(client_read(client));
    assert_true(starts_with(client->line, "id name Pawnvane"));
    assert_true(client_read(client));
    assert_true(starts_with(client->line, "id author "));
    while (client_read(client) && strcmp(client->line, "uciok") != 0)
        assert_true(starts_with(client->line, "option name "));
    client_expect_silence(client);
}

static void check_option(const char *line)
{
    char name[64], type[16], value[256];
    long long number, least, greatest;
    assert_int_equal(sscanf(line, "option name %63[^\n]", name), 1);
    char *after = strstr(name, " type ");
    assert_non_null(after);
    *after = '\0';
    assert_int_equal(sscanf(strstr(line, " type "), " type %15s", type), 1);
    const char *details = strstr(line, " type ") + strlen(" type ") + strlen(type);
    if (strcmp(type, "spin") == 0) {
        assert_int_equal(sscanf(details, " default %lld min %lld max %lld", &number, &least, &greatest), 3);
        assert_true(least <= number && number <= greatest);
    } else if (strcmp(type, "check") == 0) {
        assert_true(strcmp(details, " default true") == 0 || strcmp(details, " default false") == 0);
    } else if (strcmp(type, "combo") == 0) {
        char var[300];
        assert_int_equal(sscanf(details, " default %255s", value), 1);
        snprintf(var, sizeof var, " var %s", value);
        assert_non_null(strstr(details, var));
    } else if (strcmp(type, "string") == 0) {
        assert_true(starts_with(details, " default "));
    } else {
        assert_string_equal(type, "button");
        assert_string_equal(details, "");
    }
}

static void options_follow_the_grammar(void **state)
{
    static const char *const wanted[] = {
        "Hash type spin default 64",
        "Threads type spin",
        "Clear Hash type button",
        "Ponder type check",
        "MultiPV type spin",
        "UCI_AnalyseMode type check",
        "UCI_Chess960 type check",
        "UCI_EngineAbout type string",
        "LeverWeight type spin",
        "LeverRule type combo",
        "PlanNotes type check",
        "ClockReserve type spin",
        "SparStyle type combo",
        "SparMargin type spin",
        "SparSeed type spin default -1 min -1",
        "UCI_LimitStrength type check",
        "UCI_Elo type spin default 2400 min 1000 max 2400",
    };
    enum { WANTED = sizeof wanted / sizeof *wanted };
    bool seen[WANTED] = {false};
    Client *client = *state;
    client_send(client, "uci");
    while (client_read(client) && strcmp(client->line, "uciok") != 0) {
        if (!starts_with(client->line, "option name "))
            continue;
        check_option(client->line);
        for (int i = 0; i < WANTED; i++)
            seen[i] |= starts_with(client->line + strlen("option name "), wanted[i]);
    }
    for (int i = 0; i < WANTED; i++)
        if (!seen[i])
            fail_msg("no option %s", wanted[i]);
}

/* The answer may come behind lines of the search, but not behind its end. */
static void check_isready(Client *client)
{
    client_send(client, "isready");
    for (;;) {
        assert_true(client_read(client));
        if (strcmp(client->line, "readyok") == 0)
            return;
        assert_true(starts_with(client->line, "info "));
    }
}

/* "This command must always be answered with readyok and can be sent also when the engine is calculating in
 * which case the engine should also immediately answer with readyok without stopping the search." */
static void isready_is_answered_at_once(void **state)
{
    Client *client = *state;
    client_send(client, "isready");
    client_expect(client, "readyok");
    client_send(client, "position startpos\ngo infinite");
    for (int i = 0; i < 3; i++)
        check_isready(client);
    client_await(client, "info depth ");
    client_send(client, "stop");
    client_await(client, "bestmove ");
    client_expect_silence(client);
}

/* "if the engine or the GUI receives an unknown command or token it should just ignore it and try to parse
 * the rest of the string"; the example is the text's. */
static void unknown_words_are_skipped(void **state)
{
    Client *client = *state;
    client_send(client, "joho debug on");
    client_send(client, "go depth 1");
    client_await(client, "info string ");
    client_await(client, "bestmove ");
    client_send(client, "debug off");
    client_send(client, "\n   \n\t\nbestmove e2e4\nhallo\ninfo depth 3");
    client_expect_silence(client);
    client_send(client, "position quickly fen " ONLY_MOVE_FEN);
    client_read(client);
    client_send(client, "position fen " ONLY_MOVE_FEN);
    client_send(client, "go quickly depth 2 quietly");
    client_await(client, "bestmove ");
    client_write(client, "isready\r\n");
    client_expect(client, "readyok");
    client_write(client, "  isready\tnow \n");
    client_expect(client, "readyok");
}

/* "if the engine receives a command which is not supposed to come, for example stop when the engine is not
 * calculating, it should also just ignore it." */
static void commands_out_of_place_are_ignored(void **state)
{
    Client *client = *state;
    client_send(client, "stop\nponderhit\nstop");
    client_expect_silence(client);
}

static void register_is_accepted(void **state)
{
    Client *client = *state;
    client_send(client, "register later\nregister name A Club code 4359874324\nregister");
    client_expect_silence(client);
}

/* "In debug mode the engine should send additional infos [...] This mode should be switched off by
 * default." */
static void debug_says_more(void **state)
{
    Client *client = *state;
    for (int round = 0; round < 3; round++) {
        bool on = round == 1;
        int strings = 0;
        if (round > 0)
            client_send(client, "debug %s", on ? "on" : "off");
        client_send(client, "go depth 1");
        while (client_read(client) && !starts_with(client->line, "bestmove "))
            strings += starts_with(client->line, "info string ");
        assert_int_equal(strings > 0, on);
    }
}

/* "The name of the option should not be case sensitive and can include spaces like also the value." */
static void setoption_sets(void **state)
{
    Client *client = *state;
    int most = 0;
    Info info;
    client_send(client, "setoption name multipv value 3");
    client_send(client, "setoption name CLEAR hash");
    client_send(client, "setoption name Hash value 2");
    client_send(client, "setoption name LeverRule value Loose");
    client_send(client, "setoption name LeverRule value strict");
    client_send(client, "setoption name Ponder value true");
    client_expect_silence(client);
    /* What is refused changes nothing. */
    client_send(client, "setoption name MultiPV value 0");
    client_expect_error(client, "MultiPV");
    client_send(client, "setoption name MultiPV value three");
    client_expect_error(client, "MultiPV");
    client_send(client, "setoption name MultiPV value 99999999999999999999");
    client_expect_error(client, "MultiPV");
    client_send(client, "setoption name MultiPV");
    client_expect_error(client, "MultiPV");
    static const char *const beyond[][2] = {
        {"Hash", "0"}, {"Hash", "65537"}, {"Threads", "0"}, {"Threads", "257"}, {"MultiPV", "65"},
    };
    for (size_t i = 0; i < sizeof beyond / sizeof *beyond; i++) {
        client_send(client, "setoption name %s value %s", beyond[i][0], beyond[i][1]);
        client_expect_error(client, beyond[i][0]);
    }
    client_send(client, "setoption name PlanNotes value perhaps");
    client_expect_error(client, "PlanNotes");
    client_send(client, "setoption name LeverRule value none");
    client_expect_error(client, "LeverRule");
    client_send(client, "setoption name No Such Option value 3");
    client_expect_error(client, "No Such Option");
    client_send(client, "setoption");
    client_expect_error(client, "setoption");
    client_send(client, "position startpos\ngo depth 3");
    while (client_read(client) && !starts_with(client->line, "bestmove "))
        if (read_info(client->line, &info)) {
            check_info(&info, FEN_START, false);
            most = info.multipv > most ? info.multipv : most;
        }
    assert_int_equal(most, 3);
}

/* "in k-best mode always send all k variants in k strings together." */
static void several_lines_come_together(void **state)
{
    Client *client = *state;
    char firsts[5][MOVE_TEXT_SIZE] = {""};
    long long scores[5] = {0};
    int wanted = 1;
    Info info;
    client_send(client, "setoption name MultiPV value 4\nposition startpos\ngo depth 5");
    while (client_read(client) && !starts_with(client->line, "bestmove ")) {
        if (!read_info(client->line, &info) || info.bounded)
            continue;
        assert_int_equal(info.multipv, wanted);
        strcpy(firsts[wanted], info.pv[0]);
        scores[wanted] = info.score;
        for (int i = 1; i < wanted; i++) {
            assert_string_not_equal(firsts[i], firsts[wanted]);
            assert_true(scores[i] >= scores[wanted]);
        }
        wanted = wanted % 4 + 1;
    }
    assert_int_equal(wanted, 1);
    /* No more lines than moves. */
    client_send(client, "position fen " ONLY_MOVE_FEN "\ngo depth 3");
    read_search(client, ONLY_MOVE_FEN, false);
}

#ifndef PAWNVANE_SLOW /* the sanitizers need more address space than they would have */
/* More than the system gives is refused, and what there was goes on working. */
static void too_much_memory_is_refused(void **state)
{
    Client *client = *state;
    client_send(client, "setoption name Hash value 8\nsetoption name Threads value 2");
    client_expect_silence(client);
    struct rlimit limit = {.rlim_cur = 1 << 30, .rlim_max = 1 << 30};
    assert_int_equal(prlimit(client->pid, RLIMIT_AS, &limit, NULL), 0);
    for (int round = 0; round < 3; round++) {
        client_send(client, "setoption name Hash value %d", 2048 << round);
        client_expect_error(client, "Hash");
        /* A thread has a stack of several MiB. */
        client_send(client, "setoption name Threads value 256");
        client_expect_error(client, "Threads");
        client_send(client, "position startpos\ngo nodes 20000");
        read_search(client, FEN_START, false);
    }
    client_send(client, "setoption name Hash value 64\nsetoption name Threads value 3");
    client_expect_silence(client);
    client_send(client, "go depth 5");
    read_search(client, FEN_START, false);
}
#endif

/* Every line is legal, the last one tells of the move that is played, and the counts only grow. */
static void threads_think_together(void **state)
{
    static const int counts[] = {2, 4, 1, 3};
    Client *client = *state;
    client_send(client, "position fen " FRENCH_FEN);
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
        client_send(client, "setoption name Threads value %d\ngo depth 7", counts[i]);
        assert_int_equal(read_search(client, FRENCH_FEN, false).depth, 7);
        client_send(client, "go infinite");
        client_await(client, "info depth ");
        client_send(client, "setoption name Clear Hash\nucinewgame");
        client_await(client, "bestmove ");
        client_expect_silence(client);
    }
}

/* After a second the client is told which move is being searched. */
static void a_long_search_tells_its_move(void **state)
{
    Client *client = *state;
    Position start = playout_read(FEN_START, false);
    char text[MOVE_TEXT_SIZE];
    int depth, number;
    Move move;
    client_send(client, "position startpos\ngo infinite");
    do
        assert_true(client_read(client));
    while (!strstr(client->line, " currmove "));
    assert_int_equal(
        sscanf(client->line, "info depth %d currmove %11s currmovenumber %d", &depth, text, &number), 3);
    assert_true(depth > 0);
    assert_in_range(number, 1, 20);
    assert_int_equal(lan_parse(&start, text, &move), NOTATION_OK);
    client_send(client, "stop");
    client_await(client, "bestmove ");
}

/* One answer to every go, however soon or late the stop comes; how soon the answer comes "make bench"
 * tells. */
static void stops_at_any_time(void **state)
{
    static const char *const gos[] = {"go infinite",   "go ponder wtime 500 btime 500",
                                      "go movetime 3", "go depth 3",
                                      "go nodes 700",  "go mate 3"};
    Client *client = *state;
    Random random = random_seeded(21);
    client_send(client, "position fen " FRENCH_FEN);
    for (int i = 0; i < 300; i++) {
        if (i % 50 == 0)
            client_send(client, "setoption name Threads value %d", 1 + i / 50 % 3);
        client_send(client, "%s", gos[i % 6]);
        if (i % 3)
            usleep((useconds_t)(random_next(&random) % 6000));
        client_send(client, "stop");
        client_await(client, "bestmove ");
        client_expect_silence(client);
    }
}

static void position_sets_up(void **state)
{
    Client *client = *state;
    client_send(client, "position fen " ONLY_MOVE_FEN);
    client_send(client, "go depth 2");
    assert_best(client, "h1g1");
    /* Moves of every kind, castling as the king's move. */
    client_send(client,
                "position startpos moves e2e4 g8f6 e4e5 d7d5 e5d6 e8d7 d6c7 d7e6 g1f3 h7h6 f1e2 a7a6 e1g1 "
                "a6a5 c7b8n");
    client_send(client, "go depth 1 searchmoves a8b8");
    assert_best(client, "a8b8");
    client_send(client, "position fen 4k3/8/8/8/8/8/8/R3K3 w Q - 0 1 moves e1c1");
    client_expect_silence(client);
    client_send(client, "go depth 1 searchmoves e8e7");
    assert_best(client, "e8e7");
    /* Only the four fields of a position. */
    client_send(client, "position fen 7k/8/8/8/8/8/4q3/7K b - -");
    client_send(client, "go depth 1 searchmoves e2a2");
    assert_best(client, "e2a2");
}

/* Bad input costs nothing: the engine says what is wrong. But a move in the position of before could be mistaken for
 * one in the position that was asked for, so there is none until a good position comes. */
static void bad_positions_are_refused(void **state)
{
    static const struct {
        const char *command, *word;
    } cases[] = {
        {"position fen", "FEN"},
        {"position fen 8/8/8/8/8/8/8/8 w - - 0 1", "king"},
        {"position fen 7k/8/8/8/8/8/8/P6K w - - 0 1", "pawn"},
        {"position fen 7k/8/8/8/8/8/8/7K x - - 0 1", "side"},
        {"position fen 7k/8/8/8/8/8/8/7K w - - -1 1", "halfmove"},
        {"position fen 7k/8/8/8/8/8/8/K6R w - - 0 1", "check"},
        {"position fen 7k/8/8/8/8/8/8/K7 w K - 0 1 moves a1a2", "castling"},
        {"position startpos moves e2e5", "e2e5"},
        {"position startpos moves e2e4 e7e5 e1e3", "e1e3"},
        {"position startpos moves e2e4 nonsense", "nonsense"},
        {"position startpos moves e2e4 e2e4", "e2e4"},
        {"position fen 4k3/8/8/8/8/8/8/R3K3 w - - 0 1 moves e1c1", "e1c1"},
        {"position", "position"},
        {"position somewhere", "position"},
    };
    Client *client = *state;
    client_send(client, "position fen " ONLY_MOVE_FEN);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        client_send(client, "%s", cases[i].command);
        client_expect_error(client, cases[i].word);
        client_expect_silence(client);
        client_send(client, "go depth 1 searchmoves h1g1");
        client_expect_error(client, "the last position was refused");
        client_expect(client, "bestmove 0000");
        client_send(client, "position fen " ONLY_MOVE_FEN "\ngo depth 1");
        assert_best(client, "h1g1");
    }
    /* An answer that is to be held back comes when it is asked for: once. */
    static const char *const held[][2] = {{"go infinite", "stop"}, {"go ponder depth 1", "ponderhit"}};
    for (size_t i = 0; i < 2; i++) {
        client_send(client, "position fen no\n%s", held[i][0]);
        client_expect_error(client, "FEN");
        client_expect_error(client, "the last position was refused");
        client_expect_silence(client);
        client_send(client, "%s", held[i][1]);
        client_expect(client, "bestmove 0000");
        client_send(client, "stop");
        client_expect_silence(client);
    }
}

static int threads_of(pid_t pid)
{
    char path[64], line[256];
    int count = 0;
    snprintf(path, sizeof path, "/proc/%d/status", (int)pid);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    while (count == 0 && fgets(line, sizeof line, file))
        sscanf(line, "Threads: %d", &count);
    fclose(file);
    return count;
}

/* More threads than processors would make a search by time late, and so would sending them home when it begins;
 * other searches have as many as they were given. */
static void threads_beyond_the_processors(void **state)
{
    Client *client = *state;
    cpu_set_t set;
    CPU_ZERO(&set);
    assert_int_equal(sched_getaffinity(0, sizeof set, &set), 0);
    size_t first = 0;
    while (!CPU_ISSET(first, &set))
        first++;
    CPU_ZERO(&set);
    CPU_SET(first, &set);
    assert_int_equal(sched_setaffinity(client->pid, sizeof set, &set), 0);
    client_send(client, "setoption name Threads value 16\nisready");
    client_await(client, "readyok");
    assert_true(threads_of(client->pid) <= 4);
    client_send(client, "position startpos\ngo nodes 2000");
    client_await(client, "bestmove ");
    assert_true(threads_of(client->pid) >= 16);
    static const char *const timed[] = {"go wtime 300", "go movetime 20", "go ponder wtime 300\nponderhit"};
    for (size_t i = 0; i < sizeof timed / sizeof *timed; i++) {
        client_send(client, "%s", timed[i]);
        client_await(client, "bestmove ");
        /* That of the search may be about to end, and a sanitizer may have one of its own. */
        assert_true(threads_of(client->pid) <= 4);
    }
    client_send(client, "go nodes 2000");
    client_await(client, "bestmove ");
    assert_true(threads_of(client->pid) >= 16);
    /* The option as such stays. */
    client_send(client, "go movetime 20");
    client_await(client, "bestmove ");
    client_send(client, "setoption name Threads value 16");
    client_expect_silence(client);
    client_send(client, "go nodes 2000");
    client_await(client, "bestmove ");
    assert_true(threads_of(client->pid) >= 16);
}

/* Without a thread for the search every go is answered all the same, once and by a legal move. Nobody but root may
 * have more threads than are allowed, so root is made nobody. */
static void no_thread_for_the_search(void **state)
{
    static const char script[] =
        "folder=$(mktemp -d) && cp ${PAWNVANE_BUILD:-build}/pawnvane $folder && chmod 755 $folder && cd "
        "$folder && "
        "printf '%b' \"$DIALOGUE\" | $AS prlimit --nproc=1 ./pawnvane; cd /; rm -r $folder";
    setenv("AS", geteuid() == 0 ? "setpriv --reuid=65534 --regid=65534 --clear-groups" : "", 1);
    setenv("DIALOGUE",
           "position startpos\\ngo depth 3\\ngo nodes 500\\ngo infinite\\nisready\\nstop\\n"
           "go ponder wtime 1000\\nisready\\nponderhit\\nposition fen " ONLY_MOVE_FEN
           "\\ngo movetime 10\\nquit\\n",
           1);
    (void)state;
    FILE *engine = popen(script, "r");
    assert_non_null(engine);
    char *line = NULL, answers[256] = "";
    size_t size = 0;
    while (getline(&line, &size, engine) > 0) {
        if (starts_with(line, "bestmove ") || starts_with(line, "readyok"))
            strncat(answers, line, 4);
        if (starts_with(line, "info string error: no thread for the search"))
            strcat(answers, "!");
    }
    assert_string_equal(answers, "!best!best!readbest!readbest!best");
    free(line);
    assert_int_equal(pclose(engine), 0);
}

/* Tokens that nobody knows are ignored (UCI protocol, April 2006: "should just ignore it and try to parse the
 * rest"), but not in silence: a move without the word before it would be lost. */
static void text_behind_a_position_is_told(void **state)
{
    static const char *const commands[] = {
        "position fen " ONLY_MOVE_FEN " h1g1",
        "position fen " ONLY_MOVE_FEN " some text moves",
        "position startpos e2e4",
        "position startpos 0 1 moves e2e4",
    };
    Client *client = *state;
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        client_send(client, "%s", commands[i]);
        client_expect_error(client, "ignored behind the position");
        client_expect_silence(client);
    }
    client_send(client, "position fen " ONLY_MOVE_FEN " some text moves\ngo depth 1");
    client_expect_error(client, "some text; expected moves");
    assert_best(client, "h1g1");
}

/* ----------------------------------------------------------------------------------------------------- go */

static void go_starts_from_the_initial_position(void **state)
{
    Client *client = *state;
    client_send(client, "go depth 3");
    read_search(client, FEN_START, false);
}

static void go_depth(void **state)
{
    Client *client = *state;
    client_send(client, "position fen " FRENCH_FEN);
    for (int depth = 1; depth <= 7; depth++) {
        client_send(client, "go depth %d", depth);
        assert_int_equal(read_search(client, FRENCH_FEN, false).depth, depth);
        client_expect_silence(client);
    }
}

/* "search x nodes only" */
static void go_nodes(void **state)
{
    static const int limits[] = {1, 2, 100, 5000};
    Client *client = *state;
    client_send(client, "position fen " FRENCH_FEN);
    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
        client_send(client, "ucinewgame\ngo nodes %d", limits[i]);
        assert_true(read_search(client, FRENCH_FEN, false).nodes <= limits[i]);
    }
}

/* All of these end by themselves; how soon is not looked at here. */
static void go_by_the_clock(void **state)
{
    static const char *const commands[] = {
        "go movetime 30",
        "go movetime 1",
        "go wtime 300 btime 300",
        "go wtime 300 btime 300 winc 10 binc 10",
        "go wtime 300 btime 300 movestogo 1",
        "go wtime 300 btime 300 winc 10 binc 10 movestogo 20",
        "go btime 300 wtime 60000000",
        "go wtime 1 btime 1",
        "go wtime 0 btime 0",
        "go wtime -50 btime -50",
        "go movetime 60000 wtime 100 btime 100",
    };
    Client *client = *state;
    client_send(client, "position fen " FRENCH_FEN);
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        client_send(client, "%s", commands[i]);
        read_search(client, FRENCH_FEN, false);
        client_expect_silence(client);
    }
}

/* A limit of nothing is a limit too: the search must end. */
static void go_with_zero(void **state)
{
    static const char *const commands[] = {"go depth 0", "go nodes 0", "go movetime 0"};
    Client *client = *state;
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        client_send(client, "%s", commands[i]);
        read_search(client, FEN_START, false);
    }
}

/* Numbers that do not fit are as large as can be: nothing ends before it is told to. */
static void go_with_huge_numbers(void **state)
{
    static const char *const commands[] = {
        "go movetime 9223372036854775807",
        "go wtime 9223372036854775807 btime 9223372036854775807 winc 9223372036854775807",
        "go depth 4294967297 nodes 99999999999999999999",
    };
    Client *client = *state;
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        client_send(client, "position startpos\n%s", commands[i]);
        client_await(client, "info depth 6 ");
        client_send(client, "stop");
        read_search(client, FEN_START, false);
    }
}

/* What is no legal move is complained about and left out; the others count. */
static void go_searchmoves_with_an_illegal_one(void **state)
{
    Client *client = *state;
    client_send(client, "position startpos\ngo searchmoves e2e5 a2a3 depth 4");
    client_await(client, "info string error: searchmoves e2e5: ");
    assert_string_equal(read_search(client, FEN_START, false).pv[0], "a2a3");
}

/* A position in which the best move comes out far above the window: when the nodes end while it is looked at
 * again, it is the move all the same (Bratko-Kopec 1, mate in three). */
static void a_better_move_is_kept_when_the_search_is_cut_short(void **state)
{
    static const char fen[] = "1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - 0 1";
    Client *client = *state;
    bool found = false;
    for (int nodes = 1000; nodes <= 40000; nodes += 500) {
        client_send(client, "ucinewgame\nposition fen %s\ngo nodes %d", fen, nodes);
        Info info = read_search(client, fen, false);
        bool is_best = strcmp(info.pv[0], "d6d1") == 0;
        assert_true(is_best || !found);
        found = found || is_best;
    }
    assert_true(found);
}

/* "the best line ... k lines": also where the search is cut short they are different moves in order. */
static void lines_stay_different_when_the_search_is_cut_short(void **state)
{
    enum { LINES = 4 };
    Client *client = *state;
    client_send(client, "setoption name MultiPV value %d", LINES);
    for (int nodes = 20000; nodes <= 40000; nodes += 700) {
        Info info, last[LINES] = {{0}};
        client_send(client, "ucinewgame\nposition startpos\ngo nodes %d", nodes);
        while (client_read(client) && !starts_with(client->line, "bestmove "))
            if (read_info(client->line, &info))
                last[info.multipv - 1] = info;
        for (int i = 0; i < LINES; i++)
            for (int j = 0; j < i; j++) {
                assert_string_not_equal(last[i].pv[0], last[j].pv[0]);
                assert_true(last[j].score >= last[i].score);
            }
    }
}

/* A clock is better than none: the opponent's stands for the player's own if that is not told. */
static void the_only_clock_counts(void **state)
{
    Client *client = *state;
    client_send(client, "position startpos\ngo btime 200");
    client_await(client, "bestmove ");
    client_send(client, "position startpos moves e2e4\ngo wtime 200 winc 10");
    client_await(client, "bestmove ");
}

/* Time counts from ponderhit only if the search pondered, and only then does it release the answer. */
static void ponderhit_to_who_does_not_ponder(void **state)
{
    Client *client = *state;
    client_send(client, "position startpos\ngo infinite depth 3");
    client_await(client, "info depth 3 ");
    client_send(client, "ponderhit");
    for (int i = 0; i < 50; i++)
        check_isready(client);
    client_send(client, "stop");
    client_await(client, "bestmove ");
}

/* "search for a mate in x moves"; "mate in y moves, not plies. If the engine is getting mated use negative
 * values for y." */
static void go_mate(void **state)
{
    Client *client = *state;
    client_send(client, "position fen " MATE_IN_TWO_FEN "\ngo mate 2");
    Info info = read_search(client, MATE_IN_TWO_FEN, false);
    assert_true(info.mate);
    assert_int_equal(info.score, 2);
    assert_int_equal(info.length, 3);
    static const char mated[] = "7k/8/6K1/8/8/8/8/R7 b - - 0 1";
    client_send(client, "position fen %s\ngo depth 4", mated);
    info = read_search(client, mated, false);
    assert_true(info.mate);
    assert_int_equal(info.score, -1);
}

/* "restrict search to this moves only"; other limits may stand before and behind. */
static void go_searchmoves(void **state)
{
    static const char *const commands[] = {"go depth 4 searchmoves a2a3 h2h3",
                                           "go searchmoves h2h3 a2a3 depth 4",
                                           "go searchmoves a2a3 h2h3 infinite"};
    Client *client = *state;
    client_send(client, "position startpos");
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        client_send(client, "%s", commands[i]);
        if (strstr(commands[i], "infinite")) {
            client_await(client, "info depth 3 ");
            client_send(client, "stop");
        }
        Info info = read_search(client, FEN_START, false);
        assert_true(strcmp(info.pv[0], "a2a3") == 0 || strcmp(info.pv[0], "h2h3") == 0);
    }
    client_send(client, "go depth 3");
    Info info = read_search(client, FEN_START, false);
    assert_true(strcmp(info.pv[0], "a2a3") != 0 && strcmp(info.pv[0], "h2h3") != 0);
}

/* "search until the stop command. Do not exit the search without being told so in this mode!" With two kings
 * the search has soon seen all depths; the answer must wait all the same. */
static void go_infinite_waits_for_stop(void **state)
{
    static const char *const fens[] = {FEN_START, MATE_IN_TWO_FEN, ONLY_MOVE_FEN,
                                       "7k/8/8/8/8/8/8/K7 w - - 0 1"};
    Client *client = *state;
    for (size_t i = 0; i < sizeof fens / sizeof *fens; i++) {
        client_send(client, "position fen %s\ngo infinite", fens[i]);
        client_await(client, "info depth 4 ");
        for (int round = 0; round < 5; round++) {
            client_send(client, "isready");
            while (client_read(client) && strcmp(client->line, "readyok") != 0)
                assert_true(starts_with(client->line, "info "));
            usleep(20000);
        }
        client_send(client, "stop");
        client_await(client, "bestmove ");
        client_expect_silence(client);
    }
}

/* "Do not exit the search in ponder mode, even if it's mate!"; "after a ponderhit command it should execute
 * the suggested move"; "this command must always be sent if the engine stops searching, also in pondering
 * mode if there is a stop command". */
static void ponder_waits_for_the_opponent(void **state)
{
    static const char *const limits[] = {"wtime 200 btime 200", "movetime 20", "depth 2"};
    Client *client = *state;
    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++)
        for (int hit = 0; hit < 2; hit++) {
            client_send(client, "position fen " MATE_IN_TWO_FEN "\ngo ponder %s", limits[i]);
            client_await(client, "info depth 1 ");
            for (int round = 0; round < 3; round++) {
                usleep(20000);
                client_send(client, "isready");
                while (client_read(client) && strcmp(client->line, "readyok") != 0)
                    assert_true(starts_with(client->line, "info "));
            }
            client_send(client, hit ? "ponderhit" : "stop");
            client_await(client, "bestmove ");
            client_expect_silence(client);
        }
}

/* "for every go command a bestmove command is needed!" */
static void every_go_gets_its_answer(void **state)
{
    Client *client = *state;
    client_send(client, "position startpos\ngo infinite\ngo infinite\ngo depth 2\ngo depth 3");
    for (int i = 0; i < 4; i++)
        client_await(client, "bestmove ");
    client_expect_silence(client);
    /* Nothing can be lost between two commands, however close they come. */
    for (int i = 0; i < 200; i++) {
        client_send(client, "go infinite\nstop");
        client_await(client, "bestmove ");
        client_send(client, "go ponder wtime 1000 btime 1000\nponderhit\nstop");
        client_await(client, "bestmove ");
    }
    client_expect_silence(client);
}

/* "A nullmove from the Engine to the GUI should be sent as 0000." */
static void no_move_is_0000(void **state)
{
    static const char *const fens[] = {"7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", "R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1"};
    Client *client = *state;
    for (size_t i = 0; i < sizeof fens / sizeof *fens; i++) {
        client_send(client, "position fen %s\ngo depth 3", fens[i]);
        assert_string_equal(client_await(client, "bestmove "), "bestmove 0000");
        client_send(client, "go infinite\nisready");
        client_await(client, "readyok");
        client_send(client, "stop");
        assert_string_equal(client_await(client, "bestmove "), "bestmove 0000");
    }
}

static void ucinewgame_forgets(void **state)
{
    Client *client = *state;
    long long nodes[3];
    client_send(client, "position fen " FRENCH_FEN);
    for (int i = 0; i < 3; i++) {
        if (i != 1)
            client_send(client, "ucinewgame");
        client_send(client, "go depth 6");
        nodes[i] = read_search(client, FRENCH_FEN, false).nodes;
    }
    assert_int_equal(nodes[0], nodes[2]);
    assert_true(nodes[1] < nodes[0]);
}

/* With the option UCI_Chess960, castling is the king taking its own rook, both ways. */
static void chess960_castles_onto_the_rook(void **state)
{
    static const char fen[] = "1r2k1r1/pppppppp/8/8/8/8/PPPPPPPP/1R2K1R1 w GBgb - 0 1";
    Client *client = *state;
    client_send(client, "setoption name UCI_Chess960 value true");
    client_send(client, "position fen %s\ngo depth 3 searchmoves e1g1", fen);
    assert_string_equal(read_search(client, fen, true).pv[0], "e1g1");
    client_send(client, "position fen %s moves e1b1\ngo depth 1 searchmoves e8b8", fen);
    assert_best(client, "e8b8");
    client_send(client, "setoption name UCI_Chess960 value false");
    client_send(client, "position fen %s", fen);
    client_expect_error(client, "FEN");
}

/* Counts the notes before the next answer that have a text in them. */
static int count_notes(Client *client, const char *text)
{
    int notes = 0;
    while (client_read(client) && !starts_with(client->line, "bestmove "))
        notes += starts_with(client->line, "info string ") && strstr(client->line, text);
    return notes;
}

/* Sentences, and only what is new in the game. White's pair d4 e5 points to f5, Black's e6 d5 to c5: the definitions,
 * sections 2 and 4. */
static void plan_notes_say_what_changes(void **state)
{
    static const char game[] = "position startpos moves e2e4 e7e6 d2d4 d7d5 e4e5";
    Client *client = *state;
    client_send(client, "setoption name PlanNotes value true\n%s\ngo depth 2", game);
    assert_true(client_read(client));
    assert_string_equal(client->line,
                        "info string White has a plan: the locked chain from the d- to the "
                        "e-file points to the kingside, where the lever is f5; it is three tempi away.");
    assert_true(client_read(client));
    assert_string_equal(client->line, "info string Black has a plan: the locked chain from the d- to the "
                                      "e-file points to the queenside, where the lever is c5; it is ready.");
    client_await(client, "bestmove ");
    client_send(client, "%s g8e7 g1f3\ngo depth 2", game);
    assert_int_equal(count_notes(client, ""), 0);
    client_send(client, "%s g8e7 g1f3 c7c5\ngo depth 2", game);
    assert_int_equal(count_notes(client, "Black has played the lever c5."), 1);
    client_send(client, "setoption name PlanNotes value false\n%s\ngo depth 2", game);
    assert_int_equal(count_notes(client, ""), 0);
}

/* A game of many moves is one long line. */
static void long_games_are_read(void **state)
{
    static char command[1 << 15];
    Client *client = *state;
    Random random = random_seeded(12);
    Position p = playout_read(FEN_START, false);
    char lan[MOVE_TEXT_SIZE];
    strcpy(command, "position startpos moves");
    for (int ply = 0; ply < 1000; ply++) {
        Position next = p;
        Move move = playout_move(&random, &p);
        position_play(&next, move);
        if (!movegen_any(&next))
            break;
        lan_write(&p, move, lan);
        sprintf(command + strlen(command), " %s", lan);
        p = next;
    }
    assert_true(strlen(command) > 1000);
    client_send(client, "%s", command);
    client_send(client, "go depth 2");
    char best[MOVE_TEXT_SIZE];
    Move move;
    assert_int_equal(sscanf(client_await(client, "bestmove "), "bestmove %11s", best), 1);
    assert_int_equal(lan_parse(&p, best, &move), NOTATION_OK);
}

/* ---------------------------------------------------------------------------------------------------- end */

/* "quit the program as soon as possible" */
static void quit_ends_whatever_goes_on(void **state)
{
    static const char *const before[] = {
        "", "uci\n", "go infinite\n", "go ponder\n", "go depth 1\n", "go wtime 100000 btime 100000\n"};
    (void)state;
    for (size_t i = 0; i < sizeof before / sizeof *before; i++) {
        Client client;
        client_start(&client, "pawnvane");
        client_write(&client, before[i]);
        client_quit(&client);
    }
}

/* What a pipe from a file asks for is answered in full. */
static void the_end_of_input_waits_for_a_bounded_search(void **state)
{
    Client client;
    (void)state;
    client_start(&client, "pawnvane");
    client_write(&client, "position startpos\ngo depth 10\n");
    close(client.to);
    client.to = dup(client.from);
    client_await(&client, "info depth 10 ");
    client_await(&client, "bestmove ");
    assert_int_equal(client_end(&client), 0);
}

static void the_end_of_input_ends_the_engine(void **state)
{
    (void)state;
    for (int searching = 0; searching < 2; searching++) {
        Client client;
        client_start(&client, "pawnvane");
        if (searching)
            client_write(&client, "go infinite\n");
        close(client.to);
        client.to = dup(client.from);
        assert_int_equal(client_end(&client), 0);
    }
}

#define WITH_ENGINE(test)                                                                                    \
    {                                                                                                        \
#test, test, start_engine, quit_engine, NULL                                                         \
    }

int main(void)
{
    const struct CMUnitTest tests[] = {
        WITH_ENGINE(uci_introduces_the_engine),
        WITH_ENGINE(options_follow_the_grammar),
        WITH_ENGINE(isready_is_answered_at_once),
        WITH_ENGINE(unknown_words_are_skipped),
        WITH_ENGINE(commands_out_of_place_are_ignored),
        WITH_ENGINE(register_is_accepted),
        WITH_ENGINE(debug_says_more),
        WITH_ENGINE(setoption_sets),
        WITH_ENGINE(several_lines_come_together),
#ifndef PAWNVANE_SLOW
        WITH_ENGINE(too_much_memory_is_refused),
#endif
        WITH_ENGINE(threads_think_together),
        WITH_ENGINE(threads_beyond_the_processors),
        WITH_ENGINE(a_long_search_tells_its_move),
        WITH_ENGINE(stops_at_any_time),
        WITH_ENGINE(position_sets_up),
        WITH_ENGINE(bad_positions_are_refused),
        WITH_ENGINE(text_behind_a_position_is_told),
        WITH_ENGINE(go_starts_from_the_initial_position),
        WITH_ENGINE(go_depth),
        WITH_ENGINE(go_nodes),
        WITH_ENGINE(go_by_the_clock),
        WITH_ENGINE(go_with_zero),
        WITH_ENGINE(go_with_huge_numbers),
        WITH_ENGINE(go_searchmoves_with_an_illegal_one),
        WITH_ENGINE(a_better_move_is_kept_when_the_search_is_cut_short),
        WITH_ENGINE(lines_stay_different_when_the_search_is_cut_short),
        WITH_ENGINE(the_only_clock_counts),
        WITH_ENGINE(ponderhit_to_who_does_not_ponder),
        WITH_ENGINE(go_mate),
        WITH_ENGINE(go_searchmoves),
        WITH_ENGINE(go_infinite_waits_for_stop),
        WITH_ENGINE(ponder_waits_for_the_opponent),
        WITH_ENGINE(every_go_gets_its_answer),
        WITH_ENGINE(no_move_is_0000),
        WITH_ENGINE(ucinewgame_forgets),
        WITH_ENGINE(chess960_castles_onto_the_rook),
        WITH_ENGINE(plan_notes_say_what_changes),
        WITH_ENGINE(long_games_are_read),
        cmocka_unit_test(no_thread_for_the_search),
        cmocka_unit_test(quit_ends_whatever_goes_on),
        cmocka_unit_test(the_end_of_input_waits_for_a_bounded_search),
        cmocka_unit_test(the_end_of_input_ends_the_engine),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
