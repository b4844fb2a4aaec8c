/* Each example in a header of bench/ or engine/ is run here, word by word. */
#include "tests/bench/page/rendered.h"
#include "tests/structure/header_text.h"

#include "bench/base/array.h"
#include "bench/base/command_line.h"
#include "bench/base/output_file.h"
#include "bench/lesson/comparison.h"
#include "bench/page/chart.h"
#include "bench/page/diagram.h"
#include "bench/page/table_sink.h"
#include "bench/pgn/pgn.h"
#include "bench/pgn/pgn_writer.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"
#include "engine/search/player.h"

#include <glob.h>
#include <unistd.h>

/* ----------------------------------------------------------------------------------------------- the examples */

static Position first_position(void)
{
    Position position;
    assert_int_equal(fen_parse(FEN_START, false, &position, NULL), FEN_OK);
    return position;
}

static Status command(int argc, char **argv)
{
    int64_t depth = 0;
    const char *fen = FEN_START;
    const Option options[] = {
        {.name = "depth",
         .argument = "N",
         .help = "plies",
         .integer = &depth,
         .least = 1,
         .greatest = 30,
         .required = true},
        {.name = "fen", .argument = "FEN", .help = "the position", .text = &fen},
        {0},
    };
    static const Usage usage = {"--depth N [--fen FEN]", "Counts ..."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    return depth == 4 && strcmp(fen, FEN_START) == 0 ? STATUS_DONE : STATUS_FAILED;
}

static void a_command_line(void **state)
{
    (void)state;
    char name[] = "count", option[] = "--depth", value[] = "4";
    assert_int_equal(command(3, (char *[]){name, option, value, NULL}), STATUS_DONE);
}

static bool add_move(Move **list, size_t *room, int *moves_so_far, Move move)
{
    Move *moves = *list;
    size_t capacity = *room;
    int count = *moves_so_far;
    if (!array_reserve(moves, capacity, count, 1))
        return false;
    moves[count++] = move;
    *list = moves;
    *room = capacity;
    *moves_so_far = count;
    return true;
}

static void an_array(void **state)
{
    (void)state;
    Move *moves = NULL;
    size_t room = 0;
    int count = 0;
    for (int i = 0; i < 100; i++)
        assert_true(add_move(&moves, &room, &count, move_make(E2, E4, PLAIN)));
    assert_int_equal(count, 100);
    assert_int_equal(moves[99], move_make(E2, E4, PLAIN));
    free(moves);
}

static bool write_sheet(void)
{
    OutputFile file;
    if (!output_open(&file, "lesson.html"))
        return false; // reported in one line
    fputs("...", file.stream);
    return output_commit(&file);
}

// NOLINTBEGIN(misc-unused-parameters)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-parameter"
static void count(void *context, const PgnGame *game, Move move)
{
    ++*(long *)context;
}
#pragma GCC diagnostic pop
// NOLINTEND(misc-unused-parameters)

static void files(void **state)
{
    (void)state;
    char folder[] = "/tmp/pawnvane-examples-XXXXXX", before[4096];
    assert_non_null(getcwd(before, sizeof before));
    assert_non_null(mkdtemp(folder));
    assert_int_equal(chdir(folder), 0);
    assert_true(write_sheet());
    FILE *games = fopen("games.pgn", "w");
    assert_non_null(games);
    fputs("1. e4 e6 2. d4 d5 3. e5 c5 *\n", games);
    fclose(games);

    long moves = 0;
    const PgnVisitor visitor = {.context = &moves, .move = count};
    pgn_read_file("games.pgn", &visitor);
    assert_int_equal(moves, 6);
    assert_int_equal(remove("games.pgn") | remove("lesson.html"), 0);
    assert_int_equal(chdir(before), 0);
    assert_int_equal(rmdir(folder), 0);
}

static void pages(void **state)
{
    (void)state;
    Rendered rendered;
    FILE *out = rendered_open(&rendered);
    Position position = first_position();
    ps_analysis analysis;
    structure_analyse(&position, &analysis);
    page_begin(out, "Lesson", "Three positions", NULL);
    page_heading(out, 2, "first", "Position 1");
    page_paragraph(out, PAGE_PLAIN, "White to move.");
    {
        static const PageColumn columns[] = {{"Lever", false}, {"Tempi", true}};
        PageTable table;
        page_table_begin(&table, out, "Levers", columns, 2);
        page_cell(&table, "f5");
        page_cell(&table, "%d", 3);
        page_table_end(&table);
    }
    diagram_definitions(out); // once a page, before the first diagram
    diagram_write(out, &(Diagram){.id = "first", .position = &position, .analysis = &analysis});
    diagram_legend(out);
    {
        ChartValue rows[6] = {{0}};
        for (int i = 0; i < 6; i++)
            rows[i] = (ChartValue){.label = "firm", .estimate = 3, .low = 1, .high = 5, .count = 40};
        chart_definitions(out); // once a page, before the first chart
        chart_forest(
            out, &(Chart){.id = "strata", .title = "Effect by stratum", .item = "Stratum", .value = "Elo"},
            rows, 6);
    }
    page_end(out, "For study.");
    assert_well_formed(rendered_close(&rendered));
    free(rendered.text);
}

static void a_table_as_text(void **state)
{
    (void)state;
    Rendered rendered;
    FILE *terminal = stdout;
    stdout = rendered_open(&rendered);
    static const PageColumn columns[] = {{"Lever", false}, {"Tempi", true}};
    TextTable room;
    TableSink sink = text_table_sink(&room);
    sink.begin(sink.context, "levers", "Levers", "What each needs.", columns, 2);
    table_cell(&sink, "f5");
    table_cell(&sink, "%d", 3);
    sink.end(sink.context);
    rendered_close(&rendered);
    stdout = terminal;
    assert_non_null(strstr(rendered.text, "What each needs."));
    assert_non_null(strstr(rendered.text, "f5"));
    free(rendered.text);
}

static void a_game_is_written(void **state)
{
    (void)state;
    Rendered rendered;
    FILE *out = rendered_open(&rendered);
    Position position = first_position();
    Move move = move_make(E2, E4, PLAIN);
    PgnWriter writer = {.out = out};
    pgn_write_tag(&writer, "Event", "Kestrel Hill v. Lower Quay");
    pgn_begin_moves(&writer);
    pgn_write_move(&writer, &position, move);
    pgn_write_glyph(&writer, 1);
    pgn_write_comment(&writer, "The lever is ready.");
    pgn_end_game(&writer, "1-0");
    assert_non_null(strstr(rendered_close(&rendered), "1. e4 $1 {The lever is ready.} 1-0\n"));
    free(rendered.text);
}

static void moves_are_compared_by_a_player(void **state)
{
    (void)state;
    Position position = first_position();
    Move move = move_make(E2, E4, PLAIN);
    Player *player = player_new(16);
    Game game;
    SearchResult result;
    game_start(&game, &position);
    player_think(player, &game, &(SearchLimits){.nodes = 100000}, NULL, &result);
    assert_int_not_equal(result.best, NO_MOVE);

    const Effort effort = {.nodes = 100000};
    Comparison *comparison = comparison_new(player, &position, &effort);
    JudgedMove judged;
    comparison_add(comparison, move);
    comparison_judge(comparison, move, &judged);
    comparison_free(comparison);
    assert_string_equal(judged.san, "e4");
    game_free(&game);
    player_free(player);
}

/* ------------------------------------------------------------------------------------- the headers as texts */

/* Lines that begin with a call are code in every header. So is, in these, what ends like code: in the others
 * that is JSON, SQL or EPD. */
static const char *const of_code[] = {"array.h", "command_line.h", "output_file.h", "comparison.h",
                                      "chart.h", "diagram.h",      "page.h",        "table_sink.h",
                                      "pgn.h",   "pgn_writer.h",   "player.h"};

static bool is_of_code(const char *path)
{
    for (size_t i = 0; i < sizeof of_code / sizeof *of_code; i++)
        if (strcmp(strrchr(path, '/') + 1, of_code[i]) == 0)
            return true;
    return false;
}

static bool begins_with_call(const char *text)
{
    size_t length = strspn(text, "abcdefghijklmnopqrstuvwxyz_0123456789");
    return length > 0 && text[length] == '(';
}

static bool ends_like_code(const char *text)
{
    return *text != '\0' && (strchr(";{},", text[strlen(text) - 1]) != NULL || strstr(text, "; //") != NULL ||
                             strncmp(text, "if (", 4) == 0);
}

static int check_header(const char *path, const char *source)
{
    static const char margin[] = " *     ";
    char *header = read_whole(path), *rest = header;
    bool of_code_alone = is_of_code(path);
    int lines = 0;
    for (char *line; (line = strsep(&rest, "\n")) != NULL;) {
        size_t length = strlen(line);
        if (length > 3 && strcmp(line + length - 3, " */") == 0)
            line[length - 3] = '\0';
        char *text = line + strlen(margin);
        if (strncmp(line, margin, strlen(margin)) != 0 ||
            !(begins_with_call(text) || (of_code_alone && ends_like_code(text))))
            continue;
        drop_spaces(text);
        if (strstr(source, text) == NULL)
            fail_msg("%s: not run here: %s", path, text);
        lines++;
    }
    free(header);
    return lines;
}

static void each_example_is_run_word_by_word(void **state)
{
    (void)state;
    int lines = 0;
    glob_t headers;
    char *source = read_whole("tests/bench/test_header_examples.c");
    drop_spaces(source);
    assert_int_equal(glob("bench/*/*.h", 0, NULL, &headers), 0);
    assert_int_equal(glob("engine/*/*.h", GLOB_APPEND, NULL, &headers), 0);
    for (size_t i = 0; i < headers.gl_pathc; i++)
        lines += check_header(headers.gl_pathv[i], source);
    assert_true(lines >= 50);
    globfree(&headers);
    free(source);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_command_line),
        cmocka_unit_test(an_array),
        cmocka_unit_test(files),
        cmocka_unit_test(pages),
        cmocka_unit_test(a_table_as_text),
        cmocka_unit_test(a_game_is_written),
        cmocka_unit_test(moves_are_compared_by_a_player),
        cmocka_unit_test(each_example_is_run_word_by_word),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
