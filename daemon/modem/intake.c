/* SPDX-License-Identifier: MIT
 * intake: see the header. A sweep only lists the places; each text is then read by itself, so that
 * there is one way in, and a long listing never waits for the disk. An indication that was lost
 * costs time, no text: the sweep finds it. */
#include "daemon/modem/intake.h"

#include <stdio.h>
#include <string.h>

#include "daemon/log.h"
#include "parsers/at_line.h"

#define SHORT_WAIT_MS 5000
#define READ_WAIT_MS 30000
#define DELETE_WAIT_MS 30000
#define LIST_WAIT_MS 120000
#define TRIES_MAX 3
#define RETRY_PAUSE_MS 2000
/* The house could not keep a text: asked again no sooner than this. */
#define OFFER_AGAIN_MS 60000
#define SWEEP_MS 180000
#define SWEEP_ALL_MS 900000
/* Without indications the sweep is the only way in. */
#define SWEEP_ALONE_MS 20000

#define CMS_INVALID_INDEX 321
#define CMS_NO_CNMA_EXPECTED 340
#define CME_INVALID_INDEX 21
#define CME_NOT_FOUND 22

static const char list_command[] = "AT+CMGL=4";

void intake_init(struct intake *intake, const struct link_host *host,
                 const struct setup_found *found, struct link_health *health)
{
    *intake = (struct intake){.host = host,
                              .found = found,
                              .health = health,
                              .sweep_ms = CLOCK_NEVER,
                              .sweep_all_ms = CLOCK_NEVER};
}

static void name_memory(char out[SETUP_MEMORY_OCTETS], const char *name)
{
    snprintf(out, SETUP_MEMORY_OCTETS, "%.2s", name);
}

static int64_t sweep_pause_ms(const struct intake *intake)
{
    return intake->found->way == INDICATIONS_WAY_NONE ? SWEEP_ALONE_MS : SWEEP_MS;
}

void intake_start(struct intake *intake, struct instant now)
{
    intake->slot_count = 0;
    intake->task = INTAKE_TASK_NONE;
    intake->acknowledge = false;
    intake->not_before_ms = now.mono_ms;
    intake->text_mode = intake->list_refused = intake->indications_lost = false;
    intake->unannounced = 0;
    name_memory(intake->memory, intake->found->memory_count > 0 ? intake->found->memories[0] : "");
    intake_sweep(intake, now);
}

void intake_sweep(struct intake *intake, struct instant now)
{
    intake->overflowed = false;
    intake->list_next = 0;
    intake->list_end = intake->found->memory_count > 0 ? intake->found->memory_count : 1;
    intake->sweep_ms = now.mono_ms + sweep_pause_ms(intake);
    intake->sweep_all_ms = now.mono_ms + SWEEP_ALL_MS;
}

static void add_slot(struct intake *intake, const char *memory, int32_t index, bool announced)
{
    for (size_t i = 0; i < intake->slot_count; i++) {
        struct intake_slot *slot = &intake->slots[i];
        if (slot->index == index && strcmp(slot->memory, memory) == 0) {
            slot->announced = slot->announced || announced;
            return;
        }
    }
    if (intake->slot_count == INTAKE_SLOTS_MAX) {
        intake->overflowed = true;
        return;
    }
    struct intake_slot *slot = &intake->slots[intake->slot_count];
    *slot = (struct intake_slot){.index = index, .announced = announced};
    name_memory(slot->memory, memory);
    intake->slot_count++;
}

static void drop_first(struct intake *intake)
{
    intake->slot_count--;
    memmove(&intake->slots[0], &intake->slots[1], intake->slot_count * sizeof intake->slots[0]);
}

/* The memory named may be another than the one chosen. */
void intake_announced(struct intake *intake, const char *text, size_t length)
{
    char memory[SETUP_MEMORY_OCTETS];
    int32_t index = 0;
    if (!at_line_number(text, length, 1, &index)) {
        intake->list_next = 0;
        intake->list_end = intake->list_end > 0 ? intake->list_end : 1;
        return;
    }
    at_line_copy(text, length, 0, memory, sizeof memory);
    add_slot(intake, intake->found->memory_count > 0 ? memory : "", index, true);
}

