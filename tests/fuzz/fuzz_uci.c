/* Dialogues: the engine reads them to their end, whatever they ask for. */
#include "engine/protocol/uci.h"
#include "tests/fuzz/fuzz_input.h"

/* Takes out what would only need the machine's memory and threads: the words that name these options. */
static void leave_machine(char *text)
{
    static const char *const names[] = {"hash", "threads"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        for (char *at = text; (at = strcasestr(at, names[i]));)
            *at = '-';
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size), *dialogue = NULL, *answers = NULL;
    size_t length;
    leave_machine(text);
    if (asprintf(&dialogue, "%s\nquit\n", text) < 0)
        abort();
    FILE *in = fmemopen(dialogue, strlen(dialogue), "r"), *out = open_memstream(&answers, &length);
    fuzz_check(in && out);
    fuzz_check(uci_loop(in, out) == 0);
    fclose(in);
    fclose(out);
    free(answers);
    free(dialogue);
    free(text);
    return 0;
}
