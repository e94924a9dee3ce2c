/* SPDX-License-Identifier: MIT
 * settings_notes: what is no mistake, but may have been forgotten. */
#ifndef METERPOST_CONFIG_SETTINGS_NOTES_H
#define METERPOST_CONFIG_SETTINGS_NOTES_H

#include "config/settings.h"
#include "config/settings_mistakes.h"

/* Adds a note for each: nobody to alert, a machine without crew, a service of the past whose day is
 * beyond today (a civil day), a kind without plans, a plan or kind that nothing uses, no port, a
 * config file that others may read or write. Line 0. */
void settings_notes(const struct settings *settings, int32_t today,
                    struct settings_mistakes *notes);

#endif
