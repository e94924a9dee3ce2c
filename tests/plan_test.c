/* SPDX-License-Identifier: MIT
 *
 * When a service is due: the edges of every rule. The drive service of the tables (first at 75 h,
 * then every 500 h) is common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "daemon/upkeep/civil.h"
#include "daemon/upkeep/plan.h"

#define TODAY 20500 /* a civil day like any other */

static const struct plan from_last = {
    .first_hundredths = 7500,
    .every_hundredths = 50000,
    .months = 12,
    .count_from = PLAN_COUNT_LAST_SERVICE,
    .notice_hundredths = 2500,
    .notice_days = 14,
    .grace_hundredths = 1000,
    .grace_days = 14,
};

static struct plan counted_from_zero(void)
{
    struct plan plan = from_last;
    plan.count_from = PLAN_COUNT_ZERO;
    return plan;
}

static struct service done_at(int64_t hundredths)
{
    return (struct service){.present = true, .true_hundredths = hundredths};
}

static struct due_facts new_machine_at(int64_t hundredths)
{
    return (struct due_facts){.read = true, .true_hundredths = hundredths, .today = TODAY};
}

static enum due_stage stage_of(const struct plan *plan, const struct due_facts *facts)
{
    struct due_point point = due_point_of(plan, facts);
    return due_stage_of(plan, facts, &point, false, 0);
}

static void the_first_service_goes_through_its_stages(void **state)
{
    (void)state;
    static const struct {
        int64_t hundredths;
        enum due_stage stage;
        int64_t left;
    } cases[] = {
        {0, DUE_STAGE_FINE, 7500},          {4990, DUE_STAGE_FINE, 2510},
        {4999, DUE_STAGE_FINE, 2501},       {5000, DUE_STAGE_COMING_UP, 2500},
        {5010, DUE_STAGE_COMING_UP, 2490},  {7490, DUE_STAGE_COMING_UP, 10},
        {7499, DUE_STAGE_COMING_UP, 1},     {7500, DUE_STAGE_DUE, 0},
        {7510, DUE_STAGE_DUE, -10},         {8500, DUE_STAGE_DUE, -1000},
        {8501, DUE_STAGE_OVERDUE, -1001},   {8510, DUE_STAGE_OVERDUE, -1010},
        {90000, DUE_STAGE_OVERDUE, -82500},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct due_facts facts = new_machine_at(cases[i].hundredths);
        struct due_point point = due_point_of(&from_last, &facts);
        assert_true(point.known);
        assert_int_equal(point.due_hundredths, 7500);
        assert_int_equal(point.left_hundredths, cases[i].left);
        assert_int_equal(stage_of(&from_last, &facts), cases[i].stage);
    }
}

static void without_notice_and_grace_only_the_point_counts(void **state)
{
    (void)state;
    struct plan plan = from_last;
    plan.notice_hundredths = plan.grace_hundredths = 0;
    struct due_facts facts = new_machine_at(7490);
    assert_int_equal(stage_of(&plan, &facts), DUE_STAGE_FINE);
    facts.true_hundredths = 7500;
    assert_int_equal(stage_of(&plan, &facts), DUE_STAGE_DUE);
    facts.true_hundredths = 7510;
    assert_int_equal(stage_of(&plan, &facts), DUE_STAGE_OVERDUE);
}

/* Early, on time, late: counted from what was done, or from the multiples of `every`. */
static void the_next_point_follows_from_the_last_service(void **state)
{
    (void)state;
    struct plan zero = counted_from_zero();
    static const struct {
        int64_t done, next_from_last, next_from_zero;
    } cases[] = {
        {7500, 57500, 50000},     /* at the first point */
        {7490, 57490, 50000},     /* a little early */
        {5000, 55000, 50000},     /* exactly `notice` before the first: counts for it */
        {4999, 54999, 7500},      /* earlier: the first is still to come */
        {8510, 58510, 50000},     /* late */
        {57500, 107500, 100000},  /* 575.0 after 75.0 */
        {47500, 97500, 100000},   /* exactly `notice` before 500 */
        {47499, 97499, 50000},    /* earlier than that */
        {50000, 100000, 100000},  /* on the point */
        {120000, 170000, 150000}, /* two points missed */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct due_facts facts = new_machine_at(cases[i].done);
        facts.last = done_at(cases[i].done);
        assert_int_equal(due_point_of(&from_last, &facts).due_hundredths, cases[i].next_from_last);
        assert_int_equal(due_point_of(&zero, &facts).due_hundredths, cases[i].next_from_zero);
    }
}

