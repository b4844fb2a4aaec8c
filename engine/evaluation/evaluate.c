#include "engine/evaluation/evaluate.h"

#include "engine/evaluation/score.h"
#include "engine/evaluation/structure_view.h"

#define LIGHT_SQUARES UINT64_C(0x55AA55AA55AA55AA)

/* Each part is compiled for White and for Black, with what depends on the side folded in. */
#define FOR_A_SIDE static inline __attribute__((always_inline))

/* What the parts of the evaluation share about one position. */
typedef struct Survey {
    const Position *p;
    const EvalWeights *w;
    PawnEntry *pawns;
    Bitboard occupied;
    Bitboard attacks[SIDE_COUNT][ROLE_COUNT]; /* by everything of that role */
    Bitboard attacked[SIDE_COUNT];            /* by anything */
    Bitboard attacked_twice[SIDE_COUNT];
    Bitboard king_zone[SIDE_COUNT];
    Bitboard pinned[SIDE_COUNT]; /* men of either side that hide this side's king from a slider */
    int danger[SIDE_COUNT];      /* to the king of that side, see danger_round_king() */
    int attackers[SIDE_COUNT];
} Survey;

FOR_A_SIDE Bitboard forward_fill(Side side, Square square)
{
    Bitboard column = file_mask(file_of(square));
    if (side == WHITE)
        return column & ~(bit(square) | (bit(square) - 1));
    return column & (bit(square) - 1);
}

/* All squares of the colour of these; light if they are of both. */
static Bitboard colour_of(Bitboard squares)
{
    return squares & LIGHT_SQUARES ? LIGHT_SQUARES : ~LIGHT_SQUARES;
}

static int king_distance(Square a, Square b)
{
    int files = file_of(a) - file_of(b), ranks = rank_of(a) - rank_of(b);
    files = files < 0 ? -files : files;
    ranks = ranks < 0 ? -ranks : ranks;
    return files > ranks ? files : ranks;
}

FOR_A_SIDE void note_attacks(Survey *v, Side side, Role role, Bitboard attacks)
{
    v->attacks[side][role] |= attacks;
    v->attacked_twice[side] |= v->attacked[side] & attacks;
    v->attacked[side] |= attacks;
}

FOR_A_SIDE void survey_pawns_and_king(Survey *v, Side side)
{
    Bitboard ahead = push_forward(side, position_men(v->p, side, PAWN));
    Square king = position_king(v->p, side);
    note_attacks(v, side, KING, king_attacks(king));
    note_attacks(v, side, PAWN, shift_west(ahead));
    note_attacks(v, side, PAWN, shift_east(ahead));
    v->king_zone[side] = king_attacks(king) | bit(king);
    v->king_zone[side] |= push_forward(side, v->king_zone[side]);
}

FOR_A_SIDE Pair piece_mobility(const EvalWeights *w, Role role, int squares)
{
    switch (role) {
    case KNIGHT:
        return w->knight_mobility[squares];
    case BISHOP:
        return w->bishop_mobility[squares];
    case ROOK:
        return w->rook_mobility[squares];
    default:
        return w->queen_mobility[squares < 28 ? squares : 27];
    }
}

FOR_A_SIDE Bitboard piece_attacks(const Survey *v, Side side, Role role, Square from)
{
    const Position *p = v->p;
    Bitboard own = p->by_side[side];
    switch (role) {
    case KNIGHT:
        return knight_attacks(from);
    case BISHOP: /* through own queens */
        return bishop_attacks(from, v->occupied ^ (own & p->by_role[QUEEN]));
    case ROOK: /* through own queens and rooks */
        return rook_attacks(from, v->occupied ^ (own & (p->by_role[QUEEN] | p->by_role[ROOK])));
    default:
        return queen_attacks(from, v->occupied);
    }
}

static const Bitboard outpost_ranks[SIDE_COUNT] = {UINT64_C(0x0000FFFFFF000000),
                                                   UINT64_C(0x000000FFFFFF0000)};
static const Bitboard centre = UINT64_C(0x0000001818000000);
static const Bitboard centre_files = UINT64_C(0x3C3C3C3C3C3C3C3C);

