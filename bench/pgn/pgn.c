#include "bench/pgn/pgn.h"
#include "bench/base/complaint.h"
#include "bench/pgn/foreign_text.h"
#include "bench/pgn/pgn_glyph.h"
#include "bench/pgn/pgn_sign.h"
#include "bench/pgn/pgn_start.h"
#include "engine/rules/notation.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

const char *const pgn_result_texts[PGN_RESULT_COUNT] = {"*", "1-0", "0-1", "1/2-1/2"};

/* A line that a variation has been entered from. */
typedef struct Branch {
    Position position, before;
    int plies;
} Branch;

typedef struct Reader {
    const PgnBlock *block;
    const PgnVisitor *visitor;
    bool counting; /* games, and nothing else */
    const char *at, *end;
    const char *counted; /* `line` is the line of this place */
    size_t line;
    const char *checked; /* tokens before this place can be read */
    bool telling;        /* the game is neither left out nor broken */
    Position initial;
    PgnGame game;
    bool moved;      /* in this line, which may be a variation: there is a move to stand in for */
    Position before; /* that move */
    int depth;       /* of variations */
    Branch branches[PGN_VARIATIONS_MAX];
    const char *variation_end; /* of the outermost one */
} Reader;

/* What a byte of movetext can begin. */
typedef enum Kind {
    KIND_BAD, /* the first, so that every byte that is not listed is bad */
    KIND_END,
    KIND_BLANK,
    KIND_WORD,
    KIND_DIGIT,
    KIND_SIGN,
    KIND_HIGH, /* what pgn_sign.h is about */
    KIND_COMMENT,
    KIND_LINE_COMMENT,
    KIND_ESCAPE,
    KIND_OPEN,
    KIND_CLOSE,
    KIND_GLYPH,
    KIND_MARK,
    KIND_STAR,
    KIND_TAG
} Kind;

static uint8_t kinds[256];

typedef struct KindBytes {
    Kind kind;
    const char *bytes;
} KindBytes;

