#include "bench/lesson/handout_games.h"

#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/pgn/pgn.h"

#include <stdlib.h>

/* The game being read. */
typedef struct Collector {
    Handout *handout;
    const char *path;
    size_t wanted, read;
    bool memory_ran_out, cut;
    Position start;
    int ply_count;
    size_t capacity;
    Move *moves;
    int tag_count;
    HandoutTag tags[PGN_TAGS_MAX];
    int depth; /* of variations */
    Notes notes;
} Collector;

static void forget_tags(Collector *collector)
{
    for (int i = 0; i < collector->tag_count; i++) {
        free(collector->tags[i].name);
        free(collector->tags[i].value);
    }
    collector->tag_count = 0;
}

typedef size_t Copy(PgnText text, char *buffer, size_t size);

static char *copy(Collector *collector, PgnText text, Copy *copy_text)
{
    /* Latin-1 may need two bytes for one, Windows-1252 three. */
    size_t size = 3 * text.length + 1;
    char *string = malloc(size);
    if (string == NULL)
        collector->memory_ran_out = true;
    else
        copy_text(text, string, size);
    return string;
}

static bool begin(void *context, const PgnGame *game)
{
    Collector *collector = context;
    if (collector->memory_ran_out || (collector->wanted != 0 && game->number != collector->wanted))
        return false;
    forget_tags(collector);
    notes_free(&collector->notes);
    collector->ply_count = 0;
    collector->depth = 0;
    collector->start = game->start;
    for (int i = 0; i < game->tag_count; i++)
        collector->tags[collector->tag_count++] =
            (HandoutTag){copy(collector, game->tags[i].name, pgn_text_copy),
                         copy(collector, game->tags[i].value, pgn_text_copy)};
    return !collector->memory_ran_out;
}

static void add_note(Collector *collector, Note note)
{
    note.ply = collector->ply_count;
    if (!notes_add(&collector->notes, note))
        collector->memory_ran_out = true;
}

static void glyph(void *context, const PgnGame *game, int number)
{
    (void)game;
    if (number > 0)
        add_note(context, (Note){.kind = NOTE_GLYPH, .glyph = number});
}

static void comment(void *context, const PgnGame *game, PgnText text)
{
    Collector *collector = context;
    (void)game;
    char *copied = copy(collector, text, pgn_comment_copy);
    if (copied != NULL)
        add_note(collector, (Note){.kind = NOTE_COMMENT, .text = copied});
}

static void begin_variation(void *context, const PgnGame *game)
{
    Collector *collector = context;
    (void)game;
    collector->depth++;
    add_note(collector, (Note){.kind = NOTE_BEGIN});
}

static void end_variation(void *context, const PgnGame *game)
{
    Collector *collector = context;
    (void)game;
    collector->depth--;
    if (!collector->memory_ran_out && !notes_end_variation(&collector->notes, collector->ply_count))
        collector->memory_ran_out = true;
}

static void odd_variation(void *context, const PgnGame *game, const PgnFault *fault)
{
    Collector *collector = context;
    (void)game;
    pgn_complain(collector->path, fault, "the rest of this variation is kept as a comment");
}

static void collect(void *context, const PgnGame *game, Move move)
{
    Collector *collector = context;
    (void)game;
    if (collector->depth > 0) {
        add_note(collector, (Note){.kind = NOTE_MOVE, .move = move});
        return;
    }
    if (!array_reserve(collector->moves, collector->capacity, collector->ply_count, 1)) {
        collector->memory_ran_out = true;
        return;
    }
    collector->moves[collector->ply_count++] = move;
}

static void end(void *context, const PgnGame *game)
{
    Collector *collector = context;
    if (collector->memory_ran_out)
        return;
    const HandoutGame whole = {.start = collector->start,
                               .ply_count = collector->ply_count,
                               .moves = collector->moves,
                               .result = pgn_result_texts[game->result],
                               .tag_count = collector->tag_count,
                               .tags = collector->tags,
                               .notes = &collector->notes};
    collector->read++;
    if (!handout_add_game(collector->handout, &whole))
        collector->memory_ran_out = true;
}

static void broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    Collector *collector = context;
    if (collector->wanted != 0 && game->number != collector->wanted)
        return;
    collector->cut |= fault->cut;
    pgn_complain(collector->path, fault, PGN_LEFT_OUT);
}

bool handout_read_games(Handout *handout, const char *path, size_t wanted)
{
    Collector *collector = calloc(1, sizeof *collector);
    if (collector == NULL) {
        complain(path, 0, "memory ran out");
        return false;
    }
    *collector = (Collector){.handout = handout, .path = path, .wanted = wanted};
    bool good = pgn_read_file(path, &(PgnVisitor){.context = collector,
                                                  .begin = begin,
                                                  .move = collect,
                                                  .glyph = glyph,
                                                  .comment = comment,
                                                  .begin_variation = begin_variation,
                                                  .end_variation = end_variation,
                                                  .odd_variation = odd_variation,
                                                  .end = end,
                                                  .broken = broken});
    if (collector->memory_ran_out)
        complain(path, 0, "memory ran out");
    else if (good && collector->read == 0 && wanted != 0)
        complain(path, 0, "there is no readable game %zu; expected the number of one", wanted);
    else if (good && collector->read == 0)
        complain(path, 0, "there is no readable game; expected at least one");
    good = good && collector->read > 0 && !collector->memory_ran_out && !collector->cut;
    forget_tags(collector);
    notes_free(&collector->notes);
    free(collector->moves);
    free(collector);
    return good;
}
