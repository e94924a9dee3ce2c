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

#include "daemon/ground/log.h"
#include "daemon/modem/chat.h"
#include "daemon/modem/dispatch.h"
#include "daemon/modem/intake.h"
#include "daemon/modem/port.h"
#include "daemon/modem/setup.h"
#include "daemon/modem/watch.h"
#include "parsers/at_line.h"

#define REOPEN_FIRST_MS 1000
#define REOPEN_MOST_MS 30000
#define FAULT_PAUSE_MS 60000
/* After a restart its lines come for a while; the set-up waits until they have. Where it would
 * follow upon the last too soon, the pause grows. */
#define RESTART_FIRST_MS 2000
#define RESTART_MOST_MS 30000
#define RESTART_CALM_MS 300000
/* After a line of a start that may only be late. */
#define LATE_START_MS 150000
#define RESET_PAUSE_MS 3600000
#define RESET_WAIT_MS 15000
#define READS_MAX 16
#define WAITED_FOR_MS 60000

#define GONE_SAYS "the modem's port is gone: unplugged, or the modem restarts"
#define NO_CENTRE_SAYS                                                                             \
    "the SIM has no service centre number, so no text can be sent; ask the network's operator "    \
    "for "                                                                                         \
    "the number of its service centre for texts and put it into the config, as the modem's "       \
    "service_centre"

/* Commands of the link's own. */
enum link_errand {
    LINK_ERRAND_NONE,
    LINK_ERRAND_PROBE, /* does the modem hear, and are both in step? */
    LINK_ERRAND_RESET  /* the modem is to start anew */
};

enum link_speaker { LINK_SPEAKER_INTAKE, LINK_SPEAKER_DISPATCH, LINK_SPEAKER_WATCH, LINK_SPEAKERS };

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
    struct speaker speakers[LINK_SPEAKERS]; /* once ready, in the order of who goes first */
    const struct speaker *speaker;          /* whose command is in flight; NULL: an errand, none */
    struct instant now;
    bool open;
    enum link_errand errand;
    uint32_t probes; /* unanswered */
    bool text_mode;  /* the probe found the modem out of PDU mode */
    bool in_doubt;   /* a text, since the modem went silent over it */
    bool confirming; /* it was answered late, or by an ERROR of whatever command: asked once more */
    int64_t reopen_ms;
    int64_t reopen_pause_ms;
    int64_t fault_ms;   /* when to look again after a fault; CLOCK_NEVER */
    int64_t restart_ms; /* when to set up again; CLOCK_NEVER */
    int64_t restart_pause_ms;
    bool restart_after; /* the send that is under way */
    int64_t ready_ms;   /* since when it is ready */
    int64_t reset_ms;   /* when it may next be told to start anew */
    int64_t unfit_ms;   /* since when no text can be left to it; CLOCK_NEVER while one can */
    char logged[LINK_SAYS_OCTETS];
};

/* Said in the log once, until something else is. */
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
    link->errand = LINK_ERRAND_NONE;
    link->fault_ms = link->restart_ms = CLOCK_NEVER;
    link->health.state = LINK_STATE_SETUP;
    link->intake.acknowledge = false; /* a receipt that is still owed has lapsed */
    setup_start(&link->setup, link->setup.owed, link->now);
}

static void close_line(struct link *link, int64_t pause_ms)
{
    chat_park(&link->chat);
    chat_cut(&link->chat);
    if (link->open) {
        link->line.close(link->line.ctx);
    }
    link->open = false;
    link->errand = LINK_ERRAND_NONE;
    link->restart_ms = link->fault_ms = CLOCK_NEVER;
    link->health.state = LINK_STATE_CLOSED;
    link->reopen_ms = link->now.mono_ms + pause_ms;
}

/* Closes; opens again after a pause. */
static void give_up(struct link *link, const char *says)
{
    int64_t pause_ms = link->reopen_pause_ms;
    say(link, says);
    link->reopen_pause_ms = clock_earlier(2 * pause_ms, REOPEN_MOST_MS);
    close_line(link, pause_ms);
}

/* The modem has lost its settings: set up again, once it has said all it has to say of it. Until
 * then nobody speaks. */
