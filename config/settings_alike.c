/* SPDX-License-Identifier: MIT
 * settings_alike: whether two names are alike is the grammar's to say; but a yard has a thousand
 * machines, so the names are first sorted by their letters and digits, which two that are alike
 * share, and only neighbours are put to it. */
#include "config/settings_alike.h"

#include <stdlib.h>
#include <string.h>

#include "parsers/crew_text.h"

#define KEY_OCTETS 24

struct entry {
    char key[KEY_OCTETS]; /* letters and digits of ASCII, in lower case, as many as fit */
    const char *name;
    const struct settings_noun *noun;
    size_t index; /* in the noun's list */
    size_t order; /* in which they are read */
};

struct entries {
    struct entry *list;
    size_t count;
};

static void write_key(const char *name, char key[KEY_OCTETS])
{
    size_t used = 0;
    for (size_t i = 0; name[i] != '\0' && used + 1 < KEY_OCTETS; i++) {
        char octet = name[i];
        bool capital = octet >= 'A' && octet <= 'Z';
        if (capital || (octet >= 'a' && octet <= 'z') || (octet >= '0' && octet <= '9')) {
            key[used++] = capital ? (char)(octet - 'A' + 'a') : octet;
        }
    }
    key[used] = '\0';
}

static void add_all(struct entries *entries, const struct settings *settings,
                    const struct settings_noun *noun)
{
    for (size_t i = 0; i < noun->count(settings); i++) {
        struct entry *entry = &entries->list[entries->count];
        *entry = (struct entry){
            .name = noun->name_of(settings, i), .noun = noun, .index = i, .order = entries->count};
        write_key(entry->name, entry->key);
        entries->count++;
    }
}

static int compare(const void *left, const void *right)
{
    const struct entry *one = left, *other = right;
    int keys = strcmp(one->key, other->key);
    if (keys != 0) {
        return keys;
    }
    return one->order < other->order ? -1 : one->order > other->order ? 1 : 0;
}

static void name_later(struct reader *reader, const config_setting_t *root,
                       const struct entry *first, const struct entry *later)
{
    const config_setting_t *group = settings_noun_group(root, later->noun, later->index);
    const config_setting_t *other = settings_noun_group(root, first->noun, first->index);
    if (group == NULL || other == NULL) {
        return;
    }
    struct reader_owner owner = reader_owner_of(later->noun->what, group, (int)later->index);
    reader_mistake(
        reader, &owner, settings_noun_member(group, "name"),
        "the name is like that of the %s \"%s\" in line %u; one that differs in more than "
        "case, spaces and hyphens is expected",
        first->noun->what, first->name, config_setting_source_line(other));
}

/* The first before list[at] that it is like. */
static void check_entry(struct reader *reader, const config_setting_t *root,
                        const struct entries *entries, size_t at)
{
    const struct entry *later = &entries->list[at];
    size_t first = at;
    while (first > 0 && strcmp(entries->list[first - 1].key, later->key) == 0) {
        first--;
    }
    for (size_t i = first; i < at; i++) {
        if (crew_text_names_alike(entries->list[i].name, later->name)) {
            name_later(reader, root, &entries->list[i], later);
            return;
        }
    }
}

static void check_among(struct reader *reader, const config_setting_t *root,
                        struct entries *entries)
{
    qsort(entries->list, entries->count, sizeof entries->list[0], compare);
    for (size_t i = 1; i < entries->count; i++) {
        if (entries->list[i].name[0] != '\0') {
            check_entry(reader, root, entries, i);
        }
    }
    entries->count = 0;
}

void settings_check_alike(struct reader *reader, const config_setting_t *root)
{
    const struct settings *settings = reader->settings;
    size_t most = settings->plan_count + settings->person_count + settings->machine_count +
                  settings->kind_count;
    struct entries entries = {.list = calloc(most + 1, sizeof(struct entry)), .count = 0};
    if (entries.list == NULL) {
        reader->short_of_memory = true;
        return;
    }
    add_all(&entries, settings, &settings_noun_plan);
    add_all(&entries, settings, &settings_noun_person);
    add_all(&entries, settings, &settings_noun_machine);
    check_among(reader, root, &entries);
    add_all(&entries, settings, &settings_noun_kind);
    check_among(reader, root, &entries);
    free(entries.list);
}