FOR_A_SIDE Pair score_minor(const Survey *v, Side side, Role role, Square square, Bitboard attacks)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Bitboard own_pawns = position_men(v->p, side, PAWN);
    Pair score = 0;
    Bitboard outposts = v->attacks[side][PAWN] & ~v->pawns->attack_span[them] & outpost_ranks[side];
    if (outposts & bit(square))
        score += role == KNIGHT ? w->outpost_knight : w->outpost_bishop;
    else if (role == KNIGHT && (attacks & outposts & ~v->p->by_side[side]))
        score += w->outpost_in_reach;
    if (push_forward(side, bit(square)) & v->p->by_role[PAWN])
        score += w->minor_behind_pawn;
    if (role == BISHOP) {
        Bitboard colour = colour_of(bit(square));
        int on_colour = count_squares(own_pawns & colour);
        Bitboard blocked = own_pawns & centre_files & push_forward(them, v->occupied);
        score += w->bishop_own_pawn_on_colour * on_colour;
        score += w->bishop_blocked_centre * (on_colour * count_squares(blocked));
        if (more_than_one(bishop_attacks(square, v->p->by_role[PAWN]) & centre))
            score += w->bishop_long_diagonal;
    } else {
        score += w->knight_king_distance * king_distance(square, position_king(v->p, side));
    }
    return score;
}

FOR_A_SIDE Pair score_rook(const Survey *v, Side side, Square square, int mobility)
{
    const EvalWeights *w = v->w;
    Bitboard file = file_mask(file_of(square));
    Pair score = 0;
    if (!(file & v->p->by_role[PAWN]))
        score += w->rook_open_file;
    else if (!(file & position_men(v->p, side, PAWN)))
        score += w->rook_half_open_file;
    else if (mobility <= 3) {
        int file_of_king = file_of(position_king(v->p, side)), own_file = file_of(square);
        if (file_of_king <= FILE_C ? own_file < file_of_king
                                   : file_of_king >= FILE_F && own_file > file_of_king)
            score += w->rook_trapped;
    }
    if (relative_rank(side, square) == RANK_7)
        score += w->rook_on_seventh;
    return score;
}

/* What pieces are worth by the number of own pawns, and in pairs. */
FOR_A_SIDE Pair score_company(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    int pawns = count_squares(position_men(v->p, side, PAWN)) - 5;
    Bitboard knights = position_men(v->p, side, KNIGHT), bishops = position_men(v->p, side, BISHOP);
    Pair score = w->knight_pawns * (count_squares(knights) * pawns) +
                 w->bishop_pawns * (count_squares(bishops) * pawns);
    return more_than_one(bishops) ? score + w->bishop_pair : score;
}

/* Men of either side that hide the king from a slider. */
FOR_A_SIDE Bitboard shields(const Position *p, Side side, Square king, Bitboard occupied)
{
    Bitboard pinned = 0;
    Bitboard snipers = ((rook_attacks(king, 0) & (p->by_role[ROOK] | p->by_role[QUEEN])) |
                        (bishop_attacks(king, 0) & (p->by_role[BISHOP] | p->by_role[QUEEN]))) &
                       p->by_side[opposite(side)];
    while (snipers) {
        Bitboard shield = between(king, take_first(&snipers)) & occupied;
        if (!more_than_one(shield))
            pinned |= shield;
    }
    return pinned;
}

FOR_A_SIDE Pair score_role(Survey *v, Side side, Role role, Square king, Bitboard good)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Pair score = 0;
    for (Bitboard men = position_men(v->p, side, role); men;) {
        Square square = take_first(&men);
        Bitboard attacks = piece_attacks(v, side, role, square);
        if (v->pinned[side] & bit(square))
            attacks &= line_through(king, square);
        note_attacks(v, side, role, attacks);
        int mobility = count_squares(attacks & good);
        score += w->material[role] + w->square[role][fold_square(side, square)] +
                 piece_mobility(w, role, mobility);
        if (attacks & v->king_zone[them]) {
            v->attackers[them]++;
            v->danger[them] +=
                w->units.attacker[role] + w->units.zone_square * count_squares(attacks & v->king_zone[them]);
        }
        if (role == KNIGHT || role == BISHOP)
            score += score_minor(v, side, role, square, attacks);
        else if (role == ROOK)
            score += score_rook(v, side, square, mobility);
    }
    return score;
}

FOR_A_SIDE Pair score_pieces(Survey *v, Side side)
{
    Square king = position_king(v->p, side);
    Bitboard good = ~(v->attacks[opposite(side)][PAWN] | position_men(v->p, side, PAWN) | bit(king));
    v->pinned[side] = shields(v->p, side, king, v->occupied);
    return score_role(v, side, KNIGHT, king, good) + score_role(v, side, BISHOP, king, good) +
           score_role(v, side, ROOK, king, good) + score_role(v, side, QUEEN, king, good) +
           score_company(v, side);
}