static void a_service_restarts_the_stages(void **state)
{
    (void)state;
    static const struct {
        int64_t hundredths;
        enum due_stage stage;
    } cases[] = {
        {7510, DUE_STAGE_FINE},       {54990, DUE_STAGE_FINE},    {55000, DUE_STAGE_COMING_UP},
        {57490, DUE_STAGE_COMING_UP}, {57500, DUE_STAGE_DUE},     {57510, DUE_STAGE_DUE},
        {58500, DUE_STAGE_DUE},       {58510, DUE_STAGE_OVERDUE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct due_facts facts = new_machine_at(cases[i].hundredths);
        facts.last = done_at(7500);
        assert_int_equal(stage_of(&from_last, &facts), cases[i].stage);
    }
}

static void first_heard_of_beyond_the_first_point_is_no_record(void **state)
{
    (void)state;
    static const struct {
        int64_t heard, now;
        bool serviced;
        enum due_stage stage;
    } cases[] = {
        {7490, 7600, false, DUE_STAGE_DUE},       {7500, 7500, false, DUE_STAGE_DUE},
        {7510, 7510, false, DUE_STAGE_NO_RECORD}, {134000, 134050, false, DUE_STAGE_NO_RECORD},
        {134000, 134050, true, DUE_STAGE_FINE},
    };
    struct plan zero = counted_from_zero();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct due_facts facts = new_machine_at(cases[i].now);
        facts.first_heard_hundredths = cases[i].heard;
        facts.last = cases[i].serviced ? done_at(107500) : facts.last;
        assert_int_equal(stage_of(&from_last, &facts), cases[i].stage);
        if (!cases[i].serviced) {
            assert_int_equal(stage_of(&zero, &facts), cases[i].stage);
        }
    }
}

