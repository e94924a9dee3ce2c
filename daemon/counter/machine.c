/* SPDX-License-Identifier: MIT
 * machine: one machine: how it stands, its hours as a plot, its record. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/chronicle.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/handover.h"
#include "daemon/counter/plot.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/record.h"

#define RECORD_SHOWN 12 /* lines, unless --history asks for all */
#define PLOT_COLUMNS 79

/* ---- what is shown */

struct machine_report {
    struct counter_named named;
    struct yard_standing standings[SETTINGS_PLANS_MAX];
    size_t count;
    int64_t until_s; /* where the record ends */
    struct table *record;
    bool meter_changed;
    struct plot_point *points; /* the readings that stand, in true hours */
    size_t point_count, point_room;
};

static void take_line(void *ctx, const char *machine, const struct record_line *line)
{
    struct machine_report *report = ctx;
    if (line->at_s > report->until_s) {
        return;
    }
    table_add(report->record, &(struct chronicle_row){machine, *line},
              line->struck_s != 0 ? TABLE_FAINT : TABLE_PLAIN);
    report->meter_changed = report->meter_changed || strcmp(line->kind, "meter") == 0;
    if (line->struck_s != 0 || strcmp(line->kind, "reading") != 0) {
        return;
    }
    if (report->point_count == report->point_room) {
        size_t room = report->point_room == 0 ? 64 : report->point_room * 2;
        struct plot_point *points = realloc(report->points, room * sizeof *points);
        if (points == NULL) {
            return; /* a plot with fewer points */
        }
        report->points = points;
        report->point_room = room;
    }
    report->points[report->point_count++] = (struct plot_point){line->at_s, line->true_hundredths};
}

static int load(struct counter *counter, struct machine_report *report)
{
    const struct settings *settings = counter->settings;
    const struct counter_named *named = &report->named;
    struct yard yard = {.settings = settings, .ledger = counter->ledger};
    enum ledger_result result = LEDGER_OK;
    if (named->machine >= 0) {
        report->count = yard_kind(settings, named->machine)->plan_count;
        result = yard_stand_machine(&yard, named->machine, counter->now_s, report->standings);
    }
    if (result == LEDGER_OK && named->id != 0) {
        result = record_each(counter->ledger, named->id, take_line, report);
    }
    return counter_ledger_status(counter, result);
}

static void print_head(const struct settings *settings, int32_t index, FILE *out)
{
    const struct settings_machine *machine = &settings->machines[index];
    (void)fprintf(out, "%s, %s", machine->name, settings->kinds[machine->kind].name);
    (void)fprintf(out, "%s%s", machine->serial[0] != '\0' ? ", serial " : "", machine->serial);
    (void)fprintf(out, "%s%s", machine->owner[0] != '\0' ? ", of " : "", machine->owner);
    (void)fprintf(out, "%s%s", machine->site[0] != '\0' ? ", at " : "", machine->site);
    for (size_t i = 0; i < machine->crew_count; i++) {
        (void)fprintf(out, "%s%s", i == 0 ? ", crew " : " + ",
                      settings->people[machine->crew[i]].name);
    }
    (void)fputc('\n', out);
}

static void print_plan(const struct settings *settings, const struct yard_standing *standing,
                       FILE *out)
{
    char point[COUNTER_POINT_OCTETS], left[HOURS_TEXT_OCTETS], day[CIVIL_TEXT_OCTETS];
    (void)fprintf(out, "  %s: %s", settings->plans[standing->plan].title,
                  due_stage_row(standing->stage)->says);
    if (counter_point(standing, point)[0] != '\0') {
        (void)fprintf(out, ", %s%s", standing->stage == DUE_STAGE_DUE ? "" : "due ", point);
    }
    if (standing->has_due && standing->read) {
        int64_t hundredths = standing->left_hundredths;
        (void)fprintf(out, ", %s h %s",
                      hours_or_blank(true, hundredths < 0 ? -hundredths : hundredths, left),
                      hundredths < 0 ? "past it" : "left");
    }
    if (standing->wanted) {
        (void)fprintf(out, "; a reading is wanted, by its usual use it shows %s h by now",
                      hours_or_blank(true, standing->likely_meter_hundredths, left));
    } else if (standing->has_forecast && standing->by == DUE_BY_HOURS &&
               standing->left_hundredths > 0) {
        (void)fprintf(out, ", about %s", day_or_blank(true, standing->due_day, day));
    }
    (void)fputc('\n', out);
}

