#include "engine/endings/retrograde.h"

#include "engine/rules/attacks.h"

#include <stdlib.h>
#include <string.h>

enum { NEVER_LOST = 200 }; /* replies left to be refuted, where one holds for ever */

/* A position of an ending, its men in the order of the ending's. */
typedef struct Board {
    Square squares[ENDING_MEN];
    Side turn;
} Board;

typedef struct Work {
    const Ending *ending;
    const Ending *known;
    int known_count;
    uint8_t *left;  /* quiet moves of a position that have not been refuted yet */
    uint8_t *least; /* plies, if it is lost, that captures and promotions put the end off to */
    int furthest;   /* plies of the fates found so far */
} Work;

/* ------------------------------------------------------------------------------------------ men on squares */

static Bitboard reach(Man man, Square from, Bitboard occupied)
{
    switch (man.role) {
    case PAWN:
        return pawn_attacks_from(man.side, from);
    case KNIGHT:
        return knight_attacks(from);
    case BISHOP:
        return bishop_attacks(from, occupied);
    case ROOK:
        return rook_attacks(from, occupied);
    case QUEEN:
        return queen_attacks(from, occupied);
    default:
        return king_attacks(from);
    }
}

static Bitboard occupied_by(const Square *squares, int count)
{
    Bitboard occupied = 0;
    for (int i = 0; i < count; i++)
        occupied |= bit(squares[i]);
    return occupied;
}

/* Whether a side's king is attacked; `taken` is a man that is no longer there, -1 for none. */
static bool in_check(const Ending *e, const Square *squares, Side side, int taken)
{
    Bitboard occupied = 0;
    for (int i = 0; i < e->count; i++)
        if (i != taken)
            occupied |= bit(squares[i]);
    for (int i = 0; i < e->count; i++)
        if (i != taken && e->men[i].side != side &&
            (reach(e->men[i], squares[i], occupied) & bit(squares[side])))
            return true;
    return false;
}

/* The squares that a pawn goes to without taking; backwards, those that it may come from. */
static Bitboard pawn_walk(Side side, Square from, Bitboard occupied, bool backwards)
{
    int step = backwards ? -forward_step(side) : forward_step(side);
    Square one = from + step, two = one + step;
    if (rank_of(one) == (side == WHITE ? RANK_1 : RANK_8) || (occupied & bit(one)))
        return 0;
    bool twice = relative_rank(side, backwards ? from : one) == (backwards ? RANK_4 : RANK_3);
    return bit(one) | (twice && !(occupied & bit(two)) ? bit(two) : 0);
}

static size_t index_of(const Ending *e, Side turn, const Square squares[])
{
    int flip = file_of(squares[0]) > FILE_D ? 7 : 0;
    if (!e->pawns && rank_of(squares[0]) > RANK_4)
        flip |= 56;
    Square king = squares[0] ^ flip;
    size_t index = (size_t)turn * (e->pawns ? 32 : 16) + (size_t)rank_of(king) * 4 + (size_t)file_of(king);
    for (int i = 1; i < e->count; i++)
        index = index * SQUARE_COUNT + (size_t)(squares[i] ^ flip);
    return index;
}

Side ending_board(const Ending *e, size_t index, Square squares[ENDING_MEN])
{
    for (int i = e->count - 1; i > 0; i--) {
        squares[i] = (Square)(index % SQUARE_COUNT);
        index /= SQUARE_COUNT;
    }
    size_t kings = e->pawns ? 32 : 16;
    squares[0] = square_at((int)(index % kings % 4), (int)(index % kings / 4));
    return index / kings ? BLACK : WHITE;
}

Fate ending_fate(const Ending *e, Side turn, const Square squares[])
{
    return e->fates[index_of(e, turn, squares)];
}

static bool is_legal(const Ending *e, const Board *b)
{
    if (count_squares(occupied_by(b->squares, e->count)) != e->count)
        return false;
    for (int i = 0; i < e->count; i++)
        if (e->men[i].role == PAWN && (rank_of(b->squares[i]) == RANK_1 || rank_of(b->squares[i]) == RANK_8))
            return false;
    return !in_check(e, b->squares, opposite(b->turn), -1);
}

/* ------------------------------------------------------------------------------------- captures, promotions */

static bool same_men(const Ending *e, const Man *men, int count)
{
    if (e->count != count)
        return false;
    for (int i = 2; i < count; i++)
        if (e->men[i].role != men[i].role || e->men[i].side != men[i].side)
            return false;
    return true;
}

