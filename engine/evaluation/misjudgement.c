#include "engine/evaluation/misjudgement.h"

#include "engine/evaluation/clamp.h"
#include "structure/mix.h"

bool misjudgement_is_same(const Misjudgement *one, const Misjudgement *other)
{
    return one->size == other->size && (one->size == 0 || one->seed == other->seed);
}

int misjudgement_loose_pieces(const Position *p)
{
    int loose = 0;
    Bitboard pieces = position_occupied(p) & ~p->by_role[PAWN] & ~p->by_role[KING];
    for (; pieces; pieces &= pieces - 1) {
        Square square = first_square(pieces);
        Side side = p->by_side[WHITE] & bit(square) ? WHITE : BLACK;
        Bitboard near = position_attackers(p, square, position_occupied(p));
        Bitboard enemies = near & p->by_side[opposite(side)];
        loose += enemies && ((enemies & p->by_role[PAWN]) || !(near & p->by_side[side]));
    }
    return loose;
}

uint64_t misjudgement_bits(uint64_t seed, const Position *position)
{
    return mix_bits(position->key ^ seed);
}

int misjudge_by(const Misjudgement *misjudgement, const Position *position)
{
    enum { HALF_BITS = 16, HALF = 1 << HALF_BITS };
    uint64_t bits = misjudgement_bits(misjudgement->seed, position);
    /* The sum of two evenly spread numbers: small errors are more frequent than great ones. */
    int spread = (int)(bits % HALF + (bits >> HALF_BITS) % HALF) - (HALF - 1);
    int size = misjudgement->size * (2 + misjudgement_loose_pieces(position)) / 2;
    return clamp((int)((int64_t)spread * size / HALF), -MISJUDGED_MOST, MISJUDGED_MOST);
}
