/* SPDX-License-Identifier: MIT
 * intake: see the header. A sweep only lists the places; each text is then read by itself, so that
 * there is one way in, and a long listing never waits for the disk. An indication that was lost
 * costs time, no text: the sweep finds it. */
#include "daemon/modem/intake.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/hash.h"
#include "daemon/ground/log.h"
#include "parsers/at_line.h"

#define TRIES_MAX 3
#define READS_MAX 5
#define SAME_MIN 3
#define DAMAGED_MAX 3 /* direct deliveries running */
#define RETRY_PAUSE_MS 2000
/* The house could not keep a text: asked again no sooner than this. */
#define OFFER_AGAIN_MS 60000

#define CMS_INVALID_INDEX 321
#define CMS_NO_CNMA_EXPECTED 340
#define CME_INVALID_INDEX 21
#define CME_NOT_FOUND 22

void intake_init(struct intake *intake, const struct link_host *host,
                 const struct setup_found *found, struct link_health *health)
{
    *intake = (struct intake){.host = host, .found = found};
    sweep_init(&intake->sweep, found, health);
}

void intake_start(struct intake *intake, struct instant now)
{
    intake->slots = (struct slots){.count = 0};
    intake->task = INTAKE_TASK_NONE;
    intake->not_before_ms = now.mono_ms;
    setup_name_memory(intake->memory, intake->found->memories[0]);
    sweep_start(&intake->sweep, now);
}

/* A text has come into that memory, or left it: between two looks the count follows. */
static void count_one(struct intake *intake, const char *memory, int32_t more)
{
    struct link_health *health = intake->sweep.health;
    int32_t used = health->storage_used + more;
    bool chosen = memory[0] == '\0' || strcmp(memory, intake->found->memories[0]) == 0;
    if (chosen && used >= 0 && used <= health->storage_total) {
        health->storage_used = used;
    }
}

/* The memory named may be another than the one chosen. */
void intake_announced(struct intake *intake, struct instant now, const char *text, size_t length)
{
    char memory[SETUP_MEMORY_OCTETS];
    int32_t index = 0;
    if (!at_line_number(text, length, 1, &index)) {
        sweep_one(&intake->sweep, now);
        return;
    }
    at_line_copy(text, length, 0, memory, sizeof memory);
    count_one(intake, memory, 1);
    sweep_note(&intake->sweep, &intake->slots, intake->found->memory_count > 0 ? memory : "", index,
               true);
}

/* True once the house has it. own: it is a text that we stored. */
static bool hand_over(struct intake *intake, struct instant now, const char *hex, bool *own)
{
    struct link_arrival arrival = {.hex = hex, .received = now};
    arrival.error = tpdu_from_hex(hex, strlen(hex), &intake->tpdu);
    bool read = arrival.error == TPDU_OK;
    if (read) {
        arrival.tpdu = &intake->tpdu;
    } else {
        log_warnx("modem: a text that cannot be read is kept as it came: %s",
                  tpdu_error_says(arrival.error));
    }
    *own = read && intake->tpdu.kind == TPDU_KIND_SUBMIT;
    if (*own) {
        return false;
    }
    if (read && intake->tpdu.centre.text[0] != '\0') {
        snprintf(intake->sweep.health->centre_seen, sizeof intake->sweep.health->centre_seen,
                 "%.23s", intake->tpdu.centre.text);
    }
    bool report = read && intake->tpdu.kind == TPDU_KIND_STATUS_REPORT;
    return (report ? intake->host->reported : intake->host->arrived)(intake->host->ctx, &arrival);
}

/* Noise takes characters away unseen, or makes others of them. A PDU that is all hex and as long as
 * <length> says, which counts the octets after the service centre, is whole even if it makes no
 * sense; one that makes sense is, even if the modem counts otherwise. */
static bool is_whole(struct intake *intake, const char *hex, int32_t octets)
{
    size_t length = strlen(hex);
    unsigned int centre = 0;
    if (strspn(hex, "0123456789ABCDEFabcdef") == length && sscanf(hex, "%2x", &centre) == 1 &&
        length == 2 * (1 + (size_t)centre + (size_t)octets)) {
        return true;
    }
    return tpdu_from_hex(hex, length, &intake->tpdu) == TPDU_OK;
}

