/* SPDX-License-Identifier: MIT
 *
 * shelf: what is needed, and what was used. Quantities are summed in grains (upkeep/kit.h), so that
 * quarts and litres add up without loss.
 *
 * A quantity given with DONE is of the plan's fluid, all of it together, since that is what is
 * measured when a drive is filled. */
#include "daemon/yard/shelf.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/services.h"
#include "daemon/upkeep/compare.h"

#define SERVICES_MOST 100 /* of one plan within one look ahead: a bound on nonsense settings */

int64_t shelf_services(const struct yard_standing *standing, const struct plan *plan, int32_t today,
                       int32_t until_day)
{
    const struct due_stage_row *stage = due_stage_row(standing->stage);
    if (stage->rests || (!stage->needs_doing && !standing->has_forecast)) {
        return 0;
    }
    if (standing->stage == DUE_STAGE_NO_RECORD) {
        return 1;
    }
    /* What is due is done today at the earliest, and the next one counts from then. */
    int64_t from_day = stage->reached ? today : greater(standing->earliest_day, today);
    if (!stage->reached && from_day > until_day) {
        return 0;
    }
    int64_t days_after = until_day - from_day;
    double hours_after = days_after > 0 ? (double)days_after * standing->hours_a_day : 0;
    double rounds = hours_after * 100 / (double)plan->every_hundredths;
    return 1 + (rounds < SERVICES_MOST ? (int64_t)rounds : SERVICES_MOST);
}

int64_t shelf_fluid_grains(const struct settings_plan *plan)
{
    int64_t grains = 0;
    for (size_t i = 0; i < plan->kit_count; i++) {
        const struct settings_kit_item *kit = &plan->kit[i];
        if (kit_unit_row(kit->unit)->fluid) {
            grains = kit_add(grains, kit_grains(kit->quantity_thousandths, kit->unit));
        }
    }
    return grains;
}

/* What the settings say of an item wherever it stands: how much is on hand is said once, and the
 * longest wait for it counts. */
static void ask_settings(const struct settings *settings, struct shelf_item *item)
{
    item->on_hand_grains = -1;
    for (size_t i = 0; i < settings->plan_count * SETTINGS_KIT_MAX; i++) {
        const struct settings_plan *plan = &settings->plans[i / SETTINGS_KIT_MAX];
        const struct settings_kit_item *kit = &plan->kit[i % SETTINGS_KIT_MAX];
        if (i % SETTINGS_KIT_MAX < plan->kit_count && strcasecmp(kit->item, item->item) == 0 &&
            kit_unit_row(kit->unit)->fluid == kit_unit_row(item->unit)->fluid) {
            item->lead_days = (int32_t)greater(item->lead_days, kit->lead_days);
            if (kit->on_hand_thousandths >= 0) {
                item->on_hand_grains = kit_grains(kit->on_hand_thousandths, kit->unit);
            }
        }
    }
}

/* The place of an item, a new one where it is the first of its kind; NULL when there is no room. */
static struct shelf_item *place_of(struct shelf *shelf, const struct settings *settings,
                                   const struct settings_kit_item *kit)
{
    int64_t sold_in = kit_grains(kit->sold_in_thousandths, kit->unit);
    enum kit_unit unit = kit_unit_row(kit->unit)->fluid ? settings->shop.units : kit->unit;
    for (size_t i = 0; i < shelf->item_count; i++) {
        struct shelf_item *item = &shelf->items[i];
        /* the same container, whichever unit it was written in */
        bool contained =
            kit_thousandths(item->sold_in_grains, unit) == kit_thousandths(sold_in, unit);
        if (item->unit == unit && (contained || !shelf->by_container) &&
            strcasecmp(item->item, kit->item) == 0) {
            return item;
        }
    }
    if (shelf->item_count == SHELF_ITEMS_MAX) {
        shelf->left_out = true;
        return NULL;
    }
    struct shelf_item *item = &shelf->items[shelf->item_count++];
    *item = (struct shelf_item){.item = kit->item, .unit = unit, .sold_in_grains = sold_in};
    ask_settings(settings, item);
    return item;
}

/* A machine's plans do not come one after the other: it is noted once. False: memory is short. */
static bool note_machine(struct shelf_item *item, int32_t machine, size_t machines_most)
{
    for (size_t i = 0; i < item->machine_count; i++) {
        if (item->machines[i] == machine) {
            return true;
        }
    }
    if (item->machines == NULL) {
        item->machines = calloc(machines_most, sizeof *item->machines);
        if (item->machines == NULL) {
            return false;
        }
    }
    item->machines[item->machine_count++] = machine;
    return true;
}

int32_t shelf_take(struct shelf *shelf, const struct settings *settings,
                   const struct settings_plan *plan)
{
    int32_t days = 0;
    shelf_add(shelf, settings, plan, 1);
    for (size_t i = 0; i < plan->kit_count; i++) {
        const struct shelf_item *item = place_of(shelf, settings, &plan->kit[i]);
        if (item == NULL || item->needed_grains > item->on_hand_grains) {
            days = (int32_t)greater(days, item != NULL ? item->lead_days : plan->kit[i].lead_days);
        }
    }
    return days;
}

