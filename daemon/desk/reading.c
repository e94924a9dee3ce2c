/* SPDX-License-Identifier: MIT
 * reading: "M12 1340h". The figure is placed in time and judged against what is on record; what
 * cannot be taken as it stands is offer's business. */
#include "daemon/desk/reading.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/offer.h"
#include "daemon/desk/question.h"
#include "daemon/desk/statements.h"
#include "daemon/desk/telling.h"
#include "daemon/desk/trouble.h"
#include "daemon/desk/when.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/record.h"
#include "daemon/upkeep/clock_judge.h"

/* ---- a figure taken */

void figure_judge(struct turn *turn, struct figure *figure)
{
    (void)yard_judge(&turn->desk->yard, figure->machine, figure->hundredths, figure->decimal_digits,
                     figure->read_s, turn->person, &figure->judgement);
}

void figure_judge_in_place(struct turn *turn, struct figure *figure, int64_t reading_id)
{
    struct ledger *ledger = turn->desk->ledger;
    (void)record_strike(ledger, RECORD_READING, 0, reading_id, turn->person_id, turn->now_s,
                        "weighed");
    figure_judge(turn, figure);
    (void)record_unstrike(ledger, RECORD_READING, reading_id);
}

/* "1,340": the thousands mark stands unless only the decimal sign makes sense for the machine. */
static void judge_typed(struct turn *turn, struct figure *figure, const struct hours_figure *typed)
{
    figure->hundredths = typed->hundredths;
    figure->decimal_digits = typed->ambiguous ? 0 : typed->decimal_digits;
    figure_judge(turn, figure);
    if (typed->ambiguous && figure->judgement.verdict == YARD_DOUBTFUL) {
        struct figure otherwise = *figure;
        otherwise.hundredths = typed->otherwise_hundredths;
        otherwise.decimal_digits = 2;
        figure_judge(turn, &otherwise);
        *figure = otherwise.judgement.verdict == YARD_DOUBTFUL ? *figure : otherwise;
    }
}

bool reading_when(struct turn *turn, const struct crew_statement *statement, int64_t *read_s)
{
    enum when_result when = when_resolve(&statement->when, turn->sent_s, read_s);
    if (when == WHEN_OK && statement->obstacle != CREW_OBSTACLE_DATE) {
        return true;
    }
    struct wording_values values = turn_values(turn, turn->machine, statement->hours.hundredths);
    turn_refuse(turn, when == WHEN_FUTURE ? WORDING_FUTURE : WORDING_BAD_DATE, &values);
    return false;
}

void figure_place(struct turn *turn, struct figure *figure, int64_t at_s)
{
    figure->read_s = at_s;
    if (at_s > turn->now_s) {
        turn->desk->ahead_s += at_s - turn->now_s;
        turn->now_s = at_s;
    }
}

/* Where the box's clock was set back since the last reading, the next one would come before it: it is
 * placed by the centre's stamp, and the turn goes by that. A stamp from the future is not believed
 * otherwise, for networks send wrong zones. */
static void place_behind_last(struct turn *turn, struct figure *figure)
{
    struct desk *desk = turn->desk;
    struct reading_row last;
    if (figure->dated || desk->stamp_s <= figure->read_s ||
        desk->stamp_s > figure->read_s + CLOCK_PLAIN_S) {
        return;
    }
    bool behind = desk_last_reading(desk, figure->machine_id, desk->stamp_s, &last) &&
                  last.read_s > figure->read_s;
    figure_place(turn, figure, behind ? desk->stamp_s : figure->read_s);
}

