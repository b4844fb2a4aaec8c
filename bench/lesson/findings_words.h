/* What was found of the rule, in sentences that a teacher can quote: those of "What we found" in README.md. The script that
 * writes both, and says what was played and counted for them, is bench/findings/run. */
#ifndef PAWNVANE_FINDINGS_WORDS_H
#define PAWNVANE_FINDINGS_WORDS_H

enum { FINDINGS_WORDS = 4 };

extern const char *const findings_words[FINDINGS_WORDS];

#endif
