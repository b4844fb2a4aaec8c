#include "bench/spar/spar_dialogue.h"
#include "bench/base/interrupt.h"
#include "bench/explain/answer.h"
#include "bench/spar/spar_board.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/notation.h"

#include <errno.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

enum { COLUMNS = 78, LINE_SIZE = 256, SHOWN = 20 /* characters of what was typed */ };

/* Breaks a text into lines at its spaces. */
static void print_folded(FILE *out, const char *text)
{
    while (strlen(text) > COLUMNS) {
        int length = COLUMNS;
        while (length > 0 && text[length] != ' ')
            length--;
        if (length == 0)
            length = COLUMNS;
        fprintf(out, "%.*s\n", length, text);
        text += length + (text[length] == ' ');
    }
    fprintf(out, "%s\n", text);
}

static void print_position(const SparDialogue *d, const SparMatch *match)
{
    const Position *position = &match->game.position;
    if (!d->words) {
        spar_board_print(d->out, position, match->pupil);
        return;
    }
    char *text = NULL;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    if (out) {
        spar_board_print_words(out, position);
        fclose(out);
        char *rest;
        for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
            print_folded(d->out, line);
    }
    free(text);
}

static void print_move(FILE *out, const Position *before, Move move)
{
    char text[MOVE_TEXT_SIZE];
    san_write(before, move, text);
    fprintf(out, "%d%s %s\n", before->fullmove, position_turn(before) == WHITE ? "." : "...", text);
}

static void print_notes(const SparDialogue *d, const SparMatch *match, int from_ply)
{
    for (int i = 0; d->notes && i < match->notes.count; i++)
        if (match->notes.list[i].ply >= from_ply)
            print_folded(d->out, match->notes.list[i].text);
}

/* ------------------------------------------------------------------------------------------ what can be typed */

static bool do_board(const SparDialogue *d, SparMatch *match)
{
    print_position(d, match);
    return true;
}

static bool do_men(const SparDialogue *d, SparMatch *match)
{
    SparDialogue in_words = *d;
    in_words.words = true;
    print_position(&in_words, match);
    return true;
}

static bool do_plan(const SparDialogue *d, SparMatch *match)
{
    const Position *position = &match->game.position;
    char answer[ANSWER_SIZE], sentences[PS_EXPLAIN_SIZE];
    ps_analysis analysis;
    structure_analyse(position, &analysis);
    answer_in_short(position, &analysis, answer);
    answer_in_full(position, &analysis, sentences, sizeof sentences);
    print_folded(d->out, answer);
    if (strcmp(answer, sentences) != 0)
        print_folded(d->out, sentences);
    return true;
}

static bool do_back(const SparDialogue *d, SparMatch *match)
{
    bool took;
    if (!spar_match_take_back(match, &took))
        return false;
    if (took)
        print_position(d, match);
    else
        fputs("You have not moved yet.\n", d->out);
    return true;
}

static bool do_resign(const SparDialogue *d, SparMatch *match)
{
    (void)d;
    match->end = SPAR_RESIGNED;
    return true;
}

static bool do_leave(const SparDialogue *d, SparMatch *match)
{
    (void)d;
    match->end = SPAR_LEFT;
    return true;
}

static bool do_help(const SparDialogue *d, SparMatch *match);

static const struct {
    const char *word, *meaning;
    bool (*run)(const SparDialogue *d, SparMatch *match);
} orders[] = {
    {"board", "show the board: capitals are White, full stops are empty squares", do_board},
    {"men", "say where all men stand", do_men},
    {"plan", "say what the pawns tell each side", do_plan},
    {"back", "take your last move back, and the answer to it", do_back},
    {"resign", "give the game up", do_resign},
    {"leave", "stop here; what was played is saved", do_leave},
    {"help", "say this again", do_help},
};

static bool do_help(const SparDialogue *d, SparMatch *match)
{
    (void)match;
    fputs("Type a move as one writes it down: e4, Nf3, exd5, O-O, e8=Q. Or one word:\n", d->out);
    for (size_t i = 0; i < sizeof orders / sizeof *orders; i++)
        fprintf(d->out, "  %-7s %s\n", orders[i].word, orders[i].meaning);
    return true;
}

