/* The plan and the results of a run, read from its file. */
#ifndef PAWNVANE_STORED_RUN_H
#define PAWNVANE_STORED_RUN_H

#include "bench/base/database.h"
#include "bench/explain/named_lever.h"
#include "bench/run/experiment.h"

typedef struct StoredArm {
    int weight;
    char *rule;
    int64_t nodes;
    char *parameters, *engine;
} StoredArm;

/* What a side's plan named where a pair started, and what became of it. */
typedef struct StoredNamed {
    uint8_t kind;     /* NamedKind */
    int16_t plies[2]; /* up to the push that played it, by arm A and by arm B; 0: never */
    bool asked[2];    /* of a misleading plan: that of the moment named the lever, live, when it was pushed */
} StoredNamed;

typedef struct StoredPair {
    int pair;
    int stratum;          /* index into StoredRun.strata */
    int points_a;         /* half points of arm A, 0 to 4 */
    bool same_games;      /* move by move: in them the arms did not differ */
    StoredNamed named[2]; /* by Side */
} StoredPair;

typedef struct StoredMatch {
    int arm_a, arm_b;              /* indices into StoredRun.arms */
    size_t lost[FORFEIT_COUNT][2]; /* games that arm A, and arm B, lost so */
    size_t count, capacity;
    StoredPair *pairs; /* those of which both games are finished, in the order of play */
} StoredMatch;

typedef struct StoredSetting {
    char *name, *value;
} StoredSetting;

enum { SETTINGS_MAX = 64 };

typedef struct StoredRun {
    int setting_count;
    StoredSetting settings[SETTINGS_MAX]; /* what the arms have in common, by name */
    int arm_count;
    StoredArm arms[ARMS_MAX];
    int match_count;
    StoredMatch matches[MATCHES_MAX];
    size_t planned_pairs; /* of each match, in all shares */
    int stratum_count;
    char *strata[STRATA_MAX];
    size_t stratum_pairs[STRATA_MAX]; /* planned, of each match */
    size_t opening_count;             /* as planned_pairs */
    char **openings;                  /* FEN of each pair, by its number; null for those of other shares */
} StoredRun;

/* Opens the file of a run, be it finished or still growing, for reading. Close it even if this fails. */
bool stored_run_open(Database *database, const char *path);

/* False on failure; free the run all the same. */
bool stored_run_read(StoredRun *run, const Database *database);
void stored_run_free(StoredRun *run);

/* The value of a setting; null if there is none. */
const char *stored_setting(const StoredRun *run, const char *name);

/* The limits of time that all arms have, by name, and their values; null if there is no such limit. */
typedef enum StoredTime {
    STORED_MOVE_MS,
    STORED_CLOCK_MS,
    STORED_INCREMENT_MS,
    STORED_PACE,
    STORED_TIME_COUNT
} StoredTime;
extern const char *const stored_time_names[STORED_TIME_COUNT];
const char *stored_time(const StoredRun *run, StoredTime time);

/* For people: "weight 100, strict, 10000 nodes a move". */
void stored_arm_text(const StoredArm *arm, char text[ARM_TEXT_SIZE]);

/* A game as it stands in the file. Texts and bytes are good for the call only. */
typedef struct StoredGame {
    GameKey key;
    const char *opening, *stratum, *fen;
    int white_points;
    const char *ending;
    int plies;
    const unsigned char *moves; /* stored_move() reads them */
} StoredGame;

/* The move of a ply from 0 on: any 16 bits, if the file has been changed. */
Move stored_move(const StoredGame *game, int ply);

/* Hands each game to `use`, in the order of match, pair and half. False if `use` or the reading fails. */
bool stored_games_each(const Database *database, bool (*use)(void *context, const StoredGame *game),
                       void *context);

#endif
