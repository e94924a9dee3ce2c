/* SPDX-License-Identifier: MIT
 * speaker: who has commands to give: set-up, intake, dispatch, watch. The link lets one speak at a
 * time and hands it what comes back. */
#ifndef METERPOST_DAEMON_MODEM_SPEAKER_H
#define METERPOST_DAEMON_MODEM_SPEAKER_H

#include <stdbool.h>
#include <stddef.h>

#include "daemon/ground/clock.h"
#include "daemon/modem/chat.h"

struct speaker {
    /* Fills *command with what it wants to say now; false: nothing. *command comes zeroed. */
    bool (*next)(void *ctx, struct instant now, struct chat_command *command);
    void (*line)(void *ctx, const char *text, size_t length); /* may be NULL */
    void (*done)(void *ctx, struct instant now, const struct chat_result *result);
    int64_t (*deadline_ms)(const void *ctx); /* when it wants to speak again; CLOCK_NEVER */
    void *ctx;
};

#endif
