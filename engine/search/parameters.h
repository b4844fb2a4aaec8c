/* Every number that steers the search and the clock, by name. First the parameters, which paired games can measure and
 * tune (`pawnvane-bench duel --set`, `tune`; those of the time by `duel --clock` alone); they are not options of the
 * protocol: whoever plays uses the defaults. Then what is fixed. The sizes of tables stand with the tables.
 *
 * Those of the search were tuned by `tune` (simultaneous perturbation) over 6,400 pairs of games at 2,500 nodes a move
 * and 928 at 10,000; those of the reductions, `shift` and the switches were chosen by duels after that. */
#ifndef PAWNVANE_PARAMETERS_H
#define PAWNVANE_PARAMETERS_H

/* Name, default, least, greatest; what it does. Depths in plies, margins in centipawns, chances in hundredths of
 * log-odds. */
#define PARAMETER_TABLE(X)                                                                                   \
    /* The window round the last score */                                                                    \
    X(window, 16, 1, 32000) /* its first half-width, doubled on the side that failed */                      \
    /* Whole nodes */                                                                                        \
    X(null_base, 320, 100, 800)   /* null move: plies less, in hundredths, at depth 0, ... */                \
    X(null_divisor, 4, 1, 32)     /* ... the depth that adds a ply, ... */                                   \
    X(null_rise, 55, 0, 400)      /* ... and more for each pawn that the score is above beta */              \
    X(static_margin, 49, 0, 1000) /* so far above beta, a ply, nothing is searched */                        \
    X(static_depth, 8, 0, 32)     /* greatest depth for that */                                              \
    X(razor_margin, 272, 0, 2000) /* so far below alpha, a ply, quiescence decides */                        \
    X(razor_depth, 3, 0, 16)      /* greatest depth for that */                                              \
    /* Moves left out */                                                                                     \
    X(skip_line, 226, 0, 4000) /* not played: quiet moves with less chance than this below even, ... */      \
    X(skip_slope, 59, 0, 400)  /* ... and this for each ply */                                               \
    X(drop_line, 612, 0, 4000) /* not searched: the same, by the chance behind the move, ... */              \
    X(drop_slope, 53, 0, 400)  /* ... and this for each ply */                                               \
    X(exchange_capture, 100, 0, 1000) /* captures that lose more, a ply */                                   \
    /* Depth, in hundredths of a ply where nothing else is said */                                           \
    X(reduction_root, 66, 0, 400)      /* less by this, times the cube roots of depth and number, ... */     \
    X(reduction_chance, 60, 0, 400)    /* ... and this for each unit that the chance falls below ... */      \
    X(reduction_line, 420, 0, 2000)    /* ... this, or more where it exceeds it, ... */                      \
    X(reduction_most, 300, 0, 2000)    /* ... of so much at most; ... */                                     \
    X(reduction_history, 250, 0, 2000) /* ... full history adds this to the chance */                        \
    X(reduction_pv, 38, 0, 400)        /* more in the principal variation */                                 \
    X(reduction_cut, 72, 0, 400)       /* less where a cut-off is expected */                                \
    X(internal_reduction, 1, 0, 3)     /* plies less where the table knows no move */                        \
    X(raised_less, 1, 0, 2)            /* plies less behind a move that has raised alpha */                  \
    X(singular_depth, 7, 4, 64)        /* plies more for a move without alternative: least depth, ... */     \
    X(singular_margin, 24, 0, 512)     /* ... and what the others fall short by, sixteenths a ply */         \
    X(singular_less, 1, 0, 3)          /* plies less for a move that has one, where beta seems to hold */    \
    X(check_extension, 1, 0, 1)        /* plies more for a check that loses nothing */                       \
    /* Learning */                                                                                           \
    X(gain, 150, 0, 1000)       /* history won by a cut-off, a ply of depth, ... */                          \
    X(gain_most, 1741, 0, 8000) /* ... at most */                                                            \
    X(loss, 224, 0, 1000)       /* and lost by what was tried before it, ... */                              \
    X(loss_most, 1643, 0, 8000) /* ... at most */                                                            \
    X(shift, 200, 0, 1000)      /* won or lost by what the static score behind a move says, percent */       \
    /* Order, in units of history */                                                                         \
    X(killer, 22069, 0, 400000)       /* the last killer, ... */                                             \
    X(older_killer, 12109, 0, 400000) /* ... the one before it, ... */                                       \
    X(counter, 8943, 0, 400000)       /* ... what refuted the last move before, ... */                       \
    X(stake, 87, 0, 1000)             /* ... a centipawn less at stake */                                    \
    X(victim, 22, 1, 256)             /* captures: a centipawn taken, ... */                                 \
    X(quiescence_victim, 100, 1, 256) /* ... and the same in quiescence */                                   \
    X(leeway, 134, 0, 2000)           /* loss still before quiet moves, if history is full */                \
    /* Quiescence */                                                                                         \
    X(reach, 99, 0, 2000) /* what a capture may win beyond the man; 0: all are searched */                   \
    /* Time, in games by the clock only: what a move is given, ... */                                        \
    X(clock_horizon, 48, 1, 200)   /* moves that a game is taken to last yet, at its beginning; ... */       \
    X(clock_shrink, 60, 0, 1000)   /* ... hundredths of a move less for each move played; ... */             \
    X(clock_tail, 18, 1, 200)      /* ... so many at least */                                                \
    X(clock_increment, 75, 0, 100) /* percent of the increment that is used at once */                       \
    X(clock_hard, 400, 100, 2000)  /* percent of the soft limit that the hard limit is at most */            \
    /* ... and how much of it is used, in percent */                                                         \
    X(share_first, 130, 1, 1000)    /* when the choice has just changed; */                                  \
    X(share_stable, 8, 0, 200)      /* less for each iteration in which it stood, ... */                     \
    X(share_stable_most, 8, 0, 64)  /* ... of so many at most; */                                            \
    X(share_effort, 150, 100, 400)  /* all that times this, less the percentage of nodes of the choice; */   \
    X(share_drop_most, 60, 0, 400)  /* more for each centipawn that the score fell, of so many at most; */   \
    X(share_least, 25, 1, 100)      /* not less than this; */                                                \
    X(share_stretch, 150, 100, 400) /* the most that a share grows to, when others were not used up */

