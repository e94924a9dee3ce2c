/* SPDX-License-Identifier: MIT
 * question_which: a question without an offer keeps the statement it is about, with one piece
 * missing; the answer puts the piece in, and the statement is done as if it had been sent so. */
#include "daemon/desk/question.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/reading.h"
#include "daemon/desk/service.h"
#include "daemon/desk/statements.h"
#include "parsers/hours.h"

/* ---- the statement kept in a row, and back */

static enum crew_kind kind_of(const struct question_row *row)
{
    const char *word = strchr(row->kind, '-');
    for (int kind = CREW_READING; word != NULL && kind <= CREW_BACK; kind++) {
        if (strcmp(word + 1, statements_word((enum crew_kind)kind)) == 0) {
            return (enum crew_kind)kind;
        }
    }
    /* Any other question is about a figure, of a service where it names a plan. */
    return row->plan[0] != '\0' ? CREW_SERVICE : CREW_READING;
}

static struct hours_figure figure_from(int64_t hundredths)
{
    return (struct hours_figure){.present = hundredths >= 0,
                                 .hundredths = hundredths >= 0 ? hundredths : 0};
}

static struct crew_statement statement_from(const struct turn *turn, const struct question_row *row)
{
    struct crew_statement statement = {.kind = kind_of(row),
                                       .machine = -1,
                                       .hours = figure_from(row->typed_hundredths),
                                       .to_hours = figure_from(row->offer_to_hundredths),
                                       .plan = -1,
                                       .quantity_thousandths = row->quantity_thousandths,
                                       .when = {.minute_of_day = -1}};
    if (row->plan[0] != '\0') {
        statement.plan = settings_find_plan(turn->desk->settings, row->plan);
    }
    if (statement.kind == CREW_LATER && row->offer_hundredths >= 0) {
        statement.days = (int32_t)row->offer_hundredths;
    }
    if (row->unit[0] != '\0') {
        statement.quantity_unit = row->unit[0] == 'l' ? CREW_UNIT_LITRE : CREW_UNIT_QUART;
    }
    return statement;
}

/* Does it with the time and the remark of the text that was asked about. */
static void complete(struct turn *turn, const struct crew_statement *statement, int32_t machine,
                     const struct question_row *row)
{
    int64_t sent_s = turn->sent_s;
    turn->sent_s = row->read_s;
    turn->remark_kept = row->remark;
    question_close(turn, "answered");
    statements_do(turn, statement, machine);
    turn->remark_kept = NULL;
    turn->sent_s = sent_s;
}

bool question_takes_figure(struct turn *turn, const struct crew_statement *statement)
{
    struct question_row row = turn->question;
    int32_t machine = turn->has_question ? question_machine(turn, turn->question.machine_id) : -1;
    if (machine < 0 || !statement->hours.present || statement->trouble != CREW_TROUBLE_NONE ||
        question_begins(&row, QUESTION_WHICH_MACHINE) ||
        question_begins(&row, QUESTION_WHICH_PLAN)) {
        return false;
    }
    struct crew_statement whole = statement_from(turn, &row);
    if (question_is(&row, QUESTION_SWAP) || question_is(&row, QUESTION_RECHECK)) {
        whole.kind = CREW_READING;
    }
    whole.hours = statement->hours;
    whole.remark = statement->remark;
    if (statement->when.kind != CREW_WHEN_UNSAID || statement->when.minute_of_day >= 0 ||
        question_is(&row, QUESTION_RECHECK)) {
        whole.when = statement->when;
        row.read_s = turn->sent_s;
    }
    complete(turn, &whole, machine, &row);
    return true;
}

bool question_takes_plan(struct turn *turn, const struct crew_statement *statement)
{
    struct question_row row = turn->question;
    int32_t machine = turn->has_question ? question_machine(turn, turn->question.machine_id) : -1;
    if (machine < 0 || statement->plan < 0 || !question_begins(&row, QUESTION_WHICH_PLAN)) {
        return false;
    }
    struct crew_statement whole = statement_from(turn, &row);
    whole.plan = statement->plan;
    complete(turn, &whole, machine, &row);
    return true;
}

/* ---- which machine */

