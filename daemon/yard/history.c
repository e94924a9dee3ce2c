/* SPDX-License-Identifier: MIT
 *
 * history: what the ledger has on one machine.
 *
 * Figures of the config (`started`, `last_done`) are taken as true hours: they were read off the
 * meter that the machine had before the ledger began. */
#include "daemon/yard/history.h"

#include <string.h>

#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/services.h"
#include "daemon/ground/zone.h"

/* Spells come oldest first: the oldest makes room once there are too many. One that begins after
 * the moment asked about is not known then. */
static void take_spell(void *ctx, int64_t from_s, int64_t until_s)
{
    struct history *history = ctx;
    if (from_s > history->at_s) {
        return;
    }
    if (history->spell_count == USAGE_SPELLS_MAX) {
        memmove(&history->spells[0], &history->spells[1],
                (USAGE_SPELLS_MAX - 1) * sizeof history->spells[0]);
        history->spell_count--;
    }
    struct usage_spell *spell = &history->spells[history->spell_count++];
    spell->from_s = from_s;
    spell->until_s = until_s > 0 ? until_s : INT64_MAX;
    history->parked = history->parked || history->at_s < spell->until_s;
}

/* Oldest first, as spells. */
static void take_movement(void *ctx, const struct movement *movement)
{
    struct history *history = ctx;
    if (movement->struck_s == 0 && movement->at_s <= history->at_s) {
        history->moved = true;
        history->movement = *movement;
    }
}

#define WEEK_S INT64_C(604800)
#define WEEKS(count)                                                                               \
    ((count)*WEEK_S - 43200) /* from a reading to one of the same weekday, or near it */

/* Beyond the recent readings, which are of two weeks where a machine is read daily. Each costs a look
 * into another page of the ledger. */
static const int64_t steps_s[HISTORY_OLDER] = {WEEKS(1), WEEKS(3), WEEKS(6), WEEKS(14), WEEKS(28)};

/* Two weeks apart, over the almanac's year and what lies before it. */
#define SETTLED_DAYS 28
#define YEAR_STEPS 31
#define YEAR_MACHINES 24 /* of a large yard so many, spread over the roster, speak for all */

