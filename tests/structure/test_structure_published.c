/* The definitions against a published test of lever play, and against opening manuals. The test: D. Kopec, I. Bratko, "The Bratko-Kopec experiment",
 * in Advances in Computer Chess 3 (ed. M. R. B. Clarke), 1982: 24 positions, of which 12 are classed as lever
 * positions, with their best moves. */
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"
#include "tests/structure/structure_boards.h"

typedef struct LeverPosition {
    int number;
    const char *fen;
    const char *best; /* those of the published moves that push a pawn, as the goal square */
} LeverPosition;

static const LeverPosition positions[] = {
    {2, "3r1k2/4npp1/1ppr3p/p6P/P2PPPP1/1NR5/5K2/2R5 w", "d5"},
    {3, "2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b", "f5"},
    {5, "r1b2rk1/2q1b1pp/p2ppn2/1p6/3QP3/1BN1B3/PPP3PP/R4RK1 w", "a4"},
    {6, "2r3k1/pppR1pp1/4p3/4P1P1/5P2/1P4K1/P1P5/8 w", "g6"},
    {8, "4b3/p3kp2/6p1/3pP2p/2pP1P2/4K1P1/P3N2P/8 w", "f5"},
    {9, "2kr1bnr/pbpq4/2n1pp2/3p3p/3P1P1B/2N2N1Q/PPP3PP/2KR1B1R w", "f5"},
    {11, "2r1nrk1/p2q1ppp/bp1p4/n1pPp3/P1P1P3/2PBB1N1/4QPPP/R4RK1 w", "f4"},
    {13, "r2q1rk1/4bppp/p2p4/2pP4/3pP3/3Q4/PP1B1PPP/R3R1K1 w", "b4"},
    {17, "r2q1rk1/1ppnbppp/p2p1nb1/3Pp3/2P1P1P1/2N2N1P/PPB1QP2/R1B2RK1 b", "h5"},
    {20, "r4k2/pb2bp1r/1p1qp2p/3pNp2/3P1P2/2N3P1/PPP1Q2P/2KRR3 w", "g4"},
    {23, "r1bqk2r/pp2bppp/2p5/3pP3/P2Q1P2/2N1B3/1PP3PP/R4RK1 b", "f6"},
    {24, "r2qnrnk/p2b2b1/1p1p2pp/2pPpp2/1PP1P3/PRNBB3/3QNPPP/5RK1 w", "f4"},
};

static const LeverPosition *numbered(int number)
{
    for (size_t i = 0; i < sizeof positions / sizeof *positions; i++)
        if (positions[i].number == number)
            return &positions[i];
    fail_msg("no position %d", number);
    return NULL;
}

/* The break of the side to move that the publication calls best. */
static ps_break published_break(const LeverPosition *position, const ps_analysis *analysis, ps_side to_move)
{
    const ps_break_list *breaks = &analysis->breaks[to_move];
    for (int i = 0; i < breaks->count; i++)
        if (breaks->items[i].to == square_named(position->best))
            return breaks->items[i];
    fail_msg("number %d: %s is no break", position->number, position->best);
    return (ps_break){.from = PS_NO_SQUARE};
}

static void the_published_move_is_a_break(void **state)
{
    (void)state;
    assert_int_equal(sizeof positions / sizeof *positions, 12);
    for (size_t i = 0; i < sizeof positions / sizeof *positions; i++) {
        Placed placed;
        ps_analysis analysis;
        place_fen(&placed, positions[i].fen);
        ps_analyse(&analysis, &placed.board);
        published_break(&positions[i], &analysis, placed.board.to_move);
    }
}

/* The plan as "verdict files region lever status". */
static void assert_plan(const ps_analysis *analysis, ps_side side, const char *expected)
{
    const ps_plan *plan = &analysis->plan[side];
    const ps_chain *chain = &analysis->chains[plan->chain];
    const ps_lever *lever = ps_plan_lever(analysis, side);
    char found[80];
    assert_non_null(lever);
    snprintf(found, sizeof found, "%s %s %s %s %s", ps_verdict_name(plan->verdict),
             ps_files_name(chain->first_file, chain->last_file), ps_region_name(plan->region),
             ps_square_name(lever->square), ps_status_name(lever->status));
    assert_string_equal(found, expected);
}

