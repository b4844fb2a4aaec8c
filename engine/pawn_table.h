/* What can be said of the pawns alone, remembered by pawn key. */
#ifndef PAWNVANE_PAWN_TABLE_H
#define PAWNVANE_PAWN_TABLE_H

#include "engine/position.h"
#include "engine/weights.h"
#include "structure/structure.h"

typedef struct PawnEntry {
    uint64_t key;
    Bitboard passed; /* of both sides */
    /* Every square that a side's pawns attack, now or after advances. */
    Bitboard attack_span[SIDE_COUNT];
    Pair score; /* for White */
    ps_skeleton skeleton;
} PawnEntry;

enum { PAWN_TABLE_SIZE = 8192 };

typedef struct PawnTable {
    const EvalWeights *weights;
    ps_rule rule;
    PawnEntry *entries; /* PAWN_TABLE_SIZE of them */
} PawnTable;

/* False if memory runs out. */
bool pawn_table_create(PawnTable *table, const EvalWeights *weights, ps_rule rule);
void pawn_table_destroy(PawnTable *table);

/* Forgets everything, as it must when the weights or the rule change. */
void pawn_table_reset(PawnTable *table, const EvalWeights *weights, ps_rule rule);

/* The entry for the pawns of a position, computed if it is not there. Good until the next call. */
const PawnEntry *pawn_table_look_up(PawnTable *table, const Position *position);

#endif
