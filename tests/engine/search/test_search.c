/* The search against full enumeration, the FIDE Laws, published solutions, and itself. */
#include "tests/engine/protocol/protocol_client.h"

#include "bench/pgn/epd.h"
#include "bench/play/opening.h"
#include "engine/evaluation/evaluate.h"
#include "engine/rules/notation.h"
#include "engine/search/player.h"
#include "engine/search/transposition.h"
#include "tests/engine/rules/playout.h"

#include <pthread.h>

#ifdef PAWNVANE_SLOW
enum { MATE_GAMES = 10, SAME_TREE_DEPTH = 5, SOLVE_NODES = 20000, SOLVED_LEAST = 6 };
#else
enum { MATE_GAMES = 60, SAME_TREE_DEPTH = 9, SOLVE_NODES = 300000, SOLVED_LEAST = 12 };
#endif

static const char french[] = "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 3";
static const char suite[] = "bench/positions/bratko-kopec.epd";

typedef struct Thought {
    SearchResult result;
    int line_count;
    SearchLine lines[MOVES_MAX]; /* the last of each rank, by rank - 1 */
} Thought;

static void note_line(void *context, const Position *root, const SearchLine *line)
{
    Thought *thought = context;
    Position p = *root;
    assert_in_range(line->rank, 1, MOVES_MAX);
    assert_true(line->length > 0 && line->length <= MAX_PLY);
    for (int i = 0; i < line->length; i++) {
        assert_true(movegen_is_legal(&p, line->moves[i]));
        position_play(&p, line->moves[i]);
    }
    thought->lines[line->rank - 1] = *line;
    if (line->rank > thought->line_count)
        thought->line_count = line->rank;
}

static void think_game(Player *player, const Game *game, SearchLimits limits, Thought *thought)
{
    thought->line_count = 0;
    player_think(player, game, &limits, &(SearchListener){.line = note_line, .context = thought},
                 &thought->result);
}

static void think(Player *player, const Position *position, SearchLimits limits, Thought *thought)
{
    Game game;
    assert_true(game_start(&game, position));
    think_game(player, &game, limits, thought);
    game_free(&game);
}

static int start_player(void **state)
{
    *state = player_new(16);
    return *state ? 0 : -1;
}

static int free_player(void **state)
{
    player_free(*state);
    return 0;
}

static Thought thought; /* too large for a stack */

/* -------------------------------------------------------------------------------------------------- mates */

static bool can_mate(const Position *p, int moves)
{
    MoveList list, replies;
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++) {
        Position next = *p;
        position_play(&next, list.moves[i]);
        movegen_all(&next, &replies);
        if (replies.count == 0) {
            if (position_in_check(&next))
                return true;
            continue;
        }
        bool all = moves > 1 && !position_material_is_dead(&next);
        for (int reply = 0; all && reply < replies.count; reply++) {
            Position after = next;
            position_play(&after, replies.moves[reply]);
            all = can_mate(&after, moves - 1);
        }
        if (all)
            return true;
    }
    return false;
}

typedef struct MateTally {
    Player *player;
    int positions, found[3]; /* by moves to mate, 0: none in two */
} MateTally;

static void check_mate_search(void *context, const Position *position)
{
    MateTally *tally = context;
    Position p = *position;
    MoveList list;
    movegen_all(&p, &list);
    if (list.count == 0 || list.count > 30 || position_material_is_dead(&p) || ++tally->positions % 3)
        return;
    p.halfmoves = 0;
    int moves = can_mate(&p, 1) ? 1 : can_mate(&p, 2) ? 2 : 0;
    tally->found[moves]++;
    player_forget(tally->player);
    if (moves == 0) {
        /* Nobody may claim what enumeration denies. */
        think(tally->player, &p, (SearchLimits){.depth = 4}, &thought);
        assert_true(thought.result.line.score < SCORE_MATE - 3);
        return;
    }
    think(tally->player, &p, (SearchLimits){.mate = moves, .depth = 20}, &thought);
    if (thought.result.line.score != SCORE_MATE - (2 * moves - 1)) {
        char fen[FEN_SIZE];
        fen_write(&p, fen);
        fail_msg("%s: mate in %d is scored %d", fen, moves, thought.result.line.score);
    }
}

static void mates_are_those_of_full_enumeration(void **state)
{
    MateTally tally = {.player = *state};
    playout(13, MATE_GAMES, 300, check_mate_search, &tally);
    assert_true(tally.found[0] > 0 && tally.found[1] > 0 && tally.found[2] > 0);
}

