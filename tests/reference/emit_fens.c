/* Writes FENs of positions from random games, most of them spoiled in some way, each with what fen_parse() says of it,
 * as lines of JSON for fens.mjs to judge:
 *
 *     {"text": FEN, "error": "none", "fen": FEN as written, "moves": [LAN, ...]}
 *     {"text": FEN, "error": NAME}
 *
 *     emit_fens COUNT      so many */
#include "engine/rules/notation.h"
#include "tests/engine/rules/playout.h"

static const char *const error_names[FEN_ERROR_COUNT] = {
    [FEN_OK] = "none",
    [FEN_MISSING_FIELD] = "missing field",
    [FEN_BAD_MAN] = "bad man",
    [FEN_BAD_RANK_LENGTH] = "rank length",
    [FEN_BAD_RANK_COUNT] = "rank count",
    [FEN_BAD_KING_COUNT] = "king count",
    [FEN_PAWN_ON_EDGE] = "pawn on edge",
    [FEN_TOO_MANY_PAWNS] = "pawns",
    [FEN_TOO_MANY_MEN] = "men",
    [FEN_KINGS_TOUCH] = "kings touch",
    [FEN_BAD_SIDE] = "side",
    [FEN_WRONG_SIDE_IN_CHECK] = "wrong side in check",
    [FEN_IMPOSSIBLE_CHECK] = "impossible check",
    [FEN_BAD_CASTLING_TEXT] = "castling text",
    [FEN_CASTLING_CANNOT_BE] = "castling",
    [FEN_BAD_EN_PASSANT_TEXT] = "en passant text",
    [FEN_EN_PASSANT_CANNOT_BE] = "en passant",
    [FEN_BAD_HALFMOVES] = "halfmoves",
    [FEN_BAD_FULLMOVE] = "fullmove",
    [FEN_TEXT_BEHIND] = "text behind",
};

enum { PLIES_MAX = 120, TEXT_SIZE = 2 * FEN_SIZE };

static const char *const starts[] = {
    FEN_START,
    "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
    "4k3/pppppppp/8/8/8/8/PPPPPPPP/4K3 w - - 0 1",
    "8/2q1k3/1R3b2/8/3Q4/8/2n1K1r1/8 w - - 12 70",
};

enum { STARTS = sizeof starts / sizeof *starts };

/* The six fields of a FEN, to be changed one by one. */
typedef struct Fields {
    char board[64]; /* letters of men, '.' for none, from a8 to h1 */
    char rest[5][16];
} Fields;

static Fields fields_of(const char *fen)
{
    Fields fields;
    char placement[80];
    int square = 0;
    if (sscanf(fen, "%79s %15s %15s %15s %15s %15s", placement, fields.rest[0], fields.rest[1],
               fields.rest[2], fields.rest[3], fields.rest[4]) != 6)
        abort();
    for (const char *at = placement; *at; at++) {
        if (*at >= '1' && *at <= '8')
            for (int i = *at - '0'; i > 0; i--)
                fields.board[square++] = '.';
        else if (*at != '/')
            fields.board[square++] = *at;
    }
    return fields;
}

static void write_fields(const Fields *fields, char text[TEXT_SIZE])
{
    char *out = text;
    for (int square = 0; square < 64; square++) {
        if (square > 0 && square % 8 == 0)
            *out++ = '/';
        if (fields->board[square] != '.')
            *out++ = fields->board[square];
        else if (square % 8 > 0 && out[-1] >= '1' && out[-1] <= '7' && fields->board[square - 1] == '.')
            out[-1]++;
        else
            *out++ = '1';
    }
    for (int i = 0; i < 5; i++)
        out += sprintf(out, " %s", fields->rest[i]);
}

static void move_man(Random *random, Fields *fields)
{
    uint64_t from = random_below(random, 64), to = random_below(random, 64);
    char man = fields->board[from];
    fields->board[from] = fields->board[to];
    fields->board[to] = man;
}

