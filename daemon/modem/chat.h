/* SPDX-License-Identifier: MIT
 * chat: one command at a time over the line. What answers the command goes to whoever sent it; all
 * else is news. Every wait ends: with the final result, or at its deadline. */
#ifndef METERPOST_DAEMON_MODEM_CHAT_H
#define METERPOST_DAEMON_MODEM_CHAT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/ground/clock.h"
#include "daemon/modem/port.h"
#include "parsers/at_line.h"
#include "parsers/tpdu.h"

#define CHAT_COMMAND_OCTETS 80
#define CHAT_HEADER_OCTETS 160

/* How long a final result may take, by who has a say in it. A modem that was slower of late is given
 * more. */
enum {
    CHAT_WAIT_MODEM_MS = 5000, /* the modem alone */
    CHAT_WAIT_SIM_MS = 10000,  /* the SIM, or what the modem knows of the network */
    CHAT_WAIT_TEXT_MS = 30000  /* a text is read or deleted */
};

struct chat_command {
    char text[CHAT_COMMAND_OCTETS]; /* without the line end */
    const char *payload;            /* for the prompt, Ctrl-Z is added; NULL: no prompt comes */
    const char *prefix;             /* of its information; "": bare lines; NULL: has none */
    const char *also;               /* another prefix that some modems put there; may be NULL */
    int32_t wait_ms;                /* for the final result, after the payload where there is one */
    bool listing;      /* any count of information lines: the wait is not cut after the first */
    bool has_body;     /* a PDU follows the information, which may be damaged */
    bool must_inform;  /* an OK before the information is left over from an earlier command */
    bool patient;      /* with it: many may be, so that one does not shorten the wait */
    bool secret;       /* not to be logged */
    bool escape_first; /* ends an open prompt that an earlier run may have left */
};

enum chat_outcome {
    CHAT_OK,
    CHAT_ERROR,      /* without a number */
    CHAT_CMS_ERROR,  /* code by TS 27.005 3.2.5 */
    CHAT_CME_ERROR,  /* code by TS 27.007 9.2 */
    CHAT_UNPROMPTED, /* the prompt did not come: the payload was not sent */
    CHAT_SILENT,     /* no final result in time */
    CHAT_CUT         /* the line was closed, or the modem restarted */
};

struct chat_result {
    enum chat_outcome outcome;
    int32_t code;   /* -1 when none */
    bool informed;  /* information came */
    bool committed; /* the payload was sent off */
    bool echoed;    /* the command itself came back */
};

/* Who listens. */
struct chat_listener {
    void (*line)(void *ctx, const char *text, size_t length); /* information of the command */
    void (*done)(void *ctx, const struct chat_result *result);
    /* pdu is the second line of +CMT, +CDS and +CBM, "" where it was lost, else NULL. May be NULL:
     * passed over. */
    void (*news)(void *ctx, enum at_kind kind, const char *text, size_t length, const char *pdu);
    void *ctx;
};

enum chat_state {
    CHAT_STATE_IDLE,
    CHAT_STATE_PROMPT, /* command sent, prompt awaited */
    CHAT_STATE_RESULT, /* final result awaited */
    CHAT_STATE_ABORT   /* the prompt did not come and was taken back: its end awaited */
};

/* All of it the chat's own. */
struct chat {
    const struct port_line *line;
    struct chat_listener listener;
    struct at_line splitter;
    enum chat_state state;
    int64_t deadline_ms; /* CLOCK_NEVER when idle */
    int64_t sent_ms;     /* the command in flight */
    int64_t slowness_ms; /* how long answers took of late */
    struct chat_command command;
    struct chat_result result;
    /* the first line of news that has two */
    enum at_kind header_kind; /* AT_KIND_OTHER: none */
    char header[CHAT_HEADER_OCTETS];
    int64_t header_deadline_ms;
    /* what is still to be written */
    char out[CHAT_COMMAND_OCTETS + TPDU_HEX_OCTETS + 2];
    size_t out_length, out_sent;
    bool line_gone; /* a write found the port gone */
};

void chat_init(struct chat *chat, const struct port_line *line, struct chat_listener listener);

/* Forgets all that was under way without a word to the listener: for a line just opened. How slow
 * the modem is, is remembered. */
void chat_reset(struct chat *chat);

bool chat_is_idle(const struct chat *chat);

/* Sends a command; only while idle. The payload is not copied before the prompt. */
void chat_send(struct chat *chat, const struct chat_command *command, struct instant now);

/* The tries-th question, from 0 on, whether the modem hears and both sides are in step. Each try asks
 * something else, so that the late answer to the one before is not taken for its own. */
void chat_write_probe(uint32_t tries, struct chat_command *command);
#define CHAT_PROBES 3

/* Octets came. */
void chat_receive(struct chat *chat, const uint8_t *octets, size_t count, struct instant now);

/* Writes on; true while something is left that waits for the port to take it. */
bool chat_flush(struct chat *chat);

int64_t chat_deadline_ms(const struct chat *chat);
void chat_due(struct chat *chat, struct instant now);

/* Ends the command in flight as CHAT_CUT, if there is one. */
void chat_cut(struct chat *chat);

/* A text is on its way: its result decides whether it is sent again. */
bool chat_is_sending(const struct chat *chat);
/* No longer than until then. */
void chat_hurry(struct chat *chat, int64_t deadline_ms);

/* Takes an open prompt back, so that the modem is left in its command state. */
void chat_park(struct chat *chat);

/* What the end of a command shows that concerns more than who gave it; the link acts on it. */
enum finding {
    FINDING_NONE,
    FINDING_SETTINGS_LOST, /* text mode, or no listing any more: the modem has restarted */
    FINDING_NEWS_LOST,     /* a receipt failed: the modem stops handing texts on */
    FINDING_UNANNOUNCED,   /* a text lay there that was never announced */
    FINDING_SENDS_REFUSED, /* before the prompt, again and again */
    FINDING_SIM_TROUBLE,
    FINDING_CENTRE_LOST, /* the SIM has no service centre number any more */
    FINDING_CENTRE_SEEN, /* it had none, and a text shows one */
    FINDING_MEMORY_FULL,
    FINDING_NETWORK_LOST
};

/* Who has commands to give: set-up, intake, dispatch, watch. The link lets one speak at a time and
 * hands it what comes back. */
struct speaker {
    /* Fills *command with what it wants to say now; false: nothing. *command comes zeroed. */
    bool (*next)(void *ctx, struct instant now, struct chat_command *command);
    void (*line)(void *ctx, const char *text, size_t length); /* may be NULL */
    enum finding (*done)(void *ctx, struct instant now, const struct chat_result *result);
    int64_t (*deadline_ms)(const void *ctx); /* when it wants to speak again; CLOCK_NEVER */
    void *ctx;
};

#endif
