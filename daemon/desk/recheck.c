/* SPDX-License-Identifier: MIT
 * recheck: each step is an alert of its own stage, which makes it once a service. The question is kept
 * for who was asked, so that YES is its answer. */
#include "daemon/desk/recheck.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/question.h"
#include "daemon/desk/telling.h"
#include "daemon/ground/zone.h"

#define DAY_S (24 * 3600)
/* A level unconfirmed for longer than this is past chasing. */
#define CHASED_S (14 * DAY_S)
/* A service that old was entered late: its level was looked at long since. */
#define OLD_DAYS 45

enum step {
    STEP_ASKED,   /* the crew was asked to look at the level */
    STEP_CHECKED, /* and said that it did */
    STEP_REMINDED,
    STEP_UNCHECKED, /* the shop was told */
    STEPS
};
static const char *const stages[STEPS] = {[STEP_ASKED] = ALERTS_RECHECK,
                                          [STEP_CHECKED] = ALERTS_RECHECKED,
                                          [STEP_REMINDED] = "recheck-again",
                                          [STEP_UNCHECKED] = "unchecked"};

/* ---- the level after the service that the standing counts from */

struct level {
    struct desk *desk;
    const struct yard_standing *standing;
    const struct settings_plan *plan;
    int64_t now_s;
    int64_t taken_s[STEPS]; /* when each step was taken, 0 not yet */
};

static void see_alert(void *ctx, const struct alert_row *row, bool is_void)
{
    struct level *level = ctx;
    if (is_void || row->cycle != level->standing->cycle ||
        strcmp(row->plan, level->plan->name) != 0) {
        return;
    }
    for (size_t i = 0; i < STEPS; i++) {
        if (strcmp(row->stage, stages[i]) == 0) {
            level->taken_s[i] = row->raised_s;
        }
    }
}

/* Only what begins with a service has steps. */
static struct level level_of(struct desk *desk, const struct yard_standing *standing, int64_t now_s)
{
    struct level level = {.desk = desk,
                          .standing = standing,
                          .plan = &desk->settings->plans[standing->plan],
                          .now_s = now_s};
    if (standing->cause_service_id != 0) {
        (void)alerts_each(desk->ledger, standing->machine_id, see_alert, &level);
    }
    return level;
}

/* False where it was taken before. */
static bool take_step(const struct level *level, enum step step)
{
    struct alert_row row = {.machine_id = level->standing->machine_id,
                            .cycle = level->standing->cycle,
                            .raised_s = level->now_s,
                            .cause_service_id = level->standing->cause_service_id};
    return alert_once(level->desk->ledger, stages[step], level->plan->name, &row);
}

/* ---- answered */

/* The same of a machine and a plan, -1 none. */
static void note_step(struct turn *turn, int32_t machine, int32_t plan, enum step step)
{
    struct yard_standing standing;
    if (machine >= 0 && plan >= 0 &&
        yard_stand(&turn->desk->yard, machine, plan, turn->now_s, &standing) == LEDGER_OK) {
        struct level level = level_of(turn->desk, &standing, turn->now_s);
        (void)take_step(&level, step);
    }
}

void recheck_done(struct turn *turn, struct figure *figure, const struct question_row *row)
{
    struct wording_values values = turn_values(turn, figure->machine, -1);
    turn_say(turn, WORDING_RECHECKED, &values);
    note_step(turn, figure->machine, settings_find_plan(turn->desk->settings, row->plan),
              STEP_CHECKED);
}

/* The check of that machine that was asked for last, at *asked_s or later, and not made since. */
static bool find_check(struct turn *turn, int32_t machine, int64_t *asked_s,
                       struct yard_standing *check)
{
    struct standing standing;
    bool found = false;
    standing_look(turn->desk, machine, turn->now_s, &standing);
    for (size_t i = 0; i < standing.count; i++) {
        struct level level = level_of(turn->desk, &standing.plans[i], turn->now_s);
        bool open = level.taken_s[STEP_ASKED] != 0 && level.taken_s[STEP_CHECKED] == 0;
        if (open && level.taken_s[STEP_ASKED] >= *asked_s) {
            *asked_s = level.taken_s[STEP_ASKED];
            *check = standing.plans[i];
            found = true;
        }
    }
    return found;
}

int32_t recheck_asked(const struct turn *turn)
{
    return turn->has_question && turn->question.kind == QUESTION_RECHECK
               ? desk_machine(turn->desk, turn->question.machine_id)
               : -1;
}

bool recheck_checked(struct turn *turn, int32_t machine)
{
    const struct settings *settings = turn->desk->settings;
    int32_t asked = recheck_asked(turn);
    struct yard_standing check;
    bool found = false;
    machine = machine < 0 ? asked : machine;
    int64_t asked_s = turn->now_s - (machine >= 0 ? CHASED_S : DAY_S);
    if (machine >= 0) {
        found = find_check(turn, machine, &asked_s, &check);
    }
    for (size_t i = 0; machine < 0 && i < settings->machine_count; i++) {
        if (names_own(settings, (int32_t)i, turn->person)) {
            found |= find_check(turn, (int32_t)i, &asked_s, &check);
        }
    }
    if (!found) {
        return false;
    }
    struct wording_values values = turn_values(turn, check.machine, -1);
    struct level level = level_of(turn->desk, &check, turn->now_s);
    turn->entry->machine = settings->machines[check.machine].name;
    if (check.machine == asked) {
        question_close(turn, "yes");
    }
    (void)take_step(&level, STEP_CHECKED);
    turn_say(turn, WORDING_RECHECKED, &values);
    return true;
}

