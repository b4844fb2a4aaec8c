#include "engine/rules/fen.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char man_letters[] = "pnbrqk";

static const char *const error_texts[FEN_ERROR_COUNT] = {
    [FEN_OK] = "no error",
    [FEN_MISSING_FIELD] = "a field is missing; expected placement, side to move, castling and en passant",
    [FEN_BAD_MAN] = "a character of the placement is none of pnbrqkPNBRQK12345678/",
    [FEN_BAD_RANK_LENGTH] = "a rank does not fill exactly eight files",
    [FEN_BAD_RANK_COUNT] = "the placement does not have exactly eight ranks",
    [FEN_BAD_KING_COUNT] = "each side must have exactly one king",
    [FEN_PAWN_ON_EDGE] = "a pawn stands on the first or last rank",
    [FEN_TOO_MANY_PAWNS] = "a side has more than eight pawns",
    [FEN_TOO_MANY_MEN] = "a side has more men than eight pawns and their promotions allow",
    [FEN_KINGS_TOUCH] = "the kings stand next to each other",
    [FEN_BAD_SIDE] = "the side to move must be w or b",
    [FEN_WRONG_SIDE_IN_CHECK] = "the side that is not to move is in check",
    [FEN_IMPOSSIBLE_CHECK] = "no last move can have given this check",
    [FEN_BAD_CASTLING_TEXT] = "the castling field must be - or letters of KQkq, each once",
    [FEN_CASTLING_CANNOT_BE] = "a castling right needs its king and rook on their first squares",
    [FEN_BAD_EN_PASSANT_TEXT] = "the en passant field must be - or a square",
    [FEN_EN_PASSANT_CANNOT_BE] = "no pawn can have just made a double step over the en passant square",
    [FEN_BAD_HALFMOVES] = "the halfmove clock must be a number from 0 to 9999, and 0 after a double step",
    [FEN_BAD_FULLMOVE] = "the fullmove number must be a number from 1 to 9999",
    [FEN_TEXT_BEHIND] = "text stands behind the position; expected nothing behind its last field",
};

const char *fen_error_text(FenError error)
{
    return error >= FEN_OK && error < FEN_ERROR_COUNT ? error_texts[error] : "unknown error";
}

char fen_man_letter(Side side, Role role)
{
    char letter = man_letters[role];
    return side == WHITE ? (char)toupper(letter) : letter;
}

bool fen_read_man(char letter, Side *side, Role *role)
{
    const char *found = letter ? strchr(man_letters, tolower((unsigned char)letter)) : NULL;
    if (!found)
        return false;
    *side = isupper((unsigned char)letter) ? WHITE : BLACK;
    *role = (Role)(found - man_letters);
    return true;
}

/* A field of the text: what stands between spaces. */
typedef struct Field {
    const char *start;
    int length;
} Field;

static Field next_field(const char **text)
{
    while (**text == ' ' || **text == '\t')
        (*text)++;
    Field field = {*text, 0};
    while (**text && !isspace((unsigned char)**text)) {
        (*text)++;
        field.length++;
    }
    return field;
}

static FenError read_placement(Field field, Position *p)
{
    int file = 0, rank = RANK_8;
    for (int i = 0; i < field.length; i++) {
        char c = field.start[i];
        Side side;
        Role role;
        if (c == '/') {
            if (file != FILE_COUNT)
                return FEN_BAD_RANK_LENGTH;
            if (--rank < RANK_1)
                return FEN_BAD_RANK_COUNT;
            file = 0;
        } else if (c >= '1' && c <= '8') {
            file += c - '0';
            if (file > FILE_COUNT)
                return FEN_BAD_RANK_LENGTH;
        } else if (fen_read_man(c, &side, &role)) {
            if (file >= FILE_COUNT)
                return FEN_BAD_RANK_LENGTH;
            position_put(p, side, role, square_at(file++, rank));
        } else {
            return FEN_BAD_MAN;
        }
    }
    if (file != FILE_COUNT)
        return FEN_BAD_RANK_LENGTH;
    return rank == RANK_1 ? FEN_OK : FEN_BAD_RANK_COUNT;
}

/* How many men of a side must have come from promotion. */
static int promoted_men(const Position *p, Side side)
{
    static const int at_start[ROLE_COUNT] = {[KNIGHT] = 2, [BISHOP] = 2, [ROOK] = 2, [QUEEN] = 1};
    int promoted = 0;
    for (Role role = KNIGHT; role <= QUEEN; role++) {
        int extra = count_squares(position_men(p, side, role)) - at_start[role];
        promoted += extra > 0 ? extra : 0;
    }
    return promoted;
}

