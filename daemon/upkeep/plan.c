/* SPDX-License-Identifier: MIT
 *
 * plan: where one machine stands against one plan.
 *
 * The point is found first, from plan and last service; the stage follows from how far the machine
 * is from it in hours, in days of the calendar's limit and by the forecast. */
#include "daemon/upkeep/plan.h"

#include <string.h>

#include "daemon/upkeep/civil.h"

static const struct due_stage_row stages[DUE_STAGE_COUNT] = {
    /* word, says, title; rests, tells, needs_doing, reached */
    [DUE_STAGE_PARKED] = {"parked", "parked", "laid up", true, false, false, false},
    [DUE_STAGE_UNREAD] = {"unread", "unread", "no reading yet", true, false, false, false},
    [DUE_STAGE_FINE] = {"fine", "fine", "fine", false, false, false, false},
    [DUE_STAGE_COMING_UP] = {"coming-up", "coming up", "coming up", false, true, false, false},
    [DUE_STAGE_NO_RECORD] = {"no-record", "no record", "no service on record", false, true, true,
                             false},
    [DUE_STAGE_DUE] = {"due", "due", "due now", false, true, true, true},
    [DUE_STAGE_OVERDUE] = {"overdue", "overdue", "overdue", false, true, true, true},
};

const struct due_stage_row *due_stage_row(enum due_stage stage)
{
    return &stages[stage];
}

const char *due_stage_word(enum due_stage stage)
{
    return stages[stage].word;
}

bool due_stage_find(const char *word, enum due_stage *stage)
{
    for (size_t i = 0; i < DUE_STAGE_COUNT; i++) {
        if (strcmp(word, stages[i].word) == 0) {
            *stage = (enum due_stage)i;
            return true;
        }
    }
    return false;
}

const char *due_by_word(enum due_by by)
{
    return by == DUE_BY_DATE ? "date" : "hours";
}

static int64_t next_point(const struct plan *plan, const struct service *last)
{
    int64_t counts_up_to = last->true_hundredths + plan->notice_hundredths;
    if (!last->present) {
        return plan->first_hundredths;
    }
    switch (plan->count_from) {
    case PLAN_COUNT_LAST_SERVICE:
        return last->true_hundredths + plan->every_hundredths;
    case PLAN_COUNT_ZERO:
        /* the first of the points that the service does not count for */
        return counts_up_to < plan->first_hundredths || plan->every_hundredths <= 0
                   ? plan->first_hundredths
                   : (counts_up_to / plan->every_hundredths + 1) * plan->every_hundredths;
    }
    return 0;
}

struct due_point due_point_of(const struct plan *plan, const struct due_facts *facts)
{
    struct due_point point = {0};
    bool no_record = !facts->last.present && facts->first_heard_hundredths > plan->first_hundredths;
    bool dated = facts->last.present && facts->last.day_known;
    if (plan->months > 0 && !no_record && (dated || facts->begun)) {
        point.has_limit = true;
        point.limit_from_day = dated ? facts->last.day : facts->begun_day;
        point.limit_day = civil_add_months(point.limit_from_day, plan->months);
    }
    if (!facts->read || no_record) {
        return point;
    }
    point.known = true;
    point.due_hundredths = next_point(plan, &facts->last);
    point.left_hundredths = point.due_hundredths - facts->true_hundredths;
    return point;
}

static bool overdue(const struct plan *plan, const struct due_facts *facts,
                    const struct due_point *point)
{
    int64_t today = facts->today;
    return point->left_hundredths < -plan->grace_hundredths ||
           (point->left_hundredths <= 0 && facts->reached &&
            today - facts->reached_day > plan->grace_days) ||
           (point->has_limit && today - point->limit_day > plan->grace_days);
}

static bool coming_up(const struct plan *plan, const struct due_facts *facts,
                      const struct due_point *point, bool has_forecast, int32_t forecast_day)
{
    int64_t today = facts->today;
    return point->left_hundredths <= plan->notice_hundredths ||
           (point->has_limit && point->limit_day - today <= plan->notice_days) ||
           (has_forecast && forecast_day - today <= plan->notice_days);
}

enum due_stage due_stage_of(const struct plan *plan, const struct due_facts *facts,
                            const struct due_point *point, bool has_forecast, int32_t forecast_day)
{
    if (!facts->read) {
        return DUE_STAGE_UNREAD;
    }
    if (facts->parked) {
        return DUE_STAGE_PARKED;
    }
    if (!point->known) {
        return DUE_STAGE_NO_RECORD;
    }
    if (overdue(plan, facts, point)) {
        return DUE_STAGE_OVERDUE;
    }
    if (point->left_hundredths <= 0 || (point->has_limit && facts->today >= point->limit_day)) {
        return DUE_STAGE_DUE;
    }
    if (coming_up(plan, facts, point, has_forecast, forecast_day)) {
        return DUE_STAGE_COMING_UP;
    }
    return DUE_STAGE_FINE;
}

int64_t due_cycle(const struct service *last)
{
    return last->present ? last->true_hundredths + 1 : 0;
}
