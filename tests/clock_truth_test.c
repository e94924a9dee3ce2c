/* SPDX-License-Identifier: MIT
 * The whole daemon on a box whose clock is plainly wrong, and when it is set: the conductor sets the
 * box's clock, the stand-in's network keeps the right time. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"
#include "fixtures/conductor/process.h"

#define MINUTE_MS 60000
#define HOUR 3600
#define DAY (24 * HOUR)
#define YEAR_2000 INT64_C(946684800)

/* The box shows another time by so much from now on; the network's stays what it was. */
static void box_is_off(struct house *house, int64_t off_s)
{
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "clock %lld", (long long)-off_s));
    conductor_set_wall(c, conductor_now(c).wall_s + off_s);
    assert_true(conductor_good(c));
}

/* The box's clock is set right. */
static void box_is_set(struct house *house, int64_t off_s)
{
    struct conductor *c = house->conductor;
    conductor_set_wall(c, conductor_now(c).wall_s - off_s);
    assert_true(conductor_say(c, "clock 0"));
}

static void restart(struct house *house)
{
    assert_int_equal(conductor_end_daemon(house->conductor), 0);
    assert_true(conductor_start_daemon(house->conductor));
}

static size_t texts_to(const struct house *house, const char *to)
{
    char whom[32];
    (void)snprintf(whom, sizeof whom, "to=\"%s\"", to);
    return conductor_count(house->conductor, "text-out", whom);
}

static void await_reply(struct house *house)
{
    struct event event;
    if (!conductor_await(house->conductor, "text-out", "to=\"" HOUSE_TOM "\"", 20 * MINUTE_MS,
                         &event)) {
        fail_msg("no reply: %s", conductor_says(house->conductor));
    }
}

/* Everything in the ledger that has a date lies near that moment. */
static void assert_all_dated_near(const struct house *house, int64_t right_s)
{
    static const char *const columns[][2] = {
        {"texts_in", "received_s"}, {"texts_in", "sent_s"},     {"readings", "read_s"},
        {"readings", "noted_s"},    {"texts_out", "created_s"}, {"parts_out", "not_before_s"},
        {"parts_out", "handed_s"},  {"alerts", "raised_s"},     {"alerts", "told_s"}};
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++) {
        char query[256];
        (void)snprintf(query, sizeof query,
                       "SELECT count(*) FROM %s WHERE abs(%s - %lld) > 2 * 86400", columns[i][0],
                       columns[i][1], (long long)right_s);
        if (house_ask(house, query) != 0) {
            fail_msg("%s.%s is dated by the wrong clock", columns[i][0], columns[i][1]);
        }
    }
}

static int64_t off_to(const struct house *house, int64_t wall_s)
{
    return wall_s - conductor_now(house->conductor).wall_s;
}

/* A box that is off by so much when it starts, told the time by the network. */
static void works_by_the_networks_time(struct house *house, int64_t off_s)
{
    struct conductor *c = house->conductor;
    int64_t right_s = conductor_now(c).wall_s;
    box_is_off(house, off_s);
    restart(house);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1051h"));
    await_reply(house);
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1051.5h"));
    await_reply(house);
    assert_true(conductor_await_log(c, "plainly wrong"));
    assert_true(conductor_advance(c, 20 * MINUTE_MS));
    assert_int_equal(conductor_count(c, "text-out", "M12 coming up"), 1); /* by its hours */
    assert_all_dated_near(house, right_s);
    box_is_set(house, off_s);
    assert_true(conductor_advance(c, 40 * MINUTE_MS));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1052h"));
    await_reply(house);
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(texts_to(house, HOUSE_TOM), 3);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE state <> 'taken'"), 0);
    assert_all_dated_near(house, right_s);
}

static void a_box_of_the_year_2000_works_by_the_networks_time(void **state)
{
    works_by_the_networks_time(*state, off_to(*state, YEAR_2000));
}

static void a_box_months_behind_works_by_the_networks_time(void **state)
{
    works_by_the_networks_time(*state, -150 * INT64_C(86400));
}

static void a_box_years_ahead_works_by_the_networks_time(void **state)
{
    works_by_the_networks_time(*state, 4 * 365 * INT64_C(86400));
}

