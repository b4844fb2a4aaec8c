#include "engine/evaluate.h"

#include "engine/score.h"
#include "engine/structure_view.h"

#define LIGHT_SQUARES UINT64_C(0x55AA55AA55AA55AA)

/* What the parts of the evaluation share about one position. */
typedef struct Survey {
    const Position *p;
    const EvalWeights *w;
    const PawnEntry *pawns;
    Bitboard occupied;
    Bitboard attacks[SIDE_COUNT][ROLE_COUNT]; /* by everything of that role */
    Bitboard attacked[SIDE_COUNT];            /* by anything */
    Bitboard attacked_twice[SIDE_COUNT];
    Bitboard king_zone[SIDE_COUNT];
    int danger[SIDE_COUNT]; /* to the king of that side, see add_danger() */
    int attackers[SIDE_COUNT];
} Survey;

static int folded(Side side, Square square)
{
    int file = (int)file_of(square);
    return (int)relative_rank(side, square) * 4 + (file < 4 ? file : 7 - file);
}

static Bitboard forward_fill(Side side, Square square)
{
    Bitboard column = file_mask((int)file_of(square));
    if (side == WHITE)
        return column & ~(bit(square) | (bit(square) - 1));
    return column & (bit(square) - 1);
}

static int king_distance(Square a, Square b)
{
    int files = (int)file_of(a) - (int)file_of(b), ranks = (int)rank_of(a) - (int)rank_of(b);
    files = files < 0 ? -files : files;
    ranks = ranks < 0 ? -ranks : ranks;
    return files > ranks ? files : ranks;
}

static void note_attacks(Survey *v, Side side, Role role, Bitboard attacks)
{
    v->attacks[side][role] |= attacks;
    v->attacked_twice[side] |= v->attacked[side] & attacks;
    v->attacked[side] |= attacks;
}

static void survey_pawns_and_kings(Survey *v)
{
    for (int s = WHITE; s <= BLACK; s++) {
        Side side = (Side)s;
        Bitboard pawns = position_men(v->p, side, PAWN);
        Bitboard ahead = push_forward(side, pawns);
        Square king = position_king(v->p, side);
        note_attacks(v, side, KING, king_attacks(king));
        note_attacks(v, side, PAWN, shift_west(ahead));
        note_attacks(v, side, PAWN, shift_east(ahead));
        v->king_zone[side] = king_attacks(king) | bit(king);
        v->king_zone[side] |= push_forward(side, v->king_zone[side]);
    }
}

/* How much a piece of each role adds to the danger of the king whose zone it reaches; a danger class is half
 * of the sum. Common practice, no source. */
static const int zone_units[ROLE_COUNT] = {[KNIGHT] = 4, [BISHOP] = 4, [ROOK] = 5, [QUEEN] = 7};

static Pair piece_mobility(const EvalWeights *w, Role role, int squares)
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

static Bitboard piece_attacks(const Survey *v, Side side, Role role, Square from)
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

static Pair score_minor(const Survey *v, Side side, Role role, Square square)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Bitboard own_pawns = position_men(v->p, side, PAWN);
    Pair score = 0;
    Rank rank = relative_rank(side, square);
    bool outpost = rank >= RANK_4 && rank <= RANK_6 && (v->attacks[side][PAWN] & bit(square)) &&
                   !(v->pawns->attack_span[them] & bit(square));
    if (outpost)
        score += role == KNIGHT ? w->outpost_knight : w->outpost_bishop;
    if (push_forward(side, bit(square)) & v->p->by_role[PAWN])
        score += w->minor_behind_pawn;
    if (role == BISHOP) {
        Bitboard colour = bit(square) & LIGHT_SQUARES ? LIGHT_SQUARES : ~LIGHT_SQUARES;
        score += w->bishop_own_pawn_on_colour * count_squares(own_pawns & colour);
    }
    return score;
}

static Pair score_rook(const Survey *v, Side side, Square square)
{
    const EvalWeights *w = v->w;
    Bitboard file = file_mask((int)file_of(square));
    Pair score = 0;
    if (!(file & v->p->by_role[PAWN]))
        score += w->rook_open_file;
    else if (!(file & position_men(v->p, side, PAWN)))
        score += w->rook_half_open_file;
    if (relative_rank(side, square) == RANK_7)
        score += w->rook_on_seventh;
    return score;
}

