#include "bench/census/census_list.h"
#include "bench/base/csv.h"
#include "bench/census/census_numbers.h"

#include <string.h>

typedef struct Listing {
    FILE *out;
    const char *name, *file;
    size_t count;
} Listing;

static void list(void *context, const char *name, const CensusGame *game, int moment)
{
    Listing *listing = context;
    size_t length = strlen(listing->name);
    if (strncmp(name, listing->name, length) != 0 || (name[length] != '\0' && name[length] != '/'))
        return;
    const char *texts[] = {name, listing->file};
    for (int i = 0; i < 2; i++) {
        csv_text(listing->out, texts[i]);
        fputc(',', listing->out);
    }
    fprintf(listing->out, "%zu,", game->number);
    csv_text(listing->out, moment >= 0 ? game->moments[moment].move : "");
    fputc(',', listing->out);
    csv_text(listing->out, moment >= 0 ? game->moments[moment].fen : "");
    fputc('\n', listing->out);
    listing->count++;
}

void census_list_head(FILE *out)
{
    fputs("number,file,game,move,fen\n", out);
}

size_t census_list(FILE *out, const char *name, const char *file, const CensusGame *game)
{
    Listing listing = {out, name, file, 0};
    census_numbers(game, list, &listing);
    return listing.count;
}
