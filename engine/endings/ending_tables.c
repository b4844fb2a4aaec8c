#include "engine/endings/ending_tables.h"

#include "engine/endings/ending_index.h"
#include "engine/rules/movegen.h"

/* The file of solve_endings, from tables.S. */
extern const uint8_t ending_file[] __attribute__((visibility("hidden")));

static bool has_only(const Position *p, Side side, Role role)
{
    Bitboard others = p->by_side[side] & ~p->by_role[KING];
    return role == NO_ROLE ? !others : others && !more_than_one(others) && (others & p->by_role[role]);
}

/* Which ending it is, and for whom. */
static EndingName name_of(const Position *p, Side *side)
{
    if (count_squares(position_occupied(p)) <= ENDING_MEN)
        for (EndingName name = 0; name < ENDING_NAMES; name++)
            for (*side = WHITE; *side <= BLACK; ++*side)
                if (has_only(p, *side, ending_men[name].own) &&
                    has_only(p, opposite(*side), ending_men[name].other))
                    return name;
    return NO_ENDING;
}

static int look_up(EndingName name, const Position *p, Side side)
{
    Square squares[ENDING_MEN] = {position_king(p, side), position_king(p, opposite(side))};
    int count = 2;
    for (int i = 0; i < SIDE_COUNT; i++) {
        Bitboard man = p->by_side[i == 0 ? side : opposite(side)] & ~p->by_role[KING];
        if (man)
            squares[count++] = first_square(man);
    }
    for (int i = 0; side == BLACK && i < count; i++)
        squares[i] = flip_ranks(squares[i]);
    int bits = ending_bits(name);
    size_t at = ending_place(name, position_turn(p) ^ side, squares) * (size_t)bits;
    return ending_file[ending_offset(name) + at / 8] >> (at % 8) & ((1 << bits) - 1);
}

/* Of an ending without pawns: plies until that side mates, -1 if it cannot. */
static int mate_plies(EndingName name, const Position *p, Side side)
{
    if (position_turn(p) == side)
        return 2 * look_up(name, p, side) - 1;
    MoveList list;
    movegen_all(p, &list);
    int most = list.count > 0 || position_in_check(p) ? 0 : -1;
    for (int i = 0; i < list.count && most >= 0; i++) {
        Position next = *p;
        position_play(&next, list.moves[i]);
        Side still = NO_SIDE;
        int plies = name_of(&next, &still) == name && still == side ? 1 + mate_plies(name, &next, side) : 0;
        most = plies == 0 ? -1 : plies > most ? plies : most;
    }
    return most;
}

bool ending_known(const Position *p, KnownEnding *known)
{
    static const int values[] = {[ENDING_DRAWN] = 0, [ENDING_WON] = 1, [ENDING_LOST] = -1};
    Side side;
    EndingName name = name_of(p, &side);
    if (name == NO_ENDING)
        return false;
    *known = (KnownEnding){.side = side, .mate_plies = -1, .exact = true};
    if (ending_has_pawn(name)) {
        known->value = values[look_up(name, p, side)];
        return true;
    }
    known->mate_plies = mate_plies(name, p, side);
    known->value = known->mate_plies >= 0;
    known->exact = known->value || name != QUEEN_ROOK_ENDING;
    return true;
}

Move ending_move(const Position *p)
{
    KnownEnding here, there;
    MoveList list;
    movegen_all(p, &list);
    for (int i = 0; ending_known(p, &here) && i < list.count; i++) {
        Position next = *p;
        position_play(&next, list.moves[i]);
        if (ending_known(&next, &there) && there.side == here.side && there.mate_plies == here.mate_plies - 1)
            return list.moves[i];
    }
    return NO_MOVE;
}
