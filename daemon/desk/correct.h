/* SPDX-License-Identifier: MIT
 * correct: what is on record put right: FIX and SWAP, the shop's words about the meter, and what
 * a question settles likewise; and UNDO. */
#ifndef METERPOST_DAEMON_DESK_CORRECT_H
#define METERPOST_DAEMON_DESK_CORRECT_H

#include "daemon/desk/reading.h"
#include "daemon/desk/turn.h"

void correct_fix(struct turn *turn);

/* "oops 1341", "sorry M14 not M12": the sender's own last reading, put right. */
void correct_own(struct turn *turn);
void correct_swap(struct turn *turn);
/* Takes back all that the sender's last effective text did, within 24 hours. */
void correct_undo(struct turn *turn);

/* Strikes the last reading out and puts the figure in its place, whatever the clock says; read back
 * with the old figure. read_s 0: at the time of the one struck out. False where there is none. */
bool correct_force(struct turn *turn, struct figure *figure, int64_t read_s);

/* The meter started anew after old_last: figure is what the new one shows. */
void correct_meter(struct turn *turn, struct figure *figure, int64_t old_last_hundredths,
                   int64_t new_first_hundredths, enum wording_key key);

#endif
