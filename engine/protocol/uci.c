#include "engine/protocol/uci.h"

#include "engine/protocol/options.h"
#include "engine/protocol/speech.h"
#include "engine/protocol/words.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"
#include "engine/search/clock.h"
#include "engine/search/player.h"
#include "engine/search/workers.h"

#include <limits.h>
#include <pthread.h>
#include <sched.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

typedef struct Uci {
    FILE *out;
    Player *player;
    Options options;
    int workers; /* that the player has: those of the options, or less */
    Game game;
    PlanNotes notes;   /* of the game */
    size_t told;       /* how many positions the game had when notes were told last, */
    uint64_t told_key; /* and the last of them */
    uint64_t games;    /* begun so far */
    bool no_position;  /* the last one was refused, and the game is not what the client thinks */
    bool debug;
    bool quitting;
    /* the search in its thread */
    pthread_t thread;
    bool running; /* the thread has been started and not yet joined */
    SearchLimits limits;
    MoveList only;
    /* "infinite" and "ponder" keep the answer back until the client releases it */
    pthread_mutex_t lock;
    pthread_cond_t released;
    bool held, infinite;
    /* an answer that was found without a thread, until the client releases it */
    bool waiting;
    SearchResult answer;
} Uci;

/* Searches by the limits, and says why the move that it finds is preferred. */
static void search(Uci *uci, const SearchLimits *limits, SearchResult *result)
{
    const Options *options = &uci->options;
    const Sparring sparring = {.style = options->spar_style,
                               .margin = options->spar_margin,
                               .elo = options->limit_strength ? options->elo : 0,
                               .seed = options->spar_seed < 0 ? uci->games : (uint64_t)options->spar_seed};
    SparChoice choice;
    spar_think(uci->player, &sparring, &uci->game, limits, &(SearchListener){say_line, say_step, uci->out},
               result, &choice);
    if (options->plan_notes)
        say_preference(uci->out, &uci->game.position, result, &choice);
}

static void *think(void *context)
{
    Uci *uci = context;
    SearchResult result;
    search(uci, &uci->limits, &result);

    pthread_mutex_lock(&uci->lock);
    while (uci->held)
        pthread_cond_wait(&uci->released, &uci->lock);
    pthread_mutex_unlock(&uci->lock);

    say_choice(uci->out, &uci->game.position, &result);
    return NULL;
}

/* Whether the search that runs will answer without another word from the client. */
static bool is_bounded(const Uci *uci)
{
    const SearchLimits *limits = &uci->limits;
    return !uci->held && (limits->depth || limits->nodes || limits->soft_ms || limits->hard_ms);
}

static void release(Uci *uci)
{
    pthread_mutex_lock(&uci->lock);
    uci->held = false;
    pthread_cond_signal(&uci->released);
    pthread_mutex_unlock(&uci->lock);
}

/* Gives the answer without a thread: at once, or when it is released. */
static void answer_here(Uci *uci, const SearchResult *result)
{
    uci->answer = *result;
    uci->waiting = uci->held;
    if (!uci->waiting)
        say_choice(uci->out, &uci->game.position, result);
}

/* Ends a search that is running and waits for its answer. */
static void finish(Uci *uci)
{
    if (uci->waiting) {
        release(uci);
        answer_here(uci, &uci->answer);
    }
    if (!uci->running)
        return;
    player_stop(uci->player);
    release(uci);
    pthread_join(uci->thread, NULL);
    uci->running = false;
}

/* ----------------------------------------------------------------------------------------------- commands */

static void do_uci(Uci *uci, char **rest)
{
    (void)rest;
    say_who(uci->out);
}

static int processors(void)
{
    cpu_set_t set;
    int count = sched_getaffinity(0, sizeof set, &set) == 0 ? CPU_COUNT(&set) : WORKERS_MAX;
    return count > 0 ? count : 1;
}

/* Threads that take turns on a processor see the end of their time too late, each of them by the turns of all others. */
static void suit_workers(Uci *uci, bool timed)
{
    int most = timed ? processors() : WORKERS_MAX;
    int wanted = uci->options.threads < most ? uci->options.threads : most;
    if (wanted != uci->workers && player_set_workers(uci->player, wanted))
        uci->workers = wanted;
}

/* To send many threads home takes longer than a clock may have, so that is done before it runs. */
static void do_isready(Uci *uci, char **rest)
{
    (void)rest;
    if (!uci->running) {
        suit_workers(uci, true);
        player_warm_up(uci->player);
    }
    say(uci->out, "readyok");
}

static void do_ucinewgame(Uci *uci, char **rest)
{
    (void)rest;
    finish(uci);
    player_forget(uci->player);
    uci->games++;
    uci->told = 0;
}

static void do_debug(Uci *uci, char **rest)
{
    const char *token = next_word(rest);
    if (token && (strcmp(token, "on") == 0 || strcmp(token, "off") == 0))
        uci->debug = strcmp(token, "on") == 0;
}

