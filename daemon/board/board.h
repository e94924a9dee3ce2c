/* SPDX-License-Identifier: MIT
 * board: the yard at a glance: one page of HTML that needs nothing else, no net, and no script to be
 * read. Made by the verb and by the daemon alike. */
#ifndef METERPOST_DAEMON_BOARD_BOARD_H
#define METERPOST_DAEMON_BOARD_BOARD_H

#include <stddef.h>
#include <stdint.h>

#include "daemon/ledger/ledger.h"
#include "daemon/yard/yard.h"

/* How a page begins. */
#define BOARD_PAGE_BEGINS "<!DOCTYPE html>\n"

#define BOARD_REMARKS_S (14 * (int64_t)86400) /* how far back it shows remarks */

enum board_form {
    BOARD_DESK, /* every machine, for desk, phone and paper */
    BOARD_WALL  /* the worst ones, to be read from three metres at 1920 by 1080 */
};

struct board_page {
    char *text; /* the caller frees it */
    size_t length;
    size_t made_at, made_length; /* where in it the time of making stands */
};

/* The whole page as of that moment, from one view of the ledger, which stays open. page->text is NULL
 * where the ledger failed, and where memory was short though the result is LEDGER_OK. */
enum ledger_result board_make(struct yard *yard, int64_t now_s, enum board_form form,
                              struct board_page *page);

#endif
