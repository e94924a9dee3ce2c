/* SPDX-License-Identifier: MIT
 *
 * usage: hours a day from the recent readings.
 *
 * H. Theil (1950) and P. K. Sen (1968): the median of the slopes of all pairs. Up to 29 % of the
 * readings may be wrong without carrying it away. Forty readings make 780 pairs, which lie on the
 * stack; their median is found by C. A. R. Hoare's selection (1961), which does not sort them.
 *
 * Time laid up does not count: it is taken out of the time line before the slopes are formed. */
#include "daemon/upkeep/usage.h"

#define SLOPES_MAX (USAGE_READINGS_MAX * (USAGE_READINGS_MAX - 1) / 2)
#define DAY_S 86400
#define SPAN_MIN_S (2 * DAY_S)

int64_t usage_working_s(int64_t from_s, int64_t until_s, const struct usage_spell *spells,
                        size_t spell_count)
{
    int64_t working = until_s - from_s;
    for (size_t i = 0; i < spell_count; i++) {
        int64_t from = spells[i].from_s > from_s ? spells[i].from_s : from_s;
        int64_t until = spells[i].until_s < until_s ? spells[i].until_s : until_s;
        working -= until > from ? until - from : 0;
    }
    return working > 0 ? working : 0;
}

static void exchange(double *values, size_t one, size_t other)
{
    double kept = values[one];
    values[one] = values[other];
    values[other] = kept;
}

/* Puts the value of that rank (0 the least) in its place, no greater one before it. */
static double select_rank(double *values, size_t count, size_t rank)
{
    size_t low = 0;
    size_t high = count - 1;
    while (low < high) {
        double pivot = values[low + (high - low) / 2];
        size_t below = low;
        size_t same = low;
        for (size_t i = low; i <= high; i++) {
            if (values[i] < pivot) {
                exchange(values, same, i);
                exchange(values, below++, same++);
            } else if (!(values[i] > pivot)) {
                exchange(values, same++, i);
            }
        }
        if (rank < below) {
            high = below - 1;
        } else if (rank >= same) {
            low = same;
        } else {
            return pivot;
        }
    }
    return values[rank];
}

static double median(double *values, size_t count)
{
    double upper = select_rank(values, count, count / 2);
    if (count % 2 == 1) {
        return upper;
    }
    double lower = values[0];
    for (size_t i = 1; i < count / 2; i++) {
        lower = values[i] > lower ? values[i] : lower;
    }
    return (lower + upper) / 2;
}

bool usage_slope(const struct usage_reading *readings, size_t count,
                 const struct usage_spell *spells, size_t spell_count, double *hours_a_day)
{
    double slopes[SLOPES_MAX];
    size_t slope_count = 0;
    size_t used = count < USAGE_READINGS_MAX ? count : USAGE_READINGS_MAX;
    for (size_t i = 0; i < used; i++) {
        for (size_t j = 0; j < i; j++) {
            bool in_order = readings[j].at_s <= readings[i].at_s;
            const struct usage_reading *early = &readings[in_order ? j : i];
            const struct usage_reading *late = &readings[in_order ? i : j];
            int64_t apart_s = usage_working_s(early->at_s, late->at_s, spells, spell_count);
            if (apart_s > 0) {
                double hours = (double)(late->true_hundredths - early->true_hundredths) / 100;
                slopes[slope_count++] = hours / ((double)apart_s / DAY_S);
            }
        }
    }
    if (slope_count == 0) {
        return false;
    }
    *hours_a_day = median(slopes, slope_count);
    return true;
}

static int64_t span_s(const struct usage_reading *readings, size_t count,
                      const struct usage_spell *spells, size_t spell_count)
{
    int64_t first = readings[0].at_s;
    int64_t last = readings[0].at_s;
    for (size_t i = 1; i < count; i++) {
        first = readings[i].at_s < first ? readings[i].at_s : first;
        last = readings[i].at_s > last ? readings[i].at_s : last;
    }
    return usage_working_s(first, last, spells, spell_count);
}

struct usage usage_of(const struct usage_reading *readings, size_t count,
                      const struct usage_spell *spells, size_t spell_count,
                      double typical_hours_a_day)
{
    struct usage usage = {.hours_a_day = typical_hours_a_day};
    size_t used = count < USAGE_READINGS_MAX ? count : USAGE_READINGS_MAX;
    double slope = 0;
    if (used >= USAGE_READINGS_MIN && span_s(readings, used, spells, spell_count) > SPAN_MIN_S &&
        usage_slope(readings, used, spells, spell_count, &slope)) {
        usage.hours_a_day = slope > 0 ? slope : 0;
        usage.rests_on = (int32_t)used;
    }
    return usage;
}
