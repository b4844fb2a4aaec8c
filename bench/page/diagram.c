#include "bench/page/diagram.h"

#include "bench/page/markup.h"
#include "bench/page/piece_shapes.h"
#include "engine/rules/notation.h"

/* Units of the drawing. A square has the size that piece_shapes.h draws for. */
enum {
    CELL = 100,
    LEFT = 46, /* margins: ranks on the left, files below, the side to move on the right */
    TOP = 10,
    RIGHT = 46,
    BELOW = 50,
    BOARD = 8 * CELL,
    WIDTH = LEFT + BOARD + RIGHT,
    HEIGHT = TOP + BOARD + BELOW
};

static const char style[] =
    ".board{display:block;width:100%;height:auto;max-width:30rem;border-radius:4px;"
    "--paper:#fbf7ea;--ink:#1d2730;--white-plan:#0f5f6b;--black-plan:#9a3b24}\n"
    "@media(prefers-color-scheme:dark){.board{--paper:#e4dcc8}}\n"
    "@media print{.board{--paper:#fffdf8}}\n"
    ".board .ground,.key .ground{fill:var(--paper)}\n"
    ".board .edge{fill:none;stroke:var(--ink);stroke-width:5}\n"
    ".board text{font:italic 30px 'Palatino Linotype',Palatino,'DejaVu "
    "Serif',Georgia,serif;fill:var(--ink)}\n"
    ".man-body{fill:var(--man);stroke:#1d2730;stroke-width:3;stroke-linejoin:round}\n"
    ".man-detail{fill:none;stroke:var(--line);stroke-width:2.4;stroke-linecap:round}\n"
    ".white-man{--man:#fffefa;--line:#1d2730}.black-man{--man:#1d2730;--line:#f6f1e4}\n"
    ".white-mark{--plan:#0f5f6b}.black-mark{--plan:#9a3b24}\n"
    ".chain,.lever,.way,.point{fill:none;stroke:var(--plan);stroke-linecap:round;stroke-linejoin:round}\n"
    ".chain{stroke-width:15;opacity:.5}.lever{stroke-width:8}.way{stroke-width:7;stroke-dasharray:1 13}\n"
    ".black-mark .lever{stroke-dasharray:19 13}.black-mark .chain{stroke-dasharray:24 22}\n"
    ".point{fill:var(--plan);stroke-width:6}\n"
    ".room-white{fill:url(#room-white)}.room-black{fill:url(#room-black)}\n"
    ".ram-under{stroke:var(--paper,#fbf7ea);stroke-width:26;stroke-linecap:round}\n"
    ".ram{fill:none;stroke:#1d2730;stroke-width:6;stroke-linecap:round}\n"
    ".move{fill:none;stroke:#5b3a8c;stroke-width:11;stroke-linecap:round;opacity:.8}\n"
    ".move.played{stroke-dasharray:16 20}\n"
    ".move-head{fill:#5b3a8c}\n"
    ".board .move-label{font:600 34px 'DejaVu Sans',Arial,sans-serif;fill:#5b3a8c;stroke:var(--paper);"
    "stroke-width:9;paint-order:stroke;text-anchor:middle}\n"
    ".legend{list-style:none;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(15rem,1fr))"
    ";"
    "gap:.25rem 1.25rem;font-size:.9375rem}\n"
    ".legend li{display:grid;grid-template-columns:2.2rem 1fr;gap:.6rem;align-items:center;margin:0}\n"
    ".key{width:2.2rem;height:2.2rem;border-radius:3px;--paper:#fbf7ea;--ink:#1d2730}\n"
    "@media(prefers-color-scheme:dark){.key{--paper:#e4dcc8}}\n"
    "@media print{.legend{font-size:9pt;grid-template-columns:repeat(2,1fr)}.key{width:7mm;height:7mm;"
    "--paper:#fffdf8}.legend li{grid-template-columns:7mm 1fr}}\n";

