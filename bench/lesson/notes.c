#include "bench/lesson/notes.h"
#include "bench/base/array.h"

#include <stdlib.h>

bool notes_add(Notes *notes, Note note)
{
    if (!array_reserve(notes->items, notes->capacity, notes->count, 1)) {
        free(note.text);
        return false;
    }
    notes->items[notes->count++] = note;
    return true;
}

void notes_free(Notes *notes)
{
    for (int i = 0; i < notes->count; i++)
        free(notes->items[i].text);
    free(notes->items);
    *notes = (Notes){0};
}

bool notes_end_variation(Notes *notes, int ply)
{
    bool moves = false;
    int begin = notes->count;
    for (int open = 1; open > 0;) {
        const Note *note = &notes->items[--begin];
        open += note->kind == NOTE_END ? 1 : note->kind == NOTE_BEGIN ? -1 : 0;
        moves |= note->kind == NOTE_MOVE;
    }
    if (moves)
        return notes_add(notes, (Note){.kind = NOTE_END, .ply = ply});
    for (int i = begin + 1; i < notes->count; i++)
        notes->items[i - 1] = notes->items[i];
    notes->count--;
    return true;
}

/* A note of the main line at that ply, from number `from` on; -1 behind the last. */
static int next_note(const Notes *notes, int ply, int from)
{
    for (int i = from, depth = 0; i < notes->count; i++) {
        const Note *note = &notes->items[i];
        if (note->ply == ply && depth == 0)
            return i;
        depth += note->kind == NOTE_BEGIN ? 1 : note->kind == NOTE_END ? -1 : 0;
    }
    return -1;
}

/* The number behind a note, or behind the variation that begins with it. */
static int behind(const Notes *notes, int index)
{
    int depth = 0;
    do {
        NoteKind kind = notes->items[index++].kind;
        depth += kind == NOTE_BEGIN ? 1 : kind == NOTE_END ? -1 : 0;
    } while (depth > 0);
    return index;
}

bool notes_judge(const Notes *notes, int ply)
{
    enum { LAST_JUDGEMENT = 6 }; /* PGN standard, 1994, section 10 */
    for (int i = 0; (i = next_note(notes, ply, i)) >= 0; i = behind(notes, i))
        if (notes->items[i].kind == NOTE_GLYPH && notes->items[i].glyph <= LAST_JUDGEMENT)
            return true;
    return false;
}

void notes_write_glyphs(PgnWriter *writer, const Notes *notes, int ply)
{
    for (int i = 0; (i = next_note(notes, ply, i)) >= 0; i = behind(notes, i))
        if (notes->items[i].kind == NOTE_GLYPH)
            pgn_write_glyph(writer, notes->items[i].glyph);
}

/* Writes a variation from the note that begins it; the position is the one that its first move
 * is played in. */
static void write_variation(PgnWriter *writer, const Notes *notes, int begin, const Position *start)
{
    Position position = *start, before = *start;
    pgn_begin_variation(writer);
    for (int i = begin + 1; notes->items[i].kind != NOTE_END; i = behind(notes, i)) {
        const Note *note = &notes->items[i];
        switch (note->kind) {
        case NOTE_COMMENT:
            pgn_write_comment(writer, note->text);
            break;
        case NOTE_GLYPH:
            pgn_write_glyph(writer, note->glyph);
            break;
        case NOTE_MOVE:
            pgn_write_move(writer, &position, note->move);
            before = position;
            if (note->move == NO_MOVE)
                position_pass(&position);
            else
                position_play(&position, note->move);
            break;
        case NOTE_BEGIN:
            write_variation(writer, notes, i, &before);
            break;
        case NOTE_END:
            break;
        }
    }
    pgn_end_variation(writer);
}

void notes_write(PgnWriter *writer, const Notes *notes, int ply, const Position *before)
{
    for (int i = 0; (i = next_note(notes, ply, i)) >= 0; i = behind(notes, i)) {
        if (notes->items[i].kind == NOTE_COMMENT)
            pgn_write_comment(writer, notes->items[i].text);
        else if (notes->items[i].kind == NOTE_BEGIN)
            write_variation(writer, notes, i, before);
    }
}
