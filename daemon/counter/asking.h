/* SPDX-License-Identifier: MIT
 * asking: a verb's question to the running daemon, and what is said where it gets no answer. */
#ifndef METERPOST_DAEMON_COUNTER_ASKING_H
#define METERPOST_DAEMON_COUNTER_ASKING_H

#include <stdio.h>

#include "config/settings.h"
#include "daemon/door/door.h"

struct asking {
    int status; /* the daemon's, once DOOR_ANSWERED */
    size_t length;
    char answer[DOOR_ANSWER_OCTETS + 1]; /* NUL-terminated */
};

/* Asks at the door of the settings. A daemon that is there and does not answer, or not to us, is
 * told on err; `advice` ends that line ("; see its log", or ""). DOOR_NOBODY is told nowhere: the
 * verb goes on alone. */
enum door_result asking_daemon(struct asking *asking, const struct settings *settings,
                               size_t word_count, const char *const *words, const char *advice,
                               FILE *err);

#endif