/* Patterns that print well without colours: hatching for dark squares, dots and dashes for the room. */
static const char patterns[] =
    "<pattern id=\"dark-square\" width=\"11\" height=\"11\" patternUnits=\"userSpaceOnUse\" "
    "patternTransform=\"rotate(45)\"><rect width=\"11\" height=\"11\" fill=\"#d9cfb8\" fill-opacity=\".45\"/>"
    "<path d=\"M0 0V11\" stroke=\"#4b4a45\" stroke-width=\"3.4\"/></pattern>\n"
    "<pattern id=\"room-white\" width=\"25\" height=\"25\" patternUnits=\"userSpaceOnUse\">"
    "<rect width=\"25\" height=\"25\" fill=\"#0f5f6b\" fill-opacity=\".2\"/>"
    "<circle cx=\"12.5\" cy=\"12.5\" r=\"4.2\" fill=\"#0f5f6b\" fill-opacity=\".6\"/></pattern>\n"
    "<pattern id=\"room-black\" width=\"25\" height=\"25\" patternUnits=\"userSpaceOnUse\">"
    "<rect width=\"25\" height=\"25\" fill=\"#9a3b24\" fill-opacity=\".2\"/>"
    "<path d=\"M5 12.5H20\" stroke=\"#9a3b24\" stroke-opacity=\".65\" stroke-width=\"5\"/></pattern>\n";

void diagram_definitions(FILE *out)
{
    fputs("<svg width=\"0\" height=\"0\" style=\"position:absolute\" aria-hidden=\"true\" "
          "focusable=\"false\">\n"
          "<style>\n",
          out);
    fputs(style, out);
    fprintf(out,
            ".squares{position:absolute;left:%.3f%%;width:%.3f%%;top:%.3f%%;height:%.3f%%;display:grid;"
            "grid-template:repeat(8,1fr)/repeat(8,1fr)}\n",
            100.0 * LEFT / WIDTH, 100.0 * BOARD / WIDTH, 100.0 * TOP / HEIGHT, 100.0 * BOARD / HEIGHT);
    fputs("</style>\n<defs>\n", out);
    fputs(patterns, out);
    for (Role role = PAWN; role <= KING; role++)
        fprintf(
            out,
            "<g id=\"man-%s\"><path class=\"man-body\" d=\"%s\"/><path class=\"man-detail\" d=\"%s\"/></g>\n",
            piece_shapes[role].name, piece_shapes[role].body, piece_shapes[role].detail);
    fputs("</defs>\n</svg>\n", out);
}

/* ------------------------------------------------------------------------------------------ the geometry */

/* Left upper corner of a square. */
static int left_of(const Diagram *d, Square square)
{
    int file = file_of(square);
    return LEFT + CELL * (d->flip ? 7 - file : file);
}

static int top_of(const Diagram *d, Square square)
{
    int rank = rank_of(square);
    return TOP + CELL * (d->flip ? rank : 7 - rank);
}

static int middle_x(const Diagram *d, Square square)
{
    return left_of(d, square) + CELL / 2;
}

static int middle_y(const Diagram *d, Square square)
{
    return top_of(d, square) + CELL / 2;
}

/* +1 if White's forward is down the drawing. */
static int down(const Diagram *d)
{
    return d->flip ? 1 : -1;
}

/* ------------------------------------------------------------------------------------- what to mark on it */

static Bitboard pawns_of(const Position *p, ps_side side)
{
    return position_men(p, side, PAWN);
}

static Bitboard linked_with(Bitboard pawns, Bitboard set)
{
    Bitboard beside = shift_west(set) | shift_east(set);
    return ((beside << 8) | (beside >> 8)) & pawns;
}

/* The pawns of a side's chains that have a locked part. */
static Bitboard locked_chain(const Position *p, const ps_analysis *analysis, ps_side side)
{
    Bitboard chain = 0;
    for (int i = 0; i < analysis->chain_count; i++)
        chain |= bit(analysis->chains[i].side[side].head) | bit(analysis->chains[i].side[side].base);
    for (Bitboard grown = chain;; chain = grown) {
        grown |= linked_with(pawns_of(p, side), chain);
        if (grown == chain)
            return chain;
    }
}

static Bitboard white_ram_pawns(const Position *p)
{
    return pawns_of(p, PS_WHITE) & (pawns_of(p, PS_BLACK) >> 8);
}

