/* Text in UTF-8 (RFC 3629). */
#ifndef PAWNVANE_UTF8_H
#define PAWNVANE_UTF8_H

#include <stdbool.h>

/* The length in bytes of the character that begins there, 0 if the bytes are not well-formed. The end of the
 * string has length 1. */
int utf8_length(const char *text);

/* Whether the text is well-formed UTF-8: no stray bytes, no overlong forms, no surrogates, nothing above
 * U+10FFFF. */
bool utf8_is_valid(const char *text);

/* Puts ? in the place of each byte of a control character (U+0000 to U+001F, U+007F to U+009F: ISO/IEC 6429), so
 * that a text from elsewhere does not speak to the terminal, nor look like more than one line. */
void utf8_hide_controls(char *text);

#endif
