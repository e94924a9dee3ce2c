/* SPDX-License-Identifier: MIT
 * shop_hours: the shop's hours, workdays and holidays. */
#include "daemon/desk/shop_hours.h"

#include "daemon/upkeep/civil.h"
#include "daemon/ground/zone.h"

#define LOOK_AHEAD_DAYS 366

bool shop_hours_workday(const struct settings_shop *shop, int32_t day)
{
    for (size_t i = 0; i < shop->holiday_count; i++) {
        if (shop->holidays[i] == day) {
            return false;
        }
    }
    return shop->workdays[civil_weekday(day)];
}

int64_t shop_hours_next(const struct settings_shop *shop, int64_t at_s)
{
    int32_t today = zone_civil(at_s).day;
    for (int32_t day = today; day < today + LOOK_AHEAD_DAYS; day++) {
        int64_t from_s = zone_unix(day, shop->alert_from_minute * 60);
        int64_t until_s = zone_unix(day, shop->alert_until_minute * 60);
        if (shop_hours_workday(shop, day) && at_s < until_s) {
            return at_s > from_s ? at_s : from_s;
        }
    }
    return at_s;
}
