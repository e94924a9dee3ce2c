/* SPDX-License-Identifier: MIT
 * link: see the header. The port is open or not; while it is, exactly one speaker has the word:
 * the set-up until it is done, then intake, dispatch and watch, in this order. Whatever goes wrong
 * leads back to a known state: a command without an answer to a probe, a probe without an answer to
 * a closed port, a closed port to a new try with growing pauses. */
#include "daemon/modem/link.h"

#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/log.h"
#include "daemon/modem/chat.h"
#include "daemon/modem/dispatch.h"
#include "daemon/modem/intake.h"
#include "daemon/modem/link_over.h"
#include "daemon/modem/setup.h"
#include "daemon/modem/watch.h"

#define REOPEN_FIRST_MS 1000
#define REOPEN_MOST_MS 30000
#define FAULT_PAUSE_MS 60000
/* After a restart its lines come for a while; the set-up waits until they have. */
#define RESTART_QUIET_MS 2000
#define PROBE_WAIT_MS 5000
#define PROBES_MAX 3
#define RESTARTS_MAX 5
#define READS_MAX 16

enum speaking { SPEAKING_NONE, SPEAKING_SETUP, SPEAKING_PROBE, SPEAKING_OTHER };

struct link {
    struct link_settings settings;
    struct link_host host;
    struct port port;
    struct port_line line;
    struct link_health health;
    struct chat chat;
    struct setup setup;
    struct intake intake;
    struct dispatch dispatch;
    struct watch watch;
    struct speaker setup_speaker;
    struct speaker speakers[3]; /* once ready: intake, dispatch, watch */
    struct speaker *speaker;    /* whose command is in flight; NULL: a probe, or none */
    struct instant now;
    bool open;
    bool probing;
    uint32_t probes;
    bool text_mode; /* the probe found the modem out of PDU mode */
    int64_t reopen_ms;
    int64_t reopen_pause_ms;
    int64_t fault_ms;   /* when to look again after a fault; CLOCK_NEVER */
    int64_t restart_ms; /* when to set up again after news of a restart; CLOCK_NEVER */
    uint32_t restarts;  /* of the set-up, since the modem was last ready */
    char logged[sizeof((struct link_health *)0)->says];
};

static void say(struct link *link, const char *says)
{
    snprintf(link->health.says, sizeof link->health.says, "%s", says);
    if (says[0] != '\0' && strcmp(says, link->logged) != 0) {
        log_warnx("%s", says);
    }
    snprintf(link->logged, sizeof link->logged, "%s", link->health.says);
}

static void begin_setup(struct link *link)
{
    link->probing = false;
    link->speaker = NULL;
    link->fault_ms = CLOCK_NEVER;
    link->restart_ms = CLOCK_NEVER;
    link->health.state = LINK_STATE_SETUP;
    setup_start(&link->setup, link->now);
}

static void close_line(struct link *link, int64_t pause_ms)
{
    chat_park(&link->chat);
    chat_cut(&link->chat);
    if (link->open) {
        link->line.close(link->line.ctx);
    }
    link->open = false;
    link->probing = false;
    link->speaker = NULL;
    link->restart_ms = link->fault_ms = CLOCK_NEVER;
    link->health.state = LINK_STATE_CLOSED;
    link->reopen_ms = link->now.mono_ms + pause_ms;
}

/* Closes it and tries again after a pause that grows. */
static void give_line_up(struct link *link, const char *says)
{
    say(link, says);
    int64_t pause_ms = link->reopen_pause_ms;
    link->reopen_pause_ms = pause_ms * 2 > REOPEN_MOST_MS ? REOPEN_MOST_MS : pause_ms * 2;
    close_line(link, pause_ms);
}

static void open_line(struct link *link)
{
    char says[sizeof link->health.says];
    if (!link->line.open(link->line.ctx, link->settings.port, link->settings.speed, says,
                         sizeof says)) {
        give_line_up(link, says);
        return;
    }
    link->open = true;
    chat_reset(&link->chat);
    log_info("modem: port %s opened", link->settings.port);
    begin_setup(link);
}

static void enter_ready(struct link *link)
{
    link->health.state = LINK_STATE_READY;
    link->health.storage_used = link->setup.found.storage_used;
    link->health.storage_total = link->setup.found.storage_total;
    link->reopen_pause_ms = REOPEN_FIRST_MS;
    link->restarts = 0;
    log_info("modem: ready");
    say(link, "");
    intake_start(&link->intake, link->now);
    dispatch_wake(&link->dispatch);
    watch_start(&link->watch, link->now);
}

