/* SPDX-License-Identifier: MIT
 * counter: see counter.h. */
#include "daemon/counter/counter.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sysexits.h>
#include <unistd.h>

#include "daemon/ground/clock.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"

#define DAEMON_TIMEOUT_MS 15000

/* In the place of one that is not there yet. */
static int open_empty(struct counter *counter)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS];
    (void)fprintf(counter->err,
                  "meterpost: no ledger at %s yet: this is the yard as %s tells it; the daemon "
                  "makes it (systemctl start meterpost), or the first meterpost text; its folder "
                  "must be there\n",
                  counter->settings->ledger, counter->settings->file);
    counter->ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    if (counter->ledger == NULL) {
        (void)fprintf(counter->err, "meterpost: %s\n", says);
    }
    return counter->ledger != NULL ? EX_OK : ledger_exit_status(result);
}

static int open_all(struct counter *counter, enum counter_opens opens)
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
    const char *ledger = counter->settings->ledger;
    return opens == COUNTER_SETTINGS ? EX_OK
           : opens == COUNTER_YARD && access(ledger, F_OK) != 0 && errno == ENOENT &&
                   !ledger_vanished(ledger)
               ? open_empty(counter)
               : counter_open_ledger(counter, LEDGER_READ);
}

static int serve_one(struct counter *counter, enum counter_opens opens,
                     int (*serve)(struct counter *counter))
{
    int status = open_all(counter, opens);
    if (status == EX_OK) {
        status = serve(counter);
    }
    free(counter->troubles);
    ledger_close(counter->ledger);
    settings_free(counter->settings);
    return status;
}

/* A pipe may be stopped by who reads it. What goes there is gathered, and written once the ledger is
 * closed: a view held open meanwhile would let the daemon's WAL grow without end. */
