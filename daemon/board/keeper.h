/* SPDX-License-Identifier: MIT
 * keeper: keeps the board of the settings (`shop.board`) current while the daemon runs: the page for the
 * desk under that name, the one for the wall beside it. Written when what they show has changed, each
 * whole or not at all, and not more often than once a minute. Where nothing happens nothing is written,
 * but a page each midnight: then today is another day. */
#ifndef METERPOST_DAEMON_BOARD_KEEPER_H
#define METERPOST_DAEMON_BOARD_KEEPER_H

#include <stdbool.h>
#include <stdint.h>

#include "config/settings.h"
#include "daemon/board/board.h"
#include "daemon/ground/clock.h"
#include "daemon/ledger/ledger.h"

#define KEEPER_SETTLE_MS (5 * 1000)      /* several texts come together */
#define KEEPER_LEAST_MS (60 * 1000)      /* between two pages */
#define KEEPER_AGAIN_MS (10 * 60 * 1000) /* after one that could not be written */

struct keeper_page {
    enum board_form form;
    char path[SETTINGS_PATH_OCTETS + 8];
    bool written; /* by this keeper: the three below are of it */
    int32_t day;
    uint64_t before, after; /* what stands before and after the time of making, in short */
};

struct keeper {
    struct board_shop shop; /* the only one, with its yard */
    struct keeper_page pages[2];
    int64_t changes;  /* of the ledger, when it was looked at last */
    int32_t day;      /* of the last look */
    bool noticed;     /* that they are others now */
    int64_t ready_ms; /* not before that; CLOCK_NEVER: there is no board */
    int64_t turns_ms; /* when the page is looked at though nothing has happened */
    char says[LEDGER_SAYS_OCTETS];
};

/* Begins, and after a reload begins anew; the first page is made at once. Both must outlive it. */
void keeper_begin(struct keeper *keeper, const struct settings *settings, struct ledger *ledger,
                  struct instant now);

/* When it wants to be called next (monotonic ms); CLOCK_NEVER where no board is kept. */
int64_t keeper_deadline_ms(const struct keeper *keeper);

/* Makes what is due. time_s: the time to work by, 0 not known: then it waits. */
void keeper_due(struct keeper *keeper, struct instant now, int64_t time_s);

/* What keeps the board from being written, and what to do; "" while all is well. */
const char *keeper_says(const struct keeper *keeper);

/* "board-wall.html" for "board.html". */
void keeper_wall_path(const char *board, char *path, size_t size);

#endif
