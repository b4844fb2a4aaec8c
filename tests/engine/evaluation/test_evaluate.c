/* The static evaluation: its symmetries, its memory, and a few facts that every player knows. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/evaluation/evaluate.h"
#include "engine/evaluation/structure_view.h"
#include "engine/search/player.h"
#include "tests/engine/rules/playout.h"

#ifdef PAWNVANE_SLOW
enum { GAMES = 30 };
#else
enum { GAMES = 300 };
#endif

static int start_player(void **state)
{
    *state = player_new(1);
    return *state ? 0 : -1;
}

static int free_player(void **state)
{
    player_free(*state);
    return 0;
}

static int evaluate_fen(Player *player, const char *fen)
{
    Position p = playout_read(fen, false);
    return player_evaluate(player, &p);
}

/* The same position with the wings changed round. Without castling rights, which know a king's side. */
static Position mirror_files(const Position *p)
{
    Position mirrored;
    position_clear(&mirrored);
    for (Square s = A1; s <= H8; s++)
        if (position_role(p, s) != NO_ROLE)
            position_put(&mirrored, (p->by_side[WHITE] & bit(s)) ? WHITE : BLACK, position_role(p, s),
                         flip_files(s));
    mirrored.side_to_move = p->side_to_move;
    position_refresh(&mirrored);
    return mirrored;
}

typedef struct Symmetry {
    Player *player;
    int positions, nonzero_terms;
} Symmetry;

static int term_of(const Position *p, ps_rule rule, const ps_weights *weights)
{
    const uint64_t pawns[2] = {position_men(p, WHITE, PAWN), position_men(p, BLACK, PAWN)};
    ps_skeleton skeleton;
    ps_board board;
    ps_read_skeleton(&skeleton, pawns, rule);
    structure_view(p, &board);
    return ps_term(&skeleton, &board, weights);
}

static void check_symmetry(void *context, const Position *p)
{
    Symmetry *s = context;
    PlayerSettings *settings = player_settings(s->player);
    Position colours = playout_mirror(p), files = mirror_files(p);
    int score = player_evaluate(s->player, p);
    assert_false(score_is_mate(score));
    if (score != player_evaluate(s->player, &colours) || score != player_evaluate(s->player, &files)) {
        char fen[FEN_SIZE];
        fen_write(p, fen);
        fail_msg("%s: %d, colours changed %d, wings changed %d", fen, score,
                 player_evaluate(s->player, &colours), player_evaluate(s->player, &files));
    }
    s->positions++;
    s->nonzero_terms += term_of(p, settings->lever_rule, &settings->lever_weights) != 0;
}

/* The game is symmetric in the colours, and but for castling in the wings: so is every evaluation of it. */
static void check_symmetries(void **state, ps_rule rule, int weight)
{
    Symmetry s = {.player = *state};
    player_settings(s.player)->lever_rule = rule;
    player_settings(s.player)->lever_weight = weight;
    playout(14 + (uint64_t)weight, GAMES, 150, check_symmetry, &s);
    assert_true(s.positions > 20 * GAMES);
    assert_true(s.nonzero_terms > 0);
}

static void colours_and_wings_weigh_alike(void **state)
{
    check_symmetries(state, PS_STRICT, 100);
}

static void colours_and_wings_weigh_alike_without_the_term(void **state)
{
    check_symmetries(state, PS_STRICT, 0);
}

static void colours_and_wings_weigh_alike_under_the_loose_rule(void **state)
{
    check_symmetries(state, PS_LOOSE, 333);
}

/* The weight is a percentage of the term, and the term is that of the library. */
static void check_weight(void *context, const Position *p)
{
    static const int weights[] = {1, 50, 100, 250, 1000};
    Symmetry *s = context;
    PlayerSettings *settings = player_settings(s->player);
    int term = term_of(p, settings->lever_rule, &settings->lever_weights);
    settings->lever_weight = 0;
    int without = player_evaluate(s->player, p);
    for (size_t i = 0; i < sizeof weights / sizeof *weights; i++) {
        settings->lever_weight = weights[i];
        assert_int_equal(player_evaluate(s->player, p), without + term * weights[i] / 100);
    }
    s->nonzero_terms += term != 0;
}

