/* What one worker searches with: its frames, what it has learned, its limits; and what every node of its
 * search does, whether at full width or in quiescence. */
#ifndef PAWNVANE_SEARCHER_H
#define PAWNVANE_SEARCHER_H

#include "engine/evaluation/evaluate.h"
#include "engine/evaluation/score.h"
#include "engine/search/agenda.h"
#include "engine/search/correction.h"
#include "engine/search/parameters.h"
#include "engine/search/score_memory.h"
#include "engine/search/thought.h"
#include "engine/search/transposition.h"

/* What the search keeps for each ply of the line it is in. */
typedef struct Frame {
    Position position;
    Bitboard checkers;
    int ply;
    int reversible;   /* plies since the last null move */
    int raw;          /* the evaluation; SCORE_NONE while unknown */
    int static_score; /* SCORE_NONE in check */
    int role_square;  /* of the move being searched, -1 for a null move */
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
    SearchProbe *probe; /* null for none */
    TranspositionTable *table;
    /* learned, kept from search to search */
    QuietHistory *quiet; /* shared by workers */
    Histories *histories;
    Corrections *corrections;
    ScoreMemory *scores;
    SharedWork *shared; /* null for a worker alone */
    Evaluator evaluator;
    StopQuestion should_stop;
    void *context;
    uint64_t node_limit; /* UINT64_MAX for none */
    /* Keys of the game, with room for MAX_PLY more; keys[root_key] is the root. */
    uint64_t *keys;
    size_t root_key;
    /* of the present search */
    bool stopped;
    int deepest;
    uint64_t nodes;
    Cutoffs cutoffs[SEARCH_PARTS];
    Frame frames[MAX_PLY + 4];
} Searcher;

/* What is thought of a position before any move is looked at, in centipawns for the side to move. */
typedef struct StaticScore {
    int raw;       /* the evaluation, as it goes into the table */
    int corrected; /* by what earlier searches found out about such pawns and pieces */
    int estimate;  /* that, or what the table knows better */
} StaticScore;

/* Fills what follows from the parameters. */
void searcher_configure(Searcher *s, const Parameters *parameters);

/* Plays a move from a frame into the next one; the caller knows whether it gives check. */
Frame *searcher_play(Searcher *s, Frame *f, Move move, bool gives_check);

/* Lets the other side move. Not in check. */
Frame *searcher_pass(Searcher *s, Frame *f);

/* Whether the search of a node ends before it has begun, and with which score: because of the limits, a draw,
 * or the greatest ply. */
bool searcher_ends(Searcher *s, Frame *f, int *score);

/* The static scores of a frame that is not in check; the entry is null if the table does not know it. */
StaticScore searcher_look(Searcher *s, const Frame *f, const TableEntry *entry);

/* What the moves of a frame are put in order by. `threats` is filled and pointed to by the hints; null where
 * only captures will be tried. */
void searcher_set_hints(const Searcher *s, const Frame *f, Move table_move, Threats *threats,
                        OrderingHints *hints);

/* The move that led to a frame, as role_square() counts moves; -1 if that was none, or is not known. */
static inline int move_before(const Frame *f)
{
    return f->ply > 0 ? f[-1].role_square : -1;
}

/* The line of the next frame behind a move becomes the line of this frame. */
void frame_take_line(Frame *f, Move move);

static inline void searcher_count_cutoff(Searcher *s, SearchPart part, bool by_first_move)
{
    s->cutoffs[part].all++;
    s->cutoffs[part].by_first_move += by_first_move;
}

#endif
