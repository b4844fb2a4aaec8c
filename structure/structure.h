/* Pawn structure: what the direction of locked pawn chains says about a position.
 *
 * This header is the manual of libpawnstructure. It needs nothing but the C standard library, and C++ can
 * include it. Simple calls come first; a chess engine that wants the term in its evaluation reads "The term".
 *
 * All functions are pure: no allocation, no input or output, no global state. Any number of threads may call
 * them at once. No call can fail unless its description says so. Positions must be sensible: one king a side,
 * at most 8 pawns a side, no two men on one square. Whatever stands on the board, no call reads or writes out
 * of bounds; pawns on the first and the last rank are left out, and what goes beyond PS_MAX_CHAINS is not
 * reported.
 *
 * A program that was compiled with this header works, unchanged, with each later library of the same
 * PS_VERSION_MAJOR: such a library may have more calls, and more members at the end of ps_board and
 * ps_analysis, and everything else that is declared here stays as it is. See "What may grow".
 *
 * Whoever plays a game of chess against people must not use this, or any other help, during it.
 *
 *
 * The definitions
 *
 * Terms of the trade come from H. Kmoch, "Pawn Power in Chess", 1959 (ram, lever) and A. Nimzowitsch, "My
 * System", 1925 (chain, base, head); the others are ours.
 *
 * 1. Locked chains
 *
 *    Ram: a white pawn and a black pawn face to face on one file. Link: two pawns of one colour on
 *    neighbouring files, one defending the other. Locked pair: two rams on neighbouring files whose white
 *    pawns are linked (then the black ones are linked too). Locked chain: as many locked pairs as go on from
 *    ram to ram, file by file, with one slope; a single pair is the shortest. Each pair belongs to one chain.
 *
 *    A chain is named by its files. Its grade is that of the firmest pair in it: de firm; cd, ef likely;
 *    bc, fg doubtful; ab, gh void (common practice among teachers, no published source).
 *
 * 2. Direction and levers
 *
 *    In a locked chain each side has a head, its most advanced pawn, and a base, the rearmost. Its direction
 *    goes from the base's file to the head's: +1 towards h, -1 towards a. The pointed file is the head's file
 *    + direction. The base lever puts a pawn on the pointed file beside the head, where it attacks the
 *    enemy's base. The head lever puts a pawn on the file base - direction beside the base, where it attacks
 *    the enemy's head. A lever whose file is off the board does not exist.
 *
 *        6 . . . . p . . .      White: base d4, head e5, direction +1, pointed file f.
 *        5 . . . p P ->. .      Base lever f5 (attacks e6), head lever c4 (attacks d5).
 *        4 . . . P . . . .      Did pawns on f6 and f7 face each other too, the chain would be def, and
 *        3 . . . . . . . .      White's base lever g6: the lever moves on with the chain.
 *          a b c d e f g h
 *
 * 3. The state of a lever
 *
 *    The pawn that can play a lever is the own pawn on its file nearest behind the lever square. See
 *    ps_status for the states. Tempi = steps (single moves; a double step counts one) + blockers (pieces of
 *    either side on the way, the lever square included) + short (by how many the opponent's attackers of the
 *    lever square outnumber the own supporters, 0 if they do not; the pawn itself is taken off the board for
 *    the count, pins are ignored). A count is how a teacher judges support over the board; it is not an
 *    exchange sequence.
 *
 * 4. The plan of a side
 *
 *    It comes from the side's principal chain. Void chains left out, that is the first by: firmer grade; live
 *    base levers before those that are beyond or cleared, and these before the others; fewer tempi of a live
 *    base lever; the order in which ps_analysis lists chains. See ps_verdict.
 *
 *    Region: of the pointed file; of the head's file if the chain points off the board. Room: the squares
 *    from the pointed file to the edge, from the own second rank to the rank of the head, that no enemy pawn
 *    attacks. Pieces: own pieces on these files, pawns and king left out.
 *
 * 5. Near misses: see ps_near_miss.
 *
 * 6. Breaks and tension: pawn pushes, open now, that attack an enemy pawn (ps_break), and pawn captures,
 *    possible now, that may dissolve a lock (ps_capture). */
#ifndef PAWNVANE_STRUCTURE_H
#define PAWNVANE_STRUCTURE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* The library shows what is declared here and nothing else. */
#ifdef __GNUC__
#pragma GCC visibility push(default)
#endif

