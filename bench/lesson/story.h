/* A whole game as a story of its locked chains: where they arose, when each lever was ready and for how long, when
 * it was played or missed and what that cost, and when the lock dissolved. */
#ifndef PAWNVANE_STORY_H
#define PAWNVANE_STORY_H

#include "bench/lesson/lesson.h"

typedef enum StoryKind {
    STORY_UNTOLD = -1, /* an event that is taken back: a story has none */
    STORY_AROSE,       /* a chain is locked for the first time */
    STORY_MOVED_ON,    /* it has become longer or shorter, and so a side has another base lever */
    STORY_READY,       /* a base lever becomes ready, for the first time for that chain */
    STORY_PLAYED,      /* a lever of a chain is played */
    STORY_MISSED, /* a lever could be played and calculation preferred it; once a chain and side, the worst */
    STORY_UNUSED, /* a base lever that was ready for some moves will not be played: it is another one's turn, or the
                     chain or the game has ended */
    STORY_SHUT,     /* a base lever that could still come is barred or gone */
    STORY_RESOLVED, /* a chain is no longer locked */
    STORY_LASTED,   /* a chain is locked to the end of the game */
    STORY_KIND_COUNT
} StoryKind;

typedef struct StoryEvent {
    StoryKind kind;
    int ply;        /* the position after that many plies shows it; for a miss: the
                        position to choose in */
    Side side;      /* whose lever; for a chain: who made the last move */
    int first_file; /* of the chain */
    int last_file;
    ps_grade grade;   /* of the chain */
    bool base;        /* which lever */
    ps_lever lever;   /* as it stands there; for a played one: as it stood before */
    int old_square;   /* of the base lever that it was, for one that has moved on */
    int locked_since; /* ply after which the chain was locked */
    /* Moves on which the side could have played the base lever, which was ready, this one left out; the plies
     * before the first and the last of them. */
    int ready_moves, first_ready, last_ready;
    bool judged;                   /* what follows is set: only for levers played and missed */
    JudgedMove push, best, chosen; /* the push, the best move, and for a miss the move of the game */
    int cost;                      /* of a miss: centipawns that the move of the game is behind the push */
} StoryEvent;

typedef struct Story {
    Position start;
    int ply_count;
    Move *moves;
    int event_count;
    StoryEvent *events; /* by ply; within one by kind */
} Story;

/* Tells a game. Chains of grade void are left out. The player forgets all it knew; with no nodes nothing is
 * searched, judged or missed, and it may be null. Every turn with a lever to play gets a look with a small part of
 * the nodes, and those that are told of get all of them. False if memory runs out; the story is then empty.
 * `moves` are legal, one after the other (NO_MOVE is a null move), and are copied. */
bool story_make(Story *story, const Position *start, const Move *moves, int ply_count, Player *player,
                const LessonSettings *settings);

void story_free(Story *story);

/* Plays a move of a story; NO_MOVE lets the other side move. */
void story_play(Position *position, Move move);

/* The position after so many plies. */
void story_position(const Story *story, int ply, Position *position);

#endif