/* Neither the network nor a text says what time it is. */
static void what_cannot_be_dated_waits_for_the_clock(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    int64_t right_s = conductor_now(c).wall_s;
    conductor_set_wall(c, YEAR_2000); /* and the network with it */
    restart(house);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1020h"));
    assert_true(conductor_advance(c, 30 * MINUTE_MS));
    assert_int_equal(conductor_count(c, "deleted", "part=1/1"), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM texts_in WHERE state = 'arrived'"), 1);
    assert_int_equal(conductor_count(c, "text-out", ""), 0);
    restart(house);
    conductor_set_wall(c, right_s);
    await_reply(house);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 1);
    assert_all_dated_near(house, right_s);
}

/* A Monday passes on a box that is years ahead: the summary and the silence are held. */
static void nothing_that_goes_by_dates_is_told(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1020h"));
    await_reply(house);
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    int64_t off_s = 4 * 365 * INT64_C(86400);
    size_t before = conductor_count(c, "text-out", "");
    box_is_off(house, off_s);
    restart(house);
    assert_true(conductor_advance(c, 5 * INT64_C(24) * 60 * MINUTE_MS)); /* over a Monday */
    assert_int_equal(conductor_count(c, "text-out", ""), before);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM alerts WHERE stage LIKE 'silent%'"), 0);
    box_is_set(house, off_s);
    assert_true(conductor_advance(c, 8 * INT64_C(24) * 60 * MINUTE_MS)); /* over the next one */
    assert_true(conductor_count(c, "text-out", "") > before);
}

/* Nobody says what time it is: a box of 2031 is believed, until the network is heard. */
static void what_a_believed_clock_dated_ahead_is_put_right(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    int64_t right_s = conductor_now(c).wall_s;
    int64_t off_s = 4 * 365 * INT64_C(86400);
    conductor_set_wall(c, right_s + off_s); /* and the network with it */
    restart(house);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1051h"));
    await_reply(house);
    assert_true(conductor_advance(c, 5 * MINUTE_MS));
    assert_true(house_ask(house, "SELECT max(read_s) FROM readings") > right_s + off_s - DAY);
    conductor_set_wall(c, right_s + HOUR);
    restart(house);
    assert_true(conductor_await_log(c, "moved back"));
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_all_dated_near(house, right_s);
    assert_true(conductor_text(c, HOUSE_TOM, "M12?"));
    await_reply(house);
    assert_int_equal(conductor_count(c, "text-out", "M12 1051h on Mar 4"), 1);
}

/* The network never tells the time: the first text alone condemns no clock, the second one does. */
static void a_text_that_came_by_a_clock_behind_is_dated_by_its_stamp(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    int64_t right_s = conductor_now(c).wall_s;
    assert_true(conductor_say(c, "fault no-clock always"));
    box_is_off(house, -150 * INT64_C(86400));
    restart(house);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1051h"));
    await_reply(house);
    assert_true(house_ask(house, "SELECT read_s FROM readings") < right_s - 100 * DAY);
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1051.5h"));
    await_reply(house);
    assert_true(conductor_await_log(c, "dated by their stamps"));
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 2);
    assert_true(house_ask(house, "SELECT min(read_s) FROM readings") > right_s - DAY);
    assert_true(house_ask(house, "SELECT min(noted_s) FROM readings") > right_s - DAY);
    assert_true(house_ask(house, "SELECT min(received_s) FROM texts_in") > right_s - DAY);
    assert_true(house_ask(house, "SELECT min(sent_s) FROM texts_in") > right_s - DAY);
    assert_true(house_ask(house, "SELECT min(received_s) FROM arrivals") > right_s - DAY);
}

int main(void)
{
#define HOUSE_TEST(test) cmocka_unit_test_setup_teardown(test, house_setup, house_teardown)
    const struct CMUnitTest tests[] = {
        HOUSE_TEST(a_box_of_the_year_2000_works_by_the_networks_time),
        HOUSE_TEST(a_box_months_behind_works_by_the_networks_time),
        HOUSE_TEST(a_box_years_ahead_works_by_the_networks_time),
        HOUSE_TEST(what_cannot_be_dated_waits_for_the_clock),
        HOUSE_TEST(nothing_that_goes_by_dates_is_told),
        HOUSE_TEST(what_a_believed_clock_dated_ahead_is_put_right),
        HOUSE_TEST(a_text_that_came_by_a_clock_behind_is_dated_by_its_stamp),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
