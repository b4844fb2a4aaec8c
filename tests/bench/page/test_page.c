/* Pages: escaping, structure, and files that replace others only when complete. */
#include "tests/bench/page/rendered.h"

#include "bench/base/output_file.h"
#include "bench/page/markup.h"
#include "bench/page/page.h"

#include <errno.h>
#include <sys/stat.h>
#include <unistd.h>

static void assert_markup(const char *text, const char *expected)
{
    Rendered r;
    markup_text(rendered_open(&r), text);
    assert_string_equal(rendered_close(&r), expected);
    free(r.text);
}

/* WHATWG HTML, section 13.1.4: what text and quoted attributes must not contain as it is. */
static void text_is_escaped(void **state)
{
    (void)state;
    assert_markup("a<b & \"c\" > 'd'", "a&lt;b &amp; &quot;c&quot; &gt; &#39;d&#39;");
    assert_markup("Zoë Đặng, 5.\xE2\x80\xA6\xE2\x99\x9E", "Zoë Đặng, 5.\xE2\x80\xA6\xE2\x99\x9E");
    assert_markup("", "");
    assert_markup("tab\there\x01\x7F!", "tab\there!");
}

/* RFC 3629, section 4, and its section 10 on overlong forms. */
static void bytes_that_are_not_utf8_are_replaced(void **state)
{
    (void)state;
    assert_markup("M\xFCller", "M\xEF\xBF\xBDller");
    assert_markup("\xC0\xBC", "\xEF\xBF\xBD\xEF\xBF\xBD"); /* an overlong < */
    assert_markup("end\xE2\x80", "end\xEF\xBF\xBD\xEF\xBF\xBD");
}

static void formatted_text_is_escaped(void **state)
{
    (void)state;
    Rendered r;
    markup_print(rendered_open(&r), "%s %d%%", "<i>", 7);
    assert_string_equal(rendered_close(&r), "&lt;i&gt; 7%");
    free(r.text);
}

static const char *sample_page(Rendered *r)
{
    static const PageColumn columns[] = {{"Lever <x>", false}, {"Tempi", true}};
    FILE *out = rendered_open(r);
    page_begin(out, "Rams & levers", "for <everyone>", "Foot \"line\" </style>");
    page_heading(out, 2, "first", "A <heading>");
    page_box_begin(out, PAGE_SPREAD);
    page_paragraph(out, PAGE_LEAD, "%s", "found <nothing>");
    page_lines(out, 2);
    page_box_end(out, PAGE_SPREAD);
    page_list_begin(out);
    page_list_item(out, "%d < %d", 1, 2);
    page_list_end(out);
    PageTable table;
    page_table_begin(&table, out, "Levers & more", columns, 2);
    page_cell(&table, "f5");
    page_cell(&table, "%d", 3);
    page_cell(&table, "c5");
    page_cell(&table, "%d", 0);
    page_table_end(&table);
    page_end(out, "The end <again>");
    return rendered_close(r);
}

static void a_page_is_well_formed(void **state)
{
    (void)state;
    Rendered r;
    const char *text = sample_page(&r);
    assert_well_formed(text);
    assert_int_equal(count_of(text, "<title>Rams &amp; levers</title>"), 1);
    assert_int_equal(count_of(text, "<h1>"), 1);
    assert_int_equal(count_of(text, "</style>"), 1);
    assert_int_equal(count_of(text, "for &lt;everyone&gt;"), 1);
    free(r.text);
}

/* W3C, Web Content Accessibility Guidelines 2.1, technique H63: scope on header cells; H39: captions. */
static void a_table_names_its_rows_and_columns(void **state)
{
    (void)state;
    Rendered r;
    const char *text = sample_page(&r);
    assert_int_equal(count_of(text, "<caption>Levers &amp; more</caption>"), 1);
    assert_int_equal(count_of(text, "<th scope=\"col\""), 2);
    assert_int_equal(count_of(text, "<th scope=\"row\""), 2);
    assert_int_equal(count_of(text, "</tr>"), 3);
    assert_int_equal(count_of(text, "<td class=\"number\">3</td>"), 1);
    free(r.text);
}

/* On a phone each value of a wide table stands below its heading, and what is only a dash is left out; the rows keep
 * their roles, which a browser takes from them with their layout. W3C, WAI-ARIA 1.2, sections 5.3.7 and 5.4. */
