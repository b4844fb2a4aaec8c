/* A FEN that is read can be written, and says the same when it is read again. */
#include "engine/rules/fen.h"
#include "engine/rules/movegen.h"
#include "tests/fuzz/fuzz_input.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size), first[FEN_SIZE], again[FEN_SIZE];
    for (int chess960 = 0; chess960 < 2; chess960++) {
        Position position, copy;
        const char *rest;
        if (fen_parse(text, chess960, &position, &rest) != FEN_OK)
            continue;
        fuzz_check(rest >= text && rest <= text + size);
        movegen_any(&position);
        fen_write(&position, first);
        fuzz_check(fen_parse(first, chess960, &copy, NULL) == FEN_OK);
        fen_write(&copy, again);
        fuzz_check(strcmp(first, again) == 0 && position.key == copy.key);
    }
    free(text);
    return 0;
}
