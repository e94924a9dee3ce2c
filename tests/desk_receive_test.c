/* SPDX-License-Identifier: MIT
 * Texts in: kept, worked on once, answered where they may be. */
#include "fixtures/standin/tpdu_network.h"
#include "tests/desk_room.h"

#include <signal.h>
#include <sys/resource.h>

#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"

/* How many readings of a machine stand. */
static void count_one(void *ctx, const struct reading_row *row)
{
    *(int *)ctx += !row->struck;
}

static int readings_of(struct room *room, const char *machine)
{
    int count = 0;
    int64_t machine_id = 0;
    assert_int_equal(machines_id(room->ledger, machine, &machine_id), LEDGER_OK);
    assert_int_equal(readings_each(room->ledger, machine_id, count_one, &count), LEDGER_OK);
    return count;
}

struct seen {
    int incoming, outgoing;
    char state[24]; /* of the newest text in */
};

static void see_text(void *ctx, const struct texts_line *line)
{
    struct seen *seen = ctx;
    if (line->incoming && seen->incoming == 0) {
        (void)snprintf(seen->state, sizeof seen->state, "%s", line->state);
    }
    seen->incoming += line->incoming;
    seen->outgoing += !line->incoming;
}

static struct seen texts_of(struct room *room)
{
    struct seen seen = {0};
    assert_int_equal(texts_each(room->ledger, 0, INT64_MAX, see_text, &seen), LEDGER_OK);
    return seen;
}

static int remove_folder(const char *folder)
{
    char command[64];
    (void)snprintf(command, sizeof command, "rm -r %s", folder);
    return system(command);
}

/* The box's clock was set an hour back between two readings; the network's stamps go on. */
static void a_clock_set_back_an_hour_refuses_no_reading(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 12:00");
    receive(room, TOM, "M12 40h");
    assert_true(take_out(room));
    struct tpdu_deliver_order order = order_of(room, TOM, "M12 40.1h");
    order.sent_at_s = local_s("2027-04-01 12:06");
    at(room, "2027-04-01 11:06");
    receive_order(room, &order);
    assert_told(
        room, TOM,
        "M12 40.1h noted. Drive oil and filters coming up at 75h: 34.9h to go, around Apr 9.");
    assert_int_equal(readings_of(room, "M12"), 2);
    /* a stamp ahead of a clock that nothing speaks against is a wrong zone: not believed */
    at(room, "2027-04-02 12:00");
    order = order_of(room, TOM, "M12 41h");
    order.sent_at_s = room->now_s + 3600;
    receive_order(room, &order);
    assert_true(take_out(room));
    at(room, "2027-04-02 12:06");
    receive(room, TOM, "M12 41.1h");
    assert_told(
        room, TOM,
        "M12 41.1h noted. Drive oil and filters coming up at 75h: 33.9h to go, around Apr 10.");
}

static void a_day_before_the_first_reading_is_told_so(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 12:00");
    receive(room, TOM, "M12 40h");
    assert_true(take_out(room));
    at(room, "2027-04-02 12:00");
    receive(room, TOM, "M12 41h Mar 30");
    assert_told(room, TOM,
                "M12 41h not saved: its first reading came later, 40h on Apr 1. Please look at "
                "the date.");
}

static void a_reading_is_kept_and_answered(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_told(room, TOM,
                "M12 40h noted. Drive oil and filters coming up at 75h: 35h to go, around Apr 9.");
    assert_silent(room);
    assert_int_equal(readings_of(room, "M12"), 1);
    assert_string_equal(texts_of(room).state, "done");
}

static void what_became_of_a_text_is_listed(void **state)
{
    static const struct {
        const char *from, *body, *became;
    } cases[] = {
        {TOM, "M12 40h", "done"},
        {TOM, "M12?", "done"},
        {TOM, "thanks", "done"},
        {TOM, "M12 41 42", "asked"},
        {TOM, "no", "done"},
        {TOM, "M12 DONE 41", "refused"}, /* the shop's word */
        {TOM, "M99 41", "refused"},
        {TOM, "what a lovely morning", "not-understood"},
        {STRANGER, "M12 41h", "stranger"},
        {ROSA, "STOP", "done"},
        {ROSA, "M12 DONE 41", "refused"}, /* it could not be read back */
        {ROSA, "M12 40h", "done"},        /* noted already */
    };
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        room->now_s += 60;
        receive(room, cases[i].from, cases[i].body);
        drop_all(room);
        struct seen seen = texts_of(room);
        if (strcmp(seen.state, cases[i].became) != 0) {
            fail_msg("%s: %s", cases[i].body, seen.state);
        }
    }
}

