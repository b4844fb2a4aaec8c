/* Finds moments in games: positions in which the plan of a side is as asked.
 *
 *     FindQuery query = {.first_file = 3, .last_file = 5, .verdict = PS_MISLEADING, .status = PS_BARRED,
 *                        .grade = PS_NO_GRADE, .near_miss = PS_NO_NEAR_MISS, .sides = FIND_EITHER};
 *
 * Analysing a position costs a hundred times what a look at its pawns does, so the pawns are looked at first, and
 * only when they have changed. */
#ifndef PAWNVANE_FIND_H
#define PAWNVANE_FIND_H

#include "bench/pgn/pgn_position.h"
#include "structure/structure.h"

enum { FIND_WHITE = 1 << WHITE, FIND_BLACK = 1 << BLACK, FIND_EITHER = FIND_WHITE | FIND_BLACK };

/* All that is asked of a plan must hold of the same side: of its verdict, its principal chain, its base lever
 * (structure.h). */
typedef struct FindQuery {
    int first_file, last_file; /* of the chain; PS_NO_FILE for any */
    ps_grade grade;            /* of the chain; PS_NO_GRADE for any */
    int verdict;               /* ps_verdict; PS_NONE for any */
    ps_status status;          /* of the base lever; PS_NO_STATUS for any */
    ps_near_miss near_miss;    /* which holds in the position; PS_NO_NEAR_MISS for any or none */
    unsigned sides;            /* of whom this is asked */
    bool every;                /* each time that it begins to hold, not only the first in a game */
    bool as_pgn;               /* what is found as games, else as EPD */
} FindQuery;

/* Reads "def" as the files of a chain. False if it is none. */
bool find_read_chain(FindQuery *query, const char *text);

/* Whether anything but sides is asked. */
bool find_asks(const FindQuery *query);

/* The sides of whose plan all of it holds, as a set; FIND_EITHER where only a near miss is asked for. */
unsigned find_sides(const FindQuery *query, const Position *position);

/* A moment of a game. */
typedef struct FindMoment {
    int ply;
    unsigned sides;
    Position position;
    char move[PGN_NUMBERED_SIZE]; /* that led there, "12...c5" */
} FindMoment;

/* One game after the other: begin, every move, end. Zero but for the query at first. */
typedef struct FindWatch {
    const FindQuery *query;
    uint64_t pawn_key;
    bool possible, holding; /* the pawns allow it; it held in the position before */
    bool memory_ran_out;
    Position before;
    int moment_count, move_count;
    size_t moment_capacity, move_capacity;
    FindMoment *moments;
    Move *moves;
} FindWatch;

void find_begin(FindWatch *watch, const PgnGame *game);
void find_move(FindWatch *watch, const PgnGame *game, Move move);
void find_watch_free(FindWatch *watch);

/* What is written of a game's moments; the texts lack the file and the number of the game, which stand between
 * `head` and `tail` of each. */
typedef struct FindText {
    char *head, *tail;
} FindText;

typedef struct FindRecord {
    int count;
    FindText *texts;
} FindRecord;

/* False if memory ran out. */
bool find_end(FindWatch *watch, const PgnGame *game, FindRecord *record);
void find_record_free(FindRecord *record);

#endif
