/* What is left out of the search, and what is searched less deep or deeper: the decisions, each from what is
 * known of a node and of a move. None of them searches itself; search.c does what they say. */
#ifndef PAWNVANE_PRUNING_H
#define PAWNVANE_PRUNING_H

#include "engine/search/chance.h"
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
    int extension;   /* of the table's move, in plies */
    bool raised;     /* a move has raised alpha */
    int prospect;    /* what the static score says of every move's chance, in hundredths of log-odds */
    OrderingHints hints;
    CheckView checks;
    Threats threats;
} Node;

/* What is known of a move. */
typedef struct MoveContext {
    Move move;
    bool quiet, gives_check;
    int number;  /* 1 for the first move tried; what follows is not known of that */
    int history; /* the sum by which it was put in order */
    int traits;  /* its chance by its traits, in hundredths of log-odds */
    int chance;  /* by the static score behind it, too */
    int shift;   /* of its chance by what it does to the static score; 0 where there is a check */
} MoveContext;

/* ----------------------------------------------------------------------------------------- the whole node */

/* The static score is so far above beta that no move need be looked at. */
bool static_score_cuts(const Parameters *par, const Node *n);

/* The static score is so far below alpha that quiescence will do. */
bool falls_to_quiescence(const Parameters *par, const Node *n);

/* Whether to let the other side move, and how deep to search what follows: if even that holds beta, a real
 * move will. Not in what may be zugzwang. */
bool tries_null_move(const Node *n);
int null_move_depth(const Parameters *par, const Node *n);

/* Whether to search for an alternative to the table's move, and which score an alternative must reach:
 * without one the move is singular. */
bool tries_alternatives(const Parameters *par, const Node *n);
int alternatives_target(const Parameters *par, const Node *n);

/* What the table's move is extended by, 0 or less, if there is an alternative. */
int extension_with_alternatives(const Parameters *par, const Node *n);

/* The depth of a node whose best move the table does not know. */
int depth_without_table_move(const Parameters *par, const Node *n);

/* The depth for the moves behind one that has raised alpha: they have more to beat. */
int depth_behind_raise(const Parameters *par, const Node *n, int score);

/* ------------------------------------------------------------------------------------------- single moves */

/* What the static score before the move says of its chance; to be set anew when alpha has risen. */
void set_prospect(Node *n);

/* Looks at a move, whose number is set, and says whether it is not even played; `best` is the best score so far. */
bool skips_move(const Searcher *s, const Node *n, int best, MoveContext *m);

/* Looks at the static score behind a move that has been played into the next frame, which keeps it. */
void look_behind_move(Searcher *s, const Node *n, MoveContext *m, Frame *next);

/* What the tables of chances ask of a move that skips_move() has looked at, with the gap behind it; nobody asks but who
 * fits them. */
ChanceMove describe_move(const Node *n, const MoveContext *m, int gap_behind);

/* Whether a move that has been played is not searched. */
bool drops_move(const Parameters *par, const Node *n, const MoveContext *m, int best);

/* Plies more for a move, or less. */
int extension_of(const Parameters *par, const Node *n, const MoveContext *m);

/* Whether a late move is tried less deep first, and how deep: `full` less what speaks against it. */
bool reduces_move(const Node *n, const MoveContext *m);
int reduced_depth(const Parameters *par, const Node *n, const MoveContext *m, int full);

/* The same for a quiet move at the root that gives no check. */
int reduced_root_depth(int depth, int number);

#endif
