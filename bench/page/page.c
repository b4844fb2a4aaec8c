#include "bench/page/page.h"

#include "bench/page/markup.h"

#include <ctype.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* Colours are paper and ink; the two accents tell White's plan from Black's. Each text colour keeps a
 * contrast of at least 4.5 to its ground (W3C, Web Content Accessibility Guidelines 2.1, criterion 1.4.3). */
static const char style[] =
    ":root{color-scheme:light "
    "dark;--paper:#faf6ec;--ink:#1d2730;--soft:#55606b;--rule:#cdc4b0;"
    "--white-plan:#0f5f6b;--black-plan:#9a3b24}\n"
    "@media(prefers-color-scheme:dark){:root{--paper:#161b20;--ink:#ece6d8;--soft:#b3b0a6;"
    "--rule:#46505a;--white-plan:#6cc5d2;--black-plan:#f0987f}}\n"
    "@media print{:root{color-scheme:light;--paper:#fff;--ink:#111;--soft:#444;--rule:#aaa;"
    "--white-plan:#0f5f6b;--black-plan:#9a3b24}}\n"
    "*{box-sizing:border-box}\n"
    "html{-webkit-text-size-adjust:100%}\n"
    "body{margin:0;background:var(--paper);color:var(--ink);font:1.0625rem/1.5 Charter,'Bitstream Charter',"
    "'Palatino Linotype',Palatino,'DejaVu Serif',Georgia,serif}\n"
    "main,header,footer{max-width:62rem;margin:0 auto;padding:0 1.25rem}\n"
    "header{padding-top:2rem}\n"
    "header::after{content:'';display:block;margin-top:1rem;height:.5rem;border-top:3px solid var(--ink);"
    "border-bottom:1px solid var(--ink)}\n"
    "footer{padding-top:.5rem;padding-bottom:2rem;color:var(--soft);font-size:.875rem}\n"
    "footer p{margin:0;border-top:1px solid var(--ink);padding-top:.5rem}\n"
    "h1,h2,h3,h4{line-height:1.2;font-weight:600;text-wrap:balance}\n"
    "h1{font-size:2.1rem;margin:0}\n"
    "h2{font-size:1.45rem;margin:2.25rem 0 .75rem}\n"
    "h3{font-size:1.15rem;margin:1.5rem 0 .5rem}\n"
    "h4{font-size:1rem;margin:1.25rem 0 .25rem}\n"
    ".subtitle{margin:.35rem 0 0;color:var(--soft);font-style:italic}\n"
    "p{margin:.5rem 0;hyphens:manual}\n"
    "ul{margin:.5rem 0;padding-left:1.25rem}\n"
    "li{margin:.2rem 0}\n"
    ".lead{font-size:1.25rem;line-height:1.45;border-left:4px solid var(--ink);padding-left:1rem;margin:1rem "
    "0}\n"
    ".note{color:var(--soft);font-size:.9375rem}\n"
    "figure{margin:0}\n"
    "figcaption{font-size:.9375rem;color:var(--soft);margin-top:.35rem}\n"
    ".spread{display:grid;grid-template-columns:minmax(0,23rem) minmax(0,1fr);gap:.5rem 1.75rem;"
    "align-items:start}\n"
    ".column>:first-child{margin-top:0}\n"
    ".scroll{overflow-x:auto;margin:1rem 0}\n"
    "table{border-collapse:collapse;width:100%;font-size:.9375rem;line-height:1.35;"
    "font-variant-numeric:tabular-nums lining-nums}\n"
    "caption{text-align:left;font-weight:600;padding:0 0 .35rem;caption-side:top}\n"
    "th,td{text-align:left;vertical-align:top;padding:.3rem .75rem .3rem 0;border-bottom:1px solid "
    "var(--rule);"
    "font-weight:400}\n"
    "thead th{border-bottom:2px solid var(--ink);font-size:.875rem;color:var(--soft);vertical-align:bottom}\n"
    "tbody th{font-weight:600;min-width:7.5rem}\n"
    ".number{text-align:right}.number+td:not(.number){padding-left:.75rem}td.number{white-space:nowrap}\n"
    "th:last-child,td:last-child{padding-right:0}\n"
    "a{color:var(--white-plan)}\n"
    ":focus-visible{outline:3px solid var(--white-plan);outline-offset:2px}\n"
    ".lines{border:0;margin:.75rem 0;padding:0}\n"
    ".lines i{display:block;height:2rem;border-bottom:1px solid var(--rule)}\n"
    "code{font:.875em 'DejaVu Sans Mono',monospace;user-select:all;-webkit-user-select:all;"
    "overflow-wrap:anywhere}\n"
    ".aside{border-left:3px dashed var(--rule);padding-left:1rem;margin:1rem 0}\n"
    "@media(max-width:48rem){.spread{grid-template-columns:minmax(0,1fr)}h1{font-size:1.7rem}"
    "main,header,footer{padding-left:1rem;padding-right:1rem}.lead{font-size:1.125rem}}\n"
    "@page{margin:15mm 15mm 17mm}\n"
    "@media print{body{font-size:10.5pt;line-height:1.38;-webkit-print-color-adjust:exact;"
    "print-color-adjust:exact}main,header,footer{max-width:none;padding-left:0;padding-right:0}"
    "header{padding-top:0}footer{padding-bottom:0}"
    "h1{font-size:20pt}h2{font-size:14pt;margin-top:14pt}h3{font-size:11.5pt}h1,h2,h3,h4,caption{break-after:"
    "avoid}"
    ".lead{font-size:12.5pt}.note,figcaption,footer{font-size:9pt}table{font-size:9.5pt}thead "
    "th{font-size:8.5pt}"
    ".spread{grid-template-columns:72mm minmax(0,1fr);gap:0 7mm}"
    "figure,tr,.together,.spread,.scroll{break-inside:avoid}thead{display:table-header-group}.fresh{break-"
    "before:"
    "page}"
    ".scroll{overflow:visible;margin:8pt "
    "0}footer{break-before:avoid;padding-top:0}p,li{orphans:2;widows:2}a{color:inherit}.download{display:"
    "none}"
    "}\n";

