/* SPDX-License-Identifier: MIT
 * question_shop: one question, a row for each of the shop; the first answer settles it for all. */
#include "daemon/desk/question_shop.h"

#include "daemon/desk/post.h"
#include "daemon/desk/question.h"
#include "daemon/desk/reachable.h"
#include "daemon/desk/room.h"
#include "daemon/desk/shop_hours.h"
#include "daemon/ledger/people.h"
#include "daemon/ground/zone.h"

struct to_shop {
    struct turn *turn;
    const struct question_row *row;
    enum wording_key key;
    int64_t last_hundredths, last_read_s;
};

static enum ledger_result ask_one(void *ctx, int32_t person)
{
    const struct to_shop *to = ctx;
    struct desk *desk = to->turn->desk;
    const struct wording *wording = wording_of(desk->settings->people[person].language);
    struct question_row row = *to->row;
    char body[WORDING_SENTENCE_OCTETS];
    bool replaced = false;
    enum ledger_result result =
        people_id(desk->ledger, desk->settings->people[person].name, &row.person_id);
    row.text_id = to->turn->text_id;
    /* It lapses a day after it was put, not after it was thought of. */
    row.asked_s = shop_hours_next(&desk->settings->shop, to->turn->now_s);
    if (result == LEDGER_OK) {
        result = questions_ask(desk->ledger, &row, &replaced);
    }
    if (result != LEDGER_OK) {
        return result;
    }
    int32_t machine = question_machine(to->turn, row.machine_id);
    struct wording_values values = turn_values(to->turn, machine, row.typed_hundredths);
    wording_set_hours(&values, WORDING_LAST, to->last_hundredths);
    wording_set_day(&values, WORDING_DAY, wording, zone_civil(to->last_read_s).day,
                    to->turn->today);
    size_t length = wording_write(wording, to->key, &values, body, sizeof body);
    if (replaced && length + 1 < sizeof body) {
        body[length++] = ' ';
        (void)wording_write(wording, WORDING_REPLACES_QUESTION, &values, body + length,
                            sizeof body - length);
    }
    struct post_order order = {.person = person,
                               .kind = TEXTS_QUESTION,
                               .body = body,
                               .about_text_id = to->turn->text_id,
                               .now_s = to->turn->now_s,
                               .shop_hours = true};
    return post_queue(desk, &order, NULL);
}

bool question_to_shop(struct turn *turn, const struct question_row *row, enum wording_key key,
                      int64_t last_hundredths, int64_t last_read_s)
{
    int count = 0;
    struct to_shop to = {.turn = turn,
                         .row = row,
                         .key = key,
                         .last_hundredths = last_hundredths,
                         .last_read_s = last_read_s};
    return turn_ok(turn, reachable_each(turn->desk, ask_one, &to, &count)) && count > 0;
}
