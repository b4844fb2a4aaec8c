#include "bench/play/uci_client.h"
#include "bench/base/complaint.h"
#include "bench/base/monotonic.h"
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

/* An engine may take a minute for any answer, and a millisecond more for every so many nodes of a search. */
enum { READ_SIZE = 1 << 14, NAME_SIZE = 128, PATIENCE_MS = 60000, PATIENCE_NODES = 20 };

struct UciClient {
    const char *path;
    pid_t pid;
    int to, from;
    bool broken;
    char name[NAME_SIZE];
    char *options; /* their names, a line each, line ends round all of them */
    size_t options_length;
    size_t filled, used; /* of the buffer: what is in it, and the line that was read last */
    char buffer[READ_SIZE + 1];
};

static bool fail(UciClient *client, const char *format, ...) __attribute__((format(printf, 2, 3)));

static bool fail(UciClient *client, const char *format, ...)
{
    char text[512];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    complain(client->path, 0, "%s", text);
    client->broken = true;
    return false;
}

/* Writes text as it is. */
static bool send_text(UciClient *client, const char *text)
{
    size_t length = strlen(text);
    while (!client->broken && length > 0) {
        ssize_t written = write(client->to, text, length);
        if (written < 0 && errno == EINTR)
            continue;
        if (written < 0)
            return fail(client, "the engine takes no more commands: %s", strerror(errno));
        text += written;
        length -= (size_t)written;
    }
    return !client->broken;
}

/* The next line, without its end; it stays until the next call. Null on failure. */
static char *read_line(UciClient *client, int64_t deadline)
{
    memmove(client->buffer, client->buffer + client->used, client->filled - client->used);
    client->filled -= client->used;
    client->used = 0;
    while (!client->broken) {
        char *end = memchr(client->buffer, '\n', client->filled);
        if (end) {
            *end = '\0';
            client->used = (size_t)(end - client->buffer) + 1;
            if (end > client->buffer && end[-1] == '\r')
                end[-1] = '\0';
            return client->buffer;
        }
        if (client->filled == READ_SIZE) {
            fail(client, "the engine writes a line of more than %d characters; expected the UCI protocol",
                 READ_SIZE);
            break;
        }
        int64_t left = deadline - monotonic_ms();
        struct pollfd ready = {.fd = client->from, .events = POLLIN};
        int found = poll(&ready, 1, left > 0 ? (int)left : 0);
        if (found < 0 && errno == EINTR)
            continue;
        if (found <= 0) {
            fail(client, "the engine does not answer; expected the UCI protocol");
            break;
        }
        ssize_t got = read(client->from, client->buffer + client->filled, READ_SIZE - client->filled);
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0) {
            fail(client, "the engine has ended; expected it to answer");
            break;
        }
        client->filled += (size_t)got;
    }
    return NULL;
}

/* What stands behind a prefix, null if the text begins otherwise. */
static char *after(char *text, const char *prefix)
{
    size_t length = strlen(prefix);
    return strncmp(text, prefix, length) == 0 ? text + length : NULL;
}

static bool await_ready(UciClient *client)
{
    int64_t deadline = monotonic_ms() + PATIENCE_MS;
    if (!send_text(client, "isready\n"))
        return false;
    for (char *line; (line = read_line(client, deadline));) {
        if (strcmp(line, "readyok") == 0)
            return true;
    }
    return false;
}

/* "option name NAME type ..." */
static bool note_option(UciClient *client, char *name)
{
    char *end = strstr(name, " type ");
    size_t length = end ? (size_t)(end - name) : strlen(name);
    char *grown = realloc(client->options, client->options_length + length + 2);
    if (!grown)
        return fail(client, "memory ran out");
    client->options = grown;
    memcpy(grown + client->options_length, name, length);
    client->options_length += length;
    memcpy(grown + client->options_length, "\n", 2);
    client->options_length++;
    return true;
}

