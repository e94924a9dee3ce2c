/* SPDX-License-Identifier: MIT
 * reported: see reported.h. */
#include "daemon/yard/reported.h"

#include <stdio.h>
#include <stdlib.h>

struct gathering {
    struct yard *yard;
    int64_t now_s;
    struct yard_trouble *troubles;
    size_t count, room;
    bool memory_short;
};

static bool make_room(struct gathering *gathering)
{
    if (gathering->count < gathering->room) {
        return true;
    }
    size_t room = gathering->room == 0 ? 16 : gathering->room * 2;
    struct yard_trouble *grown = realloc(gathering->troubles, room * sizeof *grown);
    if (grown == NULL) {
        gathering->memory_short = true;
        return false;
    }
    gathering->troubles = grown;
    gathering->room = room;
    return true;
}

static void take_trouble(void *ctx, const struct trouble_row *row)
{
    struct gathering *gathering = ctx;
    struct ledger *ledger = gathering->yard->ledger;
    struct yard_trouble trouble = {
        .machine = -1, .danger = row->weight == TROUBLE_DANGER, .since_s = row->since_s};
    char machine[PEOPLE_NAME_OCTETS];
    if (row->since_s > gathering->now_s /* seen from an earlier day */ || !make_room(gathering)) {
        return;
    }
    if (row->machine_id != 0 && machines_name(ledger, row->machine_id, machine) == LEDGER_OK) {
        trouble.machine = settings_find_machine(gathering->yard->settings, machine);
    }
    if (row->person_id == 0 || people_name(ledger, row->person_id, trouble.person) != LEDGER_OK) {
        trouble.person[0] = '\0';
    }
    (void)snprintf(trouble.says, sizeof trouble.says, "%s", row->words);
    gathering->troubles[gathering->count++] = trouble;
}

/* Danger first; else in the order of the ledger. */
static int by_danger(const void *one, const void *other)
{
    const struct yard_trouble *left = one, *right = other;
    return left->danger != right->danger     ? (int)right->danger - (int)left->danger
           : left->machine != right->machine ? left->machine - right->machine
           : left->since_s != right->since_s ? (left->since_s < right->since_s ? -1 : 1)
                                             : 0;
}

enum ledger_result yard_troubles(struct yard *yard, int64_t now_s, struct yard_trouble **troubles,
                                 size_t *count)
{
    struct gathering gathering = {.yard = yard, .now_s = now_s};
    enum ledger_result result = troubles_open(yard->ledger, 0, take_trouble, &gathering);
    if (gathering.count > 0) {
        qsort(gathering.troubles, gathering.count, sizeof gathering.troubles[0], by_danger);
    }
    *troubles = gathering.troubles;
    *count = gathering.count;
    return gathering.memory_short ? LEDGER_IO : result;
}
