#include "bench/explain/answer.h"
#include "engine/evaluation/structure_view.h"
#include "structure/sentences.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const char *const side_titles[] = {[PS_WHITE] = "White", [PS_BLACK] = "Black"};

static const char *man_name(const void *host, int square)
{
    static const char *const names[ROLE_COUNT] = {"pawn", "knight", "bishop", "rook", "queen", "king"};
    return names[position_role(host, square)];
}

void answer_in_full(const Position *position, const ps_analysis *analysis, char *text, size_t size)
{
    ps_board board;
    structure_view(position, &board);
    explain_with_names(text, size, analysis, &board, man_name);
}

const char *answer_status(ps_status status)
{
    static const char *const words[PS_STATUS_COUNT] = {
        [PS_PLAYED] = "played",           [PS_READY] = "ready",        [PS_OPEN] = "open",
        [PS_UNSUPPORTED] = "unsupported", [PS_OBSTRUCTED] = "blocked", [PS_BEYOND] = "gone past",
        [PS_CLEARED] = "file open",       [PS_BARRED] = "barred",      [PS_GONE] = "no pawn left",
    };
    return words[status];
}

const char *answer_near_miss(ps_near_miss near_miss)
{
    static const char *const words[PS_NEAR_MISS_COUNT] = {
        [PS_NOT_LINKED] = "d and e rammed, but no chain",
        [PS_SAME_WAY] = "both sides point one way",
        [PS_NOT_RAMMED] = "a chain, but only one ram",
        [PS_RIM] = "locked at the rim",
    };
    return words[near_miss];
}

void answer_files(int first, int last, char *text, size_t size)
{
    size_t length = 0;
    for (int file = first; file <= last && length < size; file++)
        length += (size_t)snprintf(text + length, size - length, "%s%c-",
                                   file == first  ? ""
                                   : file == last ? " and "
                                                  : ", ",
                                   'a' + file);
    if (length < size)
        snprintf(text + length, size - length, "files");
}

typedef struct Line {
    char *text;
    size_t length;
} Line;

__attribute__((format(printf, 2, 3))) static void say(Line *line, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(line->text + line->length, ANSWER_SIZE - line->length, format, arguments);
    va_end(arguments);
    line->length += (size_t)written;
    if (line->length > ANSWER_SIZE - 1)
        line->length = ANSWER_SIZE - 1;
}

/* What to do about a lever that is live. */
static void say_live(Line *line, const Position *position, const ps_lever *lever)
{
    const char *square = ps_square_name(lever->square);
    switch (lever->status) {
    case PS_PLAYED:
        say(line, "%s is played", square);
        break;
    case PS_READY:
        say(line, "break with %s", square);
        break;
    case PS_OPEN:
        say(line, "push for %s, %d moves away", square, lever->steps);
        break;
    case PS_UNSUPPORTED:
        say(line, "prepare %s, which lacks support", square);
        break;
    default:
        say(line, "clear the way for %s: move the %s on %s", square, man_name(position, lever->blockers[0]),
            ps_square_name(lever->blockers[0]));
        for (int i = 1; i < lever->blocker_count; i++)
            say(line, " and the %s on %s", man_name(position, lever->blockers[i]),
                ps_square_name(lever->blockers[i]));
        break;
    }
}

/* A lever at the base that cannot be played, and what to look at then. */
static void say_misleading(Line *line, const Position *position, const ps_chain_side *view)
{
    const ps_lever *base = &view->base_lever, *head = &view->head_lever;
    if (base->square == PS_NO_SQUARE)
        say(line, "the chain points off the board");
    else if (base->status == PS_BARRED)
        say(line, "%s is barred", ps_square_name(base->square));
    else
        say(line, "no pawn is left to play %s", ps_square_name(base->square));
    if (!ps_lever_is_live(head)) {
        say(line, ", and there is no other lever");
    } else if (head->status == PS_READY || head->status == PS_OPEN) {
        say(line, "; look at %s", ps_square_name(head->square));
    } else {
        say(line, "; ");
        say_live(line, position, head);
    }
}

static void say_side(Line *line, const Position *position, const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    const ps_chain_side *view = ps_plan_chain(analysis, side);
    const ps_lever *base = &view->base_lever;
    say(line, "%s: ", side_titles[side]);
    if (plan->verdict == PS_APPLIES)
        say_live(line, position, base);
    else if (plan->verdict == PS_FULFILLED && base->status == PS_CLEARED)
        say(line, "play on the open %c-file", 'a' + base->square % 8);
    else if (plan->verdict == PS_FULFILLED)
        say(line, "the %c-pawn has gone past; play %s the %s", 'a' + base->square % 8,
            plan->region == PS_CENTRE ? "in" : "on", ps_region_name(plan->region));
    else if (plan->verdict == PS_WEAK)
        say(line, "the chain says little here");
    else
        say_misleading(line, position, view);
    say(line, ".");
}

/* Without a direction the breaks count by themselves. */
static void say_breaks(Line *line, const ps_analysis *analysis, ps_side side)
{
    const ps_break_list *breaks = &analysis->breaks[side];
    say(line, " %s", side_titles[side]);
    say(line, breaks->count == 0 ? " has no break." : " can break with ");
    for (int i = 0; i < breaks->count; i++)
        say(line, "%s%s%s",
            i == 0                   ? ""
            : i == breaks->count - 1 ? " or "
                                     : ", ",
            ps_square_name(breaks->items[i].to), i == breaks->count - 1 ? "." : "");
}

void answer_in_short(const Position *position, const ps_analysis *analysis, char text[ANSWER_SIZE])
{
    ps_side turn = position_turn(position), other = turn == PS_WHITE ? PS_BLACK : PS_WHITE;
    Line line = {text, 0};
    if (analysis->plan[turn].verdict == PS_NONE) {
        say(&line, "No direction to read.");
        say_breaks(&line, analysis, turn);
        say_breaks(&line, analysis, other);
        return;
    }
    if (analysis->plan[turn].verdict == PS_WEAK && analysis->plan[other].verdict == PS_WEAK) {
        say(&line, "The chain says little here.");
        say_breaks(&line, analysis, turn);
        say_breaks(&line, analysis, other);
        return;
    }
    say_side(&line, position, analysis, turn);
    say(&line, " ");
    say_side(&line, position, analysis, other);
}
