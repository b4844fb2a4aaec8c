/* What is left out of the search, and what is searched less deep or deeper: the decisions, each from what is
 * known of a node and of a move. None of them searches itself; search.c does what they say. */
#ifndef PAWNVANE_PRUNING_H
#define PAWNVANE_PRUNING_H

#include "engine/search/searcher.h"

/* A node on its way through the search; alpha and depth change on it. */
typedef struct Node {
    Frame *f;
    int alpha, beta, depth;
    bool pv, expected_cut;
    bool known; /* to the transposition table, as entry */
    TableEntry entry;
    int table_score; /* the entry's, with mates counted from the root; SCORE_NONE without one */
    int raw;         /* static score, as it goes into the table; SCORE_NONE in check */
    int estimate;    /* that, corrected and improved by what the table knows */
    bool improving;
    int extension; /* of the table's move, in plies */
    OrderingHints hints;
    CheckView checks;
    Threats threats;
} Node;

/* What pruning and reduction of a move look at. */
typedef struct MoveContext {
    Move move;
    bool quiet, gives_check;
    int number;    /* 1 for the first move tried */
    int history;   /* of a quiet move */
    int reduction; /* by depth and number, in hundredths of a ply */
} MoveContext;

/* ----------------------------------------------------------------------------------------- the whole node */

/* The static score is so far above beta that no move need be looked at. */
bool static_score_cuts(const Parameters *par, const Node *n);

/* The static score is so far below alpha that quiescence will do. */
bool falls_to_quiescence(const Parameters *par, const Node *n);

/* Whether to let the other side move, and how deep to search what follows: if even that holds beta, a real
 * move will. Not in what may be zugzwang. */
bool tries_null_move(const Parameters *par, const Node *n);
int null_move_depth(const Parameters *par, const Node *n);

/* Whether to search for an alternative to the table's move, and which score an alternative must reach:
 * without one the move is singular. */
bool tries_alternatives(const Parameters *par, const Node *n);
int alternatives_target(const Parameters *par, const Node *n);

/* Plies less for a move that has alternatives. */
int reduction_with_alternatives(const Parameters *par, const Node *n);

/* The depth of a node whose best move the table does not know. */
int depth_without_table_move(const Parameters *par, const Node *n);

/* The depth for what follows a move that has raised alpha to that score. */
int depth_after_raise(const Parameters *par, const Node *n, int score);

/* ------------------------------------------------------------------------------------------- single moves */

void look_at_move(const Searcher *s, const Node *n, Move move, int number, MoveContext *m);

/* Whether a move is left out; `best` is the best score so far. */
bool prunes_move(const Parameters *par, const Node *n, const MoveContext *m, int best);

/* Plies more for a move, or less. */
int extension_of(const Parameters *par, const Node *n, const MoveContext *m);

/* Whether a late move is tried less deep first, and how deep: `full` less what speaks against it. `cutoffs`
 * are those among the replies so far. */
bool reduces_move(const Parameters *par, const Node *n, const MoveContext *m);
int reduced_depth(const Parameters *par, const Node *n, const MoveContext *m, int cutoffs, int full);

/* The same for a quiet move at the root that gives no check. */
int reduced_root_depth(const Searcher *s, int depth, int number);

#endif
