/* SPDX-License-Identifier: MIT
 *
 * usage: what a machine ran, as a line of working days.
 *
 * The slope is that of H. Theil (1950) and P. K. Sen (1968): the median of the slopes of all pairs.
 * Up to 29 % of the points may be wrong without carrying it away. The median is found by C. A. R.
 * Hoare's selection (1961), which does not sort. Time laid up does not count: it is taken out of the
 * time line before slopes are formed, and so is standing still.
 *
 * The year: where the almanac of the yard has one, a day counts by the weight that such days had last
 * year. How far a machine goes along with its yard is the slope of its own weeks' paces over those
 * weights, drawn towards none as far as it may be chance; one that works alike all year is left as it is.
 *
 * The constants were settled on invented seasons (tests/bench/season.c); they are a choice of this house, no source. */
#include "daemon/upkeep/usage.h"

#include "daemon/upkeep/almanac.h"
#include "daemon/upkeep/compare.h"

#define SLOPES_MAX (USAGE_READINGS_MAX * (USAGE_READINGS_MAX - 1) / 2)
#define STILL_DAYS 9.0     /* in which it hardly ran: longer, and it stood, */
#define STILL_OF_KIND 0.15 /* hardly: of the kind's typical figure, */
#define STILL_OF_OWN 0.7   /* and of its own average, the lesser of the two */
#define STILL_PRIOR_DAYS                                                                           \
    10.0 /* at its kind's figure, to begin that average with; less as days are seen */
#define STOP_DAYS_MOST 28.0 /* of a stop, for what is to be expected: longer ones are winters */
#define FOLLOWS_CHANCE 4.0  /* of the slope is kept 1 - this / t^2 */
#define FOLLOWS_DRAWN 1.0   /* weeks, of a weight off by 1, that speak for going its own way */
#define FOLLOWS_MOST 1.3
#define WEIGHT_LEAST 0.05
#define WEIGHT_STEP_S (INT64_C(7) * 86400)
#define WEIGHT_STEPS_MOST 2000

int64_t usage_working_s(const struct usage_record *record, int64_t from_s, int64_t until_s)
{
    int64_t working = until_s - from_s;
    for (size_t i = 0; i < record->spell_count; i++) {
        int64_t from = greater(record->spells[i].from_s, from_s);
        int64_t until = lesser(record->spells[i].until_s, until_s);
        working -= until > from ? until - from : 0;
    }
    return greater(working, 0);
}

double usage_weight(const struct almanac *almanac, double follows, int64_t at_s)
{
    double weight = 1 + follows * (almanac_weight(almanac, at_s) - 1);
    return weight > WEIGHT_LEAST ? weight : WEIGHT_LEAST;
}

/* The mean weight from one moment to a later one, of at most WEIGHT_STEPS_MOST weeks. */
static double mean_weight(const struct almanac *almanac, double follows, int64_t from_s,
                          int64_t until_s)
{
    int64_t steps = lesser(1 + (until_s - from_s) / WEIGHT_STEP_S, WEIGHT_STEPS_MOST);
    int64_t step_s = (until_s - from_s) / steps;
    double sum = 0;
    for (int64_t i = 0; i < steps; i++) {
        sum += usage_weight(almanac, follows, from_s + i * step_s + step_s / 2);
    }
    return sum / (double)steps;
}

double usage_weighed_days(const struct usage_record *record, double follows, int64_t from_s,
                          int64_t until_s)
{
    double days = (double)usage_working_s(record, from_s, until_s) / USAGE_DAY_S;
    return follows > 0 && until_s > from_s
               ? days * mean_weight(record->almanac, follows, from_s, until_s)
               : days;
}

/* The slope of its paces over the weights, both by their means, drawn towards none; the more so the less
 * the weights explain of its paces. */
double usage_follows(const struct usage_record *record)
{
    double n = 0, sum_x = 0, sum_y = 0, sum_xx = 0, sum_xy = 0, sum_yy = 0;
    size_t from = 0;
    int spans = 0;
    for (size_t i = 1; i < record->count && record->almanac != NULL; i++) {
        const struct usage_reading *newer = &record->readings[from];
        const struct usage_reading *older = &record->readings[i];
        double weeks = (double)usage_working_s(record, older->at_s, newer->at_s) / USAGE_DAY_S /
                       USAGE_WEEK_DAYS;
        if (weeks < USAGE_WEEK_LEAST) {
            continue;
        }
        double x = mean_weight(record->almanac, 1, older->at_s, newer->at_s);
        double y = (double)(newer->true_hundredths - older->true_hundredths) / 100 / weeks;
        n += weeks, sum_x += weeks * x, sum_y += weeks * y;
        sum_xx += weeks * x * x, sum_xy += weeks * x * y, sum_yy += weeks * y * y;
        from = i;
        spans++;
    }
    if (!(sum_x > 0) || !(sum_y > 0) || spans < 3) {
        return 0;
    }
    double of_x = n * n * sum_xx / (sum_x * sum_x) - n;
    double of_xy = n * n * sum_xy / (sum_x * sum_y) - n;
    double of_y = n * n * sum_yy / (sum_y * sum_y) - n;
    if (!(of_x > 0) || !(of_xy > 0)) {
        return 0;
    }
    double rest = of_y - of_xy * of_xy / of_x;
    double chance = rest > 0 ? FOLLOWS_CHANCE * rest / (spans - 2) * of_x / (of_xy * of_xy) : 0;
    double slope = chance < 1 ? of_xy / (of_x + FOLLOWS_DRAWN) * (1 - chance) : 0;
    return slope < FOLLOWS_MOST ? slope : FOLLOWS_MOST;
}

