#include "engine/search/ordering.h"

#include "engine/rules/attacks.h"
#include "engine/search/exchange.h"

void history_learn(History *history, int bonus)
{
    int magnitude = bonus < 0 ? -bonus : bonus, value = history_value(history);
    value += bonus - value * magnitude / HISTORY_LIMIT;
    atomic_store_explicit(history, (int16_t)value, memory_order_relaxed);
}

int quiet_history(const Position *p, const OrderingHints *hints, Move move)
{
    int score = history_value(plain_history(p, hints, move));
    for (int i = 0; i < PAGES; i++)
        if (hints->pages[i])
            score += history_value(&hints->pages[i][role_square(p, move)]);
    return score;
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

void picker_start(Picker *picker, const Position *position, Histories *histories, const OrderingHints *hints,
                  bool tactical_only)
{
    picker->position = position;
    picker->histories = histories;
    picker->hints = hints;
    picker->tactical_only = tactical_only;
    picker->next = picker->bad_next = picker->bad_count = 0;
    picker->list.count = 0;
    Move first = hints->table_move;
    bool usable = first != NO_MOVE && movegen_is_legal(position, first) &&
                  !(tactical_only && move_is_quiet(position, first));
    picker->stage = usable ? PICK_TABLE_MOVE : PICK_TACTICAL_START;
}

/* The value of the victim and what has worked before, in one sum. */
static int tactical_score(const Picker *picker, Move move)
{
    const Position *p = picker->position;
    int value = exchange_value(position_captured(p, move));
    if (move_is_promotion(move))
        value += exchange_value(move_promotion(move));
    const Parameters *par = picker->hints->parameters;
    return (picker->tactical_only ? par->quiescence_victim : par->victim_weight) * value +
           history_value(capture_history(picker->histories, p, move));
}

/* What a capture may lose by the exchange and still come before the quiet moves: the more, the better such
 * captures have fared; in quiescence nothing. */
static int leeway(const Picker *picker, Move move)
{
    if (picker->tactical_only)
        return 0;
    int history = history_value(capture_history(picker->histories, picker->position, move));
    return history * picker->hints->parameters->capture_leeway / HISTORY_LIMIT;
}

static int quiet_score(const Picker *picker, Move move)
{
    const OrderingHints *hints = picker->hints;
    const Parameters *par = hints->parameters;
    Role role = position_role(picker->position, move_from(move));
    int score = quiet_history(picker->position, hints, move);
    if (move == hints->killers[0])
        score += par->killer_bonus;
    else if (move == hints->killers[1])
        score += par->killer_bonus_2;
    if (move == hints->counter)
        score += par->counter_bonus;
    if (hints->checks && (hints->checks->from[role] & bit(move_to(move))))
        score += par->check_bonus;
    Bitboard unsafe = hints->threats->unsafe[role];
    int escapes = (int)(unsafe >> move_from(move) & 1) - (int)(unsafe >> move_to(move) & 1);
    return score + par->escape_bonus * escapes;
}

/* Brings the best of the moves that are left to the front and takes it. */
static Move take_best(Picker *picker)
{
    int best = picker->next;
    for (int i = picker->next + 1; i < picker->list.count; i++)
        if (picker->scores[i] > picker->scores[best])
            best = i;
    Move move = picker->list.moves[best];
    picker->list.moves[best] = picker->list.moves[picker->next];
    picker->scores[best] = picker->scores[picker->next];
    picker->next++;
    return move;
}

Move picker_next(Picker *picker)
{
    const Position *p = picker->position;
    Move table_move = picker->hints->table_move;
    switch (picker->stage) {
    case PICK_TABLE_MOVE:
        picker->stage = PICK_TACTICAL_START;
        return table_move;
    case PICK_TACTICAL_START:
        movegen_tactical(p, &picker->list);
        for (int i = 0; i < picker->list.count; i++)
            picker->scores[i] = tactical_score(picker, picker->list.moves[i]);
        picker->stage = PICK_GOOD_TACTICAL;
        /* fall through */
    case PICK_GOOD_TACTICAL:
        while (picker->next < picker->list.count) {
            Move move = take_best(picker);
            if (move == table_move)
                continue;
            if (exchange_at_least(p, move, -leeway(picker, move)))
                return move;
            picker->bad[picker->bad_count++] = move;
        }
        if (picker->tactical_only)
            return NO_MOVE;
        picker->stage = PICK_QUIET_START;
        /* fall through */
    case PICK_QUIET_START:
        movegen_quiet(p, &picker->list);
        picker->next = 0;
        for (int i = 0; i < picker->list.count; i++)
            picker->scores[i] = quiet_score(picker, picker->list.moves[i]);
        picker->stage = PICK_QUIET;
        /* fall through */
    case PICK_QUIET:
        while (picker->next < picker->list.count) {
            Move move = take_best(picker);
            if (move != table_move)
                return move;
        }
        picker->stage = PICK_BAD_TACTICAL;
        /* fall through */
    case PICK_BAD_TACTICAL:
        if (picker->bad_next < picker->bad_count)
            return picker->bad[picker->bad_next++];
        picker->stage = PICK_END;
        /* fall through */
    default:
        return NO_MOVE;
    }
}
