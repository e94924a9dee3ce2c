/* SPDX-License-Identifier: MIT
 *
 * season: invented seasons. How often crews work and what weather does is common practice, no
 * source. */
#include "tests/bench/season.h"

#include <math.h>

#define PI 3.14159265358979
#define YEAR_DAYS 365
#define DAY_HOURS_MAX 14.0

struct pattern {
    const char *name;
    double least, most; /* usual hours of a day at work: each machine has its own between them */
    double wobble;      /* how much a day differs, hours */
    double work[7];     /* how likely it works, Monday first */
    double rain_stops;  /* how likely rain stops it, on the days on which it rains there */
    double swing;       /* the season's: a share of the hours, highest in May */
    bool winter;        /* laid up, without a word, about November to March */
    double goes_out;    /* hired out: how likely a hiring begins, and how likely it goes on, */
    double stays_out;   /* on each day; 0: not hired out */
    bool few_days;      /* one to three days of the week of its own */
    bool moved;         /* to another crew, once */
    bool droughts;      /* four gaps of ten to twenty-five days */
    bool ends;          /* a contract ends where it moves: three to twelve weeks without work */
    double grows;       /* a share of the hours more, over the season */
    enum season_habit habit;
};

static const struct pattern patterns[SEASON_PATTERNS_ALL] = {
    {.name = "crew",
     .least = 5,
     .most = 9,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0.25, 0},
     .rain_stops = 0.8},
    {.name = "seasonal",
     .least = 4,
     .most = 8,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0.2, 0},
     .rain_stops = 0.8,
     .swing = 0.35,
     .winter = true},
    {.name = "estate",
     .least = 2,
     .most = 5,
     .wobble = 0.8,
     .work = {1, 1, 1, 1, 1, 1, 0},
     .rain_stops = 1,
     .winter = true,
     .few_days = true},
    {.name = "town",
     .least = 3,
     .most = 5.5,
     .wobble = 0.7,
     .work = {0.93, 0.93, 0.93, 0.93, 0.93, 0, 0}},
    {.name = "hired out",
     .least = 3,
     .most = 7,
     .wobble = 2,
     .work = {1, 1, 1, 1, 1, 1, 1},
     .goes_out = 0.12,
     .stays_out = 0.85},
    {.name = "sports",
     .least = 3,
     .most = 7,
     .wobble = 1.2,
     .work = {0.9, 0.9, 0.9, 0.9, 0.9, 0.9, 0.9},
     .swing = 0.2},
    {.name = "moved",
     .least = 2,
     .most = 8,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0, 0},
     .rain_stops = 0.7,
     .moved = true},
    {.name = "drought",
     .least = 5,
     .most = 8,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0, 0},
     .rain_stops = 0.7,
     .droughts = true},
    {.name = "forgets",
     .least = 4,
     .most = 8,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0.25, 0},
     .rain_stops = 0.7,
     .habit = SEASON_HABIT_FORGETFUL},
    {.name = "more work",
     .least = 3,
     .most = 5,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0.4, 0},
     .rain_stops = 0.7,
     .grows = 2},
    {.name = "less work",
     .least = 5,
     .most = 9,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0, 0},
     .rain_stops = 0.7,
     .grows = -0.7},
    /* From here on scored apart: the pace was settled without these. */
    {.name = "rental",
     .least = 3,
     .most = 8,
     .wobble = 2,
     .work = {1, 1, 1, 1, 1, 1, 0.5},
     .goes_out = 0.03,
     .stays_out = 0.96},
    {.name = "two shifts",
     .least = 9,
     .most = 13,
     .wobble = 1.5,
     .work = {1, 1, 1, 1, 1, 0.6, 0},
     .rain_stops = 0.5},
    {.name = "contract",
     .least = 3,
     .most = 8,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0, 0},
     .rain_stops = 0.7,
     .moved = true,
     .ends = true},
    {.name = "growing",
     .least = 2,
     .most = 4,
     .wobble = 1,
     .work = {1, 1, 1, 1, 1, 0.25, 0},
     .rain_stops = 0.7,
     .grows = 1.5},
    {.name = "monthly",
     .least = 3,
     .most = 8,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0.25, 0},
     .rain_stops = 0.7,
     .habit = SEASON_HABIT_MONTHLY},
    {.name = "often",
     .least = 5,
     .most = 9,
     .wobble = 1.2,
     .work = {1, 1, 1, 1, 1, 0.25, 0},
     .rain_stops = 0.8,
     .habit = SEASON_HABIT_OFTEN},
};

