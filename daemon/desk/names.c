/* SPDX-License-Identifier: MIT
 * names: who may name which machine. */
#include "daemon/desk/names.h"

#include <stdlib.h>
#include <string.h>

bool names_new(struct names *names, const struct settings *settings)
{
    /* One more than there are, so that an empty yard is no failure of the allocator. */
    names->machines = calloc(settings->machine_count + 1, sizeof *names->machines);
    names->index = calloc(settings->machine_count + 1, sizeof *names->index);
    names->plans = calloc(settings->plan_count + 1, sizeof *names->plans);
    names->people = calloc(settings->person_count + 1, sizeof *names->people);
    if (names->machines == NULL || names->index == NULL || names->plans == NULL ||
        names->people == NULL) {
        names_free(names);
        return false;
    }
    for (size_t i = 0; i < settings->plan_count; i++) {
        names->plans[i] = settings->plans[i].name;
    }
    for (size_t i = 0; i < settings->person_count; i++) {
        names->people[i] = settings->people[i].name;
    }
    names->view = (struct crew_names){.machines = names->machines,
                                      .plans = names->plans,
                                      .plan_count = settings->plan_count,
                                      .people = names->people,
                                      .people_count = settings->person_count};
    return true;
}

void names_free(struct names *names)
{
    free(names->machines);
    free(names->index);
    free(names->plans);
    free(names->people);
    *names = (struct names){0};
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

void names_for(struct names *names, const struct settings *settings, int32_t person)
{
    size_t count = 0;
    for (size_t i = 0; i < settings->machine_count; i++) {
        const struct settings_machine *machine = &settings->machines[i];
        /* Neighbours in the file mostly share an owner: asked once for a run of them. */
        bool same = i > 0 && count > 0 && names->index[count - 1] == (int32_t)i - 1 &&
                    strcmp(machine->owner, settings->machines[i - 1].owner) == 0;
        if (same || serves_owner(settings, machine->owner, person)) {
            names->machines[count] = (struct crew_machine){
                .name = machine->name, .own = names_own(settings, (int32_t)i, person)};
            names->index[count] = (int32_t)i;
            count++;
        }
    }
    names->view.machine_count = count;
}
