/* SPDX-License-Identifier: MIT
 * receive: one text in, one transaction. The raw text is kept first; the desk works under
 * a savepoint, so that a fault of ours still keeps the text; only a ledger that cannot be written
 * leaves it with the modem. A text that brought the program down twice, or that the desk failed at
 * twice, is kept raw and set aside. */
#include "daemon/desk/desk.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/post.h"
#include "daemon/desk/statements.h"
#include "daemon/ground/hash.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "parsers/phone.h"

/* ---- whether what was not understood is answered once more */

#define SAME_WORDS_S 600
#define HOUR_S 3600
#define HOUR_MOST 4

/* Notes that this text of that person was not understood; true where it is to be answered: not the
 * same words within ten minutes, and no more than four an hour (common practice, no source). A
 * machine that answers by itself ("I am driving") must not keep us talking; a person who gets the
 * form wrong must be helped. */
static bool chatter_answers(struct chatter *row, const char *body, int64_t now_s)
{
    uint64_t words = hash_text(body);
    bool same = row->words == words && now_s >= row->said_s && now_s - row->said_s < SAME_WORDS_S;
    row->words = words;
    row->said_s = now_s;
    if (now_s < row->hour_s || now_s - row->hour_s >= HOUR_S) {
        row->hour_s = now_s;
        row->count = 0;
    }
    if (same || row->count >= HOUR_MOST) {
        return false;
    }
    row->count++;
    return true;
}

/* ---- texts that come */

#define CRASHES_MOST 2
/* The latest stamp that was in order is kept no oftener. */
#define WITNESSED_APART_S 3600

/* To be dropped unseen, and those that replace an earlier one (TS 23.040 9.2.3.9): no person's. */
#define PID_TYPE_0 0x40
#define PID_REPLACE_LAST 0x47
#define PORT_PUSH 2948 /* WAP push, by which a picture message is announced */
#define PICTURE_AGAIN_S (24 * 3600)

/* Who sent it, and whether he may be answered. */
struct sender {
    char phone[TEXTS_FROM_OCTETS];
    bool number;
    bool mute;
    int32_t person; /* -1: a stranger, or a machine of the network */
};

/* Texts that no person typed: kept, not worked on. */
static bool made_by_machine(const struct tpdu *tpdu)
{
    return !tpdu->user.has_text || tpdu->user.ports.present || tpdu->user.waiting.present ||
           (tpdu->protocol >= PID_TYPE_0 && tpdu->protocol <= PID_REPLACE_LAST);
}

static struct sender sender_of(const struct desk *desk, const struct tpdu *tpdu)
{
    struct sender sender = {.person = -1};
    char phone[PHONE_OCTETS];
    const char *text = tpdu->other.text;
    (void)snprintf(sender.phone, sizeof sender.phone, "%s", text);
    if (tpdu->other.type == TPDU_NUMBER_TYPE_ALPHANUMERIC ||
        phone_normalise(text, strlen(text), desk->settings->shop.country, phone) != PHONE_OK) {
        return sender;
    }
    (void)snprintf(sender.phone, sizeof sender.phone, "%s", phone);
    sender.number = true;
    sender.mute = tpdu->loop_prevention;
    if (strcmp(phone, desk->settings->shop.number) != 0) {
        sender.person = settings_find_phone(desk->settings, phone);
    }
    return sender;
}

/* The centre's stamp; 0 where it has none. */
static int64_t stamp_of(const struct tpdu *tpdu)
{
    int64_t stamp_s = 0;
    (void)tpdu_time_unix(&tpdu->deliver.sent_at, &stamp_s);
    return stamp_s;
}

static struct texts_incoming incoming_of(const char *hex, const struct tpdu *tpdu,
                                         const struct sender *sender, const char *modem,
                                         int64_t now_s)
{
    struct texts_incoming incoming = {.hex = hex,
                                      .modem = modem,
                                      .from = sender->phone,
                                      .from_number = sender->number,
                                      .received_s = now_s,
                                      .body = "",
                                      .parts = 1,
                                      .part = 1};
    if (tpdu == NULL) {
        return incoming;
    }
    incoming.stamp_s = stamp_of(tpdu);
    /* A reading of the future would not count yet in the very reply to it. */
    incoming.sent_s = clock_stamp_fits(incoming.stamp_s, now_s) ? incoming.stamp_s : now_s;
    incoming.readable = tpdu->user.has_text;
    incoming.body = tpdu->user.text;
    incoming.concatenated = tpdu->user.concat.present;
    if (incoming.concatenated) {
        incoming.reference = tpdu->user.concat.reference;
        incoming.wide_reference = tpdu->user.concat.sixteen_bit;
        incoming.parts = tpdu->user.concat.parts;
        incoming.part = tpdu->user.concat.part;
    }
    return incoming;
}

