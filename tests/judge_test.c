/* SPDX-License-Identifier: MIT
 *
 * What a new figure is worth. M12 was read at 1338.0 on a Monday at 17:00 unless a test says
 * otherwise; five hours a day are typical for it, 16 the most. */
#include "tests/yard_room.h"

static struct yard_judgement judge(struct yard_room *room, int machine, int64_t hundredths,
                                   int32_t decimals, int64_t read_s, int32_t person)
{
    struct yard_judgement judgement;
    assert_int_equal(
        yard_judge(&room->yard, machine, hundredths, decimals, read_s, person, &judgement),
        LEDGER_OK);
    return judgement;
}

/* In the zone of Los Angeles, whose clocks went forward on 2027-03-14 and back on 2027-11-07 (zone
 * database). */
static int64_t on(int32_t year, int32_t month, int32_t day, int32_t hour)
{
    return zone_unix(civil_day((struct civil_date){year, month, day}), hour * 3600);
}

static void each_day_allows_the_lesser_of_its_most_and_its_time(void **state)
{
    (void)state;
    assert_true(zone_set("America/Los_Angeles"));
    const struct {
        int64_t from_s, until_s, most_day, allowed;
    } cases[] = {
        /* one day: 10 h of it */
        {on(2027, 5, 3, 7), on(2027, 5, 3, 17), 2400, 1000},
        {on(2027, 5, 3, 7), on(2027, 5, 3, 17), 800, 800},
        /* 7 h of Monday, 17 h of Tuesday */
        {on(2027, 5, 3, 17), on(2027, 5, 4, 17), 2400, 2400},
        {on(2027, 5, 3, 17), on(2027, 5, 4, 17), 1600, 700 + 1600},
        {on(2027, 5, 3, 17), on(2027, 5, 4, 7), 1600, 700 + 700},
        /* 7 h, two whole days, 7 h */
        {on(2027, 5, 3, 17), on(2027, 5, 6, 7), 1600, 700 + 2 * 1600 + 700},
        /* days of 23 and 25 hours */
        {on(2027, 3, 14, 0), on(2027, 3, 15, 0), 2400, 2300},
        {on(2027, 11, 7, 0), on(2027, 11, 8, 0), 2500, 2500},
        {on(2027, 11, 7, 0), on(2027, 11, 8, 0), 2400, 2400},
        {on(2027, 3, 13, 12), on(2027, 3, 14, 12), 2400, 2300},
        /* no time, and time turned round */
        {on(2027, 5, 3, 7), on(2027, 5, 3, 7), 2400, 0},
        {on(2027, 5, 3, 7), on(2027, 5, 2, 7), 2400, 0},
        /* five years, past the days that are looked at one by one */
        {on(2022, 5, 3, 0), on(2027, 5, 3, 0), 1600, 1826 * 1600},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(yard_allowance(cases[i].from_s, cases[i].until_s, cases[i].most_day),
                         cases[i].allowed + YARD_ROUNDING_HUNDREDTHS);
    }
}

static void figures_within_the_clock_are_plausible(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 17));
    /* 7 h of Monday are left, and Tuesday until 17:00 allows 16 of 17: 23.2 h with rounding. */
    static const struct {
        int64_t hundredths;
        enum yard_verdict verdict;
    } cases[] = {
        {133790, YARD_DOUBTFUL},  {133800, YARD_PLAUSIBLE},  {134000, YARD_PLAUSIBLE},
        {135300, YARD_PLAUSIBLE}, {135310, YARD_SOFT_DOUBT}, {136120, YARD_SOFT_DOUBT},
        {136130, YARD_DOUBTFUL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct yard_judgement judgement =
            judge(room, M12, cases[i].hundredths, 1, room_at(1, 17), INES);
        assert_int_equal(judgement.verdict, cases[i].verdict);
        assert_int_equal(judgement.last_hundredths, 133800);
        assert_int_equal(judgement.last_read_s, room_at(0, 17));
        assert_int_equal(judgement.most_hundredths, 136120);
    }
    assert_true(judge(room, M12, 135400, 1, room_at(1, 17), INES).day_hours == 16.0);
}

