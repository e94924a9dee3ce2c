/* SPDX-License-Identifier: MIT
 * settings: looking things up in them, and their end. */
#include "config/settings.h"

#include <stdlib.h>
#include <string.h>

#include "config/settings_room.h"
#include "parsers/crew_text.h"

void settings_free(struct settings *settings)
{
    if (settings != NULL) {
        settings_room_free(settings->room);
        free(settings);
    }
}

int32_t settings_find_machine(const struct settings *settings, const char *name)
{
    for (size_t i = 0; i < settings->machine_count; i++) {
        if (crew_text_names_alike(settings->machines[i].name, name)) {
            return (int32_t)i;
        }
    }
    return -1;
}

int32_t settings_find_person(const struct settings *settings, const char *name)
{
    for (size_t i = 0; i < settings->person_count; i++) {
        if (crew_text_names_alike(settings->people[i].name, name)) {
            return (int32_t)i;
        }
    }
    return -1;
}

int32_t settings_find_phone(const struct settings *settings, const char *phone)
{
    for (size_t i = 0; i < settings->person_count; i++) {
        if (strcmp(settings->people[i].phone, phone) == 0) {
            return (int32_t)i;
        }
    }
    return -1;
}

int32_t settings_find_plan(const struct settings *settings, const char *name)
{
    for (size_t i = 0; i < settings->plan_count; i++) {
        if (crew_text_names_alike(settings->plans[i].name, name)) {
            return (int32_t)i;
        }
    }
    return -1;
}

int32_t settings_find_kind(const struct settings *settings, const char *name)
{
    for (size_t i = 0; i < settings->kind_count; i++) {
        if (crew_text_names_alike(settings->kinds[i].name, name)) {
            return (int32_t)i;
        }
    }
    return -1;
}