static void being_mated_is_counted_too(void **state)
{
    Position p = playout_read("7k/8/6K1/8/8/8/8/R7 b - - 0 1", false);
    think(*state, &p, (SearchLimits){.depth = 5}, &thought);
    assert_int_equal(thought.result.line.score, -(SCORE_MATE - 2));
}

/* A mate is as far from the position in the table as it was when it was found there, whatever the way to
 * it. */
static void mates_in_the_table_count_from_the_position(void **state)
{
    (void)state;
    for (int found_at = 0; found_at < 20; found_at++)
        for (int read_at = 0; read_at < 20; read_at++)
            for (int plies = 0; plies < 20; plies++) {
                int mate = SCORE_MATE - found_at - plies, mated = -mate;
                assert_int_equal(score_from_table(score_to_table(mate, found_at), read_at),
                                 SCORE_MATE - read_at - plies);
                assert_int_equal(score_from_table(score_to_table(mated, found_at), read_at),
                                 -(SCORE_MATE - read_at - plies));
                assert_int_equal(score_from_table(score_to_table(plies, found_at), read_at), plies);
            }
}

/* Positions that are scored under different plans in hand are different ones to the table. */
static void plans_in_hand_share_no_entry(void **state)
{
    enum { KEYS = 200 };
    static const uint64_t plans[] = {0, 1, UINT64_C(0xFEDCBA9876543210), UINT64_MAX};
    enum { PLANS = sizeof plans / sizeof *plans };
    TranspositionTable table;
    TableEntry read;
    (void)state;
    assert_true(table_create(&table, 1));
    for (int i = 0; i < PLANS; i++) {
        Random random = random_seeded(23);
        table_new_search(&table, plans[i]);
        for (int k = 0; k < KEYS; k++) {
            uint64_t key = random_next(&random);
            assert_false(table_probe(&table, key, &read));
            table_store(&table, key, (TableEntry){.move = 0x1234, .score = i, .bound = BOUND_EXACT});
        }
    }
    for (int i = 0; i < PLANS; i++) {
        Random random = random_seeded(23);
        table_new_search(&table, plans[i]);
        for (int k = 0; k < KEYS; k++) {
            assert_true(table_probe(&table, random_next(&random), &read));
            assert_int_equal(read.score, i);
        }
    }
    table_destroy(&table);
}

static int depth_0(Player *player, const char *fen)
{
    Position p = playout_read(fen, false);
    return player_evaluate(player, &p);
}

/* f5 has been exchanged for e6: to a search that begins before it, the lever has been carried
 * out; to one that begins behind it nothing has. */
static void a_search_sees_the_plan_carried_out(void **state)
{
    static const char before[] = "4k3/5p1p/4p3/3pPP2/3P4/8/7P/4K3 w - - 0 1";
    static const char behind[] = "4k3/7p/4p3/3pP3/3P4/8/7P/4K3 w - - 0 2"; /* fxe6 fxe6 */
    Player *player = *state;
    Evaluator evaluator = {
        .weights = &default_weights, .lever_weights = ps_default_weights, .lever_weight = 100};
    Position root = playout_read(before, false), here = playout_read(behind, false);
    assert_true(pawn_table_create(&evaluator.pawns, &default_weights, PS_STRICT));
    uint64_t plans = evaluate_intend(&evaluator, &root);
    assert_true(plans != 0);
    assert_int_equal(evaluate(&evaluator, &root), depth_0(player, before));
    /* Black's f6, which would have attacked the head, is worth less. */
    assert_true(evaluate(&evaluator, &here) > depth_0(player, behind));
    assert_true(evaluate_intend(&evaluator, &here) != plans);
    assert_int_equal(evaluate(&evaluator, &here), depth_0(player, behind));
    /* With the term off there are no plans. */
    evaluator.lever_weight = 0;
    assert_true(evaluate_intend(&evaluator, &root) == 0);
    assert_false(ps_has_intent(&evaluator.intent));
    pawn_table_destroy(&evaluator.pawns);
}