/* The number in a name, without leading zeros: what a bare number was matched by. */
static void number_of(const char *name, char *out, size_t size)
{
    size_t length = 0;
    for (size_t i = 0; name[i] != '\0' && length + 1 < size; i++) {
        if (name[i] >= '0' && name[i] <= '9' && (length > 0 || name[i] != '0')) {
            out[length++] = name[i];
        }
    }
    out[length] = '\0';
}

static bool same_number(const char *one, const char *other)
{
    char left[CREW_NAME_OCTETS_MAX + 1];
    char right[CREW_NAME_OCTETS_MAX + 1];
    number_of(one, left, sizeof left);
    number_of(other, right, sizeof right);
    return strcmp(left, right) == 0;
}

/* Whether the question leaves it open that the machine is meant; `first` is the one it keeps. */
static bool may_be_meant(const struct turn *turn, const struct question_row *row, int32_t first,
                         int32_t machine)
{
    const struct settings *settings = turn->desk->settings;
    return question_is(row, QUESTION_WHICH_OWN)
               ? names_own(settings, machine, turn->person)
               : same_number(settings->machines[first].name, settings->machines[machine].name);
}

bool question_takes_machine(struct turn *turn, const struct crew_statement *statement,
                            int32_t machine)
{
    struct question_row row = turn->question;
    if (!turn->has_question || !question_begins(&row, QUESTION_WHICH_MACHINE) ||
        turn->text.statement_count != 1 || strchr(turn->body, '?') != NULL ||
        statement->trouble != CREW_TROUBLE_NONE) {
        return false;
    }
    int32_t first = question_machine(turn, row.offer_machine_id);
    if (first < 0 || !may_be_meant(turn, &row, first, machine)) {
        return false;
    }
    struct crew_statement whole = statement_from(turn, &row);
    complete(turn, &whole, machine, &row);
    return true;
}

/* The names of the machines that may be meant. */
static struct reply_list list_machines(const struct turn *turn, const struct question_row *row,
                                       int32_t first)
{
    struct reply_list list = {0};
    for (size_t i = 0; i < turn->desk->names.view.machine_count; i++) {
        int32_t machine = turn->desk->names.index[i];
        if (may_be_meant(turn, row, first, machine)) {
            reply_list_add(&list, turn->desk->settings->machines[machine].name);
        }
    }
    return list;
}

/* What the statement says, into the row; false where its time is none (the entry is refused). */
static bool keep(struct turn *turn, struct desk_statement *entry,
                 const struct crew_statement *statement, struct question_row *row)
{
    enum when_result when = when_resolve(&statement->when, turn->sent_s, &row->read_s);
    if (when != WHEN_OK) {
        struct wording_values values = turn_values(turn, -1, statement->hours.hundredths);
        turn_refuse(turn, entry, when == WHEN_FUTURE ? WORDING_FUTURE : WORDING_BAD_DATE, &values);
        return false;
    }
    if (statement->hours.present) {
        row->typed_hundredths = statement->hours.hundredths;
    }
    if (statement->to_hours.present) {
        row->offer_to_hundredths = statement->to_hours.hundredths;
    }
    if (statement->kind == CREW_LATER) {
        row->offer_hundredths = statement->days;
    }
    if (statement->plan >= 0) {
        (void)snprintf(row->plan, sizeof row->plan, "%s",
                       turn->desk->settings->plans[statement->plan].name);
    }
    if (statement->quantity_unit != CREW_UNIT_NONE) {
        (void)snprintf(row->unit, sizeof row->unit, "%s",
                       statement->quantity_unit == CREW_UNIT_LITRE ? "l" : "qt");
    }
    turn_remark(turn, statement->remark, row->remark, sizeof row->remark);
    return true;
}

