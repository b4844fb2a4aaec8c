/* Deep searches kept in a file, since they take most of the time and any two arms may be compared by the same ones. The
 * file is EPD after the standard of epd.h: acn the nodes allowed, ce the score, pv the move; its first line names the
 * engine. */
#ifndef PAWNVANE_NEARER_DEEP_H
#define PAWNVANE_NEARER_DEEP_H

#include "bench/base/origin.h"
#include "bench/play/uci_client.h"

typedef struct DeepSearch {
    Position position;
    ChosenMove chosen;
} DeepSearch;

typedef struct NearerDeep {
    const char *path; /* null: none are kept */
    int64_t nodes;
    char engine[ORIGIN_SIZE]; /* whose searches they are */
    bool foreign;             /* not the one built in: then no other searches can stand beside them */
    size_t count, capacity;
    DeepSearch *items; /* sorted; what is added stands behind them */
} NearerDeep;

/* Reads the file, or prepares a new one if there is none; null: nothing is kept. False on failure, or if its searches
 * are of another number of nodes (reported). */
bool nearer_deep_read(NearerDeep *deep, const char *path, int64_t nodes);

/* Null if it was not read. */
const ChosenMove *nearer_deep_find(const NearerDeep *deep, const Position *position);

/* Adds a search that was not found. False if memory runs out (reported). */
bool nearer_deep_add(NearerDeep *deep, const Position *position, const ChosenMove *chosen);

/* Replaces the file by all that was read and added. False on failure (reported). */
bool nearer_deep_write(NearerDeep *deep);

void nearer_deep_free(NearerDeep *deep);

#endif
