/* SPDX-License-Identifier: MIT
 * calendar: the services to come as a feed for calendars (iCalendar, RFC 5545, with the names of RFC
 * 7986): one entry for each machine, plan and cycle, whole-day on the day it comes due, at an hour once
 * it is booked, and cancelled once it is done or the machine is gone.
 *
 * An entry keeps its identifier however its date moves: the ledger's own number of the yard, the name
 * under which the machine's record began, the plan and the cycle. How often it was revised is not
 * counted but read off the record: SEQUENCE is the second of its last change, which no earlier state of
 * the ledger can have had. */
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sysexits.h>
#include <time.h>
#include <unistd.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/hash.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/services.h"
#include "daemon/upkeep/clock_judge.h"

#define STAMP_OCTETS 20
#define TEXT_OCTETS 256
/* How far back calendars look again at what they have: common practice, no source. */
#define CANCELLED_S (90 * (int64_t)86400)
#define REFRESH "PT1H"
#define BAYS_MAX 50 /* as the config allows */

struct entry {
    struct yard_standing standing;
    bool cancelled; /* done, or the machine is gone */
    bool comes;     /* booked, and its hours are looked after */
    bool timed;     /* booked: from starts_s on */
    int64_t starts_s;
    int64_t modified_s;
};

struct calendar {
    struct counter *counter;
    struct yard yard;
    char yard_word[24]; /* the yard's own, in every identifier */
    int64_t config_s;   /* when the config was last changed */
    struct entry *entries;
    size_t count, room;
    int32_t machine, plan; /* of the services that are looked at */
    int status;            /* the first that was not EX_OK */
};

static bool went_well(struct calendar *calendar, enum ledger_result result)
{
    if (result != LEDGER_OK && calendar->status == EX_OK) {
        calendar->status = counter_ledger_status(calendar->counter, result);
    }
    return result == LEDGER_OK;
}

/* An identifier stands once: what is to come before what is past. */
static void add_entry(struct calendar *calendar, const struct entry *entry)
{
    for (size_t i = 0; entry->cancelled && i < calendar->count; i++) {
        const struct yard_standing *other = &calendar->entries[i].standing;
        if (other->machine == entry->standing.machine && other->plan == entry->standing.plan &&
            other->cycle == entry->standing.cycle) {
            return;
        }
    }
    if (calendar->count == calendar->room) {
        size_t room = calendar->room == 0 ? 64 : calendar->room * 2;
        struct entry *grown = realloc(calendar->entries, room * sizeof *grown);
        if (grown == NULL) {
            (void)fprintf(calendar->counter->err, "meterpost: memory is short\n");
            calendar->status = EX_OSERR;
            return;
        }
        calendar->entries = grown;
        calendar->room = room;
    }
    calendar->entries[calendar->count++] = *entry;
}

/* ---- what is in it */

/* The later of what the record and the config say; the machine's record by its own number. */
static int64_t modified_of(struct calendar *calendar, int64_t machine_id)
{
    int64_t touched_s = 0;
    if (machine_id != 0) {
        (void)went_well(calendar, machines_touched(calendar->yard.ledger, machine_id, &touched_s));
    }
    return touched_s > calendar->config_s ? touched_s : calendar->config_s;
}

/* Nothing was said, and yet the date has moved: as that of a machine does that is silent. */
static bool has_drifted(struct calendar *calendar, const struct entry *entry)
{
    struct yard_standing before;
    const struct yard_standing *now = &entry->standing;
    return entry->modified_s < calendar->counter->now_s && entry->modified_s > 0 &&
           went_well(calendar, yard_stand(&calendar->yard, now->machine, now->plan,
                                          entry->modified_s, &before)) &&
           (before.due_day != now->due_day || before.has_forecast != now->has_forecast);
}

