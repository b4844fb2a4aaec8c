#include "engine/evaluation/endgame.h"

#include "engine/endings/ending_tables.h"
#include "engine/evaluation/clamp.h"
#include "engine/evaluation/score.h"
#include "engine/rules/attacks.h"
#include "engine/rules/geometry.h"

/* In the points that beginners count pieces by. */
static int material_of(const Position *p, Side side)
{
    return POINTS_MINOR * count_squares((p->by_role[KNIGHT] | p->by_role[BISHOP]) & p->by_side[side]) +
           POINTS_ROOK * count_squares(position_men(p, side, ROOK)) +
           POINTS_QUEEN * count_squares(position_men(p, side, QUEEN));
}

/* Whether the side has only pawns of one rook file and bishops that do not rule their promotion square, and the enemy
 * king is on that square or beside it. */
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

/* Pieces without pawns, for the side that is ahead and for the other, by role from knight to queen. What is not in the
 * list goes by POINTS_SMALL_LEAD. Common practice, in line with K. Thompson, "Retrograde Analysis of Certain Endgames",
 * ICCA Journal 9(3), 1986 (from memory): nearly all of these are drawn, some only by exact defence. */
static const struct {
    int8_t own[PIECE_ROLES], enemy[PIECE_ROLES];
    int chances;
} pawnless[] = {
    {{2, 0, 0, 0}, {0, 0, 0, 0}, 0},  /* two knights cannot force mate */
    {{0, 0, 1, 0}, {0, 1, 0, 0}, 4},  /* rook against bishop, */
    {{0, 0, 1, 0}, {1, 0, 0, 0}, 6},  /* knight, */
    {{1, 0, 1, 0}, {0, 0, 1, 0}, 3},  /* with a knight against rook, */
    {{0, 1, 1, 0}, {0, 0, 1, 0}, 12}, /* with a bishop, which is hard to defend */
    {{0, 0, 0, 1}, {2, 0, 0, 0}, 6},  /* queen against two knights */
    {{1, 0, 0, 1}, {0, 0, 0, 1}, 4},  /* queen and knight against queen, */
    {{0, 1, 0, 1}, {0, 0, 0, 1}, 4},  /* and bishop */
    {{0, 2, 0, 0}, {1, 0, 0, 0}, 24}, /* two bishops against a knight: won, but in up to 66 moves */
};

static bool has_pieces(const Position *p, Side side, const int8_t counts[PIECE_ROLES])
{
    for (Role role = KNIGHT; role <= QUEEN; role++)
        if (count_squares(position_men(p, side, role)) != counts[role - KNIGHT])
            return false;
    return true;
}

static int pawnless_chances(const Position *p, Side side)
{
    for (size_t i = 0; i < sizeof pawnless / sizeof *pawnless; i++)
        if (has_pieces(p, side, pawnless[i].own) && has_pieces(p, opposite(side), pawnless[i].enemy))
            return pawnless[i].chances;
    int own = material_of(p, side), enemy = material_of(p, opposite(side));
    if (own <= POINTS_MINOR)
        return 0;
    return own - enemy <= POINTS_SMALL_LEAD ? CHANCES_SMALL_LEAD : CHANCES_FULL;
}

/* Queen alone against a rook on its third rank that a pawn guards from the second, the king beside the pawn and the
 * other king beyond the rook's rank: the rook goes to and fro (common practice, no source). */
static bool rook_fortress(const Position *p, Side side)
{
    Side them = opposite(side);
    Bitboard rooks = position_men(p, them, ROOK), pawns = position_men(p, them, PAWN);
    Bitboard own = position_men(p, side, QUEEN) | position_men(p, side, KING);
    Bitboard enemy = rooks | pawns | position_men(p, them, KING);
    if (p->by_side[side] != own || more_than_one(p->by_role[QUEEN]) || p->by_side[them] != enemy ||
        more_than_one(rooks))
        return false;
    Bitboard second = rank_mask(them == WHITE ? RANK_2 : RANK_7) & ~(FILE_A_BB | FILE_H_BB);
    Bitboard guards = pawns & second & king_attacks(position_king(p, them));
    return (pawn_attacks(them, guards) & rooks) && relative_rank(them, position_king(p, side)) > RANK_3;
}

/* Out of CHANCES_FULL: how much of that side's advantage is left by what is known to be drawn or nearly so. */
static int chances_left(const Position *p, Side side)
{
    if (wrong_bishop(p, side))
        return CHANCES_WRONG_BISHOP;
    if (position_men(p, side, PAWN))
        return CHANCES_FULL;
    if (rook_fortress(p, side))
        return CHANCES_FORTRESS;
    return pawnless_chances(p, side);
}

/* What the tables know, from the view of the side that has more; `score` is what it would be without. */
static int score_known(const KnownEnding *known, bool contested, int score)
{
    if (known->value == 0)
        return SCORE_DRAW;
    if (contested && known->mate_plies >= 0)
        return KNOWN_MATE_WORTH - KNOWN_MATE_PLY * known->mate_plies;
    return known->value > 0 ? at_least(score, KNOWN_WIN_LEAST) : at_most(score, -KNOWN_WIN_LEAST);
}

bool endgame_is_drawn(const Position *p)
{
    for (Side side = WHITE; side <= BLACK; side++)
        if (!(p->by_side[opposite(side)] & ~p->by_role[KING]) && wrong_bishop(p, side))
            return true;
    return false;
}

int endgame_score(const Position *p, int score)
{
    KnownEnding known;
    if (ending_known(p, &known)) {
        bool contested = p->by_role[ROOK] && p->by_role[QUEEN];
        int sign = known.side == WHITE ? 1 : -1;
        return sign * score_known(&known, contested, sign * score);
    }
    return score * chances_left(p, score > 0 ? WHITE : BLACK) / CHANCES_FULL;
}

int endgame_chances(const Position *p, const EvalUnits *u, Side side)
{
    int pawns = count_squares(position_men(p, side, PAWN));
    Bitboard bishops = p->by_role[BISHOP];
    Bitboard own_bishops = bishops & p->by_side[side], enemy_bishops = bishops & ~p->by_side[side];
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
