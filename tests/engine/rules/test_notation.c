/* Moves as text: SAN after the PGN standard (S. Edwards, 1994), section 8.2.3, and the long algebraic
 * notation of the UCI protocol. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

typedef struct NotationCase {
    const char *fen, *lan, *san;
} NotationCase;

static const NotationCase standard_cases[] = {
    /* 8.2.3.2, the moving piece: no letter for a pawn; 8.2.3.3: a capturing pawn names its file. */
    {FEN_START, "e2e4", "e4"},
    {FEN_START, "g1f3", "Nf3"},
    {"4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5", "exd5"},
    {"4k3/8/8/3p4/2P1P3/8/8/4K3 w - - 0 1", "c4d5", "cxd5"},
    {"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 2", "e5d6", "exd6"},
    {"4k3/8/8/3p4/8/4N3/8/4K3 w - - 0 1", "e3d5", "Nxd5"},
    /* 8.2.3.3: castling with capital letters O. */
    {"4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "e1g1", "O-O"},
    {"4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "e1c1", "O-O-O"},
    {"3k4/8/8/8/8/8/8/R3K3 w Q - 0 1", "e1c1", "O-O-O+"},
    /* 8.2.3.3: promotion with an equals sign. */
    {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7a8q", "a8=Q"},
    {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7a8n", "a8=N"},
    {"1r6/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7b8r", "axb8=R"},
    {"4k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8b", "a8=B"},
    /* 8.2.3.4: first the file, ... */
    {"4k3/8/8/8/8/8/8/1N1K1N2 w - - 0 1", "b1d2", "Nbd2"},
    {"4k3/8/8/8/8/8/8/1N1K1N2 w - - 0 1", "f1d2", "Nfd2"},
    {"4k3/8/8/8/R7/8/4K3/7R w - - 0 1", "a4a1", "Raa1"},
    /* ... then the rank, ... */
    {"4k3/8/8/R7/8/8/4K3/R7 w - - 0 1", "a5a3", "R5a3"},
    {"4k3/8/8/1N6/8/8/8/1N2K3 w - - 0 1", "b1c3", "N1c3"},
    {"4k3/8/8/1N6/8/n7/8/1N2K3 w - - 0 1", "b5a3", "N5xa3"},
    /* ... then both. */
    {"8/k7/8/8/4Q2Q/8/8/3K3Q w - - 0 1", "h4e1", "Qh4e1"},
    {"8/k7/8/8/4Q2Q/8/8/3K3Q w - - 0 1", "h1e1", "Q1e1"},
    {"8/k7/8/8/4Q2Q/8/8/3K3Q w - - 0 1", "e4e1", "Qee1"},
    /* 8.2.3.4: a pinned piece makes nothing ambiguous. */
    {"4k3/4r3/8/8/8/4N3/8/1N2K3 w - - 0 1", "b1d2", "Nd2"},
    {"4k3/8/8/8/1b6/2N5/8/4K1N1 w - - 0 1", "g1e2", "Ne2"},
    /* Both may go there, and both give check. */
    {"4k3/8/8/8/8/8/8/4KN1N w - - 0 1", "f1g3", "Nfg3"},
    /* 8.2.3.5: check and mate. A discovered check is a check; a double check has one sign. */
    {"4k3/8/8/8/8/8/8/R3K3 w - - 0 1", "a1a8", "Ra8+"},
    {"4k3/R7/8/8/8/8/8/1R2K3 w - - 0 1", "b1b8", "Rb8#"},
    {"4k3/8/8/8/8/8/4B3/K3R3 w - - 0 1", "e2c4", "Bc4+"},
    {"4k3/8/8/8/8/8/4B3/K3R3 w - - 0 1", "e2h5", "Bh5+"},
    {"6k1/4Pppp/8/8/8/8/8/4K3 w - - 0 1", "e7e8q", "e8=Q#"},
    {"7k/4P1pp/8/8/8/8/8/4K3 w - - 0 1", "e7e8n", "e8=N"},
};

static void the_standard_decides(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof standard_cases / sizeof *standard_cases; i++) {
        const NotationCase *c = &standard_cases[i];
        Position p = playout_read(c->fen, false);
        Move move, read;
        char san[MOVE_TEXT_SIZE], lan[MOVE_TEXT_SIZE];
        if (lan_parse(&p, c->lan, &move) != NOTATION_OK)
            fail_msg("%s: %s is not legal", c->fen, c->lan);
        san_write(&p, move, san);
        lan_write(&p, move, lan);
        assert_string_equal(lan, c->lan);
        assert_string_equal(san, c->san);
        assert_int_equal(san_parse(&p, san, &read), NOTATION_OK);
        assert_int_equal(read, move);
    }
}

/* What people and programs write instead; each is one of the moves above or none. */
static void reading_is_lenient(void **state)
{
    static const NotationCase cases[] = {
        {FEN_START, "g1f3", "Ng1f3"},
        {FEN_START, "g1f3", "Ngf3"},
        {FEN_START, "g1f3", "N1f3!?"},
        {FEN_START, "g1f3", "Ng1-f3"},
        {FEN_START, "e2e4", "e2e4"},
        {FEN_START, "e2e4", "e2-e4"},
        {FEN_START, "e2e4", "Pe4"},
        {FEN_START, "e2e4", "e4!!"},
        {FEN_START, "e2e4", "e4+"},
        {"4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5", "ed5"},
        {"4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5", "e4xd5"},
        {"4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "e4d5", "e:d5"},
        {"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 2", "e5d6", "exd6ep"},
        {"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 2", "e5d6", "exd6e.p."},
        {"4k3/8/8/3p4/8/4N3/8/4K3 w - - 0 1", "e3d5", "Nd5"},
        {"4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "e1g1", "0-0"},
        {"4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "e1c1", "0-0-0!"},
        {"3k4/8/8/8/8/8/8/R3K3 w Q - 0 1", "e1c1", "O-O-O"},
        {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7a8q", "a8Q"},
        {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7a8r", "a8(R)"},
        {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a7a8n", "a8=n"},
        {"4k3/R7/8/8/8/8/8/1R2K3 w - - 0 1", "b1b8", "Rb8"},
        {"4k3/R7/8/8/8/8/8/1R2K3 w - - 0 1", "b1b8", "Rb8+"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position p = playout_read(cases[i].fen, false);
        Move wanted, read = NO_MOVE;
        assert_int_equal(lan_parse(&p, cases[i].lan, &wanted), NOTATION_OK);
        NotationError error = san_parse(&p, cases[i].san, &read);
        if (error || read != wanted)
            fail_msg("%s in %s: %s", cases[i].san, cases[i].fen, notation_error_text(error));
    }
}

typedef struct RefusedCase {
    const char *fen, *text;
    NotationError error;
} RefusedCase;

static void reading_refuses_the_rest(void **state)
{
    static const RefusedCase cases[] = {
        {FEN_START, "", NOTATION_NOT_A_MOVE},
        {FEN_START, "e", NOTATION_NOT_A_MOVE},
        {FEN_START, "e9", NOTATION_NOT_A_MOVE},
        {FEN_START, "i4", NOTATION_NOT_A_MOVE},
        {FEN_START, "Sf3", NOTATION_NOT_A_MOVE},
        {FEN_START, "e4 e5", NOTATION_NOT_A_MOVE},
        {FEN_START, "e4x", NOTATION_NOT_A_MOVE},
        {FEN_START, "O-", NOTATION_NOT_A_MOVE},
        {FEN_START, "O-O-O-O", NOTATION_NOT_A_MOVE},
        {FEN_START, "1-0", NOTATION_NOT_A_MOVE},
        {FEN_START, "e5", NOTATION_ILLEGAL},
        {FEN_START, "Nd2", NOTATION_ILLEGAL},
        {FEN_START, "O-O", NOTATION_ILLEGAL},
        {FEN_START, "Ng2f3", NOTATION_ILLEGAL},
        /* A promotion must say to what; no other move may. */
        {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a8", NOTATION_ILLEGAL},
        {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a8=K", NOTATION_NOT_A_MOVE},
        {"8/P3k3/8/8/8/8/8/4K3 w - - 0 1", "a8=", NOTATION_NOT_A_MOVE},
        {FEN_START, "e4=Q", NOTATION_ILLEGAL},
        {"4k3/8/8/8/8/8/8/1N1K1N2 w - - 0 1", "Nd2", NOTATION_AMBIGUOUS},
        {"4k3/8/8/R7/8/8/4K3/R7 w - - 0 1", "Raa3", NOTATION_AMBIGUOUS},
        /* Legal but for the pin. */
        {"4k3/4r3/8/8/8/4N3/8/1N2K3 w - - 0 1", "Nd5", NOTATION_ILLEGAL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position p = playout_read(cases[i].fen, false);
        Move move = NO_MOVE;
        NotationError error = san_parse(&p, cases[i].text, &move);
        if (error != cases[i].error)
            fail_msg("\"%s\" in %s: %s", cases[i].text, cases[i].fen, notation_error_text(error));
        assert_int_equal(move, NO_MOVE);
    }
}

static void long_notation_refuses_the_rest(void **state)
{
    static const RefusedCase cases[] = {
        {FEN_START, "", NOTATION_NOT_A_MOVE},      {FEN_START, "e2", NOTATION_NOT_A_MOVE},
        {FEN_START, "e2e", NOTATION_NOT_A_MOVE},   {FEN_START, "e2e44q", NOTATION_NOT_A_MOVE},
        {FEN_START, "e2e9", NOTATION_NOT_A_MOVE},  {FEN_START, "e2e4x", NOTATION_NOT_A_MOVE},
        {FEN_START, "Ng1f3", NOTATION_NOT_A_MOVE}, {FEN_START, "e2e5", NOTATION_ILLEGAL},
        {FEN_START, "e2e4q", NOTATION_ILLEGAL},    {FEN_START, "e7e5", NOTATION_ILLEGAL},
        {FEN_START, "0000", NOTATION_NOT_A_MOVE},  {FEN_START, "e1g1", NOTATION_ILLEGAL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Position p = playout_read(cases[i].fen, false);
        Move move = NO_MOVE;
        assert_int_equal(lan_parse(&p, cases[i].text, &move), cases[i].error);
        assert_int_equal(move, NO_MOVE);
    }
}

static void errors_have_their_words(void **state)
{
    (void)state;
    for (NotationError a = NOTATION_OK; a <= NOTATION_AMBIGUOUS; a++)
        for (NotationError b = NOTATION_OK; b < a; b++)
            assert_string_not_equal(notation_error_text(a), notation_error_text(b));
}

/* The protocol text: castling is written as the king's move; with the option UCI_Chess960, as the king taking
 * its rook. A null move is 0000. */
static void castling_in_long_notation(void **state)
{
    char text[MOVE_TEXT_SIZE];
    Move move, same;
    (void)state;
    Position p = playout_read("4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", false);
    assert_int_equal(lan_parse(&p, "e1g1", &move), NOTATION_OK);
    assert_true(move_is_castling(move));
    assert_int_equal(lan_parse(&p, "e1h1", &same), NOTATION_OK);
    assert_int_equal(same, move);
    lan_write(&p, move, text);
    assert_string_equal(text, "e1g1");
    p = playout_read("4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", true);
    assert_int_equal(lan_parse(&p, "e1a1", &move), NOTATION_OK);
    lan_write(&p, move, text);
    assert_string_equal(text, "e1a1");
    /* No king goes two squares but to castle, so there is nothing else that such a move can mean. */
    assert_int_equal(lan_parse(&p, "e1c1", &same), NOTATION_OK);
    assert_int_equal(same, move);
    assert_int_equal(lan_parse(&p, "e1g1", &move), NOTATION_OK);
    lan_write(&p, move, text);
    assert_string_equal(text, "e1h1");
    lan_write(&p, NO_MOVE, text);
    assert_string_equal(text, "0000");
    /* A king's move to a square beside it is not castling, even where the king of a castling move arrives. */
    p = playout_read("4k3/8/8/8/8/8/8/5K1R w H - 0 1", true);
    assert_int_equal(lan_parse(&p, "f1g1", &move), NOTATION_OK);
    assert_false(move_is_castling(move));
    assert_int_equal(lan_parse(&p, "f1h1", &move), NOTATION_OK);
    assert_true(move_is_castling(move));
}

/* Every legal move has a text of its own that is read as that move. */
static void check_texts(void *context, const Position *p)
{
    MoveList list;
    char sans[MOVES_MAX][MOVE_TEXT_SIZE], lan[MOVE_TEXT_SIZE];
    (void)context;
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++) {
        Move read = NO_MOVE;
        san_write(p, list.moves[i], sans[i]);
        assert_int_equal(san_parse(p, sans[i], &read), NOTATION_OK);
        assert_int_equal(read, list.moves[i]);
        lan_write(p, list.moves[i], lan);
        assert_int_equal(lan_parse(p, lan, &read), NOTATION_OK);
        assert_int_equal(read, list.moves[i]);
        for (int other = 0; other < i; other++)
            assert_string_not_equal(sans[i], sans[other]);
    }
}

static void what_is_written_is_read_again(void **state)
{
    (void)state;
    playout(10, 40, 200, check_texts, NULL);
}

static void squares_have_names(void **state)
{
    char text[3];
    (void)state;
    for (Square s = A1; s <= H8; s++) {
        square_write(s, text);
        assert_int_equal(square_read(text), s);
    }
    assert_int_equal(square_read("a1"), A1);
    assert_int_equal(square_read("h8"), H8);
    assert_int_equal(square_read("c2"), C2);
    assert_int_equal(square_read(""), NO_SQUARE);
    assert_int_equal(square_read("a"), NO_SQUARE);
    assert_int_equal(square_read("a9"), NO_SQUARE);
    assert_int_equal(square_read("A1"), NO_SQUARE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_standard_decides),          cmocka_unit_test(reading_is_lenient),
        cmocka_unit_test(reading_refuses_the_rest),      cmocka_unit_test(long_notation_refuses_the_rest),
        cmocka_unit_test(errors_have_their_words),       cmocka_unit_test(castling_in_long_notation),
        cmocka_unit_test(what_is_written_is_read_again), cmocka_unit_test(squares_have_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
