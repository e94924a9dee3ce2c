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

/* Passes through the rungs: what is announced and listed, announced and unlisted, direct and listed,
 * the rest. */
static bool is_of_pass(const struct indications *ladder, const struct rung *rung)
{
    bool listed =
        !ladder->listed || ((ladder->mode >> rung->mode & 1) != 0 &&
                            (ladder->mt >> rung->mt & 1) != 0 && (ladder->ds >> rung->ds & 1) != 0);
    return ladder->pass == (rung->mt == 1 ? 0 : 2) + (listed ? 0 : 1);
}

/* To the next rung of the pass, or of the next pass; stays where one is stood on. */
static void settle(struct indications *ladder)
{
    while (ladder->pass < PASSES &&
           (ladder->rung >= RUNGS || !is_of_pass(ladder, &rungs[ladder->rung]))) {
        ladder->rung++;
        if (ladder->rung >= RUNGS) {
            ladder->rung = 0;
            ladder->pass++;
        }
    }
}

/* +CNMI: (...),(...),...  of +CNMI=? */
void setup_keep_indications(struct setup *setup, const char *text, size_t length)
{
    struct indications *ladder = &setup->indications;
    ladder->mode = at_line_set(text, length, 0);
    ladder->mt = at_line_set(text, length, 1);
    ladder->ds = at_line_set(text, length, 3);
    ladder->bfr = at_line_set(text, length, 4);
    ladder->listed = ladder->mode != 0 && ladder->mt != 0;
    if (ladder->ds == 0) {
        ladder->ds = 1; /* only "none" */
    }
}

enum setup_writing setup_write_indications(struct setup *setup, struct chat_command *command)
{
    struct indications *ladder = &setup->indications;
    settle(ladder);
    const struct rung *rung = &rungs[ladder->rung];
    int bfr = ladder->listed && (ladder->bfr & 3) == 2 ? 1 : 0;
    snprintf(command->text, sizeof command->text, "AT+CNMI=%d,%d,0,%d,%d", rung->mode, rung->mt,
             rung->ds, bfr);
    return SETUP_WRITING_SEND;
}

/* Where all are refused, it begins again from the top, while tries are left. */
enum setup_verdict setup_judge_indications(struct setup *setup, const struct chat_result *result)
{
    struct indications *ladder = &setup->indications;
    if (result->outcome == CHAT_OK) {
        bool announced = rungs[ladder->rung].mt == 1;
        setup->found.way = announced ? INDICATIONS_WAY_ANNOUNCED : INDICATIONS_WAY_DIRECT;
        log_info("modem: new texts are %s", announced ? "announced" : "handed on directly");
        return SETUP_VERDICT_NEXT;
    }
    if (setup_is_passing(result)) {
        return SETUP_VERDICT_AGAIN;
    }
    ladder->rung++;
    settle(ladder);
    if (ladder->pass < PASSES) {
        return SETUP_VERDICT_REPEAT;
    }
    ladder->pass = ladder->rung = 0;
    return SETUP_VERDICT_AGAIN;
}

/* +CNMA, and with it the right to hold a text back until it is on disk, comes with phase 2+ (TS
 * 27.005 3.2.1). Where an earlier user left it on, a report handed on directly would want a receipt
 * too, and without one the modem stops handing on. */
#define PHASE_2 0
#define PHASE_2_PLUS 1

void setup_keep_service(struct setup *setup, const char *text, size_t length)
{
    if (!at_line_number(text, length, 0, &setup->found.service)) {
        setup->found.service = -1;
    }
}

static int32_t wanted_service(const struct setup *setup)
{
    return setup->found.way == INDICATIONS_WAY_DIRECT ? PHASE_2_PLUS : PHASE_2;
}

enum setup_writing setup_write_service(struct setup *setup, struct chat_command *command)
{
    int32_t service = setup->found.service, wanted = wanted_service(setup);
    if (setup->found.way == INDICATIONS_WAY_NONE) {
        log_warnx("modem: it announces no texts: its memory is looked through every 20 s");
    }
    setup->found.acknowledged = service == PHASE_2_PLUS;
    if (service == wanted || (service < 0 && wanted == PHASE_2)) {
        return SETUP_WRITING_SKIP;
    }
    snprintf(command->text, sizeof command->text, "AT+CSMS=%d", (int)wanted);
    return SETUP_WRITING_SEND;
}

enum setup_verdict setup_judge_service(struct setup *setup, const struct chat_result *result)
{
    struct setup_found *found = &setup->found;
    found->service = result->outcome == CHAT_OK ? wanted_service(setup) : found->service;
    found->acknowledged = found->service == PHASE_2_PLUS;
    if (!found->acknowledged && found->way == INDICATIONS_WAY_DIRECT) {
        log_warnx("modem: it hands texts on without waiting for a receipt: a power cut at that "
                  "moment loses one");
    }
    return SETUP_VERDICT_NEXT;
}
