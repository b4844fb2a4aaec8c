#include "bench/spar/spar_move.h"

#include <stdio.h>
#include <string.h>

static const char small_letters[] = "nbrqk", letters[] = "NBRQK"; /* by Role, from KNIGHT on */

/* The text with a capital letter for a piece; false if it does not begin with the small letter of one. */
static bool with_capital(const char *typed, char text[SPAR_TYPED_SIZE])
{
    const char *found = *typed ? strchr(small_letters, *typed) : NULL;
    if (found)
        snprintf(text, SPAR_TYPED_SIZE, "%c%s", letters[found - small_letters], typed + 1);
    return found;
}

/* In any of the ways in which it can be meant. A small b is a bishop or a pawn: where both can move there, only "bxc5"
 * is what one writes for a pawn. */
static NotationError read_move(const Position *position, const char *typed, Move *move)
{
    char text[SPAR_TYPED_SIZE];
    Move by_piece;
    NotationError error = san_parse(position, typed, move);
    if (error != NOTATION_OK && lan_parse(position, typed, move) == NOTATION_OK)
        return NOTATION_OK;
    if (!with_capital(typed, text))
        return error;
    NotationError error_by_piece = san_parse(position, text, &by_piece);
    if (error == NOTATION_OK)
        return error_by_piece == NOTATION_OK && typed[1] != 'x' ? NOTATION_AMBIGUOUS : NOTATION_OK;
    if (error_by_piece == NOTATION_OK)
        *move = by_piece;
    return error_by_piece == NOTATION_NOT_A_MOVE ? error : error_by_piece;
}

/* What the text can mean by its first letter and its last square. */
typedef struct Meaning {
    Role role;   /* NO_ROLE: a pawn only */
    int file;    /* of a pawn; -1: a piece only */
    Square goal; /* NO_SQUARE: none is named */
} Meaning;

static Meaning meaning_of(const char *typed)
{
    Meaning meaning = {NO_ROLE, -1, NO_SQUARE};
    char text[SPAR_TYPED_SIZE], letter = *typed;
    for (const char *at = typed; *at; at++)
        if (square_read(at) != NO_SQUARE)
            meaning.goal = square_read(at);
    if (*typed >= 'a' && *typed <= 'h')
        meaning.file = *typed - 'a';
    figurine_read(typed, strlen(typed), &letter);
    if (with_capital(typed, text) && square_read(typed) == NO_SQUARE)
        letter = *text;
    const char *found = letter ? strchr(letters, letter) : NULL;
    if (found)
        meaning.role = KNIGHT + (Role)(found - letters);
    return meaning;
}

static bool fits(const Position *position, const Meaning *meaning, Move move)
{
    Role role = position_role(position, move_from(move));
    return move_to(move) == meaning->goal && !move_is_castling(move) &&
           (role == PAWN ? file_of(move_from(move)) == meaning->file : role == meaning->role);
}

/* "can be Nbd2 or Nfd2" */
static void say_choice(const Position *position, const MoveList *list, char problem[SPAR_PROBLEM_SIZE])
{
    size_t length = 0;
    for (int i = 0; i < list->count && length < SPAR_PROBLEM_SIZE; i++) {
        char text[MOVE_TEXT_SIZE];
        const char *joint = i == 0 ? "can be " : i < list->count - 1 ? ", " : " or ";
        san_write(position, list->moves[i], text);
        length += (size_t)snprintf(problem + length, SPAR_PROBLEM_SIZE - length, "%s%s", joint, text);
    }
}

/* Why no legal move fits. */
static const char *reason(const Position *position, const Meaning *meaning)
{
    Side us = position_turn(position);
    if (meaning->goal != NO_SQUARE && meaning->role != NO_ROLE &&
        !(position->by_side[us] & bit(meaning->goal)) &&
        (position_attackers(position, meaning->goal, position_occupied(position)) &
         position_men(position, us, meaning->role)))
        return ": your king would be in check";
    return position_in_check(position) ? ": you are in check" : "";
}

bool spar_move_read(const Position *position, const char *typed, Move *move, char problem[SPAR_PROBLEM_SIZE])
{
    NotationError error = read_move(position, typed, move);
    if (error == NOTATION_OK)
        return true;
    Meaning meaning = meaning_of(typed);
    MoveList list;
    int count = 0;
    movegen_all(position, &list);
    for (int i = 0; i < list.count; i++)
        if (fits(position, &meaning, list.moves[i]))
            list.moves[count++] = list.moves[i];
    list.count = count;
    if (error == NOTATION_NOT_A_MOVE && meaning.goal == NO_SQUARE)
        snprintf(problem, SPAR_PROBLEM_SIZE, "is neither a move nor a word that is known here");
    else if (count > 1)
        say_choice(position, &list, problem);
    else
        snprintf(problem, SPAR_PROBLEM_SIZE, "is not a legal move here%s",
                 count == 0 ? reason(position, &meaning) : "");
    return false;
}
