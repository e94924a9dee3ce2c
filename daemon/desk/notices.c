/* SPDX-License-Identifier: MIT
 * notices: alerts into texts, several machines in one. The figures are those of the moment of
 * telling, so that an alert of Friday night reads right on Monday; one whose cause is gone by then is
 * void. */
#include "daemon/desk/notices.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/telling.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/upkeep/kit.h"
#include "daemon/yard/bay.h"
#include "daemon/yard/shelf.h"
#include "parsers/hours.h"

/* ---- what to have ready */

#define ITEMS_MOST 16 /* in one text */

bool kit_words(const struct settings *settings, const struct yard_standing *standings, size_t count,
               char out[KIT_WORDS_OCTETS])
{
    struct shelf needs = {0};
    size_t length = 0;
    for (size_t i = 0; i < count; i++) {
        if (standings[i].stage != DUE_STAGE_NO_RECORD) {
            shelf_add(&needs, settings, &settings->plans[standings[i].plan], 1);
        }
    }
    for (size_t i = 0; i < needs.item_count && length < KIT_WORDS_OCTETS; i++) {
        const struct shelf_item *row = &needs.items[i];
        const char *unit = kit_unit_name(row->unit);
        bool fluid = kit_unit_row(row->unit)->fluid;
        char amount[HOURS_TEXT_OCTETS];
        (void)hours_write((kit_thousandths(row->needed_grains, row->unit) + 9) / 10, amount,
                          sizeof amount);
        length += (size_t)snprintf(out + length, KIT_WORDS_OCTETS - length, "%s%s%s%s %s",
                                   i > 0 ? ", " : "", amount, fluid ? " " : "x", fluid ? unit : "",
                                   row->item);
    }
    return needs.item_count > 0 && needs.item_count <= ITEMS_MOST && length < KIT_WORDS_OCTETS;
}

/* ---- several machines in one text */

#define LIST_MOST 64 /* no more than a word has bits: summary_names */

/* The machines that one text is about, each with a plan, worst first. */
struct list {
    struct yard_standing rows[LIST_MOST];
    bool reminds[LIST_MOST]; /* it is no news */
    bool has_day[LIST_MOST]; /* the bay has room for it on that day: */
    int32_t days[LIST_MOST];
    size_t count;
    size_t left_out; /* beyond the room */
};

/* Each machine and plan once. */
static void list_add(struct list *list, const struct yard_standing *standing, bool reminds)
{
    for (size_t i = 0; i < list->count; i++) {
        if (list->rows[i].machine == standing->machine && list->rows[i].plan == standing->plan) {
            return;
        }
    }
    if (list->count == LIST_MOST) {
        list->left_out++;
        return;
    }
    /* Kept in order of worry, by insertion. */
    size_t at = list->count++;
    while (at > 0 && yard_worst_first(standing, &list->rows[at - 1]) < 0) {
        list->rows[at] = list->rows[at - 1];
        list->reminds[at] = list->reminds[at - 1];
        at--;
    }
    list->rows[at] = *standing;
    list->reminds[at] = reminds;
}

/* One text as it is being made. */
struct telling {
    struct draft draft;
    const struct list *list;
    int64_t escalated_days; /* so long all of it was overdue; 0: that is not said */
    int32_t today;
    size_t taken; /* the first so many of the list */
    bool sites;   /* where the machines work is said too */
};

/* The head and the machines taken, and how many more there are. */
static void write_alerts(struct telling *telling)
{
    struct draft *draft = &telling->draft;
    const struct list *list = telling->list;
    struct wording_values values = {0};
    draft_begin(draft);
    for (size_t i = 0; i < telling->taken; i++) {
        const struct yard_standing *row = &list->rows[i];
        const char *site = draft->desk->settings->machines[row->machine].site;
        standing_values(draft->desk, row, draft->wording, telling->today, &values);
        wording_set(&values, WORDING_SITE, "");
        if (telling->sites && site[0] != '\0') {
            (void)snprintf(values.value[WORDING_SITE], WORDING_VALUE_OCTETS, " (%s)", site);
        }
        draft_add(draft, standing_tell_key(row), &values);
        if (row->booked || list->has_day[i]) {
            wording_set_day(&values, WORDING_DAY, draft->wording,
                            row->booked ? row->booked_day : list->days[i], telling->today);
            draft_add(draft, row->booked ? WORDING_BOOKED_FOR : WORDING_TELL_SUGGESTED, &values);
        }
    }
    draft_count(draft, WORDING_TELL_ESCALATED, telling->escalated_days);
    draft_count(draft, WORDING_TELL_MORE, (int64_t)(list->count - telling->taken + list->left_out));
}

