/* SPDX-License-Identifier: MIT
 * chase: crews are asked again, and then the shop is told, about a machine that has sent no reading for
 * long, or that has come near its service meanwhile; and the shop about one that was booked and not
 * brought. Each step is an alert of its own stage, which makes it once: for silence once a last reading. */
#include "daemon/desk/notices.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/recheck.h"
#include "daemon/desk/telling.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"

#define DAY_S (24 * 3600)

/* What is told of one machine: a sentence to its crew, one to the shop; WORDING_KEYS none. */
struct word {
    const struct yard_standing *standing;
    enum wording_key crew, shop;
};

/* Whether that is said now: once a cycle. */
static bool once(const struct round *round, const struct yard_standing *standing, const char *stage,
                 int64_t cycle)
{
    struct alert_row row = {
        .machine_id = standing->machine_id, .cycle = cycle, .raised_s = round->now_s};
    return alert_once(round->desk->ledger, stage, "", &row);
}

/* A machine that is near its service, for all that nobody says, is asked after so often. */
#define WANTED_AGAIN_DAYS 3
#define WANTED_LATE_DAYS 4 /* a week-end is no silence */

static void see_spell(void *ctx, int64_t from_s, int64_t until_s)
{
    int64_t *since_s = ctx;
    (void)from_s;
    *since_s = until_s > *since_s ? until_s : *since_s;
}

/* The crew after silence_days, the shop after half as long again; from the end of a season laid up. */
static struct word chase_silence(const struct round *round, const struct yard_standing *standing)
{
    struct word word = {standing, WORDING_KEYS, WORDING_KEYS};
    int64_t days = round->desk->settings->shop.silence_days;
    int64_t since_s = standing->read_s;
    if (days <= 0 || round->now_s - since_s < days * DAY_S) {
        return word;
    }
    (void)machines_parked_each(round->desk->ledger, standing->machine_id, see_spell, &since_s);
    int64_t silent_s = round->now_s - since_s;
    if (silent_s < days * DAY_S) {
        return word;
    }
    if (once(round, standing, "silent", standing->cause_reading_id)) {
        word.crew = WORDING_CHASE_READING;
    } else if (silent_s >= (days + (days + 1) / 2) * DAY_S &&
               once(round, standing, "silent-shop", standing->cause_reading_id)) {
        word.shop = WORDING_TELL_SILENT;
    }
    return word;
}

/* The crew every few days until a reading comes; the shop once, when the crew has let that pass, or
 * after a few days where the point is likely reached. */
static struct word chase_wanted(const struct round *round, const struct yard_standing *standing)
{
    struct word word = {standing, WORDING_KEYS, WORDING_KEYS};
    char mark[32];
    int64_t asked_s = 0;
    (void)snprintf(mark, sizeof mark, "wanted %lld", (long long)standing->machine_id);
    (void)marks_get(round->desk->ledger, mark, &asked_s);
    bool asked = asked_s > standing->read_s;
    bool late = round->now_s - standing->read_s > WANTED_LATE_DAYS * DAY_S &&
                standing->likely_meter_hundredths >= standing->due_meter_hundredths;
    if (asked && zone_civil(round->now_s).day - zone_civil(asked_s).day < WANTED_AGAIN_DAYS) {
        return word;
    }
    (void)marks_set(round->desk->ledger, mark, round->now_s);
    word.crew = WORDING_CHASE_READING;
    if ((asked || late) && once(round, standing, "wanted", standing->cause_reading_id)) {
        word.shop = WORDING_TELL_WANTED;
    }
    return word;
}

/* ---- one text to each */

#define WORDS_MOST 64 /* of the others tomorrow */

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

/* What is said of the machine, in the words for that. */
static struct wording_values values_of(const struct draft *draft, enum wording_key says,
                                       const struct yard_standing *standing, int32_t today)
{
    const struct settings *settings = draft->desk->settings;
    const struct settings_machine *machine = &settings->machines[standing->machine];
    struct wording_values values = {0};
    standing_values(draft->desk, standing, draft->wording, today, &values);
    wording_set_day(&values, WORDING_DAY, draft->wording,
                    says == WORDING_TELL_UNBROUGHT ? standing->booked_day
                                                   : zone_civil(standing->read_s).day,
                    today);
    wording_set(&values, WORDING_PERSON,
                machine->crew_count > 0 ? settings->people[machine->crew[0]].name
                                        : settings->shop.name);
    if (standing->read) {
        wording_set_example(&values, draft->wording, machine->name, standing->meter_hundredths);
    }
    return values;
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
        struct wording_values values =
            values_of(&draft, key, words[i].standing, zone_civil(round->now_s).day);
        draft_add(&draft, key, &values);
        if (before > 0 && !draft_holds(&draft, before)) {
            (void)draft_send(&draft, TEXTS_NOTICE, round->now_s);
            draft.body[0] = '\0';
            draft_add(&draft, key, &values);
        }
    }
    (void)draft_send(&draft, TEXTS_NOTICE, round->now_s);
}

/* What there is to say of the row; its machine is looked at with its first plan, or with the one for
 * which a reading is wanted. */
static struct word chase_one(const struct round *round, const struct yard_standing *standing)
{
    const struct settings_kind *kind = yard_kind(round->desk->settings, standing->machine);
    int32_t today = zone_civil(round->now_s).day;
    bool first_plan = kind->plans[0] == (size_t)standing->plan;
    bool any_wanted = false;
    struct word word = {standing, WORDING_KEYS, WORDING_KEYS};
    /* A booked day that has passed is told once: nobody brought it. */
    if (first_plan && standing->booked && standing->booked_day < today &&
        once(round, standing, "unbrought", standing->booked_day)) {
        word.shop = WORDING_TELL_UNBROUGHT;
        return word;
    }
    if (standing->parked || !standing->read || standing_rests(standing, today)) {
        return word;
    }
    if (standing->wanted) {
        return chase_wanted(round, standing);
    }
    for (size_t i = 0; i < round->count; i++) {
        const struct yard_standing *row = &round->standings[i];
        any_wanted = any_wanted || (row->machine == standing->machine && row->wanted);
    }
    return first_plan && !any_wanted ? chase_silence(round, standing) : word;
}

void chase_all(const struct round *round)
{
    struct word words[WORDS_MOST];
    size_t count = 0;
    for (size_t i = 0; i < round->count && count < WORDS_MOST; i++) {
        words[count] = chase_one(round, &round->standings[i]);
        count += words[count].crew != WORDING_KEYS || words[count].shop != WORDING_KEYS;
        recheck_chase(round, &round->standings[i]);
    }
    for (size_t i = 0; count > 0 && i < round->desk->settings->person_count; i++) {
        tell_person(round, words, count, (int32_t)i);
    }
}