/* By the config, or by what the shop has said; 0 where it is not gone. */
static int32_t gone_day(const struct settings *settings, const struct machine_report *report)
{
    if (report->count == 0) {
        return 0;
    }
    const struct settings_machine *machine = &settings->machines[report->named.machine];
    const struct yard_standing *standing = &report->standings[0];
    return machine->gone ? machine->gone_day : standing->gone ? standing->gone_day : 0;
}

/* Where the shop has said that it is. */
static void print_whereabouts(const struct settings *settings, const struct machine_report *report,
                              FILE *out)
{
    const struct yard_standing *standing = &report->standings[0];
    char day[CIVIL_TEXT_OCTETS], at[ZONE_TEXT_OCTETS];
    if (report->count == 0) {
        return;
    }
    int32_t gone = gone_day(settings, report);
    if (gone != 0) {
        (void)fprintf(out, "  gone since %s: nothing comes due\n", day_or_blank(true, gone, day));
    } else if (standing->in_shop) {
        zone_write_minute(standing->in_since_s, at, sizeof at);
        (void)fprintf(out, "  in the shop since %s\n", at);
    } else if (standing->booked) {
        (void)fprintf(out, "  booked into the shop for %s\n",
                      day_or_blank(true, standing->booked_day, day));
    }
}

static void print_plot(const struct counter *counter, const struct machine_report *report,
                       const struct screen *screen)
{
    bool narrow = screen->columns != 0 && screen->columns < PLOT_COLUMNS;
    struct plot_level levels[SETTINGS_PLANS_MAX];
    size_t level_count = 0;
    for (size_t i = 0; i < report->count; i++) {
        const struct yard_standing *standing = &report->standings[i];
        if (standing->has_due) {
            levels[level_count++] = (struct plot_level){
                counter->settings->plans[standing->plan].name, standing->due_true_hundredths};
        }
    }
    if (report->point_count > 1) {
        (void)fputc('\n', counter->out);
        plot_print(report->points, report->point_count, levels, level_count,
                   narrow ? screen->columns : PLOT_COLUMNS, counter->out);
    }
}

/* Title, head and plans, folded for the screen. The title is for whoever gets the record in hand. */
static bool print_standing(const struct counter *counter, const struct machine_report *report,
                           const struct screen *screen)
{
    char *text = NULL, title[256], at[ZONE_TEXT_OCTETS], trouble[COUNTER_TROUBLE_OCTETS];
    size_t length = 0;
    FILE *lines = open_memstream(&text, &length);
    if (lines == NULL) {
        return false;
    }
    if (counter->options->history) {
        zone_write_rfc3339(counter->now_s, at, sizeof at);
        (void)snprintf(title, sizeof title,
                       "Service record kept by %s, as of %.10s. Nothing is erased: what was "
                       "corrected or taken back is shown as struck out.\n\n",
                       counter->settings->shop.name, at);
        screen_print_folded(screen, title, 0, counter->out);
    }
    if (report->named.formerly) {
        (void)fprintf(lines, "%s is called %s now.\n", counter->options->words[0],
                      report->named.name);
    }
    if (report->named.machine >= 0) {
        print_head(counter->settings, report->named.machine, lines);
    } else {
        (void)fprintf(lines, "%s, which is not in the config any more\n", report->named.name);
    }
    print_whereabouts(counter->settings, report, lines);
    for (size_t i = 0; i < report->count && gone_day(counter->settings, report) == 0; i++) {
        print_plan(counter->settings, &report->standings[i], lines);
    }
    for (size_t i = 0; i < counter->trouble_count; i++) {
        if (report->named.machine >= 0 && counter->troubles[i].machine == report->named.machine) {
            (void)fprintf(lines, "  open trouble: %s\n",
                          counter_trouble_says(&counter->troubles[i], trouble));
        }
    }
    bool written = fclose(lines) == 0;
    screen_print_folded(screen, written ? text : "", 4, counter->out);
    free(text);
    return written;
}