static void exchange(double *one, double *other)
{
    double kept = *one;
    *one = *other;
    *other = kept;
}

/* Puts it in its place, no greater one before it. */
double usage_rank(double *values, size_t count, size_t rank)
{
    size_t low = 0;
    size_t high = count - 1;
    while (low < high) {
        double pivot = values[low + (high - low) / 2];
        size_t below = low;
        size_t same = low;
        for (size_t i = low; i <= high; i++) {
            if (values[i] < pivot) {
                exchange(&values[same], &values[i]);
                exchange(&values[below++], &values[same++]);
            } else if (!(values[i] > pivot)) {
                exchange(&values[same++], &values[i]);
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
    double upper = usage_rank(values, count, count / 2);
    if (count % 2 == 1) {
        return upper;
    }
    double lower = values[0];
    for (size_t i = 1; i < count / 2; i++) {
        lower = values[i] > lower ? values[i] : lower;
    }
    return (lower + upper) / 2;
}

bool usage_slope(const double *days, const double *hours, size_t count, double *hours_a_day)
{
    double slopes[SLOPES_MAX];
    size_t used = count < USAGE_READINGS_MAX ? count : USAGE_READINGS_MAX;
    size_t slope_count = 0;
    for (size_t i = 1; i < used; i++) {
        for (size_t j = 0; j < i; j++) {
            double apart = days[i] - days[j];
            if (apart > 0 || apart < 0) {
                slopes[slope_count++] = (hours[i] - hours[j]) / apart;
            }
        }
    }
    if (slope_count == 0) {
        return false;
    }
    *hours_a_day = median(slopes, slope_count);
    return true;
}

/* Hours a day below which it hardly runs; none where hours went backwards. */
static double still_pace(const struct usage_record *record, const struct usage_line *line)
{
    double hours = line->count > 0 ? line->hours[line->count - 1] : 0;
    double days = 0;
    for (size_t i = 1; i < line->count; i++) {
        days += line->gaps[i];
    }
    double prior = STILL_PRIOR_DAYS * STILL_PRIOR_DAYS / (days + USAGE_WEEK_DAYS);
    double own = (hours + prior * record->typical_hours_a_day) / (days + prior);
    double of_own = STILL_OF_OWN * own;
    double of_kind = STILL_OF_KIND * record->typical_hours_a_day;
    return hours < 0 ? 0 : of_own < of_kind ? of_own : of_kind;
}

/* Gaps that follow on each other, in all of which it hardly ran, are a stop where they last long enough:
 * it counts as one day. Days are not summed up yet. */
static void leave_stops_out(struct usage_line *line, double still)
{
    double lasted = 0;
    size_t from = 1;
    for (size_t i = 1; still > 0 && i <= line->count; i++) {
        if (i < line->count && line->hours[i] - line->hours[i - 1] < still * line->gaps[i]) {
            lasted += line->gaps[i];
            continue;
        }
        if (lasted > STILL_DAYS) {
            double counts = lasted < STOP_DAYS_MOST ? lasted : STOP_DAYS_MOST;
            line->stops++;
            line->stop_squares += counts * counts;
            for (size_t j = from; j < i; j++) {
                double share = line->gaps[j] / lasted;
                line->days[j] = line->days[j] < share ? line->days[j] : share;
            }
        }
        lasted = 0;
        from = i + 1;
    }
}

/* Places about a week apart. What is left at the old end is no week; it counts where there is hardly
 * more. */
static void find_weeks(struct usage_line *line)
{
    line->week_count = line->count > 0 ? 1 : 0;
    for (size_t i = 1; i < line->count; i++) {
        double since = line->days[i] - line->days[line->weeks[line->week_count - 1]];
        if (since >= USAGE_WEEK_LEAST * USAGE_WEEK_DAYS) {
            line->weeks[line->week_count++] = i;
        }
    }
    if (line->week_count > 0 && line->week_count <= 3 && line->count > 1) {
        size_t place = line->week_count > 1 ? line->week_count - 1 : 1;
        line->weeks[place] = line->count - 1;
        line->week_count = place + 1;
    }
}

void usage_draw(const struct usage_record *record, double follows, struct usage_line *line)
{
    const struct usage_reading *readings = record->readings;
    *line = (struct usage_line){.count = record->count < USAGE_READINGS_MAX ? record->count
                                                                            : USAGE_READINGS_MAX};
    for (size_t i = 1; i < line->count; i++) {
        int64_t from_s = readings[i].at_s;
        int64_t until_s = readings[i - 1].at_s;
        int64_t ran = readings[i - 1].true_hundredths - readings[i].true_hundredths;
        line->gaps[i] = (double)usage_working_s(record, from_s, until_s) / USAGE_DAY_S;
        line->days[i] = usage_weighed_days(record, follows, from_s, until_s);
        line->hours[i] = line->hours[i - 1] + (double)ran / 100;
    }
    leave_stops_out(line, still_pace(record, line));
    for (size_t i = 1; i < line->count; i++) {
        line->days[i] += line->days[i - 1];
    }
    find_weeks(line);
}

double usage_span_weeks(const struct usage_line *line, size_t newer, size_t older)
{
    return (line->days[line->weeks[older]] - line->days[line->weeks[newer]]) / USAGE_WEEK_DAYS;
}

double usage_span_hours(const struct usage_line *line, size_t newer, size_t older)
{
    return line->hours[line->weeks[older]] - line->hours[line->weeks[newer]];
}
