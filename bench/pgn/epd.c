#include "bench/pgn/epd.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/base/utf8.h"
#include "bench/pgn/foreign_text.h"
#include "engine/rules/notation.h"

#include <ctype.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

static bool is_space(char c)
{
    return c == ' ' || c == '\t';
}

static const char *skip_spaces(const char *at)
{
    while (is_space(*at))
        at++;
    return at;
}

static bool fail(char error[EPD_ERROR_SIZE], const char *message)
{
    snprintf(error, EPD_ERROR_SIZE, "%s", message);
    return false;
}

static bool check_text(const char *text, char error[EPD_ERROR_SIZE])
{
    for (const char *c = text; *c; c++) {
        if (iscntrl((unsigned char)*c) && *c != '\t')
            return fail(error, "there is a control character in the line; expected text");
    }
    return utf8_is_valid(text) || fail(error, "the line is not UTF-8; expected text in that encoding");
}

static void copy_fields(const char *text, char fields[FEN_SIZE])
{
    size_t length = 0;
    for (int field = 0; field < 4; field++) {
        while (is_space(*text))
            text++;
        if (field > 0 && length < FEN_SIZE - 1)
            fields[length++] = ' ';
        while (*text && !is_space(*text) && length < FEN_SIZE - 1)
            fields[length++] = *text++;
    }
    fields[length] = '\0';
}

static FenError parse_fen(const char *text, Position *position, const char **rest)
{
    FenError error = fen_parse(text, false, position, rest);
    if (error == FEN_BAD_CASTLING_TEXT && fen_parse(text, true, position, rest) == FEN_OK)
        return FEN_OK;
    return error;
}

/* Reads operations from `at` and writes their words, each with its end of string, to `out`. */
typedef struct Reader {
    const char *at;
    char *out;
    EpdRecord *record;
    char *error;
} Reader;

static const char *copy_word(Reader *reader, size_t length)
{
    char *word = reader->out;
    memcpy(word, reader->at, length);
    word[length] = '\0';
    reader->out += length + 1;
    reader->at += length;
    return word;
}

static bool read_opcode(Reader *reader, const char **opcode)
{
    const char *at = reader->at;
    size_t length = isalpha((unsigned char)*at) ? 1 : 0;
    while (length > 0 && (isalnum((unsigned char)at[length]) || at[length] == '_'))
        length++;
    if (length == 0 || length > EPD_OPCODE_LENGTH_MAX || !(is_space(at[length]) || strchr(";", at[length]))) {
        snprintf(reader->error, EPD_ERROR_SIZE,
                 "\"%.40s\" is no operation; expected an opcode, a letter and up to %d letters, digits and "
                 "underscores",
                 at, EPD_OPCODE_LENGTH_MAX - 1);
        return false;
    }
    *opcode = copy_word(reader, length);
    if (epd_find(reader->record, *opcode)) {
        snprintf(reader->error, EPD_ERROR_SIZE, "the operation %s is there twice; expected it once", *opcode);
        return false;
    }
    return true;
}

static bool read_operand(Reader *reader)
{
    EpdRecord *record = reader->record;
    bool quoted = *reader->at == '"';
    reader->at += quoted;
    size_t length = strcspn(reader->at, quoted ? "\"" : " \t;");
    if (quoted && !reader->at[length]) {
        snprintf(reader->error, EPD_ERROR_SIZE, "the string \"%.40s has no end; expected a quote behind it",
                 reader->at);
        return false;
    }
    if (record->operand_count == EPD_OPERANDS_MAX) {
        snprintf(reader->error, EPD_ERROR_SIZE, "there are too many operands; expected %d at most",
                 EPD_OPERANDS_MAX);
        return false;
    }
    record->operands[record->operand_count++] = copy_word(reader, length);
    reader->at += quoted;
    return true;
}

static bool read_operation(Reader *reader)
{
    const char *start = reader->at;
    EpdRecord *record = reader->record;
    EpdOperation operation = {.first = record->operand_count};
    if (record->operation_count == EPD_OPERATIONS_MAX) {
        snprintf(reader->error, EPD_ERROR_SIZE, "there are too many operations; expected %d at most",
                 EPD_OPERATIONS_MAX);
        return false;
    }
    if (!read_opcode(reader, &operation.opcode))
        return false;
    while (*(reader->at = skip_spaces(reader->at)) && *reader->at != ';') {
        if (!read_operand(reader))
            return false;
        operation.count++;
    }
    if (*reader->at != ';') {
        snprintf(reader->error, EPD_ERROR_SIZE,
                 "\"%.40s\" is no operation; expected a semicolon behind its last operand", start);
        return false;
    }
    reader->at++;
    record->operations[record->operation_count++] = operation;
    return true;
}

