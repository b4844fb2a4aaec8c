/* Moves of one position, compared by calculation.
 *
 * Scores can be compared only if they come from equal searches: a move that is searched alone gets deeper
 * with the same effort than all moves together, and what it shows there may be better than the best of all.
 * So:
 *
 * 1. All moves are searched together, with a limit of nodes. That names a choice and a depth.
 * 2. The choice, and every other move that is asked about, is searched alone, from nothing, to that depth and
 *    with at most as many nodes.
 * 3. The scores that count are those at the greatest depth that all of these searches have finished.
 *
 * The best move is the one with the greatest score of everything that was searched alone, the choice or not;
 * among equals the one asked about first, the choice before all. With a player of one worker all of this
 * depends on the position, the limit and the settings of the player alone, except that the depth, and with it
 * all scores, can become less with every move asked about.
 *
 * A difference that is no larger than what it changed by while the nodes of both searches doubled is no
 * verdict: more nodes may well turn it over. It is called close.
 *
 *     const Effort effort = {.nodes = 100000};
 *     Comparison *comparison = comparison_new(player, &position, &effort);
 *     JudgedMove judged;
 *     comparison_add(comparison, move);
 *     comparison_judge(comparison, move, &judged);
 *     comparison_free(comparison); */
#ifndef PAWNVANE_COMPARISON_H
#define PAWNVANE_COMPARISON_H

#include "engine/rules/notation.h"
#include "engine/search/player.h"

/* What calculation thinks of a move, by how far it is behind the best one. Up to JUDGED_CLOSE nothing is said
 * against it. */
typedef enum Judgement {
    JUDGED_BEST,
    JUDGED_SOUND,
    JUDGED_CLOSE, /* what it is behind is no more than twice the nodes change */
    JUDGED_COSTLY,
    JUDGED_BAD,
    JUDGEMENT_COUNT
} Judgement;

typedef struct JudgementWords {
    int behind_at_most; /* centipawns; common practice, no source */
    const char *words;
    int glyph; /* numeric annotation glyph (PGN standard, 1994, section 10), 0 for
                  none */
} JudgementWords;

extern const JudgementWords judgements[JUDGEMENT_COUNT];

/* A move is the only good one if every other is at least so many centipawns behind it, costly by the table
 * above, and none of them is close. Common practice, no source. */
enum { CLEARLY_BEHIND = 51 };

/* How much is thought. */
typedef struct Effort {
    uint64_t nodes;                   /* the most for each search */
    void (*searching)(void *context); /* told before each search; null for nobody */
    void *context;
} Effort;

/* How many nodes a search of about that long visits, with the workers that the player has, to two digits. Varies. */
uint64_t effort_nodes_in(Player *player, int64_t milliseconds);

/* A move that was searched on its own. */
typedef struct JudgedMove {
    Move move;
    char san[MOVE_TEXT_SIZE];
    int score;  /* score.h, for the side that plays the move */
    int behind; /* centipawns behind the best move, 0 or more; scores beyond ten
                   pawns count as ten */
    int doubt;  /* centipawns by which that changed while the nodes doubled */
    Judgement judgement;
    bool only_good; /* it is the best, there are others, and all of them are clearly behind; never set
                       without comparison_add_rival() */
} JudgedMove;

/* The numeric annotation glyph of a judged move, 0 for none: ! for the only good one. */
int judged_glyph(const JudgedMove *judged);

/* Sets what a move is behind another one, and the judgement; `doubt` is set. */
void judged_compare(JudgedMove *judged, const JudgedMove *best);

typedef struct Comparison Comparison;

/* Searches all moves of a position that has some. The player forgets all it knew, here and in what follows.
 * Null if memory runs out. */
Comparison *comparison_new(Player *player, const Position *position, const Effort *effort);
void comparison_free(Comparison *comparison);

/* Searches a legal move alone, unless that was done. */
void comparison_add(Comparison *comparison, Move move);

/* Searches all moves but the best together and adds what comes out, so that the best has been compared with
 * every other move. Nothing is done if there is no other. */
void comparison_add_rival(Comparison *comparison);

/* What is known of moves that were added, against the best one or another; valid until one more is added. */
void comparison_judge(const Comparison *comparison, Move move, JudgedMove *judged);
void comparison_judge_against(const Comparison *comparison, Move move, Move other, JudgedMove *judged);

/* The move that the search of all moves named; the best one; the line of that. */
Move comparison_choice(const Comparison *comparison);
Move comparison_best(const Comparison *comparison);
const SearchLine *comparison_line(const Comparison *comparison);

/* Plies to which all were searched. */
int comparison_depth(const Comparison *comparison);

#endif
