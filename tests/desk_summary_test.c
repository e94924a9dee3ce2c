/* SPDX-License-Identifier: MIT
 * The week's summary: what is due, wanted or in trouble, by name and by site where there are any; and
 * who hears of which sites. Figures of the plans are common practice, without a source. */
#include "daemon/desk/turn.h"
#include "tests/desk_room.h"

static void set_site(struct room *room, const char *machine, const char *site)
{
    room->settings->machines[settings_find_machine(room->settings, machine)].site = site;
}

static void hear_of(struct room *room, const char *person, const char *site)
{
    struct settings_person *row =
        &room->settings->people[settings_find_person(room->settings, person)];
    row->sites[0] = site;
    row->site_count = 1;
}

/* The text to that number that holds the words; what else goes out is dropped. */
static void find_out(struct room *room, const char *to, const char *words, char *body, size_t size)
{
    body[0] = '\0';
    while (take_out(room)) {
        if (strcmp(room->to, to) == 0 && strstr(room->body, words) != NULL) {
            (void)snprintf(body, size, "%s", room->body);
        }
    }
}

/* A week of the yard, and what Monday says of it to Rosa. */
static void the_week_names_its_machines(void **state)
{
    static const struct {
        const char *sites[3]; /* of M12, M14, M3 */
        const char *texts[4]; /* from the shop on Friday, NULL none */
        const char *says;     /* behind the counts */
    } cases[] = {
        {{"", "", ""}, {NULL}, " M12 drive overdue, M14 drive due now."},
        {{"Harbor Park", "Mill Pond", "Mill Pond"},
         {"M3 80"},
         " Harbor Park: M12 drive overdue. Mill Pond: M14 drive due now, M3 drive due now."},
        {{"Harbor Park", "", "Mill Pond"},
         {NULL},
         " Harbor Park: M12 drive overdue. M14 drive due now."},
        {{"", "", ""},
         {"M12 BOOK 4/15", "M14 IN"},
         " M12 drive overdue (booked Apr 15), M14 drive due now (in the shop)."},
        {{"", "", ""}, {"M12 DONE 89", "M14 GONE"}, ""},
        {{"", "", ""},
         {"M14 flat tire", "M14 DONE 76"},
         " M12 drive overdue. Open: M14 flat tire (Rosa)."},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        char body[TEXTS_REPLY_OCTETS];
        set_site(room, "M12", cases[i].sites[0]);
        set_site(room, "M14", cases[i].sites[1]);
        set_site(room, "M3", cases[i].sites[2]);
        begin(room, "2027-04-01 07:00");
        feed(room, "2027-04-01 08:00", TOM, "M12 40, M14 40");
        feed(room, "2027-04-08 08:00", TOM, "M12 88, M14 76");
        for (size_t k = 0; k < 4 && cases[i].texts[k] != NULL; k++) {
            feed(room, "2027-04-09 08:00", ROSA, cases[i].texts[k]);
        }
        (void)go_round(room);
        drop_all(room);
        at(room, "2027-04-12 07:00");
        (void)go_round(room);
        find_out(room, ROSA, "Since the last summary", body, sizeof body);
        const char *says = strstr(body, "coming up ");
        assert_non_null(says);
        says = strchr(says, '.');
        if (strcmp(says + 1, cases[i].says) != 0) {
            fail_msg("case %zu: %s", i, body);
        }
        assert_in_range(reply_segments(body), 1, 2);
        (void)room_close(&end);
    }
}

/* A machine that is likely near its service by now stands there with what it likely shows. */
static void what_is_wanted_stands_there_with_its_likely_hours(void **state)
{
    struct room *room = *state;
    char body[TEXTS_REPLY_OCTETS];
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 40");
    feed(room, "2027-04-06 08:00", TOM, "M12 60");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-19 07:00");
    (void)go_round(room);
    find_out(room, ROSA, "Since the last summary", body, sizeof body);
    assert_non_null(strstr(body, " M12 no reading since Apr 6, likely 1"));
}

/* More than a few texts of the air hold: the worst are named, the others counted. */
static void a_yard_with_much_to_do_takes_three_segments_at_most(void **state)
{
    struct room *room = *state;
    char text[64];
    char body[TEXTS_REPLY_OCTETS];
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-02 08:00", TOM, "M12 88, M14 90, M3 91");
    feed(room, "2027-04-02 09:00", INES, "TR-9 705, M21 99, T21 120");
    for (int i = 0; i < 20; i++) {
        room->now_s += 60;
        (void)snprintf(text, sizeof text, "M12 belt number %d is broken on the left side", i);
        receive(room, TOM, text);
    }
    drop_all(room);
    at(room, "2027-04-05 07:00");
    (void)go_round(room);
    find_out(room, ROSA, "Since the last summary", body, sizeof body);
    assert_int_equal(reply_segments(body), 3);
    assert_non_null(strstr(body, "more: text DUE."));
}

