/* Training matches in the terminal, as a pupil types them. */
#include "tests/bench/run/run_in.h"

#include "bench/pgn/pgn.h"
#include "bench/spar/spar_board.h"
#include "bench/spar/spar_match.h"
#include "bench/spar/spar_move.h"
#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

#include <pty.h>
#include <sys/wait.h>

#define SPAR "spar --openings @/start.epd --elo 1000 --nodes 200 --html @/a.html --pgn @/a.pgn "

/* The advance variation, Black to move: Black's lever is c5. */
static const char start[] = "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - id \"advance\";\n";

static HarnessRun spar(RunFiles *files, const char *options, const char *input)
{
    char arguments[1024] = "", *end = arguments;
    run_write(run_path(files, "start.epd"), start);
    for (const char *at = SPAR; *at; at++)
        end += sprintf(end, "%.*s", *at == '@' ? 64 : 1, *at == '@' ? files->folder : at);
    strcat(arguments, options);
    return harness_run(arguments, input);
}

/* What a screen reader and a terminal of 80 columns can take. */
static void assert_plain(const char *text)
{
    size_t column = 0;
    for (const char *at = text; *at; at++) {
        if (*at == '\n') {
            column = 0;
            continue;
        }
        if (*at < ' ' || *at > '~' || ++column > 80)
            fail_msg("character %d in column %zu of: %.60s", *at, column, at);
    }
}

typedef struct Read {
    int games, plies;
    PgnResult result;
    Move moves[64];
} Read;

static void read_move(void *context, const PgnGame *game, Move move)
{
    Read *read = context;
    if (game->plies <= 64)
        read->moves[game->plies - 1] = move;
}

static void read_end(void *context, const PgnGame *game)
{
    Read *read = context;
    PgnText value;
    /* The seven tags of the standard (S. Edwards, PGN, 1994, 8.1.1), in their order. */
    static const char *const roster[] = {"Event", "Site", "Date", "Round", "White", "Black", "Result"};
    for (int i = 0; i < 7; i++)
        assert_memory_equal(game->tags[i].name.start, roster[i], strlen(roster[i]));
    assert_true(pgn_tag(game, "FEN", &value));
    for (int i = 4; i < 6; i++)
        assert_null(memchr(game->tags[i].value.start, ',', game->tags[i].value.length));
    read->games++;
    read->plies = game->plies;
    read->result = game->result;
}

static Read read_back(RunFiles *files, const char *name)
{
    Read read = {0};
    assert_true(pgn_read_file(run_path(files, name),
                              &(PgnVisitor){.context = &read, .move = read_move, .end = read_end}));
    return read;
}

static void test_resigned(void **state)
{
    RunFiles *files = *state;
    HarnessRun run = spar(files, "--color black", "help\nplan\nmen\nc5\nresign\nno\n");
    assert_done(&run);
    assert_plain(run.out);
    assert_non_null(
        strstr(run.out, "Game 1: advance. You have Black; your partner is faithful, of strength 1000."));
    assert_non_null(strstr(run.out, "Black: break with c5."));
    assert_non_null(strstr(run.out, "Black: king e8; queen d8; rooks a8, h8;"));
    assert_non_null(strstr(run.out, "Your partner plays 2. "));
    assert_non_null(strstr(run.out, "You have resigned: 1-0."));
    Read read = read_back(files, "a.pgn");
    assert_int_equal(read.games, 1);
    assert_int_equal(read.plies, 2);
    assert_int_equal(read.result, PGN_WHITE_WINS);
    char *page = run_read(run_path(files, "a.html"));
    assert_non_null(strstr(page, "Training match"));
    assert_non_null(strstr(page, "advance"));
    free(page);
    harness_free(&run);
}

/* The end of the input ends the game and saves it: whatever stands before it, even nothing. */
static void test_end_of_input(void **state)
{
    static const char *const inputs[] = {"", "c5", "c5\n", "c5\nhelp", "nonsense\n\n   \n", "c5\nresign\n"};
    static const int plies[] = {0, 2, 2, 2, 0, 2};
    RunFiles *files = *state;
    for (size_t i = 0; i < sizeof inputs / sizeof *inputs; i++) {
        HarnessRun run = spar(files, "--color black --words --notes", inputs[i]);
        assert_done(&run);
        assert_plain(run.out);
        Read read = read_back(files, "a.pgn");
        assert_int_equal(read.games, 1);
        assert_int_equal(read.plies, plies[i]);
        assert_int_equal(read.result, i == 5 ? PGN_WHITE_WINS : PGN_NO_RESULT);
        harness_free(&run);
    }
}

