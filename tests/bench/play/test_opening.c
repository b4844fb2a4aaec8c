/* Start positions: the shipped file keeps what its head says, growing is repeatable, the order is fair. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "bench/pgn/epd.h"
#include "bench/play/opening.h"
#include "bench/play/opening_growth.h"
#include "bench/play/quiet_start.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"
#include "tests/bench/run/run_in.h"

static const char shipped[] = "bench/openings/strata.epd";

enum { SHIPPED_BOUND = 50 };

/* What a stratum promises, from its words in opening_stratum.h and the analysis, another way round than
 * stratum_of() does it. */
static bool belongs(const Position *p, const char *stratum)
{
    ps_board board;
    ps_analysis a;
    bool has[PS_GRADE_COUNT] = {false};
    structure_view(p, &board);
    ps_analyse(&a, &board);
    for (int i = 0; i < a.chain_count; i++)
        has[a.chains[i].grade] = true;
    bool misleads = a.plan[PS_WHITE].verdict == PS_MISLEADING || a.plan[PS_BLACK].verdict == PS_MISLEADING;
    bool fulfilled = a.plan[PS_WHITE].verdict == PS_FULFILLED || a.plan[PS_BLACK].verdict == PS_FULFILLED;
    if (has[PS_FIRM] && fulfilled && !misleads)
        return false; /* of no stratum */
    if (has[PS_FIRM])
        return strcmp(stratum, misleads ? "firm-misleading" : "firm-applies") == 0;
    if (has[PS_LIKELY] || has[PS_DOUBTFUL])
        return strcmp(stratum, has[PS_LIKELY] ? "likely" : "doubtful") == 0;
    if (a.near_miss_count > 0)
        return strcmp(stratum, "near-miss") == 0;
    int pawns[2] = {0, 0};
    for (Square s = A1; s <= H8; s++) {
        bool middle = file_of(s) == FILE_D || file_of(s) == FILE_E;
        if (!middle || position_role(p, s) != PAWN)
            continue;
        pawns[file_of(s) - FILE_D]++;
        bool white = p->by_side[WHITE] & bit(s);
        if (white && position_role(p, s + 8) == PAWN && (p->by_side[BLACK] & bit(s + 8)))
            return false;
    }
    return (pawns[0] == 0 || pawns[1] == 0) && strcmp(stratum, "open-centre") == 0;
}

typedef struct Shipped {
    int count[STRATUM_COUNT], total;
    uint64_t keys[4096], pawn_keys[4096];
} Shipped;

static bool check_record(void *context, const EpdRecord *record)
{
    Shipped *found = context;
    const Position *p = &record->position;
    const char *stratum = epd_text(record, "c0"), *score = epd_text(record, "ce");
    assert_non_null(stratum);
    assert_non_null(score);
    assert_in_range(abs(atoi(score)), 0, SHIPPED_BOUND);
    assert_false(position_in_check(p));
    assert_true(movegen_any(p));
    int ply = 2 * (p->fullmove - 1) + (position_turn(p) == BLACK);
    assert_in_range(ply, GROWTH_FIRST_PLY, GROWTH_LAST_PLY);
    if (!belongs(p, stratum))
        fail_msg("line %ld is not %s", record->line, stratum);
    for (int i = 0; i < found->total; i++) {
        assert_int_not_equal(found->keys[i], p->key);
        assert_int_not_equal(found->pawn_keys[i], p->pawn_key);
    }
    found->keys[found->total] = p->key;
    found->pawn_keys[found->total++] = p->pawn_key;
    for (int i = 0; i < STRATUM_COUNT; i++)
        found->count[i] += strcmp(stratum, stratum_names[i]) == 0;
    return true;
}

static void test_shipped(void **state)
{
    (void)state;
    static Shipped found;
    assert_true(epd_read_file(shipped, check_record, &found));
    for (int i = 0; i < STRATUM_COUNT; i++)
        assert_true(found.count[i] >= 70);
    assert_true(found.total >= 400);
}

