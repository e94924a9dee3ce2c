/* SPDX-License-Identifier: MIT
 * handover: the record of one machine as a page for whoever gets it: its buyer, a warranty desk. */
#ifndef METERPOST_DAEMON_COUNTER_HANDOVER_H
#define METERPOST_DAEMON_COUNTER_HANDOVER_H

#include "daemon/counter/counter.h"

/* Writes the page (HTML) up to that moment to counter->out. gone_day: 0 where it is not gone. Returns
 * 0, or an exit status after saying why. */
int handover_print(const struct counter *counter, const struct counter_named *named,
                   int64_t until_s, int32_t gone_day);

#endif
