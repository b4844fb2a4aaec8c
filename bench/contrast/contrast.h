/* One position searched with the lever term off and on, and the two choices judged.
 *
 * All searches begin with cold tables, so that no result depends on what was searched before it. If the two
 * moves differ, each of them is searched again as the only move at the root, with JUDGE_FACTOR times the
 * nodes that the longer of the two searches took (or was allowed), once by a judge without the term and once
 * by one with it. A judge with a term favours the move of the arm that has it, so both verdicts are kept. */
#ifndef PAWNVANE_CONTRAST_H
#define PAWNVANE_CONTRAST_H

#include "bench/pgn/epd.h"
#include "engine/search/player.h"
#include "structure/structure.h"

enum { JUDGE_FACTOR = 16, JUDGED_SCORE_LIMIT = 1000, CONTRAST_ID_SIZE = 64 };

/* The two arms, and the two judges. */
typedef enum Arms { TERM_OFF, TERM_ON, ARM_COUNT } Arms;

/* What the experiment is. */
typedef struct ContrastPlan {
    SearchLimits limits; /* of each of the two searches; no times when judging */
    int weight;          /* percent of the term when it is on */
    ps_rule rule;
} ContrastPlan;

/* A position of a suite. */
typedef struct ContrastTask {
    Position position;
    char fields[FEN_SIZE];
    char id[CONTRAST_ID_SIZE]; /* its id operation, else FILE:LINE */
    bool has_answer;           /* there are best moves or moves to avoid */
    MoveList best, avoid;
} ContrastTask;

typedef struct ContrastChoice {
    Move move;
    int score; /* centipawns or mate (score.h), for the side to move */
    int depth; /* plies */
    uint64_t nodes, nodes_to_choice;
    int64_t microseconds;
    bool solved; /* it is among the best moves and not among those to avoid; false without an answer */
} ContrastChoice;

typedef struct ContrastResult {
    ps_verdict verdict; /* of the side to move */
    bool has_grade;     /* there is a locked chain */
    ps_grade grade;     /* of its principal pair; void if all pairs are */
    ContrastChoice choice[ARM_COUNT];
    bool changed; /* the two moves differ */
    /* By judge: the score of the move chosen with the term minus that of the other, for the side to move,
     * each score cut off at JUDGED_SCORE_LIMIT; 0 if the moves are the same. */
    int gain[ARM_COUNT];
} ContrastResult;

/* Takes what is needed from a line of a suite. False, with `error` set, if its moves cannot be read or there
 * is no legal move to choose. */
bool contrast_read_task(const EpdRecord *record, ContrastTask *task, char error[EPD_ERROR_SIZE]);

/* Searches and judges. Changes the player's settings and forgets what it knew. False if memory runs out. */
bool contrast_run(Player *player, const ContrastPlan *plan, const ContrastTask *task, ContrastResult *result);

/* The mean of both judges' gains, in centipawns. */
static inline double contrast_mean_gain(const ContrastResult *result)
{
    return (result->gain[TERM_OFF] + result->gain[TERM_ON]) / 2.0;
}

#endif
