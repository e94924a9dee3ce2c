/* SPDX-License-Identifier: MIT
 * settings_load: from a file to settings, or to the list of all that is wrong with it. libconfig's
 * tree is only a passage: what is kept is copied into the settings' own room. The file's text is read
 * once, so that libconfig and our own messages see the same. */
#include <errno.h>
#include <libconfig.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "config/settings_reader.h"

#define FILE_OCTETS_MAX (4 * 1024 * 1024)

/* ---- The file ---- */

/* NULL when the text is well, else what is wrong. */
static const char *read_all(FILE *stream, char *text)
{
    struct stat status;
    if (fstat(fileno(stream), &status) == 0 && S_ISDIR(status.st_mode)) {
        return "is a folder; the name of a config file is expected";
    }
    size_t length = fread(text, 1, FILE_OCTETS_MAX + 1, stream);
    if (ferror(stream)) {
        return "cannot be read to its end";
    }
    if (length > FILE_OCTETS_MAX) {
        return "is larger than 4 MiB; a config file is expected";
    }
    if (memchr(text, '\0', length) != NULL) {
        return "holds NUL octets; a plain text file in UTF-8 is expected";
    }
    if (memcmp(text, "\xEF\xBB\xBF", 3) == 0) { /* a byte order mark */
        memmove(text, text + 3, length - 3 + 1);
    }
    return NULL;
}

/* The whole file, for the caller to free; NULL, and named, where that fails. */
static char *read_text(const char *file, struct settings_mistakes *mistakes)
{
    FILE *stream = fopen(file, "re");
    if (stream == NULL) {
        const char *advice = errno == ENOENT ? "the name of a config file is expected (-c FILE)"
                             : errno == EACCES
                                 ? "give the one who runs this the right to read it (its group is "
                                   "usually meterpost)"
                                 : "a file that can be read is expected";
        settings_mistakes_add(mistakes, file, 0, "cannot be opened: %s; %s", strerror(errno),
                              advice);
        return NULL;
    }
    char *text = calloc(1, FILE_OCTETS_MAX + 2);
    const char *wrong = text != NULL ? read_all(stream, text) : "cannot be read: memory is short";
    fclose(stream);
    if (wrong != NULL) {
        settings_mistakes_add(mistakes, file, 0, "%s", wrong);
        free(text);
        return NULL;
    }
    return text;
}

/* ---- What libconfig refuses ---- */

/* libconfig's own words, where no slip is found behind them. */
static void name_refusal(struct reader *reader, const char *file, uint32_t line, const char *words)
{
    static const char *const known[][2] = {
        {"duplicate setting name",
         "a setting of this line is set twice in one group; once is expected"},
        {"mismatched element type in array",
         "an array in [ ] holds values of one type; a list in ( ) is expected"},
        {"cannot open include file",
         "the file to include cannot be opened; the name of a file beside this one is expected"},
    };
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        if (strcmp(words, known[i][0]) == 0) {
            settings_mistakes_add(reader->mistakes, file, line, "%s", known[i][1]);
            return;
        }
    }
    settings_mistakes_add(reader->mistakes, file, line,
                          "%s; the form of meterpost.conf(5) is expected", words);
}

/* The one mistake of syntax at which libconfig stopped, in text: this file's, or that of one that it
 * includes. */
static void name_syntax(struct reader *reader, const config_t *config, const char *file,
                        const char *text)
{
    struct settings_slip slip;
    uint32_t line = (uint32_t)config_error_line(config);
    bool plain = strcmp(config_error_text(config), "syntax error") == 0;
    char *blanked = strdup(text);
    reader->short_of_memory |= blanked == NULL;
    if (blanked != NULL && plain &&
        (!settings_marks_well(text, blanked, &slip) ||
         settings_slip_near(text, blanked, line, &slip)) &&
        slip.line <= line) {
        settings_mistakes_add(reader->mistakes, file, slip.line, "%s", slip.says);
    } else {
        name_refusal(reader, file, line, config_error_text(config));
    }
    free(blanked);
}

static void name_stop(struct reader *reader, const config_t *config, const char *text)
{
    char path[READER_FILE_OCTETS];
    const char *included = config_error_file(config);
    if (included == NULL) {
        name_syntax(reader, config, reader->file, text);
        return;
    }
    const char *file = reader_file(reader, included, path);
    char *included_text = read_text(file, reader->mistakes);
    if (included_text != NULL) {
        name_syntax(reader, config, file, included_text);
    }
    free(included_text);
}

/* ---- The way through ---- */

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

/* Marks out of place are named before libconfig sees them: it would let a text or comment without an
 * end pass. */
static void read_settings(struct reader *reader, const char *text)
{
    struct settings_slip slip;
    config_t config;
    config_init(&config);
    set_include_folder(&config, reader);
    if (!settings_marks_well(text, NULL, &slip)) {
        settings_mistakes_add(reader->mistakes, reader->file, slip.line, "%s", slip.says);
    } else if (config_read_string(&config, text) == CONFIG_TRUE) {
        reader_group(reader, &settings_file, config_root_setting(&config), -1, reader->settings);
    } else {
        name_stop(reader, &config, text);
    }
    config_destroy(&config);
}

struct settings *settings_load_listing(const char *file, struct settings_mistakes *mistakes)
{
    char *text = read_text(file, mistakes);
    struct settings *settings = calloc(1, sizeof *settings);
    struct reader reader = {.file = file,
                            .mistakes = mistakes,
                            .settings = settings,
                            .short_of_memory = settings == NULL};
    if (settings != NULL && text != NULL) {
        settings->file = reader_keep(&reader, file);
        read_settings(&reader, text);
    }
    free(text);
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
