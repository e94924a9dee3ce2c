/* SPDX-License-Identifier: MIT
 * dispatch: see the header. After Ctrl-Z the modem may take minutes: makers publish up to 180 s,
 * and 240 s were seen with the antenna off, so the wait is 300 s. Whether a part without a result
 * has gone is unknown and said so. */
#include "daemon/modem/dispatch.h"

#include <stdio.h>

#include "parsers/at_line.h"

#define RESULT_WAIT_MS 300000
#define SECOND_MS INT64_C(1000)
#define MINUTE_MS (60 * SECOND_MS)
#define CAUSE_NONE (-1)
#define REFUSALS_MAX 3

#define REFUSED .fate = PART_FATE_REFUSED
#define AGAIN(pause_ms) .fate = PART_FATE_RETRY, .retry_after_ms = (pause_ms)

/* Not listed: tried again in a minute. */
static const struct {
    int32_t first, last;
    struct dispatch_cause cause;
} causes[] = {
    {1, 1, {REFUSED}},   /* unassigned number */
    {8, 8, {REFUSED}},   /* operator barred */
    {10, 10, {REFUSED}}, /* call barred */
    {17, 17, {AGAIN(2 * MINUTE_MS), .all = true}},
    {21, 21, {AGAIN(10 * MINUTE_MS)}},              /* rejected: low credit, too many */
    {22, 22, {AGAIN(30 * SECOND_MS), .all = true}}, /* congestion */
    {27, 27, {AGAIN(10 * MINUTE_MS)}},              /* destination out of service */
    {28, 30, {REFUSED}},                            /* unknown subscriber, not allowed */
    {38,
     38,
     {AGAIN(5 * MINUTE_MS), .all = true, .finding = FINDING_NETWORK_LOST}}, /* out of order */
    {41, 42, {AGAIN(30 * SECOND_MS), .all = true}}, /* passing failure, congestion */
    {47, 47, {AGAIN(30 * SECOND_MS), .all = true}},
    {50, 50, {REFUSED}},
    {69, 69, {REFUSED}},
    {128, 191, {REFUSED}},                           /* what the text asks for is not supported */
    {192, 192, {AGAIN(MINUTE_MS), .all = true}},     /* service centre busy */
    {193, 193, {REFUSED}},                           /* no subscription */
    {194, 194, {AGAIN(2 * MINUTE_MS), .all = true}}, /* service centre failure */
    {195, 196, {REFUSED}},                           /* invalid or barred address */
    {197, 197, {.fate = PART_FATE_TAKEN}},           /* a duplicate: it has it */
    {198, 199, {REFUSED}},                           /* validity not supported */
    {208,
     211,
     {AGAIN(30 * SECOND_MS), .all = true, .finding = FINDING_MEMORY_FULL}}, /* the SIM is full */
    {212, 213, {AGAIN(30 * SECOND_MS), .all = true}},                       /* or busy */
    {302, 305, {REFUSED}}, /* our own mistake: never a loop */
    {310, 318, {AGAIN(MINUTE_MS), .all = true, .finding = FINDING_SIM_TROUBLE}},
    {322, 322, {AGAIN(30 * SECOND_MS), .all = true, .finding = FINDING_MEMORY_FULL}},
    {330, 330, {AGAIN(10 * MINUTE_MS), .all = true}}, /* no service centre */
    {331, 332, {AGAIN(MINUTE_MS), .all = true, .finding = FINDING_NETWORK_LOST}},
};

struct dispatch_cause dispatch_cause(int32_t cause)
{
    for (size_t i = 0; i < sizeof causes / sizeof causes[0]; i++) {
        if (cause >= causes[i].first && cause <= causes[i].last) {
            return causes[i].cause;
        }
    }
    return (struct dispatch_cause){AGAIN(MINUTE_MS)};
}

void dispatch_init(struct dispatch *dispatch, const struct link_host *host)
{
    *dispatch = (struct dispatch){.host = host, .woken = true, .next_ms = CLOCK_NEVER};
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
    command->wait_ms = RESULT_WAIT_MS;
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

static struct dispatch_cause judge(const struct chat_result *result)
{
    bool silent = result->outcome == CHAT_SILENT || result->outcome == CHAT_CUT;
    if (result->outcome == CHAT_OK || (silent && result->informed)) {
        return (struct dispatch_cause){.fate = PART_FATE_TAKEN}; /* a final result may be lost */
    }
    if (result->outcome == CHAT_CMS_ERROR) {
        return dispatch_cause(result->code);
    }
    if (result->outcome == CHAT_UNPROMPTED || !result->committed) {
        return (struct dispatch_cause){AGAIN(5 * SECOND_MS)};
    }
    return silent ? (struct dispatch_cause){.fate = PART_FATE_UNKNOWN} : dispatch_cause(CAUSE_NONE);
}

static enum finding take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct dispatch *dispatch = ctx;
    if (!dispatch->busy) {
        return FINDING_NONE;
    }
    struct dispatch_cause cause = judge(result);
    struct part_result told = {
        .part_id = dispatch->part.id,
        .fate = cause.fate,
        .reference = (uint8_t)(dispatch->reference < 0 ? 0 : dispatch->reference & 0xFF),
        .cause = result->outcome == CHAT_CMS_ERROR ? result->code : CAUSE_NONE,
        .retry_after_ms = cause.retry_after_ms};
    dispatch->busy = false;
    dispatch->woken = true;
    if (cause.all) {
        dispatch->not_before_ms = now.mono_ms + cause.retry_after_ms;
    }
    bool refused =
        !result->committed && (result->outcome == CHAT_ERROR || result->outcome == CHAT_UNPROMPTED);
    dispatch->refused_in_row = refused ? (dispatch->refused_in_row + 1) % REFUSALS_MAX : 0;
    if (refused && dispatch->refused_in_row == 0) { /* the last of several in a row */
        cause.finding = FINDING_SENDS_REFUSED;
    }
    dispatch->host->sent(dispatch->host->ctx, now, &told);
    return cause.finding;
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
