/* SPDX-License-Identifier: MIT
 * Who is asked again, and when the shop hears of it: a machine that works on while its crew is silent,
 * a booked day on which nobody brought it, a service that stays overdue. Figures of the plans are
 * common practice, without a source. */
#include "tests/desk_room.h"

/* M12 works four hours a workday and is read on each, from the first of April to the nineteenth. */
static void work_and_fall_silent(struct room *room)
{
    int32_t day = zone_civil(local_s("2027-04-01 16:00")).day;
    int hours = 6;
    begin(room, "2027-04-01 07:00");
    for (int i = 0; i < 19; i++) {
        int64_t at_s = zone_unix(day + i, 16 * 3600);
        if ((day + i + 3) % 7 < 5) { /* day 0 was a Thursday */
            char text[16];
            hours += 4;
            room->now_s = at_s;
            (void)snprintf(text, sizeof text, "M12 %d", hours);
            receive(room, TOM, text);
        }
        room->now_s = zone_unix(day + i + 1, 7 * 3600);
        (void)go_round(room);
        drop_all(room);
    }
}

struct heard {
    int crew, shop;
    int32_t crew_days[32]; /* on which the crew was asked */
    int32_t shop_day;
};

/* So many days of silence: who is told what of M12. */
static struct heard be_silent(struct room *room, int days)
{
    struct heard heard = {.crew = 0};
    for (int i = 0; i < days; i++) {
        room->now_s += 86400;
        (void)go_round(room);
        while (take_out(room)) {
            struct civil_time now = zone_civil(room->now_s);
            if (strstr(room->body, "M12: no reading since") == NULL) {
                continue;
            }
            assert_true(now.second_of_day >= 7 * 3600 && now.second_of_day < 17 * 3600);
            if (strcmp(room->to, TOM) == 0) {
                heard.crew_days[heard.crew++] = now.day;
            } else if (strcmp(room->to, ROSA) == 0) {
                heard.shop++;
                heard.shop_day = now.day;
                assert_non_null(strstr(room->body, "Tom was asked. Likely "));
            }
        }
    }
    return heard;
}

static void a_crew_that_is_silent_near_a_service_is_asked_every_few_days(void **state)
{
    struct room *room = *state;
    work_and_fall_silent(room); /* 58 h at 4 h a workday: 75 h in a week */
    int32_t silent_day = zone_civil(room->now_s).day;
    struct heard heard = be_silent(room, 21);
    assert_in_range(heard.crew, 4, 7);
    assert_int_equal(heard.shop, 1);
    /* In time: before the machine can have come to its overdue point. */
    assert_in_range(heard.shop_day - silent_day, 1, 8);
    for (int i = 1; i < heard.crew; i++) {
        assert_true(heard.crew_days[i] - heard.crew_days[i - 1] >= 3);
    }
}

static void it_ends_with_a_reading_or_where_the_machine_rests(void **state)
{
    static const struct {
        const char *from, *text;
        int asked; /* in the ten days after */
    } cases[] = {
        {TOM, "M12 59", 2},         {ROSA, "M12 PARK", 0}, {ROSA, "M12 IN", 0},
        {ROSA, "M12 BOOK 5/14", 0}, {ROSA, "M12 GONE", 0}, {ROSA, "M12 DONE 77", 0},
        {TOM, "thanks", 3},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        work_and_fall_silent(room);
        (void)be_silent(room, 9);
        room->now_s += 3600;
        receive(room, cases[i].from, cases[i].text);
        drop_all(room);
        room->now_s -= 3600;
        struct heard heard = be_silent(room, 10);
        if (cases[i].asked == 0 ? heard.crew != 0 : abs(heard.crew - cases[i].asked) > 1) {
            fail_msg("%s: asked %d times", cases[i].text, heard.crew);
        }
        (void)room_close(&end);
    }
}

/* A machine with all its crew's texts in: nobody is asked. */
static void who_reads_is_not_asked(void **state)
{
    struct room *room = *state;
    work_and_fall_silent(room);
    for (int i = 0; i < 12; i++) {
        char text[16];
        (void)snprintf(text, sizeof text, "M12 %d", 58 + i);
        room->now_s += 9 * 3600;
        receive(room, TOM, text);
        drop_all(room);
        room->now_s -= 9 * 3600;
        struct heard heard = be_silent(room, 1);
        assert_int_equal(heard.crew, 0);
    }
}

/* Several go as one text, to each person in his language. */
static void several_are_asked_after_in_one_text(void **state)
{
    struct room *room = *state;
    int texts = 0;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", INES, "M21 5, TR-9 605");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-15 08:00"); /* silence_days */
    (void)go_round(room);
    while (take_out(room)) {
        if (strcmp(room->to, INES) == 0 && strstr(room->body, "sin lectura") != NULL) {
            texts++;
            assert_non_null(strstr(room->body, "M21: sin lectura"));
            assert_non_null(strstr(room->body, "TR-9: sin lectura"));
        }
    }
    assert_int_equal(texts, 1);
}

