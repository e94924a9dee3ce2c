/* SPDX-License-Identifier: MIT
 *
 * judge: what a new figure is worth against what is on record, and what was meant where it cannot
 * be true.
 *
 * First come the bounds: between which figures a reading of one machine at one moment must lie, by
 * its neighbours in time and by the clock, and what the usage predicts, all in hundredths of the
 * meter that the machine has at that moment. Where the figure lies outside, offers are tried in one
 * order; the first that holds is made. */
#include <string.h>

#include "daemon/ground/zone.h"
#include "daemon/ledger/readings.h"
#include "daemon/upkeep/compare.h"
#include "daemon/upkeep/doubt.h"
#include "daemon/yard/history.h"
#include "daemon/yard/yard.h"

#define DAY_S 86400.0
/* Days looked at one by one; the first ones beyond that are taken at the full day. */
#define DAYS_MAX 800
/* Soft doubt: more than three times the usual use and four hours above it (a rule of this house, no
 * source). Less than a day counts as one, since nobody is surprised by a machine that ran all
 * morning. */
#define SOFT_TIMES 3.0
#define SOFT_HOURS 4.0
#define TENTHS_READINGS 4 /* the last ones that tell whether a machine is read with tenths */

int64_t yard_allowance(int64_t from_s, int64_t until_s, int64_t most_day_hundredths)
{
    int64_t allowed_s = 0;
    int64_t most_s = most_day_hundredths * YARD_HUNDREDTH_S;
    int32_t first = zone_civil(from_s).day;
    int32_t last = zone_civil(until_s).day;
    if (last > first && last - first > DAYS_MAX) {
        allowed_s = (last - first - DAYS_MAX) * most_s;
        first = last - DAYS_MAX;
    }
    int64_t start_s = from_s;
    for (int32_t day = first; day <= last && start_s < until_s; day++) {
        int64_t end_s = lesser(zone_unix(day + 1, 0), until_s);
        allowed_s += end_s > start_s ? lesser(end_s - start_s, most_s) : 0;
        start_s = end_s;
    }
    return (allowed_s + YARD_HUNDREDTH_S - 1) / YARD_HUNDREDTH_S + YARD_ROUNDING_HUNDREDTHS;
}

struct bounds {
    struct history history; /* up to that moment */
    int64_t read_s;
    bool has_last;
    int64_t last;
    int64_t allowed; /* by the clock since the last reading */
    bool has_next;   /* there is a later reading: the figure is of the past */
    int64_t next;
    int64_t next_s;
    struct doubt_range range; /* what can be true */
    double hours_a_day;       /* usage up to that moment */
    int64_t predicted;        /* without a reading: the config's lower bound */
};

struct bounds_before_last {
    struct doubt_range range;
    int64_t predicted;         /* at the moment asked about */
    int64_t predicted_at_last; /* at the moment of the last reading */
};

/* The config's lower bounds, which carry no date: they hold where no reading says more. A figure of
 * the past may well lie below `last_done`. */
static int64_t floor_of(const struct yard *yard, int32_t machine, bool of_the_past)
{
    const struct settings_machine *of = &yard->settings->machines[machine];
    int64_t floor = of->started_hundredths;
    for (size_t i = 0; i < yard_kind(yard->settings, machine)->plan_count && !of_the_past; i++) {
        if (of->last_done[i].present) {
            floor = greater(floor, of->last_done[i].hundredths);
        }
    }
    return floor;
}

/* What the usage makes of reading `from` (index into the history) at that moment. */
static int64_t predict(const struct history *history, size_t from, double hours_a_day, int64_t at_s)
{
    struct usage_record record = {.spell_count = history->spell_count, .spells = history->spells};
    int64_t working_s = usage_working_s(&record, history->readings[from].at_s, at_s);
    return history->readings[from].true_hundredths - history->offset_hundredths +
           (int64_t)(hours_a_day * 100 * (double)working_s / DAY_S);
}

