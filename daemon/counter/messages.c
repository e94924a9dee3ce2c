/* SPDX-License-Identifier: MIT
 * messages: what was said in texts, what was asked, who wants none. */
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/questions.h"
#include "daemon/ledger/texts.h"
#include "daemon/modem/cause.h"

#define DAYS_UNSAID 14
#define DAY_S INT64_C(86400)
#define QUESTION_LIVES_S DAY_S /* an open question lapses after 24 hours */

static const char *const directions[] = {"out", "in"}, *const whose[] = {"to", "from"};

static const char *name_or_number(const struct settings *settings, const void *row,
                                  char room[TABLE_SHOWN_OCTETS])
{
    const struct texts_line *line = row;
    (void)settings, (void)room;
    return line->person[0] != '\0' ? line->person : line->phone;
}

/* Why a text was not sent, in words with the number. */
static const char *why(const struct settings *settings, const void *row,
                       char room[TABLE_SHOWN_OCTETS])
{
    int64_t cause = ((const struct texts_line *)row)->cause;
    (void)settings;
    if (cause == TEXTS_CAUSE_UNWANTED) {
        return "the receiver said STOP, or is on the roster no more";
    }
    return cause >= CAUSE_NONE ? cause_write((int32_t)cause, room) : "";
}

static const char *state_and_why(const struct settings *settings, const void *row,
                                 char room[TABLE_SHOWN_OCTETS])
{
    char cause[TABLE_SHOWN_OCTETS] = "";
    const struct texts_line *line = row;
    const char *words = why(settings, row, cause);
    (void)snprintf(room, TABLE_SHOWN_OCTETS, "%s%s%s", line->state, words[0] != '\0' ? ": " : "",
                   words);
    return room;
}

#define AT(field) offsetof(struct texts_line, field)
static const struct column text_list[] = {
    {"WHEN", NULL, COLUMN_TIME, .at = AT(at_s)},
    {"", NULL, COLUMN_EITHER, .at = AT(incoming), .words = whose},
    {"WHO", NULL, COLUMN_OWN, .say = name_or_number},
    {"STATE", NULL, COLUMN_OWN, .say = state_and_why},
    {"TEXT", NULL, COLUMN_TEXT, .at = AT(body)},
    {NULL, "direction", COLUMN_EITHER, .at = AT(incoming), .words = directions},
    {NULL, "person", COLUMN_TEXT, .at = AT(person)},
    {NULL, "phone", COLUMN_TEXT, .at = AT(phone), .when = COLUMN_EVEN_EMPTY},
    {NULL, "at", COLUMN_TIME, .at = AT(at_s)},
    {NULL, "text", COLUMN_TEXT, .at = AT(body), .when = COLUMN_EVEN_EMPTY},
    {NULL, "state", COLUMN_TEXT, .at = AT(state)},
    {NULL, "cause", COLUMN_OWN, .say = why},
};
#undef AT
const struct columns text_columns = {COLUMNS(text_list), false};

static void take_text(void *ctx, const struct texts_line *line)
{
    static const struct {
        const char *state;
        enum table_tint tint;
    } tints[] = {
        {"failed", TABLE_BAD},     {"expired", TABLE_BAD},   {"not-delivered", TABLE_BAD},
        {"unreadable", TABLE_BAD}, {"set-aside", TABLE_BAD}, {"not-understood", TABLE_BAD},
        {"unknown", TABLE_WARN},   {"stranger", TABLE_WARN}, {"waiting", TABLE_WARN},
        {"asked", TABLE_WARN},     {"refused", TABLE_WARN},  {"gave-way", TABLE_WARN},
    };
    enum table_tint tint = TABLE_PLAIN;
    for (size_t i = 0; i < sizeof tints / sizeof tints[0]; i++) {
        tint = strcmp(line->state, tints[i].state) == 0 ? tints[i].tint : tint;
    }
    table_add(ctx, line, tint);
}

/* What stands open with one person of the config; moments are 0 where nothing does. */
struct standing_with {
    int64_t asked_s, opted_out_s;
    char machine[PEOPLE_NAME_OCTETS]; /* that the question is about, "" none */
};

static struct standing_with look_at(const struct counter *counter, const char *person)
{
    struct standing_with with = {0};
    struct question_row question;
    int64_t id = 0;
    if (people_id(counter->ledger, person, &id) != LEDGER_OK) {
        return with;
    }
    if (questions_open(counter->ledger, id, counter->now_s - QUESTION_LIVES_S, &question) ==
        LEDGER_OK) {
        with.asked_s = question.asked_s;
        if (question.machine_id == 0 ||
            machines_name(counter->ledger, question.machine_id, with.machine) != LEDGER_OK) {
            with.machine[0] = '\0';
        }
    }
    if (people_opted_out(counter->ledger, id, &with.opted_out_s) != LEDGER_OK) {
        with.opted_out_s = 0;
    }
    return with;
}

/* Who was asked something, who wants no texts: into whole, or where that is NULL as lines to out. */
static void say_people(const struct counter *counter, struct json_object *whole)
{
    struct json_object *questions = json_object_new_array(), *stopped = json_object_new_array();
    const char *gap = "\n"; /* before the first of them */
    for (size_t i = 0; i < counter->settings->person_count; i++) {
        const char *person = counter->settings->people[i].name;
        struct standing_with with = look_at(counter, person);
        char at[ZONE_TEXT_OCTETS];
        if (with.asked_s != 0 && whole == NULL) {
            zone_write_minute(with.asked_s, at, sizeof at);
            (void)fprintf(counter->out, "%sopen question to %s%s%s since %s\n", gap, person,
                          with.machine[0] != '\0' ? " about " : "", with.machine, at);
            gap = "";
        } else if (with.asked_s != 0) {
            (void)json_object_array_add(questions, json_object_new_string(person));
        }
        if (with.opted_out_s != 0 && whole == NULL) {
            zone_write_minute(with.opted_out_s, at, sizeof at);
            (void)fprintf(counter->out, "%s%s said STOP on %.10s and gets no texts\n", gap, person,
                          at);
            gap = "";
        } else if (with.opted_out_s != 0) {
            (void)json_object_array_add(stopped, json_object_new_string(person));
        }
    }
    if (whole != NULL) {
        json_add(whole, "open_questions", json_object_get(questions));
        json_add(whole, "opted_out", json_object_get(stopped));
    }
    (void)json_object_put(questions);
    (void)json_object_put(stopped);
}

int texts_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    int64_t days = options->days > 0 ? options->days : DAYS_UNSAID;
    struct table *table = table_new(&text_columns, counter_form(counter), counter->settings);
    int status = counter_load_troubles(counter);
    status = status != EX_OK
                 ? status
                 : counter_ledger_status(counter,
                                         texts_each(counter->ledger, counter->now_s - days * DAY_S,
                                                    counter->now_s + 1, take_text, table));
    if (status == EX_OK && options->json) {
        struct json_object *whole = json_object_new_object();
        json_add_time(whole, "as_of", counter->now_s);
        json_add(whole, "rows", table_json(table));
        json_add(whole, "trouble", counter_troubles_json(counter, -1, NULL));
        say_people(counter, whole);
        status = json_write(whole, counter->out);
    } else if (status == EX_OK) {
        if (table_rows(table) == 0 && !options->csv) {
            (void)fprintf(counter->out, "No texts in the last %lld days.\n", (long long)days);
        } else {
            status = table_print(table, counter->out);
        }
        if (status == EX_OK && !options->csv) {
            say_people(counter, NULL);
            counter_print_troubles(counter);
        }
    }
    table_free(table);
    return status;
}
