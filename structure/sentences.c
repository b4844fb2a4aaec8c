#include "structure/sentences.h"
#include "structure/lever.h"

#include <stdarg.h>
#include <stdio.h>

/* A text that grows, and goes on counting when the buffer is full. */
typedef struct Text {
    char *buffer;
    size_t size;
    size_t length;
    ManName *name; /* of pieces; null for none */
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

static const char *const side_words[] = {[WHITE] = "White", [BLACK] = "Black"};

/* ------------------------------------------------------------------------------------- lists and numbers */

/* What comes before item `i` of a list of `count`. */
static const char *joint(int i, int count, const char *last)
{
    if (i == 0)
        return "";
    return i == count - 1 ? last : ", ";
}

static const char *plural(int count, const char *one, const char *many)
{
    return count == 1 ? one : many;
}

void number_in_words(int number, char text[NUMBER_TEXT_SIZE])
{
    static const char *const words[] = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                        "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    if (number >= 0 && number < (int)(sizeof words / sizeof *words))
        snprintf(text, NUMBER_TEXT_SIZE, "%s", words[number]);
    else
        snprintf(text, NUMBER_TEXT_SIZE, "%d", number);
}

const char *count_in_words(int count, const char *one, const char *more, char text[COUNT_TEXT_SIZE])
{
    char number[NUMBER_TEXT_SIZE];
    number_in_words(count, number);
    snprintf(text, COUNT_TEXT_SIZE, "%s %s", number, plural(count, one, more));
    return text;
}

static void say_number(Text *text, int number)
{
    char word[NUMBER_TEXT_SIZE];
    number_in_words(number, word);
    say(text, "%s", word);
}

static void say_times(Text *text, int count)
{
    if (count == 1 || count == 2) {
        say(text, count == 1 ? "once" : "twice");
        return;
    }
    say_number(text, count);
    say(text, " times");
}

static char file_letter(int file)
{
    return (char)('a' + file);
}

/* "the d-, e- and f-files" */
static void say_files(Text *text, int first, int last)
{
    say(text, "the ");
    for (int file = first; file <= last; file++)
        say(text, "%s%c-", joint(file - first, last - first + 1, " and "), file_letter(file));
    say(text, "files");
}

/* ------------------------------------------------------------------------------------- what is locked */

/* What a grade is worth: common practice among teachers, no published source. */
static const char *const grade_words[PS_GRADE_COUNT] = {
    [PS_VOID] = "at the rim the direction says nothing",
    [PS_DOUBTFUL] =
        ("there the direction names a file rather than a wing, and is often not the main thing in "
         "the position"),
    [PS_LIKELY] = "there the direction is usually right, but has to be read with care",
    [PS_FIRM] = "there the direction tells each side where to break and to play",
};

/* "White's d4 and e5" */
static void say_chain_pawns(Text *text, const ps_chain *chain, Side side)
{
    const ps_chain_side *view = &chain->side[side];
    int count = chain->last_file - chain->first_file + 1;
    Square square = view->direction > 0 ? view->base : view->head;
    int step = 1 + view->direction * forward_step(side);
    say(text, "%s's ", side_words[side]);
    for (int i = 0; i < count; i++, square += step)
        say(text, "%s%s", joint(i, count, " and "), ps_square_name(square));
}

static bool files_were_named(const ps_analysis *analysis, int i)
{
    const ps_chain *chain = &analysis->chains[i];
    for (int k = 0; k < i; k++)
        if (analysis->chains[k].first_file == chain->first_file &&
            analysis->chains[k].last_file == chain->last_file)
            return true;
    return false;
}

/* With doubled pawns several chains may stand on the same files; these are named once. */
static void say_locked_files(Text *text, const ps_analysis *analysis)
{
    int count = 0, said = 0;
    for (int i = 0; i < analysis->chain_count; i++)
        count += !files_were_named(analysis, i);
    for (int i = 0; i < analysis->chain_count; i++) {
        if (files_were_named(analysis, i))
            continue;
        say(text, "%son ", joint(said++, count, ", and "));
        say_files(text, analysis->chains[i].first_file, analysis->chains[i].last_file);
    }
}

static ps_grade firmest_grade(const ps_analysis *analysis)
{
    ps_grade firmest = PS_VOID;
    for (int i = 0; i < analysis->chain_count; i++)
        if (analysis->chains[i].grade > firmest)
            firmest = analysis->chains[i].grade;
    return firmest;
}

static void say_what_is_locked(Text *text, const ps_analysis *analysis)
{
    if (analysis->chain_count == 0) {
        say(text, "No two rams stand side by side in a chain, so there is no direction to read.");
        return;
    }
    ps_grade grade = firmest_grade(analysis);
    if (analysis->chain_count == 1) {
        const ps_chain *chain = &analysis->chains[0];
        say(text, "The pawns on ");
        say_files(text, chain->first_file, chain->last_file);
        say(text, " are locked, ");
        say_chain_pawns(text, chain, WHITE);
        say(text, " against ");
        say_chain_pawns(text, chain, BLACK);
        say(text, "; %s.", grade_words[grade]);
        return;
    }
    static const char *const counts[] = {[2] = "Two", "Three", "Four", "Five", "Six",
                                         "Seven",     "Eight", "Nine", "Ten"};
    say(text, "%s chains are locked, ", counts[analysis->chain_count]);
    say_locked_files(text, analysis);
    say(text, grade == PS_VOID ? "; %s." : "; in the firmest of them %s.",
        grade == PS_VOID ? grade_words[grade] : grade_words[grade] + sizeof "there");
}

/* ------------------------------------------------------------------------------------- a lever */

/* What a lever attacks, as seen by its side. */
static void say_target(Text *text, const ps_lever *lever, Side side, ps_break_kind kind)
{
    say(text, "%s against %s, ", ps_square_name(lever->square), ps_square_name(lever->target));
    if (kind == PS_HEAD)
        say(text, "the head of %s's chain", side_words[opposite(side)]);
    else if (lever->target_is_base)
        say(text, "the base of %s's chain", side_words[opposite(side)]);
    else
        say(text, "the base of the locked chain");
}

static void say_steps(Text *text, const ps_lever *lever)
{
    say(text, "the pawn on %s needs ", ps_square_name(lever->pawn));
    say_number(text, lever->steps);
    say(text, " %s", plural(lever->steps, "move", "moves"));
}

static void say_support(Text *text, const ps_lever *lever)
{
    say(text, "%s is ", ps_square_name(lever->square));
    if (lever->supporters == 0 && lever->attackers == 0) {
        say(text, "neither guarded nor attacked");
        return;
    }
    if (lever->supporters > 0) {
        say(text, "guarded ");
        say_times(text, lever->supporters);
        say(text, lever->attackers > 0 ? " and " : " and not attacked");
    }
    if (lever->attackers > 0) {
        say(text, "attacked ");
        say_times(text, lever->attackers);
        say(text, lever->supporters > 0 ? "" : " and not guarded");
    }
}

/* "the knight on f3 stands", or, if nobody tells the names, "the pieces on f3 and f4 stand". */
static void say_blockers(Text *text, const ps_lever *lever, const ps_board *board)
{
    int count = lever->blocker_count;
    if (text->name == NULL)
        say(text, "%s on ", plural(count, "the piece", "the pieces"));
    for (int i = 0; i < count; i++) {
        Square square = lever->blockers[i];
        say(text, "%s", joint(i, count, " and "));
        if (text->name != NULL)
            say(text, "the %s on ", text->name(board->host, square));
        say(text, "%s", ps_square_name(square));
    }
    say(text, " %s in its way", plural(count, "stands", "stand"));
}

static void say_bar(Text *text, const ps_lever *lever, const ps_board *board, Side side)
{
    Bitboard bars = squares_to_go(side, lever->pawn, lever->square) & board->pawns[opposite(side)];
    Square bar = side == WHITE ? first_square(bars) : last_square(bars);
    say(text, "%s's pawn on %s bars the way of the pawn on %s", side_words[opposite(side)],
        ps_square_name(bar), ps_square_name(lever->pawn));
}

/* How a lever stands that can be played, has been played, or cannot: a clause behind its target. */
static void say_state(Text *text, const ps_lever *lever, const ps_board *board, Side side)
{
    switch (lever->status) {
    case PS_PLAYED:
        say(text, ", stands on the board");
        break;
    case PS_READY:
        say(text, ", is ready: ");
        say_steps(text, lever);
        say(text, ", and ");
        say_support(text, lever);
        break;
    case PS_OPEN:
        say(text, ", is open: ");
        say_steps(text, lever);
        say(text, ", with nothing in its way");
        break;
    case PS_UNSUPPORTED:
        say(text, ", lacks support: ");
        say_steps(text, lever);
        say(text, ", but ");
        say_support(text, lever);
        break;
    case PS_OBSTRUCTED:
        say(text, ", is obstructed: ");
        say_steps(text, lever);
        say(text, ", and ");
        say_blockers(text, lever, board);
        if (lever->attackers > lever->supporters) {
            say(text, ", while ");
            say_support(text, lever);
        }
        break;
    case PS_BARRED:
        say(text, ", cannot be played, for ");
        say_bar(text, lever, board, side);
        break;
    case PS_GONE:
        say(text, ", cannot be played, for %s has no %c-pawn left", side_words[side],
            file_letter(file_of(lever->square)));
        break;
    case PS_BEYOND:
    case PS_CLEARED:
        say(text, ", has done its work");
        break;
    case PS_NO_STATUS:
    case PS_STATUS_COUNT:
        break;
    }
}

/* ------------------------------------------------------------------------------------- a plan */

static void say_where_it_points(Text *text, const ps_analysis *analysis, Side side)
{
    const ps_plan *plan = &analysis->plan[side];
    const ps_chain *chain = &analysis->chains[plan->chain];
    const ps_chain_side *view = &chain->side[side];
    say(text, " ");
    if (analysis->chain_count > 1) {
        say(text, "On ");
        say_files(text, chain->first_file, chain->last_file);
        say(text, ", ");
    }
    say(text, "%s's pawns point ", side_words[side]);
    if (view->toward == PS_NO_FILE)
        say(text, "off the board");
    else if (chain->grade == PS_DOUBTFUL)
        say(text, "to the %c-file", file_letter(view->toward));
    else
        say(text, "to the %s", ps_region_name(plan->region));
}

/* What the lever has done, and what is left when it has. */
static void say_done(Text *text, const ps_lever *lever, const ps_board *board, Side side)
{
    say(text, ", and the lever %s has done its work: ", ps_square_name(lever->square));
    char file = file_letter(file_of(lever->square));
    if (lever->status == PS_BEYOND) {
        Bitboard gone_past = board->pawns[side] & squares_ahead(side, lever->square);
        Square pawn = side == WHITE ? first_square(gone_past) : last_square(gone_past);
        say(text, "the %c-pawn has gone past and stands on %s", file, ps_square_name(pawn));
    } else {
        say(text, "the %c-file is open", file);
    }
    say(text, ", and what is left is to play there with the pieces");
}

/* The base lever, behind "White's pawns point to the kingside". */
static void say_base_lever(Text *text, const ps_analysis *analysis, const ps_board *board, Side side)
{
    const ps_lever *lever = ps_plan_lever(analysis, side);
    bool misleads = analysis->plan[side].verdict == PS_MISLEADING;
    if (lever->square == PS_NO_SQUARE) {
        say(text, misleads ? ", and that misleads: there is no lever" : ", so there is no lever");
    } else if (lever->status == PS_PLAYED) {
        say(text, ", and %s has broken there already: ", side_words[side]);
        say_target(text, lever, side, PS_BASE);
    } else if (ps_lever_is_done(lever)) {
        say_done(text, lever, board, side);
    } else {
        say(text, misleads ? ", but that misleads: the lever " : ", and the lever ");
        say_target(text, lever, side, PS_BASE);
        say_state(text, lever, board, side);
    }
}

/* The lever on the other side of the chain, where the base lever is none or no more. */
static void say_head_lever(Text *text, const ps_chain_side *view, const ps_board *board, Side side)
{
    const ps_lever *lever = &view->head_lever;
    if (ps_lever_is_live(lever)) {
        say(text, "; the other lever, ");
        say_target(text, lever, side, PS_HEAD);
        say_state(text, lever, board, side);
    } else if (ps_lever_is_done(&view->base_lever)) {
        return;
    } else if (lever->square == PS_NO_SQUARE) {
        say(text, "; nor is there another lever");
    } else if (ps_lever_is_done(lever)) {
        say(text, "; the other lever, %s, has done its work", ps_square_name(lever->square));
    } else {
        say(text, "; nor can the other lever, %s, be played", ps_square_name(lever->square));
    }
}

/* Where the chain has grown beyond its firmest pair, pupils still look for the lever beside that pair. */
static void say_what_moved_on(Text *text, const ps_chain *chain, Side side)
{
    const ps_chain_side *view = &chain->side[side];
    int west = chain->first_file;
    while (ps_grade_of_pairs(1U << west) != chain->grade)
        west++;
    int pair_head = view->direction > 0 ? west + 1 : west;
    int grown = (file_of(view->head) - pair_head) * view->direction;
    if (grown == 0 || view->base_lever.square == PS_NO_SQUARE)
        return;
    Square once = view->base_lever.square - grown * (view->direction + forward_step(side));
    say(text,
        " The lever has moved on with the chain: for the %c- and %c-pawns alone it would be %s, but "
        "now it is %s.",
        file_letter(west), file_letter(west + 1), ps_square_name(once),
        ps_square_name(view->base_lever.square));
}

static void say_plan(Text *text, const ps_analysis *analysis, const ps_board *board, Side side)
{
    const ps_chain_side *view = ps_plan_chain(analysis, side);
    say_where_it_points(text, analysis, side);
    say_base_lever(text, analysis, board, side);
    if (!ps_lever_is_live(&view->base_lever))
        say_head_lever(text, view, board, side);
    say(text, ".");
    say_what_moved_on(text, &analysis->chains[analysis->plan[side].chain], side);
}

static void say_tempi(Text *text, int tempi)
{
    say_number(text, tempi);
    say(text, " %s", plural(tempi, "tempo", "tempi"));
}

static void say_who_is_first(Text *text, const ps_analysis *analysis)
{
    Side first = analysis->first_to_break;
    if (first == PS_NOBODY) {
        say(text, " Neither side has a lever to play where its direction points.");
        return;
    }
    const ps_lever *own = ps_plan_lever(analysis, first);
    const ps_lever *others = ps_plan_lever(analysis, opposite(first));
    const char *us = side_words[first], *them = side_words[opposite(first)];
    if (!ps_lever_is_live(others)) {
        if (own->tempi == 0) {
            say(text, " %s has no lever to play where its direction points.", them);
        } else {
            say(text, " Only %s can break where the direction points, in ", us);
            say_tempi(text, own->tempi);
            say(text, ".");
        }
    } else if (own->tempi == 0 && others->tempi == 0) {
        say(text, " Both sides have broken already, and %s is to move.", us);
    } else if (own->tempi == others->tempi) {
        say(text, " Both sides need ");
        say_tempi(text, own->tempi);
        say(text, " for it, so %s, who is to move, comes first.", us);
    } else if (own->tempi == 0) {
        say(text, " %s still needs ", them);
        say_tempi(text, others->tempi);
        say(text, ".");
    } else {
        say(text, " %s comes first, with ", us);
        say_tempi(text, own->tempi);
        say(text, " against ");
        say_number(text, others->tempi);
        say(text, ".");
    }
}

/* ------------------------------------------------------------------------------------- near misses */

static Bitboard rams_on(const ps_board *board)
{
    return board->pawns[WHITE] & (board->pawns[BLACK] >> 8);
}

static char rammed_centre_file(const ps_board *board)
{
    return rams_on(board) & file_mask(FILE_D) ? 'd' : 'e';
}

/* The wing to which both sides' d- and e-pawns point: white links rise to it. */
static const char *common_wing(const ps_board *board)
{
    Bitboard white_d = board->pawns[WHITE] & file_mask(FILE_D);
    Bitboard white_e = board->pawns[WHITE] & file_mask(FILE_E);
    Bitboard black_d = board->pawns[BLACK] & file_mask(FILE_D);
    Bitboard black_e = board->pawns[BLACK] & file_mask(FILE_E);
    bool kingside = (shift_east(white_d << 8) & white_e) != 0 && (shift_east(black_d >> 8) & black_e) != 0;
    return ps_region_name(kingside ? PS_KINGSIDE : PS_QUEENSIDE);
}

static void say_miss(Text *text, ps_near_miss miss, const ps_board *board, bool first)
{
    static const char warning[] = " Do not be misled: ";
    switch (miss) {
    case PS_NOT_LINKED:
        say(text,
            "%sthe d-file and the e-file are both closed by rams, but their pawns do not defend each "
            "other and so form no chain in the centre",
            warning);
        break;
    case PS_SAME_WAY:
        say(text,
            " Look again: both sides' d- and e-pawns point to the %s, and one of the two cannot be "
            "right; only the %c-file is closed by a ram, so that the centre is not locked",
            common_wing(board), rammed_centre_file(board));
        break;
    case PS_NOT_RAMMED:
        say(text,
            "%sthere are linked pawns on the d- and e-files, but only the %c-file is closed by a ram, "
            "so that the centre is not locked",
            warning, rammed_centre_file(board));
        break;
    case PS_RIM:
        say(text, "%swhat is locked at the rim says nothing", first ? warning : "; and ");
        break;
    case PS_NO_NEAR_MISS:
    case PS_NEAR_MISS_COUNT:
        break;
    }
}

/* The files at the rim need a word only where the first sentence has spoken of firmer ones, or of a chain that
 * begins there. */
static void say_near_misses(Text *text, const ps_analysis *analysis, const ps_board *board)
{
    bool rim_was_said = firmest_grade(analysis) == PS_VOID;
    bool began = false;
    for (int i = 0; i < analysis->near_miss_count; i++) {
        if (analysis->near_misses[i] == PS_RIM && rim_was_said)
            continue;
        say_miss(text, analysis->near_misses[i], board, !began);
        began = true;
    }
    if (began)
        say(text, ".");
}

/* ------------------------------------------------------------------------------------- breaks, tension */

static void say_breaks(Text *text, const ps_analysis *analysis)
{
    for (Side side = WHITE; side <= BLACK; side++) {
        const ps_break_list *breaks = &analysis->breaks[side];
        say(text, "%s%s ", side == WHITE ? " " : "; ", side_words[side]);
        say(text, breaks->count == 0 ? "has no push that attacks a pawn" : "can attack a pawn with ");
        for (int i = 0; i < breaks->count; i++)
            say(text, "%s%s", joint(i, breaks->count, " or "), ps_square_name(breaks->items[i].to));
    }
    say(text, ".");
}

/* "with cxd6 or exf6 en passant by White" */
static void say_captures(Text *text, const ps_analysis *analysis, Side side)
{
    const ps_capture_list *captures = &analysis->tension[side];
    say(text, "with ");
    for (int i = 0; i < captures->count; i++) {
        const ps_capture *capture = &captures->items[i];
        say(text, "%s%cx%s%s", joint(i, captures->count, " or "), file_letter(file_of(capture->from)),
            ps_square_name(capture->to), capture->en_passant ? " en passant" : "");
    }
    say(text, " by %s", side_words[side]);
}

static void say_tension(Text *text, const ps_analysis *analysis, Side to_move)
{
    Side other = opposite(to_move);
    bool now = analysis->tension[to_move].count > 0, later = analysis->tension[other].count > 0;
    if (!now && !later)
        return;
    say(text, now ? " But the lock can dissolve at once, " : " But the lock can dissolve a move later, ");
    if (now)
        say_captures(text, analysis, to_move);
    if (now && later)
        say(text, ", who is to move, or else ");
    if (later)
        say_captures(text, analysis, other);
    say(text, ".");
}

size_t explain_with_names(char *buffer, size_t size, const ps_analysis *analysis, const ps_board *board,
                          ManName *name)
{
    Text text = {buffer, size, 0, name};
    say_what_is_locked(&text, analysis);
    if (analysis->plan[WHITE].verdict != PS_NONE) {
        say_plan(&text, analysis, board, WHITE);
        say_plan(&text, analysis, board, BLACK);
        say_who_is_first(&text, analysis);
    }
    say_near_misses(&text, analysis, board);
    if (analysis->plan[WHITE].verdict == PS_NONE)
        say_breaks(&text, analysis);
    say_tension(&text, analysis, board->to_move);
    return text.length;
}

size_t ps_explain(char *buffer, size_t size, const ps_analysis *analysis, const ps_board *board)
{
    return explain_with_names(buffer, size, analysis, board, NULL);
}
