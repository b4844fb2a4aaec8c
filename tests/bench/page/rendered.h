/* What the page makers of bench/ write, caught in memory, for the tests that read it. */
#ifndef PAWNVANE_TESTS_RENDERED_H
#define PAWNVANE_TESTS_RENDERED_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

typedef struct Rendered {
    FILE *out;
    char *text; /* after rendered_close() */
    size_t size;
} Rendered;

static inline FILE *rendered_open(Rendered *rendered)
{
    *rendered = (Rendered){0};
    rendered->out = open_memstream(&rendered->text, &rendered->size);
    assert_non_null(rendered->out);
    return rendered->out;
}

static inline const char *rendered_close(Rendered *rendered)
{
    assert_int_equal(fclose(rendered->out), 0);
    return rendered->text;
}

static inline int count_of(const char *text, const char *part)
{
    int count = 0;
    for (const char *at = strstr(text, part); at != NULL; at = strstr(at + 1, part))
        count++;
    return count;
}

/* Elements that have no end tag (WHATWG HTML, section 13.1.2). */
static inline int is_void_element(const char *name)
{
    return strcmp(name, "meta") == 0 || strcmp(name, "br") == 0 || strcmp(name, "!DOCTYPE") == 0;
}

/* Fails unless each tag is closed, in the order that HTML and XML ask for, and every < and & is markup. */
static inline void assert_well_formed(const char *text)
{
    static char open[64][32];
    int depth = 0;
    for (const char *s = text; *s != '\0'; s++) {
        if (*s == '&') {
            size_t length = strcspn(s, "; <");
            if (s[length] != ';' || length > 8)
                fail_msg("a bare & at: %.60s", s);
        }
        if (*s != '<')
            continue;
        char name[32] = "";
        int closing = s[1] == '/';
        sscanf(s + 1 + closing, "%31[^ />\n]", name);
        const char *end = strchr(s, '>');
        if (end == NULL || name[0] == '\0')
            fail_msg("a bare < at: %.60s", s);
        if (memchr(s + 1, '<', (size_t)(end - s - 1)) != NULL)
            fail_msg("a tag without end at: %.60s", s);
        if (closing) {
            if (depth == 0 || strcmp(open[depth - 1], name) != 0)
                fail_msg("</%s> closes <%s> at: %.60s", name, depth > 0 ? open[depth - 1] : "", s);
            depth--;
        } else if (end[-1] != '/' && !is_void_element(name)) {
            assert_true(depth < 64);
            memcpy(open[depth++], name, sizeof name);
        }
        if (strcmp(name, "style") == 0 && !closing) {
            end = strstr(end, "</style>");
            assert_non_null(end);
            end--;
        }
        s = end;
    }
    assert_int_equal(depth, 0);
}

#endif