static void test_take_back(void **state)
{
    RunFiles *files = *state;
    HarnessRun run = spar(files, "--color white", "back\na3\nback\nback\nh3\nleave\n");
    assert_done(&run);
    assert_non_null(strstr(run.out, "There is no move of yours to take back."));
    Read read = read_back(files, "a.pgn");
    /* Black's answer stands, and White's h3, and Black's answer to that. */
    assert_int_equal(read.plies, 3);
    assert_int_equal(read.moves[1], move_make(H2, H3, PLAIN));
    harness_free(&run);
}

/* Both men, bad moves, moves as protocols write them, and lines that no pupil types. */
static void test_input(void **state)
{
    static char input[5000];
    RunFiles *files = *state;
    memset(input, 'x', 4000);
    strcpy(input + 4000, "\nc6c5\n  C5 \nc7c5\nKe1\n\nleave\n");
    HarnessRun run = spar(files, "--color black", input);
    assert_done(&run);
    assert_plain(run.out);
    assert_non_null(strstr(run.out, "Your partner plays 2. "));
    assert_int_equal(read_back(files, "a.pgn").plies, 2);
    harness_free(&run);
}

/* Small letters, pieces that have no choice and those that have one, and why a move is none. */
static void test_moves_as_typed(void **state)
{
    static const char knights[] = "4k3/8/8/2p5/8/1B3N2/P2P4/1N2K3 w - - 0 1",
                      pinned[] = "4r1k1/1p6/2p5/8/b7/8/1PB1N3/4K2R w K - 0 1",
                      checked[] = "4r1k1/P7/8/8/8/8/P7/R3K3 w Q - 0 1",
                      promotes[] = "1r4k1/P7/8/8/8/8/8/4K3 w - - 0 1",
                      bishop[] = "4k3/8/8/2p5/1P6/4B3/8/4K3 w - - 0 1",
                      pawns[] = "4k3/8/8/8/8/8/1P1B4/4K3 w - - 0 1";
    static const struct {
        const char *fen, *typed, *told; /* the move in SAN, or the problem */
    } lines[] = {
        {knights, "nc3", "Nc3"},
        {knights, "NC3", "is neither a move nor a word that is known here"},
        {knights, "Nd2", "is not a legal move here"},
        {knights, "f3g5", "Ng5"},
        {knights, "Nfd4", "Nd4"},
        {knights, "take back", "is neither a move nor a word that is known here"},
        {pinned, "Nd4", "is not a legal move here: your king would be in check"},
        {pinned, "Kd2", "Kd2"},
        {pinned, "Kf1", "Kf1"},
        {pinned, "o-o", "O-O"},
        {pinned, "bxa4", "Bxa4"},
        {pinned, "b3", "b3"},
        {pinned, "bb3", "can be b3 or Bb3+"},
        {checked, "a3", "is not a legal move here: you are in check"},
        {checked, "0-0-0", "is not a legal move here: you are in check"},
        {checked, "Ke2", "is not a legal move here: your king would be in check"},
        {promotes, "a8", "can be a8=Q, a8=R, a8=B or a8=N"},
        {promotes, "axb8", "can be axb8=Q+, axb8=R+, axb8=B or axb8=N"},
        {promotes, "a8q", "a8=Q"},
        {bishop, "bxc5", "bxc5"},
        {bishop, "bc5", "can be bxc5 or Bxc5"},
        {bishop, "Bc5", "Bxc5"},
        {pawns, "bb4", "can be b4 or Bb4"},
        {pawns, "", "is neither a move nor a word that is known here"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        Position p = playout_read(lines[i].fen, false);
        Move move;
        char told[SPAR_PROBLEM_SIZE];
        if (spar_move_read(&p, lines[i].typed, &move, told))
            san_write(&p, move, told);
        if (strcmp(told, lines[i].told) != 0)
            fail_msg("%s, \"%s\": %s; expected %s", lines[i].fen, lines[i].typed, told, lines[i].told);
    }
}

/* What has been played, in the way of score sheets. */
static void test_moves_so_far(void **state)
{
    RunFiles *files = *state;
    HarnessRun run = spar(files, "--color black --words", "moves\nc5\nleave\n");
    assert_non_null(strstr(run.out, "Nothing has been played yet."));
    const char *reply = strstr(run.out, "Your partner plays 2. ");
    assert_non_null(reply);
    char san[16];
    assert_int_equal(sscanf(reply, "Your partner plays 2. %15s", san), 1);
    harness_free(&run);
    run = spar(files, "--color black --words", "c5\nmoves\nleave\n");
    char line[64];
    sprintf(line, "\n1... c5 2. %s\n", san);
    assert_non_null(strstr(run.out, line));
    harness_free(&run);
}

/* Bytes that are no text do not reach the terminal. */
static void test_foreign_bytes(void **state)
{
    RunFiles *files = *state;
    HarnessRun run =
        spar(files, "--color black --words", "\033[A\n\xC3\n\xE2\x99\x98 f6 and many more characters\n");
    assert_null(strchr(run.out, '\033'));
    assert_non_null(strstr(run.out, "\"?[A\" is neither a move"));
    assert_non_null(strstr(run.out, "\"?\" is neither a move"));
    assert_non_null(strstr(run.out, "\"\xE2\x99\x98 f6 and many more\" is not a legal move"));
    harness_free(&run);
}

/* A game that is over goes on when the last move is taken back. */
static void test_back_after_the_end(void **state)
{
    RunFiles *files = *state;
    HarnessRun run =
        spar(files, "--color black --words", "c5\nresign\nback\nc6\nresign\nback\nback\nno\nno\n");
    assert_done(&run);
    Read read = read_back(files, "a.pgn");
    assert_int_equal(read.games, 1);
    assert_int_equal(read.plies, 0);
    harness_free(&run);
    run = spar(files, "--color black --words", "c5\nresign\nback\nh6\nresign\nno\n");
    read = read_back(files, "a.pgn");
    assert_int_equal(read.plies, 2);
    assert_int_equal(read.moves[0], move_make(H7, H6, PLAIN));
    assert_int_equal(read.result, PGN_WHITE_WINS);
    harness_free(&run);
}

/* Without a chain nothing is said twice. */
static void test_plan_without_chain(void **state)
{
    RunFiles *files = *state;
    char command[512];
    run_write(run_path(files, "open.epd"),
              "rnbqkbnr/pppp1ppp/8/4p3/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - id \"open\";\n");
    snprintf(command, sizeof command,
             "spar --openings %s/open.epd --color white --elo 1000 --nodes 0 --html %s/a.html --pgn %s/a.pgn",
             files->folder, files->folder, files->folder);
    HarnessRun run = harness_run(command, "plan\nleave\n");
    const char *direction = strstr(run.out, "direction to read");
    assert_non_null(direction);
    assert_null(strstr(direction + 1, "direction to read"));
    assert_non_null(strstr(run.out, "White may castle on both wings; Black may castle on both wings."));
    harness_free(&run);
}

/* The next opening, with colours in turn. */
static void test_several(void **state)
{
    RunFiles *files = *state;
    HarnessRun run = spar(files, "--color turns", "resign\nperhaps\ny\nresign\nN\nyes\n");
    assert_done(&run);
    assert_non_null(strstr(run.out, "Game 2: advance. You have Black; "));
    Read read = read_back(files, "a.pgn");
    assert_int_equal(read.games, 2);
    harness_free(&run);
}

/* Files that are there already stay. */
static void test_names(void **state)
{
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD");
    char command[1024];
    run_write(run_path(files, "start.epd"), start);
    run_write(run_path(files, "spar-1.pgn"), "precious\n");
    snprintf(command, sizeof command,
             "program=$(realpath %s/pawnvane-bench) && cd %s && $program spar --openings start.epd --nodes 0 "
             "--elo 1000 </dev/null >out 2>&1",
             build ? build : "build", files->folder);
    assert_int_equal(system(command), 0);
    char *kept = run_read(run_path(files, "spar-1.pgn"));
    assert_string_equal(kept, "precious\n");
    assert_int_equal(access(run_path(files, "spar-1.html"), F_OK), -1);
    assert_int_equal(access(run_path(files, "spar-2.html"), F_OK), 0);
    assert_int_equal(read_back(files, "spar-2.pgn").games, 1);
    free(kept);
}

/* A signal while the program waits for a line ends the game, and what was played is saved. */
static void test_interrupt(void **state)
{
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD");
    run_write(run_path(files, "start.epd"), start);
    /* The pipe stays open behind the move: only the signal can end the wait. */
    char script[1400];
    snprintf(
        script, sizeof script,
        "program=$(realpath %s/pawnvane-bench); cd %s; mkfifo pipe; exec 3<>pipe; echo c5 >&3; "
        "$program spar --openings start.epd --color black --elo 1000 --nodes 0 --html i.html --pgn i.pgn "
        "<pipe >out 2>err & job=$!; until grep -q 'Move 2' out 2>/dev/null; do :; done; kill -TERM $job; "
        "wait $job; test $? = 143 && test -s i.pgn",
        build ? build : "build", files->folder);
    assert_int_equal(system(script), 0);
    assert_int_equal(read_back(files, "i.pgn").plies, 2);
}

/* On a terminal, which shows itself what is typed: line by line, and nothing that moves the cursor. */
static void test_terminal(void **state)
{
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD");
    char program[256], out[1 << 14];
    size_t size = 0;
    int terminal, status;
    snprintf(program, sizeof program, "%s/pawnvane-bench", build ? build : "build");
    run_write(run_path(files, "start.epd"), start);
    char *html = strdup(run_path(files, "a.html")), *pgn = strdup(run_path(files, "a.pgn"));
    pid_t child = forkpty(&terminal, NULL, NULL, NULL);
    assert_true(child >= 0);
    if (child == 0) {
        execl(program, program, "spar", "--openings", run_path(files, "start.epd"), "--color", "black",
              "--elo", "1000", "--html", html, "--pgn", pgn, (char *)NULL);
        _exit(127);
    }
    assert_int_equal(write(terminal, "c5\nleave\n", 9), 9);
    for (ssize_t got; size + 1 < sizeof out && (got = read(terminal, out + size, sizeof out - 1 - size)) > 0;)
        size += (size_t)got;
    out[size] = '\0';
    close(terminal);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    assert_null(strchr(out, '\033'));
    assert_non_null(strstr(out, "Saved, to read and to print"));
    assert_int_equal(read_back(files, "a.pgn").plies, 2);
    free(html);
    free(pgn);
}

static void test_refusals(void **state)
{
    (void)state;
    assert_refused("spar", "", 2, "openings");
    assert_refused("spar --openings /nowhere", "", 1, "/nowhere");
    assert_refused("spar --openings bench/openings/strata.epd --strata none", "", 1, "stratum \"none\"");
    assert_refused("spar --openings bench/openings/strata.epd --elo 900", "", 2, "--elo");
    assert_refused("spar --openings bench/openings/strata.epd --html /nowhere/a.html", "", 1, "/nowhere");
    assert_refused("spar --openings bench/openings/strata.epd --style kind", "", 2, "--style");
}

/* A game to its end in the match itself: the result is that of the rules, for each side. */
static void test_ends(void **state)
{
    /* Back rank mate and stalemate, as any primer has them (common practice, no source). */
    static const struct {
        const char *fen, *move, *result, *text;
        Side pupil;
    } ends[] = {
        {"6k1/5ppp/8/8/8/8/8/R5K1 w - - 0 1", "Ra8#", "1-0", "You have won", WHITE},
        {"6k1/5ppp/8/8/8/8/8/R5K1 w - - 0 1", "Ra8#", "1-0", "You have lost", BLACK},
        {"k7/7Q/1K6/8/8/8/8/8 w - - 0 1", "Qc7", "1/2-1/2", "draw", WHITE},
        {"k7/7Q/1K6/8/8/8/8/8 w - - 0 1", "Kc5", "*", "unfinished", WHITE},
    };
    (void)state;
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        SparMatch match = {.player = player_new(1), .pupil = ends[i].pupil};
        Position p = playout_read(ends[i].fen, false);
        Move move;
        char text[128];
        assert_int_equal(san_parse(&p, ends[i].move, &move), NOTATION_OK);
        assert_true(spar_match_start(&match, &p) && spar_match_play(&match, move));
        if (match.end == SPAR_GOES_ON)
            match.end = SPAR_LEFT;
        assert_string_equal(spar_match_result(&match), ends[i].result);
        spar_match_end_text(&match, text, sizeof text);
        assert_non_null(strstr(text, ends[i].text));
        spar_match_free(&match);
        player_free(match.player);
    }
}

