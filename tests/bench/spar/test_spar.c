/* Training matches in the terminal, as a pupil types them. */
#include "tests/bench/run/run_in.h"

#include "bench/pgn/pgn.h"
#include "bench/spar/spar_board.h"
#include "bench/spar/spar_match.h"
#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

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
    assert_non_null(strstr(run.out, "Game 1: advance. You have Black."));
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
    assert_non_null(strstr(run.out, "You have not moved yet."));
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

/* The next opening, with colours in turn. */
static void test_several(void **state)
{
    RunFiles *files = *state;
    HarnessRun run = spar(files, "--color turns", "resign\nperhaps\nyes\nresign\nno\n");
    assert_done(&run);
    assert_non_null(strstr(run.out, "Game 2: advance. You have Black."));
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_resigned, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_end_of_input, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_take_back, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_input, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_several, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_names, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_interrupt, run_files_setup, run_files_teardown),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_ends),
        cmocka_unit_test(test_board),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
