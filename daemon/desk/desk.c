/* SPDX-License-Identifier: MIT
 * desk: what it has in its hands, made once for the settings and made anew with others: the yard's
 * names, and the time it works by. */
#include "daemon/desk/desk.h"

#include <stdlib.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/post.h"
#include "daemon/ground/log.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"

/* ---- who may name which machine */

static void names_free(struct names *names)
{
    free(names->machines);
    free(names->index);
    free(names->former);
    free(names->plans);
    free(names->people);
    free(names->titles);
    *names = (struct names){0};
}

/* Room for the settings; false when memory is short. */
static bool names_new(struct names *names, const struct settings *settings)
{
    /* One more than there are, so that an empty yard is no failure of the allocator. */
    size_t machine_count = settings->machine_count;
    for (size_t i = 0; i < settings->machine_count; i++) {
        machine_count += settings->machines[i].formerly_count;
    }
    names->machines = calloc(machine_count + 1, sizeof *names->machines);
    names->index = calloc(machine_count + 1, sizeof *names->index);
    names->former = calloc(machine_count + 1, sizeof *names->former);
    names->plans = calloc(settings->plan_count + 1, sizeof *names->plans);
    names->people = calloc(settings->person_count + 1, sizeof *names->people);
    size_t title_count = settings->plan_count * (1 + WORDS_LANGUAGE_COUNT);
    names->titles = calloc(title_count + 1, sizeof *names->titles);
    if (names->machines == NULL || names->index == NULL || names->former == NULL ||
        names->plans == NULL || names->people == NULL || names->titles == NULL) {
        names_free(names);
        return false;
    }
    for (size_t i = 0; i < settings->plan_count; i++) {
        names->plans[i] = settings->plans[i].name;
        names->titles[i] = (struct crew_title){settings->plans[i].title, (int32_t)i};
        for (size_t k = 0; k < WORDS_LANGUAGE_COUNT; k++) {
            names->titles[settings->plan_count * (k + 1) + i] =
                (struct crew_title){settings->plans[i].titles[k], (int32_t)i};
        }
    }
    for (size_t i = 0; i < settings->person_count; i++) {
        names->people[i] = settings->people[i].name;
    }
    names->view = (struct crew_names){.machines = names->machines,
                                      .plans = names->plans,
                                      .plan_count = settings->plan_count,
                                      .people = names->people,
                                      .people_count = settings->person_count,
                                      .titles = names->titles,
                                      .title_count = title_count};
    return true;
}

bool names_own(const struct settings *settings, int32_t machine, int32_t person)
{
    const struct settings_machine *row = &settings->machines[machine];
    for (size_t i = 0; i < row->crew_count; i++) {
        if (row->crew[i] == (size_t)person) {
            return true;
        }
    }
    return false;
}

/* A machine without an owner is everybody's. */
static bool serves_owner(const struct settings *settings, const char *owner, int32_t person)
{
    if (owner[0] == '\0' || settings->people[person].role == SETTINGS_ROLE_SHOP) {
        return true;
    }
    for (size_t i = 0; i < settings->machine_count; i++) {
        if (strcmp(settings->machines[i].owner, owner) == 0 &&
            names_own(settings, (int32_t)i, person)) {
            return true;
        }
    }
    return false;
}

/* The plans of a machine's kind, a bit each. */
static uint64_t plans_of(const struct settings *settings, const struct settings_machine *machine)
{
    const struct settings_kind *kind = &settings->kinds[machine->kind];
    uint64_t plans = 0;
    for (size_t i = 0; i < kind->plan_count; i++) {
        plans |= kind->plans[i] < 64 ? UINT64_C(1) << kind->plans[i] : 0;
    }
    return plans;
}

/* A machine's name, and those it had before; they count as nobody's own, so that of a bare number the
 * name of now is meant. Returns how many there are then. */
