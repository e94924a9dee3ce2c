/* SPDX-License-Identifier: MIT
 * lists: what comes due, what was said in texts, what parts and fluids are needed and were used. The
 * words and figures are yard/'s and ledger/'s; this file only sets them out. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/questions.h"
#include "daemon/ledger/texts.h"
#include "daemon/modem/cause.h"
#include "daemon/yard/shelf.h"

#define WEEKS_UNSAID 4
#define DAYS_UNSAID 14
#define DAY_S INT64_C(86400)
#define QUESTION_LIVES_S DAY_S /* an open question lapses after 24 hours */
#define SAYS_OCTETS 200
#define MACHINES_OCTETS 256 /* of the list in a cell; longer ones end in "..." */

/* ---- what comes due */

/* Past the point, or by the calendar alone, there is nothing between. */
static const char *between(const struct settings *settings, const void *row,
                           char room[TABLE_SHOWN_OCTETS])
{
    const struct yard_standing *standing = row;
    char early[CIVIL_TEXT_OCTETS], late[CIVIL_TEXT_OCTETS];
    (void)settings;
    if (standing->has_forecast && standing->earliest_day != standing->latest_day) {
        (void)snprintf(room, TABLE_SHOWN_OCTETS, "%s .. %s",
                       day_or_blank(true, standing->earliest_day, early),
                       day_or_blank(true, standing->latest_day, late));
    }
    return room;
}

static const char *by_word(const struct settings *settings, const void *row,
                           char room[TABLE_SHOWN_OCTETS])
{
    const struct yard_standing *standing = row;
    (void)settings;
    return standing->has_due || standing->has_forecast ? due_by_word(standing->by) : room;
}

static struct json_object *wanted_json(const struct settings *settings, const void *row)
{
    (void)settings;
    return json_object_new_boolean(((const struct yard_standing *)row)->wanted);
}

#define AT(field) offsetof(struct yard_standing, field)
static const struct column standing_list[] = {
    {"MACHINE", "machine", COLUMN_MACHINE, .at = AT(machine)},
    {NULL, "kind", COLUMN_MACHINE_KIND, .at = AT(machine)},
    {"PLAN", "plan", COLUMN_PLAN, .at = AT(plan)},
    {"STATE", "stage", COLUMN_STAGE, .at = AT(stage)},
    {"METER h", "meter", COLUMN_HOURS, .at = AT(meter_hundredths), .if_true = {AT(read)}},
    {NULL, "true_hours", COLUMN_HOURS, .at = AT(true_hundredths), .if_true = {AT(read)}},
    {NULL, "read_at", COLUMN_TIME, .at = AT(read_s), .if_true = {AT(read)}},
    {NULL, "hours_a_day", COLUMN_DECIMAL, .at = AT(hours_a_day), .if_true = {AT(read)}},
    {"DUE AT h", "due_meter", COLUMN_HOURS, .at = AT(due_meter_hundredths),
     .if_true = {AT(has_due)}, .not_in_csv = true},
    {NULL, "due_hours", COLUMN_HOURS, .at = AT(due_true_hundredths), .if_true = {AT(has_due)}},
    {"LEFT h", "hours_left", COLUMN_HOURS, .at = AT(left_hundredths),
     .if_true = {AT(has_due), AT(read)}},
    {"DUE ON", "due_on", COLUMN_DAY, .at = AT(due_day), .if_true = {AT(has_forecast)}},
    {"BY", "by", COLUMN_OWN, .not_in_csv = true, .say = by_word},
    {"BETWEEN", NULL, COLUMN_OWN, .say = between},
    {NULL, "earliest", COLUMN_DAY, .at = AT(earliest_day), .if_true = {AT(has_forecast)}},
    {NULL, "latest", COLUMN_DAY, .at = AT(latest_day), .if_true = {AT(has_forecast)}},
    {NULL, "last_done_hours", COLUMN_HOURS, .at = AT(last_done_true_hundredths),
     .if_true = {AT(serviced)}},
    {NULL, "last_done_on", COLUMN_DAY, .at = AT(last_done_day),
     .if_true = {AT(serviced), AT(last_done_day_known)}},
    {NULL, "wanted", COLUMN_OWN, .not_in_csv = true, .json = wanted_json},
    {NULL, "likely_meter", COLUMN_HOURS, .at = AT(likely_meter_hundredths), .if_true = {AT(wanted)},
     .not_in_csv = true},
};
#undef AT
const struct columns standing_columns = {COLUMNS(standing_list), false};

