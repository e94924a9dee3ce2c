/* SPDX-License-Identifier: MIT
 * What the shop is told: once a stage, in its hours and on its workdays, several machines in one
 * text, and again until it is done. Figures of the plans are common practice, without a source. */
#include "daemon/desk/desk_inside.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "tests/desk_room.h"

#define READY " Have ready: 5 qt 20W-50 synthetic, 2x drive oil filter."
#define LISTO " Tenga listo: 5 qt 20W-50 synthetic, 2x drive oil filter."

static void the_shop_is_told_once_a_stage_in_each_persons_language(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00"); /* a Thursday */
    feed(room, "2027-04-01 08:00", TOM, "M12 60h");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M12 coming up: Drive oil and filters at 75h, 15h to "
                           "go, around Apr 4. Bay free Apr 2." READY);
    assert_string_equal(room->to, ROSA);
    assert_shop_told(room, "Alder Works: M12 pronto le toca Aceite y filtros de mando a 75h, "
                           "faltan 15h, por el 4 abr. Taller libre el 2 abr." LISTO);
    assert_string_equal(room->to, NORA);
    feed(room, "2027-04-01 09:00", TOM, "M12 61h");
    (void)go_round(room);
    assert_false(next_to_shop(room));
    feed(room, "2027-04-02 09:00", TOM, "M12 75h");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M12 due now: Drive oil and filters at 75h, meter at 75h. "
                           "Bay free Apr 2." READY);
    feed(room, "2027-04-02 10:00", TOM, "M12 75.5h");
    (void)go_round(room);
    drop_all(room);
    feed(room, "2027-04-02 20:00", TOM, "M12 85.6h");
    (void)go_round(room);
    assert_false(next_to_shop(room)); /* overdue, but the shop is closed */
    at(room, "2027-04-03 10:00");     /* Saturday */
    (void)go_round(room);
    assert_false(next_to_shop(room));
    at(room, "2027-04-05 07:00"); /* Monday */
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M12 OVERDUE by 10.6h: Drive oil and filters, meter at "
                           "85.6h. Bay free Apr 5." READY);
}

static void an_alert_says_where_the_machine_works_where_there_is_room(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    room->settings->machines[settings_find_machine(room->settings, "M12")].site = "L7";
    feed(room, "2027-04-01 08:00", TOM, "M12 60h");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M12 (L7) coming up: Drive oil and filters at "
                           "75h, 15h to go, around Apr 4. Bay free Apr 2." READY);
    room->settings->machines[settings_find_machine(room->settings, "M12")].site =
        "the field behind the old mill, by gate 7";
    drop_all(room);
    feed(room, "2027-04-02 09:00", TOM, "M12 75h");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M12 due now: Drive oil and filters at 75h, meter at 75h. "
                           "Bay free Apr 2." READY);
}

/* As a reload does. */
static void change_first(struct room *room, int64_t hundredths)
{
    int32_t plan = settings_find_plan(room->settings, "drive");
    room->settings->plans[plan].plan.first_hundredths = hundredths;
    assert_true(desk_configure(room->desk, room->settings));
    (void)go_round(room);
}

static void a_renamed_machine_goes_on_with_its_record(void **state)
{
    struct room *room = *state;
    struct settings_machine *machine =
        &room->settings->machines[settings_find_machine(room->settings, "M12")];
    struct reading_row rows[4];
    size_t count = 0;
    int64_t id = 0;
    begin(room, "2027-03-30 07:00");
    feed(room, "2027-03-30 08:00", TOM, "M12 45h");
    drop_all(room);
    machine->name = "R7";
    machine->formerly[0] = "M12";
    machine->formerly_count = 1;
    for (int start = 0; start < 2; start++) { /* a reload, and the next one */
        assert_true(desk_configure(room->desk, room->settings));
        assert_int_equal(machines_id(room->ledger, "R7", &id), LEDGER_OK);
        assert_int_equal(readings_latest(room->ledger, id, room->now_s + 86400, 4, rows, &count),
                         LEDGER_OK);
        assert_int_equal(count, 1);
        assert_int_equal(rows[0].meter_hundredths, 4500);
    }
}

