#include "engine/evaluation/endgame.h"

#include "engine/evaluation/clamp.h"
#include "engine/rules/geometry.h"

/* In the points that beginners count pieces by. */
static int material_of(const Position *p, Side side)
{
    return POINTS_MINOR * count_squares((p->by_role[KNIGHT] | p->by_role[BISHOP]) & p->by_side[side]) +
           POINTS_ROOK * count_squares(position_men(p, side, ROOK)) +
           POINTS_QUEEN * count_squares(position_men(p, side, QUEEN));
}

/* Whether the side has only rook pawns and a bishop that does not rule their promotion square, and the enemy
 * king is there. */
static bool wrong_bishop(const Position *p, Side side)
{
    Bitboard pawns = position_men(p, side, PAWN), bishops = position_men(p, side, BISHOP);
    if (!pawns || (p->by_side[side] & ~(pawns | bishops | position_men(p, side, KING))))
        return false;
    for (File file = FILE_A; file <= FILE_H; file += FILE_H) {
        if (pawns & ~file_mask(file))
            continue;
        Square goal = square_at(file, side == WHITE ? RANK_8 : RANK_1);
        return !(bishops & colour_of(bit(goal))) &&
               king_distance(position_king(p, opposite(side)), goal) <= 1;
    }
    return false;
}

int endgame_chances(const Position *p, const EvalUnits *u, Side side)
{
    int pawns = count_squares(position_men(p, side, PAWN));
    Bitboard bishops = p->by_role[BISHOP];
    Bitboard own_bishops = bishops & p->by_side[side], enemy_bishops = bishops & ~p->by_side[side];
    if (wrong_bishop(p, side))
        return CHANCES_WRONG_BISHOP;
    if (pawns == 0) {
        int own = material_of(p, side), enemy = material_of(p, opposite(side));
        bool two_knights = own == 2 * POINTS_MINOR && !(own_bishops | position_men(p, side, ROOK));
        if (own <= POINTS_MINOR || two_knights)
            return 0;
        if (own - enemy <= POINTS_SMALL_LEAD)
            return CHANCES_SMALL_LEAD;
    }
    bool opposite_bishops = own_bishops && enemy_bishops && !more_than_one(own_bishops) &&
                            !more_than_one(enemy_bishops) && on_both_colours(bishops);
    bool others = (p->by_role[KNIGHT] | p->by_role[ROOK] | p->by_role[QUEEN]) != 0;
    int chances = u->chance + u->chance_pawn * pawns;
    if (opposite_bishops)
        chances =
            (others ? u->opposite_bishops_pieces : u->opposite_bishops) + u->opposite_bishops_pawn * pawns;
    const Bitboard left = UINT64_C(0x0F0F0F0F0F0F0F0F);
    if (!(p->by_role[PAWN] & left) || !(p->by_role[PAWN] & ~left))
        chances += u->chance_one_wing;
    return clamp(chances, 0, CHANCES_FULL);
}

/* Steps to the nearest file and rank at the edge, together. */
static int edge_distance(Square square)
{
    return files_to_edge(square) + ranks_to_edge(square);
}

/* Steps along files and ranks to the nearer of the two corners of that colour. */
static int corner_distance(Square square, Bitboard colour)
{
    int file = file_of(square), rank = rank_of(square);
    int first = colour & bit(A1) ? file + rank : file + 7 - rank; /* a1 or a8; the other is opposite */
    return first < 14 - first ? first : 14 - first;
}

/* Where a lone king is mated without pawns: at the edge, and by bishop and knight in a corner of the bishop's
 * colour, with the other king near (common practice, no source). */
int endgame_drive(const Position *p, Side side)
{
    Square king = position_king(p, opposite(side));
    Bitboard bishops = position_men(p, side, BISHOP), others = p->by_role[ROOK] | p->by_role[QUEEN];
    if (p->by_side[opposite(side)] != bit(king) || p->by_role[PAWN] || (!bishops && !others))
        return 0;
    int near = DRIVE_TO_KING * (7 - king_distance(king, position_king(p, side)));
    if (others || on_both_colours(bishops))
        return near + DRIVE_TO_EDGE * (6 - edge_distance(king));
    return near + DRIVE_TO_CORNER * (7 - corner_distance(king, colour_of(bishops)));
}
