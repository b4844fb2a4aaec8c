/* The transposition table: what the search found out about positions it has seen.
 *
 * Any number of workers read and write it without locks. An entry is two atomic words; the first is the key
 * exclusive-or the second, so that two halves of different writes never pass for an entry (R. Hyatt, T. Mann,
 * "A Lock-less Transposition Table Implementation for Parallel Search", ICGA Journal 25(1), 2002). */
#ifndef PAWNVANE_TRANSPOSITION_H
#define PAWNVANE_TRANSPOSITION_H

#include "engine/evaluation/score.h"
#include "engine/rules/position.h"
#include "engine/search/parameters.h"

#include <stdatomic.h>
#include <stddef.h>

typedef struct TableSlot {
    _Atomic uint64_t check;
    _Atomic uint64_t data;
} TableSlot;

typedef struct TranspositionTable {
    TableSlot *slots;
    size_t buckets; /* of TABLE_BUCKET slots each */
    uint8_t age;    /* of the present search, modulo TABLE_AGES */
    bool touched;   /* its pages have been handed out */
    uint64_t plans; /* of the present search: mixed into every key */
} TranspositionTable;

enum { TABLE_BUCKET = 4, TABLE_AGES = 64 };

typedef struct TableEntry {
    Move move;
    int score; /* mates counted from this position; see score_from_table() */
    int static_score;
    int depth;
    Bound bound;
} TableEntry;

/* Makes an empty table of that many MiB (1 or more). False if the system has less than that to give. */
bool table_create(TranspositionTable *table, size_t mib);
void table_destroy(TranspositionTable *table);
void table_clear(TranspositionTable *table);

/* Has the system hand out all pages now, so that no search need wait for them: of a table of GiB that takes
 * seconds, once after it was made or cleared. */
void table_touch(TranspositionTable *table);

/* Begins a new search: older entries give way first. It will find nothing that was stored under another `plans`, which is
 * a key of all that scores depend on beside the position. */
void table_new_search(TranspositionTable *table, uint64_t plans);

/* Whether the fifty-move rule is so near that it colours what a search finds. */
static inline bool nears_fifty_moves(const Position *p)
{
    return p->halfmoves >= FIFTY_MOVES_NEAR;
}

/* The key under which the table has a position. When the fifty-move rule comes near, what a search finds
 * holds for that counter only. */
static inline uint64_t table_key(const Position *p)
{
    uint64_t counter = nears_fifty_moves(p) ? (uint64_t)p->halfmoves : 0;
    return p->key ^ (counter * UINT64_C(0x9E3779B97F4A7C15));
}

/* Whether an entry, with its score as counted from the root, says enough about a window. */
static inline bool table_cuts(const TableEntry *entry, int score, int alpha, int beta)
{
    return entry->bound == BOUND_EXACT || (entry->bound == BOUND_LOWER && score >= beta) ||
           (entry->bound == BOUND_UPPER && score <= alpha);
}

bool table_probe(const TranspositionTable *table, uint64_t key, TableEntry *entry);
void table_store(TranspositionTable *table, uint64_t key, TableEntry entry);

/* The bucket of a key: keys are spread over any number of buckets by the upper half of a product. */
static inline TableSlot *table_bucket(const TranspositionTable *table, uint64_t key)
{
    __extension__ typedef unsigned __int128 Wide;
    return &table->slots[(size_t)(((Wide)(key ^ table->plans) * table->buckets) >> 64) * TABLE_BUCKET];
}

/* Fetches the bucket of a key ahead of its use. */
static inline void table_prefetch(const TranspositionTable *table, uint64_t key)
{
    __builtin_prefetch(table_bucket(table, key));
}

/* Entries of the present search among a sample, in permille. */
int table_permille(const TranspositionTable *table);

/* Mate scores count from the root in the search and from the position in the table. */
static inline int score_to_table(int score, int ply)
{
    return score_is_win(score) ? score + ply : score_is_loss(score) ? score - ply : score;
}

static inline int score_from_table(int score, int ply)
{
    return score_is_win(score) ? score - ply : score_is_loss(score) ? score + ply : score;
}

#endif
