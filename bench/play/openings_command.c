#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/output_file.h"
#include "bench/base/parallel.h"
#include "bench/pgn/epd.h"
#include "bench/play/fingerprint.h"
#include "bench/play/opening_growth.h"

#include <inttypes.h>
#include <string.h>

static const char strata_text[] =
    "#     firm-applies     a locked chain on d and e, and the rule applies for both sides\n"
    "#     firm-misleading  a locked chain on d and e, and it misleads at least one side\n"
    "#     likely           a locked chain on c and d, or on e and f\n"
    "#     doubtful         a locked chain on b and c, or on f and g\n"
    "#     near-miss        the rule is usually misread here: not_linked, same_way, not_rammed, rim\n"
    "#     open-centre      no locked chain, no ram on d or e, and no pawn at all on d or on e\n";

/* How the file was made. False if memory runs out. */
static bool write_head(FILE *out, const Growth *growth)
{
    char engine[FINGERPRINT_SIZE];
    if (!fingerprint_built_in(engine))
        return false;
    fprintf(out,
            "# Start positions in strata by the pawns of the centre, grown by\n"
            "#\n"
            "#     pawnvane-bench openings --each %zu --games %zu --bound %d --seed %" PRIu64 " --out FILE",
            growth->each, growth->games, growth->bound, growth->seed);
    for (int i = 0; i < growth->file_count; i++) {
        const char *slash = strrchr(growth->files[i], '/');
        char name[EPD_NAME_SIZE];
        epd_quotable_name(slash ? slash + 1 : growth->files[i], name);
        fprintf(out, " %s", name);
    }
    fprintf(out, "\n#\n# with %s.\n#\n", engine);
    if (growth->file_count > 0)
        fprintf(
            out,
            "# First the games of the files were looked at in the same way, between plies %d and %d.\n#\n",
            GROWTH_FIRST_PLY, GROWTH_READ_LAST_PLY);
    fprintf(out,
            "# The engine, without its lever term, played short games against itself at %d nodes a move\n"
            "# from random beginnings. The first position of a game between plies %d and %d that belongs to\n"
            "# a stratum was kept if nobody is in check, nothing was just taken, a search of %d nodes\n"
            "# finds no side ahead by more than %d centipawns and no capture best, and no other opening has\n"
            "# the same pawns. ce is what that search found, for the side to move; c0 is the stratum, the\n"
            "# first of these that holds:\n"
            "#\n"
            "%s",
            GROWTH_PLAY_NODES, GROWTH_FIRST_PLY, GROWTH_LAST_PLY, GROWTH_JUDGE_NODES, growth->bound,
            strata_text);
    return true;
}

static Status write_file(const Growth *growth, const char *path)
{
    OutputFile file;
    size_t found[STRATUM_COUNT];
    if (!output_open(&file, path))
        return STATUS_FAILED;
    bool good = write_head(file.stream, growth);
    interrupt_catch();
    GrowthEnd end = good ? openings_grow(growth, file.stream, found) : GROWTH_NO_MEMORY;
    if (interrupt_number())
        fputs("# Interrupted before all of these games had been played.\n", file.stream);
    if (end != GROWTH_DONE) {
        output_abandon(&file);
        if (end == GROWTH_NO_MEMORY)
            complain(path, 0, "is not written: memory ran out");
        return STATUS_FAILED;
    }
    if (!output_commit(&file))
        return STATUS_FAILED;
    if (interrupt_number())
        interrupt_complain(path, "it keeps the openings of the games that were finished", false);
    for (int i = 0; i < STRATUM_COUNT; i++)
        printf("%-16s %4zu\n", stratum_names[i], found[i]);
    return STATUS_DONE;
}

Status openings_command(int argc, char **argv)
{
    int64_t each = 200, games = 100000, bound = 50, seed = 1, workers = parallel_processors();
    const char *out = NULL;
    bool quiet = false;
    const Option options[] = {
        {.name = "out",
         .argument = "FILE",
         .help = "where they go",
         .text = &out,
         .required = true,
         .file = FILE_WRITTEN},
        {.name = "each",
         .argument = "N",
         .help = "wanted of each stratum",
         .integer = &each,
         .least = 1,
         .greatest = 100000},
        {.name = "games",
         .argument = "N",
         .help = "play no more than so many games",
         .integer = &games,
         .least = 0,
         .greatest = INT64_C(1000000000)},
        {.name = "bound",
         .argument = "CP",
         .help = "no side may be further ahead",
         .integer = &bound,
         .least = 0,
         .greatest = 1000},
        {.name = "seed",
         .argument = "S",
         .help = "of the random beginnings",
         .integer = &seed,
         .least = 0,
         .greatest = INT64_MAX},
        workers_option(&workers, "games at a time, one for each processor"),
        quiet_option(&quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {"--out FILE [OPTION]... [GAMES.pgn]...",
                                "Finds start positions for duel and sweep, in strata by the pawns of the "
                                "centre: in the games of files, if\n"
                                "there are any, then in short games that the engine plays against itself."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    return write_file(&(Growth){.seed = (uint64_t)seed,
                                .each = (size_t)each,
                                .games = (size_t)games,
                                .files = (const char *const *)argv,
                                .file_count = argc,
                                .bound = (int)bound,
                                .workers = (int)workers,
                                .quiet = quiet},
                      out);
}