static void add_standing(struct calendar *calendar, const struct yard_standing *standing)
{
    struct entry entry = {.standing = *standing,
                          .modified_s = modified_of(calendar, standing->machine_id)};
    if (!standing->has_forecast) {
        return;
    }
    if (has_drifted(calendar, &entry)) {
        int64_t midnight_s = zone_unix(zone_civil(calendar->counter->now_s).day, 0);
        entry.modified_s = midnight_s > entry.modified_s ? midnight_s : entry.modified_s;
    }
    add_entry(calendar, &entry);
}

/* A service done: the entry that led up to it, as it stood just before. */
static void take_service(void *ctx, const struct service_row *row)
{
    struct calendar *calendar = ctx;
    const struct settings *settings = calendar->counter->settings;
    int64_t now_s = calendar->counter->now_s;
    struct entry entry = {.cancelled = true, .modified_s = row->noted_s};
    if (row->struck || row->done_s == 0 || row->done_s > now_s || row->noted_s > now_s ||
        row->noted_s < now_s - CANCELLED_S ||
        strcmp(row->plan, settings->plans[calendar->plan].name) != 0 ||
        !went_well(calendar, yard_stand(&calendar->yard, calendar->machine, calendar->plan,
                                        row->done_s - 1, &entry.standing))) {
        return;
    }
    if (!entry.standing.has_forecast) { /* it was not foreseen: on the day it was done */
        entry.standing.due_day = zone_civil(row->done_s).day;
        entry.standing.earliest_day = entry.standing.latest_day = entry.standing.due_day;
    }
    add_entry(calendar, &entry);
}

/* What was done on that machine; or all of it, where it is gone since not long. */
static void add_cancelled(struct calendar *calendar, int32_t machine)
{
    struct yard_standing standings[SETTINGS_PLANS_MAX];
    const struct settings_kind *kind = yard_kind(calendar->counter->settings, machine);
    if (!went_well(calendar, yard_stand_machine(&calendar->yard, machine, calendar->counter->now_s,
                                                standings))) {
        return;
    }
    for (size_t i = 0; i < kind->plan_count && calendar->status == EX_OK; i++) {
        calendar->machine = machine;
        calendar->plan = (int32_t)kind->plans[i];
        if (standings[i].machine_id != 0) {
            (void)went_well(calendar, services_each(calendar->yard.ledger, standings[i].machine_id,
                                                    take_service, calendar));
        }
        int64_t since_s = zone_unix(standings[i].gone_day, 0);
        if (standings[i].gone && standings[i].has_forecast &&
            since_s > calendar->counter->now_s - CANCELLED_S) {
            struct entry entry = {.standing = standings[i],
                                  .cancelled = true,
                                  .modified_s = modified_of(calendar, standings[i].machine_id)};
            entry.modified_s = since_s > entry.modified_s ? since_s : entry.modified_s;
            add_entry(calendar, &entry);
        }
    }
}

/* What is to be done when the machine comes in: what needs doing or nears; else its worst alone. */
static bool comes_along(const struct calendar *calendar, size_t at)
{
    const struct yard_standing *standing = &calendar->entries[at].standing;
    if (due_stage_row(standing->stage)->tells) {
        return true;
    }
    for (size_t i = 0; i < at; i++) { /* worst first */
        if (calendar->entries[i].standing.machine == standing->machine) {
            return false;
        }
    }
    return true;
}

/* Who booked a day first comes first: a machine keeps its hour when another becomes worse, or is booked
 * after it. NULL once all have theirs. */
static const struct entry *next_on(const struct calendar *calendar, int32_t day)
{
    const struct entry *first = NULL;
    for (size_t i = 0; i < calendar->count; i++) {
        const struct entry *entry = &calendar->entries[i];
        const struct yard_standing *standing = &entry->standing;
        bool sooner = first == NULL || standing->booked_s < first->standing.booked_s ||
                      (standing->booked_s == first->standing.booked_s &&
                       standing->machine < first->standing.machine);
        if (standing->booked && standing->booked_day == day && !entry->comes && sooner) {
            first = entry;
        }
    }
    return first;
}

