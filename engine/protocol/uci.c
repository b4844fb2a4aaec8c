#include "engine/protocol/uci.h"

#include "engine/evaluation/structure_view.h"
#include "engine/protocol/options.h"
#include "engine/protocol/version.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"
#include "engine/search/clock.h"
#include "engine/search/player.h"

#include <limits.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

typedef struct Uci {
    FILE *out;
    Player *player;
    Options options;
    Game game;
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
} Uci;

/* Whole lines, so that the two threads do not mix theirs. */
__attribute__((format(printf, 2, 3))) static void say(Uci *uci, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    flockfile(uci->out);
    vfprintf(uci->out, format, arguments);
    fputc('\n', uci->out);
    fflush(uci->out);
    funlockfile(uci->out);
    va_end(arguments);
}

/* ------------------------------------------------------------------------------------------- reading lines
 */

/* Takes the next token off a line; null at its end. Changes the line. */
static char *next_token(char **rest)
{
    return strtok_r(NULL, " \t\r\n", rest);
}

/* Takes the tokens up to a stop word (or the end) as one text with single spaces. */
static void join_tokens(char **rest, const char *stop_word, char *text, size_t size)
{
    char *token;
    size_t length = 0;
    text[0] = '\0';
    while ((token = next_token(rest)) && (!stop_word || strcmp(token, stop_word) != 0)) {
        int written = snprintf(text + length, size - length, "%s%s", length ? " " : "", token);
        if (written < 0 || (size_t)written >= size - length)
            return;
        length += (size_t)written;
    }
}

/* ------------------------------------------------------------------------------------------- the search's
 * words */

static void write_score(char *text, size_t size, int score)
{
    if (score_is_mate(score))
        snprintf(text, size, "mate %d", score_mate_moves(score));
    else
        snprintf(text, size, "cp %d", score);
}

static void tell_line(void *context, const Position *root, const SearchLine *line)
{
    static const char *const bounds[] = {
        [BOUND_NONE] = "", [BOUND_UPPER] = " upperbound", [BOUND_LOWER] = " lowerbound", [BOUND_EXACT] = ""};
    Uci *uci = context;
    char score[24], pv[MAX_PLY * 6 + 1];
    size_t length = 0;
    Position p = *root;
    write_score(score, sizeof score, line->score);
    pv[0] = '\0';
    for (int i = 0; i < line->length; i++) {
        char move[MOVE_TEXT_SIZE];
        lan_write(&p, line->moves[i], move);
        position_play(&p, line->moves[i]);
        length += (size_t)snprintf(pv + length, sizeof pv - length, " %s", move);
    }
    uint64_t nps = line->microseconds > 0 ? line->nodes * 1000000 / (uint64_t)line->microseconds : 0;
    say(uci,
        "info depth %d seldepth %d multipv %d score %s%s nodes %llu nps %llu hashfull %d tbhits 0 time %lld "
        "pv%s",
        line->depth, line->deepest, line->rank, score, bounds[line->bound], (unsigned long long)line->nodes,
        (unsigned long long)nps, line->table_permille, (long long)(line->microseconds / 1000), pv);
}

static void tell_step(void *context, const Position *root, const SearchStep *step)
{
    char move[MOVE_TEXT_SIZE];
    lan_write(root, step->move, move);
    say(context, "info depth %d currmove %s currmovenumber %d", step->depth, move, step->number);
}

static void write_plan(char *text, size_t size, const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    if (plan->verdict == PS_NONE) {
        snprintf(text, size, "%s none", ps_side_name(side));
        return;
    }
    const ps_lever *lever = ps_plan_lever(analysis, side);
    const ps_chain *chain = &analysis->chains[plan->chain];
    bool has_lever = lever->square != PS_NO_SQUARE;
    snprintf(text, size, "%s %s: %s %s, %s, lever %s%s%s", ps_side_name(side), ps_verdict_name(plan->verdict),
             ps_grade_name(chain->grade), ps_files_name(chain->first_file, chain->last_file),
             ps_region_name(plan->region), has_lever ? ps_square_name(lever->square) : "none",
             has_lever ? " " : "", has_lever ? ps_status_name(lever->status) : "");
}

static void tell_plans(Uci *uci)
{
    enum { PLAN_SIZE = 128 };
    ps_board board;
    ps_analysis analysis;
    char white[PLAN_SIZE], black[PLAN_SIZE];
    structure_view(&uci->game.position, &board);
    ps_analyse(&analysis, &board);
    write_plan(white, sizeof white, &analysis, PS_WHITE);
    write_plan(black, sizeof black, &analysis, PS_BLACK);
    say(uci, "info string plan %s; %s", white, black);
}

