/* SPDX-License-Identifier: MIT
 * question: asking and answering. YES takes exactly what was offered, judged once more against what
 * is on record by then; only the shop's own can go against the clock. NO changes nothing. What the
 * shop is asked is a row for each of the shop; the first answer settles it for all. */
#include "daemon/desk/question.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/correct.h"
#include "daemon/desk/desk_inside.h"
#include "daemon/desk/offer.h"
#include "daemon/desk/post.h"
#include "daemon/desk/recheck.h"
#include "daemon/desk/service.h"
#include "daemon/desk/telling.h"
#include "daemon/desk/whereabouts.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/record.h"

struct question_row question_row(enum question_kind kind, int64_t machine_id, int64_t read_s)
{
    return (struct question_row){.kind = kind,
                                 .machine_id = machine_id,
                                 .offer_hundredths = -1,
                                 .offer_to_hundredths = -1,
                                 .typed_hundredths = -1,
                                 .read_s = read_s};
}

void question_load(struct turn *turn)
{
    turn->has_question =
        questions_open(turn->desk->ledger, turn->person_id, turn->now_s - QUESTION_LAPSES_S,
                       &turn->question) == LEDGER_OK;
}

void question_close(struct turn *turn, const char *outcome)
{
    (void)questions_close(turn->desk->ledger, turn->question.id, outcome, turn->text_id,
                          turn->now_s);
    turn->has_question = false;
}

void question_answered_by(struct turn *turn, int64_t machine_id)
{
    const struct question_row *row = &turn->question;
    if (turn->has_question && row->kind != QUESTION_RECHECK && row->kind != QUESTION_BOOK &&
        (row->machine_id == machine_id || row->offer_machine_id == machine_id ||
         row->kind == QUESTION_WHICH_OWN)) {
        question_close(turn, "answered");
    }
}

/* ---- questions put to the shop */

struct to_shop {
    struct turn *turn;
    const struct question_row *row;
    enum wording_key key;
    int64_t last_hundredths, last_read_s;
    int count; /* how many were asked */
};

static void ask_one(void *ctx, int32_t person)
{
    struct to_shop *to = ctx;
    struct desk *desk = to->turn->desk;
    const struct wording *wording = wording_of(desk->settings->people[person].language);
    struct question_row row = *to->row;
    char body[WORDING_SENTENCE_OCTETS];
    bool replaced = false;
    row.person_id = desk_person_id(desk, person);
    row.text_id = to->turn->text_id;
    /* It lapses a day after it was put, not after it was thought of. */
    row.asked_s = shop_hours_next(&desk->settings->shop, to->turn->now_s);
    int32_t machine = desk_machine(desk, row.machine_id);
    struct wording_values values = turn_values(to->turn, machine, row.typed_hundredths);
    wording_set_hours(&values, WORDING_LAST, to->last_hundredths);
    wording_set_day(&values, WORDING_DAY, wording, zone_civil(to->last_read_s).day,
                    to->turn->today);
    (void)wording_write(wording, to->key, &values, body, sizeof body);
    (void)snprintf(row.says, sizeof row.says, "%s", body);
    (void)questions_ask(desk->ledger, &row, &replaced);
    if (replaced) {
        wording_append(wording, WORDING_REPLACES_QUESTION, &values, body, sizeof body);
    }
    struct post_order order = {.person = person,
                               .kind = TEXTS_QUESTION,
                               .body = body,
                               .about_text_id = to->turn->text_id,
                               .now_s = to->turn->now_s,
                               .shop_hours = true};
    to->count++;
    (void)post_queue(desk, &order);
}

bool question_to_shop(struct turn *turn, const struct question_row *row, enum wording_key key,
                      int64_t last_hundredths, int64_t last_read_s)
{
    struct to_shop to = {.turn = turn,
                         .row = row,
                         .key = key,
                         .last_hundredths = last_hundredths,
                         .last_read_s = last_read_s};
    reachable_each(turn->desk, desk_machine(turn->desk, row->machine_id), ask_one, &to);
    return to.count > 0;
}

