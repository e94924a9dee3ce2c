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
#include "daemon/upkeep/kit.h"
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
#define KIT_SEGMENTS_MOST 2

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
    const struct desk *desk; /* whose list it tells */
    const struct wording *wording;
    int32_t today;
    size_t taken; /* the first so many of the list */
    bool sites;   /* where the machines work is said too */
    char body[TEXTS_REPLY_OCTETS];
};

/* The head and the machines taken, and how many more there are. */
static void write_alerts(struct telling *telling)
{
    const struct settings *settings = telling->desk->settings;
    const struct notices_list *list = &telling->desk->list;
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
    }
    size_t more = list->count - telling->taken + list->left_out;
    if (more > 0) {
        wording_set_number(&values, WORDING_COUNT, (int64_t)more);
        wording_append(telling->wording, WORDING_TELL_MORE, &values, telling->body,
                       sizeof telling->body);
    }
}

/* What to have ready, unless the text would grow beyond two texts of the air by it; whether it did. */
static bool add_kit(struct telling *telling)
{
    const struct notices_list *list = &telling->desk->list;
    struct wording_values values = {0};
    size_t length = strlen(telling->body);
    size_t segments = reply_segments(telling->body);
    if (telling->taken < list->count || list->left_out > 0 ||
        !kit_words(telling->desk->settings, list->rows, list->count, values.value[WORDING_LIST])) {
        return false;
    }
    wording_append(telling->wording, WORDING_TELL_KIT, &values, telling->body,
                   sizeof telling->body);
    bool fits = reply_segments(telling->body) <=
                (segments > KIT_SEGMENTS_MOST ? segments : KIT_SEGMENTS_MOST);
    if (!fits) {
        telling->body[length] = '\0';
    }
    return fits;
}

/* In a person's language, worst first, as many machines as a few texts of the air hold; and where
 * they work, unless that takes a text of the air more or the kit's place. */
static void write_text(struct telling *telling)
{
    telling->taken = telling->desk->list.count;
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

static void send_one(void *ctx, int32_t person)
{
    struct sending *sending = ctx;
    struct desk *desk = sending->desk;
    struct telling telling = {.desk = desk,
                              .wording = wording_of(desk->settings->people[person].language),
                              .today = zone_civil(sending->now_s).day};
    write_text(&telling);
    struct post_order order = {.person = person,
                               .kind = TEXTS_ALERT,
                               .body = telling.body,
                               .now_s = sending->now_s,
                               .shop_hours = true};
    int64_t text_id = post_queue(desk, &order);
    sending->text_id = text_id != 0 ? text_id : sending->text_id;
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

void notices_note(struct turn *turn, enum wording_key key, const struct wording_values *values)
{
    struct note note = {.turn = turn, .key = key, .values = values, .kind = TEXTS_NOTICE};
    reachable_each(turn->desk, note_one, &note);
}

void notices_urge(struct turn *turn, enum wording_key key, const struct wording_values *values)
{
    struct note note = {.turn = turn, .key = key, .values = values, .kind = TEXTS_ALERT};
    reachable_each(turn->desk, note_one, &note);
}

/* ---- reminders */

#define MARK_OCTETS 64

static void mark_name(const struct desk *desk, const struct yard_standing *standing, char *out)
{
    (void)snprintf(out, MARK_OCTETS, "told %s %s", desk->settings->machines[standing->machine].name,
                   desk->settings->plans[standing->plan].name);
}

/* Told before, and so many days ago; and not put off by LATER. What was never told is an alert's
 * business. */
static bool is_to_be_reminded(struct desk *desk, const struct yard_standing *standing,
                              int64_t now_s)
{
    int32_t days = desk->settings->plans[standing->plan].plan.remind_days;
    char name[MARK_OCTETS];
    int64_t told_s = 0;
    int64_t until_s = 0;
    mark_name(desk, standing, name);
    return days > 0 && due_stage_row(standing->stage)->reached &&
           marks_get(desk->ledger, name, &told_s) == LEDGER_OK &&
           zone_civil(now_s).day - zone_civil(told_s).day >= days &&
           machines_later(desk->ledger, standing->machine_id, &until_s) == LEDGER_OK &&
           until_s <= now_s;
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
    if (desk->dates_held && standing_by_calendar(&standing)) {
        return false; /* it waits for a clock that is believed */
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
    desk->list.count = 0;
    desk->list.left_out = 0;
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
    reachable_each(desk, send_one, &sending);
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
