#include "bench/play/opening_growth.h"
#include "bench/base/interrupt.h"
#include "bench/base/parallel.h"
#include "bench/base/progress.h"
#include "bench/base/random.h"
#include "bench/pgn/epd.h"
#include "bench/pgn/pgn_survey.h"
#include "engine/rules/fen.h"
#include "engine/search/player.h"

#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

/* The first plies are random. Then the engine plays, but on every second ply or so, up to a point, it looks
 * first at the pushes that ram a pawn, and plays the best of them if that does not lose more than a little:
 * so pawns get locked far more often than in play for its own sake, and soundly. */
enum {
    RANDOM_PLIES = 4,
    LOCKING_PLIES = GROWTH_LAST_PLY,
    LOCKING_IN = 2,
    LOCKING_LOSS = 80,
    HOPELESS = 500,
    TABLE_MIB = 4
};

typedef struct Candidate {
    bool found;
    Position position;
    int score, ply;
} Candidate;

typedef struct GrownGame {
    Candidate candidates[STRATUM_COUNT];
} GrownGame;

typedef struct Kept {
    size_t count;
    Candidate *items;
} Kept;

typedef struct Grower {
    const Growth *growth;
    Progress progress;
    Kept kept[STRATUM_COUNT];
    atomic_bool full[STRATUM_COUNT]; /* nothing more is looked for */
    size_t read;                     /* games of files so far */
} Grower;

static bool think(Player *player, const Game *game, uint64_t nodes, SearchResult *result)
{
    player_think(player, game, &(SearchLimits){.nodes = nodes}, NULL, result);
    return result->best != NO_MOVE;
}

static bool is_quiet_move(const Position *p, Move move)
{
    return position_captured(p, move) == NO_ROLE && !move_is_promotion(move);
}

static Move random_move(const MoveList *moves, Random *random)
{
    return moves->moves[random_below(random, (uint64_t)moves->count)];
}

/* The pawn moves after which that pawn faces an enemy pawn. */
static MoveList ramming_moves(const Position *p, const MoveList *moves)
{
    Side us = position_turn(p);
    Bitboard enemies = position_men(p, opposite(us), PAWN);
    MoveList ramming = {.count = 0};
    for (int i = 0; i < moves->count; i++) {
        Move move = moves->moves[i];
        if (position_role(p, move_from(move)) == PAWN && is_quiet_move(p, move) &&
            (push_forward(us, bit(move_to(move))) & enemies))
            ramming.moves[ramming.count++] = move;
    }
    return ramming;
}

/* The move of the game, NO_MOVE to give the game up. */
static Move choose(Player *player, const Game *game, int ply, Random *random)
{
    SearchResult result;
    MoveList moves, ramming;
    movegen_all(&game->position, &moves);
    if (moves.count == 0)
        return NO_MOVE;
    if (ply <= RANDOM_PLIES)
        return random_move(&moves, random);
    ramming = ramming_moves(&game->position, &moves);
    if (ply <= LOCKING_PLIES && random_below(random, LOCKING_IN) == 0 && ramming.count > 0) {
        SearchLimits limits = {.nodes = GROWTH_PLAY_NODES, .only = &ramming};
        player_think(player, game, &limits, NULL, &result);
        if (result.line.score >= -LOCKING_LOSS)
            return result.best;
    }
    player_think(player, game, &(SearchLimits){.nodes = GROWTH_PLAY_NODES}, NULL, &result);
    return abs(result.line.score) < HOPELESS ? result.best : NO_MOVE;
}

/* Whether nothing is going on: nobody is in check, nothing was just taken or is best taken now, and the score
 * of a long search is within the bound. */
static bool is_fit(const Grower *grower, Player *player, const Game *game, Move last, const Position *before,
                   int *score)
{
    const Position *p = &game->position;
    SearchResult result;
    if (position_in_check(p) || !is_quiet_move(before, last))
        return false;
    player_forget(player);
    if (!think(player, game, GROWTH_JUDGE_NODES / 20, &result) ||
        abs(result.line.score) > 3 * grower->growth->bound)
        return false;
    if (!think(player, game, GROWTH_JUDGE_NODES, &result) || abs(result.line.score) > grower->growth->bound)
        return false;
    *score = result.line.score;
    return is_quiet_move(p, result.best);
}