struct json_object *counter_due_json(const struct counter *counter,
                                     const struct yard_standing *standings, size_t count)
{
    struct json_object *whole = json_object_new_object(), *rows = json_object_new_array();
    for (size_t i = 0; i < count; i++) {
        struct json_object *row = columns_json(&standing_columns, counter->settings, &standings[i]);
        json_add(row, "trouble", counter_troubles_json(counter, standings[i].machine));
        (void)json_object_array_add(rows, row);
    }
    json_add_time(whole, "as_of", counter->now_s);
    json_add(whole, "rows", rows);
    return whole;
}

/* What is open in the yard, below a table. */
static void print_troubles(const struct counter *counter)
{
    struct screen screen = screen_of(counter->out);
    char says[COUNTER_TROUBLE_OCTETS], line[COUNTER_TROUBLE_OCTETS + PEOPLE_NAME_OCTETS];
    for (size_t i = 0; i < counter->trouble_count; i++) {
        const struct yard_trouble *trouble = &counter->troubles[i];
        const char *machine = trouble->machine >= 0
                                  ? counter->settings->machines[trouble->machine].name
                                  : "no machine named";
        (void)snprintf(line, sizeof line, "%s%s: %s\n", i == 0 ? "\nopen trouble\n  " : "  ",
                       machine, counter_trouble_says(trouble, says));
        screen_print_folded(&screen, line, 4, counter->out);
    }
}

/* The table in a sentence: "1 due, 2 coming up, 1 reading wanted, 1 open trouble." */
static void print_in_words(const struct counter *counter, const struct yard_standing *standings,
                           size_t count)
{
    size_t found[DUE_STAGE_COUNT] = {0}, wanted = 0, troubles = counter->trouble_count;
    const char *gap = "";
    for (size_t i = 0; i < count; i++) {
        bool first = standings[i].wanted; /* a machine is asked for once, whatever its plans */
        for (size_t j = 0; j < i; j++) {
            first = first && !(standings[j].wanted && standings[j].machine == standings[i].machine);
        }
        wanted += first;
        found[standings[i].stage]++;
    }
    for (size_t i = DUE_STAGE_COUNT; i-- > 0;) {
        const struct due_stage_row *row = due_stage_row((enum due_stage)i);
        bool unread = i == DUE_STAGE_UNREAD;
        if (found[i] > 0 && (row->tells || unread)) {
            (void)fprintf(counter->out, "%s%zu %s%s", gap, found[i], unread ? "with " : "",
                          unread ? row->title : row->says);
            gap = ", ";
        }
    }
    if (wanted > 0) {
        (void)fprintf(counter->out, "%s%zu reading%s wanted", gap, wanted, wanted > 1 ? "s" : "");
        gap = ", ";
    }
    if (troubles > 0) {
        (void)fprintf(counter->out, "%s%zu open trouble%s%s", gap, troubles,
                      troubles > 1 ? "s" : "", counter->troubles[0].danger ? ", with DANGER" : "");
        gap = ", ";
    }
    (void)fputs(gap[0] != '\0' ? ".\n" : "Nothing is due or coming up.\n", counter->out);
}