static void restart_soon(struct link *link, const char *why)
{
    if (link->restart_ms != CLOCK_NEVER) {
        return;
    }
    bool calm = link->health.state == LINK_STATE_READY &&
                link->now.mono_ms - link->ready_ms >= RESTART_CALM_MS;
    int64_t longer_ms = calm ? RESTART_FIRST_MS : 2 * link->restart_pause_ms;
    link->restart_pause_ms = clock_earlier(longer_ms, RESTART_MOST_MS);
    link->restart_ms = link->now.mono_ms + link->restart_pause_ms;
    log_notice("modem: %s: it is set up again", why);
}

static void open_line(struct link *link)
{
    char says[LINK_SAYS_OCTETS];
    if (!link->line.open(link->line.ctx, link->settings.port, link->settings.speed, says,
                         sizeof says)) {
        give_up(link, says);
        return;
    }
    link->open = true;
    chat_reset(&link->chat);
    if (link->logged[0] == '\0') {
        log_info("modem: port %s is open", link->settings.port);
    }
    begin_setup(link);
}

static void enter_ready(struct link *link)
{
    struct link_health *health = &link->health;
    health->state = LINK_STATE_READY;
    health->no_centre = link->setup.found.no_centre;
    health->storage_used = link->setup.found.storage_used;
    health->storage_total = link->setup.found.storage_total;
    link->reopen_pause_ms = REOPEN_FIRST_MS;
    link->ready_ms = link->now.mono_ms;
    log_notice("modem: ready");
    say(link, "");
    intake_start(&link->intake, link->now);
    dispatch_wake(&link->dispatch);
    watch_start(&link->watch, link->now);
}

static void end_setup(struct link *link)
{
    char says[LINK_SAYS_OCTETS];
    switch (link->setup.state) {
    case SETUP_STATE_WAKING:
    case SETUP_STATE_GOING:
        break;
    case SETUP_STATE_DONE:
        enter_ready(link);
        break;
    case SETUP_STATE_DEAF:
        snprintf(says, sizeof says,
                 "nothing on %.80s answers AT; is it the modem's command port, and is the modem "
                 "on? \"meterpost modem\" tries the ports",
                 link->settings.port);
        give_up(link, says);
        break;
    case SETUP_STATE_STUCK:
        /* Started anew at most once an hour; else the port is closed and opened. */
        if (link->now.mono_ms < link->reset_ms) {
            give_up(link, link->setup.says);
        } else {
            say(link, link->setup.says);
            link->reset_ms = link->now.mono_ms + RESET_PAUSE_MS;
            link->errand = LINK_ERRAND_RESET;
        }
        break;
    case SETUP_STATE_FAULT:
        say(link, link->setup.says);
        link->health.state = LINK_STATE_FAULT;
        link->fault_ms = link->now.mono_ms + FAULT_PAUSE_MS;
        break;
    }
}

static bool ask(struct link *link, const struct speaker *speaker)
{
    struct chat_command command = {.wait_ms = 0};
    if (!speaker->next(speaker->ctx, link->now, &command)) {
        return false;
    }
    link->speaker = speaker;
    chat_send(&link->chat, &command, link->now);
    return true;
}

static void run_errand(struct link *link)
{
    struct chat_command command = {.text = "AT+CFUN=1,1", .wait_ms = RESET_WAIT_MS};
    if (link->errand == LINK_ERRAND_PROBE) {
        chat_write_probe(link->probes, &command);
    }
    link->speaker = NULL;
    chat_send(&link->chat, &command, link->now);
}

static int64_t may_speak_ms(const struct link *link, size_t speaker)
{
    return speaker == LINK_SPEAKER_DISPATCH ? watch_send_ms(&link->watch) : 0;
}

static void speak_ready(struct link *link)
{
    for (size_t i = 0; i < LINK_SPEAKERS; i++) {
        if (link->now.mono_ms >= may_speak_ms(link, i) && ask(link, &link->speakers[i])) {
            return;
        }
    }
    const char *says = watch_says(&link->watch);
    say(link, says[0] == '\0' && link->setup.found.no_centre ? NO_CENTRE_SAYS : says);
}

static void speak(struct link *link)
{
    if (link->errand == LINK_ERRAND_NONE && link->health.state == LINK_STATE_SETUP &&
        !ask(link, &link->setup_speaker)) {
        end_setup(link);
    }
    if (link->errand != LINK_ERRAND_NONE) {
        run_errand(link);
    } else if (link->health.state == LINK_STATE_READY) {
        speak_ready(link);
    }
}

