/* SPDX-License-Identifier: MIT
 * check: the verb that checks the config file and says what it means, or each mistake with its
 * line. */
#ifndef METERPOST_DAEMON_COUNTER_CHECK_H
#define METERPOST_DAEMON_COUNTER_CHECK_H

#include <stdbool.h>
#include <stdio.h>

/* Exit status: 0 well, 78 (EX_CONFIG) for any mistake. Mistakes go to err, the summary to out; with
 * json all goes to out: {"status": "ok" | "mistakes", "mistakes": [{"line", "says"}], "notes":
 * [{"says"}]}, and "file" in a mistake of a file that is included. */
int check_verb(const char *config_file, bool json, FILE *out, FILE *err);

#endif