static size_t add_names(struct names *names, const struct settings *settings, int32_t index,
                        int32_t person, size_t count)
{
    const struct settings_machine *machine = &settings->machines[index];
    for (size_t i = 0; i <= machine->formerly_count; i++) {
        const char *former = i > 0 ? machine->formerly[i - 1] : NULL;
        names->machines[count] =
            (struct crew_machine){.name = i > 0 ? former : machine->name,
                                  .own = i == 0 && names_own(settings, index, person),
                                  .plans = plans_of(settings, machine)};
        names->index[count] = index;
        names->former[count] = former;
        count++;
    }
    return count;
}

void names_for(struct names *names, const struct settings *settings, int32_t person)
{
    size_t count = 0;
    for (size_t i = 0; i < settings->machine_count; i++) {
        const struct settings_machine *machine = &settings->machines[i];
        /* Neighbours in the file mostly share an owner: asked once for a run of them. */
        bool same = i > 0 && count > 0 && names->index[count - 1] == (int32_t)i - 1 &&
                    strcmp(machine->owner, settings->machines[i - 1].owner) == 0;
        if (same || serves_owner(settings, machine->owner, person)) {
            count = add_names(names, settings, (int32_t)i, person, count);
        }
    }
    names->view.machine_count = count;
}

/* ---- the time it works by */

/* The network's time is told every half hour; after a day without it, it is no witness any more. */
#define NETWORK_WORTH_MS (INT64_C(24) * 3600 * 1000)

void desk_clock_text(struct desk_clock *clock, struct instant now, int64_t said_s)
{
    for (size_t i = 0; i < clock->count; i++) {
        if (clock->texts[i].said_s == said_s) {
            return;
        }
    }
    clock->count += clock->count < CLOCK_STAMPS_MOST ? 1 : 0;
    memmove(&clock->texts[1], &clock->texts[0], (clock->count - 1) * sizeof clock->texts[0]);
    clock->texts[0].said_s = said_s;
    clock->texts[0].came_ms = now.mono_ms;
}

struct clock_judgement desk_clock_state(const struct desk *desk, struct instant now)
{
    const struct desk_clock *clock = &desk->clock;
    struct clock_facts facts = {
        .now_s = now.wall_s, .witnessed_s = clock->witnessed_s, .stamp_count = clock->count};
    int64_t told_ms = now.mono_ms - clock->network_ms;
    if (clock->network_s != 0 && told_ms >= 0 && told_ms <= NETWORK_WORTH_MS) {
        facts.network_s = clock->network_s + told_ms / 1000;
    }
    for (size_t i = 0; i < clock->count; i++) {
        facts.stamps[i].said_s = clock->texts[i].said_s;
        facts.stamps[i].age_s = (now.mono_ms - clock->texts[i].came_ms) / 1000;
    }
    return clock_judge(&facts);
}

/* Into the log, once for each change. */
static void tell_clock(struct desk_clock *clock, const struct clock_judgement *judgement)
{
    if (judgement->verdict == clock->told) {
        return;
    }
    clock->told = judgement->verdict;
    switch (judgement->verdict) {
    case CLOCK_VERDICT_TRUSTED:
        log_notice("clock: the box's clock is believed again");
        break;
    case CLOCK_VERDICT_UNKNOWN:
        log_error("clock: nothing that goes by dates is told until the network or a text confirms "
                  "the box's clock: %s",
                  clock_reason_says(judgement->reason));
        break;
    case CLOCK_VERDICT_BEHIND:
    case CLOCK_VERDICT_AHEAD:
        log_error("clock: the box's clock is plainly wrong, nothing is dated by it: %s; set it",
                  clock_reason_says(judgement->reason));
        break;
    }
}

void desk_timed(struct desk *desk, struct instant now, int64_t network_s)
{
    desk->clock.network_s = network_s;
    desk->clock.network_ms = now.mono_ms;
}

struct clock_judgement desk_judge_clock(struct desk *desk, struct instant now)
{
    struct clock_judgement judgement = desk_clock_state(desk, now);
    tell_clock(&desk->clock, &judgement);
    desk->dates_held = judgement.verdict != CLOCK_VERDICT_TRUSTED;
    return judgement;
}

