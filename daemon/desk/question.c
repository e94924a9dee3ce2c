/* SPDX-License-Identifier: MIT
 * question: asking and answering. YES takes exactly what was offered, judged once more against what
 * is on record by then; only the shop's own can go against the clock. NO changes nothing. What the
 * shop is asked is a row for each of the shop; the first answer settles it for all. */
#include "daemon/desk/question.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/chase.h"
#include "daemon/desk/correct.h"
#include "daemon/desk/desk_inside.h"
#include "daemon/desk/notices.h"
#include "daemon/desk/post.h"
#include "daemon/desk/service.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"

bool question_is(const struct question_row *row, const char *kind)
{
    return strcmp(row->kind, kind) == 0;
}

bool question_begins(const struct question_row *row, const char *kind)
{
    return strncmp(row->kind, kind, strlen(kind)) == 0;
}

bool question_asks_which(const struct question_row *row)
{
    return question_begins(row, QUESTION_WHICH_FIGURE) ||
           question_begins(row, QUESTION_WHICH_MACHINE) ||
           question_begins(row, QUESTION_WHICH_PLAN);
}

void question_load(struct turn *turn)
{
    turn->has_question =
        turn_ok(turn, questions_open(turn->desk->ledger, turn->person_id,
                                     turn->now_s - QUESTION_LAPSES_S, &turn->question));
}

void question_close(struct turn *turn, const char *outcome)
{
    (void)turn_ok(turn, questions_close(turn->desk->ledger, turn->question.id, outcome,
                                        turn->text_id, turn->now_s));
    turn->has_question = false;
}

void question_answered_by(struct turn *turn, int64_t machine_id)
{
    if (turn->has_question && !question_is(&turn->question, QUESTION_RECHECK) &&
        (turn->question.machine_id == machine_id ||
         question_is(&turn->question, QUESTION_WHICH_OWN) ||
         turn->question.offer_machine_id == machine_id)) {
        question_close(turn, "answered");
    }
}

int32_t question_machine(struct turn *turn, int64_t machine_id)
{
    char name[PEOPLE_NAME_OCTETS];
    if (machine_id == 0 || !turn_ok(turn, machines_name(turn->desk->ledger, machine_id, name))) {
        return -1;
    }
    return settings_find_machine(turn->desk->settings, name);
}

/* ---- questions put to the shop */

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

/* ---- what YES and NO do */

/* Others of the shop were asked the same: the first answer settles it. */
static void settle_for_others(struct turn *turn, const struct question_row *settled)
{
    struct ledger *ledger = turn->desk->ledger;
    for (size_t i = 0; i < turn->desk->settings->person_count; i++) {
        const struct settings_person *person = &turn->desk->settings->people[i];
        struct question_row row;
        int64_t person_id = 0;
        if (person->role == SETTINGS_ROLE_SHOP && (int32_t)i != turn->person &&
            turn_ok(turn, people_id(ledger, person->name, &person_id)) &&
            turn_ok(turn,
                    questions_open(ledger, person_id, turn->now_s - QUESTION_LAPSES_S, &row)) &&
            row.machine_id == settled->machine_id && row.text_id == settled->text_id &&
            strcmp(row.kind, settled->kind) == 0) {
            (void)turn_ok(turn,
                          questions_close(ledger, row.id, "settled", turn->text_id, turn->now_s));
        }
    }
}

/* Whoever sent the figure hears what the shop has made of it. */
static void tell_sender(struct turn *turn, const struct question_row *row, enum wording_key key)
{
    struct desk *desk = turn->desk;
    char name[PEOPLE_NAME_OCTETS];
    char body[WORDING_SENTENCE_OCTETS];
    int64_t person_id = 0;
    if (!turn_ok(turn, texts_sender(desk->ledger, row->text_id, &person_id)) ||
        person_id == turn->person_id ||
        !turn_ok(turn, people_name(desk->ledger, person_id, name))) {
        return;
    }
    int32_t person = settings_find_person(desk->settings, name);
    int32_t machine = question_machine(turn, row->machine_id);
    if (person < 0 || machine < 0) {
        return;
    }
    struct wording_values values = turn_values(turn, machine, row->typed_hundredths);
    (void)wording_write(wording_of(desk->settings->people[person].language), key, &values, body,
                        sizeof body);
    struct post_order order = {.person = person,
                               .kind = TEXTS_REPLY,
                               .body = body,
                               .about_text_id = row->text_id,
                               .now_s = turn->now_s};
    (void)turn_ok(turn, post_queue(desk, &order, NULL));
}

