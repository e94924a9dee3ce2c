/* SPDX-License-Identifier: MIT
 * post: texts out. A runaway bill and a loop between two machines are stopped by caps: so many
 * texts an hour in all (the config's), of which a quarter is kept for the shop's alerts, so that
 * chatter starves none; and so many an hour to one number (common practice, no source). What waits
 * for a number is bounded too, by an hour's worth: of a phone that goes on and on the newest
 * replies are worth most, and a queue that grew for ever would make each text dearer. */
#include "daemon/desk/post.h"

#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/turn.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/yard/bay.h"
#include "parsers/tpdu_write.h"

/* ---- who may be texted, and when */

#define LOOK_AHEAD_DAYS 366

int64_t shop_hours_next(const struct settings_shop *shop, int64_t at_s)
{
    int32_t today = zone_civil(at_s).day;
    for (int32_t day = today; day < today + LOOK_AHEAD_DAYS; day++) {
        int64_t from_s = zone_unix(day, shop->alert_from_minute * 60);
        int64_t until_s = zone_unix(day, shop->alert_until_minute * 60);
        if (bay_open_on(shop, day) && at_s < until_s) {
            return at_s > from_s ? at_s : from_s;
        }
    }
    return at_s;
}

static bool covers(const struct settings_person *person, const char *site)
{
    bool found = person->site_count == 0;
    for (size_t i = 0; i < person->site_count; i++) {
        found = found || strcmp(person->sites[i], site) == 0;
    }
    return found;
}

bool hears(const struct settings *settings, int32_t person, int32_t machine)
{
    if (machine < 0 || covers(&settings->people[person], settings->machines[machine].site)) {
        return true;
    }
    for (size_t i = 0; i < settings->person_count; i++) {
        if (settings->people[i].role == SETTINGS_ROLE_SHOP &&
            covers(&settings->people[i], settings->machines[machine].site)) {
            return false;
        }
    }
    return true;
}

void reachable_each(struct desk *desk, int32_t machine, void (*each)(void *ctx, int32_t person),
                    void *ctx)
{
    for (size_t i = 0; i < desk->settings->person_count; i++) {
        const struct settings_person *person = &desk->settings->people[i];
        int64_t person_id = 0;
        int64_t since_s = 0;
        if (person->role == SETTINGS_ROLE_SHOP && hears(desk->settings, (int32_t)i, machine) &&
            people_id(desk->ledger, person->name, &person_id) == LEDGER_OK &&
            people_opted_out(desk->ledger, person_id, &since_s) == LEDGER_OK && since_s == 0) {
            each(ctx, (int32_t)i);
        }
    }
}

/* ---- into the queue */

#define REPLY_WORTH_S (12 * 3600)
#define QUESTION_WORTH_S (24 * 3600)
#define ALERT_WORTH_S (7 * 24 * 3600)

/* A cap lifts as its hour moves on: looked at again so often. */
#define CAPPED_S 300

/* How long it is worth saying. */
static const int64_t worth_s[] = {[TEXTS_REPLY] = REPLY_WORTH_S,
                                  [TEXTS_QUESTION] = QUESTION_WORTH_S,
                                  [TEXTS_ALERT] = ALERT_WORTH_S,
                                  [TEXTS_SUMMARY] = ALERT_WORTH_S,
                                  [TEXTS_NOTICE] = ALERT_WORTH_S};

/* Texts to the shop pass the caps of replies. */
static bool is_reply(enum texts_kind kind)
{
    return kind == TEXTS_REPLY || kind == TEXTS_QUESTION;
}

int64_t post_queue(struct desk *desk, const struct post_order *order)
{
    const struct settings_person *person = &desk->settings->people[order->person];
    int64_t now_s = order->now_s - desk->ahead_s; /* by the clock that the queue goes by */
    struct texts_outgoing outgoing = {.phone = person->phone,
                                      .body = order->body,
                                      .kind = order->kind,
                                      .urgent = order->urgent,
                                      .about_text_id = order->about_text_id,
                                      .parts = (uint8_t)reply_segments(order->body),
                                      .created_s = now_s};
    int64_t since_s = 0;
    int64_t text_id = 0;
    (void)people_id(desk->ledger, person->name, &outgoing.person_id);
    (void)people_opted_out(desk->ledger, outgoing.person_id, &since_s);
    if ((since_s != 0 && !order->to_opted_out) || order->body[0] == '\0' || outgoing.parts == 0) {
        return 0;
    }
    outgoing.not_before_s =
        order->shop_hours ? shop_hours_next(&desk->settings->shop, now_s) : now_s;
    outgoing.expires_s = outgoing.not_before_s + worth_s[order->kind];
    (void)texts_queue(desk->ledger, &outgoing, &text_id);
    if (is_reply(order->kind)) {
        (void)texts_give_way(desk->ledger, person->phone, desk->settings->shop.texts_per_number,
                             now_s);
    }
    return text_id;
}