/* True once the house has it. */
static bool hand_over(struct intake *intake, struct instant now, const char *hex, bool *ours)
{
    struct link_arrival arrival = {.hex = hex, .received = now};
    arrival.error = tpdu_from_hex(hex, strlen(hex), &intake->tpdu);
    *ours = false;
    if (arrival.error != TPDU_OK) {
        log_warnx("modem: a text that cannot be read is kept as it came: %s",
                  tpdu_error_says(arrival.error));
        return intake->host->arrived(intake->host->ctx, &arrival);
    }
    arrival.tpdu = &intake->tpdu;
    switch (intake->tpdu.kind) {
    case TPDU_KIND_DELIVER:
        return intake->host->arrived(intake->host->ctx, &arrival);
    case TPDU_KIND_STATUS_REPORT:
        return intake->host->reported(intake->host->ctx, &arrival);
    case TPDU_KIND_SUBMIT:
        *ours = true;
        break;
    }
    return false;
}

void intake_direct(struct intake *intake, struct instant now, const char *pdu)
{
    bool ours = false;
    if (hand_over(intake, now, pdu, &ours)) {
        intake->acknowledge = intake->found->acknowledged;
    } else if (!ours) {
        /* Without a receipt the network offers it again, and the modem stops to hand texts on. */
        log_warnx("modem: a text handed on directly could not be kept; no receipt is given");
        intake->indications_lost = intake->found->acknowledged;
    }
}

static bool select_memory(struct intake *intake, const char *memory, struct chat_command *command)
{
    if (memory[0] == '\0' || strcmp(memory, intake->memory) == 0) {
        return false;
    }
    name_memory(intake->wanted, memory);
    snprintf(command->text, sizeof command->text, "AT+CPMS=\"%s\"", intake->wanted);
    command->prefix = "+CPMS:";
    command->wait_ms = SHORT_WAIT_MS;
    intake->task = INTAKE_TASK_SELECT;
    return true;
}

static void write_read(struct intake *intake, struct chat_command *command)
{
    snprintf(command->text, sizeof command->text, "AT+CMGR=%d", (int)intake->slots[0].index);
    command->prefix = "+CMGR:";
    command->wait_ms = READ_WAIT_MS;
    intake->header_octets = -1;
    intake->hex[0] = '\0';
    intake->task = INTAKE_TASK_READ;
}

static void write_delete(struct intake *intake, struct chat_command *command)
{
    snprintf(command->text, sizeof command->text, "AT+CMGD=%d", (int)intake->slots[0].index);
    command->wait_ms = DELETE_WAIT_MS;
    intake->task = INTAKE_TASK_DELETE;
}

static void write_list(struct intake *intake, struct chat_command *command)
{
    snprintf(command->text, sizeof command->text, "%s", list_command);
    command->prefix = "+CMGL:";
    command->listing = true;
    command->wait_ms = LIST_WAIT_MS;
    intake->task = INTAKE_TASK_LIST;
}

static void plan_sweep(struct intake *intake, struct instant now)
{
    if (now.mono_ms >= intake->sweep_all_ms) {
        intake_sweep(intake, now);
    } else if (now.mono_ms >= intake->sweep_ms) {
        intake->list_next = 0;
        intake->list_end = 1;
        intake->sweep_ms = now.mono_ms + sweep_pause_ms(intake);
    }
}

static const char *memory_to_list(const struct intake *intake)
{
    return intake->list_next < intake->found->memory_count
               ? intake->found->memories[intake->list_next]
               : "";
}

static bool next_slot(struct intake *intake, struct chat_command *command)
{
    const struct intake_slot *slot = &intake->slots[0];
    if (select_memory(intake, slot->memory, command)) {
        return true;
    }
    if (slot->kept) {
        write_delete(intake, command);
    } else {
        write_read(intake, command);
    }
    return true;
}