static FenError check_men(const Position *p)
{
    for (Side side = WHITE; side <= BLACK; side++) {
        int pawns = count_squares(position_men(p, side, PAWN));
        if (count_squares(position_men(p, side, KING)) != 1)
            return FEN_BAD_KING_COUNT;
        if (pawns > 8)
            return FEN_TOO_MANY_PAWNS;
        if (pawns + promoted_men(p, side) > 8)
            return FEN_TOO_MANY_MEN;
    }
    if (p->by_role[PAWN] & (RANK_1_BB | RANK_8_BB))
        return FEN_PAWN_ON_EDGE;
    if (king_attacks(position_king(p, WHITE)) & position_men(p, BLACK, KING))
        return FEN_KINGS_TOUCH;
    return FEN_OK;
}

static FenError read_side(Field field, Position *p)
{
    if (field.length != 1 || (*field.start != 'w' && *field.start != 'b'))
        return FEN_BAD_SIDE;
    p->side_to_move = *field.start == 'w' ? WHITE : BLACK;
    return FEN_OK;
}

/* One move gives check with the man that moves and with one that it uncovers, never with three. */
static FenError check_checks(const Position *p)
{
    Side us = position_turn(p);
    Square enemy_king = position_king(p, opposite(us));
    if (position_attackers(p, enemy_king, position_occupied(p)) & p->by_side[us])
        return FEN_WRONG_SIDE_IN_CHECK;
    return count_squares(position_checkers(p)) > 2 ? FEN_IMPOSSIBLE_CHECK : FEN_OK;
}

static Square outermost_rook(const Position *p, Side side, bool east)
{
    Square king = position_king(p, side);
    Bitboard rooks = position_men(p, side, ROOK) & rank_mask(rank_of(king));
    Bitboard beyond = east ? rooks & ~(bit(king) | (bit(king) - 1)) : rooks & (bit(king) - 1);
    if (!beyond)
        return NO_SQUARE;
    return east ? last_square(beyond) : first_square(beyond);
}

static FenError read_castling(Field field, Position *p)
{
    if (field.length == 1 && *field.start == '-')
        return FEN_OK;
    if (field.length > 4)
        return FEN_BAD_CASTLING_TEXT;
    for (int i = 0; i < field.length; i++) {
        char c = field.start[i];
        Side side = isupper((unsigned char)c) ? WHITE : BLACK;
        int home = side == WHITE ? RANK_1 : RANK_8;
        int lower = tolower((unsigned char)c);
        Square king = position_king(p, side), rook;
        if (lower == 'k' || lower == 'q')
            rook = outermost_rook(p, side, lower == 'k');
        else if (p->chess960 && lower >= 'a' && lower <= 'h')
            rook = square_at(lower - 'a', home);
        else
            return FEN_BAD_CASTLING_TEXT;
        if (rook == NO_SQUARE || rank_of(king) != home || !(position_men(p, side, ROOK) & bit(rook)))
            return FEN_CASTLING_CANNOT_BE;
        if (!p->chess960 && (file_of(king) != FILE_E || file_of(rook) != (lower == 'k' ? FILE_H : FILE_A)))
            return FEN_CASTLING_CANNOT_BE;
        if (p->castling_rooks & bit(rook))
            return FEN_BAD_CASTLING_TEXT;
        /* One right a wing. */
        Bitboard wing = rook > king ? ~(bit(king) - 1) : bit(king) - 1;
        if (p->castling_rooks & rank_mask(home) & wing)
            return FEN_CASTLING_CANNOT_BE;
        p->castling_rooks |= bit(rook);
    }
    return FEN_OK;
}

static FenError read_en_passant(Field field, Position *p)
{
    if (field.length == 1 && *field.start == '-')
        return FEN_OK;
    if (field.length != 2 || field.start[0] < 'a' || field.start[0] > 'h' || field.start[1] < '1' ||
        field.start[1] > '8')
        return FEN_BAD_EN_PASSANT_TEXT;
    Side us = position_turn(p), them = opposite(us);
    Square goal = square_at(field.start[0] - 'a', field.start[1] - '1');
    if (relative_rank(us, goal) != RANK_6)
        return FEN_EN_PASSANT_CANNOT_BE;
    Square pawn = goal - forward_step(us), origin = goal + forward_step(us);
    Bitboard occupied = position_occupied(p);
    if (!(position_men(p, them, PAWN) & bit(pawn)) || (occupied & (bit(goal) | bit(origin))))
        return FEN_EN_PASSANT_CANNOT_BE;
    /* A check that is there now must come from the pawn or through the square it left. */
    Bitboard before = (occupied ^ bit(pawn)) | bit(origin);
    if (position_attackers(p, position_king(p, us), before) & p->by_side[them] & ~bit(pawn))
        return FEN_EN_PASSANT_CANNOT_BE;
    p->en_passant = (int8_t)goal;
    return FEN_OK;
}