Bitboard diagram_room(const Position *position, const ps_analysis *analysis, ps_side side)
{
    const ps_chain_side *chain = ps_plan_chain(analysis, side);
    if (chain == NULL || chain->toward == PS_NO_FILE)
        return 0;
    Bitboard files = 0, ranks = 0;
    for (int file = chain->toward; file >= 0 && file < FILE_COUNT; file += chain->direction)
        files |= file_mask(file);
    int head_rank = relative_rank(side, chain->head);
    for (int rank = RANK_2; rank <= head_rank; rank++)
        ranks |= rank_mask(side == PS_WHITE ? rank : 7 - rank);
    Side enemy = opposite(side);
    return files & ranks & ~pawn_attacks(enemy, position_men(position, enemy, PAWN));
}

/* ------------------------------------------------------------------------------------------- the drawing */

static const char *const mark_class[] = {[PS_WHITE] = "white-mark", [PS_BLACK] = "black-mark"};

static void draw_board(FILE *out, const Diagram *d)
{
    fprintf(out, "<rect class=\"ground\" width=\"%d\" height=\"%d\"/>\n<path fill=\"url(#dark-square)\" d=\"",
            WIDTH, HEIGHT);
    for (Square square = A1; square <= H8; square++)
        if (((int)file_of(square) + (int)rank_of(square)) % 2 == 0)
            fprintf(out, "M%d %dh%dv%dh-%dz", left_of(d, square), top_of(d, square), CELL, CELL, CELL);
    fputs("\"/>\n", out);
    for (int i = 0; i < 8; i++) {
        Square on_edge = square_at(i, i);
        fprintf(out, "<text x=\"%d\" y=\"%d\" text-anchor=\"middle\">%c</text>", middle_x(d, on_edge),
                TOP + BOARD + 38, 'a' + i);
        fprintf(out, "<text x=\"%d\" y=\"%d\" text-anchor=\"middle\">%c</text>\n", LEFT / 2,
                middle_y(d, on_edge) + 10, '1' + i);
    }
}

static void draw_room(FILE *out, const Diagram *d, ps_side side)
{
    Bitboard room = diagram_room(d->position, d->analysis, side);
    if (room == 0)
        return;
    fprintf(out, "<path class=\"room-%s\" d=\"", ps_side_name(side));
    while (room != 0) {
        Square square = take_first(&room);
        fprintf(out, "M%d %dh%dv%dh-%dz", left_of(d, square), top_of(d, square), CELL, CELL, CELL);
    }
    fputs("\"/>\n", out);
}

static void draw_chain(FILE *out, const Diagram *d, ps_side side)
{
    Bitboard chain = locked_chain(d->position, d->analysis, side);
    if (chain == 0)
        return;
    fprintf(out, "<g class=\"%s\"><path class=\"chain\" d=\"", mark_class[side]);
    for (Bitboard from = chain; from != 0;) {
        Square square = take_first(&from);
        for (Bitboard to = linked_with(chain, bit(square)) & shift_east(file_mask(file_of(square)));
             to != 0;) {
            Square other = take_first(&to);
            fprintf(out, "M%d %dL%d %d", middle_x(d, square), middle_y(d, square), middle_x(d, other),
                    middle_y(d, other));
        }
    }
    fputs("\"/></g>\n", out);
}

/* The arrow goes on from the head in the line of the chain, and stays on the board. */
static void draw_direction(FILE *out, const Diagram *d, ps_side side)
{
    const ps_chain_side *chain = ps_plan_chain(d->analysis, side);
    if (chain == NULL || chain->toward == PS_NO_FILE)
        return;
    int x = middle_x(d, chain->head), y = middle_y(d, chain->head);
    int dx = x - middle_x(d, chain->base), dy = y - middle_y(d, chain->base);
    int sx = dx > 0 ? 1 : -1, sy = dy > 0 ? 1 : -1;
    int tip_x = x + sx * 92, tip_y = y + sy * 92;
    fprintf(out,
            "<g class=\"%s\"><path class=\"point\" d=\"M%d %dL%d %d\"/><path class=\"point\" "
            "d=\"M%d %dL%d %dL%d %dz\"/></g>\n",
            mark_class[side], x + sx * 38, y + sy * 38, tip_x - sx * 12, tip_y - sy * 12, tip_x, tip_y,
            tip_x - sx * 30, tip_y - sy * 4, tip_x - sx * 4, tip_y - sy * 30);
}

