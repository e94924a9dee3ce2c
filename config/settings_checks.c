/* SPDX-License-Identifier: MIT
 * settings_checks: what no single row of the table settles: defaults that hang on other settings or
 * on the box, and what each value allows but they together do not. */
#include <stdio.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

#include "config/settings_reader.h"
#include "daemon/ground/zone.h"

#define DOOR_FOLDER "/run/meterpost"
#define MODEM_NAME_LETTERS "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-"

/* ---- The modems ---- */

/* A name stands in the name of a file too. A PIN that anyone on the box may read is no secret: the
 * daemon would not use it. */
void settings_settle_modem(struct reader *reader, const config_setting_t *group, void *into)
{
    const struct settings_modem *modem = into;
    struct stat status;
    if (modem->name[strspn(modem->name, MODEM_NAME_LETTERS)] != '\0') {
        reader_mistake(reader, reader_at(group, "name"),
                       "name = \"%s\" has more than letters, digits and hyphens; a plain word is "
                       "expected",
                       modem->name);
    }
    if (modem->pin_file[0] != '\0' && stat(modem->pin_file, &status) == 0 &&
        (status.st_mode & (S_IROTH | S_IWOTH)) != 0) {
        reader_mistake(reader, reader_at(group, "pin_file"),
                       "everybody on this box may read the PIN in %s; mode 0640 is expected "
                       "(chmod 0640)",
                       modem->pin_file);
    }
}

bool settings_same_file(const char *one, const char *other)
{
    struct stat status, other_status;
    return strcmp(one, other) == 0 ||
           (stat(one, &status) == 0 && stat(other, &other_status) == 0 &&
            status.st_dev == other_status.st_dev && status.st_ino == other_status.st_ino);
}

/* One of several, held against those before it. */
static void settle_among(struct reader *reader, const config_setting_t *group, size_t index)
{
    struct settings_modem *modems = reader->settings->modems, *modem = &modems[index];
    char place[24];
    if (modem->port[0] == '\0') {
        reader_mistake(reader, group, "port is missing; each of several modems has one");
    }
    if (modem->name[0] == '\0') {
        (void)snprintf(place, sizeof place, "%zu", index + 1);
        modem->name = reader_keep(reader, place);
    }
    for (size_t i = 0; i < index; i++) {
        if (modem->port[0] != '\0' && settings_same_file(modem->port, modems[i].port)) {
            reader_mistake(reader, reader_at(group, "port"),
                           "port is that of modem \"%s\" as well (%s); a port of its own is "
                           "expected",
                           modems[i].name, modems[i].port);
        }
        if (strcasecmp(modem->name, modems[i].name) == 0) {
            reader_mistake(reader, reader_at(group, "name"),
                           "modem number %zu is called \"%s\" as well; a name of its own is "
                           "expected",
                           i + 1, modems[i].name);
        }
    }
}

static void settle_modems(struct reader *reader, const config_setting_t *root,
                          struct settings *settings)
{
    const struct settings_row *row = &settings_rows[ROW_MODEMS];
    const config_setting_t *list = reader_member(root, row->name);
    if (list != NULL && reader_member(root, settings_rows[ROW_MODEM].name) != NULL) {
        reader_mistake(reader, list,
                       "modem and modems are both set; one of them is expected, modems with all "
                       "of them");
    } else if (list != NULL && config_setting_length(list) == 0) {
        reader_mistake(reader, list, "modems is empty; %s is expected", row->shown);
    }
    for (size_t i = 0; settings->modem_count > 1 && i < settings->modem_count; i++) {
        const config_setting_t *group = reader_entry(root, row, i);
        reader_owner(reader, row->group, group, (int)i);
        settle_among(reader, group, i);
    }
    reader->owner[0] = '\0';
    settings->modem_count = settings->modem_count > 0 ? settings->modem_count : 1;
}

/* ---- The shop's time zone: one of the zone database, by whose table of zones (zone1970.tab: codes,
 * position, name, with tabs between) the nearest to a mistyped one is found ---- */

#define ZONE_TABLE "/usr/share/zoneinfo/zone1970.tab"
#define ZONE_OCTETS 65
/* Beyond so many wrong letters a long name is near to one that somebody far away lives by. */
#define LETTERS_WRONG_MAX 3

