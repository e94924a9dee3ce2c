/* SPDX-License-Identifier: MIT
 * quantity: see quantity.h. */
#include "daemon/counter/quantity.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

const char *quantity_write(int64_t thousandths, char room[QUANTITY_TEXT_OCTETS])
{
    int64_t whole = thousandths / 1000, rest = thousandths % 1000;
    int length =
        snprintf(room, QUANTITY_TEXT_OCTETS, "%s%" PRId64 ".%03" PRId64, thousandths < 0 ? "-" : "",
                 whole < 0 ? -whole : whole, rest < 0 ? -rest : rest);
    while (length > 0 && room[length - 1] == '0') {
        room[--length] = '\0';
    }
    if (length > 0 && room[length - 1] == '.') {
        room[length - 1] = '\0';
    }
    return room;
}

bool quantity_read(const char *text, int64_t *thousandths)
{
    size_t whole = strspn(text, "0123456789");
    size_t point = text[whole] == '.' ? 1 : 0;
    size_t decimals = point != 0 ? strspn(&text[whole + 1], "0123456789") : 0;
    if (whole == 0 || whole > 6 || decimals > 3 || point > decimals ||
        text[whole + point + decimals] != '\0') {
        return false;
    }
    *thousandths = 0;
    for (size_t i = 0; i < whole + 3; i++) {
        size_t at = i < whole ? i : i + 1;
        int digit = i < whole + decimals ? text[at] - '0' : 0;
        *thousandths = *thousandths * 10 + digit;
    }
    return true;
}

const char *quantity_unit(enum settings_unit unit)
{
    switch (unit) {
    case SETTINGS_UNIT_QUART:
        return "qt";
    case SETTINGS_UNIT_LITRE:
        return "l";
    case SETTINGS_UNIT_PIECE:
        break;
    }
    return "piece";
}