static void the_calendar_limit_comes_first_where_it_is_first(void **state)
{
    (void)state;
    int32_t done = civil_day((struct civil_date){2028, 2, 29});
    int32_t limit = civil_day((struct civil_date){2029, 2, 28});
    static const struct {
        int32_t days_past_limit;
        enum due_stage stage;
    } cases[] = {
        {-15, DUE_STAGE_FINE}, {-14, DUE_STAGE_COMING_UP}, {-1, DUE_STAGE_COMING_UP},
        {0, DUE_STAGE_DUE},    {14, DUE_STAGE_DUE},        {15, DUE_STAGE_OVERDUE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct due_facts facts = new_machine_at(8000);
        facts.last = done_at(7500);
        facts.last.day_known = true;
        facts.last.day = done;
        facts.today = limit + cases[i].days_past_limit;
        struct due_point point = due_point_of(&from_last, &facts);
        assert_true(point.has_limit);
        assert_int_equal(point.limit_day, limit);
        assert_int_equal(stage_of(&from_last, &facts), cases[i].stage);
    }
}

static void without_months_or_a_known_day_there_is_no_limit(void **state)
{
    (void)state;
    struct plan plan = from_last;
    struct due_facts facts = new_machine_at(8000);
    facts.last = done_at(7500);
    facts.last.day = TODAY - 4000;
    assert_false(due_point_of(&plan, &facts).has_limit);
    facts.last.day_known = true;
    assert_true(due_point_of(&plan, &facts).has_limit);
    plan.months = 0;
    assert_false(due_point_of(&plan, &facts).has_limit);
    assert_int_equal(stage_of(&plan, &facts), DUE_STAGE_FINE);
}

static void the_forecast_alone_makes_a_service_come_up(void **state)
{
    (void)state;
    struct due_facts facts = new_machine_at(1000);
    struct due_point point = due_point_of(&from_last, &facts);
    assert_int_equal(due_stage_of(&from_last, &facts, &point, true, TODAY + 15), DUE_STAGE_FINE);
    assert_int_equal(due_stage_of(&from_last, &facts, &point, true, TODAY + 14),
                     DUE_STAGE_COMING_UP);
    /* A day gone by without a reading is no proof that the point was reached. */
    assert_int_equal(due_stage_of(&from_last, &facts, &point, true, TODAY - 30),
                     DUE_STAGE_COMING_UP);
}

static void a_machine_that_waits_at_the_point_grows_overdue(void **state)
{
    (void)state;
    struct due_facts facts = new_machine_at(7600);
    facts.reached = true;
    facts.reached_day = TODAY - 14;
    assert_int_equal(stage_of(&from_last, &facts), DUE_STAGE_DUE);
    facts.reached_day = TODAY - 15;
    assert_int_equal(stage_of(&from_last, &facts), DUE_STAGE_OVERDUE);
}

static void unread_and_parked_stand_outside_the_order(void **state)
{
    (void)state;
    struct due_facts facts = new_machine_at(9000);
    facts.parked = true;
    assert_int_equal(stage_of(&from_last, &facts), DUE_STAGE_PARKED);
    facts.read = false;
    assert_int_equal(stage_of(&from_last, &facts), DUE_STAGE_UNREAD);
    assert_false(due_point_of(&from_last, &facts).known);
}

static void each_cycle_has_a_number_of_its_own(void **state)
{
    (void)state;
    struct service none = {0};
    struct service at_nothing = done_at(0);
    struct service at_75 = done_at(7500);
    assert_int_equal(due_cycle(&none), 0);
    assert_true(due_cycle(&at_nothing) != due_cycle(&none));
    assert_true(due_cycle(&at_75) != due_cycle(&at_nothing));
}

static void every_stage_has_its_word(void **state)
{
    (void)state;
    static const char *const words[DUE_STAGE_COUNT] = {
        [DUE_STAGE_FINE] = "fine",     [DUE_STAGE_COMING_UP] = "coming-up",
        [DUE_STAGE_DUE] = "due",       [DUE_STAGE_OVERDUE] = "overdue",
        [DUE_STAGE_PARKED] = "parked", [DUE_STAGE_NO_RECORD] = "no-record",
        [DUE_STAGE_UNREAD] = "unread",
    };
    for (size_t i = 0; i < DUE_STAGE_COUNT; i++) {
        enum due_stage found = DUE_STAGE_COUNT;
        assert_string_equal(due_stage_word((enum due_stage)i), words[i]);
        assert_true(due_stage_find(words[i], &found));
        assert_int_equal(found, i);
    }
    enum due_stage kept = DUE_STAGE_DUE;
    assert_false(due_stage_find("recheck", &kept));
    assert_int_equal(kept, DUE_STAGE_DUE);
}

/* Who reads the table may count on it: what is done about a stage grows with the worry. */
static void a_worse_stage_calls_for_no_less(void **state)
{
    (void)state;
    for (size_t i = 0; i < DUE_STAGE_COUNT; i++) {
        const struct due_stage_row *row = due_stage_row((enum due_stage)i);
        const struct due_stage_row *worse = i + 1 < DUE_STAGE_COUNT ? row + 1 : row;
        assert_true(row->says[0] != '\0' && row->title[0] != '\0');
        assert_true(!row->tells || worse->tells);
        assert_true(!row->needs_doing || (row->tells && worse->needs_doing));
        assert_true(!row->reached || (row->needs_doing && worse->reached));
        assert_true(!row->rests || !row->tells);
    }
}

/* The months count from the service's day; where none is known, from the day on which the machine
 * began. What has no record has no limit. */
static void the_months_count_from_a_service_or_from_the_beginning(void **state)
{
    (void)state;
    static const struct {
        bool done, day_known, begun;
        int64_t heard;
        bool has_limit;
        int32_t from_day;
    } cases[] = {
        {true, true, true, 0, true, 20000},     {true, true, false, 0, true, 20000},
        {true, false, true, 0, true, 20400},    {true, false, false, 0, false, 0},
        {false, false, true, 100, true, 20400}, {false, false, false, 100, false, 0},
        {false, false, true, 7501, false, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct due_facts facts = new_machine_at(8000);
        facts.last = (struct service){.present = cases[i].done,
                                      .true_hundredths = 7500,
                                      .day = 20000,
                                      .day_known = cases[i].day_known};
        facts.begun = cases[i].begun;
        facts.begun_day = 20400;
        facts.first_heard_hundredths = cases[i].heard;
        struct due_point point = due_point_of(&from_last, &facts);
        assert_int_equal(point.has_limit, cases[i].has_limit);
        if (point.has_limit) {
            assert_int_equal(point.limit_from_day, cases[i].from_day);
            assert_int_equal(point.limit_day, civil_add_months(cases[i].from_day, 12));
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_service_goes_through_its_stages),
        cmocka_unit_test(without_notice_and_grace_only_the_point_counts),
        cmocka_unit_test(the_next_point_follows_from_the_last_service),
        cmocka_unit_test(a_service_restarts_the_stages),
        cmocka_unit_test(first_heard_of_beyond_the_first_point_is_no_record),
        cmocka_unit_test(the_calendar_limit_comes_first_where_it_is_first),
        cmocka_unit_test(without_months_or_a_known_day_there_is_no_limit),
        cmocka_unit_test(the_months_count_from_a_service_or_from_the_beginning),
        cmocka_unit_test(the_forecast_alone_makes_a_service_come_up),
        cmocka_unit_test(a_machine_that_waits_at_the_point_grows_overdue),
        cmocka_unit_test(unread_and_parked_stand_outside_the_order),
        cmocka_unit_test(each_cycle_has_a_number_of_its_own),
        cmocka_unit_test(every_stage_has_its_word),
        cmocka_unit_test(a_worse_stage_calls_for_no_less),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
