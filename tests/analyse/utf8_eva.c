/* SPDX-License-Identifier: MIT
 * ucs2 and utf8 for the sound analyser: any octets and texts, any room. */
#include <__fc_builtin.h>

#include "parsers/utf8.h"

#define OCTETS_MAX 140
#define TEXT_MAX (UCS2_TEXT_OCTETS(OCTETS_MAX) + 1)

int main(void)
{
    uint8_t octets[OCTETS_MAX];
    char text[TEXT_MAX];
    uint32_t character = 0;
    bool damaged = false;
    Frama_C_make_unknown((char *)octets, sizeof octets);
    size_t from = (size_t)Frama_C_interval(0, sizeof octets);
    size_t to = (size_t)Frama_C_interval(0, sizeof octets);
    size_t room = (size_t)Frama_C_interval(0, sizeof text);
    ucs2_to_utf8(octets, from, to, text, room, &damaged);

    Frama_C_make_unknown(text, sizeof text);
    from = (size_t)Frama_C_interval(0, sizeof text);
    to = (size_t)Frama_C_interval(0, sizeof text);
    room = (size_t)Frama_C_interval(0, sizeof octets);
    size_t count = (size_t)Frama_C_interval(0, sizeof octets);
    ucs2_from_utf8(text, from, to, octets, room, &count);
    /*@ assert count <= 140; */

    size_t read = utf8_read(text, to, from, &character);
    /*@ assert read <= 4; */
    size_t written = utf8_write(Frama_C_unsigned_int_interval(0, UINT32_MAX), text, to, from);
    /*@ assert written <= 4; */
    return 0;
}
