#include "engine/evaluation/score.h"

#include <stdio.h>
#include <stdlib.h>

void score_write_pawns(int score, char text[SCORE_TEXT_SIZE])
{
    if (!score_is_mate(score))
        snprintf(text, SCORE_TEXT_SIZE, "%c%d.%02d", score < 0 ? '-' : '+', abs(score) / 100,
                 abs(score) % 100);
    else if (score > 0)
        snprintf(text, SCORE_TEXT_SIZE, "mate in %d", score_mate_moves(score));
    else
        snprintf(text, SCORE_TEXT_SIZE, "mated in %d", -score_mate_moves(score));
}

void score_write_centipawns(int score, char text[SCORE_TEXT_SIZE])
{
    if (score_is_mate(score))
        snprintf(text, SCORE_TEXT_SIZE, "mate %d", score_mate_moves(score));
    else
        snprintf(text, SCORE_TEXT_SIZE, "%+d", score);
}
