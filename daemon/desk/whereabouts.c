/* SPDX-License-Identifier: MIT
 * whereabouts: each of the shop's words adds a movement to the record; the latest that stands says
 * where the machine is. What would change nothing is no error and says how it stands; what cannot be
 * is refused with what to text instead. */
#include "daemon/desk/whereabouts.h"

#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/post.h"
#include "daemon/desk/question.h"
#include "daemon/desk/telling.h"
#include "daemon/desk/when.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/movements.h"
#include "daemon/ledger/people.h"
#include "daemon/yard/bay.h"

#define LATER_MOST_DAYS 60
#define BOOK_MOST_DAYS 366

/* Where the machine is. */
static struct yard_standing place_of(struct turn *turn, int32_t machine)
{
    struct standing standing;
    standing_look(turn->desk, machine, turn->now_s, &standing);
    return standing.count > 0 ? standing.plans[0] : (struct yard_standing){.machine = machine};
}

static void set_day(const struct turn *turn, struct wording_values *values, enum wording_slot slot,
                    int32_t day)
{
    wording_set_day(values, slot, turn->wording, day, turn->today);
}

static bool move(struct turn *turn, enum movement_kind kind, int32_t day, int64_t at_s)
{
    struct movement movement = {.kind = kind,
                                .day = day,
                                .at_s = at_s,
                                .person_id = turn->person_id,
                                .text_id = turn->text_id};
    turn->desk->unsettled = true; /* what was held back meanwhile may be told */
    return movements_add(turn->desk->ledger, turn_machine_id(turn, turn->machine), &movement) ==
           LEDGER_OK;
}

/* The moment that is said, of now or the past; false (refused) where it is none. */
static bool moment_of(struct turn *turn, int64_t *at_s)
{
    enum when_result result = turn->said->obstacle == CREW_OBSTACLE_DATE
                                  ? WHEN_UNCLEAR
                                  : when_resolve(&turn->said->when, turn->sent_s, at_s);
    if (result != WHEN_OK) {
        turn_refuse(turn,
                    result != WHEN_FUTURE         ? WORDING_WHERE_DAY
                    : turn->said->kind == CREW_IN ? WORDING_IN_FUTURE
                                                  : WORDING_WHERE_FUTURE,
                    NULL);
        return false;
    }
    turn->entry->has_read_at = when_said(&turn->said->when);
    turn->entry->read_at_s = *at_s;
    return true;
}

/* ---- booked */

static void book(struct turn *turn, const struct yard_standing *place, int32_t day)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    if (move(turn, MOVEMENT_BOOK, day, turn->sent_s)) {
        set_day(turn, &values, WORDING_DAY, day);
        set_day(turn, &values, WORDING_WHEN, place->booked_day);
        turn_say(turn, place->booked ? WORDING_BOOKED_INSTEAD : WORDING_BOOKED, &values);
        tell_crew(turn, turn->machine, WORDING_CREW_BOOKED, day);
    }
}

/* Asks whether to book it for that day. */
static void ask_booking(struct turn *turn, struct wording_values *values, enum wording_key key,
                        int32_t day)
{
    struct question_row row =
        question_row(QUESTION_BOOK, turn_machine_id(turn, turn->machine), turn->sent_s);
    int64_t open_s = shop_hours_next(&turn->desk->settings->shop, zone_unix(day, 0));
    row.days = day;
    set_day(turn, values, WORDING_WHEN, zone_civil(open_s).day);
    turn_ask(turn, &row, key, values);
}

/* Books it for a day, which may turn out to be no such day; on a day off, and where BOOK was not said, it is
 * asked about. */
static void book_for(struct turn *turn, const struct yard_standing *place, int32_t day, bool said)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    turn->entry->has_read_at = true;
    turn->entry->read_at_s = zone_unix(day, 0);
    set_day(turn, &values, WORDING_DAY, day);
    if (day < turn->today) {
        turn_refuse(turn, WORDING_BOOK_PAST, &values);
    } else if (place->in_shop) {
        set_day(turn, &values, WORDING_DAY, zone_civil(place->in_since_s).day);
        turn_refuse(turn, WORDING_BOOK_IN_SHOP, &values);
    } else if (place->booked && place->booked_day == day) {
        turn_explain(turn, WORDING_BOOKED_ALREADY, &values);
    } else if (!bay_open_on(&turn->desk->settings->shop, day)) {
        ask_booking(turn, &values, WORDING_ASK_BOOK, day);
    } else if (!said) {
        ask_booking(turn, &values, WORDING_ASK_COMING, day);
    } else {
        book(turn, place, day);
    }
}

