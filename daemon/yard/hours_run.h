/* SPDX-License-Identifier: MIT
 * hours_run: where the hours of a span went, by machine, site, crew or owner. */
#ifndef METERPOST_DAEMON_YARD_HOURS_RUN_H
#define METERPOST_DAEMON_YARD_HOURS_RUN_H

#include "daemon/yard/yard.h"

enum hours_run_by {
    HOURS_RUN_BY_MACHINE,
    HOURS_RUN_BY_SITE,
    HOURS_RUN_BY_CREW, /* those who look after a machine together are one crew */
    HOURS_RUN_BY_OWNER
};
#define HOURS_RUN_BY_COUNT (HOURS_RUN_BY_OWNER + 1)

/* "machine", "site", "crew" or "owner", as JSON and the option have it. */
const char *hours_run_by_word(enum hours_run_by by);

struct hours_run_row {
    const char *name; /* "Ines, Tom"; "" where the settings say none */
    int64_t hundredths;
    size_t machine_count;
};

struct hours_run {
    struct hours_run_row *rows; /* the most hours first; equal ones in the settings' order */
    size_t row_count;
    int64_t total_hundredths;
    char *names; /* of crews */
};

/* What the readings say that was run from the beginning of from_day to the end of until_day, civil
 * days of the shop: apportioned between readings (upkeep/apportion), nothing before a machine's first
 * reading and nothing after its last. Machines that are gone count for the days that they were there;
 * those that were never read are left out. LEDGER_IO too when memory is short. End with
 * hours_run_free. */
enum ledger_result hours_run_reckon(struct yard *yard, int32_t from_day, int32_t until_day,
                                    enum hours_run_by by, struct hours_run *run);
void hours_run_free(struct hours_run *run);

#endif
