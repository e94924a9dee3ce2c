/* SPDX-License-Identifier: MIT
 * apportion, civil, kit, plan and doubt for the sound analyser: any day, any figure that a ledger can hold, any
 * plan that the config lets pass, and worse.
 * eva: -eva-precision 4 */
#include <__fc_builtin.h>

#include "daemon/upkeep/apportion.h"
#include "daemon/upkeep/civil.h"
#include "daemon/upkeep/doubt.h"
#include "daemon/upkeep/kit.h"
#include "daemon/upkeep/plan.h"

#define HUNDREDTHS_MAX 100000000L

static int64_t any_figure(void)
{
    return Frama_C_long_interval(0, HUNDREDTHS_MAX);
}

static int32_t any_day(void)
{
    return Frama_C_interval(-1000000, 4000000);
}

static void reckon_dates(void)
{
    char text[CIVIL_TEXT_OCTETS];
    int32_t day = Frama_C_interval(INT32_MIN, INT32_MAX);
    struct civil_date date = civil_date_of(day);
    Frama_C_make_unknown(text, sizeof text);
    civil_read(text, (size_t)Frama_C_interval(0, sizeof text), &day);
    civil_weekday(Frama_C_interval(INT32_MIN, INT32_MAX));
    civil_add_months(day, Frama_C_interval(INT32_MIN, INT32_MAX));
    civil_write(day, text, (size_t)Frama_C_interval(0, sizeof text));
    civil_valid(date);
}

static void stand_anyhow(void)
{
    struct plan plan = {.first_hundredths = any_figure(),
                        .every_hundredths = any_figure(),
                        .months = Frama_C_interval(0, 1200),
                        .count_from = (enum plan_count)Frama_C_interval(0, 1),
                        .notice_hundredths = any_figure(),
                        .notice_days = Frama_C_interval(0, 10000),
                        .grace_hundredths = any_figure(),
                        .grace_days = Frama_C_interval(0, 10000)};
    struct due_facts facts = {.read = Frama_C_interval(0, 1),
                              .parked = Frama_C_interval(0, 1),
                              .true_hundredths = any_figure(),
                              .first_heard_hundredths = any_figure(),
                              .last = {.present = Frama_C_interval(0, 1),
                                       .true_hundredths = any_figure(),
                                       .day = any_day(),
                                       .day_known = Frama_C_interval(0, 1)},
                              .begun = Frama_C_interval(0, 1),
                              .begun_day = any_day(),
                              .reached = Frama_C_interval(0, 1),
                              .reached_day = any_day(),
                              .today = any_day()};
    struct due_point point = due_point_of(&plan, &facts);
    due_stage_word(due_stage_of(&plan, &facts, &point, Frama_C_interval(0, 1), any_day()));
    due_cycle(&facts.last);
}

static void doubt_anything(void)
{
    struct doubt_search search = {0};
    struct doubt_range range = {any_figure(), any_figure()};
    doubt_add_slips(&search, 0, Frama_C_long_interval(INT64_MIN, INT64_MAX), Frama_C_interval(0, 2),
                    &range, any_figure());
    doubt_clearly_best(&search);
    doubt_lost_point(any_figure(), Frama_C_interval(0, 2), any_figure(), 1);
    meter_rolled_over(any_figure(), any_figure(), any_figure(), any_figure());
    meter_swapped(any_figure(), any_figure(), any_figure());
}

/* Any moments of the years 1 to 9999, and worse: those of a ledger out of order. */
#define MOMENT_MOST 300000000000L

static int64_t any_moment(void)
{
    return Frama_C_long_interval(-MOMENT_MOST, MOMENT_MOST);
}

static void apportion_anything(void)
{
    struct usage_reading readings[3];
    struct usage_spell spells[2];
    for (int i = 0; i < 3; i++) {
        readings[i] = (struct usage_reading){any_moment(), any_figure()};
    }
    for (int i = 0; i < 2; i++) {
        spells[i] = (struct usage_spell){any_moment(), any_moment()};
    }
    struct usage_record record = {.count = (size_t)Frama_C_interval(0, 3),
                                  .readings = readings,
                                  .spell_count = 2,
                                  .spells = spells};
    apportion_at(&record, any_moment());
}

static void take_the_middle(void)
{
    int64_t grains[5];
    for (int i = 0; i < 5; i++) {
        grains[i] = Frama_C_long_interval(0, INT64_MAX);
    }
    kit_median(grains, (size_t)Frama_C_interval(1, 5));
}

int main(void)
{
    take_the_middle();
    apportion_anything();
    reckon_dates();
    stand_anyhow();
    doubt_anything();
    return 0;
}
