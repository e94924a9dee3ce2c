/* SPDX-License-Identifier: MIT
 * settings_groups: groups and lists of libconfig's tree, checked against tables of rules. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "config/settings_reader.h"
#include "parsers/nearest.h"

struct reader_owner reader_owner_of(const char *what, const config_setting_t *group, int index)
{
    struct reader_owner owner;
    const char *name = NULL;
    bool named = config_setting_lookup_string(group, "name", &name) == CONFIG_TRUE ||
                 config_setting_lookup_string(group, "item", &name) == CONFIG_TRUE;
    if (named && name[0] != '\0') {
        snprintf(owner.text, sizeof owner.text, "%s \"%.40s\"", what, name);
    } else {
        snprintf(owner.text, sizeof owner.text, "%s number %d", what, index + 1);
    }
    return owner;
}

const char *reader_file(const struct reader *reader, const char *included,
                        char out[READER_FILE_OCTETS])
{
    size_t folder = strlen(reader->folder);
    if (included == NULL) {
        return reader->file;
    }
    bool whole = included[0] == '/' || folder == 0 ||
                 strncmp(included, reader->folder, folder) == 0; /* libconfig 1.7 adds it */
    int length = whole ? 0 : snprintf(out, READER_FILE_OCTETS, "%s/%s", reader->folder, included);
    return length > 0 && length < READER_FILE_OCTETS ? out : included;
}

void reader_mistake(struct reader *reader, const struct reader_owner *owner,
                    const config_setting_t *at, const char *format, ...)
{
    char says[512], file[READER_FILE_OCTETS];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(says, sizeof says, format, arguments);
    va_end(arguments);
    uint32_t line = config_setting_source_line(at);
    settings_mistakes_add(
        reader->mistakes, reader_file(reader, config_setting_source_file(at), file),
        line > 0 ? line : 1, "%s%s%s", owner->text, owner->text[0] != '\0' ? ": " : "", says);
}

void *reader_room(struct reader *reader, size_t count, size_t size)
{
    void *room = settings_room_take(&reader->settings->room, count * size);
    reader->short_of_memory |= room == NULL;
    return room;
}

const char *reader_keep(struct reader *reader, const char *text)
{
    const char *kept = settings_room_keep(&reader->settings->room, text, strlen(text));
    reader->short_of_memory |= kept == NULL;
    return kept != NULL ? kept : "";
}

static const struct reader_rule *rule_named(const struct reader_rule *rules, size_t rule_count,
                                            const char *name)
{
    for (size_t i = 0; i < rule_count; i++) {
        if (strcmp(rules[i].name, name) == 0) {
            return &rules[i];
        }
    }
    return NULL;
}

static void name_unknown(struct reader *reader, const struct reader_owner *owner,
                         const config_setting_t *setting, const struct reader_rule *rules,
                         size_t rule_count)
{
    struct nearest nearest;
    char known[400] = "";
    size_t used = 0;
    const char *name = config_setting_name(setting);
    nearest_begin(&nearest, name);
    for (size_t i = 0; i < rule_count; i++) {
        nearest_offer(&nearest, rules[i].name);
        if (used < sizeof known) {
            used += (size_t)snprintf(known + used, sizeof known - used, "%s%s", i > 0 ? ", " : "",
                                     rules[i].name);
        }
    }
    if (nearest.name != NULL) {
        reader_mistake(reader, owner, setting, "no setting is called \"%s\"; did you mean \"%s\"?",
                       name, nearest.name);
    } else {
        reader_mistake(reader, owner, setting, "no setting is called \"%s\"; known here are %s",
                       name, known);
    }
}

bool reader_group(struct reader *reader, const struct reader_owner *owner,
                  const config_setting_t *group, const struct reader_rule *rules, size_t rule_count,
                  void *into)
{
    bool well = true;
    if (group == NULL) {
        return true;
    }
    for (size_t i = 0; i < rule_count; i++) {
        const config_setting_t *setting = config_setting_get_member(group, rules[i].name);
        if (setting != NULL) {
            well &= reader_value(reader, owner, setting, rules[i].name, &rules[i], into);
        } else if (rules[i].required) {
            reader_mistake(reader, owner, group, "%s is missing; it has no default", rules[i].name);
            well = false;
        }
    }
    for (int i = 0; i < config_setting_length(group); i++) {
        const config_setting_t *setting = config_setting_get_elem(group, (unsigned)i);
        if (rule_named(rules, rule_count, config_setting_name(setting)) == NULL) {
            name_unknown(reader, owner, setting, rules, rule_count);
            well = false;
        }
    }
    return well;
}

const config_setting_t *reader_member_group(struct reader *reader, const struct reader_owner *owner,
                                            const config_setting_t *group, const char *name,
                                            const char *shown)
{
    const config_setting_t *member = config_setting_get_member(group, name);
    if (member == NULL || config_setting_is_group(member)) {
        return member;
    }
    reader_mistake(reader, owner, member, "%s is no group; %s is expected", name, shown);
    return NULL;
}

const config_setting_t *reader_member_list(struct reader *reader, const struct reader_owner *owner,
                                           const config_setting_t *group, const char *name,
                                           const char *shown)
{
    const config_setting_t *member = config_setting_get_member(group, name);
    if (member == NULL || config_setting_is_list(member) || config_setting_is_array(member)) {
        return member;
    }
    reader_mistake(reader, owner, member, "%s is no list; %s is expected", name, shown);
    return NULL;
}