/* What to have ready, unless the text would grow by more than one text of the air by it, or beyond a
 * few; whether it did. */
static bool add_kit(struct telling *telling)
{
    struct draft *draft = &telling->draft;
    const struct list *list = telling->list;
    struct wording_values values = {0};
    size_t length = strlen(draft->body);
    size_t segments = reply_segments(draft->body);
    if (telling->taken < list->count || list->left_out > 0 ||
        !kit_words(draft->desk->settings, list->rows, list->count, values.value[WORDING_LIST])) {
        return false;
    }
    draft_add(draft, WORDING_TELL_KIT, &values);
    size_t grown = reply_segments(draft->body);
    bool fits = grown <= segments + 1 && grown <= DRAFT_SEGMENTS_MOST;
    if (!fits) {
        draft->body[length] = '\0';
    }
    return fits;
}

/* One text about the list to one person, worst first, as many machines as a few texts of the air hold;
 * and where they work, unless that takes a text of the air more or the kit's place. 0 where none goes. */
static int64_t send_text(const struct round *round, const struct list *list, int32_t person,
                         int64_t escalated_days)
{
    struct telling telling = {.draft = draft_to(round->desk, person),
                              .list = list,
                              .escalated_days = escalated_days,
                              .today = zone_civil(round->now_s).day,
                              .taken = list->count};
    write_alerts(&telling);
    while (telling.taken > 1 && reply_segments(telling.draft.body) > DRAFT_SEGMENTS_MOST) {
        telling.taken--;
        write_alerts(&telling);
    }
    bool has_kit = add_kit(&telling);
    struct telling sited = telling;
    sited.sites = true;
    write_alerts(&sited);
    bool as_short = add_kit(&sited) == has_kit &&
                    reply_segments(sited.draft.body) == reply_segments(telling.draft.body);
    return draft_send(as_short ? &sited.draft : &telling.draft, TEXTS_ALERT, round->now_s);
}

struct sending {
    const struct round *round;
    const struct list *list;
    int64_t text_id; /* one of the texts, 0 where nobody may be told */
    bool held_back;  /* from somebody: what the summary names */
};

/* Of the list what that person is told of: the week's summary reminds too, so that what it names this
 * morning is news or it is not said twice. */
static void send_one(void *ctx, int32_t person)
{
    struct sending *sending = ctx;
    const struct settings *settings = sending->round->desk->settings;
    const struct list *all = sending->list;
    struct list mine = {.left_out = settings->people[person].site_count == 0 ? all->left_out : 0};
    uint64_t named = summary_names(sending->round, person, all->rows, all->count);
    for (size_t i = 0; i < all->count; i++) {
        if (all->reminds[i] && (named >> i & 1) != 0) {
            sending->held_back = true;
        } else if (hears(settings, person, all->rows[i].machine)) {
            mine.rows[mine.count] = all->rows[i];
            mine.has_day[mine.count] = all->has_day[i];
            mine.days[mine.count++] = all->days[i];
        }
    }
    if (mine.count > 0) {
        int64_t text_id = send_text(sending->round, &mine, person, 0);
        sending->text_id = text_id != 0 ? text_id : sending->text_id;
    }
}

/* ---- to the crew */

/* What one machine's crew hears of a service that is due. */
static void add_due(struct draft *draft, const struct yard_standing *row, int32_t today)
{
    bool rests = standing_rests(row, today);
    struct wording_values values = {0};
    standing_values(draft->desk, row, draft->wording, today, &values);
    draft_add(draft, row->stage == DUE_STAGE_OVERDUE ? WORDING_CREW_OVERDUE : WORDING_CREW_DUE,
              &values);
    wording_set_day(&values, WORDING_DAY, draft->wording, row->booked_day, today);
    draft_add(draft, rests ? WORDING_BRING_ON : WORDING_BRING, &values);
}