static void the_table_gives_back_what_was_stored(void **state)
{
    static const TableEntry entries[] = {
        {.move = 0x1234, .score = 77, .static_score = -5, .depth = 9, .bound = BOUND_EXACT},
        {.move = NO_MOVE, .score = -SCORE_MATE, .static_score = SCORE_NONE, .depth = 0, .bound = BOUND_UPPER},
        {.move = 0x7fff, .score = SCORE_MATE, .static_score = -31000, .depth = 120, .bound = BOUND_LOWER},
    };
    enum { ENTRIES = sizeof entries / sizeof *entries };
    TranspositionTable table;
    Random random = random_seeded(17);
    (void)state;
    assert_true(table_create(&table, 1));
    for (int i = 0; i < 10000; i++) {
        const TableEntry *e = &entries[i % ENTRIES];
        TableEntry read;
        uint64_t key = random_next(&random);
        assert_false(table_probe(&table, key, &read));
        table_store(&table, key, *e);
        assert_true(table_probe(&table, key, &read));
        assert_int_equal(read.move, e->move);
        assert_int_equal(read.score, e->score);
        assert_int_equal(read.static_score, e->static_score);
        assert_int_equal(read.depth, e->depth);
        assert_int_equal(read.bound, e->bound);
        assert_false(table_probe(&table, key ^ 1, &read));
        if (i % 1000 == 0) {
            table_clear(&table);
            assert_false(table_probe(&table, key, &read));
        }
    }
    table_destroy(&table);
    assert_false(table_create(&table, 0));
}

static void without_a_move_there_is_no_best(void **state)
{
    static const struct {
        const char *fen;
        int score;
    } cases[] = {{"R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1", -SCORE_MATE},
                 {"7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", SCORE_DRAW}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position p = playout_read(cases[i].fen, false);
        think(*state, &p, (SearchLimits){.depth = 5}, &thought);
        assert_int_equal(thought.result.best, NO_MOVE);
        assert_int_equal(thought.result.line.score, cases[i].score);
    }
}

/* -------------------------------------------------------------------------------------------------- draws */

static int score_of(const Thought *t, const Position *p, const char *lan)
{
    Move move;
    assert_int_equal(lan_parse(p, lan, &move), NOTATION_OK);
    for (int i = 0; i < t->line_count; i++)
        if (t->lines[i].moves[0] == move)
            return t->lines[i].score;
    fail_msg("no line begins with %s", lan);
    return SCORE_NONE;
}

/* Rook against rook; whoever does not take loses his. */
static const char rooks[] = "3k4/7r/8/8/8/8/7R/3K4 w - - 4 10";
static const SearchLimits all_lines = {.depth = 6, .lines = MOVES_MAX};

/* FIDE Laws of Chess, article 9.2: the move that makes the position appear for the third time draws, and no
 * other does. */
static void repetition_is_a_draw(void **state)
{
    static const char *const cycle[] = {"d1e1", "d8e8", "e1d1", "e8d8"};
    Position p = playout_read(rooks, false);
    Game game;
    think(*state, &p, all_lines, &thought);
    assert_true(score_of(&thought, &p, "d1e1") < -200);
    assert_true(score_of(&thought, &p, "h2h7") > 200);

    /* Once round, the move d1e1 leads to where the game has been once; twice round, twice. */
    assert_true(game_start(&game, &p));
    for (int rounds = 1; rounds <= 2; rounds++) {
        for (int i = 0; i < 4; i++) {
            Move move;
            assert_int_equal(lan_parse(&game.position, cycle[i], &move), NOTATION_OK);
            assert_true(game_play(&game, move));
        }
        player_forget(*state);
        think_game(*state, &game, all_lines, &thought);
        assert_true(score_of(&thought, &p, "d1e2") < -200);
        assert_true(score_of(&thought, &p, "h2h7") > 200);
        if (rounds == 1)
            assert_true(score_of(&thought, &p, "d1e1") < -200);
        else
            assert_int_equal(score_of(&thought, &p, "d1e1"), SCORE_DRAW);
    }
    game_free(&game);
}

/* FIDE Laws of Chess, article 9.3; a mate on the last move counts (9.6.2). */
static void fifty_moves_are_a_draw(void **state)
{
    Position p = playout_read("3k4/7r/8/8/8/8/7R/3K4 w - - 99 100", false);
    think(*state, &p, all_lines, &thought);
    assert_int_equal(score_of(&thought, &p, "d1e1"), SCORE_DRAW);
    assert_true(score_of(&thought, &p, "h2h7") > 200);
    p = playout_read("6k1/5ppp/8/8/8/8/8/R3K3 w - - 99 100", false);
    think(*state, &p, all_lines, &thought);
    assert_int_equal(score_of(&thought, &p, "a1a8"), SCORE_MATE - 1);
    assert_int_equal(score_of(&thought, &p, "a1a7"), SCORE_DRAW);
}

