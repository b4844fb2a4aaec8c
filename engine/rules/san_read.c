/* Reading SAN. The text is taken apart first; then only the men that can reach the goal are looked at,
 * without a list of moves. */
#include "engine/rules/notation.h"

#include <string.h>

/* "e5xd6e.p.+!?" is among the longest that are read. */
enum { SAN_LENGTH_MAX = 15 };

/* What the text says of a move. */
typedef struct SanParts {
    Role role;
    Bitboard origins; /* the squares that fit what it says of the origin */
    Square to;
    Role promotion; /* NO_ROLE if it says nothing */
    bool castling, castling_east;
} SanParts;

/* A Role plus one, for the letters of the moving man. */
static const int8_t role_letters[256] = {
    ['P'] = PAWN + 1, ['N'] = KNIGHT + 1, ['B'] = BISHOP + 1,
    ['R'] = ROOK + 1, ['Q'] = QUEEN + 1,  ['K'] = KING + 1,
};

/* The same for those that a pawn can become. */
static const int8_t promotion_letters[256] = {
    ['N'] = KNIGHT + 1, ['B'] = BISHOP + 1, ['R'] = ROOK + 1, ['Q'] = QUEEN + 1,
    ['n'] = KNIGHT + 1, ['b'] = BISHOP + 1, ['r'] = ROOK + 1, ['q'] = QUEEN + 1,
};

static bool is_file_letter(char c)
{
    return c >= 'a' && c <= 'h';
}

static bool is_rank_digit(char c)
{
    return c >= '1' && c <= '8';
}

static bool is_capture_sign(char c)
{
    return c == 'x' || c == '-' || c == ':';
}

/* Where the text goes on behind "e.p." or "ep"; where it begins if it does not begin so. */
static const char *skip_en_passant_sign(const char *text)
{
    if (text[0] != 'e')
        return text;
    if (text[1] == 'p')
        return text + 2;
    return strncmp(text, "e.p.", 4) == 0 ? text + 4 : text;
}

static bool read_suffix(const char *text)
{
    text = skip_en_passant_sign(text);
    while (*text == '+' || *text == '#' || *text == '!' || *text == '?')
        text++;
    return *text == '\0';
}

static bool read_castling(const char *text, SanParts *parts)
{
    char o = text[0];
    if (text[1] != '-' || text[2] != o)
        return false;
    parts->castling = true;
    parts->castling_east = text[3] != '-' || text[4] != o;
    return read_suffix(text + (parts->castling_east ? 3 : 5));
}

/* "=Q", "(Q)", "Q" or nothing. */
static bool read_promotion(const char **text, SanParts *parts)
{
    const char *t = *text;
    bool bracket = *t == '(', sign = bracket || *t == '=';
    parts->promotion = promotion_letters[(unsigned char)t[sign]] - 1;
    if (parts->promotion == NO_ROLE)
        return !sign;
    t += sign + 1;
    *text = t + (bracket && *t == ')');
    return true;
}

/* The squares of a move are read from the end: the last two letters are the goal, what stands before is the
 * origin. */
static bool read_parts(const char *text, SanParts *parts)
{
    *parts = (SanParts){.role = PAWN, .origins = ~UINT64_C(0), .promotion = NO_ROLE};
    if (*text == 'O' || *text == '0' || *text == 'o')
        return read_castling(text, parts);
    if (role_letters[(unsigned char)*text])
        parts->role = role_letters[(unsigned char)*text++] - 1;

    char squares[4];
    int n = 0;
    for (; n < 4; text++) {
        if (is_rank_digit(*text) || (is_file_letter(*text) && skip_en_passant_sign(text) == text))
            squares[n++] = *text;
        else if (!is_capture_sign(*text) || !(is_file_letter(text[1]) || is_rank_digit(text[1])))
            break;
    }
    if (n < 2 || !is_file_letter(squares[n - 2]) || !is_rank_digit(squares[n - 1]))
        return false;
    parts->to = square_at(squares[n - 2] - 'a', squares[n - 1] - '1');
    int i = 0;
    if (i < n - 2 && is_file_letter(squares[i]))
        parts->origins &= file_mask(squares[i++] - 'a');
    if (i < n - 2 && is_rank_digit(squares[i]))
        parts->origins &= rank_mask(squares[i++] - '1');
    return i == n - 2 && read_promotion(&text, parts) && read_suffix(text);
}

static bool takes_en_passant(const Position *p, const SanParts *parts)
{
    return p->en_passant_possible && parts->role == PAWN && parts->to == p->en_passant;
}

/* The squares from which a pawn can go there, whether one stands on them or not. */
static Bitboard pawn_origins(const Position *p, Side us, const SanParts *parts)
{
    Bitboard goal = bit(parts->to), occupied = position_occupied(p);
    if ((occupied & goal) || takes_en_passant(p, parts))
        return pawn_attacks_from(opposite(us), parts->to);
    Bitboard one = push_forward(opposite(us), goal);
    bool two = relative_rank(us, parts->to) == RANK_4 && !(occupied & one);
    return two ? one | push_forward(opposite(us), one) : one;
}

