#include "bench/pgn/fen_mend.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIELD_COUNT = 4, FIELD_SIZE = 100 };
enum { PLACEMENT_FIELD, SIDE_FIELD, CASTLING_FIELD, EN_PASSANT_FIELD };

typedef struct Fields {
    char items[FIELD_COUNT][FIELD_SIZE]; /* empty for those that are missing */
    const char *rest;                    /* behind them, from the first space on */
} Fields;

static bool split(const char *text, Fields *fields)
{
    *fields = (Fields){0};
    for (int i = 0; i < FIELD_COUNT; i++) {
        text += strspn(text, " \t");
        size_t length = strcspn(text, " \t");
        if (length >= FIELD_SIZE)
            return false;
        memcpy(fields->items[i], text, length);
        text += length;
    }
    fields->rest = text;
    return *fields->items[PLACEMENT_FIELD] != '\0';
}

static void join(const Fields *fields, char *text, size_t size)
{
    snprintf(text, size, "%s %s %s %s%s", fields->items[PLACEMENT_FIELD], fields->items[SIDE_FIELD],
             fields->items[CASTLING_FIELD], fields->items[EN_PASSANT_FIELD], fields->rest);
}

__attribute__((format(printf, 2, 3))) static void remark_on(char *remark, const char *format, ...)
{
    size_t length = strlen(remark);
    va_list arguments;
    if (length > 0)
        length += (size_t)snprintf(remark + length, FEN_REMARK_SIZE - length, "; ");
    va_start(arguments, format);
    vsnprintf(remark + length, FEN_REMARK_SIZE - length, format, arguments);
    va_end(arguments);
}

static FenError try(const Fields *fields)
{
    char text[FIELD_COUNT * FIELD_SIZE];
    Position position;
    Fields bare = *fields;
    bare.rest = "";
    join(&bare, text, sizeof text);
    FenError error = fen_parse(text, false, &position, NULL);
    if (error != FEN_BAD_CASTLING_TEXT)
        return error;
    FenError wider = fen_parse(text, true, &position, NULL);
    return wider == FEN_BAD_CASTLING_TEXT ? error : wider;
}

/* Keeps the rights that can be. */
static void mend_castling(Fields *fields, char *remark)
{
    char *field = fields->items[CASTLING_FIELD], kept[FIELD_SIZE] = "", dropped[FIELD_SIZE] = "";
    size_t kept_count = 0, dropped_count = 0;
    Fields alone = *fields;
    strcpy(alone.items[EN_PASSANT_FIELD], "-");
    for (const char *letter = field; *letter; letter++) {
        snprintf(alone.items[CASTLING_FIELD], FIELD_SIZE, "%.*s%c", FIELD_SIZE - 2, kept, *letter);
        if (try(&alone) == FEN_OK)
            kept[kept_count++] = *letter;
        else
            dropped[dropped_count++] = *letter;
    }
    snprintf(field, FIELD_SIZE, "%s", kept_count > 0 ? kept : "-");
    remark_on(remark, "castling %s is dropped: its king or rook is not on its first square", dropped);
}

static void mend_en_passant(Fields *fields, char *remark)
{
    remark_on(remark, "the en passant square %s is dropped: no pawn can have just passed it",
              fields->items[EN_PASSANT_FIELD]);
    strcpy(fields->items[EN_PASSANT_FIELD], "-");
}

static void fill_in(Fields *fields, char *remark)
{
    char *side = fields->items[SIDE_FIELD];
    if (*side == '\0') {
        strcpy(side, "w");
        remark_on(remark, "White is taken to move, for the line does not say whose turn it is");
    }
    if (strcmp(side, "W") == 0 || strcmp(side, "B") == 0)
        *side = *side == 'W' ? 'w' : 'b';
    for (int i = CASTLING_FIELD; i < FIELD_COUNT; i++)
        if (*fields->items[i] == '\0')
            strcpy(fields->items[i], "-");
}

char *fen_mend(const char *text, char remark[FEN_REMARK_SIZE])
{
    Fields fields;
    *remark = '\0';
    if (!split(text, &fields))
        return strdup(text);
    fill_in(&fields, remark);
    if (try(&fields) == FEN_CASTLING_CANNOT_BE)
        mend_castling(&fields, remark);
    if (try(&fields) == FEN_EN_PASSANT_CANNOT_BE)
        mend_en_passant(&fields, remark);
    size_t size = FIELD_COUNT * FIELD_SIZE + strlen(fields.rest) + 1;
    char *mended = malloc(size);
    if (mended != NULL)
        join(&fields, mended, size);
    return mended;
}

static bool put_pawns(const char *placement, Position *position)
{
    int file = 0, rank = RANK_8;
    for (const char *c = placement; *c; c++) {
        if (*c == '/') {
            if (file != FILE_COUNT || --rank < RANK_1)
                return false;
            file = 0;
        } else if (*c >= '1' && *c <= '8') {
            file += *c - '0';
        } else if (*c == 'P' || *c == 'p') {
            if (file >= FILE_COUNT || rank == RANK_8 || rank == RANK_1)
                return false;
            position_put(position, *c == 'P' ? WHITE : BLACK, PAWN, square_at(file++, rank));
        } else {
            return false;
        }
        if (file > FILE_COUNT)
            return false;
    }
    return rank == RANK_1 && file == FILE_COUNT && position_occupied(position) != 0 &&
           count_squares(position->by_side[WHITE]) <= 8 && count_squares(position->by_side[BLACK]) <= 8;
}

bool fen_read_skeleton(const char *text, Position *position, const char **rest)
{
    Fields fields;
    Position read;
    position_clear(&read);
    if (!split(text, &fields) || !put_pawns(fields.items[PLACEMENT_FIELD], &read))
        return false;
    const char *side = fields.items[SIDE_FIELD];
    if ((strcmp(side, "w") != 0 && strcmp(side, "b") != 0) ||
        strcmp(fields.items[CASTLING_FIELD], "-") != 0 || strcmp(fields.items[EN_PASSANT_FIELD], "-") != 0)
        return false;
    read.side_to_move = *side == 'w' ? WHITE : BLACK;
    position_refresh(&read);
    *position = read;
    /* Counters say nothing of a skeleton. */
    const char *at = fields.rest + strspn(fields.rest, " \t");
    while (*at >= '0' && *at <= '9') {
        at += strcspn(at, " \t");
        at += strspn(at, " \t");
    }
    *rest = at;
    return true;
}
