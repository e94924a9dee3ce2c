/* SPDX-License-Identifier: MIT
 *
 * forecast: how much a machine is used, and when it will have run so many hours more.
 *
 * The slope is that of H. Theil (1950) and P. K. Sen (1968): the median of the slopes of all pairs.
 * Up to 29 % of the readings may be wrong without carrying it away. Forty readings make 780 pairs,
 * which lie on the stack; their median is found by C. A. R. Hoare's selection (1961), which does not
 * sort them. Time laid up does not count: it is taken out of the time line before slopes are formed.
 *
 * The pace is the slope of the last six weeks at work, drawn towards the average of the last year as
 * far as the difference of the two may be chance: a slope of six weeks errs by the variance of a
 * week over six, so that a share variance / difference^2, at most all, is drawn (the idea of W.
 * James and C. Stein, 1961). Where use is alike all year the pace is the year's average; where a
 * season or another crew has changed it, it stays with the last weeks.
 *
 * The bounds follow from a running sum of weekly totals: over t weeks it varies by s^2 t, where s is
 * the spread of one week, more where the totals come in bursts; and the pace itself is known only so
 * well, which counts with t^2. Bounds are where the mean leaves the wanted hours by so many
 * deviations, the roots of a quadratic.
 *
 * The constants were settled on invented seasons other than those that tests/bench/season.c keeps
 * back; they are a choice of this house, no source. */
#include "daemon/upkeep/forecast.h"

#include <math.h>

#include "daemon/upkeep/compare.h"

#define DAY_S 86400.0
#define SLOPES_MAX (USAGE_READINGS_MAX * (USAGE_READINGS_MAX - 1) / 2)
#define SPAN_MIN_S INT64_C(172800) /* two days */
#define WEEK_DAYS 7.0
#define WEEK_LEAST 0.9 /* of a week, from reading to reading */
#define WINDOW_WEEKS 6.0
#define STILL_DAYS 21.0  /* between two readings: longer, and hardly used, the machine stood */
#define STILL_SHARE 0.08 /* of the kind's typical figure */
#define SILENT_TIMES 1.5 /* times the usual gap between readings */
#define SILENT_DAYS_MIN 4.0
#define GAP_UNKNOWN_DAYS 10.0 /* with too few readings to tell the usual gap */
/* The spread of a week before anything is known, in weekly means, and how many weeks it counts. */
#define PRIOR_SPREAD 0.45
#define PRIOR_WEEKS 1
#define LEAST_SPREAD 0.08
#define BURSTS_BASE 0.2 /* a sum of weeks varies by base + slope * spread times the single weeks */
#define BURSTS_SLOPE 4.0
#define DEVIATIONS 1.6
#define LATE_TIMES 3.0 /* no late bound beyond so many times the forecast and eight weeks */
#define LATE_WEEKS 8.0
/* Silence counts as standing; the machine may have run, or may go on standing for long (a choice of
 * this house, no source). */
#define SILENT_EARLY 0.25
#define SILENT_LIKELY 1.2
#define SILENT_LATE 3.0

int64_t usage_working_s(int64_t from_s, int64_t until_s, const struct usage_spell *spells,
                        size_t spell_count)
{
    int64_t working = until_s - from_s;
    for (size_t i = 0; i < spell_count; i++) {
        int64_t from = greater(spells[i].from_s, from_s);
        int64_t until = lesser(spells[i].until_s, until_s);
        working -= until > from ? until - from : 0;
    }
    return greater(working, 0);
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
                 const struct usage_spell *spells, size_t spell_count, int64_t span_least_s,
                 double *hours_a_day)
{
    double slopes[SLOPES_MAX];
    int64_t working_s[USAGE_READINGS_MAX]; /* since the earliest of them */
    size_t used = count < USAGE_READINGS_MAX ? count : USAGE_READINGS_MAX;
    size_t slope_count = 0;
    int64_t first_s = used > 0 ? readings[0].at_s : 0;
    int64_t span_s = 0;
    for (size_t i = 1; i < used; i++) {
        first_s = lesser(first_s, readings[i].at_s);
    }
    for (size_t i = 0; i < used; i++) {
        working_s[i] = usage_working_s(first_s, readings[i].at_s, spells, spell_count);
        span_s = greater(span_s, working_s[i]);
        for (size_t j = 0; j < i; j++) {
            int64_t apart_s = working_s[i] - working_s[j];
            if (apart_s != 0) {
                int64_t hundredths = readings[i].true_hundredths - readings[j].true_hundredths;
                slopes[slope_count++] = (double)hundredths / (double)apart_s;
            }
        }
    }
    if (slope_count == 0 || span_s <= span_least_s) {
        return false;
    }
    *hours_a_day = median(slopes, slope_count) * DAY_S / 100;
    return true;
}

struct usage usage_of(const struct usage_reading *readings, size_t count,
                      const struct usage_spell *spells, size_t spell_count,
                      double typical_hours_a_day)
{
    double slope = 0;
    if (count < USAGE_READINGS_MIN ||
        !usage_slope(readings, count, spells, spell_count, SPAN_MIN_S, &slope)) {
        return (struct usage){.hours_a_day = typical_hours_a_day};
    }
    return (struct usage){.hours_a_day = slope > 0 ? slope : 0,
                          .rests_on = (int32_t)lesser((int64_t)count, USAGE_READINGS_MAX)};
}

