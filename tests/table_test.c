/* SPDX-License-Identifier: MIT
 * table: the same rows for people and for spreadsheets (RFC 4180). */
#include <locale.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/counter/output.h"

struct row {
    const char *machine, *hours;
};

static const char *hours(const struct settings *settings, const void *row,
                         char room[TABLE_SHOWN_OCTETS])
{
    (void)settings, (void)room;
    return ((const struct row *)row)->hours;
}

static const struct column list[] = {
    {"machine", "machine", COLUMN_TEXT, .at = offsetof(struct row, machine)},
    {"hours", "hours", COLUMN_OWN_FIGURE, .say = hours},
};
static const struct columns columns = {COLUMNS(list), false};

/* A table of one row. */
static struct table *table_of(enum table_form form, const char *machine, const char *hours_said)
{
    struct row row = {machine, hours_said};
    struct table *table = table_new(&columns, form, NULL);
    assert_non_null(table);
    table_add(table, &row, TABLE_BAD);
    return table;
}

/* What is printed of it: on that screen, NULL: as CSV. */
static void assert_printed_on(struct table *table, const struct screen *screen,
                              const char *expected)
{
    char *printed = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&printed, &length);
    assert_non_null(out);
    assert_int_equal(screen != NULL ? table_print_last(table, screen, SIZE_MAX, out)
                                    : table_print(table, out),
                     0);
    assert_int_equal(fclose(out), 0);
    assert_string_equal(printed, expected);
    free(printed);
    table_free(table);
}

static void assert_shown(const char *machine, const char *hours_said, size_t screen_columns,
                         const char *expected)
{
    assert_printed_on(table_of(TABLE_SCREEN, machine, hours_said),
                      &(struct screen){.columns = screen_columns}, expected);
}

static void columns_line_up(void **state)
{
    (void)state;
    assert_shown("M12", "1340.5", 0,
                 "machine   hours\n"
                 "M12      1340.5\n");
    /* n with tilde is two octets and one column */
    assert_shown("Ca\xC3\xB1on-11", "7", 0,
                 "machine   hours\n"
                 "Ca\xC3\xB1on-11      7\n");
}

static void wide_and_combining_characters_line_up_too(void **state)
{
    (void)state;
    /* two wide characters are four columns; e and a combining acute are one */
    assert_shown("\xE8\x8A\x9D\xE5\x88\x88", "7", 0,
                 "machine  hours\n"
                 "\xE8\x8A\x9D\xE5\x88\x88         7\n");
    assert_shown("e\xCC\x81", "7", 0,
                 "machine  hours\n"
                 "e\xCC\x81            7\n");
}

static void what_is_too_wide_is_folded_at_blanks(void **state)
{
    (void)state;
    assert_shown("left rear tyre low again", "1340.5", 20,
                 "machine        hours\n"
                 "left rear     1340.5\n"
                 "tyre low\n"
                 "again\n");
}

static void where_columns_do_not_do_a_cell_has_its_line(void **state)
{
    (void)state;
    assert_shown("a-name-without-any-blank", "1340.5", 20,
                 "machine  a-name-with\n"
                 "         out-any-bla\n"
                 "         nk\n"
                 "hours    1340.5\n");
}

static void a_pipe_is_as_wide_as_it_likes(void **state)
{
    char text[401], expected[1000];
    (void)state;
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    (void)snprintf(expected, sizeof expected, "%-400s  hours\n%s      7\n", "machine", text);
    assert_shown(text, "7", 0, expected);
}

static void no_line_ends_in_blanks(void **state)
{
    (void)state;
    assert_shown("M12", "", 0,
                 "machine  hours\n"
                 "M12\n");
}

static void colour_wraps_the_row_only_when_wanted(void **state)
{
    (void)state;
    assert_printed_on(table_of(TABLE_SCREEN, "M12", "7"), &(struct screen){.colour = true},
                      "machine  hours\n"
                      "\033[1;31mM12          7\033[0m\n");
}

