/* SPDX-License-Identifier: MIT
 * texts: the verb that lists texts in and out, newest first: what was not understood or not
 * delivered, open questions, who has opted out. */
#ifndef METERPOST_DAEMON_COUNTER_TEXTS_H
#define METERPOST_DAEMON_COUNTER_TEXTS_H

#include <stdio.h>

#include "daemon/counter/options.h"

/* Exit status: 0, else as in sysexits.h. */
int texts_verb(const struct options *options, FILE *out, FILE *err);

#endif
