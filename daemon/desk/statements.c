/* SPDX-License-Identifier: MIT
 * statements: from the grammar's outcome to what does it. What is a few lines stands here: the
 * consent to texts, and the shop's words about a machine that needs no reminding. */
#include "daemon/desk/statements.h"

#include <string.h>

#include "daemon/desk/correct.h"
#include "daemon/desk/desk_inside.h"
#include "daemon/desk/question.h"
#include "daemon/desk/reading.h"
#include "daemon/desk/service.h"
#include "daemon/desk/status.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"

/* ---- consent */

static void consent_stop(struct turn *turn)
{
    struct wording_values values = turn_values(turn, -1, -1);
    (void)turn_entry(turn, "stop", -1);
    if (turn->mute) {
        return; /* confirmed once already */
    }
    if (turn_ok(turn, people_set_opt_out(turn->desk->ledger, turn->person_id, turn->now_s))) {
        turn->spoken = true;
        turn_say(turn, WORDING_STOPPED, &values);
    }
}

static void consent_start(struct turn *turn)
{
    struct wording_values values = turn_values(turn, -1, -1);
    (void)turn_entry(turn, "start", -1);
    if (turn_ok(turn, people_set_opt_out(turn->desk->ledger, turn->person_id, 0))) {
        turn->spoken = true;
        turn_say(turn, WORDING_STARTED, &values);
    }
}

static void consent_help(struct turn *turn)
{
    struct wording_values values = turn_values(turn, -1, -1);
    const struct settings *settings = turn->desk->settings;
    (void)turn_entry(turn, "help", -1);
    wording_set(&values, WORDING_PLAN, settings->plan_count > 0 ? settings->plans[0].name : "");
    turn->spoken = true;
    turn_say(turn, turn->shop ? WORDING_HELP_SHOP : WORDING_HELP_CREW, &values);
}

/* ---- machines that need no reminding */

#define LATER_MOST_DAYS 60

static void resting_later(struct turn *turn, const struct crew_statement *statement,
                          int32_t machine)
{
    struct desk_statement *entry = turn_entry(turn, "later", machine);
    struct wording_values values = turn_values(turn, machine, -1);
    struct standing standing;
    if (!turn_shop_only(turn, entry, machine)) {
        return;
    }
    if (statement->trouble != CREW_TROUBLE_NONE || statement->days < 1 ||
        statement->days > LATER_MOST_DAYS) {
        turn_refuse(turn, entry, WORDING_BAD_DAYS, &values);
        return;
    }
    entry->has_days = true;
    entry->days = statement->days;
    if (!turn_ok(turn, standing_look(turn->desk, machine, turn->now_s, &standing))) {
        return;
    }
    if (standing.count == 0 || !standing_matters(&standing.plans[standing.worst])) {
        turn_refuse(turn, entry, WORDING_NOTHING_DUE, &values);
        return;
    }
    int32_t day = turn->today + statement->days;
    if (turn_ok(turn, machines_set_later(turn->desk->ledger, turn_machine_id(turn, machine),
                                         zone_unix(day, 0), turn->person_id, turn->text_id))) {
        wording_set_day(&values, WORDING_DAY, turn->wording, day, turn->today);
        turn_say(turn, WORDING_LATER, &values);
    }
}

static void resting_park(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    struct desk_statement *entry = turn_entry(turn, "park", machine);
    struct wording_values values = turn_values(turn, machine, -1);
    (void)statement;
    if (!turn_shop_only(turn, entry, machine)) {
        return;
    }
    enum ledger_result result = machines_park(turn->desk->ledger, turn_machine_id(turn, machine),
                                              turn->sent_s, turn->person_id, turn->text_id);
    if (turn_ok(turn, result)) {
        turn_say(turn, WORDING_PARKED, &values);
    } else if (result == LEDGER_ALREADY) {
        turn_explain(turn, entry, WORDING_PARKED_ALREADY, &values);
    }
}