static void the_first_reading_may_be_anything_the_meter_shows(void **state)
{
    struct yard_room *room = *state;
    assert_int_equal(judge(room, M12, 0, 0, room_at(0, 17), INES).verdict, YARD_PLAUSIBLE);
    assert_int_equal(judge(room, M12, 999990, 1, room_at(0, 17), INES).verdict, YARD_PLAUSIBLE);
    assert_int_equal(judge(room, M12, 999990, 1, room_at(0, 17), INES).last_hundredths, -1);
}

static void the_same_figure_on_the_same_day_is_noted_already(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 7));
    assert_int_equal(judge(room, M12, 133800, 0, room_at(0, 23), INES).verdict, YARD_ALREADY_NOTED);
    assert_int_equal(judge(room, M12, 133800, 0, room_at(1, 0), INES).verdict, YARD_PLAUSIBLE);
    /* also where it is dated before the one on record */
    assert_int_equal(judge(room, M12, 133800, 0, room_at(0, 6), INES).verdict, YARD_ALREADY_NOTED);
}

static void a_slip_is_offered_where_it_is_clearly_best(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 17));
    static const struct {
        int64_t typed;
        int32_t decimals;
        int64_t meant; /* 0: nothing is clearly best */
    } cases[] = {
        {431300, 0, 0},       /* one exchange puts it nowhere near */
        {314300, 0, 134300},  /* exchanged */
        {834300, 0, 134300},  /* wrong digit */
        {1334300, 0, 134300}, /* doubled digit */
        {34300, 0, 134300},   /* first digit missing */
        {13430, 1, 0},        /* 134.3: any digit may be missing at the end */
        {700000, 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct yard_judgement judgement =
            judge(room, M12, cases[i].typed, cases[i].decimals, room_at(1, 17), TOM);
        assert_int_equal(judgement.verdict, YARD_DOUBTFUL);
        assert_int_equal(judgement.offer, cases[i].meant == 0 ? YARD_OFFER_NONE : YARD_OFFER_SLIP);
        assert_int_equal(judgement.offer_hundredths, cases[i].meant == 0 ? -1 : cases[i].meant);
    }
}

static void more_digits_than_the_meter_have_lost_their_point(void **state)
{
    struct yard_room *room = *state;
    /* no reading, no tenths: the meter alone says so */
    struct yard_judgement judgement = judge(room, M12, 1340500, 0, room_at(0, 17), INES);
    assert_int_equal(judgement.verdict, YARD_DOUBTFUL);
    assert_int_equal(judgement.offer, YARD_OFFER_SLIP);
    assert_int_equal(judgement.offer_hundredths, 134050);
    room_read(room, M12, 133800, room_at(0, 17));
    judgement = judge(room, M12, 1341500, 0, room_at(1, 17), INES);
    assert_int_equal(judgement.offer_hundredths, 134150);
}

static void a_figure_that_carries_a_point_has_not_lost_it(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133580, room_at(0, 17));
    /* 13342.7 for 1342.7 with a digit too many, not for 1334.27 */
    struct yard_judgement judgement = judge(room, M12, 1334270, 1, room_at(1, 17), INES);
    assert_int_equal(judgement.verdict, YARD_DOUBTFUL);
    assert_int_not_equal(judgement.offer_hundredths, 133427);
}

static void a_machine_read_with_tenths_loses_its_point_first(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 13340, room_at(0, 17));
    room_read(room, M12, 13800, room_at(1, 17));
    /* 1434 would be 143 with its last digit too many, just as near; tenths decide for 143.4. */
    struct yard_judgement judgement = judge(room, M12, 143400, 0, room_at(2, 17), INES);
    assert_int_equal(judgement.verdict, YARD_DOUBTFUL);
    assert_int_equal(judgement.offer, YARD_OFFER_SLIP);
    assert_int_equal(judgement.offer_hundredths, 14340);
}

