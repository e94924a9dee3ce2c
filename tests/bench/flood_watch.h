/* SPDX-License-Identifier: MIT
 * flood_watch: what is seen of a flood while it runs, by the stand-in's transcript: the texts that
 * went out in any hour, and how long the shop waited for the alert of one machine. */
#ifndef METERPOST_TESTS_BENCH_FLOOD_WATCH_H
#define METERPOST_TESTS_BENCH_FLOOD_WATCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "fixtures/conductor/events.h"

#define FLOOD_HOUR_MOST 4096 /* texts out in an hour that are looked back upon */

struct flood_watch {
    /* set before */
    char cause[64];        /* body of the text that raises the alert */
    char alert[64];        /* what the shop's text begins with or holds */
    const char *shop;      /* its number */
    const char *phones[4]; /* of members whose phones answer by themselves */

    /* seen */
    size_t texts_in, texts_out, stored, deleted, lost;
    size_t hour_most;           /* texts out in the hour that had most */
    bool owes[4];               /* that phone has got a text and will answer it */
    int64_t caused_ms, told_ms; /* -1 not yet */
    size_t between;             /* texts out from the cause to the alert */

    int64_t out_ms[FLOOD_HOUR_MOST]; /* a ring of the moments of the latest texts out */
};

void flood_watch_init(struct flood_watch *watch);
/* As conductor_on_event calls it; ctx is the watch. */
void flood_watch_event(void *ctx, const struct event *event);

#endif
