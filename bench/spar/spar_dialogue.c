#include "bench/spar/spar_dialogue.h"
#include "bench/base/interrupt.h"
#include "bench/base/utf8.h"
#include "bench/explain/answer.h"
#include "bench/spar/spar_board.h"
#include "bench/spar/spar_move.h"
#include "engine/evaluation/structure_view.h"

#include <errno.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

enum { COLUMNS = 78, SHOWN_SIZE = 21 /* of what was typed */ };

void spar_dialogue_say(const SparDialogue *d, const char *text)
{
    while (strlen(text) > COLUMNS) {
        int length = COLUMNS;
        while (length > 0 && text[length] != ' ')
            length--;
        if (length == 0)
            length = COLUMNS;
        fprintf(d->out, "%.*s\n", length, text);
        text += length + (text[length] == ' ');
    }
    fprintf(d->out, "%s\n", text);
}

/* Says each line of what a function writes; false if memory runs out. */
static bool say_written(const SparDialogue *d, const SparMatch *match,
                        void (*write)(FILE *, const SparMatch *))
{
    char *text = NULL;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    if (!out)
        return false;
    write(out, match);
    bool good = fclose(out) == 0;
    char *rest = NULL;
    for (char *line = good ? strtok_r(text, "\n", &rest) : NULL; line; line = strtok_r(NULL, "\n", &rest))
        spar_dialogue_say(d, line);
    free(text);
    return good;
}

static void write_men(FILE *out, const SparMatch *match)
{
    spar_board_print_words(out, &match->game.position);
    spar_board_print_castling(out, &match->game.position);
}

static bool say_position(const SparDialogue *d, const SparMatch *match)
{
    if (d->words)
        return say_written(d, match, write_men);
    spar_board_print(d->out, &match->game.position, match->pupil);
    spar_board_print_castling(d->out, &match->game.position);
    return true;
}

/* "12. c4" or "12... Nf6"; in a list only the first move of Black has a number. */
static void write_move(FILE *out, const Position *before, Move move, bool in_list)
{
    char text[MOVE_TEXT_SIZE];
    san_write(before, move, text);
    if (position_turn(before) == WHITE)
        fprintf(out, "%d. ", before->fullmove);
    else if (!in_list)
        fprintf(out, "%d... ", before->fullmove);
    fputs(text, out);
}

static void say_notes(const SparDialogue *d, const SparMatch *match, int from_ply)
{
    for (int i = 0; d->notes && i < match->notes.count; i++)
        if (match->notes.list[i].ply >= from_ply)
            spar_dialogue_say(d, match->notes.list[i].text);
}

/* ------------------------------------------------------------------------------------------ what can be typed */

static bool do_board(const SparDialogue *d, SparMatch *match)
{
    return say_position(d, match);
}

static bool do_men(const SparDialogue *d, SparMatch *match)
{
    return say_written(d, match, write_men);
}

static void write_moves(FILE *out, const SparMatch *match)
{
    Position position = match->start;
    for (int ply = 0; ply < match->plies; ply++) {
        if (ply > 0)
            fputc(' ', out);
        write_move(out, &position, match->moves[ply], ply > 0);
        position_play(&position, match->moves[ply]);
    }
    fputs(match->plies > 0 ? "\n" : "Nothing has been played yet.\n", out);
}

static bool do_moves(const SparDialogue *d, SparMatch *match)
{
    return say_written(d, match, write_moves);
}

/* Without a chain the sentences are all there is to say. */
static bool do_plan(const SparDialogue *d, SparMatch *match)
{
    const Position *position = &match->game.position;
    char answer[ANSWER_SIZE], sentences[PS_EXPLAIN_SIZE];
    ps_analysis analysis;
    structure_analyse(position, &analysis);
    if (analysis.plan[PS_WHITE].verdict != PS_NONE) {
        answer_in_short(position, &analysis, answer);
        spar_dialogue_say(d, answer);
    }
    answer_in_full(position, &analysis, sentences, sizeof sentences);
    spar_dialogue_say(d, sentences);
    return true;
}