void post_say(struct desk *desk, const struct post_order *order, enum wording_key key,
              const struct wording_values *values)
{
    char body[WORDING_SENTENCE_OCTETS];
    struct post_order whole = *order;
    whole.body = body;
    (void)wording_write(wording_of(desk->settings->people[order->person].language), key, values,
                        body, sizeof body);
    (void)post_queue(desk, &whole);
}

/* ---- out of the queue */

/* How long the part has to wait for its caps; 0 it may go. A quarter of the ceilings over all texts is
 * for the shop alone. */
static int64_t capped_s(struct desk *desk, const struct texts_part *part, int64_t now_s)
{
    const struct settings_shop *shop = &desk->settings->shop;
    bool reply = is_reply(part->kind);
    int32_t an_hour =
        reply ? shop->texts_per_hour - shop->texts_per_hour / 4 : shop->texts_per_hour;
    int32_t a_day = reply ? shop->texts_per_day - shop->texts_per_day / 4 : shop->texts_per_day;
    struct texts_sent sent;
    if (texts_count_sent(desk->ledger, part->phone, now_s - POST_HOUR_S, now_s - POST_DAY_S,
                         &sent) != LEDGER_OK) {
        return 60;
    }
    bool capped = (reply && sent.to_number >= shop->texts_per_number) || sent.in_hour >= an_hour ||
                  sent.in_day >= a_day;
    return capped ? CAPPED_S : 0;
}

/* Once an hour at most, or the log would grow by what the caps hold back. */
static void say_capped(struct desk *desk, int64_t now_s)
{
    if (now_s - desk->capped_said_s >= POST_HOUR_S) {
        desk->capped_said_s = now_s;
        log_warnx("post: too many texts in the last hour or day: some wait (texts_per_hour, "
                  "texts_per_day, texts_per_number)");
    }
}

/* The receiver has opted out since, or is on the roster no more. */
static bool unwanted(struct desk *desk, const struct texts_part *part)
{
    int64_t since_s = 0;
    if (settings_find_phone(desk->settings, part->phone) < 0) {
        return true;
    }
    return people_opted_out(desk->ledger, part->person_id, &since_s) == LEDGER_OK &&
           since_s > part->created_s;
}

static bool write_part(const struct texts_part *row, bool reports, struct part *part)
{
    struct tpdu_split split;
    size_t length = strlen(row->body);
    if (tpdu_split(row->body, length, (struct tpdu_split_choice){0}, &split) != TPDU_OK ||
        row->part == 0 || row->part > split.parts) {
        return false;
    }
    struct tpdu_submit_order order = {
        .to = row->phone,
        .part = tpdu_split_part(&split, row->body, row->part - 1u, row->concat_reference),
        .report_wanted = reports,
        .validity_s = is_reply(row->kind) ? QUESTION_WORTH_S : ALERT_WORTH_S};
    part->id = row->part_id;
    part->tries = row->tries;
    return tpdu_write_submit(&order, &part->line) == TPDU_OK;
}

/* Settles one waiting part inside the open transaction. */
enum verdict { VERDICT_GO, VERDICT_NEXT, VERDICT_STOP };

static enum verdict consider(struct desk *desk, int64_t now_s, struct part *part, int64_t *next_s)
{
    struct texts_part *row = &desk->part;
    if (texts_next_part(desk->ledger, now_s, row, next_s) != LEDGER_OK) {
        return VERDICT_STOP;
    }
    if (unwanted(desk, row) || !write_part(row, desk->settings->modem.reports, part)) {
        return texts_part_ended(desk->ledger, row->part_id, TEXTS_PART_FAILED, -1,
                                TEXTS_CAUSE_UNWANTED, now_s) == LEDGER_OK
                   ? VERDICT_NEXT
                   : VERDICT_STOP;
    }
    /* What has begun to go goes to its end. */
    int64_t wait_s = row->part == 1 && !row->urgent ? capped_s(desk, row, now_s) : 0;
    if (wait_s > 0) {
        say_capped(desk, now_s);
        return texts_part_again(desk->ledger, row->part_id, now_s + wait_s, -1) == LEDGER_OK
                   ? VERDICT_NEXT
                   : VERDICT_STOP;
    }
    return texts_part_handed_over(desk->ledger, row->part_id, now_s) == LEDGER_OK ? VERDICT_GO
                                                                                  : VERDICT_STOP;
}