static void tell_debug(Uci *uci)
{
    say(uci, "info string static score %d centipawns, lever weight %d percent, lever rule %s",
        player_evaluate(uci->player, &uci->game.position), uci->options.lever_weight,
        ps_rule_name(uci->options.lever_rule));
}

static void *think(void *context)
{
    Uci *uci = context;
    SearchResult result;
    char best[MOVE_TEXT_SIZE], ponder[MOVE_TEXT_SIZE];
    player_think(uci->player, &uci->game, &uci->limits, &(SearchListener){tell_line, tell_step, uci},
                 &result);

    pthread_mutex_lock(&uci->lock);
    while (uci->held)
        pthread_cond_wait(&uci->released, &uci->lock);
    pthread_mutex_unlock(&uci->lock);

    lan_write(&uci->game.position, result.best, best);
    if (result.ponder != NO_MOVE) {
        Position after = uci->game.position;
        position_play(&after, result.best);
        lan_write(&after, result.ponder, ponder);
        say(uci, "bestmove %s ponder %s", best, ponder);
    } else {
        say(uci, "bestmove %s", best);
    }
    return NULL;
}

static void release(Uci *uci)
{
    pthread_mutex_lock(&uci->lock);
    uci->held = false;
    pthread_cond_signal(&uci->released);
    pthread_mutex_unlock(&uci->lock);
}

/* Ends a search that is running and waits for its answer. */
static void finish(Uci *uci)
{
    if (!uci->running)
        return;
    player_stop(uci->player);
    release(uci);
    pthread_join(uci->thread, NULL);
    uci->running = false;
}

/* ------------------------------------------------------------------------------------------- commands */

static void do_uci(Uci *uci, char **rest)
{
    (void)rest;
    flockfile(uci->out);
    fprintf(uci->out, "id name Pawnvane %s\nid author The Pawnvane contributors\n", PAWNVANE_VERSION);
    options_print(uci->out);
    fputs("uciok\n", uci->out);
    fflush(uci->out);
    funlockfile(uci->out);
}

static void do_isready(Uci *uci, char **rest)
{
    (void)rest;
    if (!uci->running)
        player_warm_up(uci->player);
    say(uci, "readyok");
}

static void do_ucinewgame(Uci *uci, char **rest)
{
    (void)rest;
    finish(uci);
    player_forget(uci->player);
}

static void do_debug(Uci *uci, char **rest)
{
    const char *token = next_token(rest);
    if (token && (strcmp(token, "on") == 0 || strcmp(token, "off") == 0))
        uci->debug = strcmp(token, "on") == 0;
}

static void do_setoption(Uci *uci, char **rest)
{
    char name[64], value[256];
    const char *token = next_token(rest);
    finish(uci);
    if (!token || strcmp(token, "name") != 0) {
        say(uci, "info string error: setoption needs: name NAME [value VALUE]");
        return;
    }
    join_tokens(rest, "value", name, sizeof name);
    join_tokens(rest, NULL, value, sizeof value);
    OptionError error = options_set(&uci->options, uci->player, name, value);
    if (error)
        say(uci, "info string error: option %s: %s", name, option_error_text(error));
}

/* Plays the moves that follow on a game of its own; only if all are legal it becomes the game. */
static void do_position(Uci *uci, char **rest)
{
    Position start;
    Game game;
    char text[FEN_SIZE * 2];
    const char *token = next_token(rest), *ignored;
    bool initial = token && strcmp(token, "startpos") == 0;
    finish(uci);
    if (!initial && !(token && strcmp(token, "fen") == 0)) {
        say(uci, "info string error: position needs: fen FEN or startpos, then moves if any");
        return;
    }
    size_t length = (size_t)snprintf(text, sizeof text, "%s", initial ? FEN_START " " : "");
    join_tokens(rest, "moves", text + length, sizeof text - length);
    FenError error = fen_parse(text, uci->options.chess960, &start, &ignored);
    if (error) {
        say(uci, "info string error: bad FEN: %s", fen_error_text(error));
        return;
    }
    /* The protocol lets engines ignore what they do not know; but these may be moves. */
    if (*ignored)
        say(uci, "info string error: ignored behind the position: %s; expected moves", ignored);
    bool ok = game_start(&game, &start);
    while (ok && (token = next_token(rest))) {
        Move move;
        NotationError bad = lan_parse(&game.position, token, &move);
        if (bad) {
            say(uci, "info string error: move %s: %s", token, notation_error_text(bad));
            game_free(&game);
            return;
        }
        ok = game_play(&game, move);
    }
    if (!ok) {
        say(uci, "info string error: not enough memory for the game");
        game_free(&game);
        return;
    }
    game_free(&uci->game);
    uci->game = game;
}

