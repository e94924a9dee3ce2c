/* SPDX-License-Identifier: MIT
 * part: one part of a text on its way out, and how it fared: what the desk hands to the modem, and
 * what the modem tells the desk. */
#ifndef METERPOST_DAEMON_GROUND_PART_H
#define METERPOST_DAEMON_GROUND_PART_H

#include <stdbool.h>
#include <stdint.h>

#include "parsers/tpdu_write.h"

/* To be sent, already on disk as handed over. */
struct part {
    int64_t id;     /* of the ledger's row */
    int32_t tries;  /* that failed before */
    bool elsewhere; /* another modem can take it where this one hides what became of it */
    struct tpdu_line line;
};

enum part_fate {
    PART_FATE_TAKEN,   /* the network took it; reference is its TP-MR */
    PART_FATE_RETRY,   /* a passing fault: try again after retry_after_ms */
    PART_FATE_REFUSED, /* for good */
    PART_FATE_UNKNOWN  /* no final result: it may or may not have gone */
};
struct part_result {
    int64_t part_id;
    enum part_fate fate;
    uint8_t reference;      /* 0 where it is not known */
    int32_t cause;          /* +CMS ERROR number, -1 when none */
    int64_t retry_after_ms; /* with PART_FATE_RETRY */
};

#endif
