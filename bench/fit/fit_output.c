#include "bench/fit/fit_output.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"

#include <string.h>

/* ------------------------------------------------------------------------------------------------- the
 * members Every member of EvalWeights, in order. `across` is how many stand on a line; the square tables are
 * boards, the own back rank first, seen from the a-file to the d-file. */

typedef struct Table {
    const char *name;
    size_t offset, size;
    int across;
} Table;

#define TABLE(member, across)                                                                                \
    {                                                                                                        \
#member, offsetof(EvalWeights, member), sizeof(((EvalWeights *)0)->member), across                   \
    }

#define UNIT(member)                                                                                         \
    {                                                                                                        \
#member, offsetof(EvalUnits, member), sizeof(((EvalUnits *)0)->member), 1                            \
    }

static const Table tables[] = {
    TABLE(material, 5),
    TABLE(square, 4),
    TABLE(knight_mobility, 5),
    TABLE(bishop_mobility, 5),
    TABLE(rook_mobility, 5),
    TABLE(queen_mobility, 5),
    TABLE(bishop_pair, 1),
    TABLE(bishop_own_pawn_on_colour, 1),
    TABLE(bishop_blocked_centre, 1),
    TABLE(bishop_long_diagonal, 1),
    TABLE(knight_king_distance, 1),
    TABLE(knight_pawns, 1),
    TABLE(bishop_pawns, 1),
    TABLE(outpost_knight, 1),
    TABLE(outpost_bishop, 1),
    TABLE(outpost_in_reach, 1),
    TABLE(minor_behind_pawn, 1),
    TABLE(rook_open_file, 1),
    TABLE(rook_half_open_file, 1),
    TABLE(rook_on_seventh, 1),
    TABLE(rook_trapped, 1),
    TABLE(isolated, 1),
    TABLE(doubled, 1),
    TABLE(backward, 1),
    TABLE(weak_on_open_file, 1),
    TABLE(phalanx, 4),
    TABLE(defended, 4),
    TABLE(defended_open, 4),
    TABLE(passed, 4),
    TABLE(passed_free_stop, 4),
    TABLE(passed_safe_path, 4),
    TABLE(passed_own_king, 4),
    TABLE(passed_enemy_king, 4),
    TABLE(passed_guarded, 4),
    TABLE(passed_rook_behind, 1),
    TABLE(passed_enemy_rook_behind, 1),
    TABLE(passed_unstoppable, 1),
    TABLE(shelter, 4),
    TABLE(storm, 4),
    TABLE(storm_blocked, 1),
    TABLE(king_on_half_open_file, 1),
    TABLE(king_on_open_file, 1),
    TABLE(king_without_pawns, 1),
    TABLE(danger, 4),
    TABLE(pawn_attacks_minor, 1),
    TABLE(pawn_attacks_rook, 1),
    TABLE(pawn_attacks_queen, 1),
    TABLE(minor_attacks_minor, 1),
    TABLE(minor_attacks_rook, 1),
    TABLE(minor_attacks_queen, 1),
    TABLE(rook_attacks_queen, 1),
    TABLE(rook_attacks_minor, 1),
    TABLE(king_attacks_weak, 1),
    TABLE(hanging, 1),
    TABLE(knight_on_queen, 1),
    TABLE(pawn_push_threat, 1),
    TABLE(space, 1),
    TABLE(tempo, 1),
};

enum { TABLE_COUNT = sizeof tables / sizeof *tables };

/* Every member of EvalUnits, in order. */
static const Table unit_tables[] = {
    UNIT(attacker),
    UNIT(zone_square),
    UNIT(weak_square),
    UNIT(check),
    UNIT(pinned),
    UNIT(flank_attack),
    UNIT(knight_near),
    UNIT(no_queen),
    UNIT(chance),
    UNIT(chance_pawn),
    UNIT(chance_one_wing),
    UNIT(opposite_bishops),
    UNIT(opposite_bishops_pawn),
    UNIT(opposite_bishops_pieces),
};

enum { UNIT_TABLE_COUNT = sizeof unit_tables / sizeof *unit_tables };

static const char *const role_names[ROLE_COUNT] = {"PAWN", "KNIGHT", "BISHOP", "ROOK", "QUEEN", "KING"};

static void write_pairs(FILE *out, const Pair *pairs, int count, int across, int indent)
{
    for (int i = 0; i < count; i++) {
        char text[32];
        snprintf(text, sizeof text, "PAIR(%d, %d),", pair_middlegame(pairs[i]), pair_endgame(pairs[i]));
        bool first = i % across == 0, last = (i + 1) % across == 0 || i + 1 == count;
        fprintf(out, "%*s%-*s%s", first ? indent : 1, "", last ? 0 : 16, text, last ? "\n" : "");
    }
}

static void write_table(FILE *out, const EvalWeights *weights, const Table *table)
{
    const Pair *pairs = (const Pair *)((const char *)weights + table->offset);
    int count = (int)(table->size / sizeof *pairs);
    if (table->offset == offsetof(EvalWeights, square)) {
        fprintf(out, "    .%s = {\n", table->name);
        for (int role = 0; role < ROLE_COUNT; role++) {
            fprintf(out, "        [%s] = {\n", role_names[role]);
            write_pairs(out, weights->square[role], HALF_BOARD, table->across, 12);
            fputs("        },\n", out);
        }
        fputs("    },\n", out);
    } else if (count == 1) {
        fprintf(out, "    .%s = PAIR(%d, %d),\n", table->name, pair_middlegame(*pairs), pair_endgame(*pairs));
    } else {
        fprintf(out, "    .%s = {\n", table->name);
        write_pairs(out, pairs, count, table->across, 8);
        fputs("    },\n", out);
    }
}

/* ------------------------------------------------------------------------------------------ the comment */

/* Commands, a line each, as text that must not end the comment it stands in. */
static void write_in_comment(FILE *out, const char *text)
{
    static const char joint[] = " + ";
    fputs(" *     ", out);
    for (const char *at = text; *at; at++) {
        if (strncmp(at, joint, strlen(joint)) == 0) {
            fputs("\n *     ", out);
            at += strlen(joint) - 1;
            continue;
        }
        if (at > text && at[-1] == '*' && *at == '/')
            fputc(' ', out);
        fputc(*at, out);
    }
}

static void write_origin(FILE *out, const FitOrigin *origin)
{
    const FitReport *r = &origin->report;
    fputs("/* clang-format off */\n"
          "/* Tuned: written by\n",
          out);
    write_in_comment(out, origin->command);
    if (*origin->sample && strcmp(origin->sample, origin->command) != 0) {
        fputs("\n * on the sample of\n", out);
        write_in_comment(out, origin->sample);
    }
    fprintf(
        out,
        "\n * Mean log-loss on the %zu positions of the %zu games fitted to: %.5f before, %.5f after;\n"
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