int due_verb(struct counter *counter)
{
    struct yard_standing *standings = NULL;
    size_t count = 0;
    bool attention = false;
    int status = counter_standings(counter, &standings, &count);
    if (status == EX_OK) {
        status = counter_load_troubles(counter);
    }
    if (status != EX_OK) {
        free(standings);
        return status;
    }
    struct table *table = table_new(&standing_columns, counter_form(counter), counter->settings);
    for (size_t i = 0; i < count; i++) {
        table_add(table, &standings[i], counter_tint(standings[i].stage));
        attention = attention || due_stage_row(standings[i].stage)->needs_doing;
    }
    if (counter->options->json) {
        status = json_write(counter_due_json(counter, standings, count), counter->out);
    } else if (counter->options->csv) {
        status = table_print(table, counter->out);
    } else {
        print_in_words(counter, standings, count);
        status = table_print(table, counter->out);
        print_troubles(counter);
    }
    table_free(table);
    free(standings);
    return status == EX_OK && attention ? 1 : status;
}

/* ---- what was said in texts */

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
        json_add(whole, "trouble", counter_troubles_json(counter, -1));
        say_people(counter, whole);
        status = json_write(whole, counter->out);
    } else if (status == EX_OK) {
        status = table_print(table, counter->out);
        if (status == EX_OK && !options->csv) {
            say_people(counter, NULL);
            print_troubles(counter);
        }
    }
    table_free(table);
    return status;
}

/* ---- parts and fluids */

static const char *machine_names(const struct settings *settings, const void *row,
                                 char room[TABLE_SHOWN_OCTETS])
{
    const struct shelf_item *item = row;
    size_t used = 0;
    for (size_t i = 0; i < item->machine_count; i++) {
        const char *name = settings->machines[item->machines[i]].name;
        if (used + strlen(name) + 6 > MACHINES_OCTETS) {
            (void)snprintf(&room[used], MACHINES_OCTETS - used, " ...");
            break;
        }
        used +=
            (size_t)snprintf(&room[used], MACHINES_OCTETS - used, "%s%s", i > 0 ? " " : "", name);
    }
    return room;
}

static struct json_object *machine_array(const struct settings *settings, const void *row)
{
    const struct shelf_item *item = row;
    struct json_object *machines = json_object_new_array();
    for (size_t i = 0; i < item->machine_count; i++) {
        const char *name = settings->machines[item->machines[i]].name;
        (void)json_object_array_add(machines, json_object_new_string(name));
    }
    return machines;
}

static const char *shop_unit(const struct settings *settings, const void *row,
                             char room[TABLE_SHOWN_OCTETS])
{
    (void)row, (void)room;
    return kit_unit_name(settings->shop.units);
}

static const char *used_more(const struct settings *settings, const void *row,
                             char room[TABLE_SHOWN_OCTETS])
{
    const struct shelf_used_row *used = row;
    (void)settings;
    return quantity_write(used->used_thousandths - used->planned_thousandths, room);
}

#define AT(field) offsetof(struct shelf_item, field)
static const struct column needed_list[] = {
    {"ITEM", "item", COLUMN_TEXT, .at = AT(item)},
    {"UNIT", "unit", COLUMN_UNIT, .at = AT(unit)},
    {"NEEDED", "needed", COLUMN_QUANTITY, .at = AT(needed_thousandths)},
    {"SOLD IN", "sold_in", COLUMN_QUANTITY, .at = AT(sold_in_thousandths)},
    {"CONTAINERS", "containers", COLUMN_WHOLE, .at = AT(containers)},
    {"MACHINES", "machines", COLUMN_OWN, .say = machine_names, .json = machine_array},
};
#undef AT
static const struct columns needed_columns = {COLUMNS(needed_list), false};

#define AT(field) offsetof(struct shelf_used_row, field)
static const struct column used_list[] = {
    {"PLAN", "plan", COLUMN_PLAN, .at = AT(plan)},
    {"ITEM", "item", COLUMN_TEXT, .at = AT(item)},
    {"UNIT", "unit", COLUMN_OWN, .say = shop_unit},
    {"SERVICES", "services", COLUMN_WHOLE, .at = AT(services)},
    {"GIVEN", "given", COLUMN_WHOLE, .at = AT(said)},
    {"PLANNED", "planned", COLUMN_QUANTITY, .at = AT(planned_thousandths)},
    {"USED", "used", COLUMN_QUANTITY, .at = AT(used_thousandths)},
    {"MORE", "more", COLUMN_OWN_FIGURE, .say = used_more},
};
#undef AT
static const struct columns used_columns = {COLUMNS(used_list), false};

