#include "engine/evaluation/pawn_table.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

bool pawn_table_create(PawnTable *table, const EvalWeights *weights, ps_rule rule)
{
    table->entries = malloc(PAWN_TABLE_SIZE * sizeof *table->entries);
    if (!table->entries)
        return false;
    pawn_table_reset(table, weights, rule);
    return true;
}

void pawn_table_destroy(PawnTable *table)
{
    free(table->entries);
    table->entries = NULL;
}

void pawn_table_reset(PawnTable *table, const EvalWeights *weights, ps_rule rule)
{
    table->weights = weights;
    table->rule = rule;
    memset(table->entries, 0, PAWN_TABLE_SIZE * sizeof *table->entries);
    /* Key 0, no pawns at all, must not be found in the cleared entry 0 without its skeleton. */
    table->entries[0].key = 1;
}

static void compute(const PawnTable *table, const Position *position, PawnEntry *entry)
{
    const Bitboard pawns[SIDE_COUNT] = {position_men(position, WHITE, PAWN),
                                        position_men(position, BLACK, PAWN)};
    entry->key = position->pawn_key;
    entry->king[WHITE] = entry->king[BLACK] = NO_SQUARE;
    pawn_terms(table->weights, pawns, &entry->terms);
#ifndef PAWNVANE_NO_TERM
    ps_read_skeleton(&entry->skeleton, pawns, table->rule);
#endif
}

PawnEntry *pawn_table_look_up(PawnTable *table, const Position *position)
{
    PawnEntry *entry = &table->entries[position->pawn_key & (PAWN_TABLE_SIZE - 1)];
    if (entry->key != position->pawn_key)
        compute(table, position, entry);
    return entry;
}

Pair pawn_table_king(const PawnTable *table, PawnEntry *entry, const Position *position, Side side)
{
    int8_t king = (int8_t)position_king(position, side);
    if (entry->king[side] != king) {
        entry->king[side] = king;
        entry->king_score[side] = pawns_seen_by_king(table->weights, position, side);
    }
    assert(entry->king_score[side] == pawns_seen_by_king(table->weights, position, side));
    return entry->king_score[side];
}
