/* SPDX-License-Identifier: MIT
 * What a text says: bounds, slices and names. What single texts are understood as stands in
 * fixtures/texts/grammar.tsv. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/crew_text_items.h"
#include "tests/crew_text_rosters.h"

static struct crew_text_room room;

static struct crew_text read_octets(const char *text, size_t length)
{
    struct crew_names names = roster_names("alder");
    struct crew_text out;
    crew_text_read(text, length, &names, CREW_DATE_MDY, false, &room, &out);
    return out;
}

static struct crew_text read_text(const char *text)
{
    return read_octets(text, strlen(text));
}

static void assert_slice(const char *text, struct crew_slice slice, const char *wanted)
{
    assert_int_equal(slice.length, strlen(wanted));
    assert_memory_equal(text + slice.start, wanted, slice.length);
}

static void slices_are_octets_of_the_text_as_it_came(void **state)
{
    (void)state;
    const char *text =
        "\xE2\x80\x9CHi\xE2\x80\x9D \xEF\xBC\xAD\xEF\xBC\x91\xEF\xBC\x92\xE2\x80\x8B: "
        "13\xE2\x80\x8B"
        "40,5h, gr\xC3\xBC\xC3\x9F dich \xF0\x9F\x9A\x9C";
    struct crew_text out = read_text(text);
    assert_int_equal(out.statement_count, 1);
    const struct crew_statement *reading = &out.statements[0];
    assert_int_equal(reading->hours.hundredths, 134050);
    assert_slice(text, reading->words, "\xEF\xBC\xAD\xEF\xBC\x91\xEF\xBC\x92");
    assert_slice(text, (struct crew_slice){reading->hours.start, reading->hours.length},
                 "13\xE2\x80\x8B"
                 "40,5");
    assert_slice(text, reading->remark, "gr\xC3\xBC\xC3\x9F dich \xF0\x9F\x9A\x9C");
}

/* Also those that are years, and emergency numbers. */
static void whatever_a_meter_shows_is_a_reading(void **state)
{
    static const char *const forms[][2] = {
        {"M12 ", "h"}, {"M12 ", ""}, {"", ".5 M12"}, {"la M12 tiene ", " horas"}};
    (void)state;
    for (int hours = 1; hours < 10000; hours++) {
        for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
            char text[48];
            (void)snprintf(text, sizeof text, "%s%d%s", forms[i][0], hours, forms[i][1]);
            struct crew_text out = read_text(text);
            if (out.statement_count != 1 || out.statements[0].kind != CREW_READING ||
                out.statements[0].hours.hundredths / 100 != hours) {
                fail_msg("%s", text);
            }
        }
    }
}

static void a_text_may_hold_any_octets(void **state)
{
    (void)state;
    const char text[] = "\0\x01M12\xFF\xC3 \xE2\x28 13\xF0\x9F"
                        "40\x7F h\xED\xA0\x80";
    struct crew_text out = read_octets(text, sizeof text - 1);
    assert_int_equal(out.statement_count, 1);
    assert_int_equal(out.statements[0].kind, CREW_READING);
    assert_int_equal(out.statements[0].hours.hundredths, 134000);
    out = read_octets("M12 \xFF\xFE 1340\xC0", 12);
    assert_int_equal(out.statements[0].kind, CREW_READING);
    assert_int_equal(out.statements[0].hours.hundredths, 134000);
}

static void an_empty_text_is_not_understood(void **state)
{
    (void)state;
    struct crew_text out = read_octets("M12 1340", 0);
    assert_int_equal(out.tone, CREW_TONE_STATEMENTS);
    assert_int_equal(out.statement_count, 1);
    assert_int_equal(out.statements[0].kind, CREW_UNKNOWN);
    assert_int_equal(out.statements[0].machine, -1);
}

static void nothing_past_the_length_is_read(void **state)
{
    (void)state;
    struct crew_text out = read_octets("M12 1340567", 8);
    assert_int_equal(out.statements[0].hours.hundredths, 134000);
}

static void ten_statements_are_taken_and_the_rest_is_said_to_be_more(void **state)
{
    (void)state;
    char text[256] = "";
    for (int i = 0; i < CREW_TEXT_STATEMENTS_MAX; i++) {
        strcat(text, "M12 1340\n");
    }
    struct crew_text out = read_text(text);
    assert_int_equal(out.statement_count, CREW_TEXT_STATEMENTS_MAX);
    assert_false(out.more);
    strcat(text, "DUE");
    out = read_text(text);
    assert_int_equal(out.statement_count, CREW_TEXT_STATEMENTS_MAX);
    assert_true(out.more);
}

