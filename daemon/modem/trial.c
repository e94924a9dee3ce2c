/* SPDX-License-Identifier: MIT
 * trial: see trial.h. The talk is the daemon's own (chat), led here by a loop of its own: a command,
 * and what comes until its final result or its time is up. News is passed over. */
#include "daemon/modem/trial.h"

#include <inttypes.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>

#include "daemon/ground/clock.h"
#include "daemon/ground/log.h"
#include "daemon/modem/chat.h"
#include "daemon/modem/port.h"
#include "daemon/modem/setup.h"
#include "parsers/tpdu_write.h"

#define WAKE_TRIES 3
#define ANSWER_MS 3000
#define SEND_MS 180000 /* as makers publish for +CMGS */

struct talk {
    struct port port;
    struct port_line line;
    struct chat chat;
    struct chat_result result; /* of the last command */
    bool done;
    char word[TRIAL_WORD_OCTETS]; /* the first line of its information, the prefix aside */
};

static void take_line(void *ctx, const char *text, size_t length)
{
    struct talk *talk = ctx;
    const char *colon = text[0] == '+' ? memchr(text, ':', length) : NULL;
    const char *value = colon != NULL ? colon + 1 + strspn(colon + 1, " ") : text;
    if (talk->word[0] == '\0') {
        (void)log_text(value, length - (size_t)(value - text), talk->word, sizeof talk->word);
    }
}

static void take_result(void *ctx, const struct chat_result *result)
{
    struct talk *talk = ctx;
    talk->result = *result;
    talk->done = true;
}

static bool talk_begin(struct talk *talk, const char *port_name, int32_t speed,
                       char says[TRIAL_SAYS_OCTETS])
{
    memset(talk, 0, sizeof *talk);
    port_init(&talk->port, NULL);
    talk->line = port_line(&talk->port);
    chat_init(&talk->chat, &talk->line,
              (struct chat_listener){.line = take_line, .done = take_result, .ctx = talk});
    return talk->line.open(talk->line.ctx, port_name, speed, says, TRIAL_SAYS_OCTETS);
}

/* True for OK. */
static bool ask(struct talk *talk, const struct chat_command *command)
{
    struct clock clock = clock_real();
    talk->done = false;
    talk->word[0] = '\0';
    chat_send(&talk->chat, command, clock.now(clock.ctx));
    while (!talk->done) {
        short wanted = chat_flush(&talk->chat) ? POLLIN | POLLOUT : POLLIN;
        struct pollfd fd = {.fd = talk->line.descriptor(talk->line.ctx), .events = wanted};
        int ready = clock.wait(clock.ctx, &fd, 1, chat_deadline_ms(&talk->chat));
        struct instant now = clock.now(clock.ctx);
        uint8_t octets[256];
        ssize_t got = ready > 0 ? talk->line.read(talk->line.ctx, octets, sizeof octets) : ready;
        if (got > 0) {
            chat_receive(&talk->chat, octets, (size_t)got, now);
        } else if (got < 0 || talk->chat.line_gone) {
            chat_cut(&talk->chat);
        }
        chat_due(&talk->chat, now);
    }
    return talk->result.outcome == CHAT_OK;
}

static bool ask_for(struct talk *talk, const char *text, const char *prefix)
{
    struct chat_command command = {.prefix = prefix, .wait_ms = ANSWER_MS};
    (void)snprintf(command.text, sizeof command.text, "%s", text);
    return ask(talk, &command);
}

/* The first line of the answer, "" where there is none. prefix "": some modems put one there, some
 * do not. */
static void note(struct talk *talk, const char *text, const char *prefix,
                 char out[TRIAL_WORD_OCTETS])
{
    (void)snprintf(out, TRIAL_WORD_OCTETS, "%s", ask_for(talk, text, prefix) ? talk->word : "");
}

/* The set-up's way of waking, from the try on that ends an open prompt. */
static bool wake(struct talk *talk)
{
    for (int32_t tries = 1; tries <= WAKE_TRIES; tries++) {
        struct chat_command command = {.wait_ms = 0};
        setup_write_waking(tries, &command);
        if (ask(talk, &command)) {
            return true;
        }
    }
    return false;
}

