/* SPDX-License-Identifier: MIT
 * undo: UNDO takes back all that the sender's last effective text did, within 24 hours. */
#ifndef METERPOST_DAEMON_DESK_UNDO_H
#define METERPOST_DAEMON_DESK_UNDO_H

#include "daemon/desk/turn.h"

void undo_last(struct turn *turn);

#endif
