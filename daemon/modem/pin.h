/* SPDX-License-Identifier: MIT
 * pin: the SIM's PIN, tried once ever. Three wrong ones lock a SIM, so a mark is on disk before one
 * is sent: no restart, crash or power cut tries it twice unless it proved right in between. */
#ifndef METERPOST_DAEMON_MODEM_PIN_H
#define METERPOST_DAEMON_MODEM_PIN_H

#include <stdbool.h>
#include <stddef.h>

#define PIN_OCTETS 9 /* 4 to 8 digits (TS 31.101), and the NUL */

/* Reads the PIN and marks it tried. True: it may be sent, now. False: says holds why not and what
 * to do. file is "" where none is configured; mark is the path of the mark. */
bool pin_take(const char *file, const char *mark, char pin[PIN_OCTETS], char *says, size_t size);

/* The SIM is open. A right PIN has set its count of tries back, so one that was marked as tried may
 * be tried again after the next power-up. Nothing is written where nothing changes. */
void pin_proved(const char *mark);

#endif
