/* SPDX-License-Identifier: MIT
 * zone: the shop's time zone, by the system's zone database. One zone a process: it is set with
 * TZ, since C has no other way to name one. */
#ifndef METERPOST_DAEMON_GROUND_ZONE_H
#define METERPOST_DAEMON_GROUND_ZONE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* A moment on the shop's wall clock. */
struct civil_time {
    int32_t day;           /* since 1970-01-01 */
    int32_t second_of_day; /* 0 .. 86399, by the clock on the wall */
    int32_t offset_s;      /* east of UTC */
};

/* True where the box's zone database has the name ("America/Los_Angeles"). */
bool zone_known(const char *name);

/* Makes it the process's zone. False when unknown. */
bool zone_set(const char *name);

struct civil_time zone_civil(int64_t unix_s);

/* The first moment at which the wall clock shows that second of that day; a time skipped by a
 * change of clocks is the moment of the change. */
int64_t zone_unix(int32_t day, int32_t second_of_day);

/* "2027-03-14T07:05:00-07:00" (RFC 3339). size at least ZONE_TEXT_OCTETS. */
#define ZONE_TEXT_OCTETS 32
void zone_write_rfc3339(int64_t unix_s, char *out, size_t size);

/* "2027-03-14 07:05", for people. size at least ZONE_TEXT_OCTETS. */
void zone_write_minute(int64_t unix_s, char *out, size_t size);

/* Reads RFC 3339 ("2027-03-14T07:05:00Z", "...+02:00"); a date alone is its midnight in the zone. */
bool zone_read_rfc3339(const char *text, int64_t *unix_s);

#endif
