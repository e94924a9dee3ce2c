/* SPDX-License-Identifier: MIT
 * check: the verb that checks the config file and says what it means, or each mistake with its
 * line; and what it would have the running daemon tell the shop. */
#ifndef METERPOST_DAEMON_COUNTER_CHECK_H
#define METERPOST_DAEMON_COUNTER_CHECK_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status: 0 well, 78 (EX_CONFIG) for any mistake, 64 for a --now that is no time. Mistakes go to
 * err, the summary to out; as JSON all goes to out: {"status": "ok" | "mistakes", "mistakes":
 * [{"line", "says"}], "notes": [{"says"}], "raises": [{"machine", "plan", "stage"}]}, and "file" in a
 * mistake of a file that is included. */
int check_verb(const struct options *options, FILE *out, FILE *err);

#endif