/* ------------------------------------------------------------------------------------------------ growing */

static char *grow(int workers, uint64_t seed, size_t found[STRATUM_COUNT])
{
    char *text;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    Growth growth = {.seed = seed, .each = 2, .games = 12, .bound = 60, .workers = workers, .quiet = true};
    assert_int_equal(openings_grow(&growth, out, found), GROWTH_DONE);
    fclose(out);
    return text;
}

static void test_growing(void **state)
{
    size_t found[STRATUM_COUNT], again[STRATUM_COUNT], sum = 0;
    char *one = grow(1, 3, found), *many = grow(4, 3, again), *other = grow(2, 4, again);
    assert_string_equal(one, many);
    assert_string_not_equal(one, other);
    for (int i = 0; i < STRATUM_COUNT; i++) {
        assert_true(found[i] <= 2);
        sum += found[i];
    }
    assert_true(sum >= 2);
    /* What is written can be read, and is what it says. */
    const char *path = run_path(*state, "grown.epd");
    run_write(path, one);
    OpeningSet set = {0};
    assert_true(openings_read(&set, path));
    assert_int_equal(set.count, sum);
    for (size_t i = 0; i < set.count; i++)
        assert_true(belongs(&set.items[i].position, set.strata[set.items[i].stratum]));
    openings_free(&set);
    free(one);
    free(many);
    free(other);
}

/* Real games first: a French Advance and a King's Indian as any manual gives them (from memory), quiet to the end; their locks
 * are on d and e. Whatever the number of threads. */
static void test_games_of_files(void **state)
{
    static const char games[] =
        "1. e4 e6 2. d4 d5 3. e5 c5 4. c3 Nc6 5. Nf3 Qb6 6. a3 c4 7. Nbd2 Na5 8. Be2 Bd7 *\n"
        "\n"
        "1. d4 Nf6 2. c4 g6 3. Nc3 Bg7 4. e4 d6 5. Nf3 O-O 6. Be2 e5 7. O-O Nc6 8. d5 Ne7 *\n";
    const char *path = run_path(*state, "games.pgn");
    run_write(path, games);
    char *texts[2];
    for (int i = 0; i < 2; i++) {
        size_t size, found[STRATUM_COUNT];
        FILE *out = open_memstream(&texts[i], &size);
        Growth growth = {.each = 5,
                         .games = 0,
                         .bound = 150,
                         .workers = 1 + 2 * i,
                         .quiet = true,
                         .files = &path,
                         .file_count = 1};
        assert_int_equal(openings_grow(&growth, out, found), GROWTH_DONE);
        fclose(out);
        assert_true(found[STRATUM_FIRM_APPLIES] >= 1);
        assert_true(found[STRATUM_FIRM_APPLIES] + found[STRATUM_FIRM_MISLEADING] >= 2);
    }
    assert_string_equal(texts[0], texts[1]);
    /* The King's Indian with its lock, and nothing from before it. */
    assert_non_null(strstr(texts[0], "/3Pp3/2P1P3/"));
    free(texts[0]);
    free(texts[1]);
}

static void test_games_that_cannot_be_read(void **state)
{
    RunFiles *files = *state;
    run_write(run_path(files, "cut.pgn"), "[White \"A\"]\n[Black \"B\"]\n\n1. e4 e6 2. d4");
    refused_unchanged(files, 1, "the file ends", "openings --quiet --games 0 --out @/new.epd @/cut.pgn");
    refused_unchanged(files, 1, "none.pgn", "openings --quiet --games 0 --out @/new.epd @/none.pgn");
}

