#include "engine/rules/attacks.h"

#include <stdlib.h>
#include <sys/mman.h>

Bitboard knight_attack_table[SQUARE_COUNT];
Bitboard king_attack_table[SQUARE_COUNT];
Bitboard pawn_attack_table[SIDE_COUNT][SQUARE_COUNT];
Bitboard between_table[SQUARE_COUNT][SQUARE_COUNT];
uint8_t king_distance_table[SQUARE_COUNT][SQUARE_COUNT];
Bitboard line_table[SQUARE_COUNT][SQUARE_COUNT];

/* A line through a square, cut at the square into the part below it and the part above it. */
typedef struct Ray {
    Bitboard lower, upper;
} Ray;

enum { RAYS_A_PIECE = 2 };
static Ray bishop_rays[SQUARE_COUNT][RAYS_A_PIECE];
static Ray rook_rays[SQUARE_COUNT][RAYS_A_PIECE];

/* Obstruction difference (G. Isenberg, M. Hoffmann, from memory): between the nearest piece below and the
 * nearest piece above lies exactly what a slider sees on that line, both pieces included. */
static Bitboard ray_attacks(const Ray rays[RAYS_A_PIECE], Bitboard occupied)
{
    Bitboard attacks = 0;
    for (int i = 0; i < RAYS_A_PIECE; i++) {
        Bitboard below = (rays[i].lower & occupied) | 1;
        Bitboard above = rays[i].upper & occupied;
        Bitboard nearest_below = bit(last_square(below));
        Bitboard nearest_above = above & (0 - above);
        attacks |= (2 * nearest_above - nearest_below) & (rays[i].lower | rays[i].upper);
    }
    return attacks;
}

/* The squares that lie `steps` steps or fewer from a square in one direction. */
static Bitboard walk(Square from, int file_step, int rank_step, int steps)
{
    Bitboard squares = 0;
    int file = file_of(from) + file_step;
    int rank = rank_of(from) + rank_step;
    while (steps-- > 0 && file >= 0 && file < FILE_COUNT && rank >= 0 && rank < RANK_COUNT) {
        squares |= bit(square_at(file, rank));
        file += file_step;
        rank += rank_step;
    }
    return squares;
}

static Bitboard leap(Square from, const int steps[8][2])
{
    Bitboard squares = 0;
    for (int i = 0; i < 8; i++)
        squares |= walk(from, steps[i][0], steps[i][1], 1);
    return squares;
}

static void fill_leapers(void)
{
    static const int knight_steps[8][2] = {{1, 2},   {2, 1},   {2, -1}, {1, -2},
                                           {-1, -2}, {-2, -1}, {-2, 1}, {-1, 2}};
    static const int king_steps[8][2] = {{0, 1},  {1, 1},   {1, 0},  {1, -1},
                                         {0, -1}, {-1, -1}, {-1, 0}, {-1, 1}};
    for (Square s = A1; s <= H8; s++) {
        knight_attack_table[s] = leap(s, knight_steps);
        king_attack_table[s] = leap(s, king_steps);
        pawn_attack_table[WHITE][s] = pawn_attacks(WHITE, bit(s));
        pawn_attack_table[BLACK][s] = pawn_attacks(BLACK, bit(s));
    }
}

static Ray ray(Square from, int file_step, int rank_step)
{
    return (Ray){.lower = walk(from, -file_step, -rank_step, 7),
                 .upper = walk(from, file_step, rank_step, 7)};
}

static void fill_rays(void)
{
    for (Square s = A1; s <= H8; s++) {
        rook_rays[s][0] = ray(s, 1, 0);
        rook_rays[s][1] = ray(s, 0, 1);
        bishop_rays[s][0] = ray(s, 1, 1);
        bishop_rays[s][1] = ray(s, -1, 1);
    }
}

static void fill_distances(void)
{
    for (Square a = A1; a <= H8; a++)
        for (Square b = A1; b <= H8; b++) {
            int files = abs(file_of(a) - file_of(b)), ranks = abs(rank_of(a) - rank_of(b));
            king_distance_table[a][b] = (uint8_t)(files > ranks ? files : ranks);
        }
}

static void fill_lines(void)
{
    for (Square a = A1; a <= H8; a++) {
        for (int i = 0; i < 2 * RAYS_A_PIECE; i++) {
            const Ray *r = i < RAYS_A_PIECE ? &rook_rays[a][i] : &bishop_rays[a][i - RAYS_A_PIECE];
            Bitboard line = r->lower | r->upper | bit(a);
            for (Bitboard others = line ^ bit(a); others;) {
                Square b = take_first(&others);
                Bitboard below_a = bit(a) - 1, below_b = bit(b) - 1;
                Bitboard above_lower_end =
                    a < b ? ~(below_a | bit(a)) & below_b : ~(below_b | bit(b)) & below_a;
                line_table[a][b] = line;
                between_table[a][b] = line & above_lower_end;
            }
        }
    }
}

#ifdef __BMI2__

SliderTable bishop_table[SQUARE_COUNT];
SliderTable rook_table[SQUARE_COUNT];

/* The sums of 2^(squares that can block) over the board. */
enum { BISHOP_SETS = 5248, ROOK_SETS = 102400 };

/* All sets, in one huge page where the system gives one: of 200 common pages, the processor would have to look up one as
 * often as a set. */
enum { HUGE_PAGE = 2 << 20 };
static _Alignas(HUGE_PAGE) union {
    struct {
        Bitboard bishop[BISHOP_SETS], rook[ROOK_SETS];
    };
    char page[HUGE_PAGE];
} slider_sets;

/* A piece on the last square of a ray hides nothing, so it is left out of the mask. */
static Bitboard blocking_squares(const Ray rays[RAYS_A_PIECE], Square from)
{
    Bitboard edges = ((RANK_1_BB | RANK_8_BB) & ~rank_mask(rank_of(from))) |
                     ((FILE_A_BB | FILE_H_BB) & ~file_mask(file_of(from)));
    return (rays[0].lower | rays[0].upper | rays[1].lower | rays[1].upper) & ~edges;
}

static void fill_sliders(SliderTable table[SQUARE_COUNT], Ray rays[SQUARE_COUNT][RAYS_A_PIECE],
                         Bitboard *sets)
{
    for (Square s = A1; s <= H8; s++) {
        Bitboard mask = blocking_squares(rays[s], s);
        Bitboard occupied = 0;
        table[s].mask = mask;
        table[s].attacks = sets;
        do {
            *sets++ = ray_attacks(rays[s], occupied);
            occupied = (occupied - mask) & mask;
        } while (occupied);
    }
}

#else

Bitboard bishop_attacks(Square from, Bitboard occupied)
{
    return ray_attacks(bishop_rays[from], occupied);
}

Bitboard rook_attacks(Square from, Bitboard occupied)
{
    return ray_attacks(rook_rays[from], occupied);
}

#endif

/* Runs before main(), so that no caller can forget it. */
__attribute__((constructor)) static void fill_tables(void)
{
    fill_leapers();
    fill_rays();
    fill_distances();
    fill_lines();
#ifdef __BMI2__
    madvise(&slider_sets, sizeof slider_sets, MADV_HUGEPAGE);
    fill_sliders(bishop_table, bishop_rays, slider_sets.bishop);
    fill_sliders(rook_table, rook_rays, slider_sets.rook);
#endif
}