/* machine: -1 none to be noted. */
static bool add_kit(struct shelf *shelf, const struct settings *settings,
                    const struct settings_plan *plan, int64_t services, int32_t machine)
{
    for (size_t i = 0; i < plan->kit_count; i++) {
        const struct settings_kit_item *kit = &plan->kit[i];
        struct shelf_item *item = place_of(shelf, settings, kit);
        if (item == NULL) {
            continue;
        }
        int64_t grains = kit_grains(kit->quantity_thousandths, kit->unit);
        for (int64_t j = 0; j < services; j++) {
            item->needed_grains = kit_add(item->needed_grains, grains);
        }
        if (machine >= 0 && !note_machine(item, machine, settings->machine_count)) {
            return false;
        }
    }
    return true;
}

void shelf_add(struct shelf *shelf, const struct settings *settings,
               const struct settings_plan *plan, int64_t services)
{
    (void)add_kit(shelf, settings, plan, services, -1);
}

static void round_up(struct shelf *shelf)
{
    for (size_t i = 0; i < shelf->item_count; i++) {
        struct shelf_item *item = &shelf->items[i];
        enum kit_unit unit = item->unit;
        item->needed_thousandths = kit_thousandths(item->needed_grains, unit);
        item->sold_in_thousandths = kit_thousandths(item->sold_in_grains, unit);
        item->containers = kit_containers(item->needed_grains, item->sold_in_grains);
    }
}

enum ledger_result shelf_reckon(struct yard *yard, int64_t now_s, int32_t until_day,
                                struct shelf *shelf)
{
    const struct settings *settings = yard->settings;
    struct yard_standing *standings = NULL;
    size_t count = 0;
    *shelf = (struct shelf){.by_container = true};
    enum ledger_result result = yard_stand_all(yard, now_s, &standings, &count);
    for (size_t i = 0; i < count && result == LEDGER_OK; i++) {
        const struct settings_plan *plan = &settings->plans[standings[i].plan];
        int64_t services =
            shelf_services(&standings[i], &plan->plan, zone_civil(now_s).day, until_day);
        if (services > 0 && !add_kit(shelf, settings, plan, services, standings[i].machine)) {
            result = LEDGER_IO;
        }
    }
    free(standings);
    round_up(shelf);
    return result;
}

void shelf_free(struct shelf *shelf)
{
    for (size_t i = 0; i < shelf->item_count; i++) {
        free(shelf->items[i].machines);
    }
    *shelf = (struct shelf){0};
}

struct reckoning {
    const struct settings *settings;
    int64_t from_s, until_s;
    struct shelf_used_row *rows; /* one a plan */
};

static void take_service(void *ctx, const struct service_row *row)
{
    struct reckoning *reckoning = ctx;
    int32_t plan = settings_find_plan(reckoning->settings, row->plan);
    if (row->struck || plan < 0 || row->done_s < reckoning->from_s ||
        row->done_s > reckoning->until_s) {
        return;
    }
    struct shelf_used_row *used = &reckoning->rows[plan];
    used->services++;
    enum kit_unit unit = KIT_UNIT_QUART;
    (void)kit_unit_find(row->unit, &unit);
    if (row->quantity_thousandths > 0) {
        used->said++;
        used->used_grains = kit_add(used->used_grains, kit_grains(row->quantity_thousandths, unit));
        used->planned_grains =
            kit_add(used->planned_grains, shelf_fluid_grains(&reckoning->settings->plans[plan]));
    }
}

static const char *only_fluid(const struct settings_plan *plan)
{
    const char *only = NULL;
    for (size_t i = 0; i < plan->kit_count; i++) {
        if (kit_unit_row(plan->kit[i].unit)->fluid) {
            if (only != NULL && strcasecmp(only, plan->kit[i].item) != 0) {
                return NULL;
            }
            only = plan->kit[i].item;
        }
    }
    return only;
}

/* Leaves out what was not done or takes no fluid, and puts the rest into the shop's unit. */
static void settle(const struct settings *settings, struct shelf_used *used)
{
    enum kit_unit unit = settings->shop.units;
    for (size_t i = 0; i < settings->plan_count; i++) {
        struct shelf_used_row row = used->rows[i];
        if (row.services == 0 || shelf_fluid_grains(&settings->plans[i]) == 0) {
            continue;
        }
        row.plan = (int32_t)i;
        row.item = only_fluid(&settings->plans[i]);
        row.planned_thousandths = kit_thousandths(row.planned_grains, unit);
        row.used_thousandths = kit_thousandths(row.used_grains, unit);
        used->rows[used->count++] = row;
    }
}

enum ledger_result shelf_used_reckon(struct yard *yard, int32_t from_day, int64_t until_s,
                                     struct shelf_used *used)
{
    const struct settings *settings = yard->settings;
    *used = (struct shelf_used){.rows = calloc(settings->plan_count, sizeof *used->rows)};
    struct reckoning reckoning = {.settings = settings,
                                  .from_s = zone_unix(from_day, 0),
                                  .until_s = until_s,
                                  .rows = used->rows};
    enum ledger_result result = used->rows != NULL ? LEDGER_OK : LEDGER_IO;
    for (size_t i = 0; i < settings->machine_count && result == LEDGER_OK; i++) {
        int64_t machine_id = 0;
        result = machines_id(yard->ledger, settings->machines[i].name, &machine_id);
        if (result == LEDGER_OK) {
            result = services_each(yard->ledger, machine_id, take_service, &reckoning);
        }
        result = result == LEDGER_NONE ? LEDGER_OK : result; /* never heard of */
    }
    if (result == LEDGER_OK) {
        settle(settings, used);
    }
    return result;
}

void shelf_used_free(struct shelf_used *used)
{
    free(used->rows);
    *used = (struct shelf_used){0};
}