/* Offers all zones; name is where the nearest one is kept. */
static void offer_zones(struct nearest *nearest, char name[ZONE_OCTETS])
{
    char line[512], zone[ZONE_OCTETS];
    FILE *table = fopen(ZONE_TABLE, "re");
    while (table != NULL && fgets(line, sizeof line, table) != NULL) {
        uint32_t before = nearest->distance;
        _Static_assert(ZONE_OCTETS == 65, "the width below");
        if (line[0] == '#' || sscanf(line, "%*[^\t]\t%*[^\t]\t%64[^\t\n]", zone) != 1) {
            continue;
        }
        nearest_offer(nearest, zone);
        if (nearest->distance < before) {
            memcpy(name, zone, sizeof zone);
            nearest->name = name;
        }
    }
    if (table != NULL) {
        fclose(table);
    }
}

static void check_zone(struct reader *reader, const config_setting_t *setting, const char *zone)
{
    char name[ZONE_OCTETS];
    struct nearest nearest;
    if (zone[0] == '\0' || zone_known(zone)) {
        return;
    }
    if (!zone_known("Etc/UTC")) {
        reader_mistake(reader, setting,
                       "this box knows no time zones; the package tzdata is expected");
        return;
    }
    nearest_begin(&nearest, zone);
    offer_zones(&nearest, name);
    if (nearest.distance > LETTERS_WRONG_MAX) {
        nearest.name = NULL;
    }
    reader_unknown(reader, setting, &nearest,
                   "a name of the zone database, as \"America/Los_Angeles\" "
                   "(timedatectl list-timezones),",
                   "time_zone = \"%s\" is not known to this box", zone);
}

/* The zone of the box itself, as /etc/localtime has it; "UTC" where that says nothing. */
static const char *default_zone(struct reader *reader)
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

/* ---- The shop ---- */

void settings_settle_shop(struct reader *reader, const config_setting_t *group, void *into)
{
    struct settings_shop *shop = into;
    const config_setting_t *workdays = reader_member(group, "workdays");
    const config_setting_t *until = reader_member(group, "alert_until");
    int32_t from_minute = shop->alert_from_minute, until_minute = shop->alert_until_minute;
    check_zone(reader, reader_member(group, "time_zone"), shop->time_zone);
    if (shop->time_zone[0] == '\0') {
        shop->time_zone = default_zone(reader);
    }
    bool north_america = strcmp(shop->country, "1") == 0;
    if (reader_member(group, "date_order") == NULL) {
        shop->date_order = north_america ? SETTINGS_DATE_MDY : SETTINGS_DATE_DMY;
    }
    if (reader_member(group, "texts_per_day") == NULL) {
        shop->texts_per_day = 10 * shop->texts_per_hour;
    }
    if (reader_member(group, "clock") == NULL) {
        shop->clock = north_america ? SETTINGS_CLOCK_12 : SETTINGS_CLOCK_24;
    }
    if (workdays != NULL && config_setting_length(workdays) == 0) {
        reader_mistake(reader, workdays,
                       "workdays is empty, so that no alert could ever go out; at least one day is "
                       "expected, as (\"mon\")");
    }
    if (reader->well && from_minute >= until_minute) {
        reader_mistake(
            reader, until != NULL ? until : reader_at(group, "alert_from"),
            "alert_until (%02d:%02d) is not after alert_from (%02d:%02d); a later time of "
            "the same day is expected",
            until_minute / 60, until_minute % 60, from_minute / 60, from_minute % 60);
    }
}

/* ---- Plans ---- */

/* What each figure allows but the figures together do not. */
static void check_plan(struct reader *reader, const config_setting_t *group,
                       const struct plan *plan)
{
    if (plan->first_hundredths > plan->every_hundredths) {
        reader_mistake(reader, reader_at(group, "first"),
                       "first (%s) is above every (%s); the first service is expected no later "
                       "than the interval of the others",
                       settings_figure(plan->first_hundredths, 2).text,
                       settings_figure(plan->every_hundredths, 2).text);
    }
    if (plan->notice_hundredths > plan->every_hundredths) {
        reader_mistake(reader, reader_at(group, "notice"),
                       "notice (%s) is longer than the interval every (%s); a shorter notice "
                       "is expected",
                       settings_figure(plan->notice_hundredths, 2).text,
                       settings_figure(plan->every_hundredths, 2).text);
    }
    if (plan->months > 0 && plan->notice_days > plan->months * 28) {
        reader_mistake(
            reader, reader_at(group, "notice_days"),
            "notice_days (%d) is longer than the interval of %d months; a shorter notice "
            "is expected",
            plan->notice_days, plan->months);
    }
}

