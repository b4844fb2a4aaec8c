/* A first line that is a FEN, then words: those that are moves are played, and written and read again they are the
 * same. */
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"
#include "tests/fuzz/fuzz_input.h"

static void try_word(Position *position, const char *word)
{
    Move move, again;
    char text[MOVE_TEXT_SIZE];
    if (lan_parse(position, word, &move) == NOTATION_OK) {
        lan_write(position, move, text);
        fuzz_check(lan_parse(position, text, &again) == NOTATION_OK && again == move);
    }
    if (san_parse(position, word, &move) != NOTATION_OK)
        return;
    fuzz_check(movegen_is_legal(position, move));
    san_write(position, move, text);
    fuzz_check(san_parse(position, text, &again) == NOTATION_OK && again == move);
    position_play(position, move);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size), *rest = text;
    Position position;
    char *line = strsep(&rest, "\n");
    if (fen_parse(line, true, &position, NULL) == FEN_OK) {
        for (char *word; (word = strsep(&rest, " \n"));)
            try_word(&position, word);
    }
    free(text);
    return 0;
}
