/* SPDX-License-Identifier: MIT
 *
 * kit: quantities of parts and fluids. */
#include "daemon/upkeep/kit.h"

/* Grains in a thousandth of the unit. */
static int64_t grain_scale(enum kit_unit unit)
{
    switch (unit) {
    case KIT_UNIT_PIECE:
        return 1;
    case KIT_UNIT_QUART:
        return 946352946;
    case KIT_UNIT_LITRE:
        return 1000000000;
    }
    return 1;
}

int64_t kit_grains(int64_t thousandths, enum kit_unit unit)
{
    int64_t scale = grain_scale(unit);
    if (thousandths <= 0) {
        return 0;
    }
    return thousandths > INT64_MAX / scale ? INT64_MAX : thousandths * scale;
}

int64_t kit_thousandths(int64_t grains, enum kit_unit unit)
{
    int64_t scale = grain_scale(unit);
    int64_t whole = grains / scale;
    return grains % scale >= scale - scale / 2 ? whole + 1 : whole;
}

bool kit_convert(int64_t thousandths, enum kit_unit from, enum kit_unit to,
                 int64_t *converted_thousandths)
{
    if ((from == KIT_UNIT_PIECE) != (to == KIT_UNIT_PIECE)) {
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

int64_t kit_add(int64_t grains, int64_t more_grains)
{
    return grains > INT64_MAX - more_grains ? INT64_MAX : grains + more_grains;
}