static void draw_way(FILE *out, const Diagram *d, const ps_lever *lever)
{
    if (!ps_lever_is_live(lever) || lever->status == PS_PLAYED)
        return;
    int x = middle_x(d, lever->pawn), y = middle_y(d, lever->pawn);
    int goal = middle_y(d, lever->square);
    int step = goal > y ? 44 : -44; /* from edge to edge, so that the pawn and the mark stay clear */
    fprintf(out, "<path class=\"way\" d=\"M%d %dV%d\"/>", x, y + step, goal - step);
}

static void draw_lever(FILE *out, const Diagram *d, const ps_lever *lever, bool base)
{
    if (lever->square == PS_NO_SQUARE)
        return;
    int x = middle_x(d, lever->square), y = middle_y(d, lever->square);
    if (base)
        fprintf(out, "<circle class=\"lever\" cx=\"%d\" cy=\"%d\" r=\"42\"/>", x, y);
    else
        fprintf(out, "<path class=\"lever\" d=\"M%d %dl44 44-44 44-44-44z\"/>", x, y - 44);
    if (ps_lever_is_done(lever))
        fprintf(out, "<path class=\"lever\" style=\"stroke-dasharray:none\" d=\"M%d %dl18 20 30-42\"/>",
                x - 24, y + 4);
    else if (!ps_lever_is_live(lever))
        fprintf(out, "<path class=\"lever\" style=\"stroke-dasharray:none\" d=\"M%d %dl58 58m0-58l-58 58\"/>",
                x - 29, y - 29);
}

static void draw_plan(FILE *out, const Diagram *d, ps_side side)
{
    const ps_chain_side *chain = ps_plan_chain(d->analysis, side);
    if (chain == NULL)
        return;
    fprintf(out, "<g class=\"%s\">", mark_class[side]);
    draw_way(out, d, &chain->base_lever);
    draw_lever(out, d, &chain->base_lever, true);
    draw_lever(out, d, &chain->head_lever, false);
    fputs("</g>\n", out);
}

static void draw_men(FILE *out, const Diagram *d)
{
    for (Bitboard men = position_occupied(d->position); men != 0;) {
        Square square = take_first(&men);
        bool white = (d->position->by_side[WHITE] & bit(square)) != 0;
        fprintf(out, "<use href=\"#man-%s\" class=\"%s\" x=\"%d\" y=\"%d\"/>\n",
                piece_shapes[position_role(d->position, square)].name, white ? "white-man" : "black-man",
                left_of(d, square), top_of(d, square));
    }
}

static void draw_rams(FILE *out, const Diagram *d)
{
    for (Bitboard rams = white_ram_pawns(d->position); rams != 0;) {
        Square square = take_first(&rams);
        int x = middle_x(d, square), y = middle_y(d, square) + down(d) * CELL / 2;
        fprintf(out,
                "<path class=\"ram-under\" d=\"M%d %dh36\"/><path class=\"ram\" d=\"M%d %dh40M%d %dh40\"/>\n",
                x - 18, y, x - 20, y - 6, x - 20, y + 6);
    }
}

/* An arrow from middle to middle, drawn so that the man stays visible at either end. */
static void draw_arrow(FILE *out, const Diagram *d, const DiagramArrow *arrow)
{
    double x1 = middle_x(d, arrow->from), y1 = middle_y(d, arrow->from);
    double x2 = middle_x(d, arrow->to), y2 = middle_y(d, arrow->to);
    double length = __builtin_sqrt((x2 - x1) * (x2 - x1) + (y2 - y1) * (y2 - y1));
    double ux = (x2 - x1) / length, uy = (y2 - y1) / length;
    x1 += 28 * ux, y1 += 28 * uy;
    x2 -= 12 * ux, y2 -= 12 * uy;
    fprintf(out,
            "<path class=\"move%s\" d=\"M%.1f %.1fL%.1f %.1f\"/>"
            "<path class=\"move-head\" d=\"M%.1f %.1fL%.1f %.1fL%.1f %.1fz\"/>\n",
            arrow->played ? " played" : "", x1, y1, x2 - 24 * ux, y2 - 24 * uy, x2, y2,
            x2 - 32 * ux - 18 * uy, y2 - 32 * uy + 18 * ux, x2 - 32 * ux + 18 * uy, y2 - 32 * uy - 18 * ux);
    if (arrow->label != NULL) {
        /* Beside a move up or down the board, above one along a rank. */
        fprintf(out, "<text class=\"move-label\" x=\"%.1f\" y=\"%.1f\">", (x1 + x2) / 2 - 58 * uy,
                (y1 + y2) / 2 + 12 - 30 * ux * ux);
        markup_text(out, arrow->label);
        fputs("</text>\n", out);
    }
}

