/* SPDX-License-Identifier: MIT
 * log: see log.h. Under a service manager (JOURNAL_STREAM is set) a line begins with its priority,
 * elsewhere with the program's name. */
#include "daemon/ground/log.h"

#include <errno.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/ground/neutral.h"

enum {
    SEVERITY_ERROR = 3,
    SEVERITY_WARNING = 4,
    SEVERITY_NOTICE = 5,
    SEVERITY_INFO = 6,
    SEVERITY_DEBUG = 7
};

#define LINE_OCTETS 1024

static int debug_on;
static const char *owner_now = "";

void log_set_owner(const char *owner)
{
    owner_now = owner;
}

void log_set_debug(int on)
{
    debug_on = on;
}

__attribute__((format(printf, 3, 0))) static void write_line(int severity, const char *ending,
                                                             const char *format, va_list arguments)
{
    int saved_errno = errno;
    char raw[LINE_OCTETS], line[LINE_OCTETS];
    bool owned = owner_now[0] != '\0';
    int used =
        snprintf(raw, sizeof raw, "%s%.32s%s", owned ? "[" : "", owner_now, owned ? "] " : "");
    (void)vsnprintf(raw + used, sizeof raw - (size_t)used, format, arguments);
    (void)neutral_text(raw, strlen(raw), NEUTRAL_OCTETS, line,
                       sizeof line); /* one cut in two too */
    if (getenv("JOURNAL_STREAM") != NULL) {
        (void)fprintf(stderr, "<%d>%s%s\n", severity, line, ending);
    } else {
        (void)fprintf(stderr, "meterpost: %s%s\n", line, ending);
    }
    errno = saved_errno;
}

#define LOG_LINE(severity, ending)                                                                 \
    va_list arguments;                                                                             \
    va_start(arguments, format);                                                                   \
    write_line(severity, ending, format, arguments);                                               \
    va_end(arguments)

void log_error(const char *format, ...)
{
    LOG_LINE(SEVERITY_ERROR, "");
}

void log_warn(const char *format, ...)
{
    char ending[128];
    int saved_errno = errno;
    (void)snprintf(ending, sizeof ending, ": %s", strerror(saved_errno));
    errno = saved_errno;
    LOG_LINE(SEVERITY_WARNING, ending);
}

void log_warnx(const char *format, ...)
{
    LOG_LINE(SEVERITY_WARNING, "");
}

void log_notice(const char *format, ...)
{
    LOG_LINE(SEVERITY_NOTICE, "");
}

void log_info(const char *format, ...)
{
    LOG_LINE(SEVERITY_INFO, "");
}

void log_debug(const char *format, ...)
{
    if (debug_on) {
        LOG_LINE(SEVERITY_DEBUG, "");
    }
}

/* A backslash too, so that nobody can write what looks like an octet of ours. */
const char *log_text(const char *text, size_t length, char *out, size_t size)
{
    char one[NEUTRAL_TEXT_OCTETS];
    size_t used = 0;
    for (size_t at = 0; at < length;) {
        size_t octets = neutral_next(text, length, at, NEUTRAL_OCTETS, one);
        const char *shown = text[at] == '\\' ? "\\x5C" : one;
        if (used + strlen(shown) + 4 > size) {
            if (size >= 4 && used + 4 <= size) {
                memcpy(&out[used], "...", 3);
                used += 3;
            }
            break;
        }
        memcpy(&out[used], shown, strlen(shown));
        used += strlen(shown);
        at += octets;
    }
    if (size > 0) {
        out[used] = '\0';
    }
    return out;
}