static void assert_published(int number, ps_verdict verdict, const char *lever, ps_status status,
                             ps_break_kind kind)
{
    Placed placed;
    ps_analysis analysis;
    const LeverPosition *position = numbered(number);
    place_fen(&placed, position->fen);
    ps_analyse(&analysis, &placed.board);
    ps_side side = placed.board.to_move;
    assert_int_equal(analysis.plan[side].verdict, verdict);
    assert_int_equal(published_break(position, &analysis, side).kind, kind);
    assert_string_equal(ps_square_name(ps_plan_lever(&analysis, side)->square), lever);
    assert_int_equal(ps_plan_lever(&analysis, side)->status, status);
}

static void where_the_direction_helps_and_misleads(void **state)
{
    (void)state;
    assert_published(3, PS_APPLIES, "f5", PS_READY, PS_BASE);
    assert_published(11, PS_MISLEADING, "c5", PS_BARRED, PS_HEAD);
    assert_published(24, PS_MISLEADING, "c5", PS_BARRED, PS_HEAD);
    assert_published(17, PS_APPLIES, "f5", PS_OBSTRUCTED, PS_OTHER);
}

/* Number 7, classed as tactical: one chain on c, d and e. White's lever is barred, Black's is not c5 but b4. */
static void a_chain_of_three_files(void **state)
{
    (void)state;
    Placed placed;
    ps_analysis analysis;
    place_fen(&placed, "1nk1r1r1/pp2n1pp/4p3/q2pPp1N/b1pP1P2/B1P2R2/2P1B1PP/R2Q2K1 w");
    ps_analyse(&analysis, &placed.board);
    assert_plan(&analysis, PS_WHITE, "misleading cde kingside f5 barred");
    assert_plan(&analysis, PS_BLACK, "applies cde queenside b4 unsupported");
}

/* ------------------------------------------------------------------------------------- opening manuals */

/* Main lines as any manual of the openings gives them, with their codes of the Encyclopaedia of Chess Openings;
 * from memory. What the plans are is common practice. */
static void analyse_line(ps_analysis *analysis, const char *line)
{
    Position position;
    ps_board board;
    char moves[512];
    assert_true(strlen(line) < sizeof moves);
    strcpy(moves, line);
    assert_int_equal(fen_parse(FEN_START, false, &position, NULL), FEN_OK);
    for (char *word = strtok(moves, " "); word != NULL; word = strtok(NULL, " ")) {
        Move move;
        if (san_parse(&position, word, &move) != NOTATION_OK)
            fail_msg("%s: %s", line, word);
        position_play(&position, move);
    }
    structure_view(&position, &board);
    ps_analyse(analysis, &board);
}

/* E99: both sides' levers are ready, and 14.c5 and ...g4 follow. */
static void the_kings_indian(void **state)
{
    (void)state;
    ps_analysis analysis;
    analyse_line(&analysis, "d4 Nf6 c4 g6 Nc3 Bg7 e4 d6 Nf3 O-O Be2 e5 O-O Nc6 d5 Ne7 Ne1 Nd7 Be3 f5 f3 f4 "
                            "Bf2 g5 b4 Nf6");
    assert_int_equal(analysis.chain_count, 1);
    assert_plan(&analysis, PS_WHITE, "applies def queenside c5 ready");
    assert_plan(&analysis, PS_BLACK, "applies def kingside g4 ready");
    /* Before ...f4 the chain was de, and f5 had been played. */
    analyse_line(&analysis, "d4 Nf6 c4 g6 Nc3 Bg7 e4 d6 Nf3 O-O Be2 e5 O-O Nc6 d5 Ne7 Ne1 Nd7 Be3 f5 f3");
    assert_plan(&analysis, PS_WHITE, "applies de queenside c5 unsupported");
    assert_plan(&analysis, PS_BLACK, "applies de kingside f5 played");
}

/* C02, the line with 6.a3 c4. */
static void the_french_advance(void **state)
{
    (void)state;
    ps_analysis analysis;
    analyse_line(&analysis, "e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3 Qb6 a3");
    assert_plan(&analysis, PS_WHITE, "applies de kingside f5 obstructed");
    assert_plan(&analysis, PS_BLACK, "applies de queenside c5 played");
    analyse_line(&analysis, "e4 e6 d4 d5 e5 c5 c3 Nc6 Nf3 Qb6 a3 c4");
    assert_int_equal(analysis.chain_count, 1);
    assert_plan(&analysis, PS_WHITE, "applies cde kingside f5 obstructed");
    assert_plan(&analysis, PS_BLACK, "applies cde queenside b4 obstructed");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_published_move_is_a_break),
        cmocka_unit_test(where_the_direction_helps_and_misleads),
        cmocka_unit_test(a_chain_of_three_files),
        cmocka_unit_test(the_kings_indian),
        cmocka_unit_test(the_french_advance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
