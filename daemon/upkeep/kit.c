/* SPDX-License-Identifier: MIT
 *
 * kit: quantities of parts and fluids. */
#include "daemon/upkeep/kit.h"

#include <string.h>

static const struct kit_unit_row units[KIT_UNIT_COUNT] = {
    [KIT_UNIT_PIECE] = {{"piece", "pieces", "pc", "pcs"}, "pieces", false, 1},
    [KIT_UNIT_QUART] = {{"qt", "quart", "quarts"}, "quarts", true, 946352946},
    [KIT_UNIT_LITRE] = {{"l", "litre", "litres", "liter", "liters"}, "litres", true, 1000000000},
};

const struct kit_unit_row *kit_unit_row(enum kit_unit unit)
{
    return &units[unit];
}

const char *kit_unit_name(enum kit_unit unit)
{
    return units[unit].names[0];
}

bool kit_unit_find(const char *name, enum kit_unit *unit)
{
    for (size_t i = 0; i < KIT_UNIT_COUNT; i++) {
        if (strcmp(name, units[i].names[0]) == 0) {
            *unit = (enum kit_unit)i;
            return true;
        }
    }
    return false;
}

int64_t kit_grains(int64_t thousandths, enum kit_unit unit)
{
    int64_t scale = units[unit].grains;
    if (thousandths <= 0) {
        return 0;
    }
    return thousandths > INT64_MAX / scale ? INT64_MAX : thousandths * scale;
}

int64_t kit_thousandths(int64_t grains, enum kit_unit unit)
{
    int64_t scale = units[unit].grains;
    int64_t whole = grains / scale;
    return grains % scale >= scale - scale / 2 ? whole + 1 : whole;
}

bool kit_convert(int64_t thousandths, enum kit_unit from, enum kit_unit to,
                 int64_t *converted_thousandths)
{
    if (units[from].fluid != units[to].fluid) {
        return false;
    }
    *converted_thousandths = kit_thousandths(kit_grains(thousandths, from), to);
    return true;
}

int64_t kit_containers(int64_t grains, int64_t container_grains)
{
    if (grains <= 0 || container_grains <= 0) {
        return 0;
    }
    return grains / container_grains + (grains % container_grains > 0 ? 1 : 0);
}

int64_t kit_median(int64_t *grains, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        int64_t moved = grains[i];
        size_t at = i;
        for (; at > 0 && grains[at - 1] > moved; at--) {
            grains[at] = grains[at - 1];
        }
        grains[at] = moved;
    }
    return grains[(count - 1) / 2];
}

int64_t kit_add(int64_t grains, int64_t more_grains)
{
    return grains > INT64_MAX - more_grains ? INT64_MAX : grains + more_grains;
}
