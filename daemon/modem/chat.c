/* SPDX-License-Identifier: MIT
 * chat: see the header. The rules of whose line it is come from V.250 and TS 27.005, and from what
 * modems were seen to do: news may come before the echo, between the echo and the information,
 * inside the information, before the prompt, and after the PDU. */
#include "daemon/modem/chat.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/log.h"

#define CTRL_Z "\x1A"
#define ESCAPE "\x1B"
#define PROMPT_WAIT_MS 10000
#define ABORT_WAIT_MS 10000 /* a prompt that comes late is taken back */
/* The final result follows its information at once; where it does not, it is lost. */
#define LATE_RESULT_WAIT_MS 5000
#define SECOND_LINE_WAIT_MS 5000
#define SLOWNESS_MOST_MS 20000
#define MARGIN_MS 1000

static void enter(struct chat *chat, enum chat_state state, int64_t deadline_ms)
{
    chat->state = state;
    chat->deadline_ms = deadline_ms;
    chat->splitter.prompt_wanted = state == CHAT_STATE_PROMPT || state == CHAT_STATE_ABORT;
}

static void put(struct chat *chat, const char *text)
{
    size_t length = strlen(text);
    if (length > sizeof chat->out - chat->out_length) {
        return; /* cannot be: the room is for the longest command and payload */
    }
    memcpy(chat->out + chat->out_length, text, length);
    chat->out_length += length;
}

static void finish(struct chat *chat, enum chat_outcome outcome, int32_t code)
{
    struct chat_result result = chat->result;
    result.outcome = outcome;
    result.code = code;
    enter(chat, CHAT_STATE_IDLE, CLOCK_NEVER);
    chat->listener.done(chat->listener.ctx, &result);
}

static void expect_no_second_line(struct chat *chat)
{
    chat->header_kind = AT_KIND_OTHER;
    chat->header_deadline_ms = CLOCK_NEVER;
}

/* The slowest answer counts at once, and is forgotten by and by. */
static void learn(struct chat *chat, struct instant now)
{
    int64_t took_ms = clock_earlier(now.mono_ms - chat->sent_ms, SLOWNESS_MOST_MS);
    chat->slowness_ms = clock_later(took_ms, (3 * chat->slowness_ms + took_ms) / 4);
}

static int64_t patience_ms(const struct chat *chat, int64_t wait_ms)
{
    return clock_later(wait_ms, 2 * chat->slowness_ms + MARGIN_MS);
}

void chat_init(struct chat *chat, const struct port_line *line, struct chat_listener listener)
{
    *chat = (struct chat){.line = line, .listener = listener};
    chat_reset(chat);
}

void chat_reset(struct chat *chat)
{
    chat->splitter = (struct at_line){0};
    expect_no_second_line(chat);
    chat->out_length = chat->out_sent = 0;
    chat->line_gone = false;
    enter(chat, CHAT_STATE_IDLE, CLOCK_NEVER);
}

bool chat_is_idle(const struct chat *chat)
{
    return chat->state == CHAT_STATE_IDLE;
}

bool chat_flush(struct chat *chat)
{
    while (chat->out_sent < chat->out_length && !chat->line_gone) {
        ssize_t taken =
            chat->line->write(chat->line->ctx, (const uint8_t *)chat->out + chat->out_sent,
                              chat->out_length - chat->out_sent);
        if (taken <= 0) {
            chat->line_gone = taken < 0;
            return taken == 0;
        }
        chat->out_sent += (size_t)taken;
    }
    chat->out_length = chat->out_sent = 0;
    return false;
}

void chat_send(struct chat *chat, const struct chat_command *command, struct instant now)
{
    chat->command = *command;
    chat->result = (struct chat_result){.code = -1};
    chat->sent_ms = now.mono_ms;
    log_debug("> %s", command->secret ? "(not shown)" : command->text);
    chat->out_length = chat->out_sent = 0;
    if (command->escape_first) {
        put(chat, ESCAPE);
    }
    put(chat, command->text);
    put(chat, "\r");
    if (command->payload != NULL) {
        enter(chat, CHAT_STATE_PROMPT, now.mono_ms + patience_ms(chat, PROMPT_WAIT_MS));
    } else {
        enter(chat, CHAT_STATE_RESULT, now.mono_ms + patience_ms(chat, command->wait_ms));
    }
    chat_flush(chat);
}

