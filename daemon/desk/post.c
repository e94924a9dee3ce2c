/* SPDX-License-Identifier: MIT
 * post: texts out. A runaway bill and a loop between two machines are stopped by caps: so many
 * texts an hour in all (the config's), of which a quarter is kept for the shop's alerts, so that
 * chatter starves none; and so many an hour to one number (common practice, no source). What waits
 * for a number is bounded too, by an hour's worth: of a phone that goes on and on the newest
 * replies are worth most, and a queue that grew for ever would make each text dearer. */
#include "daemon/desk/post.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/turn.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/yard/bay.h"
#include "parsers/tpdu_write.h"

/* ---- when */

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
    outgoing.person_id = desk_person_id(desk, order->person);
    if (!order->to_opted_out) {
        (void)people_opted_out(desk->ledger, outgoing.person_id, &since_s);
    }
    if (since_s != 0 || order->body[0] == '\0' || outgoing.parts == 0) {
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

/* ---- which modem */

void desk_modems_work(struct desk *desk, uint32_t working)
{
    desk->working = working;
}

const char *post_modem(const struct desk *desk, size_t modem)
{
    bool there = modem < desk->settings->modem_count; /* a reload may have taken it away */
    const char *name = there ? desk->settings->modems[modem].name : "";
    return name[0] != '\0' ? name : NULL;
}

static bool works(const struct desk *desk, size_t modem)
{
    return modem < desk->settings->modem_count && (desk->working >> modem & 1U) != 0;
}

/* What one modem may send: where it does not work, nothing that another could. */
struct way {
    struct texts_way ledger;
    char others[SETTINGS_MODEMS_MAX * (SETTINGS_NAME_OCTETS + 1) + 1];
    bool shut;
};

static void way_of(const struct desk *desk, size_t modem, struct way *way)
{
    size_t used = 1, first = modem;
    (void)snprintf(way->others, sizeof way->others, "/");
    for (size_t i = desk->settings->modem_count; i-- > 0;) {
        if (i != modem && works(desk, i)) {
            used += (size_t)snprintf(way->others + used, sizeof way->others - used, "%s/",
                                     desk->settings->modems[i].name);
            first = i < first || !works(desk, modem) ? i : first;
        }
    }
    way->shut = first != modem && !works(desk, modem);
    way->ledger = (struct texts_way){
        .modem = post_modem(desk, modem), .others = way->others, .takes_rest = first == modem};
}

/* ---- out of the queue */

/* A quarter of the ceilings over all texts is for the shop alone. */
static int32_t ceiling(int32_t texts, bool reply)
{
    return reply ? texts - texts / 4 : texts;
}

/* How long the part has to wait for its caps, which the log is told; 0 it may go. */
static int64_t capped_s(struct desk *desk, size_t modem, const struct texts_part *part,
                        int64_t now_s)
{
    const struct settings_shop *shop = &desk->settings->shop;
    int32_t by_modem = desk->settings->modems[modem].texts_per_hour;
    bool reply = is_reply(part->kind);
    struct texts_sent sent;
    if (texts_count_sent(desk->ledger, post_modem(desk, modem), part->phone, now_s - POST_HOUR_S,
                         now_s - POST_DAY_S, &sent) != LEDGER_OK) {
        return 60;
    }
    bool capped = (reply && sent.to_number >= shop->texts_per_number) ||
                  sent.in_hour >= ceiling(shop->texts_per_hour, reply) ||
                  sent.in_day >= ceiling(shop->texts_per_day, reply) ||
                  (by_modem > 0 && sent.by_modem >= ceiling(by_modem, reply));
    /* Once an hour at most, or the log would grow by what the caps hold back. */
    if (capped && now_s - desk->capped_said_s >= POST_HOUR_S) {
        desk->capped_said_s = now_s;
        log_warnx("post: too many texts in the last hour or day: some wait (texts_per_hour, "
                  "texts_per_day, texts_per_number)");
    }
    return capped ? CAPPED_S : 0;
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
    part->elsewhere = !row->repeated; /* no third time, by whichever */
    return tpdu_write_submit(&order, &part->line) == TPDU_OK;
}

/* Settles one waiting part inside the open transaction. */
enum verdict { VERDICT_GO, VERDICT_NEXT, VERDICT_STOP };

static enum verdict consider(struct desk *desk, size_t modem, const struct way *way, int64_t now_s,
                             struct part *part, int64_t *next_s)
{
    struct texts_part *row = &desk->part;
    if (texts_next_part(desk->ledger, &way->ledger, now_s, row, next_s) != LEDGER_OK) {
        return VERDICT_STOP;
    }
    if (unwanted(desk, row) || !write_part(row, desk->settings->modems[modem].reports, part)) {
        return texts_part_ended(desk->ledger, row->part_id, TEXTS_PART_FAILED, -1,
                                TEXTS_CAUSE_UNWANTED, now_s) == LEDGER_OK
                   ? VERDICT_NEXT
                   : VERDICT_STOP;
    }
    /* What has begun to go goes to its end. */
    int64_t wait_s = row->part == 1 && !row->urgent ? capped_s(desk, modem, row, now_s) : 0;
    if (wait_s > 0) {
        return texts_part_again(desk->ledger, row->part_id, now_s + wait_s, -1) == LEDGER_OK
                   ? VERDICT_NEXT
                   : VERDICT_STOP;
    }
    return texts_part_handed_over(desk->ledger, way->ledger.modem, row->part_id, now_s) == LEDGER_OK
               ? VERDICT_GO
               : VERDICT_STOP;
}

/* The modem asks as soon as it has deleted the text; what it did not ask for so long is thought over. */
#define READY_WORTH_S 60

bool post_make_ready(struct desk *desk, size_t modem, int64_t now_s)
{
    struct way way;
    enum verdict verdict = VERDICT_NEXT;
    int64_t next_s = 0;
    way_of(desk, modem, &way);
    if (way.shut || desk->has_ready || desk->under_way[modem] != 0 || now_s == 0 ||
        ledger_savepoint(desk->ledger) != LEDGER_OK) {
        return false;
    }
    while (verdict == VERDICT_NEXT) {
        verdict = consider(desk, modem, &way, now_s, &desk->ready, &next_s);
    }
    desk->has_ready = ledger_release(desk->ledger) == LEDGER_OK && verdict == VERDICT_GO;
    desk->ready_modem = modem;
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

/* Where one is ready and its modem asks: whether that is it. Another's is left alone while that works;
 * false in *well where one could not be put back. */
static bool take_ready(struct desk *desk, size_t modem, int64_t now_s, struct part *part,
                       bool *well)
{
    bool own = desk->ready_modem == modem;
    if (desk->has_ready && own && is_fresh(desk, now_s)) {
        *part = desk->ready;
        desk->has_ready = false;
        return true;
    }
    *well = (!own && works(desk, desk->ready_modem)) || post_put_back(desk);
    return false;
}

/* The next one out of the ledger, in a transaction of its own; false in *well where that failed. */
static bool take_next(struct desk *desk, size_t modem, int64_t now_s, struct part *part,
                      int64_t *next_s, bool *well)
{
    struct way way;
    enum verdict verdict = VERDICT_NEXT;
    way_of(desk, modem, &way);
    /* Looked at first without a transaction: nothing is written while nothing is to go. */
    if (way.shut ||
        texts_next_part(desk->ledger, &way.ledger, now_s, &desk->part, next_s) == LEDGER_NONE) {
        return false;
    }
    *well = ledger_begin(desk->ledger) == LEDGER_OK;
    while (*well && verdict == VERDICT_NEXT) {
        verdict = consider(desk, modem, &way, now_s, part, next_s);
    }
    *well = *well && ledger_end(desk->ledger, LEDGER_OK) == LEDGER_OK;
    return *well && verdict == VERDICT_GO;
}

bool desk_next_part(struct desk *desk, size_t modem, struct instant now, struct part *part,
                    int64_t *next_s)
{
    int64_t now_s = desk_time(desk, now);
    bool well = true;
    *next_s = 0;
    if (now_s == 0) { /* the shop's hours, and what has expired, are not known either */
        return false;
    }
    if (take_ready(desk, modem, now_s, part, &well) ||
        (well && take_next(desk, modem, now_s, part, next_s, &well))) {
        desk->under_way[modem] = part->id;
        return true;
    }
    if (!well) {
        *next_s = now.wall_s + 60;
    } else if (*next_s > 0) {
        *next_s += now.wall_s - now_s; /* by the box's clock again */
    }
    return false;
}

/* A part refused may go by another modem soon, whatever pause the cause asks of this one. */
#define ANOTHER_WAY_S 60

/* The part is with no modem any more; how long it is to wait until it is tried again. */
static int64_t retry_s(struct desk *desk, const struct part_result *result)
{
    int64_t after_s = result->retry_after_ms / 1000;
    for (size_t i = 0; i < SETTINGS_MODEMS_MAX; i++) {
        bool by_it = desk->under_way[i] == result->part_id;
        desk->under_way[i] = by_it ? 0 : desk->under_way[i];
        bool another = !by_it && works(desk, i) && desk->settings->modem_count > 1;
        after_s = another && after_s > ANOTHER_WAY_S ? ANOTHER_WAY_S : after_s;
    }
    return after_s;
}

void desk_part_ended(struct desk *desk, const struct part_result *result, struct instant now)
{
    static const enum texts_part_state states[] = {[PART_FATE_TAKEN] = TEXTS_PART_TAKEN,
                                                   [PART_FATE_REFUSED] = TEXTS_PART_FAILED,
                                                   [PART_FATE_UNKNOWN] = TEXTS_PART_UNKNOWN};
    int64_t now_s = desk_time_or_wall(desk, now), id = result->part_id;
    int64_t again_s = now_s + retry_s(desk, result);
    enum ledger_result noted = ledger_begin(desk->ledger);
    if (noted == LEDGER_OK) {
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
