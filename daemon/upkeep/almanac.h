/* SPDX-License-Identifier: MIT
 * almanac: how much of a year's work a yard does in which part of it, from what its machines ran in
 * the year before. Pure.
 *
 * Each machine that was read for a year has a vote, whatever its hours; its share grows with what is
 * on record beyond that year, and few votes count little, so that nothing jumps when a year is full
 * or a machine comes or goes. */
#ifndef METERPOST_DAEMON_UPKEEP_ALMANAC_H
#define METERPOST_DAEMON_UPKEEP_ALMANAC_H

#include <stddef.h>
#include <stdint.h>

#include "daemon/upkeep/usage.h"

#define ALMANAC_PERIODS 13
#define ALMANAC_PERIOD_S (INT64_C(28) * 86400)
#define ALMANAC_YEAR_S (ALMANAC_PERIODS * ALMANAC_PERIOD_S)
#define ALMANAC_FULL_S (INT64_C(56) * 86400) /* beyond the year, for a whole vote */

struct almanac {
    int64_t from_s;                  /* a year before the moment for which it was made */
    double votes;                    /* 0: nothing is known, and every weight is 1 */
    double weights[ALMANAC_PERIODS]; /* work of each four weeks; 1 is the year's mean */
};

/* An empty one for that moment; add machines, then settle it. */
struct almanac almanac_begin(int64_t now_s);
void almanac_add(struct almanac *almanac, const struct usage_record *record);
void almanac_settle(struct almanac *almanac);

/* The weight at any moment, of the same time of the year; between the middles of the periods in a
 * line. Never negative. */
double almanac_weight(const struct almanac *almanac, int64_t at_s);

#endif
