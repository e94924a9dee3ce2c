/* SPDX-License-Identifier: MIT
 * quantity: see quantity.h. */
#include "daemon/counter/quantity.h"

#include <inttypes.h>
#include <stdio.h>

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
