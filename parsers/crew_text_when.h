/* SPDX-License-Identifier: MIT
 * crew_text_when: the days and times of day that a text names. */
#ifndef METERPOST_PARSERS_CREW_TEXT_WHEN_H
#define METERPOST_PARSERS_CREW_TEXT_WHEN_H

#include "parsers/crew_text_items.h"

/* Makes one ITEM_WHEN of every run of items that names a day ("as of last Friday", "2 days ago",
 * "14 de marzo a las 5pm") or a time of day. A day yet to come has days_ago -1; a day that the
 * calendar does not have has kind CREW_WHEN_DATE and month 0. */
void when_reduce(struct items *items);

/* The minute of the day that "6:15" stands for, -1 where the figure is no time of day. */
int32_t when_clock_minute(const struct item *item);

#endif
