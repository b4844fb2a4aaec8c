/* What the engine says to the client: whole lines, from any thread. */
#ifndef PAWNVANE_SPEECH_H
#define PAWNVANE_SPEECH_H

#include "engine/protocol/options.h"

/* One line, its end included in one piece, so that two threads do not mix theirs. */
__attribute__((format(printf, 2, 3))) void say(FILE *out, const char *format, ...);

/* The answer to "uci": name, author, options. */
void say_who(FILE *out);

/* Of a search that goes on, for a SearchListener whose context is the stream. */
void say_line(void *out, const Position *root, const SearchLine *line);
void say_step(void *out, const Position *root, const SearchStep *step);

/* The move chosen in a position, and the reply expected. */
void say_choice(FILE *out, const Position *root, const SearchResult *result);

/* The plans of both sides, in the words of the structure library. */
void say_plans(FILE *out, const Position *position);

/* The static score in centipawns, and the settings that it comes from. */
void say_static_score(FILE *out, int score, const Options *options);

#endif