static void look_at(Grower *grower, Player *judge, const Game *game, Move last, const Position *before,
                    int ply, GrownGame *grown)
{
    Stratum stratum = stratum_of(&game->position);
    Candidate candidate = {.found = true, .position = game->position, .ply = ply};
    if (stratum == STRATUM_OTHER || grown->candidates[stratum].found || atomic_load(&grower->full[stratum]))
        return;
    if (is_fit(grower, judge, game, last, before, &candidate.score))
        grown->candidates[stratum] = candidate;
}

typedef struct Worker {
    Player *player, *judge;
} Worker;

static bool grow(void *context, void *own, size_t index, void *item)
{
    Grower *grower = context;
    Worker *worker = own;
    Random random = random_for_job(grower->growth->seed, index);
    Position start;
    Game game;
    fen_parse(FEN_START, false, &start, NULL);
    if (!game_start(&game, &start))
        return false;
    player_forget(worker->player);
    bool good = true;
    for (int ply = 1; good && ply <= GROWTH_LAST_PLY; ply++) {
        Position before = game.position;
        Move move = choose(worker->player, &game, ply, &random);
        if (move == NO_MOVE)
            break;
        good = game_play(&game, move);
        if (good && ply >= GROWTH_FIRST_PLY && movegen_any(&game.position))
            look_at(grower, worker->judge, &game, move, &before, ply, item);
    }
    game_free(&game);
    return good;
}

static bool is_full(Grower *grower)
{
    bool full = true;
    for (int i = 0; i < STRATUM_COUNT; i++)
        full = full && atomic_load(&grower->full[i]);
    return full;
}

static Taken take(void *context, size_t index, void *item)
{
    Grower *grower = context;
    (void)item;
    return is_full(grower) || interrupt_number() || index >= grower->growth->games ? TAKEN_END : TAKEN_ITEM;
}

/* No two openings have the same pawns. */
static bool is_new(const Grower *grower, const Candidate *candidate)
{
    for (int i = 0; i < STRATUM_COUNT; i++) {
        for (size_t j = 0; j < grower->kept[i].count; j++) {
            if (grower->kept[i].items[j].position.pawn_key == candidate->position.pawn_key)
                return false;
        }
    }
    return true;
}

static void keep(Grower *grower, const GrownGame *grown, size_t games)
{
    for (int i = 0; i < STRATUM_COUNT; i++) {
        Kept *kept = &grower->kept[i];
        if (!grown->candidates[i].found || kept->count == grower->growth->each ||
            !is_new(grower, &grown->candidates[i]))
            continue;
        kept->items[kept->count++] = grown->candidates[i];
        if (kept->count == grower->growth->each)
            atomic_store(&grower->full[i], true);
    }
    char note[128];
    size_t length = 0;
    for (int i = 0; i < STRATUM_COUNT; i++)
        length += (size_t)snprintf(note + length, sizeof note - length, "%s%s %zu", i ? ", " : "",
                                   stratum_names[i], grower->kept[i].count);
    progress_show(&grower->progress, games, note);
}

static bool deliver(void *context, size_t index, void *item)
{
    keep(context, item, index + 1);
    return true;
}

/* Neither plays nor judges with the lever term: the openings are not to depend on what they are to test. */
static Player *plain_player(void)
{
    Player *player = player_new(TABLE_MIB);
    if (player)
        player_settings(player)->lever_weight = 0;
    return player;
}

static void worker_free(void *context, void *own)
{
    Worker *worker = own;
    (void)context;
    player_free(worker->player);
    player_free(worker->judge);
    free(worker);
}

static void *worker_new(void *context)
{
    Worker *worker = calloc(1, sizeof *worker);
    if (!worker)
        return NULL;
    worker->player = plain_player();
    worker->judge = plain_player();
    if (worker->player && worker->judge)
        return worker;
    worker_free(context, worker);
    return NULL;
}

/* ------------------------------------------------------------------------------------------ games of files */

/* What watches one game after another on a thread. */
typedef struct GameWatch {
    Grower *grower;
    Player *judge; /* made when it is first needed */
    bool failed;
    Position before;
    GrownGame grown;
} GameWatch;

