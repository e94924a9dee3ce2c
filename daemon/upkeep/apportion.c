/* SPDX-License-Identifier: MIT
 *
 * apportion: what a machine had run at a moment between two readings. Time is counted in minutes, so
 * that hours times time stays far within its type. */
#include "daemon/upkeep/apportion.h"

#define MINUTE_S 60

int64_t apportion_at(const struct usage_record *record, int64_t at_s)
{
    size_t before = 0;
    while (before < record->count && record->readings[before].at_s > at_s) {
        before++;
    }
    if (record->count == 0) {
        return 0;
    }
    if (before == 0 || before == record->count) {
        return record->readings[before == 0 ? 0 : before - 1].true_hundredths;
    }
    const struct usage_reading *from = &record->readings[before];
    const struct usage_reading *to = &record->readings[before - 1];
    int64_t ran = to->true_hundredths - from->true_hundredths;
    int64_t minutes = usage_working_s(record, from->at_s, to->at_s) / MINUTE_S;
    int64_t share = usage_working_s(record, from->at_s, at_s) / MINUTE_S;
    return from->true_hundredths + (minutes > 0 ? ran * share / minutes : 0);
}