static void resting_back(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    struct desk_statement *entry = turn_entry(turn, "back", machine);
    struct wording_values values = turn_values(turn, machine, -1);
    struct standing standing;
    (void)statement;
    if (!turn_shop_only(turn, entry, machine)) {
        return;
    }
    enum ledger_result result = machines_back(turn->desk->ledger, turn_machine_id(turn, machine),
                                              turn->sent_s, turn->person_id, turn->text_id);
    if (turn_ok(turn, result)) {
        turn_say(turn, WORDING_BACK, &values);
        reading_restand(turn, machine, &standing);
        if (turn->fault == LEDGER_OK) {
            standing_say(turn, &standing, false);
        }
    } else if (result == LEDGER_NONE) {
        turn_explain(turn, entry, WORDING_BACK_ALREADY, &values);
    }
}

/* ---- to what does it */

const char *statements_word(enum crew_kind kind)
{
    static const char *const words[] = {
        [CREW_READING] = "reading", [CREW_STATUS] = "status", [CREW_SERVICE] = "service",
        [CREW_CORRECT] = "correct", [CREW_SWAP] = "swap",     [CREW_LATER] = "later",
        [CREW_PARK] = "park",       [CREW_BACK] = "back",     [CREW_DUE] = "due",
        [CREW_UNDO] = "undo",       [CREW_YES] = "yes",       [CREW_NO] = "no",
        [CREW_HELP] = "help",       [CREW_STOP] = "stop",     [CREW_START] = "start",
        [CREW_FIGURE] = "unknown",  [CREW_PLAN] = "unknown",  [CREW_UNKNOWN] = "unknown"};
    return words[kind];
}

void statements_do(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    switch (statement->kind) {
    case CREW_READING:
        reading_take(turn, statement, machine);
        return;
    case CREW_STATUS:
        status_machine(turn, machine);
        return;
    case CREW_SERVICE:
        service_take(turn, statement, machine);
        return;
    case CREW_CORRECT:
        correct_fix(turn, statement, machine);
        return;
    case CREW_SWAP:
        correct_swap(turn, statement, machine);
        return;
    case CREW_LATER:
        resting_later(turn, statement, machine);
        return;
    case CREW_PARK:
        resting_park(turn, statement, machine);
        return;
    case CREW_BACK:
        resting_back(turn, statement, machine);
        return;
    case CREW_DUE:
    case CREW_UNDO:
    case CREW_YES:
    case CREW_NO:
    case CREW_HELP:
    case CREW_STOP:
    case CREW_START:
    case CREW_FIGURE:
    case CREW_PLAN:
    case CREW_UNKNOWN:
        break;
    }
    turn_unclear(turn);
}

/* ---- statement by statement */

/* Once a text, and nothing to those who look after none. */
static void say_own_machines(struct turn *turn)
{
    const struct settings *settings = turn->desk->settings;
    struct wording_values values = turn_values(turn, -1, -1);
    struct reply_list list = {0};
    for (size_t i = 0; i < settings->machine_count; i++) {
        if (names_own(settings, (int32_t)i, turn->person)) {
            reply_list_add(&list, settings->machines[i].name);
        }
    }
    if (list.count > 0 && !turn->own_listed) {
        turn->own_listed = true;
        wording_set(&values, WORDING_LIST, list.text);
        turn_may_say(turn, WORDING_YOURS, &values);
    }
}

/* Statements that name no machine, or none that can be meant. */
static void without_machine(struct turn *turn, const struct crew_statement *statement)
{
    struct wording_values values = turn_values(turn, -1, -1);
    char words[33];
    if (statement->trouble == CREW_TROUBLE_WHICH_MACHINE) {
        question_which_machine(turn, statement);
    } else if (statement->trouble == CREW_TROUBLE_NO_SUCH_MACHINE) {
        struct desk_statement *entry = turn_entry(turn, statements_word(statement->kind), -1);
        turn_words(turn, statement->words, words, sizeof words);
        wording_set(&values, WORDING_WORDS, words);
        turn_refuse(turn, entry, WORDING_NO_SUCH_MACHINE, &values);
        say_own_machines(turn);
    } else {
        turn_unclear(turn);
    }
}

