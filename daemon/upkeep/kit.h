/* SPDX-License-Identifier: MIT
 * kit: quantities of parts and fluids, converted and summed without loss, and rounded up to what
 * they are sold in. Pure.
 *
 * Quantities are thousandths of their unit. Sums are kept in grains, which are whole for every unit:
 * a grain of a fluid is a picolitre, since a thousandth of a US liquid quart is exactly 946 352 946
 * of them (NIST Handbook 44, appendix C: 1 quart = 0.946 352 946 litre); a grain of pieces is a
 * thousandth of a piece. */
#ifndef METERPOST_DAEMON_UPKEEP_KIT_H
#define METERPOST_DAEMON_UPKEEP_KIT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum kit_unit { KIT_UNIT_PIECE, KIT_UNIT_QUART, KIT_UNIT_LITRE };
#define KIT_UNIT_COUNT (KIT_UNIT_LITRE + 1)
#define KIT_UNIT_NAMES_MOST 6

/* What is to be known of a unit. The first name is the one that is written, in JSON, CSV, the ledger
 * and to people; the config takes any of them. */
struct kit_unit_row {
    const char *names[KIT_UNIT_NAMES_MOST]; /* NULL after the last */
    const char *plural;                     /* "quarts" */
    bool fluid;                             /* else counted in pieces */
    int64_t grains;                         /* in a thousandth of it */
};

/* Static; never NULL. */
const struct kit_unit_row *kit_unit_row(enum kit_unit unit);

/* "piece", "qt" or "l". */
const char *kit_unit_name(enum kit_unit unit);

/* The unit that is written so; false, and nothing set, where there is none. */
bool kit_unit_find(const char *name, enum kit_unit *unit);

/* A quantity in grains; held to 0 where negative and to INT64_MAX where too large (9 million
 * litres). */
int64_t kit_grains(int64_t thousandths, enum kit_unit unit);

/* Grains in thousandths of a unit, to the nearest. */
int64_t kit_thousandths(int64_t grains, enum kit_unit unit);

/* A quantity in another unit, to the nearest thousandth. False, and nothing set, between pieces and
 * a fluid. */
bool kit_convert(int64_t thousandths, enum kit_unit from, enum kit_unit to,
                 int64_t *converted_thousandths);

/* How many containers hold at least so many grains; 0 where a container holds nothing. */
int64_t kit_containers(int64_t grains, int64_t container_grains);

/* The middle one; of an even number the lesser of the two in the middle. count at least 1. Puts them
 * in order. */
int64_t kit_median(int64_t *grains, size_t count);

/* The sum, held to INT64_MAX. */
int64_t kit_add(int64_t grains, int64_t more_grains);

#endif
