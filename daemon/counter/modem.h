/* SPDX-License-Identifier: MIT
 * modem: the verb that finds ports, talks to the modem, says what it is and how it stands, and
 * sends one text as a trial. */
#ifndef METERPOST_DAEMON_COUNTER_MODEM_H
#define METERPOST_DAEMON_COUNTER_MODEM_H

#include <stdio.h>

#include "daemon/counter/options.h"
#include "daemon/modem/link.h"

/* A running daemon has the port and is asked at its door. Exit status: 0 a modem that takes texts
 * was found (with --send: the text was taken), 1 not, else as in sysexits.h. */
int modem_verb(const struct options *options, FILE *out, FILE *err);

/* The daemon's side: what its link knows. */
int modem_report(const struct link_health *health, const char *port, FILE *out);

#endif
