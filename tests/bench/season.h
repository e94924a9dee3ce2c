/* SPDX-License-Identifier: MIT
 * season: invented seasons for the bench of the forecast: how many hours a machine runs each day,
 * and what its crew texts. Eleven patterns of work and five habits of texting; rain and a season that
 * all machines of a yard share, weekends, winters, droughts, and a slip of the hand in two texts of a
 * hundred. All of it follows from one seed. Six patterns more are scored apart, and thirteen trades
 * whose seasons are built in another way (season_jobs.c). */
#ifndef METERPOST_TESTS_BENCH_SEASON_H
#define METERPOST_TESTS_BENCH_SEASON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define SEASON_DAYS 400
#define SEASON_DAYS_MAX 765 /* with a year before */
#define SEASON_PATTERNS 11
#define SEASON_PATTERNS_ALL 17 /* with those kept back, which come last */
#define SEASON_TRADES 13       /* of another build: season_jobs.c */
#define SEASON_TEXTS_MAX (4 * SEASON_DAYS_MAX)

struct season_random {
    uint64_t state;
};
double season_uniform(struct season_random *random); /* 0 <= x < 1 */
int season_below(struct season_random *random, int bound);
bool season_chance(struct season_random *random, double likely);

/* What a crew reads off the meter, and what it types. Hundredths. */
struct season_text {
    int day;
    int minute; /* of that day */
    int64_t read_hundredths, typed_hundredths;
};

struct season {
    int days;
    int64_t start_hundredths;
    double hours[SEASON_DAYS_MAX]; /* run on each day */
    size_t text_count;
    struct season_text texts[SEASON_TEXTS_MAX]; /* in order of time */
};

/* What the machines of one yard share. */
struct season_weather {
    int days;
    int first_day_of_year;
    bool rain[SEASON_DAYS_MAX];
    int dry_from, dry_until; /* days of the year; for trades */
};
/* Of so many days, as the seasons of its machines then are. */
void season_invent_weather(struct season_random *random, int days, struct season_weather *weather);

void season_invent_drought(struct season_random *random, struct season_weather *weather);

/* How a crew texts: one of the first five unless the pattern has its own. */
enum season_habit {
    SEASON_HABIT_ANY,
    SEASON_HABIT_DAILY,
    SEASON_HABIT_TWICE,
    SEASON_HABIT_WEEKLY,
    SEASON_HABIT_LAZY,
    SEASON_HABIT_NOW_AND_THEN,
    SEASON_HABIT_MONTHLY,
    SEASON_HABIT_OFTEN,
    SEASON_HABIT_FORGETFUL /* one to five weeks without a word, now and then, at work or not */
};

const char *season_pattern_name(int pattern);
/* Works on most days all year: what its crew does not text it has run all the same. */
bool season_works_on(int pattern);

/* Fills the season of one machine of that pattern in a yard with that weather. */
void season_invent(struct season_random *random, int pattern, const struct season_weather *weather,
                   struct season *season);

/* The same for a trade, in whose weather there is a drought. */
const char *season_trade_name(int trade);
void season_invent_trade(struct season_random *random, int which,
                         const struct season_weather *weather, struct season *season);

/* Fills its texts, once the hours are known. */
void season_invent_texts(struct season_random *random, enum season_habit habit,
                         struct season *season);

/* True hours, hundredths, at the end of that day; -1 is before the first. */
int64_t season_meter(const struct season *season, int day);

#endif
