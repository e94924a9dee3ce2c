/* SPDX-License-Identifier: MIT
 * summary: on the first workday of a week what came in and what stands, which proves too that the
 * box is alive; on other workdays only where something needs to be known. */
#ifndef METERPOST_DAEMON_DESK_SUMMARY_H
#define METERPOST_DAEMON_DESK_SUMMARY_H

#include "daemon/desk/desk.h"

/* Queues today's where there is one to send, in the open transaction. */
enum ledger_result summary_send(struct desk *desk, int64_t now_s);

#endif
