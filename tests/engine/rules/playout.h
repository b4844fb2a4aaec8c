/* Random play, the same on every machine: the tests' supply of legal positions of all kinds. */
#ifndef PAWNVANE_TESTS_PLAYOUT_H
#define PAWNVANE_TESTS_PLAYOUT_H

#include "bench/base/random.h"
#include "engine/rules/fen.h"
#include "engine/rules/movegen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static inline Position playout_read(const char *fen, bool chess960)
{
    Position position;
    if (fen_parse(fen, chess960, &position, NULL) != FEN_OK) {
        fprintf(stderr, "the test's own FEN is bad: %s\n", fen);
        abort();
    }
    return position;
}

/* The same position with the colours changed round: ranks flipped, White for Black, the other side to
 * move. */
static inline Position playout_mirror(const Position *p)
{
    Position mirrored;
    position_clear(&mirrored);
    for (Square s = A1; s <= H8; s++)
        if (position_role(p, s) != NO_ROLE)
            position_put(&mirrored, (p->by_side[WHITE] & bit(s)) ? BLACK : WHITE, position_role(p, s),
                         flip_ranks(s));
    for (Bitboard rooks = p->castling_rooks; rooks;)
        mirrored.castling_rooks |= bit(flip_ranks(take_first(&rooks)));
    mirrored.side_to_move = (uint8_t)opposite(position_turn(p));
    mirrored.en_passant = p->en_passant == NO_SQUARE ? NO_SQUARE : (int8_t)flip_ranks(p->en_passant);
    mirrored.chess960 = p->chess960;
    mirrored.halfmoves = p->halfmoves;
    mirrored.fullmove = p->fullmove;
    position_refresh(&mirrored);
    return mirrored;
}

/* The nth empty file of a rank under construction. */
static inline int playout_empty_file(const char rank[9], int nth)
{
    for (int file = 0; file < 8; file++)
        if (rank[file] == '.' && nth-- == 0)
            return file;
    return -1;
}

/* A start position of Chess960 (FIDE Laws of Chess 2023, guideline II): bishops on squares of both colours,
 * the king between the rooks. */
static inline Position playout_chess960(Random *random)
{
    char rank[9] = "........", lower[9] = {0}, fen[FEN_SIZE];
    rank[2 * random_below(random, 4)] = 'B';
    rank[2 * random_below(random, 4) + 1] = 'B';
    static const char anywhere[] = "QNN";
    for (int i = 0; i < 3; i++)
        rank[playout_empty_file(rank, (int)random_below(random, (uint64_t)(6 - i)))] = anywhere[i];
    static const char in_order[] = "RKR";
    for (int i = 0; i < 3; i++)
        rank[playout_empty_file(rank, 0)] = in_order[i];
    for (int i = 0; i < 8; i++)
        lower[i] = (char)(rank[i] | 0x20);
    snprintf(fen, sizeof fen, "%s/pppppppp/8/8/8/8/PPPPPPPP/%s w KQkq - 0 1", lower, rank);
    return playout_read(fen, true);
}

static inline bool playout_is_special(Move move)
{
    return move_is_castling(move) || move_is_en_passant(move) || move_is_promotion(move);
}

/* A random legal move, NO_MOVE if there is none. Every second time one of the rare kinds, if there is one. */
static inline Move playout_move(Random *random, const Position *position)
{
    MoveList list;
    Move special[MOVES_MAX];
    int specials = 0;
    movegen_all(position, &list);
    if (list.count == 0)
        return NO_MOVE;
    for (int i = 0; i < list.count; i++)
        if (playout_is_special(list.moves[i]))
            special[specials++] = list.moves[i];
    if (specials > 0 && random_below(random, 2) == 0)
        return special[random_below(random, (uint64_t)specials)];
    return list.moves[random_below(random, (uint64_t)list.count)];
}

typedef void (*PlayoutVisit)(void *context, const Position *position);

/* Shows every position of that many random games of at most that many plies; every third game begins as
 * Chess960. */
static inline void playout(uint64_t seed, int games, int plies, PlayoutVisit visit, void *context)
{
    for (int game = 0; game < games; game++) {
        Random random = random_for_job(seed, (uint64_t)game);
        Position position = game % 3 == 2 ? playout_chess960(&random) : playout_read(FEN_START, false);
        for (int ply = 0; ply <= plies; ply++) {
            visit(context, &position);
            Move move = playout_move(&random, &position);
            if (move == NO_MOVE)
                break;
            position_play(&position, move);
        }
    }
}

#endif
