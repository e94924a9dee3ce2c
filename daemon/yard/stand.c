/* SPDX-License-Identifier: MIT
 *
 * stand: how a machine stands. The ledger's rows are loaded once a machine and every plan of it is
 * reckoned from them, so that a whole yard costs a handful of indexed queries a machine. */
#include "daemon/yard/yard.h"

#include <stdlib.h>
#include <string.h>

#include "daemon/ground/zone.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/services.h"
#include "daemon/upkeep/compare.h"
#include "daemon/upkeep/forecast.h"
#include "daemon/yard/history.h"

#define WANTED_DAYS 14.0 /* without a reading, however seldom the machine is read */

/* What all plans of one machine share. */
struct machine_view {
    struct yard *yard;
    int32_t machine;
    int32_t today;
    struct history history;
    struct forecast_pace pace;
    struct yard_standing common; /* what is the same in each of its standings */
};

/* A service that was recorded after the booking ends it. */
static enum ledger_result is_served(struct machine_view *view, bool *served)
{
    const struct settings *settings = view->yard->settings;
    const struct settings_kind *kind = yard_kind(settings, view->machine);
    const struct history *history = &view->history;
    enum ledger_result result = LEDGER_OK;
    for (size_t i = 0; i < kind->plan_count && result == LEDGER_OK; i++) {
        struct service_row row = {0};
        result = services_last(view->yard->ledger, history->machine_id,
                               settings->plans[kind->plans[i]].name, history->at_s, &row);
        *served = *served || (result == LEDGER_OK && row.noted_s > history->movement.at_s);
        result = result == LEDGER_NONE ? LEDGER_OK : result;
    }
    return result;
}

/* Where the machine is: what was said last holds, but gone by the config is gone. */
static enum ledger_result find_place(struct machine_view *view)
{
    const struct settings_machine *machine = &view->yard->settings->machines[view->machine];
    const struct movement *last = &view->history.movement;
    struct yard_standing *common = &view->common;
    enum ledger_result result = LEDGER_OK;
    int32_t said_day = zone_civil(last->at_s).day;
    if (machine->gone && machine->gone_day <= view->today) {
        common->gone = true;
        common->gone_day = machine->gone_day;
    } else if (view->history.moved && last->kind == MOVEMENT_GONE) {
        common->gone_day = last->day != 0 ? last->day : said_day;
        common->gone = common->gone_day <= view->today;
    } else if (view->history.moved && last->kind == MOVEMENT_IN) {
        common->in_shop = true;
        common->in_since_s = last->at_s;
    } else if (view->history.moved && last->kind == MOVEMENT_BOOK) {
        bool served = false;
        result = is_served(view, &served);
        common->booked = !served;
        common->booked_day = last->day;
        common->booked_s = last->at_s;
    }
    return result;
}

static enum ledger_result view_machine(struct yard *yard, int32_t machine, int64_t now_s,
                                       struct machine_view *view)
{
    struct history *history = &view->history;
    struct yard_standing *common = &view->common;
    memset(view, 0, sizeof *view);
    view->yard = yard;
    view->machine = machine;
    view->today = zone_civil(now_s).day;
    enum ledger_result result = history_load(yard, machine, now_s, true, history);
    struct usage_record record = history_record(yard, machine, history, 0);
    view->pace = forecast_pace_of(&record, now_s);
    common->machine = machine;
    common->machine_id = history->machine_id;
    common->parked = history->parked;
    common->hours_a_day = history->parked ? 0 : view->pace.hours_a_day;
    common->usage_rests = view->pace.rests_on;
    common->read = history->reading_count > 0;
    if (common->read) {
        common->true_hundredths = history->readings[0].true_hundredths;
        common->meter_hundredths = common->true_hundredths - history->offset_hundredths;
        common->read_s = history->readings[0].at_s;
        common->cause_reading_id = history->reading_ids[0];
    }
    return result == LEDGER_OK ? find_place(view) : result;
}

/* The first day with a reading at or past the point, as far back as readings are loaded. Where that
 * is among the thinned ones, those between are asked for. */
