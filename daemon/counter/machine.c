/* SPDX-License-Identifier: MIT
 * machine: one machine: how it stands, its hours as a plot, its record. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/plot.h"
#include "daemon/counter/record_list.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"

#define RECORD_SHOWN 12 /* lines, unless --history asks for all */
#define PLOT_COLUMNS 79

struct machine_report {
    const struct settings *settings;
    int32_t machine;
    struct yard_standing standings[SETTINGS_PLANS_MAX];
    size_t count;
    struct record_list record;
};

static int32_t find_machine(const struct counter *counter, const struct options *options, FILE *err)
{
    if (options->word_count != 1) {
        (void)fprintf(err, "meterpost: say which machine, such as: meterpost machine %s\n",
                      counter->settings->machines[0].name);
        return -1;
    }
    return counter_find_machine(counter->settings, options->words[0], err);
}

/* Without --now the whole record is shown, whatever the box's clock says. */
static int load(struct counter *counter, const struct options *options,
                struct machine_report *report, FILE *err)
{
    int64_t until_s = options->now != NULL ? counter->now_s : INT64_MAX;
    const struct settings_machine *machine = &report->settings->machines[report->machine];
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    int64_t machine_id = 0;
    report->count = yard_kind(report->settings, report->machine)->plan_count;
    enum ledger_result result =
        yard_stand_machine(&yard, report->machine, counter->now_s, report->standings);
    if (result == LEDGER_OK) {
        result = machines_id(counter->ledger, machine->name, &machine_id);
        /* One that was never heard of has no record yet. */
        result = result == LEDGER_OK
                     ? record_list_load(counter->ledger, machine_id, until_s, &report->record)
                 : result == LEDGER_NONE ? LEDGER_OK
                                         : result;
    }
    if (result != LEDGER_OK) {
        (void)fprintf(err, "meterpost: %s\n", ledger_says(counter->ledger));
        return ledger_exit_status(result);
    }
    return EX_OK;
}

static void print_head(const struct machine_report *report, FILE *out)
{
    const struct settings_machine *machine = &report->settings->machines[report->machine];
    (void)fprintf(out, "%s, %s", machine->name, report->settings->kinds[machine->kind].name);
    (void)fprintf(out, "%s%s", machine->serial[0] != '\0' ? ", serial " : "", machine->serial);
    (void)fprintf(out, "%s%s", machine->owner[0] != '\0' ? ", of " : "", machine->owner);
    (void)fprintf(out, "%s%s", machine->site[0] != '\0' ? ", at " : "", machine->site);
    for (size_t i = 0; i < machine->crew_count; i++) {
        (void)fprintf(out, "%s%s", i == 0 ? ", crew " : " + ",
                      report->settings->people[machine->crew[i]].name);
    }
    (void)fputc('\n', out);
}

static void print_plans(const struct machine_report *report, FILE *out)
{
    for (size_t i = 0; i < report->count; i++) {
        const struct yard_standing *standing = &report->standings[i];
        char due[HOURS_TEXT_OCTETS], left[HOURS_TEXT_OCTETS], day[CIVIL_TEXT_OCTETS];
        (void)fprintf(out, "  %s: %s", report->settings->plans[standing->plan].title,
                      due_stage_row(standing->stage)->says);
        if (standing->has_due) {
            (void)fprintf(out, ", %sat %s h", standing->stage == DUE_STAGE_DUE ? "" : "due ",
                          standing_hours(true, standing->due_meter_hundredths, due));
        }
        if (standing->has_due && standing->read) {
            int64_t hundredths = standing->left_hundredths;
            (void)fprintf(out, ", %s h %s",
                          standing_hours(true, hundredths < 0 ? -hundredths : hundredths, left),
                          hundredths < 0 ? "past it" : "left");
        }
        if (standing->by_now) {
            (void)fputs(", by its usual use reached by now: a reading is wanted", out);
        } else if (standing->has_forecast && standing->left_hundredths > 0) {
            (void)fprintf(out, ", about %s", standing_day(true, standing->due_day, day));
        }
        (void)fputc('\n', out);
    }
}

