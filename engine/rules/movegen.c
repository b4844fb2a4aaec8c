#include "engine/rules/movegen.h"

/* One generator serves listing and counting, either side, and every part of the moves: the parameters named
 * `us`, `part` and `list` (null: count only) are constants where generate() is inlined, so each use becomes a
 * straight piece of code of its own. */

#define INLINE static inline __attribute__((always_inline))

typedef enum Part { ALL_MOVES, TACTICAL_MOVES, QUIET_MOVES } Part;

typedef struct Sink {
    Move *next; /* null: count only */
    int count;
} Sink;

/* What the king's safety asks of a move. */
typedef struct Safety {
    Square king;
    Bitboard checkers;
    Bitboard stops_check;     /* where a move must arrive to end a check; every square if there is none */
    Bitboard pinned_straight; /* from the king to a pinning rook or queen, that piece included */
    Bitboard pinned_slanted;  /* the same for bishops and queens */
} Safety;

INLINE void emit(Sink *sink, bool counting, Square from, Bitboard goals)
{
    if (counting) {
        sink->count += count_squares(goals);
        return;
    }
    while (goals)
        *sink->next++ = move_make(from, take_first(&goals), PLAIN);
}

INLINE void emit_pawns(Sink *sink, bool counting, Bitboard goals, int step)
{
    if (counting) {
        sink->count += count_squares(goals);
        return;
    }
    while (goals) {
        Square to = take_first(&goals);
        *sink->next++ = move_make(to - step, to, PLAIN);
    }
}

INLINE void emit_promotions(Sink *sink, bool counting, Bitboard goals, int step)
{
    if (counting) {
        sink->count += 4 * count_squares(goals);
        return;
    }
    while (goals) {
        Square to = take_first(&goals);
        for (Role role = QUEEN; role >= KNIGHT; role--)
            *sink->next++ = promotion_make(to - step, to, role);
    }
}

INLINE Bitboard straight_movers(const Position *p, Side side)
{
    return (p->by_role[ROOK] | p->by_role[QUEEN]) & p->by_side[side];
}

INLINE Bitboard slanted_movers(const Position *p, Side side)
{
    return (p->by_role[BISHOP] | p->by_role[QUEEN]) & p->by_side[side];
}

INLINE Safety read_safety(const Position *p, const Side us)
{
    const Side them = opposite(us);
    Bitboard occupied = position_occupied(p), own = p->by_side[us];
    Safety s = {.king = position_king(p, us), .stops_check = ~UINT64_C(0)};
    Bitboard straight = rook_attacks(s.king, occupied), slanted = bishop_attacks(s.king, occupied);
    s.checkers = (straight & straight_movers(p, them)) | (slanted & slanted_movers(p, them)) |
                 (knight_attacks(s.king) & position_men(p, them, KNIGHT)) |
                 (pawn_attacks_from(us, s.king) & position_men(p, them, PAWN));
    if (s.checkers)
        s.stops_check = between(s.king, first_square(s.checkers)) | s.checkers;

    Bitboard pinners =
        rook_attacks(s.king, occupied ^ (straight & own)) & ~straight & straight_movers(p, them);
    while (pinners) {
        Square pinner = take_first(&pinners);
        s.pinned_straight |= between(s.king, pinner) | bit(pinner);
    }
    pinners = bishop_attacks(s.king, occupied ^ (slanted & own)) & ~slanted & slanted_movers(p, them);
    while (pinners) {
        Square pinner = take_first(&pinners);
        s.pinned_slanted |= between(s.king, pinner) | bit(pinner);
    }
    return s;
}

/* Everything the enemy attacks, seen through our king, which cannot hide behind itself. */
INLINE Bitboard attacked_by(const Position *p, const Side them, Bitboard occupied)
{
    Bitboard attacked =
        pawn_attacks(them, position_men(p, them, PAWN)) | king_attacks(position_king(p, them));
    for (Bitboard men = position_men(p, them, KNIGHT); men;)
        attacked |= knight_attacks(take_first(&men));
    for (Bitboard men = slanted_movers(p, them); men;)
        attacked |= bishop_attacks(take_first(&men), occupied);
    for (Bitboard men = straight_movers(p, them); men;)
        attacked |= rook_attacks(take_first(&men), occupied);
    return attacked;
}

