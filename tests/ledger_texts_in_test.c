/* SPDX-License-Identifier: MIT
 * Texts in: kept raw and whole, once. */
#include "tests/ledger_room.h"

#include "daemon/ledger/texts.h"

static struct texts_kept kept;

static void keep(struct room *room, struct texts_incoming incoming)
{
    assert_int_equal(texts_keep(room->ledger, &incoming, &kept), LEDGER_OK);
}

static struct texts_incoming part_of(uint8_t part, uint8_t parts, uint16_t reference,
                                     const char *body)
{
    static char hex[8][24];
    static int next;
    char *name = hex[next++ % 8];
    (void)snprintf(name, sizeof hex[0], "%02X%02X%04X", part, parts, reference);
    struct texts_incoming incoming = room_pdu(name, body, ROOM_NOON_S + part);
    incoming.concatenated = true;
    incoming.reference = reference;
    incoming.part = part;
    incoming.parts = parts;
    return incoming;
}

static int64_t count_texts(struct room *room)
{
    return room_number(room->ledger, "SELECT count(*) FROM texts_in");
}

static void a_text_is_kept_raw_and_whole(void **state)
{
    struct room *room = *state;
    keep(room, room_pdu("07911234", "M12 1340h", ROOM_NOON_S));
    assert_true(kept.whole);
    assert_false(kept.repeated);
    assert_int_equal(kept.sent_s, ROOM_NOON_S);
    assert_string_equal(kept.body, "M12 1340h");
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM arrivals "
                                               "WHERE hex = '07911234' AND part = 1"),
                     1);
}

static void the_same_pdu_again_is_a_repetition(void **state)
{
    struct room *room = *state;
    keep(room, room_pdu("0791AA", "M12 1340h", ROOM_NOON_S));
    int64_t first = kept.text_id;
    /* another service centre's number in front: the same text all the same */
    keep(room, room_pdu("0791BB", "M12 1340h", ROOM_NOON_S));
    assert_true(kept.repeated);
    assert_false(kept.whole);
    assert_int_equal(kept.text_id, first);
    assert_int_equal(count_texts(room), 1);
}

/* Where the stamp lies ahead of our clock the text counts as sent now, another now each time. */
static void a_repetition_is_known_whatever_our_clock_says(void **state)
{
    struct room *room = *state;
    struct texts_incoming incoming = room_pdu("01", "M12 1340h", ROOM_NOON_S);
    incoming.stamp_s = ROOM_NOON_S + ROOM_DAY_S;
    keep(room, incoming);
    incoming.sent_s += 600;
    incoming.received_s += 600;
    keep(room, incoming);
    assert_true(kept.repeated);
}

static void what_differs_in_anything_is_another_text(void **state)
{
    struct room *room = *state;
    struct texts_incoming from_another = room_pdu("04", "M12 1340h", ROOM_NOON_S);
    from_another.from = "+12065550111";
    const struct texts_incoming others[] = {
        room_pdu("01", "M12 1340h", ROOM_NOON_S),
        room_pdu("02", "M12 1341h", ROOM_NOON_S),
        room_pdu("03", "M12 1340h", ROOM_NOON_S + 1),
        from_another,
        part_of(1, 2, 7, "M12 1340h"),
        part_of(1, 2, 8, "M12 1340h"),
        part_of(2, 3, 7, "M12 1340h"),
    };
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        keep(room, others[i]);
        assert_false(kept.repeated);
        assert_int_equal(count_texts(room), i + 1);
    }
}

static void typed_at_the_counter_nothing_is_a_repetition(void **state)
{
    struct room *room = *state;
    keep(room, room_pdu("", "M12 1340h", ROOM_NOON_S));
    keep(room, room_pdu("", "M12 1340h", ROOM_NOON_S));
    assert_false(kept.repeated);
    assert_true(kept.whole);
    assert_int_equal(count_texts(room), 2);
}