/* In text mode the number comes first, in quotes, and a time stamp after it; in PDU mode a name may
 * stand in quotes, but with the length alone after it. */
static bool is_text_mode(const char *header, size_t length)
{
    struct at_field first, third;
    return at_line_field(header, length, 0, &first) && first.quoted &&
           at_line_field(header, length, 2, &third);
}

/* The length comes last: +CMT: [<alpha>],<length> and +CDS: <length>, which some write +CDS: ,<length>. */
static bool is_direct_whole(struct intake *intake, const char *header, size_t length,
                            const char *pdu)
{
    int32_t octets = 0;
    if (!at_line_number(header, length, 1, &octets)) {
        (void)at_line_number(header, length, 0, &octets);
    }
    return is_whole(intake, pdu, octets);
}

/* Without a receipt the network offers it again, and the modem stops handing texts on. Where it goes
 * wrong again and again, or no receipt is waited for, it is kept as it came. */
enum finding intake_direct(struct intake *intake, struct instant now, const char *text,
                           size_t length, const char *pdu)
{
    bool own = false, waits = intake->found->acknowledged, text_mode = is_text_mode(text, length);
    bool damaged = !text_mode && !is_direct_whole(intake, text, length, pdu);
    intake->damaged = damaged ? (uint8_t)(intake->damaged + 1) : 0;
    if (damaged && (pdu[0] == '\0' || (waits && intake->damaged < DAMAGED_MAX))) {
        log_warnx("modem: a text handed on directly came damaged%s",
                  waits ? "; no receipt is given, so that it comes again" : " and is lost");
        return waits ? FINDING_NEWS_LOST : FINDING_NONE;
    }
    intake->damaged = 0;
    bool kept = hand_over(intake, now, pdu, &own);
    if (kept) {
        intake->acknowledge = waits;
    } else if (!own) {
        log_warnx("modem: a text handed on directly could not be kept; no receipt is given");
    }
    if (text_mode) {
        return FINDING_SETTINGS_LOST;
    }
    return !kept && !own && waits ? FINDING_NEWS_LOST : FINDING_NONE;
}

static bool select_memory(struct intake *intake, const char *memory, struct chat_command *command)
{
    if (memory[0] == '\0' || strcmp(memory, intake->memory) == 0) {
        return false;
    }
    setup_name_memory(intake->wanted, memory);
    snprintf(command->text, sizeof command->text, "AT+CPMS=\"%s\"", intake->wanted);
    command->prefix = "+CPMS:";
    command->wait_ms = CHAT_WAIT_SIM_MS;
    intake->task = INTAKE_TASK_SELECT;
    return true;
}

static void write_slot(struct intake *intake, struct chat_command *command)
{
    const struct slot *slot = &intake->slots.list[0];
    if (slot->kept) {
        snprintf(command->text, sizeof command->text, "AT+CMGD=%d", (int)slot->index);
        command->wait_ms = CHAT_WAIT_TEXT_MS;
        intake->task = INTAKE_TASK_DELETE;
        return;
    }
    snprintf(command->text, sizeof command->text, "AT+CMGR=%d", (int)slot->index);
    command->prefix = "+CMGR:";
    command->has_body = true;
    command->wait_ms = CHAT_WAIT_TEXT_MS;
    intake->text_mode = false;
    intake->header_octets = -1;
    intake->hex[0] = '\0';
    intake->task = INTAKE_TASK_READ;
}

static bool next_command(void *ctx, struct instant now, struct chat_command *command)
{
    struct intake *intake = ctx;
    if (intake->acknowledge) {
        snprintf(command->text, sizeof command->text, "AT+CNMA");
        command->wait_ms = CHAT_WAIT_MODEM_MS;
        intake->task = INTAKE_TASK_ACKNOWLEDGE;
        return true;
    }
    if (now.mono_ms < intake->not_before_ms) {
        return false;
    }
    if (intake->slots.count > 0) {
        if (!select_memory(intake, intake->slots.list[0].memory, command)) {
            write_slot(intake, command);
        }
        return true;
    }
    bool more = intake->slots.overflowed;
    intake->slots.overflowed = false;
    const char *memory = sweep_wanted(&intake->sweep, now, more);
    if (memory == NULL) {
        sweep_settle(&intake->sweep);
        return select_memory(intake, intake->found->memories[0], command);
    }
    if (!select_memory(intake, memory, command)) {
        sweep_write(&intake->sweep, command);
        intake->task = INTAKE_TASK_LIST;
    }
    return true;
}

