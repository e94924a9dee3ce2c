/* SPDX-License-Identifier: MIT
 * settings_reader: the ground under all that reads: whom a message is about and where, and room for
 * what is kept. */
#include "config/settings_reader.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

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
