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

static void the_day_by_which_to_order(void **state)
{
    struct settings_shop shop = {.workdays = {true, true, true, true, true}};
    int32_t monday = civil_day((struct civil_date){2027, 5, 3});
    static const struct {
        int32_t needed, lead_days, order; /* days from the Monday, which is today */
    } cases[] = {
        {21, 7, 14}, {21, 0, 21},
        {20, 0, 18}, /* a Sunday: the Friday before */
        {14, 4, 10}, /* that Thursday */ {14, 3, 11},
        {14, 2, 11}, {9, 9, 0},
        {3, 9, 0},   {0, 0, 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int32_t day = shelf_order_by(&shop, monday, monday + cases[i].needed, cases[i].lead_days);
        assert_int_equal(day - monday, cases[i].order);
    }
    /* on a Saturday, and on a holiday after it, the next day that is open */
    shop.holidays[0] = monday + 7;
    shop.holiday_count = 1;
    assert_int_equal(shelf_order_by(&shop, monday + 5, monday + 5, 3) - monday, 8);
    /* a shop that never opens orders when it can */
    memset(shop.workdays, 0, sizeof shop.workdays);
    assert_int_equal(shelf_order_by(&shop, monday, monday + 3, 1), monday);
}

/* Two machines take two filters each: M12 now, M14 in a fortnight or so. */
static void what_is_on_hand_is_not_bought(void **state)
{
    struct yard_room *room = *state;
    static const struct {
        int64_t on_hand_thousandths;
        int32_t lead_days;
        int64_t containers;
        bool order_today, order_later;
    } cases[] = {
        {-1, 0, 4, false, false},   {-1, 3, 4, true, false},    {0, 3, 4, true, false},
        {1000, 3, 3, true, false},  {2000, 3, 2, false, true},  {3000, 3, 1, false, true},
        {4000, 3, 0, false, false}, {9000, 3, 0, false, false}, {2000, 0, 2, false, false},
    };
    for (int i = 0; i < 5; i++) {
        room->settings.shop.workdays[i] = true;
    }
    room->plans[DRIVE].kit_count = 1;
    for (int32_t day = 0; day < 21; day++) {
        room_read(room, M12, 3500 + day * 200, room_at(day, 12));
        room_read(room, M14, 200 + day * 200, room_at(day, 12));
    }
    int32_t today = zone_civil(room_at(21, 12)).day;
    int32_t needed = room_stand(room, M14, DRIVE, room_at(21, 12)).earliest_day;
    assert_true(needed > today + 5);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct shelf shelf;
        room->plans[DRIVE].kit[0] =
            (struct settings_kit_item){.item = "filter",
                                       .quantity_thousandths = 2000,
                                       .unit = KIT_UNIT_PIECE,
                                       .sold_in_thousandths = 1000,
                                       .lead_days = cases[i].lead_days,
                                       .on_hand_thousandths = cases[i].on_hand_thousandths};
        assert_int_equal(shelf_reckon(&room->yard, room_at(21, 12), today + 28, &shelf), LEDGER_OK);
        assert_int_equal(shelf.item_count, 1);
        assert_int_equal(shelf.items[0].needed_thousandths, 4000);
        assert_int_equal(shelf.items[0].on_hand_thousandths, cases[i].on_hand_thousandths);
        assert_int_equal(shelf.items[0].containers, cases[i].containers);
        assert_int_equal(shelf.items[0].has_order_by, cases[i].order_today || cases[i].order_later);
        if (cases[i].order_today) {
            assert_int_equal(shelf.items[0].order_by_day, today);
        } else if (cases[i].order_later) {
            assert_int_equal(
                shelf.items[0].order_by_day,
                shelf_order_by(&room->settings.shop, today, needed, cases[i].lead_days));
        }
        shelf_free(&shelf);
    }
}

