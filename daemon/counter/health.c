/* SPDX-License-Identifier: MIT
 * health: see health.h. */
#include "daemon/counter/health.h"

#include <stdlib.h>
#include <sysexits.h>

#include "daemon/counter/asking.h"
#include "daemon/counter/health_checks.h"
#include "daemon/counter/json.h"
#include "daemon/counter/opening.h"
#include "daemon/counter/screen.h"

#define SAYS_COLUMN 21 /* of a check's words on the screen */

static const char *status_word(enum health_status status)
{
    switch (status) {
    case HEALTH_OK:
        return "ok";
    case HEALTH_ATTENTION:
        return "attention";
    case HEALTH_FAULT:
        return "fault";
    case HEALTH_CANNOT_TELL:
        break;
    }
    return "cannot tell";
}

static enum health_status worst_of(const struct health_check *checks, size_t count)
{
    enum health_status worst = HEALTH_OK;
    for (size_t i = 0; i < count; i++) {
        worst = checks[i].status > worst ? checks[i].status : worst;
    }
    return worst;
}

static bool print_json(const struct health_check *checks, size_t count, FILE *out)
{
    struct json_object *whole = json_object_new_object();
    struct json_object *list = json_object_new_array();
    json_add_text(whole, "status", status_word(worst_of(checks, count)));
    for (size_t i = 0; i < count; i++) {
        struct json_object *check = json_object_new_object();
        json_add_text(check, "name", checks[i].name);
        json_add_text(check, "status", status_word(checks[i].status));
        json_add_text(check, "says", checks[i].says);
        json_add_text(check, "do", checks[i].advice[0] != '\0' ? checks[i].advice : NULL);
        (void)json_object_array_add(list, check);
    }
    if (json_object_object_add(whole, "checks", list) != 0) {
        (void)json_object_put(list);
    }
    return json_write(whole, out);
}

static void print_check(const struct health_check *check, FILE *out)
{
    (void)fprintf(out, "%-9s  %-8s  %s\n", status_word(check->status), check->name, check->says);
    if (check->advice[0] != '\0') {
        (void)fprintf(out, "%*s-> %s\n", SAYS_COLUMN, "", check->advice);
    }
}

/* Worst first. */
static void print_lines(const struct health_check *checks, size_t count, FILE *out)
{
    for (int status = HEALTH_CANNOT_TELL; status >= HEALTH_OK; status--) {
        for (size_t i = 0; i < count; i++) {
            if ((int)checks[i].status == status) {
                print_check(&checks[i], out);
            }
        }
    }
}

enum health_status health_report(const struct health_facts *facts, bool json, FILE *out)
{
    struct health_check checks[HEALTH_CHECKS_MAX];
    size_t count = health_checks_run(facts, checks);
    if (!json) {
        print_lines(checks, count, out);
    } else if (!print_json(checks, count, out)) {
        return HEALTH_CANNOT_TELL;
    }
    return worst_of(checks, count);
}

/* What was written for no screen in particular, folded for this one. */
static void print_answer(char *answer, size_t length, bool json, FILE *out)
{
    struct screen screen = json ? (struct screen){0} : screen_of(out);
    answer[length] = '\0';
    screen_print_folded(&screen, answer, SAYS_COLUMN, out);
}

static int report_alone(struct opening *opening, const struct options *options, FILE *out,
                        FILE *err)
{
    char says[LEDGER_SAYS_OCTETS];
    enum ledger_result result;
    opening->ledger = ledger_open(opening->settings->ledger, LEDGER_READ, &result, says);
    struct health_facts facts = {.settings = opening->settings,
                                 .ledger = opening->ledger,
                                 .ledger_says = says,
                                 .now_s = opening->now_s};
    char *answer = NULL;
    size_t length = 0;
    FILE *whole = open_memstream(&answer, &length);
    if (whole == NULL) {
        (void)fprintf(err, "meterpost: memory is short\n");
        return HEALTH_CANNOT_TELL;
    }
    int status = (int)health_report(&facts, options->json, whole);
    if (fclose(whole) == 0) {
        print_answer(answer, length, options->json, out);
    }
    free(answer);
    return status;
}

static int ask_daemon(struct opening *opening, const struct options *options, FILE *out, FILE *err)
{
    static struct asking asking;
    const char *words[] = {"health", options->json ? "json" : "plain"};
    switch (
        asking_daemon(&asking, opening->settings, 2, words, "; is it stuck? see its log", err)) {
    case DOOR_NOBODY:
        return report_alone(opening, options, out, err);
    case DOOR_FORBIDDEN:
        return HEALTH_CANNOT_TELL;
    case DOOR_FAILED:
        return HEALTH_FAULT;
    case DOOR_ANSWERED:
        break;
    }
    print_answer(asking.answer, asking.length, options->json, out);
    return asking.status;
}

int health_verb(const struct options *options, FILE *out, FILE *err)
{
    struct opening opening;
    int status = opening_begin(&opening, options, err) == EX_OK
                     ? ask_daemon(&opening, options, out, err)
                     : (int)HEALTH_CANNOT_TELL;
    opening_end(&opening);
    return status;
}
