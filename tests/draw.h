/* SPDX-License-Identifier: MIT
 * draw: numbers at random for a test that prints its seed. */
#ifndef METERPOST_TESTS_DRAW_H
#define METERPOST_TESTS_DRAW_H

#include <stdint.h>

/* xorshift64*: no state but this. */
static uint64_t seed;
static uint32_t draw(uint32_t below)
{
    seed ^= seed >> 12;
    seed ^= seed << 25;
    seed ^= seed >> 27;
    return (uint32_t)((seed * UINT64_C(2685821657736338717)) >> 33) % below;
}

#endif
