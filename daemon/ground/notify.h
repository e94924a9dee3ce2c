/* SPDX-License-Identifier: MIT
 * notify: readiness, status and watchdog for the init system: one datagram to $NOTIFY_SOCKET
 * (sd_notify(3)); nothing where that is unset. */
#ifndef METERPOST_DAEMON_GROUND_NOTIFY_H
#define METERPOST_DAEMON_GROUND_NOTIFY_H

#include <stdint.h>

/* "READY=1", "RELOADING=1", "STOPPING=1", "WATCHDOG=1", "STATUS=..." */
void notify_send(const char *message);

/* How often the watchdog wants to hear, half of $WATCHDOG_USEC; 0 where none watches us. */
int64_t notify_watchdog_ms(void);

#endif
