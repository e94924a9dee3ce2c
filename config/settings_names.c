/* SPDX-License-Identifier: MIT
 * settings_names: whether crews can type a name, and the grammar tell it from the others. */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "config/settings_reader.h"
#include "parsers/crew_text.h"

/* ---- Names that crews type ---- */

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
static bool grammar_word(const char *name, size_t letters, bool of_plan)
{
    char joined[SETTINGS_TITLE_OCTETS];
    size_t length = 0;
    for (size_t i = 0; name[i] != '\0' && length < sizeof joined; i++) {
        if (letters != 1 || letter(name[i]) || digit(name[i])) {
            joined[length++] = name[i];
        }
    }
    return crew_text_is_word(joined, length, of_plan);
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
    if (grammar_word(name, letters, word) && letters == 1) {
        return "could be hours in a text, as in \"1340 h 3\"; another letter is expected";
    }
    if (grammar_word(name, letters, word)) {
        return "is a word that texts are made of; another name is expected";
    }
    return NULL;
}

void settings_check_typed(struct reader *reader, const config_setting_t *group, const char *name,
                          bool word)
{
    const char *flaw = group != NULL && name[0] != '\0' ? typing_flaw(name, word) : NULL;
    if (flaw != NULL) {
        reader_mistake(reader, reader_at(group, "name"), "the name %s", flaw);
    }
}

/* ---- Names that are alike: whether two are is the grammar's to say; but a yard has a thousand
 * machines, so the names are first sorted by their letters and digits, which two that are alike
 * share, and only neighbours are put to it ---- */

#define KEY_OCTETS 24

struct entry {
    char key[KEY_OCTETS]; /* letters and digits of ASCII, in lower case, as many as fit */
    const char *name;
    const struct settings_row *list;
    size_t index; /* in the list */
};

/* No text names a kind: they are told apart among themselves, by a mark that no other key has. */
static void write_key(const struct settings_row *list, const char *name, char key[KEY_OCTETS])
{
    size_t used = 0;
    if (list == &settings_rows[ROW_KINDS]) {
        key[used++] = '-';
    }
    for (; *name != '\0' && used + 1 < KEY_OCTETS; name++) {
        if (digit(*name) || (letter(*name) && (unsigned char)*name < 0x80)) {
            key[used++] = digit(*name) ? *name : (char)(*name | 0x20);
        }
    }
    key[used] = '\0';
}

/* Of one key as they are read: plans, people, machines. */
static int compare(const void *left, const void *right)
{
    const struct entry *one = left, *other = right;
    int keys = strcmp(one->key, other->key);
    if (keys != 0) {
        return keys;
    }
    if (one->list != other->list) {
        return one->list < other->list ? -1 : 1;
    }
    return one->index < other->index ? -1 : 1;
}

static const config_setting_t *group_of(const config_setting_t *root, const struct entry *entry)
{
    const config_setting_t *list = reader_member(root, entry->list->name);
    const config_setting_t *group =
        list != NULL ? config_setting_get_elem(list, (unsigned)entry->index) : NULL;
    return group != NULL && config_setting_is_group(group) ? group : NULL;
}

/* Names the later of two, where both are groups. */
static void name_later(struct reader *reader, const config_setting_t *root,
                       const struct entry *first, const struct entry *later)
{
    const config_setting_t *other = group_of(root, first), *group = group_of(root, later);
    if (group != NULL && other != NULL) {
        reader_owner(reader, later->list->group, group, (int)later->index);
        reader_mistake(
            reader, reader_at(group, "name"),
            "the name is like that of the %s \"%s\" in line %u; one that differs in more than "
            "case, spaces and hyphens is expected",
            first->list->group->what, first->name, config_setting_source_line(other));
    }
}

/* The first before list[at] that it is like. */
static void check_entry(struct reader *reader, const config_setting_t *root,
                        const struct entry *list, size_t at)
{
    size_t first = at;
    while (first > 0 && strcmp(list[first - 1].key, list[at].key) == 0) {
        first--;
    }
    for (; first < at; first++) {
        if (crew_text_names_alike(list[first].name, list[at].name)) {
            name_later(reader, root, &list[first], &list[at]);
            return;
        }
    }
}

void settings_check_alike(struct reader *reader, const config_setting_t *root)
{
    const struct settings *settings = reader->settings;
    size_t count = 0;
    struct entry *list = calloc(settings->plan_count + settings->kind_count +
                                    settings->person_count + settings->machine_count + 1,
                                sizeof *list);
    reader->short_of_memory |= list == NULL;
    for (size_t row = ROW_PLANS; list != NULL && row <= ROW_MACHINES; row++) {
        for (size_t i = 0; i < settings_count(settings, &settings_rows[row]); i++) {
            struct entry *entry = &list[count];
            *entry = (struct entry){.name = settings_name(settings, &settings_rows[row], i),
                                    .list = &settings_rows[row],
                                    .index = i};
            write_key(entry->list, entry->name, entry->key);
            count += entry->name[0] != '\0' ? 1 : 0;
        }
    }
    if (count > 0) {
        qsort(list, count, sizeof *list, compare);
    }
    for (size_t i = 1; i < count; i++) {
        check_entry(reader, root, list, i);
    }
    free(list);
}
