/* What `contrast --json` has written, read back. */
#ifndef PAWNVANE_CONTRAST_READER_H
#define PAWNVANE_CONTRAST_READER_H

#include "engine/rules/position.h"

#include <stdbool.h>
#include <stddef.h>

/* The two arms: the term off and on. */
enum { READ_OFF, READ_ON, READ_ARMS };

/* A position in which the term changed the move. */
typedef struct ReadChange {
    char *name; /* of the position */
    Position position;
    Move moves[READ_ARMS];
    int solved[READ_ARMS];     /* 1 a best move of the suite, 0 none, -1 not known */
    int judge_gain[READ_ARMS]; /* centipawns, by the judge without and with the term */
    double gain, win;          /* the mean of both, and the same in winning chances, -1 to 1 */
    /* It has been judged again, and the judges agreed with each other and with what they had said before. All
     * gains are those of the second time. */
    bool confirmed;
    char *verdict; /* of the side to move, as structure.h names it */
} ReadChange;

/* A class of positions. NaN where there is no number. */
typedef struct ReadClass {
    char *name;
    double positions, with_answer, changed;
    double solved[READ_ARMS];
    double mcnemar_p;
    double gain;                       /* centipawns */
    double win, win_low, win_high;     /* in winning chances, -1 to 1 */
    double win_p_holm;                 /* adjusted for all classes */
    double nodes_to_choice[READ_ARMS]; /* mean */
} ReadClass;

enum { READ_CLASSES_MAX = 16 };

typedef struct ReadContrast {
    const char *file;
    bool complete; /* the class of all positions has been read */
    int by_verdict_count, by_grade_count;
    ReadClass by_verdict[READ_CLASSES_MAX], by_grade[READ_CLASSES_MAX], all;
    size_t change_count, change_capacity;
    ReadChange *changes;
} ReadContrast;

/* Reads a file. False on failure (reported); free it all the same. */
bool contrast_read_file(ReadContrast *contrast, const char *path);

void read_contrast_free(ReadContrast *contrast);

#endif
