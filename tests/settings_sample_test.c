/* SPDX-License-Identifier: MIT
 * The sample file that we install is well as it stands, and shows every setting there is. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "config/settings.h"
#include "config/settings_notes.h"

#define SAMPLE "config/meterpost.conf"

static void the_sample_is_well_as_it_stands(void **state)
{
    (void)state;
    struct settings *settings = settings_load(SAMPLE, stderr);
    assert_non_null(settings);
    assert_int_equal(settings->machine_count, 3);
    assert_int_equal(settings->plans[0].plan.first_hundredths, 7500);
    assert_int_equal(settings->plans[0].plan.every_hundredths, 50000);
    assert_true(settings->plans[0].step_count > 10);
    assert_int_equal(settings->plans[0].caution_count, 3); /* the usual ones are the sheet's */
    settings_free(settings);
}

/* What is said about the sample is about its mode, which the installer settles, not its content. */
static void nothing_in_the_sample_is_left_over(void **state)
{
    (void)state;
    struct settings *settings = settings_load(SAMPLE, stderr);
    struct settings_mistakes notes = {0};
    assert_non_null(settings);
    settings_notes(settings, &notes);
    for (size_t i = 0; i < notes.count; i++) {
        assert_non_null(strstr(notes.list[i].says, "chmod"));
    }
    settings_mistakes_free(&notes);
    settings_free(settings);
}

static void the_summary_says_machines_plans_people_and_hours(void **state)
{
    static const char *const said[] = {
        "Alder Works, texts at +12065550100, time zone America/Los_Angeles\n",
        "  alerts go out on Mon Tue Wed Thu Fri, 07:00 to 17:00, not on 4 holidays",
        "    first at 75 h, then every 500 h from the last service, or after 12 months, whichever "
        "comes first\n",
        "    takes 5 qt 20W-50 synthetic (sold in 1 qt), 2 drive oil filter\n",
        "  M12: ridge-60, plan drive + belts, crew Ines, drive last done at 575 h on 2026-03-14, "
        "belts last done at 600 h\n",
        "  Rosa: +12065550111, shop, answered in \"en\"; gets the alerts\n"};
    (void)state;
    char *summary = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&summary, &length);
    struct settings *settings = settings_load(SAMPLE, stderr);
    assert_non_null(settings);
    assert_non_null(out);
    settings_describe(settings, out);
    assert_int_equal(fclose(out), 0);
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        if (strstr(summary, said[i]) == NULL) {
            fail_msg("not in the summary: %s", said[i]);
        }
    }
    free(summary);
    settings_free(settings);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sample_is_well_as_it_stands),
        cmocka_unit_test(nothing_in_the_sample_is_left_over),
        cmocka_unit_test(the_summary_says_machines_plans_people_and_hours),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
