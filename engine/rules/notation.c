#include "engine/rules/notation.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

static const char role_letters[] = "PNBRQK";

static const char *const error_texts[] = {
    [NOTATION_OK] = "no error",
    [NOTATION_NOT_A_MOVE] = "not the text of a move",
    [NOTATION_ILLEGAL] = "no legal move here",
    [NOTATION_AMBIGUOUS] = "fits several legal moves here",
};

const char *notation_error_text(NotationError error)
{
    return error_texts[error];
}

void square_write(Square square, char text[3])
{
    text[0] = (char)('a' + file_of(square));
    text[1] = (char)('1' + rank_of(square));
    text[2] = '\0';
}

Square square_read(const char *text)
{
    if (text[0] < 'a' || text[0] > 'h' || text[1] < '1' || text[1] > '8')
        return NO_SQUARE;
    return square_at(text[0] - 'a', text[1] - '1');
}

static bool is_role_letter(char letter, Role *role)
{
    const char *found = letter ? strchr(role_letters, letter) : NULL;
    if (found)
        *role = (Role)(found - role_letters);
    return found != NULL;
}

/* Which of file and rank of the origin a piece move must name so that no other legal move reads the same
 * (PGN standard, 8.2.3.4: first the file, then the rank, then both). */
static void needed_origin(const Position *p, Move move, bool *file, bool *rank)
{
    MoveList list;
    Square from = move_from(move);
    bool rival = false, same_file = false, same_rank = false;
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++) {
        Square other = move_from(list.moves[i]);
        if (other == from || move_to(list.moves[i]) != move_to(move) || move_is_castling(list.moves[i]) ||
            position_role(p, other) != position_role(p, from))
            continue;
        rival = true;
        same_file |= file_of(other) == file_of(from);
        same_rank |= rank_of(other) == rank_of(from);
    }
    *file = rival && (!same_file || same_rank);
    *rank = rival && same_file;
}

static char *write_move_body(const Position *p, Move move, char *out)
{
    Square from = move_from(move), to = move_to(move);
    Role role = position_role(p, from);
    bool captures = position_captured(p, move) != NO_ROLE;
    bool name_file = role == PAWN && captures, name_rank = false;
    if (role != PAWN) {
        *out++ = role_letters[role];
        if (role != KING)
            needed_origin(p, move, &name_file, &name_rank);
    }
    if (name_file)
        *out++ = (char)('a' + file_of(from));
    if (name_rank)
        *out++ = (char)('1' + rank_of(from));
    if (captures)
        *out++ = 'x';
    square_write(to, out);
    out += 2;
    if (move_is_promotion(move)) {
        *out++ = '=';
        *out++ = role_letters[move_promotion(move)];
    }
    return out;
}

void san_write(const Position *p, Move move, char text[MOVE_TEXT_SIZE])
{
    char *out = text;
    if (move_is_castling(move)) {
        strcpy(out, move_to(move) > move_from(move) ? "O-O" : "O-O-O");
        out += strlen(out);
    } else {
        out = write_move_body(p, move, out);
    }
    Position after = *p;
    position_play(&after, move);
    if (position_in_check(&after))
        *out++ = movegen_any(&after) ? '+' : '#';
    *out = '\0';
}

void lan_write(const Position *p, Move move, char text[MOVE_TEXT_SIZE])
{
    Square from = move_from(move), to = move_to(move);
    if (move == NO_MOVE) {
        strcpy(text, "0000");
        return;
    }
    if (move_is_castling(move) && !p->chess960)
        to = castling_king_goal(from, to);
    square_write(from, text);
    square_write(to, text + 2);
    if (move_is_promotion(move)) {
        text[4] = (char)tolower(role_letters[move_promotion(move)]);
        text[5] = '\0';
    }
}

/* In Chess960 the king's move to where castling puts him may be a step of his; two squares and more never are. */
static bool names_castling(const Position *p, Square from, Square to)
{
    return !p->chess960 || abs(file_of(to) - file_of(from)) > 1;
}

NotationError lan_parse(const Position *p, const char *text, Move *move)
{
    size_t length = strlen(text);
    if (length < 4 || length > 5)
        return NOTATION_NOT_A_MOVE;
    Square from = square_read(text), to = square_read(text + 2);
    Role promotion = NO_ROLE;
    if (from == NO_SQUARE || to == NO_SQUARE ||
        (length == 5 && !is_role_letter((char)toupper((unsigned char)text[4]), &promotion)))
        return NOTATION_NOT_A_MOVE;
    MoveList list;
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++) {
        Move m = list.moves[i];
        bool same_goal = move_to(m) == to || (move_is_castling(m) && names_castling(p, from, to) &&
                                              castling_king_goal(from, move_to(m)) == to);
        if (move_from(m) == from && same_goal &&
            (move_is_promotion(m) ? move_promotion(m) : NO_ROLE) == promotion) {
            *move = m;
            return NOTATION_OK;
        }
    }
    return NOTATION_ILLEGAL;
}
