/* Every number that steers the search and the clock, by name. First the parameters, which paired games can
 * measure and tune (`pawnvane-bench duel --set`, `tune`); they are not options of the protocol: whoever plays
 * uses the defaults. Then what is fixed. The sizes of tables stand with the tables. */
#ifndef PAWNVANE_PARAMETERS_H
#define PAWNVANE_PARAMETERS_H

/* Name, default, least, greatest; what it does. A switch is 0 or 1. Depths in plies, margins in centipawns,
 * reductions in hundredths of a ply.
 *
 * Tuned: margins, reductions and history together, by the method of bench/tune/tune.h, 12,400 games at 6,000
 * nodes a move; static_bonus, check_bonus, bonus_slope and quiescence_victim after that, and the switches, by
 * paired games. */
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
    NULL_LEAST_DEPTH = 2,   /* plies */
    NULL_MARGIN_MOST = 300, /* hundredths of a ply that null_margin adds at most */

    /* Moves left out. */
    EXCHANGE_CAPTURE_DEPTH = 6, /* plies; greatest depth for exchange_capture */
    EXCHANGE_QUIET_DEPTH = 7,   /* plies; greatest reduced depth for exchange_quiet */
    HISTORY_DEPTH = 4,          /* plies; greatest reduced depth for history_margin */
    LATE_DIVISOR = 2,           /* so many times fewer quiet moves if the static score does not rise */

    /* Reductions. */
    REDUCTION_LEAST_DEPTH = 3,     /* plies */
    UNREDUCED_CAPTURES = 4,        /* captures are reduced only behind so many moves */
    CAPTURE_REDUCTION_DIVISOR = 2, /* and by this part of what a quiet move is */
    MANY_CUTOFFS = 3,              /* reduction_cutoffs if there are more among the replies */
    UNREDUCED_AT_ROOT = 3,         /* moves */
    ROOT_LESS_REDUCTION = 1,       /* plies less than elsewhere */

    /* Changes of depth. */
    INTERNAL_LEAST_DEPTH = 4,   /* plies; for internal_reduction */
    SINGULAR_TABLE_DEPTH = 3,   /* plies that the table's entry may be shallower than the node */
    SINGULAR_DIVISOR = 2,       /* the part of the depth to which alternatives are searched */
    CHECK_EXTENSION_DEPTH = 10, /* plies; checks are extended below this depth */
    RAISE_ABOVE_DEPTH = 2,      /* plies; alpha_reduction above this depth ... */
    RAISE_BELOW_DEPTH = 14,     /* ... and below this one */
    EXTENSION_PLIES = 64,       /* no extension from this ply on */

    /* History. */
    HISTORY_LIMIT = 16384, /* the greatest value */
    TRIED_QUIETS = 64,     /* moves of a node that learn from its cut-off: quiet ones, ... */
    TRIED_CAPTURES = 32,   /* ... captures and promotions */

    /* Correction of the static score. */
    CORRECTION_LESSON = 256, /* centipawns that one search teaches at most */
    CORRECTION_LIMIT = 64,   /* centipawns that are learned at most */
    CORRECTION_DEEPEST =
        15, /* plies; a lesson weighs its depth and one more, but no more than this and one */
    CORRECTION_MEMORY = 256, /* the weight of a lesson and of what was learned before, together */

    /* Transposition table. */
    TABLE_AGE_WORTH = 4,  /* plies that an entry's depth counts less for each search since */
    TABLE_DEPTH_KEPT = 4, /* plies that an entry of the same search is deeper than a bound it outlives */

    /* Plies without capture or pawn move after which the fifty-move rule colours what a search finds. */
    FIFTY_MOVES_NEAR = 80,

    /* Several workers. Of lesser lessons there are so many that two caches would only fight for the lines of
     * their common history of quiet moves. All three by "make bench". */
    SHARED_DEPTH = 8,   /* plies; least depth of nodes whose moves they share */
    TAUGHT_DEPTH = 4,   /* plies; least depth of cut-offs that the common history learns */
    TAUGHT_CHANGE = 30, /* least worth to it of a change of the static score that it learns */

    /* Planning a move by the clock. */
    CLOCK_HORIZON = 28,    /* moves that a game in sudden death is taken to last yet, wherever it stands */
    CLOCK_MOST_MOVES = 40, /* moves to a time control are counted up to this */
    CLOCK_CUSHION = 6,     /* reserves that are to stay on the clock (tuned, see clock.c) */
    CLOCK_INCREMENT = 75,  /* percent of the increment that is used at once */
    CLOCK_MOST = 40,       /* percent of what is left that one move may take ... */
    CLOCK_MOST_LAST = 90,  /* ... and that the last move before the time control may take */
    CLOCK_HARD = 400,      /* percent of the soft limit that the hard limit is at most */

    /* The part of the soft limit that is used, in percent. */
    SHARE_AT_FIRST = 130,
    SHARE_LESS_STABLE = 8, /* less for each iteration in which the choice stood, ... */
    SHARE_STABLE_MOST = 8, /* ... of so many at most */
    SHARE_EFFORT = 150,    /* all that times this, less the percentage of nodes that the choice took */
    SHARE_DROP_MOST = 60,  /* more for each centipawn that the score fell, of so many at most */
    SHARE_LEAST = 25,
    ONLY_MOVE_DEPTH = 4 /* plies; a single legal move is played then */
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