static void draw_turn(FILE *out, const Diagram *d)
{
    Side turn = position_turn(d->position);
    bool at_foot = (turn == WHITE) != d->flip;
    fprintf(out, "<circle cx=\"%d\" cy=\"%d\" r=\"14\" fill=\"%s\" stroke=\"#1d2730\" stroke-width=\"4\"/>\n",
            LEFT + BOARD + RIGHT / 2 + 2, at_foot ? TOP + BOARD - 22 : TOP + 22,
            turn == WHITE ? "#fffefa" : "#1d2730");
}

/* ------------------------------------------------------------------------------------------- in words */

static void describe_men(FILE *out, const Position *p, Side side)
{
    static const char *const many[ROLE_COUNT] = {"pawns", "knights", "bishops", "rooks", "queens", "king"};
    markup_print(out, "%s:", side == WHITE ? "White" : "Black");
    const char *comma = "";
    for (int role = KING; role >= PAWN; role--) {
        Bitboard men = position_men(p, side, role);
        if (men == 0)
            continue;
        markup_print(out, "%s %s", comma, more_than_one(men) ? many[role] : piece_shapes[role].name);
        while (men != 0)
            markup_print(out, " %s", ps_square_name(take_first(&men)));
        comma = ",";
    }
    fputs(". ", out);
}

static void describe_plan(FILE *out, const ps_analysis *analysis, ps_side side)
{
    const ps_chain_side *chain = ps_plan_chain(analysis, side);
    if (chain == NULL)
        return;
    markup_print(out, "%s's chain from %s to %s points %s%s.", side == PS_WHITE ? "White" : "Black",
                 ps_square_name(chain->base), ps_square_name(chain->head),
                 chain->toward == PS_NO_FILE ? "off the board" : "to the ",
                 chain->toward == PS_NO_FILE ? "" : ps_region_name(analysis->plan[side].region));
    if (chain->base_lever.square != PS_NO_SQUARE)
        markup_print(out, " Base lever %s: %s.", ps_square_name(chain->base_lever.square),
                     ps_status_name(chain->base_lever.status));
    if (chain->head_lever.square != PS_NO_SQUARE)
        markup_print(out, " Head lever %s: %s.", ps_square_name(chain->head_lever.square),
                     ps_status_name(chain->head_lever.status));
    fputc(' ', out);
}

static void describe(FILE *out, const Diagram *d)
{
    describe_men(out, d->position, WHITE);
    describe_men(out, d->position, BLACK);
    for (int i = 0; i < d->arrow_count; i++)
        markup_print(out, "%s%sArrow from %s to %s. ", d->arrows[i].label != NULL ? d->arrows[i].label : "",
                     d->arrows[i].label != NULL ? ": " : "", ps_square_name(d->arrows[i].from),
                     ps_square_name(d->arrows[i].to));
    if (d->analysis == NULL)
        return;
    for (Bitboard rams = white_ram_pawns(d->position); rams != 0;) {
        Square square = take_first(&rams);
        markup_print(out, "Ram %s %s. ", ps_square_name(square), ps_square_name(square + 8));
    }
    describe_plan(out, d->analysis, PS_WHITE);
    describe_plan(out, d->analysis, PS_BLACK);
}

/* ------------------------------------------------------------------------------------------- all together */

