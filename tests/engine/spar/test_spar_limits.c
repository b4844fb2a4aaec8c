/* Styles and strengths in the built engine, with each limit that "go" takes: what a client sees of them. */
#include "tests/engine/protocol/protocol_client.h"

#include "engine/spar/strength.h"

#include <inttypes.h>

/* An order to search, and what ends it if nothing else does. */
typedef struct Limit {
    const char *go, *release;
} Limit;

static const Limit limits[] = {
    {"go depth 5", NULL},
    {"go nodes 4000", NULL},
    {"go movetime 60", NULL},
    {"go wtime 1500 btime 1500 winc 20 binc 20", NULL},
    {"go wtime 1500 btime 1500 movestogo 20", NULL},
    {"go mate 2 nodes 4000", NULL},
    {"go infinite", "stop"},
    {"go ponder depth 5", "ponderhit"},
    {"go ponder wtime 1500 btime 1500", "ponderhit"},
    {"go depth 5 searchmoves a2a3 b2b4 f4f5 e1c1 a7a6 c7c5 f7f6 f7f5", NULL},
};

enum { LIMITS = sizeof limits / sizeof *limits };

/* What was told of a search. */
typedef struct Told {
    char best[8], first[8]; /* the answer, and the first move of the line told last as the best one */
    int iterations;         /* of different depths */
    uint64_t nodes;
} Told;

static void note_line(Told *told, int *depth, const char *line)
{
    const char *rank = strstr(line, " multipv "), *nodes = strstr(line, " nodes "),
               *pv = strstr(line, " pv ");
    int of_line;
    if (nodes)
        sscanf(nodes, " nodes %" SCNu64, &told->nodes);
    if (!pv || (rank && !starts_with(rank, " multipv 1 ")))
        return;
    sscanf(pv, " pv %7s", told->first);
    if (sscanf(line, "info depth %d", &of_line) == 1 && of_line > *depth) {
        told->iterations++;
        *depth = of_line;
    }
}

/* A search that waits and would go on is released when it has gone through an iteration and told another one. */
static Told search(Client *client, const char *fen, const Limit *limit)
{
    Told told = {0};
    int depth = 0;
    bool released = !limit->release;
    client_send(client, "ucinewgame\nposition fen %s\n%s\nisready", fen, limit->go);
    for (;;) {
        if (!client_read(client))
            fail_msg("%s: the engine ended", limit->go);
        if (starts_with(client->line, "bestmove "))
            break;
        note_line(&told, &depth, client->line);
        if (!released && (told.iterations >= 2 || strstr(limit->go, "depth"))) {
            client_send(client, "%s", limit->release);
            released = true;
        }
    }
    sscanf(client->line, "bestmove %7s", told.best);
    return told;
}

/* The levers are f5 and c5: the definitions, sections 2 and 3. In the second position f6 attacks the head and f5 shuts
 * White's lever out. A style weighs what it prefers after each iteration; one that a limit cuts off, on a busy machine
 * the first, may leave it without a say. */
static void test_styles(void **state)
{
    static const struct {
        const char *style, *fen, *move;
    } styles[] = {
        {"faithful", "r1bq1rk1/pp1nbppp/2n1p3/2ppP3/3P1P2/2N1BN2/PPPQ2PP/R3KB1R w KQ - 0 9", "f4f5"},
        {"contrary", "rnbqkbnr/ppp2p2/4p2p/3pP1p1/3P4/7N/PPP2PPP/RNBQKB1R b KQkq - 0 1", "f7f6"},
        {"patient", "rnbqkbnr/ppp2p2/4p2p/3pP1p1/3P4/7N/PPP2PPP/RNBQKB1R b KQkq - 0 1", "f7f5"},
    };
    enum { STYLES = sizeof styles / sizeof *styles };
    static const int lines[] = {1, 3, 1, 3}, threads[] = {1, 1, 2, 2};
    Client *client = *state;
    int weighed = 0;
    client_send(client, "setoption name Hash value 1\nsetoption name SparMargin value 500");
    for (int i = 0; i < STYLES * LIMITS; i++) {
        const Limit *limit = &limits[i % LIMITS];
        int style = i / LIMITS, setting = (i + style) % 4;
        client_send(client,
                    "setoption name SparStyle value %s\nsetoption name MultiPV value %d\n"
                    "setoption name Threads value %d",
                    styles[style].style, lines[setting], threads[setting]);
        Told told = search(client, styles[style].fen, limit);
        bool has_say = told.iterations >= 2;
        weighed += has_say;
        if (strcmp(told.first, told.best) != 0 || (has_say && strcmp(told.best, styles[style].move) != 0))
            fail_msg("%s, %s, %d lines, %d threads: %s with %s in front; expected %s", styles[style].style,
                     limit->go, lines[setting], threads[setting], told.best, told.first, styles[style].move);
    }
    assert_true(weighed >= STYLES * LIMITS / 3);
}

/* What the client allows is all that a style may choose from. */
static void test_style_among_few_moves(void **state)
{
    Client *client = *state;
    client_send(client, "setoption name SparStyle value faithful\nsetoption name SparMargin value 500");
    Told told = search(client, "r1bq1rk1/pp1nbppp/2n1p3/2ppP3/3P1P2/2N1BN2/PPPQ2PP/R3KB1R w KQ - 0 9",
                       &(Limit){"go depth 4 searchmoves a2a3 a2a4", NULL});
    assert_true(strcmp(told.best, "a2a3") == 0 || strcmp(told.best, "a2a4") == 0);
}

/* A weak level looks at no more positions than it may, whatever the client would allow. */
static void test_strength(void **state)
{
    Client *client = *state;
    client_send(client,
                "setoption name Hash value 1\nsetoption name UCI_LimitStrength value true\n"
                "setoption name UCI_Elo value %d",
                STRENGTH_LEAST);
    uint64_t most = (uint64_t)strength_of(STRENGTH_LEAST).nodes;
    for (int i = 0; i < LIMITS; i++) {
        Limit limit = limits[i];
        client_send(client, "ucinewgame\nposition startpos\n%s", limit.go);
        if (limit.release)
            client_send(client, "isready\n%s", limit.release);
        Told told = {0};
        int depth = 0;
        while (client_read(client) && !starts_with(client->line, "bestmove "))
            note_line(&told, &depth, client->line);
        sscanf(client->line, "bestmove %7s", told.best);
        assert_string_equal(told.best, told.first);
        if (told.nodes == 0 || told.nodes > most)
            fail_msg("%s: %" PRIu64 " nodes", limit.go, told.nodes);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_styles, start_engine, quit_engine),
        cmocka_unit_test_setup_teardown(test_style_among_few_moves, start_engine, quit_engine),
        cmocka_unit_test_setup_teardown(test_strength, start_engine, quit_engine),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
