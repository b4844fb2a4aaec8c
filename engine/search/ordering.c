#include "engine/search/ordering.h"

#include "engine/evaluation/clamp.h"
#include "engine/rules/attacks.h"
#include "engine/search/exchange.h"

#include <limits.h>

void history_learn(History *history, int lesson)
{
    int magnitude = lesson < 0 ? -lesson : lesson, value = history_value(history);
    value += lesson - value * magnitude / HISTORY_LIMIT;
    atomic_store_explicit(history, (int16_t)value, memory_order_relaxed);
}

void view_threats(const Position *p, Threats *threats)
{
    Side them = opposite(position_turn(p));
    Bitboard occupied = position_occupied(p), *unsafe = threats->unsafe;
    Bitboard attacked = pawn_attacks(them, position_men(p, them, PAWN));
    unsafe[PAWN] = unsafe[KING] = 0;
    unsafe[KNIGHT] = unsafe[BISHOP] = attacked;
    for (Bitboard knights = position_men(p, them, KNIGHT); knights;)
        attacked |= knight_attacks(take_first(&knights));
    for (Bitboard bishops = position_men(p, them, BISHOP); bishops;)
        attacked |= bishop_attacks(take_first(&bishops), occupied);
    unsafe[ROOK] = attacked;
    for (Bitboard rooks = position_men(p, them, ROOK); rooks;)
        attacked |= rook_attacks(take_first(&rooks), occupied);
    unsafe[QUEEN] = attacked;
    for (Bitboard queens = position_men(p, them, QUEEN); queens;)
        attacked |= queen_attacks(take_first(&queens), occupied);
    threats->attacked = attacked | king_attacks(position_king(p, them));
}

/* What a man of the side to move stands to lose on a square to a lesser one, in centipawns: his value less that of
 * the least that attacks it. */
static int at_stake(const Threats *threats, Role role, Square square)
{
    const Bitboard *unsafe = threats->unsafe, here = bit(square);
    if (!(unsafe[role] & here))
        return 0;
    Role least = unsafe[KNIGHT] & here ? PAWN : unsafe[ROOK] & here ? BISHOP : ROOK;
    return exchange_value(role) - exchange_value(least);
}

void picker_start(Picker *picker, const Position *position, Histories *histories, const OrderingHints *hints,
                  bool tactical_only)
{
    picker->position = position;
    picker->histories = histories;
    picker->hints = hints;
    picker->tactical_only = tactical_only;
    picker->bad_next = picker->bad_count = 0;
    picker->list.count = 0;
    Move first = hints->table_move;
    bool usable = first != NO_MOVE && movegen_is_legal(position, first) &&
                  !(tactical_only && move_is_quiet(position, first));
    picker->stage = usable ? PICK_TABLE_MOVE : PICK_TACTICAL_START;
}

/* The value of the victim and what has worked before, in one sum. */
static int tactical_score(const Picker *picker, Move move, int history)
{
    const Position *p = picker->position;
    int value = exchange_value(position_captured(p, move));
    if (move_is_promotion(move))
        value += exchange_value(move_promotion(move));
    const Parameters *par = picker->hints->parameters;
    return (picker->tactical_only ? par->quiescence_victim : par->victim) * value + history;
}

/* What a capture may lose by the exchange and still come before the quiet moves: the more, the better such
 * captures have fared; in quiescence nothing. */
static int leeway(const Picker *picker)
{
    return picker->tactical_only ? 0 : picker->history * picker->hints->parameters->leeway / HISTORY_LIMIT;
}

static int quiet_score(const Picker *picker, Move move, int history)
{
    const OrderingHints *hints = picker->hints;
    const Parameters *par = hints->parameters;
    Role role = position_role(picker->position, move_from(move));
    int score = history;
    if (move == hints->killers[0])
        score += par->killer;
    else if (move == hints->killers[1])
        score += par->older_killer;
    if (move == hints->counter)
        score += par->counter;
    const Threats *threats = hints->threats;
    if (threats->unsafe[role] & (bit(move_from(move)) | bit(move_to(move))))
        score +=
            par->stake * (at_stake(threats, role, move_from(move)) - at_stake(threats, role, move_to(move)));
    return score;
}