/* Our clock and the service centre's seldom agree to the second. */
static void a_stamp_ahead_of_our_clock_counts_as_now(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    struct tpdu_deliver_order order = order_of(room, TOM, "M12 40h");
    order.sent_at_s += 30;
    receive_order(room, &order);
    assert_told(room, TOM,
                "M12 40h noted. Drive oil and filters coming up at 75h: 35h to go, around Apr 9.");
}

static void a_text_delivered_twice_counts_once_and_is_answered_once(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    receive(room, TOM, "M12 40h");
    drop_all(room);
    struct seen seen = texts_of(room);
    assert_int_equal(seen.incoming, 1);
    assert_int_equal(seen.outgoing, 1);
    assert_int_equal(readings_of(room, "M12"), 1);
}

static void a_long_text_is_worked_on_when_its_last_part_is_there(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    struct tpdu_deliver_order order = order_of(room, TOM, " 40h, blades dull");
    order.part.concat =
        (struct tpdu_concat){.present = true, .reference = 7, .parts = 2, .part = 2};
    receive_order(room, &order);
    assert_silent(room);
    assert_string_equal(texts_of(room).state, "waiting");
    struct tpdu_deliver_order first = order_of(room, TOM, "M12");
    first.part.concat =
        (struct tpdu_concat){.present = true, .reference = 7, .parts = 2, .part = 1};
    receive_order(room, &first);
    assert_true(take_out(room));
    assert_int_equal(strncmp(room->body, "M12 40h noted.", 14), 0);
    assert_int_equal(texts_of(room).incoming, 1);
}

static void a_strangers_text_is_kept_and_never_answered(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    receive(room, STRANGER, "M12 40h");
    assert_silent(room);
    assert_string_equal(texts_of(room).state, "stranger");
    assert_int_equal(readings_of(room, "M12"), 0);
}

static void names_and_short_codes_are_never_answered(void **state)
{
    struct room *room = *state;
    static const char *const senders[] = {"ALDERBANK", "40404", "1800", "+12065550100"};
    at(room, "2027-04-01 08:00");
    for (size_t i = 0; i < sizeof senders / sizeof senders[0]; i++) {
        receive(room, senders[i], "M12 40h");
        assert_silent(room);
        assert_string_equal(texts_of(room).state, "stranger");
    }
    assert_int_equal(readings_of(room, "M12"), 0);
}

static void a_member_is_known_however_the_network_writes_the_number(void **state)
{
    struct room *room = *state;
    static const char *const numbers[] = {"12065550112", "2065550112", TOM};
    at(room, "2027-04-01 08:00");
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        room->now_s += 3600;
        receive(room, numbers[i], "M12?");
        assert_true(take_out(room));
        assert_string_equal(room->to, TOM);
    }
}

static void a_text_marked_against_loops_is_saved_but_not_answered(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    struct tpdu_deliver_order order = order_of(room, TOM, "M12 40h");
    order.loop_prevention = true;
    receive_order(room, &order);
    assert_silent(room);
    assert_int_equal(readings_of(room, "M12"), 1);
}

/* Voice mail, binary and type 0: for a phone, not for us (sms-standards: TS 23.038 clause 4, TS
 * 23.040 9.2.3.9). */
static void texts_of_the_network_are_kept_and_not_worked_on(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    struct tpdu_deliver_order binary = order_of(room, TOM, "M12 40h");
    binary.part.alphabet = TPDU_ALPHABET_OCTETS;
    receive_order(room, &binary);
    assert_string_equal(texts_of(room).state, "unreadable");
    struct tpdu_deliver_order unseen = order_of(room, TOM, "M12 41h");
    unseen.protocol = 0x40;
    receive_order(room, &unseen);
    assert_string_equal(texts_of(room).state, "unreadable");
    /* voice mail waiting, from the published vectors: DCS C8, no text */
    assert_true(receive_hex(room, "07913366002020F8040B913366600600F100C83180706174148000"));
    assert_silent(room);
    assert_int_equal(readings_of(room, "M12"), 0);
    assert_int_equal(texts_of(room).incoming, 3);
}