/* -------------------------------------------------------------------------------------------- the version
 * That of this header, as numbers for the preprocessor and as a text, "1.2.3". Pawnvane's programs have the
 * same. */
#define PS_VERSION_MAJOR 0
#define PS_VERSION_MINOR 8
#define PS_VERSION_PATCH 0
#define PS_VERSION PS_VERSION_TEXT(PS_VERSION_MAJOR, PS_VERSION_MINOR, PS_VERSION_PATCH)
#define PS_VERSION_TEXT(major, minor, patch) PS_VERSION_QUOTED(major, minor, patch)
#define PS_VERSION_QUOTED(major, minor, patch) #major "." #minor "." #patch

/* The version of the library that is running, in the same form.
 *
 *     printf("compiled with %s, running with %s\n", PS_VERSION, ps_version());
 */
const char *ps_version(void);

/* ------------------------------------------------------------------------------------------- the position */

typedef enum ps_side { PS_NOBODY = -1, PS_WHITE, PS_BLACK } ps_side;

/* Squares are 0..63: a1 is 0, h1 is 7, a8 is 56, h8 is 63. Files are 0..7 for a..h. */
enum {
    PS_NO_SQUARE = -1,
    PS_NO_FILE = -1,
    PS_NO_COUNT = -1 /* where a number may be missing */
};

/* A position as the host hands it over. Sets of squares have one bit a square, bit 0 for a1. Start from a
 * board that is zero throughout, as an initialiser makes it: should a later version ask for more, 0 will mean
 * that the host does not say. */
typedef struct ps_board {
    uint64_t pawns[2];  /* by ps_side */
    uint64_t pieces[2]; /* by ps_side: knights, bishops, rooks, queens */
    uint64_t kings[2];  /* by ps_side */
    ps_side to_move;
    /* The square behind a pawn of the opponent that has just made a double step; PS_NO_SQUARE or 0 if none
     * has. */
    int en_passant;

    /* Returns how many men of `side` (pawns, pieces and king, pinned or not) attack `square` once the man on
     * `lifted` is off the board, so that pieces see through it; PS_NO_SQUARE lifts nothing. */
    int (*count_attackers)(const void *host, int square, ps_side side, int lifted);
    const void *host; /* handed to count_attackers unchanged */
} ps_board;

/* Fills a board from a diagram of 64 letters, a8 first and h1 last, as one reads a printed page: PNBRQK for
 * White, pnbrqk for Black, a full stop for an empty square. Returns false, and leaves *out alone, on any
 * other letter. The board refers to the diagram, which must stay unchanged as long as the board is used;
 * attackers are counted square by square, which is quick enough for people, not for a search.
 *
 *     static const char diagram[] = "r..qk..r"
 *                                   "pp.n.ppp"
 *                                   "....p..."
 *                                   "..ppP..."
 *                                   "...P...."
 *                                   "..P..N.."
 *                                   "PP...PPP"
 *                                   "R..QK..R";
 *     ps_board board;
 *     ps_analysis analysis;
 *     char words[PS_EXPLAIN_SIZE];
 *     if (ps_board_from_diagram(&board, diagram, PS_WHITE)) {
 *         ps_analyse(&analysis, &board);
 *         ps_explain(words, sizeof words, &analysis, &board);
 *         puts(words);
 *     }
 */
static inline bool ps_board_from_diagram(ps_board *out, const char *diagram, ps_side to_move);

/* ------------------------------------------------------------------------------------------- the analysis */

/* How far the direction of a chain can be trusted. A greater value is firmer. */
typedef enum ps_grade { PS_NO_GRADE = -1, PS_VOID, PS_DOUBTFUL, PS_LIKELY, PS_FIRM, PS_GRADE_COUNT } ps_grade;

/* The state of a lever. The first five are live: the pawn is there, or can still get there. */
typedef enum ps_status {
    PS_NO_STATUS = -1,
    PS_PLAYED,      /* an own pawn stands on the lever square */
    PS_READY,       /* one step, free and supported */
    PS_OPEN,        /* several steps, free and supported */
    PS_UNSUPPORTED, /* free, but more attackers than supporters */
    PS_OBSTRUCTED,  /* pieces stand in the way */
    PS_BEYOND,      /* no own pawn behind the lever square, but one has gone past it */
    PS_CLEARED,     /* no pawn of either side on the file: what the lever would open is open */
    PS_BARRED,      /* an enemy pawn stands on the lever square or before it */
    PS_GONE,        /* no own pawn on the file, but an enemy pawn */
    PS_STATUS_COUNT
} ps_status;

