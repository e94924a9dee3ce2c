/* SPDX-License-Identifier: MIT
 * shop_hours: when the shop may be told. By the shop's zone, which is the process's. */
#ifndef METERPOST_DAEMON_DESK_SHOP_HOURS_H
#define METERPOST_DAEMON_DESK_SHOP_HOURS_H

#include <stdbool.h>
#include <stdint.h>

#include "config/settings.h"

/* A workday that is no holiday; day is a civil day. */
bool shop_hours_workday(const struct settings_shop *shop, int32_t day);

/* The first moment from at_s on within the shop's hours: at_s itself where it is open. A shop
 * without a workday in the next year is never closed, so that no alert waits for ever. */
int64_t shop_hours_next(const struct settings_shop *shop, int64_t at_s);

#endif
