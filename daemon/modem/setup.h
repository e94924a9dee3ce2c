/* SPDX-License-Identifier: MIT
 * setup: from an open line to a modem that takes and gives texts, as a table of steps. It asks
 * rather than assumes: a modem that lacks a command goes on without it, and each step says in the
 * log what it found. The steps stand in setup.c; those for the SIM in sim.c, those for the
 * announcing of texts in indications.c. */
#ifndef METERPOST_DAEMON_MODEM_SETUP_H
#define METERPOST_DAEMON_MODEM_SETUP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/modem/chat.h"
#include "daemon/modem/link.h"
#include "daemon/modem/port.h"

/* How the modem tells of a new text (+CNMI, TS 27.005 3.4.1). */
enum indications_way {
    INDICATIONS_WAY_NONE,      /* nothing taken: the sweep has to find the texts */
    INDICATIONS_WAY_ANNOUNCED, /* stored, then +CMTI */
    INDICATIONS_WAY_DIRECT     /* +CMT: the modem hands it on without keeping it */
};

/* A ladder of settings; all zero at the top, with nothing listed. */
struct indications {
    bool listed; /* the sets below were read from +CNMI=? */
    uint32_t mode, mt, ds, bfr;
    uint8_t pass, rung;
};

#define SETUP_MEMORIES_MAX 4
#define SETUP_MEMORY_OCTETS 3 /* "SM", "ME", ... (TS 27.005 3.1 <mem>) */

enum setup_state {
    SETUP_STATE_WAKING, /* no answer yet, or not in step: silence means nothing */
    SETUP_STATE_GOING,
    SETUP_STATE_DONE,
    SETUP_STATE_DEAF,  /* nothing that speaks AT answered */
    SETUP_STATE_STUCK, /* what must be had was refused again and again */
    SETUP_STATE_FAULT  /* a person has to act */
};

/* What the set-up found out. */
struct setup_found {
    char memories[SETUP_MEMORIES_MAX][SETUP_MEMORY_OCTETS]; /* the first is the one in use */
    size_t memory_count; /* 0: there is no choice of memory, and the first name is "" */
    int32_t storage_used, storage_total; /* of the memory in use; -1 unknown */
    enum indications_way way;
    int32_t service;   /* of +CSMS; -1 unknown */
    bool acknowledged; /* what is handed on directly is to be answered with +CNMA */
    bool echo_stays;   /* echo off was taken, yet commands come back */
    char centre[24];   /* the SIM's service centre number */
    bool no_centre;    /* it has none */
};

/* All of it the set-up's own, but found and says may be read. */
struct setup {
    const struct link_settings *settings;
    const struct port_line *line;
    struct link_health *health; /* maker, model and firmware are put there, centre_seen is read */
    enum setup_state state;
    char says[LINK_SAYS_OCTETS]; /* with STUCK and FAULT: what to do */
    struct setup_found found;
    size_t step;
    int32_t tries;      /* of the step, before the one under way */
    bool owed;          /* answers to earlier commands may still come */
    int32_t unanswered; /* tries to wake it */
    int64_t not_before_ms;
    int64_t begun_ms, spoke_ms; /* the first command, and the last */
    struct indications indications;
    char sim[24];     /* what +CPIN? said */
    int32_t function; /* what +CFUN? said; -1 unknown */
    uint8_t memory, memory_form;
    uint8_t pin_busy; /* times that the SIM was too busy to look at its PIN */
};

void setup_init(struct setup *setup, const struct link_settings *settings,
                const struct port_line *line, struct link_health *health);

/* From the first step. owed: commands were given before to which answers may still come. */
void setup_start(struct setup *setup, bool owed, struct instant now);

struct speaker setup_speaker(struct setup *setup);

/* The command that wakes a modem, at the tries-th try from 0 on: by turns plain, after an escape
 * that ends an open prompt, and with the words and results that an earlier user may have switched
 * off. Its wait is set too. */
void setup_write_waking(int32_t tries, struct chat_command *command);

/* A speed to try, from turn 0 on, where nothing answers at the configured one; 0 after the last. */
int32_t setup_other_speed(int32_t turn);

/* Copies the name of a memory; cuts a longer one. */
void setup_name_memory(char out[SETUP_MEMORY_OCTETS], const char *name);

/* ---- what a step does: writes its command, keeps the lines of the answer, judges the end */

enum setup_writing { SETUP_WRITING_SEND, SETUP_WRITING_SKIP, SETUP_WRITING_FAULT };

enum setup_verdict {
    SETUP_VERDICT_NEXT,   /* on with the next step */
    SETUP_VERDICT_AGAIN,  /* once more after the step's pause, while tries are left */
    SETUP_VERDICT_BACK,   /* once more from the step before, after the pause */
    SETUP_VERDICT_REPEAT, /* at once, with what the step has changed: no try is counted */
    SETUP_VERDICT_FAULT   /* says holds what a person has to do */
};

/* True where the SIM said that it was busy. */
bool setup_is_busy(const struct chat_result *result);

/* True where the SIM was busy, or no answer came: the same may go well a moment later. */
bool setup_is_passing(const struct chat_result *result);

/* indications.c */
void setup_keep_indications(struct setup *setup, const char *text, size_t length);
enum setup_writing setup_write_indications(struct setup *setup, struct chat_command *command);
enum setup_verdict setup_judge_indications(struct setup *setup, const struct chat_result *result);
void setup_keep_service(struct setup *setup, const char *text, size_t length);
enum setup_writing setup_write_service(struct setup *setup, struct chat_command *command);
enum setup_verdict setup_judge_service(struct setup *setup, const struct chat_result *result);

/* sim.c */
void setup_keep_sim(struct setup *setup, const char *text, size_t length);
enum setup_verdict setup_judge_sim(struct setup *setup, const struct chat_result *result);
enum setup_writing setup_write_pin(struct setup *setup, struct chat_command *command);
enum setup_verdict setup_judge_pin(struct setup *setup, const struct chat_result *result);
enum setup_writing setup_write_sim_again(struct setup *setup, struct chat_command *command);
enum setup_verdict setup_judge_sim_again(struct setup *setup, const struct chat_result *result);

/* ---- the SIM's PIN, tried once ever. Three wrong ones lock a SIM, so a mark is on disk before one
 * is sent: no restart, crash or power cut tries it twice unless it proved right in between. */

#define SIM_PIN_OCTETS 9 /* 4 to 8 digits (TS 31.101), and the NUL */

/* Reads the PIN and marks it tried. True: it may be sent, now. False: says holds why not and what
 * to do. file is "" where none is configured; mark is the path of the mark. */
bool sim_take_pin(const char *file, const char *mark, char pin[SIM_PIN_OCTETS], char *says,
                  size_t size);

/* The SIM was too busy to look at the PIN: it counts as not tried. */
void sim_pin_untried(const char *file, const char *mark);

/* The SIM is open. A right PIN has set its count of tries back, so one that was marked as tried may
 * be tried again after the next power-up. Nothing is written where nothing changes. */
void sim_pin_proved(const char *mark);

#endif
