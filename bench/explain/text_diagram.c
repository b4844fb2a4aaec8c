#include "bench/explain/text_diagram.h"
#include "engine/rules/fen.h"

#include <string.h>

/* A rank is a row of cells four characters apart; the first is the left mark of the a-file. Between two ranks
 * stands a row for what connects them. */
enum { CELL_WIDTH = 4, ROW_COUNT = 2 * RANK_COUNT - 1, ROW_WIDTH = FILE_COUNT * CELL_WIDTH, MARGIN = 6 };

typedef struct Canvas {
    char rows[ROW_COUNT][ROW_WIDTH + 1]; /* rank 1 first */
} Canvas;

static char *man_place(Canvas *canvas, Square square)
{
    return &canvas->rows[2 * rank_of(square)][CELL_WIDTH * file_of(square) + 1];
}

static void draw_men(Canvas *canvas, const Position *position)
{
    for (int square = A1; square <= H8; square++) {
        Role role = position_role(position, square);
        Side side = position->by_side[WHITE] & bit(square) ? WHITE : BLACK;
        *man_place(canvas, square) = role == NO_ROLE ? '.' : fen_man_letter(side, role);
    }
}

static void draw_rams(Canvas *canvas, const Position *position)
{
    Bitboard rams = position_men(position, WHITE, PAWN) & (position_men(position, BLACK, PAWN) >> 8);
    while (rams) {
        Square pawn = take_first(&rams);
        canvas->rows[2 * rank_of(pawn) + 1][CELL_WIDTH * file_of(pawn) + 1] = '|';
    }
}

/* A link between `pawn` and the pawn one rank above it, one file further to the west or east. */
static void draw_link(Canvas *canvas, Square pawn, bool east)
{
    int column = CELL_WIDTH * file_of(pawn) + 1 + (east ? 2 : -2);
    char *place = &canvas->rows[2 * rank_of(pawn) + 1][column];
    char sign = east ? '/' : '\\';
    *place = *place == ' ' || *place == sign ? sign : 'X';
}

static void draw_links(Canvas *canvas, const Position *position)
{
    for (int side = WHITE; side <= BLACK; side++) {
        Bitboard pawns = position_men(position, side, PAWN);
        Bitboard east = pawns & shift_west(pawns >> 8), west = pawns & shift_east(pawns >> 8);
        while (east)
            draw_link(canvas, take_first(&east), true);
        while (west)
            draw_link(canvas, take_first(&west), false);
    }
}

static void draw_lever(Canvas *canvas, const ps_lever *lever, const char brackets[2])
{
    if (lever->square == PS_NO_SQUARE)
        return;
    char *place = man_place(canvas, lever->square);
    place[-1] = brackets[0];
    place[1] = brackets[1];
}

static void draw_levers(Canvas *canvas, const ps_analysis *analysis)
{
    /* Base levers last: where both fall on one square, they count. */
    for (int base = 0; base <= 1; base++) {
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            const ps_chain_side *chain = ps_plan_chain(analysis, side);
            if (chain)
                draw_lever(canvas, base ? &chain->base_lever : &chain->head_lever, base ? "[]" : "()");
        }
    }
}

static void draw_arrows(Canvas *canvas, const ps_analysis *analysis)
{
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_chain_side *chain = ps_plan_chain(analysis, side);
        if (!chain)
            continue;
        char *head = man_place(canvas, chain->head), *tip = &head[2 * chain->direction];
        char sign = chain->direction > 0 ? '>' : '<';
        if (chain->toward == PS_NO_FILE)
            continue;
        if (head[chain->direction] == ' ')
            head[chain->direction] = '-';
        *tip = *tip == ' ' || *tip == sign ? sign : 'X';
    }
}

/* The row behind what has been printed of the margin. */
static void print_row(FILE *out, int label_width, const char *row)
{
    int length = ROW_WIDTH;
    while (length > 0 && row[length - 1] == ' ')
        length--;
    if (length > 0)
        fprintf(out, "%*s%.*s", MARGIN - label_width, "", length, row);
    fputc('\n', out);
}

void text_diagram_print(FILE *out, const Position *position, const ps_analysis *analysis)
{
    Canvas canvas;
    memset(&canvas, ' ', sizeof canvas);
    draw_men(&canvas, position);
    draw_rams(&canvas, position);
    draw_links(&canvas, position);
    draw_levers(&canvas, analysis);
    draw_arrows(&canvas, analysis);
    for (int row = ROW_COUNT - 1; row >= 0; row--) {
        int label_width = row % 2 == 0 ? fprintf(out, "  %d", row / 2 + 1) : 0;
        print_row(out, label_width, canvas.rows[row]);
    }
    fputs("\n       a   b   c   d   e   f   g   h\n", out);
}

void text_diagram_print_legend(FILE *out)
{
    fputs("       |  ram   / \\  chain   ->  direction   [ ]  base lever   ( )  head lever\n", out);
}
