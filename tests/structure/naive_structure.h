/* The definitions of structure/structure.h, sections 1 to 6, once more: read from the text square by square,
 * over a plain board of letters, with no thought of speed and nothing taken from structure/. It writes its
 * findings as text, to be compared with what the library finds. */
#ifndef PAWNVANE_TESTS_NAIVE_STRUCTURE_H
#define PAWNVANE_TESTS_NAIVE_STRUCTURE_H

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Files and ranks count from 1. A side is 'w' or 'b'. '.' is an empty square. */
typedef struct Naive {
    char men[9][9]; /* [file][rank] */
    char to_move;
    char *text;
    size_t room;
} Naive;

typedef struct NaiveSquare {
    int file, rank; /* file 0: none */
} NaiveSquare;

typedef struct NaiveLever {
    NaiveSquare square;
    const char *status;
    int tempi; /* -1: none, as for the next two */
    int supporters, attackers;
    bool available; /* live or played */
} NaiveLever;

typedef struct NaivePair {
    int file;             /* the lower one */
    int rank, other_rank; /* of the white pawns */
    NaiveLever base[2];   /* white, black */
    int toward[2], headrank[2], direction[2];
} NaivePair;

static inline void naive_say(Naive *n, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(n->text, n->room, format, arguments);
    va_end(arguments);
    if (length < 0 || (size_t)length >= n->room)
        abort();
    n->text += length;
    n->room -= (size_t)length;
}

static inline void naive_say_square(Naive *n, NaiveSquare s)
{
    if (s.file == 0)
        naive_say(n, " null");
    else
        naive_say(n, " %c%d", 'a' + s.file - 1, s.rank);
}

static inline char naive_man(const Naive *n, int file, int rank)
{
    return file < 1 || file > 8 || rank < 1 || rank > 8 ? '#' : n->men[file][rank];
}

static inline char naive_pawn_of(char side)
{
    return side == 'w' ? 'P' : 'p';
}

static inline char naive_enemy(char side)
{
    return side == 'w' ? 'b' : 'w';
}

static inline int naive_forward(char side)
{
    return side == 'w' ? 1 : -1;
}

static inline bool naive_belongs(char man, char side)
{
    return side == 'w' ? strchr("PNBRQK", man) != NULL : strchr("pnbrqk", man) != NULL;
}

static inline bool naive_is_ram(const Naive *n, int file, int rank)
{
    return naive_man(n, file, rank) == 'P' && naive_man(n, file, rank + 1) == 'p';
}

static inline int naive_distance(int a, int b)
{
    return a > b ? a - b : b - a;
}

/* Whether the man on one square attacks another square, with one more square thought empty. */
static inline bool naive_attacks(const Naive *n, NaiveSquare from, NaiveSquare to, NaiveSquare lifted)
{
    char man = n->men[from.file][from.rank];
    int files = naive_distance(from.file, to.file);
    int ranks = naive_distance(from.rank, to.rank);
    bool straight = (files == 0) != (ranks == 0);
    bool diagonal = files == ranks && files > 0;
    switch (man) {
    case 'P':
        return files == 1 && to.rank == from.rank + 1;
    case 'p':
        return files == 1 && to.rank == from.rank - 1;
    case 'N':
    case 'n':
        return (files == 1 && ranks == 2) || (files == 2 && ranks == 1);
    case 'K':
    case 'k':
        return (straight || diagonal) && files <= 1 && ranks <= 1;
    case 'R':
    case 'r':
        if (!straight)
            return false;
        break;
    case 'B':
    case 'b':
        if (!diagonal)
            return false;
        break;
    case 'Q':
    case 'q':
        if (!straight && !diagonal)
            return false;
        break;
    default:
        return false;
    }
    int step_file = (to.file > from.file) - (to.file < from.file);
    int step_rank = (to.rank > from.rank) - (to.rank < from.rank);
    int file = from.file + step_file;
    int rank = from.rank + step_rank;
    while (file != to.file || rank != to.rank) {
        if (n->men[file][rank] != '.' && (file != lifted.file || rank != lifted.rank))
            return false;
        file += step_file;
        rank += step_rank;
    }
    return true;
}

static inline int naive_count(const Naive *n, char side, NaiveSquare to, NaiveSquare lifted)
{
    int count = 0;
    for (int file = 1; file <= 8; file++)
        for (int rank = 1; rank <= 8; rank++) {
            if (!naive_belongs(n->men[file][rank], side) || (file == lifted.file && rank == lifted.rank))
                continue;
            if (naive_attacks(n, (NaiveSquare){file, rank}, to, lifted))
                count++;
        }
    return count;
}