/* SplitMix64 (G. Steele, D. Lea, C. Flood, 2014). */
static uint64_t next(struct season_random *random)
{
    uint64_t mixed = random->state += UINT64_C(0x9E3779B97F4A7C15);
    mixed = (mixed ^ (mixed >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    mixed = (mixed ^ (mixed >> 27)) * UINT64_C(0x94D049BB133111EB);
    return mixed ^ (mixed >> 31);
}

double season_uniform(struct season_random *random)
{
    return (double)(next(random) >> 11) / 9007199254740992.0;
}

int season_below(struct season_random *random, int bound)
{
    return (int)(season_uniform(random) * bound);
}

bool season_chance(struct season_random *random, double likely)
{
    return season_uniform(random) < likely;
}

static double between(struct season_random *random, double least, double most)
{
    return least + season_uniform(random) * (most - least);
}

/* Normal, by the sum of twelve. */
static double normal(struct season_random *random, double mean, double spread)
{
    double sum = -6;
    for (int i = 0; i < 12; i++) {
        sum += season_uniform(random);
    }
    return mean + spread * sum;
}

const char *season_pattern_name(int pattern)
{
    return patterns[pattern].name;
}

/* What one machine has of its own for the whole season. */
struct machine {
    const struct season_weather *weather;
    double usual, usual_after;
    int moves_on, works_again, winter_from, winter_until;
    int drought_from[4], drought_until[4];
    bool own_days[7];
    bool out;
};

static void invent_machine(struct season_random *random, const struct pattern *pattern,
                           struct machine *machine)
{
    machine->usual = machine->usual_after = between(random, pattern->least, pattern->most);
    if (pattern->moved) {
        machine->usual_after = between(random, pattern->least, pattern->most);
    }
    int days = machine->weather->days;
    machine->moves_on = 60 + season_below(random, days - 90);
    machine->winter_from = 310 + season_below(random, 25);
    machine->winter_until = 70 + season_below(random, 25);
    for (int i = 0; i < 4; i++) {
        machine->drought_from[i] = season_below(random, days);
        machine->drought_until[i] = machine->drought_from[i] + 10 + season_below(random, 16);
    }
    for (int i = 0; i < 7; i++) {
        machine->own_days[i] = !pattern->few_days;
    }
    for (int i = 1 + season_below(random, 3); i > 0; i--) {
        machine->own_days[season_below(random, 6)] = true;
    }
    machine->works_again = machine->moves_on;
    if (pattern->ends) {
        machine->works_again += 21 + season_below(random, 64);
    }
    machine->out = false;
}

static bool stands(const struct pattern *pattern, const struct machine *machine, int day)
{
    int of_year = (machine->weather->first_day_of_year + day) % YEAR_DAYS;
    bool idle =
        pattern->winter && (of_year >= machine->winter_from || of_year < machine->winter_until);
    for (int i = 0; i < 4 && pattern->droughts; i++) {
        idle = idle || (day >= machine->drought_from[i] && day < machine->drought_until[i]);
    }
    idle = idle || (day >= machine->moves_on && day < machine->works_again);
    return idle || !machine->own_days[day % 7] || (pattern->goes_out > 0 && !machine->out);
}

static double invent_day(struct season_random *random, const struct pattern *pattern,
                         struct machine *machine, int day)
{
    int of_year = (machine->weather->first_day_of_year + day) % YEAR_DAYS;
    /* a shower of its own is seldom; hirings last some days */
    bool rain = season_chance(random, machine->weather->rain[day] ? 0.9 : 0.03);
    machine->out = season_chance(random, machine->out ? pattern->stays_out : pattern->goes_out);
    double usual = day < machine->moves_on ? machine->usual : machine->usual_after;
    double season = 1 + pattern->swing * cos(2 * PI * (of_year - 140) / YEAR_DAYS);
    double grown = 1 + pattern->grows * day / SEASON_DAYS;
    double hours = normal(random, usual * season * grown, pattern->wobble);
    bool works = season_chance(random, pattern->work[day % 7]);
    bool stopped = rain && season_chance(random, pattern->rain_stops);
    if (stands(pattern, machine, day) || !works || stopped) {
        return 0;
    }
    hours = hours < 0.3 ? 0.3 : hours;
    return hours < DAY_HOURS_MAX ? hours : DAY_HOURS_MAX;
}

int64_t season_meter(const struct season *season, int day)
{
    double hours = (double)season->start_hundredths / 100;
    for (int i = 0; i <= day; i++) {
        hours += season->hours[i];
    }
    return (int64_t)(hours * 100);
}

bool season_works_on(int pattern)
{
    const struct pattern *own = &patterns[pattern];
    return !own->winter && !own->droughts && !own->ends && !own->few_days && own->goes_out <= 0;
}

/* Rain lasts some days. */
void season_invent_weather(struct season_random *random, int days, struct season_weather *weather)
{
    weather->days = days;
    weather->first_day_of_year = season_below(random, YEAR_DAYS);
    for (int day = 0; day < days; day++) {
        bool before = day > 0 && weather->rain[day - 1];
        weather->rain[day] = season_chance(random, before ? 0.55 : 0.12);
    }
}

void season_invent(struct season_random *random, int pattern, const struct season_weather *weather,
                   struct season *season)
{
    struct machine machine = {.weather = weather};
    season->days = weather->days;
    season->start_hundredths = season_below(random, 300000);
    invent_machine(random, &patterns[pattern], &machine);
    for (int day = 0; day < season->days; day++) {
        season->hours[day] = invent_day(random, &patterns[pattern], &machine, day);
    }
    season_invent_texts(random, patterns[pattern].habit, season);
}
