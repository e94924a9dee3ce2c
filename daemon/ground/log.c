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

enum {
    SEVERITY_ERROR = 3,
    SEVERITY_WARNING = 4,
    SEVERITY_NOTICE = 5,
    SEVERITY_INFO = 6,
    SEVERITY_DEBUG = 7
};

#define LINE_OCTETS 1024

static int debug_on;

void log_set_debug(int on)
{
    debug_on = on;
}

__attribute__((format(printf, 3, 0))) static void write_line(int severity, const char *ending,
                                                             const char *format, va_list arguments)
{
    int saved_errno = errno;
    char line[LINE_OCTETS];
    (void)vsnprintf(line, sizeof line, format, arguments);
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

const char *log_text(const char *text, size_t length, char *out, size_t size)
{
    static const char hex[] = "0123456789ABCDEF";
    size_t used = 0;
    for (size_t i = 0; i < length; i++) {
        unsigned char octet = (unsigned char)text[i];
        /* C1 controls arrive as C2 80..9F in UTF-8: the second octet is what a terminal obeys. */
        bool c1 = octet >= 0x80 && octet <= 0x9F && i > 0 && (unsigned char)text[i - 1] == 0xC2;
        bool plain = octet >= 0x20 && octet != 0x7F && octet != '\\' && !c1;
        size_t need = plain ? 1 : 4;
        if (used + need + 4 > size) {
            if (size >= 4 && used + 4 <= size) {
                memcpy(&out[used], "...", 3);
                used += 3;
            }
            break;
        }
        if (plain) {
            out[used] = (char)octet;
        } else {
            out[used] = '\\';
            out[used + 1] = 'x';
            out[used + 2] = hex[octet >> 4];
            out[used + 3] = hex[octet & 0x0F];
        }
        used += need;
    }
    if (size > 0) {
        out[used] = '\0';
    }
    return out;
}
