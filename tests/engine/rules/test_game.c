/* How games end, after the FIDE Laws of Chess (2023), articles 5.2, 9.2, 9.3 and 9.6. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/rules/game.h"
#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

static Game begin(const char *fen)
{
    Game game;
    Position p = playout_read(fen, false);
    assert_true(game_start(&game, &p));
    return game;
}

/* Plays moves in SAN, one space between them. */
static void play(Game *game, const char *moves)
{
    char text[MOVE_TEXT_SIZE];
    int length;
    for (; sscanf(moves, " %11s%n", text, &length) == 1; moves += length) {
        Move move;
        if (san_parse(&game->position, text, &move) != NOTATION_OK)
            fail_msg("%s is no move", text);
        assert_true(game_play(game, move));
    }
}

static void assert_end(const char *fen, GameEnd end)
{
    Game game = begin(fen);
    GameEnd found = game_end(&game, false);
    if (found != end)
        fail_msg("%s: %s; expected: %s", fen, game_end_text(found), game_end_text(end));
    game_free(&game);
}

/* Articles 1.4.1 and 5.1.1, 5.2.1. */
static void mate_and_stalemate(void **state)
{
    (void)state;
    assert_end(FEN_START, GAME_GOES_ON);
    assert_end("rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3", GAME_CHECKMATE);
    assert_end("R5k1/5ppp/8/8/8/8/8/4K3 b - - 0 1", GAME_CHECKMATE);
    assert_end("6rk/5Npp/8/8/8/8/8/4K3 b - - 0 1", GAME_CHECKMATE);
    assert_end("R5k1/5pp1/8/8/8/8/8/4K3 b - - 0 1", GAME_GOES_ON);
    /* Taking en passant is the only way out of the check. */
    assert_end("5BR1/8/8/7k/5pP1/8/8/4B1K1 b - g3 0 1", GAME_GOES_ON);
    assert_end("5BR1/8/8/7k/5pP1/8/8/4B1K1 b - - 0 1", GAME_CHECKMATE);
    assert_end("7k/5Q2/6K1/8/8/8/8/8 b - - 0 1", GAME_STALEMATE);
    assert_end("7k/5Q2/6K1/8/8/8/8/8 w - - 0 1", GAME_GOES_ON);
    assert_end("k7/P7/K7/8/8/8/8/8 b - - 0 1", GAME_STALEMATE);
    assert_end("8/8/8/8/8/5k2/5p2/5K2 w - - 0 1", GAME_STALEMATE);
}

/* Article 5.2.2: no mate by any series of legal moves; what material shows of it. */
static void dead_material(void **state)
{
    (void)state;
    assert_end("4k3/8/8/8/8/8/8/4K3 w - - 0 1", GAME_DEAD_MATERIAL);
    assert_end("4k3/8/8/8/8/8/8/4KN2 w - - 0 1", GAME_DEAD_MATERIAL);
    assert_end("4k3/8/8/8/8/8/8/4KB2 w - - 0 1", GAME_DEAD_MATERIAL);
    assert_end("4kn2/8/8/8/8/8/8/4K3 w - - 0 1", GAME_DEAD_MATERIAL);
    /* Bishops of one square colour, on one side or on both. */
    assert_end("4kb2/8/8/8/8/8/8/2B1K3 w - - 0 1", GAME_DEAD_MATERIAL);
    assert_end("4k3/8/8/8/8/4B3/8/2B1K3 w - - 0 1", GAME_DEAD_MATERIAL);
    assert_end("5b2/8/3b1k2/8/8/4B3/8/2B1K3 w - - 0 1", GAME_DEAD_MATERIAL);
    /* A mate is possible, be it with the opponent's help. */
    assert_end("4kb2/8/8/8/8/8/8/4KB2 w - - 0 1", GAME_GOES_ON);
    assert_end("4kn2/8/8/8/8/8/8/4KN2 w - - 0 1", GAME_GOES_ON);
    assert_end("4k3/8/8/8/8/8/8/3NKN2 w - - 0 1", GAME_GOES_ON);
    assert_end("4kn2/8/8/8/8/8/8/4KB2 w - - 0 1", GAME_GOES_ON);
    assert_end("4k3/8/8/8/8/8/8/2B1KB2 w - - 0 1", GAME_GOES_ON);
    assert_end("4k3/7p/8/8/8/8/8/4K3 w - - 0 1", GAME_GOES_ON);
    assert_end("4k3/8/8/8/8/8/8/4K2R w - - 0 1", GAME_GOES_ON);
    assert_end("4k3/8/8/8/8/8/8/4K2Q w - - 0 1", GAME_GOES_ON);
}