/* What the direction of the principal chain tells a side. */
typedef enum ps_verdict {
    PS_NO_VERDICT = -1,
    PS_APPLIES,    /* firm or likely, and the base lever is live */
    PS_FULFILLED,  /* firm or likely, and the base lever is beyond or cleared: it has done its work */
    PS_MISLEADING, /* firm or likely, but the base lever is barred or gone, or there is none */
    PS_WEAK,       /* doubtful */
    PS_NONE,       /* no chain, or only void ones */
    PS_VERDICT_COUNT
} ps_verdict;

typedef enum ps_region {
    PS_NO_REGION = -1,
    PS_QUEENSIDE, /* a, b, c */
    PS_CENTRE,    /* d, e */
    PS_KINGSIDE,  /* f, g, h */
    PS_REGION_COUNT
} ps_region;

/* Where the rule is usually misread. The first three only if no locked chain holds d and e, and then the
 * first of them that is true. Linked d/e pawns: a side's pawns on d and e of which one defends the other. */
typedef enum ps_near_miss {
    PS_NO_NEAR_MISS = -1,
    PS_NOT_LINKED, /* rams on d and e, but they form no pair */
    PS_SAME_WAY,   /* a ram on just one of d and e; both sides have linked d/e pawns pointing to one wing */
    PS_NOT_RAMMED, /* a ram on just one of d and e; both sides have pawns on d and e, one side's are linked */
    PS_RIM,        /* a locked chain holds a and b, or g and h */
    PS_NEAR_MISS_COUNT
} ps_near_miss;

/* Which lever a break plays. */
typedef enum ps_break_kind {
    PS_NO_BREAK_KIND = -1,
    PS_BASE,
    PS_HEAD,
    PS_OTHER,
    PS_BREAK_KIND_COUNT
} ps_break_kind;

/* Bounds that hold for every position with at most 8 pawns a side.
 *
 * Chains: there are no more of them than of locked pairs. Draw a line between the white pawns of each locked
 * pair. Each line goes one step up a rising or a falling diagonal. n rams on p rising and q falling diagonals
 * have at most n - p rising and n - q falling lines, and p * q >= n because a rising and a falling diagonal
 * meet only once. With n = 8, p + q is at least 6, so there are at most 2 * 8 - 6 = 10 lines. The same holds
 * for the links of one side's 8 pawns, of which rams on b2 b4 b6, a3 a5, c3 c5 and d4 have 10.
 *
 * Blockers: a lever pawn has at most 5 squares to go, from the second to the seventh rank. Breaks: two pushes
 * for each pawn. Captures: two for each pawn. */
enum {
    PS_MAX_CHAINS = 10,
    PS_MAX_BLOCKERS = 5,
    PS_MAX_BREAKS = 16,
    PS_MAX_CAPTURES = 16,
    PS_MAX_NEAR_MISSES = 2
};

typedef struct ps_lever {
    int square;          /* PS_NO_SQUARE: there is no such lever, and nothing else here means anything */
    int target;          /* square of the enemy pawn that it attacks */
    bool target_is_base; /* no enemy pawn defends the target */
    ps_status status;
    int pawn; /* the pawn that can play it, or has; PS_NO_SQUARE unless the lever is live or barred */
    int blocker_count;
    int blockers[PS_MAX_BLOCKERS]; /* squares, nearest to the pawn first */
    /* PS_NO_COUNT unless the lever is live */
    int steps;
    int supporters;
    int attackers;
    int tempi;
} ps_lever;

/* A locked chain as one side sees it. */
typedef struct ps_chain_side {
    int head; /* squares */
    int base;
    int direction; /* +1 towards h, -1 towards a */
    int toward;    /* pointed file, PS_NO_FILE if off the board */
    ps_lever base_lever;
    ps_lever head_lever;
} ps_chain_side;

typedef struct ps_chain {
    int first_file; /* its files are first_file .. last_file, 0..7 */
    int last_file;
    ps_grade grade;
    ps_chain_side side[2]; /* by ps_side */
} ps_chain;

typedef struct ps_plan {
    ps_verdict verdict; /* PS_NONE: nothing else here means anything */
    int chain;          /* the principal chain: index into ps_analysis.chains */
    ps_region region;
    int room; /* squares */
    int pieces;
} ps_plan;

