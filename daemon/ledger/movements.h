/* SPDX-License-Identifier: MIT
 * movements: into the shop and out of it, and out of the yard for good. How a machine stands is its
 * latest movement that was not taken back:
 *
 *   book   booked for a day, until a service is recorded after the booking, or it goes out
 *   in     in the shop since at_s
 *   out    at work
 *   gone   sold or scrapped; its record stays
 *   back   in the yard again after gone
 *
 * Never erased, only struck out: UNDO of the text strikes its movement, and the one before holds again. */
#ifndef METERPOST_DAEMON_LEDGER_MOVEMENTS_H
#define METERPOST_DAEMON_LEDGER_MOVEMENTS_H

#include "daemon/ledger/ledger.h"

enum movement_kind { MOVEMENT_BOOK, MOVEMENT_IN, MOVEMENT_OUT, MOVEMENT_GONE, MOVEMENT_BACK };

struct movement {
    int64_t id;
    enum movement_kind kind;
    int32_t day;  /* civil day: of book the one it is booked for; of gone the one on which it
                               * left, where one was said; else 0 */
    int64_t at_s; /* when it was said, and the state began */
    int64_t person_id, text_id; /* 0 none */
    int64_t struck_s;           /* filled when read; 0 it stands */
};

/* id is filled in. LEDGER_REFUSED for a booking without a day, or a day where none belongs. */
enum ledger_result movements_add(struct ledger *ledger, int64_t machine_id,
                                 struct movement *movement);
/* The latest that stands; LEDGER_NONE where there is none. */
enum ledger_result movements_last(struct ledger *ledger, int64_t machine_id,
                                  struct movement *movement);
/* All, struck ones too, oldest first. */
enum ledger_result movements_each(struct ledger *ledger, int64_t machine_id,
                                  void (*each)(void *ctx, const struct movement *movement),
                                  void *ctx);

#endif