static enum ledger_result find_reached(const struct machine_view *view, int64_t due_hundredths,
                                       struct due_facts *facts)
{
    const struct history *history = &view->history;
    size_t past = 0; /* so many of the newest are at or past it */
    while (past < history->reading_count &&
           history->readings[past].true_hundredths >= due_hundredths) {
        past++;
    }
    if (past == 0) {
        return LEDGER_OK;
    }
    int64_t reached_s = history->readings[past - 1].at_s;
    enum ledger_result result = LEDGER_OK;
    bool found = past <= history->recent_count || past == history->reading_count;
    int64_t before_s = found ? 0 : history->readings[past].at_s;
    while (!found && result == LEDGER_OK) {
        struct reading_row row;
        result = readings_next_after(view->yard->ledger, history->machine_id, before_s, &row);
        found = result != LEDGER_OK || row.true_hundredths >= due_hundredths;
        before_s = row.read_s;
        reached_s = found && result == LEDGER_OK ? row.read_s : reached_s;
    }
    facts->reached = true;
    facts->reached_day = zone_civil(reached_s).day;
    return result;
}

/* So many days of work after the last reading: what the machine was laid up since is none. */
static int32_t day_after(const struct machine_view *view, double days)
{
    int64_t from_s = view->history.readings[0].at_s;
    int64_t rested_s = view->history.at_s - from_s - (int64_t)(view->pace.since_days * 86400 + 0.5);
    return zone_civil(from_s + rested_s + (int64_t)(days * 86400)).day;
}

/* Days on which the hours reach the point. False where the usage does not lead there. */
static bool forecast_hours(const struct machine_view *view, const struct due_facts *facts,
                           const struct due_point *point, struct yard_standing *standing)
{
    if (!point->known) {
        return false;
    }
    if (point->left_hundredths <= 0) {
        standing->due_day = standing->earliest_day = standing->latest_day = facts->reached_day;
        return true;
    }
    struct forecast forecast = forecast_of(point->left_hundredths, &view->pace);
    if (standing->parked || !forecast.known) {
        return false;
    }
    /* A usual use that has led past the point already is no reading: what is not known to be reached
     * comes due today or later. */
    standing->due_day = (int32_t)greater(day_after(view, forecast.days), view->today);
    standing->earliest_day = day_after(view, forecast.early_days);
    standing->latest_day = (int32_t)greater(day_after(view, forecast.late_days), view->today);
    /* No reading is not standing still: what was run at the usual pace may have led near. */
    int32_t days = day_after(view, forecast.worked_days) - view->today;
    bool silent = view->pace.silent_days > 0 || view->pace.since_days > WANTED_DAYS;
    standing->wanted =
        days < 0 ||
        (silent && days <= view->yard->settings->plans[standing->plan].plan.notice_days);
    return true;
}

/* Hours or calendar, whichever comes first. */
static void take_the_earlier(const struct due_point *point, bool by_hours,
                             struct yard_standing *standing)
{
    standing->has_forecast = by_hours || point->has_limit;
    if (point->has_limit && (!by_hours || standing->due_day >= point->limit_day)) {
        int32_t limit = point->limit_day;
        standing->by = DUE_BY_DATE;
        standing->due_day = standing->latest_day = limit;
        standing->earliest_day = by_hours ? (int32_t)lesser(standing->earliest_day, limit) : limit;
    }
}

/* What is known of the machine for that plan, and what of it a standing shows. */
static enum ledger_result find_facts(struct machine_view *view, struct yard_standing *standing,
                                     struct due_facts *facts)
{
    struct history *history = &view->history;
    *facts = (struct due_facts){.today = view->today,
                                .read = standing->read,
                                .parked = standing->parked,
                                .true_hundredths = standing->true_hundredths};
    enum ledger_result result =
        history_last_service(view->yard, view->machine, standing->plan, history, &facts->last,
                             &standing->cause_service_id);
    if (result == LEDGER_OK && !(facts->last.present && facts->last.day_known)) {
        result = history_begin(view->yard, view->machine, history, facts);
    }
    standing->cycle = due_cycle(&facts->last);
    standing->serviced = facts->last.present;
    if (facts->last.present) {
        standing->last_done_true_hundredths = facts->last.true_hundredths;
        standing->last_done_meter_hundredths =
            facts->last.true_hundredths - history->offset_hundredths;
        standing->last_done_day_known = facts->last.day_known && !facts->last.day_unsaid;
        standing->last_done_day = facts->last.day;
    }
    return result;
}

