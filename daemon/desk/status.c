/* SPDX-License-Identifier: MIT
 * status: from the yard's verdict to words and alerts, and the answers to "M12?" and DUE. Where a
 * stage is jumped over only the worst is told; a stage below one that was told in the same cycle is
 * not told again. */
#include "daemon/desk/status.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/people.h"

/* What limits it: the hours, with a forecast of the day or without one, or the calendar. */
enum limit { LIMIT_HOURS_DATED, LIMIT_HOURS, LIMIT_CALENDAR, LIMITS };

static enum limit limit_of(const struct yard_standing *standing)
{
    if (standing->by == DUE_BY_DATE) {
        return LIMIT_CALENDAR;
    }
    return standing->has_forecast ? LIMIT_HOURS_DATED : LIMIT_HOURS;
}

/* The sentences of each stage: in a reply, in a text to the shop, and in the list of DUE. */
static const struct {
    enum wording_key reply[LIMITS], tell[LIMITS], item[LIMITS];
} sentences[DUE_STAGE_COUNT] = {
    [DUE_STAGE_PARKED] = {.reply = {WORDING_LAID_UP, WORDING_LAID_UP, WORDING_LAID_UP}},
    [DUE_STAGE_UNREAD] = {.reply = {WORDING_UNREAD, WORDING_UNREAD, WORDING_UNREAD}},
    [DUE_STAGE_FINE] = {.reply = {WORDING_FINE, WORDING_FINE_HOURS, WORDING_FINE_CALENDAR}},
    [DUE_STAGE_COMING_UP] =
        {
            .reply = {WORDING_COMING, WORDING_COMING_HOURS, WORDING_COMING_CALENDAR},
            .tell = {WORDING_TELL_COMING, WORDING_TELL_COMING_HOURS, WORDING_TELL_COMING_CALENDAR},
            .item = {WORDING_DUE_ITEM_COMING, WORDING_DUE_ITEM_COMING, WORDING_DUE_ITEM_CALENDAR},
        },
    [DUE_STAGE_NO_RECORD] =
        {
            .reply = {WORDING_NO_RECORD, WORDING_NO_RECORD, WORDING_NO_RECORD},
            .tell = {WORDING_TELL_NO_RECORD, WORDING_TELL_NO_RECORD, WORDING_TELL_NO_RECORD},
            .item = {WORDING_DUE_ITEM_NO_RECORD, WORDING_DUE_ITEM_NO_RECORD,
                     WORDING_DUE_ITEM_NO_RECORD},
        },
    [DUE_STAGE_DUE] =
        {
            .reply = {WORDING_DUE, WORDING_DUE, WORDING_DUE_CALENDAR},
            .tell = {WORDING_TELL_DUE, WORDING_TELL_DUE, WORDING_TELL_DUE_CALENDAR},
            .item = {WORDING_DUE_ITEM_DUE, WORDING_DUE_ITEM_DUE, WORDING_DUE_ITEM_DUE},
        },
    [DUE_STAGE_OVERDUE] =
        {
            .reply = {WORDING_OVERDUE, WORDING_OVERDUE, WORDING_OVERDUE_CALENDAR},
            .tell = {WORDING_TELL_OVERDUE, WORDING_TELL_OVERDUE, WORDING_TELL_OVERDUE_CALENDAR},
            .item = {WORDING_DUE_ITEM_OVERDUE, WORDING_DUE_ITEM_OVERDUE, WORDING_DUE_ITEM_OVERDUE},
        },
};

enum wording_key standing_key(const struct yard_standing *standing, bool shop)
{
    return standing->stage == DUE_STAGE_NO_RECORD && shop
               ? WORDING_NO_RECORD_SHOP
               : sentences[standing->stage].reply[limit_of(standing)];
}

enum wording_key standing_tell_key(const struct yard_standing *standing)
{
    return sentences[standing->stage].tell[limit_of(standing)];
}

enum wording_key standing_next_key(const struct yard_standing *standing)
{
    static const enum wording_key next[LIMITS] = {WORDING_NEXT, WORDING_NEXT_HOURS,
                                                  WORDING_NEXT_CALENDAR};
    return next[limit_of(standing)];
}

bool standing_has_plan(const struct settings *settings, int32_t machine, int32_t plan)
{
    const struct settings_kind *kind = yard_kind(settings, machine);
    for (size_t i = 0; i < kind->plan_count; i++) {
        if (kind->plans[i] == (size_t)plan) {
            return true;
        }
    }
    return false;
}

