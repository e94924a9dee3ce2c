/* SPDX-License-Identifier: MIT
 * Texts out: caps, expiry, opting out, retries, the fate that a crash hides. */
#include "tests/desk_room.h"

#include "daemon/ledger/texts.h"

#include "daemon/desk/post.h"

static bool next_part(struct room *room, struct part *part)
{
    int64_t next_s = 0;
    return desk_next_part(room->desk, room->modem, now_of(room), part, &next_s);
}

enum { EAST, WEST, NORTH };

/* Three modems, of which those work, a bit each. */
static void have_modems(struct room *room, uint32_t working)
{
    static const char *const names[] = {"east", "west", "north"};
    room->settings->modem_count = 3;
    for (size_t i = 0; i < 3; i++) {
        room->settings->modems[i].name = names[i];
    }
    desk_modems_work(room->desk, working);
}

static bool next_by(struct room *room, size_t modem, struct part *part)
{
    room->modem = modem;
    return next_part(room, part);
}

static void ended(struct room *room, const struct part *part, enum part_fate fate,
                  int64_t retry_after_s)
{
    struct part_result result = {
        .part_id = part->id, .fate = fate, .cause = -1, .retry_after_ms = retry_after_s * 1000};
    desk_part_ended(room->desk, &result, now_of(room));
}

static void each_part_of_a_long_text_goes_by_itself(void **state)
{
    struct room *room = *state;
    struct part part;
    struct tpdu tpdu;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12?, M14?, M3?, M21?");
    for (uint8_t i = 1; i <= 2; i++) {
        assert_true(next_part(room, &part));
        assert_int_equal(tpdu_from_hex(part.line.hex, strlen(part.line.hex), &tpdu), TPDU_OK);
        assert_int_equal(tpdu.user.concat.part, i);
        assert_int_equal(tpdu.user.concat.parts, 2);
        ended(room, &part, PART_FATE_TAKEN, 0);
    }
    assert_false(next_part(room, &part));
}

static void a_part_that_failed_for_now_comes_again_when_the_modem_says(void **state)
{
    struct room *room = *state;
    struct part part;
    static const int64_t waits_s[] = {15, 300, 3600, 7200};
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    for (size_t i = 0; i < sizeof waits_s / sizeof waits_s[0]; i++) {
        assert_true(next_part(room, &part));
        assert_int_equal(part.tries, i);
        ended(room, &part, PART_FATE_RETRY, waits_s[i]);
        room->now_s += waits_s[i] - 1;
        assert_false(next_part(room, &part));
        room->now_s += 1;
    }
    assert_true(next_part(room, &part));
    ended(room, &part, PART_FATE_TAKEN, 0);
    assert_false(next_part(room, &part));
}

static void a_refused_part_is_not_tried_again(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_true(next_part(room, &part));
    ended(room, &part, PART_FATE_REFUSED, 0);
    room->now_s += 86400;
    assert_false(next_part(room, &part));
}

static void a_stale_reply_is_not_sent(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    at(room, "2027-04-01 20:01");
    assert_false(next_part(room, &part));
}

static void what_a_crash_hid_is_repeated_once(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_true(next_part(room, &part));
    desk_recover(room->desk, now_of(room)); /* a start after a crash in the middle of it */
    assert_true(next_part(room, &part));
    desk_recover(room->desk, now_of(room));
    assert_false(next_part(room, &part));
}

static void an_unknown_fate_is_repeated_once(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_true(next_part(room, &part));
    ended(room, &part, PART_FATE_UNKNOWN, 0);
    assert_true(next_part(room, &part));
    ended(room, &part, PART_FATE_UNKNOWN, 0);
    assert_false(next_part(room, &part));
}

static int waiting_in(struct room *room)
{
    struct texts_summary summary;
    int64_t next_s = 0;
    static struct texts_part part;
    assert_int_equal(texts_summarise(room->ledger, 0, &summary), LEDGER_OK);
    assert_int_equal(summary.waiting, 1); /* marked or not, health counts it */
    return texts_next_part(room->ledger, NULL, room->now_s, &part, &next_s) == LEDGER_OK;
}

