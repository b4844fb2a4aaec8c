/* An arm of an experiment: one way to play, as data. */
#ifndef PAWNVANE_ARM_H
#define PAWNVANE_ARM_H

#include "engine/spar/sparring.h"

enum { ARM_TEXT_SIZE = 2048 };

typedef struct Arm {
    int weight; /* percent of the lever term */
    ps_rule rule;
    int64_t nodes; /* positions a move, 0: no such limit */
    Parameters parameters;
    Sparring sparring;   /* style and strength */
    const char *engine;  /* path of a program that plays by the UCI protocol; null: the engine built in */
    int64_t patience_ms; /* how long that may take for an answer beyond its limits */
} Arm;

/* Weight 100, strict, no limit, default parameters, the engine built in. */
extern const Arm default_arm;

/* The parameters that are not the default, "window=30 null_base=200", and the style and strength, "style=faithful
 * margin=30 elo=1400"; empty if there are none. */
void arm_parameters_text(const Arm *arm, char text[ARM_TEXT_SIZE]);

/* Whether the arm has the default of each parameter that has a say in games by the clock only. If not, one line says so,
 * and what was expected. */
bool arm_leaves_time_alone(const Arm *arm, const char *command, const char *expected);

/* For people: "weight 100, strict, 10000 nodes a move, window=30". */
void arm_text(const Arm *arm, char text[ARM_TEXT_SIZE]);

/* These read the values of options. A value with a colon is for two arms, one without for both. On failure
 * one line says so. */
bool arms_read_weights(Arm arms[2], const char *text);
bool arms_read_rules(Arm arms[2], const char *text);
bool arms_read_nodes(Arm arms[2], const char *text);
bool arms_read_styles(Arm arms[2], const char *text);
bool arms_read_margins(Arm arms[2], const char *text);
bool arms_read_elos(Arm arms[2], const char *text); /* 0 is full strength */

/* "A.NAME=VALUE" or "B.NAME=VALUE": a parameter of one arm; "NAME=VALUE": of both. */
bool arms_read_parameter(Arm arms[2], const char *text);

#endif
