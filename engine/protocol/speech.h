/* What the engine says to the client: whole lines, from any thread. */
#ifndef PAWNVANE_SPEECH_H
#define PAWNVANE_SPEECH_H

#include "engine/protocol/options.h"
#include "engine/spar/plan_notes.h"

/* One line, its end included in one piece, so that two threads do not mix theirs. */
__attribute__((format(printf, 2, 3))) void say(FILE *out, const char *format, ...);

/* The answer to "uci": name, author, options. */
void say_who(FILE *out);

/* Of a search that goes on, for a SearchListener whose context is the stream. */
void say_line(void *out, const Position *root, const SearchLine *line);
void say_step(void *out, const Position *root, const SearchStep *step);

/* The move chosen in a position, and the reply expected. */
void say_choice(FILE *out, const Position *root, const SearchResult *result);

/* What has changed in the plans of a game since it had `told` positions. */
void say_plan_notes(FILE *out, const PlanNotes *notes, size_t told);

/* Why a move is played that is not the best, if it is one. */
void say_preference(FILE *out, const Position *root, const SearchResult *result, const SparChoice *choice);

/* The static score in centipawns, and the settings that it comes from. */
void say_static_score(FILE *out, int score, const Options *options);

#endif