/* What is needed from from_day on, and what was used from since_day until then. */
struct stock_report {
    struct shelf stock;
    struct shelf_used used;
    struct table *needed_table, *used_table;
    char since[CIVIL_TEXT_OCTETS], from[CIVIL_TEXT_OCTETS], until[CIVIL_TEXT_OCTETS];
};

static int print_said(const struct counter *counter, const char *says, const struct table *table)
{
    struct screen screen = screen_of(counter->out);
    screen_print_folded(&screen, says, 2, counter->out);
    return table_rows(table) > 0 ? table_print(table, counter->out) : EX_OK;
}

static int print_stock(const struct counter *counter, const struct stock_report *report)
{
    const struct options *options = counter->options;
    char needed[SAYS_OCTETS], used[SAYS_OCTETS];
    if (options->json) {
        struct json_object *whole = json_object_new_object();
        json_add_text(whole, "from", report->from);
        if (!options->used) {
            json_add_text(whole, "until", report->until);
            json_add(whole, "items", table_json(report->needed_table));
        }
        json_add_text(whole, "used_from", report->since);
        json_add(whole, "used", table_json(report->used_table));
        return json_write(whole, counter->out);
    }
    if (options->csv) {
        return table_print(options->used ? report->used_table : report->needed_table, counter->out);
    }
    (void)snprintf(needed, sizeof needed,
                   report->stock.item_count > 0 ? "For what comes due from %s until %s:\n"
                   : settings_any_kit(counter->settings)
                       ? "Nothing is needed from %s until %s.\n"
                       : "What is needed from %s until %s is not known: no plan has a kit "
                         "(meterpost.conf(5)).\n",
                   report->from, report->until);
    (void)snprintf(used, sizeof used,
                   report->used.count > 0
                       ? "Used in services from %s until %s, beside the plan where a quantity was "
                         "given:\n"
                       : "No service that takes a fluid was done from %s until %s.\n",
                   report->since, report->from);
    if (options->used) {
        return print_said(counter, used, report->used_table);
    }
    int status = print_said(counter, needed, report->needed_table);
    if (status != EX_OK || report->used.count == 0) {
        return status;
    }
    (void)fputc('\n', counter->out);
    return print_said(counter, used, report->used_table);
}

int stock_verb(struct counter *counter)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    struct stock_report report = {0};
    int32_t days = counter->options->days > 0 ? counter->options->days : WEEKS_UNSAID * 7;
    int32_t today = zone_civil(counter->now_s).day;
    civil_write(today - days, report.since, sizeof report.since);
    civil_write(today, report.from, sizeof report.from);
    civil_write(today + days, report.until, sizeof report.until);
    enum ledger_result result = shelf_reckon(&yard, counter->now_s, today + days, &report.stock);
    if (result == LEDGER_OK) {
        result = shelf_used_reckon(&yard, today - days, counter->now_s, &report.used);
    }
    int status = counter_ledger_status(counter, result);
    if (status == EX_OK) {
        enum table_form form = counter_form(counter);
        report.needed_table = table_new(&needed_columns, form, counter->settings);
        report.used_table = table_new(&used_columns, form, counter->settings);
        for (size_t i = 0; i < report.stock.item_count; i++) {
            table_add(report.needed_table, &report.stock.items[i], TABLE_PLAIN);
        }
        for (size_t i = 0; i < report.used.count; i++) {
            table_add(report.used_table, &report.used.rows[i], TABLE_PLAIN);
        }
        status = print_stock(counter, &report);
    }
    if (report.stock.left_out) {
        (void)fprintf(counter->err,
                      "meterpost: more than %d different items; the rest is left out\n",
                      SHELF_ITEMS_MAX);
    }
    table_free(report.needed_table);
    table_free(report.used_table);
    shelf_used_free(&report.used);
    shelf_free(&report.stock);
    return status;
}