static void enter_fault(struct link *link)
{
    say(link, link->setup.says);
    link->health.state = LINK_STATE_FAULT;
    link->fault_ms = link->now.mono_ms + FAULT_PAUSE_MS;
}

static void end_setup(struct link *link)
{
    char says[sizeof link->health.says];
    switch (link->setup.state) {
    case SETUP_STATE_WAKING:
    case SETUP_STATE_GOING:
        break;
    case SETUP_STATE_DONE:
        enter_ready(link);
        break;
    case SETUP_STATE_DEAF:
        snprintf(says, sizeof says,
                 "nothing on %.80s answers AT: is it the modem's command port, and is it on?",
                 link->settings.port);
        give_line_up(link, says);
        break;
    case SETUP_STATE_STUCK:
        give_line_up(link, link->setup.says);
        break;
    case SETUP_STATE_FAULT:
        enter_fault(link);
        break;
    }
}

/* The modem has lost its settings: set up again, once it has said all it has to say of it. */
static void restart_soon(struct link *link, const char *why)
{
    if (link->restart_ms != CLOCK_NEVER || link->restarts >= RESTARTS_MAX) {
        return;
    }
    log_notice("modem: %s: it is set up again", why);
    link->restarts++;
    link->restart_ms = link->now.mono_ms + RESTART_QUIET_MS;
}

static void take_news(void *ctx, enum at_kind kind, const char *text, size_t length,
                      const char *pdu)
{
    struct link *link = ctx;
    int32_t code = -1;
    bool ready = link->health.state == LINK_STATE_READY;
    bool waking = link->setup.state == SETUP_STATE_WAKING;
    switch (kind) {
    case AT_KIND_CMTI:
    case AT_KIND_CDSI:
        intake_announced(&link->intake, text, length);
        break;
    case AT_KIND_CMT:
    case AT_KIND_CDS:
        intake_direct(&link->intake, link->now, pdu);
        break;
    case AT_KIND_REGISTRATION:
        at_line_kind(text, length, &code);
        watch_news(&link->watch, text, length, code);
        break;
    case AT_KIND_BOOT:
    case AT_KIND_SIM_GONE:
        if (!waking) {
            restart_soon(link, kind == AT_KIND_BOOT ? "it has restarted" : "the SIM went");
        }
        break;
    case AT_KIND_MEMORY_FULL:
        if (ready) {
            log_warnx("modem: its memory for texts is full: it is emptied");
            intake_sweep(&link->intake, link->now);
        }
        break;
    case AT_KIND_CBM:
    case AT_KIND_RING:
    case AT_KIND_OTHER:
    case AT_KIND_HEX:
    case AT_KIND_OK:
    case AT_KIND_ERROR:
    case AT_KIND_CMS_ERROR:
    case AT_KIND_CME_ERROR:
        break;
    }
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct link *link = ctx;
    int32_t format = 0;
    if (link->probing) {
        link->text_mode = at_line_number(text, length, 0, &format) && format != 0;
    } else if (link->speaker != NULL && link->speaker->line != NULL) {
        link->speaker->line(link->speaker->ctx, text, length);
    }
}

/* Whether both sides are in step again is asked with a command whose answer cannot be mistaken for
 * that of an earlier one. */
static void begin_probe(struct link *link)
{
    log_notice("modem: no answer in time: it is asked whether it hears");
    link->probing = true;
    link->probes = 0;
    link->text_mode = false;
}

static void end_probe(struct link *link, const struct chat_result *result)
{
    bool alive = result->outcome == CHAT_OK || result->outcome == CHAT_ERROR ||
                 result->outcome == CHAT_CME_ERROR || result->outcome == CHAT_CMS_ERROR;
    if (alive) {
        link->probing = false;
        if (link->health.state == LINK_STATE_READY) {
            intake_sweep(&link->intake, link->now);
            if (link->text_mode) {
                restart_soon(link, "it has left PDU mode");
            }
        }
        return;
    }
    link->probes++;
    if (link->probes >= PROBES_MAX) {
        give_line_up(link, "the modem has stopped answering: its port is opened anew");
    }
}