void question_which_machine(struct turn *turn, const struct crew_statement *statement)
{
    struct desk_statement *entry = turn_entry(turn, statements_word(statement->kind), -1);
    struct wording_values values = turn_values(turn, -1, -1);
    char words[17];
    if (statement->candidates[0] < 0) {
        turn_refuse(turn, entry, WORDING_NOT_UNDERSTOOD, &values);
        return;
    }
    int32_t first = turn->desk->names.index[statement->candidates[0]];
    struct question_row row = {.offer_machine_id = turn_machine_id(turn, first),
                               .offer_hundredths = -1,
                               .offer_to_hundredths = -1,
                               .typed_hundredths = -1,
                               .quantity_thousandths = statement->quantity_thousandths};
    (void)snprintf(row.kind, sizeof row.kind, "%s%s", QUESTION_WHICH_MACHINE,
                   statements_word(statement->kind));
    if (!keep(turn, entry, statement, &row)) {
        return;
    }
    entry->has_hours = statement->hours.present;
    entry->hours_hundredths = statement->hours.hundredths;
    turn_words(turn, statement->words, words, sizeof words);
    wording_set(&values, WORDING_WORDS, words);
    wording_set(&values, WORDING_LIST, list_machines(turn, &row, first).text);
    turn_ask(turn, entry, &row, WORDING_ASK_WHICH_MACHINE, &values);
}

/* The figure that a machine is asked for, as the reply shows it. */
static void set_figure_words(struct wording_values *values, int64_t hundredths)
{
    char *words = values->value[WORDING_WORDS];
    size_t length = hours_write(hundredths, words, WORDING_VALUE_OCTETS);
    (void)snprintf(words + length, WORDING_VALUE_OCTETS - length, "h");
}

/* The first of the sender's machines where there are several; -1 none. */
static int32_t first_own(const struct turn *turn)
{
    const struct settings *settings = turn->desk->settings;
    int32_t first = -1;
    for (size_t i = 0; i < settings->machine_count; i++) {
        bool own = names_own(settings, (int32_t)i, turn->person);
        if (own && first >= 0) {
            return first;
        }
        first = own ? (int32_t)i : first;
    }
    return -1;
}

bool question_which_own(struct turn *turn, const struct crew_statement *statement)
{
    int32_t first = first_own(turn);
    bool again = turn->has_question && question_is(&turn->question, QUESTION_WHICH_OWN);
    if (first < 0 || statement->trouble != CREW_TROUBLE_NONE || (turn->has_question && !again)) {
        return false;
    }
    struct desk_statement *entry = turn_entry(turn, "reading", -1);
    entry->has_hours = true;
    entry->hours_hundredths = statement->hours.hundredths;
    if (again) {
        /* It may be the number of a machine: not taken for a new figure. */
        question_repeat(turn, entry);
        return true;
    }
    struct question_row row = {.kind = QUESTION_WHICH_OWN,
                               .offer_machine_id = turn_machine_id(turn, first),
                               .offer_hundredths = -1,
                               .offer_to_hundredths = -1};
    if (keep(turn, entry, statement, &row)) {
        struct wording_values values = turn_values(turn, -1, -1);
        set_figure_words(&values, row.typed_hundredths);
        wording_set(&values, WORDING_LIST, list_machines(turn, &row, first).text);
        turn_ask(turn, entry, &row, WORDING_ASK_WHICH_MACHINE, &values);
    }
    return true;
}

/* ---- once more */

void question_repeat(struct turn *turn, struct desk_statement *entry)
{
    const struct question_row *row = &turn->question;
    struct reply_list list = {0};
    int32_t only = -1;
    bool of_machine = question_begins(row, QUESTION_WHICH_MACHINE);
    int32_t machine = question_machine(turn, of_machine ? row->offer_machine_id : row->machine_id);
    enum wording_key key = WORDING_ASK_TWO_FIGURES;
    entry->outcome = DESK_ASKED;
    turn->answer->asked = true;
    if (machine < 0) {
        return;
    }
    struct wording_values values = turn_values(turn, machine, row->typed_hundredths);
    if (of_machine) {
        key = WORDING_ASK_WHICH_MACHINE;
        list = list_machines(turn, row, machine);
        if (question_is(row, QUESTION_WHICH_OWN)) {
            set_figure_words(&values, row->typed_hundredths);
        } else {
            number_of(turn->desk->settings->machines[machine].name, values.value[WORDING_WORDS],
                      sizeof values.value[WORDING_WORDS]);
        }
    } else if (question_begins(row, QUESTION_WHICH_PLAN)) {
        key = WORDING_ASK_PLAN;
        service_plans(turn, machine, false, &list, &only);
    } else {
        wording_set_hours(&values, WORDING_OFFER, row->offer_to_hundredths);
    }
    wording_set(&values, WORDING_LIST, list.text);
    turn_explain(turn, entry, key, &values);
}
