/* SPDX-License-Identifier: MIT
 * settings_sections: the parts of the config file, one function each, in the order in which they
 * are read. Each takes libconfig's root and fills its part of reader->settings. Within config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_SECTIONS_H
#define METERPOST_CONFIG_SETTINGS_SECTIONS_H

#include "config/settings_reader.h"

void settings_read_shop(struct reader *reader, const config_setting_t *root);
void settings_read_plans(struct reader *reader, const config_setting_t *root);
void settings_read_kinds(struct reader *reader, const config_setting_t *root);
void settings_read_people(struct reader *reader, const config_setting_t *root);
void settings_read_machines(struct reader *reader, const config_setting_t *root);

/* Last: names that the grammar could not tell apart, and telephone numbers given twice. */
void settings_check_names(struct reader *reader, const config_setting_t *root);

#endif
