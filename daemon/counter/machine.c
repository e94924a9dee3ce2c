/* SPDX-License-Identifier: MIT
 * machine: one machine: how it stands, its hours as a plot, its record. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/plot.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/record.h"

#define RECORD_SHOWN 12 /* lines, unless --history asks for all */
#define PLOT_COLUMNS 79

/* ---- the record */

/* The stages of alerts as people read them. */
static const char *stage_says(const char *word)
{
    static const char *const words[][2] = {
        {"recheck", "crew asked to look at the level again"},
        {"rechecked", "level looked at again"},
        {"recheck-again", "crew asked once more to look at the level"},
        {"unchecked", "shop told that the level was not looked at"},
        {"silent", "crew asked for a reading"},
        {"silent-shop", "shop told that no reading came"},
        {"wanted", "shop told that no reading came, near the service"},
        {"unbrought", "shop told that it was not brought on the booked day"},
        {"crew-due", "crew told that it is due"},
        {"crew-overdue", "crew told that it is overdue"},
        {"escalated", "told on, being overdue for long and not booked"},
        {"gone", "shop told that somebody still texts about it"},
    };
    enum due_stage stage;
    if (due_stage_find(word, &stage)) {
        return due_stage_row(stage)->says;
    }
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcmp(word, words[i][0]) == 0) {
            return words[i][1];
        }
    }
    return word;
}

