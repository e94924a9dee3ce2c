/* SPDX-License-Identifier: MIT
 * counter: see counter.h. */
#include "daemon/counter/counter.h"

#include <strings.h>
#include <sysexits.h>

#include "daemon/ground/clock.h"
#include "daemon/ground/zone.h"

#define DAEMON_TIMEOUT_MS 15000

static int open_all(struct counter *counter, bool with_ledger)
{
    const struct options *options = counter->options;
    counter->settings = settings_load(options->config, counter->err);
    if (counter->settings == NULL) {
        options_say_config(options, counter->err);
        return EX_CONFIG;
    }
    if (!zone_set(counter->settings->shop.time_zone)) {
        (void)fprintf(counter->err,
                      "meterpost: this box does not know the time zone %s; install tzdata\n",
                      counter->settings->shop.time_zone);
        return EX_CONFIG;
    }
    struct clock clock = clock_real();
    counter->now_s = clock.now(clock.ctx).wall_s;
    if (options->now != NULL && !zone_read_rfc3339(options->now, &counter->now_s)) {
        (void)fprintf(counter->err,
                      "meterpost: --now %s is no time; write it like 2027-03-14T07:00:00-07:00 or "
                      "2027-03-14\n",
                      options->now);
        return EX_USAGE;
    }
    return with_ledger ? counter_open_ledger(counter, LEDGER_READ) : EX_OK;
}

int counter_serve(const struct options *options, bool with_ledger,
                  int (*serve)(struct counter *counter), FILE *out, FILE *err)
{
    struct counter counter = {.options = options, .out = out, .err = err};
    int status = open_all(&counter, with_ledger);
    if (status == EX_OK) {
        status = serve(&counter);
    }
    ledger_close(counter.ledger);
    settings_free(counter.settings);
    return status;
}

int counter_open_ledger(struct counter *counter, enum ledger_mode mode)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS];
    counter->ledger = ledger_open(counter->settings->ledger, mode, &result, says);
    if (counter->ledger == NULL) {
        (void)fprintf(counter->err, "meterpost: %s\n", says);
        return ledger_exit_status(result);
    }
    return EX_OK;
}

int counter_ledger_status(const struct counter *counter, enum ledger_result result)
{
    if (result == LEDGER_OK) {
        return EX_OK;
    }
    (void)fprintf(counter->err, "meterpost: %s\n", ledger_says(counter->ledger));
    return ledger_exit_status(result);
}

int counter_standings(struct counter *counter, struct yard_standing **standings, size_t *count)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    enum ledger_result result = ledger_look(counter->ledger);
    *standings = NULL;
    if (result == LEDGER_OK) {
        result = yard_stand_all(&yard, counter->now_s, standings, count);
    }
    return counter_ledger_status(counter, result);
}

enum table_form counter_form(const struct counter *counter)
{
    return counter->options->json ? TABLE_JSON : counter->options->csv ? TABLE_CSV : TABLE_SCREEN;
}

enum door_result counter_ask_daemon(const struct counter *counter, size_t word_count,
                                    const char *const *words, const char *advice,
                                    struct counter_answer *answer)
{
    const char *door = counter->settings->door;
    enum door_result result = door_ask(door, word_count, words, DAEMON_TIMEOUT_MS, &answer->status,
                                       answer->answer, &answer->length);
    switch (result) {
    case DOOR_ANSWERED:
        answer->answer[answer->length] = '\0';
        break;
    case DOOR_NOBODY:
        break;
    case DOOR_FORBIDDEN:
        (void)fprintf(
            counter->err,
            "meterpost: the daemon's door %s is closed to you; be root, or of its group\n", door);
        break;
    case DOOR_FAILED:
        (void)fprintf(counter->err, "meterpost: the daemon did not answer at %s%s\n", door, advice);
        break;
    }
    return result;
}

int32_t counter_machine(const struct settings *settings, const char *name, struct nearest *nearest)
{
    nearest_begin(nearest, name);
    for (size_t i = 0; i < settings->machine_count; i++) {
        nearest_offer(nearest, settings->machines[i].name);
    }
    return settings_find_machine(settings, name);
}

int32_t counter_person(const struct settings *settings, const char *name, struct nearest *nearest)
{
    nearest_begin(nearest, name);
    for (size_t i = 0; i < settings->person_count; i++) {
        nearest_offer(nearest, settings->people[i].name);
    }
    return settings_find_person(settings, name);
}

int32_t counter_plan(const struct settings *settings, int32_t machine, const char *name,
                     struct nearest *nearest)
{
    const struct settings_kind *kind = &settings->kinds[settings->machines[machine].kind];
    nearest_begin(nearest, name);
    for (size_t i = 0; i < kind->plan_count; i++) {
        const char *plan = settings->plans[kind->plans[i]].name;
        nearest_offer(nearest, plan);
        if (strcasecmp(plan, name) == 0) {
            return (int32_t)kind->plans[i];
        }
    }
    return -1;
}

int counter_unknown(const struct counter *counter, const char *what, const struct nearest *nearest)
{
    (void)fprintf(counter->err, "meterpost: no %s %s", what, nearest->word);
    if (nearest->name != NULL) {
        (void)fprintf(counter->err, "; did you mean %s?", nearest->name);
    }
    (void)fputc('\n', counter->err);
    return EX_USAGE;
}

const char *counter_point(const struct yard_standing *standing, char room[COUNTER_POINT_OCTETS])
{
    char day[CIVIL_TEXT_OCTETS], due[HOURS_TEXT_OCTETS];
    bool date = standing->by == DUE_BY_DATE;
    (void)snprintf(room, COUNTER_POINT_OCTETS, "%s%s%s%s%s%s", date ? "by " : "",
                   day_or_blank(date, standing->due_day, day),
                   date && standing->has_due ? ", or " : "", standing->has_due ? "at " : "",
                   hours_or_blank(standing->has_due, standing->due_meter_hundredths, due),
                   standing->has_due ? " h" : "");
    return room;
}

enum table_tint counter_tint(enum due_stage stage)
{
    const struct due_stage_row *row = due_stage_row(stage);
    return row->reached ? TABLE_BAD
           : row->tells ? TABLE_WARN
           : row->rests ? TABLE_FAINT
                        : TABLE_PLAIN;
}