static void a_wide_table_becomes_cards_on_a_phone(void **state)
{
    (void)state;
    static const PageColumn columns[] = {{"Lever", false},
                                         {"State", false},
                                         {"Tempi", true},
                                         {"Guarded & so on", true},
                                         {"In the way", false}};
    for (int count = 4; count <= 5; count++) {
        Rendered r;
        PageTable table;
        bool wide = count == 5;
        page_table_begin(&table, rendered_open(&r), "Levers", columns, count);
        for (int i = 0; i < count; i++)
            page_cell(&table, i == count - 1 ? "–" : "cell %d", i);
        page_table_end(&table);
        const char *text = rendered_close(&r);
        assert_well_formed(text);
        assert_int_equal(count_of(text, "<table class=\"cards\" role=\"table\">"), wide);
        assert_int_equal(count_of(text, "role=\"columnheader\">"), wide ? 5 : 0);
        assert_int_equal(count_of(text, "role=\"row\">"), wide ? 2 : 0);
        assert_int_equal(count_of(text, "role=\"rowheader\">cell 0</th>"), wide);
        assert_int_equal(count_of(text, "data-label=\"Guarded &amp; so on\">cell 3</td>"), wide);
        assert_int_equal(count_of(text, " data-blank>–</td>"), wide);
        free(r.text);
    }
}

static void a_page_needs_nothing_from_elsewhere(void **state)
{
    (void)state;
    static const char *const outside[] = {"http:", "https:", "<script", "@import", "src=", "<link", "//"};
    Rendered r;
    const char *text = sample_page(&r);
    for (size_t i = 0; i < sizeof outside / sizeof *outside; i++)
        assert_null(strstr(text, outside[i]));
    free(r.text);
}

/* ------------------------------------------------------------------------------------------ output files */

typedef struct Place {
    char folder[64];
    char file[96];
} Place;

static void make_place(Place *place)
{
    strcpy(place->folder, "/tmp/pawnvane-output-XXXXXX");
    assert_non_null(mkdtemp(place->folder));
    snprintf(place->file, sizeof place->file, "%s/page.html", place->folder);
}

static void remove_place(Place *place)
{
    unlink(place->file);
    /* Fails if anything else was left behind. */
    assert_int_equal(rmdir(place->folder), 0);
}

static void write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

static void assert_file(const char *path, const char *expected)
{
    char text[64] = "";
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    assert_string_equal(text, expected);
}

static void a_file_appears_when_it_is_complete(void **state)
{
    (void)state;
    Place place;
    OutputFile file;
    make_place(&place);
    assert_true(output_open(&file, place.file));
    fputs("new", file.stream);
    assert_int_equal(access(place.file, F_OK), -1);
    assert_true(output_commit(&file));
    assert_file(place.file, "new");
    remove_place(&place);
}

static void a_file_that_is_given_up_leaves_the_old_one(void **state)
{
    (void)state;
    Place place;
    OutputFile file;
    make_place(&place);
    write_file(place.file, "old");
    assert_true(output_open(&file, place.file));
    fputs("new", file.stream);
    output_abandon(&file);
    assert_file(place.file, "old");
    output_abandon(&file);
    remove_place(&place);
}

static void a_replaced_file_keeps_its_permissions(void **state)
{
    (void)state;
    Place place;
    OutputFile file;
    struct stat after;
    make_place(&place);
    write_file(place.file, "old");
    assert_int_equal(chmod(place.file, 0640), 0);
    assert_true(output_open(&file, place.file));
    assert_true(output_commit(&file));
    assert_int_equal(stat(place.file, &after), 0);
    assert_int_equal(after.st_mode & 0777, 0640);
    remove_place(&place);
}

/* A stream that has failed (here: cannot write, as on a full disk) must not replace anything. */
static void a_write_that_failed_leaves_the_old_file(void **state)
{
    (void)state;
    Place place;
    OutputFile file;
    make_place(&place);
    write_file(place.file, "old");
    assert_true(output_open(&file, place.file));
    FILE *full = freopen("/dev/full", "w", file.stream);
    assert_non_null(full);
    file.stream = full;
    fputs("new", file.stream);
    assert_false(output_commit(&file));
    assert_int_equal(errno, ENOSPC);
    assert_file(place.file, "old");
    remove_place(&place);
}

static void a_file_that_cannot_be_made_is_an_error(void **state)
{
    (void)state;
    OutputFile file;
    assert_false(output_open(&file, "/nowhere/at/all.html"));
    assert_int_equal(errno, ENOENT);
    assert_false(output_open(&file, "/tmp"));
    assert_int_equal(errno, EISDIR);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_is_escaped),
        cmocka_unit_test(bytes_that_are_not_utf8_are_replaced),
        cmocka_unit_test(formatted_text_is_escaped),
        cmocka_unit_test(a_page_is_well_formed),
        cmocka_unit_test(a_table_names_its_rows_and_columns),
        cmocka_unit_test(a_wide_table_becomes_cards_on_a_phone),
        cmocka_unit_test(a_page_needs_nothing_from_elsewhere),
        cmocka_unit_test(a_file_appears_when_it_is_complete),
        cmocka_unit_test(a_file_that_is_given_up_leaves_the_old_one),
        cmocka_unit_test(a_replaced_file_keeps_its_permissions),
        cmocka_unit_test(a_write_that_failed_leaves_the_old_file),
        cmocka_unit_test(a_file_that_cannot_be_made_is_an_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
