/* Lines of EPD, with what contrast and explain ask of them. */
#include "bench/pgn/epd.h"
#include "tests/fuzz/fuzz_input.h"

static bool use(void *context, const EpdRecord *record)
{
    MoveList moves;
    char error[EPD_ERROR_SIZE];
    (void)context;
    epd_moves(record, "bm", &moves, error);
    epd_moves(record, "am", &moves, error);
    for (int i = 0; i < record->operation_count; i++)
        fuzz_check(epd_find(record, record->operations[i].opcode) != NULL);
    const char *id = epd_text(record, "id");
    fuzz_check(id == NULL || strlen(id) < SIZE_MAX);
    return true;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    FILE *stream = fmemopen(text, size ? size : 1, "r");
    if (stream) {
        epd_read_stream(stream, "input", use, NULL);
        fclose(stream);
    }
    free(text);
    return 0;
}