static void do_setoption(Uci *uci, char **rest)
{
    char name[64], value[256];
    const char *token = next_word(rest);
    finish(uci);
    if (!token || strcmp(token, "name") != 0) {
        say(uci->out, "info string error: setoption needs: name NAME [value VALUE]");
        return;
    }
    join_words(rest, "value", name, sizeof name);
    join_words(rest, NULL, value, sizeof value);
    OptionError error = options_set(&uci->options, uci->player, name, value);
    if (error)
        say(uci->out, "info string error: option %s: %s", name, option_error_text(error));
    else if (strcasecmp(name, "Threads") == 0)
        uci->workers = uci->options.threads;
}

/* Plays the moves that follow on a game of its own; only if all are legal it becomes the game. */
static void do_position(Uci *uci, char **rest)
{
    Position start;
    Game game;
    char text[FEN_SIZE * 2];
    const char *token = next_word(rest), *ignored;
    bool initial = token && strcmp(token, "startpos") == 0;
    finish(uci);
    uci->no_position = true;
    if (!initial && !(token && strcmp(token, "fen") == 0)) {
        say(uci->out, "info string error: position needs: fen FEN or startpos, then moves if any");
        return;
    }
    size_t length = (size_t)snprintf(text, sizeof text, "%s", initial ? FEN_START " " : "");
    join_words(rest, "moves", text + length, sizeof text - length);
    FenError error = fen_parse(text, uci->options.chess960, &start, &ignored);
    if (error) {
        say(uci->out, "info string error: bad FEN: %s", fen_error_text(error));
        return;
    }
    /* The protocol lets engines ignore what they do not know; but these may be moves. */
    if (*ignored)
        say(uci->out, "info string error: ignored behind the position: %s; expected moves", ignored);
    bool ok = game_start(&game, &start);
    PlanNotes notes;
    plan_notes_start(&notes, &start);
    while (ok && (token = next_word(rest))) {
        Move move;
        NotationError bad = lan_parse(&game.position, token, &move);
        if (bad) {
            say(uci->out, "info string error: move %s: %s", token, notation_error_text(bad));
            game_free(&game);
            return;
        }
        plan_notes_move(&notes, &game.position, move);
        ok = game_play(&game, move);
    }
    if (!ok) {
        say(uci->out, "info string error: not enough memory for the game");
        game_free(&game);
        return;
    }
    game_free(&uci->game);
    uci->game = game;
    uci->notes = notes;
    uci->no_position = false;
}

/* Times are cut at eleven days, so that what is computed from them stays in its type. */
enum { MILLISECONDS_MOST = 1000000000 };

/* A word after "searchmoves"; what is no legal move is left out. */
static void take_searchmove(Uci *uci, const char *text)
{
    Move move;
    NotationError bad = lan_parse(&uci->game.position, text, &move);
    if (uci->no_position)
        return;
    if (bad)
        say(uci->out, "info string error: searchmoves %s: %s", text, notation_error_text(bad));
    else if (uci->only.count < MOVES_MAX)
        uci->only.moves[uci->only.count++] = move;
}

/* Where there is no thread to listen meanwhile, a search must be short: nobody could stop it. */
enum { NODES_WITHOUT_THREAD = 2000 };

static void think_here(Uci *uci)
{
    SearchLimits limits = uci->limits;
    SearchResult result;
    limits.ponder = false;
    if (!limits.nodes || limits.nodes > NODES_WITHOUT_THREAD)
        limits.nodes = NODES_WITHOUT_THREAD;
    player_prepare(uci->player, false);
    search(uci, &limits, &result);
    answer_here(uci, &result);
}

/* What is new in the game, if it is the one that was told of last time; else all of it. */
static void tell_notes(Uci *uci)
{
    const Game *game = &uci->game;
    bool goes_on = uci->told > 0 && uci->told <= game->count && game->keys[uci->told - 1] == uci->told_key;
    say_plan_notes(uci->out, &uci->notes, goes_on ? uci->told : 0);
    uci->told = game->count;
    uci->told_key = game->keys[game->count - 1];
}

