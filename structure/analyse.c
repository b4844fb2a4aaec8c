#include "structure/breaks.h"
#include "structure/grow.h"
#include "structure/near_miss.h"
#include "structure/plan.h"
#include "structure/tension.h"

static ps_chain_side read_chain_side(const ps_board *board, Side side, Diagonal diagonal)
{
    Pointer pointer = point(side, diagonal);
    Square base_lever = base_lever_square(pointer);
    Square head_lever = head_lever_square(pointer);
    int step = forward_step(side);
    return (ps_chain_side){
        .head = pointer.head,
        .base = pointer.base,
        .direction = pointer.direction,
        .toward = base_lever == NO_SQUARE ? PS_NO_FILE : (int)file_of(base_lever),
        .base_lever = ps_read_lever(board, side, base_lever, pointer.head + step),
        .head_lever = ps_read_lever(board, side, head_lever, pointer.base + step),
    };
}

/* Fills in the chains. Returns the pawns of both sides that stand in them. */
static Bitboard read_chains(ps_analysis *out, const ps_board *board, Bitboard rams)
{
    Diagonal diagonals[PS_MAX_CHAINS];
    out->chain_count = ps_find_diagonals(rams, diagonals);
    for (int i = 0; i < out->chain_count; i++)
        out->chains[i] = (ps_chain){
            .first_file = file_of(diagonals[i].west),
            .last_file = file_of(diagonals[i].east),
            .grade = ps_grade_of_pairs(files_of_diagonal(diagonals[i])),
            .side = {read_chain_side(board, WHITE, diagonals[i]),
                     read_chain_side(board, BLACK, facing_diagonal(diagonals[i]))},
        };
    Bitboard white = linked_pawns(rams);
    return white | white << 8;
}

static void list_near_misses(ps_analysis *out, unsigned set)
{
    out->near_miss_count = 0;
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++)
        if (set & 1U << i)
            out->near_misses[out->near_miss_count++] = i;
}

static void analyse(ps_analysis *out, const ps_board *board)
{
    Bitboard white = sensible_pawns(board->pawns, WHITE);
    Bitboard black = sensible_pawns(board->pawns, BLACK);
    Bitboard rams = white_rams(white, black);
    Bitboard locked = read_chains(out, board, rams);

    for (Side side = WHITE; side <= BLACK; side++)
        out->plan[side] = ps_make_plan(out, board, side);
    out->first_to_break = ps_find_first_to_break(out, board->to_move);
    list_near_misses(out, ps_find_near_misses(files_of_links(rams), white, black));
    for (Side side = WHITE; side <= BLACK; side++) {
        ps_find_tension(&out->tension[side], board, side, locked);
        ps_find_breaks(&out->breaks[side], out, board, side);
    }
}

void ps_analyse_sized(ps_analysis *out, size_t out_size, const ps_board *board, size_t board_size)
{
    ps_board whole_board;
    ps_analysis whole;
    if (board_size < sizeof whole_board) {
        copy_grown(&whole_board, sizeof whole_board, board, board_size);
        board = &whole_board;
    }
    if (out_size == sizeof whole) { /* nothing to copy */
        analyse(out, board);
        return;
    }
    analyse(&whole, board);
    copy_grown(out, out_size, &whole, sizeof whole);
}