/* The mark that a part was handed over comes with the text; nobody asks for the part, it is taken back. */
static void a_part_is_marked_with_its_text_and_put_back_where_the_modem_does_not_come(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_int_equal(waiting_in(room), 0);
    room->now_s += 61;
    assert_true(next_part(room, &part)); /* put back, and thought over */
    assert_int_equal(part.tries, 0);     /* it was not tried */
    ended(room, &part, PART_FATE_RETRY, 300);
    assert_int_equal(waiting_in(room), 0); /* later */
    room->now_s += 3600;
    assert_true(take_out(room));
    assert_silent(room);
    receive(room, TOM, "M12 40.5h");
    assert_int_equal(waiting_in(room), 0);
    desk_free(room->desk); /* a clean end repeats nothing at the next start */
    assert_int_equal(waiting_in(room), 1);
    room->desk = desk_new(room->settings, room->ledger);
    assert_non_null(room->desk);
}

static void who_opted_out_gets_nothing_that_was_queued_before(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    room->now_s += 60;
    receive(room, TOM, "STOP");
    assert_true(take_out(room));
    assert_int_equal(strncmp(room->body, "Alder Works: OK, no more texts", 30), 0);
    assert_silent(room);
}

static void a_number_gets_so_many_an_hour_and_no_more(void **state)
{
    struct room *room = *state;
    int sent = 0;
    int cap = room->settings->shop.texts_per_number;
    at(room, "2027-04-01 08:00");
    for (int i = 0; i < 3 * cap; i++) {
        room->now_s += 20;
        receive(room, TOM, "M12?");
        sent += take_out(room);
    }
    assert_int_equal(sent, cap);
    receive(room, VERA, "M3?"); /* others are not held up */
    assert_told(room, VERA, "M3: no reading yet. Please text M3 and its hours.");
}

static void a_day_has_a_ceiling_too_and_keeps_a_quarter_for_alerts(void **state)
{
    struct room *room = *state;
    int sent = 0;
    room->settings->shop.texts_per_day = 40;
    at(room, "2027-04-01 00:10");
    for (int i = 0; i < 60; i++) {
        room->now_s += 1200;
        receive(room, TOM, "M12?");
        sent += take_out(room);
    }
    assert_int_equal(sent, 30);
}

/* What they said is done all the same; the newest replies wait, those before them are told as not
 * sent. */
static void replies_that_wait_for_a_number_do_not_grow_without_end(void **state)
{
    struct room *room = *state;
    int cap = room->settings->shop.texts_per_number;
    char said[32];
    at(room, "2027-04-01 08:00");
    for (int i = 0; i < 5 * cap; i++) {
        room->now_s += 20;
        (void)snprintf(said, sizeof said, "M12 40.%02dh", i);
        receive(room, TOM, said);
        (void)take_out(room);
    }
    receive(room, VERA, "M3 10h"); /* others are not held up */
    assert_true(take_out(room));
    assert_string_equal(room->to, VERA);
    int waited = 0;
    for (int i = 0; i < 12; i++) {
        room->now_s += 900;
        while (take_out(room)) {
            assert_string_equal(room->to, TOM);
            waited++;
        }
    }
    assert_int_equal(waited, cap);
    (void)snprintf(said, sizeof said, "M12 40.%02dh", 5 * cap - 1);
    assert_non_null(strstr(room->body, said));
}

static void chatter_does_not_starve_the_shops_alerts(void **state)
{
    struct room *room = *state;
    static const char *const crew[] = {TOM, INES, VERA, ROSA, NORA};
    int replies = 0;
    at(room, "2027-03-31 08:00");
    receive(room, TOM, "M14 70h");
    (void)desk_round(room->desk, now_of(room));
    drop_all(room);
    at(room, "2027-04-01 08:00");
    for (int i = 0; i < 100; i++) {
        room->now_s += 20;
        receive(room, crew[i % 5], "M12?");
        replies += take_out(room);
    }
    assert_true(replies < room->settings->shop.texts_per_hour);
    receive(room, TOM, "M14 76h");
    (void)desk_round(room->desk, now_of(room));
    assert_true(take_out(room));
    assert_int_equal(strncmp(room->body, "Alder Works: M14 due now", 24), 0);
}

