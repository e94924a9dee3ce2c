/* SPDX-License-Identifier: MIT
 * check: checks the config file and says what it means, or each mistake with its line; and what it would
 * have the running daemon tell the shop, so that a plan that is changed while machines are under way
 * brings no surprise. What is a mistake is config/'s to say, how machines stand the yard's, what calls
 * for an alert the desk's. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>
#include <unistd.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/desk/status.h"
#include "daemon/ground/clock.h"
#include "daemon/ground/zone.h"
#include "daemon/upkeep/plan.h"

enum foresight_result {
    FORESIGHT_SEEN,
    FORESIGHT_NO_LEDGER, /* there is none yet, so nothing is under way */
    FORESIGHT_BLIND      /* the ledger cannot be read: `says` */
};

/* Keeps those that call for an alert, in their order. */
static enum ledger_result keep_calling(const struct settings *settings, struct ledger *ledger,
                                       struct yard_standing *standings, size_t *count)
{
    size_t kept = 0;
    for (size_t i = 0; i < *count; i++) {
        struct alert_row row;
        bool calls = false;
        enum ledger_result result = standing_calls(settings, ledger, &standings[i], &row, &calls);
        if (result != LEDGER_OK) {
            return result;
        }
        if (calls) {
            standings[kept++] = standings[i];
        }
    }
    *count = kept;
    return LEDGER_OK;
}

static enum ledger_result look(const struct settings *settings, struct ledger *ledger,
                               int64_t now_s, struct yard_standing **standings, size_t *count)
{
    struct yard yard = {.settings = settings, .ledger = ledger};
    enum ledger_result result = yard_stand_all(&yard, now_s, standings, count);
    if (result == LEDGER_OK) {
        result = keep_calling(settings, ledger, *standings, count);
    }
    if (result != LEDGER_OK) {
        free(*standings);
        *standings = NULL;
        *count = 0;
    }
    return result;
}

/* *standings, worst first, is what calls for an alert; allocated, the caller frees it (NULL unless
 * FORESIGHT_SEEN). The process's zone becomes the shop's. The ledger is only read. */
static enum foresight_result foresight_see(const struct settings *settings, int64_t now_s,
                                           struct yard_standing **standings, size_t *count,
                                           char says[LEDGER_SAYS_OCTETS])
{
    enum ledger_result result = LEDGER_OK;
    *standings = NULL;
    *count = 0;
    if (access(settings->ledger, F_OK) != 0) {
        return FORESIGHT_NO_LEDGER;
    }
    struct ledger *ledger = ledger_open(settings->ledger, LEDGER_READ, &result, says);
    if (ledger == NULL) {
        return FORESIGHT_BLIND;
    }
    bool zone = zone_set(settings->shop.time_zone);
    result = zone ? look(settings, ledger, now_s, standings, count) : LEDGER_NONE;
    if (result != LEDGER_OK) {
        (void)snprintf(says, LEDGER_SAYS_OCTETS, "%s",
                       zone ? ledger_says(ledger) : "this box does not know the time zone");
    }
    ledger_close(ledger);
    return result == LEDGER_OK ? FORESIGHT_SEEN : FORESIGHT_BLIND;
}

static struct json_object *mistake_json(const struct settings_mistake *mistake,
                                        const char *config_file)
{
    struct json_object *object = json_object_new_object();
    if (mistake->line > 0) {
        json_add_whole(object, "line", mistake->line);
    }
    if (strcmp(mistake->file, config_file) != 0) {
        json_add_text(object, "file", mistake->file);
    }
    json_add_text(object, "says", mistake->says);
    return object;
}

static struct json_object *list_json(const struct settings_mistakes *list, const char *config_file)
{
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < list->count; i++) {
        json_object_array_add(array, mistake_json(&list->list[i], config_file));
    }
    return array;
}

/* All there is to say of one file. */
struct report {
    const char *file;
    struct settings *settings; /* NULL with mistakes */
    struct settings_mistakes mistakes, notes;
    struct yard_standing *raises; /* what would be told */
    size_t raise_count;
};

static struct json_object *raises_json(const struct report *report)
{
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < report->raise_count; i++) {
        const struct yard_standing *raise = &report->raises[i];
        struct json_object *object = json_object_new_object();
        json_add_text(object, "machine", report->settings->machines[raise->machine].name);
        json_add_text(object, "plan", report->settings->plans[raise->plan].name);
        json_add_text(object, "stage", due_stage_word(raise->stage));
        json_object_array_add(array, object);
    }
    return array;
}

static void print_json(const struct report *report, FILE *out)
{
    struct json_object *object = json_object_new_object();
    json_add_text(object, "status", report->settings != NULL ? "ok" : "mistakes");
    json_object_object_add(object, "mistakes", list_json(&report->mistakes, report->file));
    if (report->notes.count > 0) {
        json_object_object_add(object, "notes", list_json(&report->notes, report->file));
    }
    if (report->raise_count > 0) {
        json_object_object_add(object, "raises", raises_json(report));
    }
    json_write(object, out);
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

static void print_mistakes(const struct report *report, FILE *err)
{
    size_t count = report->mistakes.count;
    settings_mistakes_write(&report->mistakes, err);
    fprintf(err, "%s: %zu mistake%s; a running daemon keeps its last good settings\n", report->file,
            count, count == 1 ? "" : "s");
}

static void look_ahead(struct report *report, int64_t now_s)
{
    char says[LEDGER_SAYS_OCTETS] = "";
    enum foresight_result result =
        foresight_see(report->settings, now_s, &report->raises, &report->raise_count, says);
    if (result == FORESIGHT_BLIND) {
        settings_mistakes_add(&report->notes, report->file, 0,
                              "what would be told to the shop cannot be said: %s", says);
    }
}

static void print(const struct report *report, bool json, FILE *out, FILE *err)
{
    if (json) {
        print_json(report, out);
    } else if (report->settings != NULL) {
        print_well(report, out);
    } else {
        print_mistakes(report, err);
    }
}

static bool moment(const struct options *options, const struct settings *settings, int64_t *now_s)
{
    struct clock clock = clock_real();
    *now_s = clock.now(clock.ctx).wall_s;
    return zone_set(settings->shop.time_zone) &&
           (options->now == NULL || zone_read_rfc3339(options->now, now_s));
}

int check_verb(const struct options *options, FILE *out, FILE *err)
{
    struct report report = {.file = options->config};
    int64_t now_s = 0;
    report.settings = settings_load_listing(options->config, &report.mistakes);
    int status = report.settings != NULL ? EX_OK : EX_CONFIG;
    if (report.settings != NULL && !moment(options, report.settings, &now_s)) {
        fprintf(err, "meterpost: --now %s is no time; write it like 2027-03-14T07:00:00-07:00\n",
                options->now);
        status = EX_USAGE;
    } else {
        if (report.settings != NULL) {
            settings_notes(report.settings, zone_civil(now_s).day, &report.notes);
            look_ahead(&report, now_s);
        }
        print(&report, options->json, out, err);
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