static bool do_back(const SparDialogue *d, SparMatch *match)
{
    bool took;
    if (!spar_match_take_back(match, &took))
        return false;
    if (took)
        return say_position(d, match);
    fputs("There is no move of yours to take back.\n", d->out);
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
    {"moves", "say what has been played", do_moves},
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

/* What was typed, or as much of it as tells which line is meant. */
static void write_typed(const char *line, char text[SHOWN_SIZE])
{
    size_t size = 0;
    while (*line) {
        int length = utf8_length(line);
        size_t bytes = length > 0 ? (size_t)length : 1;
        if (size + bytes >= SHOWN_SIZE)
            break;
        memcpy(text + size, length > 0 ? line : "?", bytes);
        size += bytes;
        line += bytes;
    }
    text[size] = '\0';
}

/* A line without its end and the spaces round it; null at the end of the input, and when the program is told to end.
 * What does not come from a keyboard is shown, so that the transcript reads as it would have. */
static char *read_line(const SparDialogue *d, char line[SPAR_TYPED_SIZE])
{
    fflush(d->out);
    bool good = wait_for_input(d->in) && fgets(line, SPAR_TYPED_SIZE, d->in);
    if (good && !strchr(line, '\n')) /* what is longer is no move */
        for (int c; (c = fgetc(d->in)) != EOF && c != '\n';)
            continue;
    if (good) {
        line += strspn(line, " \t");
        for (size_t length = strlen(line); length > 0 && strchr(" \t\r\n", line[length - 1]); length--)
            line[length - 1] = '\0';
        utf8_hide_controls(line);
    }
    if (!good || !isatty(fileno(d->in))) {
        char text[SHOWN_SIZE] = "";
        if (good)
            write_typed(line, text);
        fprintf(d->out, "%s\n", text);
    }
    return good ? line : NULL;
}

static bool obey(const SparDialogue *d, SparMatch *match, const char *line)
{
    Move move;
    char problem[SPAR_PROBLEM_SIZE];
    for (size_t i = 0; i < sizeof orders / sizeof *orders; i++)
        if (strcasecmp(line, orders[i].word) == 0)
            return orders[i].run(d, match);
    if (spar_move_read(&match->game.position, line, &move, problem)) {
        bool good = spar_match_play(match, move);
        say_notes(d, match, match->plies);
        return good;
    }
    if (*line) {
        char typed[SHOWN_SIZE], text[sizeof typed + sizeof problem + 32];
        write_typed(line, typed);
        snprintf(text, sizeof text, "\"%s\" %s. Type help if unsure.", typed, problem);
        spar_dialogue_say(d, text);
    }
    return true;
}

static bool ask(const SparDialogue *d, SparMatch *match)
{
    char buffer[SPAR_TYPED_SIZE];
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
    write_move(d->out, &before, move, false);
    fputc('\n', d->out);
    plan_notes_choice(&before, move, &choice, reason);
    if (d->notes && *reason)
        spar_dialogue_say(d, reason);
    say_notes(d, match, match->plies);
    if (!d->words)
        spar_board_print(d->out, &match->game.position, match->pupil);
    return true;
}

/* After the end of a game; to take a move back is to go on with it. */
static bool ask_what_next(const SparDialogue *d, SparMatch *match, bool *another)
{
    char buffer[SPAR_TYPED_SIZE];
    bool good = true;
    while (good && (match->end == SPAR_OVER || match->end == SPAR_RESIGNED)) {
        fputs("Another game? Type yes or no, or back to take your last move back: ", d->out);
        const char *line = read_line(d, buffer);
        *another = line && (strcasecmp(line, "yes") == 0 || strcasecmp(line, "y") == 0);
        if (*another || !line || strcasecmp(line, "no") == 0 || strcasecmp(line, "n") == 0 ||
            strcasecmp(line, "leave") == 0)
            return true;
        if (strcasecmp(line, "back") == 0)
            good = do_back(d, match);
    }
    return good;
}

bool spar_dialogue_play(const SparDialogue *dialogue, SparMatch *match, bool *another)
{
    *another = false;
    bool good = say_position(dialogue, match);
    say_notes(dialogue, match, 0);
    do {
        while (good && match->end == SPAR_GOES_ON)
            good = position_turn(&match->game.position) == match->pupil ? ask(dialogue, match)
                                                                        : answer(dialogue, match);
        if (good) {
            char text[128];
            spar_match_end_text(match, text, sizeof text);
            fprintf(dialogue->out, "%s\n", text);
            good = ask_what_next(dialogue, match, another);
        }
    } while (good && match->end == SPAR_GOES_ON);
    return good;
}