void chat_write_probe(uint32_t tries, struct chat_command *command)
{
    static const struct {
        const char *text, *prefix;
    } questions[CHAT_PROBES] = {
        {"AT+CMGF?", "+CMGF:"}, {"AT+CSMS?", "+CSMS:"}, {"AT+CNMI?", "+CNMI:"}};
    uint32_t turn = tries < CHAT_PROBES ? tries : CHAT_PROBES - 1;
    *command = (struct chat_command){.prefix = questions[turn].prefix,
                                     .wait_ms = CHAT_WAIT_MODEM_MS,
                                     .must_inform = true,
                                     .patient = true,
                                     .escape_first = turn > 0};
    (void)snprintf(command->text, sizeof command->text, "%s", questions[turn].text);
}

static void take_prompt(struct chat *chat, struct instant now)
{
    learn(chat, now);
    if (chat->state == CHAT_STATE_ABORT) {
        put(chat, ESCAPE);
    } else {
        log_debug("> %s", chat->command.payload);
        put(chat, chat->command.payload);
        put(chat, CTRL_Z);
        chat->result.committed = true;
        enter(chat, CHAT_STATE_RESULT, now.mono_ms + chat->command.wait_ms);
    }
    chat_flush(chat);
}

static bool is_sign(char first)
{
    return first == '+' || first == '^' || first == '*' || first == '%' || first == '#';
}

/* What stands after the information and is no news known by its sign: a PDU with damage. */
static bool is_body(const struct chat *chat, enum at_kind kind, char first)
{
    return chat->command.has_body && chat->result.informed && kind == AT_KIND_OTHER &&
           !is_sign(first);
}

/* +CPIN: READY and +CFUN: 1 answer their commands and are news of a restart otherwise. */
static bool is_information(const struct chat *chat, enum at_kind kind, const char *text,
                           size_t length)
{
    const struct chat_command *command = &chat->command;
    if (chat->state == CHAT_STATE_IDLE || command->prefix == NULL) {
        return false;
    }
    if (kind == AT_KIND_HEX || is_body(chat, kind, text[0])) {
        return command->prefix[0] == '\0' || chat->result.informed;
    }
    bool maybe_both = kind == AT_KIND_BOOT || kind == AT_KIND_SIM_GONE;
    if (kind != AT_KIND_OTHER && !(maybe_both && command->prefix[0] != '\0')) {
        return false;
    }
    return command->prefix[0] == '\0' || at_line_starts(text, length, command->prefix) ||
           (command->also != NULL && at_line_starts(text, length, command->also));
}

static void await_late_result(struct chat *chat, struct instant now)
{
    chat->deadline_ms =
        clock_earlier(chat->deadline_ms, now.mono_ms + patience_ms(chat, LATE_RESULT_WAIT_MS));
}

static void take_information(struct chat *chat, const char *text, size_t length, struct instant now)
{
    chat->result.informed = true;
    if (!chat->command.listing) {
        await_late_result(chat, now);
    }
    chat->listener.line(chat->listener.ctx, text, length);
}

static void take_final(struct chat *chat, enum at_kind kind, int32_t code, struct instant now)
{
    static const enum chat_outcome outcomes[] = {[AT_KIND_OK] = CHAT_OK,
                                                 [AT_KIND_ERROR] = CHAT_ERROR,
                                                 [AT_KIND_CMS_ERROR] = CHAT_CMS_ERROR,
                                                 [AT_KIND_CME_ERROR] = CHAT_CME_ERROR};
    bool ok = kind == AT_KIND_OK;
    if (chat->state == CHAT_STATE_IDLE || (ok && chat->state == CHAT_STATE_PROMPT)) {
        return; /* left over from an earlier command */
    }
    if (ok && chat->state == CHAT_STATE_RESULT && chat->command.must_inform &&
        !chat->result.informed) {
        if (!chat->command.patient) {
            await_late_result(chat, now);
        }
    } else if (ok && chat->state == CHAT_STATE_ABORT) {
        finish(chat, CHAT_UNPROMPTED, -1);
    } else {
        if (chat->command.payload == NULL && !chat->command.listing) {
            learn(chat, now);
        }
        finish(chat, outcomes[kind], ok ? -1 : code);
    }
}

static void tell_news(struct chat *chat, enum at_kind kind, const char *text, size_t length,
                      const char *pdu)
{
    if (chat->listener.news != NULL) {
        chat->listener.news(chat->listener.ctx, kind, text, length, pdu);
    }
}

/* In text mode the second line belongs to its news whatever it is: a stranger's text could read like a
 * result. In PDU mode the header has two fields at most, and the second line is hex, perhaps with
 * damage; what reads like news or a result between the two is that (TS 27.005 3.4.1). */
