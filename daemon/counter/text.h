/* SPDX-License-Identifier: MIT
 * text: the verb that says a text at the counter: the same grammar, the same desk, the reply
 * printed instead of sent. */
#ifndef METERPOST_DAEMON_COUNTER_TEXT_H
#define METERPOST_DAEMON_COUNTER_TEXT_H

#include <stdbool.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/ground/clock.h"
#include "daemon/counter/options.h"
#include "daemon/desk/desk.h"

/* Asks the running daemon at its door, or takes the ledger alone when none runs. Exit status: 0 all
 * done, 1 something was asked or refused, else as in sysexits.h. */
int text_verb(const struct options *options, FILE *out, FILE *err);

/* The desk's side, in the daemon too: what the person says goes to the desk, the answer to out.
 * What is wrong is said on out as well, since a caller at the door has but one stream. */
int text_at_desk(struct desk *desk, const struct settings *settings, const char *person,
                 const char *body, bool json, struct instant now, FILE *out);

/* Whether there is a time to date a text by; what to do where there is none is said on err. */
bool text_clock_fits(const struct clock_judgement *clock, FILE *err);

#endif