static enum ledger_result find_bounds(struct yard *yard, int32_t machine, int64_t read_s,
                                      struct bounds *bounds)
{
    const struct settings_kind *kind = yard_kind(yard->settings, machine);
    struct history *history = &bounds->history;
    struct doubt_range *range = &bounds->range;
    struct reading_row next;
    *bounds = (struct bounds){.read_s = read_s};
    enum ledger_result result = history_load(yard, machine, read_s, false, history);
    if (result == LEDGER_OK && history->machine_id != 0) {
        result = readings_next_after(yard->ledger, history->machine_id, read_s, &next);
        bounds->has_next = result == LEDGER_OK;
        result = result == LEDGER_NONE ? LEDGER_OK : result;
    }
    int64_t floor = floor_of(yard, machine, bounds->has_next) - history->offset_hundredths;
    *range = (struct doubt_range){.least = greater(0, floor), .most = kind->meter_limit_hundredths};
    struct usage_record record = history_record(yard, machine, history, 0);
    bounds->hours_a_day = forecast_pace_of(&record, read_s).hours_a_day;
    bounds->predicted = range->least;
    if (history->reading_count > 0) {
        bounds->has_last = true;
        bounds->last = history->readings[0].true_hundredths - history->offset_hundredths;
        bounds->allowed =
            yard_allowance(history->readings[0].at_s, read_s, kind->most_day_hundredths);
        bounds->predicted = predict(history, 0, bounds->hours_a_day, read_s);
        range->least = bounds->last;
        range->most = lesser(range->most, bounds->last + bounds->allowed);
    }
    if (bounds->has_next) {
        int64_t allowed = yard_allowance(read_s, next.read_s, kind->most_day_hundredths);
        bounds->next = next.true_hundredths - history->offset_hundredths;
        bounds->next_s = next.read_s;
        range->least = greater(range->least, bounds->next - allowed);
        range->most = lesser(range->most, bounds->next);
    }
    return result;
}

/* As if the last reading were not there. False where there is none before it. */
static bool find_bounds_before_last(const struct yard *yard, int32_t machine,
                                    const struct bounds *bounds, struct bounds_before_last *before)
{
    const struct settings_kind *kind = yard_kind(yard->settings, machine);
    const struct history *history = &bounds->history;
    if (history->reading_count < 2) {
        return false;
    }
    struct usage_record record = history_record(yard, machine, history, 1);
    double hours_a_day = forecast_pace_of(&record, bounds->read_s).hours_a_day;
    int64_t allowed =
        yard_allowance(history->readings[1].at_s, bounds->read_s, kind->most_day_hundredths);
    before->range.least = history->readings[1].true_hundredths - history->offset_hundredths;
    before->range.most = lesser(kind->meter_limit_hundredths, before->range.least + allowed);
    before->predicted = predict(history, 1, hours_a_day, bounds->read_s);
    before->predicted_at_last = predict(history, 1, hours_a_day, history->readings[0].at_s);
    return true;
}

/* One figure before the judge. */
struct matter {
    struct yard *yard;
    int32_t machine;
    int64_t hundredths;
    int32_t decimal_digits;
    int32_t person; /* -1 none */
    struct bounds bounds;
};

static bool within(const struct doubt_range *range, int64_t hundredths)
{
    return hundredths >= range->least && hundredths <= range->most;
}

static bool same_day(const struct bounds *bounds, int64_t hundredths)
{
    int32_t day = zone_civil(bounds->read_s).day;
    return (bounds->has_last && bounds->last == hundredths &&
            zone_civil(bounds->history.readings[0].at_s).day == day) ||
           (bounds->has_next && bounds->next == hundredths &&
            zone_civil(bounds->next_s).day == day);
}

