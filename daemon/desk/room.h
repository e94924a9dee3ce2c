/* SPDX-License-Identifier: MIT
 * room: what the desk has in its hands between two texts. Allocated once, sized for the settings;
 * nothing is allocated while a text is worked on. */
#ifndef METERPOST_DAEMON_DESK_ROOM_H
#define METERPOST_DAEMON_DESK_ROOM_H

#include "daemon/desk/chatter.h"
#include "daemon/desk/desk.h"
#include "daemon/desk/names.h"
#include "daemon/desk/notices_list.h"
#include "daemon/upkeep/clock_judge.h"

struct desk {
    const struct settings *settings;
    struct ledger *ledger;
    struct yard yard;
    struct names names;
    struct turn turn;
    struct desk_answer answer; /* of a text that came over the air */
    struct texts_kept kept;
    struct texts_part part;
    struct notices_list list;
    struct chatter *chatter;
    int64_t capped_said_s; /* when the log last heard of a cap */
    int64_t parts_since_s; /* since when a long text waits for parts; 0 none does */
    bool unsettled;        /* something was taken back: the round looks at every machine again */
};

#endif
