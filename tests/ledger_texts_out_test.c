/* SPDX-License-Identifier: MIT
 * Texts out: a queue on disk, part by part, through crashes. */
#include "tests/ledger_room.h"

#include "daemon/ledger/texts.h"

static struct texts_part part;
static int64_t next_s;

static int64_t queue(struct room *room, enum texts_kind kind, const char *body, uint8_t parts,
                     int64_t not_before_s, int64_t expires_s)
{
    int64_t text_id;
    const struct texts_outgoing outgoing = {.person_id = room->ines,
                                            .phone = "+12065550110",
                                            .body = body,
                                            .kind = kind,
                                            .created_s = ROOM_NOON_S,
                                            .not_before_s = not_before_s,
                                            .expires_s = expires_s,
                                            .parts = parts};
    assert_int_equal(texts_queue(room->ledger, &outgoing, &text_id), LEDGER_OK);
    return text_id;
}

static int64_t queue_reply(struct room *room, const char *body)
{
    return queue(room, TEXTS_REPLY, body, 1, ROOM_NOON_S, ROOM_NOON_S + ROOM_DAY_S);
}

static void assert_next(struct room *room, int64_t now_s, const char *body, int number)
{
    assert_int_equal(texts_next_part(room->ledger, NULL, now_s, &part, &next_s), LEDGER_OK);
    assert_string_equal(part.body, body);
    assert_int_equal(part.part, number);
}

static void assert_none(struct room *room, int64_t now_s, int64_t expected_next_s)
{
    assert_int_equal(texts_next_part(room->ledger, NULL, now_s, &part, &next_s), LEDGER_NONE);
    assert_int_equal(next_s, expected_next_s);
}

static void hand_over(struct room *room, int64_t now_s)
{
    assert_int_equal(texts_part_handed_over(room->ledger, NULL, part.part_id, now_s), LEDGER_OK);
}

static void end(struct room *room, enum texts_part_state state, int64_t now_s)
{
    assert_int_equal(texts_part_ended(room->ledger, part.part_id, state, 17, -1, now_s), LEDGER_OK);
}

static void assert_state(struct room *room, int64_t part_id, const char *state)
{
    char sql[96];
    (void)snprintf(sql, sizeof sql, "SELECT state = '%s' FROM parts_out WHERE id = %d", state,
                   (int)part_id);
    assert_int_equal(room_number(room->ledger, sql), 1);
}

static void alerts_go_before_replies_before_the_rest_oldest_first(void **state)
{
    struct room *room = *state;
    (void)queue(room, TEXTS_SUMMARY, "summary", 1, ROOM_NOON_S, 0);
    (void)queue_reply(room, "reply");
    (void)queue(room, TEXTS_QUESTION, "question", 1, ROOM_NOON_S, 0);
    (void)queue(room, TEXTS_ALERT, "alert", 1, ROOM_NOON_S, 0);
    static const char *const expected[] = {"alert", "reply", "question", "summary"};
    for (size_t i = 0; i < 4; i++) {
        assert_next(room, ROOM_NOON_S, expected[i], 1);
        hand_over(room, ROOM_NOON_S);
        end(room, TEXTS_PART_TAKEN, ROOM_NOON_S);
    }
    assert_none(room, ROOM_NOON_S, 0);
}

static void a_text_waits_for_its_hour_and_the_queue_says_when(void **state)
{
    struct room *room = *state;
    (void)queue(room, TEXTS_ALERT, "later", 1, ROOM_NOON_S + 100, 0);
    (void)queue(room, TEXTS_ALERT, "soon", 1, ROOM_NOON_S + 50, 0);
    assert_none(room, ROOM_NOON_S, ROOM_NOON_S + 50);
    assert_next(room, ROOM_NOON_S + 50, "soon", 1);
}

static void a_part_says_what_it_is_of_and_may_be_made_to_wait_longer(void **state)
{
    struct room *room = *state;
    static const enum texts_kind kinds[] = {TEXTS_REPLY, TEXTS_QUESTION, TEXTS_ALERT, TEXTS_SUMMARY,
                                            TEXTS_NOTICE};
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        (void)queue(room, kinds[i], "text", 1, ROOM_NOON_S, 0);
        assert_next(room, ROOM_NOON_S, "text", 1);
        assert_int_equal(part.kind, kinds[i]);
        assert_int_equal(part.person_id, room->ines);
        assert_int_equal(part.created_s, ROOM_NOON_S);
        assert_int_equal(texts_part_again(room->ledger, part.part_id, ROOM_NOON_S + ROOM_DAY_S, -1),
                         LEDGER_OK);
        assert_none(room, ROOM_NOON_S, ROOM_NOON_S + ROOM_DAY_S);
    }
}