/* Of each machine in the list that is due, whoever read it last hears once: several as one text. */
static void tell_crews(const struct round *round, const struct list *list)
{
    struct desk *desk = round->desk;
    int32_t today = zone_civil(round->now_s).day;
    int32_t readers[LIST_MOST];
    for (size_t i = 0; i < list->count; i++) {
        const struct yard_standing *row = &list->rows[i];
        bool tells = due_stage_row(row->stage)->reached && !row->in_shop &&
                     desk->settings->plans[row->plan].tell_crew;
        readers[i] = tells ? tell_reader(desk, row->machine, round->now_s) : -1;
    }
    for (size_t i = 0; i < list->count; i++) {
        int32_t person = readers[i];
        bool any = false;
        if (person < 0) {
            continue;
        }
        struct draft draft = draft_to(desk, person);
        draft_begin(&draft);
        for (size_t k = i; k < list->count; k++) {
            if (readers[k] == person) {
                readers[k] = -1;
                if (standing_crew_once(desk, &list->rows[k], round->now_s)) {
                    add_due(&draft, &list->rows[k], today);
                    any = true;
                }
            }
        }
        if (any) {
            (void)draft_send(&draft, TEXTS_NOTICE, round->now_s);
        }
    }
}

#define NOON_S (12 * 3600)

/* The days on which the bay has room for what is neither booked nor in the shop. */
static void suggest_days(const struct round *round, struct list *list)
{
    struct civil_time now = zone_civil(round->now_s);
    struct bay bay;
    /* What is told in the afternoon is for tomorrow. */
    int64_t from_s = now.second_of_day > NOON_S ? zone_unix(now.day + 1, 0) : round->now_s;
    if (bay_reckon(&round->desk->yard, from_s, now.day + BAY_AHEAD_DAYS, &bay) != LEDGER_OK) {
        return;
    }
    for (size_t i = 0; i < list->count; i++) {
        const struct yard_standing *row = &list->rows[i];
        list->has_day[i] = !row->booked && !row->in_shop &&
                           bay_suggested(&bay, row->machine, row->plan, &list->days[i]);
    }
    bay_free(&bay);
}

/* ---- reminders */

#define MARK_OCTETS 48

static void mark_name(const struct desk *desk, const struct yard_standing *standing, char *out)
{
    (void)snprintf(out, MARK_OCTETS, "told %lld %s", (long long)standing->machine_id,
                   desk->settings->plans[standing->plan].name);
}

/* Told so many days ago, by its alert or a reminder, and not put off by LATER. What was never told is
 * an alert's business. */
static bool is_to_be_reminded(struct desk *desk, const struct yard_standing *standing,
                              int64_t now_s)
{
    const struct settings_plan *plan = &desk->settings->plans[standing->plan];
    int32_t today = zone_civil(now_s).day;
    struct alert_row alert = {.told_s = 0};
    char name[MARK_OCTETS];
    int64_t told_s = 0;
    int64_t until_s = 0;
    if (plan->plan.remind_days <= 0 || !due_stage_row(standing->stage)->reached ||
        standing_rests(standing, today)) {
        return false;
    }
    mark_name(desk, standing, name);
    (void)marks_get(desk->ledger, name, &told_s);
    (void)alerts_last(desk->ledger, standing->machine_id, plan->name, standing->cycle, &alert);
    (void)machines_later(desk->ledger, standing->machine_id, &until_s);
    told_s = alert.told_s > told_s ? alert.told_s : told_s;
    return alert.told_s != 0 && until_s <= now_s &&
           today - zone_civil(told_s).day >= plan->plan.remind_days;
}

/* ---- alerts */

/* Takes one untold alert into the list, or makes it void where it does not hold any more. */
static bool take_alert(const struct round *round, const struct alert_row *row, struct list *list)
{
    struct desk *desk = round->desk;
    int64_t now_s = round->now_s;
    struct yard_standing standing;
    int32_t machine = desk_machine(desk, row->machine_id);
    int32_t plan = settings_find_plan(desk->settings, row->plan);
    if (machine < 0 || !standing_has_plan(desk->settings, machine, plan)) {
        (void)alerts_void(desk->ledger, row->id, now_s);
        return false;
    }
    if (yard_stand(&desk->yard, machine, plan, now_s, &standing) != LEDGER_OK) {
        return false;
    }
    if (standing.cycle != row->cycle || !due_stage_row(standing.stage)->tells) {
        (void)alerts_void(desk->ledger, row->id, now_s);
        return false;
    }
    if ((desk->dates_held && standing_by_calendar(&standing)) || standing.in_shop) {
        return false; /* it waits for a clock that is believed, or is in hand */
    }
    list_add(list, &standing, false);
    return true;
}

