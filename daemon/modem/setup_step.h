/* SPDX-License-Identifier: MIT
 * setup_step: one row of the set-up's table, and the rows' functions where they fill a file of
 * their own. */
#ifndef METERPOST_DAEMON_MODEM_SETUP_STEP_H
#define METERPOST_DAEMON_MODEM_SETUP_STEP_H

#include "daemon/modem/setup.h"

enum setup_verdict {
    SETUP_VERDICT_NEXT,   /* on with the next step */
    SETUP_VERDICT_AGAIN,  /* once more after the step's pause, while tries are left */
    SETUP_VERDICT_REPEAT, /* at once, with what the step has changed: no try is counted */
    SETUP_VERDICT_FAULT   /* says holds what a person has to do */
};

enum setup_writing { SETUP_WRITING_SEND, SETUP_WRITING_SKIP, SETUP_WRITING_FAULT };

enum setup_need {
    SETUP_NEED_MUST, /* no texts without it */
    SETUP_NEED_MAY   /* modems that lack it work */
};

struct setup_step {
    const char *name;    /* for the log */
    const char *command; /* NULL: written by write */
    enum setup_writing (*write)(struct setup *setup, char *out, size_t size);
    const char *prefix; /* of the information; "" bare; NULL none */
    int32_t wait_ms;
    int32_t tries;
    int32_t pause_ms;
    enum setup_need need;
    bool secret; /* not to be logged */
    void (*line)(struct setup *setup, const char *text, size_t length);
    /* NULL: OK is NEXT, all else AGAIN */
    enum setup_verdict (*judge)(struct setup *setup, const struct chat_result *result);
};

extern const struct setup_step setup_steps[];
extern const size_t setup_step_count;

/* Puts down what a person has to do. */
enum setup_verdict setup_fault(struct setup *setup, const char *says);

/* True where the SIM was busy, or no answer came: the same may go well a moment later. */
bool setup_is_passing(const struct chat_result *result);

/* sim_steps.c */
void setup_keep_sim(struct setup *setup, const char *text, size_t length);
enum setup_verdict setup_judge_sim(struct setup *setup, const struct chat_result *result);
enum setup_writing setup_write_pin(struct setup *setup, char *out, size_t size);
enum setup_verdict setup_judge_pin(struct setup *setup, const struct chat_result *result);
enum setup_writing setup_write_sim_again(struct setup *setup, char *out, size_t size);
enum setup_verdict setup_judge_sim_again(struct setup *setup, const struct chat_result *result);

/* memory_steps.c */
void setup_keep_memories(struct setup *setup, const char *text, size_t length);
enum setup_verdict setup_judge_memories(struct setup *setup, const struct chat_result *result);
enum setup_writing setup_write_memory(struct setup *setup, char *out, size_t size);
void setup_keep_storage(struct setup *setup, const char *text, size_t length);
enum setup_verdict setup_judge_memory(struct setup *setup, const struct chat_result *result);

#endif
