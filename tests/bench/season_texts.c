/* SPDX-License-Identifier: MIT
 *
 * season_texts: what crews text over an invented season. How often they do and how hands slip is
 * common practice, no source. */
#include "tests/bench/season.h"

#define TENTHS 10 /* hundredths: meters show tenths */
#define SLIPS 0.02
#define HABITS 5 /* that a machine may draw */

/* One hand's slip: a digit wrong, left out or doubled, two exchanged, or the point forgotten. */
static int64_t slip(struct season_random *random, int64_t hundredths)
{
    int64_t digits = hundredths / TENTHS;
    int64_t place = 1;
    for (int i = season_below(random, 4); i > 0 && place * 10 <= digits; i--) {
        place *= 10;
    }
    int64_t digit = digits / place % 10;
    switch (season_below(random, 5)) {
    case 0:
        return (digits + (season_below(random, 10) - digit) * place) * TENTHS;
    case 1:
        return (digits / (place * 10) * place + digits % place) * TENTHS;
    case 2:
        return (digits / place * place * 10 + digit * place + digits % place) * TENTHS;
    case 3:
        return (digits + (digits / place / 10 % 10 - digit) * (place - place * 10)) * TENTHS;
    default:
        return digits * 100;
    }
}

static void add_text(struct season_random *random, struct season *season, int day, int minute,
                     int64_t meter)
{
    struct season_text *text = &season->texts[season->text_count++];
    text->day = day;
    text->minute = minute;
    text->read_hundredths = meter / TENTHS * TENTHS;
    text->typed_hundredths =
        season_chance(random, SLIPS) ? slip(random, text->read_hundredths) : text->read_hundredths;
}

/* Whether the crew texts at the end of that day. */
static bool texts_on(struct season_random *random, enum season_habit habit, int day, bool worked,
                     int not_before)
{
    switch (habit) {
    case SEASON_HABIT_ANY:
        break;
    case SEASON_HABIT_DAILY:
    case SEASON_HABIT_TWICE:
        return worked && season_chance(random, 0.9);
    case SEASON_HABIT_WEEKLY: /* on Fridays, also when it stood */
        return day % 7 == 4 && season_chance(random, 0.9);
    case SEASON_HABIT_LAZY:
        return worked && season_chance(random, 0.25);
    case SEASON_HABIT_NOW_AND_THEN:
        return worked && day >= not_before;
    case SEASON_HABIT_MONTHLY: /* in the first days of each thirty, also when it stood */
        return day >= not_before && day % 30 < 4;
    case SEASON_HABIT_FORGETFUL: /* but for the spells */
        return worked && day >= not_before && season_chance(random, 0.8);
    case SEASON_HABIT_OFTEN:
        return worked;
    }
    return false;
}

/* In the morning too, and at noon. */
static void text_earlier(struct season_random *random, struct season *season,
                         enum season_habit habit, int day)
{
    int64_t morning = season_meter(season, day - 1);
    if (habit == SEASON_HABIT_OFTEN ||
        (habit == SEASON_HABIT_TWICE && season_chance(random, 0.5))) {
        add_text(random, season, day, 430, morning);
    }
    if (habit == SEASON_HABIT_OFTEN) {
        add_text(random, season, day, 720, (morning + season_meter(season, day)) / 2);
    }
}

void season_invent_texts(struct season_random *random, enum season_habit habit,
                         struct season *season)
{
    enum season_habit own = habit;
    int not_before = 0;
    if (habit == SEASON_HABIT_ANY) {
        own = (enum season_habit)(SEASON_HABIT_DAILY + season_below(random, HABITS));
    }
    season->text_count = 0;
    for (int day = 0; day < season->days; day++) {
        if (texts_on(random, own, day, season->hours[day] > 0, not_before)) {
            text_earlier(random, season, own, day);
            int minute = 1020 + season_below(random, 90);
            not_before = day + (own == SEASON_HABIT_MONTHLY ? 20 : 3 + season_below(random, 8));
            if (own == SEASON_HABIT_FORGETFUL) {
                bool forgets = season_chance(random, 0.05);
                not_before = day + (forgets ? 7 + season_below(random, 29) : 1);
            }
            add_text(random, season, day, minute, season_meter(season, day));
        }
    }
}
