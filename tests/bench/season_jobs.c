/* SPDX-License-Identifier: MIT
 *
 * season_jobs: invented seasons of another build than those of season.c, so that the forecast is not
 * judged by one idea of a year alone. Here weeks come first: a week has so much work, which goes along
 * with the one before, the time of the year and the fortune of the firm, and is spread over its days;
 * jobs and pauses have lengths with heavy tails. How much of what is common practice, no source. */
#include "tests/bench/season.h"

#include <math.h>

#define PI 3.14159265358979
#define YEAR_DAYS 365
#define DAY_HOURS_MAX 13.0

struct trade {
    const char *name;
    double least, most; /* hours of a usual week */
    double spread;      /* of a week, as a share, */
    double lasts;       /* and how much of it stays for the next */
    int days;           /* of a week at work */
    double rain;        /* share of a rainy day's work that is lost to the week */
    double job, pause;  /* the shortest job and pause, days; 0: always at work */
    double summer;      /* times as much in July as in January; 0: alike all year */
    bool dry;           /* little work in the dry weeks of late summer, common to the yard */
    bool winter;        /* none from about the end of November to the end of February */
    double turns;       /* times as much from some day on */
    double year;        /* times as much after a year, little by little */
    enum season_habit habit;
};

static const struct trade trades[SEASON_TRADES] = {
    {.name = "steady", .least = 20, .most = 45, .spread = 0.1, .lasts = 0.3, .days = 5},
    {.name = "six days",
     .least = 35,
     .most = 60,
     .spread = 0.2,
     .lasts = 0.4,
     .days = 6,
     .rain = 0.5},
    {.name = "part-time",
     .least = 5,
     .most = 12,
     .spread = 0.35,
     .lasts = 0.2,
     .days = 2,
     .rain = 0.3},
    {.name = "bursts",
     .least = 25,
     .most = 50,
     .spread = 0.25,
     .lasts = 0.4,
     .days = 6,
     .rain = 0.3,
     .job = 4,
     .pause = 3},
    {.name = "long jobs",
     .least = 25,
     .most = 50,
     .spread = 0.25,
     .lasts = 0.4,
     .days = 5,
     .job = 14,
     .pause = 7},
    {.name = "summer",
     .least = 12,
     .most = 30,
     .spread = 0.25,
     .lasts = 0.4,
     .days = 5,
     .rain = 0.6,
     .summer = 4,
     .dry = true},
    {.name = "pause",
     .least = 15,
     .most = 40,
     .spread = 0.2,
     .lasts = 0.4,
     .days = 5,
     .rain = 0.6,
     .winter = true},
    {.name = "silent",
     .least = 15,
     .most = 40,
     .spread = 0.2,
     .lasts = 0.4,
     .days = 5,
     .rain = 0.4,
     .habit = SEASON_HABIT_FORGETFUL},
    {.name = "won",
     .least = 12,
     .most = 25,
     .spread = 0.2,
     .lasts = 0.4,
     .days = 5,
     .rain = 0.4,
     .turns = 2},
    {.name = "lost",
     .least = 25,
     .most = 45,
     .spread = 0.2,
     .lasts = 0.4,
     .days = 5,
     .rain = 0.4,
     .turns = 0.4},
    {.name = "rising",
     .least = 12,
     .most = 22,
     .spread = 0.25,
     .lasts = 0.4,
     .days = 5,
     .rain = 0.4,
     .year = 2.5},
    {.name = "falling",
     .least = 25,
     .most = 45,
     .spread = 0.25,
     .lasts = 0.4,
     .days = 5,
     .rain = 0.4,
     .year = 0.4},
    {.name = "seldom",
     .least = 10,
     .most = 40,
     .spread = 0.25,
     .lasts = 0.4,
     .days = 5,
     .rain = 0.4,
     .habit = SEASON_HABIT_MONTHLY},
};

const char *season_trade_name(int trade)
{
    return trades[trade].name;
}

