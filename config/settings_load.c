/* SPDX-License-Identifier: MIT
 * settings_load: from a file to settings, or to the list of all that is wrong with it. libconfig's
 * tree is only a passage: what is kept is copied into the settings' own room. */
#include <libconfig.h>
#include <stdlib.h>
#include <string.h>

#include "config/settings_mistakes.h"
#include "config/settings_sections.h"

/* What the file includes is looked for beside it. */
static void set_include_folder(config_t *config, const char *file, char *folder, size_t size)
{
    const char *slash = strrchr(file, '/');
    size_t length = slash != NULL ? (size_t)(slash - file) : 0;
    if (length > 0 && length < size) {
        memcpy(folder, file, length);
        folder[length] = '\0';
        config_set_include_dir(config, folder);
    }
}

static void read_sections(struct reader *reader, const config_setting_t *root)
{
    settings_read_shop(reader, root);
    settings_read_plans(reader, root);
    settings_read_kinds(reader, root);
    settings_read_people(reader, root);
    settings_read_machines(reader, root);
}

static void read_source(struct reader *reader)
{
    char folder[1024];
    config_t config;
    config_init(&config);
    set_include_folder(&config, reader->file, folder, sizeof folder);
    if (config_read_string(&config, reader->source->text) == CONFIG_TRUE) {
        read_sections(reader, config_root_setting(&config));
    } else {
        const char *included = config_error_file(&config);
        settings_mistakes_add(reader->mistakes, included != NULL ? included : reader->file,
                              (uint32_t)config_error_line(&config), "%s",
                              config_error_text(&config));
    }
    config_destroy(&config);
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
        read_source(&reader);
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
