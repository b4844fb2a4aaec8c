#include "engine/rules/zobrist.h"

#include "structure/mix.h"

uint64_t zobrist_man[SIDE_COUNT][ROLE_COUNT][SQUARE_COUNT];
uint64_t zobrist_castling[SQUARE_COUNT];
uint64_t zobrist_en_passant[FILE_COUNT];
uint64_t zobrist_black_to_move;

/* SplitMix64 (G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number generators", 2014). */
static uint64_t next_key(uint64_t *state)
{
    return mix_bits(*state += UINT64_C(0x9E3779B97F4A7C15));
}

__attribute__((constructor)) static void fill_keys(void)
{
    uint64_t state = UINT64_C(0x5061776E76616E65); /* "Pawnvane" */
    for (Side side = WHITE; side <= BLACK; side++)
        for (Role role = PAWN; role <= KING; role++)
            for (Square square = A1; square <= H8; square++)
                zobrist_man[side][role][square] = next_key(&state);
    for (Square square = A1; square <= H8; square++)
        zobrist_castling[square] = next_key(&state);
    for (File file = FILE_A; file <= FILE_H; file++)
        zobrist_en_passant[file] = next_key(&state);
    zobrist_black_to_move = next_key(&state);
}
