/* SPDX-License-Identifier: MIT
 * apportion: what a machine had run at a moment between two readings. Pure. */
#ifndef METERPOST_DAEMON_UPKEEP_APPORTION_H
#define METERPOST_DAEMON_UPKEEP_APPORTION_H

#include "daemon/upkeep/usage.h"

/* True hundredths at that moment: between two readings in step with the time at work, spells laid up
 * left out (where it was laid up all the time, what it ran is found with the later reading). Before
 * the first reading that one's figure, after the last one the last's; 0 where there is none. What ran
 * in a span is the difference of two moments, so that spans that meet add up. */
int64_t apportion_at(const struct usage_record *record, int64_t at_s);

#endif
