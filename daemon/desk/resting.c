/* SPDX-License-Identifier: MIT
 * resting: reminders put off, machines laid up for the season and back at work. */
#include "daemon/desk/resting.h"

#include "daemon/desk/reading.h"
#include "daemon/desk/room.h"
#include "daemon/ledger/people.h"
#include "daemon/ground/zone.h"

#define LATER_MOST_DAYS 60

void resting_later(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    struct desk_statement *entry = turn_entry(turn, "later", machine);
    struct wording_values values = turn_values(turn, machine, -1);
    struct standing standing;
    if (!turn_shop_only(turn, entry, machine)) {
        return;
    }
    if (statement->trouble != CREW_TROUBLE_NONE || statement->days < 1 ||
        statement->days > LATER_MOST_DAYS) {
        turn_refuse(turn, entry, WORDING_BAD_DAYS, &values);
        return;
    }
    entry->has_days = true;
    entry->days = statement->days;
    if (!turn_ok(turn, standing_look(turn->desk, machine, turn->now_s, &standing))) {
        return;
    }
    if (standing.count == 0 || !standing_matters(&standing.plans[standing.worst])) {
        turn_refuse(turn, entry, WORDING_NOTHING_DUE, &values);
        return;
    }
    int32_t day = turn->today + statement->days;
    if (turn_ok(turn, machines_set_later(turn->desk->ledger, turn_machine_id(turn, machine),
                                         zone_unix(day, 0), turn->person_id, turn->text_id))) {
        wording_set_day(&values, WORDING_DAY, turn->wording, day, turn->today);
        turn_say(turn, WORDING_LATER, &values);
    }
}

void resting_park(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    struct desk_statement *entry = turn_entry(turn, "park", machine);
    struct wording_values values = turn_values(turn, machine, -1);
    (void)statement;
    if (!turn_shop_only(turn, entry, machine)) {
        return;
    }
    enum ledger_result result = machines_park(turn->desk->ledger, turn_machine_id(turn, machine),
                                              turn->sent_s, turn->person_id, turn->text_id);
    if (turn_ok(turn, result)) {
        turn_say(turn, WORDING_PARKED, &values);
    } else if (result == LEDGER_ALREADY) {
        turn_explain(turn, entry, WORDING_PARKED_ALREADY, &values);
    }
}

void resting_back(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    struct desk_statement *entry = turn_entry(turn, "back", machine);
    struct wording_values values = turn_values(turn, machine, -1);
    struct standing standing;
    (void)statement;
    if (!turn_shop_only(turn, entry, machine)) {
        return;
    }
    enum ledger_result result = machines_back(turn->desk->ledger, turn_machine_id(turn, machine),
                                              turn->sent_s, turn->person_id, turn->text_id);
    if (turn_ok(turn, result)) {
        turn_say(turn, WORDING_BACK, &values);
        reading_restand(turn, machine, &standing);
        if (turn->fault == LEDGER_OK) {
            standing_say(turn, &standing, false);
        }
    } else if (result == LEDGER_NONE) {
        turn_explain(turn, entry, WORDING_BACK_ALREADY, &values);
    }
}