/* ---- one text of one person */

static void turn_begin(struct desk *desk, int32_t person, int64_t text_id, const char *body,
                       int64_t sent_s, int64_t now_s, bool mute, struct desk_answer *answer)
{
    struct turn *turn = &desk->turn;
    const struct settings_person *row = &desk->settings->people[person];
    int64_t since_s = 0;
    memset(turn, 0, sizeof *turn);
    memset(answer, 0, sizeof *answer);
    turn->desk = desk;
    turn->person = person;
    turn->shop = row->role == SETTINGS_ROLE_SHOP;
    turn->wording = wording_of(row->language);
    turn->text_id = text_id;
    turn->body = body;
    turn->now_s = now_s;
    turn->sent_s = sent_s;
    turn->today = zone_civil(sent_s).day;
    turn->answer = answer;
    turn->person_id = desk_person_id(desk, person);
    (void)people_opted_out(desk->ledger, turn->person_id, &since_s);
    turn->mute = mute || since_s != 0;
}

/* A question, to be answered, comes first. */
static enum texts_outcome outcome_of(const struct turn *turn)
{
    enum texts_outcome worst = turn->unclear ? TEXTS_OUTCOME_NOT_UNDERSTOOD : TEXTS_OUTCOME_DONE;
    for (uint8_t i = 0; i < turn->answer->statement_count; i++) {
        enum texts_outcome outcome = turn->answer->statements[i].outcome;
        if (outcome == TEXTS_OUTCOME_ASKED) {
            return outcome;
        }
        worst = worst == TEXTS_OUTCOME_DONE ? outcome : worst;
    }
    return worst;
}

static void queue_reply(struct desk *desk)
{
    const struct turn *turn = &desk->turn;
    if (turn->unclear && !turn->understood &&
        !chatter_answers(&desk->chatter[turn->person], turn->body, turn->now_s)) {
        return;
    }
    struct post_order order = {.person = turn->person,
                               .kind = turn->answer->asked ? TEXTS_QUESTION : TEXTS_REPLY,
                               .body = turn->answer->reply,
                               .about_text_id = turn->text_id,
                               .now_s = turn->now_s,
                               .to_opted_out = true}; /* whoever has is answered nothing */
    (void)post_queue(desk, &order);
}

static void set_aside(struct desk *desk, int64_t text_id, int64_t person_id)
{
    log_error("desk: text %lld could not be worked on: kept and set aside; see `meterpost texts`",
              (long long)text_id);
    (void)texts_set_state(desk->ledger, text_id, TEXTS_SET_ASIDE, person_id);
}

/* All that the text says is done and answered, under a savepoint, twice at most; `counter`: the reply is
 * not queued. */
static void work_safely(struct desk *desk, const struct texts_kept *kept, int32_t person, bool mute,
                        bool counter, int64_t now_s, struct desk_answer *answer)
{
    struct turn *turn = &desk->turn;
    for (int attempt = 0; attempt < 2; attempt++) {
        if (ledger_savepoint(desk->ledger) != LEDGER_OK) {
            return;
        }
        desk->ahead_s = 0;
        turn_begin(desk, person, kept->text_id, kept->body, kept->sent_s, now_s, mute, answer);
        statements_work(turn);
        (void)texts_worked_on(desk->ledger, turn->text_id, outcome_of(turn), turn->person_id);
        if (!turn->mute || turn->spoken) {
            (void)reply_write(&turn->reply, 1, answer->reply, sizeof answer->reply);
        }
        if (!counter) {
            queue_reply(desk);
        }
        if (ledger_release(desk->ledger) != LEDGER_REFUSED) {
            return; /* done; or no fault of the text or of ours, but of the ledger: it passes */
        }
    }
    memset(answer, 0, sizeof *answer);
    set_aside(desk, kept->text_id, turn->person_id);
}

