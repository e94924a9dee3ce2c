/* SPDX-License-Identifier: MIT
 * settings_nouns: what has a name in the config file: machines, plans, kinds, people. Within
 * config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_NOUNS_H
#define METERPOST_CONFIG_SETTINGS_NOUNS_H

#include <libconfig.h>

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

/* The group of one of them in the tree; NULL where that entry is no group. */
const config_setting_t *settings_noun_group(const config_setting_t *root,
                                            const struct settings_noun *noun, size_t index);

/* A setting of a group, or the group itself where it has none: where a message points. */
const config_setting_t *settings_noun_member(const config_setting_t *group, const char *name);

#endif
