/* SPDX-License-Identifier: MIT
 * notices: alerts into texts. The figures are those of the moment of telling, so that an alert of
 * Friday night reads right on Monday; one whose cause is gone by then is void. */
#include "daemon/desk/notices.h"

#include "daemon/desk/notices_list.h"
#include "daemon/desk/post.h"
#include "daemon/desk/remind.h"
#include "daemon/desk/reachable.h"
#include "daemon/desk/room.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/people.h"
#include "daemon/ground/log.h"

/* ---- one sentence to everybody */

struct note {
    struct turn *turn;
    enum wording_key key;
    const struct wording_values *values;
};

static enum ledger_result note_one(void *ctx, int32_t person)
{
    const struct note *note = ctx;
    struct desk *desk = note->turn->desk;
    char body[WORDING_SENTENCE_OCTETS];
    if (person == note->turn->person) {
        return LEDGER_OK;
    }
    (void)wording_write(wording_of(desk->settings->people[person].language), note->key,
                        note->values, body, sizeof body);
    struct post_order order = {.person = person,
                               .kind = TEXTS_NOTICE,
                               .body = body,
                               .about_text_id = note->turn->text_id,
                               .now_s = note->turn->now_s,
                               .shop_hours = true};
    return post_queue(desk, &order, NULL);
}

void notices_note(struct turn *turn, enum wording_key key, const struct wording_values *values)
{
    int count = 0;
    struct note note = {.turn = turn, .key = key, .values = values};
    (void)turn_ok(turn, reachable_each(turn->desk, note_one, &note, &count));
}

/* ---- alerts */

/* Where an alert's machine and plan are in the settings now; false where they are there no more. */
static bool find_alert(struct desk *desk, const struct alert_row *row, int32_t *machine,
                       int32_t *plan)
{
    char name[PEOPLE_NAME_OCTETS];
    if (machines_name(desk->ledger, row->machine_id, name) != LEDGER_OK) {
        return false;
    }
    *machine = settings_find_machine(desk->settings, name);
    *plan = settings_find_plan(desk->settings, row->plan);
    if (*machine < 0 || *plan < 0) {
        return false;
    }
    const struct settings_kind *kind =
        &desk->settings->kinds[desk->settings->machines[*machine].kind];
    for (size_t i = 0; i < kind->plan_count; i++) {
        if (kind->plans[i] == (size_t)*plan) {
            return true;
        }
    }
    return false;
}

/* Takes one untold alert into the list, or makes it void where it does not hold any more. */
static enum ledger_result take_alert(struct desk *desk, struct notices_list *list,
                                     const struct alert_row *row, int64_t now_s, bool *taken)
{
    struct yard_standing standing;
    int32_t machine = -1;
    int32_t plan = -1;
    *taken = false;
    if (!find_alert(desk, row, &machine, &plan)) {
        return alerts_void(desk->ledger, row->id, now_s);
    }
    enum ledger_result result = yard_stand(&desk->yard, machine, plan, now_s, &standing);
    if (result != LEDGER_OK) {
        return result;
    }
    if (standing.cycle != row->cycle || !standing_matters(&standing)) {
        return alerts_void(desk->ledger, row->id, now_s);
    }
    if (desk->dates_held && standing_by_calendar(&standing)) {
        return LEDGER_OK; /* it waits for a clock that is believed */
    }
    notices_list_add(list, &standing);
    *taken = true;
    return LEDGER_OK;
}

#define ALERTS_AT_ONCE 64

/* What became of the untold alerts that were looked at. */
struct untold {
    struct alert_row rows[ALERTS_AT_ONCE];
    bool taken[ALERTS_AT_ONCE];
    size_t count;
};

static enum ledger_result gather(struct desk *desk, struct untold *untold, int64_t now_s)
{
    enum ledger_result result =
        alerts_untold(desk->ledger, ALERTS_AT_ONCE, untold->rows, &untold->count);
    for (size_t i = 0; i < untold->count && result == LEDGER_OK; i++) {
        result = take_alert(desk, &desk->list, &untold->rows[i], now_s, &untold->taken[i]);
    }
    return result;
}

enum ledger_result notices_tell(struct desk *desk, bool remind, int64_t now_s)
{
    struct untold untold = {.count = 0};
    int64_t text_id = 0;
    notices_list_clear(&desk->list);
    enum ledger_result result = gather(desk, &untold, now_s);
    if (result == LEDGER_OK && remind) {
        result = remind_gather(desk, &desk->list, now_s);
    }
    if (result != LEDGER_OK || desk->list.count == 0) {
        return result;
    }
    result = notices_list_send(desk, &desk->list, now_s, &text_id);
    if (result == LEDGER_OK && text_id == 0) {
        if (remind) { /* once a day */
            log_error("desk: an alert has no receiver: everybody of the shop has sent STOP");
        }
        return LEDGER_OK; /* it stays untold until somebody sends START */
    }
    for (size_t i = 0; i < untold.count && result == LEDGER_OK; i++) {
        if (untold.taken[i]) {
            result = alerts_told(desk->ledger, untold.rows[i].id, text_id, now_s);
        }
    }
    return result == LEDGER_OK ? remind_mark(desk, &desk->list, now_s) : result;
}