/* What was a draw because the fifty moves were nearly over is none when they begin. */
static void draws_near_fifty_moves_do_not_stay(void **state)
{
    Position p = playout_read("8/8/8/3k4/8/8/8/R3K3 w - - 90 100", false);
    think(*state, &p, (SearchLimits){.depth = 12}, &thought);
    assert_int_equal(thought.result.line.score, SCORE_DRAW);
    p = playout_read("8/8/8/3k4/8/8/8/R3K3 w - - 0 100", false);
    for (int depth = 1; depth <= 6; depth++) {
        think(*state, &p, (SearchLimits){.depth = depth}, &thought);
        assert_true(thought.result.line.score > 200);
    }
}

/* FIDE Laws of Chess, articles 5.2.1 and 5.2.2. */
static void stalemate_and_dead_material_are_draws(void **state)
{
    Position p = playout_read("8/8/8/8/8/3k4/8/Kr6 w - - 0 1", false);
    think(*state, &p, all_lines, &thought);
    assert_int_equal(score_of(&thought, &p, "a1b1"), SCORE_DRAW);
    assert_true(score_of(&thought, &p, "a1a2") < -200);
    p = playout_read("7k/8/6K1/8/8/8/8/5Q2 w - - 0 1", false);
    think(*state, &p, all_lines, &thought);
    assert_int_equal(score_of(&thought, &p, "f1f7"), SCORE_DRAW);
    assert_int_equal(score_of(&thought, &p, "f1f8"), SCORE_MATE - 1);
}

/* What every textbook of endings says is won with correct play within the fifty moves: two bishops, bishop
 * and knight (with its corner of the right colour), a rook; common practice, no source. */
static void elementary_mates_are_won(void **state)
{
    enum { NODES = 20000, PLIES = 100 };
    static const char *const wins[] = {
        "8/8/8/3k4/8/8/4BB2/4K3 w - - 0 1", "8/8/4k3/8/8/8/4BN2/4K3 w - - 0 1",
        "8/8/3k4/8/8/3B4/3N4/K7 w - - 0 1", "8/8/8/8/3K4/8/8/1b1nk3 b - - 0 1",
        "8/8/8/3k4/8/8/8/R3K3 w - - 0 1",
    };
    for (size_t i = 0; i < sizeof wins / sizeof *wins; i++) {
        Position p = playout_read(wins[i], false);
        Game game;
        assert_true(game_start(&game, &p));
        player_forget(*state);
        while (game_end(&game, true) == GAME_GOES_ON) {
            think_game(*state, &game, (SearchLimits){.nodes = NODES}, &thought);
            assert_true(game_play(&game, thought.result.best));
        }
        print_message("%s: %s after %zu plies\n", wins[i], game_end_text(game_end(&game, true)),
                      game.count - 1);
        assert_int_equal(game_end(&game, true), GAME_CHECKMATE);
        assert_true(game.count <= PLIES + 1);
        game_free(&game);
    }
}

/* Thirty-five moves are the most that queen against rook needs (K. Thompson, "Retrograde Analysis of Certain Endgames",
 * ICCA Journal 9(3), 1986, from memory); these need between 25 and 32. */
static void queen_against_rook_is_won_in_time(void **state)
{
    enum { NODES = 2000, PLIES = 70 };
    static const char *const wins[] = {
        "1K6/8/k7/5Q2/8/1r6/8/8 w - - 0 1",
        "2K5/8/3k4/1r6/8/8/8/4Q3 w - - 0 1",
        "8/8/8/3R4/2K5/8/k7/q7 b - - 0 1",
    };
    for (size_t i = 0; i < sizeof wins / sizeof *wins; i++) {
        Position p = playout_read(wins[i], false);
        Game game;
        assert_true(game_start(&game, &p));
        while (game_end(&game, true) == GAME_GOES_ON) {
            think_game(*state, &game, (SearchLimits){.nodes = NODES}, &thought);
            assert_true(game_play(&game, thought.result.best));
        }
        assert_int_equal(game_end(&game, true), GAME_CHECKMATE);
        assert_true(game.count <= PLIES + 1);
        game_free(&game);
    }
}

/* Bishop and knight need up to 33 moves, a rook up to 16 (Thompson, T. Ströhlein 1970, from memory): whatever is told
 * as a mate is one, and not further off than that. What cannot be shown is a high score. */