typedef struct ps_break {
    int from;
    int to;
    int target_count;
    int targets[2]; /* squares of the enemy pawns that it attacks, a1 first */
    ps_break_kind kind;
    int supporters; /* of the goal, with the pawn lifted */
    int attackers;
} ps_break;

typedef struct ps_break_list {
    int count;
    ps_break items[PS_MAX_BREAKS]; /* by origin square, a1 first; one step before two */
} ps_break_list;

/* A capture by a pawn, possible now, that takes a pawn of a locked chain or is made by one. Like breaks, it
 * is listed whoever is to move and without regard to the own king's safety. */
typedef struct ps_capture {
    int from;
    int to;
    bool en_passant; /* only for the side to move */
} ps_capture;

typedef struct ps_capture_list {
    int count;
    ps_capture items[PS_MAX_CAPTURES]; /* by origin square, then goal, a1 first */
} ps_capture_list;

typedef struct ps_analysis {
    int chain_count;
    /* By lowest file, then rank of the white pawn on it, then rank of the next white pawn. */
    ps_chain chains[PS_MAX_CHAINS];
    ps_plan plan[2]; /* by ps_side */
    int near_miss_count;
    ps_near_miss near_misses[PS_MAX_NEAR_MISSES]; /* in the order of the type */
    /* The side with fewer tempi for the base lever of its principal chain, the side to move if they are
     * equal, PS_NOBODY if neither is live. */
    ps_side first_to_break;
    ps_capture_list tension[2]; /* by ps_side, whoever is to move */
    ps_break_list breaks[2];    /* by ps_side, whoever is to move */
} ps_analysis;

/* Analyses a position completely.
 *
 *     ps_analysis analysis;
 *     ps_analyse(&analysis, &board);
 *     const ps_lever *lever = ps_plan_lever(&analysis, PS_WHITE);
 *     if (lever != NULL && ps_lever_is_live(lever))
 *         printf("%s in %d tempi\n", ps_square_name(lever->square), lever->tempi);
 */
static inline void ps_analyse(ps_analysis *out, const ps_board *board);

/* What ps_analyse() says of locked pairs and near misses, as sets. */
typedef struct ps_overview {
    uint8_t pairs;       /* lower files of the locked pairs, bit 0 for a */
    uint8_t near_misses; /* bit 0 for the first ps_near_miss */
} ps_overview;

/* Reads the pawns of both sides, by ps_side, and nothing else: a few nanoseconds, for surveys of games by the
 * million.
 *
 *     if (ps_read_overview(board.pawns).pairs & 1 << 3)
 *         ps_analyse(&analysis, &board); // some chain holds d and e
 */
ps_overview ps_read_overview(const uint64_t pawns[2]);

/* The firmest grade of a set of locked pairs, PS_NO_GRADE of an empty one.
 *
 *     if (ps_grade_of_pairs(ps_read_overview(board.pawns).pairs) == PS_FIRM)
 *         ps_analyse(&analysis, &board);
 */
ps_grade ps_grade_of_pairs(unsigned pairs);

/* The principal chain of a side as that side sees it, and its base lever; null without one. The lever's
 * square is PS_NO_SQUARE if the chain points off the board. Both point into the analysis.
 *
 *     const ps_chain_side *chain = ps_plan_chain(&analysis, PS_BLACK);
 *     if (chain != NULL && chain->toward == PS_NO_FILE)
 *         puts("Black's pawns point off the board");
 */
const ps_chain_side *ps_plan_chain(const ps_analysis *analysis, ps_side side);
const ps_lever *ps_plan_lever(const ps_analysis *analysis, ps_side side);

/* Whether an own pawn stands on the lever square or can still get there. */
bool ps_lever_is_live(const ps_lever *lever);

/* Whether the lever has done its work: beyond or cleared.
 *
 *     if (chain != NULL && ps_lever_is_done(&chain->base_lever))
 *         puts("Black's lever has done its work");
 */
bool ps_lever_is_done(const ps_lever *lever);

/* Room for any text of ps_explain, with its end of string. */
enum { PS_EXPLAIN_SIZE = 2048 };

/* Says in a few plain English sentences what is locked, where each side points, with which lever, what is in
 * its way or has been done, why the rule does not apply or misleads, and what can dissolve the lock. Writes at
 * most `size` characters, the end of string included (nothing if size is 0), and returns the length of the
 * whole text without it, like snprintf. */