static void take_read_line(struct intake *intake, const char *text, size_t length)
{
    if (!at_line_starts(text, length, "+CMGR:")) {
        int32_t code = 0;
        if (intake->hex[0] == '\0' || at_line_kind(text, length, &code) == AT_KIND_HEX) {
            snprintf(intake->hex, sizeof intake->hex, "%s", text);
        }
        return;
    }
    struct at_field stat;
    intake->text_mode = at_line_field(text, length, 0, &stat) && stat.quoted;
    if (!at_line_number(text, length, 2, &intake->header_octets)) {
        intake->header_octets = 0;
    }
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct intake *intake = ctx;
    int32_t used = 0, total = 0;
    if (intake->task == INTAKE_TASK_READ) {
        take_read_line(intake, text, length);
    } else if (intake->task == INTAKE_TASK_LIST) {
        sweep_line(&intake->sweep, &intake->slots, intake->memory, text, length);
    } else if (intake->task == INTAKE_TASK_SELECT &&
               strcmp(intake->wanted, intake->found->memories[0]) == 0 &&
               at_line_number(text, length, 0, &used) && at_line_number(text, length, 1, &total)) {
        sweep_storage(&intake->sweep, used, total);
    }
}

/* What makes no sense three times in the same way is no noise of the line: the modem holds it. */
static bool is_damaged_for_good(struct intake *intake)
{
    struct slot *slot = &intake->slots.list[0];
    uint64_t damaged = hash_text(intake->hex);
    bool same = slot->damaged == damaged && intake->hex[0] != '\0';
    slot->same = same ? (uint8_t)(slot->same + 1) : 1;
    slot->damaged = damaged;
    return slot->same >= SAME_MIN;
}

static void retry_read(struct intake *intake, struct instant now)
{
    struct slot *slot = &intake->slots.list[0];
    slot->reads++;
    if (slot->reads >= READS_MAX) {
        intake->sweep.left_behind = true; /* the sweep comes back to it */
        slots_drop_first(&intake->slots);
    }
    intake->not_before_ms = now.mono_ms + RETRY_PAUSE_MS;
}

static bool lacks_no_centre(const struct intake *intake)
{
    return !intake->found->no_centre || intake->sweep.health->centre_seen[0] != '\0';
}

static enum finding offer(struct intake *intake, struct instant now)
{
    struct slot *slot = &intake->slots.list[0];
    bool own = false;
    bool unannounced = !slot->announced && intake->found->way != INDICATIONS_WAY_NONE;
    bool centre_known = lacks_no_centre(intake);
    slot->kept = hand_over(intake, now, intake->hex, &own);
    if (slot->kept) {
        intake->unkept = false;
    } else if (!own) {
        if (!intake->unkept) { /* the house says why; it is offered again and again meanwhile */
            log_warnx("modem: a text could not be kept: it stays in the modem");
        }
        intake->unkept = true;
        intake->sweep.left_behind = true;
        intake->sweep.one_ms = now.mono_ms + OFFER_AGAIN_MS;
    }
    if (!slot->kept) {
        slots_drop_first(&intake->slots);
    }
    if (unannounced) {
        return FINDING_UNANNOUNCED;
    }
    return !centre_known && lacks_no_centre(intake) ? FINDING_CENTRE_SEEN : FINDING_NONE;
}

static enum finding end_read(struct intake *intake, struct instant now,
                             const struct chat_result *result)
{
    bool read = result->outcome == CHAT_OK || (result->outcome == CHAT_SILENT && result->informed);
    bool empty = (result->outcome == CHAT_CMS_ERROR && result->code == CMS_INVALID_INDEX) ||
                 (result->outcome == CHAT_CME_ERROR &&
                  (result->code == CME_INVALID_INDEX || result->code == CME_NOT_FOUND)) ||
                 (read && intake->header_octets <= 0 && intake->hex[0] == '\0');
    struct slot *slot = &intake->slots.list[0];
    const char *preferred = intake->found->memories[0];
    enum finding finding = FINDING_NONE;
    if (empty && strcmp(slot->memory, "SR") == 0 && strcmp(preferred, "SR") != 0 &&
        preferred[0] != '\0') {
        setup_name_memory(slot->memory, preferred); /* a report may lie with the texts */
    } else if (empty) {
        slots_drop_first(&intake->slots);
    } else if (read && (is_whole(intake, intake->hex, intake->header_octets) ||
                        is_damaged_for_good(intake))) {
        finding = offer(intake, now);
    } else {
        retry_read(intake, now);
    }
    return intake->text_mode ? FINDING_SETTINGS_LOST : finding;
}