/* A figure that the clock allows: a reading, or a service where the question was about one. */
static void settle_figure(struct turn *turn, struct desk_statement *entry, struct figure *figure,
                          const struct question_row *row)
{
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (!figure_judge(turn, figure)) {
        return;
    }
    if (figure->judgement.verdict == YARD_DOUBTFUL && !question_is(row, QUESTION_PAST)) {
        turn_refuse(turn, entry, WORDING_SETTLED_ALREADY, &values);
        return;
    }
    if (row->plan[0] != '\0') {
        service_settle(turn, entry, figure, row);
        return;
    }
    if (figure->judgement.verdict != YARD_ALREADY_NOTED) {
        figure_save(turn, figure);
    }
    figure_tell(turn, entry, figure);
}

static void settle_last_wrong(struct turn *turn, struct desk_statement *entry,
                              struct figure *figure, const struct question_row *row)
{
    struct ledger *ledger = turn->desk->ledger;
    if (!turn_ok(turn, readings_strike_for(ledger, turn->text_id, row->strikes_reading_id,
                                           turn->person_id, turn->now_s, "said to be wrong")) ||
        !figure_judge(turn, figure)) {
        return;
    }
    if (figure->judgement.verdict == YARD_DOUBTFUL) {
        (void)turn_ok(turn, readings_unstrike(ledger, row->strikes_reading_id));
    }
    settle_figure(turn, entry, figure, row);
}

/* The figure is taken against the clock or on another meter; what was said with it holds too. */
static void settle_with(struct turn *turn, struct desk_statement *entry, struct figure *figure,
                        const struct question_row *row)
{
    if (row->plan[0] == '\0') {
        correct_stand(turn, figure);
    } else if (figure_judge(turn, figure)) {
        service_settle(turn, entry, figure, row);
    }
}

static void settle(struct turn *turn, struct desk_statement *entry, struct figure *figure,
                   const struct question_row *row)
{
    if (question_is(row, QUESTION_RECHECK)) {
        recheck_done(turn, row, figure->machine);
        return;
    }
    entry->has_hours = true;
    entry->hours_hundredths = figure->hundredths;
    if (question_is(row, QUESTION_LAST_WRONG)) {
        settle_last_wrong(turn, entry, figure, row);
    } else if (question_is(row, QUESTION_ROLL_OVER)) {
        correct_meter(turn, figure, row->offer_to_hundredths, 0, WORDING_ROLLED_OVER);
        settle_with(turn, entry, figure, row);
    } else if (question_is(row, QUESTION_SWAP)) {
        correct_meter(turn, figure, row->offer_to_hundredths, 0, WORDING_SWAPPED);
        settle_with(turn, entry, figure, row);
        settle_for_others(turn, row);
        tell_sender(turn, row, WORDING_SHOP_TOOK);
    } else if (question_is(row, QUESTION_FORCE)) {
        if (correct_force(turn, entry, figure, row->read_s)) {
            settle_with(turn, entry, figure, row);
        }
        settle_for_others(turn, row);
        tell_sender(turn, row, WORDING_SHOP_TOOK);
    } else {
        settle_figure(turn, entry, figure, row);
    }
}

void answer_yes(struct turn *turn)
{
    struct question_row row = turn->question;
    struct desk_statement *entry = turn_entry(turn, "yes", -1);
    struct wording_values values = turn_values(turn, -1, -1);
    struct figure figure = {.read_s = row.read_s, .hundredths = row.offer_hundredths};
    if (!turn->has_question) {
        turn_refuse(turn, entry, WORDING_NO_QUESTION, &values);
        return;
    }
    if (question_asks_which(&row)) {
        question_repeat(turn, entry);
        return;
    }
    figure.machine_id = row.offer_machine_id != 0 ? row.offer_machine_id : row.machine_id;
    figure.machine = question_machine(turn, figure.machine_id);
    question_close(turn, "yes");
    if (figure.machine < 0) {
        turn_refuse(turn, entry, WORDING_NO_QUESTION, &values);
        return;
    }
    entry->machine = turn->desk->settings->machines[figure.machine].name;
    (void)snprintf(figure.remark, sizeof figure.remark, "%s", row.remark);
    settle(turn, entry, &figure, &row);
}

void answer_no(struct turn *turn)
{
    struct desk_statement *entry = turn_entry(turn, "no", -1);
    struct wording_values values = turn_values(turn, -1, -1);
    if (!turn->has_question) {
        turn_refuse(turn, entry, WORDING_NO_QUESTION, &values);
        return;
    }
    int32_t machine = question_machine(turn, turn->question.machine_id);
    if (machine >= 0) {
        entry->machine = turn->desk->settings->machines[machine].name;
        wording_set(&values, WORDING_MACHINE, entry->machine);
    }
    struct question_row row = turn->question;
    question_close(turn, "no");
    turn_say(turn, WORDING_NOT_CHANGED, &values);
    if (question_is(&row, QUESTION_SWAP) || question_is(&row, QUESTION_FORCE)) {
        settle_for_others(turn, &row);
        tell_sender(turn, &row, WORDING_SHOP_LEFT);
    }
}
