/* For "make bench": how soon a search shows a mate that is there. Games that the engine plays against itself are played
 * to their end; if that is mate, the winner's positions two and three moves before it are kept if a search of every move
 * shows that the mate is forced and none is shorter. */
#include "bench/pgn/epd.h"
#include "engine/search/player.h"

#include <stdio.h>
#include <stdlib.h>

enum { GAMES = 240, PLAY_NODES = 500, PLIES_MOST = 400, TABLE_MIB = 16 };
enum { SHORTEST = 2, LONGEST = 3, FOUND_MOST = 2 * GAMES };
enum { SEARCH_NODES = 2000000, PROOF_NODES = 20000000 };

/* What the searches of positions with a mate in so many moves have shown. */
typedef struct Mates {
    int found, missed; /* the latter not within SEARCH_NODES */
    int depths[FOUND_MOST], nodes[FOUND_MOST];
} Mates;

typedef struct Measure {
    Player *player;
    int games;
    Mates mates[LONGEST + 1];
} Measure;

/* Whoever waits for a mate in so many moves. */
typedef struct Wait {
    Player *player;
    int moves, depth, nodes;
} Wait;

static void look(void *context, const Position *root, const SearchLine *line)
{
    Wait *wait = context;
    (void)root;
    if (wait->depth == 0 && score_is_win(line->score) && score_mate_moves(line->score) <= wait->moves) {
        wait->depth = line->depth;
        wait->nodes = (int)line->nodes;
        player_stop(wait->player);
    }
}

static SearchResult think(Player *player, const Game *game, SearchLimits limits,
                          const SearchListener *listener)
{
    SearchResult result;
    player_forget(player);
    player_think(player, game, &limits, listener, &result);
    return result;
}

/* The moves of the shortest mate that is forced here, 0 if none is as short as that, or none is shown within the limit. */
static int shortest_mate(Player *player, const Game *game, int moves)
{
    SearchResult result = think(player, game, (SearchLimits){.mate = moves, .nodes = PROOF_NODES}, NULL);
    if (!score_is_win(result.line.score) || score_mate_moves(result.line.score) > moves)
        return 0;
    int shorter = moves > 1 ? shortest_mate(player, game, moves - 1) : 0;
    return shorter ? shorter : moves;
}

static void measure_mate(Measure *m, const Game *game, int moves)
{
    Mates *mates = &m->mates[moves];
    Wait wait = {.player = m->player, .moves = moves};
    SearchListener listener = {.line = look, .context = &wait};
    if (shortest_mate(m->player, game, moves) != moves || mates->found == FOUND_MOST)
        return;
    think(m->player, game, (SearchLimits){.nodes = SEARCH_NODES}, &listener);
    if (wait.depth == 0) {
        mates->missed++;
        return;
    }
    mates->depths[mates->found] = wait.depth;
    mates->nodes[mates->found++] = wait.nodes;
}

/* Takes the last moves back by playing the others again. */
static bool measure_before_end(Measure *m, const Position *start, const Move *moves, int plies)
{
    for (int mate = SHORTEST; mate <= LONGEST; mate++) {
        Game game;
        bool good = game_start(&game, start);
        for (int i = 0; good && i < plies - (2 * mate - 1); i++)
            good = game_play(&game, moves[i]);
        if (good && plies >= 2 * mate - 1)
            measure_mate(m, &game, mate);
        game_free(&game);
        if (!good)
            return false;
    }
    return true;
}

static bool measure_game(void *context, const EpdRecord *record)
{
    Measure *m = context;
    Game game;
    Move moves[PLIES_MOST];
    int plies = 0;
    if (m->games++ >= GAMES)
        return true;
    bool good = game_start(&game, &record->position);
    player_forget(m->player);
    while (good && plies < PLIES_MOST && game_end(&game, true) == GAME_GOES_ON) {
        SearchResult result;
        player_think(m->player, &game, &(SearchLimits){.nodes = PLAY_NODES}, NULL, &result);
        moves[plies++] = result.best;
        good = result.best != NO_MOVE && game_play(&game, result.best);
    }
    if (good && game_end(&game, true) == GAME_CHECKMATE)
        good = measure_before_end(m, &record->position, moves, plies);
    game_free(&game);
    return good;
}

static int by_size(const void *a, const void *b)
{
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

static void print_mates(int moves, Mates *mates)
{
    int n = mates->found;
    printf("mates in %d, %d positions, %d not within %d nodes:", moves, n + mates->missed, mates->missed,
           SEARCH_NODES);
    if (n == 0) {
        printf(" none found\n");
        return;
    }
    qsort(mates->depths, (size_t)n, sizeof *mates->depths, by_size);
    qsort(mates->nodes, (size_t)n, sizeof *mates->nodes, by_size);
    printf(" shown at depth %d in the median, %d in nine of ten, %d at most; after %d, %d and %d nodes\n",
           mates->depths[n / 2], mates->depths[n * 9 / 10], mates->depths[n - 1], mates->nodes[n / 2],
           mates->nodes[n * 9 / 10], mates->nodes[n - 1]);
}

int main(void)
{
    static Measure m;
    m.player = player_new(TABLE_MIB);
    if (!m.player || !epd_read_file("bench/openings/unseen.epd", measure_game, &m))
        return 1;
    for (int moves = SHORTEST; moves <= LONGEST; moves++)
        print_mates(moves, &m.mates[moves]);
    player_free(m.player);
    return 0;
}
