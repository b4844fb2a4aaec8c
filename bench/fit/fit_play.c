#include "bench/fit/fit_play.h"

typedef struct Taking {
    FitSample *sample;
    int plies_back;
} Taking;

static bool take_game(void *context, size_t index, const Position *start, void *game)
{
    const Taking *taking = context;
    return fit_sample_add_game(taking->sample, (uint32_t)index + 1, start, game, taking->plies_back);
}

bool fit_play(FitSample *sample, const SelfPlay *play, int plies_back)
{
    Taking taking = {sample, plies_back};
    return self_play(play, &(GameSink){.size = sizeof(GameRecord), .context = &taking, .take = take_game});
}
