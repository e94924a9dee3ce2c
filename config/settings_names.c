/* SPDX-License-Identifier: MIT
 * settings_names: checks of the names of machines and plans, and of people's numbers. */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "config/settings_reader.h"
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

static bool letter(char octet)
{
    return (octet >= 'A' && octet <= 'Z') || (octet >= 'a' && octet <= 'z') ||
           (unsigned char)octet >= 0x80;
}

static bool digit(char octet)
{
    return octet >= '0' && octet <= '9';
}

/* True for a word of the grammar. One letter and a figure ("M-12") are looked at as one word, as they
 * are when a text names the machine: alone, the letter may well be a word. */
static bool grammar_word(const char *name, size_t letters)
{
    char joined[SETTINGS_TITLE_OCTETS];
    size_t length = 0;
    for (size_t i = 0; name[i] != '\0' && length < sizeof joined; i++) {
        if (letters != 1 || letter(name[i]) || digit(name[i])) {
            joined[length++] = name[i];
        }
    }
    return crew_text_is_word(joined, length);
}

/* NULL when crews can type the name in a text, else why not and what is expected. */
static const char *typing_flaw(const char *name, bool word)
{
    size_t length = strlen(name), letters = 0;
    for (size_t i = 0; i < length; i++) {
        bool joins = name[i] == '-' || name[i] == '_' || (name[i] == ' ' && !word);
        if (!letter(name[i]) && !digit(name[i]) && !joins) {
            return word
                       ? "must be one word of a text; letters, digits, \"-\" and \"_\" are expected"
                       : "could not be typed in a text; letters, digits, spaces, \"-\" and \"_\" "
                         "are "
                         "expected";
        }
        letters += letter(name[i]) ? 1 : 0;
    }
    if (letters == 0) {
        return "looks like a figure in a text; a name with a letter is expected, as \"M12\"";
    }
    if (!letter(name[0]) && word) {
        return "begins like a figure; a letter is expected first";
    }
    if (name[0] == ' ' || name[length - 1] == ' ') {
        return "has a space at its end; none is expected";
    }
    if (grammar_word(name, letters) && letters == 1) {
        return "could be hours in a text, as in \"1340 h 3\"; another letter is expected";
    }
    if (grammar_word(name, letters)) {
        return "is a word that texts are made of; another name is expected";
    }
    return NULL;
}

static void check_typed(struct reader *reader, const config_setting_t *root,
                        const struct settings_noun *noun, bool word, size_t index)
{
    const config_setting_t *group = settings_noun_group(root, noun, index);
    const char *name = noun->name_of(reader->settings, index);
    if (group == NULL || name[0] == '\0') {
        return;
    }
    const char *flaw = typing_flaw(name, word);
    if (flaw != NULL) {
        struct reader_owner owner = reader_owner_of(noun->what, group, (int)index);
        reader_mistake(reader, &owner, settings_noun_member(group, "name"), "the name %s", flaw);
    }
}

static void check_phone(struct reader *reader, const config_setting_t *root, size_t index)
{
    const struct settings *settings = reader->settings;
    const config_setting_t *group = settings_noun_group(root, &settings_noun_person, index);
    const char *phone = settings->people[index].phone;
    if (group == NULL || phone[0] == '\0') {
        return;
    }
    struct reader_owner owner = reader_owner_of(settings_noun_person.what, group, (int)index);
    int32_t first = settings_find_phone(settings, phone);
    if (first >= 0 && (size_t)first < index) {
        reader_mistake(reader, &owner, settings_noun_member(group, "phone"),
                       "phone is that of \"%s\" as well; a number of their own is expected",
                       settings->people[first].name);
    }
    if (strcmp(phone, settings->shop.number) == 0) {
        reader_mistake(
            reader, &owner, settings_noun_member(group, "phone"),
            "phone is the number of the SIM (shop.number); the person's own is expected");
    }
}

void settings_check_names(struct reader *reader, const config_setting_t *root)
{
    const struct settings *settings = reader->settings;
    for (size_t i = 0; i < settings->plan_count; i++) {
        check_typed(reader, root, &settings_noun_plan, true, i);
    }
    for (size_t i = 0; i < settings->person_count; i++) {
        check_phone(reader, root, i);
    }
    for (size_t i = 0; i < settings->machine_count; i++) {
        check_typed(reader, root, &settings_noun_machine, false, i);
    }
    settings_check_alike(reader, root);
}
