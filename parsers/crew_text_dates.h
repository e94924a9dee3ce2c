/* SPDX-License-Identifier: MIT
 * crew_text_dates: digits in groups, "3/14", "2027-03-14", "206-555-0110": a day, a telephone
 * number, or neither. */
#ifndef METERPOST_PARSERS_CREW_TEXT_DATES_H
#define METERPOST_PARSERS_CREW_TEXT_DATES_H

#include "parsers/crew_text_fold.h"

enum dates_kind {
    DATES_NONE,
    DATES_DAY,
    DATES_NO_SUCH_DAY, /* shaped like a date: 2/30, or 14/3 where the month comes first */
    DATES_OTHER        /* a telephone number, a part number: no date and no figure */
};

struct dates_found {
    enum dates_kind kind;
    int32_t year; /* 0 when unsaid */
    int32_t month, day;
    bool fraction; /* 1/2, 3/4: may be meant as such */
    size_t end;
};

/* Reads the groups of digits that begin at a unit. */
struct dates_found dates_at(const struct fold *fold, size_t at, enum crew_date_order order);

/* True where year (0: unsaid), month and day name a day of the Gregorian calendar. */
bool dates_is_day(int32_t year, int32_t month, int32_t day);

#endif