/* The readings on a line of working days before the newest one, standing still left out. */
struct line {
    size_t count;
    double days[USAGE_READINGS_MAX]; /* 0 the newest, growing into the past */
    double hours[USAGE_READINGS_MAX];
};

static void draw_line(const struct usage_reading *readings, size_t count,
                      const struct usage_spell *spells, size_t spell_count, double typical,
                      struct line *line)
{
    line->count = count < USAGE_READINGS_MAX ? count : USAGE_READINGS_MAX;
    for (size_t i = 0; i < line->count; i++) {
        line->hours[i] = (double)readings[i].true_hundredths / 100;
        line->days[i] = 0;
        if (i > 0) {
            int64_t working_s =
                usage_working_s(readings[i].at_s, readings[i - 1].at_s, spells, spell_count);
            int64_t hundredths = readings[i - 1].true_hundredths - readings[i].true_hundredths;
            double days = (double)working_s / DAY_S;
            bool stood =
                days > STILL_DAYS && (double)hundredths / 100 < STILL_SHARE * typical * days;
            line->days[i] = line->days[i - 1] + (stood ? 1 : days);
        }
    }
}

/* The usage of the window: of the newest readings that lie in it, at least as many as a slope needs;
 * how many those are. */
static struct usage recent_usage(const struct line *line, double typical, size_t *count)
{
    struct usage_reading readings[USAGE_READINGS_MAX];
    size_t i = 0;
    for (; i < line->count && (i < USAGE_READINGS_MIN || line->days[i] <= WINDOW_WEEKS * WEEK_DAYS);
         i++) {
        readings[i].at_s = (int64_t)llround(-line->days[i] * DAY_S);
        readings[i].true_hundredths = (int64_t)llround(line->hours[i] * 100);
    }
    *count = i;
    return usage_of(readings, i, NULL, 0, typical);
}

/* How much a week's total differs from the mean. */
struct spread {
    double hours;  /* standard deviation */
    int32_t count; /* totals it comes from */
};

/* Over the newest so many weeks. A total is taken from reading to reading, about a week or more
 * apart; one of t weeks varies t times as much, and is one total all the same. */
static struct spread spread_of(const struct line *line, double weeks, double mean)
{
    double squares = PRIOR_WEEKS * PRIOR_SPREAD * PRIOR_SPREAD * mean * mean;
    struct spread spread = {0};
    size_t from = 0;
    for (size_t i = 1; i < line->count && line->days[from] < weeks * WEEK_DAYS; i++) {
        double span = (line->days[i] - line->days[from]) / WEEK_DAYS;
        if (span >= WEEK_LEAST) {
            double off = line->hours[from] - line->hours[i] - mean * span;
            squares += off * off / span;
            spread.count++;
            from = i;
        }
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

/* Hours a day since the oldest reading, standing still left out as far as the line goes. */
static double average_since(const struct line *line, const struct usage_reading *last,
                            const struct usage_reading *oldest, const struct usage_spell *spells,
                            size_t spell_count)
{
    double days = line->days[line->count - 1];
    double hours = line->hours[0] - line->hours[line->count - 1];
    if (oldest != NULL && oldest->at_s < last->at_s) {
        days += (double)usage_working_s(oldest->at_s, last->at_s, spells, spell_count) / DAY_S;
        hours = line->hours[0] - (double)oldest->true_hundredths / 100;
    }
    return days > 0 && hours > 0 ? hours / days : 0;
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
                                      const struct usage_reading *oldest,
                                      const struct usage_spell *spells, size_t spell_count,
                                      int64_t now_s, double typical_hours_a_day)
{
    struct line line;
    struct forecast_pace pace = {.hours_a_day = typical_hours_a_day};
    if (count == 0) {
        return pace;
    }
    draw_line(readings, count, spells, spell_count, typical_hours_a_day, &line);
    size_t recent = 0;
    struct usage usage = recent_usage(&line, typical_hours_a_day, &recent);
    double average = average_since(&line, &readings[line.count - 1], oldest, spells, spell_count);
    pace.hours_a_day = usage.hours_a_day;
    if (usage.rests_on > 0 && average > 0) {
        pace.hours_a_day = draw_to(&line, usage.hours_a_day, average);
    }
    struct spread spread = spread_of(&line, FORECAST_WEEKS_MAX, pace.hours_a_day * WEEK_DAYS);
    pace.week_spread = spread.hours;
    pace.week_count = spread.count;
    double since = (double)usage_working_s(readings[0].at_s, now_s, spells, spell_count) / DAY_S;
    double silent = since - usual_gap(&line, recent);
    pace.silent_days = silent > 0 ? silent : 0;
    return pace;
}

/* Weeks in which `left` hours are run at `mean` a week, at the earliest and at the latest. */
static void bound_weeks(double left, double mean, const struct forecast_pace *pace, double *early,
                        double *late)
{
    double of_week = DEVIATIONS * DEVIATIONS * pace->week_spread * pace->week_spread;
    double by_week = of_week * bursts(pace->week_spread, mean);
    double by_square = of_week / (pace->week_count + PRIOR_WEEKS);
    /* (left - mean t)^2 = by_week t + by_square t^2 */
    double a = mean * mean - by_square;
    double half_b = left * mean + by_week / 2;
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
