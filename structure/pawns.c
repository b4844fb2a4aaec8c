#include "structure/pawns.h"

int ps_find_links(Bitboard pawns, Link out[PS_MAX_PAIRS])
{
    Bitboard neighbours = shift_west(pawns);
    Bitboard linked = pawns & (neighbours << 8 | neighbours >> 8);
    int count = 0;
    for (int file = FILE_A; linked != 0 && file < FILE_H; file++) {
        for (Bitboard rest = linked & file_mask(file); rest != 0;) {
            Square west = take_first(&rest);
            for (int east = west + 1 - 8; east <= west + 1 + 8; east += 16)
                if ((pawns & bit((Square)east)) != 0 && count < PS_MAX_PAIRS)
                    out[count++] = (Link){west, (Square)east};
        }
        linked &= ~file_mask(file);
    }
    return count;
}

ps_grade ps_grade_of_files(int file)
{
    static const ps_grade grades[FILE_COUNT - 1] = {
        [FILE_A] = PS_VOID,   [FILE_B] = PS_DOUBTFUL, [FILE_C] = PS_LIKELY, [FILE_D] = PS_FIRM,
        [FILE_E] = PS_LIKELY, [FILE_F] = PS_DOUBTFUL, [FILE_G] = PS_VOID,
    };
    return grades[file];
}
