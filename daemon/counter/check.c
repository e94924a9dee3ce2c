/* SPDX-License-Identifier: MIT
 * check: checks the config file and says what it means, or each mistake with its line; and what it would
 * have the running daemon tell the shop, so that a plan that is changed while machines are under way
 * brings no surprise. What is a mistake is config/'s to say, how machines stand the yard's, what calls
 * for an alert the desk's. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>
#include <unistd.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/desk/status.h"
#include "daemon/ground/clock.h"
#include "daemon/ground/zone.h"
#include "daemon/yard/yard.h"

/* All there is to say of one file. */
struct report {
    const char *file;
    struct settings *settings; /* NULL with mistakes */
    struct settings_mistakes mistakes, notes;
    struct yard_standing *raises; /* what would be told, worst first */
    size_t raise_count;
};

/* ---- what would be told */

/* The ledger is only read. Without one nothing is under way. */
static void look_ahead(struct report *report, int64_t now_s)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS] = "";
    size_t count = 0;
    if (access(report->settings->ledger, F_OK) != 0) {
        return;
    }
    struct ledger *ledger = ledger_open(report->settings->ledger, LEDGER_READ, &result, says);
    if (ledger != NULL) {
        struct yard yard = {.settings = report->settings, .ledger = ledger};
        result = yard_stand_all(&yard, now_s, &report->raises, &count);
        for (size_t i = 0; i < count && result == LEDGER_OK; i++) { /* those that call stay */
            struct alert_row row;
            bool calls = false;
            result = standing_calls(report->settings, ledger, &report->raises[i], &row, &calls);
            report->raises[report->raise_count] = report->raises[i];
            report->raise_count += calls;
        }
        (void)snprintf(says, sizeof says, "%s", ledger_says(ledger));
    }
    if (ledger == NULL || result != LEDGER_OK) {
        report->raise_count = 0;
        settings_mistakes_add(&report->notes, report->file, 0,
                              "what would be told to the shop cannot be said: %s", says);
    }
    ledger_close(ledger);
}

/* ---- how it is said */

static struct json_object *mistakes_json(const struct settings_mistakes *mistakes,
                                         const char *config_file)
{
    struct mistake_row {
        uint32_t line;
        const char *file; /* one that is included, else "" */
        const char *says;
    };
    static const struct column list[] = {
        {NULL, "line", COLUMN_COUNT, .at = offsetof(struct mistake_row, line),
         .when = COLUMN_FROM_1},
        {NULL, "file", COLUMN_TEXT, .at = offsetof(struct mistake_row, file)},
        {NULL, "says", COLUMN_TEXT, .at = offsetof(struct mistake_row, says)},
    };
    static const struct columns columns = {COLUMNS(list), false};
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < mistakes->count; i++) {
        const struct settings_mistake *mistake = &mistakes->list[i];
        bool included = strcmp(mistake->file, config_file) != 0;
        struct mistake_row row = {mistake->line, included ? mistake->file : "", mistake->says};
        (void)json_object_array_add(array, columns_json(&columns, NULL, &row));
    }
    return array;
}

static struct json_object *raises_json(const struct report *report)
{
    static const struct column list[] = {
        {NULL, "machine", COLUMN_MACHINE, .at = offsetof(struct yard_standing, machine)},
        {NULL, "plan", COLUMN_PLAN, .at = offsetof(struct yard_standing, plan)},
        {NULL, "stage", COLUMN_STAGE, .at = offsetof(struct yard_standing, stage)},
    };
    static const struct columns columns = {COLUMNS(list), false};
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < report->raise_count; i++) {
        (void)json_object_array_add(array,
                                    columns_json(&columns, report->settings, &report->raises[i]));
    }
    return array;
}

static void print_json(const struct report *report, FILE *out)
{
    struct json_object *whole = json_object_new_object();
    json_add_text(whole, "status", report->settings != NULL ? "ok" : "mistakes");
    json_add(whole, "mistakes", mistakes_json(&report->mistakes, report->file));
    if (report->notes.count > 0) {
        json_add(whole, "notes", mistakes_json(&report->notes, report->file));
    }
    if (report->raise_count > 0) {
        json_add(whole, "raises", raises_json(report));
    }
    (void)json_write(whole, out);
}

static void print_well(const struct report *report, FILE *out)
{
    const struct settings *settings = report->settings;
    settings_describe(settings, out);
    if (report->raise_count > 0) {
        fprintf(out, "Told to the shop once this is in force\n");
    }
    for (size_t i = 0; i < report->raise_count; i++) {
        const struct yard_standing *raise = &report->raises[i];
        fprintf(out, "  %s %s: %s\n", settings->machines[raise->machine].name,
                settings->plans[raise->plan].name, due_stage_row(raise->stage)->says);
    }
    if (report->notes.count > 0) {
        fprintf(out, "Worth a look\n");
    }
    for (size_t i = 0; i < report->notes.count; i++) {
        fprintf(out, "  %s\n", report->notes.list[i].says);
    }
    fprintf(out, "%s: no mistake found\n", report->file);
}

int check_verb(const struct options *options, FILE *out, FILE *err)
{
    struct report report = {.file = options->config};
    struct clock clock = clock_real();
    int64_t now_s = clock.now(clock.ctx).wall_s;
    report.settings = settings_load_listing(options->config, &report.mistakes);
    int status = report.settings != NULL ? EX_OK : EX_CONFIG;
    bool dated = report.settings != NULL && zone_set(report.settings->shop.time_zone) &&
                 (options->now == NULL || zone_read_rfc3339(options->now, &now_s));
    if (report.settings != NULL && !dated) {
        fprintf(err, "meterpost: --now %s is no time; write it like 2027-03-14T07:00:00-07:00\n",
                options->now);
        status = EX_USAGE;
    } else {
        if (report.settings != NULL) {
            settings_notes(report.settings, zone_civil(now_s).day, &report.notes);
            look_ahead(&report, now_s);
        }
        if (options->json) {
            print_json(&report, out);
        } else if (report.settings != NULL) {
            print_well(&report, out);
        } else {
            settings_mistakes_write(&report.mistakes, err);
            fprintf(err, "%s: %zu mistake%s; a running daemon keeps its last good settings\n",
                    report.file, report.mistakes.count, report.mistakes.count == 1 ? "" : "s");
        }
    }
    if (report.settings == NULL) {
        options_say_config(options, err);
    }
    free(report.raises);
    settings_mistakes_free(&report.notes);
    settings_mistakes_free(&report.mistakes);
    settings_free(report.settings);
    return status;
}
