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
        note(notes, "%s's chain points elsewhere now: the lever is %s, and it is %s.", side_names[side], name,
             distance);
    else
        note(notes,
             "%s has a plan: the chain on the files %c to %c points to the %s, where the lever is %s; it is "
             "%s.",
             side_names[side], 'a' + chain->first_file, 'a' + chain->last_file,
             ps_region_name(analysis->plan[side].region), name, distance);
}

/* Why a lever that could still come cannot any more. */
static void note_lost_lever(PlanNotes *notes, Side side, const ps_analysis *after)
{
    PlanMemory *memory = &notes->side[side];
    const char *why = "the lock is gone, and the lever with it";
    char count[COUNT_TEXT_SIZE];
    for (int i = 0; i < after->chain_count; i++) {
        const ps_lever *lever = &after->chains[i].side[side].base_lever;
        if (lever->square != memory->lever.square)
            continue;
        why = lever->status == PS_BARRED   ? "the lever is shut: a pawn bars its way"
              : lever->status == PS_PLAYED ? "a pawn stands there now"
                                           : "the pawn that could play it has gone";
    }
    if (memory->ready_moves > 0)
        note(notes, "%s missed %s, which was ready for %s: %s.", side_names[side],
             ps_square_name(memory->lever.square),
             count_in_words(memory->ready_moves, "move", "moves", count), why);
    else
        note(notes, "%s's %s will not come: %s.", side_names[side], ps_square_name(memory->lever.square),
             why);
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
    if (has_one && move_from(move) == lever->pawn && move_to(move) == lever->square) {
        note(notes, "%s has played the lever %s.", side_names[us], ps_square_name(lever->square));
        lever->square = PS_NO_SQUARE;
    } else if (has_one && lever->status == PS_READY) {
        memory->ready_moves++;
    }
    for (int side = 0; side < SIDE_COUNT; side++)
        look(notes, (Side)side, &after);
}

void plan_notes_choice(const Position *root, Move chosen, const SparChoice *choice, char text[PLAN_NOTE_SIZE])
{
    static const struct {
        const char *less, *more;
    } reasons[PLAN_EFFECT_COUNT] = {
        [EFFECT_PLAYS] = {"it leaves the lever alone", "it plays the lever"},
        [EFFECT_TAKES] = {"the lever stays where it is", "the lever takes the pawn that it attacks"},
        [EFFECT_NEARER] = {"it takes no tempo for the lever", "it brings the lever nearer"},
        [EFFECT_SUPPORTS] = {"it takes no support to the lever", "it brings the lever support"},
        [EFFECT_GIVES_UP] = {"it keeps the lever possible", "it gives the lever up"},
        [EFFECT_HEAD] = {"it leaves the head of the chain alone", "it breaks at the head of the chain"},
        [EFFECT_ASTRAY] = {"it stays on its wing", "it breaks on the other wing"},
        [EFFECT_HINDERS] = {"it lets the other side's lever come", "it hinders the other side's lever"},
        [EFFECT_CONTESTS] = {"it lets the other side's lever come",
                             "it guards against the other side's lever"},
        [EFFECT_SHUTS] = {"it leaves the other side its lever", "it shuts the other side's lever out"},
        [EFFECT_RELEASES] = {"it keeps the tension", "it releases the tension"},
    };
    char move[MOVE_TEXT_SIZE], best[MOVE_TEXT_SIZE];
    text[0] = '\0';
    if (choice->reason == NO_PLAN_EFFECT)
        return;
    san_write(root, chosen, move);
    san_write(root, choice->best, best);
    const char *reason = choice->more ? reasons[choice->reason].more : reasons[choice->reason].less;
    if (choice->cost > 0)
        snprintf(text, PLAN_NOTE_SIZE, "I prefer %s to %s: %s. It costs %d hundredths of a pawn.", move, best,
                 reason, choice->cost);
    else
        snprintf(text, PLAN_NOTE_SIZE, "I prefer %s to %s: %s. It costs nothing.", move, best, reason);
}
