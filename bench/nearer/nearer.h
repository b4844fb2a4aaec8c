/* How near two searches come to a deep one, over many positions: a far cheaper question than which of them wins games.
 *
 * The deep search is that of the engine built in with all its defaults. A search that errs as the deep one does looks
 * near, so what gains here is confirmed by games. */
#ifndef PAWNVANE_NEARER_H
#define PAWNVANE_NEARER_H

#include "bench/base/means.h"
#include "bench/play/uci_client.h"

typedef enum NearerSearch { NEARER_A, NEARER_B, NEARER_DEEP, NEARER_SEARCHES } NearerSearch;

/* Centipawns. How far a score lies from another, both limited to JUDGED_SCORE_LIMIT (judge.h), counts up to that: one
 * oversight must not outweigh a hundred positions. */
enum { NEARER_DISTANCE_MOST = 300 };

/* What the three searches of a position chose. */
typedef struct NearerChoices {
    ChosenMove by[NEARER_SEARCHES];
} NearerChoices;

/* One number for either arm, and that of A minus that of B, paired by position, each with its error and 95 % interval. */
typedef struct NearerNumber {
    ClusteredMean arm[2], difference;
} NearerNumber;

typedef struct NearerSummary {
    size_t positions, units;
    NearerNumber
        same_move;         /* the share, 0 to 1, of positions in which the arm chose the deep search's move */
    NearerNumber distance; /* of the arm's score from the deep one's, mean, centipawns */
} NearerSummary;

/* How far two scores of score.h lie apart, 0 to NEARER_DISTANCE_MOST. */
int nearer_distance(int score, int deep);

/* Position i belongs to unit units[i], 0 .. unit_count - 1; units are independent of each other. False if memory runs
 * out. */
bool nearer_summarise(const NearerChoices *choices, const size_t *units, size_t count, size_t unit_count,
                      NearerSummary *summary);

#endif
