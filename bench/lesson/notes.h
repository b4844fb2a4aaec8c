/* What the author of a game has written beside its moves: comments, numeric annotation glyphs, variations.
 * They are collected in the order of the text and written again in that order. */
#ifndef PAWNVANE_NOTES_H
#define PAWNVANE_NOTES_H

#include "bench/pgn/pgn_writer.h"

typedef enum NoteKind {
    NOTE_COMMENT,
    NOTE_GLYPH,
    NOTE_BEGIN, /* of a variation: what follows up to its end belongs to it */
    NOTE_MOVE,  /* of a variation */
    NOTE_END
} NoteKind;

typedef struct Note {
    NoteKind kind;
    int ply; /* plies of the main line before it */
    int glyph;
    Move move;  /* NO_MOVE is a null move */
    char *text; /* of a comment */
} Note;

typedef struct Notes {
    int count;
    size_t capacity;
    Note *items;
} Notes;

/* Takes over the text, even on failure. False if memory runs out. */
bool notes_add(Notes *notes, Note note);
void notes_free(Notes *notes);

/* Ends the variation that began last and has not ended. One without moves is none: what it holds is then a
 * part of the line around it. */
bool notes_end_variation(Notes *notes, int ply);

/* Whether the author has judged the move that led there: one of the glyphs for ! ? !! ?? !? ?!. */
bool notes_judge(const Notes *notes, int ply);

/* Writes the glyphs of the move that led there, which come first; then everything else behind that move, in
 * its order. `before` is the position that the move was played in, null before the first. */
void notes_write_glyphs(PgnWriter *writer, const Notes *notes, int ply);
void notes_write(PgnWriter *writer, const Notes *notes, int ply, const Position *before);

#endif
