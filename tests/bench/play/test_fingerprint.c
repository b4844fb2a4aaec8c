/* Which engine it is: the sources are told apart by what is in them, not by how they are built. */
#include "tests/bench/run/run_in.h"

#include "bench/play/fingerprint.h"
#include "bench/play/source_hash.h"

/* Runs a shell's commands in a copy of the sources, with no variables of a make that runs these tests. */
static void shell(RunFiles *files, const char *commands)
{
    char all[2048];
    assert_in_range(snprintf(all, sizeof all,
                             "cd %s && unset MAKEFLAGS MAKELEVEL MFLAGS && (%s) >%s/log 2>&1", files->folder,
                             commands, files->folder),
                    1, sizeof all - 1);
    bool good = system(all) == 0;
    char *log = run_read(run_path(files, "log"));
    if (!good)
        print_error("%s: %s\n", commands, log);
    free(log);
    assert_true(good);
}

/* The hash that the Makefile works out in the copy, with these variables. To be freed. */
static char *hash_of_copy(RunFiles *files, const char *variables)
{
    char commands[256];
    snprintf(commands, sizeof commands, "make BUILD=out %s out/bench/play/source_hash.c", variables);
    shell(files, commands);
    return run_read(run_path(files, "out/bench/play/source_hash.c"));
}

static void assert_hash(RunFiles *files, const char *variables, const char *other, bool same)
{
    char *hash = hash_of_copy(files, variables);
    if ((strcmp(hash, other) == 0) != same)
        fail_msg("with \"%s\" the hash is %s after %s", variables, hash, other);
    free(hash);
}

static void test_source_hash(void **state)
{
    RunFiles *files = *state;
    char copy[256];
    snprintf(copy, sizeof copy, "cp -r Makefile engine structure bench %s", files->folder);
    assert_int_equal(system(copy), 0);
    char *first = hash_of_copy(files, "CC=gcc");
    /* 16 digits of SHA-256 (FIPS 180-4), as sha256sum prints it for the files and then for that list. */
    shell(
        files,
        "printf '#include \"bench/play/source_hash.h\"\\n\\nconst char source_hash[] = \"%s\";\\n' "
        "$(LC_ALL=C ls engine/*/*.[chS] structure/*.[ch] bench/play/*.[ch] | LC_ALL=C sort | xargs sha256sum "
        "| sha256sum | cut -c 1-16) | cmp - out/bench/play/source_hash.c");
    /* How it is built, and when a file was written, is nothing. */
    assert_hash(files, "CC=clang", first, true);
    assert_hash(files, "PORTABLE=1 OPTIMISE=-O0 LTO=", first, true);
    shell(files, "touch -d '2 days ago' out/bench/play/source_hash.c && touch engine/search/search.c");
    assert_hash(files, "", first, true);
    /* Then nothing is to be linked anew. */
    shell(files, "test -z \"$(find out/bench/play/source_hash.c -newermt '1 day ago')\"");
    /* What is in a file is all, be it far from the root of a search; a header; what plays a game. */
    static const char *const changes[][2] = {
        {"cp engine/search/search.c kept && sed -i '0,/depth/s//depth /' engine/search/search.c",
         "cp kept engine/search/search.c"},
        {"cp structure/structure.h kept && echo >>structure/structure.h", "cp kept structure/structure.h"},
        {"cp bench/play/play.c kept && sed -i '0,/plies/s//plies /' bench/play/play.c",
         "cp kept bench/play/play.c"},
        {"echo >engine/search/new.c", "rm engine/search/new.c"},
        {"mv engine/search/search.c kept", "mv kept engine/search/search.c"},
    };
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++) {
        shell(files, changes[i][0]);
        assert_hash(files, "", first, false);
        shell(files, changes[i][1]);
        assert_hash(files, "", first, true);
    }
    free(first);
}

static void test_text(void **state)
{
    (void)state;
    char text[FINGERPRINT_SIZE], again[FINGERPRINT_SIZE], expected[64];
    assert_true(fingerprint_built_in(text) && fingerprint_built_in(again));
    assert_string_equal(text, again);
    assert_int_equal(strlen(source_hash), 16);
    snprintf(expected, sizeof expected, ", sources %s", source_hash);
    assert_string_equal(strstr(text, ", sources "), expected);
}

/* Two engines that differ in their sources only do not go together. */
static void test_other_sources(void **state)
{
    RunFiles *files = *state;
    done(files, "duel " SMALL "--pairs 2 --share 1/2 --store @/1.db");
    done(files, "duel " SMALL "--pairs 2 --share 2/2 --store @/2.db");
    done(files, "merge @/whole.db @/1.db @/2.db");
    run_sql(run_path(files, "2.db"), "UPDATE arm SET engine = substr(engine, 1, length(engine) - 1) || 'x'");
    refused_unchanged(files, 1, "holds another experiment: it has \"arm 0: ", "merge @/m.db @/1.db @/2.db");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        RUN_TEST(test_source_hash),
        cmocka_unit_test(test_text),
        RUN_TEST(test_other_sources),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
