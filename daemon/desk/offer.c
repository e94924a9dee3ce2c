/* SPDX-License-Identifier: MIT
 * offer: from the judgement of a figure to the one question that is asked about it. */
#include "daemon/desk/offer.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/question.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/record.h"

struct question_row offer_row(const struct figure *figure)
{
    struct question_row row = question_row(QUESTION_SURE, figure->machine_id, figure->read_s);
    row.offer_machine_id = figure->machine_id;
    row.typed_hundredths = figure->hundredths;
    (void)snprintf(row.remark, sizeof row.remark, "%s", figure->remark);
    return row;
}

/* ---- in words */

/* The figure that it is held against, and when that was read: told from the day on which the reply is
 * read, not from that on which the text was sent. */
static void set_other(const struct turn *turn, struct wording_values *values, int64_t hundredths,
                      int64_t read_s)
{
    struct civil_time read = zone_civil(read_s);
    wording_set_hours(values, WORDING_LAST, hundredths);
    wording_set_when(values, turn->wording, read.day, read.second_of_day,
                     zone_civil(turn->now_s).day,
                     turn->desk->settings->shop.clock == SETTINGS_CLOCK_12);
}

static struct wording_values values_of(const struct turn *turn, const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (judgement->last_hundredths >= 0) {
        set_other(turn, &values, judgement->last_hundredths, judgement->last_read_s);
        turn_set_day(turn, &values, judgement->last_read_s);
    }
    if (judgement->most_hundredths >= 0) {
        /* In tenths, as meters show them. */
        wording_set_hours(&values, WORDING_MOST, judgement->most_hundredths / 10 * 10);
    }
    if (judgement->offer_hundredths >= 0) {
        wording_set_hours(&values, WORDING_OFFER, judgement->offer_hundredths);
    }
    return values;
}

static enum wording_key why_not(const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    if (judgement->last_hundredths < 0) {
        return WORDING_NO_SUCH_FIGURE;
    }
    return figure->hundredths > judgement->last_hundredths && judgement->most_hundredths >= 0
               ? WORDING_TOO_HIGH
               : WORDING_TOO_LOW;
}

void offer_none(struct turn *turn, const struct figure *figure)
{
    struct wording_values values = values_of(turn, figure);
    enum wording_key key = why_not(figure);
    struct reading_row first;
    /* More than the first reading, which came later. */
    if (key == WORDING_NO_SUCH_FIGURE &&
        readings_first(turn->desk->ledger, figure->machine_id, &first) == LEDGER_OK &&
        first.read_s > figure->read_s && first.meter_hundredths < figure->hundredths) {
        set_other(turn, &values, first.meter_hundredths, first.read_s);
        key = WORDING_BEFORE_FIRST;
    }
    turn_refuse(turn, key, &values);
}

/* ---- to the sender */

/* Asks with that offer; `other`: the machine that it is of where it is another, else NULL. */
static void ask(struct turn *turn, struct question_row *row, int64_t offer_hundredths,
                enum wording_key key, const struct wording_values *values, const char *other)
{
    row->offer_hundredths = offer_hundredths;
    turn_ask(turn, row, key, values);
    if (turn->entry->outcome == TEXTS_OUTCOME_ASKED) {
        turn->entry->has_suggests = true;
        turn->entry->suggests_hundredths = offer_hundredths;
        turn->entry->suggests_machine = other;
    }
}

void offer_typed(struct turn *turn, const struct figure *figure, struct question_row *row,
                 enum question_kind kind, enum wording_key key, const struct wording_values *values)
{
    row->kind = kind;
    ask(turn, row, figure->hundredths, key, values, NULL);
}

/* What the judgement offers in its place. */
static void instead(struct turn *turn, const struct figure *figure, struct question_row *row,
                    enum question_kind kind, enum wording_key key)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct wording_values values = values_of(turn, figure);
    const char *other = NULL;
    row->kind = kind;
    row->offer_to_hundredths = judgement->old_last_hundredths;
    row->strikes_reading_id = judgement->strikes_reading_id;
    if (kind == QUESTION_OTHER_MACHINE) {
        row->offer_machine_id = turn_machine_id(turn, judgement->offer_machine);
        other = turn->desk->settings->machines[judgement->offer_machine].name;
        wording_set(&values, WORDING_OTHER, other);
    }
    ask(turn, row, judgement->offer_hundredths, key, &values, other);
}

void offer_sure(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    if (figure->judgement.verdict == YARD_DOUBTFUL) {
        offer_judged(turn, figure, row);
        return;
    }
    struct wording_values values = values_of(turn, figure);
    offer_typed(turn, figure, row, QUESTION_SURE, WORDING_ASK_SURE, &values);
}

/* ---- to the shop */

/* Asks the shop instead of the crew; the crew's entry is refused and says so. */
static void pass_to_shop(struct turn *turn, const struct figure *figure, struct question_row *row,
                         enum question_kind kind, enum wording_key key)
{
    struct wording_values values = values_of(turn, figure);
    if (turn->shop) {
        offer_typed(turn, figure, row, kind, key, &values);
        return;
    }
    row->kind = kind;
    row->offer_hundredths = figure->hundredths;
    bool asked = question_to_shop(turn, row, key, figure->judgement.last_hundredths,
                                  figure->judgement.last_read_s);
    turn_refuse(turn, asked ? WORDING_SHOP_ASKED : why_not(figure), &values);
}

void offer_new_meter(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    row->offer_to_hundredths = figure->judgement.last_hundredths;
    pass_to_shop(turn, figure, row, QUESTION_SWAP, WORDING_ASK_SWAP);
}

