/* SPDX-License-Identifier: MIT
 *
 * allowance: how many hours the clock lets a machine run between two moments. */
#include "daemon/yard/allowance.h"

#include "daemon/ground/zone.h"

#define HUNDREDTH_S 36 /* seconds */
/* Days looked at one by one; the first and last ones beyond that are taken at the full day. */
#define DAYS_MAX 800

static int64_t lesser(int64_t one, int64_t other)
{
    return one < other ? one : other;
}

int64_t allowance_between(int64_t from_s, int64_t until_s, int64_t most_day_hundredths)
{
    int64_t allowed_s = 0;
    int64_t most_s = most_day_hundredths * HUNDREDTH_S;
    int32_t first = zone_civil(from_s).day;
    int32_t last = zone_civil(until_s).day;
    if (last > first && last - first > DAYS_MAX) {
        allowed_s = (last - first - DAYS_MAX) * most_s;
        first = last - DAYS_MAX;
    }
    int64_t start_s = from_s;
    for (int32_t day = first; day <= last && start_s < until_s; day++) {
        int64_t end_s = lesser(zone_unix(day + 1, 0), until_s);
        allowed_s += end_s > start_s ? lesser(end_s - start_s, most_s) : 0;
        start_s = end_s;
    }
    return (allowed_s + HUNDREDTH_S - 1) / HUNDREDTH_S + ALLOWANCE_ROUNDING_HUNDREDTHS;
}
