/* SPDX-License-Identifier: MIT
 * dispatch: texts out, a part at a time. What became of a part is told by kind of error: try again
 * later, never, or not known. */
#ifndef METERPOST_DAEMON_MODEM_DISPATCH_H
#define METERPOST_DAEMON_MODEM_DISPATCH_H

#include <stdbool.h>
#include <stdint.h>

#include "daemon/modem/chat.h"
#include "daemon/modem/link.h"

struct dispatch {
    const struct link_host *host;
    struct part part;
    bool busy;               /* part is in the modem's hands */
    bool woken;              /* there may be something to send */
    int64_t next_ms;         /* when to ask again all the same */
    int64_t not_before_ms;   /* pause after an error that concerns all texts */
    int32_t reference;       /* TP-MR of the part, -1 unknown */
    uint32_t refused_in_row; /* before the prompt */
};

void dispatch_init(struct dispatch *dispatch, const struct link_host *host);
void dispatch_wake(struct dispatch *dispatch);

/* What a +CMS ERROR means for the part (TS 27.005 3.2.5: 0 to 127 are causes of TS 24.011 E-2, 128
 * to 255 TP-FCS of TS 23.040 9.2.3.22). cause -1: an error without a number. */
struct dispatch_cause {
    enum part_fate fate;
    int64_t retry_after_ms;
    bool all; /* concerns whatever is sent next as well */
    enum finding finding;
};
struct dispatch_cause dispatch_cause(int32_t cause);

struct speaker dispatch_speaker(struct dispatch *dispatch);

#endif
