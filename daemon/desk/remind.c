/* SPDX-License-Identifier: MIT
 * remind: when a machine was last told of is a mark of the ledger, one a machine and plan. */
#include "daemon/desk/remind.h"

#include <stdio.h>
#include <stdlib.h>

#include "daemon/desk/room.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/ground/zone.h"

#define MARK_OCTETS 64

static void mark_name(const struct desk *desk, const struct yard_standing *standing, char *out)
{
    (void)snprintf(out, MARK_OCTETS, "told %s %s", desk->settings->machines[standing->machine].name,
                   desk->settings->plans[standing->plan].name);
}

static enum ledger_result put_off(struct desk *desk, int32_t machine, int64_t now_s, bool *is_off)
{
    int64_t machine_id = 0;
    int64_t until_s = 0;
    enum ledger_result result =
        machines_id(desk->ledger, desk->settings->machines[machine].name, &machine_id);
    if (result == LEDGER_OK) {
        result = machines_later(desk->ledger, machine_id, &until_s);
    }
    *is_off = until_s > now_s;
    return result;
}

static enum ledger_result is_wanted(struct desk *desk, const struct yard_standing *standing,
                                    int64_t now_s, bool *wanted)
{
    int32_t days = desk->settings->plans[standing->plan].plan.remind_days;
    char name[MARK_OCTETS];
    int64_t told_s = 0;
    bool is_off = false;
    *wanted = false;
    if (days <= 0 || (standing->stage != DUE_STAGE_DUE && standing->stage != DUE_STAGE_OVERDUE)) {
        return LEDGER_OK;
    }
    mark_name(desk, standing, name);
    enum ledger_result result = marks_get(desk->ledger, name, &told_s);
    if (result != LEDGER_OK) {
        return result == LEDGER_NONE ? LEDGER_OK : result; /* never told: an alert's business */
    }
    result = put_off(desk, standing->machine, now_s, &is_off);
    *wanted = !is_off && zone_civil(now_s).day - zone_civil(told_s).day >= days;
    return result;
}

enum ledger_result remind_gather(struct desk *desk, struct notices_list *list, int64_t now_s)
{
    struct yard_standing *standings = NULL;
    size_t count = 0;
    enum ledger_result result = yard_stand_all(&desk->yard, now_s, &standings, &count);
    for (size_t i = 0; i < count && result == LEDGER_OK; i++) {
        bool wanted = false;
        result = is_wanted(desk, &standings[i], now_s, &wanted);
        if (wanted) {
            notices_list_add(list, &standings[i]);
        }
    }
    free(standings);
    return result;
}

enum ledger_result remind_mark(struct desk *desk, const struct notices_list *list, int64_t now_s)
{
    enum ledger_result result = LEDGER_OK;
    for (size_t i = 0; i < list->count && result == LEDGER_OK; i++) {
        char name[MARK_OCTETS];
        mark_name(desk, &list->rows[i], name);
        result = marks_set(desk->ledger, name, now_s);
    }
    return result;
}
