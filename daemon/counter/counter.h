/* SPDX-License-Identifier: MIT
 * counter: what a verb works with: the settings, the shop's zone, the moment, the ledger; the running
 * daemon where it has to be asked; machines and plans named on the command line; and how a machine
 * stands, as verbs show it. */
#ifndef METERPOST_DAEMON_COUNTER_COUNTER_H
#define METERPOST_DAEMON_COUNTER_COUNTER_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/counter/output.h"
#include "daemon/counter/options.h"
#include "daemon/door/door.h"
#include "daemon/ledger/ledger.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/yard.h"
#include "parsers/hours.h"

struct counter {
    struct settings *settings;
    struct ledger *ledger; /* NULL until counter_open_ledger */
    int64_t now_s;
};

/* Settings, zone and moment. Returns 0, or an exit status (64, 78) after saying why on err. */
int counter_begin(struct counter *counter, const struct options *options, FILE *err);

/* The ledger as well. Returns 0, or 66 or 74 after saying why. */
int counter_open_ledger(struct counter *counter, enum ledger_mode mode, FILE *err);

/* The ledger to read, and how every machine stands, worst first. The caller frees *standings (NULL
 * on failure). Returns 0, or 66 or 74 after saying why. */
int counter_standings(struct counter *counter, struct yard_standing **standings, size_t *count,
                      FILE *err);

void counter_end(struct counter *counter);

struct counter_answer {
    int status; /* the daemon's, once DOOR_ANSWERED */
    size_t length;
    char answer[DOOR_ANSWER_OCTETS + 1]; /* NUL-terminated */
};

/* Asks at the door of the settings. A daemon that is there and does not answer, or not to us, is
 * told on err; `advice` ends that line ("; see its log", or ""). DOOR_NOBODY is told nowhere: the
 * verb goes on alone. */
enum door_result counter_ask_daemon(struct counter_answer *answer, const struct settings *settings,
                                    size_t word_count, const char *const *words, const char *advice,
                                    FILE *err);

/* Indexes into the settings; -1 after saying so on err. */
int32_t counter_find_machine(const struct settings *settings, const char *name, FILE *err);
/* Among the plans of that machine's kind. */
int32_t counter_find_plan(const struct settings *settings, int32_t machine, const char *name,
                          FILE *err);

/* A row of `due --json`. NULL when memory is short. */
struct json_object *standing_json(const struct settings *settings,
                                  const struct yard_standing *standing);

enum table_tint standing_tint(enum due_stage stage);

/* A cell's text, "" where there is nothing to say. Return room. */
const char *standing_hours(bool there, int64_t hundredths, char room[HOURS_TEXT_OCTETS]);
const char *standing_day(bool there, int32_t day, char room[CIVIL_TEXT_OCTETS]);

#endif