void standing_look(struct desk *desk, int32_t machine, int64_t now_s, struct standing *standing)
{
    bool well = yard_stand_machine(&desk->yard, machine, now_s, standing->plans) == LEDGER_OK;
    standing->count = well ? yard_kind(desk->settings, machine)->plan_count : 0;
    standing->worst = 0;
    for (size_t i = 1; i < standing->count; i++) {
        if (yard_worst_first(&standing->plans[i], &standing->plans[standing->worst]) < 0) {
            standing->worst = i;
        }
    }
}

bool standing_rests(const struct yard_standing *standing, int32_t today)
{
    return standing->in_shop || (standing->booked && standing->booked_day >= today);
}

bool standing_by_calendar(const struct yard_standing *standing)
{
    return standing->by == DUE_BY_DATE && standing->left_hundredths > 0;
}

void standing_values(const struct desk *desk, const struct yard_standing *standing,
                     const struct wording *wording, int32_t today, struct wording_values *values)
{
    const struct settings_plan *plan = &desk->settings->plans[standing->plan];
    wording_set(values, WORDING_MACHINE, desk->settings->machines[standing->machine].name);
    wording_set(values, WORDING_SHOP, desk->settings->shop.name);
    wording_set(values, WORDING_TITLE, settings_title(plan, wording->language));
    wording_set(values, WORDING_PLAN, plan->name);
    wording_set_hours(values, WORDING_DUE_AT, standing->due_meter_hundredths);
    wording_set_hours(values, WORDING_LEFT, llabs(standing->left_hundredths));
    wording_set_hours(values, WORDING_HOURS, standing->meter_hundredths);
    /* What is only likely is told in whole hours. */
    wording_set_hours(values, WORDING_LAST, (standing->likely_meter_hundredths + 50) / 100 * 100);
    if (standing->has_forecast) {
        wording_set_day(values, WORDING_DAY, wording, standing->due_day, today);
    }
}

/* The other plans that are due, by name. */
static void say_others(struct turn *turn, const struct standing *standing)
{
    struct wording_values values = {0};
    struct reply_list list = {0};
    for (size_t i = 0; i < standing->count; i++) {
        const struct yard_standing *row = &standing->plans[i];
        if (i != standing->worst && due_stage_row(row->stage)->reached) {
            reply_list_add(&list, turn->desk->settings->plans[row->plan].name);
        }
    }
    if (list.count > 0) {
        wording_set(&values, WORDING_LIST, list.text);
        turn_add(turn, REPLY_MAY, WORDING_ALSO_DUE, &values);
    }
}

bool alert_once(struct ledger *ledger, const char *stage, const char *plan, struct alert_row *row)
{
    (void)snprintf(row->plan, sizeof row->plan, "%s", plan);
    (void)snprintf(row->stage, sizeof row->stage, "%s", stage);
    return alerts_raise(ledger, row) == LEDGER_OK &&
           alerts_told(ledger, row->id, 0, row->raised_s) == LEDGER_OK;
}

bool standing_crew_once(struct desk *desk, const struct yard_standing *standing, int64_t now_s)
{
    struct alert_row row = {.machine_id = standing->machine_id,
                            .cycle = standing->cycle,
                            .cause_reading_id =
                                standing_by_calendar(standing) ? 0 : standing->cause_reading_id,
                            .cause_service_id = standing->cause_service_id,
                            .raised_s = now_s};
    return alert_once(desk->ledger,
                      standing->stage == DUE_STAGE_OVERDUE ? "crew-overdue" : "crew-due",
                      desk->settings->plans[standing->plan].name, &row);
}

/* The crew is to bring it in, and has heard so then. */
static void say_bring(struct turn *turn, const struct yard_standing *standing)
{
    struct wording_values values = {0};
    if (!turn->mute) {
        (void)standing_crew_once(turn->desk, standing, turn->now_s);
    }
    if (standing_rests(standing, turn->today) && !standing->in_shop) {
        wording_set_day(&values, WORDING_DAY, turn->wording, standing->booked_day, turn->today);
        turn_say(turn, WORDING_BRING_ON, &values);
    } else if (!standing->in_shop) {
        turn_say(turn, WORDING_BRING, &values);
    }
}

