/* SPDX-License-Identifier: MIT
 * trial: see trial.h. What is read is only searched for the answer: the daemon's own link is the
 * place for all that modems do beside answering. */
#include "daemon/modem/trial.h"

#include <poll.h>
#include <stdio.h>
#include <string.h>

#include "daemon/clock.h"
#include "daemon/modem/port.h"
#include "parsers/tpdu_write.h"

#define ANSWER_OCTETS 1024
#define WAKE_MS 1000
#define ANSWER_MS 3000
#define SEND_MS 180000 /* as makers publish for +CMGS */
#define SUBSTITUTE "\x1A"

struct talk {
    struct port_line line;
    char answer[ANSWER_OCTETS]; /* of the last command, NUL-terminated */
    size_t length;
};

static bool write_all(struct talk *talk, const char *octets)
{
    size_t length = strlen(octets), used = 0;
    for (int tries = 0; used < length && tries < 100; tries++) {
        ssize_t taken =
            talk->line.write(talk->line.ctx, (const uint8_t *)&octets[used], length - used);
        if (taken < 0) {
            return false;
        }
        used += (size_t)taken;
        struct pollfd fd = {.fd = talk->line.descriptor(talk->line.ctx), .events = POLLOUT};
        (void)poll(&fd, 1, 50);
    }
    return used == length;
}

static bool ended(const struct talk *talk, const char *wanted)
{
    return strstr(talk->answer, wanted) != NULL || strstr(talk->answer, "ERROR") != NULL;
}

/* Collects until the wanted word or an ERROR has come. True for the wanted word. */
static bool await(struct talk *talk, const char *wanted, int64_t within_ms)
{
    struct clock clock = clock_real();
    int64_t until_ms = clock.now(clock.ctx).mono_ms + within_ms;
    while (!ended(talk, wanted) && talk->length + 1 < sizeof talk->answer) {
        struct pollfd fd = {.fd = talk->line.descriptor(talk->line.ctx), .events = POLLIN};
        if (clock.wait(clock.ctx, &fd, 1, until_ms) <= 0) {
            break;
        }
        ssize_t got = talk->line.read(talk->line.ctx, (uint8_t *)&talk->answer[talk->length],
                                      sizeof talk->answer - 1 - talk->length);
        if (got < 0) {
            break;
        }
        talk->length += (size_t)got;
        talk->answer[talk->length] = '\0';
    }
    return strstr(talk->answer, wanted) != NULL;
}

static bool ask(struct talk *talk, const char *command, const char *wanted, int64_t within_ms)
{
    talk->length = 0;
    talk->answer[0] = '\0';
    return write_all(talk, command) && await(talk, wanted, within_ms);
}

/* The first line of the answer that is neither echo nor result, its prefix ("+CSQ:") aside. */
static void note(struct talk *talk, const char *command, char out[TRIAL_WORD_OCTETS])
{
    out[0] = '\0';
    if (!ask(talk, command, "OK", ANSWER_MS)) {
        return;
    }
    char *rest = talk->answer;
    for (char *line = strsep(&rest, "\r\n"); line != NULL; line = strsep(&rest, "\r\n")) {
        if (line[0] == '\0' || strncmp(line, "AT", 2) == 0 || strcmp(line, "OK") == 0) {
            continue;
        }
        const char *colon = line[0] == '+' ? strchr(line, ':') : NULL;
        const char *value = colon != NULL ? colon + 1 + strspn(colon + 1, " ") : line;
        (void)snprintf(out, TRIAL_WORD_OCTETS, "%.*s", TRIAL_WORD_OCTETS - 1, value);
        return;
    }
}

static bool wake(struct talk *talk)
{
    /* An escape first, in case an open prompt swallows what is said. */
    return ask(talk, "\x1B\r", "OK", WAKE_MS / 4) || ask(talk, "AT\r", "OK", WAKE_MS) ||
           ask(talk, "AT\r", "OK", WAKE_MS);
}

void trial_run(const char *port_name, int32_t speed, struct trial *trial)
{
    struct port port;
    struct talk talk = {0};
    *trial = (struct trial){0};
    port_init(&port, NULL);
    talk.line = port_line(&port);
    trial->opened =
        talk.line.open(talk.line.ctx, port_name, speed, trial->says, sizeof trial->says);
    if (!trial->opened) {
        return;
    }
    trial->talks = wake(&talk);
    if (trial->talks) {
        (void)ask(&talk, "ATE0\r", "OK", ANSWER_MS);
        trial->texts = ask(&talk, "AT+CMGF=0\r", "OK", ANSWER_MS);
        note(&talk, "AT+CGMI\r", trial->maker);
        note(&talk, "AT+CGMM\r", trial->model);
        note(&talk, "AT+CPIN?\r", trial->sim);
        note(&talk, "AT+CREG?\r", trial->registration);
        note(&talk, "AT+COPS?\r", trial->network);
        note(&talk, "AT+CSQ\r", trial->signal);
        note(&talk, "AT+CPMS?\r", trial->storage);
        note(&talk, "AT+CSCA?\r", trial->centre);
    }
    talk.line.close(talk.line.ctx);
}

static bool send_line(struct talk *talk, const struct tpdu_line *line, char *says)
{
    char command[TPDU_HEX_OCTETS + 2];
    bool ready = wake(talk) && ask(talk, "ATE0\r", "OK", ANSWER_MS) &&
                 ask(talk, "AT+CMGF=0\r", "OK", ANSWER_MS);
    (void)snprintf(command, sizeof command, "AT+CMGS=%zu\r", (size_t)line->tpdu_octets);
    ready = ready && ask(talk, command, ">", ANSWER_MS);
    (void)snprintf(command, sizeof command, "%s" SUBSTITUTE, line->hex);
    if (ready && ask(talk, command, "+CMGS:", SEND_MS)) {
        return true;
    }
    const char *error = strstr(talk->answer, "+CM");
    (void)snprintf(says, TRIAL_SAYS_OCTETS, "%.60s",
                   error != NULL ? error : "the modem did not take it");
    says[strcspn(says, "\r\n")] = '\0';
    return false;
}

bool trial_send(const char *port_name, int32_t speed, const char *number, const char *text,
                char says[TRIAL_SAYS_OCTETS])
{
    struct port port;
    struct talk talk = {0};
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
    port_init(&port, NULL);
    talk.line = port_line(&port);
    if (!talk.line.open(talk.line.ctx, port_name, speed, says, TRIAL_SAYS_OCTETS)) {
        return false;
    }
    bool sent = send_line(&talk, &line, says);
    talk.line.close(talk.line.ctx);
    return sent;
}
