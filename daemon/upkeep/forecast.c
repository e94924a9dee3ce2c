/* SPDX-License-Identifier: MIT
 *
 * forecast: how much a machine is used, and when it will have run so many hours more.
 *
 * The slope is that of H. Theil (1950) and P. K. Sen (1968): the median of the slopes of all pairs.
 * Up to 29 % of the points may be wrong without carrying it away. The median is found by C. A. R.
 * Hoare's selection (1961), which does not sort. Time laid up does not count: it is taken out of the
 * time line before slopes are formed.
 *
 * All that is reckoned rests on readings about half a week apart, counted back
 * from the newest one, so that weekdays and a crew that reads three times a day make no difference.
 *
 * The pace is the slope of the last twenty weeks at work, drawn towards the average of the last year
 * as far as the difference of the two may be chance: such a slope errs by the variance of a week over
 * their number, so that a share variance / difference^2, at most all, is drawn (the idea of W. James
 * and C. Stein, 1961). While the machine is new the kind's figure is mixed in, its weight e^-w^2
 * after w weeks, so that nothing jumps.
 *
 * Where use grows, the line through the last ten weeks' totals says by how much a week. Of that
 * slope the share is taken that is no chance, by its standard error, and it fades from week to week
 * (a damped trend: E. S. Gardner and E. McKenzie, 1985). Only upwards: to be late is the worse fault.
 *
 * The year: where the almanac of the yard has one, a day counts by the weight that such days had last
 * year. How far a machine goes along with its yard is the slope of its own weeks' paces over those
 * weights, drawn towards none; one that works alike all year is left as it is. With days so counted
 * a season is no growth, and the weeks ahead get their own weights.
 *
 * Silence: a machine without a reading for longer than usual may stand, or its crew may forget. How
 * much it stood in such gaps before is learned from what it had run when the next reading came.
 *
 * The bounds follow from a running sum of weekly totals: over t weeks it varies by s^2 t, where s is
 * the spread of one week, more where the totals come in bursts; the pace itself is known only so
 * well, which counts with t^2; and it wanders, which counts with t^3 (a sum of a random walk). Bounds are where the mean
 * leaves the wanted hours by so many deviations.
 *
 * The constants were settled on invented seasons (tests/bench/season.c); they are a choice of this house, no source. */
#include "daemon/upkeep/forecast.h"

#include <math.h>

#include "daemon/upkeep/almanac.h"
#include "daemon/upkeep/compare.h"

#define DAY_S 86400.0
#define SLOPES_MAX (USAGE_READINGS_MAX * (USAGE_READINGS_MAX - 1) / 2)
#define WEEK_DAYS 7.0
#define WEEK_LEAST 0.45 /* of a week, from reading to reading */
#define WINDOW_WEEKS 20.0
#define TREND_WEEKS 10.0
#define TREND_TOTALS 4   /* at least */
#define TREND_CHANCE 3.0 /* of the slope is kept 1 - this / t^2 */
#define TREND_FADES 0.93 /* a week */
#define STILL_DAYS 9.0   /* between two readings: longer, and hardly used, the machine stood */
#define STILL_SHARE 0.15 /* of the kind's typical figure */
#define SILENT_TIMES 1.5 /* times the usual gap between readings */
#define SILENT_DAYS_MIN 4.0
#define GAP_UNKNOWN_DAYS 10.0 /* with too few readings to tell the usual gap */
#define GAP_READINGS 4        /* at least, to tell it */
/* The spread of a week before anything is known, in weekly means, and how many weeks it counts. */
#define PRIOR_SPREAD 0.45
#define PRIOR_WEEKS 1
#define LEAST_SPREAD 0.08
#define BURSTS_BASE 0.35 /* a sum of weeks varies by base + slope * spread times the single weeks */
#define BURSTS_SLOPE 4.0
#define DRIFT 0.23 /* of the spread of a week, by which the pace wanders in a week */
#define DEVIATIONS 1.6
#define WEEKS_MOST 2000 /* the late bound of a forecast of ten years */
#define LATE_TIMES 3.0  /* no late bound beyond so many times the forecast and eight weeks */
#define LATE_WEEKS 8.0
/* A silent machine may stand or may run on: how much of such days it stood is learned from the gaps
 * of the past, in which there is this much to begin with (a choice of this house, no source). */
