/* SPDX-License-Identifier: MIT
 * texts: texts in and out. On a screen a text is cut to what fits; JSON and CSV have it whole. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/questions.h"
#include "daemon/ledger/texts.h"

#define DAYS_UNSAID 14
#define DAY_S INT64_C(86400)
#define SCREEN_BODY_OCTETS 100
#define QUESTION_LIVES_S DAY_S /* an open question lapses after 24 hours */

static const struct table_column screen_columns[] = {
    {"WHEN", TABLE_LEFT},  {"", TABLE_LEFT},     {"WHO", TABLE_LEFT},
    {"STATE", TABLE_LEFT}, {"TEXT", TABLE_LEFT},
};
static const struct table_column csv_columns[] = {
    {"direction", TABLE_LEFT}, {"person", TABLE_LEFT}, {"phone", TABLE_LEFT},
    {"at", TABLE_LEFT},        {"text", TABLE_LEFT},   {"state", TABLE_LEFT},
};

/* What the rows go to while the ledger hands them out. */
struct texts_report {
    struct table *table; /* screen or CSV, else NULL */
    bool csv;
    struct json_object *list; /* JSON, else NULL */
    bool short_of_memory;
};

static enum table_tint tint_of(const char *state)
{
    static const char *const bad[] = {"failed",     "expired",   "not-delivered",
                                      "unreadable", "set-aside", "not-understood"};
    static const char *const warn[] = {"unknown", "stranger", "waiting",
                                       "asked",   "refused",  "gave-way"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        if (strcmp(state, bad[i]) == 0) {
            return TABLE_BAD;
        }
    }
    for (size_t i = 0; i < sizeof warn / sizeof warn[0]; i++) {
        if (strcmp(state, warn[i]) == 0) {
            return TABLE_WARN;
        }
    }
    return TABLE_PLAIN;
}

static void screen_row(struct table *table, const struct texts_line *line)
{
    char at[ZONE_TEXT_OCTETS];
    size_t octets = strlen(line->body);
    bool cut = octets > SCREEN_BODY_OCTETS;
    size_t shown = cut ? SCREEN_BODY_OCTETS : octets;
    while (cut && shown > 0 && ((unsigned char)line->body[shown] & 0xC0) == 0x80) {
        shown--; /* never inside a character */
    }
    zone_write_minute(line->at_s, at, sizeof at);
    (void)table_cell(table, "%s", at);
    (void)table_cell(table, "%s", line->incoming ? "from" : "to");
    (void)table_cell(table, "%s", line->person[0] != '\0' ? line->person : line->phone);
    (void)table_cell(table, "%s", line->state);
    (void)table_cell(table, "%.*s%s", (int)shown, line->body, cut ? "..." : "");
}

