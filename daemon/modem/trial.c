/* SPDX-License-Identifier: MIT
 * trial: see trial.h. The talk is the daemon's own (chat), led here by a loop of its own: a command,
 * and what comes until its final result or its time is up. News is passed over. */
#include "daemon/modem/trial.h"

#include <poll.h>
#include <stdio.h>
#include <string.h>

#include "daemon/ground/clock.h"
#include "daemon/ground/log.h"
#include "daemon/modem/chat.h"
#include "daemon/modem/port.h"
#include "daemon/modem/cause.h"
#include "daemon/modem/setup.h"
#include "daemon/modem/watch.h"
#include "parsers/at_line.h"
#include "parsers/tpdu_write.h"

#define WAKE_TRIES 4
#define WAKE_OTHER_TRIES 2 /* at each of the other speeds; the first lets a modem find the speed */
#define WAKE_OTHER_MS 400
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

/* One field of the first line of the answer. */
static void note_field(struct talk *talk, const char *text, const char *prefix, size_t field,
                       char out[TRIAL_WORD_OCTETS])
{
    bool told = ask_for(talk, text, prefix);
    (void)at_line_copy(talk->word, told ? strlen(talk->word) : 0, field, out, TRIAL_WORD_OCTETS);
}

static int32_t number_of(const struct talk *talk, size_t field)
{
    int32_t number = -1;
    return at_line_number(talk->word, strlen(talk->word), field, &number) ? number : -1;
}

/* The set-up's way: waking, from the try on that ends an open prompt, and being in step with one that
 * is slow. */
static bool wake(struct talk *talk, int32_t most_tries, int32_t most_ms)
{
    bool late = false;
    for (int32_t tries = 1; tries <= most_tries; tries++) {
        struct chat_command command = {.wait_ms = 0};
        setup_write_waking(tries, &command);
        command.wait_ms = command.wait_ms < most_ms ? command.wait_ms : most_ms;
        if (ask(talk, &command)) {
            struct chat_command probe;
            chat_write_probe(0, &probe);
            return !late || ask(talk, &probe) || talk->result.outcome != CHAT_SILENT;
        }
        late = true;
    }
    return false;
}

/* The speed at which it wakes; 0 at none. */
static int32_t wake_at(struct talk *talk, int32_t speed)
{
    if (wake(talk, WAKE_TRIES, ANSWER_MS)) {
        return speed;
    }
    for (int32_t turn = 0; setup_other_speed(turn) != 0; turn++) {
        int32_t other = setup_other_speed(turn);
        if (other != speed && talk->line.set_speed(talk->line.ctx, other) &&
            wake(talk, WAKE_OTHER_TRIES, WAKE_OTHER_MS)) {
            return other;
        }
    }
    return 0;
}

/* The best of circuit, packet and LTE: one is enough for texts. */
static int32_t ask_registration(struct talk *talk)
{
    static const char *const commands[] = {"AT+CREG?", "AT+CGREG?", "AT+CEREG?"};
    int32_t best = -1;
    for (size_t i = 0; i < sizeof commands / sizeof commands[0]; i++) {
        int32_t stat = ask_for(talk, commands[i], "+C") ? number_of(talk, 1) : -1;
        best = watch_better(best, stat);
    }
    return best;
}

/* True where the last command failed for want of an open SIM, before which some modems take nothing about
 * texts (TS 27.005 3.2.5: 310 to 318). */
static bool wants_sim(const struct talk *talk)
{
    int32_t code = talk->result.code;
    if (talk->result.outcome == CHAT_CME_ERROR) {
        code = cause_of_equipment(code);
    } else if (talk->result.outcome != CHAT_CMS_ERROR) {
        return false;
    }
    return code >= 310 && code <= 318;
}

static void ask_all(struct talk *talk, struct trial *trial)
{
    (void)ask_for(talk, "ATE0", NULL);
    (void)ask_for(talk, "AT+CMEE=1", NULL);
    trial->texts = ask_for(talk, "AT+CMGF=0", NULL) || wants_sim(talk);
    note(talk, "AT+CGMI", "", trial->maker);
    note(talk, "AT+CGMM", "", trial->model);
    note(talk, "AT+CGSN", "", trial->serial); /* TS 27.007 5.4 */
    note(talk, "AT+CPIN?", "+CPIN:", trial->sim);
    trial->registration = ask_registration(talk);
    (void)ask_for(talk, "AT+COPS=3,0", NULL);
    note_field(talk, "AT+COPS?", "+COPS:", 2, trial->network);
    int32_t rssi = ask_for(talk, "AT+CSQ", "+CSQ:") ? number_of(talk, 0) : -1;
    trial->signal_dbm = watch_dbm(rssi);
    bool told = ask_for(talk, "AT+CPMS?", "+CPMS:");
    trial->storage_used = told ? number_of(talk, 1) : -1;
    trial->storage_total = told ? number_of(talk, 2) : -1;
    note_field(talk, "AT+CSCA?", "+CSCA:", 0, trial->centre);
    trial->centre_told = talk->result.outcome == CHAT_OK && talk->word[0] != '\0';
}

void trial_run(const char *port_name, int32_t speed, struct trial *trial)
{
    static struct talk talk;
    *trial = (struct trial){.registration = -1, .storage_used = -1, .storage_total = -1};
    trial->opened = talk_begin(&talk, port_name, speed, trial->says);
    if (!trial->opened) {
        return;
    }
    trial->speed = wake_at(&talk, speed);
    trial->talks = trial->speed != 0;
    if (trial->talks) {
        ask_all(&talk, trial);
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
        char cause[CAUSE_SAYS_OCTETS];
        bool cms = result->outcome == CHAT_CMS_ERROR;
        (void)snprintf(says, TRIAL_SAYS_OCTETS, "%s",
                       cause_write(cms ? result->code : cause_of_equipment(result->code), cause));
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
    bool sent = wake(talk, WAKE_TRIES, ANSWER_MS) && ask_for(talk, "ATE0", NULL) &&
                ask_for(talk, "AT+CMGF=0", NULL) && ask(talk, &command);
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
