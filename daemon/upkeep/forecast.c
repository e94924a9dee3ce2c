/* SPDX-License-Identifier: MIT
 *
 * forecast: how much a machine is used, and when it will have run so many hours more.
 *
 * All that is reckoned rests on readings about half a week apart, counted back
 * from the newest one, so that weekdays and a crew that reads three times a day make no difference.
 *
 * The pace is the slope (usage.h) of the last twenty weeks at work, drawn towards the average of the
 * last year as far as the difference of the two may be chance: such a slope errs by a little more
 * than the variance of a week over their number, so that a share variance / difference^2, at most all, is drawn (the idea of
 * W. James and C. Stein, 1961). While the machine is new the kind's figure is mixed in, its weight
 * e^-w^2 after w weeks, so that nothing jumps.
 *
 * Where use grows, the line through the last weeks' totals says by how much a week. Of that
 * slope the share is taken that is no chance, by its standard error, and it fades from week to week
 * (a damped trend: E. S. Gardner and E. McKenzie, 1985). Only upwards: to be late is the worse fault.
 * For the same reason the early bound takes the whole slope, and half its error more.
 *
 * With days counted by the yard's year a season is no growth, and the weeks ahead get their own weights.
 *
 * Silence: a machine without a reading for longer than usual may stand, or its crew may forget. How
 * much it stood in such gaps before is learned from what it had run when the next reading came. The
 * late bound allows for its having stood all the time, and for as long again.
 *
 * The bounds follow from a running sum of weekly totals: over t weeks it varies by s^2 t, where s is
 * the spread of one week, more where the totals come in bursts; the pace itself is known only so
 * well, which counts with t^2; and it wanders, so that a mean over so many weeks is out of date by now,
 * which counts with t^2 too, and goes on wandering, which counts with t^3 (a sum of a random walk). How
 * much a pace wanders is read off the machine's own past, beside what is usual. Bounds are where the
 * mean leaves the wanted hours by so many deviations. A machine that has stood before may stand again:
 * the late bound has room for stops as often and as long as it had them.
 *
 * The constants were settled on invented seasons (docs/forecast.md); they are a choice of this house,
 * no source. */
#include "daemon/upkeep/forecast.h"

#include <math.h>

#include "daemon/upkeep/almanac.h"

#define WINDOW_WEEKS 20.0
#define SLOPE_ERRS 1.2 /* times as much as a mean over its weeks, as variances */
#define TREND_WEEKS 16.0
#define TREND_TOTALS 4   /* at least */
#define TREND_CHANCE 1.5 /* of the slope is kept 1 - this / t^2 */
#define TREND_HIDDEN 0.5 /* the early bound's slope: so many standard errors more */
#define TREND_FADES 0.82 /* a week */
#define TREND_LAG_MOST (WINDOW_WEEKS / 2)
#define SILENT_TIMES 1.5 /* times the usual gap between readings */
#define SILENT_DAYS_MIN 4.0
#define GAP_UNKNOWN_DAYS 10.0 /* with too few readings to tell the usual gap */
#define GAP_READINGS 4        /* at least, to tell it */
/* The spread of a week before anything is known, in weekly means, and how many weeks it counts. */
#define PRIOR_SPREAD 0.4
#define PRIOR_WEEKS 2
#define BURSTS_BASE 0.3 /* a sum of weeks varies by base + slope * spread times the single weeks */
#define BURSTS_SLOPE 2.4
/* How a pace wanders: the variance of a week before anything is known, in squares of the pace, and how
 * many differences that counts; the first block of weeks, and how much longer each next one is. */
#define WANDER_PRIOR 0.002
#define WANDER_PRIOR_COUNT 8
#define WANDER_BLOCK_WEEKS 3.0
#define WANDER_BLOCK_TIMES 3.0
#define DEVIATIONS 1.6
#define WEEKS_MOST 2000  /* the late bound of a forecast of ten years */
#define LATE_TIMES 3.0   /* without stops no late bound beyond so many times the forecast, */
#define LATE_WEEKS 8.0   /* and eight weeks */
#define STOPS_TIMES 1.2  /* the room for stops, in roots of the sum of their squares, */
#define STOPS_SELDOM 0.1 /* less where fewer than some such number are to be expected, */
#define STOPS_DAYS 28.0  /* and the days of work that it takes at least to tell how many */
/* A silent machine may stand or may run on: how much of such days it stood is learned from the gaps
 * of the past, in which there is this much to begin with (a choice of this house, no source). */
