#include "bench/find/find.h"
#include "bench/base/array.h"
#include "bench/explain/answer.h"
#include "bench/pgn/pgn_writer.h"
#include "engine/evaluation/structure_view.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool find_read_chain(FindQuery *query, const char *text)
{
    for (int first = 0; first < FILE_COUNT; first++)
        for (int last = first + 1; last < FILE_COUNT; last++)
            if (strcmp(text, ps_files_name(first, last)) == 0) {
                query->first_file = first;
                query->last_file = last;
                return true;
            }
    return false;
}

static bool asks_of_plan(const FindQuery *query)
{
    return query->first_file != PS_NO_FILE || query->grade != PS_NO_GRADE || query->verdict != PS_NONE ||
           query->status != PS_NO_STATUS;
}

bool find_asks(const FindQuery *query)
{
    return asks_of_plan(query) || query->near_miss != PS_NO_NEAR_MISS;
}

static bool plan_is_asked_for(const FindQuery *query, const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    if (plan->verdict == PS_NONE || (query->verdict != PS_NONE && (int)plan->verdict != query->verdict))
        return false;
    const ps_chain *chain = &analysis->chains[plan->chain];
    return (query->first_file == PS_NO_FILE ||
            (chain->first_file == query->first_file && chain->last_file == query->last_file)) &&
           (query->grade == PS_NO_GRADE || chain->grade == query->grade) &&
           (query->status == PS_NO_STATUS || chain->side[side].base_lever.status == query->status);
}

unsigned find_sides(const FindQuery *query, const Position *position)
{
    ps_analysis analysis;
    unsigned sides = 0;
    if (!asks_of_plan(query))
        return FIND_EITHER;
    structure_analyse(position, &analysis);
    for (ps_side side = PS_WHITE; side <= PS_BLACK; side++)
        if (query->sides & 1U << side && plan_is_asked_for(query, &analysis, side))
            sides |= 1U << side;
    return sides;
}

/* Whether the pawns alone allow it. */
static bool is_possible(const FindQuery *query, const Position *position)
{
    const uint64_t pawns[2] = {position_men(position, WHITE, PAWN), position_men(position, BLACK, PAWN)};
    const ps_overview overview = ps_read_overview(pawns);
    if (query->near_miss != PS_NO_NEAR_MISS && !(overview.near_misses & 1U << query->near_miss))
        return false;
    if (!asks_of_plan(query))
        return true;
    unsigned wanted = 0;
    for (int file = query->first_file; query->first_file != PS_NO_FILE && file < query->last_file; file++)
        wanted |= 1U << file;
    return (overview.pairs & wanted) == wanted && ps_grade_of_pairs(overview.pairs) > PS_VOID;
}

void find_begin(FindWatch *watch, const PgnGame *game)
{
    watch->pawn_key = ~game->start.pawn_key;
    watch->possible = watch->holding = false;
    watch->before = game->start;
    watch->moment_count = watch->move_count = 0;
}

static void note(FindWatch *watch, const PgnGame *game, Move move, unsigned sides)
{
    if (!array_reserve(watch->moments, watch->moment_capacity, watch->moment_count, 1)) {
        watch->memory_ran_out = true;
        return;
    }
    FindMoment *moment = &watch->moments[watch->moment_count++];
    *moment = (FindMoment){.ply = game->plies, .sides = sides, .position = game->position};
    pgn_numbered_move(&watch->before, move, moment->move);
}

static void look(FindWatch *watch, const PgnGame *game, Move move)
{
    const FindQuery *query = watch->query;
    if (watch->moment_count > 0 && !query->every)
        return;
    if (game->position.pawn_key != watch->pawn_key) {
        watch->pawn_key = game->position.pawn_key;
        watch->possible = is_possible(query, &game->position);
    }
    unsigned sides = watch->possible ? find_sides(query, &game->position) : 0;
    if (sides != 0 && !watch->holding)
        note(watch, game, move, sides);
    watch->holding = sides != 0;
}

void find_move(FindWatch *watch, const PgnGame *game, Move move)
{
    look(watch, game, move);
    watch->before = game->position;
    if (!watch->query->as_pgn)
        return;
    if (array_reserve(watch->moves, watch->move_capacity, watch->move_count, 1))
        watch->moves[watch->move_count++] = move;
    else
        watch->memory_ran_out = true;
}

void find_watch_free(FindWatch *watch)
{
    free(watch->moments);
    free(watch->moves);
}