static void a_mate_that_is_told_is_played(void **state)
{
    static const struct {
        const char *fen;
        int moves;
    } wins[] = {{"8/8/4k3/8/8/8/4BN2/4K3 w - - 0 1", 33}, {"8/5k2/8/8/K7/R7/8/8 w - - 0 60", 16}};
    for (size_t i = 0; i < sizeof wins / sizeof *wins; i++)
        for (uint64_t nodes = 1000; nodes <= 300000; nodes *= 7) {
            Position p = playout_read(wins[i].fen, false);
            player_forget(*state);
            think(*state, &p, (SearchLimits){.nodes = nodes}, &thought);
            const SearchLine *line = &thought.result.line;
            assert_true(line->score > 100);
            if (!score_is_mate(line->score))
                continue;
            assert_in_range(score_mate_moves(line->score), 1, wins[i].moves);
            assert_int_equal(line->length, 2 * score_mate_moves(line->score) - 1);
            for (int k = 0; k < line->length; k++)
                position_play(&p, line->moves[k]);
            assert_true(position_in_check(&p) && !movegen_any(&p));
        }
}

/* Without other limits: a search for a mate that is not there ends by itself. */
static void a_search_for_a_mate_ends(void **state)
{
    static const struct {
        const char *fen;
        int asked, found; /* moves; 0: none */
    } cases[] = {
        {FEN_START, 2, 0},
        {"r1bqkb1r/pppp1ppp/2n2n2/4p2Q/2B1P3/8/PPPP1PPP/RNB1K1NR w KQkq - 4 4", 3, 1},
        {"r1bqkb1r/pppp1ppp/2n2n2/4p3/2B1P3/5N2/PPPP1PPP/RNBQK2R w KQkq - 4 4", 2, 0},
        {"8/5k2/8/8/K7/R7/8/8 w - - 0 60", 5, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position p = playout_read(cases[i].fen, false);
        player_forget(*state);
        think(*state, &p, (SearchLimits){.mate = cases[i].asked}, &thought);
        int score = thought.result.line.score;
        bool within = score_is_win(score) && score_mate_moves(score) <= cases[i].asked;
        assert_int_equal(within ? score_mate_moves(score) : 0, cases[i].found);
    }
}

/* Common practice, no source. */
static void known_draws_are_near_0(void **state)
{
    static const char *const draws[] = {
        "8/8/8/8/8/3k4/8/NN2K3 w - - 0 1",  "2k5/8/8/5r2/8/2N5/8/3RK3 w - - 0 1",
        "7k/8/8/5K1P/7P/3B4/8/8 w - - 0 1", "8/1pk5/r7/8/3K4/8/4Q3/8 w - - 0 1",
        "8/2k1b3/8/8/8/8/8/3RK3 w - - 0 1",
    };
    for (size_t i = 0; i < sizeof draws / sizeof *draws; i++) {
        Position p = playout_read(draws[i], false);
        player_forget(*state);
        think(*state, &p, (SearchLimits){.nodes = 20000}, &thought);
        if (abs(thought.result.line.score) > 40)
            fail_msg("%s: %d", draws[i], thought.result.line.score);
    }
}

/* ------------------------------------------------------------------------------------------------- limits */

static void node_limits_are_exact(void **state)
{
    static const uint64_t limits[] = {1, 2, 999, 10000, 54321};
    Position p = playout_read(french, false);
    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
        player_forget(*state);
        think(*state, &p, (SearchLimits){.nodes = limits[i]}, &thought);
        assert_int_equal(thought.result.nodes, limits[i]);
        assert_true(movegen_is_legal(&p, thought.result.best));
        assert_true(thought.result.nodes_to_choice <= limits[i]);
        for (int part = 0; part < SEARCH_PARTS; part++)
            assert_true(thought.result.cutoffs[part].by_first_move <= thought.result.cutoffs[part].all);
    }
}

static void depth_limits_hold(void **state)
{
    Position p = playout_read(french, false);
    for (int depth = 1; depth <= 8; depth++) {
        player_forget(*state);
        think(*state, &p, (SearchLimits){.depth = depth}, &thought);
        assert_int_equal(thought.result.line.depth, depth);
        assert_true(thought.result.line.deepest >= depth);
        assert_int_equal(thought.result.line.moves[0], thought.result.best);
    }
}

static void only_the_wanted_moves_are_considered(void **state)
{
    Position p = playout_read(french, false);
    MoveList all, only = {.count = 1};
    movegen_all(&p, &all);
    for (int i = 0; i < all.count; i++) {
        only.moves[0] = all.moves[i];
        think(*state, &p, (SearchLimits){.depth = 3, .only = &only}, &thought);
        assert_int_equal(thought.result.best, all.moves[i]);
    }
}

