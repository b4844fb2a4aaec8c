#include "engine/spar/plan_notes.h"

#include "engine/evaluation/structure_view.h"
#include "engine/rules/notation.h"
#include "structure/sentences.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const char *const side_names[SIDE_COUNT] = {"White", "Black"};

static void note(PlanNotes *notes, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void note(PlanNotes *notes, const char *format, ...)
{
    va_list arguments;
    if (notes->count == PLAN_NOTES_MAX)
        memmove(notes->list, notes->list + 1, (size_t)--notes->count * sizeof *notes->list);
    PlanNote *next = &notes->list[notes->count++];
    next->ply = notes->ply;
    va_start(arguments, format);
    vsnprintf(next->text, sizeof next->text, format, arguments);
    va_end(arguments);
}

/* A lever that is still to be played; null without one. */
static const ps_lever *lever_ahead(const ps_analysis *analysis, Side side)
{
    const ps_lever *lever = plan_live_lever(analysis, side);
    return lever && lever->status != PS_PLAYED ? lever : NULL;
}

static void note_new_lever(PlanNotes *notes, Side side, const ps_analysis *analysis, const ps_lever *lever,
                           bool had_one)
{
    const ps_chain *chain = &analysis->chains[analysis->plan[side].chain];
    const char *name = ps_square_name(lever->square);
    char count[COUNT_TEXT_SIZE], distance[COUNT_TEXT_SIZE + sizeof " away"] = "ready";
    bool ready = lever->status == PS_READY;
    notes->side[side] = (PlanMemory){.told_ready = ready};
    if (!ready)
        snprintf(distance, sizeof distance, "%s away", count_in_words(lever->tempi, "tempo", "tempi", count));
    if (had_one)
        note(notes, "%s's plan is another now: the lever is %s, and it is %s.", side_names[side], name,
             distance);
    else
        note(notes,
             "%s has a plan%s: the locked chain from the %c- to the %c-file points to the %s, where the "
             "lever is %s; it is %s.",
             side_names[side], chain->grade == PS_DOUBTFUL ? ", but a doubtful one" : "",
             'a' + chain->first_file, 'a' + chain->last_file, ps_region_name(analysis->plan[side].region),
             name, distance);
}

/* How the lever that is remembered stands now, in whichever chain it does best: another one may come first by now. False
 * if it is that of no chain. */
static bool find_lever(const PlanMemory *memory, Side side, const ps_analysis *after, ps_status *status)
{
    bool found = false;
    for (int i = 0; i < after->chain_count; i++) {
        const ps_lever *lever = &after->chains[i].side[side].base_lever;
        if (lever->square == memory->lever.square && (!found || ps_lever_is_live(lever))) {
            *status = lever->status;
            found = true;
        }
    }
    return found;
}

static void note_lost_lever(PlanNotes *notes, Side side, const ps_analysis *after)
{
    static const char *const whys[PS_STATUS_COUNT] = {
        [PS_BEYOND] = "the pawn has gone past it",
        [PS_CLEARED] = "the pawn that could play it has gone",
        [PS_BARRED] = "a pawn bars its way",
        [PS_GONE] = "the pawn that could play it has gone",
    };
    PlanMemory *memory = &notes->side[side];
    const char *name = ps_square_name(memory->lever.square), *of = side_names[side];
    ps_status status = PS_GONE;
    char count[COUNT_TEXT_SIZE];
    bool found = find_lever(memory, side, after, &status);
    const char *why = found ? whys[status] : "the lock is gone, and the lever with it";
    if (!why)
        note(notes, "%s's %s counts no more: another chain comes first now.", of, name);
    else if (memory->ready_moves > 0)
        note(notes, "%s missed %s, which was ready for %s: %s.", of, name,
             count_in_words(memory->ready_moves, "move", "moves", count), why);
    else
        note(notes, "%s's %s will not come: %s.", of, name, why);
    memory->lever.square = PS_NO_SQUARE;
}

static void look(PlanNotes *notes, Side side, const ps_analysis *after)
{
    PlanMemory *memory = &notes->side[side];
    const ps_lever *lever = lever_ahead(after, side);
    bool had_one = memory->lever.square != PS_NO_SQUARE;
    if (lever && lever->square != memory->lever.square)
        note_new_lever(notes, side, after, lever, had_one);
    else if (lever && lever->status == PS_READY && !memory->told_ready) {
        memory->told_ready = true;
        note(notes, "%s's lever %s is ready.", side_names[side], ps_square_name(lever->square));
    } else if (!lever && had_one)
        note_lost_lever(notes, side, after);
    if (lever)
        memory->lever = *lever;
}

void plan_notes_start(PlanNotes *notes, const Position *start)
{
    ps_analysis analysis;
    notes->ply = notes->count = 0;
    structure_analyse(start, &analysis);
    for (int side = 0; side < SIDE_COUNT; side++) {
        notes->side[side].lever.square = PS_NO_SQUARE;
        look(notes, (Side)side, &analysis);
    }
}

void plan_notes_move(PlanNotes *notes, const Position *before, Move move)
{
    Side us = position_turn(before);
    PlanMemory *memory = &notes->side[us];
    Position next = *before;
    ps_analysis after;
    position_play(&next, move);
    structure_analyse(&next, &after);
    notes->ply++;
    ps_lever *lever = &memory->lever;
    bool has_one = lever->square != PS_NO_SQUARE;
    if (has_one && move_to(move) == lever->square && position_role(&next, move_to(move)) == PAWN) {
        note(notes, "%s has played the lever %s.", side_names[us], ps_square_name(lever->square));
        lever->square = PS_NO_SQUARE;
    } else if (has_one && lever->status == PS_READY) {
        memory->ready_moves++;
    }
    for (int side = 0; side < SIDE_COUNT; side++)
        look(notes, (Side)side, &after);
}

/* What a move does rather than another; with a lever, that of its own side or of the other comes last. */
typedef struct Reason {
    const char *less, *more; /* null: no style prefers that */
    enum { NO_LEVER, OWN_LEVER, OTHER_LEVER } lever;
} Reason;

static const Reason reasons[PLAN_EFFECT_COUNT] = {
    [EFFECT_PLAYS] = {"it does not play the lever", "it plays the lever", OWN_LEVER},
    [EFFECT_TAKES] = {NULL, "it takes a pawn with the lever", OWN_LEVER},
    [EFFECT_NEARER] = {"it leaves more tempi to the lever", "it leaves fewer tempi to the lever", OWN_LEVER},
    [EFFECT_SUPPORTS] = {NULL, "it gives more support to the lever", OWN_LEVER},
    [EFFECT_GIVES_UP] = {"it does not give up the lever", "it gives up the lever", OWN_LEVER},
    [EFFECT_HEAD] = {NULL, "it breaks at the head of the chain", NO_LEVER},
    [EFFECT_ASTRAY] = {NULL, "it breaks on the other wing", NO_LEVER},
    [EFFECT_HINDERS] = {NULL, "it leaves more tempi to", OTHER_LEVER},
    [EFFECT_CONTESTS] = {NULL, "it guards better against", OTHER_LEVER},
    [EFFECT_SHUTS] = {NULL, "it shuts out", OTHER_LEVER},
    [EFFECT_RELEASES] = {"it keeps the tension", NULL, NO_LEVER},
};

static void write_reason(const Position *root, const SparChoice *choice, char text[], size_t size)
{
    const Reason *reason = &reasons[choice->reason];
    Side us = position_turn(root), them = opposite(us);
    ps_analysis analysis;
    structure_analyse(root, &analysis);
    const ps_lever *lever = plan_live_lever(&analysis, reason->lever == OTHER_LEVER ? them : us);
    const char *words = choice->more ? reason->more : reason->less;
    if (reason->lever == NO_LEVER || !lever)
        snprintf(text, size, "%s", words);
    else if (reason->lever == OWN_LEVER)
        snprintf(text, size, "%s %s", words, ps_square_name(lever->square));
    else
        snprintf(text, size, "%s %s's lever %s", words, side_names[them], ps_square_name(lever->square));
}

void plan_notes_choice(const Position *root, Move chosen, const SparChoice *choice, char text[PLAN_NOTE_SIZE])
{
    char move[MOVE_TEXT_SIZE], best[MOVE_TEXT_SIZE], reason[96], cost[32] = "nothing";
    text[0] = '\0';
    if (choice->reason == NO_PLAN_EFFECT)
        return;
    san_write(root, chosen, move);
    san_write(root, choice->best, best);
    write_reason(root, choice, reason, sizeof reason);
    if (choice->cost == 100)
        snprintf(cost, sizeof cost, "a pawn");
    else if (choice->cost > 0)
        snprintf(cost, sizeof cost, "%d.%02d pawns", choice->cost / 100, choice->cost % 100);
    snprintf(text, PLAN_NOTE_SIZE, "%s is preferred to %s: %s. That costs %s.", move, best, reason, cost);
}