/* Danger grows with the attackers, with squares round the king that only it defends, with checks that cost
 * the attacker nothing, and with what else EvalUnits names. */
FOR_A_SIDE int danger_round_king(const Survey *v, Side side, Square king)
{
    const EvalUnits *u = &v->w->units;
    Side them = opposite(side);
    Bitboard weak = v->attacked[them] & ~v->attacked_twice[side] &
                    (~v->attacked[side] | v->attacks[side][KING] | v->attacks[side][QUEEN]);
    Bitboard safe = ~v->p->by_side[them] & (~v->attacked[side] | (weak & v->attacked_twice[them]));
    Bitboard straight = rook_attacks(king, v->occupied), slanted = bishop_attacks(king, v->occupied);
    const Bitboard checks[ROLE_COUNT] = {[KNIGHT] = knight_attacks(king) & v->attacks[them][KNIGHT],
                                         [BISHOP] = slanted & v->attacks[them][BISHOP],
                                         [ROOK] = straight & v->attacks[them][ROOK],
                                         [QUEEN] = (straight | slanted) & v->attacks[them][QUEEN]};
    int units = u->weak_square * count_squares(weak & v->king_zone[side]);
    for (Role role = KNIGHT; role <= QUEEN; role++)
        if (checks[role] & safe)
            units += u->check[role];
    Bitboard camp = king_flank(king) & (side == WHITE ? ~UINT64_C(0) >> 24 : ~UINT64_C(0) << 24);
    units += u->flank_attack *
             (count_squares(camp & v->attacked[them]) + count_squares(camp & v->attacked_twice[them]));
    units += u->pinned * count_squares(v->pinned[side]);
    if (v->king_zone[side] & position_men(v->p, side, KNIGHT))
        units += u->knight_near;
    if (!position_men(v->p, them, QUEEN))
        units += u->no_queen;
    return units;
}

FOR_A_SIDE Pair score_king(const Survey *v, Side side)
{
    Square king = position_king(v->p, side);
    int units = v->danger[side] + danger_round_king(v, side, king);
    if (v->attackers[side] < 2)
        units /= 2;
    int class = units < 0 ? 0 : units / DANGER_UNITS;
    return v->w->square[KING][fold_square(side, king)] +
           v->w->danger[class < DANGER_CLASSES ? class : DANGER_CLASSES - 1];
}

FOR_A_SIDE Pair score_passed(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Square own_king = position_king(v->p, side), enemy_king = position_king(v->p, them);
    bool pieceless = v->p->by_side[them] == (position_men(v->p, them, PAWN) | bit(enemy_king));
    Pair score = 0;
    for (Bitboard pawns = v->pawns->passed & v->p->by_side[side]; pawns;) {
        Square pawn = take_first(&pawns);
        Rank rank = relative_rank(side, pawn);
        Square stop = pawn + forward_step(side);
        Bitboard path = forward_fill(side, pawn), behind = forward_fill(them, pawn);
        score += w->passed[rank];
        score += w->passed_own_king[rank] * king_distance(own_king, stop);
        score += w->passed_enemy_king[rank] * king_distance(enemy_king, stop);
        if (!(v->occupied & bit(stop)))
            score += w->passed_free_stop[rank];
        if (v->attacked[side] & bit(stop))
            score += w->passed_guarded[rank];
        if (!((v->attacked[them] | v->p->by_side[them]) & path))
            score += w->passed_safe_path[rank];
        Bitboard rooks_behind = behind & v->p->by_role[ROOK] & rook_attacks(pawn, v->occupied);
        if (rooks_behind & v->p->by_side[side])
            score += w->passed_rook_behind;
        else if (rooks_behind)
            score += w->passed_enemy_rook_behind;
        if (pieceless && !(v->p->by_side[side] & path)) {
            /* The rule of the square. */
            int steps = 7 - rank - (rank == RANK_2);
            Square goal = side == WHITE ? last_square(path) : first_square(path);
            if (king_distance(enemy_king, goal) - (position_turn(v->p) != side) > steps)
                score += w->passed_unstoppable;
        }
    }
    return score;
}

