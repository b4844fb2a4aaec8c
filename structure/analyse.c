#include "structure/breaks.h"
#include "structure/near_miss.h"
#include "structure/plan.h"

static ps_pair_side read_pair_side(const ps_board *board, Side side, Link link)
{
    Pointer pointer = point(side, link);
    Square base_lever = base_lever_square(pointer);
    Square head_lever = head_lever_square(pointer);
    int step = forward_step(side);
    return (ps_pair_side){
        .head = pointer.head,
        .base = pointer.base,
        .direction = pointer.direction,
        .toward = base_lever == NO_SQUARE ? PS_NO_FILE : (int)file_of(base_lever),
        .base_lever = ps_read_lever(board, side, base_lever, (Square)(pointer.head + step)),
        .head_lever = ps_read_lever(board, side, head_lever, (Square)(pointer.base + step)),
    };
}

static void list_near_misses(ps_analysis *out, unsigned set)
{
    out->near_miss_count = 0;
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++)
        if (set & 1U << i)
            out->near_misses[out->near_miss_count++] = (ps_near_miss)i;
}

void ps_analyse(ps_analysis *out, const ps_board *board)
{
    Bitboard white = sensible_pawns(board->pawns, WHITE);
    Bitboard black = sensible_pawns(board->pawns, BLACK);
    Link links[PS_MAX_PAIRS];

    out->pair_count = ps_find_links(white_rams(white, black), links);
    for (int i = 0; i < out->pair_count; i++) {
        int file = (int)file_of(links[i].west);
        out->pairs[i] = (ps_pair){
            .file = file,
            .grade = ps_grade_of_files(file),
            .side = {read_pair_side(board, WHITE, links[i]),
                     read_pair_side(board, BLACK, facing_link(links[i]))},
        };
    }
    for (int side = WHITE; side <= BLACK; side++)
        out->plan[side] = ps_make_plan(out, board, (Side)side);
    out->first_to_break = ps_find_first_to_break(out, board->to_move);
    list_near_misses(out, ps_find_near_misses(files_of_links(white_rams(white, black)), white, black));
    for (int side = WHITE; side <= BLACK; side++)
        ps_find_breaks(&out->breaks[side], out, board, (Side)side);
}