static bool introduce(UciClient *client)
{
    int64_t deadline = monotonic_ms() + PATIENCE_MS;
    if (!send_text(client, "uci\n"))
        return false;
    for (char *line; (line = read_line(client, deadline));) {
        char *name = after(line, "id name "), *option = after(line, "option name ");
        if (name)
            snprintf(client->name, NAME_SIZE, "%.*s", NAME_SIZE - 1, name);
        else if (option && !note_option(client, option))
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
        return fail(client, "no pipe: %s", strerror(errno));
    if (pipe2(out, O_CLOEXEC) != 0) {
        close(in[0]);
        close(in[1]);
        return fail(client, "no pipe: %s", strerror(errno));
    }
    client->pid = fork();
    if (client->pid == 0) {
        dup2(in[0], STDIN_FILENO);
        dup2(out[1], STDOUT_FILENO);
        execl(client->path, client->path, (char *)NULL);
        _exit(127);
    }
    close(in[0]);
    close(out[1]);
    client->to = in[1];
    client->from = out[0];
    return client->pid > 0 || fail(client, "no process: %s", strerror(errno));
}

UciClient *uci_client_start(const char *path)
{
    UciClient *client = calloc(1, sizeof *client);
    if (!client) {
        complain(path, 0, "memory ran out");
        return NULL;
    }
    client->path = path;
    client->to = client->from = -1;
    /* An engine that has gone is told by write(), not by a signal. */
    signal(SIGPIPE, SIG_IGN);
    if (access(path, X_OK) != 0)
        fail(client, "cannot be run: %s; expected an engine", strerror(errno));
    else if (spawn(client) && note_option(client, (char[]){""}) && introduce(client))
        return client;
    uci_client_stop(client);
    return NULL;
}

void uci_client_stop(UciClient *client)
{
    if (!client)
        return;
    if (client->pid > 0) {
        if (client->broken)
            kill(client->pid, SIGKILL);
        else
            send_text(client, "quit\n");
        close(client->to);
        close(client->from);
        waitpid(client->pid, NULL, 0);
    }
    free(client->options);
    free(client);
}

const char *uci_client_name(const UciClient *client)
{
    return client->name;
}

bool uci_client_has_option(const UciClient *client, const char *name)
{
    char line[NAME_SIZE];
    snprintf(line, sizeof line, "\n%s\n", name);
    return strstr(client->options, line) != NULL;
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
        return fail(client, "memory ran out");
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

/* "... score cp 13 ..." or "... score mate -2 ..."; bounds are taken as they are. */
static void note_score(const char *info, int *score)
{
    const char *at = strstr(info, " score ");
    int value;
    if (!at || strstr(info, " multipv 2"))
        return;
    if (sscanf(at, " score cp %d", &value) == 1)
        *score = value;
    else if (sscanf(at, " score mate %d", &value) == 1)
        *score = score_of_mate(value);
}

bool uci_client_choose(UciClient *client, const PlayedGame *played, const UciLimits *limits,
                       ChosenMove *chosen)
{
    int64_t most = limits->move_ms + limits->nodes / PATIENCE_NODES;
    for (int side = 0; side < 2; side++)
        most = limits->clock_ms[side] > most ? limits->clock_ms[side] : most;
    int64_t deadline = monotonic_ms() + most + PATIENCE_MS;
    const Position *position = &played->game->position;
    chosen->score = 0;
    if (!send_position(client, played) || !send_go(client, limits))
        return false;
    for (char *line; (line = read_line(client, deadline));) {
        char *best = after(line, "bestmove ");
        if (!best) {
            if (after(line, "info "))
                note_score(line, &chosen->score);
            continue;
        }
        best[strcspn(best, " ")] = '\0';
        if (lan_parse(position, best, &chosen->move) == NOTATION_OK)
            return true;
        char fen[FEN_SIZE];
        fen_write(position, fen);
        return fail(client, "the engine plays \"%.20s\" in %s; expected a legal move", best, fen);
    }
    return false;
}