/* ---- and what it leaves to say */

/* How many texts to that number, alerts and reminders of a due service, hold the words. */
static int told(struct room *room, const char *to, const char *words)
{
    int count = 0;
    while (take_out(room)) {
        count += strcmp(room->to, to) == 0 && strstr(room->body, words) != NULL &&
                 strstr(room->body, "Since the last summary") == NULL;
    }
    return count;
}

/* The mornings behind a Thursday on which M12 was told as due, reminded of every three days: what Rosa is
 * told of it beside the summary. */
static void what_mondays_summary_names_is_not_reminded_of_that_morning(void **state)
{
    static const struct {
        const char *morning;
        int told;
    } mornings[] = {
        {"2027-04-02 07:00", 0}, {"2027-04-05 07:00", 0}, /* Monday: the summary has named it */
        {"2027-04-06 07:00", 0}, {"2027-04-07 07:00", 0}, {"2027-04-08 07:00", 1},
        {"2027-04-09 07:00", 0}, {"2027-04-12 07:00", 0}, {"2027-04-15 07:00", 1},
    };
    struct room *room = *state;
    begin(room, "2027-03-25 07:00");
    feed(room, "2027-03-25 08:00", TOM, "M12 40h");
    feed(room, "2027-04-01 08:00", TOM, "M12 80h");
    (void)go_round(room);
    assert_int_equal(told(room, ROSA, "M12 due now"), 1);
    for (size_t i = 0; i < sizeof mornings / sizeof mornings[0]; i++) {
        at(room, mornings[i].morning);
        (void)go_round(room);
        int times = told(room, ROSA, "M12 due now");
        if (times != mornings[i].told) {
            fail_msg("%s: told %d times", mornings[i].morning, times);
        }
    }
}

/* What became due over the week-end is news. */
static void an_alert_is_told_beside_the_summary(void **state)
{
    struct room *room = *state;
    begin(room, "2027-03-25 07:00");
    feed(room, "2027-03-25 08:00", TOM, "M12 40h, M14 40h");
    feed(room, "2027-04-01 08:00", TOM, "M12 80h");
    (void)go_round(room);
    drop_all(room);
    feed(room, "2027-04-04 12:00", TOM, "M14 80h"); /* a Sunday */
    drop_all(room);
    at(room, "2027-04-05 07:00");
    (void)go_round(room);
    int news = 0;
    while (take_out(room)) {
        if (strcmp(room->to, ROSA) == 0 && strstr(room->body, "M14 due now") != NULL) {
            news++;
            assert_null(strstr(room->body, "M12"));
        }
    }
    assert_int_equal(news, 1);
}

/* A machine for which the summary has no room, or which it does not name to that person, is reminded
 * of. */
static void what_the_summary_has_no_room_for_is_reminded_of(void **state)
{
    static char site[3][150];
    static const char *const machines[] = {"M12", "M14", "M3"};
    struct room *room = *state;
    char named[TEXTS_REPLY_OCTETS] = "";
    char reminded[TEXTS_REPLY_OCTETS] = "";
    for (size_t i = 0; i < 3; i++) { /* two such names fit, three do not */
        memset(site[i], (char)('a' + i), sizeof site[i] - 1);
        set_site(room, machines[i], site[i]);
    }
    begin(room, "2027-03-25 07:00");
    feed(room, "2027-03-25 08:00", TOM, "M12 40h, M14 40h, M3 40h");
    feed(room, "2027-04-01 08:00", TOM, "M12 84h, M14 82h, M3 80h");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-05 07:00");
    (void)go_round(room);
    while (take_out(room)) {
        bool summary = strstr(room->body, "Since the last summary") != NULL;
        if (strcmp(room->to, ROSA) == 0) {
            (void)snprintf(summary ? named : reminded, sizeof named, "%s", room->body);
        }
    }
    for (size_t i = 0; i < 3; i++) {
        char item[32];
        (void)snprintf(item, sizeof item, "%s drive due", machines[i]);
        bool is_named = strstr(named, item) != NULL;
        (void)snprintf(item, sizeof item, "%s due now", machines[i]);
        bool is_reminded = strstr(reminded, item) != NULL;
        if (is_named != (i < 2) || is_reminded == is_named) {
            fail_msg("%s: %s / %s", machines[i], named, reminded);
        }
    }
}

