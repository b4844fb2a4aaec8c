/* One position as a lesson: what the structure says, and what a search says of each break and of the moves
 * that prepare one.
 *
 * Counting and calculating are kept apart, so that they can be set side by side. The search should be a
 * player whose lever weight is 0: else the rule would judge itself. */
#ifndef PAWNVANE_LESSON_H
#define PAWNVANE_LESSON_H

#include "engine/rules/notation.h"
#include "engine/search/player.h"
#include "structure/structure.h"

typedef struct LessonSettings {
    uint64_t nodes;   /* for each search: the best move, each break, each preparing
                         move */
    int sound_margin; /* centipawns that a preparing move may be behind the best
                         move */
} LessonSettings;

/* What calculation thinks of a move, by how far it is behind the best one. */
typedef enum Judgement { JUDGED_BEST, JUDGED_SOUND, JUDGED_COSTLY, JUDGED_BAD, JUDGEMENT_COUNT } Judgement;

typedef struct JudgementWords {
    int behind_at_most; /* centipawns; common practice, no source */
    const char *words;
    int glyph; /* numeric annotation glyph (PGN standard, 1994, section 10), 0 for
                  none */
} JudgementWords;

extern const JudgementWords judgements[JUDGEMENT_COUNT];

/* A move that was searched on its own. */
typedef struct JudgedMove {
    Move move;
    char san[MOVE_TEXT_SIZE];
    int score;  /* score.h, for the side that plays the move */
    int behind; /* centipawns behind the best move, 0 or more; scores beyond ten
                   pawns count as ten */
    Judgement judgement;
} JudgedMove;

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
    JudgedMove best;
    SearchLine line; /* of the best move */
    int break_count;
    LessonBreak breaks[PS_MAX_BREAKS]; /* the legal ones, in the order of ps_break_list */
    const ps_lever *aim;               /* the lever that is prepared; null if none can be */
    int preparation_count;             /* sound ones only, by tempi, then by score */
    LessonPreparation preparations[LESSON_PREPARATIONS_MAX];
} LessonSide;

typedef struct Lesson {
    Position position;
    ps_analysis analysis;
    char words[PS_EXPLAIN_SIZE];
    LessonSide sides[SIDE_COUNT]; /* by Side */
} Lesson;

/* Makes the lesson of a position. The player forgets all it knew, so that the result depends on nothing
 * else. False if memory runs out. The lesson must not be copied: `aim` points into it. */
bool lesson_make(Lesson *lesson, const Position *position, Player *player, const LessonSettings *settings);

/* Searches one move, or the best of all with NO_MOVE, from nothing. False if memory runs out. `behind` is
 * not set: it needs two. */
bool lesson_search(Player *player, const Position *position, Move only, uint64_t nodes, JudgedMove *judged,
                   SearchLine *line);

/* Sets what a move is behind the best one, and the judgement. The best move itself, which alone comes out a
 * little different from among all, gets the score it had among all. */
void lesson_compare(JudgedMove *judged, const JudgedMove *best);

enum { SCORE_TEXT_SIZE = 24 };

/* A score in pawns, "+0.35", or "mate in 3", "mated in 2". */
void score_write(int score, char text[SCORE_TEXT_SIZE]);

/* The analysis of a position. */
void lesson_analyse(const Position *position, ps_analysis *analysis);

/* The same lever in another analysis: of the chain with the same pawns, the lever on the same square. Null
 * if that chain is gone. */
const ps_lever *lesson_same_lever(const ps_analysis *before, ps_side side, const ps_lever *lever,
                                  const ps_analysis *after);

#endif
