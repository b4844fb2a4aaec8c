/* Positions as text: Forsyth-Edwards notation after S. Edwards, "Portable Game Notation Specification and
 * Implementation Guide", 1994, section 16.1. */
#ifndef PAWNVANE_FEN_H
#define PAWNVANE_FEN_H

#include "engine/rules/position.h"

/* Room for any FEN that fen_write() makes, with its end of string. */
enum { FEN_SIZE = 128 };

#define FEN_START "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"

/* One name for each way in which a FEN can be bad. */
typedef enum FenError {
    FEN_UNREAD = -1,
    FEN_OK,
    FEN_MISSING_FIELD,
    FEN_BAD_MAN,
    FEN_BAD_RANK_LENGTH,
    FEN_BAD_RANK_COUNT,
    FEN_BAD_KING_COUNT,
    FEN_PAWN_ON_EDGE,
    FEN_TOO_MANY_PAWNS,
    FEN_TOO_MANY_MEN,
    FEN_KINGS_TOUCH,
    FEN_BAD_SIDE,
    FEN_WRONG_SIDE_IN_CHECK,
    FEN_IMPOSSIBLE_CHECK,
    FEN_BAD_CASTLING_TEXT,
    FEN_CASTLING_CANNOT_BE,
    FEN_BAD_EN_PASSANT_TEXT,
    FEN_EN_PASSANT_CANNOT_BE,
    FEN_BAD_HALFMOVES,
    FEN_BAD_FULLMOVE,
    FEN_TEXT_BEHIND,
    FEN_ERROR_COUNT
} FenError;

/* What is wrong and what was expected, in a few English words. Never null. */
const char *fen_error_text(FenError error);

/* Reads the four fields of a position and, if numbers follow, the two counters (0 and 1 if they are missing).
 * Castling rights are K Q k q; with chess960 also the files of the rooks (A to H, a to h), and the king need
 * not stand on the e-file. On success *rest is the first character behind the last field read, spaces
 * skipped; with a null `rest` nothing may stand there. On failure *p and *rest are left as they were. */
FenError fen_parse(const char *text, bool chess960, Position *p, const char **rest);

/* Writes all six fields. The en passant square is named after every double step, as the standard says. */
void fen_write(const Position *p, char text[FEN_SIZE]);

/* The letter of a man: PNBRQK for White, pnbrqk for Black. */
char fen_man_letter(Side side, Role role);

/* Reads such a letter. False if it is none. */
bool fen_read_man(char letter, Side *side, Role *role);

#endif
