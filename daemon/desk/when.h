/* SPDX-License-Identifier: MIT
 * when: the moment that a day or an hour in a text stands for. */
#ifndef METERPOST_DAEMON_DESK_WHEN_H
#define METERPOST_DAEMON_DESK_WHEN_H

#include <stdbool.h>
#include <stdint.h>

#include "parsers/crew_text.h"

enum when_result {
    WHEN_OK,
    WHEN_UNCLEAR, /* no such day, or without a year and more than 60 days past */
    WHEN_FUTURE
};

/* sent_s: when the text was sent, which "today" is told from, and which a moment unsaid stands for.
 * A day without an hour stands for its end, never later than sent_s. By the process's zone. */
enum when_result when_resolve(const struct crew_when *when, int64_t sent_s, int64_t *at_s);

/* Whether the text says any moment. */
bool when_said(const struct crew_when *when);

#endif
