/* SPDX-License-Identifier: MIT
 * handover: see the header. Services, changes of meter, trouble and whereabouts stand there line by line,
 * what was struck out marked as such; of the readings the last of each month, of older years the last of
 * the year, so that a long life stays short enough to print. */
#include "daemon/counter/handover.h"

#include <string.h>
#include <sysexits.h>

#include "daemon/counter/chronicle.h"
#include "daemon/counter/paper.h"
#include "daemon/ground/zone.h"

#define MONTHS_SHOWN 24
#define LINE_OCTETS 512

/* The last reading of a month or year. */
struct span {
    int64_t
        span; /* the month's number since year 0, or of a year that its months are not shown of */
    int32_t day;
    int64_t meter_hundredths, true_hundredths;
};

#define AT(field) offsetof(struct span, field)
static const struct column span_list[] = {
    {"LAST READ", NULL, COLUMN_DAY, .at = AT(day)},
    {"METER h", NULL, COLUMN_HOURS, .at = AT(meter_hundredths)},
    {"TRUE h", NULL, COLUMN_HOURS, .at = AT(true_hundredths)},
};
#undef AT
static const struct columns span_columns = {COLUMNS(span_list), false};

struct handover {
    int64_t until_s, this_month;
    struct table *services, *events, *hours;
    struct span last; /* of the span that is being read */
    bool any, meter_changed;
    int32_t first_day;
    size_t lines;
};

static int64_t month_of(int64_t at_s)
{
    struct civil_date date = civil_date_of(zone_civil(at_s).day);
    return (int64_t)date.year * 12 + date.month - 1;
}

static void take_reading(struct handover *handover, const struct record_line *line)
{
    int64_t month = month_of(line->at_s);
    struct span read = {.span = handover->this_month - month < MONTHS_SHOWN ? month : month / 12,
                        .day = zone_civil(line->at_s).day,
                        .meter_hundredths = line->meter_hundredths,
                        .true_hundredths = line->true_hundredths};
    if (handover->any && read.span != handover->last.span) {
        table_add(handover->hours, &handover->last, TABLE_PLAIN);
    }
    handover->first_day = handover->any ? handover->first_day : read.day;
    handover->last = read;
    handover->any = true;
}

static void take_line(void *ctx, const char *machine, const struct record_line *line)
{
    static const char *const events[] = {"meter",  "trouble", "danger", "solved", "parked",  "back",
                                         "booked", "in",      "out",    "gone",   "returned"};
    struct handover *handover = ctx;
    struct chronicle_row row = {machine, *line};
    if (line->at_s > handover->until_s) {
        return;
    }
    handover->lines++;
    handover->meter_changed = handover->meter_changed || strcmp(line->kind, "meter") == 0;
    if (strcmp(line->kind, "reading") == 0 && line->struck_s == 0) {
        take_reading(handover, line);
    } else if (strcmp(line->kind, "service") == 0) {
        table_add(handover->services, &row, TABLE_PLAIN);
    }
    for (size_t i = 0; i < sizeof events / sizeof events[0]; i++) {
        if (strcmp(line->kind, events[i]) == 0) {
            table_add(handover->events, &row, TABLE_PLAIN);
        }
    }
}

static void put_machine(const struct counter *counter, const struct counter_named *named,
                        struct paper *paper)
{
    const struct settings *settings = counter->settings;
    char line[LINE_OCTETS];
    if (named->machine < 0) {
        paper_fact(paper, "Machine", named->name);
        return;
    }
    const struct settings_machine *machine = &settings->machines[named->machine];
    (void)snprintf(line, sizeof line, "%s, %s%s%s", machine->name,
                   settings->kinds[machine->kind].name,
                   machine->serial[0] != '\0' ? ", serial " : "", machine->serial);
    paper_fact(paper, "Machine", line);
    for (size_t i = 0; i < machine->formerly_count; i++) {
        paper_fact(paper, i == 0 ? "Formerly" : "", machine->formerly[i]);
    }
    if (machine->owner[0] != '\0') {
        paper_fact(paper, "Owner", machine->owner);
    }
}

