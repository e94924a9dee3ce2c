/* SPDX-License-Identifier: MIT
 * zone: see zone.h. Days are counted with upkeep/civil, so that only the offset comes from libc. */
#include "daemon/ground/zone.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

#include "daemon/upkeep/civil.h"

#define SECONDS_A_DAY 86400
#define ZONE_FOLDER "/usr/share/zoneinfo/"
#define ZONE_PATH_OCTETS 128

bool zone_known(const char *name)
{
    char path[ZONE_PATH_OCTETS];
    struct stat facts;
    if (name[0] == '\0' || name[0] == '/' || strstr(name, "..") != NULL) {
        return false;
    }
    int length = snprintf(path, sizeof path, ZONE_FOLDER "%s", name);
    return length > 0 && (size_t)length < sizeof path && stat(path, &facts) == 0 &&
           S_ISREG(facts.st_mode);
}

bool zone_set(const char *name)
{
    char value[ZONE_PATH_OCTETS];
    if (!zone_known(name)) {
        return false;
    }
    (void)snprintf(value, sizeof value, ":%s", name);
    if (setenv("TZ", value, 1) != 0) {
        return false;
    }
    tzset();
    return true;
}

static int64_t floor_divide(int64_t number, int64_t divisor)
{
    int64_t quotient = number / divisor;
    return number % divisor < 0 ? quotient - 1 : quotient;
}

static int32_t offset_at(int64_t unix_s)
{
    time_t moment = (time_t)unix_s;
    struct tm broken;
    return localtime_r(&moment, &broken) != NULL ? (int32_t)broken.tm_gmtoff : 0;
}

struct civil_time zone_civil(int64_t unix_s)
{
    int32_t offset_s = offset_at(unix_s);
    int64_t shown_s = unix_s + offset_s;
    int64_t day = floor_divide(shown_s, SECONDS_A_DAY);
    return (struct civil_time){.day = (int32_t)day,
                               .second_of_day = (int32_t)(shown_s - day * SECONDS_A_DAY),
                               .offset_s = offset_s};
}

int64_t zone_unix(int32_t day, int32_t second_of_day)
{
    int64_t shown_s = (int64_t)day * SECONDS_A_DAY + second_of_day;
    /* The offsets in force a day before and after are the only two that can apply: between them
     * lies at most one change of clocks. The larger offset gives the earlier moment. */
    int32_t before_s = offset_at(shown_s - SECONDS_A_DAY);
    int32_t after_s = offset_at(shown_s + SECONDS_A_DAY);
    int32_t larger_s = before_s > after_s ? before_s : after_s;
    int32_t smaller_s = before_s > after_s ? after_s : before_s;
    int64_t early_s = shown_s - larger_s;
    if (early_s + offset_at(early_s) == shown_s) {
        return early_s;
    }
    int64_t late_s = shown_s - smaller_s;
    if (late_s + offset_at(late_s) == shown_s) {
        return late_s;
    }
    /* Skipped by the change: find its moment, which lies between the two. */
    while (early_s + 1 < late_s) {
        int64_t middle_s = early_s + (late_s - early_s) / 2;
        if (offset_at(middle_s) == before_s) {
            early_s = middle_s;
        } else {
            late_s = middle_s;
        }
    }
    return late_s;
}

void zone_write_rfc3339(int64_t unix_s, char *out, size_t size)
{
    struct civil_time civil = zone_civil(unix_s);
    char date[CIVIL_TEXT_OCTETS];
    civil_write(civil.day, date, sizeof date);
    int offset_minutes = (civil.offset_s < 0 ? -civil.offset_s : civil.offset_s) / 60;
    (void)snprintf(out, size, "%sT%02d:%02d:%02d%c%02d:%02d", date, civil.second_of_day / 3600,
                   civil.second_of_day / 60 % 60, civil.second_of_day % 60,
                   civil.offset_s < 0 ? '-' : '+', offset_minutes / 60, offset_minutes % 60);
}

void zone_write_minute(int64_t unix_s, char *out, size_t size)
{
    struct civil_time civil = zone_civil(unix_s);
    char date[CIVIL_TEXT_OCTETS];
    civil_write(civil.day, date, sizeof date);
    (void)snprintf(out, size, "%s %02d:%02d", date, civil.second_of_day / 3600,
                   civil.second_of_day / 60 % 60);
}

/* Two digits at text[0..1] up to most, or -1. */
static int32_t two_digits(const char *text, int32_t most)
{
    if (text[0] < '0' || text[0] > '9' || text[1] < '0' || text[1] > '9') {
        return -1;
    }
    int32_t value = (text[0] - '0') * 10 + (text[1] - '0');
    return value <= most ? value : -1;
}

/* "Z" or "+hh:mm" and nothing after; seconds east of UTC. */
static bool read_offset(const char *text, int32_t *offset_s)
{
    if ((text[0] == 'Z' || text[0] == 'z') && text[1] == '\0') {
        *offset_s = 0;
        return true;
    }
    if (strlen(text) != 6 || (text[0] != '+' && text[0] != '-') || text[3] != ':') {
        return false;
    }
    int32_t hours = two_digits(&text[1], 23), minutes = two_digits(&text[4], 59);
    if (hours < 0 || minutes < 0) {
        return false;
    }
    *offset_s = (hours * 60 + minutes) * 60 * (text[0] == '-' ? -1 : 1);
    return true;
}

bool zone_read_rfc3339(const char *text, int64_t *unix_s)
{
    int32_t day, offset_s;
    size_t length = strlen(text);
    if (length < 10 || !civil_read(text, 10, &day)) {
        return false;
    }
    if (length == 10) {
        *unix_s = zone_unix(day, 0);
        return true;
    }
    if (length < 20 || (text[10] != 'T' && text[10] != 't' && text[10] != ' ') || text[13] != ':' ||
        text[16] != ':') {
        return false;
    }
    int32_t hour = two_digits(&text[11], 23), minute = two_digits(&text[14], 59);
    int32_t second = two_digits(&text[17], 60);
    size_t rest = 19;
    if (text[rest] == '.') { /* a fraction is read over: the ledger keeps whole seconds */
        rest++;
        while (text[rest] >= '0' && text[rest] <= '9') {
            rest++;
        }
    }
    if (hour < 0 || minute < 0 || second < 0 || !read_offset(&text[rest], &offset_s)) {
        return false;
    }
    *unix_s = (int64_t)day * SECONDS_A_DAY + hour * 3600 + minute * 60 + second - offset_s;
    return true;
}