static void of_machine(struct turn *turn, const struct crew_statement *statement)
{
    if (statement->machine < 0 || statement->trouble == CREW_TROUBLE_WHICH_MACHINE ||
        statement->trouble == CREW_TROUBLE_NO_SUCH_MACHINE) {
        without_machine(turn, statement);
        return;
    }
    int32_t machine = turn->desk->names.index[statement->machine];
    if (statement->trouble == CREW_TROUBLE_UNCLEAR) {
        turn_unclear(turn);
    } else if (statement->kind != CREW_STATUS ||
               !question_takes_machine(turn, statement, machine)) {
        statements_do(turn, statement, machine);
    }
}

static void one_statement(struct turn *turn, const struct crew_statement *statement)
{
    switch (statement->kind) {
    case CREW_READING:
    case CREW_STATUS:
    case CREW_SERVICE:
    case CREW_CORRECT:
    case CREW_SWAP:
    case CREW_LATER:
    case CREW_PARK:
    case CREW_BACK:
        of_machine(turn, statement);
        return;
    case CREW_DUE:
        status_due(turn);
        return;
    case CREW_UNDO:
        undo_last(turn);
        return;
    case CREW_YES:
        answer_yes(turn);
        return;
    case CREW_NO:
        answer_no(turn);
        return;
    case CREW_HELP:
        consent_help(turn);
        return;
    case CREW_STOP:
        consent_stop(turn);
        return;
    case CREW_START:
        consent_start(turn);
        return;
    case CREW_FIGURE:
        if (question_takes_figure(turn, statement) || question_which_own(turn, statement)) {
            return;
        }
        break;
    case CREW_PLAN:
        if (question_takes_plan(turn, statement)) {
            return;
        }
        break;
    case CREW_UNKNOWN:
        break;
    }
    without_machine(turn, statement);
}

static void all_statements(struct turn *turn)
{
    const struct crew_text *text = &turn->text;
    if (text->leading_no && turn->has_question) {
        (void)turn_entry(turn, "no", question_machine(turn, turn->question.machine_id));
        /* "no, 1350": the figure is an answer too. */
        if (text->statement_count != 1 || text->statements[0].kind != CREW_FIGURE ||
            question_asks_which(&turn->question)) {
            question_close(turn, "no");
        }
    }
    for (uint8_t i = 0; i < text->statement_count && turn->fault == LEDGER_OK; i++) {
        one_statement(turn, &text->statements[i]);
    }
    if (text->statement_count == 0) {
        turn_unclear(turn);
    }
    if (text->more) {
        struct wording_values values = turn_values(turn, -1, -1);
        turn_say(turn, WORDING_TEN_ONLY, &values);
    }
}

static bool quotes(const struct turn *turn, const char *words)
{
    struct crew_slice quoted = turn->text.quoted;
    return memmem(turn->body + quoted.start, quoted.length, words, strlen(words)) != NULL;
}

/* A reaction answers only the question that it quotes: its machine, and its question mark. */
static bool quotes_question(struct turn *turn)
{
    int32_t machine = turn->has_question ? question_machine(turn, turn->question.machine_id) : -1;
    return machine >= 0 && quotes(turn, turn->desk->settings->machines[machine].name) &&
           (quotes(turn, "?") || question_is(&turn->question, QUESTION_RECHECK));
}

void statements_work(struct turn *turn)
{
    const struct settings *settings = turn->desk->settings;
    enum crew_date_order order =
        settings->shop.date_order == SETTINGS_DATE_DMY ? CREW_DATE_DMY : CREW_DATE_MDY;
    names_for(&turn->desk->names, settings, turn->person);
    question_load(turn);
    crew_text_read(turn->body, strlen(turn->body), &turn->desk->names.view, order,
                   turn->has_question, &turn->text);
    switch (turn->text.tone) {
    case CREW_TONE_STATEMENTS:
        all_statements(turn);
        return;
    case CREW_TONE_ASSENT:
        if (turn->has_question) {
            answer_yes(turn);
        }
        return;
    case CREW_TONE_DISSENT:
        if (turn->has_question) {
            answer_no(turn);
        }
        return;
    case CREW_TONE_IGNORE:
        if (turn->text.assenting_reaction && quotes_question(turn)) {
            answer_yes(turn);
        }
        return;
    case CREW_TONE_COURTESY:
        return;
    }
}