static void nothing_is_written_while_nothing_is_to_go(void **state)
{
    struct room *room = *state;
    struct part part;
    int64_t next_s = -1;
    at(room, "2027-04-01 08:00");
    assert_false(desk_next_part(room->desk, 0, now_of(room), &part, &next_s));
    assert_int_equal(next_s, 0);
}

static const struct {
    const char *now, *open;
} hours[] = {
    {"2027-04-01 07:00", "2027-04-01 07:00"}, {"2027-04-01 16:59", "2027-04-01 16:59"},
    {"2027-04-01 06:59", "2027-04-01 07:00"}, {"2027-04-01 17:00", "2027-04-02 07:00"},
    {"2027-04-02 17:00", "2027-04-05 07:00"}, /* over the weekend */
    {"2027-07-02 17:00", "2027-07-06 07:00"}, /* and a holiday */
};

static void the_shop_opens_at_its_hour_on_its_workdays(void **state)
{
    struct room *room = *state;
    for (size_t i = 0; i < sizeof hours / sizeof hours[0]; i++) {
        int64_t next_s = shop_hours_next(&room->settings->shop, local_s(hours[i].now));
        if (next_s != local_s(hours[i].open)) {
            fail_msg("from %s", hours[i].now);
        }
    }
}

static void a_shop_without_workdays_holds_nothing_back(void **state)
{
    struct room *room = *state;
    struct settings_shop shop = room->settings->shop;
    memset(shop.workdays, 0, sizeof shop.workdays);
    int64_t now_s = local_s("2027-04-01 20:00");
    assert_int_equal(shop_hours_next(&shop, now_s), now_s);
}

static void a_reply_is_for_the_modem_of_its_text_alone_while_that_works(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    have_modems(room, 7);
    room->modem = WEST;
    receive(room, TOM, "M12 40h");
    assert_false(next_by(room, EAST, &part));
    assert_false(next_by(room, NORTH, &part));
    assert_true(next_by(room, WEST, &part));
}

/* It stands as handed over to that modem, ready for when it asks. */
static void what_was_made_ready_for_a_modem_that_went_goes_by_another(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    have_modems(room, 7);
    room->modem = WEST;
    receive(room, TOM, "M12 40h");
    desk_modems_work(room->desk, 1 << NORTH | 1 << EAST);
    assert_false(next_by(room, NORTH, &part)); /* by the first that works */
    assert_true(next_by(room, EAST, &part));
    assert_int_equal(part.tries, 0);
    ended(room, &part, PART_FATE_TAKEN, 0);
    assert_false(next_by(room, WEST, &part));
}

static void where_none_works_each_may_try(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    have_modems(room, 0);
    room->modem = WEST;
    receive(room, TOM, "M12 40h");
    assert_true(next_by(room, NORTH, &part));
}

/* What it refused twice goes by another, and soon, whatever pause the cause asks for. */
static void what_a_modem_refuses_twice_goes_by_another(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    have_modems(room, 7);
    room->modem = WEST;
    receive(room, TOM, "M12 40h");
    for (int i = 0; i < 2; i++) {
        assert_true(next_by(room, WEST, &part));
        ended(room, &part, PART_FATE_RETRY, 3600);
        room->now_s += 60;
    }
    assert_false(next_by(room, WEST, &part));
    assert_true(next_by(room, NORTH, &part));
    ended(room, &part, PART_FATE_RETRY, 15);
    room->now_s += 15;
    assert_false(next_by(room, NORTH, &part));
    assert_true(next_by(room, WEST, &part));
}

static void one_modem_waits_as_long_as_the_cause_asks(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_true(next_part(room, &part));
    ended(room, &part, PART_FATE_RETRY, 3600);
    room->now_s += 3599;
    assert_false(next_part(room, &part));
    room->now_s += 1;
    assert_true(next_part(room, &part));
}

