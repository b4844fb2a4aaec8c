#include "bench/pgn/pgn_blocks.h"
#include "bench/base/complaint.h"
#include "bench/pgn/foreign_text.h"
#include "bench/pgn/pgn_tags.h"

#include <stdlib.h>
#include <string.h>

bool pgn_source_open(PgnSource *source, const char *path)
{
    *source = (PgnSource){.line = 1, .block_size = PGN_BLOCK_SIZE, .game_size_max = PGN_GAME_SIZE_MAX};
    if (!packed_open(&source->bytes, path))
        return false;
    source->name = source->bytes.name;
    return true;
}

void pgn_source_close(PgnSource *source)
{
    packed_close(&source->bytes);
    free(source->pending);
    source->pending = NULL;
}

void pgn_block_free(PgnBlock *block)
{
    free(block->text);
    *block = (PgnBlock){0};
}

static bool reserve(PgnSource *source, size_t capacity)
{
    if (source->pending != NULL && source->capacity >= capacity)
        return true;
    char *grown = realloc(source->pending, capacity + 1);
    if (grown == NULL) {
        complain(source->name, 0, "memory ran out");
        return false;
    }
    source->pending = grown;
    source->capacity = capacity;
    return true;
}

/* Reads until so many bytes are pending, or the file ends. */
static bool fill(PgnSource *source, size_t wanted)
{
    if (!reserve(source, wanted))
        return false;
    while (!source->ended && source->length < wanted) {
        ssize_t got = packed_read(&source->bytes, source->pending + source->length, wanted - source->length);
        if (got < 0)
            return false;
        source->length += (size_t)got;
        source->ended = got == 0;
    }
    source->pending[source->length] = '\0';
    return true;
}

static size_t count_lines(const char *text, size_t length)
{
    size_t lines = 0;
    for (size_t i = 0; i < length; i++)
        lines += text[i] == '\n';
    return lines;
}

/* Up to where it can be said whether a game begins: two lines before the end, unless the file ends there. */
static size_t judged_length(const PgnSource *source)
{
    const char *at = source->pending + source->length;
    if (source->ended)
        return source->length;
    for (int i = 0; i < 2 && at != NULL; i++)
        at = memrchr(source->pending, '\n', (size_t)(at - source->pending));
    return at == NULL ? 0 : (size_t)(at - source->pending);
}

/* The last place from `from` on where a game begins, 0 if there is none. */
static size_t last_cut(const PgnSource *source, size_t from)
{
    size_t upto = judged_length(source);
    const char *text = source->pending;
    while (upto > from) {
        const char *at = memrchr(text + from, '[', upto - from);
        if (at == NULL)
            return 0;
        if (at > text && pgn_game_begins(text, text + source->length, at))
            return (size_t)(at - text);
        upto = (size_t)(at - text);
    }
    return 0;
}

static size_t first_cut(const PgnSource *source)
{
    size_t upto = judged_length(source);
    const char *text = source->pending, *at = text;
    while ((at = memchr(at, '[', (size_t)(text + upto - at))) != NULL) {
        if (at > text && pgn_game_begins(text, text + source->length, at))
            return (size_t)(at - text);
        at++;
    }
    return 0;
}

/* Hands out the first bytes of what is pending. */
static bool cut(PgnSource *source, size_t length, PgnBlock *block)
{
    size_t rest = source->length - length;
    PgnSource after = *source;
    after.pending = NULL;
    after.capacity = after.length = 0;
    if (!reserve(&after, source->block_size > rest ? source->block_size : rest))
        return false;
    memcpy(after.pending, source->pending + length, rest);
    after.length = rest;
    *block = (PgnBlock){.text = source->pending, .length = length, .line = source->line};
    block->text[length] = '\0';
    after.line += count_lines(block->text, length);
    *source = after;
    return true;
}

static void drop(PgnSource *source, size_t length)
{
    source->line += count_lines(source->pending, length);
    source->length -= length;
    memmove(source->pending, source->pending + length, source->length);
}

/* Drops what is left of a game that is too long. */
static bool skip_torn_game(PgnSource *source)
{
    while (source->skipping) {
        if (!fill(source, 2 * source->block_size))
            return false;
        size_t at = first_cut(source);
        if (at == 0)
            /* What is kept shows a beginning that could not be judged yet. */
            at = source->ended ? source->length : source->length - source->block_size;
        else
            source->skipping = false;
        drop(source, at);
        source->skipping &= !source->ended;
    }
    return true;
}

PgnFetched pgn_source_next(PgnSource *source, PgnBlock *block)
{
    size_t wanted = source->block_size, searched = 0, at = 0;
    if (!skip_torn_game(source))
        return PGN_FAILED;
    for (;;) {
        if (!fill(source, wanted))
            return PGN_FAILED;
        if (source->line == 1 && is_utf16(source->pending, source->length)) {
            complain(source->name, 0, UTF16_COMPLAINT);
            return PGN_FAILED;
        }
        if (source->ended)
            break;
        at = last_cut(source, searched);
        if (at > 0 || wanted >= source->game_size_max)
            break;
        searched = judged_length(source);
        wanted = 2 * source->length < source->game_size_max ? 2 * source->length : source->game_size_max;
    }
    if (source->length == 0)
        return PGN_END;
    bool torn = !source->ended && at == 0;
    if (!cut(source, at > 0 ? at : source->length, block))
        return PGN_FAILED;
    block->torn = source->skipping = torn;
    block->last = source->ended;
    return PGN_FETCHED;
}
