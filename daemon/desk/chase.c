/* SPDX-License-Identifier: MIT
 * chase: each step is an alert of its own stage, which makes it once: for the level once a service,
 * for silence once a last reading. The YES to the level is kept as the answer to a question. */
#include "daemon/desk/chase.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/notices.h"
#include "daemon/desk/post.h"
#include "daemon/desk/question.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/people.h"

/* ---- the level, when a reading comes */

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

/* An alert of that stage, raised and told in one. */
static bool note_step(struct turn *turn, const struct yard_standing *standing, const char *stage)
{
    struct alert_row row = {.machine_id = turn_machine_id(turn, standing->machine),
                            .cycle = standing->cycle,
                            .raised_s = turn->now_s,
                            .cause_service_id = standing->cause_service_id};
    (void)snprintf(row.plan, sizeof row.plan, "%s",
                   turn->desk->settings->plans[standing->plan].name);
    (void)snprintf(row.stage, sizeof row.stage, "%s", stage);
    return turn_ok(turn, alerts_raise(turn->desk->ledger, &row)) &&
           turn_ok(turn, alerts_told(turn->desk->ledger, row.id, 0, turn->now_s));
}

static void open_question(struct turn *turn, const struct yard_standing *standing)
{
    struct question_row row =
        question_row(QUESTION_RECHECK, turn_machine_id(turn, standing->machine), turn->sent_s);
    bool replaced = false;
    row.person_id = turn->person_id;
    row.text_id = turn->text_id;
    row.asked_s = turn->now_s;
    (void)snprintf(row.plan, sizeof row.plan, "%s",
                   turn->desk->settings->plans[standing->plan].name);
    (void)turn_ok(turn, questions_ask(turn->desk->ledger, &row, &replaced));
}

static bool ask_one(struct turn *turn, const struct yard_standing *standing)
{
    if (!note_step(turn, standing, CHASE_RECHECK)) {
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
    (void)note_step(turn, &standing, CHASE_RECHECKED);
}

/* ---- one machine that is looked at */

#define DAY_S (24 * 3600)
/* A level unconfirmed for longer than this is past chasing. */
#define RECHECK_CHASED_S (14 * DAY_S)

/* One machine that is looked at, and when each step was taken (0 not yet). */
struct case_of {
    struct desk *desk;
    const struct yard_standing *standing;
    int64_t machine_id;
    int64_t now_s;
    int64_t recheck_s, rechecked_s, reminded_s, unchecked_s;
};

static void see_alert(void *ctx, const struct alert_row *row, bool is_void)
{
    struct case_of *of = ctx;
    const struct settings_plan *plan = &of->desk->settings->plans[of->standing->plan];
    const struct {
        const char *stage;
        int64_t *at_s;
    } steps[] = {{CHASE_RECHECK, &of->recheck_s},
                 {CHASE_RECHECKED, &of->rechecked_s},
                 {CHASE_REMINDED, &of->reminded_s},
                 {CHASE_UNCHECKED, &of->unchecked_s}};
    if (is_void || row->cycle != of->standing->cycle || strcmp(row->plan, plan->name) != 0) {
        return;
    }
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        if (strcmp(row->stage, steps[i].stage) == 0) {
            *steps[i].at_s = row->raised_s;
        }
    }
}

/* Raised and told in one: LEDGER_ALREADY where that step was taken before. */
static enum ledger_result step(const struct case_of *of, const char *plan, int64_t cycle,
                               const char *stage)
{
    struct alert_row row = {.machine_id = of->machine_id, .cycle = cycle, .raised_s = of->now_s};
    (void)snprintf(row.plan, sizeof row.plan, "%s", plan);
    (void)snprintf(row.stage, sizeof row.stage, "%s", stage);
    enum ledger_result result = alerts_raise(of->desk->ledger, &row);
    return result == LEDGER_OK ? alerts_told(of->desk->ledger, row.id, 0, of->now_s) : result;
}

static struct wording_values values_of(const struct case_of *of, const struct wording *wording)
{
    struct wording_values values = {0};
    const struct settings *settings = of->desk->settings;
    const struct settings_machine *machine = &settings->machines[of->standing->machine];
    standing_values(of->desk, of->standing, wording, zone_civil(of->now_s).day, &values);
    wording_set_day(&values, WORDING_DAY, wording, zone_civil(of->standing->read_s).day,
                    zone_civil(of->now_s).day);
    wording_set(&values, WORDING_PERSON,
                machine->crew_count > 0 ? settings->people[machine->crew[0]].name
                                        : settings->shop.name);
    return values;
}

static enum ledger_result send(const struct case_of *of, int32_t person, enum texts_kind kind,
                               enum wording_key key)
{
    struct wording_values values =
        values_of(of, wording_of(of->desk->settings->people[person].language));
    struct post_order order = {
        .person = person, .kind = kind, .now_s = of->now_s, .shop_hours = true};
    return post_say(of->desk, &order, key, &values);
}

/* The crew that looks after it. */
static enum ledger_result send_crew(const struct case_of *of, enum texts_kind kind,
                                    enum wording_key key)
{
    const struct settings_machine *machine = &of->desk->settings->machines[of->standing->machine];
    enum ledger_result result = LEDGER_OK;
    for (size_t i = 0; i < machine->crew_count && result == LEDGER_OK; i++) {
        result = send(of, (int32_t)machine->crew[i], kind, key);
    }
    return result;
}