static void a_control_character_never_reaches_the_terminal(void **state)
{
    (void)state;
    assert_shown("\033[2J", "7", 0,
                 "machine  hours\n"
                 "\\x1B[2J      7\n");
}

static void csv_cells_are_quoted_as_the_standard_says(void **state)
{
    static const struct {
        const char *cell, *written;
    } cases[] = {
        {"plain", "plain"},
        {"a,b", "\"a,b\""},
        {"say \"hi\"", "\"say \"\"hi\"\"\""},
        {"two\nlines", "\"two\nlines\""},
        {"", ""},
        {"=1+1", "\"'=1+1\""}, /* a spreadsheet would run it */
        {"-12.5", "-12.5"},    /* a figure is a figure */
        {"+12065550110", "+12065550110"},
        {"-2+3", "\"'-2+3\""},
        {"@x", "\"'@x\""},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char expected[128];
        (void)snprintf(expected, sizeof expected, "machine,hours\r\n%s,7\r\n", cases[i].written);
        assert_printed_on(table_of(TABLE_CSV, cases[i].cell, "7"), NULL, expected);
    }
}

static void a_long_text_is_whole_in_csv(void **state)
{
    char text[4001], expected[4100];
    (void)state;
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    (void)snprintf(expected, sizeof expected, "machine,hours\r\n%s,7\r\n", text);
    assert_printed_on(table_of(TABLE_CSV, text, "7"), NULL, expected);
}

static void a_table_as_json_has_figures_and_leaves_out_what_is_empty(void **state)
{
    (void)state;
    struct table *table = table_of(TABLE_JSON, "M12", "1340.5");
    table_add(table, &(struct row){"say \"hi\"", ""}, TABLE_PLAIN);
    struct json_object *array = table_json(table);
    assert_string_equal(
        json_object_to_json_string_ext(array, JSON_C_TO_STRING_PLAIN),
        "[{ \"machine\": \"M12\", \"hours\": 1340.5 },{ \"machine\": \"say \\\"hi\\\"\" }]");
    (void)json_object_put(array);
    table_free(table);
}

/* A row with a value of each kind that needs no settings. */
struct values {
    int64_t hundredths, thousandths, whole;
    int32_t count, day;
    double rate;
    char word[8];
    int64_t at_s;
    bool set;
};
#define AT(field) offsetof(struct values, field)
static const struct column value_list[] = {
    {"H", "h", COLUMN_HOURS, .at = AT(hundredths), .when = COLUMN_FROM_0},
    {"Q", "q", COLUMN_QUANTITY, .at = AT(thousandths), .when = COLUMN_FROM_1},
    {"W", "w", COLUMN_WHOLE, .at = AT(whole), .if_true = {AT(set)}},
    {"C", "c", COLUMN_COUNT, .at = AT(count)},
    {"R", "r", COLUMN_DECIMAL, .at = AT(rate)},
    {"X", "x", COLUMN_CHARS, .at = AT(word), .when = COLUMN_EVEN_EMPTY},
    {"T", NULL, COLUMN_TIME, .at = AT(at_s), .when = COLUMN_FROM_1},
    {NULL, "d", COLUMN_DAY, .at = AT(day), .not_in_json = true},
};
#undef AT
static const struct columns value_columns = {COLUMNS(value_list), false};

