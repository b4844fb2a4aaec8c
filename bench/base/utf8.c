#include "bench/base/utf8.h"

#include <stddef.h>
#include <stdint.h>

int utf8_length(const char *text)
{
    const unsigned char *s = (const unsigned char *)text;
    /* By the number of bytes behind the first: the first byte's fixed bits, and the least character that
     * needs them. */
    static const struct {
        unsigned char mask, bits;
        uint32_t least;
    } forms[] = {{0x80, 0x00, 0}, {0xE0, 0xC0, 0x80}, {0xF0, 0xE0, 0x800}, {0xF8, 0xF0, 0x10000}};
    for (int more = 0; more < 4; more++) {
        if ((s[0] & forms[more].mask) != forms[more].bits)
            continue;
        uint32_t character = s[0] & (unsigned char)~forms[more].mask;
        for (int i = 1; i <= more; i++) {
            if ((s[i] & 0xC0) != 0x80)
                return 0;
            character = character << 6 | (s[i] & 0x3F);
        }
        bool surrogate = character >= 0xD800 && character <= 0xDFFF;
        return character < forms[more].least || surrogate || character > 0x10FFFF ? 0 : more + 1;
    }
    return 0;
}

bool utf8_is_valid(const char *text)
{
    while (*text) {
        int length = utf8_length(text);
        if (length == 0)
            return false;
        text += length;
    }
    return true;
}

void utf8_hide_controls(char *text)
{
    for (unsigned char *at = (unsigned char *)text; *at; at++) {
        if (*at < ' ' || *at == 0x7F)
            *at = '?';
        else if (*at == 0xC2 && at[1] >= 0x80 && at[1] <= 0x9F)
            at[0] = at[1] = '?';
    }
}
