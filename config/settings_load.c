/* SPDX-License-Identifier: MIT
 * settings_load: from a file to settings, or to the list of all that is wrong with it. libconfig's
 * tree is only a passage: what is kept is copied into the settings' own room. */
#include <errno.h>
#include <libconfig.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "config/settings_mistakes.h"
#include "config/settings_reader.h"

/* What the file includes is looked for beside it. */
static void set_include_folder(config_t *config, struct reader *reader)
{
    const char *slash = strrchr(reader->file, '/');
    size_t length = slash != NULL ? (size_t)(slash - reader->file) : 0;
    if (length > 0 && length < sizeof reader->folder) {
        memcpy(reader->folder, reader->file, length);
        reader->folder[length] = '\0';
        config_set_include_dir(config, reader->folder);
    }
}

static void read_sections(struct reader *reader, const config_setting_t *root)
{
    settings_read_shop(reader, root);
    settings_read_plans(reader, root);
    settings_read_kinds(reader, root);
    settings_read_people(reader, root);
    settings_read_machines(reader, root);
    settings_check_names(reader, root);
}

/* libconfig's own words, for a mistake that settings_syntax finds nothing behind. */
static void name_refusal(struct reader *reader, const char *file, uint32_t line, const char *words,
                         const char *text)
{
    int length = 0;
    const char *name = settings_syntax_twice(text, line, &length);
    if (strcmp(words, "duplicate setting name") == 0 && length > 0) {
        settings_mistakes_add(reader->mistakes, file, line,
                              "%.*s is set twice in one group; once is expected", length, name);
    } else if (strcmp(words, "mismatched element type in array") == 0) {
        settings_mistakes_add(
            reader->mistakes, file, line,
            "an array in [ ] holds values of one type; a list in ( ) is expected");
    } else if (strcmp(words, "cannot open include file") == 0) {
        settings_mistakes_add(reader->mistakes, file, line,
                              "the file to include cannot be opened; the name of a file beside "
                              "this one is expected");
    } else {
        settings_mistakes_add(reader->mistakes, file, line,
                              "%s; the form of meterpost.conf(5) is expected", words);
    }
}

/* The one mistake of syntax at which libconfig stopped, in this file or one that it includes. */
static void name_syntax(struct reader *reader, const config_t *config)
{
    struct settings_source included = {0};
    struct syntax_finding finding = {0};
    char path[READER_FILE_OCTETS];
    const char *file = reader_file(reader, config_error_file(config), path);
    uint32_t line = (uint32_t)config_error_line(config);
    const char *text = reader->source->text;
    if (config_error_file(config) != NULL) {
        if (!settings_source_read(&included, file, reader->mistakes)) {
            settings_source_free(&included);
            return;
        }
        text = included.text;
    }
    bool plain = strcmp(config_error_text(config), "syntax error") == 0;
    if (plain && settings_syntax_examine(text, &finding) && finding.line <= line) {
        settings_mistakes_add(reader->mistakes, file, finding.line, "%s", finding.says);
    } else {
        name_refusal(reader, file, line, config_error_text(config), text);
    }
    settings_source_free(&included);
}

/* The form of a file that includes no other is examined before libconfig sees it: that one leaks
 * memory (1.5) where it stops, and lets a text without an end pass at the end of the file. */
static bool form_is_well(struct reader *reader)
{
    struct syntax_finding finding;
    const char *text = reader->source->text;
    if (strstr(text, "@include") != NULL || !settings_syntax_examine(text, &finding)) {
        return true;
    }
    settings_mistakes_add(reader->mistakes, reader->file, finding.line, "%s", finding.says);
    return false;
}

static void read_source(struct reader *reader)
{
    config_t config;
    config_init(&config);
    set_include_folder(&config, reader);
    if (config_read_string(&config, reader->source->text) == CONFIG_TRUE) {
        read_sections(reader, config_root_setting(&config));
    } else {
        name_syntax(reader, &config);
    }
    config_destroy(&config);
}

/* What libconfig would pass over without a word. False where the rest of the file is lost by it. */
static bool look_for_traps(struct reader *reader, struct settings_source *source)
{
    struct syntax_traps traps = settings_syntax_traps(source->text);
    source->wide_number = traps.wide_number;
    if (traps.open_comment_line > 0) {
        settings_mistakes_add(reader->mistakes, reader->file, traps.open_comment_line,
                              "the comment that begins here never ends; */ is expected");
    }
    return traps.open_comment_line == 0;
}

struct settings *settings_load_listing(const char *file, struct settings_mistakes *mistakes)
{
    struct settings_source source = {0};
    struct settings *settings = calloc(1, sizeof *settings);
    struct reader reader = {.file = file,
                            .source = &source,
                            .mistakes = mistakes,
                            .settings = settings,
                            .short_of_memory = settings == NULL};
    if (settings != NULL && settings_source_read(&source, file, mistakes)) {
        settings->file = reader_keep(&reader, file);
        if (look_for_traps(&reader, &source) && form_is_well(&reader)) {
            read_source(&reader);
        }
    }
    settings_source_free(&source);
    if (reader.short_of_memory) {
        settings_mistakes_add(mistakes, file, 0, "memory is short; try again when there is more");
    }
    if (mistakes->count + mistakes->unsaid > 0) {
        settings_mistakes_sort(mistakes);
        settings_free(settings);
        return NULL;
    }
    return settings;
}

struct settings *settings_load(const char *file, FILE *mistakes)
{
    struct settings_mistakes list = {0};
    struct settings *settings = settings_load_listing(file, &list);
    settings_mistakes_write(&list, mistakes);
    settings_mistakes_free(&list);
    return settings;
}

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