void diagram_write(FILE *out, const Diagram *d)
{
    const char *turn = position_turn(d->position) == WHITE ? "White" : "Black";
    fputs("<figure>\n", out);
    fprintf(out,
            "<svg class=\"board\" role=\"img\" viewBox=\"0 0 %d %d\" aria-labelledby=\"%s-title\" "
            "aria-describedby=\"%s-words\">\n<title id=\"%s-title\">Chess diagram, %s to move</title>\n"
            "<desc id=\"%s-words\">",
            WIDTH, HEIGHT, d->id, d->id, d->id, turn, d->id);
    describe(out, d);
    fputs("</desc>\n", out);
    draw_board(out, d);
    if (d->analysis != NULL)
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            draw_room(out, d, side);
            draw_chain(out, d, side);
        }
    draw_men(out, d);
    fprintf(out, "<rect class=\"edge\" x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\"/>\n", LEFT, TOP, BOARD,
            BOARD);
    if (d->analysis != NULL) {
        draw_rams(out, d);
        for (int side = PS_WHITE; side <= PS_BLACK; side++) {
            draw_direction(out, d, side);
            draw_plan(out, d, side);
        }
    }
    for (int i = 0; i < d->arrow_count; i++)
        draw_arrow(out, d, &d->arrows[i]);
    draw_turn(out, d);
    fputs("</svg>\n", out);
    if (d->caption != NULL) {
        fputs("<figcaption>", out);
        markup_text(out, d->caption);
        fputs("</figcaption>\n", out);
    }
    fputs("</figure>\n", out);
}

/* One square of a board as a key, and what it means. */
static const struct {
    const char *drawing, *meaning;
} legend[] = {
    {"<path class=\"ram\" d=\"M30 44h40M30 56h40\"/>", "Ram: two pawns block each other"},
    {"<g class=\"white-mark\"><path class=\"chain\" d=\"M12 88L64 36\"/><path class=\"point\" "
     "d=\"M66 34L84 16M90 10L60 14L86 40z\"/></g>",
     "White's chain and where it points (solid)"},
    {"<g class=\"black-mark\"><path class=\"chain\" d=\"M12 12L64 64\"/><path class=\"point\" "
     "d=\"M66 66L84 84M90 90L60 86L86 60z\"/></g>",
     "Black's chain and where it points (broken)"},
    {"<g class=\"white-mark\"><circle class=\"lever\" cx=\"50\" cy=\"50\" r=\"40\"/></g>",
     "Base lever: the pawn push the arrow asks for"},
    {"<g class=\"white-mark\"><path class=\"lever\" d=\"M50 8l42 42-42 42-42-42z\"/></g>",
     "Head lever: the push on the other side"},
    {"<g class=\"white-mark\"><circle class=\"lever\" cx=\"50\" cy=\"50\" r=\"40\"/>"
     "<path class=\"lever\" d=\"M22 22l56 56m0-56l-56 56\"/></g>",
     "Crossed out: that lever can no longer be played"},
    {"<g class=\"white-mark\"><circle class=\"lever\" cx=\"50\" cy=\"50\" r=\"40\"/>"
     "<path class=\"lever\" d=\"M26 54l18 20 30-42\"/></g>",
     "Ticked: that lever has done its work"},
    {"<rect class=\"room-white\" width=\"100\" height=\"100\"/>",
     "White's room on the side it points to (dots)"},
    {"<rect class=\"room-black\" width=\"100\" height=\"100\"/>",
     "Black's room on the side it points to (dashes)"},
    {"<path class=\"move\" d=\"M18 82L64 36\"/><path class=\"move-head\" d=\"M82 18L46 32L68 54z\"/>",
     "Arrow: the best move by calculation, or a lever that was missed"},
    {"<path class=\"move played\" d=\"M18 82L64 36\"/><path class=\"move-head\" d=\"M82 18L46 32L68 54z\"/>",
     "Broken arrow: the move that was played"},
};

void diagram_legend(FILE *out)
{
    fputs("<ul class=\"legend\" aria-label=\"Marks on the diagrams\">\n", out);
    for (size_t i = 0; i < sizeof legend / sizeof legend[0]; i++) {
        fprintf(out,
                "<li><svg class=\"key\" viewBox=\"0 0 100 100\" aria-hidden=\"true\"><rect class=\"ground\" "
                "width=\"100\" height=\"100\"/>%s</svg><span>",
                legend[i].drawing);
        markup_text(out, legend[i].meaning);
        fputs("</span></li>\n", out);
    }
    fputs("</ul>\n", out);
}
