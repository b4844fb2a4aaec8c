#include "bench/lesson/handout_pages.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"
#include "bench/lesson/story_words.h"
#include "bench/page/page.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char index_file[] = "index.html";

enum { LINK_SIZE = 32 };

typedef struct Folder {
    const Handout *handout;
    const char *path;
    int studied; /* items, the first ones */
} Folder;

static bool make_folder(const char *path)
{
    struct stat found;
    if (mkdir(path, 0777) == 0 || (errno == EEXIST && stat(path, &found) == 0 && S_ISDIR(found.st_mode)))
        return true;
    complain(path, 0, "cannot be made: %s; expected a folder, or a name that is free", strerror(errno));
    return false;
}

static char *path_in(const char *folder, const char *name)
{
    char *path;
    return asprintf(&path, "%s/%s", folder, name) < 0 ? NULL : path;
}

char *handout_index_path(const char *folder)
{
    return path_in(folder, index_file);
}

static void write_entry(FILE *out, const HandoutItem *item, int number, bool studied)
{
    char link[LINK_SIZE], words[512], text[STORY_TEXT_SIZE];
    const char *name = item->name != NULL ? item->name : item->lesson != NULL ? "A position" : "A game";
    bool decided = item->result != NULL && *item->result != '*';
    const char *result = decided && strcmp(item->result, "1/2-1/2") == 0 ? "½–½" : item->result;
    snprintf(link, sizeof link, "%d.html", number);
    snprintf(words, sizeof words, "%s%s%s", name, decided ? ", " : "", decided ? result : "");
    if (item->lesson == NULL)
        story_in_short(&item->story, text, sizeof text);
    page_list_way(out, link, words, "%s%s", item->lesson != NULL ? item->lesson->answer : text,
                  studied ? "" : " Not calculated yet.");
}

static void write_index(FILE *out, const void *context)
{
    const Folder *folder = context;
    const Handout *handout = folder->handout;
    page_begin(out, handout->title, NULL, NULL);
    page_numbered_list_begin(out);
    for (int i = 0; i < handout->count; i++)
        write_entry(out, &handout->items[i], i + 1, i < folder->studied);
    page_numbered_list_end(out);
    page_end(out, handout_closing);
}

static void write_item(FILE *out, const void *handout)
{
    handout_write_page(out, handout);
}

static bool write_file(const char *folder, const char *name, void (*write)(FILE *, const void *),
                       const void *context)
{
    OutputFile file;
    char *path = path_in(folder, name);
    if (path == NULL)
        complain(folder, 0, "memory ran out");
    bool good = path != NULL && output_open(&file, path);
    free(path);
    if (!good)
        return false;
    write(file.stream, context);
    return output_commit(&file);
}

/* A sheet of that item alone, under the number that it has. */
static bool write_page(const Folder *folder, int i)
{
    Handout one = *folder->handout;
    char name[LINK_SIZE];
    one.items = &folder->handout->items[i];
    one.count = 1;
    one.numbers_before = i;
    one.index = index_file;
    snprintf(name, sizeof name, "%d.html", i + 1);
    return write_file(folder->path, name, write_item, &one);
}

static bool study(Handout *handout, int i, Progress *progress)
{
    if (handout_study_item(handout, i, progress))
        return true;
    complain(NULL, 0, "memory ran out");
    return false;
}

bool handout_write_pages(Handout *handout, const char *path, Progress *progress)
{
    Folder folder = {handout, path, 0};
    const uint64_t nodes = handout->settings.effort.nodes;
    bool good = make_folder(path);
    handout->settings.effort.nodes = 0;
    for (int i = 0; good && i < handout->count; i++)
        good = study(handout, i, NULL) && write_page(&folder, i);
    good = good && write_file(path, index_file, write_index, &folder);
    handout->settings.effort.nodes = nodes;
    progress->total = (size_t)handout->count;
    for (int i = 0; good && i < handout->count; i++) {
        good = study(handout, i, progress) && write_page(&folder, i);
        folder.studied++;
        good = good && write_file(path, index_file, write_index, &folder);
    }
    progress_clear(progress);
    return good;
}
