/* SPDX-License-Identifier: MIT
 * settings_load: from a file to settings, or to the list of all that is wrong with it. libconfig's
 * tree is only a passage: what is kept is copied into the settings' own room. The file's text is read
 * once, so that libconfig and our own messages see the same. */
#include <errno.h>
#include <fcntl.h>
#include <libconfig.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "config/settings_reader.h"

#define FILE_OCTETS_MAX (4 * 1024 * 1024)

/* ---- The file ---- */

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

/* A regular file of bounded size: a folder ends libconfig, and the program with it; a FIFO is waited
 * for. NULL where it is well, else what is wrong. */
static const char *wrong_kind(const struct stat *status)
{
    if (S_ISDIR(status->st_mode)) {
        return "is a folder; the name of a config file is expected";
    }
    if (!S_ISREG(status->st_mode)) {
        return "is no regular file; the name of a config file is expected";
    }
    return status->st_size > FILE_OCTETS_MAX ? "is larger than 4 MiB; a config file is expected"
                                             : NULL;
}

/* Fills the text, which has room for two octets more than `most`; NULL when it is well, else what is
 * wrong, at which line, 0 for the file as a whole. */
static const char *read_all(FILE *stream, char *text, size_t most, uint32_t *line)
{
    size_t length = fread(text, 1, most, stream);
    *line = 0;
    if (ferror(stream)) {
        return "cannot be read to its end";
    }
    const char *nul = memchr(text, '\0', length);
    if (nul != NULL) {
        *line = 1;
        for (const char *c = text; c < nul; c++) {
            *line += *c == '\n' ? 1 : 0;
        }
        return "a NUL octet stands in this line; a plain text file in UTF-8 is expected";
    }
    if (length > 0 && text[length - 1] != '\n') {
        text[length] = '\n'; /* libconfig takes no comment that ends with the file */
    }
    if (memcmp(text, "\xEF\xBB\xBF", 3) == 0) { /* a byte order mark */
        memmove(text, text + 3, length - 3 + 2);
    }
    return NULL;
}

