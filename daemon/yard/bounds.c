/* SPDX-License-Identifier: MIT
 *
 * bounds: between which figures a reading must lie. */
#include "daemon/yard/bounds.h"

#include <string.h>

#include "daemon/ledger/readings.h"
#include "daemon/yard/allowance.h"

#define DAY_S 86400.0

static const struct settings_kind *kind_of(const struct yard *yard, int32_t machine)
{
    return &yard->settings->kinds[yard->settings->machines[machine].kind];
}

static int64_t lesser(int64_t one, int64_t other)
{
    return one < other ? one : other;
}

static int64_t greater(int64_t one, int64_t other)
{
    return one > other ? one : other;
}

/* The config's lower bounds, which carry no date: they hold where no reading says more. A figure of
 * the past may well lie below `last_done`. */
static int64_t floor_of(const struct yard *yard, int32_t machine, bool of_the_past)
{
    const struct settings_machine *of = &yard->settings->machines[machine];
    int64_t floor = of->started_hundredths;
    for (size_t i = 0; i < kind_of(yard, machine)->plan_count && !of_the_past; i++) {
        if (of->last_done[i].present) {
            floor = greater(floor, of->last_done[i].hundredths);
        }
    }
    return floor;
}

static enum ledger_result load_next(struct yard *yard, struct bounds *bounds)
{
    struct reading_row row;
    if (bounds->history.machine_id == 0) {
        return LEDGER_OK;
    }
    enum ledger_result result =
        readings_next_after(yard->ledger, bounds->history.machine_id, bounds->read_s, &row);
    if (result == LEDGER_OK) {
        bounds->has_next = true;
        bounds->next = row.true_hundredths - bounds->history.offset_hundredths;
        bounds->next_s = row.read_s;
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

/* What the usage makes of reading `from` (index into the history) at that moment. */
static int64_t predict(const struct history *history, size_t from, double hours_a_day, int64_t at_s)
{
    int64_t working_s =
        usage_working_s(history->readings[from].at_s, at_s, history->spells, history->spell_count);
    return history->readings[from].true_hundredths - history->offset_hundredths +
           (int64_t)(hours_a_day * 100 * (double)working_s / DAY_S);
}

static void bound_by_last(const struct settings_kind *kind, struct bounds *bounds)
{
    const struct history *history = &bounds->history;
    bounds->has_last = true;
    bounds->last = history->readings[0].true_hundredths - history->offset_hundredths;
    bounds->allowed =
        allowance_between(history->readings[0].at_s, bounds->read_s, kind->most_day_hundredths);
    bounds->range.least = bounds->last;
    bounds->range.most = lesser(bounds->range.most, bounds->last + bounds->allowed);
    bounds->predicted = predict(history, 0, bounds->hours_a_day, bounds->read_s);
}

static void bound_by_next(const struct settings_kind *kind, struct bounds *bounds)
{
    int64_t allowed = allowance_between(bounds->read_s, bounds->next_s, kind->most_day_hundredths);
    bounds->range.least = greater(bounds->range.least, bounds->next - allowed);
    bounds->range.most = lesser(bounds->range.most, bounds->next);
}

enum ledger_result bounds_find(struct yard *yard, int32_t machine, int64_t read_s,
                               struct bounds *bounds)
{
    const struct settings_kind *kind = kind_of(yard, machine);
    memset(bounds, 0, sizeof *bounds);
    bounds->read_s = read_s;
    enum ledger_result result = history_load(yard, machine, read_s, &bounds->history);
    if (result == LEDGER_OK) {
        result = load_next(yard, bounds);
    }
    bounds->hours_a_day = history_usage(yard, machine, &bounds->history, 0).hours_a_day;
    bounds->range.least =
        greater(0, floor_of(yard, machine, bounds->has_next) - bounds->history.offset_hundredths);
    bounds->range.most = kind->meter_limit_hundredths;
    bounds->predicted = bounds->range.least;
    if (bounds->history.reading_count > 0) {
        bound_by_last(kind, bounds);
    }
    if (bounds->has_next) {
        bound_by_next(kind, bounds);
    }
    return result;
}

bool bounds_before_last(const struct yard *yard, int32_t machine, const struct bounds *bounds,
                        struct bounds_before_last *before)
{
    const struct settings_kind *kind = kind_of(yard, machine);
    const struct history *history = &bounds->history;
    if (history->reading_count < 2) {
        return false;
    }
    double hours_a_day = history_usage(yard, machine, history, 1).hours_a_day;
    int64_t allowed =
        allowance_between(history->readings[1].at_s, bounds->read_s, kind->most_day_hundredths);
    before->range.least = history->readings[1].true_hundredths - history->offset_hundredths;
    before->range.most = lesser(kind->meter_limit_hundredths, before->range.least + allowed);
    before->predicted = predict(history, 1, hours_a_day, bounds->read_s);
    before->predicted_at_last = predict(history, 1, hours_a_day, history->readings[0].at_s);
    return true;
}