/* Without a clear OK nobody knows what lies there now: it is read again before the next try, so
 * that nothing unread is ever deleted. */
static void end_delete(struct intake *intake, struct instant now, const struct chat_result *result)
{
    struct slot *slot = &intake->slots.list[0];
    if (result->outcome == CHAT_OK) {
        count_one(intake, slot->memory, -1);
        intake->sweep.left_behind = false;
        intake->sweep.health->uncleared = 0;
        slots_drop_first(&intake->slots);
        return;
    }
    slot->kept = false;
    slot->deletions++;
    intake->not_before_ms = now.mono_ms + RETRY_PAUSE_MS;
    if (slot->deletions < TRIES_MAX) {
        return;
    }
    intake->sweep.health->uncleared = 1;
    if (!intake->sweep.left_behind) {
        log_warnx("modem: place %d of its memory cannot be cleared: its text is on disk, and the "
                  "place stays taken",
                  (int)slot->index);
    }
    intake->sweep.left_behind = true;
    slots_drop_first(&intake->slots);
}

static void end_select(struct intake *intake, const struct chat_result *result)
{
    if (result->outcome == CHAT_OK) {
        setup_name_memory(intake->memory, intake->wanted);
    } else if (intake->slots.count > 0) {
        /* Whatever lies at that place of the memory in use is a text too. */
        setup_name_memory(intake->slots.list[0].memory, intake->memory);
    } else if (strcmp(intake->wanted, intake->found->memories[0]) != 0) {
        intake->sweep.next++; /* left out */
    } else {
        setup_name_memory(intake->memory, intake->found->memories[0]);
    }
}

static enum finding take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct intake *intake = ctx;
    enum intake_task task = intake->task;
    enum sweep_result end = SWEEP_RESULT_GOOD;
    bool lost = false;
    intake->task = INTAKE_TASK_NONE;
    if (result->outcome == CHAT_CUT) {
        return FINDING_NONE; /* all is asked for anew after the set-up */
    }
    switch (task) {
    case INTAKE_TASK_ACKNOWLEDGE:
        intake->acknowledge = false;
        lost = result->outcome != CHAT_OK &&
               !(result->outcome == CHAT_CMS_ERROR && result->code == CMS_NO_CNMA_EXPECTED);
        return lost ? FINDING_NEWS_LOST : FINDING_NONE;
    case INTAKE_TASK_SELECT:
        end_select(intake, result);
        break;
    case INTAKE_TASK_READ:
        return end_read(intake, now, result);
    case INTAKE_TASK_DELETE:
        end_delete(intake, now, result);
        break;
    case INTAKE_TASK_LIST:
        end = sweep_end(&intake->sweep, intake->memory, result);
        if (end == SWEEP_RESULT_AGAIN) {
            intake->not_before_ms = now.mono_ms + RETRY_PAUSE_MS;
        }
        return end == SWEEP_RESULT_REFUSED ? FINDING_SETTINGS_LOST : FINDING_NONE;
    case INTAKE_TASK_NONE:
        break;
    }
    return FINDING_NONE;
}

static int64_t deadline(const void *ctx)
{
    const struct intake *intake = ctx;
    if (intake->acknowledge) {
        return 0;
    }
    bool pending = intake->slots.count > 0 || intake->slots.overflowed ||
                   strcmp(intake->memory, intake->found->memories[0]) != 0;
    return clock_later(pending ? 0 : sweep_deadline_ms(&intake->sweep), intake->not_before_ms);
}

struct speaker intake_speaker(struct intake *intake)
{
    return (struct speaker){next_command, take_line, take_result, deadline, intake};
}