size_t ps_explain(char *buffer, size_t size, const ps_analysis *analysis, const ps_board *board);

/* ----------------------------------------------------------------------------------------- what may grow
 * ps_board and ps_analysis may get more members at their ends. So that a program and a library of different
 * versions agree on how much there is, the program hands over its sizes. The calls without sizes do that by
 * themselves, as they are compiled into the program; these here are for languages that only see the library.
 *
 *     ps_board_from_diagram_sized(&board, sizeof board, diagram, PS_BLACK);
 *     ps_analyse_sized(&analysis, sizeof analysis, &board, sizeof board);
 *
 * `out` gets as many bytes as its size says: what the library does not know is set to zero, what the caller
 * does not know is left out. Of a board as many bytes are read, the rest counts as zero. No size may be less
 * than with the first version of the same PS_VERSION_MAJOR. Calls that take a board or an analysis without a
 * size read only the members of that version. */
bool ps_board_from_diagram_sized(ps_board *out, size_t out_size, const char *diagram, ps_side to_move);
void ps_analyse_sized(ps_analysis *out, size_t out_size, const ps_board *board, size_t board_size);

static inline bool ps_board_from_diagram(ps_board *out, const char *diagram, ps_side to_move)
{
    return ps_board_from_diagram_sized(out, sizeof *out, diagram, to_move);
}

static inline void ps_analyse(ps_analysis *out, const ps_board *board)
{
    ps_analyse_sized(out, sizeof *out, board, sizeof *board);
}

/* --------------------------------------------------------------------------------------------- the words
 * One word for each value, the same in every output. The argument must be a value of the type.
 *
 *     ps_side side = PS_BLACK;
 *     printf("%s: %s is %s\n", ps_side_name(side), ps_files_name(3, 5), ps_grade_name(PS_FIRM));
 *     printf("the plan %s on the %s\n", ps_verdict_name(PS_APPLIES), ps_region_name(PS_KINGSIDE));
 *     printf("%s is %s\n", ps_square_name(37), ps_status_name(PS_READY));
 *     printf("%s break, %s miss\n", ps_break_kind_name(PS_HEAD), ps_near_miss_name(PS_RIM));
 *     printf("%s rule, %s part\n", ps_rule_name(PS_STRICT), ps_part_name(PS_PART_ROOM));
 */
const char *ps_side_name(ps_side side);
const char *ps_grade_name(ps_grade grade);
const char *ps_status_name(ps_status status);
const char *ps_verdict_name(ps_verdict verdict);
const char *ps_region_name(ps_region region);
const char *ps_near_miss_name(ps_near_miss near_miss);
const char *ps_break_kind_name(ps_break_kind kind);
const char *ps_square_name(int square);         /* "a1" .. "h8"; "-" for PS_NO_SQUARE */
const char *ps_files_name(int first, int last); /* "de", "def": first < last, both 0..7 */

/* ---------------------------------------------------------------------------------------------- the term
 * A score in centipawns from the plans, for a chess engine's evaluation. What depends on the pawns alone is
 * read once into a skeleton, which is small enough for a pawn hash table; the term then costs a comparison
 * when the skeleton is silent, and otherwise a few calls of count_attackers.
 *
 *     ps_skeleton skeleton; // keep it by pawn key
 *     ps_read_skeleton(&skeleton, board.pawns, PS_STRICT);
 *     int score = ps_is_silent(&skeleton) ? 0 : ps_term(&skeleton, &board, &ps_default_weights);
 *
 * Each side scores for its principal chain, its own score minus the opponent's is the term:
 *
 *     base lever live         (base lever by tempi + support + room + pieces) times the grade's percentage
 *     else head lever live    (head lever by tempi + support) times the grade's percentage
 *     else                    nothing
 *
 * So that the term is the same on a board with the wings changed round, the last step of the order of chains
 * (the place on the board) is replaced: among chains that the earlier steps leave equal the best score
 * counts. A played lever has 0 tempi. As long as the principal chain stays the same, a firmer grade, fewer tempi and
 * more supporters never score less. */

/* Two readings of the rule. Loose is how it is usually misapplied: any two linked own pawns on neighbouring
 * files count, rammed or not, all as firm, each side by itself. What points off the board has no base lever
 * there. */