static bool is_second_line(const struct chat *chat, enum at_kind kind, const char *text)
{
    struct at_field third;
    return chat->header_kind == AT_KIND_CBM ||
           at_line_field(chat->header, strlen(chat->header), 2, &third) || kind == AT_KIND_HEX ||
           (kind == AT_KIND_OTHER && !is_sign(text[0]));
}

static void take_second_line(struct chat *chat, const char *pdu)
{
    enum at_kind kind = chat->header_kind;
    expect_no_second_line(chat);
    tell_news(chat, kind, chat->header, strlen(chat->header), pdu);
}

static void take_news(struct chat *chat, enum at_kind kind, const char *text, size_t length,
                      struct instant now)
{
    if (kind == AT_KIND_CMT || kind == AT_KIND_CDS || kind == AT_KIND_CBM) {
        if (chat->header_kind != AT_KIND_OTHER) {
            take_second_line(chat, ""); /* of the one before */
        }
        chat->header_kind = kind;
        chat->header_deadline_ms = now.mono_ms + SECOND_LINE_WAIT_MS;
        snprintf(chat->header, sizeof chat->header, "%s", text);
        return;
    }
    tell_news(chat, kind, text, length, NULL);
}

static void log_line(const struct chat *chat)
{
    char safe[2 * AT_LINE_OCTETS];
    log_debug("< %s", log_text(chat->splitter.text, chat->splitter.length, safe, sizeof safe));
}

static void take_line(struct chat *chat, struct instant now)
{
    const char *text = chat->splitter.text;
    size_t length = chat->splitter.length;
    int32_t code = -1;
    enum at_kind kind = at_line_kind(text, length, &code);
    bool echo = chat->state != CHAT_STATE_IDLE && length == strlen(chat->command.text) &&
                memcmp(text, chat->command.text, length) == 0;
    bool second = chat->header_kind != AT_KIND_OTHER && is_second_line(chat, kind, text);
    if (echo && (!second || kind == AT_KIND_OTHER)) {
        chat->result.echoed = true;
        return;
    }
    log_line(chat);
    if (second) {
        take_second_line(chat, text);
        return;
    }
    bool final = kind == AT_KIND_OK || kind == AT_KIND_ERROR || kind == AT_KIND_CMS_ERROR ||
                 kind == AT_KIND_CME_ERROR;
    if (is_information(chat, kind, text, length)) {
        take_information(chat, text, length, now);
    } else if (final) {
        take_final(chat, kind, code, now);
    } else if (kind != AT_KIND_OTHER && kind != AT_KIND_HEX) {
        take_news(chat, kind, text, length, now);
    }
}

void chat_receive(struct chat *chat, const uint8_t *octets, size_t count, struct instant now)
{
    size_t used = 0;
    while (used < count) {
        enum at_event event = AT_EVENT_NONE;
        used += at_line_feed(&chat->splitter, octets + used, count - used, &event);
        if (event == AT_EVENT_LINE) {
            take_line(chat, now);
        } else if (event == AT_EVENT_PROMPT) {
            take_prompt(chat, now);
        }
    }
}

int64_t chat_deadline_ms(const struct chat *chat)
{
    return clock_earlier(chat->deadline_ms, chat->header_deadline_ms);
}

void chat_due(struct chat *chat, struct instant now)
{
    if (now.mono_ms >= chat->header_deadline_ms) {
        take_second_line(chat, ""); /* it is lost */
    }
    if (now.mono_ms < chat->deadline_ms) {
        return;
    }
    if (chat->state == CHAT_STATE_PROMPT) {
        enter(chat, CHAT_STATE_ABORT, now.mono_ms + patience_ms(chat, ABORT_WAIT_MS));
        chat->out_length = chat->out_sent = 0;
        put(chat, ESCAPE);
        chat_flush(chat);
    } else if (chat->state == CHAT_STATE_ABORT) {
        finish(chat, CHAT_UNPROMPTED, -1);
    } else if (chat->state == CHAT_STATE_RESULT) {
        finish(chat, CHAT_SILENT, -1);
    }
}

void chat_cut(struct chat *chat)
{
    if (chat->state != CHAT_STATE_IDLE) {
        finish(chat, CHAT_CUT, -1);
    }
}

bool chat_is_sending(const struct chat *chat)
{
    return chat->state == CHAT_STATE_RESULT && chat->result.committed;
}

void chat_hurry(struct chat *chat, int64_t deadline_ms)
{
    chat->deadline_ms = clock_earlier(chat->deadline_ms, deadline_ms);
}

void chat_park(struct chat *chat)
{
    if (chat->state == CHAT_STATE_PROMPT || chat->state == CHAT_STATE_ABORT) {
        put(chat, ESCAPE);
        chat_flush(chat);
    }
}