static void an_unreadable_one_is_kept_raw_and_set_down_as_such(void **state)
{
    struct room *room = *state;
    struct texts_incoming incoming = room_pdu("FFFFFF", "", 0);
    incoming.readable = false;
    incoming.from = "";
    keep(room, incoming);
    assert_false(kept.whole);
    assert_int_equal(
        room_number(room->ledger, "SELECT count(*) FROM texts_in WHERE state = 'unreadable'"), 1);
    keep(room, incoming);
    assert_true(kept.repeated);
    incoming.hex = "FFFFFE";
    keep(room, incoming);
    assert_false(kept.repeated);
}

static void a_sender_longer_than_any_number_is_kept_cut(void **state)
{
    struct room *room = *state;
    struct texts_incoming incoming = room_pdu("05", "hello", ROOM_NOON_S);
    incoming.from = "0123456789012345678901234567890123456789012345678901234567890123456789";
    keep(room, incoming);
    char from[TEXTS_FROM_OCTETS];
    assert_int_equal(texts_next_arrived(room->ledger, &kept, from), LEDGER_OK);
    assert_int_equal(strlen(from), TEXTS_FROM_OCTETS - 1);
}

/* All six orders of three parts, each part delivered twice at a random place. */
static void parts_in_any_order_and_repeated_make_one_text(void **state)
{
    struct room *room = *state;
    static const uint8_t orders[6][3] = {{1, 2, 3}, {1, 3, 2}, {2, 1, 3},
                                         {2, 3, 1}, {3, 1, 2}, {3, 2, 1}};
    static const char *const bodies[] = {"M12 13", "40h and some", "thing more"};
    for (uint16_t i = 0; i < 6; i++) {
        for (int again = 0; again < 6; again++) {
            uint8_t part = orders[i][again / 2];
            struct texts_incoming incoming = part_of(part, 3, i, bodies[part - 1]);
            keep(room, incoming);
            assert_int_equal(kept.repeated, again % 2 == 1);
            assert_int_equal(kept.whole, again == 4);
            if (kept.whole) {
                assert_string_equal(kept.body, "M12 1340h and something more");
                assert_int_equal(kept.sent_s, ROOM_NOON_S + 1);
            }
        }
        assert_int_equal(count_texts(room), i + 1);
    }
}

static void two_parts_that_say_the_same_are_two(void **state)
{
    struct room *room = *state;
    struct texts_incoming first = part_of(1, 2, 7, "M12 1340h, ");
    struct texts_incoming second = part_of(2, 2, 7, "M12 1340h, ");
    second.stamp_s = first.stamp_s;
    keep(room, first);
    keep(room, second);
    assert_false(kept.repeated);
    assert_true(kept.whole);
}

static void the_fingerprint_of_a_whole_text_does_not_depend_on_the_order(void **state)
{
    struct room *room = *state;
    char forward[TEXTS_FINGERPRINT_OCTETS];
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    keep(room, part_of(1, 2, 9, "M12 "));
    keep(room, part_of(2, 2, 9, "1340h"));
    memcpy(forward, kept.fingerprint, sizeof forward);
    ledger_rollback(room->ledger); /* as after a crash */
    keep(room, part_of(2, 2, 9, "1340h"));
    keep(room, part_of(1, 2, 9, "M12 "));
    assert_true(kept.whole);
    assert_string_equal(kept.fingerprint, forward);
}

static void a_reference_come_round_begins_a_new_text(void **state)
{
    struct room *room = *state;
    keep(room, part_of(1, 2, 7, "M12 13"));
    keep(room, part_of(1, 2, 7, "M14 88"));
    assert_int_equal(count_texts(room), 2);
    keep(room, part_of(2, 2, 7, "40h"));
    assert_string_equal(kept.body, "M14 8840h"); /* as near to both: to the newest */
}