static bool read_operations(Reader *reader)
{
    while (*(reader->at = skip_spaces(reader->at))) {
        if (!read_operation(reader))
            return false;
    }
    return true;
}

/* The counters that the standard keeps in operations. */
static bool apply_counter(EpdRecord *record, const char *opcode, int least, uint16_t *counter,
                          char error[EPD_ERROR_SIZE])
{
    const char *text = epd_text(record, opcode);
    if (!text)
        return true;
    int64_t value;
    if (!read_number(text, least, 9999, &value)) {
        snprintf(error, EPD_ERROR_SIZE, "%s is \"%.40s\"; expected a number from %d to 9999", opcode, text,
                 least);
        return false;
    }
    *counter = (uint16_t)value;
    return true;
}

static bool fail_fen(char error[EPD_ERROR_SIZE], FenError fen_error, const char *text)
{
    char hint[FOREIGN_HINT_SIZE] = "";
    if (fen_error == FEN_BAD_MAN)
        german_placement_hint(text, strcspn(text, " \t"), hint);
    snprintf(error, EPD_ERROR_SIZE, "%s%s", fen_error_text(fen_error), hint);
    return false;
}

static bool parse_into(const char *text, EpdRecord *record, bool by_hand, char error[EPD_ERROR_SIZE])
{
    const char *rest;
    if (!check_text(text, error))
        return false;
    FenError fen_error = parse_fen(text, &record->position, &rest);
    if (fen_error == FEN_BAD_KING_COUNT && by_hand) {
        record->skeleton = fen_read_skeleton(text, &record->position, &rest);
        fen_error = record->skeleton ? FEN_OK : fen_error;
    }
    if (fen_error)
        return fail_fen(error, fen_error, text);
    copy_fields(text, record->fields);
    /* Each word needs one byte more than in the line. */
    record->text = malloc(2 * strlen(rest) + 1);
    if (!record->text)
        return fail(error, "memory ran out");
    Reader reader = {rest, record->text, record, error};
    return read_operations(&reader) && apply_counter(record, "hmvc", 0, &record->position.halfmoves, error) &&
           apply_counter(record, "fmvn", 1, &record->position.fullmove, error);
}

bool epd_parse(const char *text, EpdRecord *record, char error[EPD_ERROR_SIZE])
{
    *record = (EpdRecord){0};
    if (parse_into(text, record, false, error))
        return true;
    epd_free(record);
    return false;
}

bool epd_parse_by_hand(const char *text, EpdRecord *record, char remark[FEN_REMARK_SIZE],
                       char error[EPD_ERROR_SIZE])
{
    *record = (EpdRecord){0};
    char *mended = fen_mend(text, remark);
    bool good = mended != NULL ? parse_into(mended, record, true, error) : fail(error, "memory ran out");
    free(mended);
    if (!good)
        epd_free(record);
    return good;
}

void epd_free(EpdRecord *record)
{
    free(record->text);
    *record = (EpdRecord){0};
}

const EpdOperation *epd_find(const EpdRecord *record, const char *opcode)
{
    for (int i = 0; i < record->operation_count; i++) {
        if (strcmp(record->operations[i].opcode, opcode) == 0)
            return &record->operations[i];
    }
    return NULL;
}

const char *epd_text(const EpdRecord *record, const char *opcode)
{
    const EpdOperation *operation = epd_find(record, opcode);
    return operation && operation->count > 0 ? record->operands[operation->first] : NULL;
}

bool epd_moves(const EpdRecord *record, const char *opcode, MoveList *moves, char error[EPD_ERROR_SIZE])
{
    const EpdOperation *operation = epd_find(record, opcode);
    moves->count = 0;
    for (int i = 0; operation && i < operation->count && i < MOVES_MAX; i++) {
        const char *text = record->operands[operation->first + i];
        NotationError notation = san_parse(&record->position, text, &moves->moves[i]);
        if (notation) {
            char hint[FOREIGN_HINT_SIZE];
            snprintf(error, EPD_ERROR_SIZE, "%s has \"%.40s\": %s; expected a legal move in SAN%s", opcode,
                     text, notation_error_text(notation), german_move_hint(text, strlen(text), hint));
            return false;
        }
        moves->count++;
    }
    return true;
}