/* Article 9.2.2: it counts how often the position has stood there, not whether the moves were repeated. */
static void threefold_repetition(void **state)
{
    (void)state;
    Game game = begin(FEN_START);
    assert_int_equal(game_repetitions(&game), 1);
    play(&game, "Nf3 Nf6 Ng1 Ng8");
    assert_int_equal(game_repetitions(&game), 2);
    assert_int_equal(game_end(&game, true), GAME_GOES_ON);
    play(&game, "Nc3 Nc6 Nb1 Nb8");
    assert_int_equal(game_repetitions(&game), 3);
    assert_int_equal(game_end(&game, true), GAME_THREEFOLD_REPETITION);
    /* It must be claimed. */
    assert_int_equal(game_end(&game, false), GAME_GOES_ON);
    play(&game, "e4");
    assert_int_equal(game_repetitions(&game), 1);
    game_free(&game);

    /* The same men on the same squares with the other side to move are another position. */
    game = begin("4k3/8/8/8/8/8/8/R3K3 w - - 0 1");
    play(&game, "Ra2 Kd8 Ra3 Ke8 Ra1");
    assert_int_equal(game_repetitions(&game), 1);
    game_free(&game);
}

/* Article 9.2.3.2: a right to castle that is lost makes another position; that castling is impossible just
 * now does not matter. */
static void repetition_counts_castling_rights(void **state)
{
    (void)state;
    Game game = begin("r3k3/8/8/8/8/8/8/4K2R w K - 0 1");
    play(&game, "Rg1 Rb8 Rh1 Ra8");
    assert_int_equal(game_repetitions(&game), 1);
    play(&game, "Rg1 Rb8 Rh1 Ra8");
    assert_int_equal(game_repetitions(&game), 2);
    assert_int_equal(game_end(&game, true), GAME_GOES_ON);
    play(&game, "Rg1 Rb8 Rh1 Ra8");
    assert_int_equal(game_end(&game, true), GAME_THREEFOLD_REPETITION);
    game_free(&game);
}

/* Article 9.2.3.1: that a pawn could be taken en passant makes another position, but only if it really
 * could. */
static void repetition_counts_possible_en_passant(void **state)
{
    static const char shuffle[] = "Ke7 Kf1 Ke8 Ke1";
    (void)state;
    /* White can take on d6. */
    Game game = begin("4k3/3p4/8/4P3/8/8/8/4K3 b - - 0 1");
    play(&game, "d5 Kf1 Ke7 Ke1 Ke8");
    assert_int_equal(game_repetitions(&game), 1);
    play(&game, "Kf1 Ke7 Ke1 Ke8");
    assert_int_equal(game_repetitions(&game), 2);
    game_free(&game);
    /* No pawn stands beside it. */
    game = begin("4k3/3p4/8/8/4P3/8/8/4K3 b - - 0 1");
    play(&game, "d5 Kf1 Ke7 Ke1 Ke8");
    assert_int_equal(game_repetitions(&game), 2);
    play(&game, "Kf1 Ke7 Ke1 Ke8");
    assert_int_equal(game_end(&game, true), GAME_THREEFOLD_REPETITION);
    game_free(&game);
    /* The pawn beside it is pinned. */
    game = begin("4r1k1/3p4/8/4P3/8/8/8/4K3 b - - 0 1");
    play(&game, "d5 Ke2 Kh8 Ke1 Kg8");
    assert_int_equal(game_repetitions(&game), 2);
    game_free(&game);
    /* Taking would open the rank to the king. */
    game = begin("4k3/3p4/8/K3P2r/8/8/8/8 b - - 0 1");
    play(&game, "d5 Ka4 Ke7 Ka5 Ke8");
    assert_int_equal(game_repetitions(&game), 2);
    game_free(&game);
    /* The capture was possible, and the position never comes back. */
    game = begin("4k3/8/8/4P3/3p4/8/2P5/4K3 w - - 0 1");
    play(&game, "c4");
    play(&game, shuffle);
    assert_int_equal(game_repetitions(&game), 1);
    play(&game, shuffle);
    assert_int_equal(game_repetitions(&game), 2);
    game_free(&game);
}

/* Article 9.6.1: five times end the game without a claim. */
static void fivefold_repetition(void **state)
{
    (void)state;
    Game game = begin(FEN_START);
    for (int times = 2; times <= 5; times++) {
        assert_int_equal(game_end(&game, false), GAME_GOES_ON);
        play(&game, "Nf3 Nf6 Ng1 Ng8");
        assert_int_equal(game_repetitions(&game), times);
    }
    assert_int_equal(game_end(&game, false), GAME_FIVEFOLD_REPETITION);
    assert_int_equal(game_end(&game, true), GAME_FIVEFOLD_REPETITION);
    game_free(&game);
}

