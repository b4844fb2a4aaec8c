#include "structure/near_miss.h"

static bool has_pair(const ps_analysis *analysis, int file)
{
    for (int i = 0; i < analysis->pair_count; i++)
        if (analysis->pairs[i].file == file)
            return true;
    return false;
}

/* The ways in which linked d- and e-pawns of a side point. Doubled pawns may point both ways at once. */
typedef struct CentrePointers {
    bool kingside;
    bool queenside;
} CentrePointers;

static CentrePointers centre_pointers(Side side, Bitboard pawns)
{
    Bitboard d_pawns = pawns & file_mask(FILE_D);
    Bitboard e_pawns_beside = shift_west(pawns & file_mask(FILE_E));
    return (CentrePointers){
        .kingside = (push_forward(side, d_pawns) & e_pawns_beside) != 0,
        .queenside = (push_forward(side, e_pawns_beside) & d_pawns) != 0,
    };
}

/* Only without a locked de pair. */
static bool find_centre_miss(Bitboard white_pawns, Bitboard black_pawns, ps_near_miss *found)
{
    Bitboard rams = white_rams(white_pawns, black_pawns);
    bool d_rammed = (rams & file_mask(FILE_D)) != 0;
    bool e_rammed = (rams & file_mask(FILE_E)) != 0;
    CentrePointers white = centre_pointers(WHITE, white_pawns);
    CentrePointers black = centre_pointers(BLACK, black_pawns);

    if (d_rammed && e_rammed)
        *found = PS_NOT_LINKED;
    else if (!d_rammed && !e_rammed)
        return false;
    else if ((white.kingside && black.kingside) || (white.queenside && black.queenside))
        *found = PS_SAME_WAY;
    else if (white.kingside || white.queenside || black.kingside || black.queenside)
        *found = PS_NOT_RAMMED;
    else
        return false;
    return true;
}

void ps_find_near_misses(ps_analysis *analysis, Bitboard white_pawns, Bitboard black_pawns)
{
    ps_near_miss *next = analysis->near_misses;
    if (!has_pair(analysis, FILE_D) && find_centre_miss(white_pawns, black_pawns, next))
        next++;
    if (has_pair(analysis, FILE_A) || has_pair(analysis, FILE_G))
        *next++ = PS_RIM;
    analysis->near_miss_count = (int)(next - analysis->near_misses);
}
