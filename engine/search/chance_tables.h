/* What a move's chance to raise alpha is the sum of, in hundredths of log-odds (natural logarithm): data, written by
 * "pawnvane-bench chance". Which moves a cell stands for, stands in chance.c. */
#ifndef PAWNVANE_CHANCE_TABLES_H
#define PAWNVANE_CHANCE_TABLES_H

#include <stdint.h>

typedef enum MoveSort {
    SORT_QUIET,
    SORT_KILLER,
    SORT_OLDER_KILLER,
    SORT_COUNTER,
    SORT_CAPTURE, /* or promotion */
    SORT_LOSING_CAPTURE,
    SORT_COUNT
} MoveSort;

/* How the man that moves stands: attacked by nobody, by somebody, by a lesser man. */
typedef enum Origin { FROM_SAFE, FROM_ATTACKED, FROM_LESSER, ORIGIN_COUNT } Origin;

/* What the exchange says of where it goes: attacked by nobody, nothing is lost, at most so much is lost, more. */
typedef enum Goal { TO_SAFE, TO_HELD, TO_LOSE_PAWN, TO_LOSE_PIECE, TO_LOSE_MORE, GOAL_COUNT } Goal;

enum {
    CHANCE_DEPTHS = 7,
    CHANCE_NUMBERS = 10,
    CHANCE_GAP_DEPTHS = 5,
    CHANCE_GAPS = 13,
    CHANCE_HISTORIES = 16
};

/* Nothing but int16_t, so that it can be seen as one array of cells. */
typedef struct ChanceTables {
    int16_t any; /* of any move */
    /* By depth and by the number in the order. */
    int16_t by_number[CHANCE_DEPTHS][CHANCE_NUMBERS];
    /* What the mover misses alpha by before the move, as the static score says; by depth. The last are in check. */
    int16_t by_gap_before[CHANCE_GAP_DEPTHS][CHANCE_GAPS];
    /* By history: of quiet moves, of captures. */
    int16_t by_history[2][CHANCE_HISTORIES];
    /* By how the man stands, and by what the exchange says of where it goes. */
    int16_t by_squares[ORIGIN_COUNT][GOAL_COUNT];
    /* By what the move is, without and with check. */
    int16_t by_sort[SORT_COUNT][2];
    /* The same as by_gap_before, by the static score behind the move. */
    int16_t by_gap_behind[CHANCE_GAP_DEPTHS][CHANCE_GAPS];
} ChanceTables;

enum { CHANCE_CELLS = sizeof(ChanceTables) / sizeof(int16_t) };

extern const ChanceTables chance_tables;

#endif
