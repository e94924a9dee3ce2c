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

void settings_check_typed(struct reader *reader, const config_setting_t *group, const char *member,
                          const char *name, bool word)
{
    const char *flaw = group != NULL && name[0] != '\0' ? typing_flaw(name, word) : NULL;
    if (flaw != NULL) {
        bool former = strcmp(member, "name") != 0;
        reader_mistake(reader, reader_at(group, member), "the %sname %s%s%s%s",
                       former ? "former " : "", former ? "\"" : "", former ? name : "",
                       former ? "\" " : "", flaw);
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
    size_t index;  /* in the list */
    size_t former; /* 0 its name, else which of those that a machine had once */
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

/* Of one key as they are read: plans, people, machines, and what these were called once. */
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
    if (one->former != other->former) {
        return one->former < other->former ? -1 : 1;
    }
    return one->index < other->index ? -1 : 1;
}

/* Names the later of two, where both are groups. */
static void name_later(struct reader *reader, const config_setting_t *root,
                       const struct entry *first, const struct entry *later)
{
    const config_setting_t *other = reader_entry(root, first->list, first->index);
    const config_setting_t *group = reader_entry(root, later->list, later->index);
    if (group == NULL || other == NULL) {
        return;
    }
    reader_owner(reader, later->list->group, group, (int)later->index);
    if (later->former > 0) {
        reader_mistake(reader, reader_at(group, "formerly"),
                       "formerly names \"%s\", which is %s %s \"%s\" in line %u; a name that "
                       "nothing has any more is expected",
                       later->name, first->former > 0 ? "a former name of the" : "the",
                       first->list->group->what,
                       settings_name(reader->settings, first->list, first->index),
                       config_setting_source_line(other));
    } else {
        reader_mistake(
            reader, reader_at(group, "name"),
            "the name is like that of the %s \"%s\" in line %u; one that differs in more than "
            "case, spaces and hyphens is expected",
            first->list->group->what, first->name, config_setting_source_line(other));
    }
}

/* A machine may be spelled otherwise than once: M-12, formerly M12. */
static bool respelled(const struct entry *first, const struct entry *later)
{
    return later->former > 0 && first->former == 0 && first->list == later->list &&
           first->index == later->index && strcmp(first->name, later->name) != 0;
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
        if (crew_text_names_alike(list[first].name, list[at].name) &&
            !respelled(&list[first], &list[at])) {
            name_later(reader, root, &list[first], &list[at]);
            return;
        }
    }
}

/* The entry, with its key, behind the others; one without a name is none. */
static void add_entry(struct entry *list, size_t *count, struct entry entry)
{
    if (entry.name[0] != '\0') {
        write_key(entry.list, entry.name, entry.key);
        list[(*count)++] = entry;
    }
}

/* How many the list now holds, which has room for all. */
static size_t gather(const struct settings *settings, struct entry *list)
{
    size_t count = 0;
    for (size_t row = ROW_PLANS; row <= ROW_MACHINES; row++) {
        const struct settings_row *of = &settings_rows[row];
        for (size_t i = 0; i < settings_count(settings, of); i++) {
            const char *name = settings_name(settings, of, i);
            add_entry(list, &count, (struct entry){.name = name, .list = of, .index = i});
        }
    }
    for (size_t i = 0; i < settings->machine_count; i++) {
        const struct settings_machine *machine = &settings->machines[i];
        for (size_t j = 0; j < machine->formerly_count; j++) {
            add_entry(list, &count,
                      (struct entry){.name = machine->formerly[j],
                                     .list = &settings_rows[ROW_MACHINES],
                                     .index = i,
                                     .former = j + 1});
        }
    }
    return count;
}

void settings_check_alike(struct reader *reader, const config_setting_t *root)
{
    const struct settings *settings = reader->settings;
    size_t most = settings->plan_count + settings->kind_count + settings->person_count +
                  settings->machine_count * (1 + SETTINGS_FORMERLY_MAX);
    struct entry *list = calloc(most + 1, sizeof *list);
    reader->short_of_memory |= list == NULL;
    size_t count = list != NULL ? gather(settings, list) : 0;
    if (count > 0) {
        qsort(list, count, sizeof *list, compare);
    }
    for (size_t i = 1; i < count; i++) {
        check_entry(reader, root, list, i);
    }
    free(list);
}
