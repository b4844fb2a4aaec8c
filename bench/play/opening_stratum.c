#include "bench/play/opening_stratum.h"
#include "engine/evaluation/structure_view.h"

const char *const stratum_names[STRATUM_COUNT] = {"firm-applies", "firm-misleading", "likely",
                                                  "doubtful",     "near-miss",       "open-centre"};

/* d- and e-file: nothing is rammed, and at least one of them is open. */
static bool centre_is_open(const Position *p)
{
    Bitboard white = position_men(p, WHITE, PAWN), black = position_men(p, BLACK, PAWN);
    Bitboard rams = white & (black >> 8);
    Bitboard files[] = {file_mask(FILE_D), file_mask(FILE_E)};
    return !(rams & (files[0] | files[1])) &&
           (!((white | black) & files[0]) || !((white | black) & files[1]));
}

Stratum stratum_of(const Position *position)
{
    ps_analysis analysis;
    structure_analyse(position, &analysis);
    const ps_plan *plan = analysis.plan;
    if (plan[WHITE].verdict != PS_NONE) {
        switch (analysis.chains[plan[WHITE].chain].grade) {
        case PS_FIRM:
            if (plan[WHITE].verdict == PS_MISLEADING || plan[BLACK].verdict == PS_MISLEADING)
                return STRATUM_FIRM_MISLEADING;
            return plan[WHITE].verdict == PS_APPLIES && plan[BLACK].verdict == PS_APPLIES
                       ? STRATUM_FIRM_APPLIES
                       : STRATUM_OTHER;
        case PS_LIKELY:
            return STRATUM_LIKELY;
        default:
            return STRATUM_DOUBTFUL;
        }
    }
    if (analysis.near_miss_count > 0)
        return STRATUM_NEAR_MISS;
    return analysis.chain_count == 0 && centre_is_open(position) ? STRATUM_OPEN_CENTRE : STRATUM_OTHER;
}
