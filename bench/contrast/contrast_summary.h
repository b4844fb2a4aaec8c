/* What the results of many positions say, class by class. */
#ifndef PAWNVANE_CONTRAST_SUMMARY_H
#define PAWNVANE_CONTRAST_SUMMARY_H

#include "bench/base/means.h"
#include "bench/contrast/contrast.h"

/* By verdict, then by grade, then all together. */
enum {
    CLASS_VERDICT = 0,
    CLASS_GRADE = CLASS_VERDICT + PS_VERDICT_COUNT,
    CLASS_NO_PAIR = CLASS_GRADE + PS_GRADE_COUNT,
    CLASS_ALL,
    CLASS_COUNT
};

/* Below that many changed moves nothing is claimed of a class. From there on 95 % intervals cover 93 to 97 %
 * in simulated worlds, with two exceptions that are wider than need be: where most gains are zeros those of
 * 35 changes or fewer cover up to 99.5 %, and where a few gains are far greater than the rest those of 20 or
 * fewer cover up to 98 % (tests/statistics/contrast_worlds.c). */
enum { FEWEST_CHANGES = 10 };

typedef struct ContrastClass {
    const char *kind; /* "verdict", "grade" or "all" */
    const char *name;
    int positions;
    int with_answer;                   /* positions whose suite names moves */
    int solved[ARM_COUNT];             /* of these */
    int only[ARM_COUNT];               /* solved by this arm alone */
    double mcnemar;                    /* exact two-sided p-value for the two above */
    int playable;                      /* positions in which the named lever can be played at once */
    int obeyed[ARM_COUNT];             /* in so many of these it is */
    double obeyed_p;                   /* exact two-sided McNemar test for the two above */
    int changed;                       /* positions in which the moves differ */
    int close;                         /* of these: which is better is too close to call */
    double gain[ARM_COUNT];            /* mean over these by judge, centipawns; NaN without any */
    double mean_gain;                  /* of both judges */
    double win;                        /* the same in winning chances, -1 to 1 */
    Interval win_interval;             /* 95 %, of this class alone; NaN of fewer than FEWEST_CHANGES */
    double p_value;                    /* that the true mean of `win` is 0; NaN of fewer */
    double p_adjusted;                 /* by Holm, for all classes that have one */
    double nodes_to_choice[ARM_COUNT]; /* mean over all positions */
} ContrastClass;

/* Counts results into CLASS_COUNT classes. False if memory runs out. */
bool contrast_summarise(const ContrastTask *tasks, const ContrastResult *results, size_t count,
                        ContrastClass classes[CLASS_COUNT]);

/* The name of a grade or a class in a table for people: "void" is none for them. */
const char *contrast_words(const char *name);

/* What can be claimed of a class: by the adjusted p-value, at 5 %. With no effect anywhere some class is said
 * to be helped or harmed in 5 % of all experiments, however many classes there are (S. Holm, see
 * statistics.h). */
typedef enum ContrastFinding { FINDING_OPEN, FINDING_HELPED, FINDING_HARMED } ContrastFinding;
ContrastFinding contrast_finding(const ContrastClass *class);

/* One plain sentence: did the term help there, and can one tell? */
enum { CONTRAST_SENTENCE_SIZE = 512 };
void contrast_sentence(const ContrastClass *class, char *text, size_t size);

/* And one more: in how many positions the named lever was played, where it could be. Empty where it never could. */
void contrast_obedience_sentence(const ContrastClass *class, char *text, size_t size);

/* Picks the results that teach most: both judges agree which choice is better, by the greatest gain or loss
 * in winning chances. Returns how many. */
enum { CONTRAST_INSTRUCTIVE_MAX = 10 };
size_t contrast_instructive(const ContrastResult *results, size_t count,
                            size_t picked[CONTRAST_INSTRUCTIVE_MAX]);

#endif
