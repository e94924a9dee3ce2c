/* SPDX-License-Identifier: MIT
 * What somebody texted, in every output: none of its control characters arrives as one. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "daemon/counter/csv.h"
#include "daemon/board/board.h"
#include "daemon/counter/output.h"
#include "daemon/ground/log.h"
#include "daemon/ground/neutral.h"
#include "parsers/utf8.h"

static const char *const said[] = {
    "\033[2J\033]0;x\a", /* C0: clears a screen, names a window */
    "a\bb\rc\td\v\f\x7F",
    "\xC2\x9B"
    "31m", /* C1: CSI as one character */
    "\xC2\x85 \xC2\x80",
    "\xE2\x80\xAE"
    "h04\xE2\x80\xAC", /* U+202E: M12 40h backwards */
    "\xE2\x81\xA6\xE2\x81\xA9\xE2\x80\x8F\xD8\x9C\xEF\xBB\xBF",
    "\xE2\x80\xA8\xE2\x80\xA9", /* separators of lines and paragraphs */
    "\x9B\xFF\xC3",             /* no UTF-8 */
    "\n=cmd()",
    "caf\xC3\xA9 \xE2\x82\xAC \xF0\x9F\x9A\x9C",
};
#define SAID (sizeof said / sizeof said[0])

static void to_csv(const char *text, FILE *out)
{
    csv_print_cell(out, text);
}

static void to_page(const char *text, FILE *out)
{
    html_text(out, text);
}

static void to_calendar(const char *text, FILE *out)
{
    calendar_line(out, "SUMMARY", text);
}

static void to_json(const char *text, FILE *out)
{
    struct json_object *object = json_object_new_object();
    json_add_text(object, "body", text);
    assert_int_equal(json_write(object, out), 0);
}

struct row {
    const char *body;
};

static void to_table(const char *text, FILE *out, enum table_form form)
{
    static const struct column list[] = {
        {.title = "text", .name = "text", .kind = COLUMN_TEXT, .at = offsetof(struct row, body)}};
    static const struct columns columns = {.list = list, .count = 1};
    static const struct settings settings;
    struct row row = {.body = text};
    struct table *table = table_new(&columns, form, &settings);
    table_add(table, &row, TABLE_PLAIN);
    assert_int_equal(table_print(table, out), 0);
    table_free(table);
}

static void to_screen(const char *text, FILE *out)
{
    to_table(text, out, TABLE_SCREEN);
}

static void to_csv_rows(const char *text, FILE *out)
{
    to_table(text, out, TABLE_CSV);
}

/* A line of the log, even where a careless hand did not make it safe. */
static void to_log(const char *text, FILE *out)
{
    char line[4096] = "";
    FILE *caught = tmpfile();
    assert_non_null(caught);
    int before = dup(STDERR_FILENO);
    assert_true(before >= 0 && dup2(fileno(caught), STDERR_FILENO) >= 0);
    log_error("said: %s", text);
    assert_true(dup2(before, STDERR_FILENO) >= 0);
    assert_int_equal(close(before), 0);
    rewind(caught);
    size_t length = fread(line, 1, sizeof line - 1, caught);
    assert_int_equal(fclose(caught), 0);
    assert_ptr_equal(strchr(line, '\n'), &line[length - 1]); /* one line */
    assert_int_equal(fwrite(line, 1, length, out), length);
}

static void to_log_made_safe(const char *text, FILE *out)
{
    char safe[256];
    (void)fputs(log_text(text, strlen(text), safe, sizeof safe), out);
}

static const struct {
    const char *name;
    void (*write)(const char *text, FILE *out);
} outputs[] = {{"csv", to_csv},           {"page", to_page},
               {"calendar", to_calendar}, {"json", to_json},
               {"screen", to_screen},     {"csv rows", to_csv_rows},
               {"log", to_log},           {"log_text", to_log_made_safe}};

static void assert_neutral(const char *name, size_t row, const char *text, size_t length)
{
    for (size_t at = 0; at < length;) {
        uint32_t c = 0;
        size_t octets = utf8_read(text, length, at, &c);
        bool ends_line = c == '\n' || (c == '\r' && at + 1 < length && text[at + 1] == '\n');
        if (octets == 0 || (c < 0x20 && c != '\t' && !ends_line) || (c >= 0x7F && c <= 0x9F) ||
            (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || c == 0x200E ||
            c == 0x200F || c == 0x061C || c == 0xFEFF) {
            fail_msg("%s, text %zu: U+%04X arrives in %s", name, row, (unsigned)c, text);
        }
        at += octets;
    }
}

static void no_output_obeys_a_text(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof outputs / sizeof outputs[0]; i++) {
        for (size_t j = 0; j < SAID; j++) {
            char *text = NULL;
            size_t length = 0;
            FILE *out = open_memstream(&text, &length);
            outputs[i].write(said[j], out);
            assert_int_equal(fclose(out), 0);
            assert_true(length > 0);
            assert_neutral(outputs[i].name, j, text, length);
            free(text);
        }
    }
}

static void assert_becomes(void (*write)(const char *text, FILE *out), const char *text,
                           const char *expected)
{
    char *written = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&written, &length);
    write(text, out);
    assert_int_equal(fclose(out), 0);
    assert_string_equal(written, expected);
    free(written);
}

static void harmless_text_arrives_as_it_is(void **state)
{
    (void)state;
    assert_becomes(to_csv, said[SAID - 1], said[SAID - 1]);
    assert_becomes(to_page, said[SAID - 1], said[SAID - 1]);
    assert_becomes(to_csv, "two\r\nlines", "\"two\r\nlines\"");
    assert_becomes(to_json, "\xC2\x9B\n", "{ \"body\": \"\\u009b\\n\" }\n"); /* nothing is lost */
}

/* A spreadsheet that passes over a line break finds no formula behind it. */
static void a_cell_that_begins_with_a_line_break_is_no_formula(void **state)
{
    (void)state;
    assert_becomes(to_csv, "\n=cmd()", "\"'\n=cmd()\"");
    assert_becomes(to_csv, "\r\n @x", "\"'\r\n @x\"");
    assert_string_equal(csv_unguarded("'\n=cmd()"), "\n=cmd()");
    assert_becomes(to_csv, "+12065550110", "+12065550110");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_output_obeys_a_text),
        cmocka_unit_test(harmless_text_arrives_as_it_is),
        cmocka_unit_test(a_cell_that_begins_with_a_line_break_is_no_formula),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
