/* SPDX-License-Identifier: MIT
 * standing: how a machine stands, as the verbs show it: JSON object, words, colours. */
#ifndef METERPOST_DAEMON_COUNTER_STANDING_H
#define METERPOST_DAEMON_COUNTER_STANDING_H

#include <json-c/json_object.h>
#include <stdbool.h>

#include "config/settings.h"
#include "daemon/counter/table.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/yard.h"
#include "parsers/hours.h"

/* A row of `due --json`. NULL when memory is short. */
struct json_object *standing_json(const struct settings *settings,
                                  const struct yard_standing *standing);

enum table_tint standing_tint(enum due_stage stage);

/* The stage as people read it ("coming up"); due_stage_word is the one for programs. */
const char *standing_stage_says(enum due_stage stage);

/* True where somebody has to act: due, overdue, or no record. */
bool standing_wants_attention(const struct yard_standing *standing);

/* A cell's text, "" where there is nothing to say. Return room. */
const char *standing_hours(bool there, int64_t hundredths, char room[HOURS_TEXT_OCTETS]);
const char *standing_day(bool there, int32_t day, char room[CIVIL_TEXT_OCTETS]);

#endif