FOR_A_SIDE Pair score_threats(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    const Position *p = v->p;
    Bitboard knights_bishops = position_men(p, them, KNIGHT) | position_men(p, them, BISHOP);
    Bitboard rooks = position_men(p, them, ROOK), queens = position_men(p, them, QUEEN);
    Bitboard pieces = knights_bishops | rooks | queens;
    Bitboard by_pawn = v->attacks[side][PAWN];
    Bitboard by_minor = v->attacks[side][KNIGHT] | v->attacks[side][BISHOP];
    Pair score = 0;

    score += w->pawn_attacks_minor * count_squares(by_pawn & knights_bishops);
    score += w->pawn_attacks_rook * count_squares(by_pawn & rooks);
    score += w->pawn_attacks_queen * count_squares(by_pawn & queens);
    score += w->minor_attacks_minor * count_squares(by_minor & knights_bishops & ~v->attacks[them][PAWN]);
    score += w->minor_attacks_rook * count_squares(by_minor & rooks);
    score += w->minor_attacks_queen * count_squares(by_minor & queens);
    score += w->rook_attacks_queen * count_squares(v->attacks[side][ROOK] & queens);
    Bitboard loose = (pieces | position_men(p, them, PAWN)) & v->attacked[side] &
                     (~v->attacked[them] | (v->attacked_twice[side] & ~v->attacked_twice[them] & pieces));
    score += w->hanging * count_squares(loose);
    Bitboard strong = v->attacks[them][PAWN] | (v->attacked_twice[them] & ~v->attacked_twice[side]);
    Bitboard weak = p->by_side[them] & ~strong;
    score += w->rook_attacks_minor * count_squares(v->attacks[side][ROOK] & weak & knights_bishops);
    if (v->attacks[side][KING] & weak)
        score += w->king_attacks_weak;
    if (queens && !more_than_one(queens)) {
        Bitboard forks = knight_attacks(first_square(queens)) & ~(p->by_side[side] | strong);
        score += w->knight_on_queen * count_squares(v->attacks[side][KNIGHT] & forks);
    }

    Bitboard third = side == WHITE ? RANK_1_BB << 16 : RANK_8_BB >> 16;
    Bitboard pushes = push_forward(side, position_men(p, side, PAWN)) & ~v->occupied;
    pushes |= push_forward(side, pushes & third) & ~v->occupied;
    pushes &= ~v->attacks[them][PAWN] & (v->attacked[side] | ~v->attacked[them]);
    score += w->pawn_push_threat * count_squares(pawn_attacks(side, pushes) & pieces);
    return score;
}

FOR_A_SIDE Pair score_space(const Survey *v, Side side)
{
    Bitboard own = position_men(v->p, side, PAWN);
    Bitboard ranks = side == WHITE ? (RANK_1_BB << 8 | RANK_1_BB << 16 | RANK_1_BB << 24)
                                   : (RANK_8_BB >> 8 | RANK_8_BB >> 16 | RANK_8_BB >> 24);
    Bitboard safe = centre_files & ranks & ~own & ~v->attacks[opposite(side)][PAWN];
    return v->w->space * count_squares(safe);
}

/* Out of 24: how much of the middlegame is left. */
static int phase_of(const Position *p)
{
    int phase = count_squares(p->by_role[KNIGHT] | p->by_role[BISHOP]) + 2 * count_squares(p->by_role[ROOK]) +
                4 * count_squares(p->by_role[QUEEN]);
    return phase < 24 ? phase : 24;
}

