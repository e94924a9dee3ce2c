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
#include "daemon/desk/telling.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"

#define DAY_S (24 * 3600)
/* A level unconfirmed for longer than this is past chasing. */
#define RECHECK_CHASED_S (14 * DAY_S)
/* A service that old was entered late: its level was looked at long since. */
#define RECHECK_OLD_DAYS 45

enum step {
    STEP_RECHECK,   /* the crew was asked to look at the level */
    STEP_RECHECKED, /* and said that it did */
    STEP_REMINDED,
    STEP_UNCHECKED,   /* the shop was told */
    STEP_SILENT,      /* the crew was asked for a reading */
    STEP_SILENT_SHOP, /* the shop was told */
    STEP_WANTED,      /* likewise, of one that is near its service */
    STEP_UNBROUGHT,   /* likewise, of one that was booked */
    STEPS
};
static const char *const stages[STEPS] = {
    [STEP_RECHECK] = ALERTS_RECHECK,   [STEP_RECHECKED] = ALERTS_RECHECKED,
    [STEP_REMINDED] = "recheck-again", [STEP_UNCHECKED] = "unchecked",
    [STEP_SILENT] = "silent",          [STEP_SILENT_SHOP] = "silent-shop",
    [STEP_WANTED] = "wanted",          [STEP_UNBROUGHT] = "unbrought"};

/* ---- one machine that is looked at as days pass */

struct case_of {
    struct desk *desk;
    const struct yard_standing *standing;
    const struct settings_machine *machine;
    const struct settings_plan *plan;
    int64_t now_s;
    int64_t taken_s[STEPS]; /* when each step was taken in this cycle, 0 not yet */
    enum texts_kind kind;   /* what is sent about it */
    enum wording_key says;
};

static struct case_of case_of(struct desk *desk, const struct yard_standing *standing,
                              int64_t now_s)
{
    return (struct case_of){.desk = desk,
                            .standing = standing,
                            .machine = &desk->settings->machines[standing->machine],
                            .plan = &desk->settings->plans[standing->plan],
                            .now_s = now_s};
}

static void see_alert(void *ctx, const struct alert_row *row, bool is_void)
{
    struct case_of *of = ctx;
    if (is_void || row->cycle != of->standing->cycle || strcmp(row->plan, of->plan->name) != 0) {
        return;
    }
    for (size_t i = 0; i < STEPS; i++) {
        if (strcmp(row->stage, stages[i]) == 0) {
            of->taken_s[i] = row->raised_s;
        }
    }
}

/* ---- the level, answered */

/* A step of the turn about the level after that standing's service. */
static bool level_step(struct turn *turn, const struct yard_standing *standing, enum step step)
{
    struct alert_row row = {.machine_id = standing->machine_id,
                            .cycle = standing->cycle,
                            .raised_s = turn->now_s,
                            .cause_service_id = standing->cause_service_id};
    return alert_once(turn->desk->ledger, stages[step],
                      turn->desk->settings->plans[standing->plan].name, &row);
}

void recheck_done(struct turn *turn, struct figure *figure, const struct question_row *row)
{
    struct yard_standing standing;
    int32_t machine = figure->machine;
    struct wording_values values = turn_values(turn, machine, -1);
    int32_t plan = settings_find_plan(turn->desk->settings, row->plan);
    turn_say(turn, WORDING_RECHECKED, &values);
    if (plan >= 0 &&
        yard_stand(&turn->desk->yard, machine, plan, turn->now_s, &standing) == LEDGER_OK) {
        (void)level_step(turn, &standing, STEP_RECHECKED);
    }
}

/* The check of that machine that was asked for last, at *asked_s or later, and not made since. */
static bool find_check(struct turn *turn, int32_t machine, int64_t *asked_s,
                       struct yard_standing *check)
{
    struct standing standing;
    bool found = false;
    if (standing_look(turn->desk, machine, turn->now_s, &standing) != LEDGER_OK) {
        return false;
    }
    for (size_t i = 0; i < standing.count; i++) {
        struct case_of of = case_of(turn->desk, &standing.plans[i], turn->now_s);
        if (of.standing->cause_service_id != 0) {
            (void)alerts_each(turn->desk->ledger, of.standing->machine_id, see_alert, &of);
        }
        bool open = of.taken_s[STEP_RECHECK] != 0 && of.taken_s[STEP_RECHECKED] == 0;
        if (open && of.taken_s[STEP_RECHECK] >= *asked_s) {
            *asked_s = of.taken_s[STEP_RECHECK];
            *check = *of.standing;
            found = true;
        }
    }
    return found;
}