/* The rows of a table that is too wide for a phone. */
static const char card_style[] =
    "@media screen and (max-width:40rem){"
    "tbody th{min-width:0}th,td{padding-right:.5rem}td.number{white-space:normal}"
    "td{overflow-wrap:anywhere}"
    ".cards,.cards tbody,.cards tr,.cards th,.cards td,.cards caption{display:block}"
    ".cards thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}"
    ".cards tr{display:flex;flex-wrap:wrap;gap:.15rem 1.25rem;padding:.5rem 0 .6rem .75rem;margin:.5rem 0;"
    "border-left:3px solid var(--rule)}"
    ".cards th,.cards td,.cards .number+td:not(.number){border:0;padding:0;text-align:left}"
    ".cards tbody th{flex:0 0 100%}.cards td[data-blank]{display:none}"
    ".cards td::before{content:attr(data-label);display:block;font-size:.8125rem;color:var(--soft)}}\n";

/* Boxes that fill a sheet of paper: one has 247 mm on Letter, 265 mm on A4; the first has the title and the
 * questions, too. */
static const char leaf_style[] =
    ".leaf{display:grid;gap:1rem 2.5rem;grid-template-columns:repeat(auto-fit,minmax(min(100%,22rem),1fr))}"
    ".leaf .spread{grid-template-columns:minmax(0,1fr)}\n"
    "@media print{"
    ".leaf{gap:4mm 8mm;grid-template-columns:minmax(0,1fr)}.leaf+.leaf{break-before:page}"
    ".leaf-4,.leaf-6{grid-template-columns:repeat(2,minmax(0,1fr))}"
    ".leaf h2{font-size:11pt;margin:0 0 2mm}.leaf p{margin:1mm 0;font-size:9.5pt;line-height:1.3}"
    ".leaf .lead{font-size:10.5pt;padding-left:2mm}.leaf .spread{gap:1mm}"
    ".leaf .lines{margin:0}.leaf .lines i{height:7mm}"
    ".leaf-1 .board{width:120mm}"
    ".leaf-2 .spread{grid-template-columns:76mm minmax(0,1fr);gap:0 7mm}"
    ".leaf-4 .board{width:60mm}"
    ".leaf-6 .spread{grid-template-columns:46mm minmax(0,1fr);gap:0 3mm}.leaf-6 h2{font-size:9.5pt}"
    ".leaf-6 p,.leaf-6 .lead{font-size:8.5pt}}\n";

