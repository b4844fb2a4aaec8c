/* Headers read as texts, for the tests that find each of their examples in their own source. */
#ifndef PAWNVANE_TESTS_HEADER_TEXT_H
#define PAWNVANE_TESTS_HEADER_TEXT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>

/* A whole file, to be freed. */
static inline char *read_whole(const char *path)
{
    enum { SIZE = 1 << 17 };
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    char *text = calloc(1, SIZE);
    assert_non_null(text);
    size_t size = fread(text, 1, SIZE - 1, file);
    assert_true(size > 0 && size < SIZE - 1);
    fclose(file);
    return text;
}

static inline void drop_spaces(char *text)
{
    char *to = text;
    for (; *text != '\0'; text++)
        if (!isspace((unsigned char)*text))
            *to++ = *text;
    *to = '\0';
}

#endif
