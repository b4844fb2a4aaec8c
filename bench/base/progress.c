#include "bench/base/progress.h"
#include "bench/base/monotonic.h"

#include <stdio.h>
#include <unistd.h>

enum { SHOW_EVERY_MS = 200 };

void progress_start(Progress *progress, const char *what, size_t total, bool quiet)
{
    *progress = (Progress){.what = what, .total = total, .visible = !quiet && isatty(STDERR_FILENO) != 0};
    progress->started_ms = monotonic_ms();
}

void progress_show(Progress *progress, size_t done, const char *note)
{
    int64_t now = monotonic_ms();
    if (!progress->visible || now - progress->shown_ms < SHOW_EVERY_MS)
        return;
    progress->shown_ms = now;
    double seconds = (double)(now - progress->started_ms) / 1000;
    double rate = seconds > 0 ? (double)done / seconds : 0;
    fprintf(stderr, "\r\033[K%zu", done);
    if (progress->total)
        fprintf(stderr, " of %zu", progress->total);
    fprintf(stderr, " %s, %.1f a second", progress->what, rate);
    if (progress->total && rate > 0) {
        int left = (int)((double)(progress->total - done) / rate + 0.5);
        fprintf(stderr, ", %d:%02d:%02d left", left / 3600, left / 60 % 60, left % 60);
    }
    if (note)
        fprintf(stderr, ", %s", note);
    fflush(stderr);
}

void progress_clear(Progress *progress)
{
    if (progress->visible) {
        fputs("\r\033[K", stderr);
        fflush(stderr);
    }
    progress->shown_ms = 0;
}
