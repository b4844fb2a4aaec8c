/* Compressed input, packed by libzstd as it is published, not by code of this project: whole, cut off, damaged. Frames may
 * follow each other, and frames that are to be skipped may stand between them (RFC 8878, sections 3 and 3.1.2). */
#include "tests/bench/harness.h"
#include "tests/bench/run/run_files.h"

#include "bench/pgn/packed_bytes.h"

#include <zstd.h>

static const char skipped[] = "\x5A\x2A\x4D\x18\x03\x00\x00\x00xyz";

static void write_bytes(const char *path, const char *bytes, size_t size)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(bytes, 1, size, file), size);
    assert_int_equal(fclose(file), 0);
}

/* All that is read, `piece` bytes at a time; null if reading fails. */
static char *read_all(const char *path, size_t piece, size_t *length)
{
    PackedBytes bytes;
    char *text = malloc(1 << 20);
    ssize_t got = 0;
    *length = 0;
    assert_non_null(text);
    assert_true(packed_open(&bytes, path));
    while (*length + piece < 1 << 20 && (got = packed_read(&bytes, text + *length, piece)) > 0)
        *length += (size_t)got;
    packed_close(&bytes);
    if (got == 0)
        return text;
    free(text);
    return NULL;
}

static void check_reads(const char *path, const char *expected, size_t size)
{
    static const size_t pieces[] = {1, 7, 4096, 300000};
    for (size_t i = 0; i < sizeof pieces / sizeof *pieces; i++) {
        size_t length;
        char *text = read_all(path, pieces[i], &length);
        assert_non_null(text);
        assert_int_equal(length, size);
        assert_memory_equal(text, expected, size);
        free(text);
    }
}

/* Longer than what is read at once, and not too easy to pack. */
enum { TEXT_SIZE = 400000, PACKED_SIZE = 800000 };

static char *make_text(void)
{
    char *text = malloc(TEXT_SIZE);
    uint32_t state = 1;
    assert_non_null(text);
    for (int i = 0; i < TEXT_SIZE; i++) {
        state = state * 1664525 + 1013904223; /* any mixture does */
        text[i] = (char)(state >> 24);
    }
    return text;
}

static void packed_or_not_the_same_comes_out(void **state)
{
    RunFiles *files = *state;
    char *text = make_text(), *packed = malloc(PACKED_SIZE);
    assert_non_null(packed);
    const char *path = run_path(files, "bytes");
    write_bytes(path, text, TEXT_SIZE);
    check_reads(path, text, TEXT_SIZE);
    /* Two frames, and one to be skipped before each. */
    size_t size = 0, half = TEXT_SIZE / 2;
    for (int i = 0; i < 2; i++) {
        memcpy(packed + size, skipped, sizeof skipped - 1);
        size += sizeof skipped - 1;
        size_t more = ZSTD_compress(packed + size, PACKED_SIZE - size, text + (size_t)i * half, half, 3);
        assert_false(ZSTD_isError(more));
        size += more;
    }
    write_bytes(path, packed, size);
    check_reads(path, text, TEXT_SIZE);
    free(text);
    free(packed);
}

static void short_files_are_read(void **state)
{
    RunFiles *files = *state;
    const char *path = run_path(files, "bytes");
    for (size_t size = 0; size < 4; size++) {
        write_bytes(path, "\x28\xB5\x2F", size); /* the first bytes of a mark are none */
        check_reads(path, "\x28\xB5\x2F", size);
    }
}

static const char games[] = "[Event \"?\"]\n[Result \"*\"]\n\n1. e4 e6 2. d4 d5 3. e5 c5 *\n";

static void what_is_cut_off_or_damaged_is_told(void **state)
{
    RunFiles *files = *state;
    char packed[1024], command[256];
    ZSTD_CCtx *packer = ZSTD_createCCtx();
    assert_non_null(packer);
    ZSTD_CCtx_setParameter(packer, ZSTD_c_checksumFlag, 1);
    size_t size = ZSTD_compress2(packer, packed, sizeof packed, games, sizeof games - 1);
    assert_false(ZSTD_isError(size));
    ZSTD_freeCCtx(packer);
    char path[128];
    snprintf(path, sizeof path, "%s", run_path(files, "games.pgn.zst"));
    snprintf(command, sizeof command, "forecast --json --quiet %s", path);
    /* With fewer than four bytes it is not compressed, and no game. */
    for (size_t length = 4; length < size; length++) {
        write_bytes(path, packed, length);
        assert_refused(command, "", 1, "ends within its compressed part");
    }
    packed[size / 2] ^= 0x55;
    write_bytes(path, packed, size);
    HarnessRun run = harness_run(command, "");
    if (strstr(run.out, "\"games\":1,\"plies\":6,") != NULL)
        fail_msg("damaged bytes were read as if nothing was wrong");
    assert_int_equal(run.status, 1);
    harness_free(&run);
    packed[size / 2] ^= 0x55;
    write_bytes(path, packed, size);
    run = harness_run(command, "");
    assert_int_equal(run.status, 0);
    assert_non_null(strstr(run.out, "\"games\":1,\"plies\":6,"));
    harness_free(&run);
    /* The standard input, too. */
    snprintf(command, sizeof command, "census - --json --quiet <%s", path);
    run = harness_run(command, "");
    assert_non_null(strstr(run.out, "\"games\":1,"));
    harness_free(&run);
    /* And a sheet of its games. */
    snprintf(command, sizeof command, "handout %s --quiet --nodes 1000 --html %s/sheet.html", path,
             files->folder);
    run = harness_run(command, "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.err, "");
    harness_free(&run);
}

/* As many as the folder says where they come from. */
static void the_shipped_games_are_all_there(void **state)
{
    (void)state;
    HarnessRun run = harness_run("forecast --json --quiet bench/games/masters.pgn.zst", "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.err, "");
    assert_non_null(strstr(run.out, "\"games\":12700,\"plies\":1098768,\"skipped\":0,"));
    harness_free(&run);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(packed_or_not_the_same_comes_out, run_files_setup,
                                        run_files_teardown),
        cmocka_unit_test_setup_teardown(short_files_are_read, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(what_is_cut_off_or_damaged_is_told, run_files_setup,
                                        run_files_teardown),
        cmocka_unit_test(the_shipped_games_are_all_there),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
