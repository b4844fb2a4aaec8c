#include "structure/lever.h"

Path ps_find_path(Side side, Square lever, Bitboard own_pawns, Bitboard enemy_pawns)
{
    if ((own_pawns & bit(lever)) != 0)
        return (Path){PATH_PLAYED, lever};
    Bitboard behind = own_pawns & squares_ahead(opposite(side), lever);
    if (behind == 0) {
        if ((own_pawns & squares_ahead(side, lever)) != 0)
            return (Path){PATH_BEYOND, NO_SQUARE};
        bool cleared = (enemy_pawns & file_mask(file_of(lever))) == 0;
        return (Path){cleared ? PATH_CLEARED : PATH_GONE, NO_SQUARE};
    }
    Square pawn = side == WHITE ? last_square(behind) : first_square(behind);
    bool barred = (enemy_pawns & squares_to_go(side, pawn, lever)) != 0;
    return (Path){barred ? PATH_BARRED : PATH_LIVE, pawn};
}

static void read_live_lever(ps_lever *lever, const ps_board *board, Side side)
{
    Square pawn = lever->pawn;
    Square goal = lever->square;
    Support support = count_support(board, side, goal, pawn);
    int lacking = support_short(support);

    Bitboard blockers = squares_to_go(side, pawn, goal) & board_pieces(board);
    while (blockers != 0) {
        Square nearest = side == WHITE ? first_square(blockers) : last_square(blockers);
        blockers &= ~bit(nearest);
        lever->blockers[lever->blocker_count++] = nearest;
    }
    lever->steps = steps_to_go(side, pawn, goal);
    lever->supporters = support.supporters;
    lever->attackers = support.attackers;
    lever->tempi = lever->steps + lever->blocker_count + lacking;
    if (lever->blocker_count > 0)
        lever->status = PS_OBSTRUCTED;
    else if (lacking > 0)
        lever->status = PS_UNSUPPORTED;
    else
        lever->status = lever->steps == 1 ? PS_READY : PS_OPEN;
}

static void read_played_lever(ps_lever *lever, const ps_board *board, Side side)
{
    Support support = count_support(board, side, lever->square, NO_SQUARE);
    lever->status = PS_PLAYED;
    lever->steps = 0;
    lever->supporters = support.supporters;
    lever->attackers = support.attackers;
    lever->tempi = 0;
}

static const ps_status dead_status[] = {
    [PATH_BEYOND] = PS_BEYOND,
    [PATH_CLEARED] = PS_CLEARED,
    [PATH_BARRED] = PS_BARRED,
    [PATH_GONE] = PS_GONE,
};

ps_lever ps_read_lever(const ps_board *board, Side side, Square square, Square target)
{
    ps_lever lever = {
        .square = square,
        .target = target,
        .status = PS_NO_STATUS,
        .pawn = PS_NO_SQUARE,
        .steps = PS_NO_COUNT,
        .supporters = PS_NO_COUNT,
        .attackers = PS_NO_COUNT,
        .tempi = PS_NO_COUNT,
    };
    if (square == NO_SQUARE)
        return lever;

    Bitboard own = sensible_pawns(board->pawns, side);
    Bitboard enemy = sensible_pawns(board->pawns, opposite(side));
    Path path = ps_find_path(side, square, own, enemy);
    lever.target_is_base = (pawn_attacks(opposite(side), enemy) & bit(target)) == 0;
    lever.pawn = path.pawn;
    if (path.state == PATH_PLAYED)
        read_played_lever(&lever, board, side);
    else if (path.state == PATH_LIVE)
        read_live_lever(&lever, board, side);
    else
        lever.status = dead_status[path.state];
    return lever;
}

bool ps_lever_is_live(const ps_lever *lever)
{
    return lever->square != PS_NO_SQUARE && lever->tempi != PS_NO_COUNT;
}

bool ps_lever_is_done(const ps_lever *lever)
{
    return lever->square != PS_NO_SQUARE && (lever->status == PS_BEYOND || lever->status == PS_CLEARED);
}
