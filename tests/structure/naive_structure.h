/* The definitions of structure/structure.h, sections 1 to 7, once more: read from the text square by square,
 * over a plain board of letters, with no thought of speed and nothing taken from structure/. It writes the
 * line that `explain --json` should print for a FEN, to be compared letter by letter with what it prints. */
#ifndef PAWNVANE_TESTS_NAIVE_STRUCTURE_H
#define PAWNVANE_TESTS_NAIVE_STRUCTURE_H

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NAIVE_NONE = -1, NAIVE_CHAINS_MAX = 64 };

/* Files and ranks count from 1; file 0: no square. */
typedef struct NaiveSquare {
    int file, rank;
} NaiveSquare;

/* A locked chain, from its lowest file to its highest. */
typedef struct NaiveChain {
    int first, last; /* files */
    int rank;        /* of the white pawn on the first file */
    int slope;       /* the white pawns' ranks from file to file: +1 rise, -1 fall */
} NaiveChain;

/* A side is 'w' or 'b'. */
typedef struct Naive {
    char men[9][9]; /* [file][rank]: PNBRQK, pnbrqk, '.' for an empty square */
    char to_move;
    NaiveSquare en_passant;
    NaiveChain chains[NAIVE_CHAINS_MAX]; /* in the order of section 7 */
    int chain_count;
    char *text; /* where to write next, and the room left there */
    size_t room;
} Naive;

/* A chain as one side sees it: section 2. */
typedef struct NaiveView {
    NaiveSquare head, base;
    int direction, toward; /* toward may lie off the board: 0 or 9 */
    NaiveSquare base_lever, base_target;
    NaiveSquare head_lever, head_target; /* the levers' files may lie off the board */
} NaiveView;

typedef struct NaiveLever {
    const char *status; /* null: there is no such lever */
    NaiveSquare square, target;
    bool target_is_base;
    NaiveSquare pawn;
    NaiveSquare blockers[8];
    int blocker_count;
    int steps, supporters, attackers, tempi; /* or NAIVE_NONE */
} NaiveLever;

/* The board */

static inline char naive_man(const Naive *n, int file, int rank)
{
    return file < 1 || file > 8 || rank < 1 || rank > 8 ? '#' : n->men[file][rank];
}

