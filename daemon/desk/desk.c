/* SPDX-License-Identifier: MIT
 * desk: its room, made once for the settings and made anew with others. */
#include "daemon/desk/desk.h"

#include <stdlib.h>

#include "daemon/desk/room.h"

struct desk *desk_new(const struct settings *settings, struct ledger *ledger)
{
    struct desk *desk = calloc(1, sizeof *desk);
    if (desk == NULL) {
        return NULL;
    }
    desk->ledger = ledger;
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