static void csv_row(struct table *table, const struct texts_line *line)
{
    char at[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(line->at_s, at, sizeof at);
    (void)table_cell(table, "%s", line->incoming ? "in" : "out");
    (void)table_cell(table, "%s", line->person);
    (void)table_cell(table, "%s", line->phone);
    (void)table_cell(table, "%s", at);
    (void)table_cell(table, "%s", line->body);
    (void)table_cell(table, "%s", line->state);
}

static void json_row(struct json_object *list, const struct texts_line *line)
{
    struct json_object *row = json_object_new_object();
    json_add_text(row, "direction", line->incoming ? "in" : "out");
    json_add_text(row, "person", line->person[0] != '\0' ? line->person : NULL);
    json_add_text(row, "phone", line->phone);
    json_add_time(row, "at", line->at_s);
    json_add_text(row, "text", line->body);
    json_add_text(row, "state", line->state);
    (void)json_object_array_add(list, row);
}

static void take_line(void *ctx, const struct texts_line *line)
{
    struct texts_report *report = ctx;
    if (report->list != NULL) {
        json_row(report->list, line);
    } else if (!table_row(report->table, report->csv ? TABLE_PLAIN : tint_of(line->state))) {
        report->short_of_memory = true;
    } else {
        (report->csv ? csv_row : screen_row)(report->table, line);
    }
}

/* What stands open with one person of the config. */
struct standing_with {
    const char *name;
    bool asked, opted_out;
    char machine[PEOPLE_NAME_OCTETS]; /* that the question is about, "" none */
    char asked_at[ZONE_TEXT_OCTETS], stopped_at[ZONE_TEXT_OCTETS];
};

static struct standing_with look_at(const struct counter *counter, size_t person)
{
    struct standing_with with = {.name = counter->settings->people[person].name};
    struct question_row question;
    int64_t id = 0, since_s = 0;
    if (people_id(counter->ledger, with.name, &id) != LEDGER_OK) {
        return with;
    }
    with.asked = questions_open(counter->ledger, id, counter->now_s - QUESTION_LIVES_S,
                                &question) == LEDGER_OK;
    if (with.asked) {
        zone_write_minute(question.asked_s, with.asked_at, sizeof with.asked_at);
    }
    if (!with.asked || question.machine_id == 0 ||
        machines_name(counter->ledger, question.machine_id, with.machine) != LEDGER_OK) {
        with.machine[0] = '\0';
    }
    with.opted_out = people_opted_out(counter->ledger, id, &since_s) == LEDGER_OK && since_s != 0;
    if (with.opted_out) {
        zone_write_minute(since_s, with.stopped_at, sizeof with.stopped_at);
    }
    return with;
}

static void add_people(const struct counter *counter, struct json_object *whole)
{
    struct json_object *questions = json_object_new_array();
    struct json_object *opted_out = json_object_new_array();
    for (size_t i = 0; i < counter->settings->person_count; i++) {
        struct standing_with with = look_at(counter, i);
        if (with.asked) {
            (void)json_object_array_add(questions, json_object_new_string(with.name));
        }
        if (with.opted_out) {
            (void)json_object_array_add(opted_out, json_object_new_string(with.name));
        }
    }
    (void)json_object_object_add(whole, "open_questions", questions);
    (void)json_object_object_add(whole, "opted_out", opted_out);
}

static void print_people(const struct counter *counter, FILE *out)
{
    const char *gap = "\n"; /* before the first of them */
    for (size_t i = 0; i < counter->settings->person_count; i++) {
        struct standing_with with = look_at(counter, i);
        if (with.asked) {
            (void)fprintf(out, "%sopen question to %s%s%s since %s\n", gap, with.name,
                          with.machine[0] != '\0' ? " about " : "", with.machine, with.asked_at);
            gap = "";
        }
        if (with.opted_out) {
            (void)fprintf(out, "%s%s said STOP on %.10s and gets no texts\n", gap, with.name,
                          with.stopped_at);
            gap = "";
        }
    }
}

static int report_ended(struct texts_report *report, const struct counter *counter,
                        const struct options *options, FILE *out)
{
    int status = report->short_of_memory ? EX_OSERR : EX_OK;
    if (options->json) {
        struct json_object *whole = json_object_new_object();
        json_add_time(whole, "as_of", counter->now_s);
        (void)json_object_object_add(whole, "rows", report->list);
        report->list = NULL;
        add_people(counter, whole);
        return json_write(whole, out) ? status : EX_IOERR;
    }
    if (options->csv) {
        table_print_csv(report->table, out);
    } else {
        struct screen screen = screen_of(out);
        table_print(report->table, &screen, out);
        print_people(counter, out);
    }
    return status;
}

static int report_texts(const struct counter *counter, const struct options *options, FILE *out,
                        FILE *err)
{
    int64_t days = options->days > 0 ? options->days : DAYS_UNSAID;
    struct texts_report report = {.csv = options->csv};
    if (options->json) {
        report.list = json_object_new_array();
    } else if (options->csv) {
        report.table = table_new(csv_columns, sizeof csv_columns / sizeof csv_columns[0]);
    } else {
        report.table = table_new(screen_columns, sizeof screen_columns / sizeof screen_columns[0]);
    }
    if (report.list == NULL && report.table == NULL) {
        return EX_OSERR;
    }
    int status = EX_OK;
    enum ledger_result result = texts_each(counter->ledger, counter->now_s - days * DAY_S,
                                           counter->now_s + 1, take_line, &report);
    if (result != LEDGER_OK) {
        (void)fprintf(err, "meterpost: %s\n", ledger_says(counter->ledger));
        status = ledger_exit_status(result);
    } else {
        status = report_ended(&report, counter, options, out);
    }
    table_free(report.table);
    (void)json_object_put(report.list);
    return status;
}

int texts_verb(const struct options *options, FILE *out, FILE *err)
{
    struct counter counter;
    int status = counter_begin(&counter, options, err);
    if (status == EX_OK) {
        status = counter_open_ledger(&counter, LEDGER_READ, err);
    }
    if (status == EX_OK) {
        status = report_texts(&counter, options, out, err);
    }
    counter_end(&counter);
    return status;
}