static void what_a_changed_plan_calls_for_is_told_once(void **state)
{
    struct room *room = *state;
    begin(room, "2027-03-30 07:00");
    feed(room, "2027-03-30 08:00", TOM, "M12 45h");
    feed(room, "2027-04-01 08:00", TOM, "M12 60h");
    (void)go_round(room);
    drop_all(room);
    change_first(room, 5500);
    assert_shop_told(room, "Alder Works: M12 due now: Drive oil and filters at 55h, meter at 60h. "
                           "Bay free Apr 1." READY);
    drop_all(room);
    change_first(room, 5500);
    assert_false(next_to_shop(room));
    change_first(room, 7500); /* it was a mistake */
    assert_false(next_to_shop(room));
    feed(room, "2027-04-02 09:00", TOM, "M12 75h");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M12 due now: Drive oil and filters at 75h, meter at 75h. "
                           "Bay free Apr 2." READY);
    drop_all(room);
    feed(room, "2027-04-02 10:00", TOM, "M12 75.5h");
    (void)go_round(room);
    assert_false(next_to_shop(room));
}

static void of_stages_jumped_over_only_the_worst_is_told(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 10h");
    (void)go_round(room);
    drop_all(room);
    feed(room, "2027-04-09 08:00", TOM, "M12 99h");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M12 OVERDUE by 24h: Drive oil and filters, meter at 99h. "
                           "Bay free Apr 9." READY);
    assert_shop_told(room, "Alder Works: M12 ATRASADA 24h: Aceite y filtros de mando, marca 99h. "
                           "Taller libre el 9 abr." LISTO);
    assert_false(next_to_shop(room));
}

static void several_machines_go_as_one_text_worst_first(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-02 07:00");
    feed(room, "2027-04-02 18:00", TOM, "M12 60h, M14 74h");
    feed(room, "2027-04-02 19:00", VERA, "M3 70");
    feed(room, "2027-04-03 19:00", VERA, "M3 76");
    (void)go_round(room);
    assert_false(next_to_shop(room));
    at(room, "2027-04-05 07:00");
    (void)go_round(room);
    assert_true(next_to_shop(room));
    assert_int_equal(strncmp(room->body, "Alder Works: M3 due now: ", 25), 0);
    assert_non_null(strstr(room->body, "M14 coming up"));
    assert_non_null(strstr(room->body, "M12 coming up"));
    assert_true(strstr(room->body, "M14") < strstr(room->body, "M12"));
    /* What to have ready is summed, and worth one text of the air more. */
    assert_non_null(
        strstr(room->body, " Have ready: 15 qt 20W-50 synthetic, 6x drive oil filter."));
    assert_int_equal(reply_segments(room->body), 3);
}

static void what_is_struck_out_before_it_was_told_is_not_told(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 10h");
    (void)go_round(room);
    drop_all(room);
    feed(room, "2027-04-02 18:00", TOM, "M12 35h");
    drop_all(room);
    feed(room, "2027-04-09 18:00", TOM, "M12 76h");
    feed(room, "2027-04-09 18:05", TOM, "UNDO");
    at(room, "2027-04-12 07:00");
    (void)go_round(room);
    while (next_to_shop(room)) {
        assert_null(strstr(room->body, "due now: Drive"));
    }
}

static void a_service_ends_the_reminding_which_comes_every_few_days(void **state)
{
    struct room *room = *state;
    begin(room, "2027-03-25 07:00");
    feed(room, "2027-03-25 08:00", TOM, "M12 40h");
    feed(room, "2027-04-06 08:00", TOM, "M12 80h");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-07 07:00");
    (void)go_round(room);
    assert_false(next_to_shop(room));
    at(room, "2027-04-09 07:00"); /* three days on */
    (void)go_round(room);
    assert_true(next_to_shop(room));
    assert_non_null(strstr(room->body, "M12 due now"));
    drop_all(room);
    feed(room, "2027-04-09 08:00", ROSA, "M12 DONE 80");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-13 07:00");
    (void)go_round(room);
    assert_false(next_to_shop(room));
}

static void later_puts_reminders_off(void **state)
{
    struct room *room = *state;
    begin(room, "2027-03-25 07:00");
    feed(room, "2027-03-25 08:00", TOM, "M12 40h");
    feed(room, "2027-04-01 08:00", TOM, "M12 80h");
    (void)go_round(room);
    feed(room, "2027-04-01 09:00", ROSA, "M12 LATER 10");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-06 07:00");
    (void)go_round(room);
    while (next_to_shop(room)) {
        assert_null(strstr(room->body, "M12 due"));
    }
    at(room, "2027-04-13 07:00");
    (void)go_round(room);
    assert_true(next_to_shop(room));
    assert_non_null(strstr(room->body, "M12 due now"));
}

/* What the year before tells is of one roster: others may come to lie where it lay. */
static void a_reload_forgets_the_almanac(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 40h");
    (void)go_round(room);
    assert_ptr_equal(room->desk->yard.almanac_of, room->settings);
    assert_true(desk_configure(room->desk, room->settings));
    assert_null(room->desk->yard.almanac_of);
}

