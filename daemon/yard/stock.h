/* SPDX-License-Identifier: MIT
 * stock: what the services of the next days need, by item, rounded up to what it is sold in. */
#ifndef METERPOST_DAEMON_YARD_STOCK_H
#define METERPOST_DAEMON_YARD_STOCK_H

#include "daemon/upkeep/kit.h"
#include "daemon/yard/yard.h"

#define STOCK_ITEMS_MAX 64

struct stock_item {
    const char *item;        /* the settings' own */
    enum settings_unit unit; /* pieces, or the shop's unit of fluids */
    int64_t needed_thousandths;
    int64_t sold_in_thousandths;
    int64_t containers;
    int64_t needed_grains, sold_in_grains; /* exact (upkeep/kit.h) */
    int32_t *machines;                     /* indexes, each once; stock_free frees them */
    size_t machine_count;
};

struct stock {
    struct stock_item items[STOCK_ITEMS_MAX];
    size_t item_count;
    bool left_out; /* more than STOCK_ITEMS_MAX different items */
};

/* Sums the kits of every service that comes due by until_day: those due or without record now, and
 * those whose forecast lies no later, a plan as often as it comes round until then. Parked and
 * unread machines need nothing. LEDGER_IO too when memory is short. End with stock_free. */
enum ledger_result stock_reckon(struct yard *yard, int64_t now_s, int32_t until_day,
                                struct stock *stock);
void stock_free(struct stock *stock);

/* The unit in which the shop speaks of it: its own for a fluid. */
enum settings_unit stock_shown_unit(const struct settings *settings, enum settings_unit unit);

/* The unit of the settings as upkeep/kit.h counts it. */
enum kit_unit stock_unit(enum settings_unit unit);

/* The fluid of one service, all of it together. */
int64_t stock_fluid_grains(const struct settings_plan *plan);

/* How many services of this standing fall due by until_day. */
int64_t stock_services(const struct yard_standing *standing, const struct plan *plan,
                       int32_t until_day);

#endif