static void the_term_comes_on_top(void **state)
{
    for (ps_rule rule = PS_STRICT; rule < PS_RULE_COUNT; rule++) {
        Symmetry s = {.player = *state};
        player_settings(s.player)->lever_rule = rule;
        playout(15, 4, 100, check_weight, &s);
        assert_true(s.nonzero_terms > 0);
    }
}

/* A position means the same whatever was seen before it. */
static void check_fresh(void *context, const Position *p)
{
    Symmetry *s = context;
    if (++s->positions % 50)
        return;
    Player *fresh = player_new(1);
    assert_non_null(fresh);
    assert_int_equal(player_evaluate(fresh, p), player_evaluate(s->player, p));
    player_free(fresh);
}

static void memory_changes_nothing(void **state)
{
    Symmetry s = {.player = *state};
    playout(16, GAMES / 5, 150, check_fresh, &s);
}

static void the_start_is_even(void **state)
{
    /* All there is to score is the right to move. */
    assert_in_range(evaluate_fen(*state, FEN_START) + 40, 0, 80);
    int white = evaluate_fen(*state, FEN_START);
    int black = evaluate_fen(*state, "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR b KQkq - 0 1");
    assert_int_equal(white, black);
}

/* Common practice, no source: a queen is worth more than a rook, a rook more than a minor piece, that more
 * than a pawn. White lacks one man of each in turn. */
static void men_have_their_worth(void **state)
{
    static const char *const lacking[] = {
        "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNB1KBNR w KQkq - 0 1", /* queen */
        "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBN1 w Qkq - 0 1",  /* rook */
        "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQK1NR w KQkq - 0 1", /* bishop */
        "rnbqkbnr/pppppppp/8/8/8/8/PPPPP1PP/RNBQKBNR w KQkq - 0 1", /* pawn */
        FEN_START,
    };
    for (size_t i = 1; i < sizeof lacking / sizeof *lacking; i++)
        if (evaluate_fen(*state, lacking[i - 1]) + 40 >= evaluate_fen(*state, lacking[i]))
            fail_msg("%d in %s, %d in %s", evaluate_fen(*state, lacking[i - 1]), lacking[i - 1],
                     evaluate_fen(*state, lacking[i]), lacking[i]);
    assert_true(evaluate_fen(*state, lacking[0]) < -600);
}

