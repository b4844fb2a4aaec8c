/* What the parts of the evaluation share about one position: who attacks what. */
#ifndef PAWNVANE_SURVEY_H
#define PAWNVANE_SURVEY_H

#include "engine/evaluation/pawn_terms.h"
#include "engine/rules/attacks.h"
#include "engine/rules/geometry.h"
#include "engine/rules/position.h"

/* Each part is compiled for White and for Black, with what depends on the side folded in. */
#define FOR_A_SIDE static inline __attribute__((always_inline))

enum { PIECES_MOST = 16 };

typedef struct Survey {
    const Position *p;
    const EvalWeights *w;
    const PawnTerms *pawns;
    Bitboard occupied;
    /* The knights, bishops, rooks and queens, in that order: how many, of which role, and what each attacks; a man that
     * hides its king from a slider attacks along that line only. */
    int pieces[SIDE_COUNT];
    Role role[SIDE_COUNT][PIECES_MOST];
    Bitboard reach[SIDE_COUNT][PIECES_MOST];
    int count[SIDE_COUNT][ROLE_COUNT];        /* of these, by role */
    Bitboard by_role[SIDE_COUNT][ROLE_COUNT]; /* what is attacked by these of that role */
    /* What is attacked by men of that role or a lesser one, in the order of the roles. */
    Bitboard up_to[SIDE_COUNT][ROLE_COUNT];
    Bitboard twice[SIDE_COUNT]; /* by two men, king left out */
    /* What a rook and a bishop would attack from the square of the king. */
    Bitboard straight[SIDE_COUNT], slanted[SIDE_COUNT];
} Survey;

/* By any man, and by any man but the king. */
static inline Bitboard attacked_by(const Survey *v, Side side)
{
    return v->up_to[side][KING];
}

static inline Bitboard guarded_without_king(const Survey *v, Side side)
{
    return v->up_to[side][QUEEN];
}

/* Squares on which a man of that role could be taken by a lesser one of that side. */
static inline Bitboard guarded_by_lesser(const Survey *v, Side side, Role role)
{
    static const Role lesser[ROLE_COUNT] = {NO_ROLE, PAWN, PAWN, BISHOP, ROOK, QUEEN};
    return role == KING ? v->up_to[side][KING] : v->up_to[side][lesser[role]];
}

/* By the pawns on the file of a rook or a king: none, theirs only, own only, both. */
FOR_A_SIDE Pair score_file(const Survey *v, Side side, Role role, Square square)
{
    Bitboard file = file_mask(file_of(square));
    bool own = file & position_men(v->p, side, PAWN),
         theirs = file & position_men(v->p, opposite(side), PAWN);
    return v->w->on_file[role == KING][2 * own + theirs];
}

/* Fills a survey, which refers to the position, the weights and the terms. */
void survey(Survey *v, const Position *position, const EvalWeights *weights, const PawnTerms *pawns);

#endif
