/* SPDX-License-Identifier: MIT
 * indications: see the header. */
#include "daemon/modem/indications.h"

#include <stdio.h>

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

/* By pass: what is announced and listed, announced and unlisted, direct and listed, the rest. */
#define PASSES 4

static bool is_listed(const struct indications *indications, const struct rung *rung)
{
    return (indications->mode >> rung->mode & 1) != 0 && (indications->mt >> rung->mt & 1) != 0 &&
           (indications->ds >> rung->ds & 1) != 0;
}

static bool is_of_pass(const struct indications *indications, const struct rung *rung)
{
    bool announced = rung->mt == 1;
    bool listed = !indications->listed || is_listed(indications, rung);
    switch (indications->pass) {
    case 0:
        return announced && listed;
    case 1:
        return announced && !listed;
    case 2:
        return !announced && listed;
    default:
        return !announced && !listed;
    }
}

static void settle(struct indications *indications)
{
    while (indications->pass < PASSES) {
        if (indications->rung >= RUNGS) {
            indications->rung = 0;
            indications->pass++;
        } else if (is_of_pass(indications, &rungs[indications->rung])) {
            return;
        } else {
            indications->rung++;
        }
    }
}

void indications_init(struct indications *indications)
{
    *indications = (struct indications){.listed = false};
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
