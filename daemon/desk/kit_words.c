/* SPDX-License-Identifier: MIT
 * kit_words: items are one where their names are alike and both are pieces or both fluids. Sums are
 * exact (upkeep/kit.h); what is written is rounded up to the hundredth, so that it is never short. */
#include "daemon/desk/kit_words.h"

#include <stdio.h>
#include <strings.h>

#include "daemon/upkeep/kit.h"
#include "daemon/yard/shelf.h"
#include "parsers/hours.h"

#define ITEMS_MAX 16

struct needed {
    const char *item;
    enum settings_unit unit; /* the shop's, of a fluid */
    int64_t grains;
};

struct needs {
    struct needed rows[ITEMS_MAX];
    size_t count;
    bool left_out;
};

static struct needed *place_of(struct needs *needs, const char *item, enum settings_unit unit)
{
    for (size_t i = 0; i < needs->count; i++) {
        if (needs->rows[i].unit == unit && strcasecmp(needs->rows[i].item, item) == 0) {
            return &needs->rows[i];
        }
    }
    if (needs->count == ITEMS_MAX) {
        needs->left_out = true;
        return NULL;
    }
    needs->rows[needs->count] = (struct needed){.item = item, .unit = unit};
    return &needs->rows[needs->count++];
}

static void add_kit(const struct settings *settings, const struct settings_plan *plan,
                    struct needs *needs)
{
    for (size_t i = 0; i < plan->kit_count; i++) {
        const struct settings_kit_item *kit = &plan->kit[i];
        struct needed *row = place_of(
            needs, kit->item, kit->unit == SETTINGS_UNIT_PIECE ? kit->unit : settings->shop.units);
        if (row != NULL) {
            row->grains =
                kit_add(row->grains, kit_grains(kit->quantity_thousandths, shelf_unit(kit->unit)));
        }
    }
}

static const char *unit_word(enum settings_unit unit)
{
    switch (unit) {
    case SETTINGS_UNIT_QUART:
        return " qt";
    case SETTINGS_UNIT_LITRE:
        return " l";
    case SETTINGS_UNIT_PIECE:
        break;
    }
    return "x";
}

bool kit_words(const struct settings *settings, const struct yard_standing *standings, size_t count,
               char out[KIT_WORDS_OCTETS])
{
    struct needs needs = {.count = 0};
    size_t length = 0;
    for (size_t i = 0; i < count; i++) {
        if (standings[i].stage != DUE_STAGE_NO_RECORD) {
            add_kit(settings, &settings->plans[standings[i].plan], &needs);
        }
    }
    for (size_t i = 0; i < needs.count && length < KIT_WORDS_OCTETS; i++) {
        const struct needed *row = &needs.rows[i];
        char amount[HOURS_TEXT_OCTETS];
        (void)hours_write((kit_thousandths(row->grains, shelf_unit(row->unit)) + 9) / 10, amount,
                          sizeof amount);
        length += (size_t)snprintf(out + length, KIT_WORDS_OCTETS - length, "%s%s%s %s",
                                   i > 0 ? ", " : "", amount, unit_word(row->unit), row->item);
    }
    return needs.count > 0 && !needs.left_out && length < KIT_WORDS_OCTETS;
}
