/* SPDX-License-Identifier: MIT
 * settings_shop: the top of the file: the modem, where the ledger and the door lie, and the shop
 * with its hours and limits. */
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "config/settings_reader.h"
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

#define COUNT(table) (sizeof(table) / sizeof((table)[0]))

#define DOOR_FOLDER "/run/meterpost"

static const struct settings_modem modem_defaults = {
    .port = "", .speed = 115200, .pin_file = "", .reports = false};

static const struct settings_shop shop_defaults = {.name = "Shop",
                                                   .number = "",
                                                   .time_zone = "",
                                                   .country = "1",
                                                   .units = SETTINGS_UNIT_QUART,
                                                   .date_order = SETTINGS_DATE_MDY,
                                                   .alert_from_minute = 7 * 60,
                                                   .alert_until_minute = 17 * 60,
                                                   .workdays = {true, true, true, true, true},
                                                   .texts_per_hour = 60,
                                                   .texts_per_number = 20,
                                                   .silence_days = 14};

static const struct reader_word unit_words[] = {
    {"qt", SETTINGS_UNIT_QUART},    {"quart", SETTINGS_UNIT_QUART}, {"quarts", SETTINGS_UNIT_QUART},
    {"l", SETTINGS_UNIT_LITRE},     {"litre", SETTINGS_UNIT_LITRE}, {"litres", SETTINGS_UNIT_LITRE},
    {"liter", SETTINGS_UNIT_LITRE}, {"liters", SETTINGS_UNIT_LITRE}};

static const struct reader_word date_order_words[] = {{"mdy", SETTINGS_DATE_MDY},
                                                      {"dmy", SETTINGS_DATE_DMY}};

static const struct reader_word weekday_words[] = {
    {"mon", 0},       {"monday", 0},   {"tue", 1},      {"tuesday", 1}, {"wed", 2},
    {"wednesday", 2}, {"thu", 3},      {"thursday", 3}, {"fri", 4},     {"friday", 4},
    {"sat", 5},       {"saturday", 5}, {"sun", 6},      {"sunday", 6}};

#define TOP(member) .offset = offsetof(struct settings, member)
static const struct reader_rule top_rules[] = {
    {"ledger", READER_TEXT, TOP(ledger), .least = 1, .most = SETTINGS_PATH_OCTETS - 1},
    {"door", READER_TEXT, TOP(door), .least = 1, .most = SETTINGS_DOOR_OCTETS - 1},
    {.name = "modem", .value = READER_BY_HAND},
    {.name = "shop", .value = READER_BY_HAND},
    {.name = "plans", .value = READER_BY_HAND},
    {.name = "kinds", .value = READER_BY_HAND},
    {.name = "people", .value = READER_BY_HAND},
    {.name = "machines", .value = READER_BY_HAND}};

#define MODEM(member) .offset = offsetof(struct settings_modem, member)
static const struct reader_rule modem_rules[] = {
    {"port", READER_TEXT, MODEM(port), .most = SETTINGS_PATH_OCTETS - 1},
    {"speed", READER_WHOLE, MODEM(speed), .least = 1200, .most = 4000000, .unit = "bit/s"},
    {"pin_file", READER_TEXT, MODEM(pin_file), .most = SETTINGS_PATH_OCTETS - 1},
    {"reports", READER_FLAG, MODEM(reports)}};

/* country comes first: the numbers are read by it. */
#define SHOP(member) .offset = offsetof(struct settings_shop, member)
static const struct reader_rule shop_rules[] = {
    {"country", READER_DIGITS, SHOP(country), .most = 3},
    {"name", READER_SPOKEN, SHOP(name), .least = 1, .most = SETTINGS_TITLE_OCTETS - 1},
    {"number", READER_PHONE, SHOP(number)},
    {"time_zone", READER_TEXT, SHOP(time_zone), .least = 1, .most = 64},
    {"units", READER_WORD, SHOP(units), .words = unit_words, .word_count = COUNT(unit_words)},
    {"date_order", READER_WORD, SHOP(date_order), .words = date_order_words,
     .word_count = COUNT(date_order_words)},
    {"alert_from", READER_TIME, SHOP(alert_from_minute), .least = 0, .most = 24 * 60 - 1},
    {"alert_until", READER_TIME, SHOP(alert_until_minute), .least = 1, .most = 24 * 60},
    {.name = "workdays", .value = READER_BY_HAND},
    {.name = "holidays", .value = READER_BY_HAND},
    {"texts_per_hour", READER_WHOLE, SHOP(texts_per_hour), .least = 1, .most = 3600,
     .unit = "texts"},
    {"texts_per_number", READER_WHOLE, SHOP(texts_per_number), .least = 1, .most = 3600,
     .unit = "texts"},
    {"silence_days", READER_WHOLE, SHOP(silence_days), .least = 0, .most = 366, .unit = "days"}};

static const struct reader_owner file_owner = {""};
static const struct reader_owner modem_owner = {"modem"};
static const struct reader_owner shop_owner = {"shop"};

