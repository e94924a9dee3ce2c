/* SPDX-License-Identifier: MIT
 * consent: after STOP one confirmation, then nothing but the answers to HELP and START. The words
 * are those of 47 CFR 64.1200(a)(10) to (12) and of the wireless industry's handbook. */
#include "daemon/desk/consent.h"

#include "daemon/desk/room.h"
#include "daemon/ledger/people.h"

void consent_stop(struct turn *turn)
{
    struct wording_values values = turn_values(turn, -1, -1);
    (void)turn_entry(turn, "stop", -1);
    if (turn->mute) {
        return; /* confirmed once already */
    }
    if (turn_ok(turn, people_set_opt_out(turn->desk->ledger, turn->person_id, turn->now_s))) {
        turn->spoken = true;
        turn_say(turn, WORDING_STOPPED, &values);
    }
}

void consent_start(struct turn *turn)
{
    struct wording_values values = turn_values(turn, -1, -1);
    (void)turn_entry(turn, "start", -1);
    if (turn_ok(turn, people_set_opt_out(turn->desk->ledger, turn->person_id, 0))) {
        turn->spoken = true;
        turn_say(turn, WORDING_STARTED, &values);
    }
}

void consent_help(struct turn *turn)
{
    struct wording_values values = turn_values(turn, -1, -1);
    const struct settings *settings = turn->desk->settings;
    (void)turn_entry(turn, "help", -1);
    wording_set(&values, WORDING_PLAN, settings->plan_count > 0 ? settings->plans[0].name : "");
    turn->spoken = true;
    turn_say(turn, turn->shop ? WORDING_HELP_SHOP : WORDING_HELP_CREW, &values);
}