/* Section 3, in its order. Writes the lever and returns what the plan needs of it. */
static inline NaiveLever naive_lever(Naive *n, char side, NaiveSquare square, NaiveSquare target)
{
    NaiveLever lever = {square, "null", -1, -1, -1, false};
    if (square.file < 1 || square.file > 8) {
        lever.square.file = 0;
        naive_say(n, " no lever\n");
        return lever;
    }
    int forward = naive_forward(side);
    char own = naive_pawn_of(side);
    char foe = naive_pawn_of(naive_enemy(side));
    NaiveSquare nowhere = {0, 0};
    int steps = -1, supporters = -1, attackers = -1;
    NaiveSquare pawn = nowhere;
    NaiveSquare blockers[8];
    int blocker_count = 0;

    for (int rank = square.rank - forward; rank >= 2 && rank <= 7 && pawn.file == 0; rank -= forward)
        if (n->men[square.file][rank] == own)
            pawn = (NaiveSquare){square.file, rank};
    if (n->men[square.file][square.rank] == own) {
        pawn = square;
        lever.status = "played";
        lever.available = true;
        steps = 0;
        lever.tempi = 0;
        supporters = naive_count(n, side, square, nowhere);
        attackers = naive_count(n, naive_enemy(side), square, nowhere);
    } else if (pawn.file == 0) {
        lever.status = "gone";
    } else {
        bool barred = false;
        for (int rank = pawn.rank + forward; rank != square.rank + forward; rank += forward)
            if (n->men[square.file][rank] == foe)
                barred = true;
        if (barred) {
            lever.status = "barred";
        } else {
            int ranks = naive_distance(pawn.rank, square.rank);
            bool home = pawn.rank == (side == 'w' ? 2 : 7);
            steps = home && ranks >= 2 ? ranks - 1 : ranks;
            for (int rank = pawn.rank + forward; rank != square.rank + forward; rank += forward)
                if (n->men[square.file][rank] != '.')
                    blockers[blocker_count++] = (NaiveSquare){square.file, rank};
            supporters = naive_count(n, side, square, pawn);
            attackers = naive_count(n, naive_enemy(side), square, pawn);
            int lack = attackers > supporters ? attackers - supporters : 0;
            lever.tempi = steps + blocker_count + lack;
            lever.available = true;
            if (blocker_count > 0)
                lever.status = "obstructed";
            else if (lack > 0)
                lever.status = "unsupported";
            else if (steps == 1)
                lever.status = "ready";
            else
                lever.status = "open";
        }
    }

    bool defended = false;
    for (int file = target.file - 1; file <= target.file + 1; file += 2)
        if (naive_man(n, file, target.rank + forward) == foe)
            defended = true;

    naive_say_square(n, square);
    naive_say_square(n, target);
    naive_say(n, " base %d %s", !defended, lever.status);
    naive_say_square(n, pawn);
    naive_say(n, " steps %d blockers", steps);
    for (int i = 0; i < blocker_count; i++)
        naive_say_square(n, blockers[i]);
    naive_say(n, " support %d %d tempi %d\n", supporters, attackers, lever.tempi);
    lever.supporters = supporters;
    lever.attackers = attackers;
    return lever;
}

static inline const char *naive_grade(int file)
{
    switch (file) {
    case 4:
        return "firm";
    case 3:
    case 5:
        return "likely";
    case 2:
    case 6:
        return "doubtful";
    default:
        return "void";
    }
}

static inline int naive_grade_order(int file)
{
    const char *grade = naive_grade(file);
    return !strcmp(grade, "firm") ? 0 : !strcmp(grade, "likely") ? 1 : !strcmp(grade, "doubtful") ? 2 : 3;
}

/* Section 2 for one pair and one side. */
static inline void naive_pair_side(Naive *n, NaivePair *pair, int index)
{
    char side = index == 0 ? 'w' : 'b';
    int forward = naive_forward(side);
    int up = index == 0 ? 0 : 1; /* the black pawns stand one rank higher than the white ones */
    NaiveSquare left = {pair->file, pair->rank + up};
    NaiveSquare right = {pair->file + 1, pair->other_rank + up};
    bool left_leads = side == 'w' ? left.rank > right.rank : left.rank < right.rank;
    NaiveSquare head = left_leads ? left : right;
    NaiveSquare base = left_leads ? right : left;
    int direction = head.file - base.file;
    int toward = head.file + direction;
    pair->direction[index] = direction;
    pair->toward[index] = toward;
    pair->headrank[index] = head.rank;
    naive_say(n, "%c head", side);
    naive_say_square(n, head);
    naive_say(n, " toward %d\n", toward >= 1 && toward <= 8 ? toward : 0);
    pair->base[index] =
        naive_lever(n, side, (NaiveSquare){toward, head.rank}, (NaiveSquare){head.file, head.rank + forward});
    naive_lever(n, side, (NaiveSquare){base.file - direction, base.rank},
                (NaiveSquare){base.file, base.rank + forward});
}

