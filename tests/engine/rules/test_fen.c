/* FEN after the PGN standard (S. Edwards, 1994), section 16.1, and one refusal for each way to be wrong. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

typedef struct BadFen {
    const char *fen;
    FenError error;
    bool chess960;
} BadFen;

static const BadFen bad_fens[] = {
    {"", FEN_MISSING_FIELD, false},
    {"   ", FEN_MISSING_FIELD, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR", FEN_MISSING_FIELD, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w", FEN_MISSING_FIELD, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq", FEN_MISSING_FIELD, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNX w KQkq - 0 1", FEN_BAD_MAN, false},
    {"rnbqkbnr/pppppppp/9/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", FEN_BAD_MAN, false},
    {"rnbqkbnr/pppppppp/0/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", FEN_BAD_MAN, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPP/RNBQKBNR w KQkq - 0 1", FEN_BAD_RANK_LENGTH, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPPP/RNBQKBNR w KQkq - 0 1", FEN_BAD_RANK_LENGTH, false},
    {"rnbqkbnr/pppppppp/44p/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", FEN_BAD_RANK_LENGTH, false},
    {"rnbqkbnr/pppppppp/71p/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", FEN_BAD_RANK_LENGTH, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBN w KQkq - 0 1", FEN_BAD_RANK_LENGTH, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP w KQkq - 0 1", FEN_BAD_RANK_COUNT, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", FEN_BAD_RANK_COUNT, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR/ w KQkq - 0 1", FEN_BAD_RANK_COUNT, false},
    {"8/8/8/8/8/8/8/8 w - - 0 1", FEN_BAD_KING_COUNT, false},
    {"4k3/8/8/8/8/8/8/8 w - - 0 1", FEN_BAD_KING_COUNT, false},
    {"4k3/8/8/8/8/8/8/K3K3 w - - 0 1", FEN_BAD_KING_COUNT, false},
    {"k3k3/8/8/8/8/8/8/4K3 w - - 0 1", FEN_BAD_KING_COUNT, false},
    {"4k2P/8/8/8/8/8/8/4K3 w - - 0 1", FEN_PAWN_ON_EDGE, false},
    {"4k3/8/8/8/8/8/8/P3K3 w - - 0 1", FEN_PAWN_ON_EDGE, false},
    {"4k2p/8/8/8/8/8/8/4K3 w - - 0 1", FEN_PAWN_ON_EDGE, false},
    {"4k3/8/8/8/8/8/8/p3K3 w - - 0 1", FEN_PAWN_ON_EDGE, false},
    {"4k3/8/8/8/8/7P/PPPPPPPP/4K3 w - - 0 1", FEN_TOO_MANY_PAWNS, false},
    {"4k3/pppppppp/p7/8/8/8/8/4K3 w - - 0 1", FEN_TOO_MANY_PAWNS, false},
    {"4k3/8/8/8/8/8/PPPPPPPP/QQ2K3 w - - 0 1", FEN_TOO_MANY_MEN, false},
    {"4k3/8/8/8/8/NNNBBBRR/R7/4K3 w - - 0 1", FEN_OK, false},
    {"nnnbbbrr/ppppppp1/8/k7/8/8/8/4K3 w - - 0 1", FEN_TOO_MANY_MEN, false},
    {"8/8/8/3k4/4K3/8/8/8 w - - 0 1", FEN_KINGS_TOUCH, false},
    {"4k3/8/8/8/8/8/8/4K3 W - - 0 1", FEN_BAD_SIDE, false},
    {"4k3/8/8/8/8/8/8/4K3 white - - 0 1", FEN_BAD_SIDE, false},
    {"4k3/8/8/8/8/8/8/4K3 - - - 0 1", FEN_BAD_SIDE, false},
    {"4k3/8/8/8/8/8/8/K3R3 w - - 0 1", FEN_WRONG_SIDE_IN_CHECK, false},
    {"4k3/8/8/8/8/8/5p2/4K3 b - - 0 1", FEN_WRONG_SIDE_IN_CHECK, false},
    {"4k3/8/8/8/1b2r3/8/6n1/4K3 w - - 0 1", FEN_IMPOSSIBLE_CHECK, false},
    {"r3k2r/8/8/8/8/8/8/R3K2R w KQkqK - 0 1", FEN_BAD_CASTLING_TEXT, false},
    {"r3k2r/8/8/8/8/8/8/R3K2R w KK - 0 1", FEN_BAD_CASTLING_TEXT, false},
    {"r3k2r/8/8/8/8/8/8/R3K2R w K- - 0 1", FEN_BAD_CASTLING_TEXT, false},
    {"r3k2r/8/8/8/8/8/8/R3K2R w x - 0 1", FEN_BAD_CASTLING_TEXT, false},
    {"r3k2r/8/8/8/8/8/8/R3K2R w HA - 0 1", FEN_BAD_CASTLING_TEXT, false},
    {"r3k2r/8/8/8/8/8/8/R3K2R w HAi - 0 1", FEN_BAD_CASTLING_TEXT, true},
    {"r3k2r/8/8/8/8/8/8/4K2R w KQ - 0 1", FEN_CASTLING_CANNOT_BE, false},
    {"r3k2r/8/8/8/8/8/8/R2K3R w K - 0 1", FEN_CASTLING_CANNOT_BE, false},
    {"r3k2r/8/8/8/8/8/4K3/R6R w K - 0 1", FEN_CASTLING_CANNOT_BE, false},
    {"r3k2r/8/8/8/8/8/8/R3K1R1 w K - 0 1", FEN_CASTLING_CANNOT_BE, false},
    {"4k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1", FEN_CASTLING_CANNOT_BE, false},
    {"r3k2r/8/8/8/8/8/8/RR2K3 w AB - 0 1", FEN_CASTLING_CANNOT_BE, true},
    {"r3k2r/8/8/8/8/8/8/R3K2R w G - 0 1", FEN_CASTLING_CANNOT_BE, true},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - d 0 1", FEN_BAD_EN_PASSANT_TEXT, false},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - d66 0 1", FEN_BAD_EN_PASSANT_TEXT, false},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - i6 0 1", FEN_BAD_EN_PASSANT_TEXT, false},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - d9 0 1", FEN_BAD_EN_PASSANT_TEXT, false},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - 0 1", FEN_BAD_EN_PASSANT_TEXT, false},
    /* The wrong rank; no pawn; a pawn of the wrong side; the way not free, before and behind. */
    {"4k3/8/8/3pP3/8/8/8/4K3 w - d5 0 1", FEN_EN_PASSANT_CANNOT_BE, false},
    {"4k3/8/8/3pP3/8/8/8/4K3 b - d6 0 1", FEN_EN_PASSANT_CANNOT_BE, false},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - c6 0 1", FEN_EN_PASSANT_CANNOT_BE, false},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - e6 0 1", FEN_EN_PASSANT_CANNOT_BE, false},
    {"4k3/8/3n4/3pP3/8/8/8/4K3 w - d6 0 1", FEN_EN_PASSANT_CANNOT_BE, false},
    {"4k3/3n4/8/3pP3/8/8/8/4K3 w - d6 0 1", FEN_EN_PASSANT_CANNOT_BE, false},
    /* Before the double step the king would have been in check already. */
    {"4k3/8/8/3pP3/8/8/8/r3K3 w - d6 0 1", FEN_EN_PASSANT_CANNOT_BE, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - -1 1", FEN_BAD_HALFMOVES, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 1x 1", FEN_BAD_HALFMOVES, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 10000 1", FEN_BAD_HALFMOVES, false},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - d6 1 2", FEN_BAD_HALFMOVES, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 0", FEN_BAD_FULLMOVE, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 -3", FEN_BAD_FULLMOVE, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1e3", FEN_BAD_FULLMOVE, false},
    {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 99999999999999999999", FEN_BAD_FULLMOVE, false},
    /* Where the caller does not look at what stands behind. */
    {"4k3/8/8/8/8/8/8/4K3 w - - 0 1 trailing nonsense x", FEN_TEXT_BEHIND, false},
    {"4k3/8/8/8/8/8/8/4K3 w - - bm Ke2;", FEN_TEXT_BEHIND, false},
    {"4k3/8/8/8/8/8/8/4K3 w - - 0 1\n", FEN_TEXT_BEHIND, false},
};

enum { BAD_FENS = sizeof bad_fens / sizeof *bad_fens };

static void each_mistake_has_its_name(void **state)
{
    bool seen[FEN_ERROR_COUNT] = {false};
    (void)state;
    for (int i = 0; i < BAD_FENS; i++) {
        Position p = playout_read("4k3/8/8/8/8/8/8/4K3 w - - 0 1", false), before = p;
        const char *rest = "untouched";
        const char **wanted = bad_fens[i].error == FEN_TEXT_BEHIND ? NULL : &rest;
        FenError error = fen_parse(bad_fens[i].fen, bad_fens[i].chess960, &p, wanted);
        if (error != bad_fens[i].error)
            fail_msg("\"%s\": %s; expected: %s", bad_fens[i].fen, fen_error_text(error),
                     fen_error_text(bad_fens[i].error));
        seen[error] = true;
        if (error) {
            assert_memory_equal(&p, &before, sizeof p);
            assert_string_equal(rest, "untouched");
        }
    }
    for (FenError error = FEN_OK; error < FEN_ERROR_COUNT; error++)
        if (!seen[error])
            fail_msg("no FEN here is bad in this way: %s", fen_error_text(error));
}

static void each_mistake_has_its_words(void **state)
{
    (void)state;
    for (FenError a = FEN_OK; a < FEN_ERROR_COUNT; a++) {
        assert_true(strlen(fen_error_text(a)) > 5);
        for (FenError b = FEN_OK; b < a; b++)
            assert_string_not_equal(fen_error_text(a), fen_error_text(b));
    }
    assert_non_null(fen_error_text((FenError)9999));
}

static void assert_written(const Position *p, const char *expected)
{
    char text[FEN_SIZE];
    fen_write(p, text);
    assert_string_equal(text, expected);
}

static void play(Position *p, const char *moves)
{
    char text[MOVE_TEXT_SIZE];
    int length;
    for (; sscanf(moves, " %7s%n", text, &length) == 1; moves += length) {
        Move move;
        assert_int_equal(san_parse(p, text, &move), NOTATION_OK);
        position_play(p, move);
    }
}

/* The three examples of section 16.1.4: after 1. e4, after 1... c5, after 2. Nf3. The en passant square is
 * there after every double step, whether or not a pawn could take (16.1.3.4). */
static void the_examples_of_the_standard(void **state)
{
    (void)state;
    Position p = playout_read(FEN_START, false);
    assert_written(&p, "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1");
    play(&p, "e4");
    assert_written(&p, "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1");
    assert_false(p.en_passant_possible);
    play(&p, "c5");
    assert_written(&p, "rnbqkbnr/pp1ppppp/8/2p5/4P3/8/PPPP1PPP/RNBQKBNR w KQkq c6 0 2");
    play(&p, "Nf3");
    assert_written(&p, "rnbqkbnr/pp1ppppp/8/2p5/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2");
}

/* Section 16.1.3.3: a right is written as long as king and rook have not moved, whatever stands in
 * between. */
static void castling_rights_go_one_by_one(void **state)
{
    (void)state;
    Position p = playout_read("r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1", false);
    play(&p, "Rb1 Rh7");
    assert_written(&p, "r3k3/7r/8/8/8/8/8/1R2K2R w Kq - 2 2");
    play(&p, "Rxh7");
    assert_written(&p, "r3k3/7R/8/8/8/8/8/1R2K3 b q - 0 2");
    play(&p, "O-O-O+");
    assert_written(&p, "2kr4/7R/8/8/8/8/8/1R2K3 w - - 1 3");
    /* A rook that is taken takes its right with it. */
    p = playout_read("r3k2r/8/8/8/8/8/6n1/R3K2R w Qkq - 0 1", false);
    play(&p, "Kf2 Nf4 Rxa8+");
    assert_written(&p, "R3k2r/8/8/8/5n2/8/5K2/7R b k - 0 2");
}

static void check_round_trip(void *context, const Position *p)
{
    char first[FEN_SIZE], second[FEN_SIZE];
    Position read;
    const char *rest;
    (void)context;
    fen_write(p, first);
    assert_int_equal(fen_parse(first, p->chess960, &read, &rest), FEN_OK);
    assert_string_equal(rest, "");
    fen_write(&read, second);
    assert_string_equal(second, first);
    assert_int_equal(read.key, p->key);
    assert_int_equal(read.pawn_key, p->pawn_key);
    assert_int_equal(read.en_passant, p->en_passant);
    assert_int_equal(read.en_passant_possible, p->en_passant_possible);
    assert_int_equal(read.castling_rooks, p->castling_rooks);
    assert_true(position_consistent(&read));
}

static void what_is_written_is_read_again(void **state)
{
    (void)state;
    playout(8, 600, 250, check_round_trip, NULL);
}

static void castling_of_chess960_names_rooks(void **state)
{
    (void)state;
    /* K and Q mean the outermost rook; another one is named by its file. */
    Position p = playout_read("1r2k1rr/8/8/8/8/8/8/1R2K1RR w GBgb - 3 9", true);
    assert_int_equal(p.castling_rooks, bit(G1) | bit(B1) | bit(G8) | bit(B8));
    assert_written(&p, "1r2k1rr/8/8/8/8/8/8/1R2K1RR w GQgq - 3 9");
    p = playout_read("1r2k1rr/8/8/8/8/8/8/1R2K1RR w KQkq - 3 9", true);
    assert_int_equal(p.castling_rooks, bit(H1) | bit(B1) | bit(H8) | bit(B8));
}

/* Lines of EPD end after four fields, and their operations begin with a letter (section 16.2). */
static void counters_may_be_missing(void **state)
{
    (void)state;
    Position p;
    const char *rest;
    assert_int_equal(fen_parse("4k3/8/8/8/8/8/8/4K3 w - - bm Ke2; id \"x\";", false, &p, &rest), FEN_OK);
    assert_string_equal(rest, "bm Ke2; id \"x\";");
    assert_written(&p, "4k3/8/8/8/8/8/8/4K3 w - - 0 1");
    assert_int_equal(fen_parse("4k3/8/8/8/8/8/8/4K3 w - - 12", false, &p, &rest), FEN_OK);
    assert_written(&p, "4k3/8/8/8/8/8/8/4K3 w - - 12 1");
    assert_int_equal(fen_parse("  4k3/8/8/8/8/8/8/4K3   b  -  -  7  30   moves e8e7", false, &p, &rest),
                     FEN_OK);
    assert_string_equal(rest, "moves e8e7");
    assert_written(&p, "4k3/8/8/8/8/8/8/4K3 b - - 7 30");
}

/* Whatever the text, the reader stays inside it and what it accepts is consistent. */
static void no_text_breaks_the_reader(void **state)
{
    static const char letters[] = "KQRBNPkqrbnp12345678/ w-bacdefgh09xX\t";
    (void)state;
    Random random = random_seeded(9);
    int accepted = 0;
    for (int i = 0; i < 200000; i++) {
        char text[FEN_SIZE] = "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1pP1P3/2N2Q1p/PP1BBPPP/R3K2R b KQkq - 0 1";
        const size_t length = strlen(text);
        for (uint64_t changes = 1 + random_below(&random, 3); changes > 0; changes--) {
            size_t at = random_below(&random, length), other = random_below(&random, length);
            char here = text[at];
            text[at] =
                random_below(&random, 4) ? text[other] : letters[random_below(&random, sizeof letters)];
            text[other] = here;
        }
        Position p;
        if (fen_parse(text, random_below(&random, 2) == 0, &p, NULL) == FEN_OK) {
            assert_true(position_consistent(&p));
            check_round_trip(NULL, &p);
            accepted++;
        }
    }
    assert_in_range(accepted, 1000, 199000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_mistake_has_its_name),     cmocka_unit_test(each_mistake_has_its_words),
        cmocka_unit_test(the_examples_of_the_standard),  cmocka_unit_test(castling_rights_go_one_by_one),
        cmocka_unit_test(what_is_written_is_read_again), cmocka_unit_test(castling_of_chess960_names_rooks),
        cmocka_unit_test(counters_may_be_missing),       cmocka_unit_test(no_text_breaks_the_reader),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
