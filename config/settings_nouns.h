/* SPDX-License-Identifier: MIT
 * settings_nouns: what has a name in the config file: machines, plans, kinds, people. Within
 * config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_NOUNS_H
#define METERPOST_CONFIG_SETTINGS_NOUNS_H

#include "config/settings.h"

struct settings_noun {
    const char *list; /* the setting that holds them: "machines" */
    const char *what; /* one of them: "machine" */
    size_t (*count)(const struct settings *settings);
    const char *(*name_of)(const struct settings *settings, size_t index);
    int32_t (*find)(const struct settings *settings, const char *name); /* -1 none */
};

extern const struct settings_noun settings_noun_machine;
extern const struct settings_noun settings_noun_plan;
extern const struct settings_noun settings_noun_kind;
extern const struct settings_noun settings_noun_person;

#endif
