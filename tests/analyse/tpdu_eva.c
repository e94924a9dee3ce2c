/* SPDX-License-Identifier: MIT
 * tpdu for the sound analyser: any octets and any characters, up to the longest line and beyond. */
#include <__fc_builtin.h>

#include "parsers/tpdu.h"

int main(void)
{
    static uint8_t octets[TPDU_LINE_OCTETS_MAX];
    static char hex[2 * TPDU_LINE_OCTETS_MAX];
    struct tpdu tpdu;
    Frama_C_make_unknown((char *)octets, sizeof octets);
    Frama_C_make_unknown(hex, sizeof hex);
    enum tpdu_error error =
        tpdu_from_octets(octets, (size_t)Frama_C_interval(0, sizeof octets), &tpdu);
    tpdu_error_says(error);
    size_t len = (size_t)Frama_C_unsigned_int_interval(0, UINT32_MAX);
    tpdu_from_hex(hex, len, &tpdu);
    return 0;
}