/* "for White the direction misleads on the d- and e-files, lever c5: barred" */
static void write_plans(FILE *out, const FindMoment *moment)
{
    static const char *const titles[] = {"White", "Black"};
    static const char *const verdicts[PS_VERDICT_COUNT] = {[PS_APPLIES] = "applies",
                                                           [PS_FULFILLED] = "is fulfilled",
                                                           [PS_MISLEADING] = "misleads",
                                                           [PS_WEAK] = "says little",
                                                           [PS_NONE] = "says nothing"};
    ps_analysis analysis;
    structure_analyse(&moment->position, &analysis);
    const char *comma = "";
    for (ps_side side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_chain_side *view = ps_plan_chain(&analysis, side);
        if (view == NULL || !(moment->sides & 1U << side))
            continue;
        const ps_chain *chain = &analysis.chains[analysis.plan[side].chain];
        const ps_lever *lever = &view->base_lever;
        char files[64];
        answer_files(chain->first_file, chain->last_file, files, sizeof files);
        fprintf(out, "%sfor %s the direction %s on the %s", comma, titles[side],
                verdicts[analysis.plan[side].verdict], files);
        if (lever->square != PS_NO_SQUARE)
            fprintf(out, ", lever %s: %s", ps_square_name(lever->square), answer_status(lever->status));
        comma = "; ";
    }
    if (*comma == '\0')
        fputs("no chain that says anything", out);
}

static void write_epd_head(FILE *out, const FindMoment *moment, const PgnGame *game)
{
    char fen[FEN_SIZE], name[PGN_NAME_SIZE];
    fen_write(&moment->position, fen);
    pgn_game_name(game, name);
    fprintf(out, "%.*s c0 \"", (int)epd_fields_length(fen), fen);
    write_plans(out, moment);
    fprintf(out, "\"; fmvn %d; hmvc %d; id \"%s, after %s, ", moment->position.fullmove,
            moment->position.halfmoves, name, moment->move);
}

static void write_pgn_head(FILE *out, const FindMoment *moment, const PgnGame *game)
{
    static const char *const names[] = {"Event", "Site", "Date", "Round", "White", "Black"};
    PgnWriter writer = {.out = out};
    PgnText value;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char text[PGN_NAME_SIZE] = "?";
        if (pgn_tag(game, names[i], &value))
            pgn_text_copy(value, text, sizeof text);
        pgn_write_tag(&writer, names[i], text);
    }
    pgn_write_tag(&writer, "Result", pgn_result_texts[game->result]);
    pgn_write_start(&writer, &moment->position);
    pgn_begin_moves(&writer);
    fprintf(out, "{After %s: ", moment->move);
    write_plans(out, moment);
    fputs(" (", out);
}

static void write_pgn_tail(FILE *out, const FindMoment *moment, const FindWatch *watch, const PgnGame *game)
{
    Position position = moment->position;
    PgnWriter writer = {.out = out};
    for (int i = moment->ply; i < watch->move_count; i++) {
        pgn_write_move(&writer, &position, watch->moves[i]);
        if (watch->moves[i] == NO_MOVE)
            position_pass(&position);
        else
            position_play(&position, watch->moves[i]);
    }
    pgn_end_game(&writer, pgn_result_texts[game->result]);
}

static bool write_text(const FindMoment *moment, const FindWatch *watch, const PgnGame *game, FindText *text)
{
    size_t head_size, tail_size;
    FILE *head = open_memstream(&text->head, &head_size), *tail = open_memstream(&text->tail, &tail_size);
    bool good = head != NULL && tail != NULL;
    if (good && watch->query->as_pgn) {
        write_pgn_head(head, moment, game);
        fputs(")}\n", tail);
        write_pgn_tail(tail, moment, watch, game);
    } else if (good) {
        write_epd_head(head, moment, game);
        fputs("\";\n", tail);
    }
    good = good && !ferror(head) && !ferror(tail);
    if (head != NULL)
        good &= fclose(head) == 0;
    if (tail != NULL)
        good &= fclose(tail) == 0;
    return good;
}

bool find_end(FindWatch *watch, const PgnGame *game, FindRecord *record)
{
    if (watch->memory_ran_out)
        return false;
    if (watch->moment_count == 0)
        return true;
    record->texts = calloc((size_t)watch->moment_count, sizeof *record->texts);
    if (record->texts == NULL)
        return false;
    bool good = true;
    for (int i = 0; good && i < watch->moment_count; i++)
        good = write_text(&watch->moments[i], watch, game, &record->texts[record->count++]);
    return good;
}

void find_record_free(FindRecord *record)
{
    for (int i = 0; i < record->count; i++) {
        free(record->texts[i].head);
        free(record->texts[i].tail);
    }
    free(record->texts);
    *record = (FindRecord){0};
}
