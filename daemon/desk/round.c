/* SPDX-License-Identifier: MIT
 * round: what time alone brings. Asked often and cheap when there is nothing: a mark of the ledger
 * says what was done today, and nothing is written while nothing changes. What the yard said in words
 * does not wait for the day's round. */
#include "daemon/desk/desk.h"

#include <stdlib.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/notices.h"
#include "daemon/desk/post.h"
#include "daemon/desk/trouble.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/erasure.h"
#include "daemon/ledger/marks.h"

#define MARK_TOLD "told-day" /* reminders and summary went on that day */
#define TRY_AGAIN_S 600
#define DATES_FAILED "dates could not be put right"

static bool is_marked(struct desk *desk, const char *name, int32_t day)
{
    int64_t value = 0;
    return marks_get(desk->ledger, name, &value) == LEDGER_OK && value == day;
}

/* Ends the transaction; true where it is on disk, else the log says what could not be done. */
static bool ended(struct desk *desk, enum ledger_result result, const char *failure)
{
    bool ours = result != LEDGER_OK && ledger_fault(desk->ledger) == LEDGER_OK;
    bool well = ledger_end(desk->ledger, result) == LEDGER_OK;
    if (!well) {
        log_error("desk: %s: %s", failure, ours ? "memory is short" : ledger_says(desk->ledger));
    }
    return well;
}

/* What there is to do now. */
struct agenda {
    bool look;  /* at every machine */
    bool tell;  /* alerts, whenever there are any, in the shop's hours */
    bool daily; /* and what is told once a day: reminders, what is chased, the summary */
};

static struct agenda agenda_of(struct desk *desk, int64_t now_s)
{
    struct agenda agenda = {0};
    struct civil_time today = zone_civil(now_s);
    struct alert_row row;
    size_t untold = 0;
    agenda.look =
        !desk->dates_held &&
        (desk->unsettled || (today.second_of_day >= desk->settings->shop.alert_from_minute * 60 &&
                             !is_marked(desk, MARKS_ROUND_DAY, today.day)));
    if (shop_hours_next(&desk->settings->shop, now_s) <= now_s) {
        agenda.daily = !desk->dates_held && !is_marked(desk, MARK_TOLD, today.day);
        agenda.tell = agenda.daily || agenda.look ||
                      (alerts_untold(desk->ledger, 1, &row, &untold) == LEDGER_OK && untold > 0);
    }
    return agenda;
}

/* What is told once a day beside the alerts. */
static void do_daily(const struct round *round)
{
    struct desk *desk = round->desk;
    int64_t keep_s = INT64_C(86400) * desk->settings->shop.keep_texts_days;
    chase_all(round);
    notices_escalate(round);
    summary_send(round);
    if (keep_s > 0) {
        (void)erasure_texts_before(desk->ledger, round->now_s - keep_s);
    }
    (void)marks_set(desk->ledger, MARK_TOLD, zone_civil(round->now_s).day);
}

static bool follow(struct desk *desk, struct agenda agenda, int64_t now_s)
{
    struct round round = {.desk = desk, .now_s = now_s, .daily = agenda.daily};
    struct yard_standing *standings = NULL;
    enum ledger_result result = LEDGER_OK;
    if (ledger_begin(desk->ledger) != LEDGER_OK) {
        return false;
    }
    if (agenda.look || agenda.daily) {
        result = yard_stand_all(&desk->yard, now_s, &standings, &round.count);
        round.standings = standings;
    }
    /* Every machine against every plan: what the calendar or a forecast calls for is raised. */
    for (size_t i = 0; agenda.look && i < round.count; i++) {
        standing_raise(desk, &standings[i], now_s);
    }
    if (agenda.look) {
        (void)marks_set(desk->ledger, MARKS_ROUND_DAY, zone_civil(now_s).day);
    }
    if (agenda.tell) {
        notices_tell(&round);
    }
    if (agenda.daily) {
        do_daily(&round);
    }
    free(standings);
    return ended(desk, result, "the round could not be done");
}

/* The next opening of a day, workday or not; or when a long text is not waited for any more. */
static int64_t next_round_s(const struct desk *desk, int64_t now_s)
{
    int32_t from_s = desk->settings->shop.alert_from_minute * 60;
    struct civil_time today = zone_civil(now_s);
    int64_t next_s = zone_unix(today.second_of_day < from_s ? today.day : today.day + 1, from_s);
    int64_t parts_s = desk->parts_since_s + RECEIVE_PARTS_WAIT_S;
    return desk->parts_since_s != 0 && parts_s < next_s ? parts_s : next_s;
}

/* Texts that came while no time was known are dated now, and worked on. */
static void work_undated(struct desk *desk, int64_t now_s)
{
    if (ledger_begin(desk->ledger) != LEDGER_OK ||
        ledger_end(desk->ledger, texts_date(desk->ledger, now_s)) != LEDGER_OK) {
        return;
    }
    desk->undated = false;
    desk->parts_since_s = desk->parts_since_s == 0 ? 1 : desk->parts_since_s; /* to be looked at */
    receive_arrived(desk, now_s);
}