#define ALERTS_AT_ONCE 64

void notices_tell(const struct round *round)
{
    struct desk *desk = round->desk;
    struct list list = {.count = 0};
    struct sending sending = {.round = round, .list = &list};
    struct alert_row untold[ALERTS_AT_ONCE];
    bool taken[ALERTS_AT_ONCE];
    size_t count = 0;
    (void)alerts_untold(desk->ledger, ALERTS_AT_ONCE, untold, &count);
    for (size_t i = 0; i < count; i++) {
        taken[i] = take_alert(round, &untold[i], &list);
    }
    for (size_t i = 0; round->daily && i < round->count; i++) {
        if (is_to_be_reminded(desk, &round->standings[i], round->now_s)) {
            list_add(&list, &round->standings[i], true);
        }
    }
    if (list.count == 0) {
        return;
    }
    tell_crews(round, &list);
    suggest_days(round, &list);
    reachable_each(desk, -1, send_one, &sending);
    if (sending.text_id == 0 &&
        !sending.held_back) { /* it stays untold until somebody sends START */
        if (round->daily && ledger_fault(desk->ledger) == LEDGER_OK) {
            log_error("desk: an alert has no receiver: everybody of the shop has sent STOP");
        }
        return;
    }
    for (size_t i = 0; i < count; i++) {
        if (taken[i] && sending.text_id != 0) {
            (void)alerts_told(desk->ledger, untold[i].id, sending.text_id, round->now_s);
        }
    }
    /* The next reminder of each is an interval away, whichever text this one was. */
    for (size_t i = 0; i < list.count; i++) {
        char name[MARK_OCTETS];
        mark_name(desk, &list.rows[i], name);
        (void)marks_set(desk->ledger, name, round->now_s);
    }
}

/* ---- what nobody takes care of */

/* Since when the alert of being overdue stands in this cycle; 0 none. */
struct overdue {
    const struct yard_standing *standing;
    const char *plan;
    int64_t since_s;
};

static void overdue_see(void *ctx, const struct alert_row *row, bool is_void)
{
    struct overdue *overdue = ctx;
    if (!is_void && row->cycle == overdue->standing->cycle &&
        strcmp(row->plan, overdue->plan) == 0 &&
        strcmp(row->stage, due_stage_word(DUE_STAGE_OVERDUE)) == 0) {
        overdue->since_s = row->raised_s;
    }
}

static bool is_neglected(struct desk *desk, const struct yard_standing *standing, int64_t now_s)
{
    const char *plan = desk->settings->plans[standing->plan].name;
    struct overdue overdue = {.standing = standing, .plan = plan};
    int32_t today = zone_civil(now_s).day;
    if (standing->stage != DUE_STAGE_OVERDUE || standing_rests(standing, today)) {
        return false;
    }
    (void)alerts_each(desk->ledger, standing->machine_id, overdue_see, &overdue);
    struct alert_row row = {.machine_id = standing->machine_id,
                            .cycle = standing->cycle,
                            .cause_service_id = standing->cause_service_id,
                            .raised_s = now_s};
    return overdue.since_s != 0 &&
           today - zone_civil(overdue.since_s).day >= desk->settings->shop.escalate_days &&
           alert_once(desk->ledger, "escalated", plan, &row);
}

void notices_escalate(const struct round *round)
{
    const struct settings_shop *shop = &round->desk->settings->shop;
    struct list list = {.count = 0};
    for (size_t i = 0; shop->escalate_days > 0 && shop->escalate_to_count > 0 && i < round->count;
         i++) {
        if (is_neglected(round->desk, &round->standings[i], round->now_s)) {
            list_add(&list, &round->standings[i], false);
        }
    }
    for (size_t i = 0; list.count > 0 && i < shop->escalate_to_count; i++) {
        (void)send_text(round, &list, (int32_t)shop->escalate_to[i], shop->escalate_days);
    }
}