static void heed_intake(struct link *link)
{
    struct intake *intake = &link->intake;
    if (intake->text_mode || intake->list_refused) {
        restart_soon(link, "it has lost its settings");
    } else if (intake->indications_lost) {
        restart_soon(link, "it has stopped to hand texts on");
    }
    intake->text_mode = intake->list_refused = intake->indications_lost = false;
}

static void heed_dispatch(struct link *link)
{
    struct dispatch *dispatch = &link->dispatch;
    if (dispatch->sim_trouble) {
        restart_soon(link, "the SIM does not serve");
    }
    if (dispatch->memory_full) {
        intake_sweep(&link->intake, link->now);
    }
    if (dispatch->network_lost) {
        watch_hurry(&link->watch, link->now);
    }
    if (dispatch->refused_in_row >= 3) {
        dispatch->refused_in_row = 0;
        restart_soon(link, "it refuses to send");
    }
    dispatch->sim_trouble = dispatch->memory_full = dispatch->network_lost = false;
}

static void take_result(void *ctx, const struct chat_result *result)
{
    struct link *link = ctx;
    struct speaker *speaker = link->speaker;
    link->speaker = NULL;
    if (link->probing) {
        if (result->outcome != CHAT_CUT) {
            end_probe(link, result);
        }
        return;
    }
    if (speaker == NULL) {
        return;
    }
    bool waking = link->setup.state == SETUP_STATE_WAKING;
    speaker->done(speaker->ctx, link->now, result);
    if (result->outcome == CHAT_SILENT && !waking) {
        begin_probe(link);
    }
    heed_intake(link);
    heed_dispatch(link);
}

static bool ask(struct link *link, struct speaker *speaker)
{
    struct chat_command command = {.wait_ms = 0};
    if (!speaker->next(speaker->ctx, link->now, &command)) {
        return false;
    }
    link->speaker = speaker;
    chat_send(&link->chat, &command, link->now);
    return true;
}

static void send_probe(struct link *link)
{
    struct chat_command command = {.text = "AT+CMGF?",
                                   .prefix = "+CMGF:",
                                   .wait_ms = PROBE_WAIT_MS,
                                   .must_inform = true,
                                   .escape_first = link->probes > 0};
    link->speaker = NULL;
    chat_send(&link->chat, &command, link->now);
}

static bool may_speak(const struct link *link, size_t speaker)
{
    return speaker != 1 || watch_can_send(&link->watch);
}

static void speak_ready(struct link *link)
{
    for (size_t i = 0; i < 3; i++) {
        if (may_speak(link, i) && ask(link, &link->speakers[i])) {
            return;
        }
    }
    say(link, watch_says(&link->watch));
}

static void run_open(struct link *link)
{
    if (link->now.mono_ms >= link->restart_ms || link->now.mono_ms >= link->fault_ms) {
        chat_cut(&link->chat);
        begin_setup(link);
    }
    if (!chat_is_idle(&link->chat)) {
        return;
    }
    if (link->probing) {
        send_probe(link);
    } else if (link->health.state == LINK_STATE_READY) {
        speak_ready(link);
    } else if (link->health.state == LINK_STATE_SETUP) {
        ask(link, &link->setup_speaker);
        end_setup(link);
        if (link->health.state == LINK_STATE_READY) {
            speak_ready(link);
        }
    }
}

/* Whatever is due now; says the next command where the line is free. */
static void turn(struct link *link)
{
    if (!link->open && link->now.mono_ms >= link->reopen_ms) {
        open_line(link);
    }
    if (link->open) {
        run_open(link);
    }
    if (link->open && link->chat.line_gone) {
        give_line_up(link, "the modem's port is gone: unplugged, or the modem restarts");
    }
}

struct link *link_new_over(const struct link_settings *settings, const struct link_host *host,
                           const struct port_line *line)
{
    struct link *link = calloc(1, sizeof *link);
    if (link == NULL) {
        return NULL;
    }
    link->settings = *settings;
    link->host = *host;
    link->line = *line;
    link->health = (struct link_health){
        .state = LINK_STATE_CLOSED, .registration = -1, .storage_used = -1, .storage_total = -1};
    link->reopen_pause_ms = REOPEN_FIRST_MS;
    link->fault_ms = link->restart_ms = CLOCK_NEVER;
    struct chat_listener listener = {take_line, take_result, take_news, link};
    chat_init(&link->chat, &link->line, listener);
    setup_init(&link->setup, &link->settings, &link->line, &link->health);
    intake_init(&link->intake, &link->host, &link->setup.found, &link->health);
    dispatch_init(&link->dispatch, &link->host);
    watch_init(&link->watch, &link->health);
    link->setup_speaker = setup_speaker(&link->setup);
    link->speakers[0] = intake_speaker(&link->intake);
    link->speakers[1] = dispatch_speaker(&link->dispatch);
    link->speakers[2] = watch_speaker(&link->watch);
    return link;
}