/* What was kept as the latest stamp in order lies ahead of a clock that is believed: it goes. */
static void forget_witnessed(struct desk *desk, int64_t now_s)
{
    if (!desk->dates_held && desk->clock.witnessed_s > now_s + CLOCK_PLAIN_S &&
        ledger_begin(desk->ledger) == LEDGER_OK) {
        desk->clock.witnessed_s = now_s;
        (void)ledger_end(desk->ledger, marks_set(desk->ledger, MARKS_WITNESSED, now_s));
    }
}

/* A stamp that was not believed lies in the past by now: the clock was behind, not the stamp wrong. */
static void date_by_stamps(struct desk *desk, int64_t now_s)
{
    if (desk->doubted_s == 0 || desk->doubted_s > now_s ||
        ledger_begin(desk->ledger) != LEDGER_OK) {
        return;
    }
    if (!ended(desk, dates_by_stamps(desk->ledger, CLOCK_PLAIN_S, now_s), DATES_FAILED)) {
        return;
    }
    desk->doubted_s = 0;
    desk->unsettled = true;
    log_notice("desk: texts that came while the clock was behind are dated by their stamps");
}

/* What an earlier clock that ran ahead has dated is moved back, where others than the box say that
 * its clock is right now. */
static void put_dates_right(struct desk *desk, enum clock_reason reason, int64_t now_s)
{
    int64_t latest_s = 0;
    int64_t limit_s = shop_hours_next(&desk->settings->shop, now_s) + CLOCK_PLAIN_S;
    bool confirmed = reason == CLOCK_REASON_NETWORK || reason == CLOCK_REASON_TEXTS;
    if (desk->dates_held || !confirmed || dates_latest(desk->ledger, &latest_s) != LEDGER_OK ||
        latest_s <= limit_s || ledger_begin(desk->ledger) != LEDGER_OK) {
        return;
    }
    if (!ended(desk, dates_move_back(desk->ledger, limit_s, latest_s - now_s), DATES_FAILED)) {
        return;
    }
    desk->unsettled = true;
    desk->parts_since_s = 1; /* to be looked at */
    desk->capped_said_s = 0;
    log_notice("desk: what was dated ahead of the clock is moved back by %lld days",
               (long long)((latest_s - now_s) / 86400));
}

/* What the yard said and the shop was not told yet; when the next of it is ripe, 0 never. */
static int64_t pass_on_words(struct desk *desk, int64_t now_s)
{
    int64_t next_s = 0;
    if (!trouble_ripe(desk, now_s, &next_s)) {
        return next_s;
    }
    if (ledger_begin(desk->ledger) != LEDGER_OK) {
        return now_s + TRY_AGAIN_S;
    }
    trouble_tell(desk, now_s);
    return !ended(desk, LEDGER_OK, "what was said could not be passed on") ||
                   trouble_ripe(desk, now_s, &next_s)
               ? now_s + TRY_AGAIN_S
               : next_s;
}

/* The next round, by the time that the desk works by. */
static int64_t go_round(struct desk *desk, enum clock_reason reason, int64_t now_s)
{
    if (desk->undated) {
        work_undated(desk, now_s);
    }
    forget_witnessed(desk, now_s);
    put_dates_right(desk, reason, now_s);
    date_by_stamps(desk, now_s);
    receive_give_up_parts(desk, now_s);
    int64_t words_s = pass_on_words(desk, now_s);
    struct agenda agenda = agenda_of(desk, now_s);
    if (agenda.look || agenda.tell) {
        if (!follow(desk, agenda, now_s)) {
            return now_s + TRY_AGAIN_S;
        }
        desk->unsettled = desk->unsettled && !agenda.look;
    }
    int64_t next_s = desk->dates_held ? now_s + TRY_AGAIN_S : next_round_s(desk, now_s);
    return words_s != 0 && words_s < next_s ? words_s : next_s;
}

int64_t desk_round(struct desk *desk, struct instant now)
{
    struct clock_judgement judgement = desk_judge_clock(desk, now);
    int64_t now_s = judgement.time_s;
    if (now_s == 0) {
        return now.wall_s + TRY_AGAIN_S;
    }
    return go_round(desk, judgement.reason, now_s) - now_s + now.wall_s;
}

void desk_recover(struct desk *desk, struct instant now)
{
    int count = 0;
    int64_t now_s = desk_time_or_wall(desk, now);
    if (ledger_begin(desk->ledger) == LEDGER_OK &&
        ended(desk, texts_recover_parts(desk->ledger, now_s, &count),
              "texts under way at the last end could not be recovered") &&
        count > 0) {
        log_notice("desk: the fate of %d parts of texts is unknown: each is sent once more", count);
    }
    if (desk_time(desk, now) != 0) {
        receive_arrived(desk, now_s);
    }
}
