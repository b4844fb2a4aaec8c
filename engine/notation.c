#include "engine/notation.h"

#include <ctype.h>
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
    text[0] = (char)('a' + (int)file_of(square));
    text[1] = (char)('1' + (int)rank_of(square));
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
        *out++ = (char)('a' + (int)file_of(from));
    if (name_rank)
        *out++ = (char)('1' + (int)rank_of(from));
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

/* What a SAN text says of a move; -1 and NO_ROLE where it says nothing. */
typedef struct SanParts {
    Role role;
    int from_file, from_rank;
    Square to;
    Role promotion;
    bool castling, castling_east;
} SanParts;

static bool is_square_letter(char c)
{
    return (c >= 'a' && c <= 'h') || (c >= '1' && c <= '8');
}

/* Where the text goes on behind "e.p." or "ep"; null if it does not begin so. */
static const char *behind_en_passant_sign(const char *text)
{
    static const char *const signs[] = {"e.p.", "ep"};
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (strncmp(text, signs[i], strlen(signs[i])) == 0)
            return text + strlen(signs[i]);
    return NULL;
}

static bool read_suffix(const char *text)
{
    const char *behind = behind_en_passant_sign(text);
    if (behind)
        text = behind;
    return text[strspn(text, "+#!?")] == '\0';
}

static bool read_castling_text(const char *text, SanParts *parts)
{
    char o = text[0];
    if ((o != 'O' && o != '0' && o != 'o') || text[1] != '-' || text[2] != o)
        return false;
    parts->castling = true;
    parts->castling_east = true;
    text += 3;
    if (text[0] == '-' && text[1] == o) {
        parts->castling_east = false;
        text += 2;
    }
    return read_suffix(text);
}

static bool read_promotion(const char **text, SanParts *parts)
{
    const char *t = *text;
    bool bracket = *t == '(';
    if (*t == '=' || *t == '(')
        t++;
    Role role;
    char letter = *text == t ? *t : (char)toupper((unsigned char)*t);
    if (!is_role_letter(letter, &role))
        return t == *text;
    if (role == PAWN || role == KING)
        return false;
    parts->promotion = role;
    *text = t + 1 + (bracket && t[1] == ')');
    return true;
}

/* The squares of a move are read from the end: the last two letters are the goal, what stands before is the
 * origin. */
static bool read_parts(const char *text, SanParts *parts)
{
    *parts = (SanParts){PAWN, -1, -1, NO_SQUARE, NO_ROLE, false, false};
    if (read_castling_text(text, parts))
        return true;
    parts->castling = false;
    if (is_role_letter(*text, &parts->role))
        text++;
    char squares[5];
    int n = 0;
    for (; n < 4 && !behind_en_passant_sign(text); text++) {
        if (is_square_letter(*text))
            squares[n++] = *text;
        else if (!*text || !strchr("x-:", *text) || !is_square_letter(text[1]))
            break;
    }
    squares[n] = '\0';
    if (n < 2 || (parts->to = square_read(squares + n - 2)) == NO_SQUARE)
        return false;
    int i = 0;
    if (i < n - 2 && isalpha((unsigned char)squares[i]))
        parts->from_file = squares[i++] - 'a';
    if (i < n - 2 && isdigit((unsigned char)squares[i]))
        parts->from_rank = squares[i++] - '1';
    return i == n - 2 && read_promotion(&text, parts) && read_suffix(text);
}

static bool fits(const Position *p, Move move, const SanParts *parts)
{
    Square from = move_from(move), to = move_to(move);
    if (move_is_castling(move)) {
        if (parts->castling)
            return (to > from) == parts->castling_east;
        return false;
    }
    return !parts->castling && to == parts->to && position_role(p, from) == parts->role &&
           (parts->from_file < 0 || parts->from_file == (int)file_of(from)) &&
           (parts->from_rank < 0 || parts->from_rank == (int)rank_of(from)) &&
           (move_is_promotion(move) ? move_promotion(move) : NO_ROLE) == parts->promotion;
}

NotationError san_parse(const Position *p, const char *text, Move *move)
{
    SanParts parts;
    MoveList list;
    Move found = NO_MOVE;
    if (!read_parts(text, &parts))
        return NOTATION_NOT_A_MOVE;
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++) {
        if (!fits(p, list.moves[i], &parts))
            continue;
        if (found != NO_MOVE)
            return NOTATION_AMBIGUOUS;
        found = list.moves[i];
    }
    if (found == NO_MOVE)
        return NOTATION_ILLEGAL;
    *move = found;
    return NOTATION_OK;
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
        bool same_goal = move_to(m) == to ||
                         (move_is_castling(m) && !p->chess960 && castling_king_goal(from, move_to(m)) == to);
        if (move_from(m) == from && same_goal &&
            (move_is_promotion(m) ? move_promotion(m) : NO_ROLE) == promotion) {
            *move = m;
            return NOTATION_OK;
        }
    }
    return NOTATION_ILLEGAL;
}