typedef enum ps_rule { PS_NO_RULE = -1, PS_STRICT, PS_LOOSE, PS_RULE_COUNT } ps_rule;

const char *ps_rule_name(ps_rule rule);

/* A lever that may score, of a chain that may be principal. */
typedef struct ps_lead {
    int8_t square; /* of the lever */
    int8_t pawn;   /* the same square if the lever is played */
    uint8_t room;  /* squares; 0 for a head lever */
    uint8_t wing;  /* set of files, bit 0 for a; none for a head lever */
} ps_lead;

/* All that the term needs of the pawns: 88 bytes. To read, not to change. */
typedef struct ps_skeleton {
    uint8_t lead_count[2]; /* by ps_side */
    uint8_t lever[2];      /* by ps_side: PS_BASE or PS_HEAD, which lever all its leads are */
    uint8_t grade[2];      /* by ps_side: ps_grade of all its leads */
    uint8_t rule;          /* ps_rule */
    uint8_t unused;
    ps_lead leads[2][PS_MAX_CHAINS];
} ps_skeleton;

/* Reads the pawns of both sides, by ps_side. */
void ps_read_skeleton(ps_skeleton *out, const uint64_t pawns[2], ps_rule rule);

/* Whether the term is 0 wherever the pieces stand. */
static inline bool ps_is_silent(const ps_skeleton *skeleton)
{
    return (skeleton->lead_count[PS_WHITE] | skeleton->lead_count[PS_BLACK]) == 0;
}

/* Tempi 0 to 6, and 7 or more. */
enum { PS_TEMPI_CLASSES = 8 };

/* Supporters more than that add nothing; a weight of room is for so many squares. */
enum { PS_SURPLUS_MOST = 3, PS_ROOM_UNITS = 16 };

/* The weights of the term: ints only. ps_weights_are_sound() says what must hold of them. */
typedef struct ps_weights {
    int base_lever[PS_TEMPI_CLASSES]; /* centipawns, by tempi */
    int head_lever[PS_TEMPI_CLASSES]; /* centipawns, by tempi */
    int support; /* centipawns for each supporter more than attackers, PS_SURPLUS_MOST at most */
    int room;    /* centipawns for PS_ROOM_UNITS squares of room */
    int piece;   /* centipawns for each piece on the wing */
    int grade[PS_GRADE_COUNT]; /* percent, by ps_grade; void is always 0 */
} ps_weights;

extern const ps_weights ps_default_weights;

/* The term in centipawns for the side to move. `skeleton` must have been read from the pawns of `board`. The
 * size of the result is below 5,000 with any sound weights and at most 16 men a side. */
int ps_term(const ps_skeleton *skeleton, const ps_board *board, const ps_weights *weights);

/* What the term is made of. */
typedef enum ps_part {
    PS_NO_PART = -1,
    PS_PART_LEVER,
    PS_PART_SUPPORT,
    PS_PART_ROOM,
    PS_PART_PIECES,
    PS_PART_COUNT
} ps_part;

const char *ps_part_name(ps_part part);

typedef struct ps_side_term {
    int square;               /* of the lever that scores, PS_NO_SQUARE if none does */
    ps_break_kind lever;      /* PS_BASE or PS_HEAD */
    int tempi;                /* of that lever; PS_NO_COUNT if none */
    int parts[PS_PART_COUNT]; /* centipawns for this side, by ps_part, none negative */
} ps_side_term;

/* The same score as ps_term, taken apart: it is exactly the sum of the parts of the side to move minus the
 * sum of the parts of the other. `out` has two entries, by ps_side.
 *
 *     ps_side_term sides[2];
 *     int same = ps_term_parts(sides, &skeleton, &board, &ps_default_weights);
 *     printf("white: lever %d, room %d; in all %d\n", sides[PS_WHITE].parts[PS_PART_LEVER],
 *            sides[PS_WHITE].parts[PS_PART_ROOM], same);
 */
int ps_term_parts(ps_side_term out[2], const ps_skeleton *skeleton, const ps_board *board,
                  const ps_weights *weights);

