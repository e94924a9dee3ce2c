/* SPDX-License-Identifier: MIT
 *
 * forecast: when a machine will have run so many hours more.
 *
 * The pace is the Theil-Sen slope of the last eight weeks at work. The bounds follow from a running
 * sum of weekly totals: over t weeks it varies by s^2 t, where s is the spread of one week, more
 * where the totals come in bursts; and the pace itself is known only so well, which counts with t^2.
 * Bounds are where the mean leaves the wanted hours by so many deviations, the roots of a quadratic.
 *
 * The constants were settled on invented seasons other than those of tests/bench/season.c; they are
 * a choice of this house, no source. */
#include "daemon/upkeep/forecast.h"

#include <math.h>

#define DAY_S 86400.0
#define WEEK_DAYS 7.0
#define WINDOW_DAYS 56.0
#define STILL_DAYS 21.0  /* between two readings: longer, and hardly used, the machine stood */
#define STILL_SHARE 0.08 /* of the kind's typical figure */
#define SILENT_TIMES 1.5 /* times the usual gap between readings */
#define SILENT_DAYS_MIN 4.0
#define GAP_UNKNOWN_DAYS 10.0 /* with too few readings to tell the usual gap */
/* The spread of a week before anything is known, in weekly means, and how many weeks it counts. */
#define PRIOR_SPREAD 0.4
#define PRIOR_WEEKS 1
#define LEAST_SPREAD 0.08
#define BURSTS_BASE 0.2 /* a sum of weeks varies by base + slope * spread times the single weeks */
#define BURSTS_SLOPE 5.0
#define PACE_SPREAD 0.12 /* how far the pace itself drifts, a share of it */
#define DEVIATIONS 1.6
#define LATE_TIMES 3.0 /* no late bound beyond so many times the forecast and eight weeks */
#define LATE_WEEKS 8.0
/* Silence counts as standing; the machine may have run, or may go on standing for long (a choice of
 * this house, no source). */
#define SILENT_EARLY 0.5
#define SILENT_LIKELY 1.3
#define SILENT_LATE 4.0

/* The readings on a line of working days before the newest one, standing still left out. */
struct line {
    size_t count;
    double days[USAGE_READINGS_MAX]; /* 0 the newest, growing into the past */
    double hours[USAGE_READINGS_MAX];
};

static double gap_days(const struct usage_reading *newer, const struct usage_reading *older,
                       const struct usage_spell *spells, size_t spell_count, double typical)
{
    double days = (double)usage_working_s(older->at_s, newer->at_s, spells, spell_count) / DAY_S;
    double hours = (double)(newer->true_hundredths - older->true_hundredths) / 100;
    return days > STILL_DAYS && hours < STILL_SHARE * typical * days ? 1 : days;
}

static void draw_line(const struct usage_reading *readings, size_t count,
                      const struct usage_spell *spells, size_t spell_count, double typical,
                      struct line *line)
{
    line->count = count < USAGE_READINGS_MAX ? count : USAGE_READINGS_MAX;
    for (size_t i = 0; i < line->count; i++) {
        line->hours[i] = (double)readings[i].true_hundredths / 100;
        line->days[i] = i == 0 ? 0
                               : line->days[i - 1] + gap_days(&readings[i - 1], &readings[i],
                                                              spells, spell_count, typical);
    }
}

/* How many of the newest readings lie in the window: at least as many as a slope needs. */
static size_t in_window(const struct line *line)
{
    size_t count = 0;
    while (count < line->count &&
           (count < USAGE_READINGS_MIN || line->days[count] <= WINDOW_DAYS)) {
        count++;
    }
    return count;
}

static double pace_of(const struct line *line, size_t count, double typical)
{
    struct usage_reading readings[USAGE_READINGS_MAX];
    for (size_t i = 0; i < count; i++) {
        readings[i].at_s = (int64_t)llround(-line->days[i] * DAY_S);
        readings[i].true_hundredths = (int64_t)llround(line->hours[i] * 100);
    }
    return usage_of(readings, count, NULL, 0, typical).hours_a_day;
}

/* Hours on the meter so many days before the newest reading, on the straight lines between. */
static double hours_before(const struct line *line, double days)
{
    size_t i = 1;
    while (i + 1 < line->count && line->days[i] < days) {
        i++;
    }
    double span = line->days[i] - line->days[i - 1];
    double share = span > 0 ? (days - line->days[i - 1]) / span : 0;
    return line->hours[i - 1] + share * (line->hours[i] - line->hours[i - 1]);
}