/* How many texts count as sent to that number since then, and to all, and to all in the day before. */
static void assert_sent(struct room *room, const char *phone, int64_t since_s, int to_number,
                        int in_hour, int in_day)
{
    struct texts_sent sent;
    assert_int_equal(
        texts_count_sent(room->ledger, NULL, phone, since_s, since_s - ROOM_DAY_S, &sent),
        LEDGER_OK);
    assert_int_equal(sent.to_number, to_number);
    assert_int_equal(sent.in_hour, in_hour);
    assert_int_equal(sent.in_day, in_day);
}

static void a_part_not_sent_after_all_does_not_count_as_sent(void **state)
{
    struct room *room = *state;
    (void)queue_reply(room, "noted");
    assert_next(room, ROOM_NOON_S, "noted", 1);
    hand_over(room, ROOM_NOON_S);
    assert_sent(room, "", ROOM_NOON_S, 0, 1, 1);
    assert_int_equal(texts_part_again(room->ledger, part.part_id, ROOM_NOON_S, 42), LEDGER_OK);
    assert_sent(room, "", ROOM_NOON_S, 0, 0, 0);
    hand_over(room, ROOM_NOON_S);
    end(room, TEXTS_PART_UNKNOWN, ROOM_NOON_S); /* perhaps it went: that counts */
    assert_int_equal(texts_part_again(room->ledger, part.part_id, ROOM_NOON_S + 60, -1), LEDGER_OK);
    assert_sent(room, "", ROOM_NOON_S, 0, 1, 1);
}

static void parts_of_a_long_text_go_in_order_and_share_a_reference(void **state)
{
    struct room *room = *state;
    int64_t text_id = queue(room, TEXTS_REPLY, "long", 2, ROOM_NOON_S, 0);
    assert_next(room, ROOM_NOON_S, "long", 1);
    assert_int_equal(part.parts, 2);
    assert_int_equal(part.concat_reference, text_id & 0xff);
    hand_over(room, ROOM_NOON_S);
    assert_int_equal(texts_part_again(room->ledger, part.part_id, ROOM_NOON_S + 60, 42), LEDGER_OK);
    assert_none(room, ROOM_NOON_S, ROOM_NOON_S + 60); /* the second one never overtakes */
    assert_next(room, ROOM_NOON_S + 60, "long", 1);
    assert_int_equal(part.tries, 1);
    assert_false(part.repeated);
    hand_over(room, ROOM_NOON_S + 60);
    end(room, TEXTS_PART_TAKEN, ROOM_NOON_S + 61);
    assert_next(room, ROOM_NOON_S + 61, "long", 2);
}

static void a_stale_reply_expires(void **state)
{
    struct room *room = *state;
    (void)queue(room, TEXTS_REPLY, "stale", 1, ROOM_NOON_S, ROOM_NOON_S + 100);
    assert_next(room, ROOM_NOON_S + 99, "stale", 1);
    assert_none(room, ROOM_NOON_S + 100, 0);
    assert_state(room, part.part_id, "failed");
    assert_int_equal(room_number(room->ledger, "SELECT cause FROM parts_out"), TEXTS_CAUSE_EXPIRED);
}

static int waiting_texts(struct room *room)
{
    return (int)room_number(room->ledger, "SELECT count(DISTINCT text_id) FROM parts_out "
                                          "WHERE state = 'waiting'");
}

