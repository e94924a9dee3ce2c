/* SPDX-License-Identifier: MIT
 * summary: one text, in place of many. */
#include "daemon/desk/summary.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/desk/notices.h"
#include "daemon/desk/post.h"
#include "daemon/desk/room.h"
#include "daemon/desk/shop_hours.h"
#include "daemon/ledger/marks.h"
#include "daemon/upkeep/civil.h"
#include "daemon/zone.h"

#define MARK_SUMMARY "summary"
#define WEEK_DAYS 7

struct summary {
    struct desk *desk;
    int64_t since_s, now_s;
    bool weekly;
    int texts, strangers, set_aside;
    int due, coming;
};

static void count_text(void *ctx, const struct texts_line *line)
{
    struct summary *summary = ctx;
    if (line->incoming) {
        summary->texts++;
        summary->set_aside += strcmp(line->state, texts_state_word(TEXTS_SET_ASIDE)) == 0 ||
                              strcmp(line->state, texts_state_word(TEXTS_UNREADABLE)) == 0;
    }
}

static enum ledger_result count_machines(struct summary *summary)
{
    struct yard_standing *standings = NULL;
    size_t count = 0;
    enum ledger_result result =
        yard_stand_all(&summary->desk->yard, summary->now_s, &standings, &count);
    for (size_t i = 0; i < count && result == LEDGER_OK; i++) {
        summary->coming += standings[i].stage == DUE_STAGE_COMING_UP;
        summary->due +=
            standings[i].stage != DUE_STAGE_COMING_UP && standing_matters(&standings[i]);
    }
    free(standings);
    return result;
}

/* The week's first workday. */
static bool begins_week(const struct settings_shop *shop, int32_t day)
{
    for (int32_t before = day - civil_weekday(day); before < day; before++) {
        if (shop_hours_workday(shop, before)) {
            return false;
        }
    }
    return true;
}

static enum ledger_result send_one(void *ctx, int32_t person)
{
    const struct summary *summary = ctx;
    struct desk *desk = summary->desk;
    const struct wording *wording = wording_of(desk->settings->people[person].language);
    struct wording_values values = {0};
    char body[TEXTS_REPLY_OCTETS];
    size_t length;
    wording_set(&values, WORDING_SHOP, desk->settings->shop.name);
    wording_set_number(&values, WORDING_COUNT, summary->texts);
    wording_set_number(&values, WORDING_COUNT_DUE, summary->due);
    wording_set_number(&values, WORDING_COUNT_COMING, summary->coming);
    length = wording_write(wording, summary->weekly ? WORDING_SUMMARY : WORDING_TELL_HEAD, &values,
                           body, sizeof body);
    const struct {
        enum wording_key key;
        int count;
    } lines[] = {{WORDING_SUMMARY_STRANGERS, summary->strangers},
                 {WORDING_SUMMARY_SET_ASIDE, summary->set_aside}};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        if (lines[i].count > 0 && length + 1 < sizeof body) {
            body[length++] = ' ';
            wording_set_number(&values, WORDING_COUNT, lines[i].count);
            length +=
                wording_write(wording, lines[i].key, &values, body + length, sizeof body - length);
        }
    }
    struct post_order order = {.person = person,
                               .kind = TEXTS_SUMMARY,
                               .body = body,
                               .now_s = summary->now_s,
                               .shop_hours = true};
    return post_queue(desk, &order, NULL);
}

enum ledger_result summary_send(struct desk *desk, int64_t now_s)
{
    struct summary summary = {.desk = desk, .now_s = now_s};
    int count = 0;
    summary.weekly = begins_week(&desk->settings->shop, zone_civil(now_s).day);
    enum ledger_result result = marks_get(desk->ledger, MARK_SUMMARY, &summary.since_s);
    if (result == LEDGER_NONE) {
        return marks_set(desk->ledger, MARK_SUMMARY,
                         now_s); /* the first one has a day to tell of */
    }
    if (result == LEDGER_OK) {
        result = texts_each(desk->ledger, summary.since_s, now_s, count_text, &summary);
    }
    if (result == LEDGER_OK) {
        result = texts_strangers_since(desk->ledger, summary.since_s, &summary.strangers);
    }
    if (result == LEDGER_OK) {
        result = count_machines(&summary);
    }
    bool needed = summary.weekly || summary.strangers > 0 || summary.set_aside > 0;
    if (result != LEDGER_OK || !needed) {
        return result;
    }
    result = notices_each_shop(desk, send_one, &summary, &count);
    return result == LEDGER_OK ? marks_set(desk->ledger, MARK_SUMMARY, now_s) : result;
}
