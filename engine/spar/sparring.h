/* A sparring partner: the player, with a style and a strength.
 *
 * A style chooses among moves that the search has found to lie within a margin of the best one, and reorders the lines
 * that are told accordingly. Objective and at full strength it is the player and nothing else, node for node. */
#ifndef PAWNVANE_SPARRING_H
#define PAWNVANE_SPARRING_H

#include "engine/search/player.h"
#include "engine/spar/strength.h"
#include "engine/spar/style.h"

/* The default, a macro for texts of help, and the greatest that makes sense. */
#define SPAR_MARGIN 30
enum { SPAR_MARGIN_MOST = 1000 };

typedef struct Sparring {
    SparStyle style;
    int margin;    /* centipawns, 0 .. SPAR_MARGIN_MOST */
    int elo;       /* STRENGTH_LEAST .. STRENGTH_MOST, by one thread; 0: full strength */
    uint64_t seed; /* of the errors of a limited strength; games that begin differently differ anyway */
} Sparring;

/* Why the move was chosen. */
typedef struct SparChoice {
    PlanEffect reason; /* NO_PLAN_EFFECT: it is the best move */
    bool more;         /* the chosen move has more of that effect than the best one, not less */
    Move best;         /* what the search thinks best */
    int cost;          /* centipawns that the chosen move is behind it */
} SparChoice;

/* As player_think(). The best move of the result, and its line, are those of the chosen move. */
void spar_think(Player *player, const Sparring *sparring, const Game *game, const SearchLimits *limits,
                const SearchListener *listener, SearchResult *result, SparChoice *choice);

#endif
