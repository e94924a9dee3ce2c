/* SPDX-License-Identifier: MIT
 * used: what services really took. The figures of plan and kit are common practice, no source. */
#include "tests/yard_room.h"

#include "daemon/yard/used.h"

static void serve_with(struct yard_room *room, int machine, const char *plan, int64_t done_s,
                       int64_t thousandths, const char *unit)
{
    struct service_row row = {.machine_id = room->ids[machine],
                              .meter_hundredths = done_s / 360,
                              .done_s = done_s,
                              .noted_s = done_s,
                              .quantity_thousandths = thousandths};
    (void)snprintf(row.plan, sizeof row.plan, "%s", plan);
    (void)snprintf(row.unit, sizeof row.unit, "%s", unit);
    assert_int_equal(services_add(room->yard.ledger, &row), LEDGER_OK);
}

/* Drive: 4 qt of one oil in two lots and filters; deck: two fluids; both in quarts. */
static void give_kits(struct yard_room *room)
{
    room->settings.shop.units = SETTINGS_UNIT_QUART;
    struct settings_plan *drive = &room->plans[DRIVE];
    drive->kit[0] = (struct settings_kit_item){"20W-50", 3000, SETTINGS_UNIT_QUART, 1000};
    drive->kit[1] = (struct settings_kit_item){"filter", 2000, SETTINGS_UNIT_PIECE, 1000};
    drive->kit[2] = (struct settings_kit_item){"20w-50", 1000, SETTINGS_UNIT_QUART, 1000};
    drive->kit_count = 3;
    struct settings_plan *deck = &room->plans[DECK];
    deck->kit[0] = (struct settings_kit_item){"gear oil", 500, SETTINGS_UNIT_LITRE, 1000};
    deck->kit[1] = (struct settings_kit_item){"grease", 100, SETTINGS_UNIT_LITRE, 1000};
    deck->kit_count = 2;
}

static void what_was_given_stands_beside_the_plan(void **state)
{
    struct yard_room *room = *state;
    struct used used;
    int32_t monday = zone_civil(room_at(0, 0)).day;
    give_kits(room);
    serve_with(room, M12, "drive", room_at(-1, 23), 9000, "qt"); /* before the span */
    serve_with(room, M12, "drive", room_at(0, 0), 4200, "qt");
    serve_with(room, M14, "drive", room_at(3, 12), 4000, "l");
    serve_with(room, M14, "drive", room_at(4, 12), 0, "");
    serve_with(room, M12, "drive", room_at(9, 13), 9000, "qt"); /* after the moment */
    serve_with(room, M14, "deck", room_at(5, 12), 600, "l");
    serve_with(room, M14, "engine", room_at(5, 12), 600, "l"); /* a plan of earlier settings */
    assert_int_equal(used_reckon(&room->yard, monday, room_at(9, 12), &used), LEDGER_OK);
    assert_int_equal(used.count, 2);
    assert_int_equal(used.rows[0].plan, DRIVE);
    assert_string_equal(used.rows[0].item, "20w-50");
    assert_int_equal(used.rows[0].services, 3);
    assert_int_equal(used.rows[0].said, 2);
    assert_int_equal(used.rows[0].planned_thousandths, 8000);
    /* 4 l are 4.2267528 quarts (NIST Handbook 44, appendix C) */
    assert_int_equal(used.rows[0].used_thousandths, 4200 + 4227);
    assert_int_equal(used.rows[1].plan, DECK);
    assert_null(used.rows[1].item);
    assert_int_equal(used.rows[1].planned_thousandths, used.rows[1].used_thousandths);
    used_free(&used);
}

static void what_was_struck_out_or_takes_no_fluid_is_not_counted(void **state)
{
    struct yard_room *room = *state;
    struct used used;
    give_kits(room);
    room->plans[DECK].kit_count = 0;
    serve_with(room, M12, "deck", room_at(1, 12), 0, "");
    int64_t id = room_serve(room, M12, "drive", 7600, room_at(1, 12));
    assert_int_equal(services_strike(room->yard.ledger, id, 0, room_at(2, 12), "UNDO"), LEDGER_OK);
    assert_int_equal(used_reckon(&room->yard, zone_civil(room_at(0, 0)).day, room_at(9, 12), &used),
                     LEDGER_OK);
    assert_int_equal(used.count, 0);
    used_free(&used);
}

#define YARD_TEST(test) cmocka_unit_test_setup_teardown(test, yard_enter, yard_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        YARD_TEST(what_was_given_stands_beside_the_plan),
        YARD_TEST(what_was_struck_out_or_takes_no_fluid_is_not_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
