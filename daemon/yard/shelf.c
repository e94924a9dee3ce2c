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
#include "daemon/yard/bay.h"

#define LOOK_AHEAD_DAYS 366
#define SERVICES_MOST 100 /* of one plan within one look ahead: a bound on nonsense settings */

/* The day on which the first of them is needed. What is due is done today at the earliest, and the
 * next one counts from then. */
static int32_t first_day(const struct yard_standing *standing, int32_t today)
{
    bool now = due_stage_row(standing->stage)->reached || !standing->has_forecast;
    return now ? today : (int32_t)greater(standing->earliest_day, today);
}

static int32_t day_of_service(const struct yard_standing *standing, const struct plan *plan,
                              int32_t today, int64_t nth)
{
    double hours = (double)nth * (double)plan->every_hundredths / 100;
    double days = standing->hours_a_day > 0 ? hours / standing->hours_a_day : 0;
    return first_day(standing, today) + (int32_t)days;
}

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
    int64_t from_day = first_day(standing, today);
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
 * longest wait for it counts. Where it is sold in several containers, its first line has all that is
 * on hand. */
static void ask_settings(const struct shelf *shelf, const struct settings *settings,
                         struct shelf_item *item)
{
    bool first = true;
    for (const struct shelf_item *other = shelf->items; other < item; other++) {
        first = first && !(other->unit == item->unit && strcasecmp(other->item, item->item) == 0);
    }
    item->on_hand_grains = -1;
    for (size_t i = 0; i < settings->plan_count * SETTINGS_KIT_MAX; i++) {
        const struct settings_plan *plan = &settings->plans[i / SETTINGS_KIT_MAX];
        const struct settings_kit_item *kit = &plan->kit[i % SETTINGS_KIT_MAX];
        if (i % SETTINGS_KIT_MAX < plan->kit_count && strcasecmp(kit->item, item->item) == 0 &&
            kit_unit_row(kit->unit)->fluid == kit_unit_row(item->unit)->fluid) {
            item->lead_days = (int32_t)greater(item->lead_days, kit->lead_days);
            if (kit->on_hand_thousandths >= 0) {
                int64_t on_hand = kit_grains(kit->on_hand_thousandths, kit->unit);
                item->on_hand_grains = first ? on_hand : 0;
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
    ask_settings(shelf, settings, item);
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

/* One service to come. */
struct need {
    const struct settings_plan *plan;
    int32_t machine; /* -1 none to be noted */
    int32_t day;
    const struct shelf_fill *fill; /* NULL: as the kit has it */
};

/* What of an item this machine takes in all likelihood. */
static int64_t likely_grains(const struct settings_kit_item *kit, const struct shelf_fill *fill)
{
    bool learned = fill != NULL && fill->learned_grains > 0 && kit_unit_row(kit->unit)->fluid;
    int64_t planned = learned ? kit_thousandths(fill->planned_grains, kit->unit) : 0;
    int64_t took = learned ? kit_thousandths(fill->learned_grains, kit->unit) : 0;
    return planned > 0 ? kit_grains(kit->quantity_thousandths * took / planned, kit->unit)
                       : kit_grains(kit->quantity_thousandths, kit->unit);
}

/* Needs come the earliest first, so that the first one beyond what is on hand is when to have more. */
static bool add_need(struct shelf *shelf, const struct settings *settings, const struct need *need)
{
    for (size_t i = 0; i < need->plan->kit_count; i++) {
        const struct settings_kit_item *kit = &need->plan->kit[i];
        struct shelf_item *item = place_of(shelf, settings, kit);
        if (item == NULL) {
            continue;
        }
        item->needed_grains =
            kit_add(item->needed_grains, kit_grains(kit->quantity_thousandths, kit->unit));
        item->likely_grains = kit_add(item->likely_grains, likely_grains(kit, need->fill));
        if (!item->runs_short && item->needed_grains > greater(item->on_hand_grains, 0)) {
            item->runs_short = true;
            item->short_day = need->day;
        }
        if (need->machine >= 0 && !note_machine(item, need->machine, settings->machine_count)) {
            return false;
        }
    }
    return true;
}

void shelf_add(struct shelf *shelf, const struct settings *settings,
               const struct settings_plan *plan, int64_t services)
{
    struct need need = {.plan = plan, .machine = -1};
    for (int64_t i = 0; i < services; i++) {
        (void)add_need(shelf, settings, &need);
    }
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

int32_t shelf_order_by(const struct settings_shop *shop, int32_t today, int32_t needed_day,
                       int32_t lead_days)
{
    int32_t day = needed_day - lead_days;
    while (day > today && !bay_open_on(shop, day)) {
        day--;
    }
    day = (int32_t)greater(day, today);
    for (int32_t i = 0; i < LOOK_AHEAD_DAYS && !bay_open_on(shop, day + i); i++) {
        if (bay_open_on(shop, day + i + 1)) {
            return day + i + 1;
        }
    }
    return day;
}

/* Rounded up to containers, less what is on hand; and by when to order them. */
static void round_up(struct shelf *shelf, const struct settings_shop *shop, int32_t today)
{
    for (size_t i = 0; i < shelf->item_count; i++) {
        struct shelf_item *item = &shelf->items[i];
        enum kit_unit unit = item->unit;
        int64_t on_hand = greater(item->on_hand_grains, 0);
        item->needed_thousandths = kit_thousandths(item->needed_grains, unit);
        item->likely_thousandths = kit_thousandths(item->likely_grains, unit);
        item->sold_in_thousandths = kit_thousandths(item->sold_in_grains, unit);
        item->on_hand_thousandths =
            item->on_hand_grains >= 0 ? kit_thousandths(item->on_hand_grains, unit) : -1;
        item->containers =
            kit_containers(greater(item->needed_grains - on_hand, 0), item->sold_in_grains);
        item->has_order_by = item->runs_short && item->lead_days > 0;
        item->order_by_day =
            item->has_order_by ? shelf_order_by(shop, today, item->short_day, item->lead_days) : 0;
    }
}

/* ---- what a machine took before */

struct took {
    const char *plan;
    int64_t grains[SHELF_FILLS_MOST];
    size_t count;
};

static void see_fill(void *ctx, const struct service_row *row)
{
    struct took *took = ctx;
    enum kit_unit unit = KIT_UNIT_QUART;
    if (!row->struck && row->quantity_thousandths > 0 && strcmp(row->plan, took->plan) == 0 &&
        kit_unit_find(row->unit, &unit)) {
        took->grains[took->count++ % SHELF_FILLS_MOST] =
            kit_grains(row->quantity_thousandths, unit);
    }
}

enum ledger_result shelf_fill_of(struct yard *yard, int32_t machine, int32_t plan,
                                 struct shelf_fill *fill)
{
    const struct settings *settings = yard->settings;
    struct took took = {.plan = settings->plans[plan].name};
    int64_t machine_id = 0;
    *fill = (struct shelf_fill){.planned_grains = shelf_fluid_grains(&settings->plans[plan])};
    enum ledger_result result =
        machines_id(yard->ledger, settings->machines[machine].name, &machine_id);
    if (result == LEDGER_OK && fill->planned_grains > 0) {
        result = services_each(yard->ledger, machine_id, see_fill, &took);
    }
    size_t count = (size_t)lesser((int64_t)took.count, SHELF_FILLS_MOST);
    fill->count = count;
    fill->learned_grains = count >= SHELF_FILLS_LEAST ? kit_median(took.grains, count) : 0;
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

bool shelf_fill_is_odd(const struct shelf_fill *fill, int64_t grains)
{
    int64_t expected = fill->learned_grains > 0 ? fill->learned_grains : fill->planned_grains;
    return expected > 0 && greater(grains - expected, expected - grains) > expected / 4;
}

/* ---- the next weeks */

/* The services to come of a yard. */
struct needs {
    struct yard_standing *standings;
    struct shelf_fill *fills; /* of each of them */
    size_t standing_count;
    struct need *list;
    size_t count;
};

static int compare_needs(const void *one, const void *other)
{
    const struct need *a = one;
    const struct need *b = other;
    int order = compare(a->day, b->day);
    return order != 0 ? order : compare(a->fill - b->fill, 0);
}

static enum ledger_result find_needs(struct yard *yard, int32_t today, int32_t until_day,
                                     struct needs *needs)
{
    int64_t most = 1;
    enum ledger_result result = LEDGER_OK;
    for (size_t i = 0; i < needs->standing_count; i++) {
        const struct yard_standing *standing = &needs->standings[i];
        const struct plan *plan = &yard->settings->plans[standing->plan].plan;
        most += shelf_services(standing, plan, today, until_day);
    }
    needs->list = calloc((size_t)most, sizeof *needs->list);
    needs->fills = calloc(needs->standing_count + 1, sizeof *needs->fills);
    if (needs->list == NULL || needs->fills == NULL) {
        return LEDGER_IO;
    }
    for (size_t i = 0; i < needs->standing_count && result == LEDGER_OK; i++) {
        const struct yard_standing *standing = &needs->standings[i];
        const struct settings_plan *plan = &yard->settings->plans[standing->plan];
        int64_t services = shelf_services(standing, &plan->plan, today, until_day);
        if (services > 0) {
            result = shelf_fill_of(yard, standing->machine, standing->plan, &needs->fills[i]);
        }
        for (int64_t j = 0; j < services; j++) {
            needs->list[needs->count++] =
                (struct need){.plan = plan,
                              .machine = standing->machine,
                              .day = day_of_service(standing, &plan->plan, today, j),
                              .fill = &needs->fills[i]};
        }
    }
    qsort(needs->list, needs->count, sizeof *needs->list, compare_needs);
    return result;
}

enum ledger_result shelf_reckon(struct yard *yard, int64_t now_s, int32_t until_day,
                                struct shelf *shelf)
{
    struct needs needs = {0};
    int32_t today = zone_civil(now_s).day;
    *shelf = (struct shelf){.by_container = true};
    enum ledger_result result =
        yard_stand_all(yard, now_s, &needs.standings, &needs.standing_count);
    if (result == LEDGER_OK) {
        result = find_needs(yard, today, until_day, &needs);
    }
    for (size_t i = 0; i < needs.count && result == LEDGER_OK; i++) {
        result = add_need(shelf, yard->settings, &needs.list[i]) ? LEDGER_OK : LEDGER_IO;
    }
    free(needs.standings);
    free(needs.fills);
    free(needs.list);
    round_up(shelf, &yard->settings->shop, today);
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