/* The answer is one of the ten; the day of a statement that is left out belongs to no other. */
static void what_stands_after_the_tenth_statement_says_nothing_of_them(void **state)
{
    (void)state;
    char text[256] = "yes ";
    for (int i = 0; i < CREW_TEXT_STATEMENTS_MAX; i++) {
        strcat(text, "M12 1340\n");
    }
    strcat(text, "M12 1340 yesterday");
    struct crew_text out = read_text(text);
    assert_int_equal(out.statement_count, CREW_TEXT_STATEMENTS_MAX);
    assert_true(out.more);
    assert_int_equal(out.statements[0].kind, CREW_YES);
    assert_int_equal(out.statements[9].kind, CREW_READING);
    assert_int_equal(out.statements[9].when.kind, CREW_WHEN_UNSAID);
}

static void a_text_is_read_to_its_bound_and_said_to_be_cut(void **state)
{
    (void)state;
    static char text[CREW_TEXT_OCTETS_MAX + 1];
    memset(text, 'x', sizeof text);
    memcpy(text, "M12 1340 ", 9);
    struct crew_text out = read_octets(text, CREW_TEXT_OCTETS_MAX);
    assert_false(out.cut);
    assert_int_equal(out.statements[0].remark.length, CREW_TEXT_OCTETS_MAX - 9);
    out = read_octets(text, CREW_TEXT_OCTETS_MAX + 1);
    assert_true(out.cut);
    assert_int_equal(out.statements[0].remark.length, CREW_TEXT_OCTETS_MAX - 9);
}

static void more_words_than_can_be_held_are_cut(void **state)
{
    (void)state;
    static char text[CREW_TEXT_OCTETS_MAX];
    for (size_t i = 0; i < sizeof text; i++) {
        text[i] = i % 2 == 0 ? 'x' : ' ';
    }
    memcpy(text, "M12 1340 ", 9);
    struct crew_text out = read_octets(text, sizeof text);
    assert_true(out.cut);
    assert_int_equal(out.statements[0].kind, CREW_READING);
}

static void words_of_the_grammar_and_figures_are_no_names(void **state)
{
    (void)state;
    static const char *const taken[] = {
        "done", "STOP",      "Due",    "si",     "Monday",     "mar",         "12h",
        "5 qt", "5pm",       "3/14",   "12.5",   "12:30",      "12-5",        "10-4",
        "ok",   "",          "-",      "h",      "hour meter", "opt-out",     "the",
        "alto", "the mower", "Fix 40", "swap 2", "in",         "Out",         "Gone",
        "Sold", "book",      "back",   "Park",   "solved",     "in the shop", "vendida"};
    static const char *const fine[] = {"M12",     "TR-9", "Rosie",    "Big Red",
                                       "12",      "007",  "12A",      "Park 7",
                                       "Back 40", "Z40",  "Old Blue", "Mower 3"};
    for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++) {
        assert_true(crew_text_is_word(taken[i], strlen(taken[i]), false));
    }
    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i++) {
        if (crew_text_is_word(fine[i], strlen(fine[i]), false)) {
            fail_msg("\"%s\" taken for a word", fine[i]);
        }
    }
}

/* Behind DONE, or as the answer which one, a word that means something else there is no plan. */
static void a_plan_may_have_any_name_that_means_nothing_else_in_its_place(void **state)
{
    (void)state;
    static const char *const taken[] = {"done", "hecho", "qt",    "hours", "galones", "yes",
                                        "due",  "help",  "today", "and",   "5pm",     "in",
                                        "out",  "book",  "park",  "sold",  "solved"};
    static const char *const fine[] = {"engine", "service", "drive",   "belts",  "oil",
                                       "motor",  "meter",   "tractor", "general"};
    for (size_t i = 0; i < sizeof taken / sizeof taken[0]; i++) {
        if (!crew_text_is_word(taken[i], strlen(taken[i]), true)) {
            fail_msg("\"%s\" taken for a plan", taken[i]);
        }
    }
    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i++) {
        if (crew_text_is_word(fine[i], strlen(fine[i]), true)) {
            fail_msg("\"%s\" refused to a plan", fine[i]);
        }
    }
}