static void watch_begin(void *context, const PgnGame *game)
{
    GameWatch *watch = context;
    watch->grown = (GrownGame){0};
    watch->before = game->start;
    watch->failed = false;
    if (!watch->judge)
        watch->judge = plain_player();
}

static void watch_move(void *context, const PgnGame *pgn, Move move)
{
    GameWatch *watch = context;
    Position before = watch->before;
    watch->before = pgn->position;
    if (pgn->start.chess960 || move == NO_MOVE || pgn->plies < GROWTH_FIRST_PLY ||
        pgn->plies > GROWTH_READ_LAST_PLY || !watch->judge || !movegen_any(&pgn->position))
        return;
    Game game;
    if (!game_start(&game, &pgn->position)) {
        watch->failed = true;
        return;
    }
    look_at(watch->grower, watch->judge, &game, move, &before, pgn->plies, &watch->grown);
    game_free(&game);
}

static bool watch_end(void *context, const PgnGame *game, void *record)
{
    const GameWatch *watch = context;
    (void)game;
    *(GrownGame *)record = watch->grown;
    return watch->judge && !watch->failed;
}

static void watch_free(void *context)
{
    player_free(((GameWatch *)context)->judge);
}

static bool use_read_game(void *context, const char *file, size_t number, void *record)
{
    Grower *grower = context;
    (void)file, (void)number;
    keep(grower, record, ++grower->read);
    return !is_full(grower) && !interrupt_number();
}

static bool read_games(Grower *grower)
{
    const Growth *growth = grower->growth;
    const GameWatch watch = {.grower = grower};
    if (growth->file_count == 0)
        return true;
    progress_start(&grower->progress, "games read", 0, growth->quiet);
    PgnCollection collection = {.paths = growth->files,
                                .path_count = growth->file_count,
                                .workers = growth->workers,
                                .share = 1,
                                .shares = 1,
                                .progress = &grower->progress};
    bool good = pgn_survey(&(PgnSurvey){.collection = &collection,
                                        .watch = &watch,
                                        .watch_size = sizeof watch,
                                        .record_size = sizeof(GrownGame),
                                        .begin = watch_begin,
                                        .move = watch_move,
                                        .end = watch_end,
                                        .watch_free = watch_free,
                                        .context = grower,
                                        .game = use_read_game});
    progress_clear(&grower->progress);
    return (good || is_full(grower) || interrupt_number()) && !collection.cut;
}

/* ------------------------------------------------------------------------------------------------ all of it */

static void write_opening(FILE *out, int stratum, size_t number, const Candidate *candidate)
{
    char fen[FEN_SIZE];
    fen_write(&candidate->position, fen);
    /* EPD has four fields; the counters become operations. */
    fen[epd_fields_length(fen)] = '\0';
    fprintf(out, "%s ce %d; hmvc %d; fmvn %d; id \"%s-%03zu\"; c0 \"%s\";\n", fen, candidate->score,
            candidate->position.halfmoves, candidate->position.fullmove, stratum_names[stratum], number,
            stratum_names[stratum]);
}

GrowthEnd openings_grow(const Growth *growth, FILE *out, size_t found[STRATUM_COUNT])
{
    Grower grower = {.growth = growth};
    bool good = true, readable;
    for (int i = 0; i < STRATUM_COUNT; i++) {
        grower.kept[i].items = calloc(growth->each, sizeof(Candidate));
        good = good && grower.kept[i].items;
    }
    readable = good && read_games(&grower);
    progress_start(&grower.progress, "games", growth->games, growth->quiet);
    good = readable && parallel_run(&(Parallel){.workers = growth->workers,
                                                .item_size = sizeof(GrownGame),
                                                .context = &grower,
                                                .take = take,
                                                .run = grow,
                                                .deliver = deliver,
                                                .worker_new = worker_new,
                                                .worker_free = worker_free});
    progress_clear(&grower.progress);
    for (int i = 0; i < STRATUM_COUNT; i++) {
        found[i] = grower.kept[i].count;
        for (size_t j = 0; good && j < found[i]; j++)
            write_opening(out, i, j + 1, &grower.kept[i].items[j]);
        free(grower.kept[i].items);
    }
    return good ? GROWTH_DONE : readable ? GROWTH_NO_MEMORY : GROWTH_UNREADABLE;
}