/* Article 9.3.2: fifty moves by each player, thus a hundred half-moves. */
static void fifty_and_seventy_five_moves(void **state)
{
    (void)state;
    Game game = begin("4k3/7p/8/8/8/8/P7/R3K3 w - - 98 80");
    play(&game, "Ra1b1");
    assert_int_equal(game_end(&game, true), GAME_GOES_ON);
    play(&game, "Kd8");
    assert_int_equal(game_end(&game, true), GAME_FIFTY_MOVES);
    assert_int_equal(game_end(&game, false), GAME_GOES_ON);
    /* A pawn move begins a new count; so does a capture. */
    play(&game, "a3");
    assert_int_equal(game_end(&game, true), GAME_GOES_ON);
    game_free(&game);
    game = begin("4k3/7p/8/8/8/8/8/R3K2R w - - 99 80");
    play(&game, "Rxh7");
    assert_int_equal(game_end(&game, true), GAME_GOES_ON);
    game_free(&game);
    game = begin("4k3/7p/8/8/8/8/8/R3K2R w K - 99 80");
    play(&game, "O-O");
    assert_int_equal(game_end(&game, true), GAME_FIFTY_MOVES);
    game_free(&game);

    /* Article 9.6.2: seventy-five moves need no claim. */
    game = begin("4k3/7p/8/8/8/8/P7/R3K3 w - - 148 99");
    play(&game, "Rb1");
    assert_int_equal(game_end(&game, false), GAME_GOES_ON);
    play(&game, "Kd8");
    assert_int_equal(game_end(&game, false), GAME_SEVENTY_FIVE_MOVES);
    game_free(&game);
}

/* Article 9.6.2: "If the last move resulted in checkmate, that shall take precedence." */
static void mate_comes_before_the_count(void **state)
{
    (void)state;
    Game game = begin("6k1/5ppp/8/8/8/8/8/R3K3 w - - 149 99");
    play(&game, "Ra8#");
    assert_int_equal(game_end(&game, false), GAME_CHECKMATE);
    game_free(&game);
    game = begin("7k/8/6K1/8/8/8/8/5Q2 w - - 149 99");
    play(&game, "Qf7");
    assert_int_equal(game_end(&game, false), GAME_STALEMATE);
    game_free(&game);
    game = begin("6k1/5ppp/8/8/8/8/8/R3K3 w - - 99 99");
    play(&game, "Ra8#");
    assert_int_equal(game_end(&game, true), GAME_CHECKMATE);
    game_free(&game);
}

/* A count in the FEN says that nothing earlier can be repeated; the history may still be shorter than it. */
static void counters_from_elsewhere_are_safe(void **state)
{
    (void)state;
    Game game = begin("4k3/8/8/8/8/8/8/R3K3 w - - 60 70");
    play(&game, "Rb1 Kd8 Ra1 Ke8");
    assert_int_equal(game_repetitions(&game), 2);
    game_free(&game);
}

/* Counting without the keys, on games that go to and fro. */
static void repetitions_agree_with_a_plain_count(void **state)
{
    (void)state;
    enum { PLIES = 120 };
    static char texts[PLIES + 1][FEN_SIZE];
    int repeated = 0;
    for (uint64_t seed = 0; seed < 200; seed++) {
        Random random = random_seeded(seed);
        Game game = begin("r3k3/8/8/1p6/8/8/P7/4K2R w Kq - 0 1");
        for (int ply = 0; ply <= PLIES; ply++) {
            Position p = game.position;
            p.halfmoves = 0;
            p.fullmove = 1;
            if (!p.en_passant_possible)
                p.en_passant = NO_SQUARE;
            fen_write(&p, texts[ply]);
            int times = 0;
            for (int earlier = 0; earlier <= ply; earlier++)
                times += strcmp(texts[earlier], texts[ply]) == 0;
            assert_int_equal(game_repetitions(&game), times);
            repeated += times > 2;
            Move move = playout_move(&random, &game.position);
            if (move == NO_MOVE)
                break;
            assert_true(game_play(&game, move));
        }
        game_free(&game);
    }
    assert_true(repeated > 0);
}

static void ends_have_their_words(void **state)
{
    (void)state;
    for (GameEnd a = GAME_GOES_ON; a < GAME_END_COUNT; a++)
        for (GameEnd b = GAME_GOES_ON; b < a; b++)
            assert_string_not_equal(game_end_text(a), game_end_text(b));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mate_and_stalemate),
        cmocka_unit_test(dead_material),
        cmocka_unit_test(threefold_repetition),
        cmocka_unit_test(repetition_counts_castling_rights),
        cmocka_unit_test(repetition_counts_possible_en_passant),
        cmocka_unit_test(fivefold_repetition),
        cmocka_unit_test(fifty_and_seventy_five_moves),
        cmocka_unit_test(mate_comes_before_the_count),
        cmocka_unit_test(counters_from_elsewhere_are_safe),
        cmocka_unit_test(repetitions_agree_with_a_plain_count),
        cmocka_unit_test(ends_have_their_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
