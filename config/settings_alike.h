/* SPDX-License-Identifier: MIT
 * settings_alike: names that the grammar could not tell apart. Within config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_ALIKE_H
#define METERPOST_CONFIG_SETTINGS_ALIKE_H

#include "config/settings_reader.h"

/* Names, of two plans, people or machines (in that order) that are alike, the later one; of kinds
 * among themselves likewise. */
void settings_check_alike(struct reader *reader, const config_setting_t *root);

#endif
