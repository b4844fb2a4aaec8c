/* Every number that steers the search and the clock, by name. First the parameters, which paired games can measure
 * and tune (`pawnvane-bench duel --set`, `tune`); they are not options of the protocol: whoever plays uses the
 * defaults. Then what is fixed. The sizes of tables stand with the tables. */
#ifndef PAWNVANE_PARAMETERS_H
#define PAWNVANE_PARAMETERS_H

/* Name, default, least, greatest; what it does. A switch is 0 or 1. Depths in plies, margins in centipawns,
 * reductions in hundredths of a ply.
 *
 * Tuned: margins, reductions and history together, by the method of bench/tune/tune.h, 12,400 games at 6,000 nodes a
 * move; static_bonus, check_bonus, bonus_slope and quiescence_victim after that, and the switches, by paired games. */
#define PARAMETER_TABLE(X)                                                                                   \
    X(aspiration_window, 16, 1, 32000)     /* first half-width of the window round the last score */         \
    X(aspiration_reduction, 1, 0, 1)       /* plies less after a score above the window */                   \
    X(null_move, 1, 0, 1)                  /* null-move pruning */                                           \
    X(null_base, 321, 100, 800)            /* its reduction at depth 0, in hundredths of a ply */            \
    X(null_divisor, 4, 1, 32)              /* depth that adds a ply to it */                                 \
    X(null_margin, 194, 20, 2000)          /* what above beta adds a ply to it, three at most */             \
    X(static_margin, 68, 0, 1000)          /* static pruning of nodes: margin a ply, 0 off */                \
    X(static_depth, 8, 0, 32)              /* greatest depth for it */                                       \
    X(razor_margin, 245, 0, 2000)          /* drop to quiescence: margin a ply, 0 off */                     \
    X(razor_depth, 3, 0, 16)               /* greatest depth for it */                                       \
    X(futility_margin, 91, 0, 1000)        /* pruning of quiet moves: margin a ply, 0 off */                 \
    X(futility_base, 86, 0, 1000)          /* and at depth 0 */                                              \
    X(futility_depth, 7, 0, 32)            /* greatest reduced depth for it */                               \
    X(late_base, 9, 0, 64)                 /* quiet moves tried before late ones are pruned, 0 off */        \
    X(late_depth, 8, 0, 32)                /* greatest depth for it */                                       \
    X(exchange_quiet, 22, 0, 1000)         /* losing quiet moves pruned: margin a squared ply, 0 off */      \
    X(exchange_capture, 97, 0, 1000)       /* losing captures pruned: margin a ply, 0 off */                 \
    X(history_margin, 2839, 0, 32000)      /* quiet moves with history below -margin a ply pruned, 0 off */  \
    X(reduction_base, 76, 0, 400)          /* late-move reductions: constant part, hundredths of a ply */    \
    X(reduction_divisor, 200, 50, 2000)    /* and divisor of ln(depth) ln(moves), hundredths; */             \
    X(reduction_history, 7955, 500, 64000) /* history that takes a ply off */                                \
    X(reduction_cutoffs, 102, 0, 400)      /* more where the replies cut off often, hundredths */            \
    X(reduction_cut, 118, 0, 400)          /* more where a cut-off is expected */                            \
    X(reduction_pv, 79, 0, 400)            /* less in the principal variation */                             \
    X(reduction_improving, 61, 0, 400)     /* less when the static score rises */                            \
    X(reduction_check, 83, 0, 400)         /* less for checks */                                             \
    X(reduction_killer, 83, 0, 400)        /* less for killers and counter-moves */                          \
    X(alpha_reduction, 1, 0, 3)            /* plies less for what follows a move that raised alpha */        \
    X(reductions, 1, 0, 1)                 /* switch */                                                      \
    X(internal_reduction, 1, 0, 1)         /* a ply less where the table knows no move */                    \
    X(singular, 1, 0, 1)                   /* extension of a move without alternative */                     \
    X(singular_depth, 7, 4, 32)            /* least depth for it */                                          \
    X(singular_margin, 29, 0, 512)         /* margin in sixteenths a ply */                                  \
    X(singular_beta, 2, 0, 4)              /* plies less if it is not, and its score is above beta */        \
    X(singular_cut, 1, 0, 4)               /* or a cut-off was expected anyway */                            \
    X(check_extension, 1, 0, 1)            /* a ply more for a check that loses nothing */                   \
    X(continuation, 1, 0, 1)               /* histories of moves that follow moves */                        \
    X(threat_history, 1, 0, 1)             /* history that knows whether origin and goal are attacked */     \
    X(pawn_history, 1, 0, 1)               /* history of moves with such pawns */                            \
    X(bonus_slope, 150, 0, 1000)           /* history won by a cut-off: a ply of depth, ... */               \
    X(bonus_base, 40, 0, 1000)             /* ... less this, ... */                                          \
    X(bonus_most, 1741, 0, 8000)           /* ... at most */                                                 \
    X(malus_slope, 224, 0, 1000)           /* and lost by what was tried before it */                        \
    X(malus_base, 27, 0, 1000)             /* ... */                                                         \
    X(malus_most, 1643, 0, 8000)           /* ... */                                                         \
    X(static_bonus, 14, 0, 200)            /* and won by a rise of the static score, tenths a centipawn, */  \
    X(static_most, 1500, 0, 8000)          /* ... at most */                                                 \
    X(killer_bonus, 22069, 0, 400000)      /* order: history worth of the last killer, ... */                \
    X(killer_bonus_2, 12109, 0, 400000)    /* ... of the one before it, ... */                               \
    X(counter_bonus, 8943, 0, 400000)      /* ... of what refuted the last move before, ... */               \
    X(check_bonus, 6000, 0, 64000)         /* ... of a check, ... */                                         \
    X(escape_bonus, 27806, 0, 64000)       /* ... of leaving an attack by a lesser man */                    \
    X(victim_weight, 22, 1, 256)           /* captures: history worth of a centipawn taken */                \
    X(quiescence_victim, 100, 1, 256)      /* the same in quiescence */                                      \
    X(capture_leeway, 134, 0, 2000)        /* and loss still before quiet moves if history is full */        \
    X(capture_history, 1, 0, 1)            /* history of captures */                                         \
    X(correction, 1, 0, 1)                 /* static score corrected by what searches of such pawns found */ \
    X(piece_correction, 1, 0, 1)           /* and what they found of such pieces */                          \
    X(improving, 1, 0, 1)                  /* prune and reduce less when the static score rises */           \
    X(delta_margin, 99, 0, 2000)           /* quiescence: captures that cannot reach alpha, 0 off */

