/* SPDX-License-Identifier: MIT
 * What is told unasked of where a machine is: to its crew, to the shop, and what rests meanwhile. What
 * is answered stands in fixtures/texts/desk.tsv. Figures of the plans are common practice, without a
 * source. */
#include "tests/desk_room.h"

/* How many texts to that number hold the words, of all that go out now. */
static int count_out(struct room *room, const char *to, const char *words)
{
    int count = 0;
    while (take_out(room)) {
        count += strcmp(room->to, to) == 0 && strstr(room->body, words) != NULL;
    }
    return count;
}

/* The texts of one day, in order, and what goes out by them but for the replies to their sender. */
static void the_crew_hears_of_its_booking(void **state)
{
    static const struct {
        const char *time, *from, *text;
        const char *to, *told; /* NULL: nothing to anybody but the sender */
    } cases[] = {
        {"2027-04-01 08:00", INES, "M21 60", NULL, NULL},
        {"2027-04-01 08:05", TOM, "M12 60", NULL, NULL},
        {"2027-04-01 09:00", ROSA, "M21 BOOK tue", INES,
         "M21 tiene cita en el taller el 6 abr. Llévela ese dia, por favor."},
        {"2027-04-01 09:01", ROSA, "M12 BOOK wed", TOM,
         "M12 is booked into the shop for Apr 7. Please bring it in then."},
        {"2027-04-01 09:02", ROSA, "M12 BOOK thu", TOM,
         "M12 is booked into the shop for Apr 8. Please bring it in then."},
        {"2027-04-01 09:03", ROSA, "UNDO", TOM,
         "M12 is booked into the shop for Apr 7. Please bring it in then."},
        {"2027-04-01 09:04", ROSA, "M12 OUT", TOM, "M12: the booking in the shop is off."},
        {"2027-04-01 09:05", ROSA, "undo", TOM,
         "M12 is booked into the shop for Apr 7. Please bring it in then."},
        {"2027-04-01 10:00", INES, "M12 61", NULL, NULL}, /* who read it last */
        {"2027-04-01 10:01", ROSA, "M12 BOOK 4/9", INES,
         "M12 tiene cita en el taller el 9 abr. Llévela ese dia, por favor."},
        {"2027-04-01 10:02", ROSA, "M21 BOOK 4/6", NULL, NULL},
        {"2027-04-06 08:00", ROSA, "M21 IN", NULL, NULL},
        {"2027-04-06 10:00", ROSA, "M21 DONE 62", NULL, NULL},
        {"2027-04-06 10:10", ROSA, "M21 OUT", NULL, NULL},
        {"2027-04-06 18:00", ROSA, "M21 BOOK thu", NULL, NULL}, /* the crew in the shop's hours */
    };
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int told = 0;
        feed(room, cases[i].time, cases[i].from, cases[i].text);
        while (take_out(room)) {
            if (strcmp(room->to, cases[i].from) != 0) {
                told++;
                if (cases[i].told == NULL || strcmp(room->to, cases[i].to) != 0 ||
                    strcmp(room->body, cases[i].told) != 0) {
                    fail_msg("%s: to %s: %s", cases[i].text, room->to, room->body);
                }
            }
        }
        if (told != (cases[i].told != NULL)) {
            fail_msg("%s: %d told", cases[i].text, told);
        }
    }
    at(room, "2027-04-07 07:00");
    assert_int_equal(count_out(room, INES, "M21 tiene cita en el taller el 8 abr."), 1);
}

/* Who hears that the machine is due, once: by the reply to the reading that brings it there, or, where
 * another has read it, by a text. */
