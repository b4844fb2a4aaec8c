/* The events of a story in plain sentences. */
#ifndef PAWNVANE_STORY_WORDS_H
#define PAWNVANE_STORY_WORDS_H

#include "bench/lesson/story.h"
#include "bench/pgn/pgn_position.h"

/* "12.f5" or "12...c5": the move that led to the position after that many plies, 1 or more. */
void story_move_text(const Story *story, int ply, char text[PGN_NUMBERED_SIZE]);

/* "12.f5" or "12...c5" for a move that could be played after that many plies. */
void story_choice_text(const Story *story, int ply, Move move, char text[PGN_NUMBERED_SIZE]);

/* An event in one to three plain sentences. Returns the length of the whole text, like snprintf. */
enum { STORY_TEXT_SIZE = 512 };
size_t story_event_text(const Story *story, const StoryEvent *event, char *text, size_t size);

/* The whole story in a few sentences: the weightiest lock, and what each side did with its levers. As above. */
size_t story_in_short(const Story *story, char *text, size_t size);

/* Whether the whole answer to the position, which is told where a chain arises, says that, too. */
bool story_is_in_full(const Story *story, const StoryEvent *event);

/* The numeric annotation glyph that fits the move of a lever played or missed (for a miss: the move of the
 * game); 0 for other events. */
int story_event_glyph(const StoryEvent *event);

#endif
