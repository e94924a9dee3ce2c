/* SPDX-License-Identifier: MIT
 * flood_verdict: the bounds of a flood, each with its figure, printed and judged. */
#ifndef METERPOST_TESTS_BENCH_FLOOD_VERDICT_H
#define METERPOST_TESTS_BENCH_FLOOD_VERDICT_H

#include "tests/bench/flood_watch.h"

/* What the flood itself measured; octets where nothing else is said. */
struct flood_facts {
    int64_t idle_kib;   /* what the daemon had before the first text, shared libraries and all */
    int64_t memory_kib; /* most it had at once */
    int64_t ledger_before, ledger_after, wal_most;
    int64_t waiting_most; /* parts in the queue at the flood's end */
    int64_t overtaken;    /* replies that waited when the alert went out; -1 it did not */
    size_t readings_sent;
    size_t texts_per_hour; /* the cap of the settings */
    int64_t waiting_cap;   /* texts_per_number of each member */
};

/* Prints a line for each bound; true where all held. The folder holds transcript and log. */
bool flood_verdict(const struct flood_facts *facts, const struct flood_watch *watch,
                   const char *ledger, const char *folder);

#endif