static void change_man(Random *random, Fields *fields)
{
    static const char men[] = "pnbrqkPNBRQK....";
    fields->board[random_below(random, 64)] = men[random_below(random, sizeof men - 1)];
}

/* Many of one kind at once. */
static void multiply_man(Random *random, Fields *fields)
{
    static const char men[] = "pnbrqPNBRQ";
    char man = men[random_below(random, sizeof men - 1)];
    for (uint64_t i = random_below(random, 10); i > 0; i--) {
        uint64_t square = random_below(random, 64);
        if (fields->board[square] == '.')
            fields->board[square] = man;
    }
}

/* A field becomes one of some words. */
static void change_field(Random *random, Fields *fields)
{
    static const char *const words[5][10] = {
        {"w", "b", "W", "white", "-", "wb", "w", "b", "w", "b"},
        {"-", "KQkq", "K", "q", "Kq", "QK", "KK", "x", "HAha", "kqKQk"},
        {"-", "e3", "e6", "a6", "h3", "d6", "e9", "i3", "e", "c5"},
        {"0", "7", "99", "100", "9999", "10000", "-1", "x", "007", "1.5"},
        {"1", "0", "60", "9999", "10000", "-3", "x", "01", "1x", "77"},
    };
    uint64_t field = random_below(random, 5);
    strcpy(fields->rest[field], words[field][random_below(random, 10)]);
}

static void (*const changes[])(Random *, Fields *) = {move_man,   move_man,     change_man,
                                                      change_man, multiply_man, change_field};

/* A character is changed, comes or goes; none that the other library has a meaning of its own for. */
static void change_text(Random *random, char text[TEXT_SIZE])
{
    static const char letters[] = "pnbrqkPNBRQK123456780/ wbKQkq-acdefgh9xZ.:";
    size_t length = strlen(text), at = random_below(random, length);
    char letter = letters[random_below(random, sizeof letters - 1)];
    switch (random_below(random, 4)) {
    case 0:
        text[at] = letter;
        break;
    case 1:
        memmove(text + at, text + at + 1, length - at);
        break;
    case 2:
        memmove(text + at + 1, text + at, length - at + 1);
        text[at] = letter;
        break;
    default:
        text[at] = '\0';
        break;
    }
}

static void emit(const char *text)
{
    Position position;
    FenError error = fen_parse(text, false, &position, NULL);
    printf("{\"text\":\"%s\",\"error\":\"%s\"", text, error_names[error]);
    if (!error) {
        MoveList list;
        char fen[FEN_SIZE], lan[MOVE_TEXT_SIZE];
        fen_write(&position, fen);
        movegen_all(&position, &list);
        printf(",\"fen\":\"%s\",\"moves\":[", fen);
        for (int i = 0; i < list.count; i++) {
            lan_write(&position, list.moves[i], lan);
            printf("%s\"%s\"", i ? "," : "", lan);
        }
        printf("]");
    }
    printf("}\n");
}

static void emit_spoiled(Random *random, const Position *position)
{
    char fen[FEN_SIZE], text[TEXT_SIZE];
    fen_write(position, fen);
    Fields fields = fields_of(fen);
    for (uint64_t i = random_below(random, 4); i > 0; i--)
        changes[random_below(random, sizeof changes / sizeof *changes)](random, &fields);
    write_fields(&fields, text);
    for (uint64_t i = random_below(random, 8) / 6; i > 0; i--)
        change_text(random, text);
    emit(text);
}

int main(int argc, char **argv)
{
    long wanted = argc == 2 ? atol(argv[1]) : 0;
    if (wanted <= 0) {
        fprintf(stderr, "usage: emit_fens COUNT\n");
        return 2;
    }
    for (uint64_t game = 0; wanted > 0; game++) {
        Random random = random_for_job(2, game);
        Position position = playout_read(starts[game % STARTS], false);
        for (int ply = 0; ply < PLIES_MAX && wanted > 0 && movegen_any(&position); ply++) {
            emit_spoiled(&random, &position);
            wanted--;
            position_play(&position, playout_move(&random, &position));
        }
    }
    return 0;
}