/* BOOK that is denied: how it stands, and what would change it. */
static void keep_booking(struct turn *turn, const struct yard_standing *place)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    set_day(turn, &values, WORDING_DAY,
            place->in_shop ? zone_civil(place->in_since_s).day : place->booked_day);
    turn_refuse(turn,
                place->in_shop  ? WORDING_BOOK_IN_SHOP
                : place->booked ? WORDING_BOOK_STAYS
                                : WORDING_BOOK_LEFT,
                &values);
}

void whereabouts_book(struct turn *turn)
{
    struct yard_standing place = place_of(turn, turn->machine);
    int32_t day = 0;
    if (turn->said->obstacle == CREW_OBSTACLE_DENIED) {
        keep_booking(turn, &place);
        return;
    }
    if (turn->said->obstacle != CREW_OBSTACLE_NONE ||
        !when_to_come(&turn->said->when, turn->today, &day) || day > turn->today + BOOK_MOST_DAYS) {
        turn_refuse(turn, WORDING_BOOK_DAY, NULL);
        return;
    }
    book_for(turn, &place, day, true);
}

void whereabouts_book_asked(struct turn *turn, struct figure *figure,
                            const struct question_row *row)
{
    turn->machine = figure->machine;
    struct yard_standing place = place_of(turn, turn->machine);
    if (!whereabouts_refuse(turn)) {
        book(turn, &place, row->days);
    }
}

/* ---- in the shop and out of it */

/* IN with a day to come: it will be booked for that one. */
static bool is_to_come(const struct turn *turn, int32_t *day)
{
    int64_t at_s = 0;
    const struct crew_when *when = &turn->said->when;
    return turn->said->obstacle == CREW_OBSTACLE_NONE && when_said(when) &&
           when_resolve(when, turn->sent_s, &at_s) != WHEN_OK &&
           when_to_come(when, turn->today, day) && *day >= turn->today &&
           *day <= turn->today + BOOK_MOST_DAYS;
}

void whereabouts_in(struct turn *turn)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    struct yard_standing place = place_of(turn, turn->machine);
    int64_t at_s = 0;
    int32_t day = 0;
    if (is_to_come(turn, &day)) {
        book_for(turn, &place, day, false);
        return;
    }
    if (!moment_of(turn, &at_s)) {
        return;
    }
    if (place.in_shop) {
        set_day(turn, &values, WORDING_DAY, zone_civil(place.in_since_s).day);
        turn_explain(turn, WORDING_IN_ALREADY, &values);
    } else if (move(turn, MOVEMENT_IN, 0, at_s)) {
        turn_say(turn, WORDING_IN, &values);
        standing_tell(turn, turn->machine);
    }
}

void whereabouts_out(struct turn *turn)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    struct yard_standing place = place_of(turn, turn->machine);
    int64_t at_s = 0;
    if (!moment_of(turn, &at_s)) {
        return;
    }
    if (!place.in_shop && !place.booked) {
        turn_explain(turn, WORDING_OUT_ALREADY, &values);
    } else if (place.in_shop && at_s < place.in_since_s) {
        turn_refuse(turn, WORDING_WHERE_DAY, &values);
    } else if (move(turn, MOVEMENT_OUT, 0, at_s)) {
        set_day(turn, &values, WORDING_DAY, place.booked_day);
        turn_say(turn, place.in_shop ? WORDING_OUT : WORDING_OUT_BOOKING, &values);
        standing_tell(turn, turn->machine);
        if (place.booked) {
            tell_crew(turn, turn->machine, WORDING_CREW_UNBOOKED, 0);
        }
    }
}

/* ---- laid up, and back */

void whereabouts_park(struct turn *turn)
{
    enum ledger_result result =
        machines_park(turn->desk->ledger, turn_machine_id(turn, turn->machine), turn->sent_s,
                      turn->person_id, turn->text_id);
    if (result == LEDGER_OK) {
        turn_say(turn, WORDING_PARKED, NULL);
    } else if (result == LEDGER_ALREADY) {
        turn_explain(turn, WORDING_PARKED_ALREADY, NULL);
    }
}

/* Whether, and since when, the machine is gone by the config; what was sent before still counts. */
static bool gone_by_config(const struct turn *turn)
{
    const struct settings_machine *machine = &turn->desk->settings->machines[turn->machine];
    return machine->gone && machine->gone_day <= turn->today;
}

