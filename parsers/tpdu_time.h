/* SPDX-License-Identifier: MIT
 *
 * Times of SMS: time stamps (3GPP TS 23.040 9.2.3.11) and validity periods (9.2.3.12). */
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

/* The values are those of TP-VPF, TS 23.040 9.2.3.3. */
enum tpdu_validity_form {
    TPDU_VALIDITY_FORM_NONE = 0,
    TPDU_VALIDITY_FORM_ENHANCED = 1,
    TPDU_VALIDITY_FORM_RELATIVE = 2,
    TPDU_VALIDITY_FORM_ABSOLUTE = 3
};

#define TPDU_VALIDITY_UNKNOWN_S (-1)

struct tpdu_validity {
    enum tpdu_validity_form form;
    uint8_t octets[TPDU_TIME_OCTETS]; /* as carried: none, one (relative), or seven */
    int32_t period_s; /* relative, and enhanced where it says one; else TPDU_VALIDITY_UNKNOWN_S */
    bool single_shot; /* enhanced: the service centre is to try once only */
    struct tpdu_time until; /* absolute */
};

/* No validity period (the service centre's own holds) for period_s <= 0, else the shortest relative
 * one that lasts at least period_s seconds: 5 minutes to 63 weeks. */
void tpdu_validity_set(struct tpdu_validity *validity, int64_t period_s);

#endif