#define STOOD_SHARE 0.6
#define STOOD_DAYS 14.0
#define SILENT_LIKELY 1.2
#define SILENT_LATE 2.0
#define WEEK_S (INT64_C(7) * 86400)

/* The slope over the places of the window, two at least; never negative. */
static double recent_pace(const struct usage_line *line)
{
    double days[USAGE_READINGS_MAX];
    double hours[USAGE_READINGS_MAX];
    double pace = 0;
    size_t count = 0;
    for (; count < line->week_count; count++) {
        days[count] = line->days[line->weeks[count]];
        hours[count] = line->hours[line->weeks[count]];
        if (count > 1 && days[count] > WINDOW_WEEKS * USAGE_WEEK_DAYS) {
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
static struct spread spread_of(const struct usage_line *line, double weeks, double mean)
{
    double squares = PRIOR_WEEKS * PRIOR_SPREAD * PRIOR_SPREAD * mean * mean;
    struct spread spread = {0};
    for (size_t i = 1; i < line->week_count; i++) {
        double span = usage_span_weeks(line, i - 1, i);
        if (usage_span_weeks(line, 0, i - 1) >= weeks || span < USAGE_WEEK_LEAST) {
            break;
        }
        double off = usage_span_hours(line, i - 1, i) - mean * span;
        squares += off * off / span;
        spread.count++;
    }
    spread.hours = sqrt(squares / (spread.count + PRIOR_WEEKS));
    return spread;
}

/* How many times a sum of weeks varies as much as single weeks would have it. */
static double bursts(double spread, double mean)
{
    double relative = mean > 0 ? spread / mean : 2;
    return BURSTS_BASE + BURSTS_SLOPE * (relative < 2 ? relative : 2);
}

/* The recent pace, drawn towards the average as far as their difference may be chance. */
static double draw_to(const struct usage_line *line, double recent, double average)
{
    double mean = recent * USAGE_WEEK_DAYS;
    double spread = spread_of(line, WINDOW_WEEKS, mean).hours;
    double weeks = line->days[line->count - 1] / USAGE_WEEK_DAYS;
    weeks = weeks < 1 ? 1 : weeks > WINDOW_WEEKS ? WINDOW_WEEKS : weeks;
    double variance = SLOPE_ERRS * spread * spread * bursts(spread, mean) / weeks;
    double apart = (average - recent) * USAGE_WEEK_DAYS;
    double share = apart * apart > variance ? variance / (apart * apart) : 1;
    return recent + share * (average - recent);
}

/* By what variance hours a week wander in a week: from how the paces of blocks of weeks differ, each block
 * longer than the one after it, beyond what the spread of their weeks makes likely. */
static double wander_of(const struct usage_line *line, double spread, double mean)
{
    double noise = spread * spread * bursts(spread, mean);
    double sum = WANDER_PRIOR_COUNT * WANDER_PRIOR * mean * mean;
    double count = WANDER_PRIOR_COUNT;
    double wanted = WANDER_BLOCK_WEEKS;
    double newer_weeks = 0, newer_pace = 0;
    size_t from = 0;
    for (size_t i = 1; i < line->week_count; i++) {
        double weeks = usage_span_weeks(line, from, i);
        if ((weeks < wanted && i + 1 < line->week_count) || weeks < USAGE_WEEK_LEAST) {
            continue;
        }
        double pace = usage_span_hours(line, from, i) / weeks;
        if (newer_weeks > 0) {
            double apart = pace - newer_pace;
            double chance = noise * (1 / weeks + 1 / newer_weeks);
            sum += (apart * apart - chance) / ((weeks + newer_weeks) / 3);
            count++;
        }
        newer_weeks = weeks, newer_pace = pace;
        wanted = WANDER_BLOCK_TIMES * weeks;
        from = i;
    }
    return sum > 0 ? sum / count : 0;
}

/* How weekly totals grow: hours a week more in each week. */
struct trend {
    double growth;    /* as far as it is no chance; never negative */
    double hidden;    /* what there may be beyond it, likewise */
    double lag_weeks; /* how long ago the totals' middle lies */
};

static struct trend trend_of(const struct usage_line *line)
{
    double n = 0, sum_x = 0, sum_y = 0, sum_xx = 0, sum_xy = 0, sum_yy = 0;
    struct trend trend = {0};
    double times[USAGE_READINGS_MAX], paces[USAGE_READINGS_MAX];
    double middle = 0;
    size_t totals = 0;
    for (size_t i = 1; i < line->week_count; i++) {
        double newer = usage_span_weeks(line, 0, i - 1);
        double span = usage_span_weeks(line, i - 1, i);
        if (newer >= TREND_WEEKS || span < USAGE_WEEK_LEAST) {
            break;
        }
        double x = -(newer + span / 2);
        double y = usage_span_hours(line, i - 1, i) / span;
        n += span, sum_x += span * x, sum_y += span * y;
        sum_xx += span * x * x, sum_xy += span * x * y, sum_yy += span * y * y;
        times[totals] = x, paces[totals++] = y;
    }
    double of_x = totals < TREND_TOTALS ? 0 : sum_xx - sum_x * sum_x / n;
    if (!(of_x > 0) || !usage_slope(times, paces, totals, &middle)) {
        return trend;
    }
    double of_xy = sum_xy - sum_x * sum_y / n;
    double slope = of_xy / of_x;
    double rest = sum_yy - sum_y * sum_y / n - slope * of_xy;
    double variance = rest > 0 ? rest / (double)(totals - 2) / of_x : 0;
    double chance = slope > 0 ? TREND_CHANCE * variance / (slope * slope) : 1;
    double kept = chance < 1 ? slope * (1 - chance) : 0;
    double most = slope + TREND_HIDDEN * sqrt(variance);
    double lag = -sum_x / n;
    trend.growth = kept < middle ? kept : middle > 0 ? middle : 0;
    trend.hidden = most > trend.growth ? most - trend.growth : 0;
    trend.lag_weeks = lag < TREND_LAG_MOST ? lag : TREND_LAG_MOST;
    return trend;
}

/* The gap that nine of ten between these readings stay below. */
static double usual_gap(const struct usage_line *line)
{
    double gaps[USAGE_READINGS_MAX];
    size_t count = 0;
    for (size_t i = 1;
         i < line->count && (i < GAP_READINGS || line->days[i] <= WINDOW_WEEKS * USAGE_WEEK_DAYS);
         i++) {
        gaps[count++] = line->gaps[i];
    }
    if (count + 1 < GAP_READINGS) {
        return GAP_UNKNOWN_DAYS;
    }
    double gap = SILENT_TIMES * usage_rank(gaps, count, (count - 1) * 9 / 10);
    return gap > SILENT_DAYS_MIN ? gap : SILENT_DAYS_MIN;
}

/* Of the days of gaps longer than the usual one, the share in which it stood. */
static double stood_share(const struct usage_line *line, double usual, double hours_a_day)
{
    double days = STOOD_DAYS;
    double stood = STOOD_SHARE * STOOD_DAYS;
    for (size_t i = 1; i < line->count && hours_a_day > 0; i++) {
        double gap = line->gaps[i];
        double ran = (line->hours[i] - line->hours[i - 1]) / hours_a_day;
        if (gap > usual) {
            days += gap;
            stood += ran < 0 ? gap : ran < gap ? gap - ran : 0;
        }
    }
    return stood / days;
}

/* Of days of weight 1. */
static double level_of(const struct usage_record *record, const struct usage_line *line)
{
    double days = line->days[line->count - 1];
    double weeks = days / USAGE_WEEK_DAYS;
    double own = recent_pace(line);
    double average = days > 0 ? line->hours[line->count - 1] / days : 0;
    if (average > 0) {
        own = draw_to(line, own, average);
    }
    return own + exp(-weeks * weeks) * (record->typical_hours_a_day - own);
}

/* What the bounds go by. */
static void set_bounds(const struct usage_line *line, double level, struct forecast_pace *pace)
{
    double days = line->days[line->count - 1];
    double weeks = days / USAGE_WEEK_DAYS;
    double work = days > STOPS_DAYS ? days : STOPS_DAYS;
    double mean = level * USAGE_WEEK_DAYS;
    struct spread spread = spread_of(line, FORECAST_WEEKS_MAX, mean);
    pace->week_spread = spread.hours;
    pace->total_count = spread.count;
    pace->wander = wander_of(line, spread.hours, mean);
    pace->mean_weeks = weeks < WINDOW_WEEKS ? weeks : WINDOW_WEEKS;
    pace->stops = line->stops / work;
    pace->stop_squares = line->stop_squares / work;
}

struct forecast_pace forecast_pace_of(const struct usage_record *record, int64_t now_s)
{
    struct usage_line line;
    struct forecast_pace pace = {.hours_a_day = record->typical_hours_a_day};
    if (record->count == 0) {
        return pace;
    }
    pace.follows = usage_follows(record);
    usage_draw(record, pace.follows, &line);
    double level = level_of(record, &line);
    double usual = usual_gap(&line);
    struct trend trend = trend_of(&line);
    pace.rests_on = line.count > 1 && line.days[line.count - 1] > 0 ? (int32_t)line.count : 0;
    pace.week_growth = trend.growth;
    pace.hidden_growth = trend.hidden;
    pace.lag_weeks = trend.lag_weeks;
    pace.hours_a_day = level + trend.growth * trend.lag_weeks / USAGE_WEEK_DAYS;
    set_bounds(&line, level, &pace);
    pace.since_days =
        (double)usage_working_s(record, record->readings[0].at_s, now_s) / USAGE_DAY_S;
    double since = usage_weighed_days(record, pace.follows, record->readings[0].at_s, now_s);
    pace.since_hours = pace.hours_a_day * since;
    pace.silent_days = since > usual ? since - usual : 0;
    if (pace.follows > 0) {
        pace.almanac = record->almanac;
        pace.last_s = now_s - (int64_t)(pace.since_days * USAGE_DAY_S);
        pace.base_hours_a_day = pace.hours_a_day;
        pace.hours_a_day *= usage_weight(pace.almanac, pace.follows, now_s);
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
    return pace->follows > 0 ? usage_weight(pace->almanac, pace->follows,
                                            pace->last_s + week * WEEK_S - WEEK_S / 2)
                             : 1;
}

/* Weeks until the sum, so many deviations above what is likely, reaches `left`; at most `most`. */
static double weeks_until(double left, const struct forecast_pace *pace, double deviations,
                          double most)
{
    double mean = base_pace(pace) * USAGE_WEEK_DAYS;
    double growth = pace->week_growth;
    double of_week = pace->week_spread * pace->week_spread;
    double by_week = of_week * bursts(pace->week_spread, mean);
    double by_square =
        of_week / (pace->total_count + PRIOR_WEEKS) + pace->wander * pace->mean_weeks / 3;
    double by_cube = pace->wander / 3;
    if (deviations > 0) {
        growth += pace->hidden_growth;
        mean += pace->hidden_growth * pace->lag_weeks;
    }
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

/* Days for which it may stand while it works so many. */
static double room_for_stops(const struct forecast_pace *pace, double days)
{
    double stops = pace->stops * days;
    return STOPS_TIMES * sqrt(pace->stop_squares * days) * stops / (stops + STOPS_SELDOM);
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
    double weeks = weeks_until(left, pace, 0, FORECAST_DAYS_MAX / USAGE_WEEK_DAYS);
    double early = weeks_until(left, pace, DEVIATIONS, weeks);
    double late = weeks_until(left, pace, -DEVIATIONS, LATE_TIMES * weeks + LATE_WEEKS);
    forecast.known = true;
    forecast.worked_days = weeks * USAGE_WEEK_DAYS;
    forecast.days = weeks * USAGE_WEEK_DAYS + SILENT_LIKELY * pace->silent_days * pace->stood_share;
    forecast.early_days = early * USAGE_WEEK_DAYS;
    forecast.late_days = late * USAGE_WEEK_DAYS + room_for_stops(pace, late * USAGE_WEEK_DAYS) +
                         SILENT_LATE * pace->silent_days;
    return forecast;
}