static void a_young_machine_may_grow_a_digit(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 980, room_at(0, 17));
    /* 9.8 h on Monday: "101" on Tuesday has lost its point, after three weeks it is 101 h. */
    assert_int_equal(judge(room, M12, 10100, 0, room_at(1, 17), INES).verdict, YARD_DOUBTFUL);
    assert_int_equal(judge(room, M12, 10100, 0, room_at(1, 17), INES).offer_hundredths, 1010);
    assert_int_equal(judge(room, M12, 10100, 0, room_at(21, 17), INES).verdict, YARD_PLAUSIBLE);
}

static void another_machine_of_the_sender_is_offered(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 17));
    room_read(room, M14, 88040, room_at(0, 17));
    struct yard_judgement judgement = judge(room, M12, 88520, 1, room_at(1, 17), INES);
    assert_int_equal(judgement.offer, YARD_OFFER_MACHINE);
    assert_int_equal(judgement.offer_machine, M14);
    assert_int_equal(judgement.offer_hundredths, 88520);
    /* neither to who does not look after it, nor to the shop, nor where it was never read */
    assert_int_equal(judge(room, M12, 88520, 1, room_at(1, 17), TOM).offer, YARD_OFFER_NONE);
    assert_int_equal(judge(room, M12, 88520, 1, room_at(1, 17), ROSA).offer, YARD_OFFER_NONE);
    assert_int_equal(judge(room, M12, 88520, 1, room_at(1, 17), -1).offer, YARD_OFFER_NONE);
}

static void the_last_one_was_wrong_where_the_one_before_says_so(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 17));
    int64_t wrong = room_read(room, M12, 135900, room_at(1, 17));
    struct yard_judgement judgement = judge(room, M12, 134800, 0, room_at(2, 17), INES);
    assert_int_equal(judgement.verdict, YARD_DOUBTFUL);
    assert_int_equal(judgement.offer, YARD_OFFER_LAST_WRONG);
    assert_int_equal(judgement.offer_hundredths, 134800);
    assert_int_equal(judgement.strikes_reading_id, wrong);
}

static void a_meter_rolls_over_at_its_limit(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 999500, room_at(0, 17));
    struct yard_judgement judgement = judge(room, M12, 320, 1, room_at(1, 17), INES);
    assert_int_equal(judgement.offer, YARD_OFFER_ROLL_OVER);
    assert_int_equal(judgement.old_last_hundredths, 1000000);
    assert_int_equal(judgement.offer_hundredths, 320);
}

static void a_small_figure_suggests_a_new_meter(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 17));
    struct yard_judgement judgement = judge(room, M12, 410, 1, room_at(1, 17), INES);
    assert_int_equal(judgement.offer, YARD_OFFER_SWAP);
    assert_int_equal(judgement.old_last_hundredths, 133800);
    assert_int_equal(judgement.offer_hundredths, 410);
    assert_int_equal(judge(room, M12, 9910, 1, room_at(1, 17), INES).offer, YARD_OFFER_NONE);
}

static void a_figure_of_the_past_is_judged_between_its_neighbours(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 17));
    room_read(room, M12, 136000, room_at(7, 17));
    static const struct {
        int64_t hundredths;
        enum yard_verdict verdict;
    } cases[] = {
        {133790, YARD_DOUBTFUL},   {133800, YARD_PLAUSIBLE}, {134500, YARD_PLAUSIBLE},
        {136000, YARD_SOFT_DOUBT}, {136010, YARD_DOUBTFUL},  {314500, YARD_DOUBTFUL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct yard_judgement judgement =
            judge(room, M12, cases[i].hundredths, 1, room_at(1, 17), INES);
        assert_int_equal(judgement.verdict, cases[i].verdict);
        assert_int_equal(judgement.offer, YARD_OFFER_NONE);
    }
    /* too low to reach the later reading: on Sunday at 17:00 a day of at most 16 h lies between */
    assert_int_equal(judge(room, M12, 133800, 1, room_at(6, 17), INES).verdict, YARD_PLAUSIBLE);
    room_read(room, M12, 140000, room_at(9, 17));
    assert_int_equal(judge(room, M12, 136500, 1, room_at(8, 17), INES).verdict, YARD_DOUBTFUL);
}

