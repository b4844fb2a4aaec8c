#include "structure/structure.h"

#define ENTRY(member, least, greatest)                                                                       \
    {                                                                                                        \
#member, offsetof(ps_weights, member), least, greatest                                               \
    }
#define BY_TEMPI(table)                                                                                      \
    ENTRY(table[0], 0, 300), ENTRY(table[1], 0, 300), ENTRY(table[2], 0, 300), ENTRY(table[3], 0, 300),      \
        ENTRY(table[4], 0, 300), ENTRY(table[5], 0, 300), ENTRY(table[6], 0, 300), ENTRY(table[7], 0, 300)

/* Firm is 100 percent by definition: the other percentages are relative to it. */
const ps_weight_entry ps_weight_table[PS_WEIGHT_COUNT] = {
    BY_TEMPI(base_lever),
    BY_TEMPI(head_lever),
    ENTRY(support, 0, 50),
    ENTRY(room, 0, 100),
    ENTRY(piece, 0, 50),
    ENTRY(grade[PS_VOID], 0, 0),
    ENTRY(grade[PS_DOUBTFUL], 0, 100),
    ENTRY(grade[PS_LIKELY], 0, 100),
    ENTRY(grade[PS_FIRM], 100, 100),
};

int *ps_weight_at(ps_weights *weights, int index)
{
    return (int *)(void *)((char *)weights + ps_weight_table[index].offset);
}

static bool never_rises(const int *values, int count)
{
    for (int i = 1; i < count; i++)
        if (values[i] > values[i - 1])
            return false;
    return true;
}

bool ps_weights_are_sound(const ps_weights *weights)
{
    ps_weights copy = *weights;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        int value = *ps_weight_at(&copy, i);
        if (value < ps_weight_table[i].least || value > ps_weight_table[i].greatest)
            return false;
    }
    const int *grade = weights->grade;
    return never_rises(weights->base_lever, PS_TEMPI_CLASSES) &&
           never_rises(weights->head_lever, PS_TEMPI_CLASSES) && grade[PS_DOUBTFUL] <= grade[PS_LIKELY] &&
           grade[PS_LIKELY] <= grade[PS_FIRM];
}