static bool read_number(Field field, int low, uint16_t *number)
{
    int value = 0;
    if (field.length < 1 || field.length > 4)
        return false;
    for (int i = 0; i < field.length; i++) {
        if (!isdigit((unsigned char)field.start[i]))
            return false;
        value = value * 10 + (field.start[i] - '0');
    }
    *number = (uint16_t)value;
    return value >= low;
}

/* Counters stand there if a number or a sign does; EPD operations begin with a letter. */
static bool counters_follow(const char *text)
{
    while (*text == ' ' || *text == '\t')
        text++;
    return isdigit((unsigned char)*text) || *text == '-' || *text == '+';
}

static FenError read_counters(const char **text, Position *p)
{
    if (!counters_follow(*text))
        return FEN_OK;
    if (!read_number(next_field(text), 0, &p->halfmoves))
        return FEN_BAD_HALFMOVES;
    if (p->en_passant != NO_SQUARE && p->halfmoves != 0)
        return FEN_BAD_HALFMOVES;
    if (!counters_follow(*text))
        return FEN_OK;
    return read_number(next_field(text), 1, &p->fullmove) ? FEN_OK : FEN_BAD_FULLMOVE;
}

FenError fen_parse(const char *text, bool chess960, Position *p, const char **rest)
{
    static FenError (*const readers[])(Field, Position *) = {read_placement, read_side, read_castling,
                                                             read_en_passant};
    Position read;
    FenError error = FEN_OK;
    position_clear(&read);
    read.chess960 = chess960;
    for (int i = 0; i < 4; i++) {
        Field field = next_field(&text);
        if (field.length == 0)
            return FEN_MISSING_FIELD;
        error = readers[i](field, &read);
        if (!error && i == 0)
            error = check_men(&read);
        if (!error && i == 1)
            error = check_checks(&read);
        if (error)
            return error;
    }
    error = read_counters(&text, &read);
    if (error)
        return error;
    while (*text == ' ' || *text == '\t')
        text++;
    if (rest)
        *rest = text;
    else if (*text)
        return FEN_TEXT_BEHIND;
    position_refresh(&read);
    *p = read;
    return FEN_OK;
}

static char *write_placement(const Position *p, char *out)
{
    for (Rank rank = RANK_8; rank >= RANK_1; rank--) {
        int empty = 0;
        for (File file = FILE_A; file <= FILE_H; file++) {
            Square square = square_at(file, rank);
            Role role = position_role(p, square);
            if (role == NO_ROLE) {
                empty++;
                continue;
            }
            if (empty)
                *out++ = (char)('0' + empty);
            empty = 0;
            *out++ = fen_man_letter(p->by_side[WHITE] & bit(square) ? WHITE : BLACK, role);
        }
        if (empty)
            *out++ = (char)('0' + empty);
        if (rank > RANK_1)
            *out++ = '/';
    }
    return out;
}

/* K and Q name the outermost rook of a wing; any other castling rook is named by its file. */
static char castling_letter(const Position *p, Side side, Square rook)
{
    bool east = rook > position_king(p, side);
    char letter = (char)(outermost_rook(p, side, east) == rook ? (east ? 'k' : 'q') : 'a' + file_of(rook));
    return side == WHITE ? (char)toupper(letter) : letter;
}

static char *write_castling(const Position *p, char *out)
{
    if (!p->castling_rooks)
        *out++ = '-';
    for (Side side = WHITE; side <= BLACK; side++)
        for (Bitboard rooks = p->castling_rooks & p->by_side[side]; rooks;) {
            Square rook = last_square(rooks);
            rooks ^= bit(rook);
            *out++ = castling_letter(p, side, rook);
        }
    return out;
}

void fen_write(const Position *p, char text[FEN_SIZE])
{
    char *out = write_placement(p, text);
    *out++ = ' ';
    *out++ = position_turn(p) == WHITE ? 'w' : 'b';
    *out++ = ' ';
    out = write_castling(p, out);
    *out++ = ' ';
    if (p->en_passant == NO_SQUARE) {
        *out++ = '-';
    } else {
        *out++ = (char)('a' + file_of(p->en_passant));
        *out++ = (char)('1' + rank_of(p->en_passant));
    }
    snprintf(out, (size_t)(FEN_SIZE - (out - text)), " %u %u", (unsigned)p->halfmoves, (unsigned)p->fullmove);
}