void whereabouts_back(struct turn *turn)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    struct yard_standing place = place_of(turn, turn->machine);
    if (gone_by_config(turn)) {
        set_day(turn, &values, WORDING_DAY, place.gone_day);
        turn_refuse(turn, WORDING_GONE_CONFIG, &values);
        return;
    }
    bool parked = machines_back(turn->desk->ledger, turn_machine_id(turn, turn->machine),
                                turn->sent_s, turn->person_id, turn->text_id) == LEDGER_OK;
    bool away = place.gone || place.in_shop;
    if (away) {
        (void)move(turn, place.gone ? MOVEMENT_BACK : MOVEMENT_OUT, 0, turn->sent_s);
    }
    if (parked || away) {
        turn_say(turn, WORDING_BACK, &values);
        standing_tell(turn, turn->machine);
    } else {
        turn_explain(turn, WORDING_BACK_ALREADY, &values);
    }
}

void whereabouts_later(struct turn *turn)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    struct standing standing;
    int32_t days = turn->said->days;
    if (turn->said->obstacle != CREW_OBSTACLE_NONE || days < 1 || days > LATER_MOST_DAYS) {
        turn_refuse(turn, WORDING_BAD_DAYS, &values);
        return;
    }
    turn->entry->has_days = true;
    turn->entry->days = days;
    standing_look(turn->desk, turn->machine, turn->now_s, &standing);
    if (standing.count == 0 || !due_stage_row(standing.plans[standing.worst].stage)->tells) {
        turn_refuse(turn, WORDING_NOTHING_DUE, &values);
        return;
    }
    int64_t until_s = zone_unix(turn->today + days, 0);
    if (machines_set_later(turn->desk->ledger, turn_machine_id(turn, turn->machine), until_s,
                           turn->person_id, turn->text_id) == LEDGER_OK) {
        turn_set_day(turn, &values, until_s);
        turn_say(turn, WORDING_LATER, &values);
    }
}

/* ---- gone */

void whereabouts_gone(struct turn *turn)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    struct yard_standing place = place_of(turn, turn->machine);
    int64_t at_s = 0;
    if (!moment_of(turn, &at_s)) {
        return;
    }
    if (place.gone) {
        set_day(turn, &values, WORDING_DAY, place.gone_day);
        turn_explain(turn, WORDING_GONE_ALREADY, &values);
    } else if (move(turn, MOVEMENT_GONE, when_said(&turn->said->when) ? zone_civil(at_s).day : 0,
                    turn->sent_s)) {
        turn_say(turn, WORDING_GONE, &values);
    }
}

/* The latest movement is that it has gone, before the text was sent. */
static bool gone_by_word(struct turn *turn, struct movement *last)
{
    return movements_last(turn->desk->ledger, turn_machine_id(turn, turn->machine), last) ==
               LEDGER_OK &&
           last->kind == MOVEMENT_GONE && last->at_s <= turn->sent_s;
}

bool whereabouts_refuse(struct turn *turn)
{
    struct movement last = {.id = 0};
    bool config = gone_by_config(turn);
    if (!config && !gone_by_word(turn, &last)) {
        return false;
    }
    const struct settings_machine *machine = &turn->desk->settings->machines[turn->machine];
    struct wording_values values = turn_values(turn, turn->machine, -1);
    int32_t day = config ? machine->gone_day : last.day != 0 ? last.day : zone_civil(last.at_s).day;
    set_day(turn, &values, WORDING_DAY, day);
    if (turn->shop) {
        turn_refuse(turn, config ? WORDING_GONE_CONFIG : WORDING_GONE_SHOP, &values);
        return true;
    }
    turn_refuse(turn, WORDING_GONE_CREW, &values);
    struct alert_row row = {.machine_id = turn_machine_id(turn, turn->machine),
                            .cycle = config ? day : last.id,
                            .raised_s = turn->now_s};
    if (alert_once(turn->desk->ledger, "gone", "", &row)) {
        reply_plain(turn->body, strlen(turn->body), values.value[WORDING_WORDS], 61);
        tell_shop(turn, turn->machine, WORDING_TELL_GONE, &values);
    }
    return true;
}

/* ---- taken back */

int32_t whereabouts_of_text(struct turn *turn, int64_t text_id)
{
    for (size_t i = 0; i < turn->desk->settings->machine_count; i++) {
        struct movement last;
        if (movements_last(turn->desk->ledger, turn_machine_id(turn, (int32_t)i), &last) ==
                LEDGER_OK &&
            last.text_id == text_id) {
            return last.kind == MOVEMENT_BOOK || last.kind == MOVEMENT_OUT ? (int32_t)i : -1;
        }
    }
    return -1;
}

void whereabouts_taken_back(struct turn *turn, int32_t machine)
{
    struct yard_standing place = place_of(turn, machine);
    if (!place.in_shop) {
        tell_crew(turn, machine, place.booked ? WORDING_CREW_BOOKED : WORDING_CREW_UNBOOKED,
                  place.booked_day);
    }
}