/* Others of the shop were asked the same: the first answer settles it. */
static void settle_for_others(struct turn *turn, const struct question_row *settled)
{
    struct ledger *ledger = turn->desk->ledger;
    for (size_t i = 0; i < turn->desk->settings->person_count; i++) {
        const struct settings_person *person = &turn->desk->settings->people[i];
        struct question_row row;
        if (person->role == SETTINGS_ROLE_SHOP && (int32_t)i != turn->person &&
            questions_open(ledger, desk_person_id(turn->desk, (int32_t)i),
                           turn->now_s - QUESTION_LAPSES_S, &row) == LEDGER_OK &&
            row.machine_id == settled->machine_id && row.text_id == settled->text_id &&
            row.kind == settled->kind) {
            (void)questions_close(ledger, row.id, "settled", turn->text_id, turn->now_s);
        }
    }
}

/* Whoever sent the figure hears what the shop has made of it. */
static void tell_sender(struct turn *turn, const struct question_row *row, enum wording_key key)
{
    struct desk *desk = turn->desk;
    int64_t person_id = 0;
    (void)texts_sender(desk->ledger, row->text_id, &person_id);
    int32_t person = person_id != turn->person_id ? desk_person(desk, person_id) : -1;
    int32_t machine = desk_machine(desk, row->machine_id);
    if (person < 0 || machine < 0) {
        return;
    }
    struct wording_values values = turn_values(turn, machine, row->typed_hundredths);
    struct post_order order = {
        .person = person, .kind = TEXTS_REPLY, .about_text_id = row->text_id, .now_s = turn->now_s};
    post_say(desk, &order, key, &values);
}

/* ---- what YES takes */

/* A figure that the clock allows: a reading, or a service where the question was about one. */
static void take_figure(struct turn *turn, struct figure *figure, const struct question_row *row)
{
    figure_judge(turn, figure);
    if (figure->judgement.verdict == YARD_DOUBTFUL && row->kind != QUESTION_PAST_SERVICE) {
        struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
        turn_refuse(turn, WORDING_SETTLED_ALREADY, &values);
    } else if (row->plan[0] != '\0') {
        service_settle(turn, figure, row);
    } else {
        figure_take(turn, figure);
    }
}

static void take_for_last(struct turn *turn, struct figure *figure, const struct question_row *row)
{
    struct ledger *ledger = turn->desk->ledger;
    enum ledger_result struck =
        record_strike(ledger, RECORD_READING, turn->text_id, row->strikes_reading_id,
                      turn->person_id, turn->now_s, "said to be wrong");
    figure_judge(turn, figure);
    if (figure->judgement.verdict == YARD_DOUBTFUL && struck == LEDGER_OK) {
        (void)record_unstrike(ledger, RECORD_READING, row->strikes_reading_id);
    }
    take_figure(turn, figure, row);
}

/* The figure is taken against the clock or on another meter; what was said with it holds too. */
static void take_along(struct turn *turn, struct figure *figure, const struct question_row *row)
{
    if (row->plan[0] == '\0') {
        standing_tell(turn, figure->machine);
    } else {
        figure_judge(turn, figure);
        service_settle(turn, figure, row);
    }
}

static void take_on_new_meter(struct turn *turn, struct figure *figure,
                              const struct question_row *row)
{
    correct_meter(turn, figure, row->offer_to_hundredths, 0,
                  row->kind == QUESTION_SWAP ? WORDING_SWAPPED : WORDING_ROLLED_OVER);
    take_along(turn, figure, row);
}

static void take_forced(struct turn *turn, struct figure *figure, const struct question_row *row)
{
    if (correct_force(turn, figure, row->read_s)) {
        take_along(turn, figure, row);
    }
}

/* Low hours that the crew says the meter shows: a new meter is the shop's to settle. */
static void pass_on(struct turn *turn, struct figure *figure, const struct question_row *row)
{
    struct question_row swap = *row;
    figure_judge(turn, figure);
    offer_new_meter(turn, figure, &swap);
}

/* What YES to a kind of question does; NULL: it asks which one is meant, and is put again. The
 * shop's own is settled for all of the shop, and whoever sent the figure is told. What rewrites
 * history wants its YES spelled out; of a replacement only the shop's. */