bool figure_of(struct turn *turn, struct figure *figure)
{
    const struct crew_statement *said = turn->said;
    struct desk_statement *entry = turn->entry;
    *figure = (struct figure){.machine = turn->machine,
                              .machine_id = turn_machine_id(turn, turn->machine),
                              .hundredths = said->hours.hundredths,
                              .dated = when_said(&said->when)};
    turn_remark(turn, said->remark, figure->remark, sizeof figure->remark);
    (void)snprintf(entry->remark, sizeof entry->remark, "%s", figure->remark);
    entry->has_hours = true;
    entry->hours_hundredths = figure->hundredths;
    if (!reading_when(turn, said, &figure->read_s)) {
        return false;
    }
    place_behind_last(turn, figure);
    entry->has_read_at = figure->dated;
    entry->read_at_s = figure->read_s;
    judge_typed(turn, figure, &said->hours);
    entry->hours_hundredths = figure->hundredths;
    return true;
}

bool figure_is_none(const struct crew_statement *statement, const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    bool explained = judgement->offer == YARD_OFFER_SLIP ||
                     judgement->offer == YARD_OFFER_MACHINE ||
                     judgement->offer == YARD_OFFER_LAST_WRONG;
    return statement->figure_then_word && !statement->new_meter &&
           judgement->verdict == YARD_DOUBTFUL && !explained;
}

/* A figure that moves a machine forward says that it works. */
static void end_rest(struct turn *turn, const struct figure *figure)
{
    struct ledger *ledger = turn->desk->ledger;
    int64_t since_s = 0;
    (void)machines_parked(ledger, figure->machine_id, &since_s);
    if (since_s == 0 || figure->read_s < since_s ||
        figure->hundredths <= figure->judgement.last_hundredths) {
        return;
    }
    (void)machines_back(ledger, figure->machine_id, figure->read_s, turn->person_id, turn->text_id);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    turn_add(turn, REPLY_MAY, WORDING_BACK_AT_WORK, &values);
    tell_shop(turn, figure->machine, WORDING_TELL_BACK_AT_WORK, &values);
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
    (void)readings_add(turn->desk->ledger, &row);
    question_answered_by(turn, figure->machine_id);
}

void figure_take(struct turn *turn, const struct figure *figure)
{
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (figure->judgement.verdict == YARD_ALREADY_NOTED) {
        turn_explain(turn, WORDING_ALREADY, &values);
    } else {
        figure_save(turn, figure);
        turn_set_day(turn, &values, figure->read_s);
        turn_say(turn, figure->dated ? WORDING_NOTED_ON : WORDING_NOTED, &values);
        if (figure->judgement.verdict == YARD_SOFT_DOUBT) {
            wording_set_number(&values, WORDING_COUNT,
                               (int64_t)(figure->judgement.day_hours + 0.5));
            turn_explain(turn, WORDING_SOFT, &values);
        }
        end_rest(turn, figure);
    }
    standing_tell(turn, figure->machine);
}

/* "M12 1340 1350": which of the two. */
static void ask_which_figure(struct turn *turn, const struct figure *figure)
{
    int64_t to_hundredths = turn->said->to_hours.hundredths;
    struct question_row row = offer_row(figure);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    turn->entry->has_to_hours = true;
    turn->entry->to_hours_hundredths = to_hundredths;
    row.kind = QUESTION_WHICH_FIGURE;
    row.offer_to_hundredths = to_hundredths;
    (void)snprintf(row.completes, sizeof row.completes, "%s", turn->entry->kind);
    wording_set_hours(&values, WORDING_OFFER, to_hundredths);
    turn_ask(turn, &row, WORDING_ASK_TWO_FIGURES, &values);
}

/* "M12 1340 done" is a reading: a service is recorded by the shop, and in another form. */
static void say_done(struct turn *turn, const struct figure *figure)
{
    const struct settings *settings = turn->desk->settings;
    const struct settings_kind *kind = yard_kind(settings, figure->machine);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (turn->shop && kind->plan_count > 0) {
        wording_set(&values, WORDING_PLAN, settings->plans[kind->plans[0]].name);
        turn_say(turn, WORDING_DONE_FORM, &values);
    } else {
        turn_say(turn, WORDING_SHOP_RECORDS, &values);
    }
}

