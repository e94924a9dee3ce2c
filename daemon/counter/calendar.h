/* SPDX-License-Identifier: MIT
 * calendar: the verb that gives due dates to a calendar (iCalendar, RFC 5545), one whole-day event
 * for each machine and plan, with an identifier that stays when the date moves. */
#ifndef METERPOST_DAEMON_COUNTER_CALENDAR_H
#define METERPOST_DAEMON_COUNTER_CALENDAR_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status: 0, else as in sysexits.h. */
int calendar_verb(const struct options *options, FILE *out, FILE *err);

/* One content line: folded at 75 octets, never inside a character, ended by CR LF (RFC 5545 3.1).
 * value is escaped as TEXT (3.3.11). */
void calendar_line(FILE *out, const char *name, const char *value);

#endif