/* A text could go out by it now, as far as is known. */
static bool is_fit(const struct link *link, struct instant now)
{
    return link->health.state == LINK_STATE_READY && !link->health.no_centre &&
           watch_send_ms(&link->watch) == 0 && now.mono_ms >= link->dispatch.not_before_ms;
}

bool link_works(const struct link *link, struct instant now, int64_t *until_ms)
{
    bool fit = is_fit(link, now), given_up = false;
    *until_ms = CLOCK_NEVER;
    if (!fit && link->unfit_ms != CLOCK_NEVER) {
        int64_t waited_ms = link->unfit_ms + WAITED_FOR_MS;
        int64_t held_ms = link->dispatch.not_before_ms;
        given_up = now.mono_ms >= waited_ms;
        *until_ms = !given_up ? waited_ms : held_ms > now.mono_ms ? held_ms : CLOCK_NEVER;
    }
    return fit || !given_up;
}

/* Whatever is due now; says the next command where the line is free. */
static void turn(struct link *link)
{
    if (!link->open && link->now.mono_ms >= link->reopen_ms) {
        open_line(link);
    }
    if (link->open &&
        (link->now.mono_ms >= link->restart_ms || link->now.mono_ms >= link->fault_ms)) {
        chat_cut(&link->chat);
        begin_setup(link);
    }
    if (link->open && chat_is_idle(&link->chat) && link->restart_ms == CLOCK_NEVER) {
        speak(link);
    }
    if (link->open && link->chat.line_gone) {
        give_up(link, GONE_SAYS);
    }
    if (is_fit(link, link->now)) {
        link->unfit_ms = CLOCK_NEVER;
    } else if (link->unfit_ms == CLOCK_NEVER) {
        link->unfit_ms = link->now.mono_ms;
    }
}

/* ---- what is made of what the modem says */

static bool is_ready(const struct link *link)
{
    return link->health.state == LINK_STATE_READY;
}

/* Where something is to be set up again, why; the others are handed on. */
static const char *const findings[] = {
    [FINDING_SETTINGS_LOST] = "it has lost its settings",
    [FINDING_NEWS_LOST] = "it may have stopped handing texts on",
    [FINDING_UNANNOUNCED] = "a text came unannounced",
    [FINDING_SENDS_REFUSED] = "it refuses to send",
    [FINDING_SIM_TROUBLE] = "the SIM does not serve",
    [FINDING_CENTRE_SEEN] = "a text shows the service centre",
    [FINDING_CENTRE_LOST] = NULL,
    [FINDING_MEMORY_FULL] = NULL,
    [FINDING_NETWORK_LOST] = NULL,
};

static void act_on(struct link *link, enum finding finding)
{
    if (!is_ready(link)) {
        return;
    }
    if (findings[finding] != NULL) {
        restart_soon(link, findings[finding]);
    } else if (finding == FINDING_CENTRE_LOST &&
               (link->settings.centre[0] != '\0' || link->health.centre_seen[0] != '\0')) {
        restart_soon(link, "it has lost the service centre");
    } else if (finding == FINDING_MEMORY_FULL) {
        sweep_full(&link->intake.sweep, link->now);
    } else if (finding == FINDING_NETWORK_LOST) {
        watch_hurry(&link->watch, link->now);
    }
}

/* What a modem says first of a start. The other lines of one may come late, long after it has
 * begun to work. */
static bool is_start(const char *text, size_t length)
{
    static const char *const first[] = {"RDY",      "APP RDY", "^SYSSTART",
                                        "*ATREADY", "START",   "NORMAL"};
    for (size_t i = 0; i < sizeof first / sizeof first[0]; i++) {
        if (at_line_starts(text, length, first[i])) {
            return true;
        }
    }
    return false;
}

/* A late line would cut the send, which then goes a second time: its result is waited for. */
static void take_start(struct link *link, const char *text, size_t length)
{
    if (chat_is_sending(&link->chat) && !is_start(text, length)) {
        link->restart_after = true;
        chat_hurry(&link->chat, link->now.mono_ms + LATE_START_MS);
        return;
    }
    restart_soon(link, "it has restarted");
}

