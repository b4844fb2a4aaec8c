#include "bench/fit/fit_bounds.h"

#define INDEX(member) (offsetof(ps_weights, member) / sizeof(int))

/* The nearest sequence that never rises. */
static void never_rise(double *values, int count)
{
    double sums[PS_WEIGHT_COUNT];
    int sizes[PS_WEIGHT_COUNT], pools = 0;
    for (int i = 0; i < count; i++) {
        sums[pools] = values[i];
        sizes[pools++] = 1;
        while (pools > 1 && sums[pools - 1] / sizes[pools - 1] > sums[pools - 2] / sizes[pools - 2]) {
            sums[pools - 2] += sums[pools - 1];
            sizes[pools - 2] += sizes[pools - 1];
            pools--;
        }
    }
    for (int pool = 0, i = 0; pool < pools; pool++)
        for (int end = i + sizes[pool]; i < end; i++)
            values[i] = sums[pool] / sizes[pool];
}

void fit_make_sound(double lever[PS_WEIGHT_COUNT])
{
    double *doubtful = &lever[INDEX(grade[PS_DOUBTFUL])], *likely = &lever[INDEX(grade[PS_LIKELY])];
    double falling[] = {*likely, *doubtful};
    never_rise(falling, 2);
    *likely = falling[0];
    *doubtful = falling[1];
    never_rise(&lever[INDEX(base_lever)], PS_TEMPI_CLASSES);
    never_rise(&lever[INDEX(head_lever)], PS_TEMPI_CLASSES);
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        double least = ps_weight_table[i].least, greatest = ps_weight_table[i].greatest;
        lever[i] = lever[i] < least ? least : lever[i] > greatest ? greatest : lever[i];
    }
}
