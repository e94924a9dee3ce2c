/* SPDX-License-Identifier: MIT
 * desk: its room, made once for the settings and made anew with others. */
#include "daemon/desk/desk.h"

#include <stdlib.h>

#include "daemon/desk/room.h"
#include "daemon/ledger/marks.h"

struct desk *desk_new(const struct settings *settings, struct ledger *ledger)
{
    struct desk *desk = calloc(1, sizeof *desk);
    if (desk == NULL) {
        return NULL;
    }
    desk->ledger = ledger;
    desk->undated = true;
    (void)marks_get(ledger, MARKS_WITNESSED, &desk->clock.witnessed_s); /* 0 where there is none */
    desk->parts_since_s = 1; /* from before the start: to be looked at */
    if (!desk_configure(desk, settings)) {
        free(desk);
        return NULL;
    }
    return desk;
}

void desk_free(struct desk *desk)
{
    if (desk != NULL) {
        names_free(&desk->names);
        free(desk->chatter);
        free(desk);
    }
}

void desk_timed(struct desk *desk, struct instant now, int64_t network_s)
{
    desk_clock_network(&desk->clock, now, network_s);
}

struct clock_judgement desk_clock_state(const struct desk *desk, struct instant now)
{
    return desk_clock_judge(&desk->clock, now);
}

struct clock_judgement room_judge_clock(struct desk *desk, struct instant now)
{
    struct clock_judgement judgement = desk_clock_judge(&desk->clock, now);
    desk_clock_tell(&desk->clock, &judgement);
    desk->dates_held = judgement.verdict != CLOCK_VERDICT_TRUSTED;
    return judgement;
}

int64_t room_time(struct desk *desk, struct instant now)
{
    return room_judge_clock(desk, now).time_s;
}

int64_t room_time_or_wall(struct desk *desk, struct instant now)
{
    int64_t now_s = room_time(desk, now);
    return now_s != 0 ? now_s : now.wall_s;
}

bool desk_configure(struct desk *desk, const struct settings *settings)
{
    struct names names;
    struct chatter *chatter = chatter_new(settings->person_count);
    if (chatter == NULL || !names_new(&names, settings)) {
        free(chatter);
        return false;
    }
    names_free(&desk->names);
    free(desk->chatter);
    desk->names = names;
    desk->chatter = chatter;
    desk->settings = settings;
    desk->yard = (struct yard){.settings = settings, .ledger = desk->ledger};
    desk->unsettled = true; /* other plans may call for other alerts */
    return true;
}
