/* SPDX-License-Identifier: MIT
 * civil: dates of the proleptic Gregorian calendar as days since 1970-01-01, and back. */
#ifndef METERPOST_DAEMON_UPKEEP_CIVIL_H
#define METERPOST_DAEMON_UPKEEP_CIVIL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct civil_date {
    int32_t year;  /* 1 .. 9999 */
    int32_t month; /* 1 .. 12 */
    int32_t day;   /* 1 .. 31 */
};

/* A day outside the years 1 to 9999 is held to the nearest one inside. */
bool civil_valid(struct civil_date date);
int32_t civil_day(struct civil_date date); /* date must be valid */
struct civil_date civil_date_of(int32_t day);
int32_t civil_weekday(int32_t day); /* 0 Monday .. 6 Sunday */

/* The same day of the month so many months on (back, where negative), or that month's last day. */
int32_t civil_add_months(int32_t day, int32_t months);

/* "2027-03-14"; size at least CIVIL_TEXT_OCTETS, else "" is written. */
#define CIVIL_TEXT_OCTETS 16
void civil_write(int32_t day, char *out, size_t size);

/* Exactly that form and a real date, else false. *day is set only when true. text need not end. */
bool civil_read(const char *text, size_t length, int32_t *day);

#endif