static void each_kind_is_written_as_its_form_wants_it(void **state)
{
    static const struct values full = {.hundredths = 134050,
                                       .thousandths = 4750,
                                       .whole = 7,
                                       .count = -2,
                                       .rate = 2.5,
                                       .word = "fine",
                                       .set = true};
    static const struct values bare = {.hundredths = -1, .whole = 7};
    (void)state;
    for (int form = TABLE_SCREEN; form <= TABLE_JSON; form++) {
        static const char *const expected[] = {
            "     H     Q  W   C     R  X     T\n1340.5  4.75  7  -2  2.50  fine\n"
            "                  0  0.00\n",
            "h,q,w,c,r,x,d\r\n1340.5,4.75,7,-2,2.50,fine,1970-01-01\r\n,,,0,0.00,,1970-01-01\r\n",
        };
        struct table *table = table_new(&value_columns, (enum table_form)form, NULL);
        table_add(table, &full, TABLE_PLAIN);
        table_add(table, &bare, TABLE_PLAIN);
        if (form != TABLE_JSON) {
            assert_printed_on(table, form == TABLE_SCREEN ? &(struct screen){0} : NULL,
                              expected[form]);
            continue;
        }
        struct json_object *array = table_json(table);
        assert_string_equal(
            json_object_to_json_string_ext(array, JSON_C_TO_STRING_PLAIN),
            "[{ \"h\": 1340.5, \"q\": 4.75, \"w\": 7, \"c\": -2, \"r\": 2.5, \"x\": \"fine\" },"
            "{ \"c\": 0, \"r\": 0, \"x\": \"\" }]");
        (void)json_object_put(array);
        table_free(table);
    }
}

static void a_column_can_be_dropped_and_the_end_be_shown_alone(void **state)
{
    char *printed = NULL;
    size_t length = 0;
    (void)state;
    struct table *table = table_of(TABLE_SCREEN, "M7", "1");
    table_add(table, &(struct row){"M12", "2"}, TABLE_PLAIN);
    assert_int_equal(table_rows(table), 2);
    table_drop(table, "nothing of that name");
    table_drop(table, "machine");
    FILE *out = open_memstream(&printed, &length);
    assert_non_null(out);
    assert_int_equal(table_print_last(table, &(struct screen){0}, 1, out), 0);
    assert_int_equal(fclose(out), 0);
    assert_string_equal(printed, "hours\n    2\n");
    free(printed);
    table_free(table);
}

static void rows_of_several_shops_say_theirs_first(void **state)
{
    static const struct row rows[] = {{"M12", "1340"}, {"M7", "20"}};
    static const char *const shops[] = {"Alder, East", "Birch"};
    for (int json = 0; json < 2; json++) {
        struct table *table = table_new(&columns, json ? TABLE_JSON : TABLE_CSV, NULL);
        (void)state;
        for (size_t i = 0; i < 2; i++) {
            table_turn_to(table, NULL, shops[i]);
            table_add(table, &rows[i], TABLE_PLAIN);
        }
        if (!json) {
            assert_printed_on(table, NULL,
                              "shop,machine,hours\r\n\"Alder, East\",M12,1340\r\nBirch,M7,20\r\n");
            continue;
        }
        struct json_object *array = table_json(table);
        assert_string_equal(
            json_object_to_json_string(array),
            "[ { \"machine\": \"M12\", \"hours\": 1340, \"shop\": \"Alder, East\" }, "
            "{ \"machine\": \"M7\", \"hours\": 20, \"shop\": \"Birch\" } ]");
        (void)json_object_put(array);
        table_free(table);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(columns_line_up),
        cmocka_unit_test(wide_and_combining_characters_line_up_too),
        cmocka_unit_test(what_is_too_wide_is_folded_at_blanks),
        cmocka_unit_test(where_columns_do_not_do_a_cell_has_its_line),
        cmocka_unit_test(a_pipe_is_as_wide_as_it_likes),
        cmocka_unit_test(no_line_ends_in_blanks),
        cmocka_unit_test(colour_wraps_the_row_only_when_wanted),
        cmocka_unit_test(a_control_character_never_reaches_the_terminal),
        cmocka_unit_test(csv_cells_are_quoted_as_the_standard_says),
        cmocka_unit_test(a_long_text_is_whole_in_csv),
        cmocka_unit_test(each_kind_is_written_as_its_form_wants_it),
        cmocka_unit_test(a_column_can_be_dropped_and_the_end_be_shown_alone),
        cmocka_unit_test(a_table_as_json_has_figures_and_leaves_out_what_is_empty),
        cmocka_unit_test(rows_of_several_shops_say_theirs_first),
    };
    (void)setlocale(LC_CTYPE, "C.UTF-8"); /* as main does */
    return cmocka_run_group_tests(tests, NULL, NULL);
}
