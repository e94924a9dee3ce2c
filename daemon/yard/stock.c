/* SPDX-License-Identifier: MIT
 *
 * stock: see stock.h. Items are one where name and container are alike; their quantities are summed
 * in grains, so that quarts and litres add up without loss. */
#include "daemon/yard/stock.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#define SERVICES_MOST 100 /* of one plan within one look ahead: a bound on nonsense settings */

int64_t stock_services(const struct yard_standing *standing, const struct plan *plan,
                       int32_t until_day)
{
    const struct due_stage_row *stage = due_stage_row(standing->stage);
    if (stage->rests) {
        return 0;
    }
    if (standing->stage == DUE_STAGE_NO_RECORD) {
        return 1;
    }
    if (!stage->reached && (!standing->has_forecast || standing->due_day > until_day)) {
        return 0;
    }
    int64_t days_after = (int64_t)until_day - standing->due_day;
    double hours_after = days_after > 0 ? (double)days_after * standing->hours_a_day : 0;
    double rounds = hours_after * 100 / (double)plan->every_hundredths;
    return 1 + (rounds < SERVICES_MOST ? (int64_t)rounds : SERVICES_MOST);
}

enum kit_unit stock_unit(enum settings_unit unit)
{
    switch (unit) {
    case SETTINGS_UNIT_QUART:
        return KIT_UNIT_QUART;
    case SETTINGS_UNIT_LITRE:
        return KIT_UNIT_LITRE;
    case SETTINGS_UNIT_PIECE:
        break;
    }
    return KIT_UNIT_PIECE;
}

int64_t stock_fluid_grains(const struct settings_plan *plan)
{
    int64_t grains = 0;
    for (size_t i = 0; i < plan->kit_count; i++) {
        const struct settings_kit_item *kit = &plan->kit[i];
        if (kit->unit != SETTINGS_UNIT_PIECE) {
            grains = kit_add(grains, kit_grains(kit->quantity_thousandths, stock_unit(kit->unit)));
        }
    }
    return grains;
}

enum settings_unit stock_shown_unit(const struct settings *settings, enum settings_unit unit)
{
    return unit == SETTINGS_UNIT_PIECE ? unit : settings->shop.units;
}

/* The place of an item, a new one where it is the first of its kind; NULL when there is no room. */
static struct stock_item *place_of(struct stock *stock, const struct settings *settings,
                                   const struct settings_kit_item *kit)
{
    int64_t sold_in = kit_grains(kit->sold_in_thousandths, stock_unit(kit->unit));
    enum settings_unit unit = stock_shown_unit(settings, kit->unit);
    for (size_t i = 0; i < stock->item_count; i++) {
        struct stock_item *item = &stock->items[i];
        if (item->unit == unit && item->sold_in_grains == sold_in &&
            strcasecmp(item->item, kit->item) == 0) {
            return item;
        }
    }
    if (stock->item_count == STOCK_ITEMS_MAX) {
        stock->left_out = true;
        return NULL;
    }
    struct stock_item *item = &stock->items[stock->item_count++];
    *item = (struct stock_item){.item = kit->item, .unit = unit, .sold_in_grains = sold_in};
    return item;
}

/* Standings come machine by machine only after they are sorted so: a machine is noted once. */
static bool note_machine(struct stock_item *item, int32_t machine, size_t machines_most)
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

static bool add_services(struct stock *stock, const struct settings *settings,
                         const struct yard_standing *standing, int64_t services)
{
    const struct settings_plan *plan = &settings->plans[standing->plan];
    for (size_t i = 0; i < plan->kit_count; i++) {
        struct stock_item *item = place_of(stock, settings, &plan->kit[i]);
        if (item == NULL) {
            continue;
        }
        int64_t grains =
            kit_grains(plan->kit[i].quantity_thousandths, stock_unit(plan->kit[i].unit));
        for (int64_t j = 0; j < services; j++) {
            item->needed_grains = kit_add(item->needed_grains, grains);
        }
        if (!note_machine(item, standing->machine, settings->machine_count)) {
            return false;
        }
    }
    return true;
}

static void round_up(struct stock *stock)
{
    for (size_t i = 0; i < stock->item_count; i++) {
        struct stock_item *item = &stock->items[i];
        enum kit_unit unit = stock_unit(item->unit);
        item->needed_thousandths = kit_thousandths(item->needed_grains, unit);
        item->sold_in_thousandths = kit_thousandths(item->sold_in_grains, unit);
        item->containers = kit_containers(item->needed_grains, item->sold_in_grains);
    }
}

enum ledger_result stock_reckon(struct yard *yard, int64_t now_s, int32_t until_day,
                                struct stock *stock)
{
    struct yard_standing *standings = NULL;
    size_t count = 0;
    memset(stock, 0, sizeof *stock);
    enum ledger_result result = yard_stand_all(yard, now_s, &standings, &count);
    for (size_t i = 0; i < count && result == LEDGER_OK; i++) {
        const struct plan *plan = &yard->settings->plans[standings[i].plan].plan;
        int64_t services = stock_services(&standings[i], plan, until_day);
        if (services > 0 && !add_services(stock, yard->settings, &standings[i], services)) {
            result = LEDGER_IO;
        }
    }
    free(standings);
    round_up(stock);
    return result;
}

void stock_free(struct stock *stock)
{
    for (size_t i = 0; i < stock->item_count; i++) {
        free(stock->items[i].machines);
    }
    memset(stock, 0, sizeof *stock);
}