static void print_plot(const struct machine_report *report, const struct screen *screen, FILE *out)
{
    bool narrow = screen->columns != 0 && screen->columns < PLOT_COLUMNS;
    struct plot_level levels[SETTINGS_PLANS_MAX];
    size_t level_count = 0, point_count = 0;
    struct plot_point *points = record_list_points(&report->record, &point_count);
    for (size_t i = 0; i < report->count; i++) {
        if (report->standings[i].has_due) {
            levels[level_count++] =
                (struct plot_level){report->settings->plans[report->standings[i].plan].name,
                                    report->standings[i].due_true_hundredths};
        }
    }
    if (point_count > 1) {
        (void)fputc('\n', out);
        plot_print(points, point_count, levels, level_count,
                   narrow ? screen->columns : PLOT_COLUMNS, out);
    }
    free(points);
}

/* Head and plans, folded for the screen. */
static bool print_standing(const struct machine_report *report, const struct screen *screen,
                           FILE *out)
{
    char *text = NULL;
    size_t length = 0;
    FILE *lines = open_memstream(&text, &length);
    if (lines == NULL) {
        return false;
    }
    print_head(report, lines);
    print_plans(report, lines);
    bool written = fclose(lines) == 0;
    screen_print_folded(screen, written ? text : "", 4, out);
    free(text);
    return written;
}

/* For whoever gets the record in hand. */
static void print_title(const struct machine_report *report, const struct screen *screen,
                        int64_t now_s, FILE *out)
{
    char at[ZONE_TEXT_OCTETS], title[256];
    zone_write_rfc3339(now_s, at, sizeof at);
    (void)snprintf(
        title, sizeof title,
        "Service record kept by %s, as of %.10s. Nothing is erased: what was corrected or "
        "taken back is shown as struck out.\n\n",
        report->settings->shop.name, at);
    screen_print_folded(screen, title, 0, out);
}

static int print_screen(const struct machine_report *report, bool history, int64_t now_s, FILE *out)
{
    struct screen screen = screen_of(out);
    if (history) {
        print_title(report, &screen, now_s, out);
    }
    if (!print_standing(report, &screen, out)) {
        return EX_OSERR;
    }
    print_plot(report, &screen, out);
    (void)fputc('\n', out);
    size_t shown = history ? report->record.count : RECORD_SHOWN;
    if (report->record.count == 0) {
        (void)fprintf(out, "nothing on record yet\n");
        return EX_OK;
    }
    if (!record_list_print(&report->record, shown, false, out)) {
        return EX_OSERR;
    }
    if (report->record.count > shown) {
        (void)fprintf(out, "the last %zu of %zu; --history shows all\n", shown,
                      report->record.count);
    }
    return EX_OK;
}

static int print_json(const struct machine_report *report, int64_t now_s, FILE *out)
{
    const struct settings_machine *machine = &report->settings->machines[report->machine];
    struct json_object *whole = json_object_new_object();
    struct json_object *plans = json_object_new_array();
    json_add_time(whole, "as_of", now_s);
    json_add_text(whole, "machine", machine->name);
    json_add_text(whole, "kind", report->settings->kinds[machine->kind].name);
    for (size_t i = 0; i < report->count; i++) {
        (void)json_object_array_add(plans, standing_json(report->settings, &report->standings[i]));
    }
    (void)json_object_object_add(whole, "plans", plans);
    (void)json_object_object_add(whole, "record", record_list_json(&report->record));
    return json_write(whole, out) ? EX_OK : EX_IOERR;
}

static int print(const struct machine_report *report, const struct counter *counter,
                 const struct options *options, FILE *out)
{
    int status = EX_OK;
    if (options->json) {
        status = print_json(report, counter->now_s, out);
    } else if (options->csv) {
        status =
            record_list_print(&report->record, report->record.count, true, out) ? EX_OK : EX_OSERR;
    } else {
        status = print_screen(report, options->history, counter->now_s, out);
    }
    for (size_t i = 0; i < report->count && status == EX_OK; i++) {
        status = due_stage_row(report->standings[i].stage)->needs_doing ? 1 : EX_OK;
    }
    return status;
}

int machine_verb(const struct options *options, FILE *out, FILE *err)
{
    struct counter counter;
    struct machine_report report = {0};
    int status = counter_begin(&counter, options, err);
    if (status == EX_OK) {
        report.settings = counter.settings;
        report.machine = find_machine(&counter, options, err);
        status = report.machine < 0 ? EX_USAGE : counter_open_ledger(&counter, LEDGER_READ, err);
    }
    if (status == EX_OK) {
        status = load(&counter, options, &report, err);
    }
    if (status == EX_OK) {
        status = print(&report, &counter, options, out);
    }
    record_list_free(&report.record);
    counter_end(&counter);
    return status;
}
