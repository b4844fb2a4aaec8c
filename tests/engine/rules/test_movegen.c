/* The generator against itself and against the board after the move, over random games. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

static int by_value(const void *a, const void *b)
{
    return *(const Move *)a - *(const Move *)b;
}

static void sort_moves(MoveList *list)
{
    qsort(list->moves, (size_t)list->count, sizeof(Move), by_value);
}

static void check_halves(void *context, const Position *p)
{
    MoveList all, tactical, quiet;
    (void)context;
    movegen_all(p, &all);
    movegen_tactical(p, &tactical);
    movegen_quiet(p, &quiet);
    assert_int_equal(movegen_count(p), all.count);
    assert_int_equal(movegen_any(p), all.count > 0);
    for (int i = 0; i < tactical.count; i++)
        assert_true(position_captured(p, tactical.moves[i]) != NO_ROLE ||
                    move_is_promotion(tactical.moves[i]));
    for (int i = 0; i < quiet.count; i++)
        assert_true(position_captured(p, quiet.moves[i]) == NO_ROLE && !move_is_promotion(quiet.moves[i]));
    assert_int_equal(tactical.count + quiet.count, all.count);
    memcpy(&tactical.moves[tactical.count], quiet.moves, (size_t)quiet.count * sizeof(Move));
    tactical.count += quiet.count;
    sort_moves(&all);
    sort_moves(&tactical);
    assert_memory_equal(tactical.moves, all.moves, (size_t)all.count * sizeof(Move));
    for (int i = 1; i < all.count; i++)
        assert_true(all.moves[i] != all.moves[i - 1]);
}

static void tactical_and_quiet_make_up_all(void **state)
{
    (void)state;
    playout(2, 300, 200, check_halves, NULL);
}

/* FIDE Laws of Chess, article 3.9: no move may leave the own king attacked. Asked of the board itself. */
static void check_play(void *context, const Position *p)
{
    MoveList all;
    (void)context;
    movegen_all(p, &all);
    for (int i = 0; i < all.count; i++) {
        Position next = *p;
        position_play(&next, all.moves[i]);
        Side us = position_turn(p), them = opposite(us);
        assert_int_equal(position_turn(&next), them);
        assert_int_equal(position_attackers(&next, position_king(&next, us), position_occupied(&next)) &
                             next.by_side[them],
                         0);
        assert_true(position_consistent(&next));
        Position fresh = next;
        position_refresh(&fresh);
        assert_int_equal(fresh.key, next.key);
        assert_int_equal(fresh.pawn_key, next.pawn_key);
        assert_int_equal(fresh.en_passant_possible, next.en_passant_possible);
        assert_true((next.castling_rooks & ~position_men(&next, WHITE, ROOK) &
                     ~position_men(&next, BLACK, ROOK)) == 0);
    }
}

/* Whether a move gives check is known before it is played, and right: direct, discovered, by a castling rook,
 * by a promoted man, and when en passant opens a line. */
static void check_checks(void *context, const Position *p)
{
    int *checks = context;
    MoveList list;
    CheckView view;
    movegen_all(p, &list);
    position_view_checks(p, &view);
    for (int i = 0; i < list.count; i++) {
        Position after = *p;
        position_play(&after, list.moves[i]);
        bool check = position_checkers(&after) != 0;
        assert_int_equal(position_gives_check(p, &view, list.moves[i]), check);
        *checks += check;
    }
}

static void checks_are_known_beforehand(void **state)
{
    int checks = 0;
    (void)state;
    playout(7, 300, 200, check_checks, &checks);
    assert_true(checks > 10000);
}

static void play_keeps_the_king_safe_and_the_keys_right(void **state)
{
    (void)state;
    playout(3, 100, 200, check_play, NULL);
}

