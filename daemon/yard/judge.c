/* SPDX-License-Identifier: MIT
 *
 * judge: what a new figure is worth against what is on record, and what was meant where it cannot
 * be true. The offers are tried in one order; the first that holds is made. */
#include "daemon/upkeep/doubt.h"
#include "daemon/upkeep/meter.h"
#include "daemon/yard/bounds.h"
#include "daemon/yard/yard.h"
#include "daemon/ground/zone.h"

#define DAY_S 86400.0
/* Soft doubt: more than three times the usual use and four hours above it (a rule of this house, no
 * source). Less than a day counts as one, since nobody is surprised by a machine that ran all
 * morning. */
#define SOFT_TIMES 3.0
#define SOFT_HOURS 4.0
#define TENTHS_READINGS 4 /* the last ones that tell whether a machine is read with tenths */

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
    for (size_t i = 0; i < history->reading_count && i < TENTHS_READINGS; i++) {
        tenths = tenths || history->meters[i] % 100 != 0;
    }
    return tenths;
}

static const struct settings_kind *kind_of(const struct matter *matter)
{
    const struct settings *settings = matter->yard->settings;
    return &settings->kinds[settings->machines[matter->machine].kind];
}

static bool more_digits_than_meter(const struct matter *matter)
{
    return meter_whole_digits(matter->hundredths) >
           meter_whole_digits(kind_of(matter)->meter_limit_hundredths);
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
    if (matter->decimal_digits > 0 || !within(&matter->bounds.range, pointed) ||
        !(lost_point(matter) || more_digits_than_meter(matter))) {
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
        !bounds_before_last(matter->yard, matter->machine, bounds, &before) ||
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

/* The same figure on another machine of the sender that has a reading on record. */
static enum ledger_result add_machine(const struct matter *matter, int32_t machine,
                                      struct doubt_search *search)
{
    struct bounds bounds;
    enum ledger_result result = bounds_find(matter->yard, machine, matter->bounds.read_s, &bounds);
    struct doubt_candidate candidate = {
        .slip = DOUBT_SLIP_MACHINE,
        .machine = machine,
        .hundredths = matter->hundredths,
        .away_hundredths = doubt_away(matter->hundredths, bounds.predicted),
    };
    if (result == LEDGER_OK && bounds.has_last && within(&bounds.range, matter->hundredths)) {
        doubt_consider(search, &candidate);
    }
    return result;
}

static enum ledger_result add_machines(const struct matter *matter, struct doubt_search *search)
{
    const struct settings *settings = matter->yard->settings;
    enum ledger_result result = LEDGER_OK;
    if (matter->person < 0 || settings->people[matter->person].role != SETTINGS_ROLE_CREW) {
        return LEDGER_OK;
    }
    for (size_t i = 0; i < settings->machine_count && result == LEDGER_OK; i++) {
        if (i != (size_t)matter->machine && looks_after(&settings->machines[i], matter->person)) {
            result = add_machine(matter, (int32_t)i, search);
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
    int64_t limit = kind_of(matter)->meter_limit_hundredths;
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
                              int32_t decimal_digits, int64_t read_s, int64_t now_s, int32_t person,
                              struct yard_judgement *judgement)
{
    (void)now_s; /* what is judged depends on when it was read alone */
    struct matter matter = {.yard = yard,
                            .machine = machine,
                            .hundredths = hundredths,
                            .decimal_digits = decimal_digits,
                            .person = person};
    const struct bounds *bounds = &matter.bounds;
    enum ledger_result result = bounds_find(yard, machine, read_s, &matter.bounds);
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
