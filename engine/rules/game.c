#include "engine/rules/game.h"

#include <stdlib.h>

static const char *const end_texts[GAME_END_COUNT] = {
    [GAME_GOES_ON] = "the game goes on",
    [GAME_CHECKMATE] = "checkmate",
    [GAME_STALEMATE] = "stalemate",
    [GAME_DEAD_MATERIAL] = "no mate is possible",
    [GAME_FIVEFOLD_REPETITION] = "fivefold repetition",
    [GAME_SEVENTY_FIVE_MOVES] = "seventy-five moves without capture or pawn move",
    [GAME_THREEFOLD_REPETITION] = "threefold repetition",
    [GAME_FIFTY_MOVES] = "fifty moves without capture or pawn move",
};

const char *game_end_text(GameEnd end)
{
    return end_texts[end];
}

static bool remember(Game *game, uint64_t key)
{
    if (game->count == game->capacity) {
        size_t capacity = game->capacity ? 2 * game->capacity : 256;
        uint64_t *keys = realloc(game->keys, capacity * sizeof *keys);
        if (!keys)
            return false;
        game->keys = keys;
        game->capacity = capacity;
    }
    game->keys[game->count++] = key;
    return true;
}

bool game_start(Game *game, const Position *position)
{
    *game = (Game){.position = *position};
    return remember(game, position->key);
}

bool game_play(Game *game, Move move)
{
    Position next = game->position;
    position_play(&next, move);
    if (!remember(game, next.key))
        return false;
    game->position = next;
    return true;
}

void game_free(Game *game)
{
    free(game->keys);
    *game = (Game){.count = 0};
}

int game_repetitions(const Game *game)
{
    int times = 0;
    for (size_t i = 0; i < game->count && i <= game->position.halfmoves; i++)
        times += game->keys[game->count - 1 - i] == game->position.key;
    return times;
}

GameEnd game_end(const Game *game, bool claims)
{
    const Position *p = &game->position;
    if (!movegen_any(p))
        return position_in_check(p) ? GAME_CHECKMATE : GAME_STALEMATE;
    if (position_material_is_dead(p))
        return GAME_DEAD_MATERIAL;
    int repetitions = game_repetitions(game);
    if (repetitions >= 5)
        return GAME_FIVEFOLD_REPETITION;
    if (p->halfmoves >= 150)
        return GAME_SEVENTY_FIVE_MOVES;
    if (claims && repetitions >= 3)
        return GAME_THREEFOLD_REPETITION;
    if (claims && p->halfmoves >= 100)
        return GAME_FIFTY_MOVES;
    return GAME_GOES_ON;
}