/* The silence of a winter laid up is none. */
static void silence_counts_from_the_end_of_a_winter(void **state)
{
    struct room *room = *state;
    int first = 0;
    begin(room, "2027-11-01 07:00");
    feed(room, "2027-11-01 08:00", INES, "TR-9 605");
    feed(room, "2027-11-02 08:00", ROSA, "TR-9 PARK");
    feed(room, "2028-02-21 07:30", ROSA, "TR-9 BACK");
    drop_all(room);
    for (int day = 1; day < 18; day++) {
        room->now_s += 86400;
        (void)go_round(room);
        while (take_out(room)) {
            bool asked = strstr(room->body, "TR-9: sin lectura desde el 1 nov") != NULL;
            first = asked && first == 0 ? day : first;
        }
    }
    assert_int_equal(first, 14); /* silence_days */
}

/* ---- a booked day that passes */

static void a_booked_day_that_passes_is_told_once(void **state)
{
    static const struct {
        const char *time, *text; /* what comes of it; NULL nothing */
        int told;
    } cases[] = {
        {NULL, NULL, 1},
        {"2027-04-06 09:00", "M12 IN", 0},
        {"2027-04-06 09:00", "M12 DONE 62", 0},
        {"2027-04-05 09:00", "M12 BOOK 4/20", 0},
        {"2027-04-05 09:00", "M12 OUT", 0},
        {"2027-04-05 09:00", "UNDO", 0},
        {"2027-04-05 09:00", "M12 GONE", 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        int told = 0;
        begin(room, "2027-04-01 07:00");
        feed(room, "2027-04-02 08:00", TOM, "M12 30");
        feed(room, "2027-04-04 10:00", ROSA, "M12 BOOK tue");
        (void)go_round(room);
        drop_all(room);
        if (cases[i].text != NULL) {
            feed(room, cases[i].time, ROSA, cases[i].text);
            drop_all(room);
        }
        at(room, "2027-04-06 07:00");
        for (int day = 0; day < 8; day++) {
            (void)go_round(room);
            while (take_out(room)) {
                bool is_it =
                    strstr(room->body, "M12 was booked for Apr 6 and has not come in. "
                                       "Text M12 BOOK and a new day, or OUT to drop it.") != NULL;
                told += is_it && strcmp(room->to, ROSA) == 0;
                assert_true(!is_it || day == 1); /* on the next workday */
            }
            room->now_s += 86400;
        }
        if (told != cases[i].told) {
            fail_msg("%s: told %d times", cases[i].text, told);
        }
        (void)room_close(&end);
    }
}

/* ---- what nobody takes care of */

static void what_stays_overdue_and_unbooked_goes_to_those_named(void **state)
{
    static const struct {
        int32_t days;     /* escalate.days */
        const char *text; /* from the shop on the third day */
        int first;        /* days after the alert on which Vera hears; 0 never */
    } cases[] = {
        {7, NULL, 7},     {3, NULL, 3},          {0, NULL, 0},       {7, "M12 BOOK 5/28", 0},
        {7, "M12 IN", 0}, {7, "M12 DONE 90", 0}, {7, "M12 GONE", 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        int told = 0;
        int first = 0;
        room->settings->shop.escalate_days = cases[i].days;
        room->settings->shop.escalate_to[0] = (size_t)settings_find_person(room->settings, "Vera");
        room->settings->shop.escalate_to_count = 1;
        begin(room, "2027-04-26 07:00");
        feed(room, "2027-04-26 08:00", TOM, "M12 40");
        feed(room, "2027-05-03 08:00", TOM, "M12 88"); /* Monday: overdue */
        (void)go_round(room);
        drop_all(room);
        for (int day = 1; day < 22; day++) {
            room->now_s += 86400;
            if (day == 3 && cases[i].text != NULL) {
                receive(room, ROSA, cases[i].text);
            }
            (void)go_round(room);
            while (take_out(room)) {
                if (strcmp(room->to, VERA) == 0) {
                    told++;
                    first = first == 0 ? day : first;
                    assert_non_null(strstr(room->body, "M12 OVERDUE by 13h"));
                    assert_non_null(strstr(room->body, "days or longer and not booked."));
                }
            }
        }
        if (first != cases[i].first || told > 1) {
            fail_msg("%d, %s: on day %d, %d times", cases[i].days, cases[i].text, first, told);
        }
        (void)room_close(&end);
    }
}

#define ROOM_TEST(test) cmocka_unit_test_setup_teardown(test, room_open, room_close)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ROOM_TEST(a_crew_that_is_silent_near_a_service_is_asked_every_few_days),
        cmocka_unit_test(it_ends_with_a_reading_or_where_the_machine_rests),
        ROOM_TEST(who_reads_is_not_asked),
        ROOM_TEST(several_are_asked_after_in_one_text),
        ROOM_TEST(silence_counts_from_the_end_of_a_winter),
        cmocka_unit_test(a_booked_day_that_passes_is_told_once),
        cmocka_unit_test(what_stays_overdue_and_unbooked_goes_to_those_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