static const struct {
    void (*yes)(struct turn *turn, struct figure *figure, const struct question_row *row);
    bool shops, spelled, spelled_by_shop;
} kinds[] = {
    [QUESTION_SLIP] = {.yes = take_figure},
    [QUESTION_OTHER_MACHINE] = {.yes = take_figure},
    [QUESTION_LAST_WRONG] = {.yes = take_for_last, .spelled = true},
    [QUESTION_ROLL_OVER] = {.yes = take_on_new_meter},
    [QUESTION_SWAP] = {.yes = take_on_new_meter, .shops = true, .spelled = true},
    [QUESTION_FORCE] = {.yes = take_forced, .shops = true, .spelled = true},
    [QUESTION_SURE] = {.yes = take_figure},
    [QUESTION_PAST_SERVICE] = {.yes = take_figure},
    [QUESTION_QUANTITY] = {.yes = take_figure},
    [QUESTION_RECHECK] = {.yes = recheck_done, .spelled = true},
    [QUESTION_REPLACE] = {.yes = take_for_last, .spelled_by_shop = true},
    [QUESTION_METER] = {.yes = pass_on, .spelled = true},
    [QUESTION_BOOK] = {.yes = whereabouts_book_asked},
    [QUESTION_WHICH_FIGURE] = {.yes = NULL},
    [QUESTION_WHICH_OWN] = {.yes = NULL},
    [QUESTION_WHICH_MACHINE] = {.yes = NULL},
    [QUESTION_WHICH_PLAN] = {.yes = NULL},
    [QUESTION_WHICH_TROUBLE] = {.yes = NULL},
};

bool question_asks_which(const struct question_row *row)
{
    return kinds[row->kind].yes == NULL;
}

/* ---- YES and NO */

/* The shop has settled it, as those hear who were asked or have asked. */
static void settle(struct turn *turn, const struct question_row *row, enum wording_key key)
{
    if (kinds[row->kind].shops) {
        settle_for_others(turn, row);
        tell_sender(turn, row, key);
    }
}

void answer_yes(struct turn *turn)
{
    struct question_row row = turn->question;
    bool spelled = turn->text.tone == CREW_TONE_STATEMENTS || turn->text.spelled;
    bool wants_spelled = kinds[row.kind].spelled || (kinds[row.kind].spelled_by_shop && turn->shop);
    if (!turn->has_question) {
        if (!recheck_checked(turn, -1)) {
            turn_refuse(turn, WORDING_NO_QUESTION, NULL);
        }
        return;
    }
    if (question_asks_which(&row) || (wants_spelled && !spelled)) {
        question_repeat(turn);
        return;
    }
    struct figure figure = {.machine_id =
                                row.offer_machine_id != 0 ? row.offer_machine_id : row.machine_id,
                            .hundredths = row.offer_hundredths,
                            .read_s = row.read_s};
    (void)snprintf(figure.remark, sizeof figure.remark, "%s", row.remark);
    figure.machine = desk_machine(turn->desk, figure.machine_id);
    question_close(turn, "yes");
    if (figure.machine < 0) {
        turn_refuse(turn, WORDING_NO_QUESTION, NULL);
        return;
    }
    turn->entry->machine = turn->desk->settings->machines[figure.machine].name;
    if (row.offer_hundredths >= 0) {
        turn->entry->has_hours = true;
        turn->entry->hours_hundredths = figure.hundredths;
    }
    kinds[row.kind].yes(turn, &figure, &row);
    settle(turn, &row, WORDING_SHOP_TOOK);
}

void answer_no(struct turn *turn)
{
    struct question_row row = turn->question;
    int32_t machine = turn->has_question ? desk_machine(turn->desk, row.machine_id) : -1;
    struct wording_values values = turn_values(turn, machine, -1);
    if (!turn->has_question) {
        turn_refuse(turn, WORDING_NO_QUESTION, &values);
        return;
    }
    if (machine >= 0) {
        turn->entry->machine = turn->desk->settings->machines[machine].name;
    }
    question_close(turn, "no");
    if (row.kind == QUESTION_RECHECK) {
        recheck_denied(turn, &row, machine, strchr(turn->body, ' ') != NULL ? turn->body : "");
        return;
    }
    turn_say(turn, row.kind == QUESTION_BOOK ? WORDING_BOOK_LEFT : WORDING_NOT_CHANGED, &values);
    settle(turn, &row, WORDING_SHOP_LEFT);
}
