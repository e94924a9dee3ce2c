/* SPDX-License-Identifier: MIT
 * sweep: see intake.h. The two slow looks keep an idle line below four wake-ups a minute. */
#include "daemon/modem/intake.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/log.h"
#include "parsers/at_line.h"

/* ---- places to read */

void slots_add(struct slots *slots, const struct slot *slot)
{
    for (size_t i = 0; i < slots->count; i++) {
        struct slot *known = &slots->list[i];
        if (!known->kept && known->index == slot->index &&
            strcmp(known->memory, slot->memory) == 0) {
            known->announced = known->announced || slot->announced;
            return;
        }
    }
    if (slots->count < SLOTS_MAX) {
        slots->list[slots->count] = *slot;
        slots->count++;
    } else {
        slots->overflowed = true;
    }
}

void slots_drop_first(struct slots *slots)
{
    if (slots->count > 0) {
        slots->count--;
        memmove(&slots->list[0], &slots->list[1], slots->count * sizeof slots->list[0]);
    }
}

/* ---- the looks */

/* Two minutes were needed by a slow module with a full memory; an empty one is told at once. */
#define LIST_WAIT_MS 120000
#define LIST_EMPTY_WAIT_MS 20000
#define TRIES_MAX 3
#define ONE_MS 180000
#define ALL_MS 1800000
/* Without indications the sweep is the only way in. */
#define ALONE_MS 20000
#define STAT_OWN 2 /* 2 stored unsent, 3 stored sent (TS 27.005 3.1 <stat>) */

void sweep_init(struct sweep *sweep, const struct setup_found *found, struct link_health *health)
{
    *sweep = (struct sweep){
        .found = found, .health = health, .one_ms = CLOCK_NEVER, .all_ms = CLOCK_NEVER};
}

static int64_t pause_ms(const struct sweep *sweep)
{
    return sweep->found->way == INDICATIONS_WAY_NONE ? ALONE_MS : ONE_MS;
}

static bool is_pending(const struct sweep *sweep)
{
    return sweep->next < sweep->end;
}

static void plan_all(struct sweep *sweep, struct instant now)
{
    sweep->next = 0;
    sweep->end = sweep->found->memory_count > 0 ? sweep->found->memory_count : 1;
    sweep->one_ms = now.mono_ms + pause_ms(sweep);
    sweep->all_ms = now.mono_ms + ALL_MS;
}

void sweep_start(struct sweep *sweep, struct instant now)
{
    const struct link_health *health = sweep->health;
    sweep_init(sweep, sweep->found, sweep->health);
    sweep->full = health->storage_total > 0 && health->storage_used >= health->storage_total;
    sweep_all(sweep, now);
}

void sweep_all(struct sweep *sweep, struct instant now)
{
    sweep->settled = false;
    plan_all(sweep, now);
}

void sweep_one(struct sweep *sweep, struct instant now)
{
    if (!is_pending(sweep)) {
        sweep->next = 0;
        sweep->end = 1;
    }
    sweep->one_ms = now.mono_ms + pause_ms(sweep);
}

void sweep_full(struct sweep *sweep, struct instant now)
{
    sweep->full = true;
    sweep_all(sweep, now);
}

const char *sweep_wanted(struct sweep *sweep, struct instant now, bool more)
{
    if (now.mono_ms >= sweep->all_ms || (more && !is_pending(sweep))) {
        plan_all(sweep, now);
    } else if (now.mono_ms >= sweep->one_ms) {
        sweep_one(sweep, now);
    }
    return is_pending(sweep) ? sweep->found->memories[sweep->next] : NULL;
}

void sweep_settle(struct sweep *sweep)
{
    sweep->settled = true;
    sweep->full = false;
}

int64_t sweep_deadline_ms(const struct sweep *sweep)
{
    return is_pending(sweep) ? 0 : clock_earlier(sweep->one_ms, sweep->all_ms);
}

void sweep_note(const struct sweep *sweep, struct slots *slots, const char *memory, int32_t index,
                bool announced)
{
    struct slot slot = {.index = index,
                        .announced = announced || !sweep->settled || sweep->left_behind};
    setup_name_memory(slot.memory, memory);
    slots_add(slots, &slot);
}

