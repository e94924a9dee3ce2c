/* SPDX-License-Identifier: MIT
 * receive: what the desk's door does not show of it. */
#ifndef METERPOST_DAEMON_DESK_RECEIVE_H
#define METERPOST_DAEMON_DESK_RECEIVE_H

#include "daemon/desk/desk.h"

/* Works on every text that was kept but not worked on. */
void receive_arrived(struct desk *desk, int64_t now_s);
/* Long texts of which a part has not come for so long are worked on as they are. */
#define RECEIVE_PARTS_WAIT_S (2 * 3600)
void receive_give_up_parts(struct desk *desk, int64_t now_s);

#endif
