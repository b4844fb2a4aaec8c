/* JSON objects, one a line. */
#ifndef PAWNVANE_JSON_LINE_H
#define PAWNVANE_JSON_LINE_H

#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stdio.h>

/* Prints an object on a line of its own and frees it. False if memory ran out: cJSON passes over what it
 * cannot add, so that shows only here; an object that could not be made at all may be handed over as null. */
bool json_print_line(FILE *out, cJSON *object);

/* Adds a number, rounded to a millionth, so that the last bits of a processor's logarithm do not show; null if
 * it is not finite. */
void json_add_real(cJSON *object, const char *name, double value);

#endif
