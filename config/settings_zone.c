/* SPDX-License-Identifier: MIT
 * settings_zone: names of the zone database, and the nearest of them to a mistyped one by its table
 * of zones (zone1970.tab: codes, position, name, with tabs between). */
#include "config/settings_zone.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "daemon/ground/zone.h"
#include "parsers/nearest.h"

#define ZONE_TABLE "/usr/share/zoneinfo/zone1970.tab"
#define ZONE_OCTETS 65
/* Beyond so many wrong letters a long name is near to one that somebody far away lives by. */
#define LETTERS_WRONG_MAX 3

/* The third column of a line of the table; false where there is none. */
static bool zone_of_line(const char *line, char zone[ZONE_OCTETS])
{
    _Static_assert(ZONE_OCTETS == 65, "the width below");
    return line[0] != '#' && sscanf(line, "%*[^\t]\t%*[^\t]\t%64[^\t\n]", zone) == 1;
}

/* The nearest zone to name, "" where none is near. */
static void nearest_zone(const char *name, char best[ZONE_OCTETS])
{
    char line[512], zone[ZONE_OCTETS];
    struct nearest nearest;
    FILE *table = fopen(ZONE_TABLE, "re");
    best[0] = '\0';
    nearest_begin(&nearest, name);
    while (table != NULL && fgets(line, sizeof line, table) != NULL) {
        uint32_t before = nearest.distance;
        if (!zone_of_line(line, zone)) {
            continue;
        }
        nearest_offer(&nearest, zone);
        if (nearest.distance < before && nearest.distance <= LETTERS_WRONG_MAX) {
            memcpy(best, zone, sizeof zone);
        }
    }
    if (table != NULL) {
        fclose(table);
    }
}

void settings_check_zone(struct reader *reader, const struct reader_owner *owner,
                         const config_setting_t *setting)
{
    char best[ZONE_OCTETS];
    const char *zone = reader->settings->shop.time_zone;
    if (setting == NULL || zone[0] == '\0' || zone_known(zone)) {
        return;
    }
    if (!zone_known("Etc/UTC")) {
        reader_mistake(reader, owner, setting,
                       "this box knows no time zones; the package tzdata is expected");
        return;
    }
    nearest_zone(zone, best);
    if (best[0] != '\0') {
        reader_mistake(reader, owner, setting,
                       "time_zone = \"%s\" is not known to this box; did you mean \"%s\"?", zone,
                       best);
    } else {
        reader_mistake(
            reader, owner, setting,
            "time_zone = \"%s\" is not known to this box; a name of the zone database is "
            "expected, as \"America/Los_Angeles\" (timedatectl list-timezones)",
            zone);
    }
}

const char *settings_default_zone(struct reader *reader)
{
    static const char folder[] = "/zoneinfo/";
    char target[256];
    ssize_t length = readlink("/etc/localtime", target, sizeof target - 1);
    if (length <= 0) {
        return "UTC";
    }
    target[length] = '\0';
    const char *zone = strstr(target, folder);
    if (zone == NULL || !zone_known(zone + strlen(folder))) {
        return "UTC";
    }
    return reader_keep(reader, zone + strlen(folder));
}
