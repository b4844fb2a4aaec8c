#include "bench/play/quiet_start.h"
#include "bench/base/array.h"
#include "bench/base/random.h"
#include "engine/rules/fen.h"
#include "engine/rules/movegen.h"

#include <stdlib.h>
#include <string.h>

/* What White's half looks like, by its key, and the moves that made it so. Black's are the same, mirrored. */
typedef struct Half {
    uint64_t key;
    Move moves[QUIET_MOVES];
} Half;

struct QuietStarts {
    size_t count, capacity;
    Half *halves;
};

static bool keep(QuietStarts *starts, uint64_t key, const Move moves[QUIET_MOVES])
{
    if (!array_reserve(starts->halves, starts->capacity, starts->count, 1))
        return false;
    Half *half = &starts->halves[starts->count++];
    half->key = key;
    memcpy(half->moves, moves, sizeof half->moves);
    return true;
}

/* White moves again and again. */
static bool walk(QuietStarts *starts, const Position *position, Move moves[QUIET_MOVES], int made)
{
    if (made == QUIET_MOVES)
        return keep(starts, position->key, moves);
    MoveList list;
    movegen_all(position, &list);
    for (int i = 0; i < list.count; i++) {
        Position next = *position;
        moves[made] = list.moves[i];
        if (rank_of(move_to(moves[made])) > RANK_4)
            continue;
        position_play(&next, moves[made]);
        if (position_in_check(&next)) /* Black could not wait */
            continue;
        position_pass(&next);
        if (!walk(starts, &next, moves, made + 1))
            return false;
    }
    return true;
}

static int by_key_and_moves(const void *a, const void *b)
{
    const Half *x = a, *y = b;
    if (x->key != y->key)
        return x->key < y->key ? -1 : 1;
    for (int i = 0; i < QUIET_MOVES; i++)
        if (x->moves[i] != y->moves[i])
            return x->moves[i] < y->moves[i] ? -1 : 1;
    return 0;
}

static void drop_repeated(QuietStarts *starts)
{
    size_t kept = 0;
    if (starts->count > 0)
        qsort(starts->halves, starts->count, sizeof *starts->halves, by_key_and_moves);
    for (size_t i = 0; i < starts->count; i++)
        if (kept == 0 || starts->halves[i].key != starts->halves[kept - 1].key)
            starts->halves[kept++] = starts->halves[i];
    starts->count = kept;
}

QuietStarts *quiet_starts_new(void)
{
    QuietStarts *starts = calloc(1, sizeof *starts);
    Position position;
    Move moves[QUIET_MOVES];
    fen_parse(FEN_START, false, &position, NULL);
    if (!starts || !walk(starts, &position, moves, 0)) {
        quiet_starts_free(starts);
        return NULL;
    }
    drop_repeated(starts);
    return starts;
}

void quiet_starts_free(QuietStarts *starts)
{
    if (starts)
        free(starts->halves);
    free(starts);
}

uint64_t quiet_starts_count(const QuietStarts *starts)
{
    return (uint64_t)starts->count * starts->count;
}

static uint64_t mix(uint64_t seed, uint64_t round, uint64_t half)
{
    uint64_t state = seed + (round << 32) + half;
    random_split_mix(&state);
    return random_split_mix(&state);
}

/* Four rounds in which each half of a number moves the other (M. Luby, C. Rackoff, "How to construct pseudorandom
 * permutations from pseudorandom functions", SIAM Journal on Computing 17, 1988): each can be undone, so that no
 * two numbers become one. */
static void shuffle(uint64_t seed, uint64_t count, uint64_t *white, uint64_t *black)
{
    for (uint64_t round = 0; round < 4; round += 2) {
        *white = (*white + mix(seed, round, *black) % count) % count;
        *black = (*black + mix(seed, round + 1, *white) % count) % count;
    }
}

static Move mirrored(Move move)
{
    return move_make(move_from(move) ^ A8, move_to(move) ^ A8, move_kind(move));
}

bool quiet_start(const QuietStarts *starts, uint64_t seed, uint64_t number, Position *position)
{
    uint64_t white = number / starts->count, black = number % starts->count;
    shuffle(seed, starts->count, &white, &black);
    fen_parse(FEN_START, false, position, NULL);
    for (int i = 0; i < 2 * QUIET_MOVES; i++) {
        Move move =
            i % 2 == 0 ? starts->halves[white].moves[i / 2] : mirrored(starts->halves[black].moves[i / 2]);
        if (!movegen_is_legal(position, move))
            return false;
        position_play(position, move);
    }
    return movegen_any(position);
}