/* Puts White's man before Black's, as every ending has them. */
static void in_order(Man *men, Square *squares, int count)
{
    if (count == 4 && men[2].side == BLACK && men[3].side == WHITE) {
        Man man = men[2];
        Square square = squares[2];
        men[2] = men[3], squares[2] = squares[3];
        men[3] = man, squares[3] = square;
    }
}

/* The fate of what a capture or a promotion leads to. */
static Fate fate_behind(const Work *w, const Man *men, const Square *squares, int count, Side turn)
{
    for (int turned = 0; turned < SIDE_COUNT; turned++) {
        Man other[ENDING_MEN];
        Square there[ENDING_MEN];
        for (int i = 0; i < count; i++) {
            int from = i < 2 ? i ^ turned : i; /* the kings change places */
            other[i] = (Man){men[from].side ^ (Side)turned, men[from].role};
            there[i] = turned ? flip_ranks(squares[from]) : squares[from];
        }
        in_order(other, there, count);
        for (int i = 0; i < w->known_count; i++)
            if (same_men(&w->known[i], other, count))
                return ending_fate(&w->known[i], turn ^ (Side)turned, there);
    }
    return FATE_DRAWN;
}

/* ------------------------------------------------------------------------------------------------- forwards */

/* What a position's moves come to, seen from the side to move. */
typedef struct Outlook {
    int moves, quiet;
    int win;   /* plies of the shortest win by capture or promotion, 0: none */
    int least; /* plies of the longest loss by one */
    bool holds;
} Outlook;

static void add_behind(const Work *w, Outlook *o, const Man *men, const Square *squares, int count, Side turn)
{
    Fate fate = fate_behind(w, men, squares, count, opposite(turn));
    if (fate == FATE_DRAWN)
        o->holds = true;
    else if (fate % 2 == 1) /* the other side is mated */
        o->win = o->win == 0 || fate < o->win ? fate : o->win;
    else
        o->least = fate > o->least ? fate : o->least;
}

/* A move that may leave the king in check. */
static bool leaves_check(const Ending *e, const Board *b, int mover, Square to)
{
    Square squares[ENDING_MEN];
    int taken = -1;
    memcpy(squares, b->squares, sizeof squares);
    for (int i = 0; i < e->count; i++)
        if (squares[i] == to)
            taken = i;
    squares[mover] = to;
    return in_check(e, squares, b->turn, taken);
}

static void add_conversion(const Work *w, const Board *b, int mover, Square to, Outlook *o)
{
    const Ending *e = w->ending;
    Square squares[ENDING_MEN];
    int taken = -1;
    memcpy(squares, b->squares, sizeof squares);
    for (int i = 0; i < e->count; i++)
        if (squares[i] == to)
            taken = i;
    squares[mover] = to;
    bool promotes = e->men[mover].role == PAWN && (rank_of(to) == RANK_1 || rank_of(to) == RANK_8);
    for (Role role = promotes ? KNIGHT : e->men[mover].role; role <= (promotes ? QUEEN : e->men[mover].role);
         role++) {
        Man men[ENDING_MEN];
        Square left[ENDING_MEN];
        int count = 0;
        for (int i = 0; i < e->count; i++)
            if (i != taken) {
                men[count] = (Man){e->men[i].side, i == mover ? role : e->men[i].role};
                left[count++] = squares[i];
            }
        add_behind(w, o, men, left, count, b->turn);
    }
}

static Outlook look_ahead(const Work *w, const Board *b)
{
    const Ending *e = w->ending;
    Outlook o = {.holds = false};
    Square king = b->squares[b->turn];
    Bitboard own = 0, attacked = 0, occupied = occupied_by(b->squares, e->count);
    for (int i = 0; i < e->count; i++)
        if (e->men[i].side == b->turn)
            own |= bit(b->squares[i]);
        else
            attacked |= reach(e->men[i], b->squares[i], occupied ^ bit(king));
    /* Men that may be pinned, all if there is a check. */
    Bitboard bound = attacked & bit(king) ? occupied : queen_attacks(king, occupied);
    for (int i = 0; i < e->count; i++) {
        if (e->men[i].side != b->turn)
            continue;
        Square from = b->squares[i];
        Bitboard goals = reach(e->men[i], from, occupied) & ~own;
        Bitboard conversions = goals & occupied;
        if (e->men[i].role == PAWN) {
            goals = conversions | pawn_walk(b->turn, from, occupied, false);
            conversions |= goals & (RANK_1_BB | RANK_8_BB);
        }
        if (e->men[i].role == KING) {
            goals &= ~attacked;
        } else if (bound & bit(from)) {
            for (Bitboard rest = goals; rest;) {
                Square to = take_first(&rest);
                if (leaves_check(e, b, i, to))
                    goals ^= bit(to);
            }
        }
        conversions &= goals;
        o.moves += count_squares(goals);
        o.quiet += count_squares(goals ^ conversions);
        while (conversions)
            add_conversion(w, b, i, take_first(&conversions), &o);
    }
    return o;
}