static void read_workdays(struct reader *reader, const config_setting_t *group)
{
    const struct reader_rule rule = {
        .value = READER_WORD, .words = weekday_words, .word_count = COUNT(weekday_words)};
    struct settings_shop *shop = &reader->settings->shop;
    const config_setting_t *list =
        reader_member_list(reader, &shop_owner, group, "workdays", "workdays = (\"mon\", \"tue\")");
    if (list == NULL) {
        return;
    }
    memset(shop->workdays, 0, sizeof shop->workdays);
    for (int i = 0; i < config_setting_length(list); i++) {
        int day = 0;
        if (reader_value(reader, &shop_owner, config_setting_get_elem(list, (unsigned)i),
                         "workdays", &rule, &day)) {
            shop->workdays[day] = true;
        }
    }
    if (config_setting_length(list) == 0) {
        reader_mistake(reader, &shop_owner, list,
                       "workdays is empty, so that no alert could ever go out; at least one day is "
                       "expected, as (\"mon\")");
    }
}

static void read_holidays(struct reader *reader, const config_setting_t *group)
{
    const struct reader_rule rule = {.value = READER_DAY};
    struct settings_shop *shop = &reader->settings->shop;
    const config_setting_t *list =
        reader_member_list(reader, &shop_owner, group, "holidays", "holidays = (\"2027-01-01\")");
    for (int i = 0; list != NULL && i < config_setting_length(list); i++) {
        const config_setting_t *element = config_setting_get_elem(list, (unsigned)i);
        if (shop->holiday_count == SETTINGS_HOLIDAYS_MAX) {
            reader_mistake(reader, &shop_owner, element,
                           "holidays has more than %d entries; leave out those that are past",
                           SETTINGS_HOLIDAYS_MAX);
            return;
        }
        if (reader_value(reader, &shop_owner, element, "holidays", &rule,
                         &shop->holidays[shop->holiday_count])) {
            shop->holiday_count++;
        }
    }
}

static void check_hours(struct reader *reader, const config_setting_t *group)
{
    const struct settings_shop *shop = &reader->settings->shop;
    const config_setting_t *at = config_setting_get_member(group, "alert_until");
    at = at != NULL ? at : config_setting_get_member(group, "alert_from");
    if (at != NULL && shop->alert_from_minute >= shop->alert_until_minute) {
        reader_mistake(
            reader, &shop_owner, at,
            "alert_until (%02d:%02d) is not after alert_from (%02d:%02d); a later time of "
            "the same day is expected",
            shop->alert_until_minute / 60, shop->alert_until_minute % 60,
            shop->alert_from_minute / 60, shop->alert_from_minute % 60);
    }
}

static void read_shop(struct reader *reader, const config_setting_t *root)
{
    struct settings_shop *shop = &reader->settings->shop;
    const config_setting_t *group =
        reader_member_group(reader, &file_owner, root, "shop", "shop: { name = \"...\"; };");
    if (group == NULL) {
        return;
    }
    bool well = reader_group(reader, &shop_owner, group, shop_rules, COUNT(shop_rules), shop);
    settings_check_zone(reader, &shop_owner, config_setting_get_member(group, "time_zone"));
    if (config_setting_get_member(group, "date_order") == NULL) {
        shop->date_order = strcmp(shop->country, "1") == 0 ? SETTINGS_DATE_MDY : SETTINGS_DATE_DMY;
    }
    read_workdays(reader, group);
    read_holidays(reader, group);
    if (well) {
        check_hours(reader, group);
    }
}

/* The door's default: in the run-time folder where the box has one for it, else beside the
 * ledger. */
static const char *default_door(struct reader *reader)
{
    struct stat status;
    if (stat(DOOR_FOLDER, &status) == 0 && S_ISDIR(status.st_mode)) {
        return DOOR_FOLDER "/door";
    }
    char door[SETTINGS_PATH_OCTETS + 8];
    const char *ledger = reader->settings->ledger;
    const char *slash = strrchr(ledger, '/');
    snprintf(door, sizeof door, "%.*sdoor", slash != NULL ? (int)(slash - ledger + 1) : 0, ledger);
    return reader_keep(reader, door);
}

/* A PIN that anyone on the box may read is no secret: the daemon would not use it. */
static void check_pin_file(struct reader *reader, const config_setting_t *modem)
{
    struct stat status;
    const char *file = reader->settings->modem.pin_file;
    const config_setting_t *setting =
        modem != NULL ? config_setting_get_member(modem, "pin_file") : NULL;
    if (setting == NULL || file[0] == '\0' || stat(file, &status) != 0) {
        return;
    }
    if ((status.st_mode & (S_IROTH | S_IWOTH)) != 0) {
        reader_mistake(reader, &modem_owner, setting,
                       "everybody on this box may read the PIN in %s; mode 0640 is expected "
                       "(chmod 0640)",
                       file);
    }
}

void settings_read_shop(struct reader *reader, const config_setting_t *root)
{
    struct settings *settings = reader->settings;
    settings->modem = modem_defaults;
    settings->shop = shop_defaults;
    settings->ledger = "/var/lib/meterpost/ledger.db";
    reader_group(reader, &file_owner, root, top_rules, COUNT(top_rules), settings);
    if (settings->door == NULL) {
        settings->door = default_door(reader);
    }
    const config_setting_t *modem =
        reader_member_group(reader, &file_owner, root, "modem", "modem: { port = \"...\"; };");
    reader_group(reader, &modem_owner, modem, modem_rules, COUNT(modem_rules), &settings->modem);
    check_pin_file(reader, modem);
    read_shop(reader, root);
    if (settings->shop.time_zone[0] == '\0') {
        settings->shop.time_zone = settings_default_zone(reader);
    }
}