void sweep_write(struct sweep *sweep, struct chat_command *command)
{
    if (sweep->cannot_list) {
        snprintf(command->text, sizeof command->text, "AT+CPMS?");
        command->prefix = "+CPMS:";
        command->wait_ms = CHAT_WAIT_SIM_MS;
        return;
    }
    snprintf(command->text, sizeof command->text, "AT+CMGL=4");
    command->prefix = "+CMGL:";
    command->listing = true;
    command->wait_ms = sweep->settled ? LIST_EMPTY_WAIT_MS : LIST_WAIT_MS;
    sweep->listed = sweep->listed_own = 0;
}

/* +CPMS: <mem>,<used>,<total>,... Places count from 0 on some modems, from 1 on others. */
static void take_count(const struct sweep *sweep, struct slots *slots, const char *memory,
                       const char *text, size_t length)
{
    int32_t used = 0, total = 0;
    if (!at_line_number(text, length, 1, &used) || !at_line_number(text, length, 2, &total) ||
        used == 0) {
        return;
    }
    for (int32_t index = 0; index <= total && index < SLOTS_MAX; index++) {
        sweep_note(sweep, slots, memory, index, true);
    }
}

void sweep_line(struct sweep *sweep, struct slots *slots, const char *memory, const char *text,
                size_t length)
{
    int32_t index = 0, stat = 0;
    if (sweep->cannot_list) {
        take_count(sweep, slots, memory, text, length);
        return;
    }
    if (!at_line_starts(text, length, "+CMGL:") || !at_line_number(text, length, 0, &index)) {
        return; /* the PDU: it is read by itself */
    }
    sweep->listed++;
    if (!at_line_number(text, length, 1, &stat) || stat < STAT_OWN) {
        sweep_note(sweep, slots, memory, index, false);
        return;
    }
    sweep->listed_own++;
    if (sweep->full) {
        struct slot slot = {.index = index, .announced = true, .kept = true};
        setup_name_memory(slot.memory, memory);
        log_notice("modem: memory full: the stored copy at place %d is removed", (int)index);
        slots_add(slots, &slot);
    }
}

/* Plain ERROR again and again: a modem that listed before has lost its settings, one that never
 * did cannot list. A number means a SIM that is busy for long: the next look finds it free. */
static enum sweep_result end_refused(struct sweep *sweep, const struct chat_result *result)
{
    sweep->tries++;
    if (sweep->tries < TRIES_MAX) {
        return SWEEP_RESULT_AGAIN;
    }
    sweep->tries = 0;
    if (result->outcome != CHAT_ERROR) {
        sweep->next++;
    } else if (sweep->worked) {
        sweep->next = sweep->end;
        return SWEEP_RESULT_REFUSED;
    } else {
        sweep->cannot_list = true;
    }
    return SWEEP_RESULT_GOOD;
}

enum sweep_result sweep_end(struct sweep *sweep, const char *memory,
                            const struct chat_result *result)
{
    if (result->outcome == CHAT_SILENT || sweep->cannot_list) {
        sweep->next++; /* after silence all is looked through again once the modem answers */
        return SWEEP_RESULT_GOOD;
    }
    if (result->outcome != CHAT_OK) {
        return end_refused(sweep, result);
    }
    sweep->worked = true;
    sweep->tries = 0;
    bool was_full = sweep->full;
    if (strcmp(memory, sweep->found->memories[0]) == 0) {
        sweep_storage(sweep, sweep->listed, sweep->health->storage_total);
    }
    /* Where it turns out to be full only now, it is listed once more, to remove what is ours. */
    if (was_full || !sweep->full || sweep->listed_own == 0) {
        sweep->next++;
    }
    return SWEEP_RESULT_GOOD;
}

void sweep_storage(struct sweep *sweep, int32_t used, int32_t total)
{
    sweep->health->storage_used = used;
    sweep->health->storage_total = total;
    sweep->full = sweep->full || (total > 0 && used >= total);
}
