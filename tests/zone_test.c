/* SPDX-License-Identifier: MIT
 * zone: the shop's wall clock. Checked against GNU date (coreutils), which reads the same zone
 * database by its own code. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <cmocka.h>

#include "daemon/ground/zone.h"

static void an_unknown_zone_is_refused(void **state)
{
    (void)state;
    assert_false(zone_known("America/Los_Angles"));
    assert_false(zone_known(""));
    assert_false(zone_known("../../../etc/passwd"));
    assert_false(zone_known("/etc/localtime"));
    assert_false(zone_known("America"));
    assert_true(zone_known("America/Los_Angeles"));
    assert_true(zone_known("UTC"));
}

static void moments_are_shown_as_gnu_date_shows_them(void **state)
{
    static const char *const zones[] = {"America/Los_Angeles", "Europe/Madrid", "Asia/Kolkata",
                                        "Australia/Lord_Howe", "UTC"};
    (void)state;
    for (size_t i = 0; i < sizeof zones / sizeof zones[0]; i++) {
        char command[256], expected[64], shown[ZONE_TEXT_OCTETS];
        assert_true(zone_set(zones[i]));
        /* Two years in steps of about five days and some hours, over every change of clocks. */
        (void)snprintf(command, sizeof command,
                       "seq -f '@%%.0f' 1798761600 450000 1862000000 | TZ=%s date -f - "
                       "'+%%Y-%%m-%%dT%%H:%%M:%%S%%:z'",
                       zones[i]);
        FILE *date = popen(command, "r");
        assert_non_null(date);
        int64_t unix_s = 1798761600;
        int compared = 0;
        while (fgets(expected, sizeof expected, date) != NULL) {
            int64_t back_s = 0;
            expected[25] = '\0';
            zone_write_rfc3339(unix_s, shown, sizeof shown);
            assert_string_equal(shown, expected);
            assert_true(zone_read_rfc3339(shown, &back_s));
            assert_true(back_s == unix_s);
            unix_s += 450000;
            compared++;
        }
        assert_int_equal(pclose(date), 0);
        assert_int_equal(compared, 141);
    }
}

static void people_read_the_minute_on_the_wall(void **state)
{
    char text[ZONE_TEXT_OCTETS];
    (void)state;
    assert_true(zone_set("America/Los_Angeles"));
    zone_write_minute(1805032859, text, sizeof text); /* 07:00:59 */
    assert_string_equal(text, "2027-03-14 07:00");
}

static void a_wall_time_is_its_first_moment(void **state)
{
    /* The changes of clocks in Los Angeles: 2027-03-14 (day 20891) skips 02:00 to 03:00,
     * 2027-11-07 (day 21129) has 01:00 to 02:00 twice. Moments by GNU date. */
    static const struct {
        int32_t day, second_of_day;
        int64_t unix_s;
    } cases[] = {
        {20891, 1 * 3600, 1805014800},        /* 01:00 PST */
        {20891, 3 * 3600, 1805018400},        /* 03:00 PDT, an hour later */
        {20891, 2 * 3600 + 1800, 1805018400}, /* 02:30 is not there: the change */
        {21129, 1 * 3600, 1825574400},        /* 01:00 PDT, the first of two */
        {21129, 3 * 3600, 1825585200},        /* 03:00 PST */
        {20900, 7 * 3600, 1805810400},
    };
    (void)state;
    assert_true(zone_set("America/Los_Angeles"));
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(zone_unix(cases[i].day, cases[i].second_of_day), cases[i].unix_s);
    }
}

static void every_moment_goes_to_the_wall_and_back(void **state)
{
    (void)state;
    assert_true(zone_set("Australia/Lord_Howe")); /* changes by half an hour */
    for (int64_t unix_s = 1798761600; unix_s < 1798761600 + 370 * INT64_C(86400); unix_s += 1700) {
        struct civil_time civil = zone_civil(unix_s);
        int64_t back_s = zone_unix(civil.day, civil.second_of_day);
        assert_true(back_s == unix_s || back_s == unix_s - 1800); /* the earlier of two */
    }
}

static void what_is_no_time_is_refused(void **state)
{
    static const char *const bad[] = {"",
                                      "2027",
                                      "2027-13-01",
                                      "2027-02-29",
                                      "2027-03-14T25:00:00Z",
                                      "2027-03-14T07:00:00",
                                      "2027-03-14T07:00:00+7",
                                      "2027-03-14T07:00Z",
                                      "2027-03-14T07:00:00Zx",
                                      "yesterday"};
    int64_t unix_s = 0;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_false(zone_read_rfc3339(bad[i], &unix_s));
    }
    assert_true(zone_set("America/Los_Angeles"));
    assert_true(zone_read_rfc3339("2027-03-14T07:00:00.25-07:00", &unix_s));
    assert_true(unix_s == 1805032800);
    assert_true(zone_read_rfc3339("2027-03-14", &unix_s)); /* its midnight in the shop */
    assert_true(unix_s == 1805011200);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_unknown_zone_is_refused),
        cmocka_unit_test(moments_are_shown_as_gnu_date_shows_them),
        cmocka_unit_test(people_read_the_minute_on_the_wall),
        cmocka_unit_test(a_wall_time_is_its_first_moment),
        cmocka_unit_test(every_moment_goes_to_the_wall_and_back),
        cmocka_unit_test(what_is_no_time_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
