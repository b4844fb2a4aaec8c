#include "bench/lesson/quiz_page.h"
#include "bench/lesson/quiz_script.h"

#include "bench/page/diagram.h"
#include "bench/page/markup.h"
#include "bench/page/page.h"

static const char *const side_titles[] = {[PS_WHITE] = "White", [PS_BLACK] = "Black"};

static const char style[] =
    ".quiz[hidden]{display:none}.quiz h2:focus,.done h2:focus{outline:none}"
    ".over{max-width:30rem}.bare{position:relative}"
    ".ask{font-size:1.1875rem;margin:.25rem 0 .75rem}"
    ".count{color:var(--soft);font-size:.9375rem}\n"
    ".squares button{border:0;background:none;padding:0;margin:0;min-width:0;min-height:0;border-radius:0;"
    "cursor:pointer}"
    ".squares button:hover{box-shadow:inset 0 0 0 3px #5b3a8c}"
    ".squares button:focus-visible{outline:4px solid #5b3a8c;outline-offset:-4px}\n"
    ".wings{display:grid;grid-template-columns:3fr 2fr 3fr;gap:.35rem;margin:.25rem 5.2% .5rem}"
    ".wings .wide{grid-column:1/-1}\n"
    ".quiz button,.done button{font:inherit}"
    ".wings button,.next{color:var(--paper);background:var(--ink);border:2px solid var(--ink);"
    "border-radius:3px;"
    "padding:.5rem .25rem;min-height:2.75rem;cursor:pointer}.next{padding:.5rem 1.25rem;margin:0 .5rem .5rem "
    "0}"
    ".wings button:hover,.next:hover{background:var(--paper);color:var(--ink)}\n"
    ".told{margin:.5rem 0;padding-left:.9rem;border-left:5px solid var(--white-plan)}"
    ".told.wrong{border-left:5px double var(--black-plan)}.told b{font-weight:700}\n"
    ".why summary{cursor:pointer;padding:.4rem 0}"
    ".running .why summary,.running .asked{display:none}\n"
    "@media(min-width:48.01rem){.quiz .spread{grid-template-columns:minmax(0,27rem) minmax(0,1fr)}}\n"
    "@media print{.quiz[hidden]{display:block}.quiz{break-inside:avoid}.count,.wings,.next{display:none}}\n";

void quiz_page_begin(FILE *out)
{
    fputs("<svg width=\"0\" height=\"0\" style=\"position:absolute\" aria-hidden=\"true\" "
          "focusable=\"false\">\n<style>\n",
          out);
    fputs(style, out);
    fputs("</style>\n</svg>\n<p class=\"count\" id=\"count\" hidden=\"\"></p>\n", out);
}

void quiz_page_end(FILE *out)
{
    fputs("<section class=\"done\" id=\"done\" hidden=\"\"></section>\n<script>\n", out);
    for (int i = 0; quiz_script[i] != NULL; i++)
        fprintf(out, "%s\n", quiz_script[i]);
    fputs("</script>\n", out);
}

/* ------------------------------------------------------------------------------------------- the answers */

static bool has_direction(const ps_chain_side *chain)
{
    return chain != NULL && chain->toward != PS_NO_FILE;
}

static const char *wing_name(const Lesson *lesson, Side turn)
{
    return has_direction(ps_plan_chain(&lesson->analysis, turn))
               ? ps_region_name(lesson->analysis.plan[turn].region)
               : "nowhere";
}

static void explain_wing(FILE *out, const Lesson *lesson, Side turn)
{
    const ps_chain_side *chain = ps_plan_chain(&lesson->analysis, turn);
    const char *side = side_titles[turn];
    if (chain == NULL)
        markup_print(out, "No rams stand side by side in a chain from which a direction could be read.");
    else if (!has_direction(chain))
        markup_print(out, "%s's chain, from its base on %s to its head on %s, points off the board.", side,
                     ps_square_name(chain->base), ps_square_name(chain->head));
    else
        markup_print(out, "%s's chain, from its base on %s to its head on %s, points to the %s.", side,
                     ps_square_name(chain->base), ps_square_name(chain->head), wing_name(lesson, turn));
}

