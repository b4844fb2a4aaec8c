#include "bench/base/file_conflict.h"
#include "bench/base/complaint.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { SHOWN_SIZE = PATH_MAX + 64 };

/* Where a file is, whether it exists yet or not. */
typedef struct Place {
    NamedFile file;
    const char *stream; /* the name of a standard stream instead */
    bool exists;        /* as a regular file: nothing else can be lost */
    struct stat found;
    bool has_folder;
    struct stat folder;
    const char *name; /* in it */
} Place;

static Place place_of_stream(int descriptor, const char *name, bool written)
{
    Place place = {.file.written = written, .stream = name};
    place.exists = fstat(descriptor, &place.found) == 0 && S_ISREG(place.found.st_mode);
    return place;
}

static Place place_of_file(const NamedFile *file)
{
    if (!file->written && strcmp(file->path, "-") == 0)
        return place_of_stream(STDIN_FILENO, "the standard input", false);
    const char *slash = strrchr(file->path, '/');
    Place place = {.file = *file, .name = slash ? slash + 1 : file->path};
    char folder[PATH_MAX] = ".";
    if (slash)
        snprintf(folder, sizeof folder, "%.*s", (int)(place.name - file->path), file->path);
    place.exists = stat(file->path, &place.found) == 0 && S_ISREG(place.found.st_mode);
    place.has_folder = stat(folder, &place.folder) == 0;
    return place;
}

static bool is_same(const struct stat *a, const struct stat *b)
{
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* Whether b is what SQLite, or a run that is being played, keeps beside the database a. */
static bool is_beside(const Place *a, const Place *b)
{
    static const char *const endings[] = {"-journal", "-wal", "-shm", "-lock"};
    size_t length = strlen(a->name);
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
        if (strncmp(b->name, a->name, length) == 0 && strcmp(b->name + length, endings[i]) == 0)
            return true;
    }
    return false;
}

/* Null if the two have nothing to do with each other. */
static const char *relation(const Place *a, const Place *b)
{
    if (a->exists && b->exists && is_same(&a->found, &b->found))
        return "are one file";
    if (!a->has_folder || !b->has_folder || !is_same(&a->folder, &b->folder))
        return NULL;
    if (strcmp(a->name, b->name) == 0)
        return "are one file";
    return is_beside(a, b) || is_beside(b, a) ? "belong to one database" : NULL;
}

static void show(const Place *place, char text[SHOWN_SIZE])
{
    const NamedFile *file = &place->file;
    if (place->stream)
        snprintf(text, SHOWN_SIZE, "%s", place->stream);
    else
        snprintf(text, SHOWN_SIZE, "%s%s%s%s", file->option ? "--" : "", file->option ? file->option : "",
                 file->option ? " " : "", file->path);
}

static bool is_apart(const char *command, const Place *written, const Place *other)
{
    char texts[2][SHOWN_SIZE];
    const char *found = relation(written, other);
    if (!found)
        return true;
    show(written, texts[0]);
    show(other, texts[1]);
    complain(NULL, 0, "%s: %s and %s %s; expected different files", command, texts[0], texts[1], found);
    return false;
}

bool files_are_apart(const char *command, const NamedFile *files, size_t count)
{
    size_t all = count + 1;
    Place *places = calloc(all, sizeof *places);
    if (!places) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    for (size_t i = 0; i < count; i++)
        places[i] = place_of_file(&files[i]);
    places[count] = place_of_stream(STDOUT_FILENO, "the standard output", true);
    bool apart = true;
    for (size_t i = 0; i < all; i++) {
        for (size_t j = 0; apart && places[i].file.written && j < all; j++)
            apart = i == j || is_apart(command, &places[i], &places[j]);
    }
    free(places);
    return apart;
}
