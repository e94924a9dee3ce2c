/* SPDX-License-Identifier: MIT
 * settings_groups: the walk over libconfig's tree by the table: groups, lists, and where a message
 * points. */
#include "config/settings_reader.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/* ---- Whom a message is about, and where ---- */

/* The group by its first setting, or by its place in the list ("machine number 3"). */
void reader_owner(struct reader *reader, const struct settings_group *form,
                  const config_setting_t *group, int index)
{
    const char *name = NULL;
    if (form->what == NULL) {
        return;
    }
    if (index < 0) {
        snprintf(reader->owner, sizeof reader->owner, "%s", form->what);
    } else if (group != NULL &&
               config_setting_lookup_string(group, form->rows[0].name, &name) == CONFIG_TRUE &&
               name[0] != '\0') {
        snprintf(reader->owner, sizeof reader->owner, "%s \"%.40s\"", form->what, name);
    } else {
        snprintf(reader->owner, sizeof reader->owner, "%s number %d", form->what, index + 1);
    }
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

static void add(struct reader *reader, const config_setting_t *at, const char *says,
                const char *expected)
{
    char file[READER_FILE_OCTETS];
    uint32_t line = at != NULL ? config_setting_source_line(at) : 0;
    const char *included = at != NULL ? config_setting_source_file(at) : NULL;
    settings_mistakes_add(reader->mistakes, reader_file(reader, included, file),
                          line > 0 ? line : 1, "%s%s%s%s", reader->owner,
                          reader->owner[0] != '\0' ? ": " : "", says, expected);
}

void reader_mistake(struct reader *reader, const config_setting_t *at, const char *format, ...)
{
    char says[512];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(says, sizeof says, format, arguments);
    va_end(arguments);
    add(reader, at, says, "");
}

void reader_unknown(struct reader *reader, const config_setting_t *at,
                    const struct nearest *nearest, const char *otherwise, const char *format, ...)
{
    char says[512], expected[640];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(says, sizeof says, format, arguments);
    va_end(arguments);
    if (nearest->name != NULL) {
        snprintf(expected, sizeof expected, "; did you mean \"%s\"?", nearest->name);
    } else {
        snprintf(expected, sizeof expected, "; %s is expected", otherwise);
    }
    add(reader, at, says, expected);
}

const config_setting_t *reader_member(const config_setting_t *group, const char *name)
{
    return group != NULL ? config_setting_get_member(group, name) : NULL;
}

const config_setting_t *reader_at(const config_setting_t *group, const char *name)
{
    const config_setting_t *member = reader_member(group, name);
    return member != NULL ? member : group;
}

const config_setting_t *reader_entry(const config_setting_t *root, const struct settings_row *list,
                                     size_t index)
{
    const config_setting_t *entries = reader_member(root, list->name);
    const config_setting_t *group =
        entries != NULL ? config_setting_get_elem(entries, (unsigned)index) : NULL;
    return group != NULL && config_setting_is_group(group) ? group : NULL;
}

/* ---- Lists ---- */

static void put_defaults(const struct settings_group *form, void *into)
{
    for (size_t i = 0; i < form->row_count; i++) {
        reader_default(&form->rows[i], (char *)into + form->rows[i].offset);
    }
}

/* Where the entries of a list go: NULL when memory is short. */
static char *entries_of(struct reader *reader, const struct settings_row *row, size_t count,
                        char *field)
{
    if (row->most > 0) {
        return field;
    }
    void *entries = reader_room(reader, count, row->group->size);
    memcpy(field, &entries, sizeof entries);
    return entries;
}

/* The entry number index of a list into entries[count]; true where it is to be counted. A group
 * counts even where it is none, so that places here and in the file agree. */
static bool take_entry(struct reader *reader, const config_setting_t *list, unsigned index,
                       const struct settings_row *row, char *entries, size_t count)
{
    const config_setting_t *element = config_setting_get_elem(list, index);
    if (row->group != NULL) {
        char *into = entries + count * row->group->size;
        if (config_setting_is_group(element)) {
            reader_group(reader, row->group, element, (int)index, into);
        } else {
            put_defaults(row->group, into);
            reader_mistake(reader, element, "number %u of %s is no group; %s is expected",
                           index + 1, row->name, row->shown);
        }
        return true;
    }
    if (!reader_value(reader, element, row->name, row->entry, entries + count * row->entry->size)) {
        return false;
    }
    if (row->entry->form == FORM_SPOKEN && row->entry->least == 0) {
        return config_setting_get_string(element)[0] != '\0';
    }
    const size_t *places = (const size_t *)(const void *)entries;
    if (row->entry->form == FORM_NAME && settings_among(places, count, places[count]) < count) {
        reader_mistake(reader, element, "%s names \"%s\" twice; once is expected", row->name,
                       config_setting_get_string(element));
        return false;
    }
    return true;
}

static void take_list(struct reader *reader, const config_setting_t *list,
                      const struct settings_row *row, void *into)
{
    size_t length = (size_t)config_setting_length(list);
    size_t *count = (void *)((char *)into + row->count);
    char *entries = entries_of(reader, row, length, (char *)into + row->offset);
    if (length == 0 && row->required) {
        reader_mistake(reader, list, "%s is empty; %s is expected", row->name, row->shown);
    }
    for (size_t i = 0; entries != NULL && i < length; i++) {
        if (row->most > 0 && *count == (size_t)row->most) {
            reader_mistake(reader, config_setting_get_elem(list, (unsigned)i),
                           "%s has more than %zu entries; at most %zu are expected%s", row->name,
                           *count, *count, row->unit != NULL ? row->unit : "");
            return;
        }
        *count += take_entry(reader, list, (unsigned)i, row, entries, *count) ? 1 : 0;
    }
}

static void take_flags(struct reader *reader, const config_setting_t *list,
                       const struct settings_row *row, bool *flags)
{
    memset(flags, 0, (size_t)row->most * sizeof *flags);
    for (int i = 0; i < config_setting_length(list); i++) {
        int32_t place = 0;
        if (reader_value(reader, config_setting_get_elem(list, (unsigned)i), row->name, row->entry,
                         &place)) {
            flags[place] = true;
        }
    }
}

/* ---- Groups ---- */

static void take_group(struct reader *reader, const config_setting_t *setting,
                       const struct settings_row *row, void *field)
{
    bool group = setting != NULL && config_setting_is_group(setting);
    if (setting != NULL && !group) {
        reader_mistake(reader, setting, "%s is no group; %s is expected", row->name, row->shown);
    }
    reader_group(reader, row->group, group ? setting : NULL, -1, field);
}

/* What is required is named; a group, or the entries that an unsaid list has, are all defaults. */
static bool take_unsaid(struct reader *reader, const config_setting_t *group,
                        const struct settings_row *row, void *into)
{
    char *field = (char *)into + row->offset;
    if (row->required && row->shown != NULL) {
        reader_mistake(reader, group, "%s is missing, and has no default; %s is expected",
                       row->name, row->shown);
    } else if (row->required && group != NULL) {
        reader_mistake(reader, group, "%s is missing; it has no default", row->name);
        return false;
    }
    if (row->form == FORM_GROUP) {
        take_group(reader, NULL, row, field);
    }
    if (row->form == FORM_LIST && row->unsaid > 0) {
        char *entry = entries_of(reader, row, 1, field);
        if (entry != NULL) {
            reader_group(reader, row->group, NULL, -1, entry);
            *(size_t *)(void *)((char *)into + row->count) = 1;
        }
    }
    return true;
}

static bool take_row(struct reader *reader, const config_setting_t *group,
                     const struct settings_row *row, void *into)
{
    void *field = (char *)into + row->offset;
    const config_setting_t *setting = reader_member(group, row->name);
    if (setting == NULL) {
        return take_unsaid(reader, group, row, into);
    }
    if (row->form == FORM_GROUP) {
        take_group(reader, setting, row, field);
        return true;
    }
    if (row->form != FORM_LIST && row->form != FORM_FLAGS) {
        return row->form == FORM_BY_HAND || reader_value(reader, setting, row->name, row, field);
    }
    if (!config_setting_is_list(setting) && !config_setting_is_array(setting)) {
        reader_mistake(reader, setting, "%s is no list; %s is expected", row->name, row->shown);
    } else if (row->form == FORM_FLAGS) {
        take_flags(reader, setting, row, field);
    } else {
        take_list(reader, setting, row, into);
    }
    return true;
}

/* What hands write for a setting that is called otherwise, and is no slip of its letters. */
static const char *const meant[][2] = {
    {"zone", "time_zone"},    {"timezone", "time_zone"}, {"tz", "time_zone"},
    {"days", "workdays"},     {"open", "alert_from"},    {"opens", "alert_from"},
    {"close", "alert_until"}, {"closes", "alert_until"}, {"mobile", "phone"},
    {"number", "phone"},      {"tel", "phone"},          {"lang", "language"},
    {"operator", "crew"},     {"driver", "crew"},        {"location", "site"},
    {"type", "kind"},         {"model", "kind"},         {"plan", "kind"},
    {"plans", "kind"},        {"interval", "every"},     {"parts", "kit"},
    {"oil", "kit"},           {"hours", "started"},      {"meter", "started"},
};

static void offer_meant(const struct settings_group *form, struct nearest *nearest)
{
    for (size_t i = 0; i < sizeof meant / sizeof meant[0]; i++) {
        for (size_t j = 0; strcasecmp(meant[i][0], nearest->word) == 0 && j < form->row_count;
             j++) {
            if (strcmp(form->rows[j].name, meant[i][1]) == 0) {
                nearest->name = meant[i][1];
            }
        }
    }
}

/* True where a setting is one of the form's; else it is named. */
static bool known(struct reader *reader, const struct settings_group *form,
                  const config_setting_t *setting)
{
    struct nearest nearest;
    char all[600];
    size_t used = 0;
    const char *name = config_setting_name(setting);
    nearest_begin(&nearest, name);
    for (size_t i = 0; i < form->row_count; i++) {
        if (strcmp(form->rows[i].name, name) == 0) {
            return true;
        }
        nearest_offer(&nearest, form->rows[i].name);
        if (used < sizeof all) {
            used += (size_t)snprintf(all + used, sizeof all - used, "%s%s",
                                     i > 0 ? ", " : "one of ", form->rows[i].name);
        }
    }
    offer_meant(form, &nearest);
    reader_unknown(reader, setting, &nearest, all, "no setting is called \"%s\"", name);
    return false;
}

void reader_group(struct reader *reader, const struct settings_group *form,
                  const config_setting_t *group, int index, void *into)
{
    bool well = true;
    char outer[READER_OWNER_OCTETS];
    memcpy(outer, reader->owner, sizeof outer);
    reader_owner(reader, form, group, index);
    put_defaults(form, into);
    for (size_t i = 0; i < form->row_count; i++) {
        well &= take_row(reader, group, &form->rows[i], into);
    }
    for (int i = 0; group != NULL && i < config_setting_length(group); i++) {
        well &= known(reader, form, config_setting_get_elem(group, (unsigned)i));
    }
    if (form->settle != NULL) {
        reader->well = well;
        form->settle(reader, group, into);
    }
    memcpy(reader->owner, outer, sizeof outer);
}