static int material_of(const Position *p, Side side)
{
    return 3 * count_squares((p->by_role[KNIGHT] | p->by_role[BISHOP]) & p->by_side[side]) +
           5 * count_squares(position_men(p, side, ROOK)) + 9 * count_squares(position_men(p, side, QUEEN));
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

/* Out of 64: how much of an advantage in the endgame can be turned into a win by that side. */
static int winning_chances(const Position *p, const EvalUnits *u, Side side)
{
    int pawns = count_squares(position_men(p, side, PAWN));
    Bitboard bishops = p->by_role[BISHOP];
    Bitboard own_bishops = bishops & p->by_side[side], enemy_bishops = bishops & ~p->by_side[side];
    if (wrong_bishop(p, side))
        return 2;
    if (pawns == 0) {
        int own = material_of(p, side), enemy = material_of(p, opposite(side));
        bool two_knights = own == 6 && !(own_bishops | position_men(p, side, ROOK));
        if (own <= 3 || two_knights)
            return 0;
        if (own - enemy <= 3)
            return 8;
    }
    bool opposite_bishops = own_bishops && enemy_bishops && !more_than_one(own_bishops) &&
                            !more_than_one(enemy_bishops) &&
                            (((own_bishops & LIGHT_SQUARES) != 0) != ((enemy_bishops & LIGHT_SQUARES) != 0));
    bool others = (p->by_role[KNIGHT] | p->by_role[ROOK] | p->by_role[QUEEN]) != 0;
    int chances = u->chance + u->chance_pawn * pawns;
    if (opposite_bishops)
        chances =
            (others ? u->opposite_bishops_pieces : u->opposite_bishops) + u->opposite_bishops_pawn * pawns;
    const Bitboard left = UINT64_C(0x0F0F0F0F0F0F0F0F);
    if (!(p->by_role[PAWN] & left) || !(p->by_role[PAWN] & ~left))
        chances += u->chance_one_wing;
    return chances < 0 ? 0 : chances < 64 ? chances : 64;
}

/* Steps to the nearest file and rank at the edge, together. */
static int edge_distance(Square square)
{
    int file = file_of(square), rank = rank_of(square);
    return (file < 4 ? file : 7 - file) + (rank < 4 ? rank : 7 - rank);
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
static int driven(const Position *p, Side side)
{
    enum { TO_EDGE = 20, TO_CORNER = 40, TO_KING = 15 };
    Square king = position_king(p, opposite(side));
    Bitboard bishops = position_men(p, side, BISHOP), others = p->by_role[ROOK] | p->by_role[QUEEN];
    if (p->by_side[opposite(side)] != bit(king) || p->by_role[PAWN] || (!bishops && !others))
        return 0;
    int near = TO_KING * (7 - king_distance(king, position_king(p, side)));
    if (others || (bishops & ~colour_of(bishops)))
        return near + TO_EDGE * (6 - edge_distance(king));
    return near + TO_CORNER * (7 - corner_distance(king, colour_of(bishops)));
}

static int taper(const Position *p, const EvalUnits *u, Pair score)
{
    int phase = phase_of(p), middlegame = pair_middlegame(score), endgame = pair_endgame(score);
    Side ahead = endgame > 0 ? WHITE : BLACK;
    endgame = endgame * winning_chances(p, u, ahead) / 64 + driven(p, WHITE) - driven(p, BLACK);
    return (middlegame * phase + endgame * (24 - phase)) / 24;
}

static int lever_term(const Evaluator *e, const PawnEntry *pawns, const Position *position)
{
#ifdef PAWNVANE_NO_TERM
    (void)e, (void)pawns, (void)position;
    return 0;
#else
    if (e->lever_weight == 0 || ps_is_silent(&pawns->skeleton))
        return 0;
    ps_board board;
    structure_view(position, &board);
    return ps_term(&pawns->skeleton, &board, &e->lever_weights) * e->lever_weight / 100;
#endif
}

/* What asks for the attacks of both sides' pieces. */
FOR_A_SIDE Pair score_play(const Survey *v, Side side)
{
    return score_king(v, side) + score_passed(v, side) + score_threats(v, side) + score_space(v, side);
}

/* Everything with a weight of EvalWeights, for White. */
static Pair weighted_sum(Survey *v, const PawnTable *pawn_table)
{
    Pair score = v->pawns->score;
    score += pawn_table_king(pawn_table, v->pawns, v->p, WHITE);
    score -= pawn_table_king(pawn_table, v->pawns, v->p, BLACK);
    score += score_pieces(v, WHITE);
    score -= score_pieces(v, BLACK);
    score += score_play(v, WHITE);
    score -= score_play(v, BLACK);
    return score + (position_turn(v->p) == WHITE ? v->w->tempo : -v->w->tempo);
}

static Survey survey(Evaluator *e, const Position *position)
{
    Survey v = {.p = position, .w = e->weights, .occupied = position_occupied(position)};
    v.pawns = pawn_table_look_up(&e->pawns, position);
    survey_pawns_and_king(&v, WHITE);
    survey_pawns_and_king(&v, BLACK);
    return v;
}

int evaluate(Evaluator *e, const Position *position)
{
    Survey v = survey(e, position);
    int result = taper(position, &e->weights->units, weighted_sum(&v, &e->pawns));
    result = (position_turn(position) == WHITE ? result : -result) + lever_term(e, v.pawns, position);
    int limit = SCORE_MATE_FLOOR - 1;
    return result > limit ? limit : result < -limit ? -limit : result;
}

Pair evaluate_sum(Evaluator *e, const Position *position)
{
    Survey v = survey(e, position);
    return weighted_sum(&v, &e->pawns);
}

int evaluate_taper(const Position *position, const EvalUnits *units, Pair sum)
{
    return taper(position, units, sum);
}