bool recheck_checked(struct turn *turn, int32_t machine)
{
    const struct settings *settings = turn->desk->settings;
    struct yard_standing check;
    bool found = false;
    if (machine < 0 && turn->has_question && turn->question.kind == QUESTION_RECHECK) {
        machine = desk_machine(turn->desk, turn->question.machine_id);
    }
    int64_t asked_s = machine >= 0 ? turn->now_s - RECHECK_CHASED_S : turn->now_s - DAY_S;
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
    turn->entry->machine = settings->machines[check.machine].name;
    if (turn->has_question && turn->question.kind == QUESTION_RECHECK &&
        turn->question.machine_id == check.machine_id) {
        question_close(turn, "yes");
    }
    (void)level_step(turn, &check, STEP_RECHECKED);
    turn_say(turn, WORDING_RECHECKED, &values);
    return true;
}

void recheck_waive(struct turn *turn, int32_t machine, int32_t plan)
{
    struct yard_standing standing;
    if (yard_stand(&turn->desk->yard, machine, plan, turn->now_s, &standing) == LEDGER_OK) {
        (void)level_step(turn, &standing, STEP_RECHECK);
        (void)level_step(turn, &standing, STEP_RECHECKED);
    }
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
    struct yard_standing standing;
    struct wording_values values = turn_values(turn, machine, -1);
    int32_t plan = settings_find_plan(turn->desk->settings, row->plan);
    reply_plain(body, strlen(body), values.value[WORDING_WORDS], WORDING_VALUE_OCTETS);
    tell_shop_first(turn, machine,
                    body[0] != '\0' ? WORDING_TELL_LEVEL_WORDS : WORDING_TELL_LEVEL_NO, &values);
    turn_say(turn, WORDING_LEVEL_NO, &values);
    if (machine >= 0 && plan >= 0 &&
        yard_stand(&turn->desk->yard, machine, plan, turn->now_s, &standing) == LEDGER_OK) {
        (void)level_step(turn, &standing, STEP_UNCHECKED); /* the shop knows: not chased any more */
    }
}

/* ---- what is sent about it */

/* What is said of the machine, in that language. */
static struct wording_values values_of(const struct case_of *of, enum wording_key says,
                                       const struct wording *wording)
{
    const struct settings *settings = of->desk->settings;
    int32_t today = zone_civil(of->now_s).day;
    struct wording_values values = {0};
    standing_values(of->desk, of->standing, wording, today, &values);
    wording_set_day(&values, WORDING_DAY, wording,
                    says == WORDING_TELL_UNBROUGHT ? of->standing->booked_day
                                                   : zone_civil(of->standing->read_s).day,
                    today);
    wording_set(&values, WORDING_PERSON,
                of->machine->crew_count > 0 ? settings->people[of->machine->crew[0]].name
                                            : settings->shop.name);
    if (of->standing->read) {
        wording_set_example(&values, wording, of->machine->name, of->standing->meter_hundredths);
    }
    return values;
}

/* Sends what the case has to say to one person. */
static void send(void *ctx, int32_t person)
{
    const struct case_of *of = ctx;
    const struct wording *wording = wording_of(of->desk->settings->people[person].language);
    struct wording_values values = values_of(of, of->says, wording);
    struct post_order order = {
        .person = person, .kind = of->kind, .now_s = of->now_s, .shop_hours = true};
    post_say(of->desk, &order, of->says, &values);
}

/* ---- the level, as days pass */

/* Whether the machine has run so far after a service that its level can be looked at, and is cold: no
 * reading since the shop has opened. */
static bool wants_check(const struct case_of *of)
{
    const struct yard_standing *standing = of->standing;
    int32_t today = zone_civil(of->now_s).day;
    int64_t after = of->plan->plan.recheck_after_hundredths;
    int64_t run = standing->true_hundredths - standing->last_done_true_hundredths;
    return standing->read && standing->cause_service_id != 0 && after > 0 && run >= after &&
           standing->last_done_day_known && today - standing->last_done_day <= RECHECK_OLD_DAYS &&
           standing->read_s <= zone_unix(today, of->desk->settings->shop.alert_from_minute * 60);
}

/* Asks the crew, and opens the question for each who has none open. */
static void ask_level(struct case_of *of)
{
    struct ledger *ledger = of->desk->ledger;
    of->kind = TEXTS_QUESTION;
    of->says = WORDING_CHASE_LEVEL;
    for (size_t i = 0; i < of->machine->crew_count; i++) {
        int32_t person = (int32_t)of->machine->crew[i];
        struct question_row row =
            question_row(QUESTION_RECHECK, of->standing->machine_id, of->now_s);
        struct wording_values values = {0};
        struct question_row open;
        bool replaced = false;
        send(of, person);
        wording_set(&values, WORDING_MACHINE, of->machine->name);
        (void)wording_write(wording_of(of->desk->settings->people[person].language),
                            WORDING_CHASE_LEVEL, &values, row.says, sizeof row.says);
        (void)snprintf(row.plan, sizeof row.plan, "%s", of->plan->name);
        row.asked_s = of->now_s;
        row.person_id = desk_person_id(of->desk, person);
        /* A question about a figure matters more: YES is left to that one. */
        if (questions_open(ledger, row.person_id, of->now_s - QUESTION_LAPSES_S, &open) ==
                LEDGER_NONE ||
            open.kind == QUESTION_RECHECK) {
            (void)questions_ask(ledger, &row, &replaced);
        }
    }
}