static void check_codes(void *context, const Position *p)
{
    MoveList all;
    int legal = 0;
    /* All 65536 codes of one position in a few dozen. */
    if (++*(int *)context % 24)
        return;
    movegen_all(p, &all);
    for (unsigned code = 0; code <= UINT16_MAX; code++) {
        if (movegen_is_legal(p, (Move)code) != move_list_has(&all, (Move)code)) {
            char fen[FEN_SIZE];
            fen_write(p, fen);
            fail_msg("%s: code %04x", fen, code);
        }
        legal += movegen_is_legal(p, (Move)code);
    }
    assert_int_equal(legal, all.count);
}

static void any_sixteen_bits_are_judged(void **state)
{
    (void)state;
    int count = 0;
    playout(4, 30, 200, check_codes, &count);
}

/* Changing the colours round changes the moves round and nothing else. */
static void check_mirror(void *context, const Position *p)
{
    MoveList here, there;
    Position mirrored = playout_mirror(p);
    (void)context;
    movegen_all(p, &here);
    movegen_all(&mirrored, &there);
    assert_int_equal(here.count, there.count);
    for (int i = 0; i < here.count; i++) {
        Move move = here.moves[i];
        assert_true(move_list_has(
            &there, move_make(flip_ranks(move_from(move)), flip_ranks(move_to(move)), move_kind(move))));
    }
}

static void both_sides_move_alike(void **state)
{
    (void)state;
    playout(5, 100, 200, check_mirror, NULL);
}

/* What makes two positions the same: FIDE Laws of Chess, article 9.2.3. The text is the placement, the side
 * to move, the castling rights, and the file of a pawn that some legal move can take en passant. */
typedef struct Standing {
    char text[FEN_SIZE];
    uint64_t key;
} Standing;

typedef struct Standings {
    Standing *all;
    size_t count, capacity;
} Standings;

static void remember_standing(void *context, const Position *p)
{
    Standings *standings = context;
    MoveList list;
    if (standings->count == standings->capacity)
        return;
    Standing *s = &standings->all[standings->count++];
    Position plain = *p;
    plain.en_passant = NO_SQUARE;
    plain.halfmoves = 0;
    plain.fullmove = 1;
    fen_write(&plain, s->text);
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++)
        if (move_is_en_passant(list.moves[i])) {
            square_write(move_to(list.moves[i]), s->text + strlen(s->text));
            break;
        }
    s->key = p->key;
}

static int by_text(const void *a, const void *b)
{
    return strcmp(((const Standing *)a)->text, ((const Standing *)b)->text);
}

static int by_key(const void *a, const void *b)
{
    uint64_t x = ((const Standing *)a)->key, y = ((const Standing *)b)->key;
    return (x > y) - (x < y);
}

static void keys_are_equal_for_the_same_position_only(void **state)
{
    (void)state;
    Standings standings = {malloc(60000 * sizeof(Standing)), 0, 60000};
    size_t same = 0;
    assert_non_null(standings.all);
    /* Short games, so that the same positions come up again and again. */
    playout(6, 12000, 3, remember_standing, &standings);
    playout(7, 200, 60, remember_standing, &standings);
    qsort(standings.all, standings.count, sizeof(Standing), by_text);
    for (size_t i = 1; i < standings.count; i++)
        if (by_text(&standings.all[i - 1], &standings.all[i]) == 0) {
            assert_int_equal(standings.all[i - 1].key, standings.all[i].key);
            same++;
        }
    qsort(standings.all, standings.count, sizeof(Standing), by_key);
    for (size_t i = 1; i < standings.count; i++)
        if (standings.all[i - 1].key == standings.all[i].key)
            assert_string_equal(standings.all[i - 1].text, standings.all[i].text);
    /* Otherwise the test would have compared nothing. */
    assert_true(same > 1000 && standings.count - same > 1000);
    free(standings.all);
}

static void passing_moves_nothing(void **state)
{
    (void)state;
    Position p = playout_read("4k3/8/8/8/3pP3/8/8/4K3 b - e3 0 1", false), passed = p;
    assert_true(p.en_passant_possible);
    position_pass(&passed);
    assert_true(position_consistent(&passed));
    assert_int_equal(position_turn(&passed), WHITE);
    assert_int_equal(passed.en_passant, NO_SQUARE);
    Position wanted = playout_read("4k3/8/8/8/3pP3/8/8/4K3 w - - 0 1", false);
    assert_int_equal(passed.key, wanted.key);
    position_pass(&passed);
    assert_true(passed.key != p.key);
}

