#include "engine/search/reductions.h"

/* 100 ln n, so that no floating point comes near the search. */
static const int16_t logarithm[REDUCTION_TABLE] = {
    0,   0,   69,  110, 139, 161, 179, 195, 208, 220, 230, 240, 248, 256, 264, 271,
    277, 283, 289, 294, 300, 304, 309, 314, 318, 322, 326, 330, 333, 337, 340, 343,
    347, 350, 353, 356, 358, 361, 364, 366, 369, 371, 374, 376, 378, 381, 383, 385,
    387, 389, 391, 393, 395, 397, 399, 401, 403, 404, 406, 408, 409, 411, 413, 414};

void reductions_fill(Reductions *reductions, const Parameters *parameters)
{
    for (int depth = 0; depth < REDUCTION_TABLE; depth++)
        for (int number = 0; number < REDUCTION_TABLE; number++) {
            int logs = logarithm[depth] * logarithm[number] / parameters->reduction_divisor;
            reductions->by[depth][number] =
                (int16_t)(parameters->reductions ? parameters->reduction_base + logs : 0);
        }
}
