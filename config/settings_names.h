/* SPDX-License-Identifier: MIT
 * settings_names: which names and texts the house can live with: what goes into texts stays in
 * their plain alphabet, and what crews type can be told apart. */
#ifndef METERPOST_CONFIG_SETTINGS_NAMES_H
#define METERPOST_CONFIG_SETTINGS_NAMES_H

#include <stdbool.h>

/* NULL when the text is well, else what is wrong and expected ("holds a control character; ...").
 * spoken: it goes into texts, so each character must be in the default alphabet or its extension
 * (TS 23.038 6.2.1). */
const char *settings_text_flaw(const char *text, bool spoken);

#endif