/* User data of a notice: a header with ports 2948 and 9200 (TS 23.040 9.2.3.24.4), then octets. */
static void picture_notice(struct room *room, const char *from, uint8_t last)
{
    struct tpdu_deliver_order order = order_of(room, from, "x");
    struct tpdu_line line;
    struct tpdu tpdu;
    const uint8_t data[] = {6, 5, 4, 0x0B, 0x84, 0x23, 0xF0, last};
    assert_int_equal(tpdu_write_deliver(&order, &line), TPDU_OK);
    assert_int_equal(tpdu_from_hex(line.hex, strlen(line.hex), &tpdu), TPDU_OK);
    tpdu.user.coding.dcs = 0x04;
    tpdu.user.has_header = true;
    tpdu.user.length = sizeof data;
    tpdu.user.data_len = sizeof data;
    memcpy(tpdu.user.data, data, sizeof data);
    assert_int_equal(tpdu_write(&tpdu, &line), TPDU_OK);
    assert_true(receive_hex(room, line.hex));
}

static void a_members_picture_is_answered_once_a_day(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    picture_notice(room, STRANGER, 0);
    assert_silent(room);
    picture_notice(room, TOM, 1);
    assert_told(room, TOM, "I can't read pictures. Please text the machine's name and its hours.");
    room->now_s += 3600;
    picture_notice(room, TOM, 2);
    assert_silent(room);
    room->now_s += 86400;
    picture_notice(room, TOM, 3);
    assert_true(take_out(room));
}

static void a_long_text_whose_part_never_comes_is_worked_on_as_it_is(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    (void)desk_round(room->desk, now_of(room));
    struct tpdu_deliver_order order = order_of(room, TOM, "M12 40h, blades dull and");
    order.part.concat =
        (struct tpdu_concat){.present = true, .reference = 7, .parts = 2, .part = 1};
    receive_order(room, &order);
    assert_int_equal(desk_round(room->desk, now_of(room)), room->now_s + 2 * 3600);
    room->now_s += 2 * 3600 - 1;
    (void)desk_round(room->desk, now_of(room));
    assert_int_equal(readings_of(room, "M12"), 0);
    room->now_s += 2;
    (void)desk_round(room->desk, now_of(room));
    assert_int_equal(readings_of(room, "M12"), 1);
    drop_all(room);
}

static void what_cannot_be_decoded_is_kept_raw(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    assert_true(receive_hex(room, "0791134665"));
    assert_true(receive_hex(room, "no hex at all"));
    assert_true(receive_hex(room, ""));
    assert_silent(room);
    assert_int_equal(texts_of(room).incoming, 3);
    assert_string_equal(texts_of(room).state, "unreadable");
}

#define FOLDER "/tmp/desk-test-XXXXXX"

/* A ledger in a file of that folder, which is made. */
static struct room *room_in(char folder[sizeof FOLDER])
{
    char path[sizeof FOLDER + 16];
    assert_non_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/ledger.db", folder);
    return room_at(path);
}

static void leave(struct room *room, const char *folder)
{
    void *opened = room;
    assert_int_equal(room_close(&opened), 0);
    assert_int_equal(remove_folder(folder), 0);
}

/* What a crash leaves behind lies beside the ledger. */
static void a_text_that_brought_the_program_down_twice_is_set_aside(void **state)
{
    struct texts_kept kept;
    int tries = 0;
    char folder[] = FOLDER;
    (void)state;
    struct room *room = room_in(folder);
    at(room, "2027-04-01 08:00");
    struct texts_incoming incoming = {.hex = "0011223344",
                                      .from = TOM,
                                      .from_number = true,
                                      .sent_s = room->now_s,
                                      .received_s = room->now_s,
                                      .body = "M12 40h",
                                      .readable = true,
                                      .parts = 1,
                                      .part = 1};
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    assert_int_equal(texts_keep(room->ledger, &incoming, &kept), LEDGER_OK);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    /* two starts of work that never ended */
    assert_int_equal(marks_work_begins(room->ledger, kept.fingerprint, &tries), LEDGER_OK);
    assert_int_equal(marks_work_begins(room->ledger, kept.fingerprint, &tries), LEDGER_OK);
    desk_recover(room->desk, now_of(room));
    assert_string_equal(texts_of(room).state, "set-aside");
    assert_silent(room);
    leave(room, folder);
}