static void a_calendar_limit_is_told_without_a_text(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", ROSA, "M12 DONE 80");
    (void)go_round(room);
    drop_all(room);
    feed(room, "2028-03-15 08:00", ROSA, "M12 90");
    drop_all(room);
    int told = 0;
    for (int day = 0; day < 30; day++) {
        room->now_s += 86400;
        (void)go_round(room);
        while (next_to_shop(room)) {
            told += strcmp(room->to, ROSA) == 0 && strstr(room->body, "M12 due now") != NULL &&
                    strstr(room->body, "by Apr 1, 2028") == NULL;
        }
    }
    assert_true(told >= 1);
}

static void holidays_and_nights_are_quiet(void **state)
{
    struct room *room = *state;
    begin(room, "2027-07-02 07:00"); /* Friday before the holiday on Monday, July 5 */
    feed(room, "2027-07-02 17:30", TOM, "M12 76h");
    assert_int_equal(go_round(room), local_s("2027-07-03 07:00"));
    static const char *const quiet[] = {"2027-07-03 12:00", "2027-07-05 12:00", "2027-07-06 06:59"};
    for (size_t i = 0; i < sizeof quiet / sizeof quiet[0]; i++) {
        at(room, quiet[i]);
        (void)go_round(room);
        assert_false(next_to_shop(room));
    }
    at(room, "2027-07-06 07:00");
    (void)go_round(room);
    assert_true(next_to_shop(room));
}

static void a_machine_without_a_record_is_asked_about_once(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 1340h");
    (void)go_round(room);
    assert_shop_told(room,
                     "Alder Works: M12 is at 1340h with no Drive oil and filters on record. When "
                     "was it? Text M12 DONE drive and hours.");
    drop_all(room);
    for (int day = 2; day < 9; day++) {
        room->now_s += 86400;
        (void)go_round(room);
        while (next_to_shop(room)) {
            assert_null(strstr(room->body, "no Drive"));
        }
    }
}

static void mondays_summary_proves_that_the_box_is_alive(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", INES, "TR-9 605");
    feed(room, "2027-04-01 09:00", INES, "TR-9 606");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-02 07:00");
    (void)go_round(room);
    assert_false(next_to_shop(room));
    at(room, "2027-04-05 07:00");
    (void)go_round(room);
    assert_shop_told(room,
                     "Alder Works: all is working. Since the last summary: 2 texts in; due 0, "
                     "coming up 0.");
    assert_shop_told(room, "Alder Works: todo funciona. Desde el resumen anterior: 2 mensajes; "
                           "toca 0, pronto 0.");
    assert_false(next_to_shop(room));
}

static void strangers_are_one_line_of_the_next_days_summary(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", STRANGER, "win a prize");
    feed(room, "2027-04-01 09:00", STRANGER, "last chance");
    (void)go_round(room);
    assert_silent(room);
    at(room, "2027-04-02 07:00");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: Texts from unknown numbers, not answered: 2.");
    drop_all(room);
    at(room, "2027-04-02 08:00");
    (void)go_round(room);
    assert_silent(room);
}

static void remarks_reach_the_shop_within_the_hour_as_one_text(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", INES, "TR-9 605 lavada y engrasada");
    feed(room, "2027-04-01 08:10", INES, "M21 3h runs great");
    feed(room, "2027-04-01 08:11", INES, "UNDO");
    feed(room, "2027-04-01 08:20", TOM, "M12 by the barn");
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-01 08:29");
    (void)go_round(room);
    assert_false(next_to_shop(room));
    at(room, "2027-04-01 08:51");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: TR-9, Ines: lavada y engrasada. M12, Tom: by the barn.");
    drop_all(room);
    (void)go_round(room);
    assert_false(next_to_shop(room));
}

static void trouble_is_told_at_once_in_the_shops_hours_else_when_they_begin(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", TOM, "M12 oil leak left side");
    assert_shop_told(room, "Alder Works: M12 TROUBLE: oil leak left side (Tom).");
    drop_all(room);
    feed(room, "2027-04-01 22:00", TOM, "M14 flat tire");
    feed(room, "2027-04-01 22:10", INES, "TR-9 no arranca");
    (void)go_round(room);
    assert_false(next_to_shop(room));
    at(room, "2027-04-02 07:00");
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M14 TROUBLE: flat tire (Tom). TR-9 TROUBLE: no arranca "
                           "(Ines).");
    drop_all(room);
}

