/* SPDX-License-Identifier: MIT
 * when: the moment that a day or an hour in a text stands for, by the process's zone: in the past for
 * what was done or read, to come for what is booked. */
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
 * A day without an hour stands for its end, never later than sent_s. */
enum when_result when_resolve(const struct crew_when *when, int64_t sent_s, int64_t *at_s);

/* Whether the text says any moment. */
bool when_said(const struct crew_when *when);

/* The day to come that is meant; it may turn out to lie in the past. False where there is none such. */
bool when_to_come(const struct crew_when *when, int32_t today, int32_t *day);

#endif
