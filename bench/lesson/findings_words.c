#include "bench/lesson/findings_words.h"

/* Written by bench/findings/run and obedience, with --write. */
/* clang-format off */
const char *const findings_words[FINDINGS_WORDS] = {
    ("In 12,700 games of strong players the first pawn lever on a wing after a lock on d and e "
     "came on the wing to which the chain points in 68 % of cases (1,214 of 1,782) where the "
     "rule applied, and in 43 % (120 of 277) where its lever was barred, gone or had done its "
     "work; that they broke there does not show that they should have."),
    ("Among games with the same first six plies the odds of a lever on the kingside are 3.4 "
     "times as great if the chain points there as if it points to the queenside (95 % interval "
     "2.0 to 5.6, from 682 of 2,059 sides); yet a forecast of the first lever from the opening "
     "is not shown to get better by the direction, and a lock is not shown to do more than "
     "linked pawns that are not rammed."),
    ("In 1,208 positions of these games in which the named lever could be played at once, the "
     "engine of this project, searching without the rule, found it behind the best move that is "
     "no lever by 17.3 % of winning chances (95 % interval 16.4 to 18.2) and, in 817 of them, "
     "ahead of the best lever elsewhere by 1.0 % of winning chances (95 % interval 0.1 to 1.9)."),
    ("With the rule as a term of its evaluation, against itself without it, the engine of this "
     "project fared like this: read strictly, from openings with a lock, it plays worse (-9.1 "
     "Elo, 95 % interval -14.0 to -4.3, 7,000 pairs of games); misread, so that any two linked "
     "pawns count, from openings with a lock and without, it plays worse (-37.3 Elo, 95 % "
     "interval -42.1 to -32.5, 7,000 pairs of games)."),
};
/* clang-format on */
