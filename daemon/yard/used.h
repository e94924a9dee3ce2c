/* SPDX-License-Identifier: MIT
 * used: what the services of the past really took, beside what their plans say. */
#ifndef METERPOST_DAEMON_YARD_USED_H
#define METERPOST_DAEMON_YARD_USED_H

#include "daemon/yard/yard.h"

/* The services of one plan; figures in the shop's unit of fluids. Planned and used are of those
 * services for which a quantity was given, so that the two can be compared. */
struct used_row {
    int32_t plan;           /* index into settings.plans */
    const char *item;       /* the plan's fluid, the settings' own; NULL where it has several */
    int64_t services, said; /* done, and with a quantity among them */
    int64_t planned_thousandths, used_thousandths;
    int64_t planned_grains, used_grains; /* exact (upkeep/kit.h) */
};

struct used {
    struct used_row *rows; /* only plans with a fluid and a service, in the order of the settings */
    size_t count;
};

/* Standing services done from the beginning of from_day up to until_s, of machines and plans that
 * the settings have. LEDGER_IO too when memory is short. End with used_free. */
enum ledger_result used_reckon(struct yard *yard, int32_t from_day, int64_t until_s,
                               struct used *used);
void used_free(struct used *used);

#endif