static Pair score_pieces(Survey *v, Side side)
{
    const Position *p = v->p;
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Square king = position_king(p, side);
    Bitboard good = ~(v->attacks[them][PAWN] | position_men(p, side, PAWN) | bit(king));
    Bitboard pinned = 0;
    Pair score = 0;

    /* Pieces that hide the own king from a slider keep to that line. */
    Bitboard snipers = ((rook_attacks(king, 0) & (p->by_role[ROOK] | p->by_role[QUEEN])) |
                        (bishop_attacks(king, 0) & (p->by_role[BISHOP] | p->by_role[QUEEN]))) &
                       p->by_side[them];
    while (snipers) {
        Bitboard shield = between(king, take_first(&snipers)) & v->occupied;
        if (shield && !more_than_one(shield))
            pinned |= shield;
    }
    for (int r = KNIGHT; r <= (int)QUEEN; r++) {
        Role role = (Role)r;
        for (Bitboard men = position_men(p, side, role); men;) {
            Square square = take_first(&men);
            Bitboard attacks = piece_attacks(v, side, role, square);
            if (pinned & bit(square))
                attacks &= line_through(king, square);
            note_attacks(v, side, role, attacks);
            score += w->material[role] + w->square[role][folded(side, square)];
            score += piece_mobility(w, role, count_squares(attacks & good));
            if (attacks & v->king_zone[them]) {
                v->attackers[them]++;
                v->danger[them] += zone_units[role] + count_squares(attacks & v->king_zone[them]);
            }
            if (role == KNIGHT || role == BISHOP)
                score += score_minor(v, side, role, square);
            else if (role == ROOK)
                score += score_rook(v, side, square);
        }
    }
    if (more_than_one(position_men(p, side, BISHOP)))
        score += w->bishop_pair;
    return score;
}

static Pair score_shelter(const Survey *v, Side side, Square king)
{
    const EvalWeights *w = v->w;
    Bitboard own = position_men(v->p, side, PAWN), enemies = position_men(v->p, opposite(side), PAWN);
    int centre = (int)file_of(king);
    Pair score = 0;
    centre = centre < 1 ? 1 : centre > 6 ? 6 : centre;
    Bitboard not_behind = forward_fill(side, king);
    not_behind |= rank_mask((int)rank_of(king));
    for (int rank = (int)relative_rank(side, king) + 1; rank < RANK_COUNT; rank++)
        not_behind |= rank_mask(side == WHITE ? rank : 7 - rank);
    for (int file = centre - 1; file <= centre + 1; file++) {
        Bitboard shield = own & not_behind & file_mask(file), attack = enemies & not_behind & file_mask(file);
        Square pawn = shield ? (side == WHITE ? first_square(shield) : last_square(shield)) : NO_SQUARE;
        Square enemy = attack ? (side == WHITE ? first_square(attack) : last_square(attack)) : NO_SQUARE;
        score += w->shelter[pawn == NO_SQUARE ? 0 : (int)relative_rank(side, pawn)];
        score += w->storm[enemy == NO_SQUARE ? 0 : (int)relative_rank(side, enemy)];
        if (pawn != NO_SQUARE && enemy != NO_SQUARE && (int)enemy == (int)pawn + forward_step(side))
            score += w->storm_blocked;
    }
    if (!(own & file_mask((int)file_of(king))))
        score += w->king_on_half_open_file;
    return score;
}

/* Danger grows with the attackers, with squares round the king that only it defends, and with checks that
 * cost the attacker nothing. */
static int add_danger(const Survey *v, Side side, Square king)
{
    Side them = opposite(side);
    Bitboard weak = v->attacked[them] & ~v->attacked_twice[side] &
                    (~v->attacked[side] | v->attacks[side][KING] | v->attacks[side][QUEEN]);
    Bitboard safe = ~v->p->by_side[them] & (~v->attacked[side] | (weak & v->attacked_twice[them]));
    Bitboard straight = rook_attacks(king, v->occupied), slanted = bishop_attacks(king, v->occupied);
    int units = 3 * count_squares(weak & v->king_zone[side]);
    if (knight_attacks(king) & v->attacks[them][KNIGHT] & safe)
        units += 9;
    if (slanted & v->attacks[them][BISHOP] & safe)
        units += 6;
    if (straight & v->attacks[them][ROOK] & safe)
        units += 10;
    if ((straight | slanted) & v->attacks[them][QUEEN] & safe)
        units += 8;
    return units;
}

static Pair score_king(const Survey *v, Side side)
{
    Square king = position_king(v->p, side);
    Pair score = v->w->square[KING][folded(side, king)] + score_shelter(v, side, king);
    int units = v->danger[side] + add_danger(v, side, king);
    if (!position_men(v->p, opposite(side), QUEEN))
        units /= 2;
    if (v->attackers[side] < 2)
        units /= 2;
    units /= 2;
    return score + v->w->danger[units < DANGER_CLASSES ? units : DANGER_CLASSES - 1];
}

static Pair score_pawns(const Survey *v, Side side)
{
    Pair score = 0;
    for (Bitboard pawns = position_men(v->p, side, PAWN); pawns;)
        score += v->w->square[PAWN][folded(side, take_first(&pawns))] + v->w->material[PAWN];
    return score;
}