/* The own men that fit the text and can go there but for the safety of their king. */
static Bitboard find_candidates(const Position *p, Side us, const SanParts *parts)
{
    Bitboard occupied = position_occupied(p), reach = 0;
    switch (parts->role) {
    case PAWN:
        reach = pawn_origins(p, us, parts);
        break;
    case KNIGHT:
        reach = knight_attacks(parts->to);
        break;
    case BISHOP:
        reach = bishop_attacks(parts->to, occupied);
        break;
    case ROOK:
        reach = rook_attacks(parts->to, occupied);
        break;
    case QUEEN:
        reach = queen_attacks(parts->to, occupied);
        break;
    default:
        reach = king_attacks(parts->to);
        break;
    }
    return (p->by_side[us] & bit(parts->to)) ? 0 : reach & parts->origins & position_men(p, us, parts->role);
}

static bool keeps_king_safe(const Position *p, Side us, Square from, const SanParts *parts)
{
    Square king = parts->role == KING ? parts->to : position_king(p, us);
    Bitboard taken = bit(parts->to);
    if (takes_en_passant(p, parts))
        taken = push_forward(opposite(us), taken);
    Bitboard occupied = ((position_occupied(p) ^ bit(from)) & ~taken) | bit(parts->to);
    return !(position_attackers(p, king, occupied) & p->by_side[opposite(us)] & ~taken);
}

static NotationError find_castling(const Position *p, bool east, Move *move)
{
    MoveList list;
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++) {
        Move m = list.moves[i];
        if (move_is_castling(m) && (move_to(m) > move_from(m)) == east) {
            *move = m;
            return NOTATION_OK;
        }
    }
    return NOTATION_ILLEGAL;
}

static NotationError find_move(const Position *p, const SanParts *parts, Move *move)
{
    Side us = position_turn(p);
    Bitboard candidates = find_candidates(p, us, parts);
    Square from = NO_SQUARE;
    bool promotes = parts->role == PAWN && relative_rank(us, parts->to) == RANK_8;
    if (promotes != (parts->promotion != NO_ROLE))
        return NOTATION_ILLEGAL;
    while (candidates) {
        Square candidate = take_first(&candidates);
        if (!keeps_king_safe(p, us, candidate, parts))
            continue;
        if (from != NO_SQUARE)
            return NOTATION_AMBIGUOUS;
        from = candidate;
    }
    if (from == NO_SQUARE)
        return NOTATION_ILLEGAL;
    if (promotes)
        *move = promotion_make(from, parts->to, parts->promotion);
    else
        *move = move_make(from, parts->to, takes_en_passant(p, parts) ? EN_PASSANT : PLAIN);
    return NOTATION_OK;
}

size_t figurine_read(const char *text, size_t length, char *letter)
{
    /* Six signs of each colour in this order, from E2 99 94 on. */
    static const char letters[] = "KQRBNPKQRBNP";
    enum { FIRST = 0x94, LAST = 0x9F };
    unsigned char last = length >= 3 && memcmp(text, "\xE2\x99", 2) == 0 ? (unsigned char)text[2] : 0;
    if (last < FIRST || last > LAST)
        return 0;
    *letter = letters[last - FIRST];
    /* U+FE0E and U+FE0F ask for a plain or a coloured picture. */
    bool selected =
        length >= 6 && (memcmp(text + 3, "\xEF\xB8\x8E", 3) == 0 || memcmp(text + 3, "\xEF\xB8\x8F", 3) == 0);
    return selected ? 6 : 3;
}

/* Copies a text with letters in place of figurines. False if it is too long for a move. */
static bool copy_letters(const char *text, size_t length, char copy[SAN_LENGTH_MAX + 1])
{
    const char *end = text + length;
    size_t copied = 0;
    while (text < end && copied < SAN_LENGTH_MAX) {
        size_t bytes = figurine_read(text, (size_t)(end - text), &copy[copied]);
        if (bytes == 0)
            copy[copied] = *text;
        text += bytes > 0 ? bytes : 1;
        copied++;
    }
    copy[copied] = '\0';
    return text == end;
}

NotationError san_read(const Position *p, const char *text, size_t length, Move *move)
{
    char copy[SAN_LENGTH_MAX + 1];
    SanParts parts;
    if (!copy_letters(text, length, copy) || !read_parts(copy, &parts))
        return NOTATION_NOT_A_MOVE;
    return parts.castling ? find_castling(p, parts.castling_east, move) : find_move(p, &parts, move);
}

NotationError san_parse(const Position *p, const char *text, Move *move)
{
    return san_read(p, text, strlen(text), move);
}