/* A machine stands in one bay: its work follows in the order of its kind's plans. Returns when it is done. */
static int64_t set_hours_of_machine(struct calendar *calendar, int32_t machine, int64_t starts_s,
                                    int64_t newest_s)
{
    const struct settings *settings = calendar->counter->settings;
    const struct settings_kind *kind = yard_kind(settings, machine);
    for (size_t i = 0; i < kind->plan_count; i++) {
        for (size_t at = 0; at < calendar->count; at++) {
            struct entry *entry = &calendar->entries[at];
            if (entry->standing.machine != machine ||
                entry->standing.plan != (int32_t)kind->plans[i]) {
                continue;
            }
            entry->comes = true;
            entry->timed = comes_along(calendar, at);
            if (entry->timed) {
                entry->modified_s = newest_s;
                entry->starts_s = starts_s;
                starts_s += settings->plans[kind->plans[i]].plan.minutes * 60;
            }
        }
    }
    return starts_s;
}

/* Booked work of one day: from the shop's opening on, in the bay that is free first. */
static void set_hours_of_day(struct calendar *calendar, int32_t day, int64_t newest_s)
{
    const struct settings_shop *shop = &calendar->counter->settings->shop;
    int64_t free_s[BAYS_MAX];
    for (size_t bay = 0; bay < BAYS_MAX; bay++) {
        free_s[bay] = zone_unix(day, shop->alert_from_minute * 60);
    }
    for (const struct entry *next = next_on(calendar, day); next != NULL;
         next = next_on(calendar, day)) {
        int32_t bay = 0;
        for (int32_t other = 1; other < shop->bays && other < BAYS_MAX; other++) {
            bay = free_s[other] < free_s[bay] ? other : bay;
        }
        free_s[bay] = set_hours_of_machine(calendar, next->standing.machine, free_s[bay], newest_s);
    }
}

/* Who comes before whom may change with any of them: each is as new as the newest. */
static void set_hours(struct calendar *calendar)
{
    int64_t newest_s = 0;
    for (size_t i = 0; i < calendar->count; i++) {
        int64_t modified_s = calendar->entries[i].modified_s;
        newest_s = modified_s > newest_s ? modified_s : newest_s;
    }
    for (size_t i = 0; i < calendar->count; i++) {
        const struct yard_standing *standing = &calendar->entries[i].standing;
        if (standing->booked && !calendar->entries[i].comes) {
            set_hours_of_day(calendar, standing->booked_day, newest_s);
        }
    }
}

/* The yard's own word: a number that the ledger was made with. Where there is no ledger yet, of the
 * config: nobody has subscribed to that one. */
static void name_yard(struct calendar *calendar)
{
    const struct settings *settings = calendar->counter->settings;
    int64_t number = 0;
    if (access(settings->ledger, F_OK) != 0 ||
        marks_get(calendar->yard.ledger, MARKS_YARD, &number) != LEDGER_OK) {
        number = (int64_t)(hash_text(settings->shop.name[0] != '\0' ? settings->shop.name
                                                                    : settings->file) >>
                           16);
    }
    (void)snprintf(calendar->yard_word, sizeof calendar->yard_word, "%012llx",
                   (unsigned long long)number);
}

static void gather(struct calendar *calendar)
{
    struct counter *counter = calendar->counter;
    struct stat config;
    /* A config that is newer than the moment asked about says nothing of it. */
    if (stat(counter->settings->file, &config) == 0 && config.st_mtime <= counter->now_s) {
        calendar->config_s = config.st_mtime;
    }
    name_yard(calendar);
    calendar->status = counter_load_standings(counter);
    for (size_t i = 0; i < counter->standing_count && calendar->status == EX_OK; i++) {
        add_standing(calendar, &counter->standings[i]);
    }
    if (calendar->status == EX_OK) {
        set_hours(calendar);
    }
    for (size_t i = 0; i < counter->settings->machine_count && calendar->status == EX_OK; i++) {
        add_cancelled(calendar, (int32_t)i);
    }
}

/* ---- how it is written */