static void do_go(Uci *uci, char **rest)
{
    SearchLimits limits = {.lines = uci->options.lines};
    int64_t left[SIDE_COUNT] = {-1, -1}, increment[SIDE_COUNT] = {0};
    int moves_to_go = 0;
    bool choosing = false; /* behind "searchmoves" and moves */
    char *token;
    finish(uci);
    uci->infinite = false;
    uci->only.count = 0;
    while ((token = next_word(rest))) {
        bool chosen = choosing;
        choosing = false;
        if (strcmp(token, "searchmoves") == 0)
            choosing = true;
        else if (strcmp(token, "depth") == 0)
            limits.depth = (int)next_positive(rest, INT_MAX);
        else if (strcmp(token, "nodes") == 0)
            limits.nodes = (uint64_t)next_positive(rest, INT64_MAX);
        else if (strcmp(token, "movetime") == 0)
            limits.hard_ms = next_positive(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "mate") == 0)
            limits.mate = (int)next_positive(rest, INT_MAX);
        else if (strcmp(token, "movestogo") == 0)
            moves_to_go = (int)next_number(rest, INT_MAX);
        else if (strcmp(token, "wtime") == 0)
            left[WHITE] = next_number(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "btime") == 0)
            left[BLACK] = next_number(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "winc") == 0)
            increment[WHITE] = next_number(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "binc") == 0)
            increment[BLACK] = next_number(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "ponder") == 0)
            limits.ponder = true;
        else if (strcmp(token, "infinite") == 0)
            uci->infinite = true;
        else if ((choosing = chosen))
            take_searchmove(uci, token);
    }
    uci->limits = limits;
    uci->held = uci->infinite || limits.ponder;
    if (uci->no_position) {
        say(uci->out, "info string error: the last position was refused, and there is none to search");
        answer_here(uci, &(SearchResult){.best = NO_MOVE, .ponder = NO_MOVE});
        return;
    }
    limits.only = uci->only.count ? &uci->only : NULL;
    Side us = position_turn(&uci->game.position);
    if (left[us] < 0)
        left[us] = left[!us];
    ClockState clock = {.left = left[us],
                        .increment = increment[us],
                        .moves_to_go = moves_to_go,
                        .reserve = uci->options.clock_reserve,
                        .move = uci->game.position.fullmove};
    if (clock.left >= 0 && !uci->infinite) {
        ClockShare share = clock_share(&player_settings(uci->player)->parameters, &clock);
        limits.soft_ms = share.soft;
        limits.hard_ms = limits.hard_ms && limits.hard_ms < share.hard ? limits.hard_ms : share.hard;
    }
    if (uci->options.plan_notes)
        tell_notes(uci);
    if (uci->debug)
        say_static_score(uci->out, player_evaluate(uci->player, &uci->game.position), &uci->options);
    suit_workers(uci, limits.soft_ms || limits.hard_ms);
    uci->limits = limits;
    player_prepare(uci->player, limits.ponder);
    if (pthread_create(&uci->thread, NULL, think, uci) != 0) {
        say(uci->out, "info string error: no thread for the search; a short one without a thread follows");
        think_here(uci);
        return;
    }
    uci->running = true;
}

static void do_stop(Uci *uci, char **rest)
{
    (void)rest;
    finish(uci);
}

static void do_ponderhit(Uci *uci, char **rest)
{
    (void)rest;
    if (uci->waiting && uci->limits.ponder && !uci->infinite)
        finish(uci);
    if (!uci->running || !uci->limits.ponder)
        return;
    player_ponder_hit(uci->player);
    if (!uci->infinite)
        release(uci);
}

/* Nothing here needs registration, so "register" in any form is accepted and changes nothing. */
static void do_register(Uci *uci, char **rest)
{
    (void)uci, (void)rest;
}

static void do_quit(Uci *uci, char **rest)
{
    (void)rest;
    uci->quitting = true;
}

static const struct {
    const char *name;
    void (*run)(Uci *uci, char **rest);
} command_table[] = {
    {"uci", do_uci},
    {"isready", do_isready},
    {"ucinewgame", do_ucinewgame},
    {"position", do_position},
    {"go", do_go},
    {"stop", do_stop},
    {"quit", do_quit},
    {"debug", do_debug},
    {"setoption", do_setoption},
    {"register", do_register},
    {"ponderhit", do_ponderhit},
};

/* "If the engine or the GUI receives an unknown command or token it should just ignore it and try to parse
 * the rest of the string": the first known command of a line is the command. */
static void obey(Uci *uci, char *line)
{
    char *rest;
    for (char *token = strtok_r(line, " \t\r\n", &rest); token; token = next_word(&rest))
        for (size_t i = 0; i < sizeof command_table / sizeof command_table[0]; i++)
            if (strcmp(token, command_table[i].name) == 0) {
                command_table[i].run(uci, &rest);
                return;
            }
}

int uci_loop(FILE *in, FILE *out)
{
    Uci uci = {.out = out};
    Position start;
    options_defaults(&uci.options);
    uci.workers = uci.options.threads;
    uci.player = player_new((size_t)uci.options.hash_mib);
    fen_parse(FEN_START, false, &start, NULL);
    plan_notes_start(&uci.notes, &start);
    if (!uci.player || !game_start(&uci.game, &start)) {
        say(out, "info string error: not enough memory");
        player_free(uci.player);
        return 1;
    }
    pthread_mutex_init(&uci.lock, NULL);
    pthread_cond_init(&uci.released, NULL);
    char *line = NULL;
    size_t size = 0;
    while (!uci.quitting && getline(&line, &size, in) != -1)
        obey(&uci, line);
    if (uci.running && !uci.quitting && is_bounded(&uci))
        pthread_join(uci.thread, NULL), uci.running = false;
    finish(&uci);
    free(line);
    game_free(&uci.game);
    player_free(uci.player);
    pthread_cond_destroy(&uci.released);
    pthread_mutex_destroy(&uci.lock);
    return 0;
}