/* What is fixed. Common practice, no source, but for the lines that say otherwise. */
enum {
    /* The window round the last score: the least depth for one (plies), the factor it grows by when a score falls
     * outside, and the half-width (centipawns) beyond which it is opened altogether. */
    WINDOW_LEAST_DEPTH = 5,
    WINDOW_GROWTH = 2,
    WINDOW_WIDEST = 1000,

    /* What a man is worth when both sides take on one square, in centipawns. Only the order and rough proportions
     * matter there. */
    EXCHANGE_PAWN = 100,
    EXCHANGE_KNIGHT = 320,
    EXCHANGE_BISHOP = 330,
    EXCHANGE_ROOK = 500,
    EXCHANGE_QUEEN = 950,
    EXCHANGE_KING = 20000,

    /* Null move: least depth (plies), and the most (hundredths of a ply) that null_margin adds. */
    NULL_LEAST_DEPTH = 2,
    NULL_MARGIN_MOST = 300,

    /* Moves left out: greatest depth (plies) for exchange_capture; greatest reduced depth for exchange_quiet and
     * for history_margin; what the number of quiet moves tried is divided by when the static score does not rise. */
    EXCHANGE_CAPTURE_DEPTH = 6,
    EXCHANGE_QUIET_DEPTH = 7,
    HISTORY_DEPTH = 4,
    LATE_DIVISOR = 2,