/* "Did not run": the figure of the last reading, of now. False where there is none. */
static bool same_as_last(struct turn *turn, struct crew_statement *said)
{
    struct reading_row last;
    if (!desk_last_reading(turn->desk, turn_machine_id(turn, turn->machine), turn->sent_s, &last)) {
        return false;
    }
    said->hours = (struct hours_figure){.present = true,
                                        .hundredths = last.meter_hundredths,
                                        .decimal_digits = last.meter_hundredths % 100 != 0 ? 2 : 0};
    return true;
}

/* The words beside the figure are trouble of the same machine, with an entry of their own. */
static bool trouble_follows(const struct turn *turn)
{
    const struct crew_statement *next = turn->next;
    return next != NULL && next->kind == CREW_TROUBLE && next->machine == turn->said->machine;
}

/* A figure of something else: what was said is not understood, or is trouble and nothing else. */
static void no_figure(struct turn *turn)
{
    if (trouble_follows(turn)) {
        turn->answer->statement_count--;
        return;
    }
    *turn->entry = (struct desk_statement){.kind = statements_word(CREW_UNKNOWN)};
    turn->unclear = true;
    turn_refuse(turn, WORDING_FORM, NULL);
}

/* Number words: without a figure on record nothing says which of their meanings it is. */
static bool is_spoken(const struct turn *turn)
{
    const struct hours_figure *hours = &turn->said->hours;
    for (size_t i = 0; i < hours->length; i++) {
        char octet = turn->body[hours->start + i];
        if (octet >= '0' && octet <= '9') {
            return false;
        }
    }
    return hours->length > 0;
}

bool figure_to_confirm(const struct crew_statement *statement)
{
    return statement->obstacle == CREW_OBSTACLE_GLUED ||
           statement->obstacle == CREW_OBSTACLE_ASKED_FIGURE ||
           statement->obstacle == CREW_OBSTACLE_WITHDRAWN;
}

/* What keeps the figure from being taken; false where nothing does. */
static bool reading_kept_back(struct turn *turn, const struct figure *figure)
{
    const struct crew_statement *said = turn->said;
    bool doubtful = figure->judgement.verdict == YARD_DOUBTFUL;
    bool address = said->nature == CREW_NATURE_ADDRESS;
    bool unknown = is_spoken(turn) && figure->judgement.last_hundredths < 0;
    bool plain = said->obstacle == CREW_OBSTACLE_NONE;
    if (said->obstacle == CREW_OBSTACLE_TWO_FIGURES) {
        ask_which_figure(turn, figure);
    } else if (figure_to_confirm(said) || (plain && (unknown || (address && !doubtful)))) {
        struct question_row row = offer_row(figure);
        offer_sure(turn, figure, &row);
    } else if (!plain) {
        turn_refuse(turn, WORDING_FORM, NULL);
    } else if (address) {
        no_figure(turn);
    } else if (doubtful || said->nature == CREW_NATURE_WORKED || said->new_meter) {
        offer_reading(turn, figure);
    } else {
        return false;
    }
    return true;
}

void reading_take(struct turn *turn)
{
    struct crew_statement said = *turn->said;
    struct figure figure;
    turn->said = &said;
    if ((!said.hours.present && !said.same_as_last) ||
        (said.same_as_last && !same_as_last(turn, &said))) {
        turn_refuse(turn, WORDING_FORM, NULL);
        return;
    }
    if (!figure_of(turn, &figure)) {
        return;
    }
    if (figure_is_none(&said, &figure)) {
        no_figure(turn);
    } else if (!reading_kept_back(turn, &figure)) {
        figure_take(turn, &figure);
        if (said.done_follows) {
            say_done(turn, &figure);
        }
        bool tells =
            said.done_follows ? strchr(figure.remark, ' ') != NULL : figure.remark[0] != '\0';
        if (tells && !trouble_follows(turn)) {
            (void)trouble_keep(turn, figure.machine, TROUBLE_REMARK, figure.remark);
            turn_add(turn, REPLY_MAY, WORDING_REMARK_PASSED, NULL);
        }
    }
}
