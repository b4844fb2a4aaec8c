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

enum {
    HALF_BOARD = 32,
    PIECE_ROLES = 4, /* knight to queen */
    ACTIVITY_CLASSES = 16,
    PAWN_RANKS = 6, /* the second to the seventh */
    SIEGE_CLASSES = 32,
    SIEGE_UNITS = 16, /* a class */
    SEEN_FILES = 4,   /* from the king's file on; the last are all that are further */
    SEEN_RANKS = 8,
    SEEN_BEHIND = 2, /* of them behind the king */
    KING_STEPS = 7   /* from one square to another, 1 to 7 */
};

/* What the tables are of. */
enum { AHEAD_NOBODY, AHEAD_RAM, AHEAD_ENEMY, AHEAD_OWN, AHEAD_KINDS };
enum { COMPANY_NONE, COMPANY_AHEAD, COMPANY_BEHIND, COMPANY_BESIDE, COMPANY_LINK, COMPANY_KINDS };
enum { SEEN_OWN, SEEN_ENEMY, SEEN_RAMMED, SEEN_KINDS };
enum { LOOSE, HELD_BY_PIECES, HELD_BY_PAWN, GUARD_KINDS };
enum {
    WAY_BLOCKED,
    WAY_OWN_MAN,
    WAY_LOST,
    WAY_CONTESTED,
    WAY_STEP,
    WAY_STEP_GUARDED,
    WAY_FREE,
    WAY_OWN,
    WAY_KINDS
};

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
    CHANCES_FORTRESS = 2,     /* of a queen against rook and pawn */

    /* Endings of the exact tables, in centipawns: less than what a won capture or a promotion leads to. */
    KNOWN_WIN_LEAST = 200,
    KNOWN_MATE_WORTH = 850, /* queen against rook, ... */
    KNOWN_MATE_PLY = 5,     /* ... less for each ply to mate */

    /* A bare king, in centipawns a step. */
    DRIVE_TO_EDGE = 20,
    DRIVE_TO_CORNER = 40, /* of the bishop's colour, with bishop and knight */
    DRIVE_TO_KING = 15,   /* the winner's king nearer to it */

    FORCE_FULL = 64 /* units of attacking force with which a siege counts as it is */
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
    /* The siege of a king, in sixteenths of a class: by squares round it, ... */
    int bearing[ROLE_COUNT]; /* for each man that attacks some of them */
    int siege, lost, outnumbered, contested;
    int entry[ROLE_COUNT]; /* ... and for each role that can come to give a check for nothing; ... */
    int force, force_of[ROLE_COUNT]; /* ... times what is left to attack with, in 64ths */
    /* Of 64: how much of an advantage in the endgame that side can turn into a win. */
    int chance, chance_pawn, chance_one_wing;
    int opposite_bishops, opposite_bishops_pawn, opposite_bishops_pieces;
} EvalUnits;

/* Every member but the last is a Pair or an array of them, so that a fitting tool can walk the struct as one
 * array. */
typedef struct EvalWeights {
    Pair material[KING];
    Pair placement[ROLE_COUNT][HALF_BOARD];
    /* Pieces, knight first: by the number of squares that they reach (for queens, of pairs of them); by a king's steps
     * to them; for each own pawn, for each ram on the board, for two or more. */
    Pair activity[PIECE_ROLES][ACTIVITY_CLASSES];
    Pair from_own_king[PIECE_ROLES][KING_STEPS], from_enemy_king[PIECE_ROLES][KING_STEPS];
    Pair with_pawns[PIECE_ROLES], with_rams[PIECE_ROLES], second[PIECE_ROLES];
    Pair on_file[2][4];                   /* rook, king: by the pawns on its file */
    Pair bishop_on_pawns, bishop_on_rams; /* for each own pawn, own ram on its colour */
    /* Men under attack: how they are guarded, the cheapest attacker, the man; pieces that a pawn can attack. */
    Pair contest[GUARD_KINDS][ROLE_COUNT][KING];
    Pair pawn_step;
    Pair pawn[AHEAD_KINDS][COMPANY_KINDS][PAWN_RANKS];
    Pair passed[WAY_KINDS][PAWN_RANKS];
    Pair passed_own_king[PAWN_RANKS], passed_enemy_king[PAWN_RANKS]; /* for each king step */
    Pair passed_rook[2], passed_unstoppable;
    Pair seen[SEEN_KINDS][SEEN_FILES][SEEN_RANKS]; /* pawns as the king sees them */
    Pair siege[SIEGE_CLASSES];
    Pair tempo;
    EvalUnits units;
} EvalWeights;

extern const EvalWeights default_weights;

#endif
