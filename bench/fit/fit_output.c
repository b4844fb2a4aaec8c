#include "bench/fit/fit_output.h"
#include "bench/base/origin.h"
#include "bench/base/output_file.h"

/* ------------------------------------------------------------------------------------------------- the
 * members Every member of EvalWeights, in order. `across` is how many stand on a line; the square tables are
 * boards, the own back rank first, seen from the a-file to the d-file. */

typedef struct Table {
    const char *name;
    size_t offset, size;
    int across;
    int extent[4]; /* in each dimension; 0 behind the last one */
} Table;

#define TABLE(member, across, ...)                                                                           \
    {                                                                                                        \
#member, offsetof(EvalWeights, member), sizeof(((EvalWeights *)0)->member), across,                  \
        {                                                                                                    \
            __VA_ARGS__                                                                                      \
        }                                                                                                    \
    }

#define UNIT(member)                                                                                         \
    {                                                                                                        \
#member, offsetof(EvalUnits, member), sizeof(((EvalUnits *)0)->member), 1,                           \
        {                                                                                                    \
            0                                                                                                \
        }                                                                                                    \
    }

static const Table tables[] = {
    TABLE(material, 5, KING),
    TABLE(placement, 8, ROLE_COUNT, HALF_BOARD),
    TABLE(activity, 16, PIECE_ROLES, ACTIVITY_CLASSES),
    TABLE(from_own_king, 7, PIECE_ROLES, KING_STEPS),
    TABLE(from_enemy_king, 7, PIECE_ROLES, KING_STEPS),
    TABLE(with_pawns, 4, PIECE_ROLES),
    TABLE(with_rams, 4, PIECE_ROLES),
    TABLE(second, 4, PIECE_ROLES),
    TABLE(on_file, 4, 2, 4),
    TABLE(bishop_on_pawns, 1, 0),
    TABLE(bishop_on_rams, 1, 0),
    TABLE(contest, 5, GUARD_KINDS, ROLE_COUNT, KING),
    TABLE(pawn_step, 1, 0),
    TABLE(pawn, 6, AHEAD_KINDS, COMPANY_KINDS, PAWN_RANKS),
    TABLE(passed, 6, WAY_KINDS, PAWN_RANKS),
    TABLE(passed_own_king, 6, PAWN_RANKS),
    TABLE(passed_enemy_king, 6, PAWN_RANKS),
    TABLE(passed_rook, 2, 2),
    TABLE(passed_unstoppable, 1, 0),
    TABLE(seen, 8, SEEN_KINDS, SEEN_FILES, SEEN_RANKS),
    TABLE(siege, 8, SIEGE_CLASSES),
    TABLE(tempo, 1, 0),
};

enum { TABLE_COUNT = sizeof tables / sizeof *tables };

/* Every member of EvalUnits, in order. */
static const Table unit_tables[] = {
    UNIT(bearing),
    UNIT(siege),
    UNIT(lost),
    UNIT(outnumbered),
    UNIT(contested),
    UNIT(entry),
    UNIT(force),
    UNIT(force_of),
    UNIT(chance),
    UNIT(chance_pawn),
    UNIT(chance_one_wing),
    UNIT(opposite_bishops),
    UNIT(opposite_bishops_pawn),
    UNIT(opposite_bishops_pieces),
};

enum { UNIT_TABLE_COUNT = sizeof unit_tables / sizeof *unit_tables };

/* On lines that begin behind `indent` blanks; all on one line if that is -1. */
static void write_pairs(FILE *out, const Pair *pairs, int count, int across, int indent)
{
    for (int i = 0; i < count; i++) {
        char text[32];
        bool first = i % across == 0, last = (i + 1) % across == 0 || i + 1 == count, open = indent < 0;
        snprintf(text, sizeof text, "PAIR(%d, %d)%s", pair_middlegame(pairs[i]), pair_endgame(pairs[i]),
                 open && last ? "" : ",");
        fprintf(out, "%*s%-*s%s",
                !first ? 1
                : open ? 0
                       : indent,
                "", last ? 0 : 16, text, last && !open ? "\n" : "");
    }
}

/* The rows of a table of any number of dimensions, each in braces of its own. Returns what is behind it. */
static const Pair *write_rows(FILE *out, const Pair *pairs, const int *extent, int across, int indent)
{
    bool lines = extent[1] || *extent > across;
    fprintf(out, "%*s{%s", indent, "", lines ? "\n" : "");
    for (int i = 0; extent[1] && i < *extent; i++)
        pairs = write_rows(out, pairs, extent + 1, across, indent + 4);
    if (!extent[1]) {
        write_pairs(out, pairs, *extent, across, lines ? indent + 4 : -1);
        pairs += *extent;
    }
    fprintf(out, "%*s},\n", lines ? indent : 0, "");
    return pairs;
}