void *reader_list(struct reader *reader, const struct reader_owner *owner,
                  const config_setting_t *group, const struct reader_list *form, size_t *count)
{
    const config_setting_t *list =
        reader_member_list(reader, owner, group, form->name, form->shown);
    *count = 0;
    if (list == NULL) {
        return NULL;
    }
    size_t length = (size_t)config_setting_length(list);
    char *elements = reader_room(reader, length, form->size);
    for (size_t i = 0; elements != NULL && i < length; i++) {
        const config_setting_t *element = config_setting_get_elem(list, (unsigned)i);
        memcpy(elements + i * form->size, form->defaults, form->size);
        if (config_setting_is_group(element)) {
            form->read(reader, element, (int)i, elements + i * form->size);
        } else {
            reader_mistake(reader, owner, element, "number %zu of %s is no group; %s is expected",
                           i + 1, form->name, form->shown);
        }
    }
    *count = elements != NULL ? length : 0;
    return elements;
}

size_t reader_texts(struct reader *reader, const struct reader_owner *owner,
                    const config_setting_t *group, const char *name, const char **texts,
                    size_t most, int64_t most_octets)
{
    const struct reader_rule rule = {.value = READER_TEXT, .least = 1, .most = most_octets};
    char shown[80];
    snprintf(shown, sizeof shown, "%s = (\"...\", \"...\")", name);
    const config_setting_t *list = reader_member_list(reader, owner, group, name, shown);
    size_t count = 0;
    for (int i = 0; list != NULL && i < config_setting_length(list); i++) {
        const config_setting_t *element = config_setting_get_elem(list, (unsigned)i);
        if (count == most) {
            reader_mistake(reader, owner, element,
                           "%s has more than %zu entries; at most %zu "
                           "are expected",
                           name, most, most);
            break;
        }
        if (reader_value(reader, owner, element, name, &rule, &texts[count])) {
            count++;
        }
    }
    return count;
}

/* The names of all of them where they are few, else how one is found. */
static void name_choices(const struct reader *reader, const struct settings_noun *noun, char *out,
                         size_t size)
{
    size_t used = 0;
    size_t count = noun->count(reader->settings);
    for (size_t i = 0; i < count && used < size; i++) {
        const char *before = i > 0 ? ", " : count > 1 ? "one of " : "";
        used += (size_t)snprintf(out + used, size - used, "%s\"%s\"", before,
                                 noun->name_of(reader->settings, i));
    }
    if (count == 0 || used >= size) {
        snprintf(out, size, "the name of one in this file");
    }
}

int32_t reader_refer(struct reader *reader, const struct reader_owner *owner,
                     const config_setting_t *setting, const char *name,
                     const struct settings_noun *noun)
{
    const struct reader_rule rule = {.value = READER_TEXT, .least = 1, .most = 200};
    const char *typed = NULL;
    struct nearest nearest;
    if (!reader_value(reader, owner, setting, name, &rule, &typed)) {
        return -1;
    }
    int32_t found = noun->find(reader->settings, typed);
    if (found >= 0) {
        return found;
    }
    nearest_begin(&nearest, typed);
    for (size_t i = 0; i < noun->count(reader->settings); i++) {
        nearest_offer(&nearest, noun->name_of(reader->settings, i));
    }
    if (nearest.name != NULL) {
        reader_mistake(reader, owner, setting, "no %s is called \"%s\"; did you mean \"%s\"?",
                       noun->what, typed, nearest.name);
    } else {
        char choices[120];
        name_choices(reader, noun, choices, sizeof choices);
        reader_mistake(reader, owner, setting, "no %s is called \"%s\"; %s is expected", noun->what,
                       typed, choices);
    }
    return -1;
}

static bool taken_before(const size_t *indexes, size_t count, size_t index)
{
    for (size_t i = 0; i < count; i++) {
        if (indexes[i] == index) {
            return true;
        }
    }
    return false;
}

size_t reader_references(struct reader *reader, const struct reader_owner *owner,
                         const config_setting_t *group, const char *name,
                         const struct settings_noun *noun, size_t *indexes, size_t most)
{
    char shown[80];
    snprintf(shown, sizeof shown, "%s = (\"...\", \"...\")", name);
    const config_setting_t *list = reader_member_list(reader, owner, group, name, shown);
    size_t count = 0;
    for (int i = 0; list != NULL && i < config_setting_length(list); i++) {
        const config_setting_t *element = config_setting_get_elem(list, (unsigned)i);
        int32_t found = reader_refer(reader, owner, element, name, noun);
        if (found < 0) {
            continue;
        }
        if (taken_before(indexes, count, (size_t)found)) {
            reader_mistake(reader, owner, element, "%s names \"%s\" twice; once is expected", name,
                           noun->name_of(reader->settings, (size_t)found));
        } else if (count == most) {
            reader_mistake(reader, owner, element,
                           "%s has more than %zu entries; at most %zu are expected", name, most,
                           most);
        } else {
            indexes[count++] = (size_t)found;
        }
    }
    return count;
}
