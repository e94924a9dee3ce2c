/* SPDX-License-Identifier: MIT
 * reading: "M12 1340h". The figure is placed in time, judged against what is on record, and saved,
 * asked about or refused. */
#include "daemon/desk/reading.h"

#include <stdio.h>

#include "daemon/desk/doubt.h"
#include "daemon/desk/notices.h"
#include "daemon/desk/question.h"
#include "daemon/desk/recheck.h"
#include "daemon/desk/room.h"
#include "daemon/desk/when.h"
#include "daemon/ledger/people.h"

bool figure_judge(struct turn *turn, struct figure *figure)
{
    struct desk *desk = turn->desk;
    return turn_ok(turn, yard_judge(&desk->yard, figure->machine, figure->hundredths,
                                    figure->decimal_digits, figure->read_s, turn->person,
                                    &figure->judgement));
}

/* "1,340": the thousands mark stands unless only the decimal sign makes sense for the machine. */
static bool judge_typed(struct turn *turn, struct figure *figure, const struct hours_figure *typed)
{
    figure->hundredths = typed->hundredths;
    figure->decimal_digits = typed->ambiguous ? 0 : typed->decimal_digits;
    if (!figure_judge(turn, figure)) {
        return false;
    }
    if (!typed->ambiguous || figure->judgement.verdict != YARD_DOUBTFUL) {
        return true;
    }
    struct yard_judgement judgement = figure->judgement;
    figure->hundredths = typed->otherwise_hundredths;
    figure->decimal_digits = 2;
    if (figure_judge(turn, figure) && figure->judgement.verdict == YARD_DOUBTFUL) {
        figure->hundredths = typed->hundredths;
        figure->decimal_digits = 0;
        figure->judgement = judgement;
    }
    return turn->fault == LEDGER_OK;
}

bool figure_of(struct turn *turn, struct desk_statement *entry,
               const struct crew_statement *statement, int32_t machine, struct figure *figure)
{
    *figure = (struct figure){.machine = machine,
                              .machine_id = turn_machine_id(turn, machine),
                              .hundredths = statement->hours.hundredths,
                              .dated = when_said(&statement->when)};
    turn_remark(turn, statement->remark, figure->remark, sizeof figure->remark);
    (void)snprintf(entry->remark, sizeof entry->remark, "%s", figure->remark);
    entry->has_hours = true;
    entry->hours_hundredths = figure->hundredths;
    enum when_result when = when_resolve(&statement->when, turn->sent_s, &figure->read_s);
    struct wording_values values = turn_values(turn, machine, figure->hundredths);
    if (when != WHEN_OK || statement->trouble == CREW_TROUBLE_DATE) {
        turn_refuse(turn, entry, when == WHEN_FUTURE ? WORDING_FUTURE : WORDING_BAD_DATE, &values);
        return false;
    }
    entry->has_read_at = figure->dated;
    entry->read_at_s = figure->read_s;
    if (!judge_typed(turn, figure, &statement->hours)) {
        return false;
    }
    entry->hours_hundredths = figure->hundredths;
    return true;
}

bool figure_is_none(const struct crew_statement *statement, const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    bool explained = judgement->offer == YARD_OFFER_SLIP ||
                     judgement->offer == YARD_OFFER_MACHINE ||
                     judgement->offer == YARD_OFFER_LAST_WRONG;
    return statement->figure_then_word && judgement->verdict == YARD_DOUBTFUL && !explained;
}

/* A figure that moves a machine forward says that it works. */
static void end_rest(struct turn *turn, const struct figure *figure)
{
    struct ledger *ledger = turn->desk->ledger;
    int64_t since_s = 0;
    if (!turn_ok(turn, machines_parked(ledger, figure->machine_id, &since_s)) || since_s == 0 ||
        figure->read_s < since_s || figure->hundredths <= figure->judgement.last_hundredths) {
        return;
    }
    (void)turn_ok(turn, machines_back(ledger, figure->machine_id, figure->read_s, turn->person_id,
                                      turn->text_id));
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    turn_may_say(turn, WORDING_BACK_AT_WORK, &values);
    notices_note(turn, WORDING_TELL_BACK_AT_WORK, &values);
}

void figure_save(struct turn *turn, const struct figure *figure)
{
    struct reading_row row = {.machine_id = figure->machine_id,
                              .meter_hundredths = figure->hundredths,
                              .read_s = figure->read_s,
                              .noted_s = turn->now_s,
                              .person_id = turn->person_id,
                              .text_id = turn->text_id};
    (void)snprintf(row.remark, sizeof row.remark, "%s", figure->remark);
    if (turn_ok(turn, readings_add(turn->desk->ledger, &row))) {
        question_answered_by(turn, figure->machine_id);
    }
}

