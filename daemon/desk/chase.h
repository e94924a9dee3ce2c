/* SPDX-License-Identifier: MIT
 * chase: crews are asked again, once, and then the shop is told: about a machine that has sent no
 * reading for long, and about an oil level that was not confirmed after a service. */
#ifndef METERPOST_DAEMON_DESK_CHASE_H
#define METERPOST_DAEMON_DESK_CHASE_H

#include "daemon/desk/desk.h"

/* Looks at every machine, in the open transaction; once a day, in the shop's hours. */
enum ledger_result chase_all(struct desk *desk, int64_t now_s);

/* Stages of these alerts; each is raised once and told when it is raised. */
#define CHASE_RECHECK "recheck"     /* the crew was asked to look at the level */
#define CHASE_RECHECKED "rechecked" /* and said that it did */
#define CHASE_REMINDED "recheck-again"
#define CHASE_UNCHECKED "unchecked" /* the shop was told */
#define CHASE_SILENT "silent"       /* the crew was asked for a reading */
#define CHASE_SILENT_SHOP "silent-shop"

#endif