#define DRIVE_FIRST_HUNDREDTHS 7500 /* of a new hydrostatic drive: common practice, no source */

/* A file without plans has one, that of a drive. */
void settings_settle_plan(struct reader *reader, const config_setting_t *group, void *into)
{
    struct settings_plan *plan = into;
    struct plan *figures = &plan->plan;
    if (group == NULL) {
        plan->name = "drive";
        figures->first_hundredths = DRIVE_FIRST_HUNDREDTHS;
        plan->title = "Drive oil and filters";
        plan->titles[WORDS_LANGUAGE_es] = "Aceite y filtros de mando";
        plan->titles[WORDS_LANGUAGE_fr] = "Huile et filtres de transmission";
        plan->usual = true;
    }
    if (plan->title[0] == '\0') {
        plan->title = plan->name;
    }
    /* the first service comes after the usual interval unless said */
    if (group != NULL && reader_member(group, "first") == NULL) {
        figures->first_hundredths = figures->every_hundredths;
    }
    /* the default of notice gives way to a short interval */
    if (reader_member(group, "notice") == NULL &&
        figures->notice_hundredths > figures->every_hundredths / 4) {
        figures->notice_hundredths = figures->every_hundredths / 4;
    }
    if (reader->well) {
        check_plan(reader, group, figures);
    }
    settings_check_typed(reader, group, "name", plan->name, true);
}

/* ---- The yard ---- */

/* A file without kinds has one, all defaults. A kind that names no plans has all of them, unless they
 * are too many. */
void settings_settle_kind(struct reader *reader, const config_setting_t *group, void *into)
{
    struct settings_kind *kind = into;
    size_t plans = reader->settings->plan_count;
    if (group == NULL) {
        kind->name = "mower";
    }
    if (reader->well && kind->week_hundredths > kind->most_day_hundredths * 7) {
        reader_mistake(reader, group,
                       "hours_per_week (%s) is above seven times most_hours_per_day (%s); "
                       "fewer hours a week are expected",
                       settings_figure(kind->week_hundredths, 2).text,
                       settings_figure(kind->most_day_hundredths, 2).text);
    }
    if (reader_member(group, "plans") != NULL) {
        return;
    }
    if (plans > SETTINGS_PLANS_MAX) {
        reader_mistake(
            reader, group,
            "plans is missing, and the file has %zu; the names of at most %d are expected", plans,
            SETTINGS_PLANS_MAX);
        return;
    }
    for (; kind->plan_count < plans; kind->plan_count++) {
        kind->plans[kind->plan_count] = kind->plan_count;
    }
}

/* Those before it are in the settings already. */
void settings_settle_person(struct reader *reader, const config_setting_t *group, void *into)
{
    const struct settings_person *person = into;
    const struct settings *settings = reader->settings;
    int32_t before = settings_find_phone(settings, person->phone);
    if (person->site_count > 0 && person->role != SETTINGS_ROLE_SHOP) {
        reader_mistake(reader, reader_at(group, "sites"),
                       "sites are for who is told of machines; role = \"shop\" is expected, or no "
                       "sites");
    }
    if (person->phone[0] == '\0') {
        return;
    }
    if (before >= 0) {
        reader_mistake(reader, reader_at(group, "phone"),
                       "phone is that of \"%s\" as well; a number of their own is expected",
                       settings->people[before].name);
    }
    if (strcmp(person->phone, settings->shop.number) == 0) {
        reader_mistake(
            reader, reader_at(group, "phone"),
            "phone is the number of the SIM (shop.number); the person's own is expected");
    }
}

/* `started`, or one entry of last_done: `drive = 575.0`, or with its day:
 * `drive = { hours = 575.0; on = "2026-03-14"; }`. */
static void read_seed(struct reader *reader, const config_setting_t *setting,
                      struct settings_last_done *done)
{
    const struct settings_row *hours = &settings_seed.rows[0];
    if (config_setting_is_group(setting)) {
        reader_group(reader, &settings_seed, setting, -1, done);
        done->day_known = config_setting_get_member(setting, "on") != NULL;
    } else {
        reader_value(reader, setting, config_setting_name(setting), hours,
                     (char *)done + hours->offset);
    }
    done->present = true;
}

