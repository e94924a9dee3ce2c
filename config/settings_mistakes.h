/* SPDX-License-Identifier: MIT
 * settings_mistakes: what is wrong with a config file, every mistake with its line, in the order of
 * the lines. */
#ifndef METERPOST_CONFIG_SETTINGS_MISTAKES_H
#define METERPOST_CONFIG_SETTINGS_MISTAKES_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

struct settings;

struct settings_mistake {
    char *file;    /* the config file, or one that it includes */
    uint32_t line; /* from 1; 0 where no line is to blame (the file cannot be read) */
    char *says;    /* "what is wrong; what is expected" */
};

/* Begins all zero; ends with settings_mistakes_free. */
struct settings_mistakes {
    struct settings_mistake *list;
    size_t count; /* of those in the list */
    size_t room;
    size_t unsaid; /* more, for which memory was short */
};

void settings_mistakes_add(struct settings_mistakes *mistakes, const char *file, uint32_t line,
                           const char *format, ...) __attribute__((format(printf, 4, 5)));

/* By file and line; those of one line stay as they were added. */
void settings_mistakes_sort(struct settings_mistakes *mistakes);

/* One line each: "FILE:LINE: what is wrong; what is expected". */
void settings_mistakes_write(const struct settings_mistakes *mistakes, FILE *out);

void settings_mistakes_free(struct settings_mistakes *mistakes);

/* As settings_load, for who wants the mistakes one by one. Sorted. */
struct settings *settings_load_listing(const char *file, struct settings_mistakes *mistakes);

/* Likewise, of a text that is to stand in that file, which need not be there yet. NULL gives NULL. */
struct settings *settings_load_text(const char *file, const char *text,
                                    struct settings_mistakes *mistakes);

/* Adds a note for each: nobody to alert, a machine without crew, a service of the past whose day is
 * beyond today (a civil day), a kind without plans, a plan or kind that nothing uses, no port, a
 * config file that others may read or write. Line 0. */
void settings_notes(const struct settings *settings, int32_t today,
                    struct settings_mistakes *notes);

#endif
