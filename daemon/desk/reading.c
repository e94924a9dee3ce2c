/* SPDX-License-Identifier: MIT
 * reading: "M12 1340h". The figure is placed in time, judged against what is on record, and saved,
 * asked about or refused. What the crew cannot settle (a new meter; a figure refused before) goes to
 * the shop. */
#include "daemon/desk/reading.h"

#include <stdio.h>

#include "daemon/desk/chase.h"
#include "daemon/desk/desk_inside.h"
#include "daemon/desk/notices.h"
#include "daemon/desk/question.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/upkeep/civil.h"

/* ---- when */

#define YEARLESS_DAYS 60 /* a date without a year is not looked for further back */

bool when_said(const struct crew_when *when)
{
    return when->kind != CREW_WHEN_UNSAID || when->minute_of_day >= 0;
}

static enum when_result dated(const struct crew_when *when, int32_t today, int32_t *day)
{
    struct civil_date date = {.year = when->year, .month = when->month, .day = when->day};
    if (when->year > 0) {
        date.year += when->year < 100 ? 2000 : 0;
        if (!civil_valid(date)) {
            return WHEN_UNCLEAR;
        }
        *day = civil_day(date);
        return *day > today ? WHEN_FUTURE : WHEN_OK;
    }
    date.year = civil_date_of(today).year;
    if (!civil_valid(date) || civil_day(date) > today) {
        date.year--;
    }
    if (!civil_valid(date)) {
        return WHEN_UNCLEAR;
    }
    *day = civil_day(date);
    return today - *day > YEARLESS_DAYS ? WHEN_UNCLEAR : WHEN_OK;
}

static enum when_result find_day(const struct crew_when *when, int32_t today, int32_t *day)
{
    switch (when->kind) {
    case CREW_WHEN_UNSAID:
        *day = today;
        return WHEN_OK;
    case CREW_WHEN_DAYS_AGO:
        *day = today - when->days_ago;
        return when->days_ago < 0 ? WHEN_FUTURE : WHEN_OK;
    case CREW_WHEN_WEEKDAY:
        *day = today - (civil_weekday(today) - when->weekday + 7) % 7;
        return WHEN_OK;
    case CREW_WHEN_DATE:
        break;
    }
    return dated(when, today, day);
}

enum when_result when_resolve(const struct crew_when *when, int64_t sent_s, int64_t *at_s)
{
    *at_s = sent_s;
    if (!when_said(when)) {
        return WHEN_OK;
    }
    int32_t day = 0;
    enum when_result result = find_day(when, zone_civil(sent_s).day, &day);
    if (result != WHEN_OK) {
        return result;
    }
    if (when->minute_of_day >= 0) {
        *at_s = zone_unix(day, when->minute_of_day * 60);
        return *at_s > sent_s ? WHEN_FUTURE : WHEN_OK;
    }
    int64_t end_s = zone_unix(day + 1, 0) - 1;
    *at_s = end_s < sent_s ? end_s : sent_s;
    return WHEN_OK;
}

/* ---- doubt */

#define REFUSED_AGAIN_S (7 * 24 * 3600)

struct question_row doubt_row(const struct figure *figure)
{
    struct question_row row = {.machine_id = figure->machine_id,
                               .offer_machine_id = figure->machine_id,
                               .offer_hundredths = -1,
                               .offer_to_hundredths = -1,
                               .typed_hundredths = figure->hundredths,
                               .read_s = figure->read_s};
    (void)snprintf(row.remark, sizeof row.remark, "%s", figure->remark);
    return row;
}

static struct wording_values doubt_values(const struct turn *turn, const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (judgement->last_hundredths >= 0) {
        turn_set_last(turn, &values, judgement->last_hundredths, judgement->last_read_s);
    }
    if (judgement->most_hundredths >= 0) {
        /* In tenths, as meters show them. */
        wording_set_hours(&values, WORDING_MOST, judgement->most_hundredths / 10 * 10);
    }
    if (judgement->offer_hundredths >= 0) {
        wording_set_hours(&values, WORDING_OFFER, judgement->offer_hundredths);
    }
    return values;
}

static enum wording_key why_not(const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    if (judgement->last_hundredths < 0) {
        return WORDING_NO_SUCH_FIGURE;
    }
    return figure->hundredths > judgement->last_hundredths && judgement->most_hundredths >= 0
               ? WORDING_TOO_HIGH
               : WORDING_TOO_LOW;
}

void doubt_refuse(struct turn *turn, struct desk_statement *entry, const struct figure *figure)
{
    struct wording_values values = doubt_values(turn, figure);
    turn_refuse(turn, entry, why_not(figure), &values);
}

