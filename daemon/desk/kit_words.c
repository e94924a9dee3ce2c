/* SPDX-License-Identifier: MIT
 * kit_words: items are one where their names are alike and both are pieces or both fluids. Sums are
 * exact (upkeep/kit.h); what is written is rounded up to the hundredth, so that it is never short. */
#include "daemon/desk/kit_words.h"

#include <stdio.h>

#include "daemon/upkeep/kit.h"
#include "daemon/yard/shelf.h"
#include "parsers/hours.h"

#define ITEMS_MOST 16 /* in one text */

bool kit_words(const struct settings *settings, const struct yard_standing *standings, size_t count,
               char out[KIT_WORDS_OCTETS])
{
    struct shelf needs = {0};
    size_t length = 0;
    for (size_t i = 0; i < count; i++) {
        if (standings[i].stage != DUE_STAGE_NO_RECORD) {
            shelf_add(&needs, settings, &settings->plans[standings[i].plan], 1);
        }
    }
    for (size_t i = 0; i < needs.item_count && length < KIT_WORDS_OCTETS; i++) {
        const struct shelf_item *row = &needs.items[i];
        const char *unit = kit_unit_name(shelf_unit(row->unit));
        bool fluid = row->unit != SETTINGS_UNIT_PIECE;
        char amount[HOURS_TEXT_OCTETS];
        (void)hours_write((kit_thousandths(row->needed_grains, shelf_unit(row->unit)) + 9) / 10,
                          amount, sizeof amount);
        length += (size_t)snprintf(out + length, KIT_WORDS_OCTETS - length, "%s%s%s%s %s",
                                   i > 0 ? ", " : "", amount, fluid ? " " : "x", fluid ? unit : "",
                                   row->item);
    }
    return needs.item_count > 0 && needs.item_count <= ITEMS_MOST && length < KIT_WORDS_OCTETS;
}
