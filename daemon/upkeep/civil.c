/* SPDX-License-Identifier: MIT
 *
 * civil: dates of the proleptic Gregorian calendar as days since 1970-01-01, and back.
 *
 * A year is counted from March, so that the leap day is its last day and the months before it
 * follow one rule (153 days for every five months). Assumes years 1 to 9999; a day outside them is
 * held to the nearest one inside, so that every input has an answer. */
#include "daemon/upkeep/civil.h"

#define FIRST_DAY (-719162) /* 0001-01-01 */
#define LAST_DAY 2932896    /* 9999-12-31 */
#define EPOCH_DAY 719468    /* 1970-01-01 counted from 0000-03-01 */
#define DAYS_IN_400_YEARS 146097

static bool leap(int32_t year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static int32_t days_in_month(int32_t year, int32_t month)
{
    static const int32_t days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && leap(year) ? 29 : days[month - 1];
}

static int32_t within(int32_t day)
{
    if (day < FIRST_DAY) {
        return FIRST_DAY;
    }
    return day > LAST_DAY ? LAST_DAY : day;
}

bool civil_valid(struct civil_date date)
{
    return date.year >= 1 && date.year <= 9999 && date.month >= 1 && date.month <= 12 &&
           date.day >= 1 && date.day <= days_in_month(date.year, date.month);
}

int32_t civil_day(struct civil_date date)
{
    int32_t year = date.month > 2 ? date.year : date.year - 1;
    int32_t month = date.month > 2 ? date.month - 3 : date.month + 9;
    int32_t day = 365 * year + year / 4 - year / 100 + year / 400;
    return day + (153 * month + 2) / 5 + date.day - 1 - EPOCH_DAY;
}

struct civil_date civil_date_of(int32_t day)
{
    int32_t since = within(day) + EPOCH_DAY;
    int32_t cycle = since / DAYS_IN_400_YEARS;
    int32_t of_cycle = since % DAYS_IN_400_YEARS;
    /* Leap days taken out, every year of the cycle has 365 days. */
    int32_t year = (of_cycle - of_cycle / 1460 + of_cycle / 36524 - of_cycle / 146096) / 365;
    int32_t of_year = of_cycle - (365 * year + year / 4 - year / 100);
    int32_t month = (5 * of_year + 2) / 153;
    struct civil_date date = {.year = cycle * 400 + year + (month > 9 ? 1 : 0),
                              .month = month > 9 ? month - 9 : month + 3,
                              .day = of_year - (153 * month + 2) / 5 + 1};
    return date;
}

int32_t civil_weekday(int32_t day)
{
    int32_t weekday = (within(day) + 3) % 7; /* 1970-01-01 was a Thursday */
    return weekday < 0 ? weekday + 7 : weekday;
}

int32_t civil_add_months(int32_t day, int32_t months)
{
    struct civil_date date = civil_date_of(day);
    int64_t count = (int64_t)date.year * 12 + date.month - 1 + months;
    if (count < 12) {
        return FIRST_DAY;
    }
    if (count >= (int64_t)10000 * 12) {
        return LAST_DAY;
    }
    date.year = (int32_t)(count / 12);
    date.month = (int32_t)(count % 12) + 1;
    int32_t last = days_in_month(date.year, date.month);
    date.day = date.day < last ? date.day : last;
    return civil_day(date);
}

static void write_digits(char *out, int32_t value, size_t digits)
{
    for (size_t i = digits; i > 0; i--) {
        out[i - 1] = (char)('0' + value % 10);
        value /= 10;
    }
}

void civil_write(int32_t day, char *out, size_t size)
{
    if (size < CIVIL_TEXT_OCTETS) {
        if (size > 0) {
            out[0] = '\0';
        }
        return;
    }
    struct civil_date date = civil_date_of(day);
    write_digits(out, date.year, 4);
    out[4] = '-';
    write_digits(out + 5, date.month, 2);
    out[7] = '-';
    write_digits(out + 8, date.day, 2);
    out[10] = '\0';
}

static bool read_digits(const char *text, size_t digits, int32_t *value)
{
    *value = 0;
    for (size_t i = 0; i < digits; i++) {
        if (text[i] < '0' || text[i] > '9') {
            return false;
        }
        *value = *value * 10 + (text[i] - '0');
    }
    return true;
}

bool civil_read(const char *text, size_t length, int32_t *day)
{
    struct civil_date date = {0};
    if (length != 10 || text[4] != '-' || text[7] != '-' || !read_digits(text, 4, &date.year) ||
        !read_digits(text + 5, 2, &date.month) || !read_digits(text + 8, 2, &date.day) ||
        !civil_valid(date)) {
        return false;
    }
    *day = civil_day(date);
    return true;
}
