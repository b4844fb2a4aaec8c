#include "bench/play/uci_client.h"
#include "bench/base/complaint.h"
#include "bench/base/monotonic.h"
#include "bench/base/utf8.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <poll.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* An engine may take a millisecond more than its patience for every so many nodes of a search. Behind the end of
 * its clock it is waited for a little: a late answer shows that it need not be started again. */
enum { READ_SIZE = 1 << 14, NAME_SIZE = 128, PATIENCE_NODES = 20, LATE_MS = 1000 };

/* How long an engine may take to end once it is asked to, and then once it is told to; how soon the status of
 * one is there that has closed its output. */
enum { QUIT_MS = 3000, TERMINATE_MS = 2000, STATUS_MS = 500, STATUS_STEP_US = 1000 };

struct UciClient {
    const char *path;
    pid_t pid; /* 0: there is none, or it has ended and is no more */
    int to, from;
    int64_t patience_ms;
    UciFault fault;
    char fault_text[UCI_FAULT_SIZE];
    char name[NAME_SIZE];
    char *options; /* "NAME type ...", a line each, line ends round all of them */
    size_t options_length;
    size_t filled, used; /* of the buffer: what is in it, and the line that was read last */
    char buffer[READ_SIZE + 1];
};

static bool fail(UciClient *client, UciFault fault, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static bool fail(UciClient *client, UciFault fault, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(client->fault_text, sizeof client->fault_text, format, arguments);
    va_end(arguments);
    client->fault = fault;
    return false;
}

/* Whether the program ends within that time. */
static bool await_end(UciClient *client, int64_t patience_ms, int *status)
{
    int64_t deadline = monotonic_ms() + patience_ms;
    for (;;) {
        pid_t ended = waitpid(client->pid, status, WNOHANG);
        if (ended == client->pid || (ended < 0 && errno != EINTR)) {
            client->pid = 0;
            return ended > 0;
        }
        if (monotonic_ms() >= deadline)
            return false;
        usleep(STATUS_STEP_US);
    }
}

static bool fail_ended(UciClient *client)
{
    int status;
    if (!await_end(client, STATUS_MS, &status))
        return fail(client, UCI_ENDED, "the engine has closed its output");
    if (WIFSIGNALED(status))
        return fail(client, UCI_ENDED, "the engine was ended by signal %d (%s)", WTERMSIG(status),
                    strsignal(WTERMSIG(status)));
    return fail(client, UCI_ENDED, "the engine has ended with status %d", WEXITSTATUS(status));
}

/* Waits until a pipe is ready. */
static bool await_pipe(UciClient *client, int descriptor, short events, int64_t deadline)
{
    struct pollfd ready = {.fd = descriptor, .events = events};
    for (;;) {
        int64_t left = deadline - monotonic_ms();
        int found = poll(&ready, 1, left > 0 ? (int)left : 0);
        if (found > 0)
            return true;
        if (found == 0 || errno != EINTR)
            return fail(client, UCI_SILENT, "the engine does not answer");
    }
}

/* Writes text as it is. An engine that does not read is not waited for any longer than one that does not write. */
static bool send_text(UciClient *client, const char *text)
{
    int64_t deadline = monotonic_ms() + client->patience_ms;
    size_t length = strlen(text);
    while (!client->fault && length > 0) {
        ssize_t written = write(client->to, text, length);
        if (written < 0 && errno == EINTR)
            continue;
        if (written < 0 && errno == EAGAIN) {
            await_pipe(client, client->to, POLLOUT, deadline);
            continue;
        }
        if (written < 0)
            return fail_ended(client);
        text += written;
        length -= (size_t)written;
    }
    return !client->fault;
}

/* The next line, without its end; it stays until the next call. Null on failure. */
static char *read_line(UciClient *client, int64_t deadline)
{
    memmove(client->buffer, client->buffer + client->used, client->filled - client->used);
    client->filled -= client->used;
    client->used = 0;
    while (!client->fault) {
        char *end = memchr(client->buffer, '\n', client->filled);
        if (end) {
            *end = '\0';
            client->used = (size_t)(end - client->buffer) + 1;
            if (end > client->buffer && end[-1] == '\r')
                end[-1] = '\0';
            return client->buffer;
        }
        if (client->filled == READ_SIZE) {
            fail(client, UCI_SILENT, "the engine writes a line of more than %d characters", READ_SIZE);
            break;
        }
        if (!await_pipe(client, client->from, POLLIN, deadline))
            break;
        ssize_t got = read(client->from, client->buffer + client->filled, READ_SIZE - client->filled);
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0) {
            fail_ended(client);
            break;
        }
        client->filled += (size_t)got;
    }
    return NULL;
}

/* What stands behind a prefix, null if the text begins otherwise. */
static const char *behind(const char *text, const char *prefix)
{
    size_t length = strlen(prefix);
    return strncmp(text, prefix, length) == 0 ? text + length : NULL;
}

