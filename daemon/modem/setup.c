/* SPDX-License-Identifier: MIT
 * setup: see the header. This file walks through the table; the rows are in setup_steps.c. */
#include "daemon/modem/setup.h"

#include <stdio.h>

#include "daemon/ground/log.h"
#include "daemon/modem/setup_step.h"

#define ECHO_STEP 1 /* commands that come back after this one show that the echo stays */

void setup_init(struct setup *setup, const struct link_settings *settings,
                const struct port_line *line, struct link_health *health)
{
    *setup = (struct setup){.settings = settings, .line = line, .health = health};
}

void setup_start(struct setup *setup, struct instant now)
{
    setup->state = SETUP_STATE_WAKING;
    setup->says[0] = '\0';
    setup->found = (struct setup_found){.storage_used = -1, .storage_total = -1};
    setup->step = 0;
    setup->tries = 0;
    setup->not_before_ms = now.mono_ms;
    indications_init(&setup->indications);
    setup->sim[0] = '\0';
    setup->function = -1;
    setup->memory = setup->memory_form = 0;
}

static void go_on(struct setup *setup)
{
    setup->step++;
    setup->tries = 0;
    setup->state = setup->step < setup_step_count ? SETUP_STATE_GOING : SETUP_STATE_DONE;
}

static bool is_going(const struct setup *setup)
{
    return setup->state == SETUP_STATE_WAKING || setup->state == SETUP_STATE_GOING;
}

static enum setup_writing write_step(struct setup *setup, char *out, size_t size)
{
    const struct setup_step *step = &setup_steps[setup->step];
    if (step->write != NULL) {
        return step->write(setup, out, size);
    }
    snprintf(out, size, "%s", step->command);
    return SETUP_WRITING_SEND;
}

static void fill_command(const struct setup *setup, struct chat_command *command)
{
    const struct setup_step *step = &setup_steps[setup->step];
    command->prefix = step->prefix;
    command->wait_ms = step->wait_ms;
    command->secret = step->secret;
    command->escape_first = setup->state == SETUP_STATE_WAKING && setup->tries % 4 == 1;
}

static bool next_command(void *ctx, struct instant now, struct chat_command *command)
{
    struct setup *setup = ctx;
    setup->now = now;
    while (is_going(setup) && now.mono_ms >= setup->not_before_ms) {
        switch (write_step(setup, command->text, sizeof command->text)) {
        case SETUP_WRITING_SKIP:
            go_on(setup);
            break;
        case SETUP_WRITING_FAULT:
            setup->state = SETUP_STATE_FAULT;
            break;
        case SETUP_WRITING_SEND:
            fill_command(setup, command);
            return true;
        }
    }
    return false;
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct setup *setup = ctx;
    if (is_going(setup) && setup_steps[setup->step].line != NULL) {
        setup_steps[setup->step].line(setup, text, length);
    }
}

/* All tries are used up. */
static void give_up(struct setup *setup)
{
    const struct setup_step *step = &setup_steps[setup->step];
    if (setup->state == SETUP_STATE_WAKING) {
        setup->state = SETUP_STATE_DEAF;
    } else if (step->need == SETUP_NEED_MUST) {
        snprintf(setup->says, sizeof setup->says,
                 "the modem refuses %s: it is started anew; if that does not help, switch it off "
                 "and on",
                 step->name);
        setup->state = SETUP_STATE_STUCK;
    } else {
        log_info("modem: goes on without %s", step->name);
        go_on(setup);
    }
}

static enum setup_verdict judge(struct setup *setup, const struct chat_result *result)
{
    const struct setup_step *step = &setup_steps[setup->step];
    if (step->judge != NULL) {
        return step->judge(setup, result);
    }
    return result->outcome == CHAT_OK ? SETUP_VERDICT_NEXT : SETUP_VERDICT_AGAIN;
}

static void take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct setup *setup = ctx;
    if (!is_going(setup)) {
        return;
    }
    if (result->echoed && setup->step > ECHO_STEP) {
        setup->found.echo_stays = true;
    }
    switch (judge(setup, result)) {
    case SETUP_VERDICT_NEXT:
        go_on(setup);
        break;
    case SETUP_VERDICT_AGAIN:
        setup->tries++;
        setup->not_before_ms = now.mono_ms + setup_steps[setup->step].pause_ms;
        if (setup->tries >= setup_steps[setup->step].tries) {
            give_up(setup);
        }
        break;
    case SETUP_VERDICT_REPEAT:
        break;
    case SETUP_VERDICT_FAULT:
        setup->state = SETUP_STATE_FAULT;
        break;
    }
}

static int64_t deadline(const void *ctx)
{
    const struct setup *setup = ctx;
    return is_going(setup) ? setup->not_before_ms : CLOCK_NEVER;
}

struct speaker setup_speaker(struct setup *setup)
{
    return (struct speaker){.next = next_command,
                            .line = take_line,
                            .done = take_result,
                            .deadline_ms = deadline,
                            .ctx = setup};
}