static inline bool naive_same(NaiveSquare a, NaiveSquare b)
{
    return a.file == b.file && a.rank == b.rank;
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

static inline int naive_second_rank(char side)
{
    return side == 'w' ? 2 : 7;
}

static inline bool naive_belongs(char man, char side)
{
    return man != '\0' && strchr(side == 'w' ? "PNBRQK" : "pnbrqk", man) != NULL;
}

static inline int naive_distance(int a, int b)
{
    return a > b ? a - b : b - a;
}

/* Reads the first four fields of a FEN. */
static inline void naive_read(Naive *n, const char *fen)
{
    int file = 1, rank = 8;
    memset(n->men, '.', sizeof n->men);
    for (; *fen != ' '; fen++) {
        if (*fen == '/') {
            file = 1;
            rank--;
        } else if (*fen >= '1' && *fen <= '8') {
            file += *fen - '0';
        } else {
            n->men[file++][rank] = *fen;
        }
    }
    n->to_move = fen[1];
    const char *castling = fen + 3;
    const char *en_passant = strchr(castling, ' ') + 1;
    n->en_passant = *en_passant == '-' ? (NaiveSquare){0, 0}
                                       : (NaiveSquare){en_passant[0] - 'a' + 1, en_passant[1] - '0'};
}

/* Whether the man on one square attacks another square, with one more square thought empty. */
static inline bool naive_attacks(const Naive *n, NaiveSquare from, NaiveSquare to, NaiveSquare lifted)
{
    int files = naive_distance(from.file, to.file);
    int ranks = naive_distance(from.rank, to.rank);
    bool straight = (files == 0) != (ranks == 0);
    bool diagonal = files == ranks && files > 0;
    switch (n->men[from.file][from.rank]) {
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
    NaiveSquare between = {from.file + step_file, from.rank + step_rank};
    while (!naive_same(between, to)) {
        if (n->men[between.file][between.rank] != '.' && !naive_same(between, lifted))
            return false;
        between.file += step_file;
        between.rank += step_rank;
    }
    return true;
}

/* How many pieces and pawns of a side, the king too, attack a square with the man on `lifted`
 * off the board. */
static inline int naive_count(const Naive *n, char side, NaiveSquare to, NaiveSquare lifted)
{
    int count = 0;
    for (int file = 1; file <= 8; file++)
        for (int rank = 1; rank <= 8; rank++) {
            NaiveSquare from = {file, rank};
            if (naive_belongs(n->men[file][rank], side) && !naive_same(from, lifted) &&
                naive_attacks(n, from, to, lifted))
                count++;
        }
    return count;
}

/* 1. Ram, link, locked pair */

/* Whether the white pawn on this square is the white half of a ram. */
static inline bool naive_is_ram(const Naive *n, int file, int rank)
{
    return naive_man(n, file, rank) == 'P' && naive_man(n, file, rank + 1) == 'p';
}

/* Whether the ram with its white pawn here and a ram on the next file, one rank higher (slope +1) or lower
 * (-1), are a locked pair. */
static inline bool naive_is_locked_pair(const Naive *n, int file, int rank, int slope)
{
    return naive_is_ram(n, file, rank) && naive_is_ram(n, file + 1, rank + slope);
}

/* From a ram, and with a slope, a run can go on to one square only: so however many rams stand on a file, a
 * run never branches, and it is found from its first pair. The loops go in the order of section 7. */
static inline void naive_find_chains(Naive *n)
{
    n->chain_count = 0;
    for (int file = 1; file <= 7; file++)
        for (int rank = 1; rank <= 8; rank++)
            for (int slope = -1; slope <= 1; slope += 2) {
                if (!naive_is_locked_pair(n, file, rank, slope) ||
                    naive_is_locked_pair(n, file - 1, rank - slope, slope))
                    continue;
                int last = file + 1;
                while (naive_is_locked_pair(n, last, rank + slope * (last - file), slope))
                    last++;
                n->chains[n->chain_count++] = (NaiveChain){file, last, rank, slope};
            }
}

/* A chain's pawn on one of its files. Black's stand a rank higher than White's. */
static inline NaiveSquare naive_chain_pawn(const NaiveChain *chain, char side, int file)
{
    int white_rank = chain->rank + chain->slope * (file - chain->first);
    return (NaiveSquare){file, side == 'w' ? white_rank : white_rank + 1};
}

static inline bool naive_is_in_a_chain(const Naive *n, NaiveSquare pawn)
{
    for (int i = 0; i < n->chain_count; i++)
        for (int file = n->chains[i].first; file <= n->chains[i].last; file++)
            if (naive_same(pawn, naive_chain_pawn(&n->chains[i], 'w', file)) ||
                naive_same(pawn, naive_chain_pawn(&n->chains[i], 'b', file)))
                return true;
    return false;
}

static inline bool naive_holds(const NaiveChain *chain, int file, int next_file)
{
    return chain->first <= file && next_file <= chain->last;
}

/* From firm to void. */
static const char *const naive_grades[] = {"firm", "likely", "doubtful", "void"};

/* The grade of the pair on a file and the next, as a place in naive_grades. */
static inline int naive_grade_order(int file)
{
    static const int order[] = {['a'] = 3, ['b'] = 2, ['c'] = 1, ['d'] = 0, ['e'] = 1, ['f'] = 2, ['g'] = 3};
    return order['a' + file - 1];
}

/* The firmest of the grades of a chain's pairs. */
static inline int naive_grade(const NaiveChain *chain)
{
    int firmest = 3;
    for (int file = chain->first; file < chain->last; file++)
        if (naive_grade_order(file) < firmest)
            firmest = naive_grade_order(file);
    return firmest;
}

/* 2. Direction and the two levers */

static inline NaiveView naive_view(const NaiveChain *chain, char side)
{
    NaiveView view;
    NaiveSquare left = naive_chain_pawn(chain, side, chain->first);
    NaiveSquare right = naive_chain_pawn(chain, side, chain->last);
    bool left_leads = side == 'w' ? left.rank > right.rank : left.rank < right.rank;
    view.head = left_leads ? left : right;
    view.base = left_leads ? right : left;
    view.direction = view.head.file > view.base.file ? 1 : -1;
    view.toward = view.head.file + view.direction;
    view.base_lever = (NaiveSquare){view.toward, view.head.rank};
    view.base_target = (NaiveSquare){view.head.file, view.head.rank + naive_forward(side)};
    view.head_lever = (NaiveSquare){view.base.file - view.direction, view.base.rank};
    view.head_target = (NaiveSquare){view.base.file, view.base.rank + naive_forward(side)};
    return view;
}

static inline bool naive_file_is_on_board(int file)
{
    return file >= 1 && file <= 8;
}

static inline const char *naive_region(int file)
{
    return file <= 3 ? "queenside" : file <= 5 ? "centre" : "kingside";
}

/* Whether a pawn of a side attacks a square, from either of the files beside it. */
static inline bool naive_pawn_attacks(const Naive *n, char side, NaiveSquare square)
{
    int from_rank = square.rank - naive_forward(side);
    return naive_man(n, square.file - 1, from_rank) == naive_pawn_of(side) ||
           naive_man(n, square.file + 1, from_rank) == naive_pawn_of(side);
}

/* 3. The state of a lever */

static inline bool naive_is_live(const NaiveLever *lever)
{
    return lever->status != NULL &&
           (!strcmp(lever->status, "played") || !strcmp(lever->status, "ready") ||
            !strcmp(lever->status, "open") || !strcmp(lever->status, "unsupported") ||
            !strcmp(lever->status, "obstructed"));
}

static inline bool naive_has_done_its_work(const NaiveLever *lever)
{
    return lever->status != NULL && (!strcmp(lever->status, "beyond") || !strcmp(lever->status, "cleared"));
}

/* The nearest pawn of a side on a square's file, seen from the square upwards (+1) or downwards (-1). */
static inline NaiveSquare naive_nearest_pawn(const Naive *n, char side, NaiveSquare square, int step)
{
    for (int rank = square.rank + step; rank >= 1 && rank <= 8; rank += step)
        if (n->men[square.file][rank] == naive_pawn_of(side))
            return (NaiveSquare){square.file, rank};
    return (NaiveSquare){0, 0};
}

static inline bool naive_file_has_a_pawn(const Naive *n, int file)
{
    for (int rank = 1; rank <= 8; rank++)
        if (n->men[file][rank] == 'P' || n->men[file][rank] == 'p')
            return true;
    return false;
}

static inline NaiveLever naive_lever(const Naive *n, char side, NaiveSquare square, NaiveSquare target)
{
    NaiveLever lever = {.square = square,
                        .target = target,
                        .steps = NAIVE_NONE,
                        .supporters = NAIVE_NONE,
                        .attackers = NAIVE_NONE,
                        .tempi = NAIVE_NONE};
    if (!naive_file_is_on_board(square.file))
        return lever;
    lever.target_is_base = !naive_pawn_attacks(n, naive_enemy(side), target);

    const int forward = naive_forward(side);
    const NaiveSquare nowhere = {0, 0};

    /* 3.1 */
    if (n->men[square.file][square.rank] == naive_pawn_of(side)) {
        lever.status = "played";
        lever.pawn = square;
        lever.steps = 0;
        lever.tempi = 0;
        lever.supporters = naive_count(n, side, square, nowhere);
        lever.attackers = naive_count(n, naive_enemy(side), square, nowhere);
        return lever;
    }

    /* 3.2 */
    lever.pawn = naive_nearest_pawn(n, side, square, -forward);
    if (lever.pawn.file == 0) {
        if (naive_nearest_pawn(n, side, square, forward).file != 0)
            lever.status = "beyond";
        else if (!naive_file_has_a_pawn(n, square.file))
            lever.status = "cleared";
        else
            lever.status = "gone";
        return lever;
    }

    /* 3.3 */
    for (int rank = lever.pawn.rank + forward; rank != square.rank + forward; rank += forward)
        if (n->men[square.file][rank] == naive_pawn_of(naive_enemy(side))) {
            lever.status = "barred";
            return lever;
        }

    /* 3.4 */
    int ranks = naive_distance(lever.pawn.rank, square.rank);
    lever.steps = lever.pawn.rank == naive_second_rank(side) && ranks >= 2 ? ranks - 1 : ranks;
    for (int rank = lever.pawn.rank + forward; rank != square.rank + forward; rank += forward)
        if (n->men[square.file][rank] != '.')
            lever.blockers[lever.blocker_count++] = (NaiveSquare){square.file, rank};
    lever.supporters = naive_count(n, side, square, lever.pawn);
    lever.attackers = naive_count(n, naive_enemy(side), square, lever.pawn);
    int lack = lever.attackers > lever.supporters ? lever.attackers - lever.supporters : 0;
    lever.tempi = lever.steps + lever.blocker_count + lack;
    if (lever.blocker_count > 0)
        lever.status = "obstructed";
    else if (lack > 0)
        lever.status = "unsupported";
    else if (lever.steps == 1)
        lever.status = "ready";
    else
        lever.status = "open";
    return lever;
}

static inline NaiveLever naive_base_lever(const Naive *n, const NaiveChain *chain, char side)
{
    NaiveView view = naive_view(chain, side);
    return naive_lever(n, side, view.base_lever, view.base_target);
}

static inline NaiveLever naive_head_lever(const Naive *n, const NaiveChain *chain, char side)
{
    NaiveView view = naive_view(chain, side);
    return naive_lever(n, side, view.head_lever, view.head_target);
}

/* Writing */

__attribute__((format(printf, 2, 3))) static inline void naive_say(Naive *n, const char *format, ...)
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

static inline void naive_say_word(Naive *n, const char *word)
{
    if (word == NULL)
        naive_say(n, "null");
    else
        naive_say(n, "\"%s\"", word);
}

static inline void naive_say_number(Naive *n, int number)
{
    if (number == NAIVE_NONE)
        naive_say(n, "null");
    else
        naive_say(n, "%d", number);
}

static inline void naive_say_square(Naive *n, NaiveSquare square)
{
    if (square.file == 0)
        naive_say(n, "null");
    else
        naive_say(n, "\"%c%d\"", 'a' + square.file - 1, square.rank);
}

static inline void naive_say_squares(Naive *n, const NaiveSquare *squares, int count)
{
    naive_say(n, "[");
    for (int i = 0; i < count; i++) {
        naive_say(n, "%s", i > 0 ? "," : "");
        naive_say_square(n, squares[i]);
    }
    naive_say(n, "]");
}

static inline void naive_say_files(Naive *n, const NaiveChain *chain)
{
    naive_say(n, "\"");
    for (int file = chain->first; file <= chain->last; file++)
        naive_say(n, "%c", 'a' + file - 1);
    naive_say(n, "\"");
}

/* A LEVER of section 7. */
static inline void naive_say_lever(Naive *n, const NaiveLever *lever)
{
    if (lever->status == NULL) {
        naive_say(n, "null");
        return;
    }
    naive_say(n, "{\"square\":");
    naive_say_square(n, lever->square);
    naive_say(n, ",\"target\":");
    naive_say_square(n, lever->target);
    naive_say(n,
              ",\"target_is_base\":%s,\"status\":\"%s\",\"pawn\":", lever->target_is_base ? "true" : "false",
              lever->status);
    naive_say_square(n, lever->pawn);
    naive_say(n, ",\"steps\":");
    naive_say_number(n, lever->steps);
    naive_say(n, ",\"blockers\":");
    naive_say_squares(n, lever->blockers, lever->blocker_count);
    naive_say(n, ",\"supporters\":");
    naive_say_number(n, lever->supporters);
    naive_say(n, ",\"attackers\":");
    naive_say_number(n, lever->attackers);
    naive_say(n, ",\"tempi\":");
    naive_say_number(n, lever->tempi);
    naive_say(n, "}");
}

/* A SIDE of section 7. */
static inline void naive_say_side(Naive *n, const NaiveChain *chain, char side)
{
    NaiveView view = naive_view(chain, side);
    NaiveLever base_lever = naive_base_lever(n, chain, side);
    NaiveLever head_lever = naive_head_lever(n, chain, side);
    if (naive_file_is_on_board(view.toward))
        naive_say(n, "{\"toward\":\"%c\"", 'a' + view.toward - 1);
    else
        naive_say(n, "{\"toward\":null");
    naive_say(n, ",\"base_lever\":");
    naive_say_lever(n, &base_lever);
    naive_say(n, ",\"head_lever\":");
    naive_say_lever(n, &head_lever);
    naive_say(n, "}");
}

static inline void naive_say_chain(Naive *n, const NaiveChain *chain)
{
    naive_say(n, "{\"files\":");
    naive_say_files(n, chain);
    naive_say(n, ",\"grade\":\"%s\",\"white\":", naive_grades[naive_grade(chain)]);
    naive_say_side(n, chain, 'w');
    naive_say(n, ",\"black\":");
    naive_say_side(n, chain, 'b');
    naive_say(n, "}");
}

/* 4. The plan of a side */

/* Live base levers before those that are beyond or cleared, before the others. */
static inline int naive_lever_class(const NaiveLever *base_lever)
{
    return naive_is_live(base_lever) ? 0 : naive_has_done_its_work(base_lever) ? 1 : 2;
}

/* Whether chain a, which stands later in the list, comes before chain b for a side. */
static inline bool naive_comes_before(const Naive *n, const NaiveChain *a, const NaiveChain *b, char side)
{
    NaiveLever lever_a = naive_base_lever(n, a, side);
    NaiveLever lever_b = naive_base_lever(n, b, side);
    if (naive_grade(a) != naive_grade(b))
        return naive_grade(a) < naive_grade(b);
    if (naive_lever_class(&lever_a) != naive_lever_class(&lever_b))
        return naive_lever_class(&lever_a) < naive_lever_class(&lever_b);
    return naive_is_live(&lever_a) && lever_a.tempi < lever_b.tempi;
}

/* Null if there is none. */
static inline const NaiveChain *naive_principal(const Naive *n, char side)
{
    const NaiveChain *first = NULL;
    for (int i = 0; i < n->chain_count; i++)
        if (strcmp(naive_grades[naive_grade(&n->chains[i])], "void") != 0 &&
            (first == NULL || naive_comes_before(n, &n->chains[i], first, side)))
            first = &n->chains[i];
    return first;
}

static inline const char *naive_verdict(const NaiveChain *chain, const NaiveLever *base_lever)
{
    if (strcmp(naive_grades[naive_grade(chain)], "doubtful") == 0)
        return "weak";
    return naive_is_live(base_lever)             ? "applies"
           : naive_has_done_its_work(base_lever) ? "fulfilled"
                                                 : "misleading";
}

static inline int naive_room(const Naive *n, char side, int toward, int direction, int head_rank)
{
    int squares = 0;
    for (int file = toward; naive_file_is_on_board(file); file += direction)
        for (int rank = naive_second_rank(side); rank != head_rank + naive_forward(side);
             rank += naive_forward(side))
            squares += !naive_pawn_attacks(n, naive_enemy(side), (NaiveSquare){file, rank});
    return squares;
}

static inline int naive_wing_pieces(const Naive *n, char side, int toward, int direction)
{
    int pieces = 0;
    for (int file = toward; naive_file_is_on_board(file); file += direction)
        for (int rank = 1; rank <= 8; rank++)
            pieces +=
                naive_belongs(n->men[file][rank], side) && strchr("NBRQnbrq", n->men[file][rank]) != NULL;
    return pieces;
}

/* A PLAN of section 7. */
static inline void naive_say_plan(Naive *n, char side)
{
    const NaiveChain *chain = naive_principal(n, side);
    if (chain == NULL) {
        naive_say(n, "{\"verdict\":\"none\",\"files\":null,\"region\":null,\"lever\":null,\"status\":null,"
                     "\"tempi\":null,\"room\":null,\"pieces\":null}");
        return;
    }
    NaiveView view = naive_view(chain, side);
    NaiveLever lever = naive_base_lever(n, chain, side);
    bool on_board = naive_file_is_on_board(view.toward);
    naive_say(n, "{\"verdict\":\"%s\",\"files\":", naive_verdict(chain, &lever));
    naive_say_files(n, chain);
    naive_say(n, ",\"region\":\"%s\",\"lever\":", naive_region(on_board ? view.toward : view.head.file));
    naive_say_square(n, on_board ? lever.square : (NaiveSquare){0, 0});
    naive_say(n, ",\"status\":");
    naive_say_word(n, lever.status);
    naive_say(n, ",\"tempi\":");
    naive_say_number(n, lever.tempi);
    naive_say(n, ",\"room\":%d,\"pieces\":%d}",
              naive_room(n, side, view.toward, view.direction, view.head.rank),
              naive_wing_pieces(n, side, view.toward, view.direction));
}

static inline int naive_principal_tempi(const Naive *n, char side)
{
    const NaiveChain *chain = naive_principal(n, side);
    return chain == NULL ? NAIVE_NONE : naive_base_lever(n, chain, side).tempi;
}

static inline const char *naive_first_to_break(const Naive *n)
{
    int white = naive_principal_tempi(n, 'w');
    int black = naive_principal_tempi(n, 'b');
    if (white == NAIVE_NONE && black == NAIVE_NONE)
        return NULL;
    if (white == NAIVE_NONE || black == NAIVE_NONE)
        return black == NAIVE_NONE ? "white" : "black";
    if (white == black)
        return n->to_move == 'w' ? "white" : "black";
    return white < black ? "white" : "black";
}

/* 5. Where the rule is usually misread (near misses) */

static inline bool naive_file_has_a_ram(const Naive *n, int file)
{
    for (int rank = 1; rank <= 8; rank++)
        if (naive_is_ram(n, file, rank))
            return true;
    return false;
}

static inline bool naive_has_a_pawn(const Naive *n, char side, int file)
{
    for (int rank = 1; rank <= 8; rank++)
        if (n->men[file][rank] == naive_pawn_of(side))
            return true;
    return false;
}

/* Whether a side has linked pawns on d and e of which the one on the file `head` (4: d, 5: e) is ahead: they
 * point to the wing beyond it. */
static inline bool naive_centre_points(const Naive *n, char side, int head)
{
    int base = head == 5 ? 4 : 5;
    for (int rank = 1; rank <= 8; rank++)
        if (n->men[head][rank] == naive_pawn_of(side) &&
            naive_man(n, base, rank - naive_forward(side)) == naive_pawn_of(side))
            return true;
    return false;
}

static inline void naive_say_near_misses(Naive *n)
{
    bool centre_is_locked = false, rim = false;
    for (int i = 0; i < n->chain_count; i++) {
        centre_is_locked = centre_is_locked || naive_holds(&n->chains[i], 4, 5);
        rim = rim || naive_holds(&n->chains[i], 1, 2) || naive_holds(&n->chains[i], 7, 8);
    }
    bool white_linked = naive_centre_points(n, 'w', 4) || naive_centre_points(n, 'w', 5);
    bool black_linked = naive_centre_points(n, 'b', 4) || naive_centre_points(n, 'b', 5);
    bool same_way = (naive_centre_points(n, 'w', 4) && naive_centre_points(n, 'b', 4)) ||
                    (naive_centre_points(n, 'w', 5) && naive_centre_points(n, 'b', 5));
    bool all_four = naive_has_a_pawn(n, 'w', 4) && naive_has_a_pawn(n, 'w', 5) &&
                    naive_has_a_pawn(n, 'b', 4) && naive_has_a_pawn(n, 'b', 5);
    int rammed_files = naive_file_has_a_ram(n, 4) + naive_file_has_a_ram(n, 5);

    const char *centre = NULL;
    if (!centre_is_locked) {
        if (rammed_files == 2)
            centre = "not_linked";
        else if (rammed_files == 1 && same_way)
            centre = "same_way";
        else if (rammed_files == 1 && all_four && (white_linked || black_linked))
            centre = "not_rammed";
    }
    naive_say(n, "[");
    if (centre != NULL)
        naive_say_word(n, centre);
    if (rim)
        naive_say(n, "%s\"rim\"", centre != NULL ? "," : "");
    naive_say(n, "]");
}

/* 6. Breaks that are open now */

static inline const char *naive_break_kind(const Naive *n, char side, NaiveSquare to,
                                           const NaiveSquare *targets, int target_count)
{
    bool base = false, head = false;
    for (int i = 0; i < n->chain_count; i++) {
        NaiveView view = naive_view(&n->chains[i], side);
        for (int t = 0; t < target_count; t++) {
            base = base || (naive_same(to, view.base_lever) && naive_same(targets[t], view.base_target));
            head = head || (naive_same(to, view.head_lever) && naive_same(targets[t], view.head_target));
        }
    }
    return base ? "base" : head ? "head" : "other";
}

/* Writes one push as a BREAK of section 7 if it is one; `separator` comes before it and is then a comma. */
static inline void naive_say_break(Naive *n, char side, NaiveSquare from, NaiveSquare to,
                                   const char **separator)
{
    NaiveSquare targets[2];
    int target_count = 0;
    for (int file = to.file - 1; file <= to.file + 1; file += 2)
        if (naive_man(n, file, to.rank + naive_forward(side)) == naive_pawn_of(naive_enemy(side)))
            targets[target_count++] = (NaiveSquare){file, to.rank + naive_forward(side)};
    if (target_count == 0)
        return;
    naive_say(n, "%s{\"from\":", *separator);
    *separator = ",";
    naive_say_square(n, from);
    naive_say(n, ",\"to\":");
    naive_say_square(n, to);
    naive_say(n, ",\"targets\":");
    naive_say_squares(n, targets, target_count);
    naive_say(n, ",\"kind\":\"%s\",\"supporters\":%d,\"attackers\":%d}",
              naive_break_kind(n, side, to, targets, target_count), naive_count(n, side, to, from),
              naive_count(n, naive_enemy(side), to, from));
}

static inline void naive_say_breaks(Naive *n, char side)
{
    const int forward = naive_forward(side);
    const int last_rank = side == 'w' ? 8 : 1;
    const char *separator = "";
    naive_say(n, "[");
    for (int rank = 1; rank <= 8; rank++)
        for (int file = 1; file <= 8; file++) {
            if (n->men[file][rank] != naive_pawn_of(side) || naive_man(n, file, rank + forward) != '.' ||
                rank + forward == last_rank)
                continue;
            NaiveSquare from = {file, rank};
            naive_say_break(n, side, from, (NaiveSquare){file, rank + forward}, &separator);
            if (rank == naive_second_rank(side) && naive_man(n, file, rank + 2 * forward) == '.')
                naive_say_break(n, side, from, (NaiveSquare){file, rank + 2 * forward}, &separator);
        }
    naive_say(n, "]");
}

/* 6. Tension */

/* Whether a pawn on `from` can capture on `to`, and where the man stands that it takes. A king is never
 * taken: a pawn that attacks it gives check, which is no capture. */
static inline bool naive_captures(const Naive *n, char side, NaiveSquare to, NaiveSquare *taken)
{
    char man = naive_man(n, to.file, to.rank);
    *taken = to;
    if (naive_belongs(man, naive_enemy(side)))
        return man != 'K' && man != 'k';
    *taken = (NaiveSquare){to.file, to.rank - naive_forward(side)};
    return side == n->to_move && n->en_passant.file != 0 && naive_same(to, n->en_passant);
}

static inline void naive_say_tension(Naive *n, char side)
{
    const char *separator = "";
    naive_say(n, "[");
    for (int rank = 1; rank <= 8; rank++)
        for (int file = 1; file <= 8; file++) {
            if (n->men[file][rank] != naive_pawn_of(side))
                continue;
            NaiveSquare from = {file, rank};
            for (int to_file = file - 1; to_file <= file + 1; to_file += 2) {
                NaiveSquare to = {to_file, rank + naive_forward(side)}, taken;
                if (naive_captures(n, side, to, &taken) &&
                    (naive_is_in_a_chain(n, taken) || naive_is_in_a_chain(n, from))) {
                    naive_say(n, "%s\"%c%d%c%d\"", separator, 'a' + file - 1, rank, 'a' + to.file - 1,
                              to.rank);
                    separator = ",";
                }
            }
        }
    naive_say(n, "]");
}

/* 7. What `explain --json` prints */

/* Writes the line, without its end. */
static inline void naive_structure_json(const char *fen, char *text, size_t room)
{
    Naive n = {.text = text, .room = room};
    const char *end = fen;
    for (int field = 0; field < 4; field++) {
        end += strspn(end, " ");
        end += strcspn(end, " ");
    }
    naive_read(&n, fen);
    naive_find_chains(&n);

    naive_say(&n, "{\"fen\":\"%.*s\",\"chains\":[", (int)(end - fen), fen);
    for (int i = 0; i < n.chain_count; i++) {
        naive_say(&n, "%s", i > 0 ? "," : "");
        naive_say_chain(&n, &n.chains[i]);
    }
    naive_say(&n, "],\"plan\":{\"white\":");
    naive_say_plan(&n, 'w');
    naive_say(&n, ",\"black\":");
    naive_say_plan(&n, 'b');
    naive_say(&n, "},\"near_misses\":");
    naive_say_near_misses(&n);
    naive_say(&n, ",\"first_to_break\":");
    naive_say_word(&n, naive_first_to_break(&n));
    naive_say(&n, ",\"tension\":{\"white\":");
    naive_say_tension(&n, 'w');
    naive_say(&n, ",\"black\":");
    naive_say_tension(&n, 'b');
    naive_say(&n, "},\"breaks\":{\"white\":");
    naive_say_breaks(&n, 'w');
    naive_say(&n, ",\"black\":");
    naive_say_breaks(&n, 'b');
    naive_say(&n, "}}");
}

#endif