static void older_replies_to_a_number_give_way_to_the_newest(void **state)
{
    struct room *room = *state;
    (void)queue(room, TEXTS_REPLY, "begun", 1, ROOM_NOON_S, 0);
    assert_next(room, ROOM_NOON_S, "begun", 1);
    hand_over(room, ROOM_NOON_S);
    assert_int_equal(texts_part_again(room->ledger, part.part_id, ROOM_NOON_S + 60, -1), LEDGER_OK);
    (void)queue(room, TEXTS_REPLY, "first", 2, ROOM_NOON_S, 0);
    (void)queue(room, TEXTS_ALERT, "alert", 1, ROOM_NOON_S, 0);
    (void)queue(room, TEXTS_REPLY, "second", 1, ROOM_NOON_S, 0);
    (void)queue(room, TEXTS_QUESTION, "third", 1, ROOM_NOON_S, 0);
    assert_int_equal(texts_give_way(room->ledger, "+12065550199", 0, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(waiting_texts(room), 5); /* another's */
    assert_int_equal(texts_give_way(room->ledger, "+12065550110", 2, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(waiting_texts(room), 4);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM parts_out p JOIN texts_out t "
                                               "ON t.id = p.text_id WHERE t.body = 'first' AND "
                                               "p.state = 'failed' AND p.cause = -3"),
                     2);
}

static void what_expires_at_0_never_does(void **state)
{
    struct room *room = *state;
    (void)queue(room, TEXTS_ALERT, "alert", 1, ROOM_NOON_S, 0);
    assert_next(room, ROOM_NOON_S + 1000 * ROOM_DAY_S, "alert", 1);
}

static void a_part_whose_fate_a_crash_hides_is_repeated_once(void **state)
{
    struct room *room = *state;
    int count;
    (void)queue_reply(room, "noted");
    assert_next(room, ROOM_NOON_S, "noted", 1);
    hand_over(room, ROOM_NOON_S);
    assert_none(room, ROOM_NOON_S, 0);
    assert_int_equal(texts_recover_parts(room->ledger, ROOM_NOON_S + 9, &count), LEDGER_OK);
    assert_int_equal(count, 1);
    assert_next(room, ROOM_NOON_S + 9, "noted", 1);
    assert_true(part.repeated);
    hand_over(room, ROOM_NOON_S + 9);
    assert_int_equal(texts_recover_parts(room->ledger, ROOM_NOON_S + 20, &count), LEDGER_OK);
    assert_int_equal(count, 1);
    assert_none(room, ROOM_NOON_S + 20, 0);
    assert_state(room, part.part_id, "unknown");
    assert_int_equal(texts_recover_parts(room->ledger, ROOM_NOON_S + 21, &count), LEDGER_OK);
    assert_int_equal(count, 0);
}

static void so_is_one_whose_result_was_lost(void **state)
{
    struct room *room = *state;
    (void)queue_reply(room, "noted");
    assert_next(room, ROOM_NOON_S, "noted", 1);
    hand_over(room, ROOM_NOON_S);
    end(room, TEXTS_PART_UNKNOWN, ROOM_NOON_S + 60);
    assert_next(room, ROOM_NOON_S + 60, "noted", 1);
    assert_true(part.repeated);
    hand_over(room, ROOM_NOON_S + 60);
    end(room, TEXTS_PART_UNKNOWN, ROOM_NOON_S + 120);
    assert_none(room, ROOM_NOON_S + 120, 0);
    assert_state(room, part.part_id, "unknown");
}

static void when_one_part_is_refused_the_others_are_not_sent(void **state)
{
    struct room *room = *state;
    (void)queue(room, TEXTS_REPLY, "long", 3, ROOM_NOON_S, 0);
    assert_next(room, ROOM_NOON_S, "long", 1);
    hand_over(room, ROOM_NOON_S);
    end(room, TEXTS_PART_FAILED, ROOM_NOON_S + 1);
    assert_none(room, ROOM_NOON_S + 1, 0);
    assert_int_equal(
        room_number(room->ledger, "SELECT count(*) FROM parts_out WHERE state = 'failed'"), 3);
}

static void a_part_ends_once(void **state)
{
    struct room *room = *state;
    (void)queue_reply(room, "noted");
    assert_next(room, ROOM_NOON_S, "noted", 1);
    hand_over(room, ROOM_NOON_S);
    assert_int_equal(texts_part_handed_over(room->ledger, NULL, part.part_id, ROOM_NOON_S),
                     LEDGER_NONE);
    end(room, TEXTS_PART_TAKEN, ROOM_NOON_S + 1);
    assert_int_equal(
        texts_part_ended(room->ledger, part.part_id, TEXTS_PART_FAILED, 0, 21, ROOM_NOON_S + 2),
        LEDGER_NONE);
    assert_int_equal(texts_part_again(room->ledger, part.part_id, ROOM_NOON_S + 2, 21),
                     LEDGER_NONE);
    assert_state(room, part.part_id, "taken");
}

static void a_report_is_noted_on_the_latest_part_with_its_reference(void **state)
{
    struct room *room = *state;
    for (int i = 0; i < 2; i++) {
        (void)queue_reply(room, "noted");
        assert_next(room, ROOM_NOON_S, "noted", 1);
        hand_over(room, ROOM_NOON_S + i);
        end(room, TEXTS_PART_TAKEN, ROOM_NOON_S + i);
    }
    assert_int_equal(
        texts_part_reported(room->ledger, NULL, "+12065550110", 17, 0x46, ROOM_NOON_S + 60),
        LEDGER_OK);
    assert_int_equal(room_number(room->ledger, "SELECT report FROM parts_out ORDER BY id DESC"),
                     0x46);
    assert_int_equal(
        room_number(room->ledger, "SELECT count(*) FROM parts_out WHERE report IS NOT NULL"), 1);
    assert_int_equal(
        texts_part_reported(room->ledger, NULL, "+12065550110", 18, 0, ROOM_NOON_S + 60),
        LEDGER_NONE);
    assert_int_equal(
        texts_part_reported(room->ledger, NULL, "+12065550111", 17, 0, ROOM_NOON_S + 60),
        LEDGER_NONE);
}

static void not_delivered_comes_too_late_for_what_was_delivered(void **state)
{
    struct room *room = *state;
    (void)queue_reply(room, "noted");
    assert_next(room, ROOM_NOON_S, "noted", 1);
    hand_over(room, ROOM_NOON_S);
    end(room, TEXTS_PART_TAKEN, ROOM_NOON_S);
    assert_int_equal(
        texts_part_reported(room->ledger, NULL, "+12065550110", 17, 0, ROOM_NOON_S + 60),
        LEDGER_OK);
    assert_int_equal(
        texts_part_reported(room->ledger, NULL, "+12065550110", 17, 0x46, ROOM_NOON_S + 90),
        LEDGER_NONE);
    assert_int_equal(room_number(room->ledger, "SELECT report FROM parts_out"), 0);
}

static void a_report_before_the_result_of_the_send_is_kept(void **state)
{
    struct room *room = *state;
    (void)queue_reply(room, "noted");
    assert_next(room, ROOM_NOON_S, "noted", 1);
    hand_over(room, ROOM_NOON_S);
    assert_int_equal(
        texts_part_reported(room->ledger, NULL, "+12065550110", 17, 0, ROOM_NOON_S + 1), LEDGER_OK);
    end(room, TEXTS_PART_TAKEN, ROOM_NOON_S + 2);
    assert_int_equal(room_number(room->ledger, "SELECT report FROM parts_out"), 0);
}

static void a_lost_result_is_no_riddle_where_the_report_came(void **state)
{
    struct room *room = *state;
    (void)queue_reply(room, "noted");
    assert_next(room, ROOM_NOON_S, "noted", 1);
    hand_over(room, ROOM_NOON_S);
    assert_int_equal(
        texts_part_reported(room->ledger, NULL, "+12065550110", 17, 0, ROOM_NOON_S + 1), LEDGER_OK);
    end(room, TEXTS_PART_UNKNOWN, ROOM_NOON_S + 300);
    assert_state(room, part.part_id, "taken");
    assert_none(room, ROOM_NOON_S + 300, 0);
}

static void an_alert_that_the_centre_gave_up_on_goes_again(void **state)
{
    struct room *room = *state;
    int64_t text_id;
    const struct texts_outgoing alert = {.person_id = room->ines,
                                         .phone = "+12065550110",
                                         .body = "M12 is due",
                                         .kind = TEXTS_ALERT,
                                         .created_s = ROOM_NOON_S,
                                         .not_before_s = ROOM_NOON_S,
                                         .expires_s = ROOM_NOON_S + 7 * ROOM_DAY_S,
                                         .parts = 1};
    assert_int_equal(texts_queue(room->ledger, &alert, &text_id), LEDGER_OK);
    assert_next(room, ROOM_NOON_S, "M12 is due", 1);
    hand_over(room, ROOM_NOON_S);
    end(room, TEXTS_PART_TAKEN, ROOM_NOON_S);
    assert_int_equal(
        texts_part_reported(room->ledger, NULL, "+12065550110", 17, 0x62, ROOM_NOON_S + 60),
        LEDGER_OK);
    assert_none(room, ROOM_NOON_S + 60, ROOM_NOON_S + 60 + 3600);
    assert_next(room, ROOM_NOON_S + 60 + 3600, "M12 is due", 1);
}

static void texts_sent_are_counted_by_number_and_in_all(void **state)
{
    struct room *room = *state;
    (void)queue(room, TEXTS_REPLY, "long", 2, ROOM_NOON_S, 0);
    (void)queue_reply(room, "waits");
    for (int i = 0; i < 2; i++) {
        assert_next(room, ROOM_NOON_S, "long", i + 1);
        hand_over(room, ROOM_NOON_S + i);
        end(room, TEXTS_PART_TAKEN, ROOM_NOON_S + i);
    }
    assert_sent(room, "+12065550110", ROOM_NOON_S, 1, 1, 1);
    assert_sent(room, "+12065550110", ROOM_NOON_S + 2, 0, 0, 1);
    assert_sent(room, "+12065550111", ROOM_NOON_S, 0, 1, 1);
    assert_sent(room, "", ROOM_NOON_S + 2 + ROOM_DAY_S, 0, 0, 0);
}

static void a_text_too_long_for_the_queue_is_refused_not_cut(void **state)
{
    struct room *room = *state;
    static char body[TEXTS_REPLY_OCTETS + 1];
    memset(body, 'x', TEXTS_REPLY_OCTETS);
    int64_t text_id;
    struct texts_outgoing outgoing = {
        .phone = "+12065550110", .body = body, .kind = TEXTS_REPLY, .parts = 1};
    assert_int_equal(texts_queue(room->ledger, &outgoing, &text_id), LEDGER_REFUSED);
    body[TEXTS_REPLY_OCTETS - 1] = '\0';
    assert_int_equal(texts_queue(room->ledger, &outgoing, &text_id), LEDGER_OK);
    outgoing.parts = 0;
    assert_int_equal(texts_queue(room->ledger, &outgoing, &text_id), LEDGER_REFUSED);
}

/* References are each modem's own: the same one by both. */
static void a_report_is_held_against_what_its_modem_sent(void **state)
{
    static const char *const modems[] = {"east", "west"};
    struct room *room = *state;
    for (int i = 0; i < 2; i++) {
        (void)queue_reply(room, "noted");
        assert_int_equal(texts_next_part(room->ledger, NULL, ROOM_NOON_S, &part, &next_s),
                         LEDGER_OK);
        assert_int_equal(texts_part_handed_over(room->ledger, modems[i], part.part_id, ROOM_NOON_S),
                         LEDGER_OK);
        assert_int_equal(
            texts_part_ended(room->ledger, part.part_id, TEXTS_PART_TAKEN, 17, -1, ROOM_NOON_S),
            LEDGER_OK);
    }
    assert_int_equal(
        texts_part_reported(room->ledger, "east", "+12065550110", 17, 0, ROOM_NOON_S + 60),
        LEDGER_OK);
    assert_int_equal(room_number(room->ledger, "SELECT report FROM parts_out WHERE modem='east'"),
                     0);
    assert_int_equal(room_number(room->ledger, "SELECT count(report) FROM parts_out"), 1);
    assert_int_equal(
        texts_part_reported(room->ledger, "north", "+12065550110", 17, 0, ROOM_NOON_S + 60),
        LEDGER_NONE);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(alerts_go_before_replies_before_the_rest_oldest_first),
        IN_MEMORY(a_text_waits_for_its_hour_and_the_queue_says_when),
        IN_MEMORY(a_part_says_what_it_is_of_and_may_be_made_to_wait_longer),
        IN_MEMORY(a_part_not_sent_after_all_does_not_count_as_sent),
        IN_MEMORY(parts_of_a_long_text_go_in_order_and_share_a_reference),
        IN_MEMORY(a_stale_reply_expires),
        IN_MEMORY(older_replies_to_a_number_give_way_to_the_newest),
        IN_MEMORY(what_expires_at_0_never_does),
        IN_MEMORY(a_part_whose_fate_a_crash_hides_is_repeated_once),
        IN_MEMORY(so_is_one_whose_result_was_lost),
        IN_MEMORY(when_one_part_is_refused_the_others_are_not_sent),
        IN_MEMORY(a_part_ends_once),
        IN_MEMORY(a_report_is_noted_on_the_latest_part_with_its_reference),
        IN_MEMORY(not_delivered_comes_too_late_for_what_was_delivered),
        IN_MEMORY(a_report_before_the_result_of_the_send_is_kept),
        IN_MEMORY(a_lost_result_is_no_riddle_where_the_report_came),
        IN_MEMORY(an_alert_that_the_centre_gave_up_on_goes_again),
        IN_MEMORY(texts_sent_are_counted_by_number_and_in_all),
        IN_MEMORY(a_report_is_held_against_what_its_modem_sent),
        IN_MEMORY(a_text_too_long_for_the_queue_is_refused_not_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
