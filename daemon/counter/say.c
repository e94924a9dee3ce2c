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

static const char *outcome(const struct settings *settings, const void *row,
                           char room[TABLE_SHOWN_OCTETS])
{
    enum texts_outcome found = ((const struct desk_statement *)row)->outcome;
    (void)settings, (void)room;
    return found == TEXTS_OUTCOME_DONE ? "done" : texts_outcome_word(found);
}

#define AT(field) offsetof(struct desk_statement, field)
static const struct column statement_list[] = {
    {NULL, "kind", COLUMN_TEXT, .at = AT(kind)},
    {NULL, "machine", COLUMN_TEXT, .at = AT(machine)},
    {NULL, "hours", COLUMN_HOURS, .at = AT(hours_hundredths), .if_true = {AT(has_hours)}},
    {NULL, "to_hours", COLUMN_HOURS, .at = AT(to_hours_hundredths), .if_true = {AT(has_to_hours)}},
    {NULL, "plan", COLUMN_TEXT, .at = AT(plan)},
    {NULL, "days", COLUMN_COUNT, .at = AT(days), .if_true = {AT(has_days)}},
    {NULL, "quantity", COLUMN_QUANTITY, .at = AT(quantity_thousandths),
     .if_true = {AT(has_quantity)}},
    {NULL, "read_at", COLUMN_TIME, .at = AT(read_at_s), .if_true = {AT(has_read_at)}},
    {NULL, "remark", COLUMN_CHARS, .at = AT(remark)},
    {NULL, "suggests", COLUMN_HOURS, .at = AT(suggests_hundredths), .if_true = {AT(has_suggests)}},
    {NULL, "suggests_machine", COLUMN_TEXT, .at = AT(suggests_machine)},
    {NULL, "outcome", COLUMN_OWN, .say = outcome},
    {NULL, "why", COLUMN_CHARS, .at = AT(why)},
};
#undef AT
static const struct columns statement_columns = {COLUMNS(statement_list), false};

static int print_json(const struct desk_answer *answer, FILE *out)
{
    struct json_object *whole = json_object_new_object();
    struct table *statements = table_new(&statement_columns, TABLE_JSON, NULL);
    for (size_t i = 0; i < answer->statement_count; i++) {
        table_add(statements, &answer->statements[i], TABLE_PLAIN);
    }
    json_add_text(whole, "reply", answer->reply[0] != '\0' ? answer->reply : NULL);
    json_add(whole, "asked", json_object_new_boolean(answer->asked));
    json_add(whole, "statements", table_json(statements));
    table_free(statements);
    return json_write(whole, out);
}

static void say_nobody(const struct settings *settings, const struct nearest *nearest, FILE *out)
{
    (void)fprintf(out, "meterpost: nobody called %s in %s; ", nearest->word, settings->file);
    if (nearest->name != NULL) {
        (void)fprintf(out, "did you mean %s?\n", nearest->name);
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
                      "meterpost: nothing was taken: the box's clock is plainly wrong (%s), "
                      "and a reading needs a date; set it (timedatectl) and do it again\n",
                      clock_reason_says(clock->reason));
    }
    return clock->time_s != 0;
}

int text_at_desk(struct desk *desk, const struct settings *settings, const char *person,
                 const char *body, bool json, struct instant now, FILE *out)
{
    struct nearest nearest;
    int32_t index = counter_person(settings, person, &nearest);
    if (index < 0) {
        say_nobody(settings, &nearest, out);
        return EX_USAGE;
    }
    struct desk_answer answer;
    enum ledger_result result = desk_say(desk, index, body, now, &answer);
    if (result != LEDGER_OK) {
        (void)fprintf(out, "meterpost: the text was not taken: the ledger cannot be used now; see "
                           "the log\n");
        return ledger_exit_status(result);
    }
    bool done = true;
    for (size_t i = 0; i < answer.statement_count; i++) {
        done = done && answer.statements[i].outcome == TEXTS_OUTCOME_DONE;
    }
    if (json) {
        int status = print_json(&answer, out);
        if (status != EX_OK) {
            return status;
        }
    } else {
        (void)fprintf(out, "%s\n",
                      answer.reply[0] != '\0'       ? answer.reply
                      : answer.statement_count == 0 ? "(such a text gets no answer)"
                      : done                        ? "(done, without an answer)"
                                                    : "(not done, and without an answer)");
    }
    return done ? EX_OK : 1;
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

static int say_alone(struct counter *counter, const char *body)
{
    const struct options *options = counter->options;
    int status = counter_open_ledger(counter, LEDGER_WRITE);
    if (status != EX_OK) {
        return status;
    }
    struct desk *desk = desk_new(counter->settings, counter->ledger);
    if (desk == NULL) {
        (void)fprintf(counter->err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
    struct instant now = {.mono_ms = 0, .wall_s = counter->now_s};
    struct clock_judgement clock = desk_clock_state(desk, now);
    if (options->now == NULL && !text_clock_fits(&clock, counter->err)) {
        status = EX_TEMPFAIL;
    } else {
        status = text_at_desk(desk, counter->settings, options->as, body, options->json, now,
                              counter->out);
    }
    desk_free(desk);
    return status;
}

int text_verb(struct counter *counter)
{
    static struct counter_answer answer;
    const struct options *options = counter->options;
    char body[TEXTS_BODY_OCTETS];
    if (options->as == NULL || !join_words(options, body)) {
        (void)fprintf(counter->err,
                      "meterpost: say who and what, such as: meterpost text --as Ines \"M12 "
                      "1340h\" (a text has %d octets at most)\n",
                      TEXTS_BODY_OCTETS - 1);
        return EX_USAGE;
    }
    if (options->now != NULL) { /* a daemon has its own clock: where one runs, its lock says so */
        return say_alone(counter, body);
    }
    const char *words[] = {"text", options->json ? "json" : "plain", options->as, body};
    int asked = counter_ask_daemon(counter, 4, words,
                                   "; look whether the text was taken (meterpost due) before you "
                                   "say it again",
                                   &answer);
    return asked == COUNTER_ALONE ? say_alone(counter, body)
           : asked == EX_OK       ? counter_pass_on(counter, &answer)
                                  : asked;
}