/* A first part whose second was lost, and fifty minutes later a whole text of the same reference. */
static void the_parts_of_another_hour_are_another_text(void **state)
{
    struct room *room = *state;
    struct texts_incoming late_one = part_of(1, 2, 7, "M12 "), late_two = part_of(2, 2, 7, "1340h");
    late_one.sent_s = late_two.sent_s = ROOM_NOON_S + 3000;
    late_one.stamp_s = late_two.stamp_s = ROOM_NOON_S + 3000;
    keep(room, part_of(1, 2, 7, "M7 leaks oil at the "));
    keep(room, late_two); /* the later part first */
    assert_false(kept.whole);
    keep(room, late_one);
    assert_true(kept.whole);
    assert_string_equal(kept.body, "M12 1340h");
    assert_int_equal(count_texts(room), 2);
}

static void of_two_that_lack_a_part_the_nearest_gets_it(void **state)
{
    struct room *room = *state;
    struct texts_incoming near_one = part_of(1, 2, 7, "M12 "), near_two = part_of(2, 2, 7, "1340h");
    near_one.sent_s = near_one.stamp_s = ROOM_NOON_S + 300;
    near_two.sent_s = near_two.stamp_s = ROOM_NOON_S + 302;
    keep(room, part_of(1, 2, 7, "M7 leaks oil at the "));
    keep(room, near_one);
    keep(room, near_two);
    assert_true(kept.whole);
    assert_string_equal(kept.body, "M12 1340h");
}

static void references_of_8_and_of_16_bits_are_different_ones(void **state)
{
    struct room *room = *state;
    struct texts_incoming wide_one = part_of(1, 2, 7, "M12 "), wide_two = part_of(2, 2, 7, "1340h");
    wide_one.wide_reference = wide_two.wide_reference = true;
    keep(room, part_of(1, 2, 7, "M7 "));
    keep(room, wide_two);
    assert_false(kept.whole);
    keep(room, part_of(2, 2, 7, "990h"));
    assert_string_equal(kept.body, "M7 990h");
    keep(room, wide_one);
    assert_true(kept.whole);
    assert_string_equal(kept.body, "M12 1340h");
    assert_int_equal(count_texts(room), 2);
}

/* A hundred texts of a sender of which one part each ever comes. */
static void parts_that_never_complete_are_all_given_out_in_the_end(void **state)
{
    struct room *room = *state;
    int count = 0;
    int64_t oldest_s = 0;
    for (uint16_t reference = 0; reference < 100; reference++) {
        keep(room, part_of(3, 255, reference, "M12 1340h"));
        assert_false(kept.whole);
    }
    assert_int_equal(texts_give_up_parts(room->ledger, ROOM_NOON_S + ROOM_DAY_S, &count, &oldest_s),
                     LEDGER_OK);
    assert_int_equal(count, 100);
    assert_int_equal(oldest_s, 0);
}

static void a_part_beyond_its_count_is_a_text_of_its_own(void **state)
{
    struct room *room = *state;
    keep(room, part_of(3, 2, 7, "M12 1340h"));
    assert_true(kept.whole);
    keep(room, part_of(0, 2, 7, "M12 1340h"));
    assert_true(kept.whole);
}

static void a_long_text_without_its_middle_comes_out_with_the_gap_shown(void **state)
{
    struct room *room = *state;
    int count;
    int64_t oldest_s;
    char from[TEXTS_FROM_OCTETS];
    keep(room, part_of(3, 3, 7, "0h"));
    keep(room, part_of(1, 3, 7, "M12 13"));
    assert_int_equal(texts_next_arrived(room->ledger, &kept, from), LEDGER_NONE);
    assert_int_equal(texts_give_up_parts(room->ledger, ROOM_NOON_S + 8, &count, &oldest_s),
                     LEDGER_OK);
    assert_int_equal(count, 0);
    assert_int_equal(oldest_s, ROOM_NOON_S + 3 + 5);
    assert_int_equal(texts_give_up_parts(room->ledger, ROOM_NOON_S + 9, &count, &oldest_s),
                     LEDGER_OK);
    assert_int_equal(count, 1);
    assert_int_equal(oldest_s, 0);
    assert_int_equal(texts_next_arrived(room->ledger, &kept, from), LEDGER_OK);
    assert_string_equal(kept.body, "M12 13 [...] 0h");
    assert_string_equal(from, "+12065550110");
}