static void settle(Work *w, size_t index, int plies)
{
    w->ending->fates[index] = (Fate)(plies + 1);
    w->furthest = plies > w->furthest ? plies : w->furthest;
}

/* What mates, captures and promotions say about every position. */
static void begin(Work *w)
{
    const Ending *e = w->ending;
    for (size_t index = 0; index < e->positions; index++) {
        Board b = {.turn = WHITE};
        b.turn = ending_board(e, index, b.squares);
        if (!is_legal(e, &b)) {
            e->fates[index] = FATE_ILLEGAL;
            continue;
        }
        Outlook o = look_ahead(w, &b);
        bool stalemate = o.moves == 0 && !in_check(e, b.squares, b.turn, -1);
        w->left[index] = (uint8_t)(o.holds || stalemate ? NEVER_LOST : o.quiet);
        w->least[index] = (uint8_t)o.least;
        if (o.win)
            settle(w, index, o.win);
        else if (w->left[index] == 0)
            settle(w, index, o.least);
    }
}

/* ------------------------------------------------------------------------------------------------ backwards */

/* A position from which one that is settled can be reached. */
static void take_back_to(Work *w, size_t before, int plies)
{
    Fate fate = w->ending->fates[before];
    if (fate == FATE_ILLEGAL)
        return;
    if (plies % 2 == 0) { /* the other side is mated: a win in a ply more, unless there is a shorter one */
        if (fate == FATE_DRAWN || fate > plies + 2)
            settle(w, before, plies + 1);
        return;
    }
    if (--w->left[before] == 0 && fate == FATE_DRAWN)
        settle(w, before, plies + 1 > w->least[before] ? plies + 1 : w->least[before]);
}

static void take_back(Work *w, const Board *b, int plies)
{
    const Ending *e = w->ending;
    Side mover = opposite(b->turn);
    Bitboard occupied = occupied_by(b->squares, e->count);
    for (int i = 0; i < e->count; i++) {
        if (e->men[i].side != mover)
            continue;
        Bitboard origins = e->men[i].role == PAWN ? pawn_walk(mover, b->squares[i], occupied, true)
                                                  : reach(e->men[i], b->squares[i], occupied) & ~occupied;
        Square squares[ENDING_MEN];
        memcpy(squares, b->squares, sizeof squares);
        while (origins) {
            squares[i] = take_first(&origins);
            take_back_to(w, index_of(e, mover, squares), plies);
        }
    }
}

bool ending_solve(Ending *ending, const Man *men, int count, const Ending *known, int known_count)
{
    *ending = (Ending){.men = {{WHITE, KING}, {BLACK, KING}}, .count = count + 2};
    for (int i = 0; i < count; i++) {
        ending->men[i + 2] = men[i];
        ending->pawns = ending->pawns || men[i].role == PAWN;
    }
    ending->positions = ending->pawns ? 2 * 32 : 2 * 16;
    for (int i = 1; i < ending->count; i++)
        ending->positions *= SQUARE_COUNT;
    ending->fates = calloc(ending->positions, 1);
    Work w = {.ending = ending, .known = known, .known_count = known_count};
    w.left = calloc(ending->positions, 1);
    w.least = calloc(ending->positions, 1);
    bool good = ending->fates && w.left && w.least;
    if (good) {
        begin(&w);
        for (int plies = 0; plies <= w.furthest; plies++) {
            const Fate *at = ending->fates, *end = at + ending->positions;
            for (; (at = memchr(at, plies + 1, (size_t)(end - at))) != NULL; at++) {
                Board b = {.turn = WHITE};
                b.turn = ending_board(ending, (size_t)(at - ending->fates), b.squares);
                take_back(&w, &b, plies);
            }
        }
    }
    free(w.left);
    free(w.least);
    return good;
}
