#include "bench/forecast/forecast_values.h"
#include "engine/rules/notation.h"
#include "structure/structure.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { HEX_ROOM = 20 };

void bind_square(Binder *binder, int square)
{
    bind_text(binder, square == PS_NO_SQUARE ? NULL : ps_square_name(square));
}

void bind_hex(Binder *binder, uint64_t number)
{
    char text[HEX_ROOM];
    snprintf(text, sizeof text, "%016" PRIx64, number);
    bind_text(binder, text);
}

void forecast_write_move(Move move, char text[FORECAST_MOVE_ROOM])
{
    if (move == NO_MOVE)
        snprintf(text, FORECAST_MOVE_ROOM, "--");
    else if (move >> 12 == 0)
        snprintf(text, FORECAST_MOVE_ROOM, "%s%s", ps_square_name(move_from(move)),
                 ps_square_name(move_to(move)));
    else
        snprintf(text, FORECAST_MOVE_ROOM, "%s%s%d", ps_square_name(move_from(move)),
                 ps_square_name(move_to(move)), move >> 12);
}

int take_square(Fields *fields, bool may_be_null)
{
    const char *text = database_text(fields->statement, fields->place++);
    if (*text == '\0' && may_be_null)
        return PS_NO_SQUARE;
    int square = strlen(text) == 2 ? (int)square_read(text) : (int)NO_SQUARE;
    fields->good &= square != NO_SQUARE;
    return square;
}

uint64_t take_hex(Fields *fields)
{
    return strtoull(database_text(fields->statement, fields->place++), NULL, 16);
}

Move forecast_read_move(const char *text, size_t length, bool *good)
{
    if (length < 4)
        return NO_MOVE;
    Square from = square_read((const char[]){text[0], text[1], '\0'});
    Square to = square_read((const char[]){text[2], text[3], '\0'});
    *good &= from != NO_SQUARE && to != NO_SQUARE;
    return *good ? move_make(from, to, (MoveKind)(length > 4 ? atoi(text + 4) : 0)) : NO_MOVE;
}
