/* What a search is asked for and what it finds. */
#ifndef PAWNVANE_THOUGHT_H
#define PAWNVANE_THOUGHT_H

#include "engine/evaluation/score.h"
#include "engine/rules/movegen.h"

/* Threads that can think about one position. */
enum { WORKERS_MAX = 256 };

/* Moves of the root that somebody would rather play than the best one, as far as it costs no more than the margin. */
typedef struct MovePreference {
    int margin; /* centipawns */
    int whole_gain; /* how much more a move must be worth than the best for the whole margin; less for a part of it */
    MoveList moves;
    int values[MOVES_MAX]; /* of these moves: the greater, the rather */
} MovePreference;

/* All limits hold at once; 0 is no limit. With none at all the search goes on until player_stop(). */
typedef struct SearchLimits {
    int depth;       /* plies */
    uint64_t nodes;  /* positions visited by all workers; kept to exactly by one, nearly by several */
    int64_t soft_ms; /* do not begin another iteration after about that long, less if the choice is stable */
    int64_t hard_ms; /* stop whatever is going on */
    /* Nodes of the first worker that count as a second of the two limits above, from the start of the search; 0: time
     * counts. */
    uint64_t pace;
    int mate;                         /* stop when a mate in that many moves or fewer is found */
    int lines;                        /* best lines wanted (0 means 1) */
    const MoveList *only;             /* root moves to consider, null: all */
    const MovePreference *preference; /* null: none. Looking for the preferred move costs nodes */
    bool alone;  /* one worker thinks, however many there are: the same nodes each time */
    bool ponder; /* hard_ms counts from player_ponder_hit(); soft_ms from the start, but is asked only then */
} SearchLimits;

/* A line of play the search believes in. */
typedef struct SearchLine {
    int rank;  /* 1 is the best, 2 the second best, ... */
    int depth; /* plies of the full-width search */
    int deepest;
    int score; /* score.h, for the side to move at the root */
    Bound bound;
    uint64_t nodes;       /* of all workers so far */
    int64_t microseconds; /* since the search began */
    int table_permille;   /* how full the transposition table is */
    int length;
    Move moves[MAX_PLY];
} SearchLine;

/* A root move that is about to be searched. */
typedef struct SearchStep {
    int depth;
    Move move;
    int number; /* 1 is searched first */
} SearchStep;

/* Told what goes on, from the thread that called player_think(). `root` is the position searched. */
typedef struct SearchListener {
    void (*line)(void *context, const Position *root, const SearchLine *line);
    /* Only after the first second. Null for somebody who does not care. */
    void (*step)(void *context, const Position *root, const SearchStep *step);
    void *context;
} SearchListener;

/* Somebody who searches the nodes below the root in place of search_node() (search.h), to look on: see
 * PlayerSettings. */
struct Searcher;
struct Frame;
typedef int NodeSearch(struct Searcher *s, struct Frame *f, int alpha, int beta, int depth,
                       bool expected_cut);

typedef struct SearchProbe {
    NodeSearch *search;
} SearchProbe;

typedef enum SearchPart { FULL_WIDTH, QUIESCENCE, SEARCH_PARTS } SearchPart;

/* Cut-offs by a move that reached beta; the share of the first move searched is the quality of the move
 * ordering. */
typedef struct Cutoffs {
    uint64_t all, by_first_move;
} Cutoffs;

static inline void cutoffs_add(Cutoffs *sum, Cutoffs more)
{
    sum->all += more.all;
    sum->by_first_move += more.by_first_move;
}

typedef struct SearchResult {
    Move best;   /* NO_MOVE if there is no legal move */
    Move ponder; /* the reply expected, NO_MOVE if none */
    uint64_t nodes;
    uint64_t nodes_to_choice; /* of the first worker when the final best move became the best for good */
    int64_t microseconds;
    SearchLine line; /* the best line, with score and depth */
    /* Of the moves with greater values than the best one the most preferred that lies within the margin of it, each
     * by its search to the same depth; of depth 0 if there is none. */
    SearchLine preferred;
    Cutoffs cutoffs[SEARCH_PARTS];
} SearchResult;

#endif
