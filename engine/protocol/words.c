#include "engine/protocol/words.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

char *next_word(char **rest)
{
    return strtok_r(NULL, " \t\r\n", rest);
}

void join_words(char **rest, const char *stop_word, char *text, size_t size)
{
    char *word;
    size_t length = 0;
    text[0] = '\0';
    while ((word = next_word(rest)) && (!stop_word || strcmp(word, stop_word) != 0)) {
        int written = snprintf(text + length, size - length, "%s%s", length ? " " : "", word);
        if (written < 0 || (size_t)written >= size - length)
            return;
        length += (size_t)written;
    }
}

int64_t next_number(char **rest, int64_t most)
{
    const char *word = next_word(rest);
    int64_t number = word ? strtoll(word, NULL, 10) : 0;
    return number <= 0 ? 0 : number < most ? number : most;
}

int64_t next_positive(char **rest, int64_t most)
{
    int64_t number = next_number(rest, most);
    return number > 0 ? number : 1;
}

bool whole_number(const char *text, int least, int greatest, int *number)
{
    char *end;
    errno = 0;
    long read = strtol(text, &end, 10);
    if (end == text || *end || errno || read < least || read > greatest)
        return false;
    *number = (int)read;
    return true;
}