static void danger_is_told_at_any_hour_past_what_waits_and_past_the_caps(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    room->settings->shop.texts_per_hour = 4;
    for (int i = 0; i < 6; i++) {
        feed(room, "2027-04-01 22:00", TOM, "M12?");
        (void)take_out(room);
    }
    feed(room, "2027-04-01 22:01", INES, "M21?");
    feed(room, "2027-04-01 22:02", TOM, "M12 on fire");
    assert_shop_told(room, "Alder Works: M12 DANGER: on fire (Tom).");
    assert_true(take_out(room));
    assert_string_equal(room->to, NORA);
}

static void a_thousand_trouble_texts_of_one_number_are_one_alert_and_a_count(void **state)
{
    struct room *room = *state;
    char text[64];
    int told = 0;
    begin(room, "2027-04-01 07:00");
    at(room, "2027-04-01 08:00");
    for (int i = 0; i < 1000; i++) {
        (void)snprintf(text, sizeof text, "M12 belt broke number %d", i + 2000);
        receive(room, TOM, text);
    }
    while (next_to_shop(room)) {
        told++;
    }
    assert_int_equal(told, 2); /* one to each of the shop */
    room->now_s += 60;
    (void)go_round(room);
    assert_true(next_to_shop(room));
    assert_non_null(strstr(room->body, "And 99"));
    assert_non_null(strstr(room->body, "more from Tom."));
    drop_all(room);
    room->now_s += 60;
    receive(room, TOM, "M14 belt broke");
    (void)go_round(room);
    assert_false(next_to_shop(room)); /* not before the hour is over */
    room->now_s += 3600;
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M14 TROUBLE: belt broke (Tom).");
    drop_all(room);
}

static void open_trouble_stands_in_mondays_summary_until_it_is_solved(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-02 08:00", TOM, "M12 oil leak left side");
    feed(room, "2027-04-02 08:05", TOM, "M14 flat tire");
    feed(room, "2027-04-02 09:00", ROSA, "M14 SOLVED");
    drop_all(room);
    at(room, "2027-04-05 07:00");
    (void)go_round(room);
    assert_true(next_to_shop(room));
    assert_non_null(strstr(room->body, "Open: M12 oil leak left side (Tom)."));
    assert_null(strstr(room->body, "flat tire"));
    drop_all(room);
}

static void a_silent_machine_is_asked_after_once_then_told_to_the_shop(void **state)
{
    struct room *room = *state;
    int asked = 0;
    int told = 0;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", INES, "TR-9 605");
    (void)go_round(room);
    drop_all(room);
    for (int day = 0; day < 22; day++) { /* not near its service yet */
        room->now_s += 86400;
        (void)go_round(room);
        while (take_out(room)) {
            asked += strcmp(room->to, INES) == 0 && strstr(room->body, "sin lectura") != NULL;
            told += strcmp(room->to, ROSA) == 0 && strstr(room->body, "no reading since") != NULL;
            assert_true(asked >= told);
        }
    }
    assert_int_equal(asked, 1);
    assert_int_equal(told, 1);
}

/* A service of TR-9's drive and the first hours after it: asked for on the first morning after those,
 * the machine being cold, and not with the reading. */
static void serve_and_run(struct room *room)
{
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 08:00", INES, "TR-9 605");
    feed(room, "2027-04-01 09:00", ROSA, "TR-9 DONE drive 605.5");
    drop_all(room);
    feed(room, "2027-04-02 09:00", INES, "TR-9 609");
    assert_true(take_out(room));
    assert_null(strstr(room->body, "nivel"));
    feed(room, "2027-04-02 12:00", INES, "TR-9 611");
    assert_true(take_out(room));
    assert_null(strstr(room->body, "nivel"));
    (void)go_round(room);
    drop_all(room);
    at(room, "2027-04-05 06:59"); /* Monday */
    (void)go_round(room);
    assert_silent(room);
    at(room, "2027-04-05 07:00");
    (void)go_round(room);
    while (take_out(room) && strcmp(room->to, INES) != 0) {
    }
    assert_string_equal(room->body, "TR-9: antes de arrancar revise el nivel de aceite en frio: en "
                                    "la marca, no arriba. Responda SI al terminar.");
    drop_all(room);
    feed(room, "2027-04-05 07:30", INES, "TR-9 611.5");
    assert_true(take_out(room));
    assert_null(strstr(room->body, "nivel"));
}