static void a_part_whose_fate_is_hidden_is_repeated_once_whatever_modems_there_are(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    have_modems(room, 7);
    room->modem = EAST;
    receive(room, TOM, "M12 40h");
    assert_true(next_by(room, EAST, &part));
    desk_modems_work(room->desk, 1 << WEST | 1 << NORTH);
    ended(room, &part, PART_FATE_UNKNOWN, 0);
    assert_true(next_by(room, WEST, &part));
    desk_modems_work(room->desk, 1 << NORTH);
    ended(room, &part, PART_FATE_UNKNOWN, 0);
    assert_false(next_by(room, NORTH, &part));
    assert_false(next_by(room, EAST, &part));
}

/* Each modem's own, and the shop's over all of them. */
static void a_modems_cap_holds_back_what_is_for_it(void **state)
{
    struct room *room = *state;
    char text[32];
    at(room, "2027-04-01 08:00");
    have_modems(room, 7);
    room->settings->modems[WEST].texts_per_hour = 4; /* of which one is for the shop's alerts */
    for (int i = 0; i < 5; i++) {
        snprintf(text, sizeof text, "M12 %d.%dh", 40 + i / 10, i % 10);
        room->modem = WEST;
        receive(room, TOM, text);
        assert_true(take_out(room) == (i < 3));
    }
    room->modem = EAST;
    receive(room, INES, "M14 40h");
    assert_true(take_out(room));
    room->settings->shop.texts_per_hour = 4;
    receive(room, VERA, "DUE");
    assert_false(take_out(room)); /* three by one and one by the other are four */
    room->now_s += 3601;
    assert_true(take_out(room));
    room->modem = WEST;
    assert_true(take_out(room));
}

static void a_reload_puts_back_what_was_ready(void **state)
{
    struct room *room = *state;
    struct part part;
    at(room, "2027-04-01 08:00");
    have_modems(room, 7);
    room->modem = NORTH;
    receive(room, TOM, "M12 40h");
    room->settings->modem_count = 2;
    assert_true(desk_configure(room->desk, room->settings));
    assert_true(next_by(room, EAST, &part));
    assert_int_equal(part.tries, 0);
}

#define ROOM_TEST(test) cmocka_unit_test_setup_teardown(test, room_open, room_close)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ROOM_TEST(each_part_of_a_long_text_goes_by_itself),
        ROOM_TEST(a_part_that_failed_for_now_comes_again_when_the_modem_says),
        ROOM_TEST(a_refused_part_is_not_tried_again),
        ROOM_TEST(the_shop_opens_at_its_hour_on_its_workdays),
        ROOM_TEST(a_shop_without_workdays_holds_nothing_back),
        ROOM_TEST(a_stale_reply_is_not_sent),
        ROOM_TEST(what_a_crash_hid_is_repeated_once),
        ROOM_TEST(an_unknown_fate_is_repeated_once),
        ROOM_TEST(a_part_is_marked_with_its_text_and_put_back_where_the_modem_does_not_come),
        ROOM_TEST(who_opted_out_gets_nothing_that_was_queued_before),
        ROOM_TEST(a_number_gets_so_many_an_hour_and_no_more),
        ROOM_TEST(a_day_has_a_ceiling_too_and_keeps_a_quarter_for_alerts),
        ROOM_TEST(replies_that_wait_for_a_number_do_not_grow_without_end),
        ROOM_TEST(chatter_does_not_starve_the_shops_alerts),
        ROOM_TEST(nothing_is_written_while_nothing_is_to_go),
        ROOM_TEST(a_reply_is_for_the_modem_of_its_text_alone_while_that_works),
        ROOM_TEST(what_was_made_ready_for_a_modem_that_went_goes_by_another),
        ROOM_TEST(where_none_works_each_may_try),
        ROOM_TEST(what_a_modem_refuses_twice_goes_by_another),
        ROOM_TEST(one_modem_waits_as_long_as_the_cause_asks),
        ROOM_TEST(a_part_whose_fate_is_hidden_is_repeated_once_whatever_modems_there_are),
        ROOM_TEST(a_modems_cap_holds_back_what_is_for_it),
        ROOM_TEST(a_reload_puts_back_what_was_ready),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