/* The desk's work behind its mark, so that a text which brings the program down is known. */
static void work_marked(struct desk *desk, int32_t person, bool mute, int64_t now_s)
{
    int tries = 0;
    if (marks_work_begins(desk->ledger, desk->kept.fingerprint, &tries) != LEDGER_OK) {
        return;
    }
    if (tries >= CRASHES_MOST) {
        set_aside(desk, desk->kept.text_id, 0);
        return;
    }
    work_safely(desk, &desk->kept, person, mute, false, now_s, &desk->answer);
}

/* A notice of a picture message (WAP push, port 2948) of a member is answered once a day; whatever
 * else no person typed is only kept. */
static void not_for_us(struct desk *desk, const struct tpdu *tpdu, const struct sender *sender,
                       int64_t now_s)
{
    struct wording_values values = {0};
    char mark[48];
    int64_t said_s = 0;
    (void)texts_set_state(desk->ledger, desk->kept.text_id, TEXTS_UNREADABLE, 0);
    if (sender->person < 0 || sender->mute || now_s == 0 || !tpdu->user.ports.present ||
        tpdu->user.ports.to != PORT_PUSH) {
        return;
    }
    (void)snprintf(mark, sizeof mark, "picture %s", desk->settings->people[sender->person].name);
    if (marks_get(desk->ledger, mark, &said_s) == LEDGER_OK && now_s - said_s < PICTURE_AGAIN_S) {
        return;
    }
    struct post_order order = {.person = sender->person,
                               .kind = TEXTS_REPLY,
                               .about_text_id = desk->kept.text_id,
                               .now_s = now_s};
    post_say(desk, &order, WORDING_NO_PICTURES, &values);
    (void)marks_set(desk->ledger, mark, now_s);
}

/* What becomes of an arrival that was kept just now. */
static void treat(struct desk *desk, const struct tpdu *tpdu, const struct sender *sender,
                  int64_t now_s)
{
    struct texts_kept *kept = &desk->kept;
    if (kept->repeated || tpdu == NULL) {
        return;
    }
    if (made_by_machine(tpdu)) {
        not_for_us(desk, tpdu, sender, now_s);
    } else if (!kept->whole) {
        desk->parts_since_s = desk->parts_since_s == 0 ? now_s : desk->parts_since_s;
    } else if (now_s == 0) {
        return; /* worked on once there is a time to date it by */
    } else if (sender->person < 0) {
        (void)texts_set_state(desk->ledger, kept->text_id, TEXTS_STRANGER, 0);
    } else {
        work_marked(desk, sender->person, sender->mute, now_s);
    }
}

/* Once for each reason: the modem offers every text again each minute. */
static void say_kept(struct desk *desk, bool kept)
{
    uint64_t why = kept ? 0 : hash_text(ledger_says(desk->ledger));
    if (!kept && why != desk->not_kept) {
        log_error("desk: a text could not be kept, it stays with the modem: %s",
                  ledger_says(desk->ledger));
    } else if (kept && desk->not_kept != 0) {
        log_notice("desk: texts are kept again");
    }
    desk->not_kept = why;
}

/* Ends the transaction; true where it is on disk. */
static bool finish(struct desk *desk)
{
    bool kept = ledger_end(desk->ledger, LEDGER_OK) == LEDGER_OK;
    say_kept(desk, kept);
    marks_work_ended(desk->ledger);
    desk->ahead_s = 0;
    desk->stamp_s = 0;
    return kept;
}

/* False, and said, where no transaction can begin. */
static bool begun(struct desk *desk)
{
    bool well = ledger_begin(desk->ledger) == LEDGER_OK;
    if (!well) {
        say_kept(desk, false);
        marks_work_ended(desk->ledger);
    }
    return well;
}

/* A member's text says something of the time: strangers have no say in it. */
static void witness(struct desk *desk, const struct tpdu *tpdu, const struct sender *sender,
                    struct instant now)
{
    int64_t stamp_s = stamp_of(tpdu);
    if (sender->person < 0 || (tpdu->user.concat.present && tpdu->user.concat.part != 1)) {
        return;
    }
    desk_clock_text(&desk->clock, now, stamp_s);
    struct clock_judgement judgement = desk_clock_state(desk, now);
    if (judgement.time_s != 0 && stamp_s > judgement.time_s + CLOCK_PLAIN_S) {
        desk->doubted_s = stamp_s;
    }
    if (judgement.time_s == 0 || !clock_stamp_fits(stamp_s, judgement.time_s) ||
        stamp_s < desk->clock.witnessed_s + WITNESSED_APART_S) {
        return;
    }
    desk->clock.witnessed_s = stamp_s;
    (void)marks_set(desk->ledger, MARKS_WITNESSED, stamp_s);
}