int counter_serve(const struct options *options, enum counter_opens opens,
                  int (*serve)(struct counter *counter), FILE *out, FILE *err)
{
    char *gathered = NULL;
    size_t length = 0;
    struct counter counter = {.options = options, .out = out, .err = err};
    if (opens == COUNTER_SETTINGS || isatty(fileno(out)) == 1) {
        return serve_one(&counter, opens, serve);
    }
    counter.out = open_memstream(&gathered, &length);
    if (counter.out == NULL) {
        (void)fprintf(err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
    int status = serve_one(&counter, opens, serve);
    bool whole = fclose(counter.out) == 0;
    (void)fwrite(gathered, 1, whole ? length : 0, out); /* main looks at it when it flushes */
    free(gathered);
    if (!whole) {
        (void)fprintf(err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
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

int counter_load_troubles(struct counter *counter)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    return counter_ledger_status(
        counter, yard_troubles(&yard, counter->now_s, &counter->troubles, &counter->trouble_count));
}

const char *counter_trouble_says(const struct yard_trouble *trouble,
                                 char room[COUNTER_TROUBLE_OCTETS])
{
    char at[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(trouble->since_s, at, sizeof at);
    int octets =
        snprintf(room, COUNTER_TROUBLE_OCTETS, "%s%.10s%s%s: ", trouble->danger ? "DANGER " : "",
                 at, trouble->person[0] != '\0' ? " " : "", trouble->person);
    (void)log_text(trouble->says, strlen(trouble->says), &room[octets],
                   COUNTER_TROUBLE_OCTETS - (size_t)octets);
    return room;
}

void counter_print_troubles(const struct counter *counter)
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

/* Said where it is so. */
static struct json_object *danger_json(const struct settings *settings, const void *row)
{
    (void)settings;
    return ((const struct yard_trouble *)row)->danger ? json_object_new_boolean(true) : NULL;
}

struct json_object *counter_troubles_json(const struct counter *counter, int32_t machine)
{
#define AT(field) offsetof(struct yard_trouble, field)
    static const struct column list[] = {
        {NULL, "machine", COLUMN_MACHINE, .at = AT(machine), .when = COLUMN_FROM_0},
        {NULL, "since", COLUMN_TIME, .at = AT(since_s)},
        {NULL, "person", COLUMN_CHARS, .at = AT(person)},
        {NULL, "danger", COLUMN_OWN, .json = danger_json},
        {NULL, "says", COLUMN_CHARS, .at = AT(says)},
    };
#undef AT
    static const struct columns of_all = {COLUMNS(list), false};
    static const struct columns of_one = {&list[1], sizeof list / sizeof list[0] - 1, false};
    struct json_object *array = NULL;
    for (size_t i = 0; i < counter->trouble_count; i++) {
        const struct yard_trouble *trouble = &counter->troubles[i];
        if (machine >= 0 && trouble->machine != machine) {
            continue;
        }
        array = array != NULL ? array : json_object_new_array();
        (void)json_object_array_add(
            array, columns_json(machine < 0 ? &of_all : &of_one, counter->settings, trouble));
    }
    return array;
}

enum table_form counter_form(const struct counter *counter)
{
    return counter->options->json ? TABLE_JSON : counter->options->csv ? TABLE_CSV : TABLE_SCREEN;
}

int counter_ask_daemon(const struct counter *counter, size_t word_count, const char *const *words,
                       const char *advice, struct counter_answer *answer)
{
    const char *door = counter->settings->door;
    switch (door_ask(door, word_count, words, DAEMON_TIMEOUT_MS, &answer->status, answer->answer,
                     &answer->length)) {
    case DOOR_ANSWERED:
        answer->answer[answer->length] = '\0';
        return EX_OK;
    case DOOR_NOBODY:
        return COUNTER_ALONE;
    case DOOR_FORBIDDEN:
        (void)fprintf(
            counter->err,
            "meterpost: the daemon's door %s is closed to you; be root, or of its group\n", door);
        return EX_NOPERM;
    case DOOR_FAILED:
        break;
    }
    (void)fprintf(counter->err, "meterpost: the daemon did not answer at %s%s\n", door, advice);
    return EX_UNAVAILABLE;
}

int counter_pass_on(const struct counter *counter, const struct counter_answer *answer)
{
    bool done = answer->status == EX_OK || answer->status == 1;
    (void)fwrite(answer->answer, 1, answer->length, done ? counter->out : counter->err);
    return answer->status;
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

/* Adds a name of the ledger to those that may have been meant; the last one that is alike is it. */
struct name_sought {
    struct nearest *nearest;
    struct counter_named *named;
    bool found;
};

static void take_name(void *ctx, int64_t machine_id, const char *name)
{
    struct name_sought *sought = ctx;
    if (strcasecmp(name, sought->nearest->word) == 0) {
        sought->found = true;
        sought->named->id = machine_id;
        (void)snprintf(sought->named->name, sizeof sought->named->name, "%s", name);
    }
}

int counter_on_record(const struct counter *counter, const char *name, struct counter_named *named)
{
    const struct settings *settings = counter->settings;
    struct nearest nearest;
    *named = (struct counter_named){.machine = counter_machine(settings, name, &nearest)};
    if (named->machine < 0) {
        named->machine = settings_find_former(settings, name);
        named->formerly = named->machine >= 0;
    }
    if (named->machine >= 0) {
        const char *now = settings->machines[named->machine].name;
        (void)snprintf(named->name, sizeof named->name, "%s", now);
        enum ledger_result result = machines_id(counter->ledger, now, &named->id);
        named->id = result == LEDGER_OK ? named->id : 0;
        return counter_ledger_status(counter, result == LEDGER_NONE ? LEDGER_OK : result);
    }
    struct name_sought sought = {&nearest, named, false};
    enum ledger_result result = machines_each(counter->ledger, take_name, &sought);
    return result != LEDGER_OK ? counter_ledger_status(counter, result)
           : sought.found      ? EX_OK
                               : counter_unknown(counter, "machine", &nearest);
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
