/* The answer in one line, and the sentences with the names of the pieces. */
#include "bench/explain/answer.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static Position position;
static ps_analysis analysis;

static void set_up(const char *fen)
{
    if (fen_parse(fen, false, &position, NULL) != FEN_OK)
        fail_msg("%s", fen);
    structure_analyse(&position, &analysis);
}

/* Expected lines: what a teacher would say, common practice, no source. The structures are from opening manuals, from
 * memory. */
static void the_answer_is_one_line(void **state)
{
    static const struct {
        const char *fen, *answer;
    } cases[] = {
        /* King's Indian with ...f4: Black's g4 is ready, White's c5 lacks nothing but support. */
        {"r1bq1rk1/ppp1n1bp/3p1n2/3Pp1p1/2P1Pp2/2N2P2/PP1BB1PP/R2QNRK1 b - - 0 1",
         "Black: break with g4. White: prepare c5, which lacks support."},
        /* French Advance with ...f5: the lever of the direction is barred. */
        {"r1b1k2r/pp1nn1pp/1qp1p3/3pPp2/3P4/2PB1N2/PP3PPP/R1BQ1RK1 w - - 0 1",
         "White: f5 is barred; look at c4. Black: break with c5."},
        {"r1b1kbnr/pp3ppp/1qn1p3/2ppP3/3P4/2P2N2/PP3PPP/RNBQKB1R w KQkq - 0 1",
         "White: clear the way for f5: move the knight on f3. Black: c5 is played."},
        {"r1b1k2r/pp1nnppp/1q2p3/3pP3/1b1P4/3B4/PP1N1PPP/R1BQK2R b KQkq - 0 1",
         "Black: play on the open c-file. White: prepare f5, which lacks support."},
        {"r1bq1rk1/1pp1bppp/p1np1n2/4p3/B3P3/2PP1N2/PP3PPP/RNBQR1K1 w - - 0 1",
         "No direction to read. White can break with d4. Black can break with d5."},
        /* Locked on f and g only. */
        {"4k3/5p2/6p1/5pP1/5P2/8/8/4K3 w - - 0 1",
         "The chain says little here. White has no break. Black can break with f6."},
        {"4k3/8/8/8/8/8/8/4K3 w - - 0 1", "No direction to read. White has no break. Black has no break."},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[ANSWER_SIZE];
        set_up(cases[i].fen);
        answer_in_short(&position, &analysis, text);
        if (strcmp(text, cases[i].answer) != 0)
            fail_msg("%s: \"%s\", not \"%s\"", cases[i].fen, text, cases[i].answer);
    }
}

static void pieces_have_their_names(void **state)
{
    char words[PS_EXPLAIN_SIZE];
    (void)state;
    set_up("r1b1k2r/pp1nnppp/1q2p3/3pP3/1b1P1R2/3B1N2/PP1N1PPP/R1BQK3 w Qkq - 0 1");
    answer_in_full(&position, &analysis, words, sizeof words);
    assert_non_null(strstr(words, "and the knight on f3 and the rook on f4 stand in its way"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_answer_is_one_line),
        cmocka_unit_test(pieces_have_their_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
