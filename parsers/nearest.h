/* SPDX-License-Identifier: MIT
 * nearest: the known word that a mistyped one was perhaps meant to be. */
#ifndef METERPOST_PARSERS_NEAREST_H
#define METERPOST_PARSERS_NEAREST_H

#include <stddef.h>
#include <stdint.h>

#define NEAREST_OCTETS_MAX 48 /* longer words are near to nothing */

/* Offer every known word, then look at `name`. */
struct nearest {
    const char *word;  /* as typed */
    const char *name;  /* the nearest so far; NULL when none is near enough to have been meant */
    uint32_t distance; /* of `name` */
};

/* Both words must outlive *nearest. */
void nearest_begin(struct nearest *nearest, const char *word);
void nearest_offer(struct nearest *nearest, const char *name);

/* Letters added, missing, wrong or exchanged with their neighbour between two words (optimal string
 * alignment), the case of ASCII letters aside. UINT32_MAX for a word that is too long. */
uint32_t nearest_distance(const char *one, const char *other);

#endif
