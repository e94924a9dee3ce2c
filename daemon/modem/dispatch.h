/* SPDX-License-Identifier: MIT
 * dispatch: texts out, a part at a time. What became of a part is told by its cause (cause.h): try
 * again later, never, or not known. */
#ifndef METERPOST_DAEMON_MODEM_DISPATCH_H
#define METERPOST_DAEMON_MODEM_DISPATCH_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/modem/chat.h"
#include "daemon/modem/link.h"

struct dispatch {
    const struct link_host *host;
    struct link_health *health; /* sends_failed and sends_cause are kept there */
    struct part part;
    bool busy;               /* part is in the modem's hands */
    bool woken;              /* there may be something to send */
    int64_t next_ms;         /* when to ask again all the same */
    int64_t not_before_ms;   /* pause after errors that concern all texts */
    int64_t failed_id;       /* the part that met with such an error last; 0: none since one went */
    int32_t reference;       /* TP-MR of the part, -1 unknown */
    uint32_t refused_in_row; /* before the prompt */
};

void dispatch_init(struct dispatch *dispatch, const struct link_host *host,
                   struct link_health *health);
void dispatch_wake(struct dispatch *dispatch);

struct speaker dispatch_speaker(struct dispatch *dispatch);

#endif
