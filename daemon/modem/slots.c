/* SPDX-License-Identifier: MIT
 * slots: see the header. */
#include "daemon/modem/slots.h"

#include <stdio.h>
#include <string.h>

void slots_clear(struct slots *slots)
{
    slots->count = 0;
    slots->overflowed = false;
}

void slots_name_memory(char out[SLOTS_MEMORY_OCTETS], const char *name)
{
    snprintf(out, SLOTS_MEMORY_OCTETS, "%.2s", name);
}

static struct slot *find_unread(struct slots *slots, const struct slot *wanted)
{
    for (size_t i = 0; i < slots->count; i++) {
        struct slot *slot = &slots->list[i];
        if (!slot->kept && slot->index == wanted->index &&
            strcmp(slot->memory, wanted->memory) == 0) {
            return slot;
        }
    }
    return NULL;
}

void slots_add(struct slots *slots, const struct slot *slot)
{
    struct slot *known = find_unread(slots, slot);
    if (known != NULL) {
        known->announced = known->announced || slot->announced;
    } else if (slots->count < SLOTS_MAX) {
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