static bool soft_doubt(const struct bounds *bounds, int64_t hundredths, double *day_hours)
{
    if (!bounds->has_last) {
        return false;
    }
    double days = (double)(bounds->read_s - bounds->history.readings[0].at_s) / DAY_S;
    double hours = (double)(hundredths - bounds->last) / 100;
    days = days > 1 ? days : 1;
    *day_hours = hours / days;
    return hours > SOFT_TIMES * bounds->hours_a_day * days &&
           hours > bounds->hours_a_day * days + SOFT_HOURS;
}

static bool read_with_tenths(const struct history *history)
{
    bool tenths = false;
    for (size_t i = 0; i < history->recent_count && i < TENTHS_READINGS; i++) {
        tenths = tenths || history->meters[i] % 100 != 0;
    }
    return tenths;
}

static bool lost_point(const struct matter *matter)
{
    const struct bounds *bounds = &matter->bounds;
    return bounds->has_last && doubt_lost_point(matter->hundredths, matter->decimal_digits,
                                                bounds->last, read_with_tenths(&bounds->history));
}

/* A point lost for certain: the place before the last digit is offered first. A figure that carries
 * one has not lost it. */
static bool offer_point(const struct matter *matter, struct yard_judgement *judgement)
{
    int64_t pointed = doubt_point_before_last(matter->hundredths);
    int64_t limit = yard_kind(matter->yard->settings, matter->machine)->meter_limit_hundredths;
    bool too_long = meter_whole_digits(matter->hundredths) > meter_whole_digits(limit);
    if (matter->decimal_digits > 0 || !within(&matter->bounds.range, pointed) ||
        !(lost_point(matter) || too_long)) {
        return false;
    }
    judgement->offer = YARD_OFFER_SLIP;
    judgement->offer_hundredths = pointed;
    return true;
}

static bool offer_last_wrong(const struct matter *matter, struct yard_judgement *judgement)
{
    const struct bounds *bounds = &matter->bounds;
    struct bounds_before_last before;
    if (!bounds->has_last || matter->hundredths >= bounds->last ||
        !find_bounds_before_last(matter->yard, matter->machine, bounds, &before) ||
        !within(&before.range, matter->hundredths) ||
        !doubt_much_nearer(doubt_away(matter->hundredths, before.predicted),
                           doubt_away(bounds->last, before.predicted_at_last))) {
        return false;
    }
    judgement->offer = YARD_OFFER_LAST_WRONG;
    judgement->offer_hundredths = matter->hundredths;
    judgement->strikes_reading_id = bounds->history.reading_ids[0];
    return true;
}

static bool looks_after(const struct settings_machine *machine, int32_t person)
{
    bool found = false;
    for (size_t i = 0; i < machine->crew_count; i++) {
        found = found || machine->crew[i] == (size_t)person;
    }
    return found;
}

/* The same figure on the other machines of the sender that have a reading on record. */
static enum ledger_result add_machines(const struct matter *matter, struct doubt_search *search)
{
    const struct settings *settings = matter->yard->settings;
    enum ledger_result result = LEDGER_OK;
    if (matter->person < 0 || settings->people[matter->person].role != SETTINGS_ROLE_CREW) {
        return LEDGER_OK;
    }
    for (size_t i = 0; i < settings->machine_count && result == LEDGER_OK; i++) {
        struct bounds bounds;
        if (i == (size_t)matter->machine || !looks_after(&settings->machines[i], matter->person)) {
            continue;
        }
        result = find_bounds(matter->yard, (int32_t)i, matter->bounds.read_s, &bounds);
        if (result == LEDGER_OK && bounds.has_last && within(&bounds.range, matter->hundredths)) {
            doubt_consider(
                search, &(struct doubt_candidate){
                            .slip = DOUBT_SLIP_MACHINE,
                            .machine = (int32_t)i,
                            .hundredths = matter->hundredths,
                            .away_hundredths = doubt_away(matter->hundredths, bounds.predicted)});
        }
    }
    return result;
}

