#include "bench/pgn/pgn_glyph.h"
#include "bench/pgn/pgn_sign.h"

enum { GLYPH_MAX = 255 };

size_t pgn_glyph_read(const char *at, int *glyph)
{
    size_t length = 1;
    *glyph = 0;
    for (; at[length] >= '0' && at[length] <= '9'; length++)
        *glyph = *glyph > GLYPH_MAX ? *glyph : 10 * *glyph + (at[length] - '0');
    if (*glyph > GLYPH_MAX)
        *glyph = -1;
    return length > 1 ? length : 0;
}

int pgn_glyph_of(PgnText text)
{
    /* The first six glyphs are these marks. */
    static const char *const marks[] = {"!", "?", "!!", "??", "!?", "?!"};
    for (int i = 0; i < 6; i++)
        if (pgn_text_is(text, marks[i]))
            return i + 1;
    return pgn_sign_glyph(text);
}