/* Times are cut at eleven days, so that what is computed from them stays in its type. */
enum { MILLISECONDS_MOST = 1000000000 };

static int64_t number_after(char **rest, int64_t most)
{
    const char *token = next_token(rest);
    int64_t number = token ? strtoll(token, NULL, 10) : 0;
    return number <= 0 ? 0 : number < most ? number : most;
}

/* No limit may be 0, which to the search means none. */
static int64_t limit_after(char **rest, int64_t most)
{
    int64_t number = number_after(rest, most);
    return number > 0 ? number : 1;
}

/* A word after "searchmoves"; what is no legal move is left out. */
static void take_searchmove(Uci *uci, const char *text)
{
    Move move;
    NotationError bad = lan_parse(&uci->game.position, text, &move);
    if (bad)
        say(uci, "info string error: searchmoves %s: %s", text, notation_error_text(bad));
    else if (uci->only.count < MOVES_MAX)
        uci->only.moves[uci->only.count++] = move;
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
    while ((token = next_token(rest))) {
        bool chosen = choosing;
        choosing = false;
        if (strcmp(token, "searchmoves") == 0)
            choosing = true;
        else if (strcmp(token, "depth") == 0)
            limits.depth = (int)limit_after(rest, INT_MAX);
        else if (strcmp(token, "nodes") == 0)
            limits.nodes = (uint64_t)limit_after(rest, INT64_MAX);
        else if (strcmp(token, "movetime") == 0)
            limits.hard_ms = limit_after(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "mate") == 0)
            limits.mate = (int)limit_after(rest, INT_MAX);
        else if (strcmp(token, "movestogo") == 0)
            moves_to_go = (int)number_after(rest, INT_MAX);
        else if (strcmp(token, "wtime") == 0)
            left[WHITE] = number_after(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "btime") == 0)
            left[BLACK] = number_after(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "winc") == 0)
            increment[WHITE] = number_after(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "binc") == 0)
            increment[BLACK] = number_after(rest, MILLISECONDS_MOST);
        else if (strcmp(token, "ponder") == 0)
            limits.ponder = true;
        else if (strcmp(token, "infinite") == 0)
            uci->infinite = true;
        else if ((choosing = chosen))
            take_searchmove(uci, token);
    }
    limits.only = uci->only.count ? &uci->only : NULL;
    Side us = position_turn(&uci->game.position);
    ClockState clock = {.left = left[us],
                        .increment = increment[us],
                        .moves_to_go = moves_to_go,
                        .reserve = uci->options.clock_reserve};
    if (clock.left >= 0 && !uci->infinite) {
        ClockShare share = clock_share(&clock);
        limits.soft_ms = share.soft;
        limits.hard_ms = limits.hard_ms && limits.hard_ms < share.hard ? limits.hard_ms : share.hard;
    }
    if (uci->options.plan_notes)
        tell_plans(uci);
    if (uci->debug)
        tell_debug(uci);
    uci->limits = limits;
    uci->held = uci->infinite || limits.ponder;
    player_prepare(uci->player, limits.ponder);
    if (pthread_create(&uci->thread, NULL, think, uci) != 0) {
        say(uci, "info string error: no thread for the search");
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
    for (char *token = strtok_r(line, " \t\r\n", &rest); token; token = next_token(&rest))
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
    uci.player = player_new((size_t)uci.options.hash_mib);
    fen_parse(FEN_START, false, &start, NULL);
    if (!uci.player || !game_start(&uci.game, &start)) {
        say(&uci, "info string error: not enough memory");
        player_free(uci.player);
        return 1;
    }
    pthread_mutex_init(&uci.lock, NULL);
    pthread_cond_init(&uci.released, NULL);
    char *line = NULL;
    size_t size = 0;
    while (!uci.quitting && getline(&line, &size, in) != -1)
        obey(&uci, line);
    finish(&uci);
    free(line);
    game_free(&uci.game);
    player_free(uci.player);
    pthread_cond_destroy(&uci.released);
    pthread_mutex_destroy(&uci.lock);
    return 0;
}
