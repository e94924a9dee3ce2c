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
#include "daemon/desk/trouble.h"
#include "daemon/desk/when.h"
#include "daemon/upkeep/kit.h"
#include "parsers/hours.h"

/* ---- the statement kept in a row, and back */

/* What the statement says, into the row; false where its time is none (the entry is refused). */
static bool keep(struct turn *turn, const struct crew_statement *statement,
                 struct question_row *row)
{
    if (!reading_when(turn, statement, &row->read_s)) {
        return false;
    }
    if (statement->hours.present) {
        row->typed_hundredths = statement->hours.hundredths;
    }
    if (statement->to_hours.present) {
        row->offer_to_hundredths = statement->to_hours.hundredths;
    }
    row->days = statement->days;
    row->quantity_thousandths = statement->quantity_thousandths;
    if (crew_plan(statement) >= 0) {
        (void)snprintf(row->plan, sizeof row->plan, "%s",
                       turn->desk->settings->plans[crew_plan(statement)].name);
    }
    if (statement->quantity_unit != NULL) {
        (void)snprintf(row->unit, sizeof row->unit, "%s", statement->quantity_unit);
    }
    turn_remark(turn, statement->remark, row->remark, sizeof row->remark);
    return true;
}

static enum crew_kind kind_of(const struct question_row *row)
{
    for (enum crew_kind kind = CREW_READING; kind <= CREW_BACK; kind++) {
        if (strcmp(row->completes, statements_word(kind)) == 0) {
            return kind;
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
                                       .not_machine = -1,
                                       .hours = figure_from(row->typed_hundredths),
                                       .to_hours = figure_from(row->offer_to_hundredths),
                                       .days = row->days,
                                       .quantity_thousandths = row->quantity_thousandths,
                                       .when = {.minute_of_day = -1}};
    enum kit_unit unit = KIT_UNIT_PIECE;
    int32_t plan = row->plan[0] != '\0' ? settings_find_plan(turn->desk->settings, row->plan) : -1;
    if (plan >= 0) {
        statement.plans[0] = plan;
        statement.plan_count = 1;
    }
    if (kit_unit_find(row->unit, &unit)) {
        statement.quantity_unit = kit_unit_name(unit);
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
    return row->kind == QUESTION_WHICH_OWN
               ? names_own(settings, machine, turn->person)
               : same_number(settings->machines[first].name, settings->machines[machine].name);
}

bool question_takes_machine(struct turn *turn, const struct crew_statement *statement)
{
    struct question_row row = turn->question;
    int32_t machine = turn->desk->names.index[statement->machine];
    if (turn->has_question && row.kind == QUESTION_WHICH_TROUBLE &&
        turn->text.statement_count == 1 && statement->obstacle == CREW_OBSTACLE_NONE) {
        trouble_name(turn, &row, machine);
        return true;
    }
    if (!turn->has_question ||
        (row.kind != QUESTION_WHICH_MACHINE && row.kind != QUESTION_WHICH_OWN) ||
        turn->text.statement_count != 1 || strchr(turn->body, '?') != NULL ||
        statement->obstacle != CREW_OBSTACLE_NONE) {
        return false;
    }
    int32_t first = desk_machine(turn->desk, row.offer_machine_id);
    if (first < 0 || !may_be_meant(turn, &row, first, machine)) {
        return false;
    }
    struct crew_statement whole = statement_from(turn, &row);
    complete(turn, &whole, machine, &row);
    return true;
}

/* What the question is about, and the machines that may be meant. */
static void set_choice(const struct turn *turn, const struct question_row *row, int32_t first,
                       struct wording_values *values)
{
    struct reply_list list = {0};
    char *words = values->value[WORDING_WORDS];
    for (size_t i = 0; i < turn->desk->names.view.machine_count; i++) {
        int32_t machine = turn->desk->names.index[i];
        if (turn->desk->names.former[i] == NULL && may_be_meant(turn, row, first, machine)) {
            reply_list_add(&list, turn->desk->settings->machines[machine].name);
        }
    }
    wording_set(values, WORDING_LIST, list.text);
    if (row->kind == QUESTION_WHICH_OWN) {
        size_t length = hours_write(row->typed_hundredths, words, WORDING_VALUE_OCTETS);
        (void)snprintf(words + length, WORDING_VALUE_OCTETS - length, "h");
    } else if (words[0] == '\0') {
        number_of(turn->desk->settings->machines[first].name, words, WORDING_VALUE_OCTETS);
    }
}

void question_which_machine(struct turn *turn, const struct crew_statement *statement)
{
    struct wording_values values = turn_values(turn, -1, -1);
    turn_enter(turn, statement->kind, -1);
    if (statement->candidates[0] < 0) {
        turn_refuse(turn, WORDING_NOT_UNDERSTOOD, &values);
        return;
    }
    int32_t first = turn->desk->names.index[statement->candidates[0]];
    struct question_row row = question_row(QUESTION_WHICH_MACHINE, 0, 0);
    row.offer_machine_id = turn_machine_id(turn, first);
    (void)snprintf(row.completes, sizeof row.completes, "%s", statements_word(statement->kind));
    if (keep(turn, statement, &row)) {
        turn->entry->has_hours = statement->hours.present;
        turn->entry->hours_hundredths = statement->hours.hundredths;
        turn_words(turn, statement->words, values.value[WORDING_WORDS], 17);
        set_choice(turn, &row, first, &values);
        turn_ask(turn, &row, WORDING_ASK_WHICH_MACHINE, &values);
    }
}

/* ---- which figure, and whose */

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

/* Asks which of the sender's machines a bare figure is of. */
static bool ask_which_own(struct turn *turn, const struct crew_statement *statement)
{
    int32_t first = first_own(turn);
    bool again = turn->has_question && turn->question.kind == QUESTION_WHICH_OWN;
    if (first < 0 || statement->obstacle != CREW_OBSTACLE_NONE || (turn->has_question && !again)) {
        return false;
    }
    turn_enter(turn, CREW_READING, -1);
    turn->entry->has_hours = true;
    turn->entry->hours_hundredths = statement->hours.hundredths;
    if (again) {
        /* It may be the number of a machine: not taken for a new figure. */
        question_repeat(turn);
        return true;
    }
    struct question_row row = question_row(QUESTION_WHICH_OWN, 0, 0);
    row.offer_machine_id = turn_machine_id(turn, first);
    if (keep(turn, statement, &row)) {
        struct wording_values values = turn_values(turn, -1, -1);
        set_choice(turn, &row, first, &values);
        turn_ask(turn, &row, WORDING_ASK_WHICH_MACHINE, &values);
    }
    return true;
}

#define DENIED_JUST_NOW_S (30 * 60)
#define HOURS_OF_A_DAY_HUNDREDTHS (24 * 100)

/* After a NO the figure is of the machine that was asked about. */
static bool takes_after_no(struct turn *turn, const struct crew_statement *statement)
{
    struct question_row denied;
    struct crew_statement reading = *statement;
    if (turn->has_question ||
        questions_denied(turn->desk->ledger, turn->person_id, 0, turn->now_s - DENIED_JUST_NOW_S,
                         &denied) != LEDGER_OK) {
        return false;
    }
    int32_t machine = desk_machine(turn->desk, denied.machine_id);
    reading.kind = CREW_READING;
    if (machine >= 0) {
        statements_do(turn, &reading, machine);
    }
    return machine >= 0;
}

bool question_takes_figure(struct turn *turn, const struct crew_statement *statement)
{
    struct question_row row = turn->question;
    int32_t machine = turn->has_question ? desk_machine(turn->desk, row.machine_id) : -1;
    bool of_a_day =
        when_said(&statement->when) && statement->hours.hundredths <= HOURS_OF_A_DAY_HUNDREDTHS;
    if (statement->nature != CREW_NATURE_METER || of_a_day) {
        return false; /* "8 hours today" is no meter */
    }
    if (statement->hours.present && statement->obstacle == CREW_OBSTACLE_NONE &&
        takes_after_no(turn, statement)) {
        return true;
    }
    if (machine < 0 || !statement->hours.present || statement->obstacle != CREW_OBSTACLE_NONE ||
        (question_asks_which(&row) && row.kind != QUESTION_WHICH_FIGURE)) {
        return ask_which_own(turn, statement);
    }
    struct crew_statement whole = statement_from(turn, &row);
    if (row.kind == QUESTION_SWAP || row.kind == QUESTION_RECHECK || row.kind == QUESTION_METER) {
        whole.kind = CREW_READING;
    }
    whole.hours = statement->hours;
    whole.remark = statement->remark;
    if (when_said(&statement->when) || row.kind == QUESTION_RECHECK) {
        whole.when = statement->when;
        row.read_s = turn->sent_s;
    }
    complete(turn, &whole, machine, &row);
    return true;
}

/* ---- which plan */

bool question_takes_plan(struct turn *turn, const struct crew_statement *statement)
{
    struct question_row row = turn->question;
    int32_t machine = turn->has_question ? desk_machine(turn->desk, row.machine_id) : -1;
    if (machine < 0 || crew_plan(statement) < 0 || row.kind != QUESTION_WHICH_PLAN) {
        return false;
    }
    struct crew_statement whole = statement_from(turn, &row);
    whole.plans[0] = crew_plan(statement);
    whole.plan_count = 1;
    complete(turn, &whole, machine, &row);
    return true;
}

/* ---- once more */

void question_repeat(struct turn *turn)
{
    turn->entry->outcome = TEXTS_OUTCOME_ASKED;
    turn->answer->asked = true;
    turn->asked = true;
    reply_add(&turn->reply, REPLY_MUST, turn->question.says);
    (void)snprintf(turn->entry->why, sizeof turn->entry->why, "%.*s",
                   (int)sizeof turn->entry->why - 1, turn->question.says);
}
