/* What one game shows: at each moment, what the direction said to a side, and where its first lever then came.
 * The definitions:
 *
 * Over the main line of a game; positions are those after each of its plies, numbered from 1.
 *
 * - Moment of a grade (firm, likely, doubtful): the first position whose firmest locked chain has that grade.
 *   Moment of a near miss (not_linked, same_way, not_rammed): the first position at which it holds, if no position up
 *   to then had a moment of grade firm.
 * - At a moment of a grade each side has a row: its verdict, region and lever square (structure.h, section 4). At a
 *   near miss it has a row for each wing to which linked d/e pawns of its own point, the pawn on the e-file ahead:
 *   kingside; verdict "linked".
 * - The side's first lever: its first push after the moment, without capture, after which the pawn attacks at least
 *   one enemy pawn; promotions left out.
 *
 * Ours, for the controls: linked pawns name a lever square too, by the formula of locked ones (beside the pawn ahead,
 * in the direction); of several such pairs for one wing the most advanced one speaks. It is not counted as "named".
 * A rim moment: the first position with a void chain (ab or gh); a side has a row if all void chains point the same
 * way for it. */
#ifndef PAWNVANE_FORECAST_GAME_H
#define PAWNVANE_FORECAST_GAME_H

#include "bench/pgn/pgn.h"
#include "engine/rules/fen.h"
#include "structure/structure.h"

typedef enum ForecastMoment {
    FORECAST_FIRM,
    FORECAST_LIKELY,
    FORECAST_DOUBTFUL,
    FORECAST_NOT_LINKED,
    FORECAST_SAME_WAY,
    FORECAST_NOT_RAMMED,
    FORECAST_RIM, /* a control; not among the rows that are printed */
    FORECAST_MOMENT_COUNT
} ForecastMoment;

enum {
    FORECAST_PRINTED_MOMENTS = FORECAST_RIM,
    /* The verdicts of structure.h, and that of a near miss. */
    FORECAST_LINKED = PS_VERDICT_COUNT,
    FORECAST_VERDICT_COUNT,
    FORECAST_OPENING_PLIES = 6,
    /* Two sides at each of the grades and the rim, four directions at each near miss. */
    FORECAST_ROWS_MAX = 4 * 2 + 3 * 4,
    /* Each enemy pawn can be attacked from two squares. */
    FORECAST_CHOICES_MAX = 16,
    /* Two sides at firm, four directions at not_rammed. */
    FORECAST_GAME_CHOICES_MAX = 6 * FORECAST_CHOICES_MAX
};

/* A lever that is structurally there: an own pawn stands behind its square on the file, nearest to it, with no pawn of
 * either colour between them or on the square, and from the square it would attack an enemy pawn that now stands there.
 * Pieces may be in the way. */
typedef struct ForecastChoice {
    int8_t goal; /* square */
    uint8_t steps, blockers;
    int8_t support; /* supporters minus attackers of the square, the pawn lifted */
} ForecastChoice;

typedef struct ForecastRow {
    uint8_t moment; /* ForecastMoment */
    uint8_t side;
    uint8_t verdict; /* ps_verdict or FORECAST_LINKED */
    uint8_t region;  /* ps_region that the direction names */
    int8_t lever;    /* square that it names, PS_NO_SQUARE if it points off the board */
    int8_t first;    /* goal of the first lever, PS_NO_SQUARE if there is none */
    int8_t earlier; /* goal of the first lever behind the opening's plies and before the moment's; as above */
    int8_t kings[2];                    /* squares at the moment: own, the other's */
    int ply, first_ply;                 /* of the moment; of the first lever, 0 without one */
    uint8_t first_choice, choice_count; /* of ForecastGame.choices; only at firm and not_rammed */
} ForecastRow;

typedef struct ForecastGame {
    size_t number, line; /* in its file */
    uint64_t hash;       /* of the start position and all moves */
    uint64_t start;      /* key of the start position, 0 for the initial one */
    Move opening[FORECAST_OPENING_PLIES];
    int plies;
    PgnResult result;
    int rating[2]; /* by Side, 0 if it is not given */
    int row_count, choice_count;
    ForecastRow rows[FORECAST_ROWS_MAX];
    ForecastChoice choices[FORECAST_GAME_CHOICES_MAX];
    char playable
        [FEN_SIZE]; /* the first position in which forecast_named_lever() could be played; "" without one */
} ForecastGame;

/* A game that is being watched. */
typedef struct ForecastWatch {
    ForecastGame game;
    uint64_t initial;    /* key of the initial position */
    uint64_t pawn_key;   /* of the latest pawns that were read */
    unsigned seen;       /* moments that are past, bit 0 for the first */
    bool wants_playable; /* game.playable is wanted */
    int8_t earlier[2];   /* goal of the side's first lever behind the opening, by Side */
    int earlier_ply[2];
} ForecastWatch;

/* A watch that has seen nothing yet. */
ForecastWatch forecast_watch(void);

/* In the order of the game: its tags, each move, its end. */
void forecast_begin(ForecastWatch *watch, const PgnGame *game);
void forecast_move(ForecastWatch *watch, const PgnGame *game, Move move);
void forecast_end(ForecastWatch *watch, const PgnGame *game);

/* Asks a position by itself, as if it stood behind the first ply of a game: its moments, and none that come later. The
 * game is then told with forecast_move(), as far as it is looked at. False if there is no moment. */
bool forecast_begin_at(ForecastWatch *watch, PgnGame *game, const Position *position);

/* Whether each row has its first lever. */
bool forecast_is_answered(const ForecastGame *game);

/* The named base lever as a legal move of the side to move, NO_MOVE if it cannot be played now. The analysis is that of the
 * position. */
Move forecast_named_lever(const Position *position, const ps_analysis *analysis);

/* Whether a move that is about to be played is a push, without capture or promotion, after which its pawn attacks an
 * enemy pawn. */
bool forecast_is_lever(const Position *before, Move move);

/* Words: "firm" .. "rim"; "applies" .. "linked". */
const char *forecast_moment_name(ForecastMoment moment);
const char *forecast_moment_words(ForecastMoment moment); /* for people */
const char *forecast_verdict_name(int verdict);

/* The opening of a row as a number: the same for games that share their start and the first six plies, or those up to
 * the row's moment if it comes sooner. */
uint64_t forecast_opening(const ForecastGame *game, const ForecastRow *row);

/* Region of a square, PS_NO_REGION of PS_NO_SQUARE. */
ps_region forecast_region(int square);

/* The levers that are structurally there for a side, by square. */
int forecast_choices(const Position *position, Side side, ForecastChoice choices[FORECAST_CHOICES_MAX]);

#endif