static enum ledger_result add_to_almanac(struct yard *yard, int32_t machine, int64_t until_s)
{
    int64_t steps[YEAR_STEPS];
    int64_t offset_hundredths = 0;
    size_t recent_count = 0;
    struct reading_point points[1 + YEAR_STEPS];
    struct usage_reading readings[1 + YEAR_STEPS];
    struct usage_record record = {.readings = readings};
    struct readings_choice choice = {.from_s = until_s - 64 * WEEK_S,
                                     .until_s = until_s,
                                     .recent = 1,
                                     .steps_s = steps,
                                     .step_count = YEAR_STEPS};
    enum ledger_result result =
        machines_id(yard->ledger, yard->settings->machines[machine].name, &choice.machine_id);
    for (size_t i = 0; i < YEAR_STEPS; i++) {
        steps[i] = WEEKS(2);
    }
    if (result == LEDGER_OK) {
        result = readings_thinned(yard->ledger, &choice, points, &recent_count, &record.count,
                                  &offset_hundredths);
    }
    for (size_t i = 0; i < record.count; i++) {
        readings[i] = (struct usage_reading){points[i].read_s, points[i].true_hundredths};
    }
    almanac_add(&yard->almanac, &record);
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

/* Once a day and roster. Of a year that ended four weeks ago: what is told late or struck out is mostly
 * younger, so that who keeps the almanac and who makes it anew have the same. */
static enum ledger_result renew_almanac(struct yard *yard, int64_t now_s)
{
    const struct settings *settings = yard->settings;
    int32_t day = zone_civil(now_s).day;
    int64_t until_s = zone_unix(day - SETTLED_DAYS, 0);
    enum ledger_result result = LEDGER_OK;
    if (yard->almanac_of == settings && yard->almanac_day == day) {
        return LEDGER_OK;
    }
    size_t step = (settings->machine_count + YEAR_MACHINES - 1) / YEAR_MACHINES;
    yard->almanac = almanac_begin(until_s);
    for (size_t i = 0; i < settings->machine_count && result == LEDGER_OK; i += step) {
        if (!settings->machines[i].gone) {
            result = add_to_almanac(yard, (int32_t)i, until_s);
        }
    }
    almanac_settle(&yard->almanac);
    yard->almanac_day = day;
    yard->almanac_of = result == LEDGER_OK ? settings : NULL;
    return result;
}

enum ledger_result history_load(struct yard *yard, int32_t machine, int64_t until_s,
                                bool with_older, struct history *history)
{
    memset(history, 0, sizeof *history);
    history->at_s = until_s;
    const char *name = yard->settings->machines[machine].name;
    enum ledger_result result = machines_id(yard->ledger, name, &history->machine_id);
    if (result != LEDGER_OK) {
        history->machine_id = 0;
        return result == LEDGER_NONE ? LEDGER_OK : result;
    }
    struct reading_point points[HISTORY_RECENT + HISTORY_OLDER];
    struct readings_choice choice = {.machine_id = history->machine_id,
                                     .from_s = until_s - 53 * WEEK_S,
                                     .until_s = until_s,
                                     .recent = HISTORY_RECENT,
                                     .steps_s = steps_s,
                                     .step_count = with_older ? HISTORY_OLDER : 0};
    result = readings_thinned(yard->ledger, &choice, points, &history->recent_count,
                              &history->reading_count, &history->offset_hundredths);
    for (size_t i = 0; i < history->reading_count; i++) {
        history->readings[i] = (struct usage_reading){points[i].read_s, points[i].true_hundredths};
    }
    for (size_t i = 0; i < history->recent_count; i++) {
        history->reading_ids[i] = points[i].id;
        history->meters[i] = points[i].meter_hundredths;
    }
    if (result == LEDGER_OK) {
        result = machines_parked_each(yard->ledger, history->machine_id, take_spell, history);
    }
    if (result == LEDGER_OK && with_older) {
        result = movements_each(yard->ledger, history->machine_id, take_movement, history);
    }
    if ((result == LEDGER_OK || result == LEDGER_NONE) && with_older) {
        result = renew_almanac(yard, until_s);
        history->in_year = result == LEDGER_OK;
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

/* Asked of the ledger once at most. */
static enum ledger_result look_up_first(struct yard *yard, struct history *history)
{
    if (history->first_looked_up || history->machine_id == 0) {
        return LEDGER_OK;
    }
    enum ledger_result result = readings_first(yard->ledger, history->machine_id, &history->first);
    history->has_first = result == LEDGER_OK;
    history->first_looked_up = history->has_first || result == LEDGER_NONE;
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result history_begin(struct yard *yard, int32_t machine, struct history *history,
                                 struct due_facts *facts)
{
    const struct settings_machine *of = &yard->settings->machines[machine];
    enum ledger_result result = look_up_first(yard, history);
    /* A first reading that is later than the moment asked about is not known then. */
    bool has_first = history->has_first && history->reading_count > 0;
    if (has_first) {
        facts->begun = true;
        facts->begun_day = zone_civil(history->first.read_s).day;
        facts->first_heard_hundredths = history->first.true_hundredths;
    }
    if (has_first && of->started_hundredths > 0) {
        facts->first_heard_hundredths = of->started_hundredths;
    }
    if (of->started_day_known && !facts->last.present) {
        facts->begun = true;
        facts->begun_day = of->started_day;
    }
    return result;
}

static struct service seed_of(const struct settings *settings, int32_t machine, int32_t plan)
{
    struct service service = {0};
    const struct settings_machine *of = &settings->machines[machine];
    const struct settings_kind *kind = yard_kind(settings, machine);
    for (size_t i = 0; i < kind->plan_count; i++) {
        if (kind->plans[i] == (size_t)plan && of->last_done[i].present) {
            service.present = true;
            service.true_hundredths = of->last_done[i].hundredths;
            service.day_known = of->last_done[i].day_known;
            service.day = of->last_done[i].day;
        }
    }
    return service;
}

/* A seed further on than the ledger's service still holds where it is older than the ledger's
 * readings: then the ledger's is one of the past, noted later. */
static enum ledger_result seed_holds(struct yard *yard, struct history *history,
                                     const struct service *seed, const struct service *kept,
                                     bool *holds)
{
    *holds = false;
    if (!seed->present || seed->true_hundredths <= kept->true_hundredths) {
        return LEDGER_OK;
    }
    enum ledger_result result = look_up_first(yard, history);
    *holds = history->has_first && seed->true_hundredths <= history->first.true_hundredths;
    return result;
}

enum ledger_result history_last_service(struct yard *yard, int32_t machine, int32_t plan,
                                        struct history *history, struct service *service,
                                        int64_t *service_id)
{
    struct service seed = seed_of(yard->settings, machine, plan);
    struct service_row row;
    *service = seed;
    *service_id = 0;
    if (history->machine_id == 0) {
        return LEDGER_OK;
    }
    enum ledger_result result = services_last(
        yard->ledger, history->machine_id, yard->settings->plans[plan].name, history->at_s, &row);
    if (result != LEDGER_OK) {
        return result == LEDGER_NONE ? LEDGER_OK : result;
    }
    struct service kept = {.present = true,
                           .true_hundredths = row.true_hundredths,
                           .day = zone_civil(row.done_s).day,
                           .day_known = row.done_s != 0,
                           .day_unsaid = row.undated};
    bool holds = false;
    result = seed_holds(yard, history, &seed, &kept, &holds);
    if (!holds) {
        *service = kept;
        *service_id = row.id;
    }
    return result;
}

struct usage_record history_record(const struct yard *yard, int32_t machine,
                                   const struct history *history, size_t from)
{
    size_t left_out = from < history->reading_count ? from : history->reading_count;
    return (struct usage_record){
        .count = history->reading_count - left_out,
        .readings = &history->readings[left_out],
        .spell_count = history->spell_count,
        .spells = history->spells,
        .typical_hours_a_day = (double)yard_kind(yard->settings, machine)->week_hundredths / 700,
        .almanac = history->in_year && yard->almanac.votes > 0 ? &yard->almanac : NULL};
}