/* Common practice, no source: for each pair White would rather have the first. */
static void good_is_better_than_bad(void **state)
{
    static const struct {
        const char *about, *good, *bad;
    } pairs[] = {
        {"a passed pawn that has come far", "4k3/8/P7/8/8/8/6pp/4K3 w - - 0 1",
         "4k3/8/8/8/P7/8/6pp/4K3 w - - 0 1"},
        {"pawns side by side, not doubled", "4k3/pp6/8/8/8/8/PP6/4K3 w - - 0 1",
         "4k3/pp6/8/8/8/P7/P7/4K3 w - - 0 1"},
        {"two bishops", "4k1nn/ppppp3/8/8/8/8/PPPPP3/4KBB1 w - - 0 1",
         "4k1nn/ppppp3/8/8/8/8/PPPPP3/4KNB1 w - - 0 1"},
        {"a rook on an open file", "6k1/ppp2ppp/8/8/8/8/PPP2PPP/3R2K1 w - - 0 1",
         "6k1/ppp2ppp/8/8/8/8/PPP2PPP/2R3K1 w - - 0 1"},
        {"a knight in the middle", "4k3/pppp4/8/8/4N3/8/PPPP4/4K3 w - - 0 1",
         "4k3/pppp4/8/8/8/8/PPPP4/4K2N w - - 0 1"},
        {"a king behind pawns", "r2q1rk1/ppp2ppp/8/8/8/8/PPP2PPP/R2Q1RK1 w - - 0 1",
         "r2q1rk1/ppp2ppp/8/8/8/6K1/PPP2PPP/R2Q1R2 w - - 0 1"},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
        if (evaluate_fen(*state, pairs[i].good) <= evaluate_fen(*state, pairs[i].bad))
            fail_msg("%s: %d is not more than %d", pairs[i].about, evaluate_fen(*state, pairs[i].good),
                     evaluate_fen(*state, pairs[i].bad));
}

/* Common practice, no source: these are drawn or close to it, whatever the material says. */
static void what_cannot_be_won_is_worth_little(void **state)
{
    static const char *const fens[] = {
        "4k3/8/8/8/8/8/8/3NKN2 w - - 0 1", /* two knights */
        "k7/8/8/8/8/8/P7/4K1B1 w - - 0 1", /* a rook's pawn and the wrong bishop, the king in the corner */
        "4k3/8/8/8/8/8/8/4KN2 w - - 0 1",
    };
    for (size_t i = 0; i < sizeof fens / sizeof *fens; i++)
        assert_in_range(evaluate_fen(*state, fens[i]) + 100, 0, 200);
}

/* The sum under given weights, both halves alike unless the weights differ. */
static Pair sum_under(const EvalWeights *weights, const char *fen)
{
    Evaluator e = {.weights = weights};
    Position p = playout_read(fen, false);
    assert_true(pawn_table_create(&e.pawns, weights, PS_STRICT));
    Pair sum = evaluate_sum(&e, &p);
    pawn_table_destroy(&e.pawns);
    return sum;
}

#define TERM(member) #member, offsetof(EvalWeights, member)

/* How often White shows what a weight is for, less how often Black does: common practice, no source, counted
 * by hand. */
static void terms_fire_where_they_should(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        size_t offset;
        const char *fen;
        int count;
    } cases[] = {
        /* e4 is a pawn of the bishop's colour, and rammed */
        {TERM(bishop_on_pawns), "4k3/8/8/4p3/4P3/3B4/3P4/4K3 w - - 0 1", 1},
        {TERM(bishop_on_rams), "4k3/8/8/4p3/4P3/3B4/8/4K3 w - - 0 1", 1},
        {TERM(bishop_on_rams), "4k3/8/4p3/8/4P3/3B4/8/4K3 w - - 0 1", 0},
        {TERM(with_pawns[0]), "4k3/8/8/8/8/8/PPPPPPP1/N3K1N1 w - - 0 1", 14},
        {TERM(with_rams[0]), "4k3/8/8/4p3/4P3/8/8/N3K1N1 w - - 0 1", 2},
        {TERM(second[1]), "4k3/8/8/8/8/8/8/2B1KB2 w - - 0 1", 1},
        {TERM(second[1]), "4k3/8/8/8/8/8/8/4KB2 w - - 0 1", 0},
        /* a knight in the corner reaches two squares, one if a pawn guards the other, whatever a rook guards */
        {TERM(activity[0][2]), "4k3/8/8/8/8/8/8/N3K3 w - - 0 1", 1},
        {TERM(activity[0][1]), "4k3/8/8/8/2p5/8/8/N3K3 w - - 0 1", 1},
        {TERM(activity[0][2]), "1r2k3/8/8/8/8/8/8/N3K3 w - - 0 1", 1},
        /* a rook does not reach what a knight guards */
        {TERM(activity[2][14]), "7k/8/8/8/8/8/1K6/R7 w - - 0 1", 1},
        {TERM(activity[2][10]), "7k/8/8/8/8/2n5/5K2/R7 w - - 0 1", 1},
        /* four steps from one king, seven from the other */
        {TERM(from_own_king[0][3]), "4k3/8/8/8/8/8/8/N3K3 w - - 0 1", 1},
        {TERM(from_enemy_king[0][6]), "4k3/8/8/8/8/8/8/N3K3 w - - 0 1", 1},
        {TERM(on_file[0][0]), "7k/7p/8/8/8/8/7P/R6K w - - 0 1", 1},
        {TERM(on_file[0][1]), "7k/p6p/8/8/8/8/7P/R6K w - - 0 1", 1},
        {TERM(on_file[1][2]), "k7/8/8/8/8/8/7P/7K w - - 0 1", 1},
        /* counted for the side whose man is attacked */
        {TERM(contest[LOOSE][ROOK][KNIGHT]), "4k3/8/8/n7/8/8/8/R3K3 w - - 0 1", -1},
        {TERM(contest[HELD_BY_PAWN][ROOK][KNIGHT]), "4k3/8/1p6/n7/8/8/8/R3K3 w - - 0 1", -1},
        {TERM(contest[HELD_BY_PIECES][ROOK][KNIGHT]), "r3k3/8/8/n7/8/8/8/R3K3 w - - 0 1", -1},
        {TERM(contest[LOOSE][PAWN][QUEEN]), "4k3/8/8/q7/1P6/8/8/R3K3 w - - 0 1", -1},
        {TERM(contest[LOOSE][KING][KNIGHT]), "7k/8/8/8/8/8/3n4/4K3 w - - 0 1", -1},
        {TERM(pawn_step), "4k3/8/n7/8/1P6/8/8/4K3 w - - 0 1", -1},
        {TERM(pawn_step), "4k3/8/p1n5/8/1P6/8/8/4K3 w - - 0 1", 0},
        {TERM(pawn_step), "4k3/p7/1n6/8/P7/8/8/4K3 w - - 0 1", -1},
        {TERM(pawn_step), "4k3/1p6/2n5/8/1P6/8/8/4K3 w - - 0 1", -1},
        {TERM(pawn[AHEAD_NOBODY][COMPANY_LINK][2]), "4k3/8/8/8/4P3/3P4/8/4K3 w - - 0 1", 1},
        {TERM(pawn[AHEAD_ENEMY][COMPANY_LINK][2]), "4k3/4p3/8/8/4P3/3P4/8/4K3 w - - 0 1", 1},
        {TERM(pawn[AHEAD_RAM][COMPANY_NONE][2]), "4k3/8/8/4p3/4P3/8/8/4K3 w - - 0 1", 0},
        {TERM(pawn[AHEAD_OWN][COMPANY_NONE][1]), "4k3/8/8/8/4P3/4P3/8/4K3 w - - 0 1", 1},
        {TERM(pawn[AHEAD_NOBODY][COMPANY_BESIDE][0]), "4k3/8/8/8/8/8/3PP3/4K3 w - - 0 1", 2},
        {TERM(pawn[AHEAD_NOBODY][COMPANY_BEHIND][2]), "4k3/8/8/8/4P3/8/3P4/4K3 w - - 0 1", 1},
        {TERM(pawn[AHEAD_NOBODY][COMPANY_AHEAD][0]), "4k3/8/8/8/4P3/8/3P4/4K3 w - - 0 1", 1},
        {TERM(passed[WAY_BLOCKED][3]), "4k3/8/n7/P7/8/8/8/4K3 w - - 0 1", 1},
        {TERM(passed[WAY_OWN_MAN][3]), "4k3/8/N7/P7/8/8/8/4K3 w - - 0 1", 1},
        {TERM(passed[WAY_LOST][3]), "4k3/8/r7/8/P7/8/8/4K3 w - - 0 1", 0},
        {TERM(passed[WAY_LOST][2]), "4k3/8/7r/P7/8/8/8/4K3 w - - 0 1", 0},
        {TERM(passed[WAY_LOST][3]), "4k3/8/7r/P7/8/8/8/4K3 w - - 0 1", 1},
        {TERM(passed[WAY_CONTESTED][3]), "4k3/8/7r/P7/8/3B4/8/4K3 w - - 0 1", 1},
        {TERM(passed[WAY_STEP][3]), "4k3/7r/8/P7/8/8/8/4K3 w - - 0 1", 1},
        {TERM(passed[WAY_STEP_GUARDED][3]), "4k3/7r/8/P7/8/3B4/8/4K3 w - - 0 1", 1},
        {TERM(passed[WAY_FREE][3]), "4k3/8/8/P7/8/8/8/4K3 w - - 0 1", 1},
        {TERM(passed[WAY_OWN][3]), "4k3/8/8/P7/8/3B4/8/4K3 w - - 0 1", 1},
        {TERM(passed_rook[0]), "4k3/8/8/P7/8/8/8/R3K3 w - - 0 1", 1},
        {TERM(passed_rook[1]), "4k3/8/8/P7/8/8/8/r3K3 w - - 0 1", 1},
        /* the rule of the square */
        {TERM(passed_unstoppable), "k7/8/8/8/8/7P/8/7K w - - 0 1", 1},
        {TERM(passed_unstoppable), "2k5/8/8/8/8/7P/8/K7 w - - 0 1", 0},
        {TERM(passed_unstoppable), "1k6/8/8/8/8/7P/8/K7 w - - 0 1", 1},
        {TERM(passed_unstoppable), "1k6/8/8/8/8/7P/8/K7 b - - 0 1", 0},
        {TERM(passed_unstoppable), "1k6/n7/8/8/8/7P/8/K7 w - - 0 1", 0},
        /* one file away and one rank ahead, as White's king sees it; Black's is too far from both */
        {TERM(seen[SEEN_OWN][1][3]), "k7/8/8/8/8/8/7P/6K1 w - - 0 1", 1},
        {TERM(seen[SEEN_ENEMY][1][4]), "k7/8/8/8/8/7p/8/6K1 w - - 0 1", 1},
        {TERM(seen[SEEN_RAMMED][1][4]), "k7/8/8/8/8/7p/7P/6K1 w - - 0 1", 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        static EvalWeights weights;
        weights = (EvalWeights){.units = default_weights.units};
        *(Pair *)(void *)((char *)&weights + cases[i].offset) = PAIR(1, 0);
        int count = pair_middlegame(sum_under(&weights, cases[i].fen));
        if (count != cases[i].count)
            fail_msg("%s counts %d in %s, not %d", cases[i].name, count, cases[i].fen, cases[i].count);
    }
}

/* Common practice, no source: in each pair the white king is in more danger in the second. */
static void danger_grows(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {
        {"4k3/8/8/8/8/6q1/5PPP/6K1 w - - 0 1", "4k3/8/8/8/8/6qn/5PPP/6K1 w - - 0 1"},
        {"4k3/1n6/8/7q/8/8/5PPP/6K1 w - - 0 1", "4k3/8/8/7q/6n1/8/5PPP/6K1 w - - 0 1"},
        {"4k3/1r6/8/7q/6n1/8/5PPP/3R2K1 w - - 0 1", "4k3/1r6/8/7q/6n1/8/5PPP/6K1 w - - 0 1"},
    };
    static EvalWeights weights;
    weights = (EvalWeights){.units = default_weights.units};
    for (int class = 0; class < SIEGE_CLASSES; class ++)
        weights.siege[class] = PAIR(class, 0);
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        int less = pair_middlegame(sum_under(&weights, pairs[i][0])),
            more = pair_middlegame(sum_under(&weights, pairs[i][1]));
        if (more <= less)
            fail_msg("danger is %d in %s, %d in %s", less, pairs[i][0], more, pairs[i][1]);
    }
}

#define WITH_PLAYER(test) cmocka_unit_test_setup_teardown(test, start_player, free_player)

int main(void)
{
    const struct CMUnitTest tests[] = {
        WITH_PLAYER(colours_and_wings_weigh_alike),
        WITH_PLAYER(colours_and_wings_weigh_alike_without_the_term),
        WITH_PLAYER(colours_and_wings_weigh_alike_under_the_loose_rule),
        WITH_PLAYER(the_term_comes_on_top),
        WITH_PLAYER(memory_changes_nothing),
        WITH_PLAYER(the_start_is_even),
        WITH_PLAYER(men_have_their_worth),
        WITH_PLAYER(good_is_better_than_bad),
        WITH_PLAYER(what_cannot_be_won_is_worth_little),
        cmocka_unit_test(terms_fire_where_they_should),
        cmocka_unit_test(danger_grows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