static char *after(char *text, const char *prefix)
{
    return behind(text, prefix) ? text + strlen(prefix) : NULL;
}

static bool await_ready(UciClient *client)
{
    int64_t deadline = monotonic_ms() + client->patience_ms;
    if (!send_text(client, "isready\n"))
        return false;
    for (char *line; (line = read_line(client, deadline));) {
        if (strcmp(line, "readyok") == 0)
            return true;
    }
    return false;
}

/* "NAME type ..." */
static bool note_option(UciClient *client, const char *option)
{
    size_t length = strlen(option);
    char *grown = realloc(client->options, client->options_length + length + 2);
    if (!grown)
        return fail(client, UCI_NO_START, "memory ran out");
    client->options = grown;
    memcpy(grown + client->options_length, option, length);
    client->options_length += length;
    memcpy(grown + client->options_length, "\n", 2);
    client->options_length++;
    return true;
}

static bool introduce(UciClient *client)
{
    int64_t deadline = monotonic_ms() + client->patience_ms;
    if (!send_text(client, "uci\n"))
        return false;
    for (char *line; (line = read_line(client, deadline));) {
        char *name = after(line, "id name "), *option = after(line, "option name ");
        if (name) {
            snprintf(client->name, NAME_SIZE, "%.*s", NAME_SIZE - 1, name);
            utf8_hide_controls(client->name);
        } else if (option && !note_option(client, option))
            return false;
        else if (strcmp(line, "uciok") == 0)
            return await_ready(client);
    }
    return false;
}

/* The program's two pipes; what the others of our threads open must not stay open in it. */
static bool spawn(UciClient *client)
{
    int in[2], out[2];
    if (pipe2(in, O_CLOEXEC) != 0)
        return fail(client, UCI_NO_START, "no pipe: %s", strerror(errno));
    if (pipe2(out, O_CLOEXEC) != 0) {
        close(in[0]);
        close(in[1]);
        return fail(client, UCI_NO_START, "no pipe: %s", strerror(errno));
    }
    client->pid = fork();
    if (client->pid == 0) {
        /* What it starts can be ended with it, and a signal from the terminal does not end it first. */
        setpgid(0, 0);
        signal(SIGPIPE, SIG_DFL);
        dup2(in[0], STDIN_FILENO);
        dup2(out[1], STDOUT_FILENO);
        execl(client->path, client->path, (char *)NULL);
        _exit(127);
    }
    close(in[0]);
    close(out[1]);
    client->to = in[1];
    client->from = out[0];
    if (client->pid > 0)
        setpgid(client->pid, client->pid);
    fcntl(client->to, F_SETFL, O_NONBLOCK);
    return client->pid > 0 || fail(client, UCI_NO_START, "no process: %s", strerror(errno));
}

UciClient *uci_client_start(const char *path, int64_t patience_ms)
{
    UciClient *client = calloc(1, sizeof *client);
    if (!client) {
        complain(path, 0, "memory ran out");
        return NULL;
    }
    client->path = path;
    client->patience_ms = patience_ms;
    client->to = client->from = -1;
    /* An engine that has gone is told by write(), not by a signal. */
    signal(SIGPIPE, SIG_IGN);
    if (access(path, X_OK) != 0)
        fail(client, UCI_NO_START, "cannot be run: %s", strerror(errno));
    else if (spawn(client) && note_option(client, ""))
        introduce(client);
    return client;
}

/* A signal to the program and all that it has started. */
static void end_by(const UciClient *client, int number)
{
    if (client->pid > 0 && kill(-client->pid, number) != 0)
        kill(client->pid, number);
}

static void end_program(UciClient *client)
{
    int status;
    bool quits = !client->fault && send_text(client, "quit\n");
    close(client->to);
    if (quits && await_end(client, QUIT_MS, &status))
        return;
    if (quits) {
        end_by(client, SIGTERM);
        if (await_end(client, TERMINATE_MS, &status))
            return;
    }
    end_by(client, SIGKILL);
    if (client->pid > 0)
        waitpid(client->pid, NULL, 0);
}

void uci_client_stop(UciClient *client)
{
    if (!client)
        return;
    if (client->from >= 0) {
        end_program(client);
        close(client->from);
    }
    free(client->options);
    free(client);
}

UciFault uci_client_fault(const UciClient *client)
{
    return client->fault;
}

const char *uci_client_fault_text(const UciClient *client)
{
    return client->fault_text;
}

const char *uci_client_name(const UciClient *client)
{
    return client->name;
}

/* What is told of an option behind its name; null if there is none of that name. */
static const char *find_option(const UciClient *client, const char *name)
{
    char start[NAME_SIZE];
    int length = snprintf(start, sizeof start, "\n%s type ", name);
    const char *line = strstr(client->options, start);
    return line ? line + length : NULL;
}

bool uci_client_has_option(const UciClient *client, const char *name)
{
    return find_option(client, name) != NULL;
}

