/* SPDX-License-Identifier: MIT
 * dispatch: see the header. After Ctrl-Z the modem may take minutes: makers publish up to 180 s,
 * and 240 s were seen with the antenna off, so the wait is 300 s, but no longer than makers publish
 * where another modem stands by. Whether a part without a result has gone is unknown and said so. */
#include "daemon/modem/dispatch.h"

#include <inttypes.h>
#include <stdio.h>

#include "daemon/ground/log.h"
#include "daemon/modem/cause.h"
#include "parsers/at_line.h"

#define RESULT_WAIT_MS 300000
#define RESULT_WAIT_ELSEWHERE_MS 190000
#define SECOND_MS INT64_C(1000)
#define REFUSALS_MAX 3

void dispatch_init(struct dispatch *dispatch, const struct link_host *host,
                   struct link_health *health)
{
    *dispatch =
        (struct dispatch){.host = host, .health = health, .woken = true, .next_ms = CLOCK_NEVER};
}

void dispatch_wake(struct dispatch *dispatch)
{
    dispatch->woken = true;
}

static bool next_command(void *ctx, struct instant now, struct chat_command *command)
{
    struct dispatch *dispatch = ctx;
    if (now.mono_ms < dispatch->not_before_ms ||
        (!dispatch->woken && now.mono_ms < dispatch->next_ms)) {
        return false;
    }
    dispatch->woken = false;
    dispatch->next_ms = CLOCK_NEVER;
    if (!dispatch->host->outgoing(dispatch->host->ctx, now, &dispatch->part, &dispatch->next_ms)) {
        if (dispatch->next_ms <= now.mono_ms) {
            dispatch->next_ms = now.mono_ms + SECOND_MS; /* never a busy loop */
        }
        return false;
    }
    dispatch->busy = true;
    dispatch->reference = -1;
    snprintf(command->text, sizeof command->text, "AT+CMGS=%zu", dispatch->part.line.tpdu_octets);
    command->payload = dispatch->part.line.hex;
    command->prefix = "+CMGS:";
    command->wait_ms = dispatch->part.elsewhere ? RESULT_WAIT_ELSEWHERE_MS : RESULT_WAIT_MS;
    command->must_inform = true;
    return true;
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct dispatch *dispatch = ctx;
    if (!at_line_number(text, length, 0, &dispatch->reference)) {
        dispatch->reference = -1;
    }
}

/* Where no number tells what became of it. */
static const struct cause unprompted = {.says = "the modem did not ask for the text",
                                        .pause_s = 15};

/* What became of the part; *cause is why it was not sent, NULL where it was, or where that is not
 * known. */
static enum part_fate judge(const struct chat_result *result, int32_t *number,
                            const struct cause **cause)
{
    static const enum part_fate fates[] = {[CAUSE_SCOPE_PASSING] = PART_FATE_RETRY,
                                           [CAUSE_SCOPE_CONTRACT] = PART_FATE_RETRY,
                                           [CAUSE_SCOPE_NUMBER] = PART_FATE_REFUSED,
                                           [CAUSE_SCOPE_TEXT] = PART_FATE_REFUSED,
                                           [CAUSE_SCOPE_TAKEN] = PART_FATE_TAKEN};
    bool silent = result->outcome == CHAT_SILENT || result->outcome == CHAT_CUT;
    *number = CAUSE_NONE;
    *cause = NULL;
    if (result->outcome == CHAT_OK || (silent && result->informed)) {
        return PART_FATE_TAKEN; /* a final result may be lost */
    }
    if (silent && result->committed) {
        return PART_FATE_UNKNOWN;
    }
    if (result->outcome == CHAT_CMS_ERROR) {
        *number = result->code;
    } else if (result->outcome == CHAT_CME_ERROR) {
        *number = cause_of_equipment(result->code);
    }
    *cause = result->outcome == CHAT_UNPROMPTED || silent ? &unprompted : cause_of(*number);
    return fates[(*cause)->scope];
}

/* What happened once may concern that text alone; what happens to the next one too, all. */
static void hold_back(struct dispatch *dispatch, struct instant now, const struct cause *cause)
{
    int64_t before = dispatch->failed_id;
    dispatch->failed_id = dispatch->part.id;
    if (before != 0 && before != dispatch->part.id) {
        dispatch->not_before_ms = now.mono_ms + 1000 * (int64_t)cause->pause_s;
    }
}

/* In the log, and for health. */
static void tell(struct dispatch *dispatch, const struct part_result *told,
                 const struct cause *cause)
{
    char number[16] = "";
    if (told->fate == PART_FATE_TAKEN) {
        dispatch->health->sends_failed = 0;
        return;
    }
    if (cause == NULL) {
        return;
    }
    dispatch->health->sends_failed++;
    dispatch->health->sends_cause = told->cause;
    if (told->cause >= 0) {
        snprintf(number, sizeof number, " (%" PRId32 ")", told->cause);
    }
    if (told->fate == PART_FATE_REFUSED) {
        log_warnx("modem: a text was refused, it is not tried again: %s%s", cause->says, number);
    } else {
        log_notice("modem: a text could not be sent: %s%s; it is tried again in %" PRId64 " s",
                   cause->says, number, told->retry_after_ms / 1000);
    }
}

/* Several in a row refused before the prompt, without a word why. */
static bool refuses_to_prompt(struct dispatch *dispatch, const struct chat_result *result)
{
    bool refused =
        !result->committed && (result->outcome == CHAT_ERROR || result->outcome == CHAT_UNPROMPTED);
    dispatch->refused_in_row = refused ? (dispatch->refused_in_row + 1) % REFUSALS_MAX : 0;
    return refused && dispatch->refused_in_row == 0;
}

static enum finding take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct dispatch *dispatch = ctx;
    const struct cause *cause = NULL;
    if (!dispatch->busy) {
        return FINDING_NONE;
    }
    struct part_result told = {
        .part_id = dispatch->part.id,
        .reference = (uint8_t)(dispatch->reference < 0 ? 0 : dispatch->reference & 0xFF)};
    told.fate = judge(result, &told.cause, &cause);
    told.retry_after_ms =
        told.fate == PART_FATE_RETRY ? cause_pause_ms(cause, dispatch->part.tries) : 0;
    dispatch->busy = false;
    dispatch->woken = true;
    if (cause != NULL && cause->all) {
        hold_back(dispatch, now, cause);
    } else {
        dispatch->failed_id = 0;
    }
    tell(dispatch, &told, cause);
    bool refuses = refuses_to_prompt(dispatch, result);
    dispatch->host->sent(dispatch->host->ctx, now, &told);
    return refuses ? FINDING_SENDS_REFUSED : cause != NULL ? cause->finding : FINDING_NONE;
}

static int64_t deadline(const void *ctx)
{
    const struct dispatch *dispatch = ctx;
    return clock_later(dispatch->woken ? 0 : dispatch->next_ms, dispatch->not_before_ms);
}

struct speaker dispatch_speaker(struct dispatch *dispatch)
{
    return (struct speaker){next_command, take_line, take_result, deadline, dispatch};
}