static void spread_weeks(const struct line *line, struct forecast_pace *pace)
{
    double mean = pace->hours_a_day * WEEK_DAYS;
    double squares = PRIOR_WEEKS * PRIOR_SPREAD * PRIOR_SPREAD * mean * mean;
    int32_t weeks = line->count < 2 ? 0 : (int32_t)(line->days[line->count - 1] / WEEK_DAYS);
    pace->week_count = weeks < FORECAST_WEEKS_MAX ? weeks : FORECAST_WEEKS_MAX;
    for (int32_t week = 0; week < pace->week_count; week++) {
        double total =
            hours_before(line, week * WEEK_DAYS) - hours_before(line, (week + 1) * WEEK_DAYS);
        squares += (total - mean) * (total - mean);
    }
    double spread = sqrt(squares / (pace->week_count + PRIOR_WEEKS));
    pace->week_spread = spread > LEAST_SPREAD * mean ? spread : LEAST_SPREAD * mean;
}

/* The gap that nine of ten between these readings stay below. */
static double usual_gap(const struct line *line, size_t count)
{
    double gaps[USAGE_READINGS_MAX];
    if (count < USAGE_READINGS_MIN) {
        return GAP_UNKNOWN_DAYS;
    }
    for (size_t i = 1; i < count; i++) {
        size_t place = i - 1;
        double gap = line->days[i] - line->days[i - 1];
        for (; place > 0 && gaps[place - 1] > gap; place--) {
            gaps[place] = gaps[place - 1];
        }
        gaps[place] = gap;
    }
    double gap = SILENT_TIMES * gaps[(count - 2) * 9 / 10];
    return gap > SILENT_DAYS_MIN ? gap : SILENT_DAYS_MIN;
}

struct forecast_pace forecast_pace_of(const struct usage_reading *readings, size_t count,
                                      const struct usage_spell *spells, size_t spell_count,
                                      int64_t now_s, double typical_hours_a_day)
{
    struct line line;
    struct forecast_pace pace = {.hours_a_day = typical_hours_a_day};
    if (count == 0) {
        return pace;
    }
    draw_line(readings, count, spells, spell_count, typical_hours_a_day, &line);
    size_t recent = in_window(&line);
    pace.hours_a_day = pace_of(&line, recent, typical_hours_a_day);
    spread_weeks(&line, &pace);
    double since = (double)usage_working_s(readings[0].at_s, now_s, spells, spell_count) / DAY_S;
    double silent = since - usual_gap(&line, recent);
    pace.silent_days = silent > 0 ? silent : 0;
    return pace;
}

/* Weeks in which `left` hours are run at `mean` a week, at the earliest and at the latest. */
static void bound_weeks(double left, double mean, const struct forecast_pace *pace, double *early,
                        double *late)
{
    double relative = pace->week_spread / mean;
    double bursts = BURSTS_BASE + BURSTS_SLOPE * (relative < 2 ? relative : 2);
    double by_week = DEVIATIONS * DEVIATIONS * pace->week_spread * pace->week_spread;
    double by_square = by_week / (pace->week_count + PRIOR_WEEKS) +
                       DEVIATIONS * DEVIATIONS * PACE_SPREAD * PACE_SPREAD * mean * mean;
    /* (left - mean t)^2 = by_week * bursts * t + by_square * t^2 */
    double a = mean * mean - by_square;
    double half_b = left * mean + by_week * bursts / 2;
    double root = sqrt(half_b * half_b - a * left * left);
    *early = left * left / (half_b + root);
    *late = LATE_TIMES * left / mean + LATE_WEEKS;
    if (a > 0 && (half_b + root) / a < *late) {
        *late = (half_b + root) / a;
    }
}

struct forecast forecast_of(int64_t left_hundredths, const struct forecast_pace *pace)
{
    struct forecast forecast = {0};
    double left = (double)left_hundredths / 100;
    double early = 0;
    double late = 0;
    if (left_hundredths <= 0) {
        forecast.known = true;
        return forecast;
    }
    if (!(pace->hours_a_day * FORECAST_DAYS_MAX > left)) {
        return forecast;
    }
    bound_weeks(left, pace->hours_a_day * WEEK_DAYS, pace, &early, &late);
    forecast.known = true;
    forecast.days = left / pace->hours_a_day + SILENT_LIKELY * pace->silent_days;
    forecast.early_days = early * WEEK_DAYS + SILENT_EARLY * pace->silent_days;
    forecast.late_days = late * WEEK_DAYS + SILENT_LATE * pace->silent_days;
    return forecast;
}
