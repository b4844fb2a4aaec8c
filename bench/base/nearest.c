#include "bench/base/nearest.h"

#include <ctype.h>
#include <string.h>

enum { LENGTH_MAX = 32 };

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* The distance of F. J. Damerau, "A technique for computer detection and correction of spelling errors",
 * Communications of the ACM 7, 1964, in the form in which no letter is changed twice. Case does not count. */
static int distance(const char *a, const char *b)
{
    int rows[LENGTH_MAX + 1][LENGTH_MAX + 1];
    int a_length = (int)strlen(a), b_length = (int)strlen(b);
    for (int i = 0; i <= a_length; i++)
        for (int k = 0; k <= b_length; k++) {
            if (i == 0 || k == 0) {
                rows[i][k] = i + k;
                continue;
            }
            int x = tolower((unsigned char)a[i - 1]), y = tolower((unsigned char)b[k - 1]);
            int best = least(rows[i - 1][k], rows[i][k - 1]) + 1;
            best = least(best, rows[i - 1][k - 1] + (x != y));
            if (i > 1 && k > 1 && x == tolower((unsigned char)b[k - 2]) &&
                y == tolower((unsigned char)a[i - 2]))
                best = least(best, rows[i - 2][k - 2] + 1);
            rows[i][k] = best;
        }
    return rows[a_length][b_length];
}

int nearest_word(const char *typed, const char *const *words, int count)
{
    int found = -1, found_distance = 0;
    if (strlen(typed) > LENGTH_MAX)
        return -1;
    for (int i = 0; i < count; i++) {
        if (strlen(words[i]) > LENGTH_MAX)
            continue;
        int far = distance(typed, words[i]);
        if (3 * far <= (int)strlen(words[i]) && (found < 0 || far < found_distance)) {
            found = i;
            found_distance = far;
        }
    }
    return found;
}
