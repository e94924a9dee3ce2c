/* SPDX-License-Identifier: MIT
 * consent: STOP, START and HELP. */
#ifndef METERPOST_DAEMON_DESK_CONSENT_H
#define METERPOST_DAEMON_DESK_CONSENT_H

#include "daemon/desk/turn.h"

void consent_stop(struct turn *turn);
void consent_start(struct turn *turn);
void consent_help(struct turn *turn);

#endif
