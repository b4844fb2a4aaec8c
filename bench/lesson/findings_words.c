#include "bench/lesson/findings_words.h"

/* Written by bench/findings/run --write. */
/* clang-format off */
const char *const findings_words[FINDINGS_WORDS] = {
    ("In 12,700 games of strong players the first pawn lever on a wing after a lock on d and e "
     "came on the wing to which the chain points in 68 % of cases (1,214 of 1,782) while the "
     "named lever could still be played, and in 43 % (120 of 277) where it could not; that they "
     "broke there does not show that they should have."),
    ("Among games with the same first six plies the odds of a lever on the kingside are 3.4 "
     "times as great if the chain points there as if it points to the queenside (95 % interval "
     "2.0 to 5.6, from 682 of 2,059 sides); to someone who knows the opening the direction is "
     "not shown to add anything, and a lock is not shown to do more than linked pawns that are "
     "not rammed."),
    ("Given the rule as a term of its evaluation, the engine of this project shows this: read "
     "strictly, no difference is shown (-8.4 Elo, 95 % interval -19.0 to +2.2, 1,200 pairs of "
     "games); misread, so that any two linked pawns count, no difference is shown (-7.2 Elo, 95 "
     "% interval -19.0 to +4.5, 1,200 pairs of games)."),
};
/* clang-format on */
