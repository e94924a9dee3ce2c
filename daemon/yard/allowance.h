/* SPDX-License-Identifier: MIT
 * allowance: how many hours the clock lets a machine run between two moments. */
#ifndef METERPOST_DAEMON_YARD_ALLOWANCE_H
#define METERPOST_DAEMON_YARD_ALLOWANCE_H

#include <stdint.h>

#define ALLOWANCE_ROUNDING_HUNDREDTHS 20 /* meters show tenths and whole hours */

/* For each calendar day touched, in the shop's zone, the lesser of most_day_hundredths and the
 * hours of that day between the two moments; and 0.2 h for rounding. Hundredths; a day on which the
 * clocks change has its real 23 or 25 hours. until_s before from_s counts as no time. */
int64_t allowance_between(int64_t from_s, int64_t until_s, int64_t most_day_hundredths);

#endif
