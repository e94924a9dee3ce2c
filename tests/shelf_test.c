/* SPDX-License-Identifier: MIT
 * shelf: what the next weeks need, and what services really took. The figures of plan and kit are
 * common practice, no source. */
#include "tests/yard_room.h"

#include <unistd.h>

#include "daemon/yard/shelf.h"

static const char config[] =
    "shop: { name = \"Alder Works\"; time_zone = \"America/Los_Angeles\"; units = \"qt\"; };\n"
    "plans: ( { name = \"drive\"; title = \"Drive\"; first = 75.0; every = 500.0;\n"
    "  kit = ( { item = \"20W-50\"; quantity = 5.0; unit = \"qt\"; sold_in = 1.0; },\n"
    "          { item = \"filter\"; quantity = 2.0; unit = \"piece\"; sold_in = 1.0; } ); },\n"
    "  { name = \"slope\"; title = \"Slope drive\"; first = 75.0; every = 400.0;\n"
    "  kit = ( { item = \"20w-50\"; quantity = 4.5; unit = \"l\"; sold_in = 5.0; },\n"
    "          { item = \"20W-50\"; quantity = 0.25; unit = \"qt\"; sold_in = 1.0; } ); } );\n"
    "kinds: ( { name = \"ridge\"; plans = (\"drive\"); hours_per_week = 35.0; },\n"
    "  { name = \"slope\"; plans = (\"slope\"); hours_per_week = 35.0; } );\n"
    "people: ( { name = \"Rosa\"; phone = \"+12065550111\"; role = \"shop\"; } );\n"
    "machines: ( { name = \"M1\"; kind = \"ridge\"; }, { name = \"M2\"; kind = \"ridge\"; },\n"
    "  { name = \"S1\"; kind = \"slope\"; }, { name = \"M9\"; kind = \"ridge\"; } );\n";

#define NOW_S INT64_C(1805810400) /* 2027-03-23 07:00 in Los Angeles */

static struct settings *settings;

static int load_settings(void **state)
{
    char file[] = "/tmp/meterpost-stock-XXXXXX";
    int fd = mkstemp(file);
    (void)state;
    if (fd < 0 || write(fd, config, sizeof config - 1) != (ssize_t)sizeof config - 1) {
        return -1;
    }
    (void)close(fd);
    settings = settings_load(file, stderr);
    (void)unlink(file);
    return settings != NULL && zone_set(settings->shop.time_zone) ? 0 : -1;
}

static int free_settings(void **state)
{
    (void)state;
    settings_free(settings);
    return 0;
}

static void read_meter(struct ledger *ledger, const char *machine, int64_t hundredths)
{
    struct reading_row row = {.meter_hundredths = hundredths, .read_s = NOW_S, .noted_s = NOW_S};
    assert_int_equal(machines_id(ledger, machine, &row.machine_id), LEDGER_OK);
    assert_int_equal(readings_add(ledger, &row), LEDGER_OK);
}

/* M1 and S1 come due within days (5 h a day), M2 not, M9 was never read. */
static struct ledger *yard_ledger(void)
{
    char says[LEDGER_SAYS_OCTETS];
    enum ledger_result result = LEDGER_OK;
    struct ledger *ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    assert_non_null(ledger);
    assert_int_equal(ledger_begin(ledger), LEDGER_OK);
    read_meter(ledger, "M1", 6000);
    read_meter(ledger, "M2", 500);
    read_meter(ledger, "S1", 7400);
    assert_int_equal(ledger_commit(ledger), LEDGER_OK);
    return ledger;
}

