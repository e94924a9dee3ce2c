/* SPDX-License-Identifier: MIT
 * Every sentence of every language: all of them there, all their slots known, all their letters in
 * the default alphabet of GSM 7-bit, and each reply to one statement within one text of the air
 * even where every name and figure is as long as it can be. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "daemon/desk/wording.h"
#include "parsers/crew_text_items.h"
#include "tests/wording_longest.h"

#define SEGMENT_SEPTETS 160

static size_t septets(const struct wording *wording, enum wording_key key)
{
    char sentence[WORDING_SENTENCE_OCTETS];
    size_t count = 0;
    if (!longest_write(wording, key, sentence, &count)) {
        fail_msg("%s %d: outside the default alphabet: %s", wording->language, key, sentence);
    }
    return count;
}

static void every_sentence_is_there_in_every_language(void **state)
{
    (void)state;
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        for (int key = 0; key < WORDING_KEYS; key++) {
            if (wording_all[i]->sentences[key] == NULL) {
                fail_msg("%s lacks sentence %d", wording_all[i]->language, key);
            }
        }
    }
}

static size_t count_of(const char *text, char octet)
{
    size_t count = 0;
    for (; *text != '\0'; text++) {
        count += *text == octet;
    }
    return count;
}

/* What is written for a slot that is none is nothing. */
static void every_slot_named_is_one(void **state)
{
    (void)state;
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        for (int key = 0; key < WORDING_KEYS; key++) {
            const char *template = wording_all[i]->sentences[key];
            struct wording_values values;
            char out[WORDING_SENTENCE_OCTETS];
            for (int slot = 0; slot < WORDING_SLOTS; slot++) {
                wording_set(&values, (enum wording_slot)slot, "{");
            }
            (void)wording_write(wording_all[i], (enum wording_key)key, &values, out, sizeof out);
            if (count_of(out, '{') != count_of(template, '{')) {
                fail_msg("%s: no such slot: %s", wording_all[i]->language, template);
            }
        }
    }
}

/* What each language has in a sentence the others have too, so that no figure gets lost. */
static void the_languages_say_the_same_figures(void **state)
{
    (void)state;
    for (int key = 0; key < WORDING_KEYS; key++) {
        for (int slot = 0; slot < WORDING_SLOTS; slot++) {
            bool here = wording_names(&wording_en, (enum wording_key)key, (enum wording_slot)slot);
            for (size_t i = 0; wording_all[i] != NULL; i++) {
                if (here !=
                    wording_names(wording_all[i], (enum wording_key)key, (enum wording_slot)slot)) {
                    fail_msg("%s: slot %d is not in both: %s", wording_all[i]->language, slot,
                             wording_all[i]->sentences[key]);
                }
            }
        }
    }
}

static void no_sentence_is_longer_than_one_text(void **state)
{
    (void)state;
    int wrong = 0;
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        for (int key = 0; key < WORDING_KEYS; key++) {
            size_t count = septets(wording_all[i], (enum wording_key)key);
            if (count > SEGMENT_SEPTETS) {
                print_error("%s: %zu septets: %s\n", wording_all[i]->language, count,
                            wording_all[i]->sentences[key]);
                wrong++;
            }
        }
    }
    assert_int_equal(wrong, 0);
}

/* What must be said together in the reply to one statement. */
static const enum wording_key together[][5] = {
    {WORDING_NOTED_ON, WORDING_COMING, WORDING_KEYS},
    {WORDING_NOTED_ON, WORDING_DUE, WORDING_BRING, WORDING_KEYS},
    {WORDING_NOTED_ON, WORDING_DUE_CALENDAR, WORDING_BRING, WORDING_KEYS},
    {WORDING_NOTED_ON, WORDING_OVERDUE, WORDING_BRING, WORDING_KEYS},
    {WORDING_NOTED_ON, WORDING_OVERDUE_CALENDAR, WORDING_BRING, WORDING_KEYS},
    {WORDING_NOTED_ON, WORDING_NO_RECORD, WORDING_KEYS},
    {WORDING_NOTED_ON, WORDING_SHOP_RECORDS, WORDING_KEYS},
    {WORDING_NOTED_ON, WORDING_SOFT, WORDING_KEYS},
    {WORDING_ALREADY, WORDING_DUE, WORDING_BRING, WORDING_KEYS},
    {WORDING_STANDS_AT, WORDING_OVERDUE_CALENDAR, WORDING_BRING, WORDING_KEYS},
    {WORDING_SERVICE, WORDING_KEYS},
    {WORDING_IN, WORDING_OVERDUE_CALENDAR, WORDING_KEYS},
    {WORDING_OUT, WORDING_OVERDUE_CALENDAR, WORDING_KEYS},
    {WORDING_STANDS_AT, WORDING_IN_SHOP_SINCE, WORDING_OVERDUE_CALENDAR, WORDING_KEYS},
    {WORDING_NOTED_ON, WORDING_OVERDUE, WORDING_BRING_ON, WORDING_KEYS},
    {WORDING_CORRECTED, WORDING_COMING, WORDING_KEYS},
    {WORDING_NO_SUCH_MACHINE, WORDING_YOURS, WORDING_KEYS},
};

