/* SPDX-License-Identifier: MIT
 *
 * used: see used.h. A quantity given with DONE is of the plan's fluid, all of it together, since
 * that is what is measured when a drive is filled. */
#include "daemon/yard/used.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "daemon/ledger/people.h"
#include "daemon/ledger/services.h"
#include "daemon/upkeep/kit.h"
#include "daemon/yard/stock.h"
#include "daemon/ground/zone.h"

struct reckoning {
    const struct settings *settings;
    int64_t from_s, until_s;
    struct used_row *rows; /* one a plan */
};

static void take_service(void *ctx, const struct service_row *row)
{
    struct reckoning *reckoning = ctx;
    int32_t plan = settings_find_plan(reckoning->settings, row->plan);
    if (row->struck || plan < 0 || row->done_s < reckoning->from_s ||
        row->done_s > reckoning->until_s) {
        return;
    }
    struct used_row *used = &reckoning->rows[plan];
    used->services++;
    enum kit_unit unit = KIT_UNIT_QUART;
    (void)kit_unit_find(row->unit, &unit);
    if (row->quantity_thousandths > 0) {
        used->said++;
        used->used_grains = kit_add(used->used_grains, kit_grains(row->quantity_thousandths, unit));
        used->planned_grains =
            kit_add(used->planned_grains, stock_fluid_grains(&reckoning->settings->plans[plan]));
    }
}

static const char *only_fluid(const struct settings_plan *plan)
{
    const char *only = NULL;
    for (size_t i = 0; i < plan->kit_count; i++) {
        if (plan->kit[i].unit != SETTINGS_UNIT_PIECE) {
            if (only != NULL && strcasecmp(only, plan->kit[i].item) != 0) {
                return NULL;
            }
            only = plan->kit[i].item;
        }
    }
    return only;
}

/* Leaves out what was not done or takes no fluid, and puts the rest into the shop's unit. */
static void settle(const struct settings *settings, struct used *used)
{
    enum kit_unit unit = stock_unit(settings->shop.units);
    for (size_t i = 0; i < settings->plan_count; i++) {
        struct used_row row = used->rows[i];
        if (row.services == 0 || stock_fluid_grains(&settings->plans[i]) == 0) {
            continue;
        }
        row.plan = (int32_t)i;
        row.item = only_fluid(&settings->plans[i]);
        row.planned_thousandths = kit_thousandths(row.planned_grains, unit);
        row.used_thousandths = kit_thousandths(row.used_grains, unit);
        used->rows[used->count++] = row;
    }
}

enum ledger_result used_reckon(struct yard *yard, int32_t from_day, int64_t until_s,
                               struct used *used)
{
    const struct settings *settings = yard->settings;
    *used = (struct used){.rows = calloc(settings->plan_count, sizeof *used->rows)};
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

void used_free(struct used *used)
{
    free(used->rows);
    *used = (struct used){0};
}
