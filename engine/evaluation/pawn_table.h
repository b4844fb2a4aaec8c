/* The pawn cache: what can be said of the pawns alone, remembered by their key. */
#ifndef PAWNVANE_PAWN_TABLE_H
#define PAWNVANE_PAWN_TABLE_H

#include "engine/evaluation/pawn_terms.h"
#include "engine/rules/position.h"
#include "structure/structure.h"

typedef struct PawnEntry {
    uint64_t key;
    PawnTerms terms;
    /* What each side's king on that square sees; see pawn_table_king(). */
    int8_t king[SIDE_COUNT];
    Pair king_score[SIDE_COUNT];
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
PawnEntry *pawn_table_look_up(PawnTable *table, const Position *position);

/* What the pawns mean for a side's king, for that side. */
Pair pawn_table_king(const PawnTable *table, PawnEntry *entry, const Position *position, Side side);

#endif