static void what_is_said_together_fits_one_text(void **state)
{
    (void)state;
    int wrong = 0;
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        for (size_t row = 0; row < sizeof together / sizeof together[0]; row++) {
            size_t count = 0;
            for (size_t at = 0; together[row][at] != WORDING_KEYS; at++) {
                count += septets(wording_all[i], together[row][at]) + (at > 0);
            }
            if (count > SEGMENT_SEPTETS) {
                print_error("%s: %zu septets: %s ...\n", wording_all[i]->language, count,
                            wording_all[i]->sentences[together[row][1]]);
                wrong++;
            }
        }
    }
    assert_int_equal(wrong, 0);
}

/* Whether the grammar takes the word: alone, or after a machine with what it wants. */
static bool is_understood(const char *word)
{
    static const struct crew_machine machines[] = {{.name = "M12", .own = true}};
    static const char *const plans[] = {"drive"};
    static const struct crew_names names = {
        .machines = machines, .machine_count = 1, .plans = plans, .plan_count = 1};
    static const struct {
        const char *before, *after;
    } forms[] = {
        {"", ""}, {"M12 ", ""}, {"M12 ", " 7"}, {"M12 ", " tomorrow"}, {"M12 ", " 1340 0"}};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        char text[64];
        static struct crew_text_room room;
        struct crew_text read;
        (void)snprintf(text, sizeof text, "%s%s%s", forms[i].before, word, forms[i].after);
        crew_text_read(text, strlen(text), &names, CREW_DATE_MDY, false, &room, &read);
        if (read.tone == CREW_TONE_ASSENT) {
            return true;
        }
        if (read.tone == CREW_TONE_STATEMENTS && read.statement_count == 1 &&
            read.statements[0].obstacle == CREW_OBSTACLE_NONE &&
            read.statements[0].kind != CREW_UNKNOWN && read.statements[0].kind != CREW_READING &&
            read.statements[0].kind != CREW_STATUS && read.statements[0].kind != CREW_FIGURE) {
            return true;
        }
    }
    return false;
}

/* A word in capitals is one to send; that of an alert is not. */
static bool is_command(const char *word)
{
    return strlen(word) >= 2 && strcmp(word, "OVERDUE") != 0 && strcmp(word, "ATRASADA") != 0 &&
           strcmp(word, "RETARD") != 0;
}

static void every_word_that_people_are_told_to_send_is_understood(void **state)
{
    (void)state;
    int seen = 0;
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        for (int key = 0; key < WORDING_KEYS; key++) {
            const char *at = wording_all[i]->sentences[key];
            while (*at != '\0') {
                char word[32];
                size_t length = strspn(at, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");
                (void)snprintf(word, sizeof word, "%.*s", (int)length, at);
                if (is_command(word)) {
                    seen++;
                    if (!is_understood(word)) {
                        fail_msg("%s: nobody understands %s", wording_all[i]->language, word);
                    }
                }
                at += length > 0 ? length : 1;
            }
        }
    }
    assert_true(seen > 40);
}

static void a_date_far_off_carries_its_year(void **state)
{
    struct wording_values values = {0};
    (void)state;
    wording_set_day(&values, WORDING_DAY, &wording_en, 20895, 20850); /* 2027-03-18 */
    assert_string_equal(values.value[WORDING_DAY], "Mar 18");
    wording_set_day(&values, WORDING_DAY, &wording_es, 20895, 20850);
    assert_string_equal(values.value[WORDING_DAY], "18 mar");
    wording_set_day(&values, WORDING_DAY, &wording_en, 20895, 20500);
    assert_string_equal(values.value[WORDING_DAY], "Mar 18, 2027");
    wording_set_day(&values, WORDING_DAY, &wording_es, 20895, 21300);
    assert_string_equal(values.value[WORDING_DAY], "18 mar 2027");
}