bool desk_receive(struct desk *desk, size_t modem, const char *hex, enum tpdu_error error,
                  const struct tpdu *tpdu, struct instant now)
{
    const struct tpdu *read = error == TPDU_OK && tpdu != NULL ? tpdu : NULL;
    struct sender sender = {.person = -1};
    if (read != NULL) {
        sender = sender_of(desk, read);
    } else {
        log_notice("desk: a text could not be decoded, it is kept raw: %s", tpdu_error_says(error));
    }
    if (!begun(desk)) {
        return false;
    }
    if (read != NULL) {
        witness(desk, read, &sender, now);
    }
    int64_t now_s = desk_time(desk, now);
    desk->undated = desk->undated || now_s == 0;
    desk->stamp_s = read != NULL ? stamp_of(read) : 0;
    struct texts_incoming incoming =
        incoming_of(hex, read, &sender, post_modem(desk, modem), now_s);
    if (texts_keep(desk->ledger, &incoming, &desk->kept) == LEDGER_OK) {
        treat(desk, read, &sender, now_s);
    }
    bool made_ready = !desk->kept.repeated && post_make_ready(desk, modem, now_s);
    bool kept = finish(desk);
    if (made_ready && !kept) {
        post_doubt_ready(desk);
    }
    return kept;
}

bool desk_receive_report(struct desk *desk, size_t modem, const char *hex, const struct tpdu *tpdu,
                         struct instant now)
{
    (void)hex;
    if (tpdu == NULL || tpdu->kind != TPDU_KIND_STATUS_REPORT) {
        return true;
    }
    struct sender sender = sender_of(desk, tpdu);
    if (!begun(desk)) {
        return false;
    }
    (void)texts_part_reported(desk->ledger, post_modem(desk, modem), sender.phone,
                              tpdu->report.reference, tpdu->report.status,
                              desk_time_or_wall(desk, now));
    return finish(desk);
}

enum ledger_result desk_say(struct desk *desk, int32_t person, const char *text, struct instant now,
                            struct desk_answer *answer)
{
    int64_t now_s = desk_time_or_wall(desk, now);
    struct texts_incoming incoming = {.hex = "",
                                      .from = desk->settings->people[person].phone,
                                      .from_number = true,
                                      .sent_s = now_s,
                                      .received_s = now_s,
                                      .body = text,
                                      .readable = true,
                                      .parts = 1,
                                      .part = 1};
    memset(answer, 0, sizeof *answer);
    enum ledger_result result = ledger_begin(desk->ledger);
    if (result != LEDGER_OK) {
        return result;
    }
    if (texts_keep(desk->ledger, &incoming, &desk->kept) == LEDGER_OK) {
        work_safely(desk, &desk->kept, person, false, true, now_s, answer);
    }
    desk->ahead_s = 0;
    return ledger_end(desk->ledger, LEDGER_OK);
}

/* A text that was kept but not worked on: by a crash, or long with a part that never came. False
 * where there is none. */
static bool work_arrived(struct desk *desk, int64_t now_s)
{
    char from[TEXTS_FROM_OCTETS];
    if (texts_next_arrived(desk->ledger, &desk->kept, from) != LEDGER_OK) {
        return false;
    }
    int32_t person = settings_find_phone(desk->settings, from);
    if (person < 0) {
        (void)texts_set_state(desk->ledger, desk->kept.text_id, TEXTS_STRANGER, 0);
    } else {
        work_marked(desk, person, false, now_s);
    }
    return true;
}

void receive_arrived(struct desk *desk, int64_t now_s)
{
    bool more = true;
    /* Each one leaves the state; more than these wait for the next time. */
    for (int i = 0; i < 1000 && more && ledger_begin(desk->ledger) == LEDGER_OK; i++) {
        more = work_arrived(desk, now_s);
        more = finish(desk) && more;
    }
}

void receive_give_up_parts(struct desk *desk, int64_t now_s)
{
    int count = 0;
    if (desk->parts_since_s == 0 || now_s - desk->parts_since_s < RECEIVE_PARTS_WAIT_S ||
        ledger_begin(desk->ledger) != LEDGER_OK) {
        return;
    }
    (void)texts_give_up_parts(desk->ledger, now_s - RECEIVE_PARTS_WAIT_S, &count,
                              &desk->parts_since_s);
    if (finish(desk) && count > 0) {
        receive_arrived(desk, now_s);
    }
}
