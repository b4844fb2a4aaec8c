#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/inputs.h"
#include "bench/base/parallel.h"
#include "bench/base/utf8.h"
#include "bench/find/find.h"
#include "bench/pgn/epd.h"
#include "bench/pgn/pgn_survey.h"

#include <stdio.h>
#include <string.h>

typedef struct Finding {
    FindQuery query;
    int64_t limit;
    size_t moments, games_with_some;
    bool enough;
} Finding;

static void begin(void *watch, const PgnGame *game)
{
    find_begin(watch, game);
}

static void on_move(void *watch, const PgnGame *game, Move move)
{
    find_move(watch, game, move);
}

static bool end(void *watch, const PgnGame *game, void *record)
{
    return find_end(watch, game, record);
}

static void watch_free(void *watch)
{
    find_watch_free(watch);
}

static void record_free(void *record)
{
    find_record_free(record);
}

/* A file's name where quotes and braces end the text. */
static void print_file(const char *file)
{
    const char *slash = strrchr(file, '/');
    bool valid = utf8_is_valid(file);
    for (const char *c = slash ? slash + 1 : file; *c; c++)
        putchar(*c == '{' || *c == '}' ? '?' : epd_quotable(*c, valid));
}

static bool use_game(void *context, const char *file, size_t number, void *record)
{
    Finding *finding = context;
    const FindRecord *found = record;
    finding->games_with_some += found->count > 0;
    for (int i = 0; i < found->count && !finding->enough; i++) {
        if (finding->query.as_pgn && finding->moments > 0)
            putchar('\n');
        fputs(found->texts[i].head, stdout);
        print_file(file);
        printf(", game %zu%s", number, found->texts[i].tail);
        finding->moments++;
        finding->enough = finding->limit > 0 && finding->moments == (size_t)finding->limit;
    }
    return !finding->enough;
}

static Status find(Finding *finding, PgnCollection *collection)
{
    const FindWatch watch = {.query = &finding->query};
    bool good = pgn_survey(&(PgnSurvey){.collection = collection,
                                        .watch = &watch,
                                        .watch_size = sizeof watch,
                                        .record_size = sizeof(FindRecord),
                                        .begin = begin,
                                        .move = on_move,
                                        .end = end,
                                        .watch_free = watch_free,
                                        .record_free = record_free,
                                        .context = finding,
                                        .game = use_game});
    if (!finding->query.as_pgn)
        printf("# %zu %s in %zu of %zu %s\n", finding->moments, finding->moments == 1 ? "moment" : "moments",
               finding->games_with_some, collection->games, collection->games == 1 ? "game" : "games");
    return (good || finding->enough) && !collection->cut ? STATUS_DONE : STATUS_FAILED;
}

Status find_command(int argc, char **argv)
{
    static const char *const sides[] = {"either", "white", "black", NULL};
    static const unsigned side_sets[] = {FIND_EITHER, FIND_WHITE, FIND_BLACK};
    /* The words of the library behind "any", void and none left out. */
    const char *grades[PS_GRADE_COUNT + 1] = {"any"}, *verdicts[PS_VERDICT_COUNT + 1] = {"any"},
                                        *statuses[PS_STATUS_COUNT + 2] = {"any"},
                                        *misses[PS_NEAR_MISS_COUNT + 2] = {"any"};
    for (int i = PS_VOID + 1; i < PS_GRADE_COUNT; i++)
        grades[i - PS_VOID] = ps_grade_name(i);
    for (int i = 0; i < PS_NONE; i++)
        verdicts[i + 1] = ps_verdict_name(i);
    for (int i = 0; i < PS_STATUS_COUNT; i++)
        statuses[i + 1] = ps_status_name(i);
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++)
        misses[i + 1] = ps_near_miss_name(i);
    Finding finding = {.query = {.first_file = PS_NO_FILE, .last_file = PS_NO_FILE}};
    int grade = 0, verdict = 0, status_asked = 0, miss = 0, side = 0;
    int64_t workers = parallel_processors();
    const char *chain = NULL;
    bool quiet = false;
    const Option options[] = {
        {.name = "chain",
         .argument = "FILES",
         .help = "the files of the locked chain, as def",
         .text = &chain},
        {.name = "grade", .argument = "GRADE", .help = "its grade", .choice = &grade, .choices = grades},
        {.name = "verdict",
         .argument = "VERDICT",
         .help = "the verdict",
         .choice = &verdict,
         .choices = verdicts},
        {.name = "lever",
         .argument = "STATE",
         .help = "the state of the base lever",
         .choice = &status_asked,
         .choices = statuses},
        {.name = "side",
         .argument = "SIDE",
         .help = "of whom that is asked",
         .choice = &side,
         .choices = sides},
        {.name = "near-miss", .argument = "NAME", .help = "a near miss", .choice = &miss, .choices = misses},
        {.name = "every",
         .help = "each time that it begins to hold, not only the first in a game",
         .flag = &finding.query.every},
        {.name = "pgn", .help = "the games from there on, in place of EPD", .flag = &finding.query.as_pgn},
        {.name = "limit",
         .argument = "N",
         .help = "stop after so many; 0: find all",
         .integer = &finding.limit,
         .least = 0,
         .greatest = INT64_C(1000000000)},
        workers_option(&workers, "threads, one for each processor"),
        quiet_option(&quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {
        "FILE.pgn... [OPTION]...",
        "Prints the positions of games in which all that is asked holds, the first of each "
        "game. What is asked of\n"
        "the chain, the verdict and the lever must hold of the plan of one side. \"-\" is the "
        "standard input."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    finding.query.grade = grade == 0 ? PS_NO_GRADE : PS_VOID + grade;
    finding.query.verdict = verdict == 0 ? PS_NONE : verdict - 1;
    finding.query.status = status_asked - 1; /* "any" is PS_NO_STATUS, and below PS_NO_NEAR_MISS */
    finding.query.near_miss = miss - 1;
    finding.query.sides = side_sets[side];
    if (argc == 0) {
        complain(NULL, 0, "find: there is no input; expected .pgn files, or - for the standard input");
        return STATUS_MISUSED;
    }
    if (chain != NULL && !find_read_chain(&finding.query, chain)) {
        complain(NULL, 0, "--chain is \"%s\"; expected two or more neighbouring files, as def", chain);
        return STATUS_MISUSED;
    }
    if (!find_asks(&finding.query)) {
        complain(NULL, 0,
                 "find: nothing is asked; expected --chain, --grade, --verdict, --lever or --near-miss");
        return STATUS_MISUSED;
    }
    int readable = inputs_sift(argv, argc);
    if (readable == 0)
        return STATUS_FAILED;
    Progress progress;
    PgnCollection collection = {.paths = (const char *const *)argv,
                                .path_count = readable,
                                .workers = (int)workers,
                                .share = 1,
                                .shares = 1,
                                .progress = &progress};
    progress_start(&progress, "games", 0, quiet);
    status = find(&finding, &collection);
    return readable == argc ? status : STATUS_FAILED;
}
