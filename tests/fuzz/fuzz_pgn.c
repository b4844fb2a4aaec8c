/* Games as the survey, the handout and the counting read them. */
#include "bench/pgn/pgn.h"
#include "bench/pgn/pgn_blocks.h"
#include "engine/rules/movegen.h"
#include "tests/fuzz/fuzz_input.h"

typedef struct Told {
    Position position;
    size_t ended;
    int depth;
} Told;

static bool begin(void *context, const PgnGame *game)
{
    Told *told = context;
    told->position = game->start;
    told->depth = 0;
    return true;
}

static void move(void *context, const PgnGame *game, Move played)
{
    Told *told = context;
    (void)game;
    if (told->depth > 0)
        return;
    if (played == NO_MOVE) {
        told->position = game->position;
        return;
    }
    fuzz_check(movegen_is_legal(&told->position, played));
    position_play(&told->position, played);
    fuzz_check(told->position.key == game->position.key);
}

static void comment(void *context, const PgnGame *game, PgnText text)
{
    (void)context, (void)game;
    char *copy = malloc(3 * text.length + 1);
    fuzz_check(copy != NULL);
    pgn_comment_copy(text, copy, 3 * text.length + 1);
    free(copy);
}

static void begin_variation(void *context, const PgnGame *game)
{
    (void)game;
    ((Told *)context)->depth++;
}

static void end_variation(void *context, const PgnGame *game)
{
    (void)game;
    fuzz_check(((Told *)context)->depth-- > 0);
}

static void end(void *context, const PgnGame *game)
{
    (void)game;
    ((Told *)context)->ended++;
}

static void broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    (void)game;
    ((Told *)context)->ended++;
    fuzz_check(strlen(fault->text) < sizeof fault->text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    const PgnBlock block = {.text = text, .length = size, .line = 1, .last = true};
    Told plain = {0}, whole = {0};
    size_t games = pgn_count_games(&block);
    size_t next = pgn_read_block(
        &block, 1, &(PgnVisitor){&plain, .begin = begin, .move = move, .end = end, .broken = broken});
    fuzz_check(next == games + 1 && plain.ended == games);
    next = pgn_read_block(&block, 1,
                          &(PgnVisitor){.context = &whole,
                                        .begin = begin,
                                        .move = move,
                                        .comment = comment,
                                        .begin_variation = begin_variation,
                                        .end_variation = end_variation,
                                        .end = end,
                                        .broken = broken});
    fuzz_check(next == games + 1 && whole.ended == games);
    free(text);
    return 0;
}
