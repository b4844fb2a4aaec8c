#include "bench/pgn/pgn_sign.h"
#include "bench/base/utf8.h"
#include "engine/rules/notation.h"

#include <string.h>

typedef struct Sign {
    const char *text;
    PgnSignKind kind;
    int glyph;
} Sign;

/* The glyphs are those of section 10 of the standard; which signs stand for them is common practice, no
 * source. Single bytes are Windows-1252. */
static const Sign signs[] = {
    {"\xC2\xA0", PGN_SIGN_BLANK, 0},      /* no-break space */
    {"\xA0", PGN_SIGN_BLANK, 0},          /* the same */
    {"\xE2\x80\xAF", PGN_SIGN_BLANK, 0},  /* narrow no-break space */
    {"\xE3\x80\x80", PGN_SIGN_BLANK, 0},  /* ideographic space */
    {"\xEF\xBB\xBF", PGN_SIGN_BLANK, 0},  /* byte order mark */
    {"\xE2\x81\xA0", PGN_SIGN_BLANK, 0},  /* word joiner */
    {"\xE2\x80\xA6", PGN_SIGN_BLANK, 0},  /* ellipsis, behind the number of a move */
    {"\x85", PGN_SIGN_BLANK, 0},          /* the same */
    {"\xE2\x80\xBC", PGN_SIGN_REMARK, 3}, /* two exclamation marks */
    {"\xE2\x81\x87", PGN_SIGN_REMARK, 4}, /* two question marks */
    {"\xE2\x81\x89", PGN_SIGN_REMARK, 5}, /* exclamation, question */
    {"\xE2\x81\x88", PGN_SIGN_REMARK, 6}, /* question, exclamation */
    {"\xE2\x96\xA1", PGN_SIGN_REMARK, 7}, /* white square: no other move */
    {"=", PGN_SIGN_REMARK, 10},
    {"\xE2\x88\x9E", PGN_SIGN_REMARK, 13}, /* infinity: unclear */
    {"+=", PGN_SIGN_REMARK, 14},
    {"+/=", PGN_SIGN_REMARK, 14},
    {"\xE2\xA9\xB2", PGN_SIGN_REMARK, 14}, /* plus above equals */
    {"=+", PGN_SIGN_REMARK, 15},
    {"=/+", PGN_SIGN_REMARK, 15},
    {"\xE2\xA9\xB1", PGN_SIGN_REMARK, 15}, /* equals above plus */
    {"+/-", PGN_SIGN_REMARK, 16},
    {"\xC2\xB1", PGN_SIGN_REMARK, 16}, /* plus-minus */
    {"\xB1", PGN_SIGN_REMARK, 16},     /* the same */
    {"-/+", PGN_SIGN_REMARK, 17},
    {"\xE2\x88\x93", PGN_SIGN_REMARK, 17}, /* minus-plus */
    {"+-", PGN_SIGN_REMARK, 18},
    {"-+", PGN_SIGN_REMARK, 19},
    /* What has no glyph, or one for each side. */
    {"\xC2\xBD", PGN_SIGN_REMARK, 0},     /* one half: a draw, offered */
    {"\xBD", PGN_SIGN_REMARK, 0},         /* the same */
    {"\xE2\x80\xA0", PGN_SIGN_CHECK, 0},  /* dagger: check */
    {"\x86", PGN_SIGN_CHECK, 0},          /* the same */
    {"\xE2\x80\xA1", PGN_SIGN_CHECK, 0},  /* double dagger: mate */
    {"\x87", PGN_SIGN_CHECK, 0},          /* the same */
    {"\xE2\x86\x91", PGN_SIGN_REMARK, 0}, /* arrow up: initiative */
    {"\xE2\x86\x92", PGN_SIGN_REMARK, 0}, /* arrow right: attack */
    {"\xE2\x87\x86", PGN_SIGN_REMARK, 0}, /* two arrows: counterplay */
    {"\xE2\x96\xB3", PGN_SIGN_REMARK, 0}, /* triangle: with the idea */
    {"\xE2\x88\x86", PGN_SIGN_REMARK, 0}, /* the same */
    {"\xE2\x8C\x93", PGN_SIGN_REMARK, 0}, /* perspective: better is */
    {"\xE2\x8A\x95", PGN_SIGN_REMARK, 0}, /* circled plus: time trouble */
    {"\xE2\xA8\x80", PGN_SIGN_REMARK, 0}, /* circled dot: zugzwang */
};

static const Sign *find_sign(PgnText text)
{
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (pgn_text_is(text, signs[i].text))
            return &signs[i];
    return NULL;
}

/* U+2000 to U+200F: spaces of all widths, and marks that take no room. */
static bool is_general_space(const char *at)
{
    return memcmp(at, "\xE2\x80", 2) == 0 && (unsigned char)at[2] <= 0x8F;
}

PgnSignKind pgn_sign_kind(const char *at, size_t *length)
{
    char letter;
    size_t bytes = (size_t)utf8_length(at), figurine = figurine_read(at, strnlen(at, FIGURINE_SIZE), &letter);
    *length = figurine > 0 ? figurine : bytes > 0 ? bytes : 1;
    if (figurine > 0)
        return PGN_SIGN_FIGURINE;
    if (bytes == 3 && is_general_space(at))
        return PGN_SIGN_BLANK;
    const Sign *sign = find_sign((PgnText){at, *length});
    return sign != NULL ? sign->kind : PGN_SIGN_STRANGE;
}

int pgn_sign_glyph(PgnText text)
{
    const Sign *sign = find_sign(text);
    return sign != NULL ? sign->glyph : 0;
}