/* The reply of a text whose transaction failed at its end is gone with it, and is not waited for. */
static void a_full_disk_does_not_hold_back_the_replies_that_come_after(void **state)
{
    struct rlimit before, little;
    char folder[] = FOLDER;
    (void)state;
    struct room *room = room_in(folder);
    at(room, "2027-04-01 08:00");
    (void)signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    little = before;
    little.rlim_cur = 512; /* for the mark of work, not for the ledger */
    struct tpdu_deliver_order order = order_of(room, TOM, "M12 40h");
    struct tpdu_line line;
    assert_int_equal(tpdu_write_deliver(&order, &line), TPDU_OK);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &little), 0);
    assert_false(receive_hex(room, line.hex));
    assert_false(take_out(room));
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    assert_true(receive_hex(room, line.hex)); /* offered again by the modem */
    assert_int_equal(readings_of(room, "M12"), 1);
    assert_true(take_out(room));
    assert_silent(room);
    leave(room, folder);
}

static void a_text_kept_but_not_worked_on_is_worked_on_at_the_start(void **state)
{
    struct room *room = *state;
    struct texts_kept kept;
    at(room, "2027-04-01 08:00");
    struct texts_incoming incoming = {.hex = "",
                                      .from = TOM,
                                      .from_number = true,
                                      .sent_s = room->now_s,
                                      .received_s = room->now_s,
                                      .body = "M12 40h",
                                      .readable = true,
                                      .parts = 1,
                                      .part = 1};
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    assert_int_equal(texts_keep(room->ledger, &incoming, &kept), LEDGER_OK);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    desk_recover(room->desk, now_of(room));
    assert_int_equal(readings_of(room, "M12"), 1);
    assert_true(take_out(room));
}

static void the_counter_says_what_the_air_would(void **state)
{
    struct room *room = *state;
    struct desk_answer answer;
    char first[TEXTS_REPLY_OCTETS];
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_true(take_out(room));
    (void)snprintf(first, sizeof first, "%s", room->body);
    void *other = NULL;
    assert_int_equal(room_open(&other), 0);
    struct room *counter = other;
    at(counter, "2027-04-01 08:00");
    int32_t person = settings_find_person(counter->settings, "Tom");
    assert_int_equal(desk_say(counter->desk, person, "M12 40h", now_of(counter), &answer),
                     LEDGER_OK);
    assert_string_equal(answer.reply, first);
    assert_silent(counter);
    assert_int_equal(room_close(&other), 0);
}

static void a_machine_that_answers_by_itself_does_not_keep_us_talking(void **state)
{
    struct room *room = *state;
    int sent = 0;
    at(room, "2027-04-01 08:00");
    for (int i = 0; i < 30; i++) {
        char text[64];
        room->now_s += 30;
        (void)snprintf(text, sizeof text, "I am driving, will answer later%s",
                       i % 2 == 0 ? "" : " today");
        receive(room, TOM, text);
        sent += take_out(room);
    }
    assert_in_range(sent, 1, 4);
    receive(room, TOM, "M12 40h"); /* a text that is understood is answered all the same */
    assert_true(take_out(room));
}

