/* SPDX-License-Identifier: MIT
 * record_list: a machine's record held in memory, so that its end can be shown alone and its
 * readings be plotted. */
#ifndef METERPOST_DAEMON_COUNTER_RECORD_LIST_H
#define METERPOST_DAEMON_COUNTER_RECORD_LIST_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "daemon/counter/plot.h"
#include "daemon/ledger/record.h"

struct record_list {
    struct record_line *lines; /* their strings are the list's own */
    size_t count, room;
    int64_t until_s;
    bool short_of_memory;
};

/* Loads the record of a machine up to until_s; end with record_list_free. */
enum ledger_result record_list_load(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                    struct record_list *list);
void record_list_free(struct record_list *list);

/* The last `most` lines as a table; all of them as CSV or JSON. */
bool record_list_print(const struct record_list *list, size_t most, bool csv, FILE *out);
struct json_object *record_list_json(const struct record_list *list);

/* The standing readings as points of true hours; the caller frees them. NULL when there is none. */
struct plot_point *record_list_points(const struct record_list *list, size_t *count);

#endif
