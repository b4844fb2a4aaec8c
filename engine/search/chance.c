#include "engine/search/chance.h"

#include "engine/evaluation/clamp.h"

#include <stdint.h>

enum { NUMBERS = 10, DEPTHS = 7, GAPS = 13, GAP_DEPTHS = 5, HISTORIES = 16, HISTORY_BAND = 2048 };

/* Fitted to 4,298,956 moves of games of the engine against itself at 10,000 nodes a move, in which one node of 24,
 * chosen by its key, left nothing out and reduced nothing; a sample is a move of such a node but its first, and whether
 * it raised alpha. Newton's method, a table at a time, until nothing moved: all but by_gap_before together, then that
 * with the others held. No command of the harness repeats it yet. */
enum { CHANCE_OF_ANY = -415 };

/* By depth and by the number in the order. */
static const int16_t by_number[DEPTHS][NUMBERS] = {
    {116, 79, 55, 48, 34, 24, 8, -12, -60, -91},      {116, 79, 61, 49, 37, 24, 11, -21, -68, -76},
    {139, 94, 70, 66, 53, 36, 19, 7, -49, -48},       {94, 72, 54, 41, 24, -2, 10, -26, -50, -86},
    {118, 76, 65, 44, 56, 39, 25, 5, -24, -20},       {95, 80, 63, 34, 22, 19, 20, -2, -29, -30},
    {2, -26, -44, -84, -64, -90, -62, -81, -74, -39},
};

/* What the mover misses alpha by before the move, as the static score says; by depth. The last are in check. */
static const int16_t by_gap_before[GAP_DEPTHS][GAPS] = {
    {381, 198, 212, 220, 72, -48, -113, -166, -111, 9, -34, -18, 93},
    {174, 51, 161, 161, 48, -64, -131, -164, -173, -242, -236, -73, 82},
    {20, 147, 161, 123, 46, -57, -134, -202, -192, -228, -263, -344, 26},
    {142, 137, 100, 91, 21, -69, -136, -171, -148, -268, -223, -288, -1},
    {69, -12, 41, 46, -17, -92, -166, -153, -180, -170, -219, -275, -11},
};

/* By history: of quiet moves, of captures. */
static const int16_t by_history[2][HISTORIES] = {
    {-119, -60, -58, -42, -42, -33, -35, -31, -8, -10, -3, -5, 1, 0, 1, 4},
    {-124, -184, -151, -166, -176, -147, -132, -103, -57, -63, -76, -71, -103, -69, -16, 155},
};

/* By how the man stands, and by what the exchange says of where it goes. */
static const int16_t by_squares[ORIGIN_COUNT][GOAL_COUNT] = {
    {27, 45, -136, -213, -357},
    {35, 30, -123, -190, -305},
    {50, 61, -32, -216, -295},
};

/* By what the move is, without and with check. */
static const int16_t by_sort[SORT_COUNT][2] = {
    {-35, 107}, {66, 305}, {84, 293}, {28, 219}, {5, 253}, {95, 265},
};

/* The same as by_gap_before, by the static score behind the move. */
static const int16_t by_gap_behind[GAP_DEPTHS][GAPS] = {
    {325, 301, 285, 320, 175, -251, -441, -506, -486, -352, -295, -280, 5},
    {265, 255, 245, 237, 136, -127, -452, -461, -461, -458, -377, -248, -3},
    {204, 182, 179, 177, 119, -24, -237, -383, -450, -434, -412, -376, -51},
    {161, 86, 108, 126, 90, -18, -144, -204, -336, -352, -313, -331, -107},
    {64, -9, 42, 91, 50, -24, -120, -214, -244, -230, -265, -261, -160},
};

/* The entry of a list from 0 on; what is beyond its end counts as its last. */
#define ENTRY(list, number) ((list)[at_most(number, (int)(sizeof(list) / sizeof *(list)) - 1)])

/* The number of bounds, in rising order, that a value exceeds. */
static int band_of(const int16_t *bounds, int count, int value)
{
    int band = 0;
    while (band < count && value > bounds[band])
        band++;
    return band;
}

static int by_gap(const int16_t table[GAP_DEPTHS][GAPS], int depth, int gap)
{
    static const int8_t row[] = {0, 0, 1, 2, 2, 3, 3, 4};
    static const int16_t bounds[GAPS - 2] = {-300, -150, -75, -25, 25, 75, 125, 200, 300, 450, 700};
    int band = gap == CHANCE_NO_GAP ? GAPS - 1 : band_of(bounds, GAPS - 2, gap);
    return table[ENTRY(row, depth)][band];
}

int chance_before_move(int depth, int gap)
{
    return by_gap(by_gap_before, depth, gap);
}

int chance_behind_move(int depth, int gap)
{
    return by_gap(by_gap_behind, depth, gap);
}

int chance_by_order(int depth, int number, int history, bool quiet)
{
    static const int8_t row[] = {0, 0, 1, 2, 3, 4, 4, 5, 5, 6};
    static const int8_t column[] = {0, 0, 0, 1, 2, 3, 4, 4, 5, 5, 5, 6, 6, 6, 6, 7,
                                    7, 7, 7, 7, 7, 8, 8, 8, 8, 8, 8, 8, 8, 8, 9};
    int band = clamp((history + HISTORIES / 2 * HISTORY_BAND) / HISTORY_BAND, 0, HISTORIES - 1);
    return CHANCE_OF_ANY + by_number[ENTRY(row, depth)][ENTRY(column, number)] + by_history[!quiet][band];
}

int chance_by_sort(MoveSort sort, bool gives_check)
{
    return by_sort[sort][gives_check];
}

int chance_by_squares(Origin origin, Goal goal)
{
    return by_squares[origin][goal];
}
