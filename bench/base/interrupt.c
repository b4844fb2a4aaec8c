#include "bench/base/interrupt.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"

#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const int numbers[] = {SIGINT, SIGTERM, SIGHUP};

static int argument_count;
static char **arguments;
static atomic_bool catching;
static atomic_int noted;

/* At once, in a handler too, where the signal would else wait. */
static void end_by(int number)
{
    sigset_t mine;
    sigemptyset(&mine);
    sigaddset(&mine, number);
    signal(number, SIG_DFL);
    raise(number);
    pthread_sigmask(SIG_UNBLOCK, &mine, NULL);
}

static void handle(int number)
{
    int none = 0;
    if (atomic_load(&catching) && atomic_compare_exchange_strong(&noted, &none, number))
        return;
    output_remove_unfinished();
    end_by(number);
}

void interrupt_prepare(int argc, char **argv)
{
    argument_count = argc;
    arguments = argv;
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        struct sigaction action = {.sa_handler = handle, .sa_flags = SA_RESTART}, before;
        sigemptyset(&action.sa_mask);
        for (size_t k = 0; k < sizeof numbers / sizeof *numbers; k++) /* one handler at a time in a thread */
            sigaddset(&action.sa_mask, numbers[k]);
        if (sigaction(numbers[i], NULL, &before) == 0 && before.sa_handler != SIG_IGN)
            sigaction(numbers[i], &action, NULL);
    }
}

void interrupt_catch(void)
{
    atomic_store(&catching, true);
}

void interrupt_release(void)
{
    atomic_store(&catching, false);
}

int interrupt_number(void)
{
    return atomic_load(&noted);
}

/* An argument as a shell reads it (POSIX.1-2017, Shell Command Language, 2.2.2). */
static void write_quoted(FILE *out, const char *text)
{
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./:=+,@%";
    if (*text && strspn(text, plain) == strlen(text)) {
        fputs(text, out);
        return;
    }
    fputc('\'', out);
    for (const char *at = text; *at; at++)
        *at == '\'' ? fputs("'\\''", out) : fputc(*at, out);
    fputc('\'', out);
}

void interrupt_complain(const char *file, const char *what, bool goes_on)
{
    char *command = NULL;
    size_t size = 0;
    FILE *out = goes_on ? open_memstream(&command, &size) : NULL;
    for (int i = 0; out && i < argument_count; i++) {
        fputs(i ? " " : "", out);
        write_quoted(out, arguments[i]);
    }
    if (out)
        fclose(out);
    complain(file, 0, "interrupted: %s%s%s", what, command ? "; to go on: " : "", command ? command : "");
    free(command);
}

void interrupt_end(void)
{
    if (interrupt_number())
        end_by(interrupt_number());
}
