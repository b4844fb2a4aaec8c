/* A client of the UCI protocol over pipes, for tests of the built engine.
 *
 * Waiting ends the test after HANG_SECONDS: a guard against hanging, far beyond what any answer takes. */
#ifndef PAWNVANE_TESTS_UCI_CLIENT_H
#define PAWNVANE_TESTS_UCI_CLIENT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

enum { HANG_SECONDS = 120, CLIENT_LINE_MAX = 8192 };

typedef struct Client {
    pid_t pid;
    int to, from;
    size_t filled;
    char buffer[CLIENT_LINE_MAX];
    char line[CLIENT_LINE_MAX]; /* the last line read, without its end */
} Client;

/* Starts a program of the build directory: that of the environment variable PAWNVANE_BUILD, or build/. */
static inline void client_start(Client *client, const char *program)
{
    const char *build = getenv("PAWNVANE_BUILD");
    char path[512];
    int in[2], out[2];
    snprintf(path, sizeof path, "%s/%s", build ? build : "build", program);
    if (access(path, X_OK) != 0)
        fail_msg("%s is not there; \"make test\" builds it", path);
    signal(SIGPIPE, SIG_IGN);
    assert_int_equal(pipe(in), 0);
    assert_int_equal(pipe(out), 0);
    client->pid = fork();
    assert_true(client->pid >= 0);
    if (client->pid == 0) {
        dup2(in[0], STDIN_FILENO);
        dup2(out[1], STDOUT_FILENO);
        close(in[0]);
        close(in[1]);
        close(out[0]);
        close(out[1]);
        execl(path, path, (char *)NULL);
        _exit(127);
    }
    close(in[0]);
    close(out[1]);
    client->to = in[1];
    client->from = out[0];
    client->filled = 0;
    client->line[0] = '\0';
}

/* Writes text as it is; lines need their end. */
static inline void client_write(Client *client, const char *text)
{
    for (size_t length = strlen(text); length > 0;) {
        ssize_t written = write(client->to, text, length);
        assert_true(written > 0);
        text += written;
        length -= (size_t)written;
    }
}

__attribute__((format(printf, 2, 3))) static inline void client_send(Client *client, const char *format, ...)
{
    static char text[1 << 16];
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(text, sizeof text - 1, format, arguments);
    va_end(arguments);
    assert_in_range(length, 0, sizeof text - 2);
    strcat(text, "\n");
    client_write(client, text);
}

/* Reads the next line. False at the end of the output. */
static inline bool client_read(Client *client)
{
    for (;;) {
        char *end = memchr(client->buffer, '\n', client->filled);
        if (end) {
            size_t length = (size_t)(end - client->buffer);
            memcpy(client->line, client->buffer, length);
            client->line[length] = '\0';
            client->filled -= length + 1;
            memmove(client->buffer, end + 1, client->filled);
            return true;
        }
        assert_true(client->filled < sizeof client->buffer);
        struct pollfd ready = {.fd = client->from, .events = POLLIN};
        if (poll(&ready, 1, HANG_SECONDS * 1000) <= 0)
            fail_msg("no answer for %d seconds; the last line was \"%s\"", HANG_SECONDS, client->line);
        ssize_t got =
            read(client->from, client->buffer + client->filled, sizeof client->buffer - client->filled);
        if (got <= 0)
            return false;
        client->filled += (size_t)got;
    }
}

static inline bool starts_with(const char *line, const char *prefix)
{
    return strncmp(line, prefix, strlen(prefix)) == 0;
}

/* Reads lines up to one that begins so, and returns it. */
static inline const char *client_await(Client *client, const char *prefix)
{
    do {
        if (!client_read(client))
            fail_msg("the program ended before \"%s\"", prefix);
    } while (!starts_with(client->line, prefix));
    return client->line;
}

/* Fails if anything but this line comes next. */
static inline void client_expect(Client *client, const char *line)
{
    assert_true(client_read(client));
    assert_string_equal(client->line, line);
}

/* Fails unless the engine has nothing to say. */
static inline void client_expect_silence(Client *client)
{
    client_send(client, "isready");
    client_expect(client, "readyok");
}

/* Fails unless the next line is an error about something with that word in it. */
static inline void client_expect_error(Client *client, const char *word)
{
    assert_true(client_read(client));
    if (!starts_with(client->line, "info string error: ") || !strstr(client->line, word))
        fail_msg("expected an error about \"%s\", got \"%s\"", word, client->line);
}

/* Waits for the program's end and returns its exit status, -1 if a signal ended it. */
static inline int client_end(Client *client)
{
    int status;
    while (client_read(client))
        ;
    assert_int_equal(waitpid(client->pid, &status, 0), client->pid);
    close(client->to);
    close(client->from);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static inline void client_quit(Client *client)
{
    client_send(client, "quit");
    assert_int_equal(client_end(client), 0);
}

/* For tests that each want the engine anew: set-up and tear-down; the state is a Client. */
static inline int start_engine(void **state)
{
    static Client client;
    client_start(&client, "pawnvane");
    *state = &client;
    return 0;
}

static inline int quit_engine(void **state)
{
    client_quit(*state);
    return 0;
}

#endif
