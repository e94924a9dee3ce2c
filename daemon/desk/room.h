/* SPDX-License-Identifier: MIT
 * room: what the desk has in its hands between two texts. Allocated once, sized for the settings;
 * nothing is allocated while a text is worked on. */
#ifndef METERPOST_DAEMON_DESK_ROOM_H
#define METERPOST_DAEMON_DESK_ROOM_H

#include "daemon/desk/chatter.h"
#include "daemon/desk/desk.h"
#include "daemon/desk/desk_clock.h"
#include "daemon/desk/names.h"
#include "daemon/desk/notices_list.h"

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
    struct desk_clock clock;
    bool dates_held;   /* the clock is not believed: nothing that goes by dates is told */
    int64_t doubted_s; /* the stamp of a text that was not believed, being ahead; 0 none */
    bool undated;      /* texts may wait for a time to be dated by */
    bool unsettled;    /* something was taken back: the round looks at every machine again */
};

/* Judges the box's clock, says where it is judged anew, and notes whether dates are held. */
struct clock_judgement room_judge_clock(struct desk *desk, struct instant now);
/* The same: the time to work by, 0 where none is known. */
int64_t room_time(struct desk *desk, struct instant now);
/* The same for what has to have some time: the box's where none is known. */
int64_t room_time_or_wall(struct desk *desk, struct instant now);

#endif
