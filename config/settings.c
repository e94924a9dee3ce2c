/* SPDX-License-Identifier: MIT
 * settings: looking things up in them, where they live, and their end. */
#include "config/settings_reader.h"

#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

#include "parsers/crew_text.h"

/* ---- Where settings live: chunks in a list, filled one after the other. They are read once and
 * never change, so nothing is given back singly. ---- */

#define CHUNK_OCTETS 16384

struct settings_room {
    struct settings_room *next;
    size_t used, size;
    alignas(max_align_t) unsigned char octets[];
};

void *reader_room(struct reader *reader, size_t count, size_t size)
{
    const size_t align = alignof(max_align_t);
    size_t padded = (count * size + align - 1) / align * align;
    struct settings_room *room = reader->settings->room;
    if (room == NULL || room->size - room->used < padded) {
        size_t least = padded > CHUNK_OCTETS ? padded : CHUNK_OCTETS;
        room = calloc(1, sizeof *room + least);
        if (room == NULL) {
            reader->short_of_memory = true;
            return NULL;
        }
        *room = (struct settings_room){.next = reader->settings->room, .size = least};
        reader->settings->room = room;
    }
    void *taken = room->octets + room->used;
    room->used += padded;
    return taken;
}

const char *reader_keep(struct reader *reader, const char *text)
{
    size_t length = strlen(text);
    char *kept = reader_room(reader, length + 1, 1);
    return kept != NULL ? memcpy(kept, text, length) : "";
}

void settings_free(struct settings *settings)
{
    struct settings_room *room = settings != NULL ? settings->room : NULL;
    while (room != NULL) {
        struct settings_room *next = room->next;
        free(room);
        room = next;
    }
    free(settings);
}

/* ---- Lists of named things ---- */

size_t settings_count(const struct settings *settings, const struct settings_row *list)
{
    size_t count = 0;
    memcpy(&count, (const char *)settings + list->count, sizeof count);
    return count;
}

_Static_assert(offsetof(struct settings_plan, name) == 0 &&
                   offsetof(struct settings_kind, name) == 0 &&
                   offsetof(struct settings_person, name) == 0 &&
                   offsetof(struct settings_machine, name) == 0,
               "the name comes first");

const char *settings_name(const struct settings *settings, const struct settings_row *list,
                          size_t index)
{
    const char *entries = NULL, *name = NULL;
    memcpy(&entries, (const char *)settings + list->offset, sizeof entries);
    memcpy(&name, entries + index * list->group->size, sizeof name);
    return name;
}

/* As it is written first, since most callers have it so; then as the grammar compares. */
int32_t settings_find(const struct settings *settings, const struct settings_row *list,
                      const char *name)
{
    size_t count = settings_count(settings, list);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(settings_name(settings, list, i), name) == 0) {
            return (int32_t)i;
        }
    }
    for (size_t i = 0; i < count; i++) {
        if (crew_text_names_alike(settings_name(settings, list, i), name)) {
            return (int32_t)i;
        }
    }
    return -1;
}

int32_t settings_find_machine(const struct settings *settings, const char *name)
{
    return settings_find(settings, &settings_rows[ROW_MACHINES], name);
}

int32_t settings_find_person(const struct settings *settings, const char *name)
{
    return settings_find(settings, &settings_rows[ROW_PEOPLE], name);
}

int32_t settings_find_plan(const struct settings *settings, const char *name)
{
    return settings_find(settings, &settings_rows[ROW_PLANS], name);
}

int32_t settings_find_former(const struct settings *settings, const char *name)
{
    for (size_t i = 0; i < settings->machine_count; i++) {
        const struct settings_machine *machine = &settings->machines[i];
        for (size_t j = 0; j < machine->formerly_count; j++) {
            if (crew_text_names_alike(machine->formerly[j], name)) {
                return (int32_t)i;
            }
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

size_t settings_among(const size_t *places, size_t count, size_t place)
{
    size_t i = 0;
    while (i < count && places[i] != place) {
        i++;
    }
    return i;
}

enum words_language settings_language(const char *language)
{
#define NAME(name) #name,
    static const char *const languages[] = {WORDS_LANGUAGES(NAME)};
#undef NAME
    size_t number = WORDS_LANGUAGE_COUNT - 1;
    while (number > 0 && strcmp(languages[number], language) != 0) {
        number--;
    }
    return (enum words_language)number;
}

const char *settings_title(const struct settings_plan *plan, const char *language)
{
    const char *title = plan->titles[settings_language(language)];
    return title[0] != '\0' ? title : plan->title;
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