bool epd_can_be_played(const EpdRecord *record)
{
    if (record->position.chess960) {
        complain(record->file, record->line,
                 "the position is one of Chess960; expected one of ordinary chess");
        return false;
    }
    if (!movegen_any(&record->position)) {
        complain(record->file, record->line, "the game is over here; expected a position with a legal move");
        return false;
    }
    return true;
}

/* What lines are read for. */
typedef struct Lines {
    const char *name;
    bool by_hand;
    EpdUse use;
    void *context;
} Lines;

/* One line of a file, its end taken away. */
static bool read_line(const Lines *lines, const char *text, size_t length, long line)
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE], remark[FEN_REMARK_SIZE] = "";
    if (strlen(text) != length) {
        complain(lines->name, line, "there is a zero byte in the line; expected text");
        return false;
    }
    text = skip_spaces(text);
    if (!*text || *text == '#')
        return true;
    if (!(lines->by_hand ? epd_parse_by_hand(text, &record, remark, error)
                         : epd_parse(text, &record, error))) {
        complain(lines->name, line, "%s", error);
        return false;
    }
    if (*remark)
        complain(lines->name, line, "%s", remark);
    record.file = lines->name;
    record.line = line;
    bool good = lines->use(lines->context, &record);
    epd_free(&record);
    return good;
}

static bool read_stream(FILE *stream, const Lines *lines)
{
    static const char byte_order_mark[] = "\xEF\xBB\xBF";
    char *text = NULL;
    size_t size = 0;
    ssize_t length;
    bool good = true;
    for (long line = 1; (length = getline(&text, &size, stream)) >= 0; line++) {
        if (line == 1 && is_utf16(text, (size_t)length)) {
            complain(lines->name, 0, UTF16_COMPLAINT);
            free(text);
            return false;
        }
        while (length > 0 && (text[length - 1] == '\n' || text[length - 1] == '\r'))
            text[--length] = '\0';
        size_t skip = line == 1 && strncmp(text, byte_order_mark, 3) == 0 ? 3 : 0;
        good &= read_line(lines, text + skip, (size_t)length - skip, line);
    }
    if (!feof(stream)) {
        complain(lines->name, 0, "cannot be read: %s", strerror(errno));
        good = false;
    }
    free(text);
    return good;
}

static bool read_file(const char *path, Lines lines)
{
    lines.name = path;
    if (strcmp(path, "-") == 0) {
        lines.name = "standard input";
        return read_stream(stdin, &lines);
    }
    FILE *stream = fopen(path, "r");
    if (!stream) {
        complain(path, 0, "cannot be opened: %s; expected a file of FEN or EPD lines", strerror(errno));
        return false;
    }
    bool good = read_stream(stream, &lines);
    fclose(stream);
    return good;
}

size_t epd_fields_length(const char *fen)
{
    const char *end = fen;
    for (int spaces = 0; *end && (*end != ' ' || ++spaces < 4); end++)
        ;
    return (size_t)(end - fen);
}

char epd_quotable(char byte, bool valid)
{
    unsigned char code = (unsigned char)byte;
    return code < ' ' || code == 0x7F || byte == '"' || byte == '\\' || (code >= 0x80 && !valid) ? '?' : byte;
}

void epd_quotable_name(const char *file, char name[EPD_NAME_SIZE])
{
    const char *slash = strrchr(file, '/');
    snprintf(name, EPD_NAME_SIZE, "%s", slash ? slash + 1 : file);
    bool valid = utf8_is_valid(name);
    for (char *c = name; *c; c++)
        *c = epd_quotable(*c, valid);
}

bool epd_read_stream(FILE *stream, const char *name, EpdUse use, void *context)
{
    return read_stream(stream, &(Lines){name, false, use, context});
}

bool epd_read_file(const char *path, EpdUse use, void *context)
{
    return read_file(path, (Lines){NULL, false, use, context});
}

bool epd_read_file_by_hand(const char *path, EpdUse use, void *context)
{
    return read_file(path, (Lines){NULL, true, use, context});
}
