/* SPDX-License-Identifier: MIT
 * notices: alerts into texts, several machines in one. The figures are those of the moment of
 * telling, so that an alert of Friday night reads right on Monday; one whose cause is gone by then is
 * void. */
#include "daemon/desk/notices.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/post.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
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

#define NOTICES_SEGMENTS_MOST 3

/* ---- several machines in one text */

/* Each machine and plan once. */
static void list_add(struct notices_list *list, const struct yard_standing *standing)
{
    for (size_t i = 0; i < list->count; i++) {
        if (list->rows[i].machine == standing->machine && list->rows[i].plan == standing->plan) {
            return;
        }
    }
    if (list->count == NOTICES_LIST_MAX) {
        list->left_out++;
        return;
    }
    /* Kept in order of worry, by insertion. */
    size_t at = list->count++;
    while (at > 0 && yard_worst_first(standing, &list->rows[at - 1]) < 0) {
        list->rows[at] = list->rows[at - 1];
        at--;
    }
    list->rows[at] = *standing;
}

/* One text as it is being made, in one language. */
struct telling {
    const struct desk *desk;
    const struct notices_list *list;
    const struct wording *wording;
    enum wording_key end; /* a sentence at the end, with that count; WORDING_KEYS none */
    int64_t end_count;
    int32_t today;
    size_t taken; /* the first so many of the list */
    bool sites;   /* where the machines work is said too */
    char body[TEXTS_REPLY_OCTETS];
};

/* The head and the machines taken, and how many more there are. */
static void write_alerts(struct telling *telling)
{
    const struct settings *settings = telling->desk->settings;
    const struct notices_list *list = telling->list;
    struct wording_values values = {0};
    wording_set(&values, WORDING_SHOP, settings->shop.name);
    (void)wording_write(telling->wording, WORDING_TELL_HEAD, &values, telling->body,
                        sizeof telling->body);
    for (size_t i = 0; i < telling->taken; i++) {
        const struct yard_standing *row = &list->rows[i];
        const char *site = settings->machines[row->machine].site;
        standing_values(telling->desk, row, telling->wording, telling->today, &values);
        wording_set(&values, WORDING_SITE, "");
        if (telling->sites && site[0] != '\0') {
            (void)snprintf(values.value[WORDING_SITE], WORDING_VALUE_OCTETS, " (%s)", site);
        }
        wording_append(telling->wording, standing_tell_key(row), &values, telling->body,
                       sizeof telling->body);
        if (row->booked || list->has_day[i]) {
            wording_set_day(&values, WORDING_DAY, telling->wording,
                            row->booked ? row->booked_day : list->days[i], telling->today);
            wording_append(telling->wording,
                           row->booked ? WORDING_BOOKED_FOR : WORDING_TELL_SUGGESTED, &values,
                           telling->body, sizeof telling->body);
        }
    }
    if (telling->end != WORDING_KEYS) {
        wording_set_number(&values, WORDING_COUNT, telling->end_count);
        wording_append(telling->wording, telling->end, &values, telling->body,
                       sizeof telling->body);
    }
    size_t more = list->count - telling->taken + list->left_out;
    if (more > 0) {
        wording_set_number(&values, WORDING_COUNT, (int64_t)more);
        wording_append(telling->wording, WORDING_TELL_MORE, &values, telling->body,
                       sizeof telling->body);
    }
}

/* What to have ready, unless the text would grow by more than one text of the air by it, or beyond a
 * few; whether it did. */
static bool add_kit(struct telling *telling)
{
    const struct notices_list *list = telling->list;
    struct wording_values values = {0};
    size_t length = strlen(telling->body);
    size_t segments = reply_segments(telling->body);
    if (telling->taken < list->count || list->left_out > 0 ||
        !kit_words(telling->desk->settings, list->rows, list->count, values.value[WORDING_LIST])) {
        return false;
    }
    wording_append(telling->wording, WORDING_TELL_KIT, &values, telling->body,
                   sizeof telling->body);
    size_t grown = reply_segments(telling->body);
    bool fits = grown <= segments + 1 && grown <= NOTICES_SEGMENTS_MOST;
    if (!fits) {
        telling->body[length] = '\0';
    }
    return fits;
}

/* In a person's language, worst first, as many machines as a few texts of the air hold; and where
 * they work, unless that takes a text of the air more or the kit's place. */
static void write_text(struct telling *telling)
{
    telling->taken = telling->list->count;
    write_alerts(telling);
    while (telling->taken > 1 && reply_segments(telling->body) > NOTICES_SEGMENTS_MOST) {
        telling->taken--;
        write_alerts(telling);
    }
    bool has_kit = add_kit(telling);
    struct telling sited = *telling;
    sited.sites = true;
    write_alerts(&sited);
    if (add_kit(&sited) == has_kit && reply_segments(sited.body) == reply_segments(telling->body)) {
        *telling = sited;
    }
}

struct sending {
    struct desk *desk;
    int64_t now_s;
    int64_t text_id; /* one of the texts, 0 where nobody may be told */
};