/* Bytes from 80 (hexadecimal) on are high. 1A ended files of old. */
static const KindBytes kind_bytes[] = {
    {KIND_BLANK, " \t\n\v\f\r.\x1A"},
    {KIND_WORD, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"},
    {KIND_DIGIT, "0123456789"},
    {KIND_SIGN, "+-=/#~"},
    {KIND_COMMENT, "{"},
    {KIND_LINE_COMMENT, ";"},
    {KIND_ESCAPE, "%"},
    {KIND_OPEN, "("},
    {KIND_CLOSE, ")"},
    {KIND_GLYPH, "$"},
    {KIND_MARK, "!?"},
    {KIND_STAR, "*"},
    {KIND_TAG, "["},
};

/* Runs before main(), so that no caller can forget it. */
__attribute__((constructor)) static void fill_kinds(void)
{
    kinds[0] = KIND_END;
    for (int byte = 0x80; byte <= 0xFF; byte++)
        kinds[byte] = KIND_HIGH;
    for (size_t i = 0; i < sizeof kind_bytes / sizeof *kind_bytes; i++)
        for (const char *byte = kind_bytes[i].bytes; *byte; byte++)
            kinds[(unsigned char)*byte] = (uint8_t)kind_bytes[i].kind;
}

static Kind kind_at(const char *at)
{
    return kinds[(unsigned char)*at];
}

static bool is_alphanumeric(char c)
{
    Kind kind = kinds[(unsigned char)c];
    return kind == KIND_WORD || kind == KIND_DIGIT;
}

static bool begins_with(const Reader *r, const char *word)
{
    size_t length = strlen(word);
    return (size_t)(r->end - r->at) >= length && memcmp(r->at, word, length) == 0;
}

void pgn_complain(const char *file, const PgnFault *fault, const char *consequence)
{
    if (fault->ply > 0)
        complain(file, (long)fault->line, "game %zu, ply %d: %s; %s", fault->game, fault->ply, fault->text,
                 consequence);
    else
        complain(file, (long)fault->line, "game %zu: %s; %s", fault->game, fault->text, consequence);
}

/* ------------------------------------------------------------------------------------------- telling */

/* Places must be asked for in the order of the text. */
static size_t line_of(Reader *r, const char *at)
{
    size_t lines = 0;
    for (const char *c = r->counted; c < at; c++)
        lines += *c == '\n';
    r->counted = at;
    r->line += lines;
    return r->line;
}

/* Whether the file ends with the word that reading has come to. */
static bool is_last_word(const Reader *r)
{
    const char *at = r->at;
    while (at < r->end && kind_at(at) != KIND_BLANK)
        at++;
    return r->block->last && at == r->end;
}

static void keep_as_comment(Reader *r, const char *at);

/* The game is broken at that place, or the variation that is being read is odd. Returns whether the game can
 * be read on. */
__attribute__((format(printf, 4, 5))) static bool break_game(Reader *r, const char *at, bool in_moves,
                                                             const char *format, ...)
{
    const bool variation = r->depth > 0;
    if (!r->telling)
        return false;
    r->telling = variation;
    void (*tell)(void *, const PgnGame *, const PgnFault *) =
        variation ? r->visitor->odd_variation : r->visitor->broken;
    PgnFault fault = {.line = line_of(r, at),
                      .game = r->game.number,
                      .ply = in_moves ? r->game.plies + 1 : 0,
                      .cut = !variation && is_last_word(r)};
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(fault.text, PGN_FAULT_SIZE, format, arguments);
    va_end(arguments);
    if (tell != NULL)
        tell(r->visitor->context, &r->game, &fault);
    if (variation)
        keep_as_comment(r, at);
    return variation;
}

enum { QUOTE_SIZE = 40 };

/* A piece of the text for a message. */
static const char *quote(PgnText text, char buffer[QUOTE_SIZE])
{
    pgn_text_copy(text, buffer, QUOTE_SIZE);
    return buffer;
}

static bool break_at_byte(Reader *r, bool in_moves, const char *expected)
{
    unsigned char byte = (unsigned char)*r->at;
    if (byte > ' ' && byte < 0x7F)
        return break_game(r, r->at, in_moves, "'%c' cannot stand here; expected %s", byte, expected);
    return break_game(r, r->at, in_moves, "byte %02X (hexadecimal) cannot stand here; expected %s", byte,
                      expected);
}

static void tell_glyph(Reader *r, int glyph)
{
    if (r->telling && r->visitor->glyph != NULL)
        r->visitor->glyph(r->visitor->context, &r->game, glyph);
}

static void tell_comment(Reader *r, const char *start, const char *end)
{
    if (r->telling && r->visitor->comment != NULL)
        r->visitor->comment(r->visitor->context, &r->game, (PgnText){start, (size_t)(end - start)});
}

/* Bytes of the letter, digit or figurine that stands there, 0 for everything else. */
static size_t word_character(const char *at)
{
    size_t length;
    if (kind_at(at) != KIND_HIGH)
        return is_alphanumeric(*at);
    return pgn_sign_kind(at, &length) == PGN_SIGN_FIGURINE ? length : 0;
}

/* Where a run of letters, digits and signs that no blank divides ends. *good: no sign in it is strange, and
 * none stands before a move, where it could be what is left of a letter of that; behind a move, signs of
 * ASCII may be followed by another one. */
static const char *token_end(const char *at, bool *good)
{
    bool behind_sign = false, behind_move = false;
    *good = true;
    for (;;) {
        size_t length = 1;
        Kind kind = kind_at(at);
        PgnSignKind sign = kind == KIND_HIGH ? pgn_sign_kind(at, &length) : PGN_SIGN_BLANK;
        if (kind == KIND_WORD || sign == PGN_SIGN_FIGURINE) {
            *good &= !behind_sign;
            behind_move = true;
        } else if (sign != PGN_SIGN_BLANK) {
            *good &= sign != PGN_SIGN_STRANGE;
            behind_sign = true;
        } else if (kind == KIND_SIGN || kind == KIND_MARK) {
            behind_sign |= !behind_move;
        } else if (kind != KIND_DIGIT) {
            return at;
        }
        at += length;
    }
}

/* Whether the token that goes on or begins there can be read as it stands; it is looked at only once. */
static bool is_good_token(Reader *r, const char *start, const char **end)
{
    bool good = true;
    if (start >= r->checked)
        r->checked = *end = token_end(start, &good);
    return good;
}

static bool check_token(Reader *r, const char *start)
{
    const char *end;
    char word[QUOTE_SIZE];
    /* It is looked at in any case, so that who counts the games sees the same ones. */
    if (is_good_token(r, start, &end) || !r->telling)
        return true;
    break_game(r, start, true, "\"%s\" has a sign that belongs to no move; expected a legal move",
               quote((PgnText){start, (size_t)(end - start)}, word));
    return false;
}

/* ------------------------------------------------------------------------------ what may stand anywhere */

static const char *line_end(const Reader *r)
{
    const char *at = r->at;
    while (at < r->end && *at != '\n' && *at != '\r')
        at++;
    return at;
}

/* A % escapes its line only as the first character of it. */
static bool skip_escape(Reader *r)
{
    if (r->at > r->block->text && r->at[-1] != '\n' && r->at[-1] != '\r')
        return false;
    r->at = line_end(r);
    return true;
}

/* Whether a new game begins in a piece of text, which then reaches only up to there. */
static bool game_begins_in(const Reader *r, const char *start, const char **end)
{
    for (const char *at = start; (at = memchr(at, '[', (size_t)(*end - at))) != NULL; at++) {
        if (pgn_game_begins(r->block->text, r->end, at)) {
            *end = at;
            return true;
        }
    }
    return false;
}

/* Reads a comment in braces. False, with `at` where reading can go on, if it is not closed. Looks at a little
 * at a time: where many comments are open, none must be searched for to the end of the file. */
static bool read_comment(Reader *r, PgnText *text)
{
    enum { WINDOW = 1 << 10 };
    const char *start = r->at + 1;
    for (const char *at = start;;) {
        size_t left = (size_t)(r->end - at), size = left < WINDOW ? left : WINDOW;
        const char *close = memchr(at, '}', size), *end = close != NULL ? close : at + size;
        bool cut = game_begins_in(r, at, &end);
        *text = (PgnText){start, (size_t)(end - start)};
        r->at = end;
        if (cut || (close == NULL && end == r->end))
            return false;
        if (close != NULL) {
            r->at++;
            return true;
        }
        at = end;
    }
}

static bool read_main_comment(Reader *r)
{
    const char *start = r->at;
    PgnText text;
    if (!read_comment(r, &text))
        return break_game(r, start, true, "this comment is not closed; expected }");
    tell_comment(r, text.start, text.start + text.length);
    return true;
}

/* --------------------------------------------------------------------------------------------------- tags */

static const char *skip_blanks(const char *at)
{
    while (kind_at(at) == KIND_BLANK)
        at++;
    return at;
}

bool pgn_tag(const PgnGame *game, const char *name, PgnText *value)
{
    for (int i = 0; i < game->tag_count; i++) {
        if (pgn_text_is(game->tags[i].name, name)) {
            *value = game->tags[i].value;
            return true;
        }
    }
    return false;
}

/* A game that begins in the middle of a line, behind a result, may be followed by one that begins as games
 * should: everywhere else, a tag pair that follows a tag pair belongs to the same game. */
static bool is_odd_beginning(const Reader *r)
{
    const char *at = r->at;
    while (at > r->block->text && (at[-1] == ' ' || at[-1] == '\t'))
        at--;
    return at > r->block->text && at[-1] != '\n' && at[-1] != '\r';
}

/* Reads the tag pairs up to the movetext or to a second Event, which begins another game. */
static bool read_tags(Reader *r)
{
    bool event = false, odd = is_odd_beginning(r);
    for (;;) {
        PgnTag tag;
        r->at = skip_blanks(r->at);
        if (*r->at == ';') {
            r->at = line_end(r);
            continue;
        }
        if (*r->at == '%' && skip_escape(r))
            continue;
        if (*r->at != '[')
            return true;
        const char *start = r->at, *next = pgn_read_tag(start, &tag);
        if (next == NULL) {
            /* The whole line has been read; but behind the bracket a game may begin. */
            r->at = line_end(r);
            break_game(r, start, false, "this is no tag pair; expected [Name \"value\"] on one line");
            r->at = start + 1;
            return false;
        }
        bool is_event = pgn_text_is(tag.name, "Event");
        if (event && is_event)
            return true;
        if ((odd || is_event) && r->game.tag_count > 0 && pgn_game_begins(r->block->text, r->end, r->at))
            return true;
        event |= is_event;
        if (r->game.tag_count < PGN_TAGS_MAX)
            r->game.tags[r->game.tag_count++] = tag;
        r->at = next;
    }
}

static bool set_up(Reader *r)
{
    PgnStartTags tags = {0};
    char error[PGN_START_ERROR_SIZE];
    bool unusual = pgn_tag(&r->game, "Variant", &tags.variant);
    unusual |= pgn_tag(&r->game, "FEN", &tags.fen);
    r->game.start = r->initial;
    if (unusual) {
        pgn_tag(&r->game, "SetUp", &tags.set_up);
        const PgnText *wrong = pgn_read_start(&tags, &r->game.start, error);
        if (wrong != NULL)
            return break_game(r, wrong->start, false, "%s", error);
    }
    r->game.position = r->game.start;
    return true;
}

/* --------------------------------------------------------------------------------------------- movetext */

/* Plays a move; NO_MOVE is a null move. */
static void play_move(Reader *r, Move move)
{
    r->before = r->game.position;
    r->moved = true;
    r->game.plies++;
    if (move == NO_MOVE)
        position_pass(&r->game.position);
    else
        position_play(&r->game.position, move);
    if (r->visitor->move != NULL)
        r->visitor->move(r->visitor->context, &r->game, move);
}

static void play(Reader *r, PgnText text)
{
    Move move;
    if (!r->telling)
        return;
    NotationError error = san_read(&r->game.position, text.start, text.length, &move);
    if (error) {
        char word[QUOTE_SIZE], hint[FOREIGN_HINT_SIZE];
        break_game(r, text.start, true, "\"%s\": %s; expected a legal move%s", quote(text, word),
                   notation_error_text(error), german_move_hint(text.start, text.length, hint));
        return;
    }
    play_move(r, move);
}

static void play_null_move(Reader *r, const char *at)
{
    if (!r->telling)
        return;
    if (position_in_check(&r->game.position)) {
        break_game(r, at, true, "a null move in check; expected a legal move");
        return;
    }
    play_move(r, NO_MOVE);
}

/* Where a word ends. Signs belong to it only where a move can have them, so that "Nf3+-" and "Nf3=" are moves
 * with something behind. */
static const char *word_end(const char *at)
{
    for (;;) {
        size_t length;
        while ((length = word_character(at)) > 0)
            at += length;
        bool joins = (*at == '-' || *at == ':' || *at == '=') && word_character(at + 1) > 0;
        if (!joins)
            break;
        at++;
    }
    bool bracket = *at == '(' && (at[-1] == '1' || at[-1] == '8') && kind_at(at + 1) != KIND_DIGIT;
    size_t man = bracket ? word_character(at + 1) : 0;
    return man > 0 && at[1 + man] == ')' ? at + man + 2 : at;
}

/* Words that are no moves. */
static bool skip_word(Reader *r)
{
    static const char *const notes[] = {"e.p.", "ep"};
    for (size_t i = 0; i < sizeof notes / sizeof *notes; i++) {
        if (begins_with(r, notes[i]) && !is_alphanumeric(r->at[strlen(notes[i])])) {
            r->at += strlen(notes[i]);
            return true;
        }
    }
    return false;
}

static void read_word(Reader *r)
{
    const char *start = r->at;
    if (*start == 'e' && skip_word(r))
        return;
    r->at = word_end(start);
    Kind next = kind_at(r->at);
    if ((next == KIND_HIGH || next == KIND_SIGN || next == KIND_MARK) && !check_token(r, start))
        return;
    PgnText text = {start, (size_t)(r->at - start)};
    if (pgn_text_is(text, "Z0"))
        play_null_move(r, start);
    else
        play(r, text);
}

typedef struct ResultText {
    const char *text;
    PgnResult result;
} ResultText;

/* Longer texts before their beginnings. Draws are also written with the sign for one half, as UTF-8 and as
 * Latin-1. */
static const ResultText result_texts[] = {
    {"1-0", PGN_WHITE_WINS},         {"0-1", PGN_BLACK_WINS}, {"1/2-1/2", PGN_DRAW}, {"1/2", PGN_DRAW},
    {"\xC2\xBD-\xC2\xBD", PGN_DRAW}, {"\xBD-\xBD", PGN_DRAW}, {"*", PGN_NO_RESULT},
};

/* Reads a result, if one stands here. In a variation it is a remark. */
static bool read_result(Reader *r, PgnResult *result)
{
    const char *start = r->at;
    for (size_t i = 0; i < sizeof result_texts / sizeof *result_texts; i++) {
        const ResultText *known = &result_texts[i];
        if (begins_with(r, known->text)) {
            r->at += strlen(known->text);
            if (r->depth == 0) {
                *result = known->result;
                return true;
            }
            if (known->result != PGN_NO_RESULT)
                tell_comment(r, start, r->at);
            return false;
        }
    }
    return false;
}

static bool is_castling_with_zeros(const char *at)
{
    return at[0] == '0' && at[1] == '-' && at[2] == '0';
}

/* A move number, a result (true) or castling. */
static bool read_digits(Reader *r)
{
    const char *at = r->at;
    bool may_be_result = (at[0] == '0' || at[0] == '1') && (at[1] == '-' || at[1] == '/');
    if (is_castling_with_zeros(at)) {
        read_word(r);
        return false;
    }
    if (may_be_result && read_result(r, &r->game.result))
        return true;
    while (kind_at(r->at) == KIND_DIGIT)
        r->at++;
    return false;
}

/* A sign of evaluation as its glyph, else as a comment. Where the move before gives check, a first plus may
 * say no more than that. */
static void tell_sign(Reader *r, PgnText sign)
{
    bool check = sign.length > 1 && *sign.start == '+' && r->telling && position_in_check(&r->game.position);
    int glyph = check ? pgn_glyph_of((PgnText){sign.start + 1, sign.length - 1}) : 0;
    if (glyph == 0)
        glyph = pgn_glyph_of(sign);
    if (glyph > 0)
        tell_glyph(r, glyph);
    else if (strspn(sign.start, "+#") < sign.length)
        tell_comment(r, sign.start, sign.start + sign.length);
}

/* A null move, or a sign of evaluation. */
static void read_sign(Reader *r)
{
    const char *at = r->at;
    while (kind_at(r->at) == KIND_SIGN)
        r->at++;
    if (!check_token(r, at))
        return;
    if (r->at - at == 2 && at[0] == '-' && at[1] == '-')
        play_null_move(r, at);
    else
        tell_sign(r, (PgnText){at, (size_t)(r->at - at)});
}

/* What begins with a byte beyond ASCII: a move, the sign of a draw (true), a blank, a sign of evaluation. */
static bool read_high(Reader *r)
{
    const char *at = r->at;
    size_t length;
    PgnSignKind kind = pgn_sign_kind(at, &length);
    if (kind == PGN_SIGN_FIGURINE) {
        read_word(r);
        return false;
    }
    if (read_result(r, &r->game.result))
        return true;
    if (r->at > at)
        return false;
    r->at += length;
    if (kind != PGN_SIGN_BLANK && check_token(r, at) && kind == PGN_SIGN_REMARK)
        tell_sign(r, (PgnText){at, length});
    return false;
}

static bool read_glyph(Reader *r)
{
    int glyph;
    size_t length = pgn_glyph_read(r->at, &glyph);
    if (length == 0)
        return break_game(r, r->at, true, "no number follows $; expected one from 0 to 255");
    r->at += length;
    if (glyph >= 0)
        tell_glyph(r, glyph);
    return true;
}

static void read_marks(Reader *r)
{
    const char *start = r->at;
    while (kind_at(r->at) == KIND_MARK)
        r->at++;
    if (!check_token(r, start))
        return;
    int glyph = pgn_glyph_of((PgnText){start, (size_t)(r->at - start)});
    if (glyph > 0)
        tell_glyph(r, glyph);
    else
        tell_comment(r, start, r->at);
}

/* Reads over a variation with all that is nested in it. */
static bool skip_variation(Reader *r)
{
    const char *start = r->at;
    size_t depth = 0;
    PgnText comment;
    for (;;) {
        switch (kind_at(r->at)) {
        case KIND_OPEN:
            depth++;
            r->at++;
            break;
        case KIND_CLOSE:
            r->at++;
            if (--depth == 0)
                return true;
            break;
        case KIND_COMMENT: {
            const char *brace = r->at;
            if (!read_comment(r, &comment))
                return break_game(r, brace, true, "this comment is not closed; expected }");
            break;
        }
        case KIND_LINE_COMMENT:
            r->at = line_end(r);
            break;
        case KIND_ESCAPE:
            if (!skip_escape(r))
                return break_at_byte(r, true, "moves");
            break;
        case KIND_END:
            if (r->at < r->end)
                return break_at_byte(r, true, "moves");
            return break_game(r, start, true, "this variation is not closed; expected )");
        case KIND_TAG:
            return break_game(r, start, true, "this variation is not closed before a [; expected )");
        case KIND_BAD:
            return break_at_byte(r, true, "moves");
        default:
            r->at++;
        }
    }
}

/* Goes from a place within a variation to the parenthesis that ends it, which is there: variations that are
 * told have been read over before. */
static void find_close(Reader *r)
{
    PgnText comment;
    while (kind_at(r->at) != KIND_CLOSE) {
        if (kind_at(r->at) == KIND_OPEN)
            skip_variation(r);
        else if (kind_at(r->at) == KIND_COMMENT)
            read_comment(r, &comment);
        else if (kind_at(r->at) == KIND_LINE_COMMENT)
            r->at = line_end(r);
        else if (kind_at(r->at) != KIND_ESCAPE || !skip_escape(r))
            r->at++;
    }
}

/* What cannot be read of a variation is not lost. */
static void keep_as_comment(Reader *r, const char *at)
{
    r->at = at;
    find_close(r);
    tell_comment(r, at, r->at);
}

/* Whether the next thing that is neither blank nor comment nor number is a move, good or bad. */
static bool move_follows(Reader *r)
{
    PgnText comment;
    bool good;
    for (;;) {
        size_t length = 1;
        Kind kind = kind_at(r->at);
        bool blank =
            kind == KIND_BLANK || (kind == KIND_HIGH && pgn_sign_kind(r->at, &length) == PGN_SIGN_BLANK);
        if (kind == KIND_COMMENT)
            read_comment(r, &comment);
        else if (kind == KIND_LINE_COMMENT)
            r->at = line_end(r);
        else if (blank || (kind == KIND_DIGIT && !is_castling_with_zeros(r->at)))
            r->at += length;
        else
            break;
    }
    token_end(r->at, &good);
    return !good || kind_at(r->at) == KIND_DIGIT || word_character(r->at) > 0 || begins_with(r, "--");
}

/* Enters a variation, or keeps what is none, like the "(=)" of an offered draw, as a comment. False if the
 * game is broken. */
static bool enter_variation(Reader *r)
{
    const char *start = r->at;
    if (r->depth == 0) {
        if (!skip_variation(r))
            return false;
        r->variation_end = r->at;
    }
    r->at = start + 1;
    bool good = r->moved && r->depth < PGN_VARIATIONS_MAX && move_follows(r);
    r->at = start + 1;
    if (!good) {
        find_close(r);
        r->at++;
        tell_comment(r, start, r->at);
        return true;
    }
    r->branches[r->depth++] = (Branch){r->game.position, r->before, r->game.plies};
    r->game.position = r->before;
    r->game.plies--;
    r->moved = false;
    r->visitor->begin_variation(r->visitor->context, &r->game);
    return true;
}

static void leave_variation(Reader *r)
{
    const Branch *branch = &r->branches[--r->depth];
    r->at = r->depth > 0 ? r->at + 1 : r->variation_end;
    r->game.position = branch->position;
    r->game.plies = branch->plies;
    r->before = branch->before;
    r->moved = true;
    if (r->visitor->end_variation != NULL)
        r->visitor->end_variation(r->visitor->context, &r->game);
}

/* Reads up to the end of the game. False if it is broken so that its end must be searched. */
static bool read_movetext(Reader *r)
{
    PgnTag tag;
    for (;;) {
        switch (kind_at(r->at)) {
        case KIND_BLANK:
            r->at++;
            break;
        case KIND_WORD:
            read_word(r);
            break;
        case KIND_DIGIT:
            if (read_digits(r))
                return true;
            break;
        case KIND_SIGN:
            read_sign(r);
            break;
        case KIND_HIGH:
            if (read_high(r))
                return true;
            break;
        case KIND_STAR:
            if (read_result(r, &r->game.result))
                return true;
            break;
        case KIND_COMMENT:
            if (!read_main_comment(r))
                return false;
            break;
        case KIND_LINE_COMMENT: {
            const char *start = r->at + 1;
            r->at = line_end(r);
            tell_comment(r, start, r->at);
            break;
        }
        case KIND_OPEN:
            if (r->telling && r->visitor->begin_variation != NULL ? !enter_variation(r) : !skip_variation(r))
                return false;
            break;
        case KIND_GLYPH:
            if (!read_glyph(r))
                return false;
            break;
        case KIND_MARK:
            read_marks(r);
            break;
        case KIND_ESCAPE:
            if (!skip_escape(r))
                return break_at_byte(r, true, "a move");
            break;
        case KIND_TAG:
            return pgn_read_tag(r->at, &tag) != NULL || break_at_byte(r, true, "a move");
        case KIND_END:
            if (r->at < r->end)
                return break_at_byte(r, true, "a move");
            if (r->block->torn)
                return break_game(r, r->at, true, "the game is too long; expected at most %d bytes",
                                  PGN_GAME_SIZE_MAX);
            if (r->block->last && r->game.tag_count > 0)
                return break_game(r, r->at, true,
                                  "the file ends before the result; expected a move or one "
                                  "of 1-0, 0-1, 1/2-1/2 and *");
            return true;
        case KIND_CLOSE:
            if (r->depth > 0) {
                leave_variation(r);
                break;
            }
            return break_at_byte(r, true, "a move");
        case KIND_BAD:
            return break_at_byte(r, true, "a move");
        }
    }
}

/* ------------------------------------------------------------------------------------------------ games */

/* Skips a sign of the kind that may follow a result, or a blank. False if a game begins there. */
static bool skip_sign(Reader *r)
{
    size_t length = 1;
    const char *end;
    PgnSignKind kind = kind_at(r->at) == KIND_HIGH ? pgn_sign_kind(r->at, &length) : PGN_SIGN_REMARK;
    if (kind == PGN_SIGN_FIGURINE || (kind != PGN_SIGN_BLANK && !is_good_token(r, r->at, &end))) {
        r->checked = r->at; /* the game will say so */
        return false;
    }
    r->at += length;
    return true;
}

/* Moves on to where a game begins: behind what may follow a result. False at the end. */
static bool find_game(Reader *r)
{
    PgnText comment;
    PgnResult result;
    for (;;) {
        switch (kind_at(r->at)) {
        case KIND_BLANK:
            r->at++;
            break;
        case KIND_MARK:
        case KIND_SIGN:
        case KIND_HIGH:
            if (begins_with(r, "--") || !skip_sign(r))
                return true;
            break;
        case KIND_STAR:
            r->at++;
            break;
        case KIND_GLYPH:
            do
                r->at++;
            while (kind_at(r->at) == KIND_DIGIT);
            break;
        case KIND_DIGIT:
            if (is_castling_with_zeros(r->at) || !read_result(r, &result))
                return true;
            break;
        case KIND_COMMENT:
            read_comment(r, &comment);
            break;
        case KIND_LINE_COMMENT:
            r->at = line_end(r);
            break;
        case KIND_ESCAPE:
            if (!skip_escape(r))
                return true;
            break;
        case KIND_END:
            return r->at < r->end;
        default:
            return true;
        }
    }
}

static void search_game(Reader *r)
{
    const char *end = r->end;
    game_begins_in(r, r->at, &end);
    r->at = end;
}

static PgnResult result_of_tag(const PgnGame *game)
{
    PgnText text;
    if (pgn_tag(game, "Result", &text))
        for (size_t i = 0; i < sizeof result_texts / sizeof *result_texts; i++)
            if (pgn_text_is(text, result_texts[i].text))
                return result_texts[i].result;
    return PGN_NO_RESULT;
}

static void read_game(Reader *r)
{
    PgnGame *game = &r->game;
    const PgnVisitor *visitor = r->visitor;
    const char *start = r->at;
    game->plies = 0;
    game->tag_count = 0;
    game->result = PGN_NO_RESULT;
    r->moved = false;
    r->depth = 0;
    r->telling = !r->counting;
    if (r->telling)
        game->line = line_of(r, start);
    if (!read_tags(r)) {
        search_game(r);
        return;
    }
    if (r->telling && set_up(r) && visitor->begin != NULL && !visitor->begin(visitor->context, game))
        r->telling = false;
    if (!read_movetext(r)) {
        search_game(r);
        return;
    }
    if (!r->telling)
        return;
    if (game->tag_count == 0 && game->plies == 0) {
        break_game(r, start, false, "there are neither tags nor moves; expected a game");
        return;
    }
    if (game->result == PGN_NO_RESULT)
        game->result = result_of_tag(game);
    if (visitor->end != NULL)
        visitor->end(visitor->context, game);
}

static size_t read_games(const PgnBlock *block, size_t first_game, const PgnVisitor *visitor)
{
    static const PgnVisitor nobody;
    Reader r = {.block = block,
                .visitor = visitor != NULL ? visitor : &nobody,
                .counting = visitor == NULL,
                .at = block->text,
                .end = block->text + block->length,
                .counted = block->text,
                .checked = block->text,
                .line = block->line};
    r.game.number = first_game;
    char error[PGN_START_ERROR_SIZE];
    pgn_read_start(&(PgnStartTags){0}, &r.initial, error);
    for (; find_game(&r); r.game.number++)
        read_game(&r);
    return r.game.number;
}

size_t pgn_read_block(const PgnBlock *block, size_t first_game, const PgnVisitor *visitor)
{
    return read_games(block, first_game, visitor);
}

size_t pgn_count_games(const PgnBlock *block)
{
    return read_games(block, 0, NULL);
}

bool pgn_read_file(const char *path, const PgnVisitor *visitor)
{
    PgnSource source;
    PgnBlock block;
    PgnFetched fetched = PGN_FAILED;
    size_t next = 1;
    if (!pgn_source_open(&source, path))
        return false;
    while ((fetched = pgn_source_next(&source, &block)) == PGN_FETCHED) {
        next = pgn_read_block(&block, next, visitor);
        pgn_block_free(&block);
    }
    pgn_source_close(&source);
    return fetched == PGN_END;
}