/* Single positions in which generators are known to go wrong. */
typedef struct MoveCase {
    const char *fen, *move; /* in long algebraic notation */
    bool legal;
} MoveCase;

static void check_cases(const MoveCase *cases, size_t count, bool chess960)
{
    for (size_t i = 0; i < count; i++) {
        Position p;
        Move move;
        if (fen_parse(cases[i].fen, chess960, &p, NULL) != FEN_OK ||
            (lan_parse(&p, cases[i].move, &move) == NOTATION_OK) != cases[i].legal)
            fail_msg("%s %s must be %s", cases[i].fen, cases[i].move, cases[i].legal ? "legal" : "illegal");
    }
}

#define CHECK_CASES(cases, chess960) check_cases(cases, sizeof cases / sizeof *cases, chess960)

/* FIDE Laws of Chess, article 3.8.2. */
static void castling_has_its_conditions(void **state)
{
    static const MoveCase cases[] = {
        {"4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "e1g1", true},
        {"4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "e1c1", true},
        {"r3k2r/8/8/8/8/8/8/4K3 b kq - 0 1", "e8g8", true},
        {"r3k2r/8/8/8/8/8/8/4K3 b kq - 0 1", "e8c8", true},
        /* The king stands in check, passes an attacked square, arrives on one. */
        {"4k3/8/8/8/4r3/8/8/R3K2R w KQ - 0 1", "e1g1", false},
        {"4k3/8/8/8/5r2/8/8/R3K2R w KQ - 0 1", "e1g1", false},
        {"4k3/8/8/8/5r2/8/8/R3K2R w KQ - 0 1", "e1c1", true},
        {"4k3/8/8/8/2r5/8/8/R3K2R w KQ - 0 1", "e1c1", false},
        {"4k3/8/8/8/2r5/8/8/R3K2R w KQ - 0 1", "e1g1", true},
        {"4k3/8/8/8/8/8/4p3/R3K2R w KQ - 0 1", "e1c1", false},
        /* The rook may be attacked, and may pass an attacked square. */
        {"4k3/8/8/8/1r6/8/8/R3K2R w KQ - 0 1", "e1c1", true},
        {"4k3/8/8/8/r7/8/8/R3K2R w KQ - 0 1", "e1c1", true},
        /* Nothing stands between king and rook. */
        {"4k3/8/8/8/8/8/8/RN2K2R w KQ - 0 1", "e1c1", false},
        {"4k3/8/8/8/8/8/8/R3K1nR w KQ - 0 1", "e1g1", false},
        /* A right that is gone. */
        {"4k3/8/8/8/8/8/8/R3K2R w K - 0 1", "e1c1", false},
    };
    (void)state;
    CHECK_CASES(cases, false);
}

/* FIDE Laws of Chess, guideline II.3: castling of Chess960. */
static void chess960_castling_has_its_conditions(void **state)
{
    static const MoveCase cases[] = {
        /* King and rook change places, the king stands still, the rook stands still. */
        {"4k3/8/8/8/8/8/8/5KR1 w G - 0 1", "f1g1", true},
        {"4k3/8/8/8/8/8/8/6KR w H - 0 1", "g1h1", true},
        {"4k3/8/8/8/8/8/8/4KR2 w F - 0 1", "e1f1", true},
        /* What stands on the goal of either. */
        {"4k3/8/8/8/8/8/8/1R1N1K2 w B - 0 1", "f1b1", false},
        {"4k3/8/8/8/8/8/8/NR3K2 w B - 0 1", "f1b1", true},
        /* The queen looks through the square that the rook leaves. */
        {"4k3/8/8/8/8/8/8/qR2K3 w B - 0 1", "e1b1", false},
        {"4k3/8/8/8/8/8/8/bR2K3 w B - 0 1", "e1b1", true},
    };
    (void)state;
    CHECK_CASES(cases, true);
}

/* FIDE Laws of Chess, articles 3.7.3.1 and 3.9. */
static void en_passant_has_its_conditions(void **state)
{
    static const MoveCase cases[] = {
        {"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 2", "e5d6", true},
        {"4k3/8/8/8/3pP3/8/8/4K3 b - e3 0 2", "d4e3", true},
        {"4k3/8/8/3pP3/8/8/8/4K3 w - - 0 2", "e5d6", false},
        {"4k3/8/8/3p2P1/8/8/8/4K3 w - d6 0 2", "g5d6", false},
        /* Both pawns leave the rank between king and rook. */
        {"8/8/8/K2pP2r/8/8/8/4k3 w - d6 0 2", "e5d6", false},
        /* One stays. */
        {"8/8/8/K1PpP2r/8/8/8/4k3 w - d6 0 2", "c5d6", true},
        /* It ends a check by the pawn that has just moved. A bishop behind the goal pins nothing. */
        {"4k3/8/8/3pP3/4K3/8/8/8 w - d6 0 2", "e5d6", true},
        {"4k3/4b3/8/2Pp4/1K6/8/8/8 w - d6 0 2", "c5d6", true},
        /* It is no answer to another check. */
        {"4k3/8/8/3pP3/8/8/8/r3K3 w - - 0 2", "e5d6", false},
        /* A pinned pawn keeps to the line of its pin. */
        {"4r2k/8/8/3pP3/8/8/8/4K3 w - d6 0 2", "e5d6", false},
        {"3r3k/8/8/3pP3/8/8/8/3K4 w - d6 0 2", "e5d6", true},
    };
    (void)state;
    CHECK_CASES(cases, false);
}

/* FIDE Laws of Chess, article 3.7.3: a pawn promotes to a queen, rook, bishop or knight, and to nothing
 * else. */
static void promotion_has_four_roles(void **state)
{
    static const MoveCase cases[] = {
        {"7k/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8q", true},
        {"7k/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8r", true},
        {"7k/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8b", true},
        {"7k/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8n", true},
        {"7k/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8", false},
        {"7k/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8k", false},
        {"7k/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8p", false},
        {"7k/8/P7/8/8/8/8/4K3 w - - 0 1", "a6a7q", false},
        {"1r5k/P7/8/8/8/8/8/4K3 w - - 0 1", "a7b8n", true},
        {"4k3/8/8/8/8/8/p7/1R4K1 b - - 0 1", "a2b1b", true},
    };
    (void)state;
    CHECK_CASES(cases, false);
}

/* FIDE Laws of Chess, article 3.9: no move but the king's can end two checks at once. */
static void a_double_check_is_answered_by_the_king(void **state)
{
    (void)state;
    Position p = playout_read("4r2k/8/8/8/1b6/8/3P1P2/3QK3 w - - 0 1", false);
    MoveList list;
    assert_int_equal(count_squares(position_checkers(&p)), 1);
    p = playout_read("4r2k/8/8/8/1b6/8/5P2/3QK3 w - - 0 1", false);
    assert_int_equal(count_squares(position_checkers(&p)), 2);
    movegen_all(&p, &list);
    assert_true(list.count > 0);
    for (int i = 0; i < list.count; i++)
        assert_int_equal(move_from(list.moves[i]), E1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tactical_and_quiet_make_up_all),
        cmocka_unit_test(checks_are_known_beforehand),
        cmocka_unit_test(play_keeps_the_king_safe_and_the_keys_right),
        cmocka_unit_test(any_sixteen_bits_are_judged),
        cmocka_unit_test(both_sides_move_alike),
        cmocka_unit_test(keys_are_equal_for_the_same_position_only),
        cmocka_unit_test(passing_moves_nothing),
        cmocka_unit_test(castling_has_its_conditions),
        cmocka_unit_test(chess960_castling_has_its_conditions),
        cmocka_unit_test(en_passant_has_its_conditions),
        cmocka_unit_test(promotion_has_four_roles),
        cmocka_unit_test(a_double_check_is_answered_by_the_king),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