static enum ledger_result offer_slip(const struct matter *matter, struct yard_judgement *judgement,
                                     bool *offered)
{
    struct doubt_search search = {0};
    doubt_add_slips(&search, matter->machine, matter->hundredths, matter->decimal_digits,
                    &matter->bounds.range, matter->bounds.predicted);
    enum ledger_result result = add_machines(matter, &search);
    *offered = result == LEDGER_OK && doubt_clearly_best(&search);
    if (*offered) {
        bool other = search.best.slip == DOUBT_SLIP_MACHINE;
        judgement->offer = other ? YARD_OFFER_MACHINE : YARD_OFFER_SLIP;
        judgement->offer_machine = other ? search.best.machine : -1;
        judgement->offer_hundredths = search.best.hundredths;
    }
    return result;
}

static void offer_new_meter(const struct matter *matter, struct yard_judgement *judgement)
{
    const struct bounds *bounds = &matter->bounds;
    int64_t limit = yard_kind(matter->yard->settings, matter->machine)->meter_limit_hundredths;
    if (!bounds->has_last) {
        return;
    }
    if (meter_rolled_over(limit, bounds->last, matter->hundredths, bounds->allowed)) {
        judgement->offer = YARD_OFFER_ROLL_OVER;
        judgement->old_last_hundredths = meter_period(limit);
    } else if (meter_swapped(bounds->last, matter->hundredths, bounds->allowed)) {
        judgement->offer = YARD_OFFER_SWAP;
        judgement->old_last_hundredths = bounds->last;
    } else {
        return;
    }
    judgement->offer_hundredths = matter->hundredths;
}

static enum ledger_result find_offer(const struct matter *matter, struct yard_judgement *judgement)
{
    bool offered = false;
    if (matter->bounds.has_next || offer_point(matter, judgement) ||
        offer_last_wrong(matter, judgement)) {
        return LEDGER_OK;
    }
    enum ledger_result result = offer_slip(matter, judgement, &offered);
    if (!offered) {
        offer_new_meter(matter, judgement);
    }
    return result;
}

/* A figure that the clock allows is doubted only where its lost point puts it much nearer to what
 * the usage predicts. */
static bool doubtful(const struct matter *matter)
{
    const struct bounds *bounds = &matter->bounds;
    int64_t pointed = doubt_point_before_last(matter->hundredths);
    if (!within(&bounds->range, matter->hundredths)) {
        return true;
    }
    return !bounds->has_next && lost_point(matter) && within(&bounds->range, pointed) &&
           doubt_much_nearer(doubt_away(pointed, bounds->predicted),
                             doubt_away(matter->hundredths, bounds->predicted));
}

enum ledger_result yard_judge(struct yard *yard, int32_t machine, int64_t hundredths,
                              int32_t decimal_digits, int64_t read_s, int32_t person,
                              struct yard_judgement *judgement)
{
    struct matter matter = {.yard = yard,
                            .machine = machine,
                            .hundredths = hundredths,
                            .decimal_digits = decimal_digits,
                            .person = person};
    const struct bounds *bounds = &matter.bounds;
    enum ledger_result result = find_bounds(yard, machine, read_s, &matter.bounds);
    *judgement = (struct yard_judgement){.verdict = YARD_PLAUSIBLE,
                                         .offer = YARD_OFFER_NONE,
                                         .offer_machine = -1,
                                         .offer_hundredths = -1,
                                         .last_hundredths = bounds->has_last ? bounds->last : -1,
                                         .most_hundredths = bounds->range.most};
    if (result != LEDGER_OK) {
        return result;
    }
    if (bounds->has_last) {
        judgement->last_read_s = bounds->history.readings[0].at_s;
    }
    if (same_day(bounds, hundredths)) {
        judgement->verdict = YARD_ALREADY_NOTED;
    } else if (doubtful(&matter)) {
        judgement->verdict = YARD_DOUBTFUL;
        result = find_offer(&matter, judgement);
    } else if (soft_doubt(bounds, hundredths, &judgement->day_hours)) {
        judgement->verdict = YARD_SOFT_DOUBT;
    }
    return result;
}