static void the_crew_hears_once_that_it_is_due(void **state)
{
    static const struct {
        const char *before, *from, *text; /* the shop's before; who reads, and what */
        bool tell_crew;
        const char *to, *words; /* who hears by a text of its own; NULL nobody */
    } cases[] = {
        {NULL, TOM, "M12 76", true, NULL, "due"}, /* told in the reply */
        {NULL, ROSA, "M12 76", true, TOM,
         "Alder Works: M12: Drive oil and filters is due. Please bring it in."},
        {NULL, ROSA, "M12 88", true, TOM,
         "Alder Works: M12: Drive oil and filters is overdue. Please bring it in."},
        {"M12 BOOK 4/16", ROSA, "M12 76", true, TOM,
         "Alder Works: M12: Drive oil and filters is due. Please bring it in on Apr 16."},
        {"M12 IN", ROSA, "M12 76", true, NULL, "due"},
        {NULL, ROSA, "M12 76", false, NULL, "due"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        int told = 0;
        for (size_t k = 0; k < room->settings->plan_count; k++) {
            room->settings->plans[k].tell_crew = cases[i].tell_crew;
        }
        begin(room, "2027-04-01 07:00");
        feed(room, "2027-04-01 08:00", TOM, "M12 40");
        if (cases[i].before != NULL) {
            feed(room, "2027-04-08 08:00", ROSA, cases[i].before);
        }
        (void)go_round(room);
        drop_all(room);
        feed(room, "2027-04-08 09:00", cases[i].from, cases[i].text);
        for (int day = 0; day < 4; day++) {
            (void)go_round(room);
            while (take_out(room)) {
                bool reply = day == 0 && strcmp(room->to, cases[i].from) == 0;
                bool crew = strcmp(room->to, TOM) == 0 || strcmp(room->to, INES) == 0;
                if (!reply && crew) {
                    told++;
                    if (cases[i].to == NULL || strcmp(room->to, cases[i].to) != 0 ||
                        strcmp(room->body, cases[i].words) != 0) {
                        fail_msg("case %zu: to %s: %s", i, room->to, room->body);
                    }
                }
            }
            room->now_s += 86400;
        }
        if (told != (cases[i].to != NULL)) {
            fail_msg("case %zu: %d told", i, told);
        }
        (void)room_close(&end);
    }
}

/* Reminders of what is due, until it is overdue two weeks later, while the machine is somewhere. On Mondays
 * the summary names it in their place. */
static void reminders_rest_while_it_is_booked_or_in(void **state)
{
    static const struct {
        const char *text; /* of the shop, a day after it was due */
        int times;
    } cases[] = {
        {"M12?", 2},     {"M12 BOOK 4/22", 0}, {"M12 BOOK 4/13", 1}, {"M12 IN", 0},
        {"M12 GONE", 0}, {"M12 PARK", 0},      {"M12 LATER 7", 2},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        int reminded = 0;
        begin(room, "2027-04-01 07:00");
        feed(room, "2027-04-01 08:00", TOM, "M12 40");
        feed(room, "2027-04-05 08:00", TOM, "M12 76");
        (void)go_round(room);
        feed(room, "2027-04-06 08:00", ROSA, cases[i].text);
        drop_all(room);
        for (int day = 0; day < 18; day++) {
            (void)go_round(room);
            reminded += count_out(room, ROSA, "M12 due now: Drive oil and filters at 75h");
            room->now_s += 86400;
        }
        if (reminded != cases[i].times) {
            fail_msg("%s: reminded %d times", cases[i].text, reminded);
        }
        (void)room_close(&end);
    }
}

/* An alert that is called for while the machine is in the shop waits until it leaves, and is none by
 * then where the service was done. */
static void an_alert_waits_while_it_is_in_the_shop(void **state)
{
    (void)state;
    for (int served = 0; served < 2; served++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        begin(room, "2027-04-01 07:00");
        feed(room, "2027-04-01 08:00", TOM, "M12 10");
        feed(room, "2027-04-05 08:00", ROSA, "M12 IN");
        feed(room, "2027-04-05 08:01", ROSA, "M12 55");
        (void)go_round(room);
        assert_int_equal(count_out(room, NORA, "M12"), 0);
        if (served == 1) {
            feed(room, "2027-04-05 10:00", ROSA, "M12 DONE 55.1");
        }
        feed(room, "2027-04-05 11:00", ROSA, "M12 OUT");
        (void)go_round(room);
        assert_int_equal(count_out(room, NORA, "M12 pronto le toca"), served == 0);
        (void)room_close(&end);
    }
}

static void of_a_machine_that_is_gone_the_shop_hears_once_who_texts(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 60");
    feed(room, "2027-04-02 08:00", ROSA, "M12 GONE");
    (void)go_round(room);
    drop_all(room);
    feed(room, "2027-04-02 09:00", TOM, "M12 62");
    assert_told(room, TOM,
                "M12 left the yard on Apr 2: not saved. The shop is being told, in case you still "
                "have it.");
    assert_told(room, ROSA,
                "M12 is noted as gone, yet Tom texts: M12 62. If it is back, text M12 BACK.");
    assert_told(
        room, NORA,
        "M12 esta de baja, pero Tom escribe: M12 62. Si ya esta de vuelta, mande M12 VUELVE.");
    feed(room, "2027-04-03 09:00", TOM, "M12 64");
    assert_told(room, TOM,
                "M12 left the yard on Apr 2: not saved. The shop is being told, in case you still "
                "have it.");
    assert_silent(room);
    feed(room, "2027-04-05 09:00", ROSA, "M12 BACK");
    drop_all(room);
    feed(room, "2027-04-05 10:00", TOM, "M12 64");
    assert_true(take_out(room));
    assert_memory_equal(room->body, "M12 64h noted.", 14);
}

/* A text that was sent before it had gone still counts. */
static void what_was_sent_before_it_was_gone_counts(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 60");
    feed(room, "2027-04-01 12:00", ROSA, "M12 GONE");
    drop_all(room);
    struct tpdu_deliver_order order = order_of(room, TOM, "M12 61");
    order.sent_at_s = local_s("2027-04-01 11:00");
    receive_order(room, &order);
    assert_true(take_out(room));
    assert_memory_equal(room->body, "M12 61h noted.", 14);
}

static void a_former_name_is_taken_and_the_new_one_said(void **state)
{
    struct room *room = *state;
    struct settings_machine *machine =
        &room->settings->machines[settings_find_machine(room->settings, "M12")];
    machine->formerly[0] = "K2";
    machine->formerly_count = 1;
    assert_true(desk_configure(room->desk, room->settings));
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "K2 10h");
    assert_told(
        room, TOM,
        "M12 10h noted. Drive oil and filters next due at 75h: 65h to go, around Apr 16. K2 "
        "is M12 now.");
    feed(room, "2027-04-01 08:01", TOM, "k-2?");
    assert_true(take_out(room));
    assert_non_null(strstr(room->body, "K2 is M12 now."));
    feed(room, "2027-04-01 08:02", ROSA, "K2 BOOK mon");
    assert_told(room, ROSA, "M12 is booked for Apr 5. Reminders rest until then. K2 is M12 now.");
    drop_all(room);
    feed(room, "2027-04-01 08:03", TOM, "M12 10h");
    assert_true(take_out(room));
    assert_null(strstr(room->body, "K2"));
}

#define ROOM_TEST(test) cmocka_unit_test_setup_teardown(test, room_open, room_close)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ROOM_TEST(the_crew_hears_of_its_booking),
        cmocka_unit_test(the_crew_hears_once_that_it_is_due),
        cmocka_unit_test(reminders_rest_while_it_is_booked_or_in),
        cmocka_unit_test(an_alert_waits_while_it_is_in_the_shop),
        ROOM_TEST(of_a_machine_that_is_gone_the_shop_hears_once_who_texts),
        ROOM_TEST(what_was_sent_before_it_was_gone_counts),
        ROOM_TEST(a_former_name_is_taken_and_the_new_one_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
