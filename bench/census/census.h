/* A survey of games: how often locked chains occur, where, and what was done about them. This is what one game
 * shows; census_totals.h adds up many.
 *
 * Only the main line counts, and only positions that a ply has led to: the first position of a game does not,
 * even if a FEN tag gives it. All lever squares are those that a side's plan has at the first moment of a
 * locked chain on d and e, and stay so for the rest of the game. A lever is played when, at any later ply, a pawn of
 * that side goes to its square without capturing. Plies count from 1. */
#ifndef PAWNVANE_CENSUS_H
#define PAWNVANE_CENSUS_H

#include "bench/pgn/pgn.h"
#include "bench/pgn/pgn_position.h"
#include "bench/play/opening_stratum.h"
#include "engine/rules/fen.h"
#include "structure/structure.h"

enum { CENSUS_PAIR_COUNT = 7, CENSUS_ECO_COUNT = 500 };

/* What a side had at the first moment of a locked chain on d and e, and what it did with it. */
typedef struct CensusSide {
    ps_verdict verdict;
    ps_status status;           /* of the base lever; PS_NO_STATUS where there is none */
    int base_lever, head_lever; /* squares of the principal chain; PS_NO_SQUARE where there is none */
    int base_ply, head_ply;     /* when it was played, 0 if never */
} CensusSide;

/* Moments of a game that are worth a look, in one list: the first time that two files are locked, that a near miss
 * holds, the beginning of one that lasts, and when a side played its base lever or its head lever. */
enum {
    CENSUS_OF_PAIR,
    CENSUS_OF_NEAR_MISS = CENSUS_OF_PAIR + CENSUS_PAIR_COUNT,
    CENSUS_OF_LASTING = CENSUS_OF_NEAR_MISS + PS_NEAR_MISS_COUNT,
    CENSUS_OF_BASE = CENSUS_OF_LASTING + PS_NEAR_MISS_COUNT, /* by Side */
    CENSUS_OF_HEAD = CENSUS_OF_BASE + 2,
    CENSUS_MOMENT_COUNT = CENSUS_OF_HEAD + 2
};

typedef struct CensusMoment {
    int ply;                      /* 0: never */
    char move[PGN_NUMBERED_SIZE]; /* that led there, "12...c5" */
    char fen[FEN_SIZE];
} CensusMoment;

/* A near miss that stands for so many plies running is no passing moment. Common practice, no source. */
enum { CENSUS_LASTING = 20 };

/* Games without an ECO code are grouped by so many plies. */
enum { CENSUS_LINE_PLIES = 4, CENSUS_LINE_SIZE = 64 };

typedef struct CensusGame {
    size_t number; /* within its file */
    size_t line;
    int plies;
    PgnResult result;
    unsigned pairs;       /* locked files that occurred: bit 0 for ab */
    unsigned near_misses; /* that occurred: bit 0 for the first ps_near_miss */
    unsigned lasting;     /* of these, which lasted */
    int eco;              /* A00 is 0, E99 is 499; -1 if it is not given */
    uint64_t
        first_moves; /* of a game without a code, CENSUS_LINE_PLIES of 16 bits, the first lowest; 0 if there are
                             none, or it does not begin with the usual position */
    int year;        /* 0 if it is not given */
    int rating[2];   /* by Side, 0 if it is not given */
    char *opening;   /* null if it is not given or not wanted */
    Stratum
        stratum; /* of the first position from ply CENSUS_STRATUM_FROM to CENSUS_STRATUM_TO that has one */
    int de_ply;  /* of the first chain on d and e, 0 if there is none; without it nothing below means
                             anything */
    int first_to_break;    /* at that moment: a ps_side or PS_NOBODY */
    CensusSide side[2];    /* by Side */
    bool chess960;         /* how the FEN is to be read */
    char *fen;             /* of that moment; null if it is not wanted or no move is legal there */
    CensusMoment *moments; /* CENSUS_MOMENT_COUNT of them; null if they are not wanted */
} CensusGame;

/* Where the openings of bench/openings/strata.epd were looked for. */
enum { CENSUS_STRATUM_FROM = 8, CENSUS_STRATUM_TO = 40 };

/* A game that is being watched. */
typedef struct CensusWatch {
    CensusGame game;
    bool wants_opening, wants_fen, wants_moments;
    bool memory_ran_out;
    bool watching, usual_start;
    uint64_t pawn_key;                      /* of the latest pawns that were read */
    unsigned near_misses;                   /* that hold */
    CensusMoment since[PS_NEAR_MISS_COUNT]; /* when each began to hold */
    Position before;                        /* the latest move; only with moments */
} CensusWatch;

/* In the order of the game: its tags, each move, its end. What is in watch->game then belongs to the caller,
 * who frees it. */
void census_begin(CensusWatch *watch, const PgnGame *game);
void census_move(CensusWatch *watch, const PgnGame *game, Move move);
void census_end(CensusWatch *watch, const PgnGame *game);

void census_game_free(CensusGame *game);

/* Who played its base lever first: a ps_side, PS_NOBODY if neither did. */
int census_first(const CensusGame *game);

/* "1.e4 e6 2.d4 d5" of CensusGame.first_moves. */
void census_line_text(uint64_t first_moves, char text[CENSUS_LINE_SIZE]);

/* "A00" for 0. */
enum { CENSUS_ECO_SIZE = 4 };
void census_eco_text(int eco, char text[CENSUS_ECO_SIZE]);

#endif