/* Normal, of mean 0 and spread 1 (G. Box and M. Muller, 1958). */
static double normal(struct season_random *random)
{
    double one = 1 - season_uniform(random);
    return sqrt(-2 * log(one)) * cos(2 * PI * season_uniform(random));
}

/* At least so many days, with a tail of exponent 1.3, twenty times as many at most. */
static int pareto(struct season_random *random, double least)
{
    double days = least / pow(1 - season_uniform(random), 1 / 1.3);
    return (int)(days < 20 * least ? days : 20 * least);
}

void season_invent_drought(struct season_random *random, struct season_weather *weather)
{
    weather->dry_from = 195 + season_below(random, 30);
    weather->dry_until = weather->dry_from + 14 + season_below(random, 22);
}

/* Work of a week by its time of the year, the luck of the firm, and how it has grown. */
static double usual_week(const struct trade *trade, const struct season_weather *weather, int day,
                         int turns_on)
{
    int of_year = (weather->first_day_of_year + day) % YEAR_DAYS;
    double usual = day >= turns_on && trade->turns > 0 ? trade->turns : 1;
    if (trade->summer > 0) {
        double swing = (trade->summer - 1) / (trade->summer + 1);
        usual *= 1 + swing * cos(2 * PI * (of_year - 196) / YEAR_DAYS);
    }
    if (trade->year > 0) {
        usual *= pow(trade->year, (double)day / YEAR_DAYS);
    }
    bool dry = trade->dry && of_year >= weather->dry_from && of_year < weather->dry_until;
    return usual * (dry ? 0.25 : 1);
}

/* The week's work over its days: the first ones of the week, in unlike shares, less in the rain. */
static void spread_week(struct season_random *random, const struct trade *trade,
                        const struct season_weather *weather, double hours, int from,
                        struct season *season)
{
    double shares[7] = {0}, sum = 0, lost = 1;
    for (int i = 0; i < 7; i++) {
        double share = 0.6 + 0.8 * season_uniform(random);
        bool rain = from + i < season->days && weather->rain[from + i];
        shares[i] = i < trade->days ? share * (rain ? 1 - trade->rain : 1) : 0;
        lost -= rain && i < trade->days ? trade->rain / (2 * trade->days) : 0;
        sum += shares[i];
    }
    for (int i = 0; i < 7 && from + i < season->days; i++) {
        double day = hours * lost * shares[i] / sum;
        season->hours[from + i] = day < DAY_HOURS_MAX ? day : DAY_HOURS_MAX;
    }
}

/* Whole days out for want of a job, and in winter. */
static void take_pauses(struct season_random *random, const struct trade *trade,
                        const struct season_weather *weather, struct season *season)
{
    int until = 0;
    bool at_work = season_chance(random, 0.6);
    int closes = 315 + season_below(random, 30), opens = 45 + season_below(random, 30);
    for (int day = 0; day < season->days; day++) {
        int of_year = (weather->first_day_of_year + day) % YEAR_DAYS;
        if (trade->job > 0 && day >= until) {
            at_work = !at_work;
            until = day + pareto(random, at_work ? trade->job : trade->pause);
        }
        bool shut = trade->winter && (of_year >= closes || of_year < opens);
        season->hours[day] *= shut || (trade->job > 0 && !at_work) ? 0 : 1;
    }
}

void season_invent_trade(struct season_random *random, int which,
                         const struct season_weather *weather, struct season *season)
{
    const struct trade *trade = &trades[which];
    double week = trade->least + season_uniform(random) * (trade->most - trade->least);
    double luck = trade->spread * normal(random);
    int turns_on = 90 + season_below(random, weather->days - 180);
    season->days = weather->days;
    season->start_hundredths = season_below(random, 300000);
    for (int from = 0; from < season->days; from += 7) {
        luck = trade->lasts * luck +
               sqrt(1 - trade->lasts * trade->lasts) * trade->spread * normal(random);
        double hours = week * exp(luck) * usual_week(trade, weather, from, turns_on);
        spread_week(random, trade, weather, hours, from, season);
    }
    take_pauses(random, trade, weather, season);
    season_invent_texts(random, trade->habit, season);
}
