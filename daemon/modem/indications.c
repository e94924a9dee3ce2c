/* SPDX-License-Identifier: MIT
 * indications: the set-up's steps for how the modem tells of a new text: a ladder of settings of
 * +CNMI, best first. Stored and announced is best: the text stays in the modem until it is on disk
 * here. What a modem lists as supported is tried first, and the rest after it, since the lists
 * lie. */
#include "daemon/modem/setup.h"

#include <stdio.h>

#include "daemon/ground/log.h"
#include "parsers/at_line.h"

struct rung {
    uint8_t mode, mt, ds;
};

/* Mode 2 keeps news back while the link is taken; many modems list it and refuse it, as they do
 * with reports handed on directly (ds 1). Mode 0 only buffers, and is no use. */
static const struct rung rungs[] = {
    {2, 1, 1}, {1, 1, 1}, {2, 1, 2}, {1, 1, 2}, {2, 1, 0}, {1, 1, 0}, {3, 1, 1},
    {3, 1, 0}, {2, 2, 1}, {1, 2, 1}, {2, 2, 0}, {1, 2, 0}, {3, 2, 1}, {3, 2, 0},
};
#define RUNGS (sizeof rungs / sizeof rungs[0])

#define PASSES 4

static bool is_listed(const struct indications *indications, const struct rung *rung)
{
    return (indications->mode >> rung->mode & 1) != 0 && (indications->mt >> rung->mt & 1) != 0 &&
           (indications->ds >> rung->ds & 1) != 0;
}

/* Passes through the rungs: what is announced and listed, announced and unlisted, direct and listed,
 * the rest. */
static bool is_of_pass(const struct indications *indications, const struct rung *rung)
{
    bool listed = !indications->listed || is_listed(indications, rung);
    return indications->pass == (rung->mt == 1 ? 0 : 2) + (listed ? 0 : 1);
}

/* To the next rung of the pass, or of the next pass; stays where one is stood on. */
static void settle(struct indications *indications)
{
    while (indications->pass < PASSES &&
           (indications->rung >= RUNGS || !is_of_pass(indications, &rungs[indications->rung]))) {
        indications->rung++;
        if (indications->rung >= RUNGS) {
            indications->rung = 0;
            indications->pass++;
        }
    }
}

void indications_restart(struct indications *indications)
{
    indications->pass = indications->rung = 0;
}

void indications_read(struct indications *indications, const char *text, size_t length)
{
    indications->mode = at_line_set(text, length, 0);
    indications->mt = at_line_set(text, length, 1);
    indications->ds = at_line_set(text, length, 3);
    indications->bfr = at_line_set(text, length, 4);
    indications->listed = indications->mode != 0 && indications->mt != 0;
    if (indications->ds == 0) {
        indications->ds = 1; /* only "none" */
    }
}

bool indications_command(struct indications *indications, char *out, size_t size)
{
    settle(indications);
    if (indications->pass >= PASSES) {
        return false;
    }
    const struct rung *rung = &rungs[indications->rung];
    int bfr = indications->listed && (indications->bfr & 3) == 2 ? 1 : 0;
    snprintf(out, size, "AT+CNMI=%d,%d,0,%d,%d", rung->mode, rung->mt, rung->ds, bfr);
    return true;
}

enum indications_way indications_way(const struct indications *indications)
{
    if (indications->pass >= PASSES || indications->rung >= RUNGS) {
        return INDICATIONS_WAY_NONE;
    }
    return rungs[indications->rung].mt == 1 ? INDICATIONS_WAY_ANNOUNCED : INDICATIONS_WAY_DIRECT;
}

void indications_refused(struct indications *indications)
{
    indications->rung++;
    settle(indications);
}

void setup_keep_indications(struct setup *setup, const char *text, size_t length)
{
    indications_read(&setup->indications, text, length);
}

enum setup_writing setup_write_indications(struct setup *setup, struct chat_command *command)
{
    return indications_command(&setup->indications, command->text, sizeof command->text)
               ? SETUP_WRITING_SEND
               : SETUP_WRITING_SKIP;
}

/* Where all are refused, it begins again from the top, while tries are left. */
enum setup_verdict setup_judge_indications(struct setup *setup, const struct chat_result *result)
{
    struct indications *ladder = &setup->indications;
    if (result->outcome == CHAT_OK) {
        setup->found.way = indications_way(ladder);
        log_info("modem: new texts are %s",
                 setup->found.way == INDICATIONS_WAY_DIRECT ? "handed on directly" : "announced");
        return SETUP_VERDICT_NEXT;
    }
    if (setup_is_passing(result)) {
        return SETUP_VERDICT_AGAIN;
    }
    indications_refused(ladder);
    if (indications_way(ladder) != INDICATIONS_WAY_NONE) {
        return SETUP_VERDICT_REPEAT;
    }
    indications_restart(ladder);
    return SETUP_VERDICT_AGAIN;
}

/* +CNMA, and with it the right to hold a text back until it is on disk, comes with phase 2+. */
enum setup_writing setup_write_service(struct setup *setup, struct chat_command *command)
{
    (void)command;
    if (setup->found.way == INDICATIONS_WAY_NONE) {
        log_warnx("modem: it announces no texts: its memory is looked through every 20 s");
    }
    return setup->found.way == INDICATIONS_WAY_DIRECT ? SETUP_WRITING_SEND : SETUP_WRITING_SKIP;
}

enum setup_verdict setup_judge_service(struct setup *setup, const struct chat_result *result)
{
    setup->found.acknowledged = result->outcome == CHAT_OK;
    if (!setup->found.acknowledged) {
        log_warnx("modem: it hands texts on without waiting for a receipt: a power cut at that "
                  "moment loses one");
    }
    return SETUP_VERDICT_NEXT;
}