static void what_comes_due_is_summed_and_rounded_up(void **state)
{
    struct ledger *ledger = yard_ledger();
    struct yard yard = {.settings = settings, .ledger = ledger};
    struct shelf stock;
    int32_t today = zone_civil(NOW_S).day;
    (void)state;
    assert_int_equal(shelf_reckon(&yard, NOW_S, today + 3, &stock), LEDGER_OK);
    assert_int_equal(stock.item_count, 3);
    /* S1 is due first: its 4.5 l stand in quarts, 4.755 by the exact factor (NIST Handbook 44,
     * appendix C), and come in one can of 5 l. */
    assert_string_equal(stock.items[0].item, "20w-50");
    assert_int_equal(stock.items[0].unit, KIT_UNIT_QUART);
    assert_int_equal(stock.items[0].needed_thousandths, 4755);
    assert_int_equal(stock.items[0].sold_in_thousandths, 5283);
    assert_int_equal(stock.items[0].containers, 1);
    assert_int_equal(stock.items[0].machine_count, 1);
    /* Oil sold by the quart: a quarter for S1 and five for M1, the case of the name aside. */
    assert_int_equal(stock.items[1].needed_thousandths, 5250);
    assert_int_equal(stock.items[1].containers, 6);
    assert_int_equal(stock.items[1].machine_count, 2);
    assert_int_equal(stock.items[2].needed_thousandths, 2000);
    assert_int_equal(stock.items[2].containers, 2);
    shelf_free(&stock);
    ledger_close(ledger);
}

static void nothing_is_needed_where_nothing_comes_due(void **state)
{
    struct ledger *ledger = yard_ledger();
    struct yard yard = {.settings = settings, .ledger = ledger};
    struct shelf stock;
    (void)state;
    assert_int_equal(shelf_reckon(&yard, NOW_S, zone_civil(NOW_S).day - 1, &stock), LEDGER_OK);
    assert_int_equal(stock.item_count, 0);
    shelf_free(&stock);
    ledger_close(ledger);
}

static void a_plan_counts_as_often_as_it_comes_round(void **state)
{
    static const struct plan plan = {.every_hundredths = 10000};
    static const struct {
        enum due_stage stage;
        int32_t early_day, until_day;
        int64_t services;
    } cases[] = {
        {DUE_STAGE_FINE, 100, 99, 0},       {DUE_STAGE_FINE, 100, 100, 1},
        {DUE_STAGE_COMING_UP, 100, 119, 1}, {DUE_STAGE_COMING_UP, 100, 120, 2},
        {DUE_STAGE_FINE, 50, 99, 1},        {DUE_STAGE_FINE, 50, 79, 0}, /* not before today, 80 */
        {DUE_STAGE_DUE, 79, 80, 1},         {DUE_STAGE_DUE, 79, 100, 2},
        {DUE_STAGE_OVERDUE, 10, 80, 1},     {DUE_STAGE_OVERDUE, 10, 99, 1},
        {DUE_STAGE_OVERDUE, 10, 120, 3},    {DUE_STAGE_OVERDUE, 10, 60, 1},
        {DUE_STAGE_NO_RECORD, 0, 60, 1},    {DUE_STAGE_PARKED, 0, 60, 0},
        {DUE_STAGE_UNREAD, 0, 60, 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct yard_standing standing = {.stage = cases[i].stage,
                                         .has_forecast = true,
                                         .due_day = cases[i].early_day + 30,
                                         .earliest_day = cases[i].early_day,
                                         .hours_a_day = 5};
        assert_int_equal(shelf_services(&standing, &plan, 80, cases[i].until_day),
                         cases[i].services);
    }
}

/* A gallon can, whether written in quarts or in litres. */
static void one_container_is_one_line_whatever_its_unit(void **state)
{
    struct settings_plan plan = {.kit = {{.item = "oil",
                                          .quantity_thousandths = 2000,
                                          .unit = KIT_UNIT_QUART,
                                          .sold_in_thousandths = 4000,
                                          .on_hand_thousandths = -1,
                                          .sides = 1},
                                         {.item = "Oil",
                                          .quantity_thousandths = 2000,
                                          .unit = KIT_UNIT_LITRE,
                                          .sold_in_thousandths = 3785,
                                          .on_hand_thousandths = -1,
                                          .sides = 1},
                                         {.item = "oil",
                                          .quantity_thousandths = 1000,
                                          .unit = KIT_UNIT_LITRE,
                                          .sold_in_thousandths = 1000,
                                          .on_hand_thousandths = -1,
                                          .sides = 1}},
                                 .kit_count = 3};
    struct shelf shelf = {.by_container = true};
    (void)state;
    shelf_add(&shelf, settings, &plan, 1);
    assert_int_equal(shelf.item_count, 2);
    assert_int_equal(kit_thousandths(shelf.items[0].needed_grains, KIT_UNIT_QUART), 4113);
}

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
    room->settings.shop.units = KIT_UNIT_QUART;
    struct settings_plan *drive = &room->plans[DRIVE];
    drive->kit[0] = (struct settings_kit_item){.item = "20W-50",
                                               .quantity_thousandths = 3000,
                                               .unit = KIT_UNIT_QUART,
                                               .sold_in_thousandths = 1000,
                                               .on_hand_thousandths = -1,
                                               .sides = 1};
    drive->kit[1] = (struct settings_kit_item){.item = "filter",
                                               .quantity_thousandths = 2000,
                                               .unit = KIT_UNIT_PIECE,
                                               .sold_in_thousandths = 1000,
                                               .on_hand_thousandths = -1,
                                               .sides = 1};
    drive->kit[2] = (struct settings_kit_item){.item = "20w-50",
                                               .quantity_thousandths = 1000,
                                               .unit = KIT_UNIT_QUART,
                                               .sold_in_thousandths = 1000,
                                               .on_hand_thousandths = -1,
                                               .sides = 1};
    drive->kit_count = 3;
    struct settings_plan *deck = &room->plans[DECK];
    deck->kit[0] = (struct settings_kit_item){.item = "gear oil",
                                              .quantity_thousandths = 500,
                                              .unit = KIT_UNIT_LITRE,
                                              .sold_in_thousandths = 1000,
                                              .on_hand_thousandths = -1,
                                              .sides = 1};
    deck->kit[1] = (struct settings_kit_item){.item = "grease",
                                              .quantity_thousandths = 100,
                                              .unit = KIT_UNIT_LITRE,
                                              .sold_in_thousandths = 1000,
                                              .on_hand_thousandths = -1,
                                              .sides = 1};
    deck->kit_count = 2;
}