static void the_shop_is_asked_about_a_new_meter_and_the_crew_hears_of_it(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M14 60");
    drop_all(room);
    at(room, "2027-04-02 18:00"); /* the shop has closed */
    receive(room, TOM, "M14 3.5");
    assert_told(room, TOM,
                "M14 3.5h not saved: it was 60h on Apr 1. The shop has been asked about it.");
    assert_silent(room);
    at(room, "2027-04-05 07:00"); /* Monday */
    assert_told(room, ROSA,
                "M14 3.5h from Tom; it was 60h on Apr 1. Is it a new meter? YES or NO.");
    assert_told(room, NORA,
                "Tom manda M14 3.5h; marcaba 60h el 1 abr. ¿Es un medidor nuevo? SI o NO.");
    receive(room, NORA, "SI");
    assert_told(room, TOM, "M14 3.5h is noted now: the shop confirmed it.");
    assert_true(take_out(room));
    assert_string_equal(room->to, NORA);
    receive(room, ROSA, "YES");
    assert_told(
        room, ROSA,
        "Thanks, but I'm not waiting for an answer. For a reading, text M12 and its hours.");
    assert_int_equal(readings_of(room, "M14"), 2);
}

/* A box without a battery clock starts in 1970 and gets texts before its clock is set. */
static void by_a_clock_that_is_plainly_wrong_the_stamp_is_the_time(void **state)
{
    struct room *room = *state;
    int64_t machine_id = 0;
    struct reading_row row;
    room->now_s = 86400;
    struct tpdu_deliver_order order = order_of(room, TOM, "M12 40h");
    order.sent_at_s = local_s("2027-04-01 08:00");
    receive_order(room, &order);
    assert_true(take_out(room));
    assert_int_equal(machines_id(room->ledger, "M12", &machine_id), LEDGER_OK);
    assert_int_equal(readings_first(room->ledger, machine_id, &row), LEDGER_OK);
    assert_int_equal(row.read_s, order.sent_at_s);
}

static void after_stop_readings_are_saved_and_only_help_and_start_answered(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "STOP");
    assert_told(room, TOM,
                "Alder Works: OK, no more texts. Readings you send are still saved. Text START to "
                "turn texts back on.");
    receive(room, TOM, "M12 40h");
    receive(room, TOM, "M12 900h");
    receive(room, TOM, "DUE");
    receive(room, TOM, "stop");
    assert_silent(room);
    assert_int_equal(readings_of(room, "M12"), 1);
    receive(room, TOM, "HELP");
    assert_true(take_out(room));
    receive(room, TOM, "START");
    assert_true(take_out(room));
    room->now_s += 60;
    receive(room, TOM, "M12?");
    assert_true(take_out(room));
}

#define ROOM_TEST(test) cmocka_unit_test_setup_teardown(test, room_open, room_close)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ROOM_TEST(a_clock_set_back_an_hour_refuses_no_reading),
        ROOM_TEST(a_day_before_the_first_reading_is_told_so),
        ROOM_TEST(a_reading_is_kept_and_answered),
        ROOM_TEST(what_became_of_a_text_is_listed),
        ROOM_TEST(a_stamp_ahead_of_our_clock_counts_as_now),
        ROOM_TEST(a_text_delivered_twice_counts_once_and_is_answered_once),
        ROOM_TEST(a_long_text_is_worked_on_when_its_last_part_is_there),
        ROOM_TEST(a_strangers_text_is_kept_and_never_answered),
        ROOM_TEST(names_and_short_codes_are_never_answered),
        ROOM_TEST(a_member_is_known_however_the_network_writes_the_number),
        ROOM_TEST(a_text_marked_against_loops_is_saved_but_not_answered),
        ROOM_TEST(texts_of_the_network_are_kept_and_not_worked_on),
        ROOM_TEST(a_members_picture_is_answered_once_a_day),
        ROOM_TEST(a_long_text_whose_part_never_comes_is_worked_on_as_it_is),
        ROOM_TEST(what_cannot_be_decoded_is_kept_raw),
        cmocka_unit_test(a_text_that_brought_the_program_down_twice_is_set_aside),
        cmocka_unit_test(a_full_disk_does_not_hold_back_the_replies_that_come_after),
        ROOM_TEST(a_text_kept_but_not_worked_on_is_worked_on_at_the_start),
        ROOM_TEST(the_counter_says_what_the_air_would),
        ROOM_TEST(a_machine_that_answers_by_itself_does_not_keep_us_talking),
        ROOM_TEST(the_shop_is_asked_about_a_new_meter_and_the_crew_hears_of_it),
        ROOM_TEST(by_a_clock_that_is_plainly_wrong_the_stamp_is_the_time),
        ROOM_TEST(after_stop_readings_are_saved_and_only_help_and_start_answered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