void page_begin(FILE *out, const char *title, const char *subtitle, const char *foot)
{
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>",
          out);
    markup_text(out, title);
    fputs("</title>\n<style>\n", out);
    fputs(style, out);
    fputs(card_style, out);
    fputs(leaf_style, out);
    if (foot != NULL) {
        /* A string of a style sheet: nothing may end it or the sheet. */
        fputs("@page{@bottom-left{content:\"", out);
        for (const char *s = foot; *s != '\0'; s++)
            if (*s != '"' && *s != '\\' && *s != '<' && *s != '\n')
                fputc(*s, out);
        fputs("\";font:8pt serif;color:#444}@bottom-right{content:counter(page) \" / \" counter(pages);"
              "font:8pt serif;color:#444}}\n",
              out);
    }
    fputs("</style>\n</head>\n<body>\n<header>\n<h1>", out);
    markup_text(out, title);
    fputs("</h1>\n", out);
    if (subtitle != NULL) {
        fputs("<p class=\"subtitle\">", out);
        markup_text(out, subtitle);
        fputs("</p>\n", out);
    }
    fputs("</header>\n<main>\n", out);
}

void page_end(FILE *out, const char *closing)
{
    fputs("</main>\n<footer>\n<p>", out);
    markup_text(out, closing);
    fputs("</p>\n</footer>\n</body>\n</html>\n", out);
}

void page_heading(FILE *out, int level, const char *id, const char *text)
{
    fprintf(out, "<h%d", level);
    if (id != NULL) {
        fputs(" id=\"", out);
        markup_text(out, id);
        fputc('"', out);
    }
    fputc('>', out);
    markup_text(out, text);
    fprintf(out, "</h%d>\n", level);
}

static void write_element(FILE *out, const char *open, const char *close, const char *format,
                          va_list arguments)
{
    fputs(open, out);
    markup_print_list(out, format, arguments);
    fputs(close, out);
}

void page_paragraph(FILE *out, PageTone tone, const char *format, ...)
{
    static const char *const tags[] = {
        [PAGE_PLAIN] = "<p>", [PAGE_LEAD] = "<p class=\"lead\">", [PAGE_NOTE] = "<p class=\"note\">"};
    va_list arguments;
    va_start(arguments, format);
    write_element(out, tags[tone], "</p>\n", format, arguments);
    va_end(arguments);
}

void page_code(FILE *out, const char *name, const char *text)
{
    fputs("<p class=\"note\">", out);
    markup_text(out, name);
    fputs(": <code>", out);
    markup_text(out, text);
    fputs("</code></p>\n", out);
}

void page_way(FILE *out, const char *target, const char *words)
{
    fputs("<p class=\"download\"><a href=\"", out);
    markup_text(out, target);
    fputs("\">", out);
    markup_text(out, words);
    fputs("</a></p>\n", out);
}

void page_download(FILE *out, const char *words, const char *file, const char *type, const char *bytes,
                   size_t size)
{
    fputs("<p class=\"download\"><a download=\"", out);
    markup_text(out, file);
    fprintf(out, "\" href=\"data:%s,", type);
    for (size_t i = 0; i < size; i++) {
        /* What may stand in a URI as it is: RFC 3986, section 2.3. */
        unsigned char byte = (unsigned char)bytes[i];
        if (isalnum(byte) || (byte != '\0' && strchr("-._~", byte) != NULL))
            fputc(byte, out);
        else
            fprintf(out, "%%%02X", byte);
    }
    fputs("\">", out);
    markup_text(out, words);
    fputs("</a></p>\n", out);
}

void page_numbered_list_begin(FILE *out)
{
    fputs("<ol>\n", out);
}

void page_list_way(FILE *out, const char *target, const char *words, const char *format, ...)
{
    fputs("<li><a href=\"", out);
    markup_text(out, target);
    fputs("\">", out);
    markup_text(out, words);
    va_list arguments;
    va_start(arguments, format);
    write_element(out, "</a><br>", "</li>\n", format, arguments);
    va_end(arguments);
}

void page_numbered_list_end(FILE *out)
{
    fputs("</ol>\n", out);
}

/* A browser opens what is closed round the goal of a link, not the goal itself (WHATWG, HTML Standard, "ancestor
 * revealing algorithm"): so the name stands inside. */
void page_fold_begin(FILE *out, const char *id, const char *words, ...)
{
    va_list arguments;
    va_start(arguments, words);
    write_element(out, "<details>\n<summary>", "</summary>\n", words, arguments);
    va_end(arguments);
    fprintf(out, "<div id=\"%s\">\n", id);
}

void page_fold_end(FILE *out)
{
    fputs("</div>\n</details>\n", out);
}

void page_list_begin(FILE *out)
{
    fputs("<ul>\n", out);
}

void page_list_item(FILE *out, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    write_element(out, "<li>", "</li>\n", format, arguments);
    va_end(arguments);
}

void page_list_end(FILE *out)
{
    fputs("</ul>\n", out);
}

