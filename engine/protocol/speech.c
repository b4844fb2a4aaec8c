#include "engine/protocol/speech.h"

#include "engine/protocol/version.h"
#include "engine/rules/notation.h"

#include <stdarg.h>

void say(FILE *out, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    flockfile(out);
    vfprintf(out, format, arguments);
    fputc('\n', out);
    fflush(out);
    funlockfile(out);
    va_end(arguments);
}

void say_who(FILE *out)
{
    flockfile(out);
    fprintf(out, "id name Pawnvane %s\nid author The Pawnvane contributors\n", PAWNVANE_VERSION);
    options_print(out);
    fputs("uciok\n", out);
    fflush(out);
    funlockfile(out);
}

/* In the two forms of the protocol: centipawns, or moves (not plies) to mate. */
static void write_score(char *text, size_t size, int score)
{
    if (score_is_mate(score))
        snprintf(text, size, "mate %d", score_mate_moves(score));
    else
        snprintf(text, size, "cp %d", score);
}

void say_line(void *out, const Position *root, const SearchLine *line)
{
    static const char *const bounds[] = {
        [BOUND_NONE] = "", [BOUND_UPPER] = " upperbound", [BOUND_LOWER] = " lowerbound", [BOUND_EXACT] = ""};
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
    say(out,
        "info depth %d seldepth %d multipv %d score %s%s nodes %llu nps %llu hashfull %d tbhits 0 time %lld "
        "pv%s",
        line->depth, line->deepest, line->rank, score, bounds[line->bound], (unsigned long long)line->nodes,
        (unsigned long long)nps, line->table_permille, (long long)(line->microseconds / 1000), pv);
}

void say_step(void *out, const Position *root, const SearchStep *step)
{
    char move[MOVE_TEXT_SIZE];
    lan_write(root, step->move, move);
    say(out, "info depth %d currmove %s currmovenumber %d", step->depth, move, step->number);
}

void say_choice(FILE *out, const Position *root, const SearchResult *result)
{
    char best[MOVE_TEXT_SIZE], ponder[MOVE_TEXT_SIZE];
    lan_write(root, result->best, best);
    if (result->ponder == NO_MOVE) {
        say(out, "bestmove %s", best);
        return;
    }
    Position after = *root;
    position_play(&after, result->best);
    lan_write(&after, result->ponder, ponder);
    say(out, "bestmove %s ponder %s", best, ponder);
}

void say_plan_notes(FILE *out, const PlanNotes *notes, size_t told)
{
    for (int i = 0; i < notes->count; i++)
        if ((size_t)notes->list[i].ply >= told)
            say(out, "info string %s", notes->list[i].text);
}

void say_preference(FILE *out, const Position *root, const SearchResult *result, const SparChoice *choice)
{
    char text[PLAN_NOTE_SIZE];
    plan_notes_choice(root, result->best, choice, text);
    if (*text)
        say(out, "info string %s", text);
}

void say_static_score(FILE *out, int score, const Options *options)
{
    say(out, "info string static score %d centipawns, lever weight %d percent, lever rule %s", score,
        options->lever_weight, ps_rule_name(options->lever_rule));
}