static void lines_are_different_and_in_order(void **state)
{
    Position p = playout_read(french, false);
    think(*state, &p, (SearchLimits){.depth = 6, .lines = 5}, &thought);
    assert_int_equal(thought.line_count, 5);
    for (int i = 0; i < 5; i++) {
        assert_int_equal(thought.lines[i].depth, 6);
        for (int j = 0; j < i; j++) {
            assert_true(thought.lines[i].moves[0] != thought.lines[j].moves[0]);
            assert_true(thought.lines[i].score <= thought.lines[j].score);
        }
    }
    /* There are never more lines than moves. */
    p = playout_read("7k/8/8/8/8/8/4q3/7K w - - 0 1", false);
    think(*state, &p, (SearchLimits){.depth = 4, .lines = 5}, &thought);
    assert_int_equal(thought.line_count, 1);
}

static void *think_for_ever(void *context)
{
    Position p = playout_read(french, false);
    think(context, &p, (SearchLimits){.depth = 0}, &thought);
    return NULL;
}

static void stop_ends_an_endless_search(void **state)
{
    Player *player = *state;
    pthread_t thread;
    for (int i = 0; i < 20; i++) {
        player_prepare(player, false);
        assert_int_equal(pthread_create(&thread, NULL, think_for_ever, player), 0);
        if (i % 2)
            usleep(5000);
        player_stop(player);
        assert_int_equal(pthread_join(thread, NULL), 0);
        assert_true(thought.result.best != NO_MOVE);
    }
}

static void the_table_can_be_resized(void **state)
{
    Player *player = *state;
    Position p = playout_read(french, false);
    assert_true(player_resize(player, 1));
    think(player, &p, (SearchLimits){.nodes = 50000}, &thought);
    assert_int_equal(thought.result.nodes, 50000);
    assert_true(thought.lines[0].table_permille > 0);
    assert_true(player_resize(player, 3));
    think(player, &p, (SearchLimits){.nodes = 50000}, &thought);
    assert_int_equal(thought.result.nodes, 50000);
    assert_false(player_resize(player, SIZE_MAX >> 1));
    think(player, &p, (SearchLimits){.nodes = 50000}, &thought);
    assert_int_equal(thought.result.nodes, 50000);
}

/* -------------------------------------------------------------------------------------------- determinism */

static void assert_same_search(const SearchResult *a, const SearchResult *b)
{
    assert_int_equal(a->nodes, b->nodes);
    assert_int_equal(a->best, b->best);
    assert_int_equal(a->ponder, b->ponder);
    assert_int_equal(a->nodes_to_choice, b->nodes_to_choice);
    assert_memory_equal(a->cutoffs, b->cutoffs, sizeof a->cutoffs);
    assert_int_equal(a->line.score, b->line.score);
    assert_int_equal(a->line.length, b->line.length);
    assert_memory_equal(a->line.moves, b->line.moves, (size_t)a->line.length * sizeof(Move));
}

static void forgetting_makes_searches_equal(void **state)
{
    Position p = playout_read(french, false);
    SearchResult first;
    think(*state, &p, (SearchLimits){.depth = 7}, &thought);
    first = thought.result;
    think(*state, &p, (SearchLimits){.depth = 7}, &thought);
    assert_true(thought.result.nodes < first.nodes);
    player_forget(*state);
    think(*state, &p, (SearchLimits){.depth = 7}, &thought);
    assert_same_search(&thought.result, &first);
    /* Other settings in between leave no trace; nor do searches of other positions. */
    player_settings(*state)->lever_weight = 500;
    player_settings(*state)->lever_rule = PS_LOOSE;
    think(*state, &p, (SearchLimits){.depth = 7}, &thought);
    assert_true(thought.result.nodes != first.nodes);
    player_settings(*state)->lever_weight = 100;
    player_settings(*state)->lever_rule = PS_STRICT;
    think(*state, &p, (SearchLimits){.depth = 7}, &thought);
    assert_same_search(&thought.result, &first);
}

/* By the clock a player whose moves have left most of their shares takes more time for the next, until it forgets. Of an only
 * move it leaves nearly all. */
