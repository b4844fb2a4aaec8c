/* What the fuzz targets have in common: each is a libFuzzer target (LLVM, "libFuzzer – a library for coverage-guided
 * fuzz testing"), which `make fuzz` builds and runs. */
#ifndef PAWNVANE_TESTS_FUZZ_INPUT_H
#define PAWNVANE_TESTS_FUZZ_INPUT_H

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* The input as a string that ends where it does, so that AddressSanitizer sees what is read beyond. To be freed. */
static inline char *fuzz_text(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    if (!text)
        abort();
    memcpy(text, data, size);
    text[size] = '\0';
    return text;
}

/* Fails with the input that broke a promise. */
static inline void fuzz_check(int good)
{
    if (!good)
        abort();
}

#endif
