#include "structure/bitboard.h"
#include "structure/grow.h"

/* A diagram has a8 first, a set of squares has a1 first. */
static char man_on(const char *diagram, Square square)
{
    return diagram[flip_ranks(square)];
}

typedef struct Step {
    int file;
    int rank;
} Step;

static const Step directions[8] = {{-1, -1}, {0, -1}, {1, -1}, {-1, 0}, {1, 0}, {-1, 1}, {0, 1}, {1, 1}};
static const Step knight_steps[8] = {{-2, -1}, {-2, 1}, {-1, -2}, {-1, 2}, {1, -2}, {1, 2}, {2, -1}, {2, 1}};

static Square walk(Square from, Step step)
{
    int file = (int)file_of(from) + step.file;
    int rank = (int)rank_of(from) + step.rank;
    bool on_board = file >= 0 && file < FILE_COUNT && rank >= 0 && rank < RANK_COUNT;
    return on_board ? square_at(file, rank) : NO_SQUARE;
}

/* Whether a man of White, met after `distance` steps from the square that it may attack, attacks it. Black's
 * men are handed over as White's, with the step turned round. */
static bool attacks_along(char man, Step step, int distance)
{
    bool diagonal = step.file != 0 && step.rank != 0;
    switch (man) {
    case 'Q':
        return true;
    case 'R':
        return !diagonal;
    case 'B':
        return diagonal;
    case 'K':
        return distance == 1;
    case 'P':
        return distance == 1 && diagonal && step.rank < 0;
    default:
        return false;
    }
}

static char as_white(char man, ps_side side)
{
    bool upper = man >= 'A' && man <= 'Z';
    if (man == '.' || upper != (side == PS_WHITE))
        return '.';
    return upper ? man : (char)(man - 'a' + 'A');
}

static int count_attackers(const void *host, int square, ps_side side, int lifted)
{
    const char *diagram = host;
    int count = 0;
    for (int i = 0; i < 8; i++) {
        Square from = walk(square, knight_steps[i]);
        if (from != NO_SQUARE && from != lifted && as_white(man_on(diagram, from), side) == 'N')
            count++;
    }
    for (int i = 0; i < 8; i++) {
        Step step = directions[i];
        Step seen = {step.file, side == PS_WHITE ? step.rank : -step.rank};
        int distance = 1;
        for (Square from = walk(square, step); from != NO_SQUARE; from = walk(from, step), distance++) {
            char man = man_on(diagram, from);
            if (man == '.' || from == lifted)
                continue;
            if (attacks_along(as_white(man, side), seen, distance))
                count++;
            break;
        }
    }
    return count;
}

bool ps_board_from_diagram_sized(ps_board *out, size_t out_size, const char *diagram, ps_side to_move)
{
    ps_board board = {
        .to_move = to_move, .en_passant = PS_NO_SQUARE, .count_attackers = count_attackers, .host = diagram};
    for (int i = 0; i < SQUARE_COUNT; i++) {
        Square square = flip_ranks(i);
        char man = diagram[i];
        Side side = as_white(man, PS_WHITE) == '.' ? BLACK : WHITE;
        switch (as_white(man, side)) {
        case 'P':
            board.pawns[side] |= bit(square);
            break;
        case 'N':
        case 'B':
        case 'R':
        case 'Q':
            board.pieces[side] |= bit(square);
            break;
        case 'K':
            board.kings[side] |= bit(square);
            break;
        default:
            if (man != '.')
                return false;
        }
    }
    copy_grown(out, out_size, &board, sizeof board);
    return true;
}