struct link *link_new(const struct link_settings *settings, const struct link_host *host,
                      struct line_count *count)
{
    struct port_line none = {.ctx = NULL};
    struct link *link = link_new_over(settings, host, &none);
    if (link != NULL) {
        port_init(&link->port, count);
        link->line = port_line(&link->port);
    }
    return link;
}

void link_free(struct link *link)
{
    if (link != NULL) {
        close_line(link, 0);
        free(link);
    }
}

void link_configure(struct link *link, const struct link_settings *settings)
{
    bool same =
        strcmp(link->settings.port, settings->port) == 0 && link->settings.speed == settings->speed;
    link->settings = *settings;
    if (!same) {
        close_line(link, 0);
        link->reopen_pause_ms = REOPEN_FIRST_MS;
    } else if (link->health.state == LINK_STATE_FAULT) {
        link->fault_ms = link->now.mono_ms; /* a new PIN, perhaps */
    }
}

void link_wake(struct link *link)
{
    dispatch_wake(&link->dispatch);
}

int link_descriptor(void *ctx, short *events)
{
    struct link *link = ctx;
    *events = POLLIN;
    if (!link->open) {
        return -1;
    }
    if (link->chat.out_sent < link->chat.out_length) {
        *events = (short)(POLLIN | POLLOUT);
    }
    return link->line.descriptor(link->line.ctx);
}

static int64_t earlier(int64_t a, int64_t b)
{
    return a < b ? a : b;
}

static int64_t speakers_deadline_ms(const struct link *link)
{
    int64_t deadline_ms = CLOCK_NEVER;
    for (size_t i = 0; i < 3; i++) {
        if (may_speak(link, i)) {
            const struct speaker *speaker = &link->speakers[i];
            deadline_ms = earlier(deadline_ms, speaker->deadline_ms(speaker->ctx));
        }
    }
    return deadline_ms;
}

int64_t link_deadline_ms(void *ctx)
{
    struct link *link = ctx;
    if (!link->open) {
        return link->reopen_ms;
    }
    int64_t deadline_ms = earlier(link->restart_ms, link->fault_ms);
    deadline_ms = earlier(deadline_ms, chat_deadline_ms(&link->chat));
    if (!chat_is_idle(&link->chat)) {
        return deadline_ms;
    }
    if (link->probing) {
        return 0;
    }
    if (link->health.state == LINK_STATE_READY) {
        return earlier(deadline_ms, speakers_deadline_ms(link));
    }
    if (link->health.state == LINK_STATE_SETUP) {
        return earlier(deadline_ms, link->setup_speaker.deadline_ms(link->setup_speaker.ctx));
    }
    return deadline_ms;
}

/* False when the port is gone. */
static bool read_line(struct link *link)
{
    uint8_t octets[512];
    for (int i = 0; i < READS_MAX; i++) {
        ssize_t got = link->line.read(link->line.ctx, octets, sizeof octets);
        if (got <= 0) {
            return got == 0;
        }
        link->health.last_heard_s = link->now.wall_s;
        chat_receive(&link->chat, octets, (size_t)got, link->now);
        if (!link->open) {
            return true;
        }
    }
    return true;
}

void link_ready(void *ctx, short revents, struct instant now)
{
    struct link *link = ctx;
    link->now = now;
    if (!link->open) {
        return;
    }
    bool there = read_line(link);
    if (link->open && (!there || (revents & (POLLHUP | POLLERR | POLLNVAL)) != 0)) {
        give_line_up(link, "the modem's port is gone: unplugged, or the modem restarts");
    }
    if (link->open && (revents & POLLOUT) != 0) {
        chat_flush(&link->chat);
    }
    turn(link);
}

void link_due(void *ctx, struct instant now)
{
    struct link *link = ctx;
    link->now = now;
    if (link->open) {
        chat_due(&link->chat, now);
    }
    turn(link);
}

const struct link_health *link_health(const struct link *link)
{
    return &link->health;
}