/* "20270413T140000Z" */
static const char *stamp(int64_t unix_s, char room[STAMP_OCTETS])
{
    time_t moment = (time_t)unix_s;
    struct tm utc;
    if (gmtime_r(&moment, &utc) == NULL ||
        strftime(room, STAMP_OCTETS, "%Y%m%dT%H%M%SZ", &utc) == 0) {
        (void)snprintf(room, STAMP_OCTETS, "19700101T000000Z");
    }
    return room;
}

/* Seconds since before this program was written: it fits the 31 bits of an INTEGER (RFC 5545 3.3.8)
 * until 2094. */
static int64_t sequence_of(const struct entry *entry)
{
    return entry->modified_s > CLOCK_FLOOR_S ? entry->modified_s - CLOCK_FLOOR_S : 0;
}

static void write_identifier(const struct calendar *calendar, const struct entry *entry,
                             char out[TEXT_OCTETS])
{
    const struct settings *settings = calendar->counter->settings;
    const struct settings_machine *machine = &settings->machines[entry->standing.machine];
    (void)snprintf(out, TEXT_OCTETS, "%s-%s-%lld@%s.meterpost",
                   machine->formerly_count > 0 ? machine->formerly[0] : machine->name,
                   settings->plans[entry->standing.plan].name, (long long)entry->standing.cycle,
                   calendar->yard_word);
}

/* The hours, where a reading says them; the bounds, where they are not the day itself. */
static void describe(const struct entry *entry, int minutes, char *text, size_t size)
{
    const struct yard_standing *standing = &entry->standing;
    char early[CIVIL_TEXT_OCTETS], late[CIVIL_TEXT_OCTETS];
    char point[COUNTER_POINT_OCTETS], at[COUNTER_POINT_OCTETS + 8] = "", between[64] = "";
    if (counter_point(standing, point)[0] != '\0') {
        (void)snprintf(at, sizeof at, "Due %s. ", point);
    }
    if (standing->earliest_day != standing->latest_day) {
        (void)snprintf(between, sizeof between, "Between %s and %s. ",
                       day_or_blank(true, standing->earliest_day, early),
                       day_or_blank(true, standing->latest_day, late));
    }
    (void)snprintf(text, size, "%s%s%sAbout %d minutes.",
                   entry->cancelled ? (standing->gone ? "The machine is gone. " : "Done. ")
                   : entry->timed   ? "Booked. "
                                    : "",
                   at, between, minutes);
}

static struct json_object *entry_json(const struct calendar *calendar, const struct entry *entry)
{
    const struct settings *settings = calendar->counter->settings;
    const struct settings_plan *plan = &settings->plans[entry->standing.plan];
    struct json_object *event = columns_json(&standing_columns, settings, &entry->standing);
    char identifier[TEXT_OCTETS];
    write_identifier(calendar, entry, identifier);
    json_add_text(event, "uid", identifier);
    json_add_text(event, "title", plan->title);
    json_add(event, "minutes", json_object_new_int(plan->plan.minutes));
    json_add_text(event, "status", entry->cancelled ? "cancelled" : "confirmed");
    json_add(event, "sequence", json_object_new_int64(sequence_of(entry)));
    if (entry->modified_s > 0) {
        json_add_time(event, "modified_at", entry->modified_s);
    }
    if (entry->timed) {
        json_add_time(event, "starts_at", entry->starts_s);
    }
    return event;
}

/* Reminded at the shop's opening on the day before; of booked work an hour ahead. */
static void print_alarm(const struct calendar *calendar, const struct entry *entry,
                        const char *summary)
{
    FILE *out = calendar->counter->out;
    int before_minutes =
        entry->timed ? 60 : 24 * 60 - calendar->counter->settings->shop.alert_from_minute;
    (void)fprintf(out, "BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:-PT%dM\r\n", before_minutes);
    calendar_line(out, "DESCRIPTION", summary);
    (void)fputs("END:VALARM\r\n", out);
}

