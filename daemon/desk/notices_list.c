/* SPDX-License-Identifier: MIT
 * notices_list: several machines in one text. */
#include "daemon/desk/notices_list.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/kit_words.h"
#include "daemon/desk/post.h"
#include "daemon/desk/reachable.h"
#include "daemon/desk/room.h"
#include "daemon/ground/zone.h"

#define NOTICES_SEGMENTS_MOST 3
#define KIT_SEGMENTS_MOST 2

void notices_list_clear(struct notices_list *list)
{
    list->count = 0;
    list->left_out = 0;
}

void notices_list_add(struct notices_list *list, const struct yard_standing *standing)
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
    while (at > 0 && standing_before(standing, &list->rows[at - 1])) {
        list->rows[at] = list->rows[at - 1];
        at--;
    }
    list->rows[at] = *standing;
}

static enum wording_key tell_key(const struct yard_standing *standing)
{
    bool calendar = standing_by_calendar(standing);
    switch (standing->stage) {
    case DUE_STAGE_DUE:
        return calendar ? WORDING_TELL_DUE_CALENDAR : WORDING_TELL_DUE;
    case DUE_STAGE_OVERDUE:
        return calendar ? WORDING_TELL_OVERDUE_CALENDAR : WORDING_TELL_OVERDUE;
    case DUE_STAGE_NO_RECORD:
        return WORDING_TELL_NO_RECORD;
    case DUE_STAGE_COMING_UP:
    case DUE_STAGE_FINE:
    case DUE_STAGE_PARKED:
    case DUE_STAGE_UNREAD:
        break;
    }
    if (calendar) {
        return WORDING_TELL_COMING_CALENDAR;
    }
    return standing->has_forecast ? WORDING_TELL_COMING : WORDING_TELL_COMING_HOURS;
}

/* One text as it is being made. */
struct telling {
    const struct desk *desk;
    const struct notices_list *list;
    const struct wording *wording;
    int32_t today;
    size_t taken; /* the first so many of the list */
    bool sites;   /* where the machines work is said too */
    char *out;
    size_t size;
};

static void set_site(const struct telling *telling, int32_t machine, struct wording_values *values)
{
    const char *site = telling->desk->settings->machines[machine].site;
    char words[WORDING_VALUE_OCTETS] = "";
    if (telling->sites && site[0] != '\0') {
        (void)snprintf(words, sizeof words, " (%s)", site);
    }
    wording_set(values, WORDING_SITE, words);
}

/* The head and the machines taken, and how many more there are. */
static void write_alerts(const struct telling *telling)
{
    const struct notices_list *list = telling->list;
    const struct wording *wording = telling->wording;
    char *out = telling->out;
    size_t size = telling->size;
    struct wording_values values = {0};
    wording_set(&values, WORDING_SHOP, telling->desk->settings->shop.name);
    size_t length = wording_write(wording, WORDING_TELL_HEAD, &values, out, size);
    for (size_t i = 0; i < telling->taken && length + 1 < size; i++) {
        const struct yard_standing *row = &list->rows[i];
        out[length++] = ' ';
        standing_values(telling->desk, row, wording, telling->today, &values);
        set_site(telling, row->machine, &values);
        length += wording_write(wording, tell_key(row), &values, out + length, size - length);
    }
    size_t more = list->count - telling->taken + list->left_out;
    if (more > 0 && length + 1 < size) {
        out[length++] = ' ';
        wording_set_number(&values, WORDING_COUNT, (int64_t)more);
        (void)wording_write(wording, WORDING_TELL_MORE, &values, out + length, size - length);
    }
}

/* What to have ready, unless the text would grow beyond two texts of the air by it; whether it did. */
static bool add_kit(const struct telling *telling)
{
    const struct notices_list *list = telling->list;
    struct wording_values values = {0};
    char *out = telling->out;
    size_t length = strlen(out);
    size_t segments = reply_segments(out);
    size_t most = segments > KIT_SEGMENTS_MOST ? segments : KIT_SEGMENTS_MOST;
    if (telling->taken < list->count || list->left_out > 0 || length + 2 > telling->size ||
        !kit_words(telling->desk->settings, list->rows, list->count, values.value[WORDING_LIST])) {
        return false;
    }
    out[length] = ' ';
    (void)wording_write(telling->wording, WORDING_TELL_KIT, &values, out + length + 1,
                        telling->size - length - 1);
    if (reply_segments(out) > most) {
        out[length] = '\0';
        return false;
    }
    return true;
}

/* Where the machines work, unless it takes a text of the air more or the kit's place. */
static void add_sites(const struct telling *telling, bool has_kit)
{
    char body[TEXTS_REPLY_OCTETS];
    struct telling sited = *telling;
    sited.sites = true;
    sited.out = body;
    sited.size = sizeof body;
    write_alerts(&sited);
    if (add_kit(&sited) == has_kit && reply_segments(body) == reply_segments(telling->out)) {
        (void)snprintf(telling->out, telling->size, "%s", body);
    }
}

void notices_list_write(const struct desk *desk, const struct notices_list *list,
                        const struct wording *wording, int32_t today, char *out, size_t size)
{
    struct telling telling = {.desk = desk,
                              .list = list,
                              .wording = wording,
                              .today = today,
                              .taken = list->count,
                              .out = out,
                              .size = size};
    write_alerts(&telling);
    while (telling.taken > 1 && reply_segments(out) > NOTICES_SEGMENTS_MOST) {
        telling.taken--;
        write_alerts(&telling);
    }
    bool has_kit = add_kit(&telling);
    add_sites(&telling, has_kit);
}

struct sending {
    struct desk *desk;
    const struct notices_list *list;
    int64_t now_s;
    int64_t text_id;
};

static enum ledger_result send_one(void *ctx, int32_t person)
{
    struct sending *sending = ctx;
    struct desk *desk = sending->desk;
    char body[TEXTS_REPLY_OCTETS];
    notices_list_write(desk, sending->list, wording_of(desk->settings->people[person].language),
                       zone_civil(sending->now_s).day, body, sizeof body);
    struct post_order order = {.person = person,
                               .kind = TEXTS_ALERT,
                               .body = body,
                               .now_s = sending->now_s,
                               .shop_hours = true};
    return post_queue(desk, &order, &sending->text_id);
}

enum ledger_result notices_list_send(struct desk *desk, const struct notices_list *list,
                                     int64_t now_s, int64_t *text_id)
{
    int count = 0;
    struct sending sending = {.desk = desk, .list = list, .now_s = now_s};
    enum ledger_result result = reachable_each(desk, send_one, &sending, &count);
    *text_id = sending.text_id;
    return result;
}
