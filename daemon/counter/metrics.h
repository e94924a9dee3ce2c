/* SPDX-License-Identifier: MIT
 * metrics: what health knows, as figures for monitoring, in the text form that collectors of metrics
 * read (the Prometheus text-based format 0.0.4; by the last line OpenMetrics 1.0 too). Counts, ages and
 * states; no number, name or word of a person. */
#ifndef METERPOST_DAEMON_COUNTER_METRICS_H
#define METERPOST_DAEMON_COUNTER_METRICS_H

#include <stddef.h>
#include <stdio.h>

#include "daemon/counter/answers.h"

/* What a file that `metrics_write` filled begins with. */
#define METRICS_BEGIN "# HELP meterpost_"

/* Writes them to out; checks are those that health_checks_run found in these facts. A figure that is not
 * known is left out. */
void metrics_write(const struct health_facts *facts, const struct health_check *checks,
                   size_t check_count, FILE *out);

#endif
