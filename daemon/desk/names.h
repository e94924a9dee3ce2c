/* SPDX-License-Identifier: MIT
 * names: the yard's names as one person may use them, for the grammar. Where machines have an
 * owner, crews see those of the owners whose machines they look after; the shop sees all. */
#ifndef METERPOST_DAEMON_DESK_NAMES_H
#define METERPOST_DAEMON_DESK_NAMES_H

#include <stdbool.h>
#include <stdint.h>

#include "config/settings.h"
#include "parsers/crew_text.h"

struct names {
    struct crew_machine *machines;
    int32_t *index; /* from the grammar's machine to settings.machines */
    const char **plans;
    const char **people;
    struct crew_names view;
};

/* Room for the settings; false when memory is short. Ends with names_free. */
bool names_new(struct names *names, const struct settings *settings);
void names_free(struct names *names);

/* Fills the view for a person (index into settings.people). */
void names_for(struct names *names, const struct settings *settings, int32_t person);

/* Whether the person looks after the machine (indexes into the settings). */
bool names_own(const struct settings *settings, int32_t machine, int32_t person);

#endif