/* ---- some sites only */

static void who_has_sites_hears_of_those_alone(void **state)
{
    static const struct {
        const char *from, *text, *words; /* words of the text to the shop, either language */
        bool rosa, nora;
    } cases[] = {
        /* Rosa has Harbor Park (M12, M14), Nora Mill Pond (M3); TR-9 is nobody's, so everybody's. */
        {TOM, "M12 76", "M12", true, false},
        {VERA, "M3 76", "M3", false, true},
        {INES, "TR-9 705", "TR-9", true, true},
        {TOM, "M14 flat tire", "flat tire", true, false},
        {VERA, "M3 flat tire", "flat tire", false, true},
        {VERA, "M3 on fire", "on fire", true, true}, /* danger is everybody's */
        {TOM, "somebody is hurt", "hurt", true, true},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct room *room = room_at(":memory:");
        void *end = room;
        bool rosa = false;
        bool nora = false;
        set_site(room, "M12", "Harbor Park");
        set_site(room, "M14", "Harbor Park");
        set_site(room, "M3", "Mill Pond");
        set_site(room, "TR-9", "North field");
        hear_of(room, "Rosa", "Harbor Park");
        hear_of(room, "Nora", "Mill Pond");
        begin(room, "2027-04-01 07:00");
        feed(room, "2027-04-01 08:00", TOM, "M12 40, M14 40");
        feed(room, "2027-04-01 08:10", VERA, "M3 40");
        feed(room, "2027-04-01 08:20", INES, "TR-9 650");
        (void)go_round(room);
        drop_all(room);
        feed(room, "2027-04-08 08:00", cases[i].from, cases[i].text);
        (void)go_round(room);
        while (take_out(room)) {
            bool told = strstr(room->body, cases[i].words) != NULL;
            rosa |= told && strcmp(room->to, ROSA) == 0;
            nora |= told && strcmp(room->to, NORA) == 0;
        }
        if (rosa != cases[i].rosa || nora != cases[i].nora) {
            fail_msg("%s: Rosa %d, Nora %d", cases[i].text, rosa, nora);
        }
        (void)room_close(&end);
    }
}

static void a_summary_is_of_ones_own_sites(void **state)
{
    struct room *room = *state;
    int seen = 0;
    set_site(room, "M12", "Harbor Park");
    set_site(room, "M3", "Mill Pond");
    hear_of(room, "Rosa", "Harbor Park");
    hear_of(room, "Nora", "Mill Pond");
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 40");
    feed(room, "2027-04-01 08:10", VERA, "M3 40");
    feed(room, "2027-04-08 08:00", TOM, "M12 76, M12 oil leak");
    feed(room, "2027-04-08 08:10", VERA, "M3 88");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-12 07:00");
    (void)go_round(room);
    while (take_out(room)) {
        if (strstr(room->body, "Since the last summary") != NULL) {
            seen++;
            assert_string_equal(room->to, ROSA);
            assert_non_null(strstr(room->body, "due 1, coming up 0. Harbor Park: M12 drive due now."
                                               " Open: M12 oil leak (Tom)."));
            assert_null(strstr(room->body, "M3"));
        } else if (strstr(room->body, "Desde el resumen anterior") != NULL) {
            seen++;
            assert_string_equal(room->to, NORA);
            assert_non_null(strstr(room->body, "Mill Pond: M3 drive"));
            assert_null(strstr(room->body, "M12"));
        }
    }
    assert_int_equal(seen, 2);
}

#define ROOM_TEST(test) cmocka_unit_test_setup_teardown(test, room_open, room_close)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_week_names_its_machines),
        ROOM_TEST(what_is_wanted_stands_there_with_its_likely_hours),
        ROOM_TEST(a_yard_with_much_to_do_takes_three_segments_at_most),
        cmocka_unit_test(who_has_sites_hears_of_those_alone),
        ROOM_TEST(a_summary_is_of_ones_own_sites),
        ROOM_TEST(what_mondays_summary_names_is_not_reminded_of_that_morning),
        ROOM_TEST(an_alert_is_told_beside_the_summary),
        ROOM_TEST(what_the_summary_has_no_room_for_is_reminded_of),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
