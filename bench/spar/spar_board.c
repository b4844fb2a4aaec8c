#include "bench/spar/spar_board.h"
#include "engine/rules/notation.h"

static char letter_of(const Position *p, Square square)
{
    static const char letters[SIDE_COUNT][ROLE_COUNT + 1] = {"PNBRQK", "pnbrqk"};
    Role role = position_role(p, square);
    if (role == NO_ROLE)
        return '.';
    return letters[p->by_side[WHITE] & bit(square) ? WHITE : BLACK][role];
}

void spar_board_print(FILE *out, const Position *position, Side below)
{
    for (int line = 0; line < RANK_COUNT; line++) {
        int rank = below == WHITE ? RANK_8 - line : line;
        fprintf(out, "%d ", rank + 1);
        for (int column = 0; column < FILE_COUNT; column++)
            fprintf(out, " %c",
                    letter_of(position, square_at(below == WHITE ? column : FILE_H - column, rank)));
        fputc('\n', out);
    }
    fputs(below == WHITE ? "   a b c d e f g h\n" : "   h g f e d c b a\n", out);
}

static void print_men(FILE *out, const Position *p, Side side)
{
    static const char *const names[ROLE_COUNT][2] = {{"pawn", "pawns"},     {"knight", "knights"},
                                                     {"bishop", "bishops"}, {"rook", "rooks"},
                                                     {"queen", "queens"},   {"king", "king"}};
    const char *gap = ": ";
    fputs(side == WHITE ? "White" : "Black", out);
    for (Role role = KING; role >= PAWN; role--) {
        Bitboard men = position_men(p, side, role);
        if (!men)
            continue;
        fprintf(out, "%s%s", gap, names[role][more_than_one(men)]);
        for (const char *comma = " "; men; comma = ", ") {
            char name[3];
            square_write(take_first(&men), name);
            fprintf(out, "%s%s", comma, name);
        }
        gap = "; ";
    }
    fputs(".\n", out);
}

void spar_board_print_words(FILE *out, const Position *position)
{
    print_men(out, position, WHITE);
    print_men(out, position, BLACK);
}

/* "White may castle on both wings" */
static void print_castling(FILE *out, const Position *p, Side side)
{
    Bitboard rooks = p->castling_rooks & p->by_side[side];
    fprintf(out, "%s may%s castle", side == WHITE ? "White" : "Black", rooks ? "" : " not");
    if (more_than_one(rooks))
        fputs(" on both wings", out);
    else if (rooks)
        fputs(first_square(rooks) > position_king(p, side) ? " kingside" : " queenside", out);
}

void spar_board_print_castling(FILE *out, const Position *position)
{
    if (!position->castling_rooks) {
        fputs("Neither side may castle.\n", out);
        return;
    }
    print_castling(out, position, WHITE);
    fputs("; ", out);
    print_castling(out, position, BLACK);
    fputs(".\n", out);
}
