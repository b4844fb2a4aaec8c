/* Generated positions with locked chains, as FENs: on top of structure_boards.h, whose diagrams they stand
 * on.
 *
 * Rams, chains of two to five files (the white pawn of a ram stands on ranks 2 to 6, so no chain can have
 * six), chains side by side, crossing and doubled on the same files, more pawns and pieces around them, and
 * now and then a double step that has just been played. Each is as legal as fen_parse() can tell. */
#ifndef PAWNVANE_TESTS_STRUCTURE_POSITIONS_H
#define PAWNVANE_TESTS_STRUCTURE_POSITIONS_H

#include "engine/rules/fen.h"
#include "tests/structure/structure_boards.h"

enum { CHAIN_FILES_MOST = 5 };

/* Rams on files side by side, the white pawns' ranks rising or falling by one. Ranks and files
 * count from 0. */
static inline void add_chain(Placed *placed, int file, int rank, int slope, int files)
{
    for (int i = 0; i < files; i++)
        if (rank + slope * i >= 1 && rank + slope * i <= 5 && file + i <= 7)
            add_ram(placed, file + i, rank + slope * i);
}

/* A chain of two to five files somewhere, by times with a second one: two ranks further up the same files, or
 * back from its last ram with the other slope. */
static inline void add_random_chain(Placed *placed, uint64_t *state)
{
    int files = 2 + random_below(state, CHAIN_FILES_MOST - 1);
    int slope = random_below(state, 2) == 0 ? 1 : -1;
    int file = random_below(state, 9 - files);
    int lowest = 1 + random_below(state, 6 - files);
    int rank = slope == 1 ? lowest : lowest + files - 1;
    int last_rank = rank + slope * (files - 1);
    add_chain(placed, file, rank, slope, files);
    switch (random_below(state, 4)) {
    case 0:
        add_chain(placed, file, rank + 2, slope, files);
        break;
    case 1:
        add_chain(placed, file + files - 1, last_rank, -slope, 2 + random_below(state, 3));
        break;
    default:
        break;
    }
}

static inline void add_men(Placed *placed, uint64_t *state, const char *kinds, int count)
{
    for (int i = 0; i < count; i++)
        add_man(placed, state, kinds[random_below(state, (int)strlen(kinds))]);
}

static inline void add_pawns(Placed *placed, uint64_t *state, char pawn, int count)
{
    for (int i = 0; i < count && count_men(placed, pawn) < 8; i++)
        add_man(placed, state, pawn);
}

/* The square behind a pawn, not the side to move's, that may just have made a double step; every such pawn is
 * as likely. -1 if there is none. */
static inline int random_en_passant(Placed *placed, uint64_t *state, ps_side to_move)
{
    const int pawn_rank = to_move == PS_WHITE ? 4 : 3;
    const int back = to_move == PS_WHITE ? 8 : -8;
    const char pawn = to_move == PS_WHITE ? 'p' : 'P';
    int chosen = -1, seen = 0;
    for (int square = pawn_rank * 8; square < pawn_rank * 8 + 8; square++)
        if (*man_at(placed, square) == pawn && *man_at(placed, square + back) == '.' &&
            *man_at(placed, square + 2 * back) == '.' && random_below(state, ++seen) == 0)
            chosen = square + back;
    return chosen;
}

/* Writes the four fields of a FEN. */
static inline void write_fields(const Placed *placed, ps_side to_move, int en_passant, char fen[FEN_SIZE])
{
    char *out = fen;
    for (int i = 0; i < 64;) {
        int empty = 0;
        if (i > 0 && i % 8 == 0)
            *out++ = '/';
        do {
            empty += placed->diagram[i] == '.';
        } while (placed->diagram[i++] == '.' && i % 8 != 0);
        if (empty > 0)
            *out++ = (char)('0' + empty);
        if (placed->diagram[i - 1] != '.')
            *out++ = placed->diagram[i - 1];
    }
    out += sprintf(out, " %c - ", to_move == PS_WHITE ? 'w' : 'b');
    if (en_passant < 0)
        strcpy(out, "-");
    else
        sprintf(out, "%c%d", 'a' + en_passant % 8, en_passant / 8 + 1);
}

/* A ram on d or e, and on the other of the two files a pawn of each side no more than two ranks away: where
 * near misses come from. */
static inline void add_random_centre(Placed *placed, uint64_t *state)
{
    const int file = 3 + random_below(state, 2);
    const int other = 7 - file;
    const int rank = 2 + random_below(state, 3);
    add_ram(placed, file, rank);
    *man_at(placed, (rank - 1 + random_below(state, 3)) * 8 + other) = 'P';
    char *black = man_at(placed, (rank + random_below(state, 3)) * 8 + other);
    if (*black == '.')
        *black = 'p';
}

/* Writes the four fields of a position that fen_parse() takes. One in eight begins with a centre, the others
 * with a chain or two. */
static inline void random_position(char fen[FEN_SIZE], uint64_t *state)
{
    Position position;
    do {
        Placed placed;
        clear_board(&placed);
        if (random_below(state, 8) == 0)
            add_random_centre(&placed, state);
        else
            for (int i = 1 + random_below(state, 2); i > 0; i--)
                add_random_chain(&placed, state);
        add_pawns(&placed, state, 'P', random_below(state, 6));
        add_pawns(&placed, state, 'p', random_below(state, 6));
        add_men(&placed, state, "K", 1);
        add_men(&placed, state, "k", 1);
        add_men(&placed, state, "NBRQ", random_below(state, 8));
        add_men(&placed, state, "nbrq", random_below(state, 8));
        ps_side to_move = random_below(state, 2) == 0 ? PS_WHITE : PS_BLACK;
        int en_passant = random_below(state, 2) == 0 ? random_en_passant(&placed, state, to_move) : -1;
        write_fields(&placed, to_move, en_passant, fen);
    } while (fen_parse(fen, false, &position, NULL) != FEN_OK);
}

#endif