static void a_moment_of_today_is_said_by_the_shops_clock(void **state)
{
    static const struct {
        const struct wording *wording;
        int32_t second_of_day, today;
        bool twelve;
        const char *says;
    } cases[] = {
        {&wording_en, 14 * 3600 + 5 * 60 + 59, 20895, true, "today at 2:05 pm"},
        {&wording_en, 14 * 3600 + 5 * 60 + 59, 20895, false, "today at 14:05"},
        {&wording_en, 0, 20895, true, "today at 12:00 am"},
        {&wording_en, 12 * 3600, 20895, true, "today at 12:00 pm"},
        {&wording_en, 11 * 3600 + 59 * 60, 20895, true, "today at 11:59 am"},
        {&wording_es, 9 * 3600, 20895, true, "hoy (9:00 am)"},
        {&wording_es, 9 * 3600, 20895, false, "hoy (09:00)"},
        {&wording_en, 86399, 20896, true, "on Mar 18"},
        {&wording_es, 0, 20894, false, "el 18 mar"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct wording_values values = {0};
        wording_set_when(&values, cases[i].wording, 20895, cases[i].second_of_day, cases[i].today,
                         cases[i].twelve);
        assert_string_equal(values.value[WORDING_WHEN], cases[i].says);
    }
}

static void an_example_shows_the_figure_it_is_given(void **state)
{
    struct wording_values values = {0};
    (void)state;
    wording_set(&values, WORDING_MACHINE, "M12");
    wording_set_example(&values, &wording_en, "M12", 134050);
    char sentence[WORDING_SENTENCE_OCTETS];
    (void)wording_write(&wording_en, WORDING_FORM, &values, sentence, sizeof sentence);
    assert_string_equal(sentence, "Please text M12 and its hours, like M12 1340.5h.");
    assert_true(wording_names(&wording_en, WORDING_FORM, WORDING_EXAMPLE));
    assert_false(wording_names(&wording_en, WORDING_NOTED, WORDING_EXAMPLE));
}

/* Whoever sends an example back word for word has said what the machine shows: no sentence has a
 * figure of hours of its own. */
static void no_sentence_has_hours_of_its_own(void **state)
{
    (void)state;
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        for (int key = 0; key < WORDING_KEYS; key++) {
            for (const char *at = wording_all[i]->sentences[key]; *at != '\0'; at++) {
                if (strspn(at, "0123456789") > 2) {
                    fail_msg("%s: a figure in: %s", wording_all[i]->language,
                             wording_all[i]->sentences[key]);
                }
            }
        }
    }
}

static void a_value_never_runs_past_the_end(void **state)
{
    struct wording_values values = {0};
    char small[16];
    (void)state;
    wording_set(&values, WORDING_MACHINE, "M12");
    wording_set(&values, WORDING_HOURS, "1340");
    assert_int_equal(wording_write(&wording_en, WORDING_NOTED, &values, small, sizeof small), 15);
    assert_string_equal(small, "M12 1340h noted");
}

static void a_language_without_a_table_gets_the_first(void **state)
{
    (void)state;
    assert_ptr_equal(wording_of("es"), &wording_es);
    assert_ptr_equal(wording_of("xx"), &wording_en);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_sentence_is_there_in_every_language),
        cmocka_unit_test(every_slot_named_is_one),
        cmocka_unit_test(the_languages_say_the_same_figures),
        cmocka_unit_test(no_sentence_is_longer_than_one_text),
        cmocka_unit_test(what_is_said_together_fits_one_text),
        cmocka_unit_test(every_word_that_people_are_told_to_send_is_understood),
        cmocka_unit_test(a_date_far_off_carries_its_year),
        cmocka_unit_test(a_moment_of_today_is_said_by_the_shops_clock),
        cmocka_unit_test(an_example_shows_the_figure_it_is_given),
        cmocka_unit_test(no_sentence_has_hours_of_its_own),
        cmocka_unit_test(a_value_never_runs_past_the_end),
        cmocka_unit_test(a_language_without_a_table_gets_the_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
