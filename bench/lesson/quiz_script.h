/* The script of a quiz, line by line, null at the end. It has neither < nor &, so that the page stays well-formed
 * XML. */
#ifndef PAWNVANE_QUIZ_SCRIPT_H
#define PAWNVANE_QUIZ_SCRIPT_H

extern const char *const quiz_script[];

#endif
