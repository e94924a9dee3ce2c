/* SPDX-License-Identifier: MIT
 * clock_judge: can the box's clock be believed? Pure.
 *
 * A small box may have no battery clock: it starts in 1970, or where it was last switched off, and
 * may be set to anything by hand. What speaks for or against its clock comes from outside: the
 * modem's network time, and the service centre's stamp on each text. Each of them may be wrong too:
 *
 * - A stamp is when the centre took the text; the network may hold it for days. A stamp in the past
 *   says nothing; one well ahead of the clock says that the clock is behind, or the centre wrong.
 *   So one stamp alone condemns no clock, two that agree do.
 * - A modem that the network has not told the time shows a time of its own, which lies in the past.
 *   So a network time that lies before what texts have shown is not believed.
 * - Stamps and network times with a wrong zone are met with: hours are never held against a clock.
 *
 * All times are Unix seconds. */
#ifndef METERPOST_DAEMON_UPKEEP_CLOCK_JUDGE_H
#define METERPOST_DAEMON_UPKEEP_CLOCK_JUDGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* 2026-01-01: before this program was written. What shows less is not set. */
#define CLOCK_FLOOR_S INT64_C(1767225600)

/* The zones of the world lie between UTC-12 and UTC+14: a time with a wrong zone is off by no more
 * than these 26 hours. A clock that is off by more is plainly wrong. */
#define CLOCK_PLAIN_S (INT64_C(26) * 3600)

/* What a text said of the time. */
struct clock_stamp {
    int64_t said_s; /* the service centre's stamp */
    int64_t age_s;  /* since the text came, by a clock that nobody sets */
};

#define CLOCK_STAMPS_MOST 8

struct clock_facts {
    int64_t now_s;     /* the box's clock */
    int64_t network_s; /* the network's time now, as the modem has it; 0 not known */
    int64_t
        witnessed_s; /* the latest stamp that was in order, of this run or earlier ones; 0 none */
    size_t stamp_count;                           /* at most CLOCK_STAMPS_MOST */
    struct clock_stamp stamps[CLOCK_STAMPS_MOST]; /* of different texts, the latest to come first */
};

enum clock_verdict {
    CLOCK_VERDICT_TRUSTED, /* nothing speaks against it */
    CLOCK_VERDICT_UNKNOWN, /* it may be right, but has leapt further than can be taken on trust */
    CLOCK_VERDICT_BEHIND,  /* plainly wrong */
    CLOCK_VERDICT_AHEAD    /* plainly wrong */
};

enum clock_reason {
    CLOCK_REASON_NOTHING_AGAINST,
    CLOCK_REASON_NETWORK,   /* the network's time agrees, or disagrees */
    CLOCK_REASON_TEXTS,     /* the stamps of several texts do */
    CLOCK_REASON_FLOOR,     /* earlier than this program */
    CLOCK_REASON_WITNESSED, /* earlier than texts that came before */
    CLOCK_REASON_LEAPT      /* more than a year later than anything from outside */
};

struct clock_judgement {
    enum clock_verdict verdict;
    enum clock_reason reason;
    int64_t off_s;  /* the box's clock less the right time, as far as is known; negative: behind */
    bool at_least;  /* it may be off by more */
    int64_t time_s; /* the time to work by: the box's where it is not plainly wrong, else the one
                     * known from outside; 0 not known */
};

/* Total: whatever is not a time between 1970 and 9999 counts as not known. */
struct clock_judgement clock_judge(const struct clock_facts *facts);

/* Plainly wrong: nothing may be dated by it. */
bool clock_is_wrong(const struct clock_judgement *judgement);

/* A stamp that may be believed at that time (the judgement's time_s; 0 not known): a text is never
 * sent after it came. */
bool clock_stamp_fits(int64_t said_s, int64_t time_s);

/* Why, as half a sentence about the clock; "" where there is nothing to say. */
const char *clock_reason_says(enum clock_reason reason);

#endif