static const struct {
    const char *element, *class_name;
} boxes[] = {
    [PAGE_SHEET] = {"section", "sheet"},    [PAGE_FRESH] = {"section", "fresh"},
    [PAGE_SPREAD] = {"div", "spread"},      [PAGE_COLUMN] = {"div", "column"},
    [PAGE_ASIDE] = {"div", "aside"},        [PAGE_TOGETHER] = {"div", "together"},
    [PAGE_LEAF_1] = {"div", "leaf leaf-1"}, [PAGE_LEAF_2] = {"div", "leaf leaf-2"},
    [PAGE_LEAF_4] = {"div", "leaf leaf-4"}, [PAGE_LEAF_6] = {"div", "leaf leaf-6"},
};

void page_box_begin(FILE *out, PageBox box)
{
    fprintf(out, "<%s class=\"%s\">\n", boxes[box].element, boxes[box].class_name);
}

void page_box_end(FILE *out, PageBox box)
{
    fprintf(out, "</%s>\n", boxes[box].element);
}

void page_lines(FILE *out, int count)
{
    fputs("<div class=\"lines\" aria-hidden=\"true\">", out);
    for (int i = 0; i < count; i++)
        fputs("<i></i>", out);
    fputs("</div>\n", out);
}

/* A table with more columns than that is too wide for a phone: there each row becomes a card, on which every
 * value stands below the heading of its column. */
enum { NARROW_COLUMNS = 4 };

/* A row that is laid out as a card is no row to a browser any more unless told so (W3C, WAI-ARIA 1.2). */
static const char *role(const PageTable *table, const char *attribute)
{
    return table->column_count > NARROW_COLUMNS ? attribute : "";
}

void page_table_begin(PageTable *table, FILE *out, const char *caption, const PageColumn *columns,
                      int column_count)
{
    *table = (PageTable){.out = out, .columns = columns, .column_count = column_count};
    /* What is still wider than a phone scrolls; the keyboard must reach what scrolls. */
    fputs("<div class=\"scroll\" role=\"group\" tabindex=\"0\" aria-label=\"", out);
    markup_text(out, caption);
    fprintf(out, "\">\n<table%s>\n<caption>", role(table, " class=\"cards\" role=\"table\""));
    markup_text(out, caption);
    fprintf(out, "</caption>\n<thead%s>\n<tr%s>", role(table, " role=\"rowgroup\""),
            role(table, " role=\"row\""));
    for (int i = 0; i < column_count; i++) {
        fprintf(out, "<th scope=\"col\"%s%s>", columns[i].numeric ? " class=\"number\"" : "",
                role(table, " role=\"columnheader\""));
        markup_text(out, columns[i].heading);
        fputs("</th>", out);
    }
    fprintf(out, "</tr>\n</thead>\n<tbody%s>\n", role(table, " role=\"rowgroup\""));
}

/* Signs that say that there is nothing to say. */
static bool is_blank(const char *text)
{
    return *text == '\0' || strcmp(text, "-") == 0 || strcmp(text, "–") == 0;
}

static void begin_cell(const PageTable *table, const char *text)
{
    const PageColumn *column = &table->columns[table->cell];
    const char *number = column->numeric ? " class=\"number\"" : "";
    FILE *out = table->out;
    if (table->cell == 0) {
        fprintf(out, "<tr%s><th scope=\"row\"%s%s>", role(table, " role=\"row\""),
                role(table, " role=\"rowheader\""), number);
        return;
    }
    fprintf(out, "<td%s%s", number, role(table, " role=\"cell\" data-label=\""));
    if (table->column_count > NARROW_COLUMNS)
        markup_text(out, column->heading);
    fputs(role(table, is_blank(text) ? "\" data-blank" : "\""), out);
    fputc('>', out);
}

void page_cell(PageTable *table, const char *format, ...)
{
    char *text = NULL;
    va_list arguments;
    va_start(arguments, format);
    int length = vasprintf(&text, format, arguments);
    va_end(arguments);
    if (length < 0)
        text = NULL;
    begin_cell(table, text != NULL ? text : "");
    if (table->link != NULL) {
        fputs("<a href=\"", table->out);
        markup_text(table->out, table->link);
        fputs("\">", table->out);
    }
    markup_text(table->out, text != NULL ? text : "");
    free(text);
    if (table->link != NULL)
        fputs("</a>", table->out);
    table->link = NULL;
    fputs(table->cell == 0 ? "</th>" : "</td>", table->out);
    if (++table->cell == table->column_count) {
        table->cell = 0;
        fputs("</tr>\n", table->out);
    }
}

void page_table_end(PageTable *table)
{
    fputs("</tbody>\n</table>\n</div>\n", table->out);
}
