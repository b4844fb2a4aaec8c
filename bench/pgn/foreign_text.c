#include "bench/pgn/foreign_text.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

bool is_utf16(const char *bytes, size_t length)
{
    if (length < 4)
        return false;
    if (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0)
        return true;
    bool odd = !bytes[0] && !bytes[2] && bytes[1] && bytes[3];
    bool even = bytes[0] && bytes[2] && !bytes[1] && !bytes[3];
    return odd || even;
}

/* The letters that differ. */
static const struct {
    char german, english;
    const char *name;
} letters[] = {{'S', 'N', "knight"}, {'L', 'B', "bishop"}, {'T', 'R', "rook"}, {'D', 'Q', "queen"}};

enum { LETTER_COUNT = sizeof letters / sizeof *letters };

static const char *hint_at(char letter, char hint[FOREIGN_HINT_SIZE])
{
    *hint = '\0';
    for (int i = 0; i < LETTER_COUNT; i++)
        if (letters[i].german == letter)
            snprintf(hint, FOREIGN_HINT_SIZE, " (%c is the German letter of the %s; in English it is %c)",
                     letter, letters[i].name, letters[i].english);
    return hint;
}

const char *german_move_hint(const char *move, size_t length, char hint[FOREIGN_HINT_SIZE])
{
    *hint = '\0';
    if (length >= 3 && strchr("abcdefgh12345678x:", move[1]) != NULL)
        hint_at(move[0], hint);
    /* A promotion: e8D, e8=D, with signs behind it. */
    for (size_t i = 2; *hint == '\0' && i < length; i++)
        if (strchr("18=", move[i - 1]) != NULL)
            hint_at(move[i], hint);
    return hint;
}

const char *german_placement_hint(const char *placement, size_t length, char hint[FOREIGN_HINT_SIZE])
{
    *hint = '\0';
    for (size_t i = 0; *hint == '\0' && i < length; i++) {
        if (strchr("KDTLSB12345678/", toupper((unsigned char)placement[i])) == NULL)
            return hint;
    }
    for (size_t i = 0; *hint == '\0' && i < length; i++)
        hint_at((char)toupper((unsigned char)placement[i]), hint);
    return hint;
}
