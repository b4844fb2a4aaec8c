/* What another program does with libpawnstructure: C11 and C++, against an installed copy. */
#include <pawnstructure/structure.h>
#include <stdio.h>

static const char diagram[] = "r..qk..r"
                              "pp.n.ppp"
                              "....p..."
                              "..ppP..."
                              "...P...."
                              "..P..N.."
                              "PP...PPP"
                              "R..QK..R";

static void print_plan(const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    const ps_lever *lever = ps_plan_lever(analysis, side);
    printf("%s: %s", ps_side_name(side), ps_verdict_name(plan->verdict));
    if (lever != NULL) {
        const ps_chain *chain = &analysis->chains[plan->chain];
        printf(", chain %s, %s", ps_files_name(chain->first_file, chain->last_file),
               ps_region_name(plan->region));
        if (ps_lever_is_live(lever))
            printf(", %s %s in %d", ps_square_name(lever->square), ps_status_name(lever->status),
                   lever->tempi);
    }
    putchar('\n');
}

int main(void)
{
    ps_board board;
    ps_analysis analysis;
    ps_skeleton skeleton;
    ps_side_term sides[2];
    char words[PS_EXPLAIN_SIZE];

    if (!ps_board_from_diagram(&board, diagram, PS_WHITE))
        return 1;
    ps_analyse(&analysis, &board);
    printf("library %s\n", ps_version());
    print_plan(&analysis, PS_WHITE);
    print_plan(&analysis, PS_BLACK);

    ps_read_skeleton(&skeleton, board.pawns, PS_STRICT);
    int score = ps_term_parts(sides, &skeleton, &board, &ps_default_weights);
    printf("term %d, of which White's lever %d\n", score, sides[PS_WHITE].parts[PS_PART_LEVER]);

    ps_explain(words, sizeof words, &analysis, &board);
    puts(words);
    return 0;
}
