#include "bench/chance/chance_play.h"
#include "bench/chance/chance_sampling.h"

typedef struct SampledGame {
    GameRecord record;
    MoveSampler sampler;
    ChanceSample moves;
} SampledGame;

static void begin_game(void *item, size_t index, Contestant *player)
{
    SampledGame *game = item;
    game->sampler.sample = &game->moves;
    game->sampler.game = (uint32_t)index + 1;
    move_sampler_attach(&game->sampler, contestant_player(player));
}

static void discard_game(void *item)
{
    chance_sample_free(&((SampledGame *)item)->moves);
}

static bool take_game(void *context, size_t index, const Position *start, void *item)
{
    SampledGame *game = item;
    (void)index, (void)start;
    bool good = !game->sampler.failed && chance_sample_add(context, game->moves.moves, game->moves.count);
    discard_game(game);
    return good;
}

bool chance_play(ChanceSample *sample, const SelfPlay *play)
{
    return self_play(play, &(GameSink){.size = sizeof(SampledGame),
                                       .context = sample,
                                       .begin = begin_game,
                                       .take = take_game,
                                       .discard = discard_game});
}
