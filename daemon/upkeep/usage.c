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

/* Working seconds of each reading since the earliest of them; the span is the greatest. */
static int64_t line_up(const struct usage_reading *readings, size_t count,
                       const struct usage_spell *spells, size_t spell_count, int64_t *working_s)
{
    int64_t first_s = count > 0 ? readings[0].at_s : 0;
    int64_t span_s = 0;
    for (size_t i = 1; i < count; i++) {
        first_s = readings[i].at_s < first_s ? readings[i].at_s : first_s;
    }
    for (size_t i = 0; i < count; i++) {
        working_s[i] = usage_working_s(first_s, readings[i].at_s, spells, spell_count);
        span_s = working_s[i] > span_s ? working_s[i] : span_s;
    }
    return span_s;
}

static bool median_slope(const struct usage_reading *readings, const int64_t *working_s,
                         size_t count, double *hours_a_day)
{
    double slopes[SLOPES_MAX];
    size_t slope_count = 0;
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < i; j++) {
            int64_t apart_s = working_s[i] - working_s[j];
            if (apart_s != 0) {
                int64_t hundredths = readings[i].true_hundredths - readings[j].true_hundredths;
                slopes[slope_count++] = (double)hundredths / (double)apart_s;
            }
        }
    }
    if (slope_count == 0) {
        return false;
    }
    *hours_a_day = median(slopes, slope_count) * DAY_S / 100;
    return true;
}

static size_t at_most_max(size_t count)
{
    return count < USAGE_READINGS_MAX ? count : USAGE_READINGS_MAX;
}

bool usage_slope(const struct usage_reading *readings, size_t count,
                 const struct usage_spell *spells, size_t spell_count, double *hours_a_day)
{
    int64_t working_s[USAGE_READINGS_MAX];
    size_t used = at_most_max(count);
    (void)line_up(readings, used, spells, spell_count, working_s);
    return median_slope(readings, working_s, used, hours_a_day);
}

struct usage usage_of(const struct usage_reading *readings, size_t count,
                      const struct usage_spell *spells, size_t spell_count,
                      double typical_hours_a_day)
{
    int64_t working_s[USAGE_READINGS_MAX];
    struct usage usage = {.hours_a_day = typical_hours_a_day};
    size_t used = at_most_max(count);
    double slope = 0;
    int64_t span_s = line_up(readings, used, spells, spell_count, working_s);
    if (used >= USAGE_READINGS_MIN && span_s > SPAN_MIN_S &&
        median_slope(readings, working_s, used, &slope)) {
        usage.hours_a_day = slope > 0 ? slope : 0;
        usage.rests_on = (int32_t)used;
    }
    return usage;
}
