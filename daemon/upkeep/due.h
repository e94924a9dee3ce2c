/* SPDX-License-Identifier: MIT
 * due: where one machine stands against one plan. Pure: facts and a civil day in, a verdict out. */
#ifndef METERPOST_DAEMON_UPKEEP_DUE_H
#define METERPOST_DAEMON_UPKEEP_DUE_H

#include "daemon/upkeep/plan.h"

/* In the order of worry, least first, but for the last three, which are outside it. */
enum due_stage {
    DUE_STAGE_FINE,
    DUE_STAGE_COMING_UP,
    DUE_STAGE_DUE,
    DUE_STAGE_OVERDUE,
    DUE_STAGE_NO_RECORD, /* beyond the first service when first heard of, none on record */
    DUE_STAGE_PARKED,
    DUE_STAGE_UNREAD /* no reading yet */
};

/* "fine" "coming-up" "due" "overdue" "no-record" "parked" "unread": the words of the JSON. */
const char *due_stage_word(enum due_stage stage);

#endif
