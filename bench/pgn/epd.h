/* Extended position description: a position and operations about it on one line, after S. Edwards, "Portable
 * Game Notation Specification and Implementation Guide", 1994, section 16.2.
 *
 *     1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - bm Qd1+; id "first";
 *
 * More is read than the standard asks for: a FEN is a line without operations; counters may stand behind the
 * four fields, and operations behind those. What stands there without a semicolon behind it is no operation,
 * and makes the line bad. In files, lines that are empty or begin with # are skipped. */
#ifndef PAWNVANE_EPD_H
#define PAWNVANE_EPD_H

#include "bench/pgn/fen_mend.h"
#include "engine/rules/movegen.h"

#include <stdio.h>

enum {
    EPD_OPERATIONS_MAX = 64,
    EPD_OPERANDS_MAX = 256,
    EPD_OPCODE_LENGTH_MAX = 15,
    EPD_ERROR_SIZE = 512,
    EPD_NAME_SIZE = 160
};

typedef struct EpdOperation {
    const char *opcode;
    int first, count; /* its operands: a range of EpdRecord.operands */
} EpdOperation;

/* One line. The texts belong to the record. */
typedef struct EpdRecord {
    Position position;     /* with the counters of the operations hmvc and fmvn, if they are there */
    char fields[FEN_SIZE]; /* the first four fields as they were read, one space between them */
    int operation_count, operand_count;
    EpdOperation operations[EPD_OPERATIONS_MAX];
    const char *operands[EPD_OPERANDS_MAX]; /* of all operations, quotes taken away */
    const char *file;                       /* where it comes from; null and 0 outside of files */
    long line;
    bool skeleton; /* pawns only, without kings: nothing to play or to search */
    char *text;    /* what the texts above point into */
} EpdRecord;

/* Reads one line, without its end. Castling rights may name rooks by their files; it is then a Chess960
 * position. On failure the record holds nothing, and `error` says what is wrong and what was expected. */
bool epd_parse(const char *text, EpdRecord *record, char error[EPD_ERROR_SIZE]);

/* The same for what people write by hand: fen_mend.h says what is mended and what `remark` then says, empty for
 * nothing, and what a skeleton is, which is read, too. */
bool epd_parse_by_hand(const char *text, EpdRecord *record, char remark[FEN_REMARK_SIZE],
                       char error[EPD_ERROR_SIZE]);

void epd_free(EpdRecord *record);

/* The operation with that opcode, null if there is none. */
const EpdOperation *epd_find(const EpdRecord *record, const char *opcode);

/* The first operand of that operation, null if there is none. */
const char *epd_text(const EpdRecord *record, const char *opcode);

/* Reads the operands of an operation as moves of the position (bm, am); none without the operation. On
 * failure `error` is set. */
bool epd_moves(const EpdRecord *record, const char *opcode, MoveList *moves, char error[EPD_ERROR_SIZE]);

/* Whether a game of ordinary chess can go on from the position of a line of a file. If not, that is reported. */
bool epd_can_be_played(const EpdRecord *record);

/* Uses a position. False is a failure of this line (reported). */
typedef bool (*EpdUse)(void *context, const EpdRecord *record);

/* Hands each line of a stream to `use`. Bad lines are complained about and left out; the rest goes on.
 * Returns whether everything was good. */
bool epd_read_stream(FILE *stream, const char *name, EpdUse use, void *context);

/* The same for a file; "-" is the standard input. */
bool epd_read_file(const char *path, EpdUse use, void *context);

/* How long the fields are that EPD has in common with a FEN: all but the counters. */
size_t epd_fields_length(const char *fen);

/* A byte of a text as it can stand in quotes: ? in place of what cannot. `valid` says whether the text is UTF-8. */
char epd_quotable(char byte, bool valid);

/* The name of a file, without its folders, as it can stand in quotes. */
void epd_quotable_name(const char *file, char name[EPD_NAME_SIZE]);

/* The same with lines read by epd_parse_by_hand(), and its remarks written like complaints. */
bool epd_read_file_by_hand(const char *path, EpdUse use, void *context);

#endif