void standing_say(struct turn *turn, const struct standing *standing)
{
    if (standing->count == 0) {
        return;
    }
    const struct yard_standing *worst = &standing->plans[standing->worst];
    const struct due_stage_row *stage = due_stage_row(worst->stage);
    struct wording_values values = {0};
    standing_values(turn->desk, worst, turn->wording, turn->today, &values);
    /* Among several statements what needs nobody to act may give way. */
    bool may_go = !stage->tells || (turn->text.statement_count > 1 && !stage->reached);
    enum reply_weight weight = stage->tells ? REPLY_SHOULD : REPLY_MAY;
    turn_add(turn, may_go ? weight : REPLY_MUST, standing_key(worst, turn->shop), &values);
    if (may_go) {
        return;
    }
    if (!turn->shop && stage->reached) {
        say_bring(turn, worst);
    }
    say_others(turn, standing);
}

/* ---- the alerts that it calls for */

/* The stage that was told in this cycle stands at this one or beyond. */
static bool told_as_bad(const struct alert_row *last, enum due_stage stage)
{
    enum due_stage told;
    return due_stage_find(last->stage, &told) && due_stage_row(told)->tells && told >= stage;
}

enum ledger_result standing_calls(const struct settings *settings, struct ledger *ledger,
                                  const struct yard_standing *standing, struct alert_row *row,
                                  bool *calls)
{
    struct alert_row last = {0};
    *row = (struct alert_row){.machine_id = standing->machine_id,
                              .cycle = standing->cycle,
                              .cause_service_id = standing->cause_service_id};
    *calls = false;
    if (!due_stage_row(standing->stage)->tells) {
        return LEDGER_OK;
    }
    (void)snprintf(row->plan, sizeof row->plan, "%s", settings->plans[standing->plan].name);
    (void)snprintf(row->stage, sizeof row->stage, "%s", due_stage_word(standing->stage));
    /* What the calendar brings about does not fall with a reading. */
    row->cause_reading_id = standing_by_calendar(standing) ? 0 : standing->cause_reading_id;
    enum ledger_result result = alerts_last(ledger, row->machine_id, row->plan, row->cycle, &last);
    *calls = result == LEDGER_NONE || (result == LEDGER_OK && !told_as_bad(&last, standing->stage));
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

#define STAGES_AHEAD 2 /* due and overdue */

/* A machine goes back before the due point within a cycle only where its plan has become longer:
 * what the shorter one has called for is void, so that the longer one can call for it in its time.
 * Not so for coming up: a forecast wavers. */
static void void_ahead(struct desk *desk, const struct yard_standing *standing, int64_t now_s)
{
    const char *plan = desk->settings->plans[standing->plan].name;
    struct alert_row last;
    if (desk->dates_held ||
        (standing->stage != DUE_STAGE_FINE && standing->stage != DUE_STAGE_COMING_UP)) {
        return;
    }
    for (int i = 0; i < STAGES_AHEAD; i++) {
        if (alerts_last(desk->ledger, standing->machine_id, plan, standing->cycle, &last) !=
                LEDGER_OK ||
            !told_as_bad(&last, DUE_STAGE_DUE)) {
            return;
        }
        (void)alerts_void(desk->ledger, last.id, now_s);
    }
}

void standing_raise(struct desk *desk, const struct yard_standing *standing, int64_t now_s)
{
    struct alert_row row;
    bool calls = false;
    void_ahead(desk, standing, now_s);
    (void)standing_calls(desk->settings, desk->ledger, standing, &row, &calls);
    /* What the calendar calls for waits for a clock that is believed. */
    if (calls && !(desk->dates_held && standing_by_calendar(standing))) {
        row.raised_s = now_s;
        (void)alerts_raise(desk->ledger, &row);
    }
}

void standing_renew(struct turn *turn, int32_t machine, struct standing *standing)
{
    standing_look(turn->desk, machine, turn->now_s, standing);
    for (size_t i = 0; i < standing->count; i++) {
        standing_raise(turn->desk, &standing->plans[i], turn->now_s);
    }
}

void standing_tell(struct turn *turn, int32_t machine)
{
    struct standing standing;
    standing_renew(turn, machine, &standing);
    standing_say(turn, &standing);
}

/* ---- what is asked */

void status_machine(struct turn *turn)
{
    int32_t machine = turn->machine;
    struct standing standing;
    struct wording_values values = turn_values(turn, machine, -1);
    standing_look(turn->desk, machine, turn->now_s, &standing);
    if (standing.count == 0) {
        return;
    }
    const struct yard_standing *worst = &standing.plans[standing.worst];
    if (worst->gone) {
        wording_set_day(&values, WORDING_DAY, turn->wording, worst->gone_day, turn->today);
        turn_say(turn, WORDING_GONE_STANDS, &values);
        return;
    }
    if (!worst->read) {
        turn_say(turn, WORDING_UNREAD, &values);
        return;
    }
    wording_set_hours(&values, WORDING_HOURS, worst->meter_hundredths);
    turn_set_day(turn, &values, worst->read_s);
    turn_say(turn, WORDING_STANDS_AT, &values);
    if (worst->in_shop || worst->booked) {
        int32_t day = worst->in_shop ? zone_civil(worst->in_since_s).day : worst->booked_day;
        wording_set_day(&values, WORDING_DAY, turn->wording, day, turn->today);
        turn_say(turn, worst->in_shop ? WORDING_IN_SHOP_SINCE : WORDING_BOOKED_FOR, &values);
    }
    standing_say(turn, &standing);
}

void standing_item(const struct desk *desk, const struct yard_standing *standing,
                   const struct wording *wording, int32_t today, bool likely,
                   char out[WORDING_SENTENCE_OCTETS])
{
    struct wording_values values = {0};
    const struct due_stage_row *stage = due_stage_row(standing->stage);
    bool wanted = standing->wanted && !stage->needs_doing && (likely || !stage->tells);
    standing_values(desk, standing, wording, today, &values);
    if (wanted) {
        wording_set_day(&values, WORDING_DAY, wording, zone_civil(standing->read_s).day, today);
    }
    (void)wording_write(wording,
                        wanted ? WORDING_DUE_ITEM_WANTED
                               : sentences[standing->stage].item[limit_of(standing)],
                        &values, out, WORDING_SENTENCE_OCTETS);
    if (standing->in_shop || standing->booked) {
        wording_set_day(&values, WORDING_DAY, wording, standing->booked_day, today);
        wording_append(wording,
                       standing->in_shop ? WORDING_DUE_ITEM_IN_SHOP : WORDING_DUE_ITEM_BOOKED,
                       &values, out, WORDING_SENTENCE_OCTETS);
    }
}

/* Items joined by commas; one that would not leave room for "and so many more" in one text of the
 * air is counted instead. */
struct due_list {
    char text[TEXTS_REPLY_OCTETS];
    size_t length;
    int64_t more;
};

static void list_item(struct turn *turn, struct due_list *list, const struct yard_standing *row)
{
    char item[WORDING_SENTENCE_OCTETS];
    const size_t room_for_more = 16;
    size_t before = list->length;
    standing_item(turn->desk, row, turn->wording, turn->today, false, item);
    if (list->more > 0 || before + strlen(item) + 3 > 160 - room_for_more) {
        list->more++;
        return;
    }
    list->length += (size_t)snprintf(list->text + before, sizeof list->text - before, "%s%s",
                                     before > 0 ? ", " : "", item);
}

static void say_list(struct turn *turn, struct due_list *list)
{
    struct wording_values values = {0};
    char more[WORDING_SENTENCE_OCTETS] = "";
    if (list->more > 0) {
        wording_set_number(&values, WORDING_COUNT, list->more);
        (void)wording_write(turn->wording, WORDING_DUE_MORE, &values, more, sizeof more);
    }
    (void)snprintf(list->text + list->length, sizeof list->text - list->length, "%s%s.",
                   list->more > 0 ? ", " : "", more);
    reply_add(&turn->reply, REPLY_MUST, list->text);
}

void status_due(struct turn *turn)
{
    const struct settings *settings = turn->desk->settings;
    struct due_list list = {0};
    struct yard_standing *standings = NULL;
    size_t count = 0;
    if (yard_stand_all(&turn->desk->yard, turn->now_s, &standings, &count) != LEDGER_OK) {
        /* Memory, where it is no fault of the ledger, of which the text comes again. */
        turn_refuse(turn, WORDING_DUE_SHORT, NULL);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        const struct yard_standing *row = &standings[i];
        if ((due_stage_row(row->stage)->tells || row->wanted) &&
            (turn->shop || names_own(settings, row->machine, turn->person))) {
            list_item(turn, &list, row);
        }
    }
    free(standings);
    if (list.length == 0) {
        turn_say(turn, WORDING_DUE_NOTHING, NULL);
    } else {
        say_list(turn, &list);
    }
}