#define STOOD_SHARE 0.6
#define STOOD_DAYS 14.0
#define SILENT_LIKELY 1.2
#define SILENT_LATE 3.0
#define FOLLOWS_DRAWN 1.0 /* weeks, of a weight off by 1, that speak for going its own way */
#define FOLLOWS_MOST 1.3
#define WEIGHT_LEAST 0.05
#define WEIGHT_STEP_S (INT64_C(7) * 86400)

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

static double weight_at(const struct almanac *almanac, double follows, int64_t at_s)
{
    double weight = 1 + follows * (almanac_weight(almanac, at_s) - 1);
    return weight > WEIGHT_LEAST ? weight : WEIGHT_LEAST;
}

/* The mean weight from one moment to a later one, of at most WEEKS_MOST weeks. */
static double mean_weight(const struct almanac *almanac, double follows, int64_t from_s,
                          int64_t until_s)
{
    int64_t steps = lesser(1 + (until_s - from_s) / WEIGHT_STEP_S, WEEKS_MOST);
    int64_t step_s = (until_s - from_s) / steps;
    double sum = 0;
    for (int64_t i = 0; i < steps; i++) {
        sum += weight_at(almanac, follows, from_s + i * step_s + step_s / 2);
    }
    return sum / (double)steps;
}

/* Days at work, each counted by its weight. */
static double weighed_days(const struct usage_record *record, double follows, int64_t from_s,
                           int64_t until_s)
{
    double days = (double)usage_working_s(record, from_s, until_s) / DAY_S;
    return follows > 0 && until_s > from_s
               ? days * mean_weight(record->almanac, follows, from_s, until_s)
               : days;
}

/* How far the machine goes along with its yard's year: the slope of its paces over the weights, both
 * by their means, drawn towards none. */
static double follows_year(const struct usage_record *record)
{
    double n = 0, sum_x = 0, sum_y = 0, sum_xx = 0, sum_xy = 0;
    size_t from = 0;
    for (size_t i = 1; i < record->count && record->almanac != NULL; i++) {
        const struct usage_reading *newer = &record->readings[from];
        const struct usage_reading *older = &record->readings[i];
        double weeks =
            (double)usage_working_s(record, older->at_s, newer->at_s) / DAY_S / WEEK_DAYS;
        if (weeks < WEEK_LEAST) {
            continue;
        }
        double x = mean_weight(record->almanac, 1, older->at_s, newer->at_s);
        double y = (double)(newer->true_hundredths - older->true_hundredths) / 100 / weeks;
        n += weeks, sum_x += weeks * x, sum_y += weeks * y;
        sum_xx += weeks * x * x, sum_xy += weeks * x * y;
        from = i;
    }
    if (!(sum_x > 0) || !(sum_y > 0)) {
        return 0;
    }
    double of_x = n * n * sum_xx / (sum_x * sum_x) - n;
    double of_xy = n * n * sum_xy / (sum_x * sum_y) - n;
    double slope = of_xy / (of_x + FOLLOWS_DRAWN);
    return slope < 0 ? 0 : slope < FOLLOWS_MOST ? slope : FOLLOWS_MOST;
}

