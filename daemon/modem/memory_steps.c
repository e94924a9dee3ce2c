/* SPDX-License-Identifier: MIT
 * memory_steps: the set-up's steps for the memory that texts are kept in (+CPMS, TS 27.005 3.2.2:
 * mem1 is read and deleted from, mem2 written to, mem3 received into). The SIM comes first: it
 * keeps its texts through a power cut, a modem's own memory not always. */
#include "daemon/modem/setup_step.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/log.h"
#include "parsers/at_line.h"

#define FORMS 3
#define TRIES_LAST 2 /* of the step, by its row in the table, from 0 */

static void add_memory(struct setup *setup, const char *name)
{
    struct setup_found *found = &setup->found;
    if (found->memory_count < SETUP_MEMORIES_MAX) {
        slots_name_memory(found->memories[found->memory_count], name);
        found->memory_count++;
    }
}

/* "MT" is the two together, and of use only where they are not offered by themselves. */
void setup_keep_memories(struct setup *setup, const char *text, size_t length)
{
    static const char *const names[] = {"SM", "ME", "MT", "SR"};
    setup->found.memory_count = 0;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        bool together = strcmp(names[i], "MT") == 0;
        if (at_line_names(text, length, 0, names[i]) &&
            !(together && setup->found.memory_count > 0)) {
            add_memory(setup, names[i]);
        }
    }
}

/* Some answer with a list that cannot be read, or with none. */
enum setup_verdict setup_judge_memories(struct setup *setup, const struct chat_result *result)
{
    if (setup_is_passing(result) && setup->tries < TRIES_LAST) {
        return SETUP_VERDICT_AGAIN;
    }
    if (setup->found.memory_count == 0) {
        add_memory(setup, "SM");
        add_memory(setup, "ME");
    }
    return SETUP_VERDICT_NEXT;
}

/* Some take all three at once, some two, some one. */
enum setup_writing setup_write_memory(struct setup *setup, char *out, size_t size)
{
    const char *name = setup->found.memories[setup->memory];
    if (setup->memory_form == 0) {
        snprintf(out, size, "AT+CPMS=\"%s\",\"%s\",\"%s\"", name, name, name);
    } else if (setup->memory_form == 1) {
        snprintf(out, size, "AT+CPMS=\"%s\",\"%s\"", name, name);
    } else {
        snprintf(out, size, "AT+CPMS=\"%s\"", name);
    }
    return SETUP_WRITING_SEND;
}

void setup_keep_storage(struct setup *setup, const char *text, size_t length)
{
    struct setup_found *found = &setup->found;
    if (!at_line_number(text, length, 0, &found->storage_used) ||
        !at_line_number(text, length, 1, &found->storage_total)) {
        found->storage_used = found->storage_total = -1;
    }
}

static void use_memory(struct setup *setup)
{
    struct setup_found *found = &setup->found;
    char chosen[SLOTS_MEMORY_OCTETS];
    memcpy(chosen, found->memories[setup->memory], sizeof chosen);
    memcpy(found->memories[setup->memory], found->memories[0], sizeof chosen);
    memcpy(found->memories[0], chosen, sizeof chosen);
    log_info("modem: texts are kept in %s, %d of %d places taken", chosen, (int)found->storage_used,
             (int)found->storage_total);
}

/* To the next form, then to the next memory; false after the last. */
static bool try_another(struct setup *setup, bool refused)
{
    if (refused && setup->memory_form + 1 < FORMS) {
        setup->memory_form++;
        return true;
    }
    setup->memory_form = 0;
    setup->memory++;
    if (setup->memory < setup->found.memory_count) {
        return true;
    }
    setup->memory = 0;
    return false;
}

/* A SIM without room for texts says so by a total of 0. */
enum setup_verdict setup_judge_memory(struct setup *setup, const struct chat_result *result)
{
    bool taken = result->outcome == CHAT_OK;
    if (taken && setup->found.storage_total != 0) {
        use_memory(setup);
        return SETUP_VERDICT_NEXT;
    }
    setup->found.storage_used = setup->found.storage_total = -1;
    if (setup_is_passing(result)) {
        return SETUP_VERDICT_AGAIN;
    }
    if (try_another(setup, !taken)) {
        return SETUP_VERDICT_REPEAT;
    }
    if (setup->tries >= TRIES_LAST) {
        log_info("modem: it offers no choice of memory");
        setup->found.memory_count = 0;
        return SETUP_VERDICT_NEXT;
    }
    return SETUP_VERDICT_AGAIN;
}
