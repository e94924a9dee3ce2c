/* SPDX-License-Identifier: MIT
 *
 * Times of SMS. Every year divisible by four is a leap year in the hundred years that two digits
 * stand for here, 1990 to 2089. */
#include "parsers/tpdu_time.h"

#define FIRST_YEAR 1990
#define FIRST_YEAR_S INT64_C(631152000)
#define YEARS 100
#define ZONE_QUARTERS_MAX 79
#define ZONE_NEGATIVE 0x8u
#define MINUTE_S 60
#define QUARTER_S (15 * MINUTE_S)
#define HOUR_S (60 * MINUTE_S)
#define DAY_S (24 * HOUR_S)

static const uint8_t month_days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

static int full_year(uint8_t two_digits)
{
    return two_digits >= FIRST_YEAR % 100 ? 1900 + two_digits : 2000 + two_digits;
}

static int days_in_month(int year, int month)
{
    return month_days[month - 1] + (month == 2 && year % 4 == 0);
}

static int days_in_year(int year)
{
    return year % 4 == 0 ? 366 : 365;
}

/* Two semi-octets, tens in the low one; *decimal is cleared where one is no digit. */
static uint8_t read_pair(uint8_t octet, bool *decimal)
{
    unsigned tens = octet & 0xFu;
    unsigned units = octet >> 4;
    *decimal = *decimal && tens <= 9 && units <= 9;
    return (uint8_t)(tens * 10 + units);
}

static int16_t read_zone(uint8_t octet, bool *decimal)
{
    uint8_t quarters = read_pair(octet & (uint8_t)~ZONE_NEGATIVE, decimal);
    return (int16_t)((octet & ZONE_NEGATIVE) != 0 ? -quarters : quarters);
}

/* Days since 1970-01-01; false where there is no such day. */
static bool civil_day(const struct tpdu_time *time, int32_t *days)
{
    static const int32_t days_before[] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334};
    int year = full_year(time->year);
    int month = time->month;
    if (month < 1 || month > 12 || time->day < 1 || time->day > days_in_month(year, month)) {
        return false;
    }
    *days = (year - 1970) * 365 + (year - 1969) / 4 + days_before[month - 1] +
            (month > 2 && year % 4 == 0) + time->day - 1;
    return true;
}

static bool exists(const struct tpdu_time *time, int32_t *days)
{
    return civil_day(time, days) && time->hour < 24 && time->minute < 60 && time->second < 60;
}

void tpdu_time_read(const uint8_t *octets, size_t at, struct tpdu_time *time)
{
    bool decimal = true;
    int32_t days = 0;
    time->year = read_pair(octets[at], &decimal);
    time->month = read_pair(octets[at + 1], &decimal);
    time->day = read_pair(octets[at + 2], &decimal);
    time->hour = read_pair(octets[at + 3], &decimal);
    time->minute = read_pair(octets[at + 4], &decimal);
    time->second = read_pair(octets[at + 5], &decimal);
    time->zone_quarters = read_zone(octets[at + 6], &decimal);
    time->valid = decimal && exists(time, &days);
}

static uint8_t pair_of(unsigned value)
{
    return (uint8_t)(value % 10 << 4 | value / 10);
}

bool tpdu_time_write(const struct tpdu_time *time, uint8_t *octets, size_t at)
{
    int32_t days = 0;
    int zone = time->zone_quarters;
    if (!time->valid || time->year >= YEARS || !exists(time, &days) || zone < -ZONE_QUARTERS_MAX ||
        zone > ZONE_QUARTERS_MAX) {
        return false;
    }
    octets[at] = pair_of(time->year);
    octets[at + 1] = pair_of(time->month);
    octets[at + 2] = pair_of(time->day);
    octets[at + 3] = pair_of(time->hour);
    octets[at + 4] = pair_of(time->minute);
    octets[at + 5] = pair_of(time->second);
    octets[at + 6] =
        (uint8_t)(zone < 0 ? pair_of((unsigned)-zone) | ZONE_NEGATIVE : pair_of((unsigned)zone));
    return true;
}

bool tpdu_time_unix(const struct tpdu_time *time, int64_t *unix_s)
{
    int32_t days = 0;
    *unix_s = 0;
    if (!time->valid || !exists(time, &days)) {
        return false;
    }
    *unix_s = (int64_t)days * DAY_S + time->hour * HOUR_S + time->minute * MINUTE_S + time->second -
              (int64_t)time->zone_quarters * QUARTER_S;
    return true;
}

bool tpdu_time_set(struct tpdu_time *time, int64_t unix_s, int zone_quarters)
{
    *time = (struct tpdu_time){0};
    if (unix_s < 0 || unix_s > UINT32_MAX || zone_quarters < -ZONE_QUARTERS_MAX ||
        zone_quarters > ZONE_QUARTERS_MAX) {
        return false;
    }
    int64_t local_s = unix_s + (int64_t)zone_quarters * QUARTER_S - FIRST_YEAR_S;
    int64_t days = local_s / DAY_S;
    int year = FIRST_YEAR;
    for (; year < FIRST_YEAR + YEARS && days >= days_in_year(year); year++) {
        days -= days_in_year(year);
    }
    if (local_s < 0 || year == FIRST_YEAR + YEARS) {
        return false;
    }
    int month = 1;
    for (; month < 12 && days >= days_in_month(year, month); month++) {
        days -= days_in_month(year, month);
    }
    *time = (struct tpdu_time){
        .year = (uint8_t)(year % 100),
        .month = (uint8_t)month,
        .day = (uint8_t)(days + 1),
        .hour = (uint8_t)(local_s % DAY_S / HOUR_S),
        .minute = (uint8_t)(local_s % HOUR_S / MINUTE_S),
        .second = (uint8_t)(local_s % MINUTE_S),
        .zone_quarters = (int16_t)zone_quarters,
        .valid = true,
    };
    return true;
}
