/* SPDX-License-Identifier: MIT
 * counter: see counter.h. */
#include "daemon/counter/counter.h"

#include <strings.h>
#include <sysexits.h>

#include "daemon/counter/output.h"
#include "daemon/ground/clock.h"
#include "daemon/ground/zone.h"
#include "parsers/nearest.h"

int counter_begin(struct counter *counter, const struct options *options, FILE *err)
{
    *counter = (struct counter){0};
    counter->settings = settings_load(options->config, err);
    if (counter->settings == NULL) {
        options_say_config(options, err);
        return EX_CONFIG;
    }
    if (!zone_set(counter->settings->shop.time_zone)) {
        (void)fprintf(err, "meterpost: this box does not know the time zone %s; install tzdata\n",
                      counter->settings->shop.time_zone);
        return EX_CONFIG;
    }
    struct clock clock = clock_real();
    counter->now_s = clock.now(clock.ctx).wall_s;
    if (options->now != NULL && !zone_read_rfc3339(options->now, &counter->now_s)) {
        (void)fprintf(err,
                      "meterpost: --now %s is no time; write it like 2027-03-14T07:00:00-07:00 or "
                      "2027-03-14\n",
                      options->now);
        return EX_USAGE;
    }
    return EX_OK;
}

int counter_open_ledger(struct counter *counter, enum ledger_mode mode, FILE *err)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS];
    counter->ledger = ledger_open(counter->settings->ledger, mode, &result, says);
    if (counter->ledger == NULL) {
        (void)fprintf(err, "meterpost: %s\n", says);
        return ledger_exit_status(result);
    }
    return EX_OK;
}

int counter_standings(struct counter *counter, struct yard_standing **standings, size_t *count,
                      FILE *err)
{
    *standings = NULL;
    int status = counter_open_ledger(counter, LEDGER_READ, err);
    if (status != EX_OK) {
        return status;
    }
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    enum ledger_result result = ledger_look(counter->ledger);
    if (result == LEDGER_OK) {
        result = yard_stand_all(&yard, counter->now_s, standings, count);
    }
    if (result != LEDGER_OK) {
        (void)fprintf(err, "meterpost: %s\n", ledger_says(counter->ledger));
        return ledger_exit_status(result);
    }
    return EX_OK;
}

void counter_end(struct counter *counter)
{
    ledger_close(counter->ledger);
    settings_free(counter->settings);
    *counter = (struct counter){0};
}

#define TIMEOUT_MS 15000

enum door_result counter_ask_daemon(struct counter_answer *answer, const struct settings *settings,
                                    size_t word_count, const char *const *words, const char *advice,
                                    FILE *err)
{
    enum door_result result = door_ask(settings->door, word_count, words, TIMEOUT_MS,
                                       &answer->status, answer->answer, &answer->length);
    switch (result) {
    case DOOR_ANSWERED:
        answer->answer[answer->length] = '\0';
        break;
    case DOOR_NOBODY:
        break;
    case DOOR_FORBIDDEN:
        (void)fprintf(
            err, "meterpost: the daemon's door %s is closed to you; be root, or of its group\n",
            settings->door);
        break;
    case DOOR_FAILED:
        (void)fprintf(err, "meterpost: the daemon did not answer at %s%s\n", settings->door,
                      advice);
        break;
    }
    return result;
}

static int32_t none(const char *what, const struct nearest *nearest, FILE *err)
{
    (void)fprintf(err, "meterpost: no %s %s", what, nearest->word);
    if (nearest->name != NULL) {
        (void)fprintf(err, "; did you mean %s?", nearest->name);
    }
    (void)fputc('\n', err);
    return -1;
}

int32_t counter_find_machine(const struct settings *settings, const char *name, FILE *err)
{
    struct nearest nearest;
    int32_t machine = settings_find_machine(settings, name);
    if (machine >= 0) {
        return machine;
    }
    nearest_begin(&nearest, name);
    for (size_t i = 0; i < settings->machine_count; i++) {
        nearest_offer(&nearest, settings->machines[i].name);
    }
    return none("machine", &nearest, err);
}

int32_t counter_find_plan(const struct settings *settings, int32_t machine, const char *name,
                          FILE *err)
{
    const struct settings_kind *kind = &settings->kinds[settings->machines[machine].kind];
    struct nearest nearest;
    nearest_begin(&nearest, name);
    for (size_t i = 0; i < kind->plan_count; i++) {
        const char *plan = settings->plans[kind->plans[i]].name;
        if (strcasecmp(plan, name) == 0) {
            return (int32_t)kind->plans[i];
        }
        nearest_offer(&nearest, plan);
    }
    return none("plan", &nearest, err);
}

struct json_object *standing_json(const struct settings *settings,
                                  const struct yard_standing *standing)
{
    struct json_object *row = json_object_new_object();
    const struct settings_machine *machine = &settings->machines[standing->machine];
    json_add_text(row, "machine", machine->name);
    json_add_text(row, "kind", settings->kinds[machine->kind].name);
    json_add_text(row, "plan", settings->plans[standing->plan].name);
    json_add_text(row, "stage", due_stage_word(standing->stage));
    if (standing->read) {
        json_add_hours(row, "meter", standing->meter_hundredths);
        json_add_hours(row, "true_hours", standing->true_hundredths);
        json_add_time(row, "read_at", standing->read_s);
        json_add_decimal(row, "hours_a_day", standing->hours_a_day);
    }
    if (standing->has_due) {
        json_add_hours(row, "due_hours", standing->due_true_hundredths);
    }
    if (standing->has_due && standing->read) {
        json_add_hours(row, "hours_left", standing->left_hundredths);
    }
    if (standing->has_forecast) {
        json_add_day(row, "due_on", standing->due_day);
        json_add_day(row, "earliest", standing->earliest_day);
        json_add_day(row, "latest", standing->latest_day);
    }
    if (standing->serviced) {
        json_add_hours(row, "last_done_hours", standing->last_done_true_hundredths);
    }
    if (standing->serviced && standing->last_done_day_known) {
        json_add_day(row, "last_done_on", standing->last_done_day);
    }
    return row;
}

const char *standing_hours(bool there, int64_t hundredths, char room[HOURS_TEXT_OCTETS])
{
    room[0] = '\0';
    if (there) {
        (void)hours_write(hundredths, room, HOURS_TEXT_OCTETS);
    }
    return room;
}

const char *standing_day(bool there, int32_t day, char room[CIVIL_TEXT_OCTETS])
{
    room[0] = '\0';
    if (there) {
        civil_write(day, room, CIVIL_TEXT_OCTETS);
    }
    return room;
}

enum table_tint standing_tint(enum due_stage stage)
{
    const struct due_stage_row *row = due_stage_row(stage);
    return row->reached ? TABLE_BAD
           : row->tells ? TABLE_WARN
           : row->rests ? TABLE_FAINT
                        : TABLE_PLAIN;
}
