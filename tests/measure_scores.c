/* Two questions to scores, for "make bench", asked in positions of real games. Is the static score of the right size: by
 * what factor does a search find it too small or too great, by the material on the board (nobody in check, no capture the
 * search's choice; a factor of 1 is right)? And how far do searches differ when the colours are reversed? */
#include "bench/pgn/pgn.h"
#include "engine/search/player.h"
#include "tests/engine/rules/playout.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { EVERY = 23 /* positions */, NODES = 20000, BEYOND = 600 /* centipawns */, GAMES_MOST = 1000 };
enum { DEPTHS = 3, PAIRS_MOST = 4000 };
static const int depths[DEPTHS] = {1, 4, 8};

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

/* The score less that of the position with the colours reversed, for White. */
typedef struct Reversal {
    int differences[PAIRS_MOST], count;
} Reversal;

typedef struct Measure {
    Player *player;
    Slope slopes[MATERIALS];
    Reversal reversals[DEPTHS];
    int seen;
} Measure;

static Material material_of(const Position *p)
{
    return p->by_role[QUEEN]                         ? QUEENS
           : p->by_role[ROOK]                        ? ROOKS
           : p->by_role[KNIGHT] | p->by_role[BISHOP] ? MINORS
                                                     : PAWNS;
}

static SearchResult search(Player *player, const Position *position, SearchLimits limits)
{
    Game game;
    SearchResult result = {.best = NO_MOVE};
    if (!game_start(&game, position))
        return result;
    player_forget(player);
    player_think(player, &game, &limits, NULL, &result);
    game_free(&game);
    return result;
}

static void reverse(Measure *m, const Position *position)
{
    const Position reversed = playout_mirror(position);
    for (int i = 0; i < DEPTHS; i++) {
        Reversal *r = &m->reversals[i];
        SearchLimits limits = {.depth = depths[i]};
        int here = search(m->player, position, limits).line.score;
        int there = search(m->player, &reversed, limits).line.score;
        if (r->count < PAIRS_MOST && !score_is_mate(here) && !score_is_mate(there))
            r->differences[r->count++] = position_turn(position) == WHITE ? here - there : there - here;
    }
}

static void compare(void *context, const PgnGame *pgn, Move move)
{
    Measure *m = context;
    (void)move;
    if (m->seen++ % EVERY || pgn->number > GAMES_MOST || position_checkers(&pgn->position))
        return;
    reverse(m, &pgn->position);
    int before = player_evaluate(m->player, &pgn->position);
    SearchResult result = search(m->player, &pgn->position, (SearchLimits){.nodes = NODES});
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

static int by_size(const void *a, const void *b)
{
    return abs(*(const int *)a) - abs(*(const int *)b);
}

static void print_reversal(int depth, Reversal *r)
{
    double sum = 0, squares = 0;
    int unequal = 0;
    for (int i = 0; i < r->count; i++) {
        sum += r->differences[i];
        squares += r->differences[i] * r->differences[i];
        unequal += r->differences[i] != 0;
    }
    double mean = sum / r->count, error = sqrt((squares / r->count - mean * mean) / r->count);
    qsort(r->differences, (size_t)r->count, sizeof *r->differences, by_size);
    printf(
        "colours reversed, depth %d: %d of %d scores differ, by %d centipawns in the median of all, %+.2f on "
        "average for White (standard error %.2f)\n",
        depth, unequal, r->count, abs(r->differences[r->count / 2]), mean, error);
}

int main(void)
{
    static Measure m;
    const PgnVisitor visitor = {.context = &m, .move = compare};
    m.player = player_new(16);
    if (!m.player)
        return 1;
    player_settings(m.player)->lever_weight = 0;
    if (!pgn_read_file("bench/games/masters-500.pgn", &visitor))
        return 1;
    printf("A search of %d nodes on the static score, in quiet positions:\n", NODES);
    for (Material i = QUEENS; i < MATERIALS; i++)
        print_slope(material_names[i], &m.slopes[i]);
    for (int i = 0; i < DEPTHS; i++)
        print_reversal(depths[i], &m.reversals[i]);
    player_free(m.player);
    return 0;
}
