#include "bench/pgn/pgn_text.h"
#include "bench/base/utf8.h"

#include <stdint.h>
#include <string.h>

bool pgn_text_is(PgnText text, const char *word)
{
    return strlen(word) == text.length && memcmp(text.start, word, text.length) == 0;
}

/* ------------------------------------------------------------------------------------------- characters */

enum { REPLACEMENT = 0xFFFD, UTF8_MAX = 4 };

/* Bytes 80 to 9F of Windows-1252 (WHATWG Encoding Standard, from memory); 0 for those that mean nothing. */
static const uint16_t windows_characters[32] = {
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

static uint16_t character_of_byte(unsigned char byte)
{
    if (byte < 0x80 || byte > 0x9F)
        return byte;
    uint16_t character = windows_characters[byte - 0x80];
    return character ? character : REPLACEMENT;
}

/* Writes a character below U+10000; returns how many bytes. */
static int encode(uint16_t character, char out[UTF8_MAX])
{
    if (character < 0x80) {
        out[0] = (char)character;
        return 1;
    }
    if (character < 0x800) {
        out[0] = (char)(0xC0 | character >> 6);
        out[1] = (char)(0x80 | (character & 0x3F));
        return 2;
    }
    out[0] = (char)(0xE0 | character >> 12);
    out[1] = (char)(0x80 | (character >> 6 & 0x3F));
    out[2] = (char)(0x80 | (character & 0x3F));
    return 3;
}

/* The bytes of the character at `at`, 0 if it is not UTF-8 within the text. */
static int character_length(const char *at, const char *end)
{
    char bytes[UTF8_MAX + 1] = {0};
    size_t left = (size_t)(end - at);
    memcpy(bytes, at, left < UTF8_MAX ? left : UTF8_MAX);
    return utf8_length(bytes);
}

static bool is_utf8(PgnText text)
{
    const char *at = text.start, *end = at + text.length;
    while (at < end) {
        int length = (*at & 0x80) ? character_length(at, end) : 1;
        if (length == 0)
            return false;
        at += length;
    }
    return true;
}

static size_t copy_text(PgnText text, bool escapes, char *buffer, size_t size)
{
    const char *at = text.start, *end = at + text.length;
    bool utf8 = is_utf8(text);
    size_t length = 0;
    while (at < end) {
        char character[UTF8_MAX] = {' '};
        int bytes = 1, taken = 1;
        unsigned char c = (unsigned char)*at;
        if (escapes && c == '\\' && at + 1 < end && (at[1] == '"' || at[1] == '\\')) {
            character[0] = at[1];
            taken = 2;
        } else if (c >= 0x80 && utf8) {
            bytes = taken = character_length(at, end);
            memcpy(character, at, (size_t)bytes);
        } else if (c >= 0x20 && c != 0x7F) {
            bytes = encode(character_of_byte(c), character);
        }
        at += taken;
        if (character[0] == ' ' && length > 0 && buffer[length - 1] == ' ')
            continue;
        if (length + (size_t)bytes >= size)
            break;
        memcpy(buffer + length, character, (size_t)bytes);
        length += (size_t)bytes;
    }
    if (size > 0)
        buffer[length] = '\0';
    return length;
}

size_t pgn_text_copy(PgnText text, char *buffer, size_t size)
{
    return copy_text(text, true, buffer, size);
}

size_t pgn_comment_copy(PgnText text, char *buffer, size_t size)
{
    return copy_text(text, false, buffer, size);
}