/* The modem asks as soon as it has deleted the text; what it did not ask for so long is thought over. */
#define READY_WORTH_S 60

bool post_make_ready(struct desk *desk, int64_t now_s)
{
    enum verdict verdict = VERDICT_NEXT;
    int64_t next_s = 0;
    if (desk->has_ready || desk->under_way || now_s == 0 ||
        ledger_savepoint(desk->ledger) != LEDGER_OK) {
        return false;
    }
    while (verdict == VERDICT_NEXT) {
        verdict = consider(desk, now_s, &desk->ready, &next_s);
    }
    desk->has_ready = ledger_release(desk->ledger) == LEDGER_OK && verdict == VERDICT_GO;
    desk->ready_s = now_s;
    desk->ready_person_id = desk->part.person_id;
    return desk->has_ready;
}

void post_doubt_ready(struct desk *desk)
{
    desk->ready_s = -READY_WORTH_S - 1;
}

bool post_put_back(struct desk *desk)
{
    if (desk->has_ready && ledger_begin(desk->ledger) == LEDGER_OK) {
        enum ledger_result put =
            ledger_end(desk->ledger, texts_part_put_back(desk->ledger, desk->ready.id));
        /* None there: it went with the transaction that failed. */
        desk->has_ready = put != LEDGER_OK && put != LEDGER_NONE;
    }
    return !desk->has_ready;
}

/* As good as when it was made ready: nobody has said STOP since. */
static bool is_fresh(struct desk *desk, int64_t now_s)
{
    int64_t since_s = 0;
    return now_s >= desk->ready_s && now_s - desk->ready_s <= READY_WORTH_S &&
           people_opted_out(desk->ledger, desk->ready_person_id, &since_s) == LEDGER_OK &&
           since_s <= desk->ready_s;
}

bool desk_next_part(struct desk *desk, struct instant now, struct part *part, int64_t *next_s)
{
    int64_t now_s = desk_time(desk, now);
    *next_s = 0;
    if (now_s == 0) { /* the shop's hours, and what has expired, are not known either */
        return false;
    }
    if (desk->has_ready && is_fresh(desk, now_s)) {
        *part = desk->ready;
        desk->has_ready = false;
        desk->under_way = true;
        return true;
    }
    if (!post_put_back(desk)) {
        *next_s = now.wall_s + 60;
        return false;
    }
    /* Looked at first without a transaction: nothing is written while nothing is to go. */
    if (texts_next_part(desk->ledger, now_s, &desk->part, next_s) == LEDGER_NONE) {
        *next_s += *next_s > 0 ? now.wall_s - now_s : 0; /* by the box's clock again */
        return false;
    }
    if (ledger_begin(desk->ledger) != LEDGER_OK) {
        *next_s = now.wall_s + 60;
        return false;
    }
    enum verdict verdict = VERDICT_NEXT;
    while (verdict == VERDICT_NEXT) {
        verdict = consider(desk, now_s, part, next_s);
    }
    if (ledger_end(desk->ledger, LEDGER_OK) != LEDGER_OK) {
        *next_s = now.wall_s + 60;
        return false;
    }
    *next_s += *next_s > 0 ? now.wall_s - now_s : 0;
    desk->under_way = verdict == VERDICT_GO;
    return desk->under_way;
}

void desk_part_ended(struct desk *desk, const struct part_result *result, struct instant now)
{
    static const enum texts_part_state states[] = {[PART_FATE_TAKEN] = TEXTS_PART_TAKEN,
                                                   [PART_FATE_REFUSED] = TEXTS_PART_FAILED,
                                                   [PART_FATE_UNKNOWN] = TEXTS_PART_UNKNOWN};
    int64_t now_s = desk_time_or_wall(desk, now), id = result->part_id;
    desk->under_way = false;
    enum ledger_result noted = ledger_begin(desk->ledger);
    if (noted == LEDGER_OK) {
        int64_t again_s = now_s + result->retry_after_ms / 1000;
        (void)(result->fate == PART_FATE_RETRY
                   ? texts_part_again(desk->ledger, id, again_s, result->cause)
                   : texts_part_ended(desk->ledger, id, states[result->fate], result->reference,
                                      result->cause, now_s));
        noted = ledger_end(desk->ledger, LEDGER_OK);
    }
    if (noted != LEDGER_OK) {
        log_error("post: how a text fared could not be noted: %s", ledger_says(desk->ledger));
    }
}