    /* Reductions: least depth (plies); moves of a node after which captures are reduced, too, and by which part;
     * cut-offs among the replies after which they are many. At the root: moves that are never reduced, and plies
     * less than elsewhere. */
    REDUCTION_LEAST_DEPTH = 3,
    UNREDUCED_CAPTURES = 4,
    CAPTURE_REDUCTION_DIVISOR = 2,
    MANY_CUTOFFS = 3,
    UNREDUCED_AT_ROOT = 3,
    ROOT_LESS_REDUCTION = 1,

    /* Changes of depth (plies): least depth for internal_reduction; how much shallower than the node what the table
     * knows may be for the search for alternatives to its move, and the part of the depth they are searched to;
     * check extensions below this depth; alpha_reduction between these; no extension from this ply on. */
    INTERNAL_LEAST_DEPTH = 4,
    SINGULAR_TABLE_DEPTH = 3,
    SINGULAR_DIVISOR = 2,
    CHECK_EXTENSION_DEPTH = 10,
    RAISE_ABOVE_DEPTH = 2,
    RAISE_BELOW_DEPTH = 14,
    EXTENSION_PLIES = 64,

    /* History: its greatest value, and the moves of a node that learn from a cut-off. */
    HISTORY_LIMIT = 16384,
    TRIED_QUIETS = 64,
    TRIED_CAPTURES = 32,

    /* Correction of the static score: the most that one search teaches and the most that is learned (centipawns);
     * the depth (plies) beyond which a lesson weighs no more; the weight of what has been learned before, where that
     * of a lesson is its depth and one more. */
    CORRECTION_LESSON = 256,
    CORRECTION_LIMIT = 64,
    CORRECTION_DEEPEST = 15,
    CORRECTION_MEMORY = 256,

    /* Transposition table (plies): what a search of age costs an entry when one must go; how much deeper than a new
     * bound an entry of the same search must be to stay. */
    TABLE_AGE_WORTH = 4,
    TABLE_DEPTH_KEPT = 4,

    /* Plies without capture or pawn move after which the fifty-move rule colours what a search finds. */
    FIFTY_MOVES_NEAR = 80,

    /* Several workers share the moves of nodes from this depth (plies) on, and their common history of quiet moves
     * learns cut-offs from that depth on and changes of the static score that are worth so many points to it: of
     * lesser lessons there are so many that two caches would only fight for its lines. All by "make bench". */
    SHARED_DEPTH = 8,
    TAUGHT_DEPTH = 4,
    TAUGHT_CHANGE = 30,

    /* Planning a move by the clock. In sudden death a game is taken to last so many more moves, wherever it stands;
     * of the moves to a time control so many are counted at most. CLOCK_CUSHION is tuned: 40 games at 1 s + 10 ms,
     * four at a time on two processors, none lost on time. Shares in percent: of the increment that is used at
     * once, of what is left that one move may take, of the same for the last move before the control, and of the
     * soft limit that the hard one may be. */
    CLOCK_HORIZON = 28,
    CLOCK_MOST_MOVES = 40,
    CLOCK_CUSHION = 6,
    CLOCK_INCREMENT = 75,
    CLOCK_MOST = 40,
    CLOCK_MOST_LAST = 90,
    CLOCK_HARD = 400,

    /* The share of the soft limit that is used, in percent: at first, less for each iteration in which the choice
     * stood, of so many; times this less the share of nodes the choice took; more for each centipawn that the score
     * fell, of so many; at least. A single legal move is played at this depth (plies). */
    SHARE_AT_FIRST = 130,
    SHARE_LESS_STABLE = 8,
    SHARE_STABLE_MOST = 8,
    SHARE_EFFORT = 150,
    SHARE_DROP_MOST = 60,
    SHARE_LEAST = 25,
    ONLY_MOVE_DEPTH = 4
};

typedef enum Parameter {
#define X(name, value, least, greatest) PARAMETER_##name,
    PARAMETER_TABLE(X)
#undef X
        PARAMETER_COUNT
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
