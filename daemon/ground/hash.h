/* SPDX-License-Identifier: MIT
 * hash: a text in short, to tell it from others: no secret and no defence. */
#ifndef METERPOST_DAEMON_GROUND_HASH_H
#define METERPOST_DAEMON_GROUND_HASH_H

#include <stdint.h>

/* FNV-1a, 64 bits (Fowler, Noll and Vo; draft-eastlake-fnv). Kept on disk by some: never another. */
static inline uint64_t hash_text(const char *text)
{
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    for (; *text != '\0'; text++) {
        hash = (hash ^ (unsigned char)*text) * UINT64_C(0x100000001b3);
    }
    return hash;
}

#endif
