/* Timings for "make bench": how fast moves are generated and positions searched, how good the first move is,
 * what the analysis of a structure costs, what a second thread is worth, and how soon the engine answers. They mean something on an idle machine;
 * nothing here passes or fails. */
#include "bench/base/monotonic.h"
#include "bench/base/random.h"
#include "bench/pgn/epd.h"
#include "bench/pgn/pgn.h"
#include "engine/evaluation/structure_view.h"
#include "engine/search/player.h"
#include "tests/engine/rules/playout.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { SEARCH_NODES = 500000, TABLE_MIB = 64, THREADS = 2, THREADS_DEPTH = 18 };
enum { STARTS = 50, STOPS = 200, PONDERS = 5, PONDERED = 4 /* seconds */ };

static void measure_perft(const char *name, const char *fen, int depth)
{
    Position position = playout_read(fen, false);
    double start = monotonic_seconds();
    uint64_t leaves = perft(&position, depth);
    double seconds = monotonic_seconds() - start;
    printf("perft, %-20s depth %d: %11" PRIu64 " leaves in %6.3f s, %7.1f million a second\n", name, depth,
           leaves, seconds, (double)leaves / seconds / 1e6);
}

typedef struct Sums {
    Player *player;
    uint64_t nodes;
    Cutoffs cutoffs[SEARCH_PARTS];
    double seconds;
    int positions, depths;
} Sums;

static bool measure_search(void *context, const EpdRecord *record)
{
    Sums *sums = context;
    Game game;
    SearchResult result;
    if (!game_start(&game, &record->position))
        return false;
    player_forget(sums->player);
    double start = monotonic_seconds();
    player_think(sums->player, &game, &(SearchLimits){.nodes = SEARCH_NODES}, NULL, &result);
    sums->seconds += monotonic_seconds() - start;
    game_free(&game);
    sums->nodes += result.nodes;
    for (int part = 0; part < SEARCH_PARTS; part++)
        cutoffs_add(&sums->cutoffs[part], result.cutoffs[part]);
    sums->depths += result.line.depth;
    sums->positions++;
    return true;
}

static void print_share(const char *where, Cutoffs cutoffs)
{
    printf(" %.1f %% %s", 100.0 * (double)cutoffs.by_first_move / (double)cutoffs.all, where);
}

static void print_ordering(const Cutoffs cutoffs[SEARCH_PARTS])
{
    Cutoffs both = cutoffs[FULL_WIDTH];
    cutoffs_add(&both, cutoffs[QUIESCENCE]);
    printf("        cut-offs by the first move:");
    print_share("at full width,", cutoffs[FULL_WIDTH]);
    print_share("in quiescence,", cutoffs[QUIESCENCE]);
    print_share("of all\n", both);
}

static bool measure_searches(int lever_weight)
{
    Sums sums = {.player = player_new(TABLE_MIB)};
    if (!sums.player)
        return false;
    player_settings(sums.player)->lever_weight = lever_weight;
    bool good = epd_read_file("bench/positions/bratko-kopec.epd", measure_search, &sums);
    player_free(sums.player);
    if (good) {
        printf("search, lever weight %3d: %d positions, %d nodes each: %.3f million nodes a second, mean "
               "depth %.1f\n",
               lever_weight, sums.positions, SEARCH_NODES, (double)sums.nodes / sums.seconds / 1e6,
               (double)sums.depths / sums.positions);
        print_ordering(sums.cutoffs);
    }
    return good;
}

/* ---------------------------------------------------------------------------------------------- structure */

enum { GAME_POSITIONS_MAX = 1 << 16, STRUCTURE_ROUNDS = 20 };

typedef struct GamePositions {
    Position *items;
    int count;
} GamePositions;

static void keep_position(void *context, const PgnGame *game, Move move)
{
    GamePositions *positions = context;
    (void)move;
    if (positions->count < GAME_POSITIONS_MAX)
        positions->items[positions->count++] = game->position;
}