static void the_oldest_text_not_worked_on_comes_first(void **state)
{
    struct room *room = *state;
    char from[TEXTS_FROM_OCTETS];
    keep(room, room_pdu("01", "second", ROOM_NOON_S + 10));
    keep(room, room_pdu("02", "first", ROOM_NOON_S));
    assert_int_equal(texts_next_arrived(room->ledger, &kept, from), LEDGER_OK);
    assert_string_equal(kept.body, "first");
    assert_int_equal(texts_set_state(room->ledger, kept.text_id, TEXTS_STRANGER, 0), LEDGER_OK);
    assert_int_equal(texts_next_arrived(room->ledger, &kept, from), LEDGER_OK);
    assert_string_equal(kept.body, "second");
    int64_t sender = 0;
    assert_int_equal(texts_sender(room->ledger, kept.text_id, &sender), LEDGER_NONE);
    assert_int_equal(texts_set_state(room->ledger, kept.text_id, TEXTS_DONE, room->ines),
                     LEDGER_OK);
    assert_int_equal(texts_sender(room->ledger, kept.text_id, &sender), LEDGER_OK);
    assert_int_equal(sender, room->ines);
    assert_int_equal(texts_next_arrived(room->ledger, &kept, from), LEDGER_NONE);
    assert_int_equal(texts_set_state(room->ledger, 999, TEXTS_DONE, 0), LEDGER_NONE);
}

static void a_body_beyond_the_room_is_kept_whole_and_handed_out_cut(void **state)
{
    struct room *room = *state;
    static char part[481];
    for (size_t i = 0; i + 3 < sizeof part; i += 3) {
        memcpy(part + i, "\xe2\x82\xac", 4); /* a euro sign: three octets */
    }
    for (uint8_t i = 1; i <= 10; i++) {
        keep(room, part_of(i, 10, 7, part));
    }
    assert_true(kept.whole);
    assert_int_equal(strlen(kept.body), 4095); /* 1365 whole characters */
    assert_int_equal(room_number(room->ledger, "SELECT length(body) FROM texts_in"), 1600);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(a_text_is_kept_raw_and_whole),
        IN_MEMORY(the_same_pdu_again_is_a_repetition),
        IN_MEMORY(a_repetition_is_known_whatever_our_clock_says),
        IN_MEMORY(what_differs_in_anything_is_another_text),
        IN_MEMORY(typed_at_the_counter_nothing_is_a_repetition),
        IN_MEMORY(an_unreadable_one_is_kept_raw_and_set_down_as_such),
        IN_MEMORY(a_sender_longer_than_any_number_is_kept_cut),
        IN_MEMORY(parts_in_any_order_and_repeated_make_one_text),
        IN_MEMORY(two_parts_that_say_the_same_are_two),
        IN_MEMORY(the_fingerprint_of_a_whole_text_does_not_depend_on_the_order),
        IN_MEMORY(a_reference_come_round_begins_a_new_text),
        IN_MEMORY(the_parts_of_another_hour_are_another_text),
        IN_MEMORY(of_two_that_lack_a_part_the_nearest_gets_it),
        IN_MEMORY(references_of_8_and_of_16_bits_are_different_ones),
        IN_MEMORY(parts_that_never_complete_are_all_given_out_in_the_end),
        IN_MEMORY(a_part_beyond_its_count_is_a_text_of_its_own),
        IN_MEMORY(a_long_text_without_its_middle_comes_out_with_the_gap_shown),
        IN_MEMORY(the_oldest_text_not_worked_on_comes_first),
        IN_MEMORY(a_body_beyond_the_room_is_kept_whole_and_handed_out_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
