#include "structure/lever.h"
#include <stdarg.h>
#include <stdio.h>

/* A text that grows, and goes on counting when the buffer is full. */
typedef struct Text {
    char *buffer;
    size_t size;
    size_t length;
} Text;

__attribute__((format(printf, 2, 3))) static void say(Text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    bool room = text->length < text->size;
    int written = vsnprintf(room ? text->buffer + text->length : NULL, room ? text->size - text->length : 0,
                            format, arguments);
    va_end(arguments);
    if (written > 0)
        text->length += (size_t)written;
}

static const char *const side_words[] = {"White", "Black"};

/* What the grade of a pair is worth: common practice among teachers, no published source. */
static const char *const grade_words[PS_GRADE_COUNT] = {
    [PS_VOID] = "says nothing",
    [PS_DOUBTFUL] = "names a file rather than a wing, and is often not the main thing in the position",
    [PS_LIKELY] = "is usually right, but has to be read with care",
    [PS_FIRM] = "names the side to break and to play on",
};

static const char *plural(int count, const char *one, const char *many)
{
    return count == 1 ? one : many;
}

/* What comes before item `i` of a list of `count`. */
static const char *joint(int i, int count)
{
    if (i == 0)
        return "";
    return i == count - 1 ? " and " : ", ";
}

static char file_letter(int file)
{
    return (char)('a' + file);
}

static void say_locked_pair(Text *text, const ps_pair *pair)
{
    say(text, "The pawns on %c and %c are locked", file_letter(pair->file), file_letter(pair->file + 1));
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_pair_side *view = &pair->side[side];
        bool head_is_west = view->direction < 0;
        say(text, "%s%s's %s and %s", side == PS_WHITE ? ": " : " against ", side_words[side],
            ps_square_name(head_is_west ? view->head : view->base),
            ps_square_name(head_is_west ? view->base : view->head));
    }
}

/* With doubled pawns several pairs may stand on the same files; these are named once. */
static void say_locked_files(Text *text, const ps_analysis *analysis)
{
    bool locked[FILE_COUNT - 1] = {false};
    int count = 0;
    for (int i = 0; i < analysis->pair_count; i++) {
        count += !locked[analysis->pairs[i].file];
        locked[analysis->pairs[i].file] = true;
    }
    say(text, "%d pairs of pawns are locked, on the files ", analysis->pair_count);
    for (int file = FILE_A, said = 0; file < FILE_H; file++)
        if (locked[file])
            say(text, "%s%s", joint(said++, count), ps_files_name(file));
}

static ps_grade firmest_grade(const ps_analysis *analysis)
{
    ps_grade firmest = PS_VOID;
    for (int i = 0; i < analysis->pair_count; i++)
        if (analysis->pairs[i].grade > firmest)
            firmest = analysis->pairs[i].grade;
    return firmest;
}

static void say_what_is_locked(Text *text, const ps_analysis *analysis)
{
    if (analysis->pair_count == 0) {
        say(text, "No two rams stand side by side in a chain, so there is no direction to read.");
        return;
    }
    if (analysis->pair_count == 1)
        say_locked_pair(text, &analysis->pairs[0]);
    else
        say_locked_files(text, analysis);
    ps_grade grade = firmest_grade(analysis);
    if (grade == PS_VOID)
        say(text, "; at the rim the direction %s.", grade_words[grade]);
    else
        say(text, "; %s the direction %s.", analysis->pair_count == 1 ? "there" : "in the firmest of them",
            grade_words[grade]);
}

static void say_target(Text *text, const ps_lever *lever)
{
    say(text, "%s against %s%s", ps_square_name(lever->square), ps_square_name(lever->target),
        lever->target_is_base ? ", the base of the enemy chain," : "");
}

static void say_steps(Text *text, const ps_lever *lever)
{
    say(text, "the pawn on %s needs %d %s", ps_square_name(lever->pawn), lever->steps,
        plural(lever->steps, "step", "steps"));
}

