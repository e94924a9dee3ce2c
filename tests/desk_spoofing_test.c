/* SPDX-License-Identifier: MIT
 * A number is no proof of who sent a text. So each change that matters is read back to the number on
 * the roster, never to one that the text brings along, and one word from there takes it back. */
#include "fixtures/standin/tpdu_network.h"
#include "tests/desk_room.h"

#include "daemon/ledger/store.h"

/* All that stands in the ledger of the machines, as one number. */
static const char standing[] =
    "SELECT total(v) FROM ("
    "SELECT sum(id * 7 + meter_hundredths) AS v FROM readings WHERE struck_s IS NULL UNION ALL "
    "SELECT sum(id * 11 + meter_hundredths) FROM services WHERE struck_s IS NULL UNION ALL "
    "SELECT sum(id * 13 + new_first_hundredths) FROM meter_changes WHERE struck_s IS NULL UNION "
    "ALL "
    "SELECT sum(id * 17 + coalesce(until_s, 1)) FROM parkings WHERE struck_s IS NULL UNION ALL "
    "SELECT sum(id * 19 + until_s) FROM put_offs WHERE struck_s IS NULL)";

static int64_t stands(struct room *room)
{
    sqlite3_stmt *row = NULL;
    assert_int_equal(sqlite3_prepare_v2(room->ledger->connection, standing, -1, &row, NULL),
                     SQLITE_OK);
    assert_int_equal(sqlite3_step(row), SQLITE_ROW);
    int64_t sum = sqlite3_column_int64(row, 0);
    (void)sqlite3_finalize(row);
    return sum;
}

/* The yard with a history: M12 comes due, M14 is laid up. */
static void furnish(struct room *room)
{
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 60h");
    receive(room, ROSA, "M14 PARK");
    drop_all(room);
    at(room, "2027-04-02 08:00");
}

/* The next text out goes to that number and holds those words. */
static void assert_read_back(struct room *room, const char *number, const char *words)
{
    assert_true(take_out(room));
    assert_string_equal(room->to, number);
    if (strstr(room->body, words) == NULL) {
        fail_msg("\"%s\" does not hold \"%s\"", room->body, words);
    }
}

static void each_change_is_read_back_to_the_roster_and_undone_by_one_word(void **state)
{
    static const struct {
        const char *phone, *text, *words;
    } cases[] = {
        {ROSA, "M12 DONE 61 5qt", "61h"}, {ROSA, "M12 FIX 59.5", "59.5h"},
        {ROSA, "M12 SWAP 60 0", "60"},    {ROSA, "M12 LATER 7", "M12"},
        {ROSA, "M12 PARK", "M12"},        {ROSA, "M14 BACK", "M14"},
        {TOM, "M12 61h", "61h"},          {TOM, "M14 40h", "40h"}, /* ends its parking */
        {VERA, "M12 61h", "61h"},                                  /* not her machine */
    };
    struct room *room = *state;
    furnish(room);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int64_t before = stands(room);
        room->now_s += 60;
        receive(room, cases[i].phone, cases[i].text);
        assert_int_not_equal(stands(room), before);
        assert_read_back(room, cases[i].phone, cases[i].words);
        drop_all(room);
        receive(room, cases[i].phone, "UNDO");
        assert_read_back(room, cases[i].phone, "aken back");
        drop_all(room);
        assert_int_equal(stands(room), before);
    }
}

/* Written in another way the sender is the same person; the answer goes to the roster's form. */
static void the_answer_goes_to_the_number_of_the_roster(void **state)
{
    static const char *const forms[] = {"2065550111", "12065550111", "+12065550111"};
    struct room *room = *state;
    furnish(room);
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        room->now_s += 60;
        receive(room, forms[i], "M12 DONE 61 5qt");
        assert_read_back(room, ROSA, "61h");
        drop_all(room);
        receive(room, ROSA, "UNDO");
        drop_all(room);
    }
}

static void who_is_not_on_the_roster_changes_nothing_and_gets_no_answer(void **state)
{
    static const char *const senders[] = {STRANGER, "+442065550111", "550111", "Rosa"};
    struct room *room = *state;
    furnish(room);
    int64_t before = stands(room);
    for (size_t i = 0; i < sizeof senders / sizeof senders[0]; i++) {
        struct tpdu_deliver_order order = order_of(room, senders[i], "M12 DONE 61 5qt");
        receive_order(room, &order);
        assert_int_equal(stands(room), before);
        assert_silent(room);
    }
}

/* At the counter the reply is printed there; the phone of the roster takes it back all the same. */
static void what_was_said_at_the_counter_is_undone_by_phone(void **state)
{
    struct room *room = *state;
    struct desk_answer answer;
    furnish(room);
    int64_t before = stands(room);
    int32_t rosa = settings_find_phone(room->settings, ROSA);
    assert_int_equal(desk_say(room->desk, rosa, "M12 DONE 61 5qt", now_of(room), &answer),
                     LEDGER_OK);
    assert_non_null(strstr(answer.reply, "61h"));
    assert_int_not_equal(stands(room), before);
    room->now_s += 60;
    receive(room, ROSA, "UNDO");
    assert_read_back(room, ROSA, "aken back");
    assert_int_equal(stands(room), before);
}

/* A STOP that somebody else sent in her name is confirmed to her, once, and START takes it back. */
static void a_stop_in_anothers_name_is_told_to_the_roster(void **state)
{
    struct room *room = *state;
    furnish(room);
    receive(room, ROSA, "STOP");
    assert_read_back(room, ROSA, "START");
    receive(room, ROSA, "M12 DONE 61 5qt"); /* cannot be read back: not done */
    assert_silent(room);
    receive(room, ROSA, "START");
    assert_true(take_out(room));
    drop_all(room);
    room->now_s += 60; /* the same text again is another one by its stamp */
    receive(room, ROSA, "M12 DONE 61 5qt");
    assert_read_back(room, ROSA, "61h");
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, room_open, room_close)
    const struct CMUnitTest tests[] = {
        CASE(each_change_is_read_back_to_the_roster_and_undone_by_one_word),
        CASE(the_answer_goes_to_the_number_of_the_roster),
        CASE(who_is_not_on_the_roster_changes_nothing_and_gets_no_answer),
        CASE(what_was_said_at_the_counter_is_undone_by_phone),
        CASE(a_stop_in_anothers_name_is_told_to_the_roster),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