/* Of the desk's list what that person is told of. */
static struct notices_list list_for(const struct desk *desk, int32_t person)
{
    const struct notices_list *all = &desk->list;
    struct notices_list mine = {
        .left_out = desk->settings->people[person].site_count == 0 ? all->left_out : 0};
    for (size_t i = 0; i < all->count; i++) {
        if (hears(desk->settings, person, all->rows[i].machine)) {
            mine.rows[mine.count] = all->rows[i];
            mine.has_day[mine.count] = all->has_day[i];
            mine.days[mine.count++] = all->days[i];
        }
    }
    return mine;
}

static void send_one(void *ctx, int32_t person)
{
    struct sending *sending = ctx;
    struct desk *desk = sending->desk;
    struct notices_list mine = list_for(desk, person);
    struct telling telling = {.desk = desk,
                              .list = &mine,
                              .wording = wording_of(desk->settings->people[person].language),
                              .end = WORDING_KEYS,
                              .today = zone_civil(sending->now_s).day};
    if (mine.count == 0) {
        return;
    }
    write_text(&telling);
    struct post_order order = {.person = person,
                               .kind = TEXTS_ALERT,
                               .body = telling.body,
                               .now_s = sending->now_s,
                               .shop_hours = true};
    int64_t text_id = post_queue(desk, &order);
    sending->text_id = text_id != 0 ? text_id : sending->text_id;
}

/* ---- to the crew */

/* Who read it last, where that is one of the crews; else the first who looks after it; -1 nobody. */
static int32_t reader_of(struct desk *desk, int32_t machine, int64_t now_s)
{
    const struct settings *settings = desk->settings;
    const struct settings_machine *row = &settings->machines[machine];
    struct reading_row last = {.person_id = 0};
    char name[PEOPLE_NAME_OCTETS] = "";
    int64_t machine_id = 0;
    size_t count = 0;
    (void)machines_id(desk->ledger, row->name, &machine_id);
    (void)readings_latest(desk->ledger, machine_id, now_s, 1, &last, &count);
    (void)people_name(desk->ledger, last.person_id, name);
    int32_t person = name[0] != '\0' ? settings_find_person(settings, name) : -1;
    if (person >= 0 && settings->people[person].role == SETTINGS_ROLE_CREW) {
        return person;
    }
    return row->crew_count > 0 ? (int32_t)row->crew[0] : -1;
}

/* Whether any plan of the machine is one that its crew is told of. */
static bool tells_crew(const struct settings *settings, int32_t machine)
{
    const struct settings_kind *kind = yard_kind(settings, machine);
    bool tells = kind->plan_count == 0;
    for (size_t i = 0; i < kind->plan_count; i++) {
        tells = tells || settings->plans[kind->plans[i]].tell_crew;
    }
    return tells;
}

void notices_crew(struct turn *turn, int32_t machine, enum wording_key key, int32_t day)
{
    struct desk *desk = turn->desk;
    int32_t person = reader_of(desk, machine, turn->now_s);
    if (person < 0 || !tells_crew(desk->settings, machine)) {
        return;
    }
    struct wording_values values = turn_values(turn, machine, -1);
    wording_set_day(&values, WORDING_DAY, wording_of(desk->settings->people[person].language), day,
                    turn->today);
    struct post_order order = {.person = person,
                               .kind = TEXTS_NOTICE,
                               .about_text_id = turn->text_id,
                               .now_s = turn->now_s,
                               .shop_hours = true};
    post_say(desk, &order, key, &values);
}

/* What one machine's crew hears of a service that is due. */
static void append_due(const struct desk *desk, const struct yard_standing *row,
                       const struct wording *wording, int32_t today, char *body, size_t size)
{
    struct wording_values values = {0};
    standing_values(desk, row, wording, today, &values);
    wording_append(wording,
                   row->stage == DUE_STAGE_OVERDUE ? WORDING_CREW_OVERDUE : WORDING_CREW_DUE,
                   &values, body, size);
    if (standing_rests(row, today)) {
        wording_set_day(&values, WORDING_DAY, wording, row->booked_day, today);
        wording_append(wording, WORDING_BRING_ON, &values, body, size);
    } else {
        wording_append(wording, WORDING_BRING, &values, body, size);
    }
}

/* Of each machine in the list that is due, whoever read it last hears once: several as one text. */
static void tell_crews(struct desk *desk, int64_t now_s)
{
    const struct settings *settings = desk->settings;
    const struct notices_list *list = &desk->list;
    int32_t today = zone_civil(now_s).day;
    int32_t readers[NOTICES_LIST_MAX];
    for (size_t i = 0; i < list->count; i++) {
        const struct yard_standing *row = &list->rows[i];
        bool tells = due_stage_row(row->stage)->reached && !row->in_shop &&
                     settings->plans[row->plan].tell_crew;
        readers[i] = tells ? reader_of(desk, row->machine, now_s) : -1;
    }
    for (size_t i = 0; i < list->count; i++) {
        char body[TEXTS_REPLY_OCTETS];
        int32_t person = readers[i];
        if (person < 0) {
            continue;
        }
        const struct wording *wording = wording_of(settings->people[person].language);
        struct wording_values values = {0};
        wording_set(&values, WORDING_SHOP, settings->shop.name);
        size_t head = wording_write(wording, WORDING_TELL_HEAD, &values, body, sizeof body);
        for (size_t k = i; k < list->count; k++) {
            if (readers[k] == person && standing_crew_once(desk, &list->rows[k], now_s)) {
                append_due(desk, &list->rows[k], wording, today, body, sizeof body);
            }
            readers[k] = readers[k] == person ? -1 : readers[k];
        }
        struct post_order order = {.person = person,
                                   .kind = TEXTS_NOTICE,
                                   .body = body[head] != '\0' ? body : "",
                                   .now_s = now_s,
                                   .shop_hours = true};
        (void)post_queue(desk, &order);
    }
}

