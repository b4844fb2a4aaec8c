#include "structure/pawns.h"

/* The squares from which one step east and one rank up, or down, leads into a set. */
static Bitboard west_below(Bitboard set)
{
    return shift_west(set) >> 8;
}

static Bitboard west_above(Bitboard set)
{
    return shift_west(set) << 8;
}

static Bitboard east_below(Bitboard set)
{
    return shift_east(set) >> 8;
}

static Bitboard east_above(Bitboard set)
{
    return shift_east(set) << 8;
}

/* How the pawn next to the east stands to its neighbour. */
enum { FALLING = 1 - 8, RISING = 1 + 8 };

static Square last_in_line(Bitboard pawns, Square west, int step)
{
    Square east = west + step;
    while (file_of(east) != FILE_H && east + step >= A1 && east + step <= H8 && (pawns & bit(east + step)))
        east += step;
    return east;
}

/* Lists a diagonal from each pawn of `falling` and `rising`, as far as `whole` says: to its end or for one
 * step. */
static int list_diagonals(Bitboard pawns, Bitboard falling, Bitboard rising, bool whole,
                          Diagonal out[PS_MAX_CHAINS])
{
    int count = 0;
    Bitboard starts = falling | rising;
    for (int file = FILE_A; starts != 0 && file < FILE_H; file++) {
        for (Bitboard rest = starts & file_mask(file); rest != 0;) {
            Square west = take_first(&rest);
            for (int step = FALLING; step <= RISING; step += RISING - FALLING) {
                if (((step == FALLING ? falling : rising) & bit(west)) == 0 || count == PS_MAX_CHAINS)
                    continue;
                out[count++] = (Diagonal){west, whole ? last_in_line(pawns, west, step) : west + step};
            }
        }
        starts &= ~file_mask(file);
    }
    return count;
}

int ps_find_links(Bitboard pawns, Diagonal out[PS_MAX_CHAINS])
{
    return list_diagonals(pawns, pawns & west_above(pawns), pawns & west_below(pawns), false, out);
}

int ps_find_diagonals(Bitboard pawns, Diagonal out[PS_MAX_CHAINS])
{
    Bitboard falling = pawns & west_above(pawns) & ~east_below(pawns);
    Bitboard rising = pawns & west_below(pawns) & ~east_above(pawns);
    return list_diagonals(pawns, falling, rising, true, out);
}

ps_grade ps_grade_of_pairs(unsigned pairs)
{
    /* The sets of lower files that make a grade, firmest first. */
    static const struct {
        unsigned files;
        ps_grade grade;
    } grades[] = {
        {1U << FILE_D, PS_FIRM},
        {1U << FILE_C | 1U << FILE_E, PS_LIKELY},
        {1U << FILE_B | 1U << FILE_F, PS_DOUBTFUL},
        {1U << FILE_A | 1U << FILE_G, PS_VOID},
    };
    for (size_t i = 0; i < sizeof grades / sizeof *grades; i++)
        if (pairs & grades[i].files)
            return grades[i].grade;
    return PS_NO_GRADE;
}
