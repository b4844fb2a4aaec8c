/* Diagrams: every man in its place, marks that agree with the analysis, the same in words. */
#include "tests/bench/page/rendered.h"

#include "bench/page/diagram.h"
#include "bench/page/piece_shapes.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"

typedef struct Drawn {
    Position position;
    ps_analysis analysis;
    Rendered r;
} Drawn;

static const char *const positions[] = {
    FEN_START,
    "r1bq1rk1/pp1nbppp/4p3/2ppP3/3P4/2PB1N2/PP1N1PPP/R1BQ1RK1 w - - 0 1",
    "r1bq1rk1/ppp1nppp/3p1n2/3Pp3/2P1P3/2N2N2/PP2BPPP/R1BQ1RK1 b - - 0 1",
    /* D. Kopec, I. Bratko, 1982, numbers 3 and 11: a direction that applies, and one that misleads. */
    "2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - - 0 1",
    "2r1nrk1/p2q1ppp/bp1p4/n1pPp3/P1P1P3/2PBB1N1/4QPPP/R4RK1 w - - 0 1",
    /* A chain of three files; one that runs to the edge; levers that have done their work, cleared and beyond. */
    "r1bq1rk1/ppp1n1bp/3p1n2/3Pp1p1/1PP1Pp2/2N2P2/P3BBPP/R2QNRK1 w - - 0 1",
    "r2qkb1r/pp1b1n1p/2np2pP/2p2pP1/2P1pP2/2N1P3/PP1BN3/R2QKB1R w KQkq - 0 1",
    "r1bq1rk1/pp1nn1bp/3p2p1/3Pp3/4Pp2/2N5/PP2BPPP/R1BQNRK1 w - - 0 1",
};

enum { POSITION_COUNT = sizeof positions / sizeof *positions };

static void analyse(Drawn *drawn, const char *fen)
{
    ps_board board;
    assert_int_equal(fen_parse(fen, false, &drawn->position, NULL), FEN_OK);
    structure_view(&drawn->position, &board);
    ps_analyse(&drawn->analysis, &board);
}

static const char *draw(Drawn *drawn, const char *fen, bool marks, bool flip)
{
    analyse(drawn, fen);
    const Diagram diagram = {.id = "d1",
                             .position = &drawn->position,
                             .analysis = marks ? &drawn->analysis : NULL,
                             .flip = flip,
                             .caption = "As <it> stood"};
    diagram_write(rendered_open(&drawn->r), &diagram);
    return rendered_close(&drawn->r);
}

static void diagrams_are_well_formed(void **state)
{
    (void)state;
    for (int i = 0; i < POSITION_COUNT; i++)
        for (int kind = 0; kind < 4; kind++) {
            Drawn drawn;
            const char *text = draw(&drawn, positions[i], kind & 1, kind & 2);
            assert_well_formed(text);
            assert_int_equal(count_of(text, "id=\"d1-title\""), 1);
            assert_int_equal(count_of(text, "aria-labelledby=\"d1-title\""), 1);
            assert_int_equal(count_of(text, "As &lt;it&gt; stood"), 1);
            free(drawn.r.text);
        }
    Rendered r;
    FILE *out = rendered_open(&r);
    diagram_definitions(out);
    diagram_legend(out);
    assert_well_formed(rendered_close(&r));
    for (int role = 0; role < ROLE_COUNT; role++) {
        char name[32];
        snprintf(name, sizeof name, "id=\"man-%s\"", piece_shapes[role].name);
        assert_int_equal(count_of(r.text, name), 1);
    }
    free(r.text);
}

/* FIDE Laws of Chess, articles 2.2 and 2.3: the men of the initial position. */
static void every_man_is_drawn(void **state)
{
    (void)state;
    Drawn drawn;
    const char *text = draw(&drawn, FEN_START, false, false);
    assert_int_equal(count_of(text, "<use "), 32);
    assert_int_equal(count_of(text, "#man-pawn"), 16);
    assert_int_equal(count_of(text, "#man-knight"), 4);
    assert_int_equal(count_of(text, "#man-queen"), 2);
    assert_int_equal(count_of(text, "class=\"white-man\""), 16);
    free(drawn.r.text);
}

/* Where the white king of a position with White's king on `file`, rank 1, is drawn. */
static void white_king_corner(bool flip, int *x, int *y)
{
    Drawn drawn;
    const char *text = draw(&drawn, "4k3/8/8/8/8/8/8/K7 w - - 0 1", false, flip);
    const char *king = strstr(text, "<use href=\"#man-king\" class=\"white-man\"");
    assert_non_null(king);
    assert_int_equal(sscanf(king, "<use href=\"#man-king\" class=\"white-man\" x=\"%d\" y=\"%d\"", x, y), 2);
    free(drawn.r.text);
}

