/* Text in HTML and SVG. */
#ifndef PAWNVANE_MARKUP_H
#define PAWNVANE_MARKUP_H

#include <stdarg.h>
#include <stdio.h>

/* Writes text so that it can stand between tags and in quoted attributes: & < > " ' become entities, control
 * characters are left out, and bytes that are not UTF-8 become the replacement character U+FFFD. */
void markup_text(FILE *out, const char *text);

/* The same for formatted text, like fprintf() and vfprintf(). */
__attribute__((format(printf, 2, 3))) void markup_print(FILE *out, const char *format, ...);
__attribute__((format(printf, 2, 0))) void markup_print_list(FILE *out, const char *format,
                                                             va_list arguments);

#endif
