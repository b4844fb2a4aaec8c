/* What was found of the rule, in sentences that a teacher can quote: those with which the parts of README.md begin that
 * bench/findings/run and bench/findings/obedience write. They write these, too, and say what was played and counted. */
#ifndef PAWNVANE_FINDINGS_WORDS_H
#define PAWNVANE_FINDINGS_WORDS_H

enum { FINDINGS_WORDS = 4 };

extern const char *const findings_words[FINDINGS_WORDS];

#endif
