/* SPDX-License-Identifier: MIT
 * Killed at the worst moments: between the commit and the modem's delete, before the commit, after
 * a text was handed to the network, and both ends at once. Judged by the stand-in's transcript
 * against the ledger. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "fixtures/conductor/house.h"

#define MINUTE_MS 60000
#define READINGS "SELECT count(*) FROM readings WHERE struck_s IS NULL"
#define TEXTS_IN "SELECT count(*) FROM texts_in"

/* An hour on, Tom's one reading is counted once, answered once, and gone from the modem. */
static void assert_once(struct house *house, size_t deletes)
{
    struct conductor *c = house->conductor;
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(house_ask(house, READINGS), 1);
    assert_int_equal(house_ask(house, TEXTS_IN), 1);
    assert_int_equal(conductor_count(c, "text-out", "to=\"" HOUSE_TOM "\""), 1);
    assert_int_equal(conductor_count(c, "deleted", "id=1"), deletes);
}

static void kill_and_start(struct house *house)
{
    assert_true(conductor_kill_daemon(house->conductor));
    assert_true(conductor_say(house->conductor, "mend"));
    assert_true(conductor_start_daemon(house->conductor));
}

/* The stand-in holds the delete undone: what the ledger says then was committed before it. */
static void a_text_is_on_disk_before_its_copy_is_deleted(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault hold-delete"));
    assert_int_equal(house_ask(house, TEXTS_IN), 0);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await(c, "held", "", MINUTE_MS, NULL));
    assert_int_equal(conductor_count(c, "deleted", ""), 0);
    assert_int_equal(house_ask(house, TEXTS_IN), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM arrivals WHERE hex <> ''"), 1);
    assert_int_equal(house_ask(house, READINGS), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM texts_out WHERE kind='reply'"), 1);
    assert_true(conductor_say(c, "mend"));
    assert_once(house, 1);
}

static void a_kill_between_commit_and_delete_leaves_it_counted_once(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault hold-delete"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await(c, "held", "", MINUTE_MS, NULL));
    assert_true(conductor_kill_daemon(c));
    assert_int_equal(conductor_count(c, "deleted", ""), 0); /* it is still there to be swept up */
    assert_true(conductor_say(c, "mend"));
    assert_true(conductor_start_daemon(c));
    assert_once(house, 1);
    assert_int_equal(conductor_count(c, "stored", "id=1"), 1);
}

static void a_kill_before_the_commit_loses_nothing(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault hold-read"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await(c, "held", "", MINUTE_MS, NULL));
    assert_int_equal(house_ask(house, TEXTS_IN), 0);
    kill_and_start(house);
    assert_once(house, 1);
}

static void a_delivery_repeated_by_the_network_is_not_answered_again(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault delivered-twice"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await(c, "deleted", "id=1", MINUTE_MS, NULL));
    kill_and_start(house);
    assert_once(house, 2);
    assert_int_equal(conductor_count(c, "stored", "id=1"), 2);
}

/* The network takes the answer, the modem does not say so, the daemon is killed: whether it went
 * cannot be known, so it goes once more and is marked; never a third time. */
static void an_answer_whose_fate_a_kill_hides_is_repeated_once(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault send-taken-unsaid"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await(c, "part-out", "", MINUTE_MS, NULL));
    kill_and_start(house);
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(conductor_count(c, "part-out", ""), 2);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE repeated=1"), 1);
    kill_and_start(house);
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(conductor_count(c, "part-out", ""), 2);
    assert_int_equal(house_ask(house, READINGS), 1);
}

static void an_answer_the_modem_refused_to_say_anything_of_still_goes_out(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault send-lost-unsaid"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await(c, "modem", "> ", MINUTE_MS, NULL));
    assert_true(conductor_settle(c));
    kill_and_start(house);
    assert_once(house, 1);
}

/* The mains go: both ends stop at once, with texts in the modem, in the air and in the ledger. */
static void a_power_cut_of_both_ends_loses_nothing_and_counts_nothing_twice(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault hold-delete"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await(c, "held", "", MINUTE_MS, NULL));
    assert_true(conductor_text(c, HOUSE_BEN, "R2 800h"));
    assert_true(conductor_kill_daemon(c));
    assert_true(conductor_kill_standin(c));
    assert_true(conductor_start_standin(c));
    assert_true(conductor_start_daemon(c));
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(house_ask(house, READINGS), 2);
    assert_int_equal(house_ask(house, TEXTS_IN), 2);
    assert_int_equal(conductor_count(c, "text-out", "to=\"" HOUSE_TOM "\""), 1);
    assert_int_equal(conductor_count(c, "text-out", "to=\"" HOUSE_BEN "\""), 1);
    assert_int_equal(conductor_count(c, "deleted", ""), 2);
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, house_setup, house_teardown)
    const struct CMUnitTest tests[] = {
        CASE(a_text_is_on_disk_before_its_copy_is_deleted),
        CASE(a_kill_between_commit_and_delete_leaves_it_counted_once),
        CASE(a_kill_before_the_commit_loses_nothing),
        CASE(a_delivery_repeated_by_the_network_is_not_answered_again),
        CASE(an_answer_whose_fate_a_kill_hides_is_repeated_once),
        CASE(an_answer_the_modem_refused_to_say_anything_of_still_goes_out),
        CASE(a_power_cut_of_both_ends_loses_nothing_and_counts_nothing_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
