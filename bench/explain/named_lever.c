#include "bench/explain/named_lever.h"
#include "engine/evaluation/structure_view.h"

static NamedKind kind_of(ps_verdict verdict, const ps_lever *lever)
{
    bool waits = ps_lever_is_live(lever) && lever->status != PS_PLAYED;
    switch (verdict) {
    case PS_APPLIES:
        return waits ? NAMED_APPLIES : NAMED_NOTHING;
    case PS_WEAK:
        return waits ? NAMED_WEAK : NAMED_NOTHING;
    case PS_MISLEADING:
        return lever->square != PS_NO_SQUARE ? NAMED_MISLEADING : NAMED_NOTHING;
    default:
        return NAMED_NOTHING;
    }
}

void named_levers(const Position *position, NamedLever levers[2])
{
    ps_analysis analysis;
    structure_analyse(position, &analysis);
    for (Side side = WHITE; side <= BLACK; side++) {
        levers[side] = (NamedLever){NAMED_NOTHING, NO_SQUARE};
        const ps_lever *lever = ps_plan_lever(&analysis, side);
        if (lever == NULL)
            continue;
        levers[side].kind = kind_of(analysis.plan[side].verdict, lever);
        if (levers[side].kind != NAMED_NOTHING)
            levers[side].square = lever->square;
    }
}

Move named_lever_push(const Position *position)
{
    NamedLever levers[2];
    named_levers(position, levers);
    Side side = position_turn(position);
    if (!named_is_live(levers[side].kind))
        return NO_MOVE;
    MoveList list;
    movegen_all(position, &list);
    for (int i = 0; i < list.count; i++) {
        Square from = move_from(list.moves[i]);
        if (move_to(list.moves[i]) == levers[side].square && position_role(position, from) == PAWN &&
            file_of(from) == file_of(levers[side].square))
            return list.moves[i];
    }
    return NO_MOVE;
}

/* Only pawns of the one side matter, and where they stand: so nothing else is played, and games are read by the
 * million. */
int named_lever_ply(const Position *start, Side side, Square square, const Move *moves, int plies)
{
    Bitboard pawns = position_men(start, side, PAWN);
    Side turn = position_turn(start);
    for (int ply = 1; ply <= plies; ply++, turn = opposite(turn)) {
        Square from = move_from(moves[ply - 1]), to = move_to(moves[ply - 1]);
        if (turn != side) {
            Square taken = move_is_en_passant(moves[ply - 1]) ? to + forward_step(side) : to;
            pawns &= ~bit(taken);
        } else if ((pawns & bit(from)) != 0) {
            if (to == square && file_of(from) == file_of(to))
                return ply;
            pawns &= ~bit(from);
            if (!move_is_promotion(moves[ply - 1]))
                pawns |= bit(to);
        }
    }
    return 0;
}

bool named_lever_was_asked(const Position *start, Side side, Square square, const Move *moves, int ply)
{
    Position position = *start;
    NamedLever levers[2];
    for (int i = 0; i < ply - 1; i++)
        position_play(&position, moves[i]);
    named_levers(&position, levers);
    return named_is_live(levers[side].kind) && levers[side].square == square;
}
