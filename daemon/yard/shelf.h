/* SPDX-License-Identifier: MIT
 * shelf: what the services of the next days need, by item, rounded up to what it is sold in; and what
 * the services of the past really took, beside what their plans say. */
#ifndef METERPOST_DAEMON_YARD_SHELF_H
#define METERPOST_DAEMON_YARD_SHELF_H

#include "daemon/upkeep/kit.h"
#include "daemon/yard/yard.h"

#define SHELF_ITEMS_MAX 64

struct shelf_item {
    const char *item;                      /* the settings' own */
    enum kit_unit unit;                    /* pieces, or the shop's unit of fluids */
    int64_t needed_grains, sold_in_grains; /* exact (upkeep/kit.h) */
    int64_t on_hand_grains;                /* -1 unsaid, as the settings have it */
    int32_t lead_days;                     /* from ordering it to having it */
    int64_t likely_grains;                 /* by what these machines took before (shelf_fill) */
    bool runs_short;                       /* what is on hand is not enough from that day on: */
    int32_t short_day;
    /* The rest is set by shelf_reckon alone. */
    int64_t needed_thousandths, likely_thousandths, sold_in_thousandths;
    int64_t on_hand_thousandths; /* -1 unsaid */
    int64_t containers;          /* to be bought: less what is on hand */
    bool has_order_by;           /* it takes days to come, and runs short: */
    int32_t order_by_day;        /* an open day, today at the earliest */
    int32_t *machines;           /* indexes, each once; shelf_free frees them */
    size_t machine_count;
};

/* Begins zeroed, but for by_container. */
struct shelf {
    bool by_container; /* alike but sold in other containers: another item */
    struct shelf_item items[SHELF_ITEMS_MAX];
    size_t item_count;
    bool left_out; /* more than SHELF_ITEMS_MAX different items */
};

/* Adds the kit of so many services of a plan. Items are one where their names are alike and both are
 * pieces or both fluids. */
void shelf_add(struct shelf *shelf, const struct settings *settings,
               const struct settings_plan *plan, int64_t services);

/* Adds the kit of one service, and says in how many days all of it can be there: 0 where what is on
 * hand is enough for it and for all that was taken before. */
int32_t shelf_take(struct shelf *shelf, const struct settings *settings,
                   const struct settings_plan *plan);

/* Sums the kits of every service that comes due by until_day: those due or without record now, and
 * those whose early bound lies no later, a plan as often as it comes round until then. Parked and
 * unread machines need nothing. By container. LEDGER_IO too when memory is short. End with
 * shelf_free. */
enum ledger_result shelf_reckon(struct yard *yard, int64_t now_s, int32_t until_day,
                                struct shelf *shelf);
void shelf_free(struct shelf *shelf);

/* How many services of this standing may fall due by until_day, by the early bound: parts that come
 * too late are worse than parts that wait. What is due counts once and the next from today. */
int64_t shelf_services(const struct yard_standing *standing, const struct plan *plan, int32_t today,
                       int32_t until_day);

/* The last open day on which to order what is needed on a day and takes so many to come; where that
 * has passed, the next open day. */
int32_t shelf_order_by(const struct settings_shop *shop, int32_t today, int32_t needed_day,
                       int32_t lead_days);

#define SHELF_FILLS_MOST 5  /* the last ones that count */
#define SHELF_FILLS_LEAST 3 /* to learn from */

/* How much fluid a plan takes, all of it together, by its kit and by what DONE said of this machine:
 * the median of the last times. */
struct shelf_fill {
    int64_t planned_grains; /* 0: it takes none */
    int64_t learned_grains; /* 0: it was said too few times */
    size_t count;           /* times that count */
};
enum ledger_result shelf_fill_of(struct yard *yard, int32_t machine, int32_t plan,
                                 struct shelf_fill *fill);

/* More than a quarter off what it takes: what it took, before that what the kit says; false where
 * neither is known. */
bool shelf_fill_is_odd(const struct shelf_fill *fill, int64_t grains);

/* The fluid of one service, all of it together. */
int64_t shelf_fluid_grains(const struct settings_plan *plan);

/* The past services of one plan; figures in the shop's unit of fluids. Planned and used are of those
 * services for which a quantity was given, so that the two can be compared. */
struct shelf_used_row {
    int32_t plan;           /* index into settings.plans */
    const char *item;       /* the plan's fluid, the settings' own; NULL where it has several */
    int64_t services, said; /* done, and with a quantity among them */
    int64_t planned_thousandths, used_thousandths;
    int64_t planned_grains, used_grains; /* exact (upkeep/kit.h) */
};

struct shelf_used {
    struct shelf_used_row *rows; /* only plans with a fluid and a service, in the settings' order */
    size_t count;
};

/* Standing services done from the beginning of from_day up to until_s, of machines and plans that
 * the settings have. LEDGER_IO too when memory is short. End with shelf_used_free. */
enum ledger_result shelf_used_reckon(struct yard *yard, int32_t from_day, int64_t until_s,
                                     struct shelf_used *used);
void shelf_used_free(struct shelf_used *used);

#endif