/* The crew on the first morning after it has run, the machine being cold; once more after a day; and
 * the shop after another. */
static void chase_level(struct case_of *of)
{
    (void)alerts_each(of->desk->ledger, of->standing->machine_id, see_alert, of);
    const int64_t *taken_s = of->taken_s;
    int64_t asked_s = taken_s[STEP_RECHECK];
    enum step next = asked_s == 0                  ? STEP_RECHECK
                     : taken_s[STEP_REMINDED] == 0 ? STEP_REMINDED
                                                   : STEP_UNCHECKED;
    int64_t last_s = next == STEP_UNCHECKED ? taken_s[STEP_REMINDED] : asked_s;
    struct alert_row row = {.machine_id = of->standing->machine_id,
                            .cycle = of->standing->cycle,
                            .raised_s = of->now_s,
                            .cause_service_id = of->standing->cause_service_id};
    bool over = taken_s[STEP_RECHECKED] != 0 || taken_s[STEP_UNCHECKED] != 0 ||
                (asked_s != 0 && of->now_s - asked_s > RECHECK_CHASED_S);
    bool in_time = asked_s == 0 ? wants_check(of) : of->now_s - last_s >= DAY_S;
    if (over || !in_time || !alert_once(of->desk->ledger, stages[next], of->plan->name, &row)) {
        return;
    }
    if (next == STEP_UNCHECKED) {
        of->kind = TEXTS_NOTICE;
        of->says = WORDING_TELL_UNCHECKED;
        reachable_each(of->desk, of->standing->machine, send, of);
    } else {
        ask_level(of);
    }
}

/* ---- silence */

/* A machine that is near its service, for all that nobody says, is asked after so often. */
#define WANTED_AGAIN_DAYS 3
#define WANTED_LATE_DAYS 4 /* a week-end is no silence */

static struct alert_row silent_row(const struct case_of *of)
{
    return (struct alert_row){.machine_id = of->standing->machine_id,
                              .cycle = of->standing->cause_reading_id,
                              .raised_s = of->now_s};
}

/* What is told of one machine: a sentence to its crew, one to the shop; WORDING_KEYS none. */
struct word {
    const struct yard_standing *standing;
    enum wording_key crew, shop;
};

static void see_spell(void *ctx, int64_t from_s, int64_t until_s)
{
    int64_t *since_s = ctx;
    (void)from_s;
    *since_s = until_s > *since_s ? until_s : *since_s;
}

/* The crew after silence_days, the shop after half as long again; from the end of a season laid up. */
static struct word chase_silence(const struct case_of *of)
{
    struct word word = {of->standing, WORDING_KEYS, WORDING_KEYS};
    int64_t days = of->desk->settings->shop.silence_days;
    int64_t since_s = of->standing->read_s;
    struct alert_row row = silent_row(of);
    if (days <= 0 || of->now_s - since_s < days * DAY_S) {
        return word;
    }
    (void)machines_parked_each(of->desk->ledger, of->standing->machine_id, see_spell, &since_s);
    int64_t silent_s = of->now_s - since_s;
    if (silent_s < days * DAY_S) {
        return word;
    }
    if (alert_once(of->desk->ledger, stages[STEP_SILENT], "", &row)) {
        word.crew = WORDING_CHASE_READING;
    } else if (silent_s >= (days + (days + 1) / 2) * DAY_S &&
               alert_once(of->desk->ledger, stages[STEP_SILENT_SHOP], "", &row)) {
        word.shop = WORDING_TELL_SILENT;
    }
    return word;
}

/* The crew every few days until a reading comes; the shop once, when the crew has let that pass, or
 * after a few days where the point is likely reached. */
