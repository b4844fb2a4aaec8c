#include "engine/search/mate_proof.h"

#include <stdlib.h>

/* What has been shown of positions with the attacker to move. */
typedef struct Shown {
    uint64_t key;
    int8_t mates_in; /* moves, 0: not known */
    int8_t not_in;
} Shown;

enum { SHOWN = 1 << 18 };

typedef struct Proof {
    Searcher *s;
    Shown *shown;
} Proof;

static Shown *shown_at(const Proof *proof, uint64_t key)
{
    Shown *shown = &proof->shown[key % SHOWN];
    if (shown->key != key)
        *shown = (Shown){.key = key};
    return shown;
}

/* Whether the rules, the limits or the exact tables of endings end a line, and whether by a mate within so many
 * plies; `sign` is 1 with the attacker to move. */
static bool line_ends(const Proof *proof, Frame *f, int sign, int plies, bool *mates)
{
    int score;
    if (!searcher_ends(proof->s, f, &score))
        return false;
    *mates = !proof->s->stopped && score_is_win(sign * score) && SCORE_MATE - sign * score - f->ply <= plies;
    return true;
}

static bool attacker_mates(const Proof *proof, Frame *f, int moves);

/* Whether every reply is answered by mate in that many moves; with 0 whether it is mate. */
static bool defender_is_mated(const Proof *proof, Frame *f, int moves)
{
    bool mated;
    if (moves == 0)
        return f->checkers && !movegen_any(&f->position);
    if (line_ends(proof, f, -1, 2 * moves, &mated))
        return mated;
    MoveList list;
    CheckView checks;
    movegen_all(&f->position, &list);
    position_view_checks(&f->position, &checks);
    for (int i = 0; i < list.count; i++) {
        bool gives_check = position_gives_check(&f->position, &checks, list.moves[i]);
        if (!attacker_mates(proof, searcher_play(proof->s, f, list.moves[i], gives_check), moves))
            return false;
    }
    return list.count > 0 || f->checkers;
}

static bool attacker_mates(const Proof *proof, Frame *f, int moves)
{
    bool mates = false;
    if (f->ply > 0 && line_ends(proof, f, 1, 2 * moves - 1, &mates))
        return mates;
    uint64_t key = table_key(&f->position);
    Shown shown = *shown_at(proof, key);
    if (shown.mates_in && shown.mates_in <= moves)
        return true;
    if (shown.not_in >= moves)
        return false;
    MoveList list;
    CheckView checks;
    movegen_all(&f->position, &list);
    position_view_checks(&f->position, &checks);
    /* Checks first; the last move must be one. */
    for (int quiet = 0; quiet <= (moves > 1) && !mates; quiet++)
        for (int i = 0; i < list.count && !mates; i++) {
            bool gives_check = position_gives_check(&f->position, &checks, list.moves[i]);
            if (gives_check == (quiet == 0))
                mates = defender_is_mated(proof, searcher_play(proof->s, f, list.moves[i], gives_check),
                                          moves - 1);
        }
    if (mates)
        shown_at(proof, key)->mates_in = (int8_t)moves;
    else if (!proof->s->stopped)
        shown_at(proof, key)->not_in = (int8_t)moves;
    return mates;
}

MateProof mate_proof(Searcher *s, int moves)
{
    Proof proof = {s, calloc(SHOWN, sizeof *proof.shown)};
    if (!proof.shown || 2 * moves >= MAX_PLY) {
        free(proof.shown);
        return MATE_UNDECIDED;
    }
    bool mates = false;
    for (int n = 1; n <= moves && !mates && !s->stopped; n++)
        mates = attacker_mates(&proof, &s->frames[0], n);
    free(proof.shown);
    return mates ? MATE_THERE : s->stopped ? MATE_UNDECIDED : MATE_NOT_THERE;
}