static enum ledger_result stand_plan(struct machine_view *view, int32_t plan,
                                     struct yard_standing *standing)
{
    const struct plan *rules = &view->yard->settings->plans[plan].plan;
    struct due_facts facts;
    *standing = view->common;
    standing->plan = plan;
    enum ledger_result result = find_facts(view, standing, &facts);
    struct due_point point = due_point_of(rules, &facts);
    if (point.known && result == LEDGER_OK) {
        result = find_reached(view, point.due_hundredths, &facts);
    }
    standing->has_due = point.known;
    standing->due_true_hundredths = point.due_hundredths;
    standing->due_meter_hundredths = point.due_hundredths - view->history.offset_hundredths;
    standing->left_hundredths = point.left_hundredths;
    standing->has_limit_day = point.has_limit;
    standing->limit_from_day = point.limit_from_day;
    standing->limit_day = point.limit_day;
    bool by_hours = forecast_hours(view, &facts, &point, standing);
    take_the_earlier(&point, by_hours, standing);
    standing->stage = due_stage_of(rules, &facts, &point, by_hours, standing->due_day);
    if (standing->wanted) {
        standing->likely_meter_hundredths =
            standing->meter_hundredths + (int64_t)(view->pace.since_hours * 100);
    }
    return result;
}

enum ledger_result yard_stand(struct yard *yard, int32_t machine, int32_t plan, int64_t now_s,
                              struct yard_standing *standing)
{
    struct machine_view view;
    enum ledger_result result = view_machine(yard, machine, now_s, &view);
    enum ledger_result planned = stand_plan(&view, plan, standing);
    return result == LEDGER_OK ? planned : result;
}

enum ledger_result yard_stand_machine(struct yard *yard, int32_t machine, int64_t now_s,
                                      struct yard_standing *standings)
{
    const struct settings_kind *kind = yard_kind(yard->settings, machine);
    struct machine_view view;
    enum ledger_result result = view_machine(yard, machine, now_s, &view);
    for (size_t i = 0; i < kind->plan_count && result == LEDGER_OK; i++) {
        result = stand_plan(&view, (int32_t)kind->plans[i], &standings[i]);
    }
    return result;
}

int yard_worst_first(const struct yard_standing *one, const struct yard_standing *other)
{
    if (one->stage != other->stage) {
        return one->stage > other->stage ? -1 : 1;
    }
    if (one->has_forecast != other->has_forecast) {
        return one->has_forecast ? -1 : 1;
    }
    if (one->has_forecast && one->due_day != other->due_day) {
        return compare(one->due_day, other->due_day);
    }
    return compare(one->left_hundredths, other->left_hundredths);
}

static int compare_standings(const void *one, const void *other)
{
    const struct yard_standing *a = one;
    const struct yard_standing *b = other;
    int order = yard_worst_first(a, b);
    order = order != 0 ? order : compare(a->machine, b->machine);
    return order != 0 ? order : compare(a->plan, b->plan);
}

enum ledger_result yard_stand_all(struct yard *yard, int64_t now_s,
                                  struct yard_standing **standings, size_t *count)
{
    const struct settings *settings = yard->settings;
    size_t room = 1;
    for (size_t i = 0; i < settings->machine_count; i++) {
        room += yard_kind(settings, (int32_t)i)->plan_count;
    }
    *count = 0;
    *standings = calloc(room, sizeof **standings);
    if (*standings == NULL) {
        return LEDGER_IO;
    }
    enum ledger_result result = LEDGER_OK;
    for (size_t i = 0; i < settings->machine_count && result == LEDGER_OK; i++) {
        struct yard_standing *first = &(*standings)[*count];
        result = yard_stand_machine(yard, (int32_t)i, now_s, first);
        *count += first->gone ? 0 : yard_kind(settings, (int32_t)i)->plan_count;
    }
    if (result != LEDGER_OK) {
        free(*standings);
        *standings = NULL;
        *count = 0;
        return result;
    }
    qsort(*standings, *count, sizeof **standings, compare_standings);
    return LEDGER_OK;
}
