/* SPDX-License-Identifier: MIT
 * chronicle: the record of machines as rows: on a screen in words, in CSV and JSON with all that makes a
 * line, so that a file of it can be put back elsewhere, to the row. */
#ifndef METERPOST_DAEMON_COUNTER_CHRONICLE_H
#define METERPOST_DAEMON_COUNTER_CHRONICLE_H

#include "daemon/counter/output.h"
#include "daemon/ledger/record.h"

struct chronicle_row {
    const char *machine;
    struct record_line line;
};

#define CHRONICLE_COLUMNS_MAX 24

/* Rows are struct chronicle_row; and without the machine. */
extern const struct columns chronicle_columns, chronicle_of_one;

#endif
