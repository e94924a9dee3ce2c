/* SPDX-License-Identifier: MIT
 * due: what comes due, worst first. The words and figures are yard/'s; this file only sets them out. */
#include <stdlib.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/yard/yard.h"

static const struct table_column screen_columns[] = {
    {"MACHINE", TABLE_LEFT},  {"PLAN", TABLE_LEFT},      {"STATE", TABLE_LEFT},
    {"METER h", TABLE_RIGHT}, {"DUE AT h", TABLE_RIGHT}, {"LEFT h", TABLE_RIGHT},
    {"DUE ON", TABLE_LEFT},   {"BETWEEN", TABLE_LEFT},
};

static const struct table_column csv_columns[] = {
    {"machine", TABLE_LEFT},      {"kind", TABLE_LEFT},
    {"plan", TABLE_LEFT},         {"stage", TABLE_LEFT},
    {"meter", TABLE_RIGHT},       {"true_hours", TABLE_RIGHT},
    {"read_at", TABLE_LEFT},      {"hours_a_day", TABLE_RIGHT},
    {"due_hours", TABLE_RIGHT},   {"hours_left", TABLE_RIGHT},
    {"due_on", TABLE_LEFT},       {"earliest", TABLE_LEFT},
    {"latest", TABLE_LEFT},       {"last_done_hours", TABLE_RIGHT},
    {"last_done_on", TABLE_LEFT},
};

struct due_report {
    const struct settings *settings;
    const struct yard_standing *standings;
    size_t count;
    int64_t now_s;
};

static const struct settings_machine *machine_of(const struct due_report *report,
                                                 const struct yard_standing *standing)
{
    return &report->settings->machines[standing->machine];
}

static const char *plan_of(const struct due_report *report, const struct yard_standing *standing)
{
    return report->settings->plans[standing->plan].name;
}

static int print_json(const struct due_report *report, FILE *out)
{
    struct json_object *whole = json_object_new_object();
    struct json_object *rows = json_object_new_array();
    json_add_time(whole, "as_of", report->now_s);
    for (size_t i = 0; i < report->count; i++) {
        if (json_object_array_add(rows, standing_json(report->settings, &report->standings[i])) !=
            0) {
            (void)json_object_put(rows);
            (void)json_object_put(whole);
            return EX_OSERR;
        }
    }
    if (json_object_object_add(whole, "rows", rows) != 0) {
        (void)json_object_put(rows);
        (void)json_object_put(whole);
        return EX_OSERR;
    }
    return json_write(whole, out) ? EX_OK : EX_IOERR;
}

static void screen_row(struct table *table, const struct due_report *report,
                       const struct yard_standing *standing)
{
    char meter[HOURS_TEXT_OCTETS], due[HOURS_TEXT_OCTETS], left[HOURS_TEXT_OCTETS];
    char day[CIVIL_TEXT_OCTETS], early[CIVIL_TEXT_OCTETS], late[CIVIL_TEXT_OCTETS];
    (void)table_cell(table, "%s", machine_of(report, standing)->name);
    (void)table_cell(table, "%s", plan_of(report, standing));
    (void)table_cell(table, "%s", due_stage_row(standing->stage)->says);
    (void)table_cell(table, "%s",
                     standing_hours(standing->read, standing->meter_hundredths, meter));
    (void)table_cell(table, "%s",
                     standing_hours(standing->has_due, standing->due_meter_hundredths, due));
    (void)table_cell(
        table, "%s",
        standing_hours(standing->has_due && standing->read, standing->left_hundredths, left));
    (void)table_cell(table, "%s", standing_day(standing->has_forecast, standing->due_day, day));
    /* Past the point, or by the calendar alone, there is nothing between. */
    if (standing->has_forecast && standing->earliest_day != standing->latest_day) {
        (void)table_cell(table, "%s .. %s", standing_day(true, standing->earliest_day, early),
                         standing_day(true, standing->latest_day, late));
    } else {
        (void)table_cell(table, "%s", "");
    }
}

static void csv_row(struct table *table, const struct due_report *report,
                    const struct yard_standing *standing)
{
    char room[HOURS_TEXT_OCTETS], day[CIVIL_TEXT_OCTETS], moment[ZONE_TEXT_OCTETS] = "";
    const struct settings_machine *machine = machine_of(report, standing);
    (void)table_cell(table, "%s", machine->name);
    (void)table_cell(table, "%s", report->settings->kinds[machine->kind].name);
    (void)table_cell(table, "%s", plan_of(report, standing));
    (void)table_cell(table, "%s", due_stage_word(standing->stage));
    (void)table_cell(table, "%s", standing_hours(standing->read, standing->meter_hundredths, room));
    (void)table_cell(table, "%s", standing_hours(standing->read, standing->true_hundredths, room));
    if (standing->read) {
        zone_write_rfc3339(standing->read_s, moment, sizeof moment);
        (void)table_cell(table, "%s", moment);
        (void)table_cell(table, "%.2f", standing->hours_a_day);
    } else {
        (void)table_cell(table, "%s", "");
        (void)table_cell(table, "%s", "");
    }
    (void)table_cell(table, "%s",
                     standing_hours(standing->has_due, standing->due_true_hundredths, room));
    (void)table_cell(
        table, "%s",
        standing_hours(standing->has_due && standing->read, standing->left_hundredths, room));
    (void)table_cell(table, "%s", standing_day(standing->has_forecast, standing->due_day, day));
    (void)table_cell(table, "%s",
                     standing_day(standing->has_forecast, standing->earliest_day, day));
    (void)table_cell(table, "%s", standing_day(standing->has_forecast, standing->latest_day, day));
    (void)table_cell(table, "%s",
                     standing_hours(standing->serviced, standing->last_done_true_hundredths, room));
    (void)table_cell(table, "%s",
                     standing_day(standing->serviced && standing->last_done_day_known,
                                  standing->last_done_day, day));
}

static int print_table(const struct due_report *report, bool csv, FILE *out)
{
    struct table *table =
        csv ? table_new(csv_columns, sizeof csv_columns / sizeof csv_columns[0])
            : table_new(screen_columns, sizeof screen_columns / sizeof screen_columns[0]);
    if (table == NULL) {
        return EX_OSERR;
    }
    for (size_t i = 0; i < report->count; i++) {
        const struct yard_standing *standing = &report->standings[i];
        if (!table_row(table, standing_tint(standing->stage))) {
            table_free(table);
            return EX_OSERR;
        }
        (csv ? csv_row : screen_row)(table, report, standing);
    }
    if (csv) {
        table_print_csv(table, out);
    } else {
        struct screen screen = screen_of(out);
        table_print(table, &screen, out);
    }
    table_free(table);
    return EX_OK;
}

static int attention(const struct due_report *report)
{
    for (size_t i = 0; i < report->count; i++) {
        if (due_stage_row(report->standings[i].stage)->needs_doing) {
            return 1;
        }
    }
    return EX_OK;
}

int due_verb(const struct options *options, FILE *out, FILE *err)
{
    struct counter counter;
    struct yard_standing *standings = NULL;
    size_t count = 0;
    int status = counter_begin(&counter, options, err);
    if (status == EX_OK) {
        status = counter_standings(&counter, &standings, &count, err);
    }
    if (status == EX_OK) {
        struct due_report report = {counter.settings, standings, count, counter.now_s};
        status = options->json ? print_json(&report, out) : print_table(&report, options->csv, out);
        status = status == EX_OK ? attention(&report) : status;
    }
    free(standings);
    counter_end(&counter);
    return status;
}