/* A statement names eight plans at most; a machine's are a bit each, of which there are 64. */
static void plans_beyond_what_can_be_held_are_left_out(void **state)
{
    (void)state;
    static const struct crew_machine machines[] = {{"M12", true, UINT64_MAX}};
    static const char *const plans[] = {"aaa", "bbb", "ccc", "ddd", "eee",
                                        "fff", "ggg", "hhh", "iii"};
    static const struct crew_title titles[] = {{"Wheel", 64}, {"Wheel", -1}, {"Wheel", 2}};
    static const char *const people[] = {""};
    const struct crew_names names = {.machines = machines,
                                     .machine_count = 1,
                                     .plans = plans,
                                     .plan_count = 9,
                                     .people = people,
                                     .people_count = 1,
                                     .titles = titles,
                                     .title_count = 3};
    struct crew_text out;
    const char *nine = "M12 done aaa bbb ccc ddd eee fff ggg hhh iii 575";
    assert_int_equal(crew_text_room_octets(), sizeof room);
    crew_text_read(nine, strlen(nine), &names, CREW_DATE_MDY, false, &room, &out);
    assert_int_equal(out.statements[0].kind, CREW_SERVICE);
    assert_int_equal(out.statements[0].plan_count, CREW_PLANS_MAX);
    assert_int_equal(crew_plan(&out.statements[0]), 0);
    crew_text_read("M12 done wheel 575", 18, &names, CREW_DATE_MDY, false, &room, &out);
    assert_int_equal(out.statements[0].plan_count, 1);
    assert_int_equal(crew_plan(&out.statements[0]), 2);
    crew_text_read("M12 done 575", 12, &names, CREW_DATE_MDY, false, &room, &out);
    assert_int_equal(crew_plan(&out.statements[0]), -1);
}

static void names_are_alike_but_for_case_blanks_and_hyphens(void **state)
{
    (void)state;
    static const struct {
        const char *one, *other;
        bool alike;
    } cases[] = {
        {"TR-9", "tr9", true},  {"TR 9", "T-R-9", true},
        {"M12", "M12", true},   {"M12", "M1", false},
        {"M1", "M12", false},   {"M12", "M13", false},
        {"M7", "M07", false},   {"", "", true},
        {"", "M1", false},      {"M12", "Ｍ１２", true},
        {"Ñ1", "n1", true},     {"M12-", "M12", true},
        {"B\xFFX", "bx", true}, {"LongestNameOf16c", "longestnameof16C", true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(crew_text_names_alike(cases[i].one, cases[i].other), cases[i].alike);
    }
}

static void a_name_of_sixteen_digits_names_no_machine(void **state)
{
    (void)state;
    static const struct crew_machine machine = {"1234567890123456", true, 0};
    static const struct crew_names yard = {.machines = &machine, .machine_count = 1};
    struct crew_text out;
    crew_text_read("1234567890123456 1340", 21, &yard, CREW_DATE_MDY, false, &room, &out);
    assert_int_equal(out.statements[0].kind, CREW_UNKNOWN);
    assert_int_equal(out.statements[0].machine, -1);
}

static void the_calendar_has_its_days(void **state)
{
    (void)state;
    static const struct {
        int32_t year, month, day;
        bool is_day;
    } cases[] = {
        {2027, 1, 31, true},  {2027, 4, 31, false}, {2027, 4, 30, true},  {2027, 2, 29, false},
        {2028, 2, 29, true},  {2000, 2, 29, true},  {2100, 2, 29, false}, {0, 2, 29, true},
        {0, 2, 30, false},    {2027, 0, 1, false},  {2027, 13, 1, false}, {2027, 12, 0, false},
        {2027, 12, 31, true}, {2027, 2, 28, true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(dates_is_day(cases[i].year, cases[i].month, cases[i].day),
                         cases[i].is_day);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slices_are_octets_of_the_text_as_it_came),
        cmocka_unit_test(whatever_a_meter_shows_is_a_reading),
        cmocka_unit_test(a_text_may_hold_any_octets),
        cmocka_unit_test(an_empty_text_is_not_understood),
        cmocka_unit_test(nothing_past_the_length_is_read),
        cmocka_unit_test(ten_statements_are_taken_and_the_rest_is_said_to_be_more),
        cmocka_unit_test(a_text_is_read_to_its_bound_and_said_to_be_cut),
        cmocka_unit_test(more_words_than_can_be_held_are_cut),
        cmocka_unit_test(words_of_the_grammar_and_figures_are_no_names),
        cmocka_unit_test(a_plan_may_have_any_name_that_means_nothing_else_in_its_place),
        cmocka_unit_test(plans_beyond_what_can_be_held_are_left_out),
        cmocka_unit_test(names_are_alike_but_for_case_blanks_and_hyphens),
        cmocka_unit_test(what_stands_after_the_tenth_statement_says_nothing_of_them),
        cmocka_unit_test(a_name_of_sixteen_digits_names_no_machine),
        cmocka_unit_test(the_calendar_has_its_days),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
