/* A PGN file cut between games into blocks that fit into memory, so that files of any size can be read and
 * many threads can work on one. Where the cuts are depends on the file alone. */
#ifndef PAWNVANE_PGN_BLOCKS_H
#define PAWNVANE_PGN_BLOCKS_H

#include "bench/pgn/packed_bytes.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct PgnBlock {
    char *text; /* behind its end stands a zero byte */
    size_t length;
    size_t line; /* of the file, from 1: where the block begins */
    bool torn;   /* its last game goes on behind it, but is too long to be read */
    bool last;   /* the file ends with it */
} PgnBlock;

enum {
    PGN_BLOCK_SIZE = 1 << 18,   /* bytes */
    PGN_GAME_SIZE_MAX = 1 << 28 /* bytes; a longer game is not read */
};

typedef struct PgnSource {
    const char *name; /* for messages */
    PackedBytes bytes;
    char *pending; /* read, but not yet handed out */
    size_t length, capacity;
    size_t line; /* where that begins */
    bool ended;
    bool skipping; /* the rest of a game that is too long */
    size_t block_size, game_size_max;
} PgnSource;

/* "-" is the standard input. False on failure (reported). */
bool pgn_source_open(PgnSource *source, const char *path);
void pgn_source_close(PgnSource *source);

typedef enum PgnFetched { PGN_FETCHED, PGN_END, PGN_FAILED } PgnFetched;

/* The next block, to be freed with pgn_block_free(). A failure is reported. */
PgnFetched pgn_source_next(PgnSource *source, PgnBlock *block);

void pgn_block_free(PgnBlock *block);

#endif