static void time_that_moves_leave_is_used(void **state)
{
    enum { ONLY_MOVES = 8, TIMES = 6 };
    static const int64_t soft_ms[TIMES] = {20, 27, 36, 48, 64, 86};
    Position only = playout_read("k7/8/8/8/8/8/1r6/K7 w - - 0 1", false), p = playout_read(french, false);
    Parameters *parameters = &player_settings(*state)->parameters;
    const int stretch = parameters->share_stretch;
    uint64_t nodes[2] = {0}; /* without and with */
    for (int time = 0; time < TIMES; time++)
        for (int with = 0; with <= 1; with++) {
            const SearchLimits limits = {.soft_ms = soft_ms[time], .hard_ms = 10000, .pace = 500000};
            parameters->share_stretch = with ? stretch : 100;
            player_forget(*state);
            think(*state, &p, limits, &thought);
            SearchResult fresh = thought.result;
            player_forget(*state);
            for (int i = 0; i < ONLY_MOVES; i++) {
                think(*state, &only, limits, &thought);
                assert_true(thought.result.nodes < 500);
            }
            think(*state, &p, limits, &thought);
            nodes[with] += thought.result.nodes;
            player_forget(*state);
            think(*state, &p, limits, &thought);
            assert_same_search(&thought.result, &fresh);
        }
    assert_true(nodes[1] > nodes[0]);
}

/* In another order: what was searched before makes no difference once it is forgotten. */
static void earlier_searches_leave_no_trace(void **state)
{
    enum { EVERY = 3 };
    const SearchLimits limits = {.nodes = 4000};
    OpeningSet set = {0};
    assert_true(openings_read(&set, "bench/openings/strata.epd"));
    int count = (int)set.count / EVERY;
    SearchResult *results = calloc((size_t)count, sizeof *results);
    assert_non_null(results);
    for (int i = 0; i < count; i++) {
        player_forget(*state);
        think(*state, &set.items[EVERY * i].position, limits, &thought);
        results[i] = thought.result;
    }
    for (int i = count - 1; i >= 0; i--) {
        player_forget(*state);
        think(*state, &set.items[EVERY * i].position, limits, &thought);
        assert_same_search(&thought.result, &results[i]);
    }
    free(results);
    openings_free(&set);
}

typedef struct Twin {
    Player *player;
    SearchResult result;
} Twin;

static void *think_beside(void *context)
{
    Twin *twin = context;
    Position p = playout_read(french, false);
    Game game;
    if (game_start(&game, &p))
        player_think(twin->player, &game, &(SearchLimits){.nodes = 100000}, NULL, &twin->result);
    game_free(&game);
    return NULL;
}

static void players_share_nothing(void **state)
{
    enum { TWINS = 3 };
    Twin twins[TWINS];
    pthread_t threads[TWINS];
    (void)state;
    for (int i = 0; i < TWINS; i++) {
        twins[i].player = player_new(4);
        assert_non_null(twins[i].player);
        assert_int_equal(pthread_create(&threads[i], NULL, think_beside, &twins[i]), 0);
    }
    for (int i = 0; i < TWINS; i++) {
        assert_int_equal(pthread_join(threads[i], NULL), 0);
        assert_same_search(&twins[i].result, &twins[0].result);
        player_free(twins[i].player);
    }
}

/* Cuts out a word and the number behind it. */
static void cut_number(char *line, const char *word)
{
    char *start = strstr(line, word);
    if (start) {
        char *end = start + strlen(word);
        end += strspn(end, "0123456789");
        memmove(start, end, strlen(end) + 1);
    }
}

/* What an engine says in a search from a cold start, times left out. */
static void read_transcript(Client *client, const char *fields, char *text, size_t size)
{
    client_send(client, "ucinewgame\nposition fen %s\ngo depth %d", fields, SAME_TREE_DEPTH);
    text[0] = '\0';
    do {
        assert_true(client_read(client));
        cut_number(client->line, " nps ");
        cut_number(client->line, " time ");
        assert_true(strlen(text) + strlen(client->line) + 2 < size);
        strcat(strcat(text, client->line), "\n");
    } while (!starts_with(client->line, "bestmove "));
}

enum { ENGINES = 5, TRANSCRIPT_SIZE = 1 << 16 };

typedef struct Comparison {
    Client clients[ENGINES];
    int positions, differ;
} Comparison;

static bool compare_transcripts(void *context, const EpdRecord *record)
{
    static char texts[ENGINES][TRANSCRIPT_SIZE];
    Comparison *c = context;
    for (int i = 0; i < ENGINES; i++)
        read_transcript(&c->clients[i], record->fields, texts[i], TRANSCRIPT_SIZE);
    assert_string_equal(texts[1], texts[0]);
    assert_string_equal(texts[2], texts[0]);
    assert_string_equal(texts[4], texts[3]);
    c->positions++;
    c->differ += strcmp(texts[0], texts[3]) != 0;
    return true;
}