static bool next_command(void *ctx, struct instant now, struct chat_command *command)
{
    struct intake *intake = ctx;
    if (intake->acknowledge) {
        snprintf(command->text, sizeof command->text, "AT+CNMA");
        command->wait_ms = SHORT_WAIT_MS;
        intake->task = INTAKE_TASK_ACKNOWLEDGE;
        return true;
    }
    if (now.mono_ms < intake->not_before_ms) {
        return false;
    }
    if (intake->slot_count > 0) {
        return next_slot(intake, command);
    }
    plan_sweep(intake, now);
    if (intake->list_next < intake->list_end) {
        if (!select_memory(intake, memory_to_list(intake), command)) {
            write_list(intake, command);
        }
        return true;
    }
    if (intake->overflowed) {
        intake_sweep(intake, now);
        return next_command(ctx, now, command);
    }
    return intake->found->memory_count > 0 &&
           select_memory(intake, intake->found->memories[0], command);
}

static bool is_quoted(const char *text, size_t length)
{
    struct at_field field;
    return at_line_field(text, length, 0, &field) && field.quoted;
}

static void take_read_line(struct intake *intake, const char *text, size_t length)
{
    if (at_line_starts(text, length, "+CMGR:")) {
        intake->text_mode = intake->text_mode || is_quoted(text, length);
        if (!at_line_number(text, length, 2, &intake->header_octets)) {
            intake->header_octets = 0;
        }
        return;
    }
    snprintf(intake->hex, sizeof intake->hex, "%s", text);
}

/* <stat> 0 and 1 came from the network, 2 and 3 are our own, stored by whoever used the SIM. */
static void take_list_line(struct intake *intake, const char *text, size_t length)
{
    int32_t index = 0, stat = 0;
    if (!at_line_starts(text, length, "+CMGL:") || !at_line_number(text, length, 0, &index)) {
        return;
    }
    if (at_line_number(text, length, 1, &stat) && stat >= 2) {
        return;
    }
    add_slot(intake, intake->memory, index, false);
}

static void take_select_line(struct intake *intake, const char *text, size_t length)
{
    int32_t used = -1, total = -1;
    bool preferred =
        intake->found->memory_count > 0 && strcmp(intake->wanted, intake->found->memories[0]) == 0;
    if (preferred && at_line_number(text, length, 0, &used) &&
        at_line_number(text, length, 1, &total)) {
        intake->health->storage_used = used;
        intake->health->storage_total = total;
    }
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct intake *intake = ctx;
    switch (intake->task) {
    case INTAKE_TASK_READ:
        take_read_line(intake, text, length);
        break;
    case INTAKE_TASK_LIST:
        take_list_line(intake, text, length);
        break;
    case INTAKE_TASK_SELECT:
        take_select_line(intake, text, length);
        break;
    case INTAKE_TASK_NONE:
    case INTAKE_TASK_ACKNOWLEDGE:
    case INTAKE_TASK_DELETE:
        break;
    }
}

/* Noise on a line without parity takes characters away unseen. A PDU that has all the digits by
 * <length>, which counts the octets after the service centre, is whole even if it makes no sense;
 * one that makes sense is, even if the modem counts otherwise. */
static bool is_whole(struct intake *intake)
{
    size_t length = strlen(intake->hex);
    unsigned int centre = 0;
    if (length >= 2 && sscanf(intake->hex, "%2x", &centre) == 1 &&
        length == 2 * (1 + (size_t)centre + (size_t)intake->header_octets)) {
        return true;
    }
    return tpdu_from_hex(intake->hex, length, &intake->tpdu) == TPDU_OK;
}

static void retry_slot(struct intake *intake, struct instant now)
{
    struct intake_slot *slot = &intake->slots[0];
    slot->tries++;
    if (slot->tries >= TRIES_MAX) {
        log_warnx("modem: place %d of its memory cannot be read or cleared now", (int)slot->index);
        drop_first(intake);
        return;
    }
    intake->not_before_ms = now.mono_ms + RETRY_PAUSE_MS;
}