#define NOON_S (12 * 3600)

/* The days on which the bay has room for what is neither booked nor in the shop. */
static void suggest_days(const struct round *round)
{
    struct notices_list *list = &round->desk->list;
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

/* ---- one sentence to everybody */

struct note {
    struct turn *turn;
    enum wording_key key;
    const struct wording_values *values;
    enum texts_kind kind;
};

static void note_one(void *ctx, int32_t person)
{
    const struct note *note = ctx;
    struct post_order order = {.person = person,
                               .kind = note->kind,
                               .about_text_id = note->turn->text_id,
                               .now_s = note->turn->now_s,
                               .shop_hours = true};
    if (person != note->turn->person) {
        post_say(note->turn->desk, &order, note->key, note->values);
    }
}

void notices_note(struct turn *turn, int32_t machine, enum wording_key key,
                  const struct wording_values *values)
{
    struct note note = {.turn = turn, .key = key, .values = values, .kind = TEXTS_NOTICE};
    reachable_each(turn->desk, machine, note_one, &note);
}

void notices_urge(struct turn *turn, int32_t machine, enum wording_key key,
                  const struct wording_values *values)
{
    struct note note = {.turn = turn, .key = key, .values = values, .kind = TEXTS_ALERT};
    reachable_each(turn->desk, machine, note_one, &note);
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
static bool take_alert(struct desk *desk, const struct alert_row *row, int64_t now_s)
{
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
    list_add(&desk->list, &standing);
    return true;
}

#define ALERTS_AT_ONCE 64

void notices_tell(const struct round *round)
{
    struct desk *desk = round->desk;
    struct sending sending = {.desk = desk, .now_s = round->now_s};
    struct alert_row untold[ALERTS_AT_ONCE];
    bool taken[ALERTS_AT_ONCE];
    size_t count = 0;
    desk->list = (struct notices_list){.count = 0};
    (void)alerts_untold(desk->ledger, ALERTS_AT_ONCE, untold, &count);
    for (size_t i = 0; i < count; i++) {
        taken[i] = take_alert(desk, &untold[i], round->now_s);
    }
    for (size_t i = 0; round->daily && i < round->count; i++) {
        if (is_to_be_reminded(desk, &round->standings[i], round->now_s)) {
            list_add(&desk->list, &round->standings[i]);
        }
    }
    if (desk->list.count == 0) {
        return;
    }
    tell_crews(desk, round->now_s);
    suggest_days(round);
    reachable_each(desk, -1, send_one, &sending);
    if (sending.text_id == 0) { /* it stays untold until somebody sends START */
        if (round->daily && ledger_fault(desk->ledger) == LEDGER_OK) {
            log_error("desk: an alert has no receiver: everybody of the shop has sent STOP");
        }
        return;
    }
    for (size_t i = 0; i < count; i++) {
        if (taken[i]) {
            (void)alerts_told(desk->ledger, untold[i].id, sending.text_id, round->now_s);
        }
    }
    /* The next reminder of each is an interval away. */
    for (size_t i = 0; i < desk->list.count; i++) {
        char name[MARK_OCTETS];
        mark_name(desk, &desk->list.rows[i], name);
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
    struct desk *desk = round->desk;
    const struct settings_shop *shop = &desk->settings->shop;
    desk->list = (struct notices_list){.count = 0};
    for (size_t i = 0; shop->escalate_days > 0 && shop->escalate_to_count > 0 && i < round->count;
         i++) {
        if (is_neglected(desk, &round->standings[i], round->now_s)) {
            list_add(&desk->list, &round->standings[i]);
        }
    }
    for (size_t i = 0; desk->list.count > 0 && i < shop->escalate_to_count; i++) {
        const struct settings_person *person = &desk->settings->people[shop->escalate_to[i]];
        struct telling telling = {.desk = desk,
                                  .list = &desk->list,
                                  .wording = wording_of(person->language),
                                  .end = WORDING_TELL_ESCALATED,
                                  .end_count = shop->escalate_days,
                                  .today = zone_civil(round->now_s).day};
        write_text(&telling);
        struct post_order order = {.person = (int32_t)shop->escalate_to[i],
                                   .kind = TEXTS_ALERT,
                                   .body = telling.body,
                                   .now_s = round->now_s,
                                   .shop_hours = true};
        (void)post_queue(desk, &order);
    }
}