static int print_screen(const struct counter *counter, const struct machine_report *report)
{
    struct screen screen = screen_of(counter->out);
    if (!print_standing(counter, report, &screen)) {
        return EX_OSERR;
    }
    print_plot(counter, report, &screen);
    (void)fputc('\n', counter->out);
    size_t count = table_rows(report->record);
    size_t shown = counter->options->history ? count : RECORD_SHOWN;
    if (count == 0) {
        (void)fprintf(counter->out, "nothing on record yet\n");
        return EX_OK;
    }
    if (!report->meter_changed) {
        table_drop(report->record, "TRUE");
    }
    int status = table_print_last(report->record, &screen, shown, counter->out);
    if (status == EX_OK && count > shown) {
        (void)fprintf(counter->out, "the last %zu of %zu; --history shows all\n", shown, count);
    }
    return status;
}

static int print_json(const struct counter *counter, const struct machine_report *report)
{
    const struct settings *settings = counter->settings;
    const struct counter_named *named = &report->named;
    struct json_object *whole = json_object_new_object();
    struct table *plans = table_new(&standing_columns, TABLE_JSON, settings);
    char day[CIVIL_TEXT_OCTETS];
    for (size_t i = 0; i < report->count; i++) {
        table_add(plans, &report->standings[i], TABLE_PLAIN);
    }
    json_add_time(whole, "as_of", counter->now_s);
    json_add_text(whole, "machine", named->name);
    if (named->machine >= 0) {
        json_add_text(whole, "kind", yard_kind(settings, named->machine)->name);
        json_add(whole, "plans", table_json(plans));
        json_add(whole, "trouble", counter_troubles_json(counter, named->machine, NULL));
    }
    if (gone_day(settings, report) != 0) {
        json_add_text(whole, "gone_on", day_or_blank(true, gone_day(settings, report), day));
    }
    json_add(whole, "record", table_json(report->record));
    table_free(plans);
    return json_write(whole, counter->out);
}

int machine_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    /* Without --now the whole record is shown, whatever the box's clock says. */
    struct machine_report report = {.until_s = options->now != NULL ? counter->now_s : INT64_MAX};
    if (options->word_count != 1) {
        (void)fprintf(counter->err, "meterpost: say which machine, such as: meterpost machine %s\n",
                      counter->settings->machines[0].name);
        return EX_USAGE;
    }
    int status = counter_on_record(counter, options->words[0], &report.named);
    if (status != EX_OK) {
        return status;
    }
    report.record = table_new(&chronicle_of_one, counter_form(counter), counter->settings);
    status = counter_load_troubles(counter);
    if (status == EX_OK) {
        status = load(counter, &report);
    }
    if (status == EX_OK) {
        status = options->json   ? print_json(counter, &report)
                 : options->csv  ? table_print(report.record, counter->out)
                 : options->page ? handover_print(counter, &report.named, report.until_s,
                                                  gone_day(counter->settings, &report))
                                 : print_screen(counter, &report);
    }
    for (size_t i = 0;
         i < report.count && status == EX_OK && gone_day(counter->settings, &report) == 0; i++) {
        status = due_stage_row(report.standings[i].stage)->needs_doing ? 1 : EX_OK;
    }
    table_free(report.record);
    free(report.points);
    return status;
}