/* As it is now, by its name's file. */
static FILE *open_text(const char *file, struct stat *status, struct settings_mistakes *mistakes)
{
    int descriptor = open(file, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    if (descriptor < 0 || fstat(descriptor, status) != 0) {
        settings_mistakes_add(mistakes, file, 0, "cannot be opened: %s; %s", strerror(errno),
                              open_advice(errno));
    } else if (wrong_kind(status) != NULL) {
        settings_mistakes_add(mistakes, file, 0, "%s", wrong_kind(status));
    } else {
        return fdopen(descriptor, "r");
    }
    if (descriptor >= 0) {
        close(descriptor);
    }
    return NULL;
}

/* The whole file, for the caller to free; NULL, and named, where that fails. */
static char *read_text(const char *file, struct settings_mistakes *mistakes)
{
    struct stat status;
    uint32_t line = 0;
    FILE *stream = open_text(file, &status, mistakes);
    if (stream == NULL) {
        return NULL;
    }
    size_t most = (size_t)status.st_size;
    char *text = calloc(1, most + 4); /* a line break and a NUL more, and a mark to compare with */
    const char *wrong =
        text != NULL ? read_all(stream, text, most, &line) : "cannot be read: memory is short";
    fclose(stream);
    if (wrong != NULL) {
        settings_mistakes_add(mistakes, file, line, "%s", wrong);
        free(text);
        return NULL;
    }
    return text;
}

/* ---- What it includes ---- */

#define INCLUDE_DEPTH_MAX 10 /* libconfig's own */
#define INCLUDES_MAX 100
#define INCLUDE_WORD "@include"

struct includes {
    struct reader *reader;
    size_t count;
    const char *file; /* that includes, at that line */
    uint32_t line;
};

static bool includes_well(struct includes *includes, const char *file, const char *text,
                          unsigned int depth);

static bool refuse(struct includes *includes, const char *path, const char *wrong)
{
    settings_mistakes_add(includes->reader->mistakes, includes->file, includes->line,
                          "the file to include, %s, %s", path, wrong);
    return false;
}

/* One that is not there is left for libconfig to name. */
static bool include_well(struct includes *includes, const char *path, unsigned int depth)
{
    struct stat status;
    if (stat(path, &status) != 0) {
        return true;
    }
    if (wrong_kind(&status) != NULL) {
        return refuse(includes, path, wrong_kind(&status));
    }
    if (depth == INCLUDE_DEPTH_MAX || ++includes->count > INCLUDES_MAX) {
        return refuse(includes, path, "is one too many or nested too deeply; fewer are expected");
    }
    char *text = read_text(path, includes->reader->mistakes);
    bool well = text != NULL && includes_well(includes, path, text, depth + 1);
    free(text);
    return well;
}

/* The name in the quotes, looked for in both places where versions of libconfig do. */
static bool named_well(struct includes *includes, const char *quoted, unsigned int depth)
{
    char name[READER_FILE_OCTETS], beside[2 * READER_FILE_OCTETS];
    size_t length = 0;
    while (*quoted != '"' && *quoted != '\n' && *quoted != '\0' && length < sizeof name - 1) {
        quoted += *quoted == '\\' && quoted[1] != '\0' ? 1 : 0;
        name[length++] = *quoted++;
    }
    name[length] = '\0';
    const char *folder = includes->reader->folder;
    snprintf(beside, sizeof beside, "%s/%s", folder, name);
    return (folder[0] == '\0' || include_well(includes, beside, depth)) &&
           (name[0] != '/' ? folder[0] != '\0' || include_well(includes, name, depth)
                           : include_well(includes, name, depth));
}

/* Every file that the text includes, and what those include, is one that libconfig may open. */
static bool includes_well(struct includes *includes, const char *file, const char *text,
                          unsigned int depth)
{
    struct settings_slip slip;
    char *plain = strdup(text);
    bool well = plain != NULL;
    uint32_t line = 1;
    includes->reader->short_of_memory |= plain == NULL;
    if (well) { /* a part may open what another closes: where the marks end the rest is looked at as it is */
        (void)settings_marks_well(text, plain, &slip);
    }
    for (size_t at = 0; well && plain[at] != '\0'; line++) {
        size_t mark = at + strspn(plain + at, " \t");
        if (plain[mark] == '@' && strncmp(text + mark, INCLUDE_WORD, strlen(INCLUDE_WORD)) == 0) {
            size_t quote = mark + strlen(INCLUDE_WORD);
            quote += strspn(text + quote, " \t");
            includes->file = file;
            includes->line = line;
            well = text[quote] != '"' || named_well(includes, text + quote + 1, depth);
        }
        at += strcspn(text + at, "\n");
        at += text[at] == '\n' ? 1 : 0;
    }
    free(plain);
    return well;
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
    bool twice = strcmp(config_error_text(config), "duplicate setting name") == 0;
    char *blanked = strdup(text);
    reader->short_of_memory |= blanked == NULL;
    if (blanked != NULL && plain &&
        (!settings_marks_well(text, blanked, &slip) ||
         settings_slip_near(text, blanked, line, &slip)) &&
        slip.line <= line) {
        settings_mistakes_add(reader->mistakes, file, slip.line, "%s", slip.says);
    } else if (blanked != NULL && twice && settings_marks_well(text, blanked, &slip) &&
               settings_slip_twice(text, blanked, line, &slip)) {
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
    struct includes includes = {.reader = reader};
    config_t config;
    config_init(&config);
    set_include_folder(&config, reader);
    if (!settings_marks_well(text, NULL, &slip)) {
        settings_mistakes_add(reader->mistakes, reader->file, slip.line, "%s", slip.says);
    } else if (!includes_well(&includes, reader->file, text, 0)) {
        reader->well = false; /* it is named */
    } else if (config_read_string(&config, text) == CONFIG_TRUE) {
        reader_group(reader, &settings_file, config_root_setting(&config), -1, reader->settings);
    } else {
        name_stop(reader, &config, text);
    }
    config_destroy(&config);
}

struct settings *settings_load_text(const char *file, const char *text,
                                    struct settings_mistakes *mistakes)
{
    struct settings *settings = calloc(1, sizeof *settings);
    struct reader reader = {.file = file,
                            .mistakes = mistakes,
                            .settings = settings,
                            .short_of_memory = settings == NULL};
    if (settings != NULL && text != NULL) {
        settings->file = reader_keep(&reader, file);
        read_settings(&reader, text);
    }
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

struct settings *settings_load_listing(const char *file, struct settings_mistakes *mistakes)
{
    char *text = read_text(file, mistakes);
    struct settings *settings = settings_load_text(file, text, mistakes);
    free(text);
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