/* Section 4: whether pair a comes before pair b for a side; `a` stands later in the list of pairs. */
static inline bool naive_before(const NaivePair *a, const NaivePair *b, int index)
{
    int grades = naive_grade_order(a->file) - naive_grade_order(b->file);
    if (grades != 0)
        return grades < 0;
    bool a_can = a->base[index].available;
    bool b_can = b->base[index].available;
    if (a_can && !b_can)
        return true;
    if (b_can && !a_can)
        return false;
    return a_can && b_can && a->base[index].tempi < b->base[index].tempi;
}

static inline int naive_room(const Naive *n, char side, int toward, int direction, int headrank)
{
    int squares = 0;
    for (int file = toward; file >= 1 && file <= 8; file += direction)
        for (int rank = 1; rank <= 8; rank++) {
            bool within = side == 'w' ? rank >= 2 && rank <= headrank : rank <= 7 && rank >= headrank;
            char foe = naive_pawn_of(naive_enemy(side));
            bool attacked = naive_man(n, file - 1, rank + naive_forward(side)) == foe ||
                            naive_man(n, file + 1, rank + naive_forward(side)) == foe;
            if (within && !attacked)
                squares++;
        }
    return squares;
}

static inline int naive_wing_pieces(const Naive *n, char side, int toward, int direction)
{
    int pieces = 0;
    for (int file = toward; file >= 1 && file <= 8; file += direction)
        for (int rank = 1; rank <= 8; rank++) {
            char man = n->men[file][rank];
            if (naive_belongs(man, side) && strchr("NBRQnbrq", man) != NULL)
                pieces++;
        }
    return pieces;
}

/* Writes a side's plan; returns the tempi of its principal base lever, -1 for none. */
static inline int naive_plan(Naive *n, const NaivePair *pairs, int pair_count, int index)
{
    char side = index == 0 ? 'w' : 'b';
    const NaivePair *best = NULL;
    for (int i = 0; i < pair_count; i++)
        if (naive_grade_order(pairs[i].file) != 3 && (best == NULL || naive_before(&pairs[i], best, index)))
            best = &pairs[i];
    if (best == NULL) {
        naive_say(n, "plan none\n");
        return -1;
    }
    const char *verdict = naive_grade_order(best->file) == 2 ? "weak"
                          : best->base[index].available      ? "applies"
                                                             : "misleading";
    int toward = best->toward[index];
    const char *region = toward <= 3 ? "queenside" : toward <= 5 ? "centre" : "kingside";
    int squares = naive_room(n, side, toward, best->direction[index], best->headrank[index]);
    int pieces = naive_wing_pieces(n, side, toward, best->direction[index]);
    naive_say(n, "plan %s pair %d %s", verdict, (int)(best - pairs), region);
    naive_say_square(n, best->base[index].square);
    naive_say(n, " room %d pieces %d\n", squares, pieces);
    return best->base[index].tempi;
}

/* Whether a side has linked pawns on d and e that point in a direction (+1 towards h). */
static inline bool naive_centre_points(const Naive *n, char side, int direction)
{
    int forward = naive_forward(side);
    int base_file = direction > 0 ? 4 : 5;
    for (int rank = 1; rank <= 8; rank++)
        if (naive_man(n, base_file, rank) == naive_pawn_of(side) &&
            naive_man(n, base_file + direction, rank + forward) == naive_pawn_of(side))
            return true;
    return false;
}

static inline void naive_near_misses(Naive *n, const NaivePair *pairs, int pair_count)
{
    bool firm = false, rim = false, d_ram = false, e_ram = false;
    for (int i = 0; i < pair_count; i++) {
        firm = firm || pairs[i].file == 4;
        rim = rim || pairs[i].file == 1 || pairs[i].file == 7;
    }
    for (int rank = 2; rank <= 6; rank++) {
        d_ram = d_ram || naive_is_ram(n, 4, rank);
        e_ram = e_ram || naive_is_ram(n, 5, rank);
    }
    bool white_h = naive_centre_points(n, 'w', 1), white_a = naive_centre_points(n, 'w', -1);
    bool black_h = naive_centre_points(n, 'b', 1), black_a = naive_centre_points(n, 'b', -1);
    naive_say(n, "misses");
    if (!firm) {
        if (d_ram && e_ram)
            naive_say(n, " not_linked");
        else if (d_ram != e_ram && ((white_h && black_h) || (white_a && black_a)))
            naive_say(n, " same_way");
        else if (d_ram != e_ram && (white_h || white_a || black_h || black_a))
            naive_say(n, " not_rammed");
    }
    naive_say(n, "%s\n", rim ? " rim" : "");
}

