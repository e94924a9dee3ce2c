/* SPDX-License-Identifier: MIT
 * settings: looking things up in them, and their end. */
#include "config/settings.h"

#include <stdlib.h>
#include <string.h>

#include "config/settings_nouns.h"
#include "config/settings_room.h"
#include "parsers/crew_text.h"

void settings_free(struct settings *settings)
{
    if (settings != NULL) {
        settings_room_free(settings->room);
        free(settings);
    }
}

/* As it is written first, since most callers have it so; then as the grammar compares. */
static int32_t find(const struct settings *settings, const struct settings_noun *noun,
                    const char *name)
{
    size_t count = noun->count(settings);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(noun->name_of(settings, i), name) == 0) {
            return (int32_t)i;
        }
    }
    for (size_t i = 0; i < count; i++) {
        if (crew_text_names_alike(noun->name_of(settings, i), name)) {
            return (int32_t)i;
        }
    }
    return -1;
}

int32_t settings_find_machine(const struct settings *settings, const char *name)
{
    return find(settings, &settings_noun_machine, name);
}

int32_t settings_find_person(const struct settings *settings, const char *name)
{
    return find(settings, &settings_noun_person, name);
}

int32_t settings_find_plan(const struct settings *settings, const char *name)
{
    return find(settings, &settings_noun_plan, name);
}

int32_t settings_find_kind(const struct settings *settings, const char *name)
{
    return find(settings, &settings_noun_kind, name);
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

bool settings_any_kit(const struct settings *settings)
{
    for (size_t i = 0; i < settings->plan_count; i++) {
        if (settings->plans[i].kit_count > 0) {
            return true;
        }
    }
    return false;
}
