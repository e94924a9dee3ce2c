/* SPDX-License-Identifier: MIT
 *
 * judge: what a new figure is worth against what is on record. */
#include <string.h>

#include "daemon/ledger/readings.h"
#include "daemon/upkeep/usage.h"
#include "daemon/yard/allowance.h"
#include "daemon/yard/history.h"
#include "daemon/yard/yard.h"
#include "daemon/zone.h"

#define DAY_S 86400.0
/* Soft doubt: more than three times the usual use and four hours above it (house rule, no source).
 * A day counts whole, since nobody is surprised by a machine that ran all morning. */
#define SOFT_TIMES 3.0
#define SOFT_HOURS 4.0

/* What bounds a figure of one machine at one moment; all in hundredths of that moment's meter. */
struct bounds {
    struct history history;
    bool has_last;
    int64_t last;
    bool has_next; /* the figure is of the past: there is a later reading */
    int64_t next;
    int32_t next_day;
    int64_t least, most;
};

static const struct settings_kind *kind_of(const struct yard *yard, int32_t machine)
{
    return &yard->settings->kinds[yard->settings->machines[machine].kind];
}

/* The config's lower bounds, which carry no date: they hold where no reading says more. */
static int64_t floor_of(const struct yard *yard, int32_t machine, bool has_next)
{
    const struct settings_machine *of = &yard->settings->machines[machine];
    int64_t floor = of->started_hundredths;
    for (size_t i = 0; i < kind_of(yard, machine)->plan_count && !has_next; i++) {
        if (of->last_done[i].present && of->last_done[i].hundredths > floor) {
            floor = of->last_done[i].hundredths;
        }
    }
    return floor;
}

static enum ledger_result load_next(struct yard *yard, int64_t read_s, struct bounds *bounds,
                                    int64_t *next_s)
{
    struct reading_row row;
    if (bounds->history.machine_id == 0) {
        return LEDGER_OK;
    }
    enum ledger_result result =
        readings_next_after(yard->ledger, bounds->history.machine_id, read_s, &row);
    if (result == LEDGER_OK) {
        bounds->has_next = true;
        bounds->next = row.true_hundredths - bounds->history.offset_hundredths;
        bounds->next_day = zone_civil(row.read_s).day;
        *next_s = row.read_s;
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

static int64_t lesser(int64_t one, int64_t other)
{
    return one < other ? one : other;
}

static int64_t greater(int64_t one, int64_t other)
{
    return one > other ? one : other;
}

static enum ledger_result find_bounds(struct yard *yard, int32_t machine, int64_t read_s,
                                      struct bounds *bounds)
{
    int64_t next_s = 0;
    const struct settings_kind *kind = kind_of(yard, machine);
    memset(bounds, 0, sizeof *bounds);
    struct history *history = &bounds->history;
    enum ledger_result result = history_load(yard, machine, read_s, history);
    if (result == LEDGER_OK) {
        result = load_next(yard, read_s, bounds, &next_s);
    }
    bounds->least = floor_of(yard, machine, bounds->has_next) - history->offset_hundredths;
    bounds->most = kind->meter_limit_hundredths;
    bounds->has_last = history->reading_count > 0;
    if (bounds->has_last) {
        int64_t allowed =
            allowance_between(history->readings[0].at_s, read_s, kind->most_day_hundredths);
        bounds->last = history->readings[0].true_hundredths - history->offset_hundredths;
        bounds->least = bounds->last;
        bounds->most = lesser(bounds->most, bounds->last + allowed);
    }
    if (bounds->has_next) {
        int64_t allowed = allowance_between(read_s, next_s, kind->most_day_hundredths);
        bounds->least = greater(bounds->least, bounds->next - allowed);
        bounds->most = lesser(bounds->most, bounds->next);
    }
    return result;
}

static bool same_day(const struct bounds *bounds, int64_t hundredths, int64_t read_s)
{
    int32_t day = zone_civil(read_s).day;
    return (bounds->has_last && bounds->last == hundredths &&
            zone_civil(bounds->history.readings[0].at_s).day == day) ||
           (bounds->has_next && bounds->next == hundredths && bounds->next_day == day);
}

/* What the figure means in hours a day since the last reading, and whether that is far above the
 * usual use. */
static bool soft_doubt(const struct bounds *bounds, double usual_hours_a_day, int64_t hundredths,
                       int64_t read_s, double *hours_a_day)
{
    *hours_a_day = 0;
    if (!bounds->has_last) {
        return false;
    }
    double days = (double)(read_s - bounds->history.readings[0].at_s) / DAY_S;
    double hours = (double)(hundredths - bounds->last) / 100;
    days = days > 1 ? days : 1;
    *hours_a_day = hours / days;
    return hours > SOFT_TIMES * usual_hours_a_day * days &&
           hours > usual_hours_a_day * days + SOFT_HOURS;
}

enum ledger_result yard_judge(struct yard *yard, int32_t machine, int64_t hundredths,
                              int32_t decimal_digits, int64_t read_s, int64_t now_s, int32_t person,
                              struct yard_judgement *judgement)
{
    (void)decimal_digits;
    (void)now_s;
    (void)person;
    struct bounds bounds;
    enum ledger_result result = find_bounds(yard, machine, read_s, &bounds);
    *judgement = (struct yard_judgement){.verdict = YARD_DOUBTFUL,
                                         .offer = YARD_OFFER_NONE,
                                         .offer_machine = -1,
                                         .last_hundredths = bounds.has_last ? bounds.last : -1,
                                         .most_hundredths = bounds.has_last ? bounds.most : -1};
    if (bounds.has_last) {
        judgement->last_read_s = bounds.history.readings[0].at_s;
    }
    struct usage usage = history_usage(yard, machine, &bounds.history, 0);
    if (same_day(&bounds, hundredths, read_s)) {
        judgement->verdict = YARD_ALREADY_NOTED;
    } else if (hundredths >= bounds.least && hundredths <= bounds.most) {
        bool soft =
            soft_doubt(&bounds, usage.hours_a_day, hundredths, read_s, &judgement->day_hours);
        judgement->verdict = soft ? YARD_SOFT_DOUBT : YARD_PLAUSIBLE;
    }
    return result;
}