static void test_board(void **state)
{
    static const char black[] = "1  R N B K Q B N R\n";
    (void)state;
    char *text = NULL;
    size_t size;
    Position p = playout_read(FEN_START, false);
    FILE *out = open_memstream(&text, &size);
    spar_board_print(out, &p, BLACK);
    fclose(out);
    assert_memory_equal(text, black, strlen(black));
    assert_non_null(strstr(text, "   h g f e d c b a\n"));
    free(text);
}

/* The rights that a FEN gives (S. Edwards, PGN standard, 1994, 16.1.3.3), in words. */
static void test_castling(void **state)
{
    static const char *const rights[][2] = {
        {"KQkq", "White may castle on both wings; Black may castle on both wings.\n"},
        {"Kq", "White may castle kingside; Black may castle queenside.\n"},
        {"Q", "White may castle queenside; Black may not castle.\n"},
        {"-", "Neither side may castle.\n"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rights / sizeof *rights; i++) {
        char fen[100], *text = NULL;
        size_t size;
        sprintf(fen, "r3k2r/8/8/8/8/8/8/R3K2R w %s - 0 1", rights[i][0]);
        Position p = playout_read(fen, false);
        FILE *out = open_memstream(&text, &size);
        spar_board_print_castling(out, &p);
        fclose(out);
        assert_string_equal(text, rights[i][1]);
        free(text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_resigned, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_end_of_input, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_take_back, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_input, run_files_setup, run_files_teardown),
        cmocka_unit_test(test_moves_as_typed),
        cmocka_unit_test_setup_teardown(test_moves_so_far, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_foreign_bytes, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_back_after_the_end, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_plan_without_chain, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_several, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_names, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_interrupt, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_terminal, run_files_setup, run_files_teardown),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_ends),
        cmocka_unit_test(test_board),
        cmocka_unit_test(test_castling),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