/* The kit has 4 quarts; what DONE said the last times counts from three on. */
static void the_fill_of_a_machine_is_learned(void **state)
{
    struct yard_room *room = *state;
    static const struct {
        int64_t said_thousandths;
        int64_t learned_thousandths; /* afterwards; 0 not yet */
    } steps[] = {
        {5200, 0},    {5000, 0},    {0, 0},       {5400, 5200}, {9000, 5200},
        {5300, 5300}, {5300, 5300}, {9100, 5400}, {9200, 9000},
    };
    struct shelf_fill fill;
    give_kits(room);
    serve_with(room, M14, "drive", room_at(0, 12), 9000, "qt");
    serve_with(room, M12, "deck", room_at(0, 12), 9000, "qt");
    for (int32_t i = 0; i < (int32_t)(sizeof steps / sizeof steps[0]); i++) {
        serve_with(room, M12, "drive", room_at(i, 13), steps[i].said_thousandths,
                   steps[i].said_thousandths > 0 ? "qt" : "");
        assert_int_equal(shelf_fill_of(&room->yard, M12, DRIVE, &fill), LEDGER_OK);
        assert_int_equal(kit_thousandths(fill.planned_grains, KIT_UNIT_QUART), 4000);
        assert_int_equal(kit_thousandths(fill.learned_grains, KIT_UNIT_QUART),
                         steps[i].learned_thousandths);
    }
    /* what has no record, what takes no fluid */
    assert_int_equal(shelf_fill_of(&room->yard, TR9, DRIVE, &fill), LEDGER_OK);
    assert_int_equal(fill.learned_grains, 0);
    room->plans[DRIVE].kit_count = 0;
    assert_int_equal(shelf_fill_of(&room->yard, M12, DRIVE, &fill), LEDGER_OK);
    assert_int_equal(fill.planned_grains + fill.learned_grains, 0);
}

static void a_fill_a_quarter_off_is_odd(void **state)
{
    static const struct {
        int64_t learned, said;
        bool odd;
    } cases[] = {
        {0, 3000, false},    {0, 2999, true},    {0, 5000, false},     {0, 5001, true},
        {8000, 6000, false}, {8000, 5999, true}, {8000, 10000, false}, {8000, 10001, true},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct shelf_fill fill = {.planned_grains = 4000, .learned_grains = cases[i].learned};
        assert_int_equal(shelf_fill_is_odd(&fill, cases[i].said), cases[i].odd);
    }
}

/* M12 takes 5.2 quarts where the kit has 4. */
static void what_is_likely_stands_beside_what_is_needed(void **state)
{
    struct yard_room *room = *state;
    struct shelf shelf;
    give_kits(room);
    room->plans[DRIVE].plan.first_hundredths = 1;
    for (int32_t i = 0; i < 3; i++) {
        serve_with(room, M12, "drive", room_at(i, 12), 5200, "qt");
    }
    room_read(room, M12, room_at(2, 12) / 360 + 50000, room_at(3, 12));
    int32_t today = zone_civil(room_at(3, 13)).day;
    assert_int_equal(shelf_reckon(&room->yard, room_at(3, 13), today, &shelf), LEDGER_OK);
    assert_int_equal(shelf.item_count, 2);
    assert_int_equal(shelf.items[0].needed_thousandths, 4000);
    assert_int_equal(shelf.items[0].likely_thousandths, 5200);
    assert_int_equal(shelf.items[1].likely_thousandths, 2000); /* filters are what they are */
    shelf_free(&shelf);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_comes_due_is_summed_and_rounded_up),
        cmocka_unit_test(nothing_is_needed_where_nothing_comes_due),
        cmocka_unit_test(a_plan_counts_as_often_as_it_comes_round),
        cmocka_unit_test(one_container_is_one_line_whatever_its_unit),
        cmocka_unit_test(the_day_by_which_to_order),
        cmocka_unit_test(a_fill_a_quarter_off_is_odd),
        cmocka_unit_test_setup_teardown(what_is_on_hand_is_not_bought, yard_enter, yard_leave),
        cmocka_unit_test_setup_teardown(the_fill_of_a_machine_is_learned, yard_enter, yard_leave),
        cmocka_unit_test_setup_teardown(what_is_likely_stands_beside_what_is_needed, yard_enter,
                                        yard_leave),
        YARD_TEST(what_was_given_stands_beside_the_plan),
        YARD_TEST(what_was_struck_out_or_takes_no_fluid_is_not_counted),
    };
    return cmocka_run_group_tests(tests, load_settings, free_settings);
}