static struct word chase_wanted(const struct case_of *of)
{
    const struct yard_standing *standing = of->standing;
    struct word word = {standing, WORDING_KEYS, WORDING_KEYS};
    struct alert_row row = silent_row(of);
    char mark[32];
    int64_t asked_s = 0;
    (void)snprintf(mark, sizeof mark, "wanted %lld", (long long)standing->machine_id);
    (void)marks_get(of->desk->ledger, mark, &asked_s);
    bool asked = asked_s > standing->read_s;
    bool late = of->now_s - standing->read_s > WANTED_LATE_DAYS * DAY_S &&
                standing->likely_meter_hundredths >= standing->due_meter_hundredths;
    if (asked && zone_civil(of->now_s).day - zone_civil(asked_s).day < WANTED_AGAIN_DAYS) {
        return word;
    }
    (void)marks_set(of->desk->ledger, mark, of->now_s);
    word.crew = WORDING_CHASE_READING;
    if ((asked || late) && alert_once(of->desk->ledger, stages[STEP_WANTED], "", &row)) {
        word.shop = WORDING_TELL_WANTED;
    }
    return word;
}

/* A booked day that has passed is told once: nobody brought it. */
static struct word chase_booking(const struct case_of *of)
{
    struct word word = {of->standing, WORDING_KEYS, WORDING_KEYS};
    struct alert_row row = {.machine_id = of->standing->machine_id,
                            .cycle = of->standing->booked_day,
                            .raised_s = of->now_s};
    if (of->standing->booked_day < zone_civil(of->now_s).day &&
        alert_once(of->desk->ledger, stages[STEP_UNBROUGHT], "", &row)) {
        word.shop = WORDING_TELL_UNBROUGHT;
    }
    return word;
}

/* ---- one text to each */

#define WORDS_MOST 64 /* of the others tomorrow */
#define SEGMENTS_MOST 3

/* What is told of the machine to that person: as its crew, or as one of the shop. */
static enum wording_key word_for(const struct settings *settings, const struct word *word,
                                 int32_t person)
{
    int32_t machine = word->standing->machine;
    if (names_own(settings, machine, person)) {
        return word->crew;
    }
    return settings->people[person].role == SETTINGS_ROLE_SHOP && hears(settings, person, machine)
               ? word->shop
               : WORDING_KEYS;
}

/* The sentences for one person, in as many texts as they take. */
static void tell_person(const struct round *round, const struct word *words, size_t count,
                        int32_t person)
{
    struct draft draft = draft_to(round->desk, person);
    for (size_t i = 0; i < count; i++) {
        enum wording_key key = word_for(round->desk->settings, &words[i], person);
        if (key == WORDING_KEYS) {
            continue;
        }
        size_t before = strlen(draft.body);
        struct case_of of = case_of(round->desk, words[i].standing, round->now_s);
        struct wording_values values = values_of(&of, key, draft.wording);
        draft_add(&draft, key, &values);
        if (before > 0 && reply_segments(draft.body) > SEGMENTS_MOST) {
            draft.body[before] = '\0';
            (void)draft_send(&draft, TEXTS_NOTICE, round->now_s);
            draft.body[0] = '\0';
            draft_add(&draft, key, &values);
        }
    }
    (void)draft_send(&draft, TEXTS_NOTICE, round->now_s);
}

/* What there is to say of the row; its machine is looked at with its first plan, or with the one for
 * which a reading is wanted. */
static struct word chase_one(const struct round *round, struct case_of *of)
{
    const struct yard_standing *standing = of->standing;
    const struct settings_kind *kind = yard_kind(round->desk->settings, standing->machine);
    bool first_plan = kind->plans[0] == (size_t)standing->plan;
    bool rests = standing_rests(standing, zone_civil(round->now_s).day);
    bool any_wanted = false;
    struct word word = {standing, WORDING_KEYS, WORDING_KEYS};
    if (first_plan && standing->booked && !rests) {
        word = chase_booking(of);
    }
    if (word.shop != WORDING_KEYS || standing->parked || !standing->read || rests) {
        return word;
    }
    if (standing->wanted) {
        return chase_wanted(of);
    }
    for (size_t i = 0; i < round->count; i++) {
        const struct yard_standing *row = &round->standings[i];
        any_wanted = any_wanted || (row->machine == standing->machine && row->wanted);
    }
    return first_plan && !any_wanted ? chase_silence(of) : word;
}

void chase_all(const struct round *round)
{
    struct word words[WORDS_MOST];
    size_t count = 0;
    for (size_t i = 0; i < round->count && count < WORDS_MOST; i++) {
        struct case_of of = case_of(round->desk, &round->standings[i], round->now_s);
        words[count] = chase_one(round, &of);
        count += words[count].crew != WORDING_KEYS || words[count].shop != WORDING_KEYS;
        if (of.standing->cause_service_id != 0 && !of.standing->parked &&
            of.plan->plan.recheck_after_hundredths > 0) {
            chase_level(&of);
        }
    }
    for (size_t i = 0; count > 0 && i < round->desk->settings->person_count; i++) {
        tell_person(round, words, count, (int32_t)i);
    }
}