static void put_hours(const struct handover *handover, struct paper *paper)
{
    char line[LINE_OCTETS], meter[HOURS_TEXT_OCTETS], true_hours[HOURS_TEXT_OCTETS],
        day[CIVIL_TEXT_OCTETS];
    if (!handover->any) {
        paper_fact(paper, "Hours", "no reading on record");
        return;
    }
    const struct span *last = &handover->last;
    bool other = handover->meter_changed;
    (void)snprintf(line, sizeof line, "%s h on the meter on %s%s%s%s",
                   hours_or_blank(true, last->meter_hundredths, meter),
                   day_or_blank(true, last->day, day), other ? ", " : "",
                   hours_or_blank(other, last->true_hundredths, true_hours),
                   other ? " h in all with the meters before" : "");
    paper_fact(paper, "Hours", line);
    paper_fact(paper, "On record since", day_or_blank(true, handover->first_day, day));
}

/* A table under its heading. */
static void put_table(struct paper *paper, const char *heading, struct table *table,
                      const char *nothing, bool meter_changed)
{
    if (!meter_changed) {
        table_drop(table, "TRUE");
        table_drop(table, "TRUE h");
    }
    paper_heading(paper, heading);
    if (table_rows(table) > 0) {
        paper_table(paper, table);
    } else {
        paper_words(paper, nothing);
    }
}

static int print(const struct counter *counter, const struct counter_named *named,
                 struct handover *handover, int32_t gone_day)
{
    struct paper paper;
    char title[LINE_OCTETS], line[LINE_OCTETS], at[ZONE_TEXT_OCTETS], day[CIVIL_TEXT_OCTETS];
    (void)snprintf(title, sizeof title, "Service record of %s", named->name);
    if (!paper_begin(&paper, "en", title, counter->out)) {
        return EX_OSERR;
    }
    put_machine(counter, named, &paper);
    put_hours(handover, &paper);
    if (gone_day != 0) {
        paper_fact(&paper, "Sold or scrapped", day_or_blank(true, gone_day, day));
    }
    zone_write_rfc3339(counter->now_s, at, sizeof at);
    (void)snprintf(line, sizeof line, "%s, as of %.10s", counter->settings->shop.name, at);
    paper_fact(&paper, "Kept by", line);
    put_table(&paper, "Services", handover->services, "None is on record.",
              handover->meter_changed);
    put_table(&paper, "Meter, trouble and whereabouts", handover->events, "Nothing is on record.",
              handover->meter_changed);
    put_table(&paper, "Hours", handover->hours, "No reading is on record.",
              handover->meter_changed);
    (void)snprintf(line, sizeof line,
                   "Made from the %zu lines that were texted or noted of this machine. Nothing is "
                   "erased: what was corrected or taken back is shown as struck out. The maker's "
                   "manual says what the machine needs.",
                   handover->lines);
    paper_words(&paper, line);
    paper_blanks(
        &paper,
        (const struct paper_blank[]){{"Handed over on", 12, ""}, {"by", 16, ""}, {"to", 16, ""}},
        3);
    return paper_end(&paper);
}

int handover_print(const struct counter *counter, const struct counter_named *named,
                   int64_t until_s, int32_t gone_day)
{
    struct handover handover = {
        .until_s = until_s,
        .this_month = month_of(counter->now_s),
        .services = table_new(&chronicle_of_one, TABLE_SCREEN, counter->settings),
        .events = table_new(&chronicle_of_one, TABLE_SCREEN, counter->settings),
        .hours = table_new(&span_columns, TABLE_SCREEN, counter->settings)};
    int status = named->id == 0
                     ? EX_OK
                     : counter_ledger_status(
                           counter, record_each(counter->ledger, named->id, take_line, &handover));
    if (status == EX_OK) {
        if (handover.any) {
            table_add(handover.hours, &handover.last, TABLE_PLAIN);
        }
        table_drop(handover.services, "WHAT");
        status = print(counter, named, &handover, gone_day);
    }
    table_free(handover.services);
    table_free(handover.events);
    table_free(handover.hours);
    return status;
}
