/* SPDX-License-Identifier: MIT
 * board_page: the page itself: head and style, a summary, a card for each machine, worst first, and
 * what crews remarked. */
#ifndef METERPOST_DAEMON_COUNTER_BOARD_PAGE_H
#define METERPOST_DAEMON_COUNTER_BOARD_PAGE_H

#include <stdio.h>

#include "daemon/counter/opening.h"

/* How a page begins. */
#define BOARD_PAGE_BEGINS "<!DOCTYPE html>\n"

/* standings: every machine and plan, worst first. What cannot be read of the ledger is the result;
 * the page is whole only with LEDGER_OK. */
enum ledger_result board_page(const struct opening *opening, const struct yard_standing *standings,
                              size_t count, FILE *out);

#endif