/* False if the program is told to end before there is anything to read: reading itself would go on after a signal. */
static bool wait_for_input(FILE *in)
{
    struct pollfd input = {.fd = fileno(in), .events = POLLIN};
    while (!interrupt_number())
        if (poll(&input, 1, -1) >= 0 || errno != EINTR)
            return true;
    return false;
}

/* A line without its end and the spaces round it; null at the end of the input, and when the program is told to end.
 * What does not come from a keyboard is shown, so that the transcript reads as it would have. */
static char *read_line(const SparDialogue *d, char line[LINE_SIZE])
{
    fflush(d->out);
    bool good = wait_for_input(d->in) && fgets(line, LINE_SIZE, d->in);
    if (good && !strchr(line, '\n')) /* what is longer is no move */
        for (int c; (c = fgetc(d->in)) != EOF && c != '\n';)
            continue;
    if (good) {
        line += strspn(line, " \t");
        for (size_t length = strlen(line); length > 0 && strchr(" \t\r\n", line[length - 1]); length--)
            line[length - 1] = '\0';
    }
    if (!good || !isatty(fileno(d->in)))
        fprintf(d->out, "%.*s\n", good ? SHOWN : 0, line);
    return good ? line : NULL;
}

/* A move in standard notation, or by its two squares as protocols have it. */
static NotationError read_move(const Position *position, const char *text, Move *move)
{
    NotationError error = san_parse(position, text, move);
    return error != NOTATION_OK && lan_parse(position, text, move) == NOTATION_OK ? NOTATION_OK : error;
}

static bool obey(const SparDialogue *d, SparMatch *match, const char *line)
{
    Move move;
    for (size_t i = 0; i < sizeof orders / sizeof *orders; i++)
        if (strcasecmp(line, orders[i].word) == 0)
            return orders[i].run(d, match);
    NotationError error = read_move(&match->game.position, line, &move);
    if (error == NOTATION_OK) {
        bool good = spar_match_play(match, move);
        print_notes(d, match, match->plies);
        return good;
    }
    if (*line)
        fprintf(d->out, "\"%.*s\": %s. Type help if unsure.\n", SHOWN, line, notation_error_text(error));
    return true;
}

static bool ask(const SparDialogue *d, SparMatch *match)
{
    char buffer[LINE_SIZE];
    const Position *position = &match->game.position;
    fprintf(d->out, "Move %d, your turn as %s: ", position->fullmove,
            match->pupil == WHITE ? "White" : "Black");
    const char *line = read_line(d, buffer);
    if (line)
        return obey(d, match, line);
    match->end = SPAR_LEFT;
    return true;
}

static bool answer(const SparDialogue *d, SparMatch *match)
{
    Position before = match->game.position;
    Move move;
    SparChoice choice;
    char reason[PLAN_NOTE_SIZE];
    if (!spar_match_answer(match, &move, &choice))
        return false;
    fputs("Your partner plays ", d->out);
    print_move(d->out, &before, move);
    plan_notes_choice(&before, move, &choice, reason);
    if (d->notes && *reason)
        print_folded(d->out, reason);
    print_notes(d, match, match->plies);
    if (!d->words)
        print_position(d, match);
    return true;
}

bool spar_dialogue_play(const SparDialogue *dialogue, SparMatch *match)
{
    bool good = true;
    print_position(dialogue, match);
    print_notes(dialogue, match, 0);
    while (good && match->end == SPAR_GOES_ON)
        good = position_turn(&match->game.position) == match->pupil ? ask(dialogue, match)
                                                                    : answer(dialogue, match);
    if (good) {
        char text[128];
        spar_match_end_text(match, text, sizeof text);
        fprintf(dialogue->out, "%s\n", text);
    }
    return good;
}

bool spar_dialogue_another(const SparDialogue *dialogue)
{
    char buffer[LINE_SIZE];
    for (;;) {
        fputs("Another game, from the next opening? Type yes or no: ", dialogue->out);
        const char *line = read_line(dialogue, buffer);
        if (!line || strcasecmp(line, "no") == 0)
            return false;
        if (strcasecmp(line, "yes") == 0)
            return true;
    }
}
