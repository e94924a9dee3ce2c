/* SPDX-License-Identifier: MIT
 * conductor: time is led as the tests that rest on it believe. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "fixtures/conductor/conductor.h"
#include "fixtures/conductor/folder.h"

#define NOON_S 1804161600 /* 2027-03-04T12:00:00Z */
#define INES "+12065550110"

static int setup(void **state)
{
    const struct conductor_wish wish = {.folder = folder_make(), .wall_s = NOON_S};
    *state = conductor_start(&wish);
    return conductor_good(*state) ? 0 : -1;
}

static int teardown(void **state)
{
    conductor_stop(*state);
    folder_remove();
    return 0;
}

static void time_moves_exactly_as_far_as_it_is_led(void **state)
{
    struct conductor *c = *state;
    int64_t begun_ms = conductor_now(c).mono_ms;
    assert_true(conductor_advance(c, 1500));
    assert_int_equal(conductor_now(c).mono_ms, begun_ms + 1500);
    assert_int_equal(conductor_now(c).wall_s, NOON_S + 1);
    assert_true(conductor_advance(c, 500));
    assert_int_equal(conductor_now(c).wall_s, NOON_S + 2);
    assert_true(conductor_advance_until(c, NOON_S + 86400));
    assert_int_equal(conductor_now(c).wall_s, NOON_S + 86400);
    assert_int_equal(conductor_now(c).mono_ms, begun_ms + 86400000);
}

static void the_wall_clock_may_be_set_without_the_other(void **state)
{
    struct conductor *c = *state;
    int64_t begun_ms = conductor_now(c).mono_ms;
    conductor_set_wall(c, NOON_S - 3600);
    assert_int_equal(conductor_now(c).mono_ms, begun_ms);
    struct event event;
    assert_true(conductor_text(c, INES, "M12 1340h"));
    assert_true(conductor_await(c, "text-in", "", 0, &event));
    assert_string_equal(event.when, "2027-03-04T11:00:00Z");
}

static void an_event_is_waited_for_no_longer_than_said(void **state)
{
    struct conductor *c = *state;
    struct event event;
    int64_t begun_ms = conductor_now(c).mono_ms;
    assert_true(conductor_say(c, "restart"));
    assert_false(conductor_await(c, "modem", "RDY", 2999, NULL));
    assert_int_equal(conductor_now(c).mono_ms, begun_ms + 2999);
    assert_true(conductor_good(c));
    assert_true(conductor_await(c, "modem", "RDY", 1000, &event));
    assert_int_equal(event.mono_ms, begun_ms + 3000);
    assert_int_equal(conductor_now(c).mono_ms, begun_ms + 3000);
}

static void an_event_is_found_once_and_counted_always(void **state)
{
    struct conductor *c = *state;
    assert_true(conductor_text(c, INES, "one"));
    assert_true(conductor_text(c, INES, "two"));
    assert_true(conductor_await(c, "text-in", "two", 0, NULL));
    assert_false(conductor_await(c, "text-in", "", 0, NULL));
    assert_int_equal(conductor_count(c, "text-in", ""), 2);
    assert_int_equal(conductor_count(c, "text-in", "one"), 1);
}

static void a_text_arrives_as_it_was_said(void **state)
{
    static const char body[] = "M12 \"1340\" \\ x\nM7 38 ñ";
    struct conductor *c = *state;
    struct event event;
    char read[64];
    assert_true(conductor_text(c, INES, body));
    assert_true(conductor_await(c, "text-in", "", 0, &event));
    assert_true(event_field(&event, "body", read, sizeof read));
    assert_string_equal(read, body);
    assert_true(event_field(&event, "from", read, sizeof read));
    assert_string_equal(read, INES);
    assert_true(event_field(&event, "parts", read, sizeof read));
    assert_string_equal(read, "1");
    assert_false(event_field(&event, "to", read, sizeof read));
}

static void count_event(void *ctx, const struct event *event)
{
    size_t *count = ctx;
    *count += strcmp(event->word, "text-in") == 0;
}

static void events_are_handed_over_as_they_happen(void **state)
{
    struct conductor *c = *state;
    size_t count = 0;
    conductor_on_event(c, count_event, &count);
    assert_true(conductor_text(c, INES, "one"));
    assert_int_equal(count, 1);
    assert_true(conductor_text(c, INES, "two"));
    assert_int_equal(count, 2);
}

static void a_failure_names_what_is_wrong_and_stays(void **state)
{
    struct conductor *c = *state;
    assert_true(conductor_kill_standin(c));
    assert_false(conductor_say(c, "text 1 2"));
    assert_false(conductor_good(c));
    assert_true(strlen(conductor_says(c)) > 0);
    assert_false(conductor_advance(c, 1));
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        CASE(time_moves_exactly_as_far_as_it_is_led),
        CASE(the_wall_clock_may_be_set_without_the_other),
        CASE(an_event_is_waited_for_no_longer_than_said),
        CASE(an_event_is_found_once_and_counted_always),
        CASE(a_text_arrives_as_it_was_said),
        CASE(events_are_handed_over_as_they_happen),
        CASE(a_failure_names_what_is_wrong_and_stays),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