/* How each state of the lever is put after "the lever f5 against e4". */
static const char *const states[PS_STATUS_COUNT] = {
    [PS_PLAYED] = "stands on the board already",
    [PS_READY] = "is one move away, and supported",
    [PS_OPEN] = "has a free way, of more than one move",
    [PS_UNSUPPORTED] = "can be played, but lacks support",
    [PS_OBSTRUCTED] = "is there to be played once the way is clear",
    [PS_BEYOND] = "has been played and has gone past",
    [PS_CLEARED] = "has no pawn, and needs none: its file is open",
    [PS_BARRED] = "cannot be played, for an enemy pawn bars its way",
    [PS_GONE] = "cannot be played, for no pawn is left on its file",
};

static void explain_lever(FILE *out, const ps_lever *lever)
{
    markup_print(out, "The lever %s, against %s, %s.", ps_square_name(lever->square),
                 ps_square_name(lever->target), states[lever->status]);
}

/* ------------------------------------------------------------------------------------------- the position */

/* What the script reads: the right answers, and where the men stand. */
static void write_data(FILE *out, const Lesson *lesson, Side turn, bool flip)
{
    const ps_chain_side *chain = ps_plan_chain(&lesson->analysis, turn);
    fprintf(out, " data-side=\"%s\" data-wing=\"%s\" data-flip=\"%s\"", side_titles[turn],
            wing_name(lesson, turn), flip ? "yes" : "no");
    if (has_direction(chain)) {
        const ps_lever *lever = &chain->base_lever;
        fprintf(out, " data-lever=\"%s\"", ps_square_name(lever->square));
        if (ps_lever_is_live(lever))
            fprintf(out, " data-pawn=\"%s\"", ps_square_name(lever->pawn));
    }
    fputs(" data-men=\"", out);
    for (Square square = A1; square <= H8; square++) {
        bool white = (lesson->position.by_side[WHITE] & bit(square)) != 0;
        char letter = '.';
        if (position_occupied(&lesson->position) & bit(square))
            letter = "pnbrqk"[position_role(&lesson->position, square)];
        fputc(white ? letter - 'a' + 'A' : letter, out);
    }
    fputc('"', out);
}

static void draw(FILE *out, const LessonEntry *entry, const char *kind, bool marks, bool flip)
{
    char id[64];
    snprintf(id, sizeof id, "%s-%d", kind, entry->number);
    diagram_write(out, &(Diagram){.id = id,
                                  .position = &entry->lesson->position,
                                  .analysis = marks ? &entry->lesson->analysis : NULL,
                                  .flip = flip});
}

void quiz_page_position(FILE *out, const LessonEntry *entry, bool flip)
{
    const Lesson *lesson = entry->lesson;
    Side turn = position_turn(&lesson->position);
    const ps_chain_side *chain = ps_plan_chain(&lesson->analysis, turn);
    fputs("<section class=\"quiz\"", out);
    write_data(out, lesson, turn, flip);
    fputs(">\n", out);
    lesson_page_heading(out, entry, "quiz");
    fprintf(out,
            "<p class=\"ask\">Where does %s&#39;s chain point, and which lever does that name?</p>\n"
            "<div class=\"spread\">\n<div class=\"over\">\n<div class=\"bare\">\n",
            side_titles[turn]);
    draw(out, entry, "bare", false, flip);
    fputs("</div>\n</div>\n<div class=\"column\">\n<details class=\"why\">\n<summary>The answer</summary>\n"
          "<div class=\"marked\">\n",
          out);
    draw(out, entry, "marked", true, flip);
    fputs("</div>\n<p class=\"asked wing\">", out);
    explain_wing(out, lesson, turn);
    fputs("</p>\n", out);
    if (has_direction(chain)) {
        fputs("<p class=\"asked lever\">", out);
        explain_lever(out, &chain->base_lever);
        fputs("</p>\n", out);
    }
    lesson_page_words(out, entry);
    fputs("</details>\n</div>\n</div>\n</section>\n", out);
}