static void print_times(const struct entry *entry, int32_t minutes, FILE *out)
{
    char from[STAMP_OCTETS], until[STAMP_OCTETS];
    struct civil_date date = civil_date_of(entry->standing.due_day);
    if (entry->timed) {
        (void)fprintf(out, "DTSTART:%s\r\nDTEND:%s\r\nTRANSP:OPAQUE\r\n",
                      stamp(entry->starts_s, from),
                      stamp(entry->starts_s + (minutes > 0 ? minutes : 15) * 60, until));
    } else {
        (void)fprintf(out, "DTSTART;VALUE=DATE:%04d%02d%02d\r\nTRANSP:TRANSPARENT\r\n", date.year,
                      date.month, date.day);
    }
}

static void print_entry(const struct calendar *calendar, const struct entry *entry)
{
    const struct settings *settings = calendar->counter->settings;
    const struct settings_machine *machine = &settings->machines[entry->standing.machine];
    const struct settings_plan *plan = &settings->plans[entry->standing.plan];
    FILE *out = calendar->counter->out;
    char summary[TEXT_OCTETS], text[TEXT_OCTETS], at[STAMP_OCTETS];
    (void)fputs("BEGIN:VEVENT\r\n", out);
    write_identifier(calendar, entry, text);
    calendar_line(out, "UID", text);
    (void)fprintf(out, "DTSTAMP:%s\r\n", stamp(calendar->counter->now_s, at));
    (void)fprintf(out, "SEQUENCE:%lld\r\nSTATUS:%s\r\n", (long long)sequence_of(entry),
                  entry->cancelled ? "CANCELLED" : "CONFIRMED");
    if (entry->modified_s > 0) {
        (void)fprintf(out, "LAST-MODIFIED:%s\r\n", stamp(entry->modified_s, at));
    }
    print_times(entry, plan->plan.minutes, out);
    (void)snprintf(summary, sizeof summary, "%s: %s", machine->name, plan->title);
    calendar_line(out, "SUMMARY", summary);
    describe(entry, plan->plan.minutes, text, sizeof text);
    calendar_line(out, "DESCRIPTION", text);
    if (machine->site[0] != '\0') {
        calendar_line(out, "LOCATION", machine->site);
    }
    if (!entry->cancelled) {
        print_alarm(calendar, entry, summary);
    }
    (void)fputs("END:VEVENT\r\n", out);
}

/* The calendar's own name by RFC 7986 and as calendars knew it before. */
static void print_calendar(const struct calendar *calendar)
{
    FILE *out = calendar->counter->out;
    char name[TEXT_OCTETS];
    (void)snprintf(name, sizeof name, "%s: services", calendar->counter->settings->shop.name);
    (void)fputs("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"
                "PRODID:-//meterpost//service dates//EN\r\nCALSCALE:GREGORIAN\r\n",
                out);
    calendar_line(out, "NAME", name);
    calendar_line(out, "X-WR-CALNAME", name);
    (void)fputs("REFRESH-INTERVAL;VALUE=DURATION:" REFRESH "\r\nX-PUBLISHED-TTL:" REFRESH "\r\n",
                out);
    for (size_t i = 0; i < calendar->count; i++) {
        print_entry(calendar, &calendar->entries[i]);
    }
    (void)fputs("END:VCALENDAR\r\n", out);
}

static int print_json(const struct calendar *calendar)
{
    struct json_object *events = json_object_new_array(), *whole = json_object_new_object();
    for (size_t i = 0; i < calendar->count; i++) {
        (void)json_object_array_add(events, entry_json(calendar, &calendar->entries[i]));
    }
    json_add_time(whole, "as_of", calendar->counter->now_s);
    json_add(whole, "events", events);
    return json_write(whole, calendar->counter->out);
}

int calendar_verb(struct counter *counter)
{
    struct calendar calendar = {.counter = counter,
                                .yard = {.settings = counter->settings, .ledger = counter->ledger}};
    gather(&calendar);
    if (calendar.status == EX_OK && counter->options->json) {
        calendar.status = print_json(&calendar);
    } else if (calendar.status == EX_OK) {
        print_calendar(&calendar);
    }
    free(calendar.entries);
    return calendar.status;
}