static void say_times(Text *text, int count)
{
    static const char *const few[] = {"", "once", "twice"};
    if (count < 3)
        say(text, " %s", few[count]);
    else
        say(text, " %d times", count);
}

static void say_support(Text *text, const ps_lever *lever)
{
    say(text, "%s is ", ps_square_name(lever->square));
    if (lever->supporters == 0 && lever->attackers == 0) {
        say(text, "neither guarded nor attacked");
        return;
    }
    if (lever->supporters > 0) {
        say(text, "guarded");
        say_times(text, lever->supporters);
        say(text, lever->attackers > 0 ? " and " : " and not attacked");
    }
    if (lever->attackers > 0) {
        say(text, "attacked");
        say_times(text, lever->attackers);
        say(text, lever->supporters > 0 ? "" : " and not guarded");
    }
}

static void say_bar(Text *text, const ps_lever *lever, const ps_board *board, Side side)
{
    Bitboard way = squares_to_go(side, (Square)lever->pawn, (Square)lever->square);
    Bitboard bars = way & board->pawns[opposite(side)];
    Square bar = side == WHITE ? first_square(bars) : last_square(bars);
    say(text, "the enemy pawn on %s bars the way of the pawn on %s", ps_square_name(bar),
        ps_square_name(lever->pawn));
}

/* The lever, how far it is, and what is in its way: a clause without a subject before it. */
static void say_lever(Text *text, const ps_lever *lever, const ps_board *board, Side side)
{
    say_target(text, lever);
    switch (lever->status) {
    case PS_PLAYED:
        say(text, " is on the board: %s is attacked now", ps_square_name(lever->target));
        break;
    case PS_READY:
        say(text, " is ready: ");
        say_steps(text, lever);
        say(text, ", and ");
        say_support(text, lever);
        break;
    case PS_OPEN:
        say(text, " is open: ");
        say_steps(text, lever);
        say(text, ", with nothing in its way");
        break;
    case PS_UNSUPPORTED:
        say(text, " lacks support: ");
        say_steps(text, lever);
        say(text, ", but ");
        say_support(text, lever);
        break;
    case PS_OBSTRUCTED:
        say(text, " is obstructed: ");
        say_steps(text, lever);
        say(text, ", and %s on ", plural(lever->blocker_count, "a piece", "pieces"));
        for (int i = 0; i < lever->blocker_count; i++)
            say(text, "%s%s", joint(i, lever->blocker_count), ps_square_name(lever->blockers[i]));
        say(text, " %s in its way", plural(lever->blocker_count, "stands", "stand"));
        if (lever->attackers > lever->supporters) {
            say(text, ", while ");
            say_support(text, lever);
        }
        break;
    case PS_BARRED:
        say(text, " cannot be played: ");
        say_bar(text, lever, board, side);
        break;
    case PS_GONE:
        say(text, " cannot be played: no pawn stands behind it on its file");
        break;
    case PS_STATUS_COUNT:
        break;
    }
}

static void say_where_it_points(Text *text, const ps_analysis *analysis, Side side)
{
    const ps_plan *plan = &analysis->plan[side];
    const ps_pair *pair = &analysis->pairs[plan->pair];
    if (analysis->pair_count > 1)
        say(text, " On the files %s %s's pawns point to the ", ps_files_name(pair->file), side_words[side]);
    else
        say(text, " %s's pawns point to the ", side_words[side]);
    if (pair->grade == PS_DOUBTFUL)
        say(text, "%c-file", file_letter(pair->side[side].toward));
    else
        say(text, "%s", ps_region_name(plan->region));
}

static void say_plan(Text *text, const ps_analysis *analysis, const ps_board *board, Side side)
{
    const ps_plan *plan = &analysis->plan[side];
    const ps_pair_side *view = &analysis->pairs[plan->pair].side[side];
    say_where_it_points(text, analysis, side);
    if (plan->verdict == PS_MISLEADING)
        say(text, ", but that misleads, for the lever ");
    else
        say(text, ps_lever_is_available(&view->base_lever) ? ", and the lever " : ", but the lever ");
    say_lever(text, &view->base_lever, board, side);
    if (!ps_lever_is_available(&view->base_lever)) {
        if (ps_lever_is_available(&view->head_lever)) {
            say(text, "; the other lever ");
            say_lever(text, &view->head_lever, board, side);
        } else {
            say(text, "; nor is there another lever");
        }
    }
    say(text, ".");
}

