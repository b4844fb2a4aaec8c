#include "bench/pgn/pgn_tags.h"

#include <string.h>

static bool is_line_end(char c)
{
    return c == '\n' || c == '\r';
}

static bool is_space(char c)
{
    return c == ' ' || c == '\t';
}

static bool is_alphanumeric(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

/* Of a symbol (PGN standard, section 7). */
static bool is_name_character(char c)
{
    return is_alphanumeric(c) || (c != '\0' && strchr("_+#=:-", c) != NULL);
}

/* A quote that no bracket follows belongs to the value, whatever the standard says: files have many. */
static const char *value_end(const char *at)
{
    for (; !is_line_end(*at) && *at != '\0'; at++) {
        if (*at == '\\' && (at[1] == '"' || at[1] == '\\')) {
            at++;
        } else if (*at == '"') {
            const char *behind = at + 1;
            while (is_space(*behind))
                behind++;
            if (*behind == ']')
                return at;
        }
    }
    return NULL;
}

const char *pgn_read_tag(const char *at, PgnTag *tag)
{
    at++;
    while (is_space(*at))
        at++;
    tag->name.start = at;
    while (is_name_character(*at))
        at++;
    tag->name.length = (size_t)(at - tag->name.start);
    while (is_space(*at))
        at++;
    if (tag->name.length == 0 || *at != '"')
        return NULL;
    tag->value.start = at + 1;
    const char *end = value_end(at + 1);
    if (end == NULL)
        return NULL;
    tag->value.length = (size_t)(end - tag->value.start);
    return strchr(end, ']') + 1;
}

/* ---------------------------------------------------------------------------------- where a game begins */

static const char byte_order_mark[] = "\xEF\xBB\xBF";

static const char *skip_spaces(const char *at, const char *end)
{
    for (;;) {
        if (at < end && is_space(*at))
            at++;
        else if (end - at >= 3 && memcmp(at, byte_order_mark, 3) == 0)
            at += 3;
        else
            return at;
    }
}

static const char *skip_spaces_back(const char *begin, const char *at)
{
    for (;;) {
        if (at > begin && is_space(at[-1]))
            at--;
        else if (at - begin >= 3 && memcmp(at - 3, byte_order_mark, 3) == 0)
            at -= 3;
        else
            return at;
    }
}

static const char *line_start(const char *begin, const char *at)
{
    while (at > begin && !is_line_end(at[-1]))
        at--;
    return at;
}

static bool looks_like_tag(const char *at, const char *end)
{
    return end - at >= 2 && at[0] == '[' && is_alphanumeric(at[1]);
}

static bool begins_a_tag(const char *at, const char *end)
{
    if (!looks_like_tag(at, end))
        return false;
    for (at++; at < end && is_name_character(*at);)
        at++;
    while (at < end && is_space(*at))
        at++;
    return at < end && *at == '"';
}

static bool next_line_fits(const char *at, const char *end)
{
    while (at < end && !is_line_end(*at))
        at++;
    if (at == end)
        return true;
    at += end - at >= 2 && at[0] == '\r' && at[1] == '\n' ? 2 : 1;
    at = skip_spaces(at, end);
    return at == end || is_line_end(*at) || *at == '%' || *at == ';' || looks_like_tag(at, end) ||
           (end - at >= 2 && at[0] == '1' && at[1] == '.');
}

static bool follows_a_tag(const char *begin, const char *end, const char *at)
{
    for (;;) {
        while (at > begin && (is_space(at[-1]) || is_line_end(at[-1])))
            at--;
        if (at == begin)
            return false;
        at = line_start(begin, at);
        const char *first = skip_spaces(at, end);
        if (*first != '%' && *first != ';')
            return looks_like_tag(first, end);
    }
}

static bool follows_an_empty_line(const char *begin, const char *at)
{
    int line_feeds = 0, returns = 0;
    for (; at > begin && (is_space(at[-1]) || is_line_end(at[-1])); at--) {
        line_feeds += at[-1] == '\n';
        returns += at[-1] == '\r';
    }
    return line_feeds >= 2 || (line_feeds == 0 && returns >= 2);
}

static bool names_an_event(const char *at, const char *end)
{
    static const char event[] = "[Event ";
    return (size_t)(end - at) > strlen(event) && memcmp(at, event, strlen(event)) == 0;
}

bool pgn_game_begins(const char *begin, const char *end, const char *at)
{
    if (!begins_a_tag(at, end))
        return false;
    const char *line = skip_spaces_back(begin, at);
    if ((line > begin && !is_line_end(line[-1])) || !next_line_fits(at, end))
        return false;
    return !follows_a_tag(begin, end, line) ||
           (names_an_event(at, end) && follows_an_empty_line(begin, line));
}
