#include "structure/near_miss.h"

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

static bool is_linked(CentrePointers pointers)
{
    return pointers.kingside || pointers.queenside;
}

/* Only if no locked chain holds d and e: a set of at most one. */
static unsigned find_centre_miss(Bitboard white_pawns, Bitboard black_pawns)
{
    Bitboard d = file_mask(FILE_D), e = file_mask(FILE_E);
    Bitboard rams = white_rams(white_pawns, black_pawns);
    if ((rams & (d | e)) == 0)
        return 0;
    if ((rams & d) != 0 && (rams & e) != 0)
        return 1U << PS_NOT_LINKED;

    CentrePointers white = centre_pointers(WHITE, white_pawns);
    CentrePointers black = centre_pointers(BLACK, black_pawns);
    if ((white.kingside && black.kingside) || (white.queenside && black.queenside))
        return 1U << PS_SAME_WAY;
    bool all_there = (white_pawns & d) && (white_pawns & e) && (black_pawns & d) && (black_pawns & e);
    return all_there && (is_linked(white) || is_linked(black)) ? 1U << PS_NOT_RAMMED : 0;
}

unsigned ps_find_near_misses(unsigned pairs, Bitboard white_pawns, Bitboard black_pawns)
{
    static const unsigned rim_files = 1U << FILE_A | 1U << FILE_G;
    unsigned centre = pairs & 1U << FILE_D ? 0 : find_centre_miss(white_pawns, black_pawns);
    return centre | (pairs & rim_files ? 1U << PS_RIM : 0);
}

ps_overview ps_read_overview(const uint64_t pawns[2])
{
    Bitboard white = sensible_pawns(pawns, WHITE), black = sensible_pawns(pawns, BLACK);
    unsigned pairs = files_of_links(white_rams(white, black));
    return (ps_overview){(uint8_t)pairs, (uint8_t)ps_find_near_misses(pairs, white, black)};
}
