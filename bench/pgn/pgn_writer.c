#include "bench/pgn/pgn_writer.h"

#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

#include <string.h>

enum { LINE_WIDTH = 79 };

static const char spaces[] = " \t\r\n";

/* Makes room for a token of so many bytes, after a space or on a new line, and writes what
 * stands before it. */
static void begin_token(PgnWriter *writer, size_t length)
{
    size_t size = strlen(writer->prefix) + length;
    /* The parenthesis that ends a variation must find room behind its last token. */
    size_t width = writer->depth > 0 ? LINE_WIDTH - 1 : LINE_WIDTH;
    if (writer->column > 0 && writer->column + 1 + size > width) {
        fputc('\n', writer->out);
        writer->column = 0;
    } else if (writer->column > 0) {
        fputc(' ', writer->out);
        writer->column++;
    }
    fputs(writer->prefix, writer->out);
    writer->prefix[0] = '\0';
    writer->column += size;
}

static void write_text(PgnWriter *writer, const char *token)
{
    begin_token(writer, strlen(token));
    fputs(token, writer->out);
}

void pgn_write_tag(PgnWriter *writer, const char *name, const char *value)
{
    fprintf(writer->out, "[%s \"", name);
    for (; *value != '\0'; value++) {
        if (*value == '"' || *value == '\\')
            fputc('\\', writer->out);
        fputc(*value, writer->out);
    }
    fputs("\"]\n", writer->out);
}

void pgn_write_roster(PgnWriter *writer, const PgnRoster *roster)
{
    const char *const tags[][2] = {{"Event", roster->event},  {"Site", roster->site},
                                   {"Date", roster->date},    {"Round", roster->round},
                                   {"White", roster->white},  {"Black", roster->black},
                                   {"Result", roster->result}};
    for (size_t i = 0; i < sizeof tags / sizeof *tags; i++)
        pgn_write_tag(writer, tags[i][0], tags[i][1] != NULL ? tags[i][1] : "?");
}

void pgn_write_start(PgnWriter *writer, const Position *start)
{
    char fen[FEN_SIZE];
    fen_write(start, fen);
    if (strcmp(fen, FEN_START) == 0)
        return;
    pgn_write_tag(writer, "SetUp", "1");
    pgn_write_tag(writer, "FEN", fen);
}

void pgn_begin_moves(PgnWriter *writer)
{
    fputc('\n', writer->out);
    writer->column = 0;
    writer->wants_number = true;
}

void pgn_write_move(PgnWriter *writer, const Position *position, Move move)
{
    char text[MOVE_TEXT_SIZE] = "--", number[16];
    bool white = position_turn(position) == WHITE;
    if (white || writer->wants_number) {
        snprintf(number, sizeof number, "%d%s", position->fullmove, white ? "." : "...");
        write_text(writer, number);
    }
    if (move != NO_MOVE)
        san_write(position, move, text);
    write_text(writer, text);
    writer->wants_number = false;
}

void pgn_write_glyph(PgnWriter *writer, int glyph)
{
    char text[16];
    if (glyph == 0)
        return;
    snprintf(text, sizeof text, "$%d", glyph);
    write_text(writer, text);
}

/* A line that begins with a percent sign is escaped (section 6), one with a bracket can look like a tag. */
static bool may_begin_line(const char *word)
{
    return *word != '%' && *word != '[';
}

/* Words of a comment that must stay on one line, as one token. */
typedef struct Words {
    size_t length; /* in the text */
    size_t gap;    /* white space behind them */
    size_t width;  /* as they are written, single spaces between them */
} Words;

static Words next_words(const char *text)
{
    Words words = {0};
    for (bool more = true; more;) {
        const char *word = text + words.length + words.gap;
        size_t length = strcspn(word, spaces);
        words.width += length + (words.length > 0);
        words.length += words.gap + length;
        words.gap = strspn(word + length, spaces);
        more = word[length + words.gap] != '\0' && !may_begin_line(word + length + words.gap);
    }
    return words;
}

static void write_words(PgnWriter *writer, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        bool space = strchr(spaces, text[i]) != NULL;
        if (!space || strchr(spaces, text[i - 1]) == NULL)
            fputc(space ? ' ' : text[i] == '}' ? ')' : text[i], writer->out);
    }
}

void pgn_write_comment(PgnWriter *writer, const char *text)
{
    text += strspn(text, spaces);
    if (*text == '\0')
        return;
    strcat(writer->prefix, "{");
    while (*text != '\0') {
        Words words = next_words(text);
        bool last = text[words.length + words.gap] == '\0';
        begin_token(writer, words.width + last);
        write_words(writer, text, words.length);
        if (last)
            fputc('}', writer->out);
        text += words.length + words.gap;
    }
    writer->wants_number = true;
}

void pgn_begin_variation(PgnWriter *writer)
{
    strcat(writer->prefix, "(");
    writer->depth++;
    writer->wants_number = true;
}

void pgn_end_variation(PgnWriter *writer)
{
    fputc(')', writer->out);
    writer->column++;
    writer->depth--;
    writer->wants_number = true;
}

void pgn_end_game(PgnWriter *writer, const char *result)
{
    write_text(writer, result);
    fputs("\n\n", writer->out);
    writer->column = 0;
}
