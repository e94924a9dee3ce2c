/* SPDX-License-Identifier: MIT
 * modem: what answers on a port, in words, for those that look for one without the daemon. */
#ifndef METERPOST_DAEMON_COUNTER_MODEM_H
#define METERPOST_DAEMON_COUNTER_MODEM_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "daemon/modem/trial.h"

/* Talks to what is on the port, and tells it where out is not NULL. True for a modem that takes texts. */
bool modem_try(const char *name, int32_t speed, struct trial *trial, FILE *out);

/* What is to be done about a modem that talks; "" where texts can go both ways. */
const char *modem_next_step(const struct trial *trial);

#endif