static void the_level_is_asked_for_once_after_a_service_and_the_answer_kept(void **state)
{
    struct room *room = *state;
    serve_and_run(room);
    feed(room, "2027-04-05 07:40", INES, "YES");
    assert_told(room, INES, "Gracias: nivel de TR-9 revisado, anotado.");
    at(room, "2027-04-05 08:00");
    for (int day = 0; day < 10; day++) {
        room->now_s += 86400;
        (void)go_round(room);
        while (take_out(room)) {
            assert_null(strstr(room->body, "nivel"));
            assert_null(strstr(room->body, "oil level"));
        }
    }
}

static void a_level_not_confirmed_is_chased_once_then_told_to_the_shop(void **state)
{
    struct room *room = *state;
    int asked = 0;
    int told = 0;
    serve_and_run(room);
    at(room, "2027-04-05 08:00");
    for (int day = 0; day < 20; day++) {
        room->now_s += 86400;
        (void)go_round(room);
        while (take_out(room)) {
            asked += strcmp(room->to, INES) == 0 && strstr(room->body, "nivel de aceite") != NULL;
            told += strcmp(room->to, ROSA) == 0 && strstr(room->body, "not confirmed") != NULL;
        }
    }
    assert_int_equal(asked, 1);
    assert_int_equal(told, 1);
}

static void a_clock_that_is_plainly_wrong_dates_nothing(void **state)
{
    struct room *room = *state;
    room->now_s = 86400; /* 1970 */
    int64_t next_s = go_round(room);
    assert_true(next_s > room->now_s && next_s <= room->now_s + 600);
    assert_silent(room);
}

static void an_alert_without_receiver_waits_for_one(void **state)
{
    struct room *room = *state;
    begin(room, "2027-04-01 07:00");
    feed(room, "2027-04-01 07:30", ROSA, "STOP");
    feed(room, "2027-04-01 07:31", NORA, "STOP");
    drop_all(room);
    feed(room, "2027-04-01 08:00", TOM, "M12 70h");
    feed(room, "2027-04-02 08:00", TOM, "M12 76h");
    (void)go_round(room);
    assert_false(next_to_shop(room));
    feed(room, "2027-04-02 09:00", NORA, "START");
    drop_all(room);
    (void)go_round(room);
    assert_shop_told(room, "Alder Works: M12 ya le toca Aceite y filtros de mando: a las 75h, "
                           "marca 76h. Taller libre el 2 abr." LISTO);
    assert_false(next_to_shop(room));
}

#define ROOM_TEST(test) cmocka_unit_test_setup_teardown(test, room_open, room_close)

int main(void)
{
    const struct CMUnitTest tests[] = {
        ROOM_TEST(the_shop_is_told_once_a_stage_in_each_persons_language),
        ROOM_TEST(an_alert_says_where_the_machine_works_where_there_is_room),
        ROOM_TEST(a_renamed_machine_goes_on_with_its_record),
        ROOM_TEST(what_a_changed_plan_calls_for_is_told_once),
        ROOM_TEST(of_stages_jumped_over_only_the_worst_is_told),
        ROOM_TEST(several_machines_go_as_one_text_worst_first),
        ROOM_TEST(what_is_struck_out_before_it_was_told_is_not_told),
        ROOM_TEST(a_service_ends_the_reminding_which_comes_every_few_days),
        ROOM_TEST(later_puts_reminders_off),
        ROOM_TEST(a_reload_forgets_the_almanac),
        ROOM_TEST(a_calendar_limit_is_told_without_a_text),
        ROOM_TEST(holidays_and_nights_are_quiet),
        ROOM_TEST(a_machine_without_a_record_is_asked_about_once),
        ROOM_TEST(mondays_summary_proves_that_the_box_is_alive),
        ROOM_TEST(strangers_are_one_line_of_the_next_days_summary),
        ROOM_TEST(remarks_reach_the_shop_within_the_hour_as_one_text),
        ROOM_TEST(trouble_is_told_at_once_in_the_shops_hours_else_when_they_begin),
        ROOM_TEST(danger_is_told_at_any_hour_past_what_waits_and_past_the_caps),
        ROOM_TEST(a_thousand_trouble_texts_of_one_number_are_one_alert_and_a_count),
        ROOM_TEST(open_trouble_stands_in_mondays_summary_until_it_is_solved),
        ROOM_TEST(a_silent_machine_is_asked_after_once_then_told_to_the_shop),
        ROOM_TEST(the_level_is_asked_for_once_after_a_service_and_the_answer_kept),
        ROOM_TEST(a_level_not_confirmed_is_chased_once_then_told_to_the_shop),
        ROOM_TEST(a_clock_that_is_plainly_wrong_dates_nothing),
        ROOM_TEST(an_alert_without_receiver_waits_for_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
