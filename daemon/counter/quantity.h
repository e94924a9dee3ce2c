/* SPDX-License-Identifier: MIT
 * quantity: thousandths of a unit as a decimal figure. */
#ifndef METERPOST_DAEMON_COUNTER_QUANTITY_H
#define METERPOST_DAEMON_COUNTER_QUANTITY_H

#include <stdbool.h>
#include <stdint.h>

#include "config/settings.h"

#define QUANTITY_TEXT_OCTETS 32

/* "4.7", "5", "0.125": as few decimals as say it exactly. Returns room. */
const char *quantity_write(int64_t thousandths, char room[QUANTITY_TEXT_OCTETS]);

/* "qt", "l" or "piece". */
const char *quantity_unit(enum settings_unit unit);

/* Reads the same, nothing around it; up to 999999.999. */
bool quantity_read(const char *text, int64_t *thousandths);

#endif
