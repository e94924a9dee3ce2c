/* SPDX-License-Identifier: MIT
 * telling: from a machine to those who hear of it, and from sentences to a text on its way. */
#include "daemon/desk/telling.h"

#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/post.h"
#include "daemon/ledger/people.h"

/* ---- who is told */

static bool covers(const struct settings_person *person, const char *site)
{
    bool found = person->site_count == 0;
    for (size_t i = 0; i < person->site_count; i++) {
        found = found || strcmp(person->sites[i], site) == 0;
    }
    return found;
}

bool hears(const struct settings *settings, int32_t person, int32_t machine)
{
    if (machine < 0 || covers(&settings->people[person], settings->machines[machine].site)) {
        return true;
    }
    for (size_t i = 0; i < settings->person_count; i++) {
        if (settings->people[i].role == SETTINGS_ROLE_SHOP &&
            covers(&settings->people[i], settings->machines[machine].site)) {
            return false;
        }
    }
    return true;
}

void reachable_each(struct desk *desk, int32_t machine, void (*each)(void *ctx, int32_t person),
                    void *ctx)
{
    for (size_t i = 0; i < desk->settings->person_count; i++) {
        const struct settings_person *person = &desk->settings->people[i];
        int64_t since_s = 0;
        if (person->role == SETTINGS_ROLE_SHOP && hears(desk->settings, (int32_t)i, machine) &&
            people_opted_out(desk->ledger, desk_person_id(desk, (int32_t)i), &since_s) ==
                LEDGER_OK &&
            since_s == 0) {
            each(ctx, (int32_t)i);
        }
    }
}

int32_t tell_reader(struct desk *desk, int32_t machine, int64_t now_s)
{
    const struct settings *settings = desk->settings;
    const struct settings_machine *row = &settings->machines[machine];
    struct reading_row last;
    int64_t machine_id = 0;
    (void)machines_id(desk->ledger, row->name, &machine_id);
    int32_t person =
        desk_last_reading(desk, machine_id, now_s, &last) ? desk_person(desk, last.person_id) : -1;
    if (person >= 0 && settings->people[person].role == SETTINGS_ROLE_CREW) {
        return person;
    }
    return row->crew_count > 0 ? (int32_t)row->crew[0] : -1;
}

/* ---- a text in the making */

struct draft draft_to(struct desk *desk, int32_t person)
{
    return (struct draft){.desk = desk,
                          .person = person,
                          .wording = wording_of(desk->settings->people[person].language)};
}

void draft_begin(struct draft *draft)
{
    struct wording_values values = {0};
    wording_set(&values, WORDING_SHOP, draft->desk->settings->shop.name);
    draft->body[0] = '\0';
    draft_add(draft, WORDING_TELL_HEAD, &values);
}

void draft_add(struct draft *draft, enum wording_key key, const struct wording_values *values)
{
    wording_append(draft->wording, key, values, draft->body, sizeof draft->body);
}

void draft_count(struct draft *draft, enum wording_key key, int64_t count)
{
    struct wording_values values = {0};
    wording_set_number(&values, WORDING_COUNT, count);
    if (count > 0) {
        draft_add(draft, key, &values);
    }
}

bool draft_holds(struct draft *draft, size_t before)
{
    bool holds = reply_segments(draft->body) <= DRAFT_SEGMENTS_MOST;
    if (!holds) {
        draft->body[before] = '\0';
    }
    return holds;
}

int64_t draft_send(const struct draft *draft, enum texts_kind kind, int64_t now_s)
{
    struct post_order order = {.person = draft->person,
                               .kind = kind,
                               .body = draft->body,
                               .now_s = now_s,
                               .shop_hours = true};
    return post_queue(draft->desk, &order);
}

/* ---- one sentence of a turn */

struct sentence {
    struct turn *turn;
    enum wording_key key;
    const struct wording_values *values;
    enum texts_kind kind;
};

static void tell_one(void *ctx, int32_t person)
{
    const struct sentence *sentence = ctx;
    const struct turn *turn = sentence->turn;
    struct post_order order = {.person = person,
                               .kind = sentence->kind,
                               .about_text_id = turn->text_id,
                               .now_s = turn->now_s,
                               .shop_hours = true};
    if (person != turn->person) {
        post_say(turn->desk, &order, sentence->key, sentence->values);
    }
}

void tell_shop(struct turn *turn, int32_t machine, enum wording_key key,
               const struct wording_values *values)
{
    struct sentence sentence = {turn, key, values, TEXTS_NOTICE};
    reachable_each(turn->desk, machine, tell_one, &sentence);
}

void tell_shop_first(struct turn *turn, int32_t machine, enum wording_key key,
                     const struct wording_values *values)
{
    struct sentence sentence = {turn, key, values, TEXTS_ALERT};
    reachable_each(turn->desk, machine, tell_one, &sentence);
}

/* Whether any plan of the machine is one that its crew is told of. */
static bool tells_crew(const struct settings *settings, int32_t machine)
{
    const struct settings_kind *kind = yard_kind(settings, machine);
    bool tells = kind->plan_count == 0;
    for (size_t i = 0; i < kind->plan_count; i++) {
        tells = tells || settings->plans[kind->plans[i]].tell_crew;
    }
    return tells;
}

void tell_crew(struct turn *turn, int32_t machine, enum wording_key key, int32_t day)
{
    const struct settings *settings = turn->desk->settings;
    int32_t person = tell_reader(turn->desk, machine, turn->now_s);
    if (person < 0 || !tells_crew(settings, machine)) {
        return;
    }
    struct wording_values values = turn_values(turn, machine, -1);
    wording_set_day(&values, WORDING_DAY, wording_of(settings->people[person].language), day,
                    turn->today);
    struct post_order order = {.person = person,
                               .kind = TEXTS_NOTICE,
                               .about_text_id = turn->text_id,
                               .now_s = turn->now_s,
                               .shop_hours = true};
    post_say(turn->desk, &order, key, &values);
}