static void name_foreign_plan(struct reader *reader, const config_setting_t *setting,
                              const struct settings_kind *kind)
{
    struct nearest nearest;
    nearest_begin(&nearest, config_setting_name(setting));
    for (size_t i = 0; i < kind->plan_count; i++) {
        nearest_offer(&nearest, reader->settings->plans[kind->plans[i]].name);
    }
    reader_unknown(reader, setting, &nearest, "one of its own plans",
                   "kind \"%s\" has no plan called \"%s\"", kind->name, nearest.word);
}

static void read_last_done(struct reader *reader, const config_setting_t *list,
                           struct settings_machine *machine)
{
    const struct settings *settings = reader->settings;
    const struct settings_kind *kind = &settings->kinds[machine->kind];
    for (int i = 0; i < config_setting_length(list); i++) {
        const config_setting_t *setting = config_setting_get_elem(list, (unsigned)i);
        int32_t plan = settings_find_plan(settings, config_setting_name(setting));
        size_t place = settings_among(kind->plans, kind->plan_count, (size_t)plan);
        if (place < kind->plan_count) {
            read_seed(reader, setting, &machine->last_done[place]);
        } else {
            name_foreign_plan(reader, setting, kind);
        }
    }
}

/* What it was called, and whether it is still there. */
static void settle_life(struct reader *reader, const config_setting_t *group,
                        struct settings_machine *machine)
{
    const char *gone = NULL;
    for (size_t i = 0; i < machine->formerly_count; i++) {
        settings_check_typed(reader, group, "formerly", machine->formerly[i], false);
    }
    machine->gone = group != NULL &&
                    config_setting_lookup_string(group, "gone", &gone) == CONFIG_TRUE &&
                    gone[0] != '\0';
    if (reader->well && machine->gone && machine->started_day_known &&
        machine->gone_day < machine->started_day) {
        reader_mistake(reader, reader_at(group, "gone"),
                       "gone (%s) is before the day on which it started; a later day is expected",
                       gone);
    }
}

/* A machine that names no kind is of the only one there is. */
void settings_settle_machine(struct reader *reader, const config_setting_t *group, void *into)
{
    struct settings_machine *machine = into;
    const config_setting_t *last_done = reader_member(group, "last_done");
    const config_setting_t *started = reader_member(group, "started");
    bool unsaid = reader_member(group, "kind") == NULL;
    if (started != NULL) {
        struct settings_last_done seed = {0};
        read_seed(reader, started, &seed);
        machine->started_hundredths = seed.hundredths;
        machine->started_day_known = seed.day_known;
        machine->started_day = seed.day;
    }
    if (unsaid && reader->settings->kind_count == 1) {
        machine->kind = 0;
    } else if (unsaid) {
        reader_mistake(reader, group, "kind is missing; one of the kinds in this file is expected");
    }
    if (last_done != NULL && !config_setting_is_group(last_done)) {
        reader_mistake(reader, last_done,
                       "last_done is no group; last_done = { drive = 575.0; } is expected");
    } else if (last_done != NULL && machine->kind < reader->settings->kind_count) {
        read_last_done(reader, last_done, machine);
    }
    settle_life(reader, group, machine);
    settings_check_typed(reader, group, "name", machine->name, false);
}

/* ---- The file ---- */

static const char *beside_ledger(struct reader *reader, const char *name)
{
    char path[SETTINGS_PATH_OCTETS + 16];
    const char *ledger = reader->settings->ledger;
    const char *slash = strrchr(ledger, '/');
    snprintf(path, sizeof path, "%.*s%s", slash != NULL ? (int)(slash - ledger + 1) : 0, ledger,
             name);
    return reader_keep(reader, path);
}

static void settle_board(struct reader *reader, const config_setting_t *board,
                         struct settings *settings)
{
    if (board == NULL) {
        settings->shop.board = beside_ledger(reader, "board.html");
    } else if (strcmp(settings->shop.board, settings->ledger) == 0 ||
               strcmp(settings->shop.board, settings->door) == 0) {
        reader_mistake(reader, board,
                       "shop.board is the file of the %s; a file of its own is expected",
                       strcmp(settings->shop.board, settings->ledger) == 0 ? "ledger" : "door");
    }
}