static void take_news(void *ctx, enum at_kind kind, const char *text, size_t length,
                      const char *pdu)
{
    struct link *link = ctx;
    bool waking = link->health.state == LINK_STATE_SETUP && link->setup.state == SETUP_STATE_WAKING;
    if (kind == AT_KIND_CMTI || kind == AT_KIND_CDSI) {
        intake_announced(&link->intake, link->now, text, length);
    } else if (kind == AT_KIND_CMT || kind == AT_KIND_CDS) {
        act_on(link, intake_direct(&link->intake, link->now, text, length, pdu));
    } else if (kind == AT_KIND_REGISTRATION) {
        watch_news(&link->watch, link->now, text, length);
    } else if (kind == AT_KIND_BOOT && !waking) { /* else all is still to be asked */
        take_start(link, text, length);
    } else if (kind == AT_KIND_SIM_GONE && !waking) {
        restart_soon(link, "the SIM went");
    } else if (kind == AT_KIND_MEMORY_FULL) {
        log_warnx("modem: its memory for texts is full: it is emptied");
        sweep_full(&link->intake.sweep, link->now);
    }
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct link *link = ctx;
    int32_t format = 0;
    if (link->errand == LINK_ERRAND_PROBE && link->probes == 0) {
        link->text_mode = at_line_number(text, length, 0, &format) && format != 0;
    } else if (link->speaker != NULL && link->speaker->line != NULL) {
        link->speaker->line(link->speaker->ctx, text, length);
    }
}

/* A text went with it, which another is to have: it is not waited for. */
static void leave_at_once(struct link *link)
{
    link->unfit_ms = link->now.mono_ms - WAITED_FOR_MS;
}

static void end_errand(struct link *link, const struct chat_result *result)
{
    if (link->errand == LINK_ERRAND_RESET) {
        give_up(link, link->setup.says);
        return;
    }
    if (result->outcome == CHAT_SILENT && !result->informed) {
        link->probes++;
        if (link->probes >= CHAT_PROBES) {
            give_up(link, "the modem has stopped answering: its port is opened anew");
            link->setup.owed = true;
            if (link->in_doubt) {
                leave_at_once(link);
            }
        }
        return;
    }
    if (!link->confirming && (!result->informed || link->probes > 0)) {
        link->confirming = true;
        link->probes = 0;
        return;
    }
    link->errand = LINK_ERRAND_NONE;
    if (link->text_mode && link->health.state != LINK_STATE_SETUP) {
        restart_soon(link, "it has left PDU mode");
    }
    if (is_ready(link)) {
        sweep_all(&link->intake.sweep, link->now);
    }
}

static void take_result(void *ctx, const struct chat_result *result)
{
    struct link *link = ctx;
    const struct speaker *speaker = link->speaker;
    link->speaker = NULL;
    if (speaker == NULL) {
        if (result->outcome != CHAT_CUT && link->errand != LINK_ERRAND_NONE) {
            end_errand(link, result);
        }
        return;
    }
    bool waking = link->setup.state == SETUP_STATE_WAKING;
    bool in_doubt = result->committed && !result->informed;
    if (result->outcome == CHAT_CUT && in_doubt) {
        leave_at_once(link);
    }
    act_on(link, speaker->done(speaker->ctx, link->now, result));
    if (is_ready(link) && speaker == &link->speakers[LINK_SPEAKER_DISPATCH]) {
        watch_tried(&link->watch, link->now);
    }
    if (link->restart_after) {
        link->restart_after = false;
        restart_soon(link, "it has restarted");
    }
    /* A modem that restarts without a word is known by its echo, which is on again. */
    if (is_ready(link) && result->echoed && !link->setup.found.echo_stays) {
        restart_soon(link, "its echo is on again");
    }
    if (result->outcome == CHAT_SILENT && !waking) {
        /* Whether both sides are in step again is asked with a command whose answer cannot be
         * mistaken for that of an earlier one. */
        log_notice("modem: no answer in time: it is asked whether it hears");
        link->errand = LINK_ERRAND_PROBE;
        link->probes = 0;
        link->text_mode = link->confirming = false;
        link->in_doubt = in_doubt;
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
    link->restart_pause_ms = RESTART_FIRST_MS / 2;
    link->fault_ms = link->restart_ms = link->unfit_ms = CLOCK_NEVER;
    chat_init(&link->chat, &link->line,
              (struct chat_listener){
                  .line = take_line, .done = take_result, .news = take_news, .ctx = link});
    setup_init(&link->setup, &link->settings, &link->line, &link->health);
    intake_init(&link->intake, &link->host, &link->setup.found, &link->health);
    dispatch_init(&link->dispatch, &link->host, &link->health);
    watch_init(&link->watch, &link->host, &link->health);
    link->setup_speaker = setup_speaker(&link->setup);
    link->speakers[LINK_SPEAKER_INTAKE] = intake_speaker(&link->intake);
    link->speakers[LINK_SPEAKER_DISPATCH] = dispatch_speaker(&link->dispatch);
    link->speakers[LINK_SPEAKER_WATCH] = watch_speaker(&link->watch);
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
        log_set_owner(link->settings.name);
        close_line(link, 0);
        log_set_owner("");
        free(link);
    }
}

