/* SPDX-License-Identifier: MIT
 *
 * meter: what an hour meter can show. A meter shows whole hours, tenths or hundredths: its limit
 * ("9999.9") tells which. */
#include "daemon/upkeep/meter.h"

#define ROLL_OVER_SHARE 50 /* within a fiftieth, 2 %, of the limit */

int32_t meter_whole_digits(int64_t hundredths)
{
    int32_t digits = 1;
    for (int64_t hours = hundredths / 1000; hours > 0; hours /= 10) {
        digits++;
    }
    return digits;
}

int64_t meter_period(int64_t limit_hundredths)
{
    if (limit_hundredths % 100 == 0) {
        return limit_hundredths + 100;
    }
    return limit_hundredths + (limit_hundredths % 10 == 0 ? 10 : 1);
}

bool meter_rolled_over(int64_t limit_hundredths, int64_t last_hundredths, int64_t hundredths,
                       int64_t allowed_hundredths)
{
    int64_t near = limit_hundredths - limit_hundredths / ROLL_OVER_SHARE;
    int64_t run = meter_period(limit_hundredths) - last_hundredths + hundredths;
    return last_hundredths >= near && hundredths < last_hundredths && run <= allowed_hundredths;
}

bool meter_swapped(int64_t last_hundredths, int64_t hundredths, int64_t allowed_hundredths)
{
    return hundredths < last_hundredths / 10 && hundredths <= allowed_hundredths;
}
