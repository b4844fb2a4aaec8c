/* The weights of the evaluation: data only.
 *
 * A Pair is two scores in centipawns in one int, middlegame in the lower half and endgame in the upper; pairs
 * are added, subtracted and multiplied by small counts as they are. */
#ifndef PAWNVANE_WEIGHTS_H
#define PAWNVANE_WEIGHTS_H

#include "engine/rules/geometry.h"
#include "engine/rules/move.h"

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

enum { HALF_BOARD = 32, DANGER_CLASSES = 32, DANGER_UNITS = 16 /* a class */ };

/* What a fit leaves alone. Common practice, no source. */
enum {
    /* How much of the middlegame is left: a share for each man, and the sum from which all of it is. */
    PHASE_MINOR = 1,
    PHASE_ROOK = 2,
    PHASE_QUEEN = 4,
    PHASE_FULL = 24,

    /* The points of beginners, for what can be won without pawns. */
    POINTS_MINOR = 3,
    POINTS_ROOK = 5,
    POINTS_QUEEN = 9,
    POINTS_SMALL_LEAD = 3, /* a lead that is seldom enough to win */

    /* Chances to win, in 64ths. */
    CHANCES_FULL = 64,
    CHANCES_SMALL_LEAD = 8,   /* without pawns */
    CHANCES_WRONG_BISHOP = 2, /* that does not rule where the rook's pawn promotes */

    /* A bare king, in centipawns a step. */
    DRIVE_TO_EDGE = 20,
    DRIVE_TO_CORNER = 40, /* of the bishop's colour, with bishop and knight */
    DRIVE_TO_KING = 15,   /* the winner's king nearer to it */

    DANGER_ATTACKERS = 2, /* pieces with which the danger to a king counts in full ... */
    DANGER_DIVISOR = 2,   /* ... and what it is divided by with fewer */
    TRAPPED_MOBILITY = 3, /* squares that a rook can go to and still be trapped by its king */
    COMPANY_PAWNS = 5     /* own pawns with which knights and bishops have their plain worth */
};

/* A square as the tables of EvalWeights count it: from the side of the man, folded at the middle: rank * 4 +
 * distance of the file to the nearer edge. */
static inline int fold_square(Side side, Square square)
{
    return relative_rank(side, square) * 4 + files_to_edge(square);
}

/* What the evaluation is not linear in. Every member is an int, so that a fitting tool can walk the struct as
 * one array. */
typedef struct EvalUnits {
    /* The danger to a king, in sixteenths of a danger class. */
    int attacker[ROLE_COUNT]; /* for each piece that reaches its zone, by role */
    int zone_square;          /* for each square of the zone that such a piece attacks */
    int weak_square;          /* for each that only king or queen defend, and not enough */
    int check[ROLE_COUNT];    /* for each role that can give check for nothing */
    int pinned;               /* for each man that shields the king from a slider */
    int flank_attack;         /* for each attack on a square of the king's flank, two at most a square */
    int knight_near;          /* for a knight of its own in the zone */
    int no_queen;             /* if the enemy has none */
    /* Of 64: how much of an advantage in the endgame that side can turn into a win. */
    int chance, chance_pawn, chance_one_wing;
    int opposite_bishops, opposite_bishops_pawn, opposite_bishops_pieces;
} EvalUnits;

/* Every member but the last is a Pair or an array of them, so that a fitting tool can walk the struct as one
 * array. */
typedef struct EvalWeights {
    Pair material[KING];
    Pair square[ROLE_COUNT][HALF_BOARD];
    /* by the number of squares a piece can go to that no enemy pawn attacks */
    Pair knight_mobility[9];
    Pair bishop_mobility[14];
    Pair rook_mobility[15];
    Pair queen_mobility[28];
    Pair bishop_pair;
    /* by pawns on squares of the bishop's colour; by these times own pawns on the four middle files that
     * cannot move */
    Pair bishop_own_pawn_on_colour, bishop_blocked_centre;
    Pair bishop_long_diagonal;
    Pair knight_king_distance;       /* for each king step to the own king */
    Pair knight_pawns, bishop_pawns; /* for each own pawn more than COMPANY_PAWNS */
    Pair outpost_knight, outpost_bishop, outpost_in_reach;
    Pair minor_behind_pawn;
    Pair rook_open_file, rook_half_open_file, rook_on_seventh, rook_trapped;
    Pair isolated, doubled, backward, weak_on_open_file;
    /* by relative rank */
    Pair phalanx[RANK_COUNT], defended[RANK_COUNT], defended_open[RANK_COUNT];
    Pair passed[RANK_COUNT];
    Pair passed_free_stop[RANK_COUNT], passed_safe_path[RANK_COUNT];
    /* by relative rank, for each king step between the square in front and the king */
    Pair passed_own_king[RANK_COUNT], passed_enemy_king[RANK_COUNT];
    Pair passed_guarded[RANK_COUNT];
    Pair passed_rook_behind, passed_enemy_rook_behind, passed_unstoppable;
    /* by relative rank of the nearest own pawn on a file at the king; index 0: none */
    Pair shelter[RANK_COUNT];
    /* by relative rank (own view) of the nearest enemy pawn on such a file; index 0: none */
    Pair storm[RANK_COUNT], storm_blocked;
    Pair king_on_half_open_file, king_on_open_file, king_without_pawns;
    /* by danger class, see king_danger.c */
    Pair danger[DANGER_CLASSES];
    Pair pawn_attacks_minor, pawn_attacks_rook, pawn_attacks_queen;
    Pair minor_attacks_minor, minor_attacks_rook, minor_attacks_queen, rook_attacks_queen;
    Pair rook_attacks_minor, king_attacks_weak, hanging, knight_on_queen;
    Pair pawn_push_threat;
    Pair space;
    Pair tempo;
    EvalUnits units;
} EvalWeights;

extern const EvalWeights default_weights;

#endif