static void write_table(FILE *out, const EvalWeights *weights, const Table *table)
{
    const Pair *pairs = (const Pair *)((const char *)weights + table->offset);
    if (!table->extent[0]) {
        fprintf(out, "    .%s = PAIR(%d, %d),\n", table->name, pair_middlegame(*pairs), pair_endgame(*pairs));
        return;
    }
    fprintf(out, "    .%s =\n", table->name);
    write_rows(out, pairs, table->extent, table->across, 8);
}

/* ------------------------------------------------------------------------------------------ the comment */

static void write_origin(FILE *out, const FitOrigin *origin)
{
    const FitReport *r = &origin->report;
    origin_begin_comment(out, origin->command, origin->sample);
    fprintf(
        out,
        " * Mean log-loss on the %zu positions of the %zu games fitted to: %.5f before, %.5f after;\n"
        " * on the %zu positions of the %zu games held out: %.5f before, %.5f after, standard error of the\n"
        " * change %.5f. See bench/fit/fit.h. */\n",
        r->fitted.positions, r->fitted.games, r->fitted.before, r->fitted.after, r->held_out.positions,
        r->held_out.games, r->held_out.before, r->held_out.after, r->change.error);
}

/* -------------------------------------------------------------------------------------------- the files */

static void write_ints(FILE *out, const char *name, const int *values, int count)
{
    fprintf(out, "    .%s = {", name);
    for (int i = 0; i < count; i++)
        fprintf(out, "%s%d", i ? ", " : "", values[i]);
    fputs("},\n", out);
}

static void write_units(FILE *out, const EvalUnits *units)
{
    fputs("    .units = {\n", out);
    for (int i = 0; i < UNIT_TABLE_COUNT; i++) {
        const Table *table = &unit_tables[i];
        const int *values = (const int *)(const void *)((const char *)units + table->offset);
        int count = (int)(table->size / sizeof *values);
        fputs("    ", out);
        if (count == 1)
            fprintf(out, "    .%s = %d,\n", table->name, *values);
        else
            write_ints(out, table->name, values, count);
    }
    fputs("    },\n", out);
}

static void write_eval(FILE *out, const void *data, const FitOrigin *origin)
{
    write_origin(out, origin);
    fputs("#include \"engine/evaluation/weights.h\"\n\n"
          "const EvalWeights default_weights = {\n",
          out);
    for (int i = 0; i < TABLE_COUNT; i++)
        write_table(out, data, &tables[i]);
    write_units(out, &((const EvalWeights *)data)->units);
    fputs("};\n", out);
}

static void write_lever(FILE *out, const void *data, const FitOrigin *origin)
{
    const ps_weights *weights = data;
    const int *grade = weights->grade;
    write_origin(out, origin);
    fputs("#include \"structure/structure.h\"\n\n"
          "const ps_weights ps_default_weights = {\n",
          out);
    write_ints(out, "base_lever", weights->base_lever, PS_TEMPI_CLASSES);
    write_ints(out, "head_lever", weights->head_lever, PS_TEMPI_CLASSES);
    fprintf(out, "    .support = %d,\n    .room = %d,\n    .piece = %d,\n", weights->support, weights->room,
            weights->piece);
    fprintf(out, "    .grade = {[PS_VOID] = %d, [PS_DOUBTFUL] = %d, [PS_LIKELY] = %d, [PS_FIRM] = %d},\n};\n",
            grade[PS_VOID], grade[PS_DOUBTFUL], grade[PS_LIKELY], grade[PS_FIRM]);
}

static bool write_file(const char *path, void (*write)(FILE *, const void *, const FitOrigin *),
                       const void *data, const FitOrigin *origin)
{
    OutputFile file;
    if (!output_open(&file, path))
        return false;
    write(file.stream, data, origin);
    return output_commit(&file);
}

bool fit_write_eval(const char *path, const EvalWeights *weights, const FitOrigin *origin)
{
    return write_file(path, write_eval, weights, origin);
}

bool fit_write_lever(const char *path, const ps_weights *weights, const FitOrigin *origin)
{
    return write_file(path, write_lever, weights, origin);
}
