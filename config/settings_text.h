/* SPDX-License-Identifier: MIT
 * settings_text: which texts of the config file the house can live with: what goes into messages
 * stays in their plain alphabet. Within config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_TEXT_H
#define METERPOST_CONFIG_SETTINGS_TEXT_H

#include <stdbool.h>

/* NULL when the text is well, else what is wrong and expected ("holds a control character; ...").
 * spoken: it goes into texts, so each character must be in the default alphabet or its extension
 * (TS 23.038 6.2.1). */
const char *settings_text_flaw(const char *text, bool spoken);

#endif
