/* SPDX-License-Identifier: MIT
 * summary: one text, in place of many. */
#include "daemon/desk/summary.h"

#include <stdlib.h>
#include <string.h>

#include "daemon/desk/post.h"
#include "daemon/desk/reachable.h"
#include "daemon/desk/room.h"
#include "daemon/desk/shop_hours.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/upkeep/civil.h"
#include "daemon/ground/zone.h"

#define MARK_SUMMARY "summary"
#define SEGMENTS_MOST 3
#define REMARK_SHOWN 81 /* octets of it, with NUL */

struct summary {
    struct desk *desk;
    int64_t since_s, now_s;
    bool weekly;
    int texts, strangers, set_aside;
    int due, coming, remarks;
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

/* A text in the making; each sentence is put behind a blank. */
struct draft {
    const struct summary *summary;
    const struct wording *wording;
    char body[TEXTS_REPLY_OCTETS];
    size_t length;
    int64_t left_out;
};

static void draft_add(struct draft *draft, enum wording_key key,
                      const struct wording_values *values)
{
    if (draft->length + 1 < sizeof draft->body) {
        draft->body[draft->length++] = ' ';
        draft->length += wording_write(draft->wording, key, values, draft->body + draft->length,
                                       sizeof draft->body - draft->length);
    }
}

/* A remark, unless that would make the text too long: then it is counted. */
static void draft_remark(void *ctx, const struct reading_row *row)
{
    struct draft *draft = ctx;
    struct desk *desk = draft->summary->desk;
    struct wording_values values = {0};
    char name[PEOPLE_NAME_OCTETS];
    size_t before = draft->length;
    if (machines_name(desk->ledger, row->machine_id, name) == LEDGER_OK) {
        wording_set(&values, WORDING_MACHINE, name);
    }
    if (people_name(desk->ledger, row->person_id, name) == LEDGER_OK) {
        wording_set(&values, WORDING_PERSON, name);
    }
    reply_plain(row->remark, strlen(row->remark), values.value[WORDING_WORDS], REMARK_SHOWN);
    draft_add(draft, WORDING_SUMMARY_REMARK, &values);
    if (draft->left_out > 0 || reply_segments(draft->body) > SEGMENTS_MOST) {
        draft->body[before] = '\0';
        draft->length = before;
        draft->left_out++;
    }
}

static enum ledger_result write_draft(struct draft *draft)
{
    const struct summary *summary = draft->summary;
    struct wording_values values = {0};
    wording_set(&values, WORDING_SHOP, summary->desk->settings->shop.name);
    wording_set_number(&values, WORDING_COUNT, summary->texts);
    wording_set_number(&values, WORDING_COUNT_DUE, summary->due);
    wording_set_number(&values, WORDING_COUNT_COMING, summary->coming);
    draft->length =
        wording_write(draft->wording, summary->weekly ? WORDING_SUMMARY : WORDING_TELL_HEAD,
                      &values, draft->body, sizeof draft->body);
    if (summary->strangers > 0) {
        wording_set_number(&values, WORDING_COUNT, summary->strangers);
        draft_add(draft, WORDING_SUMMARY_STRANGERS, &values);
    }
    if (summary->set_aside > 0) {
        wording_set_number(&values, WORDING_COUNT, summary->set_aside);
        draft_add(draft, WORDING_SUMMARY_SET_ASIDE, &values);
    }
    enum ledger_result result =
        readings_remarked_since(summary->desk->ledger, summary->since_s, draft_remark, draft);
    if (draft->left_out > 0) {
        wording_set_number(&values, WORDING_COUNT, draft->left_out);
        draft_add(draft, WORDING_DUE_MORE, &values);
    }
    return result;
}

static enum ledger_result send_one(void *ctx, int32_t person)
{
    struct summary *summary = ctx;
    struct desk *desk = summary->desk;
    struct draft draft = {.summary = summary,
                          .wording = wording_of(desk->settings->people[person].language)};
    enum ledger_result result = write_draft(&draft);
    struct post_order order = {.person = person,
                               .kind = TEXTS_SUMMARY,
                               .body = draft.body,
                               .now_s = summary->now_s,
                               .shop_hours = true};
    return result == LEDGER_OK ? post_queue(desk, &order, NULL) : result;
}

static void count_remark(void *ctx, const struct reading_row *row)
{
    (void)row;
    ((struct summary *)ctx)->remarks++;
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
    if (result == LEDGER_OK) {
        result = readings_remarked_since(desk->ledger, summary.since_s, count_remark, &summary);
    }
    bool needed =
        summary.weekly || summary.strangers > 0 || summary.set_aside > 0 || summary.remarks > 0;
    if (result != LEDGER_OK || !needed) {
        return result;
    }
    result = reachable_each(desk, send_one, &summary, &count);
    return result == LEDGER_OK ? marks_set(desk->ledger, MARK_SUMMARY, now_s) : result;
}
