#include "bench/run/adjudication.h"
#include "bench/base/complaint.h"

#include <stdio.h>
#include <string.h>

enum { SCORE_MOST = 30000, PART_SIZE = 40 };

static bool is_within(int value, int least, int greatest)
{
    return value >= least && value <= greatest;
}

static bool read_part(const char *part, Adjudication *limits)
{
    char end;
    int score, plies, from;
    if (strcmp(part, "won=never") == 0) {
        limits->win_plies = 0;
    } else if (strcmp(part, "drawn=never") == 0) {
        limits->draw_plies = 0;
    } else if (sscanf(part, "won=%5d/%5d%c", &score, &plies, &end) == 2) {
        limits->win_score = score;
        limits->win_plies = plies;
        return is_within(score, 1, SCORE_MOST) && is_within(plies, 1, GAME_PLIES_MAX);
    } else if (sscanf(part, "drawn=%5d/%5d/%5d%c", &score, &plies, &from, &end) == 3) {
        limits->draw_score = score;
        limits->draw_plies = plies;
        limits->draw_from = from;
        return is_within(score, 0, SCORE_MOST) && is_within(plies, 1, GAME_PLIES_MAX) &&
               is_within(from, 0, GAME_PLIES_MAX);
    } else if (sscanf(part, "longest=%5d%c", &plies, &end) == 1) {
        limits->longest = plies;
        return is_within(plies, 1, GAME_PLIES_MAX);
    } else {
        return false;
    }
    return true;
}

bool adjudication_read(const char *text, Adjudication *limits)
{
    const char *at = text;
    for (;; at++) {
        char part[PART_SIZE];
        int length = (int)strcspn(at, ",");
        snprintf(part, sizeof part, "%.*s", length, at);
        if (length >= PART_SIZE || !read_part(part, limits)) {
            complain(NULL, 0,
                     "--adjudicate is \"%s\"; expected parts such as \"" ADJUDICATION_DEFAULT "\": "
                     "centipawns 1 to %d (drawn: 0), plies 1 to %d",
                     text, SCORE_MOST, GAME_PLIES_MAX);
            return false;
        }
        at += length;
        if (!*at)
            return true;
    }
}