INLINE void generate_castling(const Position *p, const Side us, const bool counting, Square king,
                              Bitboard attacked, Sink *sink)
{
    for (Bitboard rooks = p->castling_rooks & p->by_side[us]; rooks;) {
        Square rook = take_first(&rooks);
        Square king_goal = castling_king_goal(king, rook), rook_goal = castling_rook_goal(king, rook);
        Bitboard others = position_occupied(p) ^ bit(king) ^ bit(rook);
        Bitboard king_path = between(king, king_goal) | bit(king_goal);
        Bitboard rook_path = between(rook, rook_goal) | bit(rook_goal);
        if (((king_path | rook_path) & others) || (king_path & attacked))
            continue;
        /* In Chess960 the castling rook itself may have been what hid the king from a rook. */
        Bitboard after = others | bit(king_goal) | bit(rook_goal);
        if (p->chess960 && (rook_attacks(king_goal, after) & straight_movers(p, opposite(us))))
            continue;
        if (counting)
            sink->count++;
        else
            *sink->next++ = move_make(king, rook, CASTLING);
    }
}

INLINE void generate_en_passant(const Position *p, const Side us, const bool counting, const Safety *s,
                                Sink *sink)
{
    const Side them = opposite(us);
    Square goal = (Square)p->en_passant;
    Square victim = goal - forward_step(us);
    Bitboard takers = pawn_attacks_from(them, goal) & position_men(p, us, PAWN);
    while (takers) {
        Square from = take_first(&takers);
        Bitboard occupied = (position_occupied(p) ^ bit(from) ^ bit(victim)) | bit(goal);
        if (position_attackers(p, s->king, occupied) & p->by_side[them] & ~bit(victim))
            continue;
        if (counting)
            sink->count++;
        else
            *sink->next++ = move_make(from, goal, EN_PASSANT);
    }
}

INLINE void generate_pawns(const Position *p, const Side us, const Part part, const bool counting,
                           const Safety *s, Sink *sink)
{
    const Side them = opposite(us);
    const int forward = us == WHITE ? 8 : -8;
    const Bitboard last_rank = us == WHITE ? RANK_8_BB : RANK_1_BB;
    const Bitboard third_rank = us == WHITE ? RANK_1_BB << 16 : RANK_8_BB >> 16;
    Bitboard pawns = position_men(p, us, PAWN);
    Bitboard empty = ~position_occupied(p), enemies = p->by_side[them];

    Bitboard walkers = pawns & ~s->pinned_slanted;
    Bitboard free = walkers & ~s->pinned_straight, pinned = walkers & s->pinned_straight;
    Bitboard once = (push_forward(us, free) | (push_forward(us, pinned) & s->pinned_straight)) & empty;
    Bitboard twice = push_forward(us, once & third_rank) & empty & s->stops_check;
    once &= s->stops_check;

    if (part != TACTICAL_MOVES) {
        emit_pawns(sink, counting, once & ~last_rank, forward);
        emit_pawns(sink, counting, twice, 2 * forward);
    }
    if (part == QUIET_MOVES)
        return;

    Bitboard takers = pawns & ~s->pinned_straight;
    Bitboard targets = enemies & s->stops_check;
    Bitboard free_ahead = push_forward(us, takers & ~s->pinned_slanted);
    Bitboard pinned_ahead = push_forward(us, takers & s->pinned_slanted);
    Bitboard west = (shift_west(free_ahead) | (shift_west(pinned_ahead) & s->pinned_slanted)) & targets;
    Bitboard east = (shift_east(free_ahead) | (shift_east(pinned_ahead) & s->pinned_slanted)) & targets;

    if ((west | east | once) & last_rank) {
        emit_promotions(sink, counting, once & last_rank, forward);
        emit_promotions(sink, counting, west & last_rank, forward - 1);
        emit_promotions(sink, counting, east & last_rank, forward + 1);
    }
    emit_pawns(sink, counting, west & ~last_rank, forward - 1);
    emit_pawns(sink, counting, east & ~last_rank, forward + 1);
    if (p->en_passant_possible)
        generate_en_passant(p, us, counting, s, sink);
}

INLINE void generate(const Position *p, const Side us, const Part part, const bool counting, Sink *sink)
{
    const Side them = opposite(us);
    Bitboard occupied = position_occupied(p), own = p->by_side[us];
    Bitboard wanted = part == ALL_MOVES ? ~own : part == TACTICAL_MOVES ? p->by_side[them] : ~occupied;
    Safety s = read_safety(p, us);
    Bitboard steps = king_attacks(s.king) & wanted;
    bool may_castle = part != TACTICAL_MOVES && !s.checkers && (p->castling_rooks & own);
    Bitboard attacked = steps || may_castle ? attacked_by(p, them, occupied ^ bit(s.king)) : 0;

    emit(sink, counting, s.king, steps & ~attacked);
    if (more_than_one(s.checkers))
        return;
    if (may_castle)
        generate_castling(p, us, counting, s.king, attacked, sink);
    generate_pawns(p, us, part, counting, &s, sink);

    Bitboard goals = wanted & s.stops_check;
    Bitboard pinned = s.pinned_straight | s.pinned_slanted;
    for (Bitboard men = position_men(p, us, KNIGHT) & ~pinned; men;) {
        Square from = take_first(&men);
        emit(sink, counting, from, knight_attacks(from) & goals);
    }
    for (Bitboard men = slanted_movers(p, us) & ~pinned; men;) {
        Square from = take_first(&men);
        emit(sink, counting, from, bishop_attacks(from, occupied) & goals);
    }
    for (Bitboard men = straight_movers(p, us) & ~pinned; men;) {
        Square from = take_first(&men);
        emit(sink, counting, from, rook_attacks(from, occupied) & goals);
    }
    /* A pinned piece keeps to the line of its pin. */
    for (Bitboard men = slanted_movers(p, us) & s.pinned_slanted; men;) {
        Square from = take_first(&men);
        emit(sink, counting, from,
             bishop_attacks(from, occupied) & goals & s.pinned_slanted & line_through(s.king, from));
    }
    for (Bitboard men = straight_movers(p, us) & s.pinned_straight; men;) {
        Square from = take_first(&men);
        emit(sink, counting, from,
             rook_attacks(from, occupied) & goals & s.pinned_straight & line_through(s.king, from));
    }
}