int64_t desk_time(struct desk *desk, struct instant now)
{
    return desk_judge_clock(desk, now).time_s;
}

int64_t desk_time_or_wall(struct desk *desk, struct instant now)
{
    int64_t now_s = desk_time(desk, now);
    return now_s != 0 ? now_s : now.wall_s;
}

/* ---- its room */

struct desk *desk_new(const struct settings *settings, struct ledger *ledger)
{
    struct desk *desk = calloc(1, sizeof *desk);
    struct crew_text_room *hearing = calloc(1, crew_text_room_octets());
    if (desk == NULL || hearing == NULL) {
        free(hearing);
        free(desk);
        return NULL;
    }
    desk->hearing = hearing;
    desk->ledger = ledger;
    desk->undated = true;
    desk->working = UINT32_MAX;
    (void)marks_get(ledger, MARKS_WITNESSED, &desk->clock.witnessed_s); /* 0 where there is none */
    desk->parts_since_s = 1; /* from before the start: to be looked at */
    if (!desk_configure(desk, settings)) {
        free(hearing);
        free(desk);
        return NULL;
    }
    return desk;
}

void desk_free(struct desk *desk)
{
    if (desk != NULL) {
        (void)post_put_back(desk); /* else it is sent at the next start, marked */
        names_free(&desk->names);
        free(desk->chatter);
        free(desk->hearing);
        free(desk);
    }
}

/* The record of a machine that the config calls otherwise now goes on under its new name. What cannot be
 * written now is done at the next start: until then what comes in stands under the new name, and joins. */
static void follow_renames(struct ledger *ledger, const struct settings *settings)
{
    for (size_t i = 0; i < settings->machine_count; i++) {
        const struct settings_machine *machine = &settings->machines[i];
        for (size_t k = 0; k < machine->formerly_count; k++) {
            enum ledger_result result =
                machines_rename(ledger, machine->formerly[k], machine->name);
            if (result == LEDGER_OK) {
                log_notice("desk: the record of %s goes on as that of %s", machine->formerly[k],
                           machine->name);
            } else if (result != LEDGER_NONE) {
                log_warnx("desk: the record of %s does not go on as that of %s: %s",
                          machine->formerly[k], machine->name, ledger_says(ledger));
            }
        }
    }
}

bool desk_configure(struct desk *desk, const struct settings *settings)
{
    struct names names;
    struct chatter *chatter = calloc(settings->person_count + 1, sizeof *chatter);
    if (chatter == NULL || !names_new(&names, settings)) {
        free(chatter);
        return false;
    }
    (void)post_put_back(desk); /* the modems may be others */
    names_free(&desk->names);
    free(desk->chatter);
    desk->names = names;
    desk->chatter = chatter;
    desk->settings = settings;
    desk->yard = (struct yard){.settings = settings, .ledger = desk->ledger};
    follow_renames(desk->ledger, settings);
    desk->unsettled = true; /* other plans may call for other alerts */
    return true;
}

void desk_look_again(struct desk *desk)
{
    desk->unsettled = true;
}

int32_t desk_machine(struct desk *desk, int64_t machine_id)
{
    char name[PEOPLE_NAME_OCTETS];
    return machines_name(desk->ledger, machine_id, name) == LEDGER_OK
               ? settings_find_machine(desk->settings, name)
               : -1;
}

int32_t desk_person(struct desk *desk, int64_t person_id)
{
    char name[PEOPLE_NAME_OCTETS];
    return people_name(desk->ledger, person_id, name) == LEDGER_OK
               ? settings_find_person(desk->settings, name)
               : -1;
}

int64_t desk_person_id(struct desk *desk, int32_t person)
{
    int64_t person_id = 0;
    (void)people_id(desk->ledger, desk->settings->people[person].name, &person_id);
    return person_id;
}

bool desk_last_reading(struct desk *desk, int64_t machine_id, int64_t until_s,
                       struct reading_row *row)
{
    size_t count = 0;
    return readings_latest(desk->ledger, machine_id, until_s, 1, row, &count) == LEDGER_OK &&
           count > 0;
}
