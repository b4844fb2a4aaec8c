#include "bench/spar/spar_sheet.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { TABLE_MIB = 16, SOUND_MARGIN = 50 };

static bool no_memory(void)
{
    complain(NULL, 0, "memory ran out");
    return false;
}

/* A number that neither file has yet. */
static bool name_files(SparSheet *sheet, const char *html, const char *pgn)
{
    bool taken = true;
    for (int number = 1; taken; number++) {
        free(sheet->html);
        free(sheet->pgn);
        sheet->html = sheet->pgn = NULL;
        if ((html ? (sheet->html = strdup(html)) == NULL
                  : asprintf(&sheet->html, "spar-%d.html", number) < 0) ||
            (pgn ? (sheet->pgn = strdup(pgn)) == NULL : asprintf(&sheet->pgn, "spar-%d.pgn", number) < 0))
            return no_memory();
        taken = (!html && access(sheet->html, F_OK) == 0) || (!pgn && access(sheet->pgn, F_OK) == 0);
    }
    return true;
}

bool spar_sheet_begin(SparSheet *sheet, const char *html, const char *pgn, int nodes)
{
    *sheet = (SparSheet){.handout = {.title = "Training match"}};
    sheet->handout.settings = (LessonSettings){{.nodes = (uint64_t)nodes}, SOUND_MARGIN};
    sheet->handout.player = player_new(TABLE_MIB);
    if (!sheet->handout.player)
        return no_memory();
    player_settings(sheet->handout.player)->lever_weight = 0; /* else the rule would judge itself */
    return name_files(sheet, html, pgn) && output_can_be_written(sheet->html) &&
           output_can_be_written(sheet->pgn);
}

/* "Pawnvane (faithful at 1400)": in a name of PGN a comma stands between family name and first name. */
static void write_partner(const Sparring *sparring, char *text, size_t size)
{
    char strength[16] = "full strength";
    if (sparring->elo)
        snprintf(strength, sizeof strength, "%d", sparring->elo);
    snprintf(text, size, "Pawnvane (%s at %s)", spar_style_name(sparring->style), strength);
}

bool spar_sheet_add(SparSheet *sheet, const SparMatch *match, const char *opening)
{
    char partner[64], date[16] = "????.??.??", pupil[] = "Pupil", event[] = "Training match", unknown[] = "?",
                      result[8], site[128];
    time_t now = time(NULL);
    struct tm local;
    if (localtime_r(&now, &local))
        strftime(date, sizeof date, "%Y.%m.%d", &local);
    write_partner(&match->sparring, partner, sizeof partner);
    snprintf(result, sizeof result, "%s", spar_match_result(match));
    snprintf(site, sizeof site, "%s", opening);
    bool white = match->pupil == WHITE;
    char *const values[][2] = {{(char[]){"Event"}, event},
                               {(char[]){"Site"}, unknown},
                               {(char[]){"Date"}, date},
                               {(char[]){"Round"}, unknown},
                               {(char[]){"White"}, white ? pupil : partner},
                               {(char[]){"Black"}, white ? partner : pupil},
                               {(char[]){"Result"}, result},
                               {(char[]){"Opening"}, site}};
    enum { TAGS = sizeof values / sizeof *values };
    HandoutTag tags[TAGS];
    for (int i = 0; i < TAGS; i++)
        tags[i] = (HandoutTag){values[i][0], values[i][1]};
    return handout_add_game(&sheet->handout, &(HandoutGame){.start = match->start,
                                                            .ply_count = match->plies,
                                                            .moves = match->moves,
                                                            .result = spar_match_result(match),
                                                            .tag_count = TAGS,
                                                            .tags = tags});
}

bool spar_sheet_write(SparSheet *sheet)
{
    Progress progress;
    progress_start(&progress, "games", (size_t)sheet->handout.count,
                   true); /* a line that changes cannot be heard */
    if (!handout_study(&sheet->handout, &progress))
        return no_memory();
    progress_clear(&progress);
    return handout_write_file(sheet->html, &sheet->handout, handout_write_page) &&
           handout_write_file(sheet->pgn, &sheet->handout, handout_write_pgn);
}

void spar_sheet_free(SparSheet *sheet)
{
    handout_free(&sheet->handout);
    player_free(sheet->handout.player);
    free(sheet->html);
    free(sheet->pgn);
}