/* A rank is a score and, below it, the place in the list, the first places being the best; so to find the best is
 * one maximum over all, which the compiler takes of whole blocks at a time. */
enum { TAKEN = INT_MIN, BLOCK = 8 };

static void set_rank(Picker *picker, int place, int score, int history)
{
    picker->ranks[place] = score * MOVES_MAX + (MOVES_MAX - 1 - place);
    picker->move_histories[place] = history;
}

/* Fills the last block. */
static void end_ranks(Picker *picker)
{
    for (int i = picker->list.count; i % BLOCK; i++)
        picker->ranks[i] = TAKEN;
}

static void rank_tactical_moves(Picker *picker)
{
    const Position *p = picker->position;
    movegen_tactical(p, &picker->list);
    for (int i = 0; i < picker->list.count; i++) {
        Move move = picker->list.moves[i];
        int history = history_value(capture_history(picker->histories, p, move));
        set_rank(picker, i, tactical_score(picker, move, history), history);
    }
    end_ranks(picker);
}

/* The sum of all histories of a quiet move. */
static inline int quiet_history(const Position *p, const OrderingHints *hints, Move move)
{
    int score = history_value(plain_history(p, hints, move)), at = role_square(p, move);
    for (int i = 0; i < PAGES; i++)
        score += history_value(&hints->pages[i][at]);
    return score;
}

static void rank_quiet_moves(Picker *picker)
{
    const Position *p = picker->position;
    movegen_quiet(p, &picker->list);
    for (int i = 0; i < picker->list.count; i++) {
        Move move = picker->list.moves[i];
        int history = quiet_history(p, picker->hints, move);
        set_rank(picker, i, quiet_score(picker, move, history), history);
    }
    end_ranks(picker);
}

/* Takes the best of the moves that are left, with its history; NO_MOVE if none is left. */
static Move take_best(Picker *picker)
{
    unsigned whole_blocks = ((unsigned)picker->list.count + BLOCK - 1) & ~(BLOCK - 1u);
    int best = TAKEN;
    for (unsigned i = 0; i < whole_blocks; i++)
        best = at_least(best, picker->ranks[i]);
    if (best == TAKEN)
        return NO_MOVE;
    int place = MOVES_MAX - 1 - (best & (MOVES_MAX - 1));
    picker->ranks[place] = TAKEN;
    picker->history = picker->move_histories[place];
    return picker->list.moves[place];
}

Move picker_next(Picker *picker)
{
    const Move table_move = picker->hints->table_move;
    Move move;
    switch (picker->stage) {
    case PICK_TABLE_MOVE:
        picker->stage = PICK_TACTICAL_START;
        return table_move;
    case PICK_TACTICAL_START:
        rank_tactical_moves(picker);
        picker->stage = PICK_GOOD_TACTICAL;
        /* fall through */
    case PICK_GOOD_TACTICAL:
        while ((move = take_best(picker)) != NO_MOVE) {
            if (move == table_move)
                continue;
            if (exchange_at_least(picker->position, move, -leeway(picker)))
                return move;
            picker->bad[picker->bad_count].move = move;
            picker->bad[picker->bad_count++].history = picker->history;
        }
        if (picker->tactical_only)
            return NO_MOVE;
        picker->stage = PICK_QUIET_START;
        /* fall through */
    case PICK_QUIET_START:
        rank_quiet_moves(picker);
        picker->stage = PICK_QUIET;
        /* fall through */
    case PICK_QUIET:
        while ((move = take_best(picker)) != NO_MOVE)
            if (move != table_move)
                return move;
        picker->stage = PICK_BAD_TACTICAL;
        /* fall through */
    case PICK_BAD_TACTICAL:
        if (picker->bad_next < picker->bad_count) {
            picker->history = picker->bad[picker->bad_next].history;
            return picker->bad[picker->bad_next++].move;
        }
        picker->stage = PICK_END;
        /* fall through */
    default:
        return NO_MOVE;
    }
}
