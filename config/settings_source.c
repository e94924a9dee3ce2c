/* SPDX-License-Identifier: MIT
 * settings_source: reads the file once, so that libconfig and our own messages see the same. */
#include "config/settings_source.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char *open_advice(int error)
{
    if (error == ENOENT) {
        return "the name of a config file is expected (-c FILE)";
    }
    if (error == EACCES) {
        return "give the one who runs this the right to read it (its group is usually meterpost)";
    }
    return "a file that can be read is expected";
}

/* Fills *source from an open file; NULL when well, else what is wrong. */
static const char *read_all(struct settings_source *source, FILE *stream)
{
    source->text = calloc(1, SETTINGS_SOURCE_OCTETS_MAX + 1);
    if (source->text == NULL) {
        return "cannot be read: memory is short";
    }
    source->length = fread(source->text, 1, SETTINGS_SOURCE_OCTETS_MAX + 1, stream);
    if (ferror(stream)) {
        return "cannot be read to its end";
    }
    if (source->length > SETTINGS_SOURCE_OCTETS_MAX) {
        return "is larger than 4 MiB; a config file is expected";
    }
    if (memchr(source->text, '\0', source->length) != NULL) {
        return "holds NUL octets; a plain text file in UTF-8 is expected";
    }
    char *fitted = realloc(source->text, source->length + 1);
    source->text = fitted != NULL ? fitted : source->text;
    return NULL;
}

static void drop_byte_order_mark(struct settings_source *source)
{
    if (source->length >= 3 && memcmp(source->text, "\xEF\xBB\xBF", 3) == 0) {
        source->length -= 3;
        memmove(source->text, source->text + 3, source->length + 1);
    }
}

bool settings_source_read(struct settings_source *source, const char *file,
                          struct settings_mistakes *mistakes)
{
    *source = (struct settings_source){0};
    struct stat status;
    FILE *stream = fopen(file, "re");
    if (stream == NULL) {
        settings_mistakes_add(mistakes, file, 0, "cannot be opened: %s; %s", strerror(errno),
                              open_advice(errno));
        return false;
    }
    const char *wrong = NULL;
    if (fstat(fileno(stream), &status) == 0 && S_ISDIR(status.st_mode)) {
        wrong = "is a folder; the name of a config file is expected";
    } else {
        wrong = read_all(source, stream);
    }
    fclose(stream);
    if (wrong != NULL) {
        settings_mistakes_add(mistakes, file, 0, "%s", wrong);
        return false;
    }
    drop_byte_order_mark(source);
    return true;
}

void settings_source_free(struct settings_source *source)
{
    free(source->text);
    *source = (struct settings_source){0};
}

static const char *line_start(const struct settings_source *source, uint32_t line)
{
    const char *at = source->text;
    for (uint32_t i = 1; at != NULL && i < line; i++) {
        at = strchr(at, '\n');
        at = at != NULL ? at + 1 : NULL;
    }
    return at;
}

static bool part_of_name(char octet)
{
    return octet != '\0' && strchr("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
                                   "0123456789-_*",
                                   octet) != NULL;
}

/* Where `name` stands as a whole word in text[0, length). */
static const char *find_name(const char *text, size_t length, const char *name)
{
    size_t name_length = strlen(name);
    for (size_t i = 0; i + name_length <= length; i++) {
        bool begins = i == 0 || !part_of_name(text[i - 1]);
        if (begins && memcmp(text + i, name, name_length) == 0 &&
            !part_of_name(text[i + name_length])) {
            return text + i + name_length;
        }
    }
    return NULL;
}

const char *settings_source_value(const struct settings_source *source, uint32_t line,
                                  const char *name, size_t *length)
{
    *length = 0;
    const char *start = source->text != NULL ? line_start(source, line) : NULL;
    const char *value = start != NULL ? find_name(start, strcspn(start, "\n"), name) : NULL;
    if (value == NULL) {
        return "";
    }
    value += strspn(value, " \t=:\"");
    *length = strcspn(value, ";,}\")\r\n");
    while (*length > 0 && (value[*length - 1] == ' ' || value[*length - 1] == '\t')) {
        *length -= 1;
    }
    return value;
}
