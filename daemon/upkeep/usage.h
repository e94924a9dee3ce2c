/* SPDX-License-Identifier: MIT
 * usage: what a machine ran, as a line of working days: time laid up, and time in which it plainly stood,
 * is left out; and where the yard's year is known each day counts by its weight. Pure. */
#ifndef METERPOST_DAEMON_UPKEEP_USAGE_H
#define METERPOST_DAEMON_UPKEEP_USAGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define USAGE_READINGS_MAX 40 /* more are not looked at */
#define USAGE_SPELLS_MAX 16   /* the latest spells laid up */

#define USAGE_DAY_S 86400.0
#define USAGE_WEEK_DAYS 7.0

/* One reading: any clock that counts seconds, as long as all are of the same one. */
struct usage_reading {
    int64_t at_s;
    int64_t true_hundredths;
};

/* A spell laid up: from_s <= t < until_s. An open one ends at INT64_MAX. */
struct usage_spell {
    int64_t from_s;
    int64_t until_s;
};

struct almanac;

/* What is known of one machine's use; the arrays are the caller's. */
struct usage_record {
    size_t count;
    const struct usage_reading *readings; /* newest first; the older ones may be thinned out */
    size_t spell_count;
    const struct usage_spell *spells;
    double typical_hours_a_day;    /* of its kind */
    const struct almanac *almanac; /* of its yard; NULL: no year is known */
};

/* Seconds from one moment to a later one, spells laid up left out. */
int64_t usage_working_s(const struct usage_record *record, int64_t from_s, int64_t until_s);

/* How far the machine goes along with its yard's year, that swing so many times: 0 not at all, and
 * where no year is known. */
double usage_follows(const struct usage_record *record);

/* Of a moment, for a machine that goes along so far; positive. */
double usage_weight(const struct almanac *almanac, double follows, int64_t at_s);

/* Working days from one moment to a later one, each counted by its weight. */
double usage_weighed_days(const struct usage_record *record, double follows, int64_t from_s,
                          int64_t until_s);

/* The slope of Theil and Sen in hours a day: the median of the slopes of all pairs that lie apart
 * in time (the mean of the middle two where their number is even). False, and nothing set, where
 * there is no such pair. In any order; at most USAGE_READINGS_MAX are used. */
bool usage_slope(const double *days, const double *hours, size_t count, double *hours_a_day);

/* The value of that rank (0 the least) of at least one; they are put in another order. */
double usage_rank(double *values, size_t count, size_t rank);

/* The readings on a line of weighed days before the newest one, standing still left out. */
struct usage_line {
    size_t count;
    double days[USAGE_READINGS_MAX];  /* 0 the newest, growing into the past */
    double hours[USAGE_READINGS_MAX]; /* before the newest, likewise */
    double gaps[USAGE_READINGS_MAX];  /* to the next newer one, days, standing still counted */
    int32_t stops;                    /* how often it stood, each counted as one day on the line, */
    double stop_squares; /* and the squares of how many days each lasted, at most four weeks */
    /* Places on it about a week apart, the newest first: from each to the next is a total. */
    size_t week_count;
    size_t weeks[USAGE_READINGS_MAX];
};

#define USAGE_WEEK_LEAST 0.45 /* of a week, from one such place to the next */

void usage_draw(const struct usage_record *record, double follows, struct usage_line *line);

/* Between two places of line->weeks, the newer one first: how many weeks, and how many hours. */
double usage_span_weeks(const struct usage_line *line, size_t newer, size_t older);
double usage_span_hours(const struct usage_line *line, size_t newer, size_t older);

#endif
