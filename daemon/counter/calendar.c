/* SPDX-License-Identifier: MIT
 * calendar: due dates for a calendar (iCalendar, RFC 5545). */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>
#include <time.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"

#define STAMP_OCTETS 20

/* The hours, where a reading says them; the bounds, where they are not the day itself. */
static void describe(const struct yard_standing *standing, int minutes, char *text, size_t size)
{
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
    (void)snprintf(text, size, "%s%sAbout %d minutes.", at, between, minutes);
}

#define IDENTIFIER_OCTETS 256
/* Stable for machine, plan and the service it leads up to. */
static void write_identifier(const struct settings *settings, const struct yard_standing *standing,
                             char out[IDENTIFIER_OCTETS])
{
    (void)snprintf(out, IDENTIFIER_OCTETS, "%s-%s-%lld@meterpost",
                   settings->machines[standing->machine].name, settings->plans[standing->plan].name,
                   (long long)standing->cycle);
}

static struct json_object *event_json(const struct settings *settings,
                                      const struct yard_standing *standing)
{
    const struct settings_machine *machine = &settings->machines[standing->machine];
    const struct settings_plan *plan = &settings->plans[standing->plan];
    struct json_object *event = columns_json(&standing_columns, settings, standing);
    char identifier[IDENTIFIER_OCTETS];
    write_identifier(settings, standing, identifier);
    json_add_text(event, "uid", identifier);
    json_add_text(event, "title", plan->title);
    json_add_text(event, "site", machine->site[0] != '\0' ? machine->site : NULL);
    json_add(event, "minutes", json_object_new_int(plan->plan.minutes));
    return event;
}

static void print_event(const struct settings *settings, const struct yard_standing *standing,
                        int64_t now_s, FILE *out)
{
    const struct settings_machine *machine = &settings->machines[standing->machine];
    const struct settings_plan *plan = &settings->plans[standing->plan];
    struct civil_date date = civil_date_of(standing->due_day);
    char stamp[STAMP_OCTETS], text[IDENTIFIER_OCTETS];
    time_t moment = (time_t)now_s;
    struct tm utc;
    if (gmtime_r(&moment, &utc) == NULL ||
        strftime(stamp, sizeof stamp, "%Y%m%dT%H%M%SZ", &utc) == 0) {
        (void)snprintf(stamp, sizeof stamp, "19700101T000000Z");
    }
    (void)fputs("BEGIN:VEVENT\r\n", out);
    write_identifier(settings, standing, text);
    calendar_line(out, "UID", text);
    (void)fprintf(out, "DTSTAMP:%s\r\nDTSTART;VALUE=DATE:%04d%02d%02d\r\n", stamp, date.year,
                  date.month, date.day);
    (void)snprintf(text, sizeof text, "%s: %s (%s)", machine->name, plan->title,
                   due_stage_row(standing->stage)->says);
    calendar_line(out, "SUMMARY", text);
    describe(standing, plan->plan.minutes, text, sizeof text);
    calendar_line(out, "DESCRIPTION", text);
    if (machine->site[0] != '\0') {
        calendar_line(out, "LOCATION", machine->site);
    }
    (void)fputs("TRANSP:TRANSPARENT\r\nEND:VEVENT\r\n", out);
}

int calendar_verb(struct counter *counter)
{
    bool json = counter->options->json;
    struct json_object *events = json_object_new_array(), *whole = json_object_new_object();
    struct yard_standing *standings = NULL;
    size_t count = 0;
    int status = counter_standings(counter, &standings, &count);
    if (status == EX_OK && !json) {
        (void)fputs("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"
                    "PRODID:-//meterpost//service dates//EN\r\nCALSCALE:GREGORIAN\r\n",
                    counter->out);
    }
    for (size_t i = 0; i < count && status == EX_OK; i++) {
        if (standings[i].has_forecast && json) {
            (void)json_object_array_add(events, event_json(counter->settings, &standings[i]));
        } else if (standings[i].has_forecast) {
            print_event(counter->settings, &standings[i], counter->now_s, counter->out);
        }
    }
    if (status == EX_OK && json) {
        json_add_time(whole, "as_of", counter->now_s);
        json_add(whole, "events", json_object_get(events));
        status = json_write(json_object_get(whole), counter->out);
    } else if (status == EX_OK) {
        (void)fputs("END:VCALENDAR\r\n", counter->out);
    }
    (void)json_object_put(events);
    (void)json_object_put(whole);
    free(standings);
    return status;
}
