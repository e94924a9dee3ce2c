/* SPDX-License-Identifier: MIT
 * kit_words: what to have ready for some services, in a few words: "5 qt 20W-50, 2x filter". */
#ifndef METERPOST_DAEMON_DESK_KIT_WORDS_H
#define METERPOST_DAEMON_DESK_KIT_WORDS_H

#include "daemon/desk/standing.h"
#include "daemon/desk/wording.h"

#define KIT_WORDS_OCTETS WORDING_VALUE_OCTETS

/* The kits of these services together, an item once, fluids in the shop's unit. A service without
 * record is none yet: its kit is left out. False where nothing is needed, or more than out holds. */
bool kit_words(const struct settings *settings, const struct yard_standing *standings, size_t count,
               char out[KIT_WORDS_OCTETS]);

#endif
