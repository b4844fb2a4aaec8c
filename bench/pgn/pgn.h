/* Reading games in portable game notation (S. Edwards, "Portable Game Notation Specification and
 * Implementation Guide", 1994), in import format and in what real files contain.
 *
 * Read are: tag pairs with escapes; move numbers or none; comments in braces and to the end of the line;
 * nested variations; numeric annotation glyphs, ! and ?; lines escaped with %; any line ends; byte order
 * marks; UTF-8 and Latin-1; FEN tags with or without SetUp; Chess960; SAN as san_read() takes it; null moves
 * (-- or Z0); results that are missing, save that of a game with tags that the file ends with: such a file
 * has been cut off. Signs of evaluation (+- = and the like) are told as glyphs where the standard has one for
 * them, else as comments. Everything else outside comments makes a game broken.
 *
 * The reader tells what it finds, game by game and move by move, to a visitor:
 *
 *     static void count(void *context, const PgnGame *game, Move move) { ++*(long *)context; }
 *
 *     long moves = 0;
 *     const PgnVisitor visitor = {.context = &moves, .move = count};
 *     pgn_read_file("games.pgn", &visitor);
 *
 * A game is broken if it cannot be read to its end: the visitor hears of it once, in place of the end. What
 * was told of the game until then may be used or not. Reading goes on with the next game. Variations are read
 * over, unless the visitor wants them.
 *
 * A game begins at a tag pair, or at a move behind a finished game, and ends with its result, before the next
 * tag pair, or with the file. So that nothing swallows good games, it also ends, broken, inside a comment or
 * a variation where pgn_game_begins() says so. */
#ifndef PAWNVANE_PGN_H
#define PAWNVANE_PGN_H

#include "bench/pgn/pgn_blocks.h"
#include "bench/pgn/pgn_tags.h"
#include "engine/rules/position.h"

enum { PGN_TAGS_MAX = 128, PGN_FAULT_SIZE = 256, PGN_VARIATIONS_MAX = 64 /* one in another */ };

typedef enum PgnResult {
    PGN_NO_RESULT,
    PGN_WHITE_WINS,
    PGN_BLACK_WINS,
    PGN_DRAW,
    PGN_RESULT_COUNT
} PgnResult;

/* "*", "1-0", "0-1" and "1/2-1/2". */
extern const char *const pgn_result_texts[PGN_RESULT_COUNT];

/* A game as far as it has been read. It lasts as long as the call that it is handed to. */
typedef struct PgnGame {
    size_t number; /* in the file or the block, from 1 */
    size_t line;   /* of the file: where it begins */
    Position start;
    Position position; /* after the moves so far */
    int plies;         /* so far */
    PgnResult result;  /* when it has ended: as in the movetext, else as in the tag */
    int tag_count;     /* what goes beyond PGN_TAGS_MAX is left out */
    PgnTag tags[PGN_TAGS_MAX];
} PgnGame;

/* Finds a tag. False if it is not there. */
bool pgn_tag(const PgnGame *game, const char *name, PgnText *value);

/* What is wrong with a broken game. */
typedef struct PgnFault {
    size_t line, game; /* numbers as in PgnGame */
    int ply;           /* 0: before the moves */
    bool cut;          /* the file ends within the game */
    char text[PGN_FAULT_SIZE];
} PgnFault;

/* Writes one line of error: "FILE:LINE: game 3, ply 12: what is wrong, and what was expected; what becomes of
 * it". */
#define PGN_LEFT_OUT "this game is left out"
void pgn_complain(const char *file, const PgnFault *fault, const char *consequence);

/* Functions may be null. */
typedef struct PgnVisitor {
    void *context;
    /* The tags have been read and the start position is set up. False: leave this game out; nothing more is
     * told of it, and its moves are not checked. */
    bool (*begin)(void *context, const PgnGame *game);
    /* A move, legal and just played; NO_MOVE is a null move. */
    void (*move)(void *context, const PgnGame *game, Move move);
    /* Behind the latest move, or before the first: a numeric annotation glyph (! is 1, ? 2, !! 3, ?? 4, !? 5,
     * ?! 6), a comment. */
    void (*glyph)(void *context, const PgnGame *game, int glyph);
    void (*comment)(void *context, const PgnGame *game, PgnText text);
    /* What is told between these is a variation, played in place of the latest move, and has its own position
     * and plies in `game`. Null: no variation is told, and what stands in them can break no game unless they
     * are not closed. Otherwise what cannot be read as moves is told as a comment up to the end of its
     * variation, and, if it is wrong, as a fault before that. */
    void (*begin_variation)(void *context, const PgnGame *game);
    void (*end_variation)(void *context, const PgnGame *game);
    void (*odd_variation)(void *context, const PgnGame *game, const PgnFault *fault);
    /* Exactly one of these ends a game that was not left out; broken() may come without begin(). */
    void (*end)(void *context, const PgnGame *game);
    void (*broken)(void *context, const PgnGame *game, const PgnFault *fault);
} PgnVisitor;

/* Reads the games of a block; the first has the number first_game. Returns the number behind the last one. */
size_t pgn_read_block(const PgnBlock *block, size_t first_game, const PgnVisitor *visitor);

/* How many games pgn_read_block() will find, in a quarter of the time. */
size_t pgn_count_games(const PgnBlock *block);

/* Reads a whole file on this thread; "-" is the standard input. False if it cannot be opened or read
 * (reported). */
bool pgn_read_file(const char *path, const PgnVisitor *visitor);

#endif