static void what_was_given_stands_beside_the_plan(void **state)
{
    struct yard_room *room = *state;
    struct shelf_used used;
    int32_t monday = zone_civil(room_at(0, 0)).day;
    give_kits(room);
    serve_with(room, M12, "drive", room_at(-1, 23), 9000, "qt"); /* before the span */
    serve_with(room, M12, "drive", room_at(0, 0), 4200, "qt");
    serve_with(room, M14, "drive", room_at(3, 12), 4000, "l");
    serve_with(room, M14, "drive", room_at(4, 12), 0, "");
    serve_with(room, M12, "drive", room_at(9, 13), 9000, "qt"); /* after the moment */
    serve_with(room, M14, "deck", room_at(5, 12), 600, "l");
    serve_with(room, M14, "engine", room_at(5, 12), 600, "l"); /* a plan of earlier settings */
    assert_int_equal(shelf_used_reckon(&room->yard, monday, room_at(9, 12), &used), LEDGER_OK);
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
    shelf_used_free(&used);
}

static void what_was_struck_out_or_takes_no_fluid_is_not_counted(void **state)
{
    struct yard_room *room = *state;
    struct shelf_used used;
    give_kits(room);
    room->plans[DECK].kit_count = 0;
    serve_with(room, M12, "deck", room_at(1, 12), 0, "");
    int64_t id = room_serve(room, M12, "drive", 7600, room_at(1, 12));
    assert_int_equal(
        record_strike(room->yard.ledger, RECORD_SERVICE, 0, id, 0, room_at(2, 12), "UNDO"),
        LEDGER_OK);
    assert_int_equal(
        shelf_used_reckon(&room->yard, zone_civil(room_at(0, 0)).day, room_at(9, 12), &used),
        LEDGER_OK);
    assert_int_equal(used.count, 0);
    shelf_used_free(&used);
}

#define YARD_TEST(test) cmocka_unit_test_setup_teardown(test, yard_enter, yard_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_comes_due_is_summed_and_rounded_up),
        cmocka_unit_test(nothing_is_needed_where_nothing_comes_due),
        cmocka_unit_test(a_plan_counts_as_often_as_it_comes_round),
        cmocka_unit_test(one_container_is_one_line_whatever_its_unit),
        YARD_TEST(what_was_given_stands_beside_the_plan),
        YARD_TEST(what_was_struck_out_or_takes_no_fluid_is_not_counted),
    };
    return cmocka_run_group_tests(tests, load_settings, free_settings);
}
