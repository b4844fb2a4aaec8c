/* What report reads of contrasts: lines of JSON. The page is written from them. */
#include "bench/report/report_page.h"
#include "tests/fuzz/fuzz_input.h"

#include <sys/mman.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char path[64], *page = NULL;
    size_t length;
    ReadContrast contrast;
    int file = memfd_create("contrast", 0);
    fuzz_check(file >= 0 && write(file, data, size) == (ssize_t)size);
    snprintf(path, sizeof path, "/proc/self/fd/%d", file);
    if (contrast_read_file(&contrast, path)) {
        const Report report = {.contrast_count = 1, .contrasts = &contrast};
        FILE *out = open_memstream(&page, &length);
        report_write_page(out, &report, "input");
        fclose(out);
        free(page);
    }
    read_contrast_free(&contrast);
    close(file);
    return 0;
}