/* ------------------------------------------------------------------------------------------- plans in hand
 * A plan is something that one carries out, and the term alone pays for having one: nothing is left of it when
 * the lever has been exchanged and the lock is gone. An engine that wants plans carried out takes those of
 * both sides in hand at the root of its search, and asks of each position that it evaluates how far they have come:
 *
 *     lever live                  as the term says: the fewer tempi the more
 *     lever played, or gone past  as the term says of 0 tempi
 *     lever played, gone past or exchanged, and the pawn that it attacked has left its square; or no pawn of
 *     either side left on the lever's file
 *                                 the same with full support, which nobody can take back, locked or not
 *     anything else               the plan has failed: what the position itself says
 *
 * A side without a plan in hand is scored by what the position itself says, and so are both sides in the position that
 * their plans were taken from.
 *
 *     ps_intent intent; // once for each search
 *     ps_intend(&intent, &board, PS_STRICT, &ps_default_weights);
 *     uint64_t key = ps_intent_key(&intent); // to be mixed into the keys of the search's table
 *     bool silent = ps_is_silent(&skeleton) && !ps_has_intent(&intent);
 *     int term = silent ? 0 : ps_intent_term(&intent, &skeleton, &board, &ps_default_weights);
 */

/* A lever in hand. */
typedef struct ps_intent_lever {
    uint64_t area; /* set of squares that may be room; none for a head lever */
    int8_t square; /* of the lever */
    int8_t target; /* of the enemy pawn that it attacks; PS_NO_SQUARE if there is none (loose rule) */
    uint8_t wing;  /* set of files, bit 0 for a; none for a head lever */
} ps_intent_lever;

/* The plans in hand, by ps_side. All zero: none. A side has more than one lever in hand only if they score the very same. */
typedef struct ps_intent {
    uint8_t count[2];
    uint8_t kind[2];  /* PS_BASE or PS_HEAD */
    uint8_t grade[2]; /* ps_grade */
    ps_intent_lever levers[2][PS_MAX_CHAINS];
} ps_intent;

/* Takes the plans of both sides in hand: the levers that score in this position. */
void ps_intend(ps_intent *out, const ps_board *board, ps_rule rule, const ps_weights *weights);

static inline bool ps_has_intent(const ps_intent *intent)
{
    return (intent->count[PS_WHITE] | intent->count[PS_BLACK]) != 0;
}

/* Different for different plans, 0 without any. Positions that are scored under different plans must not be
 * taken for each other. */
uint64_t ps_intent_key(const ps_intent *intent);

/* The term in centipawns for the side to move, with the plans in hand; ps_term() without any. `skeleton` must have been
 * read from the pawns of `board` under the rule of the intent. */
int ps_intent_term(const ps_intent *intent, const ps_skeleton *skeleton, const ps_board *board,
                   const ps_weights *weights);

/* The same score taken apart, as ps_term_parts() does.
 *
 *     ps_side_term parts[2];
 *     int all = ps_intent_parts(parts, &intent, &skeleton, &board, &ps_default_weights);
 */
int ps_intent_parts(ps_side_term out[2], const ps_intent *intent, const ps_skeleton *skeleton,
                    const ps_board *board, const ps_weights *weights);

/* -------------------------------------------------------------------------------------- fitting the weights
 * The weights as a flat array, for a tool that fits them to results of games.
 *
 *     ps_weights weights = ps_default_weights;
 *     for (int i = 0; i < PS_WEIGHT_COUNT; i++)
 *         printf("%s %d\n", ps_weight_table[i].name, *ps_weight_at(&weights, i));
 *     weights.base_lever[0] = 0;
 *     puts(ps_weights_are_sound(&weights) ? "sound" : "a lever played must not score less than a ready one");
 */
enum { PS_WEIGHT_COUNT = sizeof(ps_weights) / sizeof(int) };

typedef struct ps_weight_entry {
    const char *name; /* "base_lever[0]" */
    size_t offset;    /* in ps_weights, bytes */
    int least;        /* bounds that ps_weights_are_sound() asks for */
    int greatest;
} ps_weight_entry;

/* In the order of ps_weights. */
extern const ps_weight_entry ps_weight_table[PS_WEIGHT_COUNT];

/* One weight, to read and to change; `index` is 0 .. PS_WEIGHT_COUNT - 1. */
int *ps_weight_at(ps_weights *weights, int index);

/* Whether weights keep what the term promises (a firmer grade, fewer tempi, more supporters never score
 * less): each within its bounds, both lever tables never rising with the tempi, the percentages never falling
 * with the grade. */
bool ps_weights_are_sound(const ps_weights *weights);

#ifdef __GNUC__
#pragma GCC visibility pop
#endif

#ifdef __cplusplus
}
#endif

#endif
