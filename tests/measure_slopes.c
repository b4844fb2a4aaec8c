/* Whether the static score is of the right size, for "make bench": by what factor a search finds it too small or too
 * great, by the material on the board. Positions of real games in which nobody is in check and no capture is the
 * search's choice; a factor of 1 is right. */
#include "bench/base/means.h"
#include "bench/pgn/pgn.h"
#include "engine/search/player.h"
#include "tests/engine/rules/playout.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { EVERY = 23 /* positions */, NODES = 20000, BEYOND = 600 /* centipawns */, GAMES_MOST = 1000 };

typedef enum Material { QUEENS, ROOKS, MINORS, PAWNS, MATERIALS } Material;

static const char *const material_names[MATERIALS] = {[QUEENS] = "with queens",
                                                      [ROOKS] = "rooks, no queens",
                                                      [MINORS] = "minor pieces",
                                                      [PAWNS] = "pawns alone"};

/* Sums of products by game, whose positions are not independent. */
typedef struct Slope {
    double cross[GAMES_MOST], square[GAMES_MOST];
    int positions;
} Slope;

typedef struct Measure {
    Player *player;
    Slope slopes[MATERIALS];
    int seen;
} Measure;

static Material material_of(const Position *p)
{
    return p->by_role[QUEEN]                         ? QUEENS
           : p->by_role[ROOK]                        ? ROOKS
           : p->by_role[KNIGHT] | p->by_role[BISHOP] ? MINORS
                                                     : PAWNS;
}

static void compare(void *context, const PgnGame *pgn, Move move)
{
    Measure *m = context;
    Game game;
    SearchResult result;
    (void)move;
    if (m->seen++ % EVERY || pgn->number > GAMES_MOST || position_checkers(&pgn->position) ||
        !game_start(&game, &pgn->position))
        return;
    int before = player_evaluate(m->player, &pgn->position);
    player_forget(m->player);
    player_think(m->player, &game, &(SearchLimits){.nodes = NODES}, NULL, &result);
    game_free(&game);
    if (result.best == NO_MOVE || position_captured(&pgn->position, result.best) != NO_ROLE ||
        abs(before) > BEYOND || abs(result.line.score) > 2 * BEYOND)
        return;
    Slope *slope = &m->slopes[material_of(&pgn->position)];
    slope->cross[pgn->number - 1] += (double)before * result.line.score;
    slope->square[pgn->number - 1] += (double)before * before;
    slope->positions++;
}

/* The slope of a line through the origin, with the error that holds for games as clusters. */
static void print_slope(const char *name, const Slope *slope)
{
    double cross = 0, square = 0, squares = 0;
    for (int i = 0; i < GAMES_MOST; i++) {
        cross += slope->cross[i];
        square += slope->square[i];
    }
    for (int i = 0; i < GAMES_MOST; i++)
        squares += pow(slope->cross[i] - cross / square * slope->square[i], 2);
    printf("slope, %-17s %5d positions: %.2f (standard error %.2f)\n", name, slope->positions, cross / square,
           sqrt(squares) / square);
}

int main(void)
{
    static Measure m;
    const PgnVisitor visitor = {.context = &m, .move = compare};
    m.player = player_new(16);
    if (!m.player || !pgn_read_file("bench/games/masters-500.pgn", &visitor))
        return 1;
    player_settings(m.player)->lever_weight = 0;
    printf("A search of %d nodes on the static score, in quiet positions:\n", NODES);
    for (Material i = QUEENS; i < MATERIALS; i++)
        print_slope(material_names[i], &m.slopes[i]);
    player_free(m.player);
    return 0;
}