bool uci_client_option_range(const UciClient *client, const char *name, int64_t *least, int64_t *greatest)
{
    const char *told = find_option(client, name);
    if (!told || strncmp(told, "spin ", 5) != 0)
        return false;
    const char *end = strchr(told, '\n'), *min = strstr(told, " min "), *max = strstr(told, " max ");
    return min && max && min < end && max < end && sscanf(min, " min %" SCNd64, least) == 1 &&
           sscanf(max, " max %" SCNd64, greatest) == 1;
}

bool uci_client_set_option(UciClient *client, const char *name, const char *value)
{
    char line[2 * NAME_SIZE];
    snprintf(line, sizeof line, "setoption name %s value %s\n", name, value);
    return send_text(client, line);
}

bool uci_client_new_game(UciClient *client)
{
    return send_text(client, "ucinewgame\n") && await_ready(client);
}

static bool send_position(UciClient *client, const PlayedGame *played)
{
    enum { ROOM = 8 };
    char fen[FEN_SIZE], move[MOVE_TEXT_SIZE];
    Position position = *played->start;
    char *text = malloc(FEN_SIZE + 32 + (size_t)played->ply_count * ROOM);
    if (!text)
        return fail(client, UCI_NO_START, "memory ran out");
    fen_write(played->start, fen);
    size_t length = (size_t)sprintf(text, "position fen %s%s", fen, played->ply_count > 0 ? " moves" : "");
    for (int i = 0; i < played->ply_count; i++) {
        lan_write(&position, played->moves[i], move);
        length += (size_t)sprintf(text + length, " %s", move);
        position_play(&position, played->moves[i]);
    }
    memcpy(text + length, "\n", 2);
    bool good = send_text(client, text);
    free(text);
    return good;
}

static bool send_go(UciClient *client, const UciLimits *limits)
{
    char line[256] = "go";
    size_t length = 2;
    if (limits->nodes)
        length += (size_t)snprintf(line + length, sizeof line - length, " nodes %" PRId64, limits->nodes);
    if (limits->move_ms)
        length +=
            (size_t)snprintf(line + length, sizeof line - length, " movetime %" PRId64, limits->move_ms);
    if (limits->clock_ms[WHITE])
        length += (size_t)snprintf(line + length, sizeof line - length,
                                   " wtime %" PRId64 " btime %" PRId64 " winc %" PRId64 " binc %" PRId64,
                                   limits->clock_ms[WHITE], limits->clock_ms[BLACK],
                                   limits->increment_ms[WHITE], limits->increment_ms[BLACK]);
    snprintf(line + length, sizeof line - length, "\n");
    return send_text(client, line);
}

/* "... score cp 13 ..." or "... score mate -2 ..."; bounds are taken as they are. Centipawns never mean mate,
 * however many they are, and a mate in more moves than a score can tell is one in the most that it can. */
static void note_score(const char *info, int *score)
{
    const char *line = strstr(info, " multipv "), *at = strstr(info, " score "), *number;
    if (!at || (line && strtol(line + strlen(" multipv "), NULL, 10) > 1))
        return;
    bool is_mate = (number = behind(at, " score mate ")) != NULL;
    if (!is_mate && !(number = behind(at, " score cp ")))
        return;
    char *end;
    long value = strtol(number, &end, 10); /* one that no long holds is the nearest that it does */
    int least = is_mate ? -MAX_PLY : -SCORE_MATE_FLOOR + 1,
        greatest = is_mate ? MAX_PLY : SCORE_MATE_FLOOR - 1;
    int bounded = value < least ? least : value > greatest ? greatest : (int)value;
    if (end != number)
        *score = is_mate ? score_of_mate(bounded) : bounded;
}

bool uci_client_choose(UciClient *client, const PlayedGame *played, const UciLimits *limits,
                       ChosenMove *chosen)
{
    int64_t clock_ms = limits->clock_ms[position_turn(&played->game->position)];
    int64_t most = clock_ms ? clock_ms + LATE_MS
                            : limits->move_ms + limits->nodes / PATIENCE_NODES + client->patience_ms;
    int64_t deadline = monotonic_ms() + most;
    const Position *position = &played->game->position;
    *chosen = (ChosenMove){NO_MOVE, 0};
    if (!send_position(client, played) || !send_go(client, limits))
        return false;
    for (char *line; (line = read_line(client, deadline));) {
        char *best = after(line, "bestmove");
        if (!best) {
            if (after(line, "info "))
                note_score(line, &chosen->score);
            continue;
        }
        best += strspn(best, " ");
        best[strcspn(best, " ")] = '\0';
        if (lan_parse(position, best, &chosen->move) == NOTATION_OK)
            return true;
        char fen[FEN_SIZE];
        fen_write(position, fen);
        return fail(client, UCI_ILLEGAL_MOVE, "the engine plays \"%.20s\" in %s", best, fen);
    }
    return false;
}
