#include "bench/chance/chance_output.h"
#include "bench/base/output_file.h"

/* Every table of ChanceTables, in order, with the number of its columns. */
static const struct {
    const char *name;
    size_t offset, size, across;
} members[] = {
#define MEMBER(member)                                                                                       \
    {                                                                                                        \
#member, offsetof(ChanceTables, member), sizeof(((ChanceTables *)0)->member),                        \
            sizeof *((ChanceTables *)0)->member / sizeof(int16_t)                                            \
    }
    MEMBER(by_number),  MEMBER(by_gap_before), MEMBER(by_history),
    MEMBER(by_squares), MEMBER(by_sort),       MEMBER(by_gap_behind),
#undef MEMBER
};

enum { MEMBERS = sizeof members / sizeof *members };

static void write_origin(FILE *out, const ChanceReport *r, const char *command, const char *sample)
{
    static const char *const names[CHANCE_SUMS] = {[SUM_BEHIND] = "behind", [SUM_BEFORE] = "before"};
    origin_begin_comment(out, command, sample);
    fprintf(
        out,
        " * Mean log-loss on %zu moves of %zu games fitted to, and on %zu of %zu games held out, with the\n"
        " * standard error of the change there:\n",
        r->fitted.moves, r->fitted.games, r->held_out.moves, r->held_out.games);
    for (int i = 0; i < CHANCE_SUMS; i++)
        fprintf(out, " *     static score %s the move: %.6f before, %.6f after; %.6f, %.6f; %.6f\n", names[i],
                r->fitted.before[i], r->fitted.after[i], r->held_out.before[i], r->held_out.after[i],
                r->change[i].error);
    fputs(" * See bench/chance/chance_fit.h. */\n", out);
}

static void write_member(FILE *out, const ChanceTables *tables, int member)
{
    const int16_t *cell = (const int16_t *)(const void *)((const char *)tables + members[member].offset);
    size_t across = members[member].across, rows = members[member].size / sizeof *cell / across;
    fprintf(out, "    .%s = {\n", members[member].name);
    for (size_t row = 0; row < rows; row++) {
        fputs("        {", out);
        for (size_t i = 0; i < across; i++)
            fprintf(out, "%s%d", i ? ", " : "", *cell++);
        fputs("},\n", out);
    }
    fputs("    },\n", out);
}

bool chance_write(const char *path, const ChanceTables *tables, const ChanceReport *report,
                  const char *command, const char *sample)
{
    OutputFile file;
    if (!output_open(&file, path))
        return false;
    write_origin(file.stream, report, command, sample);
    fprintf(file.stream,
            "#include \"engine/search/chance_tables.h\"\n\n"
            "const ChanceTables chance_tables = {\n"
            "    .any = %d,\n",
            tables->any);
    for (int i = 0; i < MEMBERS; i++)
        write_member(file.stream, tables, i);
    fputs("};\n", file.stream);
    return output_commit(&file);
}