struct to_shop {
    const struct case_of *of;
    enum wording_key key;
};

static enum ledger_result send_shop_one(void *ctx, int32_t person)
{
    const struct to_shop *to = ctx;
    return send(to->of, person, TEXTS_NOTICE, to->key);
}

static enum ledger_result send_shop(const struct case_of *of, enum wording_key key)
{
    int count = 0;
    struct to_shop to = {.of = of, .key = key};
    return reachable_each(of->desk, send_shop_one, &to, &count);
}

/* ---- the level, as days pass */

/* Opens the question anew for each of the crew who has none open. */
static enum ledger_result ask_level(const struct case_of *of)
{
    struct ledger *ledger = of->desk->ledger;
    const struct settings *settings = of->desk->settings;
    const struct settings_machine *machine = &settings->machines[of->standing->machine];
    enum ledger_result result = LEDGER_OK;
    for (size_t i = 0; i < machine->crew_count && result == LEDGER_OK; i++) {
        struct question_row row = question_row(QUESTION_RECHECK, of->machine_id, of->now_s);
        struct question_row open;
        bool replaced = false;
        row.asked_s = of->now_s;
        (void)snprintf(row.plan, sizeof row.plan, "%s", settings->plans[of->standing->plan].name);
        result = people_id(ledger, settings->people[machine->crew[i]].name, &row.person_id);
        if (result == LEDGER_OK) {
            result = questions_open(ledger, row.person_id, of->now_s - QUESTION_LAPSES_S, &open);
        }
        if (result == LEDGER_NONE) {
            result = questions_ask(ledger, &row, &replaced);
        }
    }
    return result;
}

static enum ledger_result chase_level(struct case_of *of)
{
    const char *plan = of->desk->settings->plans[of->standing->plan].name;
    enum ledger_result result = alerts_each(of->desk->ledger, of->machine_id, see_alert, of);
    if (result != LEDGER_OK || of->recheck_s == 0 || of->rechecked_s != 0 || of->unchecked_s != 0 ||
        of->now_s - of->recheck_s > RECHECK_CHASED_S) {
        return result;
    }
    if (of->reminded_s == 0 && of->now_s - of->recheck_s >= DAY_S) {
        result = step(of, plan, of->standing->cycle, CHASE_REMINDED);
        if (result == LEDGER_OK) {
            result = send_crew(of, TEXTS_QUESTION, WORDING_CHASE_LEVEL);
        }
        return result == LEDGER_OK ? ask_level(of) : result;
    }
    if (of->reminded_s != 0 && of->now_s - of->reminded_s >= DAY_S) {
        result = step(of, plan, of->standing->cycle, CHASE_UNCHECKED);
        return result == LEDGER_OK ? send_shop(of, WORDING_TELL_UNCHECKED) : result;
    }
    return LEDGER_OK;
}

/* ---- silence */

/* The crew after silence_days, the shop after half as long again. */
static enum ledger_result chase_silence(struct case_of *of)
{
    int64_t days = of->desk->settings->shop.silence_days;
    int64_t silent_s = of->now_s - of->standing->read_s;
    int64_t reading_id = of->standing->cause_reading_id;
    if (days <= 0 || silent_s < days * DAY_S) {
        return LEDGER_OK;
    }
    enum ledger_result result = step(of, "", reading_id, CHASE_SILENT);
    if (result == LEDGER_OK) {
        return send_crew(of, TEXTS_NOTICE, WORDING_CHASE_READING);
    }
    if (result == LEDGER_ALREADY && silent_s >= (days + (days + 1) / 2) * DAY_S) {
        result = step(of, "", reading_id, CHASE_SILENT_SHOP);
        if (result == LEDGER_OK) {
            return send_shop(of, WORDING_TELL_SILENT);
        }
    }
    return result == LEDGER_ALREADY ? LEDGER_OK : result;
}

static enum ledger_result chase_one(struct desk *desk, const struct yard_standing *standing,
                                    bool first_plan, int64_t now_s)
{
    struct case_of of = {.desk = desk, .standing = standing, .now_s = now_s};
    if (standing->parked || !standing->read) {
        return LEDGER_OK;
    }
    enum ledger_result result =
        machines_id(desk->ledger, desk->settings->machines[standing->machine].name, &of.machine_id);
    if (result == LEDGER_OK && first_plan) {
        result = chase_silence(&of);
    }
    if (result == LEDGER_OK && standing->cause_service_id != 0 &&
        desk->settings->plans[standing->plan].plan.recheck_after_hundredths > 0) {
        result = chase_level(&of);
    }
    return result;
}

enum ledger_result chase_all(struct desk *desk, int64_t now_s)
{
    struct yard_standing *standings = NULL;
    size_t count = 0;
    const struct settings *settings = desk->settings;
    enum ledger_result result = yard_stand_all(&desk->yard, now_s, &standings, &count);
    for (size_t i = 0; i < count && result == LEDGER_OK; i++) {
        const struct settings_machine *machine = &settings->machines[standings[i].machine];
        bool first = settings->kinds[machine->kind].plans[0] == (size_t)standings[i].plan;
        result = chase_one(desk, &standings[i], first, now_s);
    }
    free(standings);
    return result;
}
