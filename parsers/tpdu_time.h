/* SPDX-License-Identifier: MIT
 *
 * Time stamps of SMS, 3GPP TS 23.040 9.2.3.11. */
#ifndef METERPOST_PARSERS_TPDU_TIME_H
#define METERPOST_PARSERS_TPDU_TIME_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define TPDU_TIME_OCTETS 7

/* Fields as they were read, illegal digits included (a nibble counts as its value, so that a field
 * is at most 165). */
struct tpdu_time {
    uint8_t year; /* two digits: 90 to 99 are the nineties, the rest is from 2000 on */
    uint8_t month;
    uint8_t day;
    uint8_t hour;
    uint8_t minute;
    uint8_t second;
    int16_t zone_quarters; /* local time less UTC, in quarters of an hour */
    bool valid;            /* each digit a decimal one, and the day and the time exist */
};

/* The time as Unix seconds. False where it is not valid; *unix_s is then 0. */
bool tpdu_time_unix(const struct tpdu_time *time, int64_t *unix_s);

/* The time stamp for Unix seconds in a zone of -79 to 79 quarters. False outside 1990 to 2089 local
 * time, or of the zone. */
bool tpdu_time_set(struct tpdu_time *time, int64_t unix_s, int zone_quarters);

/* For tpdu.c and tpdu_write.c: TPDU_TIME_OCTETS octets from octets[at] on. Only a valid time can be
 * written. */
void tpdu_time_read(const uint8_t *octets, size_t at, struct tpdu_time *time);
bool tpdu_time_write(const struct tpdu_time *time, uint8_t *octets, size_t at);

#endif
