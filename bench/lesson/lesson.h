/* One position as a lesson: what the structure says, and what a search says of each break and of the moves
 * that prepare one.
 *
 * Counting and calculating are kept apart, so that they can be set side by side. The search should be a
 * player whose lever weight is 0: else the rule would judge itself. All moves of a side are searched alone
 * and to one depth (comparison.h): what the search of all moves together chose, each break, each preparing
 * move, and the best of the others. The best move is the best of these, so that no row of a table can beat
 * it. */
#ifndef PAWNVANE_LESSON_H
#define PAWNVANE_LESSON_H

#include "bench/explain/answer.h"
#include "bench/lesson/comparison.h"
#include "structure/structure.h"

typedef struct LessonSettings {
    Effort effort;    /* of each search: of all moves, and of each move alone */
    int sound_margin; /* centipawns that a preparing move may be behind the best
                         move */
} LessonSettings;

typedef struct LessonBreak {
    ps_break push;
    JudgedMove judged;
    bool short_of_support; /* more attackers than supporters */
} LessonBreak;

/* A move after which the lever is nearer. */
typedef struct LessonPreparation {
    JudgedMove judged;
    int tempi_before, tempi_after;
} LessonPreparation;

enum { LESSON_PREPARATIONS_MAX = 5 };

/* One side, as if it were its turn. */
typedef struct LessonSide {
    bool searched; /* false if it cannot be its turn, because the other side is in
                      check, or it has no move */
    int depth;     /* plies to which all moves below were searched */
    JudgedMove best;
    JudgedMove choice; /* of the search of all moves together; mostly the best */
    SearchLine line;   /* of the best move */
    int break_count;
    LessonBreak breaks[PS_MAX_BREAKS]; /* the legal ones, in the order of ps_break_list */
    const ps_lever *aim;               /* the lever that is prepared; null if none can be */
    int preparation_count;             /* sound ones only, by tempi, then by score */
    LessonPreparation preparations[LESSON_PREPARATIONS_MAX];
} LessonSide;

typedef struct Lesson {
    Position position;
    ps_analysis analysis;
    char answer[ANSWER_SIZE]; /* in one line */
    char words[PS_EXPLAIN_SIZE];
    LessonSide sides[SIDE_COUNT]; /* by Side */
} Lesson;

/* Makes the lesson of a position. The player forgets all it knew, so that the result depends on nothing
 * else; with no nodes no side is searched, and there may be no player. False if memory runs out. The lesson must not be copied: `aim` points into it. */
bool lesson_make(Lesson *lesson, const Position *position, Player *player, const LessonSettings *settings);

/* The same lever in another analysis: of the chain with the same pawns, the lever on the same square. Null
 * if that chain is gone. */
const ps_lever *lesson_same_lever(const ps_analysis *before, ps_side side, const ps_lever *lever,
                                  const ps_analysis *after);

#endif