void reading_restand(struct turn *turn, int32_t machine, struct standing *standing)
{
    int raised = 0;
    if (turn_ok(turn, standing_look(turn->desk, machine, turn->now_s, standing))) {
        (void)turn_ok(turn, standing_raise(turn->desk, standing, turn->now_s, &raised));
    }
}

static void say_noted(struct turn *turn, struct desk_statement *entry, const struct figure *figure)
{
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (figure->judgement.verdict == YARD_ALREADY_NOTED) {
        turn_explain(turn, entry, WORDING_ALREADY, &values);
        return;
    }
    turn_set_day(turn, &values, figure->read_s);
    turn_say(turn, figure->dated ? WORDING_NOTED_ON : WORDING_NOTED, &values);
    if (figure->judgement.verdict == YARD_SOFT_DOUBT) {
        wording_set_number(&values, WORDING_COUNT, (int64_t)(figure->judgement.day_hours + 0.5));
        turn_explain(turn, entry, WORDING_SOFT, &values);
    }
}

void figure_tell(struct turn *turn, struct desk_statement *entry, const struct figure *figure)
{
    struct standing standing;
    say_noted(turn, entry, figure);
    if (figure->judgement.verdict != YARD_ALREADY_NOTED) {
        end_rest(turn, figure);
    }
    reading_restand(turn, figure->machine, &standing);
    if (turn->fault == LEDGER_OK) {
        recheck_say_standing(turn, &standing);
    }
}

/* What keeps a figure from being one: a question, or the form. False where nothing does. */
static bool in_trouble(struct turn *turn, struct desk_statement *entry,
                       const struct crew_statement *statement, struct figure *figure)
{
    struct question_row row = doubt_row(figure);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    switch (statement->trouble) {
    case CREW_TROUBLE_TWO_FIGURES:
        entry->has_to_hours = true;
        entry->to_hours_hundredths = statement->to_hours.hundredths;
        row.offer_to_hundredths = statement->to_hours.hundredths;
        (void)snprintf(row.kind, sizeof row.kind, "%sreading", QUESTION_WHICH_FIGURE);
        wording_set_hours(&values, WORDING_OFFER, statement->to_hours.hundredths);
        turn_ask(turn, entry, &row, WORDING_ASK_TWO_FIGURES, &values);
        return true;
    case CREW_TROUBLE_GLUED:
    case CREW_TROUBLE_ASKED_FIGURE:
        doubt_sure(turn, entry, figure, &row);
        return true;
    case CREW_TROUBLE_NONE:
        return false;
    case CREW_TROUBLE_NO_SUCH_MACHINE:
    case CREW_TROUBLE_WHICH_MACHINE:
    case CREW_TROUBLE_FIGURE_FORM:
    case CREW_TROUBLE_NO_FIGURE:
    case CREW_TROUBLE_NO_SUCH_PLAN:
    case CREW_TROUBLE_NO_UNIT:
    case CREW_TROUBLE_DAYS:
    case CREW_TROUBLE_DATE:
    case CREW_TROUBLE_UNCLEAR:
        break;
    }
    turn_refuse(turn, entry, WORDING_FORM, &values);
    return true;
}

/* "M12 1340 done" is a reading: a service is recorded by the shop, and in another form. */
static void say_done(struct turn *turn, const struct figure *figure)
{
    const struct settings *settings = turn->desk->settings;
    const struct settings_kind *kind = &settings->kinds[settings->machines[figure->machine].kind];
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (turn->shop && kind->plan_count > 0) {
        wording_set(&values, WORDING_PLAN, settings->plans[kind->plans[0]].name);
        turn_say(turn, WORDING_DONE_FORM, &values);
    } else {
        turn_say(turn, WORDING_SHOP_RECORDS, &values);
    }
}

void reading_take(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    struct figure figure;
    struct desk_statement *entry = turn_entry(turn, "reading", machine);
    if (!statement->hours.present) {
        struct wording_values values = turn_values(turn, machine, -1);
        turn_refuse(turn, entry, WORDING_FORM, &values);
        return;
    }
    if (!figure_of(turn, entry, statement, machine, &figure)) {
        return;
    }
    if (figure_is_none(statement, &figure)) {
        struct wording_values values = turn_values(turn, machine, -1);
        *entry = (struct desk_statement){.kind = "unknown"};
        turn_refuse(turn, entry, WORDING_FORM, &values);
        return;
    }
    if (in_trouble(turn, entry, statement, &figure)) {
        return;
    }
    if (figure.judgement.verdict == YARD_DOUBTFUL) {
        struct question_row row = doubt_row(&figure);
        doubt_figure(turn, entry, &figure, &row);
        return;
    }
    if (figure.judgement.verdict != YARD_ALREADY_NOTED) {
        figure_save(turn, &figure);
    }
    figure_tell(turn, entry, &figure);
    if (statement->done_follows) {
        say_done(turn, &figure);
    }
}