/* What is fixed. Common practice, no source, but for the lines that say otherwise. */
enum {
    /* The window round the last score. */
    WINDOW_LEAST_DEPTH = 5, /* plies; at lesser depths it is open */
    WINDOW_GROWTH = 2,      /* times as wide each time that a score falls outside */
    WINDOW_WIDEST = 1000,   /* centipawns; if its half-width is greater, it is opened on that side */

    /* What a man is worth when both sides take on one square, in centipawns; only the order and rough
     * proportions matter there. */
    EXCHANGE_PAWN = 100,
    EXCHANGE_KNIGHT = 320,
    EXCHANGE_BISHOP = 330,
    EXCHANGE_ROOK = 500,
    EXCHANGE_QUEEN = 950,
    EXCHANGE_KING = 20000,

    /* Null move. */
    NULL_LEAST_DEPTH = 2,  /* plies */
    NULL_RISE_MOST = 1000, /* centipawns above beta that count for null_rise */

    /* Moves left out. */
    LOST_PAWN = 120,            /* what a move may lose to count as one that loses a pawn, ... */
    LOST_PIECE = 350,           /* ... or a minor piece, or a pawn and the exchange */
    EXCHANGE_CAPTURE_DEPTH = 6, /* plies; greatest depth for exchange_capture */
    LOOK_LEAST_DEPTH = 2,       /* plies; below it nobody asks what the static score behind a move says */