static void test_selection(void **state)
{
    OpeningSet set = {0}, all = {0};
    char unknown[64] = "";
    size_t counts[STRATA_MAX];
    (void)state;
    assert_true(openings_read(&set, shipped) && openings_read(&all, shipped));
    assert_true(openings_select(&set, "doubtful,firm-applies", unknown));
    assert_int_equal(set.stratum_count, 2);
    openings_count_strata(&set, counts);
    assert_string_equal(set.strata[0], "firm-applies");
    assert_string_equal(set.strata[1], "doubtful");
    size_t wanted = 0;
    for (size_t i = 0; i < all.count; i++) {
        const char *stratum = all.strata[all.items[i].stratum];
        if (strcmp(stratum, "firm-applies") != 0 && strcmp(stratum, "doubtful") != 0)
            continue;
        assert_true(all.items[i].position.key == set.items[wanted].position.key);
        assert_string_equal(all.items[i].name, set.items[wanted].name);
        assert_string_equal(stratum, set.strata[set.items[wanted].stratum]);
        wanted++;
    }
    assert_int_equal(set.count, wanted);
    assert_int_equal(counts[0] + counts[1], wanted);
    static const char *const wrong[] = {"likely", "doubtful,", ",doubtful", "doubt", ""};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        assert_false(openings_select(&set, wrong[i], unknown));
        assert_int_equal(set.count, wanted);
    }
    openings_free(&set);
    openings_free(&all);
}

/* ---------------------------------------------------------------------------------------------- the order */

static void test_order(void **state)
{
    (void)state;
    OpeningSet set = {0}, same = {0}, other = {0};
    assert_true(openings_read(&set, shipped) && openings_read(&same, shipped) &&
                openings_read(&other, shipped));
    int strata = set.stratum_count;
    assert_true(openings_arrange(&set, 60, 5) && openings_arrange(&same, 600, 5) &&
                openings_arrange(&other, 60, 6));
    assert_int_equal(set.count, 60);
    assert_int_equal(same.count, 600);
    int differ = 0;
    for (size_t i = 0; i < set.count; i++) {
        /* A longer match begins with the shorter one. */
        assert_string_equal(set.items[i].name, same.items[i].name);
        differ += strcmp(set.items[i].name, other.items[i].name) != 0;
        /* One of each stratum in turn. */
        assert_int_equal(set.items[i].stratum, (int)i % strata);
    }
    assert_true(differ > 30);
    openings_free(&set);
    openings_free(&same);
    openings_free(&other);
}

static void test_drawn(void **state)
{
    (void)state;
    OpeningSet few = {0}, many = {0};
    assert_true(openings_draw(&few, 0, 6, 11, 1));
    assert_true(openings_draw(&many, 0, 10, 11, 3));
    for (size_t i = 0; i < few.count; i++) {
        assert_int_equal(few.items[i].position.key, many.items[i].position.key);
        assert_true(position_consistent(&few.items[i].position));
    }
    openings_free(&few);
    openings_free(&many);
}

/* Strata of unlike sizes: every stretch has of each its part. */
static void test_stretches(void **state)
{
    enum { SHARES = 5, OPENINGS = 100 };
    RunFiles *files = *state;
    OpeningSet all = {0}, set = {0};
    char *text;
    size_t size, counts[STRATA_MAX];
    FILE *out = open_memstream(&text, &size);
    assert_true(openings_read(&all, shipped));
    /* 70, 20 and 10 of three strata */
    for (int i = 0; i < OPENINGS; i++) {
        char fen[FEN_SIZE];
        fen_write(&all.items[i].position, fen);
        fprintf(out, "%s c0 \"%s\";\n", fen, i < 70 ? "many" : i < 90 ? "some" : "few");
    }
    fclose(out);
    const char *path = run_path(files, "unlike.epd");
    run_write(path, text);
    free(text);
    assert_true(openings_read(&set, path) && openings_arrange(&set, OPENINGS, 3));
    for (int share = 0; share < SHARES; share++) {
        memset(counts, 0, sizeof counts);
        for (int i = 0; i < OPENINGS / SHARES; i++)
            counts[set.items[share * OPENINGS / SHARES + i].stratum]++;
        assert_in_range(counts[0], 13, 15);
        assert_in_range(counts[1], 3, 5);
        assert_in_range(counts[2], 1, 3);
    }
    uint64_t hash = openings_hash(&set);
    set.items[77].name[0]++;
    assert_int_not_equal(openings_hash(&set), hash);
    set.items[77].name[0]--;
    assert_int_equal(openings_hash(&set), hash);
    openings_keep(&set, 40, 20);
    assert_int_equal(set.count, 20);
    openings_free(&all);
    openings_free(&set);
    /* With fewer than there are, as many of each as long as that is possible. */
    assert_true(openings_read(&set, path) && openings_arrange(&set, 45, 3));
    openings_count_strata(&set, counts);
    assert_int_equal(counts[0], 18);
    assert_int_equal(counts[1], 17);
    assert_int_equal(counts[2], 10);
    openings_free(&set);
}

