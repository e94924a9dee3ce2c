/* SPDX-License-Identifier: MIT
 * compare: the lesser, the greater and the order of two whole figures. Pure. */
#ifndef METERPOST_DAEMON_UPKEEP_COMPARE_H
#define METERPOST_DAEMON_UPKEEP_COMPARE_H

#include <stdint.h>

static inline int64_t lesser(int64_t one, int64_t other)
{
    return one < other ? one : other;
}

static inline int64_t greater(int64_t one, int64_t other)
{
    return one > other ? one : other;
}

/* Negative: one is the lesser; 0: they are equal. As qsort wants it. */
static inline int compare(int64_t one, int64_t other)
{
    return (one > other) - (one < other);
}

#endif