void trial_run(const char *port_name, int32_t speed, struct trial *trial)
{
    static struct talk talk;
    *trial = (struct trial){0};
    trial->opened = talk_begin(&talk, port_name, speed, trial->says);
    if (!trial->opened) {
        return;
    }
    trial->talks = wake(&talk);
    if (trial->talks) {
        (void)ask_for(&talk, "ATE0", NULL);
        trial->texts = ask_for(&talk, "AT+CMGF=0", NULL);
        note(&talk, "AT+CGMI", "", trial->maker);
        note(&talk, "AT+CGMM", "", trial->model);
        note(&talk, "AT+CPIN?", "+CPIN:", trial->sim);
        note(&talk, "AT+CREG?", "+CREG:", trial->registration);
        note(&talk, "AT+COPS?", "+COPS:", trial->network);
        note(&talk, "AT+CSQ", "+CSQ:", trial->signal);
        note(&talk, "AT+CPMS?", "+CPMS:", trial->storage);
        note(&talk, "AT+CSCA?", "+CSCA:", trial->centre);
    }
    talk.line.close(talk.line.ctx);
}

static void explain(const struct chat_result *result, char says[TRIAL_SAYS_OCTETS])
{
    static const char *const words[] = {[CHAT_OK] = "the modem did not take it",
                                        [CHAT_ERROR] = "the modem did not take it",
                                        [CHAT_UNPROMPTED] = "the modem did not ask for the text",
                                        [CHAT_SILENT] = "the modem does not answer",
                                        [CHAT_CUT] = "the modem does not answer"};
    if (result->outcome == CHAT_CMS_ERROR || result->outcome == CHAT_CME_ERROR) {
        (void)snprintf(says, TRIAL_SAYS_OCTETS, "the modem answered +%s ERROR %" PRId32,
                       result->outcome == CHAT_CMS_ERROR ? "CMS" : "CME", result->code);
        return;
    }
    bool lost = result->outcome == CHAT_SILENT || result->outcome == CHAT_CUT;
    (void)snprintf(says, TRIAL_SAYS_OCTETS, "%s",
                   lost && result->committed
                       ? "the modem did not say what became of it: it may have gone out"
                       : words[result->outcome]);
}

static bool send_line(struct talk *talk, const struct tpdu_line *line, char says[TRIAL_SAYS_OCTETS])
{
    struct chat_command command = {
        .payload = line->hex, .prefix = "+CMGS:", .wait_ms = SEND_MS, .must_inform = true};
    (void)snprintf(command.text, sizeof command.text, "AT+CMGS=%zu", (size_t)line->tpdu_octets);
    bool sent = wake(talk) && ask_for(talk, "ATE0", NULL) && ask_for(talk, "AT+CMGF=0", NULL) &&
                ask(talk, &command);
    if (!sent && !talk->result.informed) {
        explain(&talk->result, says);
    }
    return sent || talk->result.informed; /* only the final result was lost */
}

bool trial_send(const char *port_name, int32_t speed, const char *number, const char *text,
                char says[TRIAL_SAYS_OCTETS])
{
    static struct talk talk;
    struct tpdu_split split;
    struct tpdu_line line;
    enum tpdu_error error = tpdu_split(text, strlen(text), (struct tpdu_split_choice){0}, &split);
    if (error == TPDU_OK && split.parts != 1) {
        error = TPDU_ERROR_TOO_MUCH;
    }
    if (error == TPDU_OK) {
        struct tpdu_submit_order order = {
            .to = number, .part = tpdu_split_part(&split, text, 0, 0), .validity_s = 3600};
        error = tpdu_write_submit(&order, &line);
    }
    if (error != TPDU_OK) {
        (void)snprintf(says, TRIAL_SAYS_OCTETS, "%s", tpdu_error_says(error));
        return false;
    }
    if (!talk_begin(&talk, port_name, speed, says)) {
        return false;
    }
    bool sent = send_line(&talk, &line, says);
    chat_park(&talk.chat);
    talk.line.close(talk.line.ctx);
    return sent;
}