static void the_board_can_be_turned_round(void **state)
{
    (void)state;
    int x, y, turned_x, turned_y;
    white_king_corner(false, &x, &y);
    white_king_corner(true, &turned_x, &turned_y);
    assert_int_equal(turned_x - x, 700);
    assert_int_equal(y - turned_y, 700);
}

/* FIDE Laws of Chess, article 2.1: the nearer corner square to the right of the player is white. So a1 is
 * dark. */
static void a1_is_dark_and_h1_is_light(void **state)
{
    (void)state;
    Drawn drawn;
    const char *text = draw(&drawn, "4k3/8/8/8/8/8/8/K6R w - - 0 1", false, false);
    int x = 0, y = 0, rook_x = 0, rook_y = 0;
    const char *king = strstr(text, "#man-king\" class=\"white-man\"");
    const char *rook = strstr(text, "#man-rook\" class=\"white-man\"");
    assert_non_null(king);
    assert_non_null(rook);
    sscanf(king, "#man-king\" class=\"white-man\" x=\"%d\" y=\"%d\"", &x, &y);
    sscanf(rook, "#man-rook\" class=\"white-man\" x=\"%d\" y=\"%d\"", &rook_x, &rook_y);
    char corner[32];
    snprintf(corner, sizeof corner, "M%d %dh100", x, y);
    assert_int_equal(count_of(text, corner), 1);
    snprintf(corner, sizeof corner, "M%d %dh100", rook_x, rook_y);
    assert_int_equal(count_of(text, corner), 0);
    free(drawn.r.text);
}

/* Section 4 of the definitions in structure/structure.h counts the squares that are shaded here. */
static void the_room_that_is_shaded_is_the_room_that_is_counted(void **state)
{
    (void)state;
    int plans = 0;
    for (int i = 0; i < POSITION_COUNT; i++) {
        Drawn drawn;
        analyse(&drawn, positions[i]);
        for (int side = 0; side < 2; side++) {
            const ps_plan *plan = &drawn.analysis.plan[side];
            Bitboard room = diagram_room(&drawn.position, &drawn.analysis, side);
            assert_int_equal(count_squares(room), plan->verdict == PS_NONE ? 0 : plan->room);
            plans += plan->verdict != PS_NONE;
        }
    }
    assert_int_equal(plans, 14);
}

static void marks_follow_the_analysis(void **state)
{
    (void)state;
    Drawn drawn;
    const char *text = draw(&drawn, positions[1], true, false);
    assert_int_equal(count_of(text, "class=\"ram\""), 2);
    assert_int_equal(count_of(text, "class=\"chain\""), 2);
    assert_int_equal(count_of(text, "<circle class=\"lever\""), 2);
    assert_int_equal(count_of(text, "class=\"room-white\""), 1);
    assert_non_null(strstr(text, "Ram d4 d5."));
    assert_non_null(
        strstr(text, "White&#39;s chain from d4 to e5 points to the kingside. Base lever f5: obstructed."));
    free(drawn.r.text);

    /* One arrow a side, a shaft and a tip each, at the ends of the whole chain. */
    text = draw(&drawn, positions[5], true, false);
    assert_int_equal(count_of(text, "class=\"ram\""), 3);
    assert_int_equal(count_of(text, "class=\"point\""), 4);
    assert_non_null(
        strstr(text, "White&#39;s chain from f3 to d5 points to the queenside. Base lever c5: ready."));
    assert_non_null(
        strstr(text, "Black&#39;s chain from d6 to f4 points to the kingside. Base lever g4: ready."));
    free(drawn.r.text);

    text = draw(&drawn, positions[1], false, false);
    assert_null(strstr(text, "class=\"ram\""));
    assert_null(strstr(text, "Base lever"));
    free(drawn.r.text);

    text = draw(&drawn, FEN_START, true, false);
    assert_null(strstr(text, "class=\"chain\""));
    free(drawn.r.text);
}

/* In number 11 of the Bratko-Kopec test White's base lever is barred: it is crossed out, in a line that is
 * whole. */