void link_configure(struct link *link, const struct link_settings *settings)
{
    bool same =
        strcmp(link->settings.port, settings->port) == 0 && link->settings.speed == settings->speed;
    bool centre = strcmp(link->settings.centre, settings->centre) != 0;
    link->settings = *settings;
    log_set_owner(settings->name);
    if (!same) {
        close_line(link, 0);
        link->reopen_pause_ms = REOPEN_FIRST_MS;
    } else if (link->health.state == LINK_STATE_FAULT) {
        link->fault_ms = link->now.mono_ms; /* another PIN, perhaps */
    } else if (centre && link->health.state == LINK_STATE_READY) {
        restart_soon(link, "another service centre is configured");
    }
    log_set_owner("");
}

void link_wake(struct link *link)
{
    dispatch_wake(&link->dispatch);
}

int link_descriptor(void *ctx, short *events)
{
    struct link *link = ctx;
    *events = link->chat.out_sent < link->chat.out_length ? POLLIN | POLLOUT : POLLIN;
    return link->open ? link->line.descriptor(link->line.ctx) : -1;
}

/* When somebody next wants the word, the line being free. */
static int64_t speaking_deadline_ms(const struct link *link)
{
    int64_t deadline_ms = CLOCK_NEVER;
    if (link->errand != LINK_ERRAND_NONE) {
        return 0;
    }
    if (link->health.state == LINK_STATE_SETUP) {
        return link->setup_speaker.deadline_ms(link->setup_speaker.ctx);
    }
    if (link->health.state != LINK_STATE_READY) {
        return CLOCK_NEVER;
    }
    for (size_t i = 0; i < LINK_SPEAKERS; i++) {
        const struct speaker *speaker = &link->speakers[i];
        int64_t wanted_ms = speaker->deadline_ms(speaker->ctx);
        deadline_ms = clock_earlier(deadline_ms, clock_later(wanted_ms, may_speak_ms(link, i)));
    }
    return deadline_ms;
}

int64_t link_deadline_ms(void *ctx)
{
    const struct link *link = ctx;
    if (!link->open) {
        return link->reopen_ms;
    }
    int64_t deadline_ms = clock_earlier(link->restart_ms, link->fault_ms);
    deadline_ms = clock_earlier(deadline_ms, chat_deadline_ms(&link->chat));
    if (chat_is_idle(&link->chat) && link->restart_ms == CLOCK_NEVER) {
        deadline_ms = clock_earlier(deadline_ms, speaking_deadline_ms(link));
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
        if (!link->open || (size_t)got < sizeof octets) {
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
    log_set_owner(link->settings.name);
    bool there = read_line(link);
    if (link->open && (!there || (revents & (POLLHUP | POLLERR | POLLNVAL)) != 0)) {
        give_up(link, GONE_SAYS);
    }
    if (link->open && (revents & POLLOUT) != 0) {
        chat_flush(&link->chat);
    }
    turn(link);
    log_set_owner("");
}

void link_due(void *ctx, struct instant now)
{
    struct link *link = ctx;
    link->now = now;
    log_set_owner(link->settings.name);
    if (link->open) {
        chat_due(&link->chat, now);
    }
    turn(link);
    log_set_owner("");
}

const struct link_health *link_health(const struct link *link)
{
    return &link->health;
}