/* The definitions, section 8, property 6: at weight 0 the search visits the same nodes as an engine built
 * without the term. And every compiler and machine gives the same tree: the second pair of engines were built
 * with different compilers, one for this machine and one for any. */
static void the_same_tree_everywhere(void **state)
{
    static Comparison c;
    static const struct {
        const char *program;
        int weight;
    } engines[ENGINES] = {{"pawnvane", 0},
                          {"no-term/pawnvane", 0},
                          {"no-term/pawnvane", 100},
                          {"pawnvane", 100},
                          {"other/pawnvane", 100}};
    (void)state;
    for (int i = 0; i < ENGINES; i++) {
        client_start(&c.clients[i], engines[i].program);
        client_send(&c.clients[i], "setoption name LeverWeight value %d", engines[i].weight);
    }
    assert_true(epd_read_file(suite, compare_transcripts, &c));
    assert_true(epd_read_file("bench/positions/scenario.epd", compare_transcripts, &c));
    assert_true(c.positions >= 24);
    /* With the term the search is another one, or there would be nothing to compare. */
    assert_true(c.differ > 0);
    for (int i = 0; i < ENGINES; i++)
        client_quit(&c.clients[i]);
}

/* ------------------------------------------------------------------------------------ published solutions */

typedef struct Solving {
    Player *player;
    int positions, solved;
} Solving;

static bool solve(void *context, const EpdRecord *record)
{
    Solving *solving = context;
    MoveList best;
    char error[EPD_ERROR_SIZE];
    assert_true(epd_moves(record, "bm", &best, error));
    player_forget(solving->player);
    think(solving->player, &record->position, (SearchLimits){.nodes = SOLVE_NODES}, &thought);
    solving->positions++;
    for (int i = 0; i < best.count; i++)
        solving->solved += best.moves[i] == thought.result.best;
    return true;
}

/* D. Kopec, I. Bratko, in "Advances in Computer Chess 3", 1982. How many a sound search solves with so few
 * nodes is common practice, no source; far fewer means that something is broken. */
static void the_published_test_is_mostly_solved(void **state)
{
    Solving solving = {.player = *state};
    assert_true(epd_read_file(suite, solve, &solving));
    assert_int_equal(solving.positions, 24);
    print_message("solved %d of 24 at %d nodes\n", solving.solved, SOLVE_NODES);
    assert_true(solving.solved >= SOLVED_LEAST);
}

#define WITH_PLAYER(test) cmocka_unit_test_setup_teardown(test, start_player, free_player)

int main(void)
{
    const struct CMUnitTest tests[] = {
        WITH_PLAYER(mates_are_those_of_full_enumeration),
        WITH_PLAYER(being_mated_is_counted_too),
        cmocka_unit_test(mates_in_the_table_count_from_the_position),
        cmocka_unit_test(the_table_gives_back_what_was_stored),
        cmocka_unit_test(plans_in_hand_share_no_entry),
        WITH_PLAYER(a_search_sees_the_plan_carried_out),
        WITH_PLAYER(without_a_move_there_is_no_best),
        WITH_PLAYER(repetition_is_a_draw),
        WITH_PLAYER(fifty_moves_are_a_draw),
        WITH_PLAYER(draws_near_fifty_moves_do_not_stay),
        WITH_PLAYER(stalemate_and_dead_material_are_draws),
        WITH_PLAYER(elementary_mates_are_won),
        WITH_PLAYER(queen_against_rook_is_won_in_time),
        WITH_PLAYER(a_mate_that_is_told_is_played),
        WITH_PLAYER(a_search_for_a_mate_ends),
        WITH_PLAYER(known_draws_are_near_0),
        WITH_PLAYER(node_limits_are_exact),
        WITH_PLAYER(depth_limits_hold),
        WITH_PLAYER(only_the_wanted_moves_are_considered),
        WITH_PLAYER(lines_are_different_and_in_order),
        WITH_PLAYER(stop_ends_an_endless_search),
        WITH_PLAYER(the_table_can_be_resized),
        WITH_PLAYER(forgetting_makes_searches_equal),
        WITH_PLAYER(time_that_moves_leave_is_used),
        WITH_PLAYER(earlier_searches_leave_no_trace),
        cmocka_unit_test(players_share_nothing),
        cmocka_unit_test(the_same_tree_everywhere),
        WITH_PLAYER(the_published_test_is_mostly_solved),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