static Pair score_passed(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Square own_king = position_king(v->p, side), enemy_king = position_king(v->p, them);
    Pair score = 0;
    for (Bitboard pawns = v->pawns->passed & v->p->by_side[side]; pawns;) {
        Square pawn = take_first(&pawns);
        Rank rank = relative_rank(side, pawn);
        Square stop = (Square)((int)pawn + forward_step(side));
        Bitboard path = forward_fill(side, pawn), behind = forward_fill(them, pawn);
        score += w->passed[rank];
        score += w->passed_own_king[rank] * king_distance(own_king, stop);
        score += w->passed_enemy_king[rank] * king_distance(enemy_king, stop);
        if (!(v->occupied & bit(stop)))
            score += w->passed_free_path[rank];
        if (!((v->attacked[them] | v->p->by_side[them]) & path))
            score += w->passed_safe_path[rank];
        if (behind & position_men(v->p, side, ROOK) & rook_attacks(pawn, v->occupied))
            score += w->passed_rook_behind;
    }
    return score;
}

static Pair score_threats(const Survey *v, Side side)
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

    Bitboard third = side == WHITE ? RANK_1_BB << 16 : RANK_8_BB >> 16;
    Bitboard pushes = push_forward(side, position_men(p, side, PAWN)) & ~v->occupied;
    pushes |= push_forward(side, pushes & third) & ~v->occupied;
    pushes &= ~v->attacks[them][PAWN] & (v->attacked[side] | ~v->attacked[them]);
    score += w->pawn_push_threat * count_squares(pawn_attacks(side, pushes) & pieces);
    return score;
}

static Pair score_space(const Survey *v, Side side)
{
    const Bitboard centre_files =
        file_mask(FILE_C) | file_mask(FILE_D) | file_mask(FILE_E) | file_mask(FILE_F);
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
    for (int file = FILE_A; file <= (int)FILE_H; file += (int)FILE_H) {
        if (pawns & ~file_mask(file))
            continue;
        Square goal = square_at(file, side == WHITE ? RANK_8 : RANK_1);
        Bitboard colour = bit(goal) & LIGHT_SQUARES ? LIGHT_SQUARES : ~LIGHT_SQUARES;
        return !(bishops & colour) && king_distance(position_king(p, opposite(side)), goal) <= 1;
    }
    return false;
}

/* Out of 64: how much of an advantage in the endgame can be turned into a win by that side. Common practice,
 * no source. */
static int winning_chances(const Position *p, Side side)
{
    int own = material_of(p, side), enemy = material_of(p, opposite(side));
    int pawns = count_squares(position_men(p, side, PAWN));
    Bitboard bishops = p->by_role[BISHOP];
    Bitboard own_bishops = bishops & p->by_side[side], enemy_bishops = bishops & ~p->by_side[side];
    if (wrong_bishop(p, side))
        return 2;
    if (pawns == 0) {
        bool two_knights = own == 6 && !(own_bishops | position_men(p, side, ROOK));
        if (own <= 3 || two_knights)
            return 0;
        if (own - enemy <= 3)
            return 8;
    }
    bool opposite_bishops = own_bishops && enemy_bishops && !more_than_one(own_bishops) &&
                            !more_than_one(enemy_bishops) &&
                            (((own_bishops & LIGHT_SQUARES) != 0) != ((enemy_bishops & LIGHT_SQUARES) != 0));
    if (opposite_bishops)
        return own == 3 && enemy == 3 ? 20 + 4 * pawns : 44 + 2 * pawns;
    return 40 + 5 * pawns < 64 ? 40 + 5 * pawns : 64;
}

static int taper(const Position *p, Pair score)
{
    int phase = phase_of(p), middlegame = pair_middlegame(score), endgame = pair_endgame(score);
    Side ahead = endgame > 0 ? WHITE : BLACK;
    endgame = endgame * winning_chances(p, ahead) / 64;
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

/* Everything with a weight of EvalWeights, for White. */
static Pair weighted_sum(Survey *v)
{
    Pair score = v->pawns->score;
    score += score_pieces(v, WHITE);
    score -= score_pieces(v, BLACK);
    for (int s = WHITE; s <= BLACK; s++) {
        Side side = (Side)s;
        Pair part = score_pawns(v, side) + score_king(v, side) + score_passed(v, side) +
                    score_threats(v, side) + score_space(v, side);
        score += side == WHITE ? part : -part;
    }
    return score + (position_turn(v->p) == WHITE ? v->w->tempo : -v->w->tempo);
}

static Survey survey(Evaluator *e, const Position *position)
{
    Survey v = {.p = position, .w = e->weights, .occupied = position_occupied(position)};
    v.pawns = pawn_table_look_up(&e->pawns, position);
    survey_pawns_and_kings(&v);
    return v;
}

int evaluate(Evaluator *e, const Position *position)
{
    Survey v = survey(e, position);
    int result = taper(position, weighted_sum(&v));
    result = (position_turn(position) == WHITE ? result : -result) + lever_term(e, v.pawns, position);
    int limit = SCORE_MATE_FLOOR - 1;
    return result > limit ? limit : result < -limit ? -limit : result;
}

Pair evaluate_sum(Evaluator *e, const Position *position)
{
    Survey v = survey(e, position);
    return weighted_sum(&v);
}

int evaluate_taper(const Position *position, Pair sum)
{
    return taper(position, sum);
}
