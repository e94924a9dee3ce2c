/* SPDX-License-Identifier: MIT
 * say: a text said at the counter. */
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/answers.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "parsers/nearest.h"
#include "parsers/tpdu.h"

static struct json_object *statement_json(const struct desk_statement *statement)
{
    struct json_object *object = json_object_new_object();
    json_add_text(object, "kind", statement->kind);
    json_add_text(object, "machine", statement->machine);
    if (statement->has_hours) {
        json_add_hours(object, "hours", statement->hours_hundredths);
    }
    if (statement->has_to_hours) {
        json_add_hours(object, "to_hours", statement->to_hours_hundredths);
    }
    json_add_text(object, "plan", statement->plan);
    if (statement->has_days) {
        json_add_whole(object, "days", statement->days);
    }
    if (statement->has_quantity) {
        json_add_thousandths(object, "quantity", statement->quantity_thousandths);
    }
    if (statement->has_read_at) {
        json_add_time(object, "read_at", statement->read_at_s);
    }
    json_add_text(object, "remark", statement->remark[0] != '\0' ? statement->remark : NULL);
    if (statement->has_suggests) {
        json_add_hours(object, "suggests", statement->suggests_hundredths);
    }
    json_add_text(object, "suggests_machine", statement->suggests_machine);
    json_add_text(
        object, "outcome",
        statement->outcome == TEXTS_OUTCOME_DONE ? "done" : texts_outcome_word(statement->outcome));
    json_add_text(object, "why", statement->why[0] != '\0' ? statement->why : NULL);
    return object;
}

static bool print_json(const struct desk_answer *answer, FILE *out)
{
    struct json_object *whole = json_object_new_object();
    struct json_object *statements = json_object_new_array();
    json_add_text(whole, "reply", answer->reply[0] != '\0' ? answer->reply : NULL);
    json_add_bool(whole, "asked", answer->asked);
    for (size_t i = 0; i < answer->statement_count; i++) {
        (void)json_object_array_add(statements, statement_json(&answer->statements[i]));
    }
    if (json_object_object_add(whole, "statements", statements) != 0) {
        (void)json_object_put(statements);
    }
    return json_write(whole, out);
}

static void say_nobody(const struct settings *settings, const char *person, FILE *out)
{
    struct nearest nearest;
    nearest_begin(&nearest, person);
    (void)fprintf(out, "meterpost: nobody called %s in %s; ", person, settings->file);
    for (size_t i = 0; i < settings->person_count; i++) {
        nearest_offer(&nearest, settings->people[i].name);
    }
    if (nearest.name != NULL) {
        (void)fprintf(out, "did you mean %s?\n", nearest.name);
        return;
    }
    (void)fprintf(out, "people are:");
    for (size_t i = 0; i < settings->person_count; i++) {
        (void)fprintf(out, " %s", settings->people[i].name);
    }
    (void)fputc('\n', out);
}

bool text_clock_fits(const struct clock_judgement *clock, FILE *err)
{
    if (clock->time_s == 0) {
        (void)fprintf(err,
                      "meterpost: the text was not taken: the box's clock is plainly wrong (%s), "
                      "and a reading needs a date; set it (timedatectl) and say it again\n",
                      clock_reason_says(clock->reason));
    }
    return clock->time_s != 0;
}

int text_at_desk(struct desk *desk, const struct settings *settings, const char *person,
                 const char *body, bool json, struct instant now, FILE *out)
{
    int32_t index = settings_find_person(settings, person);
    if (index < 0) {
        say_nobody(settings, person, out);
        return EX_USAGE;
    }
    struct desk_answer answer;
    enum ledger_result result = desk_say(desk, index, body, now, &answer);
    if (result != LEDGER_OK) {
        (void)fprintf(out, "meterpost: the text was not taken: the ledger cannot be used now; see "
                           "the log\n");
        return ledger_exit_status(result);
    }
    if (json) {
        if (!print_json(&answer, out)) {
            return EX_IOERR;
        }
    } else {
        (void)fprintf(out, "%s\n",
                      answer.reply[0] != '\0' ? answer.reply : "(such a text gets no answer)");
    }
    for (size_t i = 0; i < answer.statement_count; i++) {
        if (answer.statements[i].outcome != TEXTS_OUTCOME_DONE) {
            return 1;
        }
    }
    return EX_OK;
}

/* The words after the options are one text, as a shell splits it. */
static bool join_words(const struct options *options, char body[TEXTS_BODY_OCTETS])
{
    size_t used = 0;
    body[0] = '\0';
    for (int i = 0; i < options->word_count; i++) {
        size_t octets = strlen(options->words[i]);
        if (used + octets + 2 > TEXTS_BODY_OCTETS) {
            return false;
        }
        if (i > 0) {
            body[used] = ' ';
            used++;
        }
        memcpy(&body[used], options->words[i], octets + 1);
        used += octets;
    }
    return used > 0;
}

static int say_alone(struct counter *counter, const struct options *options, const char *body,
                     FILE *out, FILE *err)
{
    int status = counter_open_ledger(counter, LEDGER_WRITE, err);
    if (status != EX_OK) {
        return status;
    }
    struct desk *desk = desk_new(counter->settings, counter->ledger);
    if (desk == NULL) {
        (void)fprintf(err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
    struct instant now = {.mono_ms = 0, .wall_s = counter->now_s};
    struct clock_judgement clock = desk_clock_state(desk, now);
    if (options->now == NULL && !text_clock_fits(&clock, err)) {
        desk_free(desk);
        return EX_TEMPFAIL;
    }
    status = text_at_desk(desk, counter->settings, options->as, body, options->json, now, out);
    desk_free(desk);
    return status;
}

static int say_at_door(struct counter *counter, const struct options *options, const char *body,
                       FILE *out, FILE *err)
{
    static struct counter_answer answer;
    if (options->now != NULL) { /* a daemon has its own clock: where one runs, its lock says so */
        return say_alone(counter, options, body, out, err);
    }
    const char *words[] = {"text", options->json ? "json" : "plain", options->as, body};
    switch (
        counter_ask_daemon(&answer, counter->settings, 4, words,
                           "; look whether the text was taken (meterpost due) before you say it "
                           "again",
                           err)) {
    case DOOR_NOBODY:
        return say_alone(counter, options, body, out, err);
    case DOOR_FORBIDDEN:
        return EX_NOPERM;
    case DOOR_FAILED:
        return EX_UNAVAILABLE;
    case DOOR_ANSWERED:
        break;
    }
    FILE *stream = answer.status == EX_OK || answer.status == 1 ? out : err;
    (void)fwrite(answer.answer, 1, answer.length, stream);
    return answer.status;
}

int text_verb(const struct options *options, FILE *out, FILE *err)
{
    char body[TEXTS_BODY_OCTETS];
    struct counter counter;
    if (options->as == NULL || !join_words(options, body)) {
        (void)fprintf(err,
                      "meterpost: say who and what, such as: meterpost text --as Ines \"M12 "
                      "1340h\" (a text has %d octets at most)\n",
                      TEXTS_BODY_OCTETS - 1);
        return EX_USAGE;
    }
    int status = counter_begin(&counter, options, err);
    if (status == EX_OK) {
        status = say_at_door(&counter, options, body, out, err);
    }
    counter_end(&counter);
    return status;
}