    /* Reductions. */
    REDUCTION_LEAST_DEPTH = 3, /* plies */
    RAISED_LEAST_DEPTH = 4,    /* plies; for raised_less */
    ROOT_SHALLOW = 6,          /* plies; up to this depth a ply less is taken off at the root */

    /* Changes of depth. */
    INTERNAL_LEAST_DEPTH = 4,   /* plies; for internal_reduction */
    SINGULAR_TABLE_DEPTH = 3,   /* plies that the table's entry may be shallower than the node */
    SINGULAR_DIVISOR = 2,       /* the part of the depth to which alternatives are searched */
    CHECK_EXTENSION_DEPTH = 10, /* plies; checks are extended below this depth */
    EXTENSION_PLIES = 64,       /* no extension from this ply on */

    /* History. */
    HISTORY_LIMIT = 16384, /* the greatest value */
    SHIFT_DEPTH = 2,       /* plies; as at this depth the chance behind a move teaches */
    TRIED_QUIETS = 64,     /* moves of a node that learn from its cut-off: quiet ones, ... */
    TRIED_CAPTURES = 32,   /* ... captures and promotions */

    /* Correction of the static score. */
    CORRECTION_LESSON = 256, /* centipawns that one search teaches at most */
    CORRECTION_LIMIT = 64,   /* centipawns that are learned at most */
    CORRECTION_DEEPEST =
        15, /* plies; a lesson weighs its depth and one more, but no more than this and one */
    CORRECTION_MEMORY = 128, /* the weight of a lesson and of what was learned before, together */

    /* Transposition table. */
    TABLE_AGE_WORTH = 4,  /* plies that an entry's depth counts less for each search since */
    TABLE_DEPTH_KEPT = 4, /* plies that an entry of the same search is deeper than a bound it outlives */

    /* Plies without capture or pawn move after which the fifty-move rule colours what a search finds. */
    FIFTY_MOVES_NEAR = 80,

    /* Several workers. Of lesser lessons there are so many that two caches would only fight for the lines of
     * their common history of quiet moves. Both by "make bench". */
    SHARED_DEPTH = 8, /* plies; least depth of nodes whose moves they share */
    TAUGHT_DEPTH = 4, /* plies; least depth of cut-offs that the common history learns */

    /* Planning a move by the clock. */
    CLOCK_MOST_MOVES = 40, /* moves to a time control are counted up to this */
    CLOCK_RESERVE = 40,    /* milliseconds that are kept back unless somebody says otherwise */
    CLOCK_CUSHION = 10,    /* reserves that are to stay on the clock (tuned, see clock.c) */
    CLOCK_USE_PRIOR = 4,   /* moves that are taken to have used their whole shares before the first */
    CLOCK_MOST = 40,       /* percent of what is left that one move may take ... */
    CLOCK_MOST_LAST = 90,  /* ... and that the last move before the time control may take */
    ONLY_MOVE_DEPTH = 4    /* plies; a single legal move is played then */
};

typedef enum Parameter {
#define X(name, value, least, greatest) PARAMETER_##name,
    PARAMETER_TABLE(X)
#undef X
        PARAMETER_COUNT,
    PARAMETER_OF_TIME = PARAMETER_clock_horizon /* from this one on: without a clock they have no say */
} Parameter;

typedef struct Parameters {
#define X(name, value, least, greatest) int name;
    PARAMETER_TABLE(X)
#undef X
} Parameters;

extern const Parameters default_parameters;

typedef enum ParameterError { PARAMETER_SET, PARAMETER_UNKNOWN, PARAMETER_OUT_OF_RANGE } ParameterError;

/* Sets a parameter by name. */
ParameterError parameter_set(Parameters *parameters, const char *name, int value);

/* The name, default and bounds of parameter number 0 .. PARAMETER_COUNT - 1. */
typedef struct ParameterInfo {
    const char *name;
    int value, least, greatest;
} ParameterInfo;

extern const ParameterInfo parameter_table[PARAMETER_COUNT];

#endif
