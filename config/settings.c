/* SPDX-License-Identifier: MIT
 * settings: looking things up in them, and their end. */
#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

#include "config/settings.h"
#include "config/settings_reader.h"
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

static size_t count_machines(const struct settings *settings)
{
    return settings->machine_count;
}
static const char *name_machine(const struct settings *settings, size_t index)
{
    return settings->machines[index].name;
}
static size_t count_plans(const struct settings *settings)
{
    return settings->plan_count;
}
static const char *name_plan(const struct settings *settings, size_t index)
{
    return settings->plans[index].name;
}
static size_t count_kinds(const struct settings *settings)
{
    return settings->kind_count;
}
static const char *name_kind(const struct settings *settings, size_t index)
{
    return settings->kinds[index].name;
}
static size_t count_people(const struct settings *settings)
{
    return settings->person_count;
}
static const char *name_person(const struct settings *settings, size_t index)
{
    return settings->people[index].name;
}

const struct settings_noun settings_noun_machine = {"machines", "machine", count_machines,
                                                    name_machine, settings_find_machine};
const struct settings_noun settings_noun_plan = {"plans", "plan", count_plans, name_plan,
                                                 settings_find_plan};
const struct settings_noun settings_noun_kind = {"kinds", "kind", count_kinds, name_kind,
                                                 settings_find_kind};
const struct settings_noun settings_noun_person = {"people", "person", count_people, name_person,
                                                   settings_find_person};

const config_setting_t *settings_noun_group(const config_setting_t *root,
                                            const struct settings_noun *noun, size_t index)
{
    const config_setting_t *list = config_setting_get_member(root, noun->list);
    const config_setting_t *group =
        list != NULL ? config_setting_get_elem(list, (unsigned)index) : NULL;
    return group != NULL && config_setting_is_group(group) ? group : NULL;
}

const config_setting_t *settings_noun_member(const config_setting_t *group, const char *name)
{
    const config_setting_t *member = config_setting_get_member(group, name);
    return member != NULL ? member : group;
}

#define CHUNK_OCTETS 16384

struct settings_room {
    struct settings_room *next;
    size_t used, size;
    alignas(max_align_t) unsigned char octets[];
};

static struct settings_room *room_grow(struct settings_room *next, size_t least)
{
    size_t size = least > CHUNK_OCTETS ? least : CHUNK_OCTETS;
    struct settings_room *room = calloc(1, sizeof *room + size);
    if (room != NULL) {
        room->next = next;
        room->size = size;
    }
    return room;
}

void *settings_room_take(struct settings_room **room, size_t size)
{
    const size_t align = alignof(max_align_t);
    size_t padded = (size + align - 1) / align * align;
    if (*room == NULL || (*room)->size - (*room)->used < padded) {
        struct settings_room *grown = room_grow(*room, padded);
        if (grown == NULL) {
            return NULL;
        }
        *room = grown;
    }
    void *taken = (*room)->octets + (*room)->used;
    (*room)->used += padded;
    return taken;
}

const char *settings_room_keep(struct settings_room **room, const char *text, size_t length)
{
    char *copy = settings_room_take(room, length + 1);
    if (copy != NULL) {
        memcpy(copy, text, length);
    }
    return copy;
}

void settings_room_free(struct settings_room *room)
{
    while (room != NULL) {
        struct settings_room *next = room->next;
        free(room);
        room = next;
    }
}