/* One round; returns nanoseconds a position. */
static double time_analyses(const ps_board *boards, int count, int *chains)
{
    ps_analysis analysis;
    double start = monotonic_seconds();
    *chains = 0;
    for (int i = 0; i < count; i++) {
        ps_analyse(&analysis, &boards[i]);
        *chains += analysis.chain_count;
    }
    return (monotonic_seconds() - start) * 1e9 / count;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The analysis of each position of real games, in their order. */
static bool measure_structure(void)
{
    GamePositions positions = {.items = calloc(GAME_POSITIONS_MAX, sizeof(Position))};
    ps_board *boards = calloc(GAME_POSITIONS_MAX, sizeof *boards);
    const PgnVisitor visitor = {.context = &positions, .move = keep_position};
    bool good = positions.items && boards && pgn_read_file("bench/games/masters-500.pgn", &visitor) &&
                positions.count > 0;
    if (good) {
        double rounds[STRUCTURE_ROUNDS];
        int chains = 0;
        for (int i = 0; i < positions.count; i++)
            structure_view(&positions.items[i], &boards[i]);
        for (int i = 0; i < STRUCTURE_ROUNDS; i++)
            rounds[i] = time_analyses(boards, positions.count, &chains);
        qsort(rounds, STRUCTURE_ROUNDS, sizeof *rounds, by_size);
        printf(
            "structure: %d positions, %d locked chains: %.0f ns a position, quickest of %d rounds %.0f ns\n",
            positions.count, chains, rounds[STRUCTURE_ROUNDS / 2], STRUCTURE_ROUNDS, rounds[0]);
    }
    free(positions.items);
    free(boards);
    return good;
}

/* ------------------------------------------------------------------------------------------------ threads */

/* Of many ratios: the sums of their logarithms and of the squares of these. */
typedef struct Ratios {
    double sum, squares;
} Ratios;

static void ratios_take(Ratios *ratios, double ratio)
{
    ratios->sum += log(ratio);
    ratios->squares += log(ratio) * log(ratio);
}

static void ratios_add(Ratios *ratios, Ratios more)
{
    ratios->sum += more.sum;
    ratios->squares += more.squares;
}

/* The geometric mean; the interval takes the positions for a sample of all there are. */
static void ratios_print(const Ratios *ratios, double n, const char *what)
{
    double mean = ratios->sum / n, error = sqrt((ratios->squares / n - mean * mean) / (n - 1));
    printf("  %.2f %s (95 %%: %.2f to %.2f)\n", exp(mean), what, exp(mean - 1.96 * error),
           exp(mean + 1.96 * error));
}

/* The same positions to the same depth by one worker and by several. */
typedef struct Contest {
    Player *alone, *together;
    int positions;
    Ratios time, nodes, speed; /* speed: nodes a second */
} Contest;

static bool time_to_depth(Player *player, const Position *position, double *seconds, uint64_t *nodes)
{
    Game game;
    SearchResult result;
    if (!game_start(&game, position))
        return false;
    player_forget(player);
    double start = monotonic_seconds();
    player_think(player, &game, &(SearchLimits){.depth = THREADS_DEPTH}, NULL, &result);
    *seconds = monotonic_seconds() - start;
    *nodes = result.nodes;
    game_free(&game);
    return true;
}

static bool measure_contest(void *context, const EpdRecord *record)
{
    Contest *contest = context;
    double alone, together;
    uint64_t nodes_alone, nodes_together;
    if (!time_to_depth(contest->alone, &record->position, &alone, &nodes_alone) ||
        !time_to_depth(contest->together, &record->position, &together, &nodes_together))
        return false;
    double nodes = (double)nodes_together / (double)nodes_alone;
    ratios_take(&contest->time, alone / together);
    ratios_take(&contest->nodes, nodes);
    ratios_take(&contest->speed, nodes * alone / together);
    contest->positions++;
    return true;
}

static void print_contest(const char *name, const Contest *contest)
{
    int n = contest->positions;
    printf("%d threads, %s, %d positions to depth %d:\n", THREADS, name, n, THREADS_DEPTH);
    ratios_print(&contest->time, n, "times as fast");
    ratios_print(&contest->nodes, n, "times the nodes");
    ratios_print(&contest->speed, n, "times the nodes a second");
}

static bool measure_threads(void)
{
    static const char *const suites[] = {"bench/positions/bratko-kopec.epd",
                                         "bench/positions/structures.epd"};
    Contest all = {.alone = player_new(TABLE_MIB), .together = player_new(TABLE_MIB)};
    bool good = all.alone && all.together && player_set_workers(all.together, THREADS);
    for (size_t i = 0; good && i < sizeof suites / sizeof *suites; i++) {
        Contest contest = {.alone = all.alone, .together = all.together};
        good = epd_read_file(suites[i], measure_contest, &contest);
        print_contest(suites[i], &contest);
        all.positions += contest.positions;
        ratios_add(&all.time, contest.time);
        ratios_add(&all.nodes, contest.nodes);
        ratios_add(&all.speed, contest.speed);
    }
    if (good)
        print_contest("both suites", &all);
    player_free(all.alone);
    player_free(all.together);
    return good;
}

/* ------------------------------------------------------------------------------------------------ answers */

typedef struct Engine {
    pid_t pid;
    FILE *to, *from;
} Engine;

/* The engine of the build directory, as the tests find it. */
static bool engine_start(Engine *engine)
{
    const char *build = getenv("PAWNVANE_BUILD");
    char path[512];
    int in[2], out[2];
    snprintf(path, sizeof path, "%s/pawnvane", build ? build : "build");
    if (pipe(in) != 0 || pipe(out) != 0 || (engine->pid = fork()) < 0)
        return false;
    if (engine->pid == 0) {
        dup2(in[0], STDIN_FILENO);
        dup2(out[1], STDOUT_FILENO);
        close(in[1]);
        close(out[0]);
        execl(path, path, (char *)NULL);
        _exit(127);
    }
    close(in[0]);
    close(out[1]);
    engine->to = fdopen(in[1], "w");
    engine->from = fdopen(out[0], "r");
    return engine->to && engine->from;
}

static bool engine_end(Engine *engine)
{
    fclose(engine->to);
    fclose(engine->from);
    return waitpid(engine->pid, NULL, 0) == engine->pid;
}

static void engine_tell(Engine *engine, const char *line)
{
    fprintf(engine->to, "%s\n", line);
    fflush(engine->to);
}

static bool engine_await(Engine *engine, const char *prefix)
{
    char line[4096];
    while (fgets(line, sizeof line, engine->from))
        if (strncmp(line, prefix, strlen(prefix)) == 0)
            return true;
    return false;
}

static void print_times(const char *what, double *seconds, int count)
{
    qsort(seconds, (size_t)count, sizeof *seconds, by_size);
    printf("%-60s median %6.2f ms, longest of %d %6.2f ms\n", what, seconds[count / 2] * 1e3, count,
           seconds[count - 1] * 1e3);
}

static bool measure_start(void)
{
    double seconds[STARTS];
    for (int i = 0; i < STARTS; i++) {
        Engine engine;
        double start = monotonic_seconds();
        if (!engine_start(&engine))
            return false;
        engine_tell(&engine, "uci");
        if (!engine_await(&engine, "uciok"))
            return false;
        seconds[i] = monotonic_seconds() - start;
        if (!engine_end(&engine))
            return false;
    }
    print_times("from the start of the process to uciok:", seconds, STARTS);
    return true;
}

/* Stops at random moments of the search, a quarter of them at once, some after its end. */
static bool measure_stops(int threads)
{
    double seconds[STOPS];
    char text[80];
    Engine engine;
    Random random = random_seeded(22);
    if (!engine_start(&engine))
        return false;
    snprintf(text, sizeof text, "setoption name Threads value %d\nposition startpos\nisready", threads);
    engine_tell(&engine, text);
    if (!engine_await(&engine, "readyok"))
        return false;
    for (int i = 0; i < STOPS; i++) {
        engine_tell(&engine, i % 8 == 1 ? "go depth 2" : i % 8 == 2 ? "go ponder movetime 1" : "go infinite");
        if (i % 4)
            usleep((useconds_t)random_below(&random, 20000));
        double start = monotonic_seconds();
        engine_tell(&engine, "stop");
        if (!engine_await(&engine, "bestmove"))
            return false;
        seconds[i] = monotonic_seconds() - start;
    }
    snprintf(text, sizeof text, "from stop to bestmove, %d thread%s:", threads, threads > 1 ? "s" : "");
    print_times(text, seconds, STOPS);
    return engine_end(&engine);
}

/* A guess that was right: the answer after ponderhit, when the opponent has taken PONDERED seconds of a game with
 * 40 seconds on the clock. */
static bool measure_ponder(void)
{
    double seconds[PONDERS];
    Engine engine;
    if (!engine_start(&engine))
        return false;
    engine_tell(&engine, "position startpos moves e2e4 e7e5 g1f3 b8c6 f1b5 a7a6");
    for (int i = 0; i < PONDERS; i++) {
        engine_tell(&engine, "ucinewgame\ngo ponder wtime 40000 btime 40000");
        usleep(PONDERED * 1000000);
        double start = monotonic_seconds();
        engine_tell(&engine, "ponderhit");
        if (!engine_await(&engine, "bestmove"))
            return false;
        seconds[i] = monotonic_seconds() - start;
    }
    print_times("from ponderhit to bestmove, after pondering 4 s:", seconds, PONDERS);
    return engine_end(&engine);
}

int main(void)
{
    setvbuf(stdout, NULL, _IOLBF, 0);
    if (!measure_structure() || !measure_start() || !measure_stops(1) || !measure_stops(THREADS) ||
        !measure_ponder())
        return 1;
    measure_perft("initial position", FEN_START, 7);
    measure_perft("middlegame", "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1", 5);
    return measure_searches(0) && measure_searches(100) && measure_threads() ? 0 : 1;
}