INLINE void list_part(const Position *p, const Part part, MoveList *list)
{
    Sink sink = {.next = list->moves};
    if (position_turn(p) == WHITE)
        generate(p, WHITE, part, false, &sink);
    else
        generate(p, BLACK, part, false, &sink);
    list->count = (int)(sink.next - list->moves);
}

void movegen_all(const Position *p, MoveList *list)
{
    list_part(p, ALL_MOVES, list);
}

void movegen_tactical(const Position *p, MoveList *list)
{
    list_part(p, TACTICAL_MOVES, list);
}

void movegen_quiet(const Position *p, MoveList *list)
{
    list_part(p, QUIET_MOVES, list);
}

int movegen_count(const Position *p)
{
    Sink sink = {.count = 0};
    if (position_turn(p) == WHITE)
        generate(p, WHITE, ALL_MOVES, true, &sink);
    else
        generate(p, BLACK, ALL_MOVES, true, &sink);
    return sink.count;
}

bool movegen_any(const Position *p)
{
    return movegen_count(p) > 0;
}

static bool is_listed(const Position *p, Move move)
{
    MoveList list;
    movegen_all(p, &list);
    return move_list_has(&list, move);
}

static bool pawn_can_go(const Position *p, Side us, Square from, Square to)
{
    int forward = forward_step(us);
    Bitboard occupied = position_occupied(p);
    if (pawn_attacks_from(us, from) & bit(to))
        return (p->by_side[opposite(us)] & bit(to)) != 0;
    if (to == from + forward)
        return !(occupied & bit(to));
    return to == from + 2 * forward && relative_rank(us, from) == RANK_2 &&
           !(occupied & (bit(to) | bit(from + forward)));
}

static bool can_go(const Position *p, Side us, Role role, Square from, Square to)
{
    switch (role) {
    case PAWN:
        return pawn_can_go(p, us, from, to);
    case KNIGHT:
        return (knight_attacks(from) & bit(to)) != 0;
    case BISHOP:
        return (bishop_attacks(from, position_occupied(p)) & bit(to)) != 0;
    case ROOK:
        return (rook_attacks(from, position_occupied(p)) & bit(to)) != 0;
    case QUEEN:
        return (queen_attacks(from, position_occupied(p)) & bit(to)) != 0;
    case KING:
        return (king_attacks(from) & bit(to)) != 0;
    default:
        return false;
    }
}

bool movegen_is_legal(const Position *p, Move move)
{
    Side us = position_turn(p), them = opposite(us);
    Square from = move_from(move), to = move_to(move);
    Role role = position_role(p, from);

    if (!(p->by_side[us] & bit(from)))
        return false;
    if (move_is_castling(move) || move_is_en_passant(move))
        return is_listed(p, move);
    bool promotes = role == PAWN && relative_rank(us, to) == RANK_8;
    if (move_kind(move) != PLAIN && move_kind(move) < PROMOTION)
        return false;
    if (move_kind(move) > PROMOTION + 3 || promotes != move_is_promotion(move))
        return false;
    if ((p->by_side[us] & bit(to)) || !can_go(p, us, role, from, to))
        return false;
    Square king = role == KING ? to : position_king(p, us);
    Bitboard occupied = (position_occupied(p) ^ bit(from)) | bit(to);
    return !(position_attackers(p, king, occupied) & p->by_side[them] & ~bit(to));
}

uint64_t perft(const Position *p, int depth)
{
    if (depth <= 0)
        return 1;
    if (depth == 1)
        return (uint64_t)movegen_count(p);
    MoveList list;
    uint64_t leaves = 0;
    movegen_all(p, &list);
    for (int i = 0; i < list.count; i++) {
        Position next = *p;
        position_play(&next, list.moves[i]);
        leaves += perft(&next, depth - 1);
    }
    return leaves;
}