static void write_struck(const struct record_line *line, FILE *out)
{
    char at[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(line->struck_s, at, sizeof at);
    if (strcmp(line->kind, "alert") == 0) {
        (void)fprintf(out, "[void since %.10s] ", at);
        return;
    }
    (void)fprintf(out, "[struck out %.10s%s%s", at, line->struck_by[0] != '\0' ? " by " : "",
                  line->struck_by);
    (void)fprintf(out, "%s%s] ", line->struck_why[0] != '\0' ? ": " : "", line->struck_why);
}

static void write_what(const struct record_line *line, FILE *out)
{
    char figure[HOURS_TEXT_OCTETS], quantity[QUANTITY_TEXT_OCTETS];
    char day[CIVIL_TEXT_OCTETS], until[ZONE_TEXT_OCTETS];
    const char *gap = line->plan[0] != '\0' ? ", " : "";
    if (strcmp(line->kind, "meter") == 0) {
        (void)fprintf(out, "meter changed, the new one began at %s",
                      hours_or_blank(line->new_hundredths >= 0, line->new_hundredths, figure));
    }
    (void)fputs(line->plan, out);
    if (line->stage[0] != '\0') {
        (void)fprintf(out, "%s%s", gap, stage_says(line->stage));
    }
    if (line->quantity_thousandths > 0) {
        (void)fprintf(out, "%s%s %s", gap, quantity_write(line->quantity_thousandths, quantity),
                      line->unit);
    }
    if (line->remark[0] != '\0') {
        (void)fprintf(out, "%s%s", gap, line->remark);
    }
    if (line->day != 0) {
        (void)fprintf(out, "%s %s", strcmp(line->kind, "booked") == 0 ? "for" : "since",
                      day_or_blank(true, line->day, day));
    }
    if (line->until_s != 0) {
        zone_write_rfc3339(line->until_s, until, sizeof until);
        (void)fprintf(out, "no reminders until %.10s", until);
    }
}

/* What a person wants to know of a line besides its hours, in a few words. */
static const char *detail(const struct settings *settings, const void *row,
                          char room[TABLE_SHOWN_OCTETS])
{
    const struct record_line *line = row;
    char at[ZONE_TEXT_OCTETS], noted[ZONE_TEXT_OCTETS];
    FILE *stream = fmemopen(room, TABLE_SHOWN_OCTETS, "w");
    (void)settings;
    room[0] = '\0';
    if (stream == NULL) {
        return room;
    }
    if (line->struck_s != 0) {
        write_struck(line, stream);
    }
    write_what(line, stream);
    zone_write_rfc3339(line->at_s, at, sizeof at);
    zone_write_rfc3339(line->noted_s, noted, sizeof noted);
    if (line->noted_s != 0 && strncmp(at, noted, strlen("2027-03-14")) != 0) {
        (void)fprintf(stream, "%s(noted %.10s)", ftell(stream) > 0 ? " " : "", noted);
    }
    (void)fclose(stream);
    return room;
}

#define AT(field) offsetof(struct record_line, field)
static const struct column record_list[] = {
    {"WHEN", "at", COLUMN_TIME, .at = AT(at_s), .not_in_json = true},
    {"WHAT", "what", COLUMN_TEXT, .at = AT(kind)},
    {NULL, "at", COLUMN_TIME, .at = AT(at_s), .not_in_csv = true},
    {"HOURS", "hours", COLUMN_HOURS, .at = AT(meter_hundredths), .when = COLUMN_FROM_0},
    /* Once a meter was replaced, what it shows is not what the machine has run. */
    {"TRUE", "true_hours", COLUMN_HOURS, .at = AT(true_hundredths), .when = COLUMN_FROM_0},
    {NULL, "new_hours", COLUMN_HOURS, .at = AT(new_hundredths), .when = COLUMN_FROM_0},
    {NULL, "plan", COLUMN_TEXT, .at = AT(plan)},
    {NULL, "stage", COLUMN_TEXT, .at = AT(stage)},
    {NULL, "quantity", COLUMN_QUANTITY, .at = AT(quantity_thousandths), .when = COLUMN_FROM_1},
    {NULL, "unit", COLUMN_TEXT, .at = AT(unit)},
    {"WHO", "person", COLUMN_TEXT, .at = AT(person)},
    {"DETAIL", NULL, COLUMN_OWN, .say = detail},
    {NULL, "remark", COLUMN_TEXT, .at = AT(remark)},
    {NULL, "struck_at", COLUMN_TIME, .at = AT(struck_s), .when = COLUMN_FROM_1},
    {NULL, "struck_by", COLUMN_TEXT, .at = AT(struck_by)},
    {NULL, "struck_why", COLUMN_TEXT, .at = AT(struck_why)},
    {NULL, "noted_at", COLUMN_TIME, .at = AT(noted_s), .when = COLUMN_FROM_1},
};
#undef AT
static const struct columns record_columns = {COLUMNS(record_list), false};

/* ---- what is shown */

struct machine_report {
    int32_t machine;
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
    (void)machine;
    if (line->at_s > report->until_s) {
        return;
    }
    table_add(report->record, line, line->struck_s != 0 ? TABLE_FAINT : TABLE_PLAIN);
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
    const struct settings_machine *machine = &settings->machines[report->machine];
    struct yard yard = {.settings = settings, .ledger = counter->ledger};
    int64_t machine_id = 0;
    report->count = yard_kind(settings, report->machine)->plan_count;
    enum ledger_result result =
        yard_stand_machine(&yard, report->machine, counter->now_s, report->standings);
    if (result == LEDGER_OK) {
        result = machines_id(counter->ledger, machine->name, &machine_id);
        /* One that was never heard of has no record yet. */
        result = result == LEDGER_OK ? record_each(counter->ledger, machine_id, take_line, report)
                 : result == LEDGER_NONE ? LEDGER_OK
                                         : result;
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
    print_head(counter->settings, report->machine, lines);
    for (size_t i = 0; i < report->count; i++) {
        print_plan(counter->settings, &report->standings[i], lines);
    }
    for (size_t i = 0; i < counter->trouble_count; i++) {
        if (counter->troubles[i].machine == report->machine) {
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
    const struct settings_machine *machine = &settings->machines[report->machine];
    struct json_object *whole = json_object_new_object();
    struct table *plans = table_new(&standing_columns, TABLE_JSON, settings);
    for (size_t i = 0; i < report->count; i++) {
        table_add(plans, &report->standings[i], TABLE_PLAIN);
    }
    json_add_time(whole, "as_of", counter->now_s);
    json_add_text(whole, "machine", machine->name);
    json_add_text(whole, "kind", settings->kinds[machine->kind].name);
    json_add(whole, "plans", table_json(plans));
    json_add(whole, "trouble", counter_troubles_json(counter, report->machine));
    json_add(whole, "record", table_json(report->record));
    table_free(plans);
    return json_write(whole, counter->out);
}

int machine_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    struct nearest nearest;
    /* Without --now the whole record is shown, whatever the box's clock says. */
    struct machine_report report = {.until_s = options->now != NULL ? counter->now_s : INT64_MAX};
    if (options->word_count != 1) {
        (void)fprintf(counter->err, "meterpost: say which machine, such as: meterpost machine %s\n",
                      counter->settings->machines[0].name);
        return EX_USAGE;
    }
    report.machine = counter_machine(counter->settings, options->words[0], &nearest);
    if (report.machine < 0) {
        return counter_unknown(counter, "machine", &nearest);
    }
    report.record = table_new(&record_columns, counter_form(counter), counter->settings);
    int status = counter_load_troubles(counter);
    if (status == EX_OK) {
        status = load(counter, &report);
    }
    if (status == EX_OK) {
        status = options->json  ? print_json(counter, &report)
                 : options->csv ? table_print(report.record, counter->out)
                                : print_screen(counter, &report);
    }
    for (size_t i = 0; i < report.count && status == EX_OK; i++) {
        status = due_stage_row(report.standings[i].stage)->needs_doing ? 1 : EX_OK;
    }
    table_free(report.record);
    free(report.points);
    return status;
}
