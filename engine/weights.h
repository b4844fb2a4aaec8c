/* The weights of the evaluation: data only.
 *
 * A Pair is two scores in centipawns in one int, middlegame in the lower half and endgame in the upper; pairs
 * are added, subtracted and multiplied by small counts as they are. */
#ifndef PAWNVANE_WEIGHTS_H
#define PAWNVANE_WEIGHTS_H

#include "engine/move.h"

typedef int32_t Pair;

/* Both halves, each from -30000 to 30000. */
#define PAIR(middlegame, endgame) ((Pair)((endgame)*65536 + (middlegame)))

static inline int pair_middlegame(Pair pair)
{
    return (int16_t)(uint16_t)((uint32_t)pair & 0xFFFF);
}

static inline int pair_endgame(Pair pair)
{
    return (int16_t)(uint16_t)(((uint32_t)pair + 0x8000) >> 16);
}

enum { HALF_BOARD = 32, DANGER_CLASSES = 24 };

/* Every member is a Pair or an array of them, so that a fitting tool can walk the struct as one array.
 * Squares are seen from the side of the man, folded at the middle: rank * 4 + distance of the file to the
 * nearer edge. */
typedef struct EvalWeights {
    Pair material[KING];
    Pair square[ROLE_COUNT][HALF_BOARD];
    /* by the number of squares a piece can go to that no enemy pawn attacks */
    Pair knight_mobility[9];
    Pair bishop_mobility[14];
    Pair rook_mobility[15];
    Pair queen_mobility[28];
    Pair bishop_pair;
    Pair bishop_own_pawn_on_colour;
    Pair outpost_knight, outpost_bishop;
    Pair minor_behind_pawn;
    Pair rook_open_file, rook_half_open_file, rook_on_seventh;
    Pair isolated, doubled, backward, weak_on_open_file;
    /* by relative rank */
    Pair phalanx[RANK_COUNT], defended[RANK_COUNT];
    Pair passed[RANK_COUNT];
    Pair passed_free_path[RANK_COUNT], passed_safe_path[RANK_COUNT];
    /* by relative rank, for each king step between the square in front and the king */
    Pair passed_own_king[RANK_COUNT], passed_enemy_king[RANK_COUNT];
    Pair passed_rook_behind;
    /* by relative rank of the nearest own pawn on a file at the king; index 0: none */
    Pair shelter[RANK_COUNT];
    /* by relative rank (own view) of the nearest enemy pawn on such a file; index 0: none */
    Pair storm[RANK_COUNT], storm_blocked;
    Pair king_on_half_open_file;
    /* by danger class, see evaluate.c */
    Pair danger[DANGER_CLASSES];
    Pair pawn_attacks_minor, pawn_attacks_rook, pawn_attacks_queen;
    Pair minor_attacks_minor, minor_attacks_rook, minor_attacks_queen, rook_attacks_queen;
    Pair hanging;
    Pair pawn_push_threat;
    Pair space;
    Pair tempo;
} EvalWeights;

extern const EvalWeights default_weights;

#endif
