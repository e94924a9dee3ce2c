/* SPDX-License-Identifier: MIT
 * check: see check.h. What is a mistake is config/'s to say; this file only sets it out. */
#include "daemon/counter/check.h"

#include <string.h>
#include <sysexits.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"
#include "config/settings_notes.h"
#include "daemon/counter/json.h"

static struct json_object *mistake_json(const struct settings_mistake *mistake,
                                        const char *config_file)
{
    struct json_object *object = json_object_new_object();
    if (mistake->line > 0) {
        json_add_whole(object, "line", mistake->line);
    }
    if (strcmp(mistake->file, config_file) != 0) {
        json_add_text(object, "file", mistake->file);
    }
    json_add_text(object, "says", mistake->says);
    return object;
}

static struct json_object *list_json(const struct settings_mistakes *list, const char *config_file)
{
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < list->count; i++) {
        json_object_array_add(array, mistake_json(&list->list[i], config_file));
    }
    return array;
}

static void print_json(const char *config_file, const struct settings_mistakes *mistakes,
                       const struct settings_mistakes *notes, FILE *out)
{
    bool well = mistakes->count + mistakes->unsaid == 0;
    struct json_object *object = json_object_new_object();
    json_add_text(object, "status", well ? "ok" : "mistakes");
    json_object_object_add(object, "mistakes", list_json(mistakes, config_file));
    if (notes->count > 0) {
        json_object_object_add(object, "notes", list_json(notes, config_file));
    }
    json_write(object, out);
}

static void print_well(const struct settings *settings, const struct settings_mistakes *notes,
                       FILE *out)
{
    settings_describe(settings, out);
    if (notes->count > 0) {
        fprintf(out, "Worth a look\n");
    }
    for (size_t i = 0; i < notes->count; i++) {
        fprintf(out, "  %s\n", notes->list[i].says);
    }
    fprintf(out, "%s: no mistake found\n", settings->file);
}

static void print_mistakes(const char *config_file, const struct settings_mistakes *mistakes,
                           FILE *err)
{
    settings_mistakes_write(mistakes, err);
    fprintf(err, "%s: %zu mistake%s; a running daemon keeps its last good settings\n", config_file,
            mistakes->count, mistakes->count == 1 ? "" : "s");
}

int check_verb(const char *config_file, bool json, FILE *out, FILE *err)
{
    struct settings_mistakes mistakes = {0}, notes = {0};
    struct settings *settings = settings_load_listing(config_file, &mistakes);
    int status = settings != NULL ? EX_OK : EX_CONFIG;
    if (settings != NULL) {
        settings_notes(settings, &notes);
    }
    if (json) {
        print_json(config_file, &mistakes, &notes, out);
    } else if (settings != NULL) {
        print_well(settings, &notes, out);
    } else {
        print_mistakes(config_file, &mistakes, err);
    }
    settings_mistakes_free(&notes);
    settings_mistakes_free(&mistakes);
    settings_free(settings);
    return status;
}