/* One push, if it is a break. */
static inline void naive_break(Naive *n, const NaivePair *pairs, int pair_count, char side, NaiveSquare from,
                               NaiveSquare to)
{
    int forward = naive_forward(side);
    int index = side == 'w' ? 0 : 1;
    char foe = naive_pawn_of(naive_enemy(side));
    NaiveSquare targets[2];
    int target_count = 0;
    for (int file = to.file - 1; file <= to.file + 1; file += 2)
        if (naive_man(n, file, to.rank + forward) == foe)
            targets[target_count++] = (NaiveSquare){file, to.rank + forward};
    if (target_count == 0)
        return;
    bool base = false, head = false;
    for (int i = 0; i < pair_count; i++) {
        const NaivePair *pair = &pairs[i];
        int direction = pair->direction[index];
        int head_file = pair->toward[index] - direction;
        int base_rank = pair->headrank[index] - forward;
        if (to.file == pair->toward[index] && to.rank == pair->headrank[index])
            for (int t = 0; t < target_count; t++)
                if (targets[t].file == head_file)
                    base = true;
        if (to.file == head_file - 2 * direction && to.rank == base_rank)
            for (int t = 0; t < target_count; t++)
                if (targets[t].file == head_file - direction)
                    head = true;
    }
    naive_say(n, "break");
    naive_say_square(n, from);
    naive_say_square(n, to);
    naive_say(n, " on");
    for (int t = 0; t < target_count; t++)
        naive_say_square(n, targets[t]);
    naive_say(n, " %s support %d %d\n",
              base   ? "base"
              : head ? "head"
                     : "other",
              naive_count(n, side, to, from), naive_count(n, naive_enemy(side), to, from));
}

static inline void naive_breaks(Naive *n, const NaivePair *pairs, int pair_count, char side)
{
    int forward = naive_forward(side);
    naive_say(n, "breaks %c\n", side);
    for (int rank = 1; rank <= 8; rank++)
        for (int file = 1; file <= 8; file++) {
            if (n->men[file][rank] != naive_pawn_of(side) || naive_man(n, file, rank + forward) != '.')
                continue;
            if (rank + forward == 1 || rank + forward == 8)
                continue;
            NaiveSquare from = {file, rank};
            naive_break(n, pairs, pair_count, side, from, (NaiveSquare){file, rank + forward});
            if (rank == (side == 'w' ? 2 : 7) && naive_man(n, file, rank + 2 * forward) == '.')
                naive_break(n, pairs, pair_count, side, from, (NaiveSquare){file, rank + 2 * forward});
        }
}

static inline Naive naive_board(const char *diagram, char to_move, char *text, size_t room)
{
    Naive n = {.to_move = to_move, .text = text, .room = room};
    for (int i = 0; i < 64; i++)
        n.men[i % 8 + 1][8 - i / 8] = diagram[i];
    return n;
}

/* Writes everything about the board of a diagram (64 letters, a8 first) into a text. */
static inline void naive_analyse(const char *diagram, char to_move, char *text, size_t room)
{
    Naive n = naive_board(diagram, to_move, text, room);

    NaivePair pairs[64];
    int pair_count = 0;
    for (int file = 1; file <= 7; file++)
        for (int rank = 2; rank <= 6; rank++)
            for (int other = 2; other <= 6; other++)
                if (naive_is_ram(&n, file, rank) && naive_is_ram(&n, file + 1, other) &&
                    naive_distance(rank, other) == 1)
                    pairs[pair_count++] = (NaivePair){.file = file, .rank = rank, .other_rank = other};

    for (int i = 0; i < pair_count; i++) {
        naive_say(&n, "pair %c%c %s\n", 'a' + pairs[i].file - 1, 'a' + pairs[i].file,
                  naive_grade(pairs[i].file));
        naive_pair_side(&n, &pairs[i], 0);
        naive_pair_side(&n, &pairs[i], 1);
    }
    int white = naive_plan(&n, pairs, pair_count, 0);
    int black = naive_plan(&n, pairs, pair_count, 1);
    char first = '-';
    if (white >= 0 && black >= 0)
        first = white < black ? 'w' : black < white ? 'b' : to_move;
    else if (white >= 0 || black >= 0)
        first = white >= 0 ? 'w' : 'b';
    naive_say(&n, "first %c\n", first);
    naive_near_misses(&n, pairs, pair_count);
    naive_breaks(&n, pairs, pair_count, 'w');
    naive_breaks(&n, pairs, pair_count, 'b');
}

#endif
