/* SPDX-License-Identifier: MIT
 * settings_load: from a file to settings, or to the list of all that is wrong with it. libconfig's
 * tree is only a passage: what is kept is copied into the settings' own room. */
#include <libconfig.h>
#include <stdlib.h>
#include <string.h>

#include "config/settings_mistakes.h"
#include "config/settings_sections.h"
#include "config/settings_syntax.h"

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
