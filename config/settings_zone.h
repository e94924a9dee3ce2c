/* SPDX-License-Identifier: MIT
 * settings_zone: the shop's time zone: one that the box knows, or the box's own. Within config/. */
#ifndef METERPOST_CONFIG_SETTINGS_ZONE_H
#define METERPOST_CONFIG_SETTINGS_ZONE_H

#include "config/settings_reader.h"

/* Names the shop's zone as a mistake at that setting where the box does not know it. setting may be
 * NULL. */
void settings_check_zone(struct reader *reader, const struct reader_owner *owner,
                         const config_setting_t *setting);

/* The zone of the box itself, as /etc/localtime has it; "UTC" where that says nothing. */
const char *settings_default_zone(struct reader *reader);

#endif
