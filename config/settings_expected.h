/* SPDX-License-Identifier: MIT
 * settings_expected: what a setting is and what its rule expects, in words for the messages. Within
 * config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_EXPECTED_H
#define METERPOST_CONFIG_SETTINGS_EXPECTED_H

#include "config/settings_reader.h"

#define EXPECTED_OCTETS 200

/* "text in quotes", "a list in ( )", ... */
const char *expected_type(const config_setting_t *setting);

/* "a number from 0.01 to 24 hours", for the end of a message; made in out where it is made. */
const char *expected_by(const struct reader_rule *rule, char out[EXPECTED_OCTETS]);

/* Decimal places that the rule's field holds: 2 for hundredths, 3 for thousandths, else 0. */
int expected_places(enum reader_value value);

#endif