void recheck_waive(struct turn *turn, int32_t machine, int32_t plan)
{
    note_step(turn, machine, plan, STEP_ASKED);
    note_step(turn, machine, plan, STEP_CHECKED);
}

void recheck_words(struct turn *turn, int32_t machine, const char *words)
{
    struct wording_values values = turn_values(turn, machine, -1);
    reply_plain(words, strlen(words), values.value[WORDING_WORDS], WORDING_VALUE_OCTETS);
    tell_shop_first(turn, machine, WORDING_TELL_LEVEL_WORDS, &values);
    turn_say(turn, WORDING_LEVEL_WORDS, &values);
}

void recheck_denied(struct turn *turn, const struct question_row *row, int32_t machine,
                    const char *body)
{
    struct wording_values values = turn_values(turn, machine, -1);
    reply_plain(body, strlen(body), values.value[WORDING_WORDS], WORDING_VALUE_OCTETS);
    tell_shop_first(turn, machine,
                    body[0] != '\0' ? WORDING_TELL_LEVEL_WORDS : WORDING_TELL_LEVEL_NO, &values);
    turn_say(turn, WORDING_LEVEL_NO, &values);
    /* The shop knows: not chased any more. */
    note_step(turn, machine, settings_find_plan(turn->desk->settings, row->plan), STEP_UNCHECKED);
}

/* ---- as days pass */

/* Whether the machine has run so far after a service that its level can be looked at, and is cold: no
 * reading since the shop has opened. */
static bool wants_check(const struct level *level)
{
    const struct yard_standing *standing = level->standing;
    int32_t today = zone_civil(level->now_s).day;
    int64_t run = standing->true_hundredths - standing->last_done_true_hundredths;
    return standing->read && run >= level->plan->plan.recheck_after_hundredths &&
           standing->last_done_day_known && today - standing->last_done_day <= OLD_DAYS &&
           standing->read_s <= zone_unix(today, level->desk->settings->shop.alert_from_minute * 60);
}

/* One sentence about it to a person; where it is a question its row gets the words. */
static void say(const struct level *level, int32_t person, enum wording_key key,
                enum texts_kind kind, struct question_row *asked)
{
    struct draft draft = draft_to(level->desk, person);
    struct wording_values values = {0};
    standing_values(level->desk, level->standing, draft.wording, zone_civil(level->now_s).day,
                    &values);
    draft_add(&draft, key, &values);
    (void)draft_send(&draft, kind, level->now_s);
    if (asked != NULL) {
        (void)snprintf(asked->says, sizeof asked->says, "%.*s", (int)sizeof asked->says - 1,
                       draft.body);
    }
}

static void tell_unchecked(void *ctx, int32_t person)
{
    say(ctx, person, WORDING_TELL_UNCHECKED, TEXTS_NOTICE, NULL);
}

/* Asks the crew, and opens the question for each who has none open: one about a figure matters more,
 * and YES is left to that one. */
static void ask_crew(const struct level *level)
{
    struct desk *desk = level->desk;
    const struct settings_machine *machine = &desk->settings->machines[level->standing->machine];
    for (size_t i = 0; i < machine->crew_count; i++) {
        int32_t person = (int32_t)machine->crew[i];
        struct question_row row =
            question_row(QUESTION_RECHECK, level->standing->machine_id, level->now_s);
        struct question_row open;
        bool replaced = false;
        say(level, person, WORDING_CHASE_LEVEL, TEXTS_QUESTION, &row);
        (void)snprintf(row.plan, sizeof row.plan, "%s", level->plan->name);
        row.asked_s = level->now_s;
        row.person_id = desk_person_id(desk, person);
        if (questions_open(desk->ledger, row.person_id, level->now_s - QUESTION_LAPSES_S, &open) ==
                LEDGER_NONE ||
            open.kind == QUESTION_RECHECK) {
            (void)questions_ask(desk->ledger, &row, &replaced);
        }
    }
}

/* The crew on the first morning after it has run, the machine being cold; once more after a day; and
 * the shop after another. */
void recheck_chase(const struct round *round, const struct yard_standing *standing)
{
    const struct settings_plan *plan = &round->desk->settings->plans[standing->plan];
    if (standing->cause_service_id == 0 || standing->parked ||
        plan->plan.recheck_after_hundredths <= 0) {
        return;
    }
    struct level level = level_of(round->desk, standing, round->now_s);
    const int64_t *taken_s = level.taken_s;
    int64_t asked_s = taken_s[STEP_ASKED];
    enum step next = asked_s == 0                  ? STEP_ASKED
                     : taken_s[STEP_REMINDED] == 0 ? STEP_REMINDED
                                                   : STEP_UNCHECKED;
    int64_t last_s = next == STEP_UNCHECKED ? taken_s[STEP_REMINDED] : asked_s;
    bool over = taken_s[STEP_CHECKED] != 0 || taken_s[STEP_UNCHECKED] != 0 ||
                (asked_s != 0 && round->now_s - asked_s > CHASED_S);
    bool in_time = asked_s == 0 ? wants_check(&level) : round->now_s - last_s >= DAY_S;
    if (over || !in_time || !take_step(&level, next)) {
        return;
    }
    if (next == STEP_UNCHECKED) {
        reachable_each(round->desk, standing->machine, tell_unchecked, &level);
    } else {
        ask_crew(&level);
    }
}
