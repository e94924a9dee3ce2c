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

/* How it stands, in a few words: its SIM where that is not open, else the network. */
#define MODEM_SAYS_OCTETS (TRIAL_WORD_OCTETS + 64)
const char *modem_in_short(const struct trial *trial, char says[MODEM_SAYS_OCTETS]);

#endif
