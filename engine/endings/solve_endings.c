/* Solves the endings that the player knows exactly and writes their tables, one behind the other, to a file:
 *
 *     solve_endings FILE
 */
#include "engine/endings/ending_index.h"
#include "engine/endings/retrograde.h"

#include <stdio.h>
#include <stdlib.h>

/* In this order, so that what captures and promotions lead to is known already. */
static const struct {
    Role own, other;
    EndingName name; /* NO_ENDING: only what promotions to less than a queen lead to */
} plan[] = {
    {QUEEN, NO_ROLE, QUEEN_ENDING},   {ROOK, NO_ROLE, ROOK_ENDING},   {PAWN, NO_ROLE, PAWN_ENDING},
    {QUEEN, ROOK, QUEEN_ROOK_ENDING}, {ROOK, ROOK, NO_ENDING},        {ROOK, BISHOP, NO_ENDING},
    {ROOK, KNIGHT, NO_ENDING},        {ROOK, PAWN, ROOK_PAWN_ENDING},
};

enum { PLANNED = sizeof plan / sizeof *plan };

/* What is kept of a fate; of positions that cannot occur, zeros. */
static int kept(EndingName name, Fate fate, Side turn)
{
    bool known = fate != FATE_DRAWN,
         won = known && (fate % 2 == 0) == (turn == WHITE); /* even: the mover mates */
    if (!ending_has_pawn(name))
        return won ? fate / 2 : 0;
    return won ? ENDING_WON : known ? ENDING_LOST : ENDING_DRAWN;
}

static void pack(EndingName name, const Ending *ending, uint8_t *table)
{
    size_t bits = (size_t)ending_bits(name);
    for (size_t i = 0; i < ending->positions; i++) {
        Square squares[ENDING_MEN];
        Side turn = ending_board(ending, i, squares);
        if (ending->fates[i] == FATE_ILLEGAL || (!ending_has_pawn(name) && turn == BLACK))
            continue;
        size_t at = ending_place(name, turn, squares) * bits;
        table[at / 8] |= (uint8_t)(kept(name, ending->fates[i], turn) << (at % 8));
    }
}

int main(int count, char **arguments)
{
    static Ending endings[PLANNED];
    static uint8_t *tables;
    tables = calloc(ending_offset(ENDING_NAMES), 1);
    FILE *out = count == 2 ? fopen(arguments[1], "wb") : NULL;
    if (!tables || !out) {
        fprintf(stderr, "solve_endings: no memory, or no file to write to; usage: solve_endings FILE\n");
        return EXIT_FAILURE;
    }
    for (int i = 0; i < PLANNED; i++) {
        Man men[] = {{WHITE, plan[i].own}, {BLACK, plan[i].other}};
        if (!ending_solve(&endings[i], men, plan[i].other == NO_ROLE ? 1 : 2, endings, i)) {
            fprintf(stderr, "solve_endings: out of memory\n");
            return EXIT_FAILURE;
        }
        if (plan[i].name != NO_ENDING)
            pack(plan[i].name, &endings[i], tables + ending_offset(plan[i].name));
    }
    size_t bytes = ending_offset(ENDING_NAMES);
    if (fwrite(tables, 1, bytes, out) != bytes || fclose(out) != 0) {
        fprintf(stderr, "solve_endings: %s cannot be written\n", arguments[1]);
        return EXIT_FAILURE;
    }
    return EXIT_SUCCESS;
}
