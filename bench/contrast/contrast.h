/* One position searched with the lever term off and on, and the two choices judged.
 *
 * All searches begin with cold tables, so that no result depends on what was searched before it. If the two
 * moves differ, each of them is searched again as the only move at the root, with JUDGE_FACTOR times the
 * nodes that the longer of the two searches took (or was allowed), once by a judge without the term and once
 * by one with it. A judge with a term favours the move of the arm that has it, so both verdicts are kept.
 * A judge compares what it thought of both moves when it had searched both to the same depth: the greatest
 * that it reached for both. */
#ifndef PAWNVANE_CONTRAST_H
#define PAWNVANE_CONTRAST_H

#include "bench/contrast/judge.h"
#include "bench/pgn/epd.h"
#include "engine/search/player.h"
#include "structure/structure.h"

enum { JUDGE_FACTOR = 16, CONTRAST_ID_SIZE = 64 };

/* A judgement that is going to be shown for being great is luck in part, since it is the greatest of many: it
 * is made anew, with that many times the nodes, and the new one shown. */
enum { JUDGE_AGAIN_FACTOR = 4 };

/* The two arms, and the two judges. */
typedef enum Arms { NO_ARM = -1, TERM_OFF, TERM_ON, ARM_COUNT } Arms;

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
    bool plays_lever; /* it is ContrastResult.lever */
    bool solved;      /* it is among the best moves and not among those to avoid; false without an answer */
} ContrastChoice;

/* What two judges say of the move chosen with the term against the other, by judge. */
typedef struct ContrastJudgement {
    int depth[ARM_COUNT]; /* plies, to which both moves were searched */
    /* The score of the one move minus that of the other, centipawns for the side to move, each score cut off
     * at JUDGED_SCORE_LIMIT. */
    int gain[ARM_COUNT];
    double win[ARM_COUNT]; /* the same as winning chances, -1 to 1 */
    int doubt[ARM_COUNT];  /* centipawns by which that gain changed while the nodes doubled */
} ContrastJudgement;

typedef struct ContrastResult {
    ps_verdict verdict; /* of the side to move */
    bool has_grade;     /* there is a locked chain */
    ps_grade grade;     /* of its principal pair; void if all pairs are */
    ContrastChoice choice[ARM_COUNT];
    Move lever;               /* plays what the plan names at once, NO_MOVE if nothing does */
    bool changed;             /* the two moves differ */
    ContrastJudgement judged; /* nothing but zeros if the moves are the same */
} ContrastResult;

/* Takes what is needed from a line of a suite. False, with `error` set, if its moves cannot be read or there
 * is no legal move to choose. */
bool contrast_read_task(const EpdRecord *record, ContrastTask *task, char error[EPD_ERROR_SIZE]);

/* Searches and judges. Changes the player's settings and forgets what it knew. False if memory runs out. */
bool contrast_run(Player *player, const ContrastPlan *plan, const ContrastTask *task, ContrastResult *result);

/* Judges the two choices of a result once more, with JUDGE_AGAIN_FACTOR times the nodes. As above. */
bool contrast_judge_again(Player *player, const ContrastPlan *plan, const ContrastTask *task,
                          const ContrastResult *result, ContrastJudgement *again);

/* Whether a judge has judged, and its gain is no larger than its doubt: which move is better is too close to call. */
bool contrast_is_close(const ContrastJudgement *judged);

/* The means of both judges. */
static inline double contrast_mean_gain(const ContrastJudgement *judged)
{
    return (judged->gain[TERM_OFF] + judged->gain[TERM_ON]) / 2.0;
}

static inline double contrast_mean_win(const ContrastJudgement *judged)
{
    return (judged->win[TERM_OFF] + judged->win[TERM_ON]) / 2;
}

#endif