static void offer(struct intake *intake, struct instant now)
{
    struct intake_slot *slot = &intake->slots[0];
    bool ours = false;
    if (!slot->announced) {
        intake->unannounced++;
    }
    if (hand_over(intake, now, intake->hex, &ours)) {
        slot->kept = true;
        slot->tries = 0;
        return;
    }
    if (!ours) {
        log_warnx("modem: a text could not be kept: it stays in the modem");
        intake->sweep_ms = now.mono_ms + OFFER_AGAIN_MS;
    }
    drop_first(intake);
}

static void end_read(struct intake *intake, struct instant now, const struct chat_result *result)
{
    bool read = result->outcome == CHAT_OK || (result->outcome == CHAT_SILENT && result->informed);
    bool empty = (result->outcome == CHAT_CMS_ERROR && result->code == CMS_INVALID_INDEX) ||
                 (result->outcome == CHAT_CME_ERROR &&
                  (result->code == CME_INVALID_INDEX || result->code == CME_NOT_FOUND)) ||
                 (read && intake->header_octets <= 0 && intake->hex[0] == '\0');
    if (empty) {
        drop_first(intake);
    } else if (read && is_whole(intake)) {
        offer(intake, now);
    } else if (read && intake->slots[0].tries + 1 >= TRIES_MAX) {
        offer(intake, now); /* it stays damaged: kept as it came */
    } else {
        retry_slot(intake, now);
    }
}

static void end_delete(struct intake *intake, struct instant now, const struct chat_result *result)
{
    if (result->outcome != CHAT_OK) {
        retry_slot(intake, now);
        return;
    }
    if (intake->health->storage_used > 0) {
        intake->health->storage_used--;
    }
    drop_first(intake);
}

static void end_select(struct intake *intake, const struct chat_result *result)
{
    if (result->outcome == CHAT_OK) {
        name_memory(intake->memory, intake->wanted);
        return;
    }
    if (intake->slot_count > 0) {
        /* Whatever lies at that place of the memory in use is a text too. */
        name_memory(intake->slots[0].memory, intake->memory);
    } else if (intake->list_next < intake->list_end) {
        intake->list_next++;
    } else {
        name_memory(intake->memory, intake->found->memories[0]);
    }
}

static void end_list(struct intake *intake, const struct chat_result *result)
{
    intake->list_next++;
    intake->list_refused = result->outcome == CHAT_ERROR || result->outcome == CHAT_CMS_ERROR;
}

static void take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct intake *intake = ctx;
    enum intake_task task = intake->task;
    intake->task = INTAKE_TASK_NONE;
    if (result->outcome == CHAT_CUT) {
        return; /* all is asked for anew after the set-up */
    }
    switch (task) {
    case INTAKE_TASK_ACKNOWLEDGE:
        intake->acknowledge = false;
        intake->indications_lost =
            result->outcome != CHAT_OK && result->code != CMS_NO_CNMA_EXPECTED;
        break;
    case INTAKE_TASK_SELECT:
        end_select(intake, result);
        break;
    case INTAKE_TASK_READ:
        end_read(intake, now, result);
        break;
    case INTAKE_TASK_DELETE:
        end_delete(intake, now, result);
        break;
    case INTAKE_TASK_LIST:
        end_list(intake, result);
        break;
    case INTAKE_TASK_NONE:
        break;
    }
}

static int64_t deadline(const void *ctx)
{
    const struct intake *intake = ctx;
    bool pending =
        intake->slot_count > 0 || intake->list_next < intake->list_end || intake->overflowed;
    if (intake->acknowledge) {
        return 0;
    }
    if (pending) {
        return intake->not_before_ms;
    }
    int64_t sweep =
        intake->sweep_ms < intake->sweep_all_ms ? intake->sweep_ms : intake->sweep_all_ms;
    return sweep > intake->not_before_ms ? sweep : intake->not_before_ms;
}

struct speaker intake_speaker(struct intake *intake)
{
    return (struct speaker){.next = next_command,
                            .line = take_line,
                            .done = take_result,
                            .deadline_ms = deadline,
                            .ctx = intake};
}