static void a_lever_that_cannot_be_played_is_crossed_out(void **state)
{
    (void)state;
    Drawn drawn;
    const char *text = draw(&drawn, positions[4], true, false);
    assert_non_null(strstr(text, "Base lever c5: barred."));
    assert_true(count_of(text, "stroke-dasharray:none") >= 1);
    free(drawn.r.text);
    text = draw(&drawn, positions[2], true, false);
    assert_int_equal(count_of(text, "stroke-dasharray:none"), 0);
    free(drawn.r.text);
}

/* The strokes of a tick and of a cross. */
static int count_ticks(const char *text)
{
    return count_of(text, "l18 20 30-42");
}

static int count_crosses(const char *text)
{
    return count_of(text, "l58 58m0-58l-58 58");
}

static void a_lever_that_has_done_its_work_is_ticked(void **state)
{
    (void)state;
    Drawn drawn;
    /* White's c5 is cleared, and Black's f5 beyond; c6 is cleared as well, and f4 barred. */
    const char *text = draw(&drawn, positions[7], true, false);
    assert_non_null(strstr(text, "Base lever c5: cleared. Head lever f4: barred."));
    assert_non_null(strstr(text, "Base lever f5: beyond. Head lever c6: cleared."));
    assert_int_equal(count_ticks(text), 3);
    assert_int_equal(count_crosses(text), 1);
    free(drawn.r.text);
    /* Barred levers have no tick, live ones neither. */
    text = draw(&drawn, positions[4], true, false);
    assert_non_null(strstr(text, "Base lever c5: barred."));
    assert_true(count_crosses(text) >= 1);
    free(drawn.r.text);
    text = draw(&drawn, positions[5], true, false);
    assert_int_equal(count_ticks(text) + count_crosses(text), 0);
    free(drawn.r.text);
}

static void a_chain_that_points_off_the_board_has_no_arrow(void **state)
{
    (void)state;
    Drawn drawn;
    const char *text = draw(&drawn, positions[6], true, false);
    assert_well_formed(text);
    assert_non_null(
        strstr(text, "White&#39;s chain from e3 to h6 points off the board. Head lever d3: gone."));
    assert_non_null(
        strstr(text, "Black&#39;s chain from h7 to e4 points to the centre. Base lever d4: open."));
    assert_int_equal(count_of(text, "class=\"point\""), 2);
    assert_int_equal(count_of(text, "<circle class=\"lever\""), 1);
    assert_int_equal(count_of(text, "class=\"room-white\""), 0);
    assert_int_equal(count_squares(diagram_room(&drawn.position, &drawn.analysis, PS_WHITE)), 0);
    free(drawn.r.text);
}

static void arrows_are_drawn_and_described(void **state)
{
    (void)state;
    Drawn drawn;
    analyse(&drawn, positions[1]);
    const DiagramArrow arrows[] = {{F2, F4, "A", false}, {D1, E2, NULL, false}};
    diagram_write(rendered_open(&drawn.r),
                  &(Diagram){.id = "x", .position = &drawn.position, .arrows = arrows, .arrow_count = 2});
    const char *text = rendered_close(&drawn.r);
    assert_well_formed(text);
    assert_int_equal(count_of(text, "class=\"move\""), 2);
    assert_int_equal(count_of(text, "class=\"move-label\""), 1);
    assert_non_null(strstr(text, "A: Arrow from f2 to f4. Arrow from d1 to e2."));
    free(drawn.r.text);
}

static void the_men_are_said_in_words(void **state)
{
    (void)state;
    Drawn drawn;
    const char *text = draw(&drawn, "4k3/pp6/8/8/8/8/8/KR4R1 b - - 0 1", false, false);
    assert_non_null(strstr(text, "Chess diagram, Black to move"));
    assert_non_null(strstr(text, "White: king a1, rooks b1 g1. Black: king e8, pawns a7 b7. "));
    free(drawn.r.text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(diagrams_are_well_formed),
        cmocka_unit_test(every_man_is_drawn),
        cmocka_unit_test(the_board_can_be_turned_round),
        cmocka_unit_test(a1_is_dark_and_h1_is_light),
        cmocka_unit_test(the_room_that_is_shaded_is_the_room_that_is_counted),
        cmocka_unit_test(marks_follow_the_analysis),
        cmocka_unit_test(a_lever_that_cannot_be_played_is_crossed_out),
        cmocka_unit_test(a_lever_that_has_done_its_work_is_ticked),
        cmocka_unit_test(a_chain_that_points_off_the_board_has_no_arrow),
        cmocka_unit_test(arrows_are_drawn_and_described),
        cmocka_unit_test(the_men_are_said_in_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
