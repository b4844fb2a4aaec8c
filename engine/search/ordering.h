/* The order in which the search tries moves, and the histories that the order learns from. */
#ifndef PAWNVANE_ORDERING_H
#define PAWNVANE_ORDERING_H

#include "engine/rules/movegen.h"
#include "engine/search/parameters.h"

#include <stdatomic.h>

enum {
    ROLE_SQUARES = ROLE_COUNT * SQUARE_COUNT,
    CONTINUATIONS = 2,
    PAGES = CONTINUATIONS + 1, /* and that of the pawns */
    PAWN_PAGES = 512
};

/* From -HISTORY_LIMIT to HISTORY_LIMIT. Where workers share one, a lesson that two of them learn at the same
 * moment may be lost. */
typedef _Atomic int16_t History;

static inline int history_value(const History *history)
{
    return atomic_load_explicit(history, memory_order_relaxed);
}

/* How quiet moves fared in certain circumstances: by role and goal of the mover. */
typedef History HistoryPage[ROLE_SQUARES];

/* Of quiet moves: by side to move, whether origin and goal are attacked, and origin and goal. */
typedef History QuietHistory[SIDE_COUNT][2][2][SQUARE_COUNT][SQUARE_COUNT];

typedef struct Histories {
    History capture[ROLE_COUNT][SQUARE_COUNT][ROLE_COUNT]; /* by mover, goal, victim */
    /* One and two plies after a move, by side to move and that move. */
    HistoryPage continuation[CONTINUATIONS][SIDE_COUNT][ROLE_SQUARES];
    HistoryPage pawns[SIDE_COUNT][PAWN_PAGES]; /* with such pawns: by side to move and the key of the pawns */
    HistoryPage no_page;                       /* always 0, for the want of another */
    Move counter[ROLE_SQUARES];                /* what refuted the move before */
} Histories;

/* What the side that is not to move attacks. */
typedef struct Threats {
    Bitboard attacked;           /* by any man */
    Bitboard unsafe[ROLE_COUNT]; /* for a man of the role: by a lesser one */
} Threats;

/* What the order may look at besides the position. */
typedef struct OrderingHints {
    Move table_move;
    Move killers[2];
    Move counter;
    QuietHistory *quiet;
    History *pages[PAGES];  /* no_page where there was no move */
    const Threats *threats; /* null where only captures are tried */
    const Parameters *parameters;
} OrderingHints;

typedef enum PickerStage {
    PICK_TABLE_MOVE,
    PICK_TACTICAL_START,
    PICK_GOOD_TACTICAL,
    PICK_QUIET_START,
    PICK_QUIET,
    PICK_BAD_TACTICAL,
    PICK_END
} PickerStage;

typedef struct Picker {
    const Position *position;
    Histories *histories;
    const OrderingHints *hints;
    PickerStage stage;
    bool tactical_only; /* quiescence: no quiet moves, and captures that lose material left out */
    int history;        /* of the move taken last; not of the table's move */
    int bad_next, bad_count;
    MoveList list;
    int ranks[MOVES_MAX], move_histories[MOVES_MAX]; /* of the moves in the list */
    struct {
        Move move;
        int history;
    } bad[MOVES_MAX];
} Picker;

/* Fills `threats`: squares attacked by the side that is not to move, its own men's included. */
void view_threats(const Position *position, Threats *threats);

void picker_start(Picker *picker, const Position *position, Histories *histories, const OrderingHints *hints,
                  bool tactical_only);

/* The next move, NO_MOVE when there are no more. Every legal move comes exactly once (with tactical_only: the
 * table's move if it is a capture or promotion, and those that lose nothing). */
Move picker_next(Picker *picker);

/* Lets a history learn: moves it towards HISTORY_LIMIT or away from it, the more so the further it
 * has to go, so that it never leaves its bounds. */
void history_learn(History *history, int lesson);

static inline bool move_is_quiet(const Position *p, Move move)
{
    return position_captured(p, move) == NO_ROLE && !move_is_promotion(move);
}

static inline int role_square(const Position *p, Move move)
{
    return position_role(p, move_from(move)) * SQUARE_COUNT + move_to(move);
}

static inline History *capture_history(Histories *h, const Position *p, Move move)
{
    Role victim = position_captured(p, move);
    return &h->capture[position_role(p, move_from(move))][move_to(move)][victim == NO_ROLE ? PAWN : victim];
}

/* A quiet move's history apart from what went before it and from the pawns. */
static inline History *plain_history(const Position *p, const OrderingHints *hints, Move move)
{
    Square from = move_from(move), to = move_to(move);
    Bitboard attacked = hints->threats->attacked;
    return &(*hints->quiet)[position_turn(p)][attacked >> from & 1][attacked >> to & 1][from][to];
}

#endif