/* Asks the shop instead of the crew; the crew's entry is refused and says so. */
static void pass_to_shop(struct turn *turn, struct desk_statement *entry,
                         const struct figure *figure, struct question_row *row,
                         enum wording_key key)
{
    struct wording_values values = doubt_values(turn, figure);
    if (turn->shop) {
        entry->has_suggests = true;
        entry->suggests_hundredths = figure->hundredths;
        turn_ask(turn, entry, row, key, &values);
        return;
    }
    bool asked = question_to_shop(turn, row, key, figure->judgement.last_hundredths,
                                  figure->judgement.last_read_s);
    turn_refuse(turn, entry, asked ? WORDING_SHOP_ASKED : why_not(figure), &values);
}

/* Nothing can be offered. The same figure sent again is put to the shop. */
static void refuse(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                   struct question_row *row)
{
    struct ledger *ledger = turn->desk->ledger;
    int count = 0;
    (void)turn_ok(turn, questions_refused_since(ledger, turn->person_id, figure->machine_id,
                                                figure->hundredths, turn->now_s - REFUSED_AGAIN_S,
                                                &count));
    (void)turn_ok(turn, questions_note_refusal(ledger, turn->person_id, figure->machine_id,
                                               figure->hundredths, turn->text_id, turn->now_s));
    if (count > 0 && figure->judgement.last_hundredths >= 0) {
        (void)snprintf(row->kind, sizeof row->kind, "%s", QUESTION_FORCE);
        row->offer_hundredths = figure->hundredths;
        pass_to_shop(turn, entry, figure, row, WORDING_ASK_FORCE);
        return;
    }
    doubt_refuse(turn, entry, figure);
}

/* An offer that the sender may settle. */
static void offer(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                  struct question_row *row, const char *kind, enum wording_key key)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct wording_values values = doubt_values(turn, figure);
    (void)snprintf(row->kind, sizeof row->kind, "%s", kind);
    row->offer_hundredths = judgement->offer_hundredths;
    row->offer_to_hundredths = judgement->old_last_hundredths;
    row->strikes_reading_id = judgement->strikes_reading_id;
    entry->has_suggests = true;
    entry->suggests_hundredths = judgement->offer_hundredths;
    if (judgement->offer == YARD_OFFER_MACHINE) {
        const char *name = turn->desk->settings->machines[judgement->offer_machine].name;
        row->offer_machine_id = turn_machine_id(turn, judgement->offer_machine);
        entry->suggests_machine = name;
        wording_set(&values, WORDING_OTHER, name);
    }
    turn_ask(turn, entry, row, key, &values);
    if (entry->outcome != DESK_ASKED) {
        entry->has_suggests = false;
        entry->suggests_machine = NULL;
    }
}

void doubt_figure(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                  struct question_row *row)
{
    switch (figure->judgement.offer) {
    case YARD_OFFER_SLIP:
        offer(turn, entry, figure, row, QUESTION_SLIP,
              figure->judgement.last_hundredths < 0 ? WORDING_ASK_SLIP_UNREAD : WORDING_ASK_SLIP);
        return;
    case YARD_OFFER_MACHINE:
        if (row->plan[0] == '\0') {
            offer(turn, entry, figure, row, QUESTION_OTHER_MACHINE, WORDING_ASK_OTHER_MACHINE);
            return;
        }
        break; /* a service is of the machine named */
    case YARD_OFFER_LAST_WRONG:
        offer(turn, entry, figure, row, QUESTION_LAST_WRONG, WORDING_ASK_LAST_WRONG);
        return;
    case YARD_OFFER_ROLL_OVER:
        offer(turn, entry, figure, row, QUESTION_ROLL_OVER, WORDING_ASK_ROLL_OVER);
        return;
    case YARD_OFFER_SWAP:
        (void)snprintf(row->kind, sizeof row->kind, "%s", QUESTION_SWAP);
        row->offer_hundredths = figure->hundredths;
        row->offer_to_hundredths = figure->judgement.old_last_hundredths;
        pass_to_shop(turn, entry, figure, row, WORDING_ASK_SWAP);
        return;
    case YARD_OFFER_NONE:
        break;
    }
    refuse(turn, entry, figure, row);
}

void doubt_sure(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                struct question_row *row)
{
    if (figure->judgement.verdict == YARD_DOUBTFUL) {
        doubt_figure(turn, entry, figure, row);
        return;
    }
    struct wording_values values = doubt_values(turn, figure);
    (void)snprintf(row->kind, sizeof row->kind, "%s", QUESTION_SURE);
    row->offer_hundredths = figure->hundredths;
    entry->has_suggests = true;
    entry->suggests_hundredths = figure->hundredths;
    turn_ask(turn, entry, row, WORDING_ASK_SURE, &values);
}

/* ---- a figure taken */

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