static int by_number(const void *a, const void *b)
{
    uint64_t x = *(const uint64_t *)a, y = *(const uint64_t *)b;
    return (x > y) - (x < y);
}

/* Far more than the 10,000 behind which random plies come back to the same positions. */
static void test_no_repetition(void **state)
{
    (void)state;
    enum { STARTS = 200000 };
    QuietStarts *starts = quiet_starts_new();
    uint64_t *keys = malloc(STARTS * sizeof *keys);
    size_t count = 0;
    assert_true(starts && keys);
    assert_true(quiet_starts_count(starts) > 10 * (uint64_t)OPENINGS_DRAWN_MOST);
    for (uint64_t number = 0; number < STARTS; number++) {
        Position position;
        if (!quiet_start(starts, 4, number, &position))
            continue;
        if (number % 1000 == 0)
            assert_true(position_consistent(&position));
        assert_int_equal(position.fullmove, 1 + QUIET_MOVES);
        keys[count++] = position.key;
    }
    assert_true(count > STARTS * 9 / 10);
    qsort(keys, count, sizeof *keys, by_number);
    for (size_t i = 1; i < count; i++)
        assert_int_not_equal(keys[i - 1], keys[i]);
    free(keys);
    quiet_starts_free(starts);
}

/* Of a share only its own are drawn, and they are those that a run in one piece has there. */
static void test_drawn_share(void **state)
{
    (void)state;
    OpeningSet all = {0}, share = {0}, last = {0};
    assert_true(openings_draw(&all, 0, 12, 11, 2) && openings_draw(&share, 7, 5, 11, 1) &&
                openings_draw(&last, OPENINGS_DRAWN_MOST - 1, 1, 11, 1));
    assert_int_equal(share.count, 5);
    for (size_t i = 0; i < share.count; i++) {
        assert_int_equal(share.items[i].position.key, all.items[7 + i].position.key);
        assert_string_equal(share.items[i].name, all.items[7 + i].name);
    }
    openings_free(&all);
    openings_free(&share);
    openings_free(&last);
}

static void test_bad_files(void **state)
{
    static const struct {
        const char *text;
        size_t kept;
    } cases[] = {
        {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1\n"
         "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - id \"again\";\n",
         1},                                                           /* there twice */
        {"7k/5Q2/6K1/8/8/8/8/8 b - - 0 1\n", 0},                       /* stalemate */
        {"bnrbkrqn/pppppppp/8/8/8/8/PPPPPPPP/BNRBKRQN w FCfc -\n", 0}, /* Chess960 */
        {"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBN w KQkq - 0 1\n", 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        OpeningSet set = {0};
        const char *path = run_path(*state, "bad.epd");
        run_write(path, cases[i].text);
        assert_false(openings_read(&set, path));
        assert_int_equal(set.count, cases[i].kept);
        openings_free(&set);
    }
}

#define FILE_TEST(test) cmocka_unit_test_setup_teardown(test, run_files_setup, run_files_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_shipped),     FILE_TEST(test_growing),
        FILE_TEST(test_games_of_files),     FILE_TEST(test_games_that_cannot_be_read),
        cmocka_unit_test(test_selection),   cmocka_unit_test(test_order),
        cmocka_unit_test(test_drawn),       FILE_TEST(test_bad_files),
        FILE_TEST(test_stretches),          cmocka_unit_test(test_no_repetition),
        cmocka_unit_test(test_drawn_share),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
