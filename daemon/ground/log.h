/* SPDX-License-Identifier: MIT
 * log: one event a line on standard error, with the "<N>" priority that service managers read
 * (RFC 5424 severities). Control characters of foreign text never get through: use log_text. */
#ifndef METERPOST_DAEMON_GROUND_LOG_H
#define METERPOST_DAEMON_GROUND_LOG_H

#include <stddef.h>

/* log_warn adds the system's error and keeps errno; the others do not. */
void log_error(const char *format, ...) __attribute__((format(printf, 1, 2)));
void log_warn(const char *format, ...) __attribute__((format(printf, 1, 2)));
void log_warnx(const char *format, ...) __attribute__((format(printf, 1, 2)));
void log_notice(const char *format, ...) __attribute__((format(printf, 1, 2)));
void log_info(const char *format, ...) __attribute__((format(printf, 1, 2)));
void log_debug(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* Each line from here on says whose it is, "[east] ...", until it is "" again. The text must live as
 * long as it is in force. */
void log_set_owner(const char *owner);

/* Off by default: log_debug says nothing until it is on. */
void log_set_debug(int on);

/* Foreign text made safe for a line: control characters as \xNN, cut at size with "...". Returns
 * out. */
const char *log_text(const char *text, size_t length, char *out, size_t size);

#endif
