/* SPDX-License-Identifier: MIT
 * link_inside: the link's own room, shared by its files only: link.c opens, closes and gives the
 * word; heed.c decides what news and results mean. */
#ifndef METERPOST_DAEMON_MODEM_LINK_INSIDE_H
#define METERPOST_DAEMON_MODEM_LINK_INSIDE_H

#include "daemon/modem/chat.h"
#include "daemon/modem/dispatch.h"
#include "daemon/modem/intake.h"
#include "daemon/modem/link.h"
#include "daemon/modem/port.h"
#include "daemon/modem/setup.h"
#include "daemon/modem/speaker.h"
#include "daemon/modem/watch.h"

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
    int64_t reopen_ms;
    int64_t reopen_pause_ms;
    int64_t fault_ms;   /* when to look again after a fault; CLOCK_NEVER */
    int64_t restart_ms; /* when to set up again; CLOCK_NEVER */
    int64_t restart_pause_ms;
    int64_t ready_ms; /* since when it is ready */
    int64_t reset_ms; /* when it may next be told to start anew */
    char logged[sizeof((struct link_health *)0)->says];
};

/* link.c */
void link_give_up(struct link *link, const char *says); /* closes; opens again after a pause */
/* The modem has lost its settings: set up again, once it has said all it has to say of it. Until
 * then nobody speaks. */
void link_restart_soon(struct link *link, const char *why);

/* heed.c: the chat's listener. */
struct chat_listener heed_listener(struct link *link);

#endif
