/* Principal-variation alpha-beta search of one worker, below the root. */
#ifndef PAWNVANE_SEARCH_H
#define PAWNVANE_SEARCH_H

#include "engine/evaluation/evaluate.h"
#include "engine/evaluation/score.h"
#include "engine/search/agenda.h"
#include "engine/search/correction.h"
#include "engine/search/parameters.h"
#include "engine/search/thought.h"
#include "engine/search/transposition.h"

/* Workers share the moves of nodes from SHARED_DEPTH on, and their common history of quiet moves learns
 * cut-offs from TAUGHT_DEPTH on and changes of the static score that are worth TAUGHT_CHANGE points to it: of
 * lesser lessons there are so many that two caches would only fight for its lines. All by "make bench". */
enum { REDUCTION_TABLE = 64, SHARED_DEPTH = 8, TAUGHT_DEPTH = 4, TAUGHT_CHANGE = 30 };

/* What the search keeps for each ply of the line it is in. */
typedef struct Frame {
    Position position;
    Bitboard checkers;
    int ply;
    int reversible;   /* plies since the last null move */
    int static_score; /* SCORE_NONE in check */
    int role_square;  /* of the move being searched, -1 for a null move */
    History *history; /* what it learns from the static score behind it; null where it does not */
    int cutoffs;      /* by beta in this frame since the one two plies above was entered */
    Move excluded;    /* while looking for an alternative to it, else NO_MOVE */
    Move killers[2];
    int pv_length;
    Move pv[MAX_PLY];
} Frame;

/* Says whether to stop; asked once every few hundred nodes and at the node limit. */
typedef bool (*StopQuestion)(void *context);

typedef struct Searcher {
    /* set by the owner */
    Parameters parameters;
    TranspositionTable *table;
    /* learned, kept from search to search */
    QuietHistory *quiet; /* shared by workers */
    Histories *histories;
    Corrections *corrections;
    SharedWork *shared; /* null for a worker alone */
    Evaluator evaluator;
    StopQuestion should_stop;
    void *context;
    uint64_t node_limit; /* UINT64_MAX for none */
    /* Keys of the game, with room for MAX_PLY more; keys[root_key] is the root. */
    uint64_t *keys;
    size_t root_key;
    int16_t reduction[REDUCTION_TABLE]
                     [REDUCTION_TABLE]; /* hundredths of a ply, by depth and number of the move */
    /* of the present search */
    bool stopped;
    int deepest;
    uint64_t nodes;
    Cutoffs cutoffs[SEARCH_PARTS];
    Frame frames[MAX_PLY + 4];
} Searcher;

/* Fills what follows from the parameters. */
void searcher_configure(Searcher *s, const Parameters *parameters);

/* Plays a move from a frame into the next one; the caller knows whether it gives check. */
Frame *searcher_play(Searcher *s, Frame *f, Move move, bool gives_check);

/* The value of the frame's position at that depth within alpha and beta, from the side to move's view; the
 * frame gets the principal variation. Meaningless once s->stopped. */
int search_node(Searcher *s, Frame *f, int alpha, int beta, int depth, bool expected_cut);

/* What the moves of a frame are put in order by. `threats` is filled and pointed to by the hints; null where
 * only captures will be tried. */
void searcher_set_hints(const Searcher *s, const Frame *f, Move table_move, Threats *threats,
                        OrderingHints *hints);

/* The line of the next frame behind a move becomes the line of this frame. */
void frame_take_line(Frame *f, Move move);

/* The evaluation corrected by what earlier searches found out about such pawns and pieces. */
int searcher_static_score(Searcher *s, const Position *position);

#endif
