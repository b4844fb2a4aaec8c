#include "engine/search/memory.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

enum { HUGE_PAGE = 2 << 20 };

/* The number behind a word in a file of the kernel, or the first number there is; `otherwise` without
 * either. */
static size_t read_number(const char *path, const char *word, size_t otherwise)
{
    char line[128];
    unsigned long long number = otherwise;
    FILE *file = fopen(path, "r");
    if (!file)
        return otherwise;
    while (fgets(line, sizeof line, file)) {
        size_t length = strlen(word);
        if (strncmp(line, word, length) == 0 && sscanf(line + length, "%llu", &number) == 1)
            break;
    }
    fclose(file);
    return (size_t)number;
}

static size_t at_most(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* What a control group of this process may have in all, in both versions of the kernel's interface. */
static size_t group_limit(void)
{
    return at_most(read_number("/sys/fs/cgroup/memory.max", "", SIZE_MAX),
                   read_number("/sys/fs/cgroup/memory/memory.limit_in_bytes", "", SIZE_MAX));
}

/* The second number of statm is what of this process is in memory. */
static size_t held(void)
{
    unsigned long long size, resident = 0;
    FILE *file = fopen("/proc/self/statm", "r");
    if (!file)
        return 0;
    if (fscanf(file, "%llu %llu", &size, &resident) != 2)
        resident = 0;
    fclose(file);
    return (size_t)resident * (size_t)sysconf(_SC_PAGESIZE);
}

static size_t within_reach(void)
{
    size_t kib = read_number("/proc/meminfo", "MemAvailable:", SIZE_MAX >> 11);
    return at_most(kib * 1024 + held(), group_limit());
}

static size_t whole_pages(size_t bytes)
{
    return (bytes + HUGE_PAGE - 1) / HUGE_PAGE * HUGE_PAGE;
}

void *memory_map(size_t bytes)
{
    if (bytes > SIZE_MAX - 2 * HUGE_PAGE || bytes > within_reach())
        return NULL;
    bytes = whole_pages(bytes);
    /* The system gives huge pages only to what is aligned to them, so more is asked for and the ends given
     * back. */
    char *got = mmap(NULL, bytes + HUGE_PAGE, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (got == MAP_FAILED)
        return NULL;
    size_t before = (HUGE_PAGE - (uintptr_t)got % HUGE_PAGE) % HUGE_PAGE;
    if (before)
        munmap(got, before);
    munmap(got + before + bytes, HUGE_PAGE - before);
    madvise(got + before, bytes, MADV_HUGEPAGE);
    return got + before;
}

void memory_unmap(void *memory, size_t bytes)
{
    munmap(memory, whole_pages(bytes));
}

void memory_clear(void *memory, size_t bytes)
{
    if (madvise(memory, bytes, MADV_DONTNEED) != 0)
        memset(memory, 0, bytes);
}
