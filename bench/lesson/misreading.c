#include "bench/lesson/misreading.h"

/* Common practice among teachers, no source. */
static const char *const near_miss_texts[PS_NEAR_MISS_COUNT] = {
    [PS_NOT_LINKED] =
        "Two rams on d and e make the centre look like a locked chain. But these pawns do not defend each "
        "other: there is no chain, no head and no base, and a direction read off them is made up.",
    [PS_SAME_WAY] =
        "Both sides have linked pawns on d and e, and both lean the same way, so one is tempted "
        "to say that both should attack over there. Look again: one of the two cannot be right. One "
        "of the two files is not blocked, and whoever moves or captures there changes the chain, and "
        "the direction with it.",
    [PS_NOT_RAMMED] = "The linked pawns on d and e look like a chain to play along. But one of the two files "
                      "is not blocked: the centre may open at any moment, and an attack on the wing that "
                      "relies on a closed centre is then late.",
    [PS_RIM] = "Locked pawns at the edge of the board look like a chain, too. Out there no pawn can come "
               "from outside to strike at the base: read nothing into them.",
};

/* What is misread when the direction names a lever in this state. */
static const char *const status_texts[PS_STATUS_COUNT] = {
    [PS_PLAYED] = "The lever stands on the board already. The mistake is to take at once, because one can: "
                  "the pawn that keeps attacking often does more than the one that has captured.",
    [PS_READY] = "The lever is ready, and still the usual choice is one more preparing move. Ask first what "
                 "the opponent does with the tempo.",
    [PS_OPEN] = "The way is free, so the break seems as good as played. Count the tempi: the opponent's "
                "lever on the other wing may be there first.",
    [PS_UNSUPPORTED] = "The direction says where to break, not that the break works now. By count the pawn "
                       "would arrive with too few helpers; pushing at once may only give it away. But a "
                       "count is not a calculation: see what the engine says.",
    [PS_OBSTRUCTED] = "One sees the lever and forgets the piece in front of the pawn. Each piece in the way "
                      "costs a move, often the very move by which the opponent comes first.",
    [PS_BEYOND] =
        "The lever has been played and has gone past, and still the pieces look for it. The direction "
        "names the wing, no longer a pawn move: play there, with what the pawn has opened or taken.",
    [PS_CLEARED] =
        "The file that the lever was to open is open, and one goes on looking for a pawn to push. The "
        "direction names the wing, no longer a pawn move: bring the pieces to the open file.",
    [PS_BARRED] =
        "The chain points there, so the pieces are sent there. But an enemy pawn bars the lever, and without "
        "a lever the pieces wait before a locked door. Look for the lever on the other side of the chain.",
    [PS_GONE] = "The chain points there, so the pieces are sent there. But there is no pawn left that could "
                "play the lever, and without a lever the pieces wait before a locked door. Look for the "
                "lever on the other side of the chain.",
};

static const char off_board_text[] = "The chain points to the edge of the board, so one heaps up pieces "
                                     "there. But no file is left from which a pawn "
                                     "could strike at the base: there is nothing to break with at that end.";

static const char weak_text[] = "One reads a whole wing into the direction. A chain on these files names one "
                                "file at most, and often it is not what the position is about.";

static const char none_text[] =
    "There are pawns, so one looks for a plan in their direction. Here no two rams stand side by side in a "
    "chain: the direction says nothing, and the breaks that are open count by themselves.";

int misreadings_of(const ps_analysis *analysis, ps_side to_move, const char *texts[MISREADINGS_MAX])
{
    int count = 0;
    for (int i = 0; i < analysis->near_miss_count; i++)
        texts[count++] = near_miss_texts[analysis->near_misses[i]];
    const ps_lever *lever = ps_plan_lever(analysis, to_move);
    if (lever == NULL) {
        if (count == 0)
            texts[count++] = none_text;
    } else {
        texts[count++] = analysis->plan[to_move].verdict == PS_WEAK ? weak_text
                         : lever->square == PS_NO_SQUARE            ? off_board_text
                                                                    : status_texts[lever->status];
    }
    return count;
}