static void say_who_is_first(Text *text, const ps_analysis *analysis)
{
    if (analysis->first_to_break == PS_NOBODY) {
        say(text, " Neither side can play the lever that its direction names.");
        return;
    }
    Side first = (Side)analysis->first_to_break;
    const ps_lever *own = ps_plan_lever(analysis, (ps_side)first);
    const ps_lever *others = ps_plan_lever(analysis, (ps_side)opposite(first));
    const char *tempi = plural(own->tempi, "tempo", "tempi");
    if (!ps_lever_is_available(others) && own->tempi == 0)
        say(text, " Only %s has the lever that the direction names, and has played it.", side_words[first]);
    else if (!ps_lever_is_available(others))
        say(text, " Only %s can play the lever that the direction names, in %d %s.", side_words[first],
            own->tempi, tempi);
    else if (own->tempi == 0 && others->tempi == 0)
        say(text, " Both levers are on the board, and %s is to move.", side_words[first]);
    else if (own->tempi == others->tempi)
        say(text, " Both sides need %d %s for it, so %s, who is to move, comes first.", own->tempi, tempi,
            side_words[first]);
    else
        say(text, " %s comes first, with %d %s against %d.", side_words[first], own->tempi, tempi,
            others->tempi);
}

/* Near misses that the first sentence has not already dealt with. */
static void say_near_miss(Text *text, const ps_analysis *analysis)
{
    static const char *const words[PS_NEAR_MISS_COUNT] = {
        [PS_NOT_LINKED] =
            "the d-file and the e-file are both closed by rams, but their pawns do not defend each other "
            "and so form no chain in the centre",
        [PS_SAME_WAY] = "both sides' pawns on d and e point to the same wing, and only one of the two files "
                        "is closed by a ram, so that the centre is not locked",
        [PS_NOT_RAMMED] = "there are linked pawns on d and e, but only one of the two files is closed by a "
                          "ram, so that the centre is not locked",
        [PS_RIM] = "what is locked at the rim says nothing",
    };
    bool only_void = firmest_grade(analysis) == PS_VOID;
    bool began = false;
    for (int i = 0; i < analysis->near_miss_count; i++) {
        ps_near_miss miss = analysis->near_misses[i];
        if (miss == PS_RIM && only_void)
            continue;
        say(text, "%s%s", began ? "; and " : " Do not be misled: ", words[miss]);
        began = true;
    }
    if (began)
        say(text, ".");
}

static void say_breaks(Text *text, const ps_analysis *analysis)
{
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        const ps_break_list *breaks = &analysis->breaks[side];
        say(text, "%s%s ", side == PS_WHITE ? " " : "; ", side_words[side]);
        if (breaks->count == 0)
            say(text, "has no push that attacks a pawn");
        else
            say(text, "can attack a pawn with ");
        for (int i = 0; i < breaks->count; i++)
            say(text, "%s%s", joint(i, breaks->count), ps_square_name(breaks->items[i].to));
    }
    say(text, ".");
}

size_t ps_explain(char *buffer, size_t size, const ps_analysis *analysis, const ps_board *board)
{
    Text text = {buffer, size, 0};
    say_what_is_locked(&text, analysis);
    if (analysis->plan[PS_WHITE].verdict == PS_NONE) {
        say_near_miss(&text, analysis);
        say_breaks(&text, analysis);
        return text.length;
    }
    say_plan(&text, analysis, board, WHITE);
    say_plan(&text, analysis, board, BLACK);
    say_who_is_first(&text, analysis);
    say_near_miss(&text, analysis);
    return text.length;
}
