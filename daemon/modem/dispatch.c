/* SPDX-License-Identifier: MIT
 * dispatch: see the header. After Ctrl-Z the modem may take minutes: makers publish up to 180 s,
 * and 240 s were seen with the antenna off, so the wait is 300 s. Whether a part without a result
 * has gone is unknown and said so. */
#include "daemon/modem/dispatch.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/log.h"
#include "parsers/at_line.h"

#define RESULT_WAIT_MS 300000
#define SECOND_MS INT64_C(1000)
#define MINUTE_MS (60 * SECOND_MS)
#define CAUSE_NONE (-1)
#define REFUSALS_MAX 3

struct cause_range {
    int32_t first, last;
    struct dispatch_cause cause;
};

/* Not listed: tried again in a minute. */
static const struct cause_range causes[] = {
    {1, 1, {LINK_SENT_REFUSED, 0, false}},   /* unassigned number */
    {8, 8, {LINK_SENT_REFUSED, 0, false}},   /* operator barred */
    {10, 10, {LINK_SENT_REFUSED, 0, false}}, /* call barred */
    {17, 17, {LINK_SENT_RETRY, 2 * MINUTE_MS, true}},
    {21, 21, {LINK_SENT_RETRY, 10 * MINUTE_MS, false}}, /* rejected: low credit, too many */
    {22, 22, {LINK_SENT_RETRY, 30 * SECOND_MS, true}},  /* congestion */
    {27, 27, {LINK_SENT_RETRY, 10 * MINUTE_MS, false}}, /* destination out of service */
    {28, 30, {LINK_SENT_REFUSED, 0, false}},            /* unknown subscriber, not allowed */
    {38, 38, {LINK_SENT_RETRY, 5 * MINUTE_MS, true}},   /* network out of order */
    {41, 42, {LINK_SENT_RETRY, 30 * SECOND_MS, true}},  /* passing failure, congestion */
    {47, 47, {LINK_SENT_RETRY, 30 * SECOND_MS, true}},
    {50, 50, {LINK_SENT_REFUSED, 0, false}},
    {69, 69, {LINK_SENT_REFUSED, 0, false}},
    {128, 191, {LINK_SENT_REFUSED, 0, false}},      /* what the text asks for is not supported */
    {192, 192, {LINK_SENT_RETRY, MINUTE_MS, true}}, /* service centre busy */
    {193, 193, {LINK_SENT_REFUSED, 0, false}},      /* no subscription */
    {194, 194, {LINK_SENT_RETRY, 2 * MINUTE_MS, true}},  /* service centre failure */
    {195, 196, {LINK_SENT_REFUSED, 0, false}},           /* invalid or barred address */
    {197, 197, {LINK_SENT_TAKEN, 0, false}},             /* a duplicate: it has it */
    {198, 199, {LINK_SENT_REFUSED, 0, false}},           /* validity not supported */
    {302, 305, {LINK_SENT_REFUSED, 0, false}},           /* our own mistake: never a loop */
    {310, 318, {LINK_SENT_RETRY, MINUTE_MS, true}},      /* the SIM */
    {208, 213, {LINK_SENT_RETRY, 30 * SECOND_MS, true}}, /* the SIM is full or busy */
    {322, 322, {LINK_SENT_RETRY, 30 * SECOND_MS, true}}, /* memory full */
    {330, 330, {LINK_SENT_RETRY, 10 * MINUTE_MS, true}}, /* no service centre */
    {331, 332, {LINK_SENT_RETRY, MINUTE_MS, true}},      /* no network */
};

struct dispatch_cause dispatch_cause(int32_t cause)
{
    for (size_t i = 0; i < sizeof causes / sizeof causes[0]; i++) {
        if (cause >= causes[i].first && cause <= causes[i].last) {
            return causes[i].cause;
        }
    }
    return (struct dispatch_cause){LINK_SENT_RETRY, MINUTE_MS, false};
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
    snprintf(command->text, sizeof command->text, "AT+CMGS=%u", dispatch->part.tpdu_octets);
    command->payload = dispatch->part.hex;
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
    struct dispatch_cause unknown = {LINK_SENT_UNKNOWN, 0, false};
    struct dispatch_cause taken = {LINK_SENT_TAKEN, 0, false};
    struct dispatch_cause not_sent = {LINK_SENT_RETRY, 5 * SECOND_MS, false};
    switch (result->outcome) {
    case CHAT_OK:
        return taken;
    case CHAT_CMS_ERROR:
        return dispatch_cause(result->code);
    case CHAT_ERROR:
    case CHAT_CME_ERROR:
        return result->committed ? dispatch_cause(CAUSE_NONE) : not_sent;
    case CHAT_UNPROMPTED:
        return not_sent;
    case CHAT_SILENT:
    case CHAT_CUT:
        if (result->informed) {
            return taken; /* only the final result was lost */
        }
        return result->committed ? unknown : not_sent;
    }
    return unknown;
}

static void note_cause(struct dispatch *dispatch, struct instant now,
                       const struct chat_result *result, const struct dispatch_cause *cause)
{
    int32_t code = result->outcome == CHAT_CMS_ERROR ? result->code : CAUSE_NONE;
    if (cause->sent == LINK_SENT_RETRY && cause->all) {
        dispatch->not_before_ms = now.mono_ms + cause->retry_after_ms;
    }
    bool refused =
        !result->committed && (result->outcome == CHAT_ERROR || result->outcome == CHAT_UNPROMPTED);
    dispatch->refused_in_row = refused ? dispatch->refused_in_row + 1 : 0;
    dispatch->signs = (struct dispatch_signs){
        .sim_trouble = code >= 310 && code <= 318,
        .memory_full = code == 322 || (code >= 208 && code <= 211),
        .network_lost = code == 331 || code == 332 || code == 38,
        .keeps_refusing = dispatch->refused_in_row >= REFUSALS_MAX,
    };
    if (dispatch->signs.keeps_refusing) {
        dispatch->refused_in_row = 0;
    }
}

static void take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct dispatch *dispatch = ctx;
    if (!dispatch->busy) {
        return;
    }
    struct dispatch_cause cause = judge(result);
    struct link_result told = {.part_id = dispatch->part.part_id,
                               .sent = cause.sent,
                               .reference = (uint8_t)(dispatch->reference & 0xFF),
                               .cause = result->outcome == CHAT_CMS_ERROR ? result->code : -1,
                               .retry_after_ms = cause.retry_after_ms};
    if (dispatch->reference < 0) {
        told.reference = 0;
    }
    dispatch->busy = false;
    dispatch->woken = true;
    note_cause(dispatch, now, result, &cause);
    dispatch->host->sent(dispatch->host->ctx, now, &told);
}

static int64_t deadline(const void *ctx)
{
    const struct dispatch *dispatch = ctx;
    int64_t wanted = dispatch->woken ? 0 : dispatch->next_ms;
    return wanted > dispatch->not_before_ms ? wanted : dispatch->not_before_ms;
}

struct speaker dispatch_speaker(struct dispatch *dispatch)
{
    return (struct speaker){.next = next_command,
                            .line = take_line,
                            .done = take_result,
                            .deadline_ms = deadline,
                            .ctx = dispatch};
}