static void the_config_bounds_what_no_reading_bounds(void **state)
{
    struct yard_room *room = *state;
    room->machines[M12].started_hundredths = 20000;
    assert_int_equal(judge(room, M12, 19990, 1, room_at(0, 17), INES).verdict, YARD_DOUBTFUL);
    assert_int_equal(judge(room, M12, 20000, 1, room_at(0, 17), INES).verdict, YARD_PLAUSIBLE);
    room->machines[M12].last_done[0] =
        (struct settings_last_done){.present = true, .hundredths = 57500};
    assert_int_equal(judge(room, M12, 57490, 1, room_at(0, 17), INES).verdict, YARD_DOUBTFUL);
    assert_int_equal(judge(room, M12, 57500, 1, room_at(0, 17), INES).verdict, YARD_PLAUSIBLE);
    /* of the past, only `started` holds */
    room_read(room, M12, 58000, room_at(90, 17));
    assert_int_equal(judge(room, M12, 57000, 1, room_at(0, 17), INES).verdict, YARD_PLAUSIBLE);
    assert_int_equal(judge(room, M12, 19990, 1, room_at(0, 17), INES).verdict, YARD_DOUBTFUL);
}

static void after_a_swap_figures_are_those_of_the_new_meter(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 17));
    struct meter_change change = {.machine_id = room->ids[M12],
                                  .at_s = room_at(1, 12),
                                  .old_last_hundredths = 134100,
                                  .new_first_hundredths = 50};
    assert_int_equal(readings_change_meter(room->yard.ledger, &change), LEDGER_OK);
    assert_int_equal(judge(room, M12, 350, 1, room_at(1, 17), INES).verdict, YARD_PLAUSIBLE);
    assert_int_equal(judge(room, M12, 134400, 1, room_at(1, 17), INES).verdict, YARD_DOUBTFUL);
    room_read(room, M12, 350, room_at(1, 17));
    struct yard_judgement judgement = judge(room, M12, 800, 1, room_at(2, 17), INES);
    assert_int_equal(judgement.verdict, YARD_PLAUSIBLE);
    assert_int_equal(judgement.last_hundredths, 350);
}

static void a_struck_reading_bounds_nothing(void **state)
{
    struct yard_room *room = *state;
    room_read(room, M12, 133800, room_at(0, 17));
    int64_t wrong = room_read(room, M12, 135900, room_at(1, 17));
    assert_int_equal(
        record_strike(room->yard.ledger, RECORD_READING, 0, wrong, 0, room_at(2, 9), "FIX"),
        LEDGER_OK);
    struct yard_judgement judgement = judge(room, M12, 134300, 0, room_at(2, 17), INES);
    assert_int_equal(judgement.verdict, YARD_PLAUSIBLE);
    assert_int_equal(judgement.last_hundredths, 133800);
}

#define YARD_TEST(test) cmocka_unit_test_setup_teardown(test, yard_enter, yard_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_day_allows_the_lesser_of_its_most_and_its_time),
        YARD_TEST(figures_within_the_clock_are_plausible),
        YARD_TEST(the_first_reading_may_be_anything_the_meter_shows),
        YARD_TEST(the_same_figure_on_the_same_day_is_noted_already),
        YARD_TEST(a_slip_is_offered_where_it_is_clearly_best),
        YARD_TEST(more_digits_than_the_meter_have_lost_their_point),
        YARD_TEST(a_figure_that_carries_a_point_has_not_lost_it),
        YARD_TEST(a_machine_read_with_tenths_loses_its_point_first),
        YARD_TEST(a_young_machine_may_grow_a_digit),
        YARD_TEST(another_machine_of_the_sender_is_offered),
        YARD_TEST(the_last_one_was_wrong_where_the_one_before_says_so),
        YARD_TEST(a_meter_rolls_over_at_its_limit),
        YARD_TEST(a_small_figure_suggests_a_new_meter),
        YARD_TEST(a_figure_of_the_past_is_judged_between_its_neighbours),
        YARD_TEST(the_config_bounds_what_no_reading_bounds),
        YARD_TEST(after_a_swap_figures_are_those_of_the_new_meter),
        YARD_TEST(a_struck_reading_bounds_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