static void exchange(double *one, double *other)
{
    double kept = *one;
    *one = *other;
    *other = kept;
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

/* The readings on a line of working days before the newest one, standing still left out. */
struct line {
    size_t count;
    double days[USAGE_READINGS_MAX];  /* 0 the newest, growing into the past */
    double hours[USAGE_READINGS_MAX]; /* before the newest, likewise */
    double gaps[USAGE_READINGS_MAX];  /* to the next newer one, days, standing still counted */
    /* Places on it about a week apart, the newest first: from each to the next is a total. */
    size_t week_count;
    size_t weeks[USAGE_READINGS_MAX];
};

static void draw_line(const struct usage_record *record, double follows, struct line *line)
{
    const struct usage_reading *readings = record->readings;
    *line = (struct line){.count = record->count < USAGE_READINGS_MAX ? record->count
                                                                      : USAGE_READINGS_MAX};
    for (size_t i = 1; i < line->count; i++) {
        double days =
            (double)usage_working_s(record, readings[i].at_s, readings[i - 1].at_s) / DAY_S;
        double hours =
            (double)(readings[i - 1].true_hundredths - readings[i].true_hundredths) / 100;
        double weighed = weighed_days(record, follows, readings[i].at_s, readings[i - 1].at_s);
        bool stood = days > STILL_DAYS && hours < STILL_SHARE * record->typical_hours_a_day * days;
        line->gaps[i] = days;
        line->days[i] = line->days[i - 1] + (!stood || weighed < 1 ? weighed : 1);
        line->hours[i] = line->hours[i - 1] + hours;
    }
    line->week_count = line->count > 0 ? 1 : 0;
    for (size_t i = 1; i < line->count; i++) {
        double since = line->days[i] - line->days[line->weeks[line->week_count - 1]];
        if (since >= WEEK_LEAST * WEEK_DAYS) {
            line->weeks[line->week_count++] = i;
        }
    }
    /* What is left at the old end is no week; it counts where there is hardly more. */
    if (line->week_count > 0 && line->week_count <= 3 && line->count > 1) {
        size_t place = line->week_count > 1 ? line->week_count - 1 : 1;
        line->weeks[place] = line->count - 1;
        line->week_count = place + 1;
    }
}

/* The slope over the places of the window, two at least; never negative. */
static double recent_pace(const struct line *line)
{
    double days[USAGE_READINGS_MAX];
    double hours[USAGE_READINGS_MAX];
    double pace = 0;
    size_t count = 0;
    for (; count < line->week_count; count++) {
        days[count] = line->days[line->weeks[count]];
        hours[count] = line->hours[line->weeks[count]];
        if (count > 1 && days[count] > WINDOW_WEEKS * WEEK_DAYS) {
            break;
        }
    }
    return usage_slope(days, hours, count, &pace) && pace > 0 ? pace : 0;
}

/* How much a week's total differs from the mean. */
struct spread {
    double hours;  /* standard deviation */
    int32_t count; /* totals it comes from */
};

/* Over the newest so many weeks. A total of t weeks varies t times as much as one, and is one total
 * all the same. */
static struct spread spread_of(const struct line *line, double weeks, double mean)
{
    double squares = PRIOR_WEEKS * PRIOR_SPREAD * PRIOR_SPREAD * mean * mean;
    struct spread spread = {0};
    for (size_t i = 1; i < line->week_count; i++) {
        size_t from = line->weeks[i - 1];
        size_t to = line->weeks[i];
        double span = (line->days[to] - line->days[from]) / WEEK_DAYS;
        if (line->days[from] >= weeks * WEEK_DAYS || span < WEEK_LEAST) {
            break;
        }
        double off = line->hours[to] - line->hours[from] - mean * span;
        squares += off * off / span;
        spread.count++;
    }
    spread.hours = sqrt(squares / (spread.count + PRIOR_WEEKS));
    spread.hours = spread.hours > LEAST_SPREAD * mean ? spread.hours : LEAST_SPREAD * mean;
    return spread;
}

/* How many times a sum of weeks varies as much as single weeks would have it. */
static double bursts(double spread, double mean)
{
    double relative = mean > 0 ? spread / mean : 2;
    return BURSTS_BASE + BURSTS_SLOPE * (relative < 2 ? relative : 2);
}

/* The recent pace, drawn towards the average as far as their difference may be chance. */
static double draw_to(const struct line *line, double recent, double average)
{
    double mean = recent * WEEK_DAYS;
    double spread = spread_of(line, WINDOW_WEEKS, mean).hours;
    double weeks = line->days[line->count - 1] / WEEK_DAYS;
    weeks = weeks < 1 ? 1 : weeks > WINDOW_WEEKS ? WINDOW_WEEKS : weeks;
    double variance = spread * spread * bursts(spread, mean) / weeks;
    double apart = (average - recent) * WEEK_DAYS;
    double share = apart * apart > variance ? variance / (apart * apart) : 1;
    return recent + share * (average - recent);
}

/* By how many hours a week the weekly total grows, as far as that is no chance; never negative.
 * *lag_weeks is how long ago the totals' middle lies. */
static double trend_of(const struct line *line, double *lag_weeks)
{
    double n = 0, sum_x = 0, sum_y = 0, sum_xx = 0, sum_xy = 0, sum_yy = 0;
    size_t totals = 0;
    for (size_t i = 1; i < line->week_count; i++) {
        size_t from = line->weeks[i - 1];
        size_t to = line->weeks[i];
        double span = (line->days[to] - line->days[from]) / WEEK_DAYS;
        if (line->days[from] >= TREND_WEEKS * WEEK_DAYS || span < WEEK_LEAST) {
            break;
        }
        double x = -(line->days[to] + line->days[from]) / 2 / WEEK_DAYS;
        double y = (line->hours[to] - line->hours[from]) / span;
        n += span, sum_x += span * x, sum_y += span * y;
        sum_xx += span * x * x, sum_xy += span * x * y, sum_yy += span * y * y;
        totals++;
    }
    *lag_weeks = 0;
    if (totals < TREND_TOTALS) {
        return 0;
    }
    double of_x = sum_xx - sum_x * sum_x / n;
    double of_xy = sum_xy - sum_x * sum_y / n;
    double of_y = sum_yy - sum_y * sum_y / n;
    if (!(of_x > 0) || !(of_xy > 0)) {
        return 0;
    }
    double slope = of_xy / of_x;
    double rest = (of_y - slope * of_xy) / (double)(totals - 2);
    double chance = rest > 0 ? TREND_CHANCE * rest / of_x / (slope * slope) : 0;
    *lag_weeks = -sum_x / n;
    return chance < 1 ? slope * (1 - chance) : 0;
}

/* The gap that nine of ten between these readings stay below. */
static double usual_gap(const struct line *line)
{
    double gaps[USAGE_READINGS_MAX];
    size_t count = 0;
    for (size_t i = 1;
         i < line->count && (i < GAP_READINGS || line->days[i] <= WINDOW_WEEKS * WEEK_DAYS); i++) {
        gaps[count++] = line->gaps[i];
    }
    if (count + 1 < GAP_READINGS) {
        return GAP_UNKNOWN_DAYS;
    }
    double gap = SILENT_TIMES * select_rank(gaps, count, (count - 1) * 9 / 10);
    return gap > SILENT_DAYS_MIN ? gap : SILENT_DAYS_MIN;
}

/* Of the days of gaps longer than the usual one, the share in which it stood. */
static double stood_share(const struct line *line, double usual, double hours_a_day)
{
    double days = STOOD_DAYS;
    double stood = STOOD_SHARE * STOOD_DAYS;
    for (size_t i = 1; i < line->count && hours_a_day > 0; i++) {
        double gap = line->gaps[i];
        double ran = (line->hours[i] - line->hours[i - 1]) / hours_a_day;
        if (gap > usual) {
            days += gap;
            stood += ran < gap ? gap - ran : 0;
        }
    }
    return stood / days;
}

struct forecast_pace forecast_pace_of(const struct usage_record *record, int64_t now_s)
{
    struct line line;
    struct forecast_pace pace = {.hours_a_day = record->typical_hours_a_day};
    if (record->count == 0) {
        return pace;
    }
    pace.follows = follows_year(record);
    draw_line(record, pace.follows, &line);
    double lag_weeks = 0;
    double days = line.days[line.count - 1];
    double own = recent_pace(&line);
    double average = days > 0 ? line.hours[line.count - 1] / days : 0;
    if (average > 0) {
        own = draw_to(&line, own, average);
    }
    double weeks = days / WEEK_DAYS;
    double kind = exp(-weeks * weeks);
    double level = own + kind * (record->typical_hours_a_day - own);
    double trend = trend_of(&line, &lag_weeks);
    double usual = usual_gap(&line);
    struct spread spread = spread_of(&line, FORECAST_WEEKS_MAX, level * WEEK_DAYS);
    pace.rests_on = line.count > 1 && days > 0 ? (int32_t)line.count : 0;
    pace.week_growth = trend;
    pace.hours_a_day =
        level + trend * (lag_weeks < WINDOW_WEEKS / 2 ? lag_weeks : WINDOW_WEEKS / 2) / WEEK_DAYS;
    pace.week_spread = spread.hours;
    pace.total_count = spread.count;
    pace.since_days = (double)usage_working_s(record, record->readings[0].at_s, now_s) / DAY_S;
    double since = weighed_days(record, pace.follows, record->readings[0].at_s, now_s);
    pace.since_hours = pace.hours_a_day * since;
    pace.silent_days = since > usual ? since - usual : 0;
    if (pace.follows > 0) {
        pace.almanac = record->almanac;
        pace.last_s = now_s - (int64_t)(pace.since_days * DAY_S);
        pace.base_hours_a_day = pace.hours_a_day;
        pace.hours_a_day *= weight_at(pace.almanac, pace.follows, now_s);
    }
    pace.stood_share = stood_share(&line, usual, level);
    return pace;
}

static double base_pace(const struct forecast_pace *pace)
{
    return pace->follows > 0 ? pace->base_hours_a_day : pace->hours_a_day;
}

/* Of the week after the last reading, counted from 1. */
static double week_weight(const struct forecast_pace *pace, int32_t week)
{
    return pace->follows > 0 ? weight_at(pace->almanac, pace->follows,
                                         pace->last_s + week * WEIGHT_STEP_S - WEIGHT_STEP_S / 2)
                             : 1;
}

/* Weeks until the sum, so many deviations above what is likely, reaches `left`; at most `most`. */
static double weeks_until(double left, const struct forecast_pace *pace, double deviations,
                          double most)
{
    double mean = base_pace(pace) * WEEK_DAYS;
    double growth = pace->week_growth;
    double of_week = pace->week_spread * pace->week_spread;
    double by_week = of_week * bursts(pace->week_spread, mean);
    double by_square = of_week / (pace->total_count + PRIOR_WEEKS);
    double by_cube = DRIFT * DRIFT * of_week / 3;
    double likely = 0;
    double before = 0;
    double weeks = 0; /* of weight 1 */
    for (int32_t week = 1; week <= WEEKS_MOST && week <= most + 1; week++) {
        growth *= TREND_FADES;
        mean += growth;
        double weight = week_weight(pace, week);
        likely += mean * weight;
        weeks += weight;
        double variance = weeks * (by_week + weeks * (by_square + weeks * by_cube));
        double sum = likely + deviations * sqrt(variance);
        if (sum >= left && sum > before) {
            double part = (left - before) / (sum - before);
            double until = week - 1 + (part > 0 ? part : 0);
            return until < most ? until : most;
        }
        before = sum > before ? sum : before;
    }
    return most;
}

struct forecast forecast_of(int64_t left_hundredths, const struct forecast_pace *pace)
{
    struct forecast forecast = {0};
    double left = (double)left_hundredths / 100;
    if (left_hundredths <= 0) {
        forecast.known = true;
        return forecast;
    }
    if (!(base_pace(pace) * FORECAST_DAYS_MAX > left)) {
        return forecast;
    }
    double weeks = weeks_until(left, pace, 0, FORECAST_DAYS_MAX / WEEK_DAYS);
    double early = weeks_until(left, pace, DEVIATIONS, weeks);
    double late = weeks_until(left, pace, -DEVIATIONS, LATE_TIMES * weeks + LATE_WEEKS);
    double silent = pace->silent_days * pace->stood_share;
    forecast.known = true;
    forecast.worked_days = weeks * WEEK_DAYS;
    forecast.days = weeks * WEEK_DAYS + SILENT_LIKELY * silent;
    forecast.early_days = early * WEEK_DAYS;
    forecast.late_days = late * WEEK_DAYS + SILENT_LATE * silent;
    return forecast;
}