#define REFUSED_AGAIN_S (7 * 24 * 3600)

/* Nothing can be offered. The same figure sent again is put to the shop. */
static void refuse(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    struct ledger *ledger = turn->desk->ledger;
    int count = 0;
    (void)questions_refused_since(ledger, turn->person_id, figure->machine_id, figure->hundredths,
                                  turn->text_id, turn->now_s - REFUSED_AGAIN_S, &count);
    (void)questions_note_refusal(ledger, turn->person_id, figure->machine_id, figure->hundredths,
                                 turn->text_id, turn->now_s);
    if (count > 0 && figure->judgement.last_hundredths >= 0) {
        pass_to_shop(turn, figure, row, QUESTION_FORCE, WORDING_ASK_FORCE);
    } else {
        offer_none(turn, figure);
    }
}

/* ---- by the judgement */

void offer_judged(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    bool unread = figure->judgement.last_hundredths < 0;
    switch (figure->judgement.offer) {
    case YARD_OFFER_SLIP:
        instead(turn, figure, row, QUESTION_SLIP,
                unread ? WORDING_ASK_SLIP_UNREAD : WORDING_ASK_SLIP);
        return;
    case YARD_OFFER_MACHINE:
        if (row->plan[0] != '\0') {
            break; /* a service is of the machine named */
        }
        instead(turn, figure, row, QUESTION_OTHER_MACHINE, WORDING_ASK_OTHER_MACHINE);
        return;
    case YARD_OFFER_LAST_WRONG:
        instead(turn, figure, row, QUESTION_LAST_WRONG, WORDING_ASK_LAST_WRONG);
        return;
    case YARD_OFFER_ROLL_OVER:
        instead(turn, figure, row, QUESTION_ROLL_OVER, WORDING_ASK_ROLL_OVER);
        return;
    case YARD_OFFER_SWAP:
        offer_new_meter(turn, figure, row);
        return;
    case YARD_OFFER_NONE:
        break;
    }
    refuse(turn, figure, row);
}

/* ---- small figures: hours worked, or a clock */

#define WORKED_MOST (24 * 100)
#define YOUNG_MOST (100 * 100)

/* "13:40" said for 1340: offered where that is plausible. */
static bool offer_clock(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    const struct hours_figure *typed = &turn->said->hours;
    int64_t minutes = (typed->hundredths % 100 * 60 + 50) / 100;
    struct figure whole = *figure;
    whole.hundredths = (typed->hundredths / 100 * 100 + minutes) * 100;
    whole.decimal_digits = 0;
    if (!typed->clock) {
        return false;
    }
    figure_judge(turn, &whole);
    if (whole.judgement.verdict == YARD_DOUBTFUL) {
        return false;
    }
    whole.judgement = figure->judgement;
    whole.judgement.offer_hundredths = whole.hundredths;
    whole.hundredths = figure->hundredths;
    instead(turn, &whole, row, QUESTION_SLIP, WORDING_ASK_SLIP);
    return true;
}

/* Hours of a day, on a machine that had many more. */
static void offer_worked(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    if (offer_clock(turn, figure, row)) {
        return;
    }
    if (turn->shop && turn->said->nature == CREW_NATURE_METER) {
        offer_judged(turn, figure, row);
        return;
    }
    /* Asked whether the meter shows that; only then is it the shop's to say that the meter is new. */
    struct wording_values values = values_of(turn, figure);
    row->kind = QUESTION_METER;
    row->offer_hundredths = figure->hundredths;
    turn_ask(turn, row,
             figure->judgement.last_hundredths >= 0 ? WORDING_ASK_METER : WORDING_ASK_SURE,
             &values);
}

/* ---- a second figure minutes later */

#define REPLACED_WITHIN_S (30 * 60)

/* Doubtful beside the sender's last reading of the machine, plausible in its place: asked about so.
 * False where it is not. */
static bool offer_replacement(struct turn *turn, const struct figure *figure,
                              struct question_row *row)
{
    struct reading_row last;
    struct figure in_place = *figure;
    if (figure->dated || !desk_last_reading(turn->desk, figure->machine_id, INT64_MAX, &last) ||
        last.person_id != turn->person_id || turn->now_s - last.noted_s > REPLACED_WITHIN_S) {
        return false;
    }
    figure_judge_in_place(turn, &in_place, last.id);
    if (in_place.judgement.verdict == YARD_DOUBTFUL) {
        return false;
    }
    struct wording_values values = values_of(turn, figure);
    wording_set_hours(&values, WORDING_LAST, last.meter_hundredths);
    row->strikes_reading_id = last.id;
    offer_typed(turn, figure, row, QUESTION_REPLACE, WORDING_ASK_REPLACE, &values);
    return true;
}

void offer_reading(struct turn *turn, const struct figure *figure)
{
    const struct crew_statement *said = turn->said;
    int64_t last_hundredths = figure->judgement.last_hundredths;
    struct question_row row = offer_row(figure);
    bool worked = said->nature == CREW_NATURE_WORKED ||
                  (figure->hundredths <= WORKED_MOST && last_hundredths > YOUNG_MOST);
    if (said->new_meter && last_hundredths >= 0) {
        offer_new_meter(turn, figure, &row);
    } else if (worked && figure->judgement.offer != YARD_OFFER_ROLL_OVER) {
        offer_worked(turn, figure, &row);
    } else if (!offer_replacement(turn, figure, &row)) {
        offer_judged(turn, figure, &row);
    }
}
