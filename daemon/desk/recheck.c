/* SPDX-License-Identifier: MIT
 * recheck: kept as an alert of its own stage, which makes it once a service; the YES to it is kept
 * as the answer to a question. */
#include "daemon/desk/recheck.h"

#include <stdio.h>

#include "daemon/desk/chase.h"
#include "daemon/desk/question.h"
#include "daemon/desk/room.h"
#include "daemon/ledger/alerts.h"

/* A service that old was entered late: its level was looked at long since. */
#define RECHECK_OLD_DAYS 45

static bool wanted(const struct turn *turn, const struct yard_standing *standing)
{
    const struct plan *plan = &turn->desk->settings->plans[standing->plan].plan;
    int64_t run = standing->true_hundredths - standing->last_done_true_hundredths;
    return standing->read && standing->cause_service_id != 0 &&
           plan->recheck_after_hundredths > 0 && run >= plan->recheck_after_hundredths &&
           (!standing->last_done_day_known ||
            turn->today - standing->last_done_day <= RECHECK_OLD_DAYS);
}

static void open_question(struct turn *turn, const struct yard_standing *standing)
{
    struct question_row row = {.person_id = turn->person_id,
                               .machine_id = turn_machine_id(turn, standing->machine),
                               .kind = QUESTION_RECHECK,
                               .offer_hundredths = -1,
                               .offer_to_hundredths = -1,
                               .typed_hundredths = -1,
                               .read_s = turn->sent_s,
                               .text_id = turn->text_id,
                               .asked_s = turn->now_s};
    bool replaced = false;
    (void)snprintf(row.plan, sizeof row.plan, "%s",
                   turn->desk->settings->plans[standing->plan].name);
    (void)turn_ok(turn, questions_ask(turn->desk->ledger, &row, &replaced));
}

static bool ask_one(struct turn *turn, const struct yard_standing *standing)
{
    const struct settings_plan *plan = &turn->desk->settings->plans[standing->plan];
    struct alert_row row = {.machine_id = turn_machine_id(turn, standing->machine),
                            .cycle = standing->cycle,
                            .stage = CHASE_RECHECK,
                            .raised_s = turn->now_s,
                            .cause_service_id = standing->cause_service_id};
    (void)snprintf(row.plan, sizeof row.plan, "%s", plan->name);
    if (!turn_ok(turn, alerts_raise(turn->desk->ledger, &row)) ||
        !turn_ok(turn, alerts_told(turn->desk->ledger, row.id, 0, turn->now_s))) {
        return false;
    }
    /* A question about a figure matters more: YES is left to that one. */
    if (!turn->has_question && !turn->asked) {
        open_question(turn, standing);
    }
    return true;
}

static bool ask(struct turn *turn, const struct standing *standing)
{
    for (size_t i = 0; i < standing->count && !turn->mute; i++) {
        if (wanted(turn, &standing->plans[i])) {
            return ask_one(turn, &standing->plans[i]); /* one look at the level will do */
        }
    }
    return false;
}

void recheck_say_standing(struct turn *turn, const struct standing *standing)
{
    struct wording_values values = {0};
    bool asked = ask(turn, standing);
    standing_say(turn, standing, asked);
    if (asked) {
        turn_say(turn, WORDING_RECHECK, &values);
    }
}

void recheck_done(struct turn *turn, const struct question_row *row, int32_t machine)
{
    struct yard_standing standing;
    struct wording_values values = turn_values(turn, machine, -1);
    int32_t plan = settings_find_plan(turn->desk->settings, row->plan);
    turn_say(turn, WORDING_RECHECKED, &values);
    if (plan < 0 ||
        !turn_ok(turn, yard_stand(&turn->desk->yard, machine, plan, turn->now_s, &standing))) {
        return;
    }
    struct alert_row alert = {.machine_id = row->machine_id,
                              .cycle = standing.cycle,
                              .stage = CHASE_RECHECKED,
                              .raised_s = turn->now_s,
                              .cause_service_id = standing.cause_service_id};
    (void)snprintf(alert.plan, sizeof alert.plan, "%s", row->plan);
    if (turn_ok(turn, alerts_raise(turn->desk->ledger, &alert))) {
        (void)turn_ok(turn, alerts_told(turn->desk->ledger, alert.id, 0, turn->now_s));
    }
}
