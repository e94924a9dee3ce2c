/* SPDX-License-Identifier: MIT
 * septets for the sound analyser: any octets, septets and texts, any tables, any room. */
#include <__fc_builtin.h>

#include "parsers/septets.h"

#define TEXT_MAX (SEPTETS_MAX * SEPTETS_UTF8_MAX + 1)

static void pack_anything(void)
{
    uint8_t octets[SEPTETS_OCTETS_MAX];
    uint8_t septets[SEPTETS_MAX];
    Frama_C_make_unknown((char *)octets, sizeof octets);
    Frama_C_make_unknown((char *)septets, sizeof septets);
    size_t len = (size_t)Frama_C_interval(0, sizeof octets);
    size_t count = (size_t)Frama_C_unsigned_int_interval(0, UINT32_MAX);
    size_t unpacked = septets_unpack(octets, len, septets, count);
    /*@ assert unpacked <= 160; */
    size_t packed = septets_pack(septets, count <= SEPTETS_MAX ? count : 0, octets, len);
    /*@ assert packed <= 140; */
}

static void show_anything(struct septets_shift shift)
{
    uint8_t septets[SEPTETS_MAX];
    char text[TEXT_MAX];
    Frama_C_make_unknown((char *)septets, sizeof septets);
    size_t from = (size_t)Frama_C_interval(0, sizeof septets);
    size_t to = (size_t)Frama_C_interval(0, sizeof septets);
    size_t room = (size_t)Frama_C_interval(0, sizeof text);
    septets_to_utf8(septets, from, to, shift, text, room);
}

static void write_anything(struct septets_shift shift)
{
    uint8_t septets[SEPTETS_MAX];
    char text[TEXT_MAX];
    Frama_C_make_unknown(text, sizeof text);
    size_t from = (size_t)Frama_C_interval(0, sizeof text);
    size_t to = (size_t)Frama_C_interval(0, sizeof text);
    size_t room = (size_t)Frama_C_interval(0, sizeof septets);
    size_t count = (size_t)Frama_C_interval(0, sizeof septets);
    septets_from_utf8(text, from, to, shift, septets, room, &count);
    /*@ assert count <= 160; */
    septets_count(text, to, &count);
}

int main(void)
{
    uint8_t code = 0;
    struct septets_shift shift;
    Frama_C_make_unknown((char *)&shift, sizeof shift);
    pack_anything();
    show_anything(shift);
    write_anything(shift);
    septets_of(Frama_C_unsigned_int_interval(0, UINT32_MAX), shift, &code);
    return 0;
}
