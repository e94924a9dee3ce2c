/* SPDX-License-Identifier: MIT
 * settings_source: the config file as text, for what libconfig does not tell: a whole number that
 * it would wrap, a comment that never ends, and what is behind its bare "syntax error". */
#ifndef METERPOST_CONFIG_SETTINGS_SOURCE_H
#define METERPOST_CONFIG_SETTINGS_SOURCE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "config/settings_mistakes.h"

struct settings_source {
    char *text; /* NUL-terminated; a byte order mark is left out */
    size_t length;
    bool wide_number; /* holds whole numbers that libconfig may have wrapped */
};

#define SETTINGS_SOURCE_OCTETS_MAX (4 * 1024 * 1024)

/* Reads the whole file. False, and a mistake added, when that fails. *source is freed with
 * settings_source_free either way. */
bool settings_source_read(struct settings_source *source, const char *file,
                          struct settings_mistakes *mistakes);
void settings_source_free(struct settings_source *source);

/* The value written after `name =` in that line, without the quotes or blanks around it, up to the
 * next separator. Empty where there is none (*length 0). */
const char *settings_source_value(const struct settings_source *source, uint32_t line,
                                  const char *name, size_t *length);

#endif
