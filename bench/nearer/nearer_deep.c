#include "bench/nearer/nearer_deep.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/base/output_file.h"
#include "bench/pgn/epd.h"
#include "bench/play/fingerprint.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char prefix[] = "# Deep searches by ";

/* The counter of moves without progress is no part of the key, and means something to a search. */
static int compare(const void *a, const void *b)
{
    const Position *x = &((const DeepSearch *)a)->position, *y = &((const DeepSearch *)b)->position;
    if (x->key != y->key)
        return x->key < y->key ? -1 : 1;
    return x->halfmoves - y->halfmoves;
}

bool nearer_deep_add(NearerDeep *deep, const Position *position, const ChosenMove *chosen)
{
    if (!array_reserve(deep->items, deep->capacity, deep->count, 1)) {
        complain(deep->path, 0, "memory ran out");
        return false;
    }
    deep->items[deep->count++] = (DeepSearch){*position, *chosen};
    return true;
}

static bool use_record(void *context, const EpdRecord *record)
{
    NearerDeep *deep = context;
    const char *acn = epd_text(record, "acn"), *ce = epd_text(record, "ce");
    char error[EPD_ERROR_SIZE];
    int64_t nodes, score;
    MoveList line;
    if (!epd_moves(record, "pv", &line, error))
        complain(record->file, record->line, "%s", error);
    else if (line.count != 1 || !acn || !ce || !read_number(acn, 1, INT64_MAX, &nodes) ||
             !read_number(ce, -SCORE_MATE, SCORE_MATE, &score))
        complain(
            record->file, record->line,
            "the line is no deep search; expected acn, ce and pv with one move, as nearer --keep writes it");
    else if (nodes != deep->nodes)
        complain(record->file, record->line,
                 "acn is %" PRId64 " and --deep %" PRId64 "; expected the same, or another file", nodes,
                 deep->nodes);
    else
        return nearer_deep_add(deep, &record->position, &(ChosenMove){line.moves[0], (int)score});
    return false;
}

/* Many lines may be wrong in the same way; the first says all. */
typedef struct FirstOnly {
    NearerDeep *deep;
    bool failed;
} FirstOnly;

static bool use_while_good(void *context, const EpdRecord *record)
{
    FirstOnly *first = context;
    first->failed = first->failed || !use_record(first->deep, record);
    return !first->failed;
}

bool nearer_deep_read(NearerDeep *deep, const char *path, int64_t nodes)
{
    char own[FINGERPRINT_SIZE];
    FirstOnly first = {.deep = deep};
    *deep = (NearerDeep){.path = path, .nodes = nodes};
    if (!path)
        return true;
    if (!fingerprint_built_in(own)) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    if (!output_can_be_written(path))
        return false;
    if (access(path, F_OK) != 0) {
        snprintf(deep->engine, sizeof deep->engine, "%s", own);
        return true;
    }
    origin_add_of_file(deep->engine, path, prefix);
    if (!*deep->engine) {
        complain(path, 1, "does not begin with \"%s\"; expected a file that nearer --keep wrote", prefix);
        return false;
    }
    deep->foreign = strcmp(deep->engine, own) != 0;
    bool good = epd_read_file(path, use_while_good, &first);
    if (good && deep->count > 0)
        qsort(deep->items, deep->count, sizeof *deep->items, compare);
    return good;
}

const ChosenMove *nearer_deep_find(const NearerDeep *deep, const Position *position)
{
    const DeepSearch wanted = {.position = *position};
    const DeepSearch *found =
        deep->count ? bsearch(&wanted, deep->items, deep->count, sizeof wanted, compare) : NULL;
    return found ? &found->chosen : NULL;
}

bool nearer_deep_write(NearerDeep *deep)
{
    OutputFile file;
    if (!output_open(&file, deep->path))
        return false;
    qsort(deep->items, deep->count, sizeof *deep->items, compare);
    fprintf(file.stream, "%s%s\n", prefix, deep->engine);
    for (size_t i = 0; i < deep->count; i++) {
        const DeepSearch *search = &deep->items[i];
        const Position *p = &search->position;
        char fen[FEN_SIZE], move[MOVE_TEXT_SIZE];
        if (i > 0 && compare(search - 1, search) == 0)
            continue; /* it was asked for twice */
        fen_write(p, fen);
        san_write(p, search->chosen.move, move);
        fprintf(file.stream, "%.*s hmvc %d; fmvn %d; acn %" PRId64 "; ce %d; pv %s;\n",
                (int)epd_fields_length(fen), fen, p->halfmoves, p->fullmove, deep->nodes,
                search->chosen.score, move);
    }
    return output_commit(&file);
}

void nearer_deep_free(NearerDeep *deep)
{
    free(deep->items);
    deep->items = NULL;
}
