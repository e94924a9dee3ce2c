/* SPDX-License-Identifier: MIT
 * board: the yard at a glance: one page of HTML that needs nothing else, no script and no net. Made by
 * the verb and by the daemon alike. */
#ifndef METERPOST_DAEMON_BOARD_BOARD_H
#define METERPOST_DAEMON_BOARD_BOARD_H

#include <stdint.h>
#include <stdio.h>

#include "daemon/ledger/ledger.h"
#include "daemon/yard/yard.h"

/* How a page begins. */
#define BOARD_PAGE_BEGINS "<!DOCTYPE html>\n"

#define BOARD_REMARKS_S (14 * (int64_t)86400) /* how far back it shows remarks */

/* The whole page as of that moment, from one view of the ledger, which stays open. Where the ledger
 * fails, or memory is short (LEDGER_IO), what was written is no page. */
enum ledger_result board_write(struct yard *yard, int64_t now_s, FILE *out);

#endif
