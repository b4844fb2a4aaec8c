/* What the results of many positions say, class by class. */
#ifndef PAWNVANE_CONTRAST_SUMMARY_H
#define PAWNVANE_CONTRAST_SUMMARY_H

#include "bench/base/statistics.h"
#include "bench/contrast/contrast.h"

/* By verdict, then by grade, then all together. */
enum {
    CLASS_VERDICT = 0,
    CLASS_GRADE = CLASS_VERDICT + PS_VERDICT_COUNT,
    CLASS_NO_PAIR = CLASS_GRADE + PS_GRADE_COUNT,
    CLASS_ALL,
    CLASS_COUNT
};

typedef struct ContrastClass {
    const char *kind; /* "verdict", "grade" or "all" */
    const char *name;
    int positions;
    int with_answer;                   /* positions whose suite names moves */
    int solved[ARM_COUNT];             /* of these */
    int only[ARM_COUNT];               /* solved by this arm alone */
    double mcnemar;                    /* exact two-sided p-value for the two above */
    int changed;                       /* positions in which the moves differ */
    double gain[ARM_COUNT];            /* mean over these by judge, centipawns; NaN without any */
    double mean_gain;                  /* of both judges */
    Interval gain_interval;            /* 95 %, bootstrap; NaN of fewer than ten */
    double nodes_to_choice[ARM_COUNT]; /* mean over all positions */
} ContrastClass;

/* Counts results into CLASS_COUNT classes. False if memory runs out. */
bool contrast_summarise(const ContrastTask *tasks, const ContrastResult *results, size_t count,
                        ContrastClass classes[CLASS_COUNT]);

/* One plain sentence: did the term help there, and can one tell? Room for 400 characters is enough. */
void contrast_sentence(const ContrastClass *class, char *text, size_t size);

#endif
