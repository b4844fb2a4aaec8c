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

static Bitboard fill_forward(Side side, Bitboard set)
{
    if (side == WHITE) {
        set |= set << 8;
        set |= set << 16;
        return set | set << 32;
    }
    set |= set >> 8;
    set |= set >> 16;
    return set | set >> 32;
}

static Bitboard neighbouring_files(Square square)
{
    Bitboard file = file_mask(file_of(square));
    return shift_west(file) | shift_east(file);
}

static Pair score_pawn(const EvalWeights *w, Side side, Square square, Bitboard own, Bitboard enemies)
{
    Bitboard here = bit(square), neighbours = neighbouring_files(square) & own;
    Bitboard row = rank_mask(rank_of(square));
    Bitboard ahead = push_forward(side, fill_forward(side, here));
    Rank rank = relative_rank(side, square);
    bool phalanx = (neighbours & row) != 0;
    bool defended = (pawn_attacks(opposite(side), here) & own) != 0;
    bool open = !(ahead & (own | enemies));
    Pair score = w->material[PAWN] + w->square[PAWN][fold_square(side, square)];

    if (phalanx)
        score += w->phalanx[rank];
    if (defended) {
        score += w->defended[rank];
        if (open)
            score += w->defended_open[rank];
    }
    if (ahead & own)
        score += w->doubled;
    if (!neighbours) {
        score += w->isolated;
        if (open)
            score += w->weak_on_open_file;
    } else if (!phalanx && !defended) {
        /* Backward: every neighbour has gone ahead, and the next step is into an enemy pawn's attack. */
        bool left_behind = !(neighbours & fill_forward(opposite(side), row));
        Bitboard stop = push_forward(side, here);
        if (left_behind && (pawn_attacks(opposite(side), enemies) & stop)) {
            score += w->backward;
            if (open)
                score += w->weak_on_open_file;
        }
    }
    return score;
}

static void compute(const PawnTable *table, const Position *position, PawnEntry *entry)
{
    const Bitboard pawns[SIDE_COUNT] = {position_men(position, WHITE, PAWN),
                                        position_men(position, BLACK, PAWN)};
    entry->key = position->pawn_key;
    entry->king[WHITE] = entry->king[BLACK] = NO_SQUARE;
    entry->passed = 0;
    entry->score = 0;
    for (Side side = WHITE; side <= BLACK; side++) {
        Bitboard enemies = pawns[opposite(side)], own = pawns[side];
        Bitboard enemy_front = fill_forward(opposite(side), enemies | pawn_attacks(opposite(side), enemies));
        Bitboard own_front = fill_forward(opposite(side), push_forward(opposite(side), own));
        Pair score = 0;
        entry->attack_span[side] = fill_forward(side, pawn_attacks(side, own));
        entry->passed |= own & ~enemy_front & ~own_front;
        for (Bitboard left = own; left;)
            score += score_pawn(table->weights, side, take_first(&left), own, enemies);
        entry->score += side == WHITE ? score : -score;
    }
#ifndef PAWNVANE_NO_TERM
    ps_read_skeleton(&entry->skeleton, pawns, table->rule);
#endif
}

static Pair score_shelter(const EvalWeights *w, Side side, Square king, Bitboard own, Bitboard enemies)
{
    int file = file_of(king), centre = file < 1 ? 1 : file > 6 ? 6 : file;
    Bitboard not_behind = fill_forward(side, rank_mask(rank_of(king)));
    Pair score = 0;
    for (int f = centre - 1; f <= centre + 1; f++) {
        Bitboard shield = own & not_behind & file_mask(f), attack = enemies & not_behind & file_mask(f);
        Square pawn = shield ? (side == WHITE ? first_square(shield) : last_square(shield)) : NO_SQUARE;
        Square enemy = attack ? (side == WHITE ? first_square(attack) : last_square(attack)) : NO_SQUARE;
        score += w->shelter[pawn == NO_SQUARE ? 0 : relative_rank(side, pawn)];
        score += w->storm[enemy == NO_SQUARE ? 0 : relative_rank(side, enemy)];
        if (pawn != NO_SQUARE && enemy != NO_SQUARE && enemy == pawn + forward_step(side))
            score += w->storm_blocked;
    }
    if (!(own & file_mask(file))) {
        score += w->king_on_half_open_file;
        if (!(enemies & file_mask(file)))
            score += w->king_on_open_file;
    }
    return score;
}

static Pair score_king(const EvalWeights *w, const Position *position, Side side)
{
    Square king = position_king(position, side);
    Bitboard own = position_men(position, side, PAWN), enemies = position_men(position, opposite(side), PAWN);
    Pair score = score_shelter(w, side, king, own, enemies);
    if (!((own | enemies) & king_flank(king)))
        score += w->king_without_pawns;
    return score;
}

Pair pawn_table_king(const PawnTable *table, PawnEntry *entry, const Position *position, Side side)
{
    int8_t king = (int8_t)position_king(position, side);
    if (entry->king[side] != king) {
        entry->king[side] = king;
        entry->king_score[side] = score_king(table->weights, position, side);
    }
    assert(entry->king_score[side] == score_king(table->weights, position, side));
    return entry->king_score[side];
}

void pawn_table_reset(PawnTable *table, const EvalWeights *weights, ps_rule rule)
{
    table->weights = weights;
    table->rule = rule;
    memset(table->entries, 0, PAWN_TABLE_SIZE * sizeof *table->entries);
    /* Key 0, no pawns at all, must not be found in the cleared entry 0 without its skeleton. */
    table->entries[0].key = 1;
}

PawnEntry *pawn_table_look_up(PawnTable *table, const Position *position)
{
    PawnEntry *entry = &table->entries[position->pawn_key & (PAWN_TABLE_SIZE - 1)];
    if (entry->key != position->pawn_key)
        compute(table, position, entry);
    return entry;
}
