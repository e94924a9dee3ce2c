/* SPDX-License-Identifier: MIT
 * modem_clock: the time as a modem says it (+CCLK, TS 27.007 8.15). */
#ifndef METERPOST_DAEMON_MODEM_MODEM_CLOCK_H
#define METERPOST_DAEMON_MODEM_MODEM_CLOCK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Reads +CCLK: "yy/MM/dd,hh:mm:ss+zz" (zz quarters of an hour). False where it is ill-formed, lacks
 * its zone, or is what a modem shows before the network has told it the time (years before 2020 or
 * from 2070 on). */
bool modem_clock_read(const char *text, size_t length, int64_t *unix_s);

#endif