/* Of the shop, but it names people, who are read after it. */
static void settle_escalate(struct reader *reader, const config_setting_t *escalate,
                            struct settings_shop *shop)
{
    if (escalate == NULL) {
        return;
    }
    if (!config_setting_is_group(escalate)) {
        reader_mistake(reader, escalate,
                       "shop.escalate is no group; escalate = { days = 7; to = (\"...\"); } is "
                       "expected");
        return;
    }
    reader_group(reader, &settings_escalate, escalate, -1, shop);
    if (shop->escalate_days > 0 && shop->escalate_to_count == 0 &&
        config_setting_get_member(escalate, "to") == NULL) {
        reader_mistake(reader, escalate, "shop.escalate names nobody; to = (\"...\") is expected");
    }
}

static void name_sites(struct reader *reader, const config_setting_t *root, size_t person)
{
    const struct settings *settings = reader->settings;
    for (size_t i = 0; i < settings->people[person].site_count; i++) {
        const char *site = settings->people[person].sites[i];
        struct nearest nearest;
        bool found = false;
        nearest_begin(&nearest, site);
        for (size_t j = 0; j < settings->machine_count; j++) {
            found |= strcmp(settings->machines[j].site, site) == 0;
            nearest_offer(&nearest, settings->machines[j].site);
        }
        if (!found) {
            const config_setting_t *group = reader_entry(root, &settings_rows[ROW_PEOPLE], person);
            reader_owner(reader, settings_rows[ROW_PEOPLE].group, group, (int)person);
            reader_unknown(reader, reader_at(group, "sites"), &nearest, "the site of one",
                           "no machine has the site \"%s\"", site);
        }
    }
}

/* The first of the plans' kit items that is called so and says what is on hand. */
static const struct settings_kit_item *first_on_hand(const struct settings *settings,
                                                     const char *name)
{
    for (size_t i = 0; i < settings->plan_count; i++) {
        for (size_t j = 0; j < settings->plans[i].kit_count; j++) {
            const struct settings_kit_item *item = &settings->plans[i].kit[j];
            if (item->on_hand_thousandths >= 0 && strcasecmp(item->item, name) == 0) {
                return item;
            }
        }
    }
    return NULL;
}

/* The shelf has one figure for an item, whichever plans take it. */
static void check_on_hand(struct reader *reader, const config_setting_t *root, size_t plan)
{
    const struct settings_plan *plans = reader->settings->plans;
    for (size_t i = 0; i < plans[plan].kit_count; i++) {
        const struct settings_kit_item *item = &plans[plan].kit[i];
        const struct settings_kit_item *first = first_on_hand(reader->settings, item->item);
        if (first != NULL && item->on_hand_thousandths >= 0 &&
            (first->unit != item->unit ||
             first->on_hand_thousandths != item->on_hand_thousandths)) {
            const config_setting_t *group = reader_entry(root, &settings_rows[ROW_PLANS], plan);
            reader_owner(reader, settings_rows[ROW_PLANS].group, group, (int)plan);
            reader_mistake(reader, reader_at(group, "kit"),
                           "on_hand of \"%s\" is %s %s here and %s %s before; what is on the shelf "
                           "is expected once",
                           item->item, settings_figure(item->on_hand_thousandths, 3).text,
                           kit_unit_name(item->unit),
                           settings_figure(first->on_hand_thousandths, 3).text,
                           kit_unit_name(first->unit));
        }
    }
}

void settings_settle_file(struct reader *reader, const config_setting_t *root, void *into)
{
    struct settings *settings = into;
    const config_setting_t *shop = reader_member(root, "shop");
    struct stat status;
    if (settings->door[0] == '\0') { /* in the run-time folder where the box has one for it */
        bool folder = stat(DOOR_FOLDER, &status) == 0 && S_ISDIR(status.st_mode);
        settings->door = folder ? DOOR_FOLDER "/door" : beside_ledger(reader, "door");
    }
    settle_modems(reader, root, settings);
    settle_board(reader, reader_member(shop, "board"), settings);
    settle_escalate(reader, reader_member(shop, "escalate"), &settings->shop);
    for (size_t i = 0; i < settings->person_count; i++) {
        name_sites(reader, root, i);
    }
    for (size_t i = 0; i < settings->plan_count; i++) {
        check_on_hand(reader, root, i);
    }
    reader->owner[0] = '\0';
    settings_check_alike(reader, root);
}
